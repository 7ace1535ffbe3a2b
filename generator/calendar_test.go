package generator_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	ical "github.com/arran4/golang-ical"
)

// spans are the windows of a calendar file by its first parser, as "from to".
func spans(t *testing.T, file []byte) (windows, uids []string) {
	t.Helper()
	cal, err := ical.ParseCalendar(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range cal.Events() {
		from, err1 := e.GetAllDayStartAt()
		to, err2 := e.GetAllDayEndAt()
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		windows = append(windows, from.Format(time.DateOnly)+" "+to.AddDate(0, 0, -1).Format(time.DateOnly))
		uids = append(uids, e.Id())
	}
	return windows, uids
}

// TestCalendarHoldsEveryTask: each task of booklet.json is in care.ics with the
// same days.
func TestCalendarHoldsEveryTask(t *testing.T) {
	r := build(t, options(t, demo))
	windows, uids := spans(t, r.Files["care.ics"])
	for _, task := range decode(t, r.Files["booklet.json"]).Tasks {
		if task.Job != "water" && !slices.Contains(windows, task.From+" "+task.To) {
			t.Errorf("%s of %s, %s to %s, is not in the calendar", task.Job, task.Plant, task.From, task.To)
		}
	}
	slices.Sort(uids)
	if n := len(slices.Compact(slices.Clone(uids))); n != len(uids) {
		t.Errorf("%d events, %d UIDs", len(uids), n)
	}
}

// TestUIDsStay: the same after a rebuild, and those of other plants after one
// entry has changed.
func TestUIDsStay(t *testing.T) {
	text := "garden: Small\ndate: 2027-03-20\nsite: {country: GB, latitude: 52}\nplants:\n  - {plant: Panicum virgatum, planted: 2020-01-01}\n  - {plant: Sesleria heufleriana, planted: 2020-01-01}\n"
	entry := "---\nbotanical: Sesleria heufleriana\ncommon: [green moor grass]\ntype: grass\nleaf: evergreen\nhabit: mound\nheight: 40 cm\nspread: 45 cm\ncare:\n  - {job: comb, when: WHEN}\n---\nLow.\n"
	at := func(when string) []string {
		o := moved(t)
		o.Garden = fstest.MapFS{"garden.yaml": &fstest.MapFile{Data: []byte(text)}, "plants/a.md": &fstest.MapFile{Data: []byte(strings.ReplaceAll(entry, "WHEN", when))}}
		_, uids := spans(t, build(t, o).Files["care.ics"])
		slices.Sort(uids)
		return uids
	}
	first := at("May")
	if again := at("May"); !slices.Equal(first, again) {
		t.Errorf("%v became %v", first, again)
	}
	changed := at("May or September")
	for _, id := range first {
		if !slices.Contains(changed, id) {
			t.Errorf("%s is gone after an entry was given one more window", id)
		}
	}
	if len(changed) != len(first)+1 {
		t.Errorf("%d events became %d", len(first), len(changed))
	}
}

// TestCalendarByMonth: one event a month.
func TestCalendarByMonth(t *testing.T) {
	r := build(t, moved(t, "years: 1", "years: 1\ncalendar: months"))
	windows, _ := spans(t, r.Files["care.ics"])
	if len(windows) != 12 || windows[0] != "2027-03-01 2027-03-31" || windows[11] != "2028-02-01 2028-02-29" {
		t.Errorf("got %q", windows)
	}
}

// TestCalendarReadByICALJS reads the file with a second parser: ical.js 2.2.1,
// found where SHEAF_NODE_MODULES says.
func TestCalendarReadByICALJS(t *testing.T) {
	node := tool(t, "node")
	modules := os.Getenv("SHEAF_NODE_MODULES")
	if _, err := os.Stat(filepath.Join(modules, "ical.js")); modules == "" || err != nil {
		if os.Getenv("SHEAF_TOOLS") == "require" {
			t.Fatal("ical.js is required and not under SHEAF_NODE_MODULES")
		}
		t.Skip("ical.js is not installed")
	}
	r := build(t, options(t, demo))
	file := filepath.Join(t.TempDir(), "care.ics")
	if err := os.WriteFile(file, r.Files["care.ics"], 0o644); err != nil {
		t.Fatal(err)
	}
	script := `import(process.argv[1]).then(async m => {
  const ICAL = m.default, fs = await import('node:fs');
  const cal = new ICAL.Component(ICAL.parse(fs.readFileSync(process.argv[2], 'utf8')));
  console.log(JSON.stringify(cal.getAllSubcomponents('vevent').map(v => {
    const e = new ICAL.Event(v), last = e.endDate.clone();
    last.adjust(-1, 0, 0, 0);
    return {from: e.startDate.toString(), to: last.toString(), day: e.startDate.isDate, summary: e.summary};
  })));
});`
	main := filepath.Join(modules, "ical.js", "dist", "ical.js")
	out, err := exec.Command(node, "-e", script, "file://"+main, file).Output()
	if err != nil {
		t.Fatalf("%v %s", err, out)
	}
	var events []struct {
		From, To, Summary string
		Day               bool
	}
	if err := json.Unmarshal(out, &events); err != nil {
		t.Fatal(err)
	}
	windows, _ := spans(t, r.Files["care.ics"])
	if len(events) != len(windows) {
		t.Fatalf("ical.js reads %d events, golang-ical %d", len(events), len(windows))
	}
	for i, e := range events {
		if e.From+" "+e.To != windows[i] || !e.Day || e.Summary == "" {
			t.Errorf("event %d: ical.js %+v, golang-ical %s", i, e, windows[i])
		}
	}
}
