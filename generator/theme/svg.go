package theme

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"sheaf/generator/source"
)

// Namespaces (SVG 2, 1.3; XLink 1.1).
const (
	svgSpace   = "http://www.w3.org/2000/svg"
	xlinkSpace = "http://www.w3.org/1999/xlink"
)

// Limits of a drawing.
const (
	mostSVG      = 1 << 20 // bytes
	mostElements = 20_000
	deepestSVG   = 40
)

// svgElements are those that draw, or hold what draws. What runs, moves, loads or
// holds another language is none of them; nor are filters, which no logo for a page
// of care needs and which can take a browser's whole time.
func svgElements() []string {
	return []string{"svg", "g", "defs", "symbol", "use", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon",
		"text", "tspan", "linearGradient", "radialGradient", "stop", "clipPath", "mask", "pattern", "style"}
}

// svgNotes are elements that show nothing: they are left out with what they hold.
func svgNotes() []string { return []string{"title", "desc", "metadata"} }

// svgAttributes are those of shapes, places and paint. A url in one leads to a place
// in the drawing.
func svgAttributes() []string {
	return []string{"id", "class", "style", "transform", "viewBox", "preserveAspectRatio", "width", "height", "x", "y", "x1", "y1", "x2", "y2",
		"cx", "cy", "r", "rx", "ry", "fx", "fy", "fr", "d", "points", "dx", "dy", "rotate", "offset", "pathLength", "textLength", "lengthAdjust",
		"gradientUnits", "gradientTransform", "spreadMethod", "clipPathUnits", "maskUnits", "maskContentUnits", "patternUnits", "patternContentUnits", "patternTransform",
		"fill", "fill-opacity", "fill-rule", "stroke", "stroke-width", "stroke-opacity", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit",
		"stroke-dasharray", "stroke-dashoffset", "opacity", "color", "stop-color", "stop-opacity", "clip-path", "clip-rule", "mask", "mask-type", "paint-order",
		"display", "visibility", "overflow", "vector-effect", "shape-rendering", "text-rendering", "color-interpolation",
		"font-family", "font-size", "font-style", "font-weight", "font-variant", "font-stretch", "letter-spacing", "word-spacing",
		"text-anchor", "text-decoration", "dominant-baseline", "alignment-baseline", "baseline-shift", "writing-mode", "direction"}
}

// svgUnsaid are attributes that change nothing of what is drawn and are left out.
var svgUnsaid = regexp.MustCompile(`^(version|baseProfile|type|enable-background|role|lang|data-.*|aria-.*)$`)

// svgPlace is a place in the drawing, to which a reference leads.
var svgPlace = regexp.MustCompile(`^#[A-Za-z_][-A-Za-z0-9_.:]*$`)

// An svgFault is what a drawing must not hold, and where.
type svgFault struct {
	at  source.Span
	why string
}

