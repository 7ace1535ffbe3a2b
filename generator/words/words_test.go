package words_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"sheaf/generator/source"
	"sheaf/generator/words"
	"sheaf/generator/words/wordstest"
	"sheaf/themes"
)

// asked is a key that the program asks for, or the beginning of one whose rest
// is put to it.
type asked struct {
	key   string
	begin bool
	at    string
}

// keyForm is a text of the program that may be a key. What a file may be called is
// none.
var (
	keyForm  = regexp.MustCompile(`^[a-z][a-z ]*\.([a-z°²³][a-z°²³, ]*[^ ,])?$`)
	fileForm = regexp.MustCompile(`\.(json|pdf|ics|csv|xlsx|html|js|yaml|md|css|svg)$`)
)

// inCode finds the keys in the program's own files: each text that looks like one
// and begins with one of the groups, whatever it is handed to, the first half of
// one that is put together, and the group of a term.
func inCode(t *testing.T, groups []string, inner map[string]bool) []asked {
	t.Helper()
	var out []asked
	err := filepath.WalkDir("..", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		text := func(e ast.Expr) (string, bool) {
			lit, ok := e.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return "", false
			}
			s, err := strconv.Unquote(lit.Value)
			return s, err == nil
		}
		ast.Inspect(file, func(n ast.Node) bool {
			var found asked
			switch n := n.(type) {
			case *ast.BasicLit:
				if key, ok := text(n); ok && keyForm.MatchString(key) && !fileForm.MatchString(key) {
					found = asked{key: key, begin: strings.HasSuffix(key, ".")}
				}
			case *ast.BinaryExpr:
				if key, ok := text(n.X); ok && n.Op == token.ADD && strings.Contains(key, ".") {
					found = asked{key: key, begin: true}
				}
			case *ast.CallExpr:
				fun, ok := n.Fun.(*ast.SelectorExpr)
				if !ok || len(n.Args) == 0 {
					break
				}
				switch key, ok := text(n.Args[0]); {
				case ok && fun.Sel.Name == "Term":
					found = asked{key: key + ".", begin: true}
				case ok && (fun.Sel.Name == "Say" || fun.Sel.Name == "List"):
					found.key = key
				}
			}
			if group, _, inside := strings.Cut(found.key, "."); inside == inner[group] && slices.Contains(groups, group) {
				found.at = set.Position(n.Pos()).String()
				out = append(out, found)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var sayForm = regexp.MustCompile(`\.Say "([^"]+)"`)

// inTemplates finds the keys that templates of the shipped themes say.
func inTemplates(t *testing.T) []asked {
	t.Helper()
	var out []asked
	for _, theme := range themes.Names() {
		folder, err := themes.Shipped(theme)
		if err != nil {
			t.Fatal(err)
		}
		files, err := fs.Glob(folder, "*.html")
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			text, err := fs.ReadFile(folder, name)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range sayForm.FindAllStringSubmatch(string(text), -1) {
				out = append(out, asked{m[1], false, theme + "/" + name})
			}
		}
	}
	return out
}

// TestKeys: every key that the program and its templates ask for is in the
// reference, and every key there is asked for.
func TestKeys(t *testing.T) {
	w := wordstest.English(t)
	var groups []string
	inner := map[string]bool{} // whether a group holds others, or is a text itself
	for _, key := range w.Keys() {
		group, _, inside := strings.Cut(key, ".")
		groups = append(groups, group)
		inner[group] = inside
	}
	used := map[string]bool{}
	for _, a := range append(inCode(t, groups, inner), inTemplates(t)...) {
		found := false
		for _, key := range w.Keys() {
			if key == a.key || a.begin && strings.HasPrefix(key, a.key) {
				found, used[key] = true, true
			}
		}
		if !found {
			t.Errorf("%s: no text %q", a.at, a.key)
		}
	}
	for _, key := range w.Keys() {
		if !used[key] {
			t.Errorf("nothing says %q", key)
		}
	}
}

// TestLanguages: each language that ships has every text of the reference, with
// the same places in it.
func TestLanguages(t *testing.T) {
	english, files := wordstest.English(t), wordstest.Files(t)
	places := regexp.MustCompile(`\{[a-z]+\}`)
	in := func(texts []string) []string {
		var out []string
		for _, s := range texts {
			out = append(out, places.FindAllString(s, -1)...)
		}
		slices.Sort(out)
		return slices.Compact(out)
	}
	for _, lang := range words.Languages(files) {
		w := wordstest.Of(t, lang)
		if w.Lang != lang {
			t.Errorf("%s calls itself %s", lang, w.Lang)
		}
		if !slices.Equal(w.Keys(), english.Keys()) {
			t.Errorf("%s has other texts than the reference", lang)
		}
		for _, key := range english.Keys() {
			if got, want := in(w.All(key)), in(english.All(key)); !slices.Equal(got, want) {
				t.Errorf("%s: %s has the places %v, not %v", lang, key, got, want)
			}
		}
	}
}

// loaded reads files of a theme over the shipped ones.
func loaded(t *testing.T, lang string, own map[string]string) (*words.Words, string) {
	t.Helper()
	files := words.Files{}
	for name, text := range own {
		files["words/"+name+".yaml"] = source.NewFile("look/words/"+name+".yaml", []byte(text))
	}
	w, ds := words.Load(wordstest.Files(t), files, lang)
	var b strings.Builder
	for _, d := range ds {
		pos := d.Span.Pos()
		b.WriteString(d.Span.File.Path + ":" + strconv.Itoa(pos.Line) + ":" + strconv.Itoa(pos.Column) + ": " + d.Message + " [" + d.Code + "] " + strings.Join(d.Hints, "; ") + "\n")
	}
	return w, b.String()
}

// TestOwn: a theme changes single texts, and what is wrong in its file is told at
// its place.
func TestOwn(t *testing.T) {
	for _, c := range []struct{ lang, file, text, key, want, fault string }{
		{"en-GB", "en-GB", "part: {index: All names}", "part.index", "All names", ""},
		{"en-US", "en-GB", "part: {index: All names}", "part.index", "All names", ""}, // every English is a kind of it
		{"en-GB", "en-US", "part: {index: All names}", "part.index", "Index", ""},
		{"de-AT", "de-AT", "month: {names: [Jänner, Feber, März, April, Mai, Juni, Juli, August, September, Oktober, November, Dezember]}", "part.index", "Register", ""},
		{"en-GB", "en-GB", "part: {indx: All names}", "part.index", "Index", `look/words/en-GB.yaml:1:8: unknown key "indx" [words/unknown-key] did you mean "index"?`},
		{"en-GB", "en-GB", "nowhere: {a: b}", "part.index", "Index", `look/words/en-GB.yaml:1:1: unknown key "nowhere" [words/unknown-key]`},
		{"en-GB", "en-GB", "booklet: {for: For {you}}", "booklet.for", "For {for}", `[words/`}, // braces want quotes in YAML
		{"en-GB", "en-GB", "booklet: {for: \"For {you}\"}", "part.index", "Index", `look/words/en-GB.yaml:1:17: nothing fills {you} here [words/place] its places are {for}`},
		{"en-GB", "en-GB", "part: {index: \"{n} names\"}", "part.welcome", "Welcome", `nothing fills {n} here [words/place] this text has no places`},
		{"en-GB", "en-GB", "many: {plants: {one: a plant}}", "part.index", "Index", `lacks the form other`},
		{"en-GB", "en-GB", "part: {index: {one: a, other: b}}", "part.index", "Index", `has no number by which a form could be chosen`},
		{"en-GB", "en-GB", "month: {names: [A, B]}", "part.index", "Index", `there are 2 months here, not twelve [words/list]`},
		{"en-GB", "en-GB", "part: {index: [a, b]}", "part.index", "Index", `is one text and no list [words/list]`},
		{"fr", "fr", "part: {index: Index des noms}", "part.index", "Index des noms", `these texts are missing: action.check, `},
	} {
		w, said := loaded(t, c.lang, map[string]string{c.file: c.text})
		if w == nil || w.Say(c.key) != c.want {
			t.Errorf("%s with %s: %s is not %q", c.lang, c.text, c.key, c.want)
		}
		if c.fault == "" && said != "" || !strings.Contains(said, c.fault) {
			t.Errorf("%s with %s: told %q, want %q", c.lang, c.text, said, c.fault)
		}
	}
	if w, _ := loaded(t, "fr", nil); w != nil {
		t.Error("there are words of a language without a file")
	}
	if w, _ := loaded(t, "no language at all", nil); w != nil {
		t.Error("there are words of what is no language")
	}
}

// TestSaid: days, spans, lists, numbers and plurals as each language has them.
// The German forms are those of DIN 5008 for dates in words and of CLDR for
// plurals and months (from memory).
func TestSaid(t *testing.T) {
	plain := func(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }
	for _, c := range []struct{ got, want string }{
		{wordstest.Of(t, "en-GB").Date(2027, time.March, 12), "12 March 2027"},
		{wordstest.Of(t, "en-US").Date(2027, time.March, 12), "March 12, 2027"},
		{wordstest.Of(t, "de").Date(2027, time.March, 12), "12. März 2027"},
		{wordstest.Of(t, "de").To("a", "b"), "a bis b"},
		{wordstest.Of(t, "de").And([]string{"a", "b", "c"}), "a, b und c"},
		{wordstest.Of(t, "en-GB").Or([]string{"a", "b", "c"}), "a, b or c"},
		{wordstest.Of(t, "en-GB").And([]string{"a"}), "a"},
		{wordstest.Of(t, "en-GB").And(nil), ""},
		{wordstest.Of(t, "de").Say("many.plants", "n", 1), "1 Pflanze"},
		{wordstest.Of(t, "de").Say("many.plants", "n", 2.5), "2,5 Pflanzen"},
		{wordstest.Of(t, "en-GB").Say("many.plants", "n", 1.0), "1 plant"},
		{wordstest.Of(t, "en-GB").Say("many.plants", "n", 1.5), "1.5 plants"},
		{wordstest.Of(t, "de").Quoted("Der “Herbst” kommt, „so“ oder “so”"), "Der „Herbst“ kommt, „so“ oder „so“"},
		{wordstest.Of(t, "en-GB").Quoted("The “fall”"), "The “fall”"},
		{wordstest.Of(t, "de").Small("Zurückschneiden"), "Zurückschneiden"},
		{wordstest.Of(t, "en-GB").Small("Cut back"), "cut back"},
		{wordstest.Of(t, "en-GB").Inner("USDA zone"), "USDA zone"},
		{wordstest.Of(t, "en-GB").Inner("A bud"), "a bud"},
		{wordstest.Of(t, "en-GB").Term("job", "sweep"), "sweep"},
	} {
		if plain(c.got) != c.want {
			t.Errorf("%q, want %q", plain(c.got), c.want)
		}
	}
	// Arabic has all six forms, Polish four: a text takes the one of its number.
	forms := "many: {plants: {one: \"{n} roślina\", few: \"{n} rośliny\", many: \"{n} roślin\", other: \"{n} rośliny (i część)\"}}"
	w, _ := loaded(t, "pl", map[string]string{"pl": forms})
	for n, want := range map[any]string{1: "1 roślina", 3: "3 rośliny", 5: "5 roślin", 22: "22 rośliny", 1.5: "1.5 rośliny (i część)"} {
		if got := w.Say("many.plants", "n", n); got != want {
			t.Errorf("%v: %q, want %q", n, got, want)
		}
	}
}

// FuzzOwn: whatever stands in a theme's file, reading it ends with words.
func FuzzOwn(f *testing.F) {
	f.Add("part: {index: All}")
	f.Add("many: {plants: {one: a}}")
	f.Add("month: [1")
	base := wordstest.Files(f)
	f.Fuzz(func(t *testing.T, text string) {
		w, _ := words.Load(base, words.Files{"words/de.yaml": source.NewFile("de.yaml", []byte(text))}, "de")
		if w.Say("booklet.subtitle") == "" && !strings.Contains(text, "booklet") {
			t.Error("a text got lost")
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	files := wordstest.Files(b)
	for b.Loop() {
		words.Load(files, nil, "de")
	}
}
