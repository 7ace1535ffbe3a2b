package fields

import (
	"encoding/json"
	"strings"

	"go.yaml.in/yaml/v4"
)

// Quote writes text as a YAML value, in quotes only where it would be read as
// something else without them.
func Quote(s string) string {
	var plain struct{ V yaml.Node }
	err := yaml.Unmarshal([]byte("v: "+s+" # x\n"), &plain)
	if v := plain.V; err == nil && v.Kind == yaml.ScalarNode && v.Tag == "!!str" && v.Style == 0 && v.Value == s && s != "" {
		return s
	}
	return inQuotes(s)
}

func inQuotes(s string) string {
	var quoted strings.Builder // JSON is YAML
	enc := json.NewEncoder(&quoted)
	enc.SetEscapeHTML(false)
	enc.Encode(s) // a string always has a JSON form
	return strings.TrimSuffix(quoted.String(), "\n")
}

// QuoteItem is [Quote] for a value within square brackets or braces, where commas and
// brackets mean something too.
func QuoteItem(s string) string {
	if strings.ContainsAny(s, ",[]{}") {
		return inQuotes(s)
	}
	return Quote(s)
}
