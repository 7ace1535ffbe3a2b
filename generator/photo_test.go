package generator_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"
	"testing/fstest"

	"sheaf/generator"
)

// snapshot is a photograph made for the test.
func snapshot(t *testing.T, w, h int, c color.Color) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			if (x/8+y/8)%2 == 0 {
				img.Set(x, y, c)
			}
		}
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, nil); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// withPhotos is a garden of three plants, two of them with photographs of one
// size: one of the garden's, one of its own entry's.
func withPhotos(t *testing.T, more string) generator.Options {
	o := moved(t)
	o.Garden = fstest.MapFS{
		"garden.yaml": &fstest.MapFile{Data: []byte("garden: Photos\ndate: 2027-03-20\nsite: {country: GB, latitude: 52}\n" +
			"plants:\n  - plant: Panicum virgatum\n  - plant: Sesleria heufleriana\n  - plant: Taxus baccata\n" +
			"photos:\n  - {plant: switch grass, file: grass.jpg, credit: A. Member, alt: Tall grass in August}\n" + more)},
		"photos/grass.jpg": &fstest.MapFile{Data: snapshot(t, 900, 600, color.RGBA{80, 120, 60, 255})},
		"photos/moor.jpg":  &fstest.MapFile{Data: snapshot(t, 900, 600, color.RGBA{120, 80, 60, 255})},
		"plants/moor.md": &fstest.MapFile{Data: []byte("---\nbotanical: Sesleria heufleriana\ncommon: [green moor grass]\ntype: grass\nleaf: evergreen\nhabit: mound\n" +
			"height: 40 cm\nspread: 45 cm\ncare-group: evergreen combed grass\nphoto: {file: moor.jpg, alt: A low mound in spring}\n---\nA low evergreen mound.\n")},
	}
	return o
}

func TestPhotographs(t *testing.T) {
	r := build(t, withPhotos(t, ""))
	for file, words := range map[string][]string{
		"plants/panicum-virgatum.html":     {`src="../plants/panicum-virgatum.jpg"`, `alt="Tall grass in August."`, "Photograph: A. Member."},
		"plants/sesleria-heufleriana.html": {`src="../plants/sesleria-heufleriana.jpg"`, `alt="A low mound in spring."`},
	} {
		for _, w := range words {
			if !bytes.Contains(r.Files[file], []byte(w)) {
				t.Errorf("%s does not have %s", file, w)
			}
		}
	}
	img, err := jpeg.DecodeConfig(bytes.NewReader(r.Files["plants/panicum-virgatum.jpg"]))
	if err != nil || img.Width != 900 || img.Height != 600 {
		t.Errorf("the photograph on the web: %v %v", img, err)
	}
	// Two photographs of one size: the same bytes again, ten times.
	first := r.Files["booklet.pdf"]
	if n := bytes.Count(first, []byte("/Subtype /Image")); n != 2 {
		t.Errorf("%d photographs in the booklet", n)
	}
	for range 10 {
		o := withPhotos(t, "")
		o.Editions = []string{"a5"}
		if !bytes.Equal(build(t, o).Files["booklet.pdf"], first) {
			t.Fatal("the booklet differs between two builds")
		}
	}
}

// Whose photograph a name means: all that a planting goes by, and no other.
func TestPhotographNames(t *testing.T) {
	const unknown = "garden/photo the garden has no plant"
	for _, tt := range []struct{ row, photo, want string }{
		{"Panicum virgatum", "Panicum virgatum", ""},
		{"Panicum virgatum", "Switch Grass", ""},
		{"Perovskia atriplicifolia", "Perovskia atriplicifolia", ""}, // a synonym in the list
		{"Salvia yangii", "Perovskia atriplicifolia", ""},
		{"Panicum virgatm", "Panicum virgatum", ""}, // a slip in the list
		{"Panicum virgatm", "Panicum virgatm", ""},
		{"Panicum virgatum 'Made Up'", "Panicum virgatum 'Made Up'", ""},
		{"Panicum virgatum 'Made Up'", "Panicum virgatum", unknown}, // does not look like its species
		{"Panicum virgatum", "Taxus baccata", unknown},
	} {
		o := withPhotos(t, "")
		o.Editions = []string{"web"}
		o.Garden.(fstest.MapFS)["garden.yaml"] = &fstest.MapFile{Data: []byte("garden: Photos\nsite: {country: GB, latitude: 52}\n" +
			"plants:\n  - plant: " + tt.row + "\nphotos:\n  - {plant: " + tt.photo + ", file: grass.jpg, alt: It}\n")}
		r, ds, err := allOf(t, o)
		if err != nil || r == nil {
			t.Fatal(err, printed(ds))
		}
		shown := 0
		for name := range r.Files {
			if strings.HasSuffix(name, ".jpg") {
				shown++
			}
		}
		told := ""
		for _, d := range ds {
			told += d.Code + " " + d.Message + "\n"
		}
		if (shown == 1) != (tt.want == "") || !strings.Contains(told, tt.want) {
			t.Errorf("a photograph of %s for %s: %d shown, %s", tt.photo, tt.row, shown, told)
		}
	}
}

