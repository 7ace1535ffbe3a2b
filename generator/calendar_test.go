package generator_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/generator"
	"sheaf/generator/care"
	"sheaf/generator/tooltest"

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

// online is where the demo's garden.yaml says that the web edition is.
const online = "https://example.org/dovecote-barn/"

// value is one of an event's properties, or nothing.
func value(e *ical.VEvent, p ical.ComponentProperty) string {
	if v := e.GetProperty(p); v != nil {
		return v.Value
	}
	return ""
}

// goodEvents fails where an event begins before the handover of the demo, leads to a
// page that the web edition has not, or has the UID of another.
func goodEvents(t *testing.T, r *generator.Result) {
	t.Helper()
	windows, uids := spans(t, r.Files["care.ics"])
	cal, err := ical.ParseCalendar(bytes.NewReader(r.Files["care.ics"]))
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range cal.Events() {
		if windows[i] < r.Plan.Garden.Date.String() {
			t.Errorf("%q, %s, begins before the handover", value(e, ical.ComponentPropertySummary), windows[i])
		}
		file, ok := strings.CutPrefix(value(e, ical.ComponentPropertyUrl), online)
		if _, there := r.Files[file]; !ok || !there {
			t.Errorf("%q leads to %q, which the web edition has not", value(e, ical.ComponentPropertySummary), file)
		}
	}
	slices.Sort(uids)
	if n := len(slices.Compact(slices.Clone(uids))); n != len(uids) {
		t.Errorf("%d events, %d UIDs", len(uids), n)
	}
}

// TestCalendarHoldsEveryTask: each task of booklet.json is in the care.ics of tasks
// with the same days from the handover on, its bed and all its cautions and notes,
// under a page that exists.
func TestCalendarHoldsEveryTask(t *testing.T) {
	r := build(t, moved(t, "years: 1", "years: 1\ncalendar: tasks"))
	goodEvents(t, r)
	windows, _ := spans(t, r.Files["care.ics"])
	cal, err := ical.ParseCalendar(bytes.NewReader(r.Files["care.ics"]))
	if err != nil {
		t.Fatal(err)
	}
	used := make([]bool, len(windows))
	j := decode(t, r.Files["booklet.json"])
	page, first := map[string]string{}, map[string]string{}
	for _, p := range j.Plants {
		if first[p.Botanical] == "" {
			first[p.Botanical] = p.ID
		}
		page[p.ID] = online + "plants/" + first[p.Botanical] + ".html" // all beds share it
	}
	for _, task := range j.Tasks {
		found := false
		for i, e := range cal.Events() {
			summary, about := value(e, ical.ComponentPropertySummary), value(e, ical.ComponentPropertyDescription)
			from, to, _ := strings.Cut(windows[i], " ")
			own := value(e, ical.ComponentPropertyUrl) == page[task.Plant] && windows[i] == max(task.From, j.Garden.Date)+" "+task.To
			// The watering of all new plants is one event.
			shared := task.Job == "water" && strings.HasPrefix(summary, "Water the new plants") && from <= max(task.From, j.Garden.Date) && to >= task.To
			if !own && (!shared || !slices.Contains(strings.Split(value(e, "CATEGORIES"), ","), task.Bed)) || own && !strings.Contains(about, task.Bed) {
				continue
			}
			if slices.ContainsFunc(slices.Concat(task.Cautions, task.Notes), func(s string) bool { return !strings.Contains(about, s) }) {
				continue
			}
			found, used[i] = true, true
		}
		if !found {
			t.Errorf("%s of %s in %s, %s to %s, is not in the calendar with all that is said of it", task.Job, task.Plant, task.Bed, task.From, task.To)
		}
	}
	for i, e := range cal.Events() {
		if !used[i] {
			t.Errorf("%q, %s, is no task of booklet.json", value(e, ical.ComponentPropertySummary), windows[i])
		}
	}
}

