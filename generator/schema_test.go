package generator_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"image"
	"image/png"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"sheaf/generator"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/source"
	"sheaf/generator/theme"
	"sheaf/generator/theme/themetest"
	"sheaf/themes"
)

// A schemed kind of file: how it is read, and a file of the kind that has
// everything which holds keys, and no fault.
type schemed struct {
	kind string
	base string
	read func(yaml string) source.Diagnostics
}

func schemedKinds(t testing.TB) []schemed {
	base, dot := themetest.Files(t, themes.Default), square(t)
	front := func(text string) *source.File { return source.NewFile("x.md", []byte("---\n"+text+"\n---\nWords.\n")) }
	look, err := os.ReadFile("../themes/fieldbook/theme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return []schemed{
		{"entry", `
botanical: Sesleria autumnalis
type: grass
leaf: evergreen
habit: mound
height: 20 cm
spread: 30 cm
colours: {}
likes: {}
care: [{job: comb, when: March}]
adjust: [{if: pot, job: comb, note: Water it.}]
photo: {file: oats.jpg, alt: Oats}
asks: {question: Is it tall?, answers: [{answer: "yes", care: a}, {answer: "no", care: b}]}
`, func(y string) source.Diagnostics { _, ds := entries.ParseEntry(front(y)); return ds }},
		{"group", `
group: meadow grass
care: [{job: comb, when: March}]
`, func(y string) source.Diagnostics { _, ds := entries.ParseGroup(front(y)); return ds }},
		{"garden", `
garden: Larch End
site:
  latitude: 52
  normals: {min: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1], max: [9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9]}
  frost: {}
fold: {}
beds: [{bed: Yard}]
plants: [{plant: Sesleria autumnalis}]
columns: {Sort: plant}
photos: [{plant: Sesleria autumnalis, file: oats.jpg, alt: Oats}]
adjust: [{plant: Sesleria autumnalis, job: comb, note: Water it.}]
contacts: [{}]
`, func(y string) source.Diagnostics {
			_, ds := garden.Parse(source.NewFile("garden.yaml", []byte(y)))
			return ds
		}},
		{"theme", string(look) + "logo: {file: logo.png, alt: A practice}\n", func(y string) source.Diagnostics {
			own := themetest.Of(t, fstest.MapFS{"theme.yaml": {Data: []byte(y)}, "logo.png": {Data: dot}}, "looks")
			_, ds := theme.Load(base, own, nil)
			return ds
		}},
	}
}

// square is a small picture as a PNG file.
func square(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 32, 32))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// schemaOf gives a schema as data, and ready to hold files to it.
func schemaOf(t testing.TB, kind string) (map[string]any, *jsonschema.Schema) {
	t.Helper()
	text, err := generator.Schema(kind)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("mem:///schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("mem:///schema.json")
	if err != nil {
		t.Fatalf("%s: %v", kind, err)
	}
	var data map[string]any
	if err := json.Unmarshal(text, &data); err != nil {
		t.Fatal(err)
	}
	return data, s
}

// fromYAML reads YAML as editors do: a date is a text.
func fromYAML(t testing.TB, text string) any {
	t.Helper()
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(text), &n); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return fromNode(t, &n)
}

func fromNode(t testing.TB, n *yaml.Node) any {
	switch n.Kind {
	case yaml.DocumentNode:
		return fromNode(t, n.Content[0])
	case yaml.MappingNode:
		out := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			out[n.Content[i].Value] = fromNode(t, n.Content[i+1])
		}
		return out
	case yaml.SequenceNode:
		out := []any{}
		for _, c := range n.Content {
			out = append(out, fromNode(t, c))
		}
		return out
	}
	switch n.Tag {
	case "!!int", "!!float":
		v, err := strconv.ParseFloat(n.Value, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	case "!!bool":
		return n.Value == "true"
	case "!!null":
		return nil
	}
	return n.Value
}

