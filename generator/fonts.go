package generator

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"sheaf/generator/theme"
)

// Limits of the search for typefaces of the system.
const (
	mostFonts   = 8000
	largestFont = 40 << 20
)

// font looks for a typeface of the system by its whole name: first in files that
// are called like it, then in all others. Only TrueType files are looked into.
func (o Options) font(name string) []byte {
	var likely, rest []string
	bare := func(s string) string {
		return strings.Map(func(r rune) rune {
			if strings.ContainsRune(" -_", r) {
				return -1
			}
			return r
		}, strings.ToLower(s))
	}
	seen := 0
	for _, dir := range o.Fonts {
		filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
			if seen++; seen > mostFonts {
				return fs.SkipAll
			}
			if err != nil || d.IsDir() || !strings.EqualFold(filepath.Ext(p), ".ttf") {
				return nil // a folder that cannot be read has no fonts for us
			}
			stem := bare(strings.TrimSuffix(filepath.Base(p), filepath.Ext(p)))
			if stem == bare(name) || stem == bare(name)+"regular" {
				likely = append(likely, p)
			} else {
				rest = append(rest, p)
			}
			return nil
		})
	}
	for _, p := range append(likely, rest...) {
		if data := fontNamed(p, name); data != nil {
			return data
		}
	}
	return nil
}

// fontNamed reads a font file if the font in it has a name; nil if not.
func fontNamed(file, name string) []byte {
	f, err := os.Open(file)
	if err != nil {
		return nil
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() || info.Size() > largestFont {
		return nil
	}
	called := theme.FontName(f)
	if !strings.EqualFold(called, name) && !strings.EqualFold(called, name+" Regular") {
		return nil
	}
	data, err := io.ReadAll(io.NewSectionReader(f, 0, info.Size()))
	if err != nil {
		return nil
	}
	return data
}
