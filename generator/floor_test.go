package generator

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/go-pdf/fpdf"
	"github.com/yuin/goldmark"

	"sheaf/content"
	"sheaf/generator/draw"
	"sheaf/generator/layout"
)

// demoProof composes the demo garden.
func demoProof(b *testing.B) *Proof {
	folders, err := Open("../content/gardens/dovecote-barn")
	if err != nil {
		b.Fatal(err)
	}
	defer folders.Close()
	p, ds, err := Compose(Options{Folders: folders, Now: time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)})
	if err != nil || p == nil {
		b.Fatal(err, ds)
	}
	return p
}

// BenchmarkFloors are what no build can do without, by the same libraries and
// nothing of ours: goldmark over the same Markdown, fpdf writing the same lines,
// the system writing the same files. Beside them stand the editions.
func BenchmarkFloors(b *testing.B) {
	p := demoProof(b)
	var texts [][]byte
	library := content.Library()
	err := fs.WalkDir(library, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(name) != ".md" {
			return err
		}
		text, err := fs.ReadFile(library, name)
		texts = append(texts, text)
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	pages, _ := layout.Lay(p.press.book(), p.press.theme, layout.Booklet(p.press.theme, p.press.letter))
	files := map[string]map[string][]byte{}
	for _, e := range []string{"web", "a5"} {
		if files[e], _, err = p.Print(context.Background(), []string{e}); err != nil {
			b.Fatal(err)
		}
	}
	b.Run("goldmark", func(b *testing.B) {
		for b.Loop() {
			for _, text := range texts {
				var out bytes.Buffer
				if err := goldmark.Convert(text, &out); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("fpdf", func(b *testing.B) {
		for b.Loop() {
			plainLines(b, p, pages)
		}
	})
	for _, e := range []string{"web", "a5"} {
		made := files[e]
		b.Run("write "+e, func(b *testing.B) {
			n := 0
			for b.Loop() {
				dir := filepath.Join(b.TempDir(), fmt.Sprint(n))
				n++
				for name, data := range made {
					at := filepath.Join(dir, filepath.FromSlash(name))
					if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
						b.Fatal(err)
					}
					if err := os.WriteFile(at, data, 0o644); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
	for _, e := range []string{"web", "a5"} {
		b.Run("edition "+e, func(b *testing.B) {
			for b.Loop() {
				if _, _, err := demoProof(b).Print(context.Background(), []string{e}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// plainLines writes the lines of pages, and nothing else, as fpdf does when it is
// left alone.
func plainLines(b *testing.B, p *Proof, pages *layout.Pages) {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages.Pages[0].W, Ht: pages.Pages[0].H}})
	faces := []draw.Face{draw.Body, draw.Bold, draw.Italic, draw.SmallCaps, draw.Heading, draw.HeadingItalic, draw.Caption}
	for _, f := range faces {
		doc.AddUTF8FontFromBytes(fmt.Sprint(f), "", bytes.Clone(p.press.theme.Face(f).TTF))
	}
	for _, page := range pages.Pages {
		doc.AddPage()
		for _, it := range page.Items {
			if t, ok := it.(layout.Text); ok {
				doc.SetFont(fmt.Sprint(t.Face), "", float64(t.Size))
				doc.Text(t.X, t.Y, t.String)
			}
		}
	}
	var out bytes.Buffer
	if err := doc.Output(&out); err != nil {
		b.Fatal(err)
	}
}
