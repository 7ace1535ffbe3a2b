// Package schema describes the keys of a file as a JSON Schema of the edition
// 2020-12, for editors that complete and check YAML while it is typed.
//
// The packages that read a file say with [Object], [Words] and the rest which
// keys it may have; [Document] writes that down. Only keywords are used that
// editors which know no later edition than draft 7 understand alike. A schema
// sees the form of a file; what makes sense in a garden the checks alone see.
package schema

import (
	"bytes"
	"encoding/json"
)

// A Schema says what may stand in one place.
type Schema struct {
	about    string
	types    []string // of JSON: "string", "number", …; none where Any says what fits
	words    []string
	pattern  string
	examples []any
	low      *float64
	high     *float64
	fewest   int
	most     int // 0: any number
	item     *Schema
	any      []Schema
	keys     []Key   // of an object, in the order in which they are best written
	values   *Schema // of an object whose keys are the writer's own
}

// A Key is one key of an object.
type Key struct {
	Name string
	Must bool
	Schema
}

// May is a key that can be left out.
func May(name string, s Schema) Key { return Key{name, false, s} }

// Must is a key that an object must have.
func Must(name string, s Schema) Key { return Key{name, true, s} }

// Text is a line of text. The examples are values that can be used.
func Text(about string, examples ...string) Schema {
	s := Schema{about: about, types: []string{"string"}}
	for _, e := range examples {
		s.examples = append(s.examples, e)
	}
	return s
}

// Form is a text that a regular expression describes.
func Form(about, pattern string, examples ...string) Schema {
	s := Text(about, examples...)
	s.pattern = pattern
	return s
}

// Words is one word of a list; any other is refused.
func Words(about string, known []string) Schema {
	return Schema{about: about, types: []string{"string"}, words: known}
}

// Number is a number from low to high.
func Number(about string, low, high float64, examples ...float64) Schema {
	s := Schema{about: about, types: []string{"number"}, low: &low, high: &high}
	for _, e := range examples {
		s.examples = append(s.examples, e)
	}
	return s
}

// AtLeast is a number that has no upper limit.
func AtLeast(about string, low float64, examples ...float64) Schema {
	s := Number(about, low, 0, examples...)
	s.high = nil
	return s
}

// Whole is a whole number from low to high.
func Whole(about string, low, high float64, examples ...float64) Schema {
	s := Number(about, low, high, examples...)
	s.types = []string{"integer"}
	return s
}

// Flag is true or false.
func Flag(about string) Schema { return Schema{about: about, types: []string{"boolean"}} }

// Either is one of several things.
func Either(about string, any ...Schema) Schema { return Schema{about: about, any: any} }

// Some is one thing or a list of such.
func Some(item Schema) Schema {
	about := item.about
	item.about = ""
	return Either(about, item, List("", item))
}

// List is a list of things.
func List(about string, item Schema) Schema {
	return Schema{about: about, types: []string{"array"}, item: &item}
}

// Exactly is a list of n things.
func Exactly(n int, about string, item Schema) Schema {
	s := List(about, item)
	s.fewest, s.most = n, n
	return s
}

// Object has the keys given and no other.
func Object(about string, keys ...Key) Schema {
	return Schema{about: about, types: []string{"object"}, keys: keys}
}

// Table is an object whose keys are the writer's own.
func Table(about string, values Schema) Schema {
	return Schema{about: about, types: []string{"object"}, values: &values}
}

// MarshalJSON writes the schema; keys keep their order.
func (s Schema) MarshalJSON() ([]byte, error) {
	var o ordered
	if s.about != "" {
		o.add("description", s.about)
	}
	switch len(s.types) {
	case 0:
	case 1:
		o.add("type", s.types[0])
	default:
		o.add("type", s.types)
	}
	if s.words != nil {
		o.add("enum", s.words)
	}
	if s.pattern != "" {
		o.add("pattern", s.pattern)
	}
	if s.low != nil {
		o.add("minimum", *s.low)
	}
	if s.high != nil {
		o.add("maximum", *s.high)
	}
	if s.fewest > 0 {
		o.add("minItems", s.fewest)
	}
	if s.most > 0 {
		o.add("maxItems", s.most)
	}
	if s.any != nil {
		o.add("anyOf", s.any)
	}
	if s.item != nil {
		o.add("items", s.item)
	}
	if s.keys != nil {
		var properties ordered
		var must []string
		for _, k := range s.keys {
			properties.add(k.Name, k.Schema)
			if k.Must {
				must = append(must, k.Name)
			}
		}
		o.add("properties", properties)
		if must != nil {
			o.add("required", must)
		}
		o.add("additionalProperties", false)
	}
	if s.values != nil {
		o.add("additionalProperties", s.values)
	}
	if s.examples != nil {
		o.add("examples", s.examples)
	}
	return o.MarshalJSON()
}

// Document writes a schema as a file of its own.
func Document(title string, s Schema) ([]byte, error) {
	inner, err := s.MarshalJSON()
	if err != nil {
		return nil, err
	}
	var o ordered
	o.add("$schema", "https://json-schema.org/draft/2020-12/schema")
	o.add("title", title)
	head, err := o.MarshalJSON()
	if err != nil {
		return nil, err
	}
	whole := append(append(bytes.TrimSuffix(head, []byte("}")), ','), bytes.TrimPrefix(inner, []byte("{"))...)
	var out bytes.Buffer
	if err := json.Indent(&out, whole, "", "  "); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// ordered is a JSON object that keeps the order of its keys.
type ordered struct {
	names  []string
	values []any
}

func (o *ordered) add(name string, value any) {
	o.names, o.values = append(o.names, name), append(o.values, value)
}

func (o ordered) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, name := range o.names {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := write(&b, name); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := write(&b, o.values[i]); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// write adds a value as JSON without the escapes that are meant for web pages.
func write(b *bytes.Buffer, value any) error {
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(value); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the line end that Encode adds
	return nil
}