// redrawn gives a drawing as it is written anew from what was read of it: elements
// and attributes that are known to draw, in a form that hangs on nothing else. All
// that shows nothing is left out: remarks, names and notes of programs. Anything else
// is a fault. Pages show a drawing as a picture, where no browser runs scripts, but a
// reader may open the file by itself.
func redrawn(f *source.File) ([]byte, *svgFault) {
	if len(f.Text) > mostSVG {
		return nil, &svgFault{source.Whole(f), fmt.Sprintf("it has more than %d MB", mostSVG>>20)}
	}
	r := svgReader{decoder: xml.NewDecoder(bytes.NewReader(f.Text)), file: f}
	r.decoder.CharsetReader = func(string, io.Reader) (io.Reader, error) { return nil, errors.New("it is not UTF-8") }
	root, fault := r.read()
	if fault != nil {
		return nil, fault
	}
	if fault := affordable(root); fault != nil {
		return nil, fault
	}
	var out bytes.Buffer
	root.attributes = append([]svgAttribute{{"xmlns", svgSpace}}, root.attributes...)
	root.write(&out)
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// An svgNode is an element, or a text with no name.
type svgNode struct {
	name       string
	text       string
	attributes []svgAttribute // by their names
	leads      []string       // IDs of elements that are drawn with it
	children   []*svgNode
	at         source.Span
}

type svgAttribute struct{ name, value string }

// write writes a node in the one form there is for it.
func (n *svgNode) write(to *bytes.Buffer) {
	if n.name == "" {
		xml.EscapeText(to, []byte(n.text)) // a buffer takes everything
		return
	}
	to.WriteString("<" + n.name)
	for _, a := range n.attributes {
		to.WriteString(" " + a.name + `="`)
		xml.EscapeText(to, []byte(a.value))
		to.WriteString(`"`)
	}
	if len(n.children) == 0 {
		to.WriteString("/>")
		return
	}
	to.WriteString(">")
	for _, c := range n.children {
		c.write(to)
	}
	to.WriteString("</" + n.name + ">")
}

// An svgReader makes a tree of what a file holds.
type svgReader struct {
	decoder  *xml.Decoder
	file     *source.File
	at       source.Span // of the token at hand
	elements int
	open     []*svgNode
	notes    int // how deep in what is left out
}

// read reads the whole file.
func (r *svgReader) read() (root *svgNode, fault *svgFault) {
	for {
		from := int(r.decoder.InputOffset())
		token, err := r.decoder.Token()
		r.at = source.Span{File: r.file, Start: from, End: int(r.decoder.InputOffset())}
		if err == io.EOF && root != nil {
			return root, nil
		} else if err != nil {
			return nil, &svgFault{r.at, "it is no SVG: " + err.Error()}
		}
		why := ""
		switch t := token.(type) {
		case xml.Directive:
			why = "it has a DOCTYPE"
		case xml.ProcInst:
			if t.Target != "xml" {
				why = fmt.Sprintf("it has an instruction %q", t.Target)
			}
		case xml.CharData:
			why = r.words(string(t))
		case xml.StartElement:
			var n *svgNode
			if n, why = r.begin(t); n != nil && root == nil {
				root = n
			}
		case xml.EndElement:
			if r.notes > 0 {
				r.notes--
			} else {
				r.open = r.open[:len(r.open)-1]
			}
		}
		if why != "" {
			return nil, &svgFault{r.at, why}
		}
	}
}

// words takes a text where texts are shown, and a stylesheet.
func (r *svgReader) words(text string) (why string) {
	if len(r.open) == 0 || r.notes > 0 {
		return ""
	}
	in := r.open[len(r.open)-1]
	switch in.name {
	case "style":
		for _, t := range cssTokens(text) {
			if t.kind == cssAt || t.loads(false) {
				return "its style loads something"
			}
		}
		// A rule of a stylesheet may hold for any element.
		in.leads = append(in.leads, leads(text)...)
	case "text", "tspan":
	default:
		return "" // between elements
	}
	in.children = append(in.children, &svgNode{text: text})
	return ""
}

// begin takes an element; nil for one that is left out.
func (r *svgReader) begin(t xml.StartElement) (n *svgNode, why string) {
	name := t.Name.Local
	switch {
	case r.elements == 0 && (t.Name.Space != svgSpace || name != "svg"):
		return nil, "it is no SVG: it does not begin with <svg xmlns=\"" + svgSpace + "\">"
	case len(r.open)+r.notes == deepestSVG:
		return nil, fmt.Sprintf("its elements stand more than %d deep in each other", deepestSVG)
	case r.elements == mostElements:
		return nil, fmt.Sprintf("it has more than %d elements", mostElements)
	}
	r.elements++
	switch {
	case r.notes > 0, t.Name.Space != svgSpace, slices.Contains(svgNotes(), name):
		r.notes++
		return nil, ""
	case !slices.Contains(svgElements(), name):
		return nil, fmt.Sprintf("it has an element %q", name)
	case len(r.open) > 0 && r.open[len(r.open)-1].name == "style":
		return nil, "its style holds elements"
	}
	n = &svgNode{name: name, at: r.at}
	for _, a := range t.Attr {
		if why := n.take(a); why != "" {
			return nil, why
		}
	}
	slices.SortFunc(n.attributes, func(a, b svgAttribute) int { return strings.Compare(a.name, b.name) })
	if len(r.open) > 0 {
		in := r.open[len(r.open)-1]
		in.children = append(in.children, n)
	}
	r.open = append(r.open, n)
	return n, ""
}

// take takes an attribute, unless it changes nothing of what is drawn.
func (n *svgNode) take(a xml.Attr) (why string) {
	name, value := a.Name.Local, a.Value
	switch {
	case name == "href" && (a.Name.Space == "" || a.Name.Space == xlinkSpace):
		if !slices.Contains([]string{"use", "linearGradient", "radialGradient", "pattern"}, n.name) || !svgPlace.MatchString(value) {
			return fmt.Sprintf("its attribute %q leads elsewhere", name)
		}
		if slices.Contains(n.leads, value[1:]) {
			return "" // written in both namespaces, for older programs
		}
		n.leads = append(n.leads, value[1:])
	case a.Name.Space != "", name == "xmlns", svgUnsaid.MatchString(name):
		return ""
	case !slices.Contains(svgAttributes(), name):
		return fmt.Sprintf("it has an attribute %q", name)
	default:
		for _, t := range cssTokens(value) {
			if t.kind == cssAt || t.loads(false) {
				return fmt.Sprintf("its attribute %q leads elsewhere", name)
			}
		}
		n.leads = append(n.leads, leads(value)...)
	}
	if slices.ContainsFunc(n.attributes, func(b svgAttribute) bool { return b.name == name }) {
		return fmt.Sprintf("it has an attribute %q twice", name)
	}
	n.attributes = append(n.attributes, svgAttribute{name, value})
	return ""
}

// leads lists the IDs to which the urls of a declaration lead.
func leads(css string) []string {
	var out []string
	for _, t := range cssTokens(css) {
		if t.kind == cssURL {
			out = append(out, strings.TrimPrefix(strings.TrimSpace(t.value), "#"))
		}
	}
	return out
}

// mostDrawn is how many elements a browser may have to draw: a few, each of which is
// drawn with ten others, and those with ten more, would take it for ever.
const mostDrawn = 100_000

// affordable tells of a drawing that leads to itself, or in which too much is drawn.
func affordable(root *svgNode) *svgFault {
	named := map[string]*svgNode{}
	gradient := map[string]bool{}
	var name func(n *svgNode)
	name = func(n *svgNode) {
		for _, a := range n.attributes {
			if a.name == "id" && named[a.value] == nil {
				named[a.value] = n
				gradient[a.value] = strings.HasSuffix(n.name, "Gradient")
			}
		}
		for _, c := range n.children {
			name(c)
		}
	}
	name(root)
	cost := map[*svgNode]float64{}
	var drawn func(n *svgNode) (float64, *svgFault)
	drawn = func(n *svgNode) (float64, *svgFault) {
		if c, known := cost[n]; known {
			if c == 0 {
				return 0, &svgFault{n.at, "it leads to itself"}
			}
			return c, nil
		}
		cost[n] = 0 // as long as it is being counted
		sum := 1.0
		with := slices.Clone(n.children)
		for _, id := range n.leads {
			if n.name == "style" && !gradient[id] {
				return 0, &svgFault{n.at, fmt.Sprintf("its style leads to %q, which is no gradient", id)}
			}
			if to := named[id]; to != nil {
				with = append(with, to)
			}
		}
		for _, c := range with {
			more, fault := drawn(c)
			if fault != nil {
				return 0, fault
			}
			sum += more
		}
		if sum > mostDrawn {
			return 0, &svgFault{n.at, fmt.Sprintf("more than %d elements are drawn with this one", mostDrawn)}
		}
		cost[n] = sum
		return sum, nil
	}
	_, fault := drawn(root)
	return fault
}