// TestFilesFitTheirSchema: every file of the library, the demo garden, the
// theme, what the README shows and what sheaf start writes.
func TestFilesFitTheirSchema(t *testing.T) {
	schemas := map[string]*jsonschema.Schema{}
	for _, kind := range generator.SchemaKinds() {
		_, schemas[kind] = schemaOf(t, kind)
	}
	seen := map[string]int{}
	fits := func(kind, name, text string) {
		seen[kind]++
		if err := schemas[kind].Validate(fromYAML(t, text)); err != nil {
			t.Errorf("%s does not fit the schema of a %s: %v", name, kind, err)
		}
	}
	err := filepath.WalkDir("..", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			if p == "../output" || p == "../testdata" || d != nil && d.Name() == "testdata" {
				return fs.SkipDir
			}
			return err
		}
		text, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		parts := strings.SplitN(string(text), "---\n", 3)
		switch slash := filepath.ToSlash(p); {
		case d.Name() == "garden.yaml":
			fits("garden", p, string(text))
		case d.Name() == "theme.yaml":
			fits("theme", p, string(text))
		case strings.HasSuffix(p, ".md") && strings.Contains(slash, "/plants/"):
			fits("entry", p, parts[1])
		case strings.HasSuffix(p, ".md") && strings.Contains(slash, "/groups/"):
			fits("group", p, parts[1])
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	shown := func(fence string) string {
		_, after, ok := strings.Cut(string(readme), "```"+fence+"\n")
		if !ok {
			t.Fatalf("the README shows no %s", fence)
		}
		text, _, _ := strings.Cut(after, "```")
		return text
	}
	fits("entry", "the README's entry", strings.SplitN(shown("markdown"), "---\n", 3)[1])
	fits("garden", "the README's garden", shown("yaml"))
	fits("garden", "a garden that begins", string(garden.Beginning{Name: "12", List: "a: b.csv", Sheet: "#2", Beds: []string{"Yard", "Bed 4: west"}}.Draft()))
	for kind, least := range map[string]int{"entry": 200, "group": 50, "garden": 3, "theme": 1} {
		if seen[kind] < least {
			t.Errorf("only %d files of the kind %s were seen", seen[kind], kind)
		}
	}
}

// A place in a file is the keys that lead there; "[]" is the first item of a
// list, "*" any key.
type place []string

func (p place) String() string { return strings.Join(p, ".") }

// with gives a copy of data with a value put in a place.
func (p place) with(data, value any) any {
	if len(p) == 0 {
		return value
	}
	if p[0] == "[]" {
		var first any
		if list, ok := data.([]any); ok && len(list) > 0 {
			first = list[0]
			return append([]any{p[1:].with(first, value)}, list[1:]...)
		}
		return []any{p[1:].with(first, value)}
	}
	out := map[string]any{}
	if m, ok := data.(map[string]any); ok {
		maps.Copy(out, m)
	}
	out[p[0]] = p[1:].with(out[p[0]], value)
	return out
}

// walk calls visit for each part of a schema with the place it is about.
func walk(s map[string]any, at place, visit func(place, map[string]any)) {
	visit(at, s)
	inner := func(step string, s any) {
		walk(s.(map[string]any), append(slices.Clone(at), step), visit)
	}
	if either, ok := s["anyOf"].([]any); ok {
		for _, alternative := range either {
			walk(alternative.(map[string]any), at, visit)
		}
	}
	if item, ok := s["items"]; ok {
		inner("[]", item)
	}
	if keys, ok := s["properties"].(map[string]any); ok {
		for _, name := range slices.Sorted(maps.Keys(keys)) {
			inner(name, keys[name])
		}
	}
	if values, ok := s["additionalProperties"].(map[string]any); ok {
		walk(values, append(slices.Clone(at), "*"), visit)
	}
}

// asYAML writes data as YAML: JSON is that.
func asYAML(t testing.TB, data any) string {
	t.Helper()
	text, err := json.Marshal(data)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

var unknownKey = regexp.MustCompile(`^unknown key "(.*)"$`)

// TestSchemasHaveTheKeysThatAreRead: each object's keys are those its reader
// asks for, no more and no fewer. A reader can only ask for a key that stands
// in its source: so every text there is offered to every object as a key, and
// what the reader does not refuse it knows.
func TestSchemasHaveTheKeysThatAreRead(t *testing.T) {
	candidates := literals(t, "entries", "garden", "theme")
	for _, k := range schemedKinds(t) {
		data, _ := schemaOf(t, k.kind)
		walk(data, nil, func(at place, s map[string]any) {
			for _, name := range slices.Collect(maps.Keys(propertiesOf(s))) {
				if !slices.Contains(candidates, name) {
					t.Errorf("%s: %s.%s: no reader has such a key in its source", k.kind, at, name)
				}
			}
		})
		objects := 0
		walk(data, nil, func(at place, s map[string]any) {
			if s["properties"] == nil {
				return
			}
			objects++
			offered := map[string]any{}
			for _, c := range candidates {
				offered[c] = nil
			}
			refused := map[string]bool{}
			for _, d := range k.read(asYAML(t, at.with(nil, offered))) {
				if m := unknownKey.FindStringSubmatch(d.Message); m != nil {
					refused[m[1]] = true
				}
			}
			if len(refused) == 0 {
				t.Errorf("%s: %q: the reader refuses no key at all", k.kind, at)
			}
			for _, c := range candidates {
				_, in := propertiesOf(s)[c]
				switch {
				case in && refused[c]:
					t.Errorf("%s: %q has the key %q, which is not read", k.kind, at, c)
				case !in && !refused[c]:
					t.Errorf("%s: %q lacks the key %q, which is read", k.kind, at, c)
				}
			}
		})
		if want := map[string]int{"entry": 8, "group": 2, "garden": 11, "theme": 14}[k.kind]; objects != want {
			t.Errorf("%s: %d objects were seen, want %d", k.kind, objects, want)
		}
	}
}

func propertiesOf(s map[string]any) map[string]any {
	keys, _ := s["properties"].(map[string]any)
	return keys
}

// literals gives the texts in the source of packages that may be keys.
func literals(t *testing.T, packages ...string) []string {
	var out []string
	for _, p := range packages {
		files, err := filepath.Glob(p + "/*.go")
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") || filepath.Base(name) == "schema.go" {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if s, err := strconv.Unquote(lit.Value); err == nil && regexp.MustCompile(`^[a-z][a-z-]{0,30}$`).MatchString(s) {
						out = append(out, s)
					}
				}
				return true
			})
		}
	}
	slices.Sort(out)
	if out = slices.Compact(out); len(out) < 200 {
		t.Errorf("only %d texts were found in the source", len(out))
	}
	return out
}