// A species' photograph in its entry is not put beside a cultivar, and what no
// row plants is looked for but not decoded.
func TestPhotographOfEntry(t *testing.T) {
	for row, shown := range map[string]bool{"Sesleria heufleriana": true, "Sesleria heufleriana 'Made Up'": false} {
		o := withPhotos(t, "")
		o.Editions = []string{"web"}
		files := o.Garden.(fstest.MapFS)
		files["garden.yaml"] = &fstest.MapFile{Data: []byte("garden: Photos\nsite: {country: GB, latitude: 52}\nplants:\n  - {plant: " + row + "}\n")}
		got := false
		for name := range build(t, o).Files {
			got = got || strings.HasSuffix(name, ".jpg")
		}
		if got != shown {
			t.Errorf("%s: shown is %v", row, got)
		}
	}
	o := withPhotos(t, "")
	files := o.Garden.(fstest.MapFS)
	files["garden.yaml"] = &fstest.MapFile{Data: []byte("garden: Photos\nsite: {country: GB, latitude: 52}\nplants:\n  - plant: Taxus baccata\n")}
	files["photos/moor.jpg"] = &fstest.MapFile{Data: []byte("not a picture")}
	if _, ds, _ := generator.Check(o); ds.HasErrors() {
		t.Errorf("got %s", printed(ds))
	}
	delete(files, "photos/moor.jpg")
	if _, ds, _ := generator.Check(o); !strings.Contains(printed(ds), "entry/photo") {
		t.Errorf("got %s", printed(ds))
	}
}

func TestPhotographFaults(t *testing.T) {
	for more, want := range map[string]string{
		"  - {plant: yew, file: gone.jpg, alt: Yew}\n":        `garden/photo the photograph "gone.jpg" cannot be read`,
		"  - {plant: yow, file: grass.jpg, alt: Yew}\n":       `garden/photo the garden has no plant "yow" to show`,
		"  - {plant: yew, file: garden.yaml, alt: Yew}\n":     `garden/photo "garden.yaml" cannot be used as a photograph`,
		"  - {plant: yew, file: /etc/a.jpg, alt: Yew}\n":      `garden/photo "/etc/a.jpg" cannot be used as a photograph`,
		"  - {plant: yew, file: ../photos/x.jpg, alt: Yew}\n": `garden/photo "../photos/x.jpg" cannot be used as a photograph`,
		"  - {plant: yew, file: grass.jpg}\n":                 `garden/photo the photograph is not described`,
		"  - {plant: yew, file: 'a\\b.jpg', alt: Yew}\n":      `garden/photo "a\\b.jpg" cannot be used as a photograph`,
		"  - {plant: switch grass, file: moor.jpg, alt: A}\n": `garden/photo switch grass has a photograph already; this one is shown`,
		"  - grass.jpg\n": `garden/type expected keys and values here, found "grass.jpg"`,
		"  - {plant: yew, file: text.jpg, alt: Yew, a: b}\n": `garden/unknown-key unknown key "a"`,
	} {
		o := withPhotos(t, more)
		_, ds, err := generator.Check(o)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, d := range ds {
			got = append(got, d.Code+" "+d.Message)
		}
		if !strings.Contains(strings.Join(got, "\n"), want) {
			t.Errorf("%s: got %q, want %q", strings.TrimSpace(more), got, want)
		}
	}
	o := withPhotos(t, "")
	o.Garden.(fstest.MapFS)["photos/grass.jpg"] = &fstest.MapFile{Data: []byte("not a picture")}
	if _, ds, _ := generator.Check(o); !strings.Contains(printed(ds), "this is no JPEG or PNG picture") {
		t.Errorf("got %s", printed(ds))
	}
}
