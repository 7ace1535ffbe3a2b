package layout

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"strings"
	"testing"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/photo"
	"sheaf/generator/prose"
	"sheaf/generator/source"
	"sheaf/generator/theme"
	"sheaf/generator/theme/themetest"
	"sheaf/generator/words/wordstest"
	"sheaf/themes"
)

// covered is a book of a cover alone, over a picture of the shape of a garden's.
func covered(t testing.TB, name string) *booklet.Book {
	ground := draw.Color{G: 90}
	pic := draw.Picture{W: 154, H: 86, Items: []draw.Item{draw.Shape{Path: draw.Rect(0, 60, 154, 26), Fill: &ground}}}
	return &booklet.Book{
		Words: wordstest.English(t), Title: name, Subtitle: "The care of the garden, 2027 and 2028", For: "the Ferriby family", By: "Ines Calloway, garden designer", Date: "20 March 2027", Lang: "en",
		Sections: []booklet.Section{{ID: "cover", Kind: booklet.Cover, Title: prose.Plain(name), Blocks: []booklet.Block{booklet.Figure{Picture: pic, Ground: 77. / 86}}}},
	}
}

// coverForms are the editions that have a cover.
func coverForms(t *theme.Theme) map[string]Form {
	return map[string]Form{"A5": Booklet(t, false), "A5 in clear type": Clear(t, false), "half letter": Booklet(t, true), "A4": Large(t, false, nil), "Letter": Large(t, true, nil)}
}

// TestCoverFits: on the cover of every edition in every theme, names of any length stand
// whole and unbroken within the page, over the plants and clear of the lines at the foot,
// and the plants run from edge to edge on a line a third up.
func TestCoverFits(t *testing.T) {
	names := []string{
		"O", "Dovecote Barn", "Lanternwood Garden Club", "Donaudampfschifffahrtsgesellschaftsgarten",
		"Schmetterlingswiesenbewirtschaftungshof", "The walled garden and the long borders of Upper Ambersedge House by the water",
		strings.Repeat("Long Acre ", 24),
	}
	for _, look := range themes.Names() {
		th := themetest.Shipped(t, look)
		for paper, form := range coverForms(th) {
			for _, name := range names {
				what := fmt.Sprintf("%s, %s, %.30s", look, paper, name)
				pages, ds := Lay(covered(t, name), th, form)
				if len(ds) > 0 || len(pages.Pages) != 1 {
					t.Fatalf("%s: %d pages, %v", what, len(pages.Pages), ds)
				}
				coverStands(t, what, pages.Pages[0], strings.Fields(name), form)
			}
		}
	}
}

func coverStands(t *testing.T, what string, page Page, words []string, form Form) {
	ground, top := page.H*groundAt, page.H
	for _, it := range page.Items {
		p, ok := it.(Picture)
		if !ok || p.Picture.H*77/86 < page.H/4 || len(p.Picture.Items) == 0 {
			continue
		}
		if _, drawing := p.Picture.Items[0].(draw.Group); !drawing {
			continue // the frame's
		}
		if at := p.Y + p.Picture.H*77/86; at < ground-0.01 || at > ground+0.01 {
			t.Errorf("%s: the ground is at %.1f of %.1f mm", what, at, page.H)
		}
		if p.X < 0 && p.X+p.Picture.W < page.W || p.X > page.W*0.09 || p.X+p.Picture.W < page.W*0.91 {
			t.Errorf("%s: the plants stand from %.1f to %.1f", what, p.X, p.X+p.Picture.W)
		}
		top = p.Y
	}
	said, size := map[string]bool{}, 0.0
	for _, it := range page.Items {
		text, ok := it.(Text)
		if !ok {
			continue
		}
		for _, w := range strings.Fields(text.String) {
			said[w] = true
		}
		if text.X < 9 || text.X+text.W > page.W-9 || text.Y-mm(float64(text.Size)) < 9 || text.Y > page.H-9 {
			t.Errorf("%s: %q at %.1f, %.1f (%.1f wide) leaves the page", what, text.String, text.X, text.Y, text.W)
		}
		if text.Y > ground-2 && text.Y-mm(float64(text.Size)) < ground+6 {
			t.Errorf("%s: %q stands on the ground", what, text.String)
		}
		if text.Y < ground {
			size = max(size, float64(text.Size))
			if text.Y > top+2 {
				t.Errorf("%s: %q at %.1f stands among the plants, which begin at %.1f", what, text.String, text.Y, top)
			}
		}
	}
	for _, w := range words {
		if !said[w] {
			t.Errorf("%s: %q is broken or lost", what, w)
		}
	}
	if len(words) <= 2 && len(strings.Join(words, "")) < 15 && size < largest*0.99*page.W/A5().W {
		t.Errorf("%s: the name is set in %.0f points, and has room for more", what, size)
	}
}

// TestCoverKeepsToItsPage: in the folded edition nothing of the cover lies beside its
// page: a photograph, which nothing clips, is not laid over the edge.
func TestCoverKeepsToItsPage(t *testing.T) {
	for _, look := range themes.Names() {
		for _, shape := range []image.Rectangle{image.Rect(0, 0, 900, 500), image.Rect(0, 0, 500, 900), image.Rect(0, 0, 200, 90)} {
			th := *themetest.Shipped(t, look)
			th.Cover = coverPhoto(t, shape)
			for paper, form := range map[string]Form{"A4": Booklet(&th, false), "Letter": Booklet(&th, true)} {
				b := covered(t, "Dovecote Barn")
				pages, _ := Lay(b, &th, form)
				sheet := A4()
				if paper == "Letter" {
					sheet = Letter()
				}
				folded, _ := Fold(pages, sheet, 80)
				shown := 0
				for _, it := range folded.Pages[0].Items {
					if im, ok := it.(Image); ok {
						shown++
						middle, right := folded.Pages[0].W/2, folded.Pages[0].W/2+form.Sheet.W
						if im.X < middle-0.01 || im.X+im.W > right+0.01 || im.Y < 0 || im.Y+im.H > form.Sheet.H*groundAt+10 {
							t.Errorf("%s, %s: a photograph of %v from %.1f to %.1f, beside the page from %.1f to %.1f", look, paper, shape.Max, im.X, im.X+im.W, middle, right)
						}
					}
				}
				if shown != 1 {
					t.Errorf("%s, %s: %d photographs", look, paper, shown)
				}
			}
		}
	}
}

// coverPhoto is a theme's photograph of a shape.
func coverPhoto(t *testing.T, shape image.Rectangle) *theme.Picture {
	t.Helper()
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, image.NewGray(shape), nil); err != nil {
		t.Fatal(err)
	}
	p, err := photo.Read(buf.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return &theme.Picture{File: &source.File{Path: "cover.jpg"}, Photo: p}
}
