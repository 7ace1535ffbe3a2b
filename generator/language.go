package generator

import (
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/care"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

// mostForeign is how many texts of a kind are named that are in another language.
const mostForeign = 8

// untranslated tells of texts of libraries that the booklet prints and that are in another
// language than it is: half a booklet in each is of use to nobody. Folders that do not
// say their language, the garden's own among them, are taken to be in that of the
// garden. With partial it is a warning.
func untranslated(in care.Input, partial bool) source.Diagnostics {
	lang := languageOf(in.Garden)
	var kinds []string
	texts := map[string][]string{} // names, by their kind
	tongues := map[string]bool{}
	seen := map[*source.File]bool{}
	note := func(kind, name string, f *source.File) {
		in := in.Library.WrittenIn(f)
		if in == "" || base(in) == base(lang) || seen[f] {
			return
		}
		seen[f], tongues[in] = true, true
		if texts[kind] == nil {
			kinds = append(kinds, kind)
		}
		texts[kind] = append(texts[kind], name)
	}
	for i := range in.Plantings {
		e := in.Plantings[i].Entry
		if e == nil {
			continue
		}
		note("entries", e.Name.Value.Plain(), e.File)
		for _, o := range e.Others {
			note("entries", o.Name.Value.Plain(), o.File)
		}
		if e.Group != nil {
			note("care groups", e.Group.Name.Value, e.Group.File)
		}
		for _, r := range e.Rules {
			if j := in.Library.Job(r.Job.Value); j != nil {
				note("jobs", j.Name.Value, j.File)
			}
		}
	}
	if j := in.Library.Job("water"); j != nil && len(in.Plantings) > 0 {
		note("jobs", j.Name.Value, j.File)
	}
	how := "how-to-use"
	if in.Garden.Kind == garden.Guide {
		how = "how-to-use-guide"
	}
	if in.Region != nil {
		note("regions", in.Region.Code, in.Region.File)
	}
	for _, id := range []string{how, "first-year", "safety", "glossary"} {
		if p := in.Library.Page(id); p != nil {
			note("pages", p.ID, p.File)
		}
	}
	if len(seen) == 0 {
		return nil
	}
	severity := source.Error
	if partial {
		severity = source.Warning
	}
	at := in.Garden.Language.Span
	if at.File == nil {
		at = in.Garden.Span
	}
	var others []string
	for t := range tongues {
		others = append(others, t)
	}
	slices.Sort(others)
	var hints []string
	for _, k := range kinds {
		hints = append(hints, k+": "+few(texts[k]))
	}
	hints = append(hints, fmt.Sprintf(`a library in that language goes first, with "written-in: %s" in its library.yaml: library: [../my-library, built-in]`, lang))
	if !partial {
		hints = append(hints, "--partial builds it as it is")
	}
	var ds source.Diagnostics
	ds.Add(severity, "garden/foreign", at, fmt.Sprintf("the booklet is in %s, and %d texts of its libraries are in %s", lang, len(seen), strings.Join(others, ", ")), hints...)
	return ds
}

// base is the language of a tag without its country.
func base(tag string) string {
	b, _, _ := strings.Cut(strings.ToLower(tag), "-")
	return b
}

// few names the first of some names, and how many more there are.
func few(names []string) string {
	slices.Sort(names)
	if n := len(names) - mostForeign; n > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:mostForeign], ", "), n)
	}
	return strings.Join(names, ", ")
}
