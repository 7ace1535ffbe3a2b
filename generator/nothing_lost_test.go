package generator_test

import (
	"fmt"
	"io/fs"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/content"
	"sheaf/generator"
	composed "sheaf/generator/booklet"
	"sheaf/generator/care"
	"sheaf/generator/figure"
	"sheaf/generator/layout"
)

// TestNoCautionIsLost: of each entry of the library with care or hazards unlike those
// of others, as a garden of its own, the printed
// booklet has every caution of its care, every window in which a job must not be done,
// and every hazard by name: in Britain, in the south, and in America in its units.
func TestNoCautionIsLost(t *testing.T) {
	t.Parallel()
	places := fourteen()
	at := func(name string) station {
		return places[slices.IndexFunc(places, func(p station) bool { return p.name == name })]
	}
	for _, c := range []struct {
		place string
		more  string // of garden.yaml
	}{
		{"Manchester", ""}, {"Christchurch", ""}, {"Philadelphia", "units: us\npaper: Letter\n"},
	} {
		t.Run(c.place, func(t *testing.T) {
			plan := eachOnce(t, at(c.place), c.more)
			missing := make([][]string, len(plan.Plantings))
			looked := make([]int, len(plan.Plantings))
			var next sync.Mutex
			n := 0
			var all sync.WaitGroup
			for range runtime.GOMAXPROCS(0) {
				all.Go(func() {
					for {
						next.Lock()
						i := n
						n++
						next.Unlock()
						if i >= len(plan.Plantings) {
							return
						}
						missing[i], looked[i] = notPrinted(plan, i, c.more != "")
					}
				})
			}
			all.Wait()
			sum := 0
			for i, lines := range missing {
				sum += looked[i]
				for _, line := range lines {
					t.Errorf("%s: %s", plan.Plantings[i].Entry.ID, line)
				}
			}
			if sum < 8*len(plan.Plantings) {
				t.Errorf("only %d texts were looked for", sum)
			}
		})
	}
}

// eachOnce is the plan of a garden at a place that has every entry of the library once that stands for others.
func eachOnce(t *testing.T, p station, more string) *generator.Plan {
	t.Helper()
	var text strings.Builder
	fmt.Fprintf(&text, "garden: Each once\ndate: 2027-03-20\nskill: owner\n%ssite:\n  latitude: %v\n  country: %s\n", more, p.Latitude, p.country)
	fmt.Fprintf(&text, "  normals: {min: %s, max: %s, unit: °C, source: %q}\nbeds:\n  - {bed: Border, area: 60 m²}\nplants: plants.csv\n", figures(p.Normals.Min), figures(p.Normals.Max), p.source)
	list := listOf(representatives(wholeShelf(t), byHazards), "2025-03-01")
	check := func(text string) *generator.Plan {
		plan, _, err := generator.Check(generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Folders: generator.Folders{
			Garden: fstest.MapFS{"garden.yaml": {Data: []byte(text)}, "plants.csv": {Data: []byte(list)}}, File: "garden.yaml",
			Library: func(string) (fs.FS, error) { return content.Library(), nil },
		}})
		if err != nil || plan == nil {
			t.Fatal(err)
		}
		return plan
	}
	return check(text.String())
}

// notPrinted lays the booklet of one planting alone, and tells what it lacks and how
// many texts were looked for.
func notPrinted(plan *generator.Plan, i int, letter bool) (missing []string, looked int) {
	in := plan.Input
	in.Plantings = plan.Plantings[i : i+1]
	calendar, _ := care.Plan(in)
	book := composed.Compose(composed.Input{Input: in, Calendar: calendar, Theme: plan.Theme, Sketches: new(figure.Sketchbook)})
	form := layout.Booklet(plan.Theme, letter)
	pages, _ := layout.Lay(book, plan.Theme, form)
	booklet, own := inPrint(pages.Pages, form), inPrint(ownPages(pages, book), form)
	done := map[string]bool{}
	look := func(in, where, what, text string) {
		text = strings.ToLower(bare(strings.TrimRight(text, ".")))
		if text == "" || done[where+text] {
			return
		}
		done[where+text] = true
		if looked++; !strings.Contains(in, text) {
			missing = append(missing, fmt.Sprintf("%s is not printed %s: %s", what, where, text))
		}
	}
	want := func(what, text string) { look(booklet, "in the booklet", what, text) }
	wantOwn := func(what, text string) { look(own, "on the plant's page", what, text) }
	q := &in.Plantings[0]
	for _, h := range q.Entry.Hazards {
		want("the hazard "+h.Value, in.Words.Term("hazard", h.Value))
		wantOwn("the hazard "+h.Value, in.Words.Term("caution", h.Value))
	}
	for _, line := range in.Harm(q.Entry) {
		want("of the plant", line)
	}
	for _, line := range q.Entry.Cautions {
		wantOwn("of the plant", line)
	}
	for _, r := range q.Entry.Rules {
		job := in.Library.Job(r.Job.Value)
		fitted, _, asked := in.FitNow(q, r)
		if _, _, refused := in.Bound(q, r); job == nil || !asked || refused || in.Over(q, r) || in.Barred(q, job) {
			continue
		}
		for _, line := range r.Cautions {
			wantOwn("with "+r.Job.Value, line)
		}
		for _, n := range fitted.Never {
			wantOwn("never of "+r.Job.Value, n.Value.Say(in.Words))
		}
		for _, risk := range job.Risks {
			want("the risk of "+r.Job.Value, in.Library.Caution(risk.Value))
		}
	}
	for _, task := range calendar.Tasks {
		nests := ""
		if in.InNestSeason(&task) {
			// In print it is in parts: on the day, in the region, and what to do.
			from, to := in.Region.Nest.From.Say(in.Words), in.Region.Nest.To.Say(in.Words)
			nests = in.Words.Say("care.nests", "region", in.Region.Name, "from", from, "to", to)
			want("with the task "+task.Job.Name.Value, in.Words.Say("warn.nests"))
			want("of the region", in.Words.Say("safety.nests", "from", from, "to", to))
			want("of nests", in.Library.Caution("nests"))
		}
		for _, line := range task.Cautions {
			if line == nests {
				continue
			}
			want("with the task "+task.Job.Name.Value, line)
		}
	}
	return missing, looked
}

// ownPages are those of the one plant of a booklet.
func ownPages(pages *layout.Pages, book *composed.Book) []layout.Page {
	var out []layout.Page
	own := false
	for _, p := range pages.Pages {
		for _, it := range p.Items {
			if a, ok := it.(layout.Anchor); ok {
				own = book.Find(a.ID).Kind == composed.Plant
				break
			}
		}
		if own {
			out = append(out, p)
		}
	}
	return out
}

// inPrint is the text of pages in small letters without white space, as it runs on from
// page to page: without their feet.
func inPrint(pages []layout.Page, form layout.Form) string {
	var out strings.Builder
	for _, p := range pages {
		for _, it := range p.Items {
			if text, ok := it.(layout.Text); ok && text.Y < p.H-form.Margins.Foot+2 {
				out.WriteString(bare(text.String))
			}
		}
	}
	return strings.ToLower(out.String())
}
