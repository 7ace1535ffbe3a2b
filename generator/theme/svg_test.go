package theme

import (
	"fmt"
	"strings"
	"testing"

	"sheaf/generator/source"
)

// drawing puts shapes into an SVG.
func drawing(shapes string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9">` + shapes + `</svg>`
}

// TestRedrawn: a drawing is written anew, in one form, and holds what draws.
func TestRedrawn(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"shapes", drawing(`<g fill="none"><path d="M0 0h9"/></g>`), `<g fill="none"><path d="M0 0h9"/></g>`},
		{"the order of attributes and quotes", drawing(`<rect  y='1' x='2' ></rect>`), `<rect x="2" y="1"/>`},
		{"a gradient", drawing(`<linearGradient id="a"><stop offset="0" style="stop-color:#123"/></linearGradient><circle r="3" fill="url(#a)"/>`),
			`<linearGradient id="a"><stop offset="0" style="stop-color:#123"/></linearGradient><circle fill="url(#a)" r="3"/>`},
		{"a use in both namespaces", drawing(`<defs><path id="p" d="M0 0"/></defs><use href="#p" xlink:href="#p"/>`), `<defs><path d="M0 0" id="p"/></defs><use href="#p"/>`},
		{"a stylesheet", drawing(`<style type="text/css"><![CDATA[.a{fill:#123}]]></style><path class="a" d="M0 0"/>`), `<style>.a{fill:#123}</style><path class="a" d="M0 0"/>`},
		{"words", drawing(`<text x="1">Fern &amp; <tspan>Moss</tspan></text>`), `<text x="1">Fern &amp; <tspan>Moss</tspan></text>`},
		{"notes of who drew it", `<?xml version="1.0" encoding="UTF-8"?><!-- drawn by A. Member at home -->` +
			drawing(`<title>Secret</title><metadata><rdf:RDF xmlns:rdf="http://rdf"><a/></rdf:RDF></metadata><pro:view xmlns:pro="http://program" pro:file="/home/member"><pro:a/></pro:view><path xmlns:pro="http://program" pro:label="x" data-name="y" d="M0 0"/>`),
			`<path d="M0 0"/>`},
		{"a prefix", `<s:svg xmlns:s="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><s:path d="M0 0"/></s:svg>`, `<path d="M0 0"/>`},
		{"a script of another language", drawing(`<h:script xmlns:h="http://www.w3.org/1999/xhtml">alert(1)</h:script><path d="M0 0"/>`), `<path d="M0 0"/>`},
	} {
		got, fault := redrawn(source.NewFile("a.svg", []byte(c.text)))
		if fault != nil {
			t.Errorf("%s: %s", c.name, fault.why)
			continue
		}
		want := `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">` + c.want + "</svg>\n"
		if string(got) != want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, want)
		}
		if again, fault := redrawn(source.NewFile("a.svg", got)); fault != nil || string(again) != string(got) {
			t.Errorf("%s: written once more it is %s", c.name, again)
		}
	}
}

// TestNotRedrawn: what could run, load or grow is refused at its place.
func TestNotRedrawn(t *testing.T) {
	many := `<path id="a0" d="M0 0"/>`
	for i := range 12 {
		many += fmt.Sprintf(`<g id="a%d">%s</g>`, i+1, strings.Repeat(fmt.Sprintf(`<use href="#a%d"/>`, i), 10))
	}
	for name, text := range map[string]string{
		"a DOCTYPE":                  `<!DOCTYPE svg>` + drawing(``),
		"entities":                   `<!DOCTYPE svg [<!ENTITY a "b">]>` + drawing(`<text>&a;</text>`),
		"no namespace":               `<svg viewBox="0 0 9 9"/>`,
		"another root":               `<g xmlns="http://www.w3.org/2000/svg"/>`,
		"a stylesheet's instruction": `<?xml-stylesheet href="a.css"?>` + drawing(``),
		"a script":                   drawing(`<script>alert(1)</script>`),
		"a script with a prefix":     drawing(`<s:script xmlns:s="http://www.w3.org/2000/svg">alert(1)</s:script>`),
		"markup":                     drawing(`<foreignObject><p/></foreignObject>`),
		"a moved attribute":          drawing(`<a id="a"/><set attributeName="href" to="javascript:alert(1)"/>`),
		"an animation":               drawing(`<rect><animate attributeName="x"/></rect>`),
		"a link":                     drawing(`<a href="https://example.org"/>`),
		"a picture":                  drawing(`<image href="data:image/png;base64,AA"/>`),
		"a filter":                   drawing(`<filter><feImage href="a.png"/></filter>`),
		"an event":                   drawing(`<rect onclick="alert(1)"/>`),
		"an event in capitals":       drawing(`<rect ONLOAD="alert(1)"/>`),
		"a use of another file":      drawing(`<use href="a.svg#b"/>`),
		"a use of data":              drawing(`<use xlink:href="data:image/svg+xml,&lt;svg/&gt;"/>`),
		"a url":                      drawing(`<rect fill="url(a.svg#b)"/>`),
		"a url in quotes":            drawing(`<rect fill="url('https://example.org')"/>`),
		"a url with an escape":       drawing(`<rect fill="\75rl(https://example.org)"/>`),
		"a url in a style":           drawing(`<rect style="fill:url(https://example.org)"/>`),
		"a url in a stylesheet":      drawing(`<style>.a{fill:u\72l(https://example.org)}</style>`),
		"a url beside a remark":      drawing(`<style>.a{content:"/*";fill:url(https://example.org)/*"*/}</style>`),
		"an import":                  drawing(`<style>@\69mport "a.css";</style>`),
		"an unknown attribute":       drawing(`<rect filter="url(#a)"/>`),
		"an attribute twice":         drawing(`<rect x="1" x="2"/>`),
		"a circle of uses":           drawing(`<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>`),
		"a gradient of itself":       drawing(`<linearGradient id="a" href="#a"/>`),
		"uses of uses":               drawing(many),
		"a mask by a stylesheet":     drawing(`<style>.a{mask:url(#m)}</style><mask id="m"/>`),
		"elements in each other":     drawing(strings.Repeat("<g>", 50) + strings.Repeat("</g>", 50)),
		"more elements than allowed": drawing(strings.Repeat("<g/>", mostElements+1)),
		"another encoding":           `<?xml version="1.0" encoding="UTF-16"?>` + drawing(``),
		"nothing":                    ``,
		"half a drawing":             `<svg xmlns="http://www.w3.org/2000/svg">`,
	} {
		got, fault := redrawn(source.NewFile("a.svg", []byte(text)))
		if fault == nil {
			t.Errorf("%s is drawn: %.300s", name, got)
			continue
		}
		if fault.why == "" || fault.at.File == nil {
			t.Errorf("%s is refused without a reason or a place: %+v", name, fault)
		}
	}
}

// FuzzRedrawn: what is drawn is drawn the same when it is read again, and holds
// nothing that leads out.
func FuzzRedrawn(f *testing.F) {
	f.Add(drawing(`<style>.a{fill:url(#g)}</style><linearGradient id="g"/><text class="a" x="1">&lt;&#10;</text>`))
	f.Add(drawing(`<use xlink:href="#a"/><p:q xmlns:p="p"><script/></p:q>`))
	f.Fuzz(func(t *testing.T, text string) {
		got, fault := redrawn(source.NewFile("a.svg", []byte(text)))
		if fault != nil {
			return
		}
		again, fault := redrawn(source.NewFile("a.svg", got))
		if fault != nil || string(again) != string(got) {
			t.Fatalf("%s is redrawn to %s: %+v", got, again, fault)
		}
	})
}