// TestCalendarHoldsEveryDay: unless a garden asks for another, care.ics has an event
// for each garden day of booklet.json, in its order and with its window, that holds
// the plant, the quantity, the bed, all cautions and all notes of each of its tasks
// and a line to tick; and the watering of everything new.
func TestCalendarHoldsEveryDay(t *testing.T) {
	r := build(t, options(t, demo))
	goodEvents(t, r)
	windows, _ := spans(t, r.Files["care.ics"])
	cal, err := ical.ParseCalendar(bytes.NewReader(r.Files["care.ics"]))
	if err != nil {
		t.Fatal(err)
	}
	c := r.Plan.Calendar
	if len(c.Days) < 12 || len(windows) != len(c.Days)+1 {
		t.Fatalf("%d events for %d days", len(windows), len(c.Days))
	}
	for i, d := range c.Days {
		e := cal.Events()[i]
		summary, about := value(e, ical.ComponentPropertySummary), value(e, ical.ComponentPropertyDescription)
		if windows[i] != d.From.String()+" "+d.To.String() || !strings.HasPrefix(summary, fmt.Sprintf("Garden day %d: ", i+1)) {
			t.Errorf("event %d is %s, %q; the day is %s to %s", i+1, windows[i], summary, d.From, d.To)
		}
		for _, p := range d.Parts {
			task := &c.Tasks[p.Task]
			want := append([]string{task.Planting.Bed.Name}, task.Cautions...)
			for _, n := range task.Notes {
				want = append(want, n.String())
			}
			for _, w := range want {
				if !strings.Contains(about, w) {
					t.Errorf("%s: %s of %s: no %q in\n%s", summary, task.Job.Name.Value, task.Planting.Label(), w, about)
				}
			}
			ticked := slices.ContainsFunc(strings.Split(about, "\n"), func(line string) bool {
				return strings.HasPrefix(line, "☐ ") && strings.Contains(line, task.Planting.Entry.Common[0]) && strings.Contains(line, task.Planting.Bed.Name)
			})
			if !ticked {
				t.Errorf("%s: no line to tick for %s in\n%s", summary, task.Planting.Label(), about)
			}
		}
	}
	if last := value(cal.Events()[len(c.Days)], ical.ComponentPropertySummary); !strings.HasPrefix(last, "Water the new plants") {
		t.Errorf("the last event is %q", last)
	}
}

