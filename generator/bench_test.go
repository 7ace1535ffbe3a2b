package generator_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"sheaf/content"
	"sheaf/generator"
)

// grown is a garden with a library of n entries, all of them planted, in beds
// of twelve. Entries are the shipped ones in turn, under invented names and with
// words of their own, so that no two files are alike; the same each time.
func grown(t testing.TB, n int) generator.Options {
	t.Helper()
	shipped := content.Library()
	library := fstest.MapFS{}
	var plants []string
	err := fs.WalkDir(shipped, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if strings.HasPrefix(p, "plants/") {
			plants = append(plants, p)
			return nil
		}
		data, err := fs.ReadFile(shipped, p)
		library[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(8, uint64(n)))
	var list, beds strings.Builder
	list.WriteString("plant,quantity,bed,planted\n")
	for i := range n {
		data, err := fs.ReadFile(shipped, plants[i*31%len(plants)]) // of all folders
		if err != nil {
			t.Fatal(err)
		}
		front, body, _ := strings.Cut(strings.TrimPrefix(string(data), "---\n"), "\n---\n")
		name := invented(r, i)
		lines := strings.Split(front, "\n")
		serves := false // an invented name serves itself alone
		for j, l := range lines {
			if serves && strings.HasPrefix(l, " ") {
				lines[j] = ""
				continue
			}
			serves = false
			switch key, _, _ := strings.Cut(l, ":"); key {
			case "botanical":
				lines[j] = "botanical: " + name
			case "common":
				lines[j] = fmt.Sprintf("common: [plant number %d]", i)
			case "synonyms", "photo", "serves", "except", "cultivars", "asks":
				lines[j], serves = "", true
			}
		}
		sentences := strings.SplitAfter(strings.TrimSpace(body), ". ")
		r.Shuffle(len(sentences), func(a, b int) { sentences[a], sentences[b] = sentences[b], sentences[a] })
		text := fmt.Sprintf("---\n%s\n---\nThis is plant number %d. %s\n", strings.Join(lines, "\n"), i, strings.TrimSpace(strings.Join(sentences[:1+r.IntN(len(sentences))], "")))
		library[fmt.Sprintf("plants/%02d/plant-%05d.md", i/500, i)] = &fstest.MapFile{Data: []byte(text)}
		if i%12 == 0 {
			fmt.Fprintf(&beds, "  - {bed: Bed %d, area: 40 m²}\n", i/12+1)
		}
		fmt.Fprintf(&list, "%s,%d,Bed %d,2025\n", name, 1+i%9, i/12+1)
	}
	garden := "garden: Many\ndate: 2027-03-20\nsite: {country: GB, latitude: 52}\nlibrary: [club]\nbeds:\n" + beds.String() + "plants: plants.csv\n"
	return generator.Options{Now: may, Folders: generator.Folders{
		Garden:  fstest.MapFS{"garden.yaml": {Data: []byte(garden)}, "plants.csv": {Data: []byte(list.String())}},
		File:    "garden.yaml",
		Library: func(string) (fs.FS, error) { return library, nil },
	}}
}

// grownGuide is a club's guide of a library of n entries.
func grownGuide(t testing.TB, n int) generator.Options {
	o := grown(t, n)
	o.Garden = fstest.MapFS{"garden.yaml": {Data: []byte("garden: Many\nkind: guide\ndate: 2027-03-20\nsite: {country: GB, latitude: 52}\nlibrary: [club]\n")}}
	return o
}

// invented gives the i-th of names that no plant has.
func invented(r *rand.Rand, i int) string {
	part := func(n int) string {
		var b strings.Builder
		for range n {
			b.WriteByte("bdfglmnprstv"[r.IntN(12)])
			b.WriteByte("aeiou"[r.IntN(5)])
		}
		return b.String()
	}
	genus := part(3) + "ra"
	return strings.ToUpper(genus[:1]) + genus[1:] + " " + part(2) + string(rune('a'+i/676%26)) + "e" + string(rune('a'+i/26%26)) + "i" + string(rune('a'+i%26)) + "us"
}

// BenchmarkSizes builds a garden of 60 plants, a large one of 1,000, and guides of
// 1,000 and 10,000 entries, into a new folder. MB is the most that the process has
// had of the system, garbage too.
func BenchmarkSizes(b *testing.B) {
	for _, c := range []struct {
		of       func(testing.TB, int) generator.Options
		plants   int
		editions []string
	}{
		{grown, 60, nil},
		{grown, 60, []string{"web", "a5", "ics", "json"}},
		{grown, 1000, []string{"web", "a5", "ics", "json"}},
		{grownGuide, 100, []string{"web", "a5", "ics", "json"}},
		{grownGuide, 1000, []string{"web", "a5", "ics", "json"}},
		{grownGuide, 10000, []string{"web", "a5", "ics", "json"}},
	} {
		o := c.of(b, c.plants)
		o.Editions = c.editions
		name := "all"
		if c.editions != nil {
			name = strings.Join(c.editions, "+")
		}
		kind := "garden"
		if o.Garden.(fstest.MapFS)["plants.csv"] == nil {
			kind = "guide"
		}
		b.Run(fmt.Sprintf("%s/%d/%s", kind, c.plants, name), func(b *testing.B) {
			var m runtime.MemStats
			for b.Loop() {
				written(b, o)
				runtime.ReadMemStats(&m)
			}
			b.ReportMetric(float64(m.Sys)/1e6, "MB")
		})
	}
}

// written builds a garden into a folder of its own.
func written(b *testing.B, o generator.Options) {
	b.Helper()
	proof, ds, err := generator.Compose(o)
	if err != nil || proof == nil {
		b.Fatalf("%v %s", err, printed(ds))
	}
	out, err := generator.OpenOutput(b.Context(), b.TempDir(), func(s string) { b.Error(s) })
	if err != nil {
		b.Fatal(err)
	}
	defer out.Close()
	if ds, err := proof.PrintTo(b.Context(), o.Editions, out.Put); err != nil || ds.HasErrors() {
		b.Fatalf("%v %s", err, printed(ds))
	}
	if _, err := out.Settle(); err != nil {
		b.Fatal(err)
	}
}

// TestGrown: the gardens of the benchmarks are what they are said to be.
func TestGrown(t *testing.T) {
	o := grown(t, 60)
	o.Editions = []string{"web", "json"}
	r := build(t, o)
	if n := len(decode(t, r.Files["booklet.json"]).Plants); n != 60 {
		t.Errorf("%d plants", n)
	}
	o = grown(t, 60)
	o.Editions = []string{"web", "json"}
	for name, data := range build(t, o).Files {
		if !bytes.Equal(data, r.Files[name]) {
			t.Errorf("%s is another one the second time", name)
		}
	}
}
