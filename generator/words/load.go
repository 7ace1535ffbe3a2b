package words

import (
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"sheaf/generator/fields"
	"sheaf/generator/source"
)

// Reference is the language whose file has every text; its places are those a
// text may have in any language.
const Reference = "en-GB"

// Dir is the folder of a theme in which the files are, each named as its
// language is in BCP 47.
const Dir = "words"

// Files are the files of a theme, by their names in its folder.
type Files = map[string]*source.File

// Languages lists those that have a file, sorted.
func Languages(files ...Files) []string {
	var out []string
	for _, all := range files {
		for name := range all {
			if stem, ok := strings.CutSuffix(name, ".yaml"); ok && path.Dir(name) == Dir {
				out = append(out, path.Base(stem))
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Load joins the words of a language, in BCP 47, from the files of the default
// theme and those of a theme's own, which go before them text by text. A
// language takes what its file leaves out from the one it is a kind of: de-AT
// from de, every English from [Reference]. The words are nil when none of the
// files is of that language.
func Load(base, own Files, lang string) (*Words, source.Diagnostics) {
	tag, err := language.Parse(lang)
	if err != nil {
		return nil, nil
	}
	chain := kinds(tag)
	file := func(files Files, lang string) *source.File { return files[path.Join(Dir, lang+".yaml")] }
	english := strings.HasPrefix(chain[len(chain)-1], "en")
	if !english && !slices.ContainsFunc(chain, func(l string) bool { return file(base, l) != nil || file(own, l) != nil }) {
		return nil, nil
	}
	l := &loader{out: &Words{Lang: tag.String(), tag: tag, texts: map[string]text{}}}
	l.reference(file(base, Reference))
	if !english {
		clear(l.out.texts)
	} else if !slices.Contains(chain, Reference) {
		l.file(file(own, Reference))
	}
	slices.Reverse(chain) // what is said of all goes before what is said of some
	var last *source.File
	for _, lang := range chain {
		for _, f := range []*source.File{file(base, lang), file(own, lang)} {
			if f != nil {
				last = f
			}
			if f != file(base, Reference) { // which has been read
				l.file(f)
			}
		}
	}
	l.complete(last)
	return l.out, l.found
}

// kinds are a language and what it is a kind of, the nearest first: de-AT, de.
func kinds(tag language.Tag) []string {
	var out []string
	for s := tag.String(); s != ""; s = s[:max(strings.LastIndexByte(s, '-'), 0)] {
		out = append(out, s)
	}
	return out
}

// A loader takes over one file after another.
type loader struct {
	out    *Words
	known  map[string]text     // the reference's
	places map[string][]string // that a text of a key may have
	groups map[string]bool     // keys that hold others
	found  source.Diagnostics
}

// reference reads the file that says what texts there are.
func (l *loader) reference(f *source.File) {
	l.places, l.groups = map[string][]string{}, map[string]bool{}
	if f == nil {
		return
	}
	l.file(f)
	l.known = maps.Clone(l.out.texts)
	for key, t := range l.known {
		for _, s := range t.all() {
			for _, p := range places(s) {
				if !slices.Contains(l.places[key], p) {
					l.places[key] = append(l.places[key], p)
				}
			}
		}
		for at := key; ; {
			i := strings.LastIndexByte(at, '.')
			if i < 0 {
				break
			}
			at = at[:i]
			l.groups[at] = true
		}
	}
}

// all are a text's forms.
func (t text) all() []string {
	if t.list != nil {
		return t.list
	}
	if t.forms == nil {
		return []string{t.plain}
	}
	return slices.Collect(maps.Values(t.forms))
}

// places are the named places of a text.
func places(s string) []string {
	var out []string
	for _, m := range place.FindAllStringSubmatch(s, -1) {
		out = append(out, m[1])
	}
	return out
}

func (l *loader) file(f *source.File) {
	if f == nil {
		return
	}
	m := fields.Whole(f, "words")
	l.group(m, "")
	l.found = append(l.found, m.Diagnostics()...)
}

// group reads the keys of a map that hold texts, or more keys.
func (l *loader) group(m *fields.Map, prefix string) {
	for _, k := range m.Keys() {
		key := prefix + k.Value
		_, known := l.known[key]
		switch {
		case l.known == nil:
			// The reference: each key is known by what is written.
			if m.Form(k.Value) == fields.Mapping && !isPlural(m.Map(k.Value)) {
				l.group(m.Map(k.Value), key+".")
			} else {
				l.text(m, k, key)
			}
		case known:
			l.text(m, k, key)
		case l.groups[key]:
			l.group(m.Map(k.Value), key+".")
		}
	}
	for key := range l.known {
		// Asked for, they are what a wrong key is compared with.
		if rest, ok := strings.CutPrefix(key, prefix); ok {
			first, _, _ := strings.Cut(rest, ".")
			m.Has(first)
		}
	}
	m.Done()
}

// isPlural tells a text's plural forms from keys that hold others.
func isPlural(m *fields.Map) bool {
	keys := m.Keys()
	return len(keys) > 0 && !slices.ContainsFunc(keys, func(k source.At[string]) bool {
		_, ok := categories()[k.Value]
		return !ok
	})
}

// text reads one text in whichever form it is written.
func (l *loader) text(m *fields.Map, k source.At[string], key string) {
	var t text
	want := l.known[key].list
	switch form := m.Form(k.Value); {
	case form == fields.Sequence || want != nil:
		for _, one := range m.Texts(k.Value) {
			t.list = append(t.list, one.Value)
		}
		const months = 12
		if len(want) == months && len(t.list) != months {
			m.Fail(k.Span, "list", fmt.Sprintf("there are %d months here, not twelve", len(t.list)))
			return
		}
		if l.known != nil && want == nil {
			m.Fail(k.Span, "list", fmt.Sprintf("%q is one text and no list", k.Value))
			return
		}
	case form == fields.Mapping:
		t.forms = map[plural.Form]string{}
		inner := m.Map(k.Value)
		for name, form := range categories() {
			if one, ok := inner.Text(name); ok {
				t.forms[form] = one.Value
				l.check(m, key, one)
			}
		}
		inner.Done()
		if _, ok := t.forms[plural.Other]; !ok {
			m.Fail(k.Span, "plural", fmt.Sprintf("%q lacks the form other, which stands for all numbers that have no form of their own", k.Value), "the forms are those of CLDR: zero, one, two, few, many, other")
			return
		}
		if !slices.Contains(l.places[key], "n") && l.known != nil {
			m.Fail(k.Span, "plural", fmt.Sprintf("%q has no number by which a form could be chosen", k.Value), "write one text")
			return
		}
	default:
		one, ok := m.Text(k.Value)
		if !ok {
			return
		}
		t.plain = one.Value
		l.check(m, key, one)
	}
	l.out.texts[key] = t
}

// check refuses places that nothing fills.
func (l *loader) check(m *fields.Map, key string, t source.At[string]) {
	if l.known == nil {
		return
	}
	for _, p := range places(t.Value) {
		if !slices.Contains(l.places[key], p) {
			var known []string
			for _, k := range l.places[key] {
				known = append(known, "{"+k+"}")
			}
			hint := "this text has no places"
			if known != nil {
				hint = "its places are " + strings.Join(known, ", ")
			}
			m.Fail(t.Span, "place", fmt.Sprintf("nothing fills {%s} here", p), hint)
		}
	}
}

// complete tells which texts a language lacks; they are English meanwhile.
func (l *loader) complete(f *source.File) {
	var lacks []string
	for _, key := range slices.Sorted(maps.Keys(l.known)) {
		if _, ok := l.out.texts[key]; !ok {
			l.out.texts[key] = l.known[key]
			lacks = append(lacks, key)
		}
	}
	if lacks == nil || f == nil {
		return
	}
	const named = 8
	more := ""
	if n := len(lacks); n > named {
		more, lacks = fmt.Sprintf(" and %d more", n-named), lacks[:named]
	}
	l.found.Add(source.Error, "words/missing", source.Whole(f), fmt.Sprintf("these texts are missing: %s%s", strings.Join(lacks, ", "), more))
}