// TestSchemasAndReadersAgree: what a schema offers, the reader takes; what the
// one refuses the other does.
func TestSchemasAndReadersAgree(t *testing.T) {
	for _, k := range schemedKinds(t) {
		data, fits := schemaOf(t, k.kind)
		base := fromYAML(t, k.base)
		if err := fits.Validate(base); err != nil {
			t.Fatalf("%s: the base does not fit: %v", k.kind, err)
		}
		if ds := k.read(k.base); ds.HasErrors() {
			t.Fatalf("%s: the base has faults: %v", k.kind, ds)
		}
		right, wrong := 0, 0
		try := func(at place, value any, good bool) {
			whole := at.with(base, value)
			text := asYAML(t, whole)
			if err := fits.Validate(fromYAML(t, text)); (err == nil) != good {
				t.Errorf("%s: %s: %v: the schema says %v", k.kind, at, value, err)
			}
			ds := k.read(text)
			if ds.HasErrors() == good {
				t.Errorf("%s: %s: %v: the reader says %v", k.kind, at, value, ds)
			}
			if good {
				right++
			} else {
				wrong++
			}
		}
		walk(data, nil, func(at place, s map[string]any) {
			words, _ := s["enum"].([]any)
			examples, _ := s["examples"].([]any)
			for _, v := range append(slices.Clone(words), examples...) {
				try(at, v, true)
			}
			if words != nil || s["pattern"] != nil {
				try(at, "nothing of the kind", false)
			}
			// A mean temperature has other limits in °C than in °F, and the
			// schema has the wider of both.
			inside := !slices.Contains(at, "normals")
			if low, ok := s["minimum"].(float64); ok {
				try(at, low-1, false)
				if inside {
					try(at, low, true)
				}
			}
			if high, ok := s["maximum"].(float64); ok {
				try(at, high+1, false)
				if inside {
					try(at, high, true)
				}
			}
			if n, ok := s["minItems"].(float64); ok {
				try(at, slices.Repeat([]any{1.0}, int(n)-1), false)
				try(at, slices.Repeat([]any{1.0}, int(n)+1), false)
			}
			switch s["type"] {
			case "boolean":
				try(at, true, true)
				try(at, "perhaps", false)
			case "number", "integer":
				try(at, []any{}, false)
			case "object":
				if len(at) > 0 {
					try(at, 5.0, false)
				}
			}
			if s["properties"] != nil {
				try(append(slices.Clone(at), "no-such-key"), "x", false)
			}
			// Whatever the base has is left out once: it is needed or not.
			if has, ok := at.of(base).(map[string]any); ok && s["properties"] != nil {
				musts, _ := s["required"].([]any)
				for key := range has {
					if key == "care" {
						continue // needed only without a care group: no schema says so
					}
					without := maps.Clone(has)
					delete(without, key)
					try(at, without, !slices.Contains(musts, any(key)))
				}
				for _, m := range musts {
					if _, ok := has[m.(string)]; !ok {
						t.Errorf("%s: the base lacks %s.%s", k.kind, at, m)
					}
				}
			}
		})
		if right < 5 || wrong < 10 {
			t.Errorf("%s: only %d right and %d wrong values were tried", k.kind, right, wrong)
		}
	}
}

