package generator

import (
	"cmp"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/html"
	"sheaf/generator/measure"
	"sheaf/generator/pdf"
	"sheaf/generator/source"
	"sheaf/generator/theme"
	"sheaf/generator/words"
	"sheaf/themes"
)

// dressed is a theme as it was joined from its files before. It hangs on their
// bytes alone, and on the typefaces of the system, which stay what they are
// while a session lasts.
type dressed struct {
	base, own theme.Files
	theme     *theme.Theme
	found     source.Diagnostics
	// paintings are of this theme alone.
	paintings *html.Paintings
	spoken    map[string]*spoken // what was read of its words, by language
}

// spoken is the words of a language with what was told of their files.
type spoken struct {
	*words.Words
	found source.Diagnostics
}

// words gives the words of a language, nil when the theme has none of it; own
// are the theme's own files, nil for the words as they ship.
func (d *dressed) words(own theme.Files, lang string) (*words.Words, source.Diagnostics) {
	key := lang
	if own == nil {
		key = "shipped " + lang
	}
	s := d.spoken[key]
	if s == nil {
		s = new(spoken)
		s.Words, s.found = words.Load(words.Files(d.base), words.Files(own), lang)
		d.spoken[key] = s
	}
	return s.Words, s.found
}

// speak gives the words of the garden's booklet, and the English ones that the
// designer is told things in. A language that there is not is English meanwhile.
func (d *dressed) speak(g *garden.Garden) (said, english *words.Words, ds source.Diagnostics) {
	english, ds = d.words(nil, words.Reference)
	lang := languageOf(g)
	said, more := d.words(d.own, lang)
	if said == nil {
		known := words.Languages(words.Files(d.base), words.Files(d.own))
		ds.Add(source.Error, "garden/language", g.Language.Span, fmt.Sprintf("there are no words of the language %q", lang),
			"there are "+strings.Join(known, ", "), "another language is a file of the theme: "+words.Dir+"/"+lang+".yaml")
		return english, english, ds
	}
	return said, english, slices.Concat(ds, more)
}

// languageOf is the language of a garden's booklet, in BCP 47: what the garden
// says, else the English that goes with its units.
func languageOf(g *garden.Garden) string {
	switch {
	case g.Language.Value != "":
		return g.Language.Value
	case g.Units == measure.US:
		return entries.American
	}
	return words.Reference
}

// theme reads the theme a garden chooses and joins it with the default. The
// error is for files that cannot be read.
func (o Options) theme(g *garden.Garden) (*dressed, source.Diagnostics, error) {
	var ds source.Diagnostics
	name := cmp.Or(g.Theme.Value, themes.Default)
	base, err := folderOf(themes.Default)
	if err != nil {
		return nil, nil, err
	}
	baseFiles, err := theme.Gather(base, base.part)
	if err != nil {
		return nil, nil, fmt.Errorf("theme %s: %w", base.name, err)
	}
	bare := &dressed{base: baseFiles, spoken: map[string]*spoken{}}
	var own theme.Files
	if name != themes.Default {
		d, err := o.themeFolder(name)
		if err != nil {
			ds.Add(source.Error, "garden/no-theme", g.Theme.Span, fmt.Sprintf("there is no theme %q", name),
				source.Mean(name, themes.Names()), "a folder is named from the garden's own folder")
			return bare, ds, nil
		}
		if own, err = theme.Gather(d, d.part); err != nil {
			ds.Add(source.Error, "garden/no-theme", g.Theme.Span, fmt.Sprintf("the theme %q cannot be read: %v", name, err))
			return bare, ds, nil
		}
		if len(own) == 0 {
			ds.Add(source.Error, "garden/no-theme", g.Theme.Span, fmt.Sprintf("the folder %q holds nothing of a theme", name), "a theme has a theme.yaml, a style.css or templates")
			return bare, ds, nil
		}
	}
	if m := o.memory; m != nil && m.dressed != nil && theme.Same(m.dressed.base, baseFiles) && theme.Same(m.dressed.own, own) {
		return m.dressed, m.dressed.found, nil
	}
	t, ds := theme.Load(baseFiles, own, o.font)
	if own != nil && !slices.Contains(themes.Names(), name) && !ds.HasErrors() {
		ds = append(ds, html.Check(t)...)
		for _, f := range t.Faces() {
			if err := pdf.Try(f); err != nil {
				ds.Add(source.Error, "theme/font", source.Whole(t.File("theme.yaml")), fmt.Sprintf("the typeface %q cannot be printed: %v", f.Name, err), "choose another: this one is damaged, or of a kind that cannot be embedded")
			}
		}
	}
	d := &dressed{baseFiles, own, t, ds, new(html.Paintings), map[string]*spoken{}}
	if o.memory != nil {
		o.memory.dressed = d
	}
	return d, ds, nil
}

// part reads one file of a theme.
func (d folder) part(name string) (*source.File, error) { return d.readMost(name, theme.MostBytes+1) }

// folderOf is the folder of a shipped theme.
func folderOf(name string) (folder, error) {
	files, err := themes.Shipped(name)
	return folder{FS: files, name: "built-in/" + name}, err
}

// themeFolder is the folder of a theme: a shipped one by its name, else one on
// the disk.
func (o Options) themeFolder(name string) (folder, error) {
	if slices.Contains(themes.Names(), name) {
		return folderOf(name)
	}
	if o.Theme == nil {
		return folder{}, fs.ErrNotExist
	}
	d := folder{name: name, memory: o.memory}
	if o.Disk != nil {
		d.disk = o.Disk(name)
		if o.memory != nil {
			o.memory.folders = append(o.memory.folders, ReadFolder{d.disk, []string{"pages", words.Dir}})
		}
	}
	var err error
	d.FS, err = o.Theme(name)
	return d, err
}