// TestWindowOverNewYear: in the south a window may begin in one year and end in
// the next. It is one event, the same in the booklet of either year,
// from the handover on.
func TestWindowOverNewYear(t *testing.T) {
	in := func(year string) map[string]string {
		o := moved(t)
		o.Garden = fstest.MapFS{
			"garden.yaml": &fstest.MapFile{Data: []byte("garden: Small\ndate: " + year + "\nsite: {country: NZ, latitude: -41}\ncalendar: tasks\nplants:\n  - {plant: Sesleria heufleriana, planted: 2020-08-01}\n")},
			"plants/a.md": &fstest.MapFile{Data: []byte("---\nbotanical: Sesleria heufleriana\ncommon: [green moor grass]\ntype: grass\nleaf: evergreen\nhabit: mound\nheight: 40 cm\nspread: 45 cm\ncare:\n  - {job: comb, when: June to July}\n---\nLow.\n")},
		}
		windows, uids := spans(t, build(t, o).Files["care.ics"])
		out := map[string]string{}
		for i, w := range windows {
			out[w] = uids[i]
		}
		return out
	}
	// Six months from June to July, both whole.
	const window = "2027-12-01 2028-01-31"
	before, after := in("2027-07-01"), in("2028-01-10")
	if len(before) != 1 || before[window] == "" {
		t.Errorf("from July: %v", before)
	}
	if len(after) != 2 || after["2028-01-10 2028-01-31"] != before[window] || after["2028-12-01 2029-01-31"] == before[window] {
		t.Errorf("from January: %v, had %v", after, before)
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

// TestJoinedPlantingsKeepTheirNotes: one event for the same work in two beds
// says which of them a note is for, and so does a garden day.
func TestJoinedPlantingsKeepTheirNotes(t *testing.T) {
	for by, lines := range map[string][]string{
		"tasks": {"Near, 3\u00a0plants; Far, 5\u00a0plants.", "Far, 5\u00a0plants: Wet soil: Stand on a board."},
		"days":  {"☐ Comb: green moor grass (Sesleria heufleriana); Near 1, 3 plants.", "☐ Comb: green moor grass; Far 1, 5 plants. Wet soil: Stand on a board."},
	} {
		o := moved(t)
		o.Garden = fstest.MapFS{
			"garden.yaml": &fstest.MapFile{Data: []byte("garden: Small\ndate: 2027-03-20\ncalendar: " + by + "\nsite: {country: GB, latitude: 52}\nbeds:\n  - {bed: Near}\n  - {bed: Far, soil: wet}\nplants:\n" +
				"  - {plant: Sesleria heufleriana, bed: Near, quantity: 3, planted: 2020-01-01}\n  - {plant: Sesleria heufleriana, bed: Far, quantity: 5, planted: 2020-01-01}\n")},
			"plants/a.md": &fstest.MapFile{Data: []byte("---\nbotanical: Sesleria heufleriana\ncommon: [green moor grass]\ntype: grass\nleaf: evergreen\nhabit: mound\nheight: 40 cm\nspread: 45 cm\n" +
				"care:\n  - {job: comb, when: May}\nadjust:\n  - {if: wet soil, job: comb, note: Stand on a board.}\n---\nLow.\n")},
		}
		cal, err := ical.ParseCalendar(bytes.NewReader(build(t, o).Files["care.ics"]))
		if err != nil || len(cal.Events()) != 1 {
			t.Fatalf("%s: %v, %d events", by, err, len(cal.Events()))
		}
		about := cal.Events()[0].GetProperty(ical.ComponentPropertyDescription).Value
		for _, line := range lines {
			if !slices.Contains(strings.Split(about, "\n"), line) {
				t.Errorf("%s: no %q in\n%s", by, line, about)
			}
		}
	}
}

// TestCalendarByMonth: one event for each month in which a garden day begins, with the
// month list's warnings, and the watering.
func TestCalendarByMonth(t *testing.T) {
	r := build(t, moved(t, "years: 1", "years: 1\ncalendar: months\nwork: months\nalarm: 1 day"))
	goodEvents(t, r)
	var want []string
	for _, m := range r.Plan.Calendar.Months {
		if slices.ContainsFunc(r.Plan.Calendar.Days, func(d care.Day) bool { return d.From >= m.First && d.From <= m.Last }) {
			want = append(want, max(m.First, r.Plan.Garden.Date).String()+" "+m.Last.String())
		}
	}
	windows, _ := spans(t, r.Files["care.ics"])
	if len(want) < 9 || want[0] != "2027-03-20 2027-03-31" || len(windows) != len(want)+1 || !slices.Equal(windows[:len(want)], want) {
		t.Errorf("got %q, want %q and the watering", windows, want)
	}
	if n := bytes.Count(r.Files["care.ics"], []byte("TRIGGER:-P1D\r\n")); n != len(want)+1 {
		t.Errorf("%d alarms", n)
	}
	said := strings.ReplaceAll(string(r.Files["care.ics"]), "\r\n ", "")
	if !strings.Contains(said, "SUMMARY:Water the new plants") {
		t.Error("the calendar has no watering")
	}
	for _, warning := range []string{"Look for nests first.", "Work for a qualified person"} {
		listed := false
		for name, data := range r.Files {
			listed = listed || strings.HasPrefix(name, "months/") && bytes.Contains(data, []byte(warning))
		}
		if listed != strings.Contains(said, warning) {
			t.Errorf("%q is in the month lists: %v; in the calendar: %v", warning, listed, !listed)
		}
	}
}

// TestCalendarReadByICALJS reads the file with a second parser: ical.js 2.2.1,
// found where SHEAF_NODE_MODULES says.
func TestCalendarReadByICALJS(t *testing.T) {
	node := tooltest.Tool(t, "node")
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