// of gives what stands in a place, nil where nothing does.
func (p place) of(data any) any {
	for _, step := range p {
		switch d := data.(type) {
		case []any:
			data = d[0]
		case map[string]any:
			data = d[step]
		default:
			return nil
		}
	}
	return data
}

// TestSchemasExplain: each key says what it is for, in a sentence, and no word
// is offered twice.
func TestSchemasExplain(t *testing.T) {
	for _, kind := range generator.SchemaKinds() {
		data, _ := schemaOf(t, kind)
		if data["$schema"] != "https://json-schema.org/draft/2020-12/schema" || data["title"] == "" {
			t.Errorf("%s: the schema does not say what it is", kind)
		}
		walk(data, nil, func(at place, s map[string]any) {
			for name, p := range propertiesOf(s) {
				about, _ := p.(map[string]any)["description"].(string)
				if !strings.HasSuffix(about, ".") || strings.Count(about, " ") < 1 {
					t.Errorf("%s: %s.%s is explained by %q", kind, at, name, about)
				}
			}
			words, _ := s["enum"].([]any)
			for i, w := range words {
				if slices.Contains(words[:i], w) {
					t.Errorf("%s: %s offers %q twice", kind, at, w)
				}
			}
		})
	}
	if _, err := generator.Schema("job"); err == nil || !strings.Contains(fmt.Sprint(err), "job") {
		t.Errorf("a kind without a schema gives the error %v", err)
	}
}

// TestShownEntriesFitTheSchema: what sheaf library show prints as data is what the
// schema of entries describes.
func TestShownEntriesFitTheSchema(t *testing.T) {
	_, fits := schemaOf(t, "entry")
	for _, name := range []string{"Sesleria autumnalis", "Hakonechloa macra", "Rosa", "Agapanthus campanulatus", "Carpinus betulus", "Salvia yangii"} {
		shown, ds, err := generator.ShowEntry(generator.ShowRequest{Name: name})
		if err != nil || shown == nil {
			t.Errorf("%s: %v %v", name, err, ds)
			continue
		}
		text, err := json.Marshal(shown.Entry)
		if err != nil {
			t.Fatal(err)
		}
		data, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := fits.Validate(data); err != nil {
			t.Errorf("%s: %v\n%s", name, err, text)
		}
	}
}
