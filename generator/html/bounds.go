package html

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"io"
	"reflect"
	"regexp"
	"strings"
	"text/template/parse"
	"time"
)

// What a theme's templates may spend on one page. The packages that run templates
// cannot be stopped from outside, so each step of a template asks for leave (see
// [stepped]) and so does each function that makes text. The figures lie far above
// what a booklet needs: the whole demo of 48 plantings as one file takes 33,000 steps
// and 3.4 MB, 5,000 plantings of one plant 178,000 and 11 MB.
const (
	freeSteps, sectionSteps = 1_000_000, 2000     // of a page, and for each section of the book
	freeBytes, sectionBytes = 64 << 20, 256 << 10 // written and made on the way
	// drawnSteps are those of a drawing, stripSteps those of a row of the year: about as
	// much work as so many turns of a range.
	drawnSteps, stripSteps = 100, 20
	// longestTime is for what is not counted: no page takes it, on the busiest machine.
	longestTime = 2 * time.Minute
	// deepestRange is how many ranges stand in each other: html/template looks
	// through a range twice, so each more doubles its time.
	deepestRange = 12
	// longestValue is what a text may be made of, longestSaid what is filled into one of
	// the words, and widest what a verb of printf pads to.
	longestValue, longestSaid, widest = 1 << 20, 64 << 10, 999
)

// errSpent is in what a template is told that has spent what it may.
var errSpent = errors.New("it is stopped, as a booklet must come to an end")

// A budget is what one page may spend. It is used by one goroutine.
type budget struct {
	steps, bytes int
	time         time.Duration

	ctx                  context.Context // of the page that is being made
	stepsLeft, bytesLeft int
}

// budgetOf is what a page of a book of so many sections may spend.
func budgetOf(sections int) budget {
	return budget{steps: freeSteps + sections*sectionSteps, bytes: freeBytes + sections*sectionBytes, time: longestTime}
}

// begin gives the budget to a page.
func (b *budget) begin(ctx context.Context) { b.ctx, b.stepsLeft, b.bytesLeft = ctx, b.steps, b.bytes }

// step is called when a template begins, and at each turn of a range.
func (b *budget) step() (string, error) {
	b.stepsLeft--
	switch err := b.ctx.Err(); {
	case errors.Is(err, context.DeadlineExceeded):
		return "", fmt.Errorf("one page takes longer than %v: %w", b.time, errSpent)
	case err != nil:
		return "", err
	case b.stepsLeft < 0:
		return "", fmt.Errorf("one page takes more than %d steps: %w", b.steps, errSpent)
	case b.bytesLeft < 0:
		return "", b.tooMuch()
	}
	return "", nil
}

// spend counts work that a page does besides its templates' steps; the next of them
// tells if it was too much.
func (p *page) spend(steps int) {
	if p.set != nil {
		p.set.stepsLeft -= steps
	}
}

func (b *budget) tooMuch() error {
	return fmt.Errorf("one page comes to more than %d MB: %w", b.bytes>>20, errSpent)
}

// make lets a function make a text of at most so many bytes.
func (b *budget) make(bytes int) error {
	if b.bytesLeft -= bytes; b.bytesLeft < 0 {
		return b.tooMuch()
	}
	if bytes > 8*longestValue {
		return fmt.Errorf("a text may grow to %d MB: %w", bytes>>20, errSpent)
	}
	return nil
}

// limited writes as long as bytes are left and then forgets what comes: the next
// step says so, at its place in the template.
type limited struct {
	to io.Writer
	*budget
}

func (w limited) Write(data []byte) (int, error) {
	if w.bytesLeft -= len(data); w.bytesLeft < 0 {
		return len(data), nil
	}
	return w.to.Write(data)
}

// stepName is the function that each step of a template calls.
const stepName = "bookletStep"

// functions are those of templates that could make a long text of a short one, over
// the functions of the same names that templates have by themselves.
func (b *budget) functions() template.FuncMap {
	growing := func(times int, make func(args ...any) string) func(args ...any) (string, error) {
		return func(args ...any) (string, error) {
			sum := 0
			for _, a := range args {
				sum += length(a) + 1
			}
			if err := b.make(times * sum); err != nil {
				return "", err
			}
			return make(args...), nil
		}
	}
	// The most that escaping makes of a byte is six.
	return template.FuncMap{
		stepName:   b.step,
		"print":    growing(1, fmt.Sprint),
		"println":  growing(1, fmt.Sprintln),
		"html":     growing(6, template.HTMLEscaper),
		"js":       growing(6, template.JSEscaper),
		"urlquery": growing(6, template.URLQueryEscaper),
		"printf":   b.printf,
	}
}

// padded is what stands before the letter of a verb that pads to more than [widest], or
// to what an argument says.
var padded = regexp.MustCompile(`^[-+# 0-9.\[\]]*(\*|[0-9]{4})`)

// printf is fmt's for formats that say how wide they print in three digits at most.
func (b *budget) printf(format string, args ...any) (string, error) {
	for _, verb := range strings.Split(format, "%")[1:] {
		if padded.MatchString(verb) {
			return "", fmt.Errorf("printf pads to %d signs at most, given as a number", widest)
		}
	}
	longest := 0
	for _, a := range args {
		longest = max(longest, length(a))
	}
	// %+q and %x make up to ten bytes of one.
	if err := b.make(len(format) + strings.Count(format, "%")*(10*longest+widest+len("%!v(BADINDEX)"))); err != nil {
		return "", err
	}
	return fmt.Sprintf(format, args...), nil
}

// length is about how long a value is once it is printed.
func length(v any) int {
	switch r := reflect.ValueOf(v); r.Kind() {
	case reflect.String:
		return r.Len()
	case reflect.Invalid, reflect.Bool, reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Float32, reflect.Float64:
		return 24
	}
	return len(fmt.Sprint(v)) // what the book holds, which is no longer than the book
}

// stepped has every template take a step when it begins and at each turn of a
// range. The step is written as {{$_ := bookletStep}}: what is assigned is not
// printed, and html/template leaves it as it is in whatever context it stands. The
// error, in the form of the template packages, is for ranges too deep in each other.
func stepped(all *template.Template) error {
	for _, t := range all.Templates() {
		if t.Tree == nil || t.Tree.Root == nil {
			continue
		}
		if n := stepList(t.Tree.Root, t.Tree.Root.Pos, 0); n != nil {
			place, _ := t.Tree.ErrorContext(n)
			return fmt.Errorf("template: %s: more than %d ranges stand in each other", place, deepestRange)
		}
	}
	return nil
}

// stepList puts a step before a list, and before those of the ranges in it. It
// stops at a range that stands in too many and gives it.
func stepList(list *parse.ListNode, at parse.Pos, ranges int) parse.Node {
	for _, n := range list.Nodes {
		if tooDeep := stepNode(n, ranges); tooDeep != nil {
			return tooDeep
		}
	}
	if at == 0 && len(list.Nodes) > 0 {
		at = list.Nodes[0].Position()
	}
	call := &parse.CommandNode{NodeType: parse.NodeCommand, Pos: at, Args: []parse.Node{parse.NewIdentifier(stepName).SetPos(at)}}
	step := &parse.ActionNode{NodeType: parse.NodeAction, Pos: at, Pipe: &parse.PipeNode{NodeType: parse.NodePipe, Pos: at,
		Decl: []*parse.VariableNode{{NodeType: parse.NodeVariable, Pos: at, Ident: []string{"$_"}}}, Cmds: []*parse.CommandNode{call}}}
	list.Nodes = append([]parse.Node{step}, list.Nodes...)
	return nil
}

// stepNode puts steps into the lists of a node.
func stepNode(n parse.Node, ranges int) parse.Node {
	var branch *parse.BranchNode
	switch n := n.(type) {
	case *parse.IfNode:
		branch = &n.BranchNode
	case *parse.WithNode:
		branch = &n.BranchNode
	case *parse.RangeNode:
		if ranges++; ranges > deepestRange {
			return n
		}
		if tooDeep := stepList(n.List, n.Pos, ranges); tooDeep != nil {
			return tooDeep
		}
		branch = &parse.BranchNode{List: &parse.ListNode{}, ElseList: n.ElseList}
	default:
		return nil
	}
	for _, list := range []*parse.ListNode{branch.List, branch.ElseList} {
		if list == nil {
			continue
		}
		for _, inner := range list.Nodes {
			if tooDeep := stepNode(inner, ranges); tooDeep != nil {
				return tooDeep
			}
		}
	}
	return nil
}

// A set is the templates of a theme as one page uses them at a time.
type set struct {
	pages *template.Template
	budget
}

// newSet gives the templates with a budget of their own.
func newSet(pages *template.Template, b budget) (*set, error) {
	own, err := pages.Clone()
	if err != nil {
		return nil, fmt.Errorf("html: %w", err)
	}
	s := &set{own, b}
	own.Funcs(s.functions())
	return s, nil
}

// execute runs a template within the budget. Where that is used up, or the build ended,
// in a template that html/template has derived from another, text/template panics: it
// looks for the place of the error in a text that such a template has not.
func (s *set) execute(to io.Writer, name string, data any) (err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, err = s.step(); err == nil {
				panic(r)
			}
		}
	}()
	if err := s.pages.ExecuteTemplate(limited{to, &s.budget}, name, data); err != nil {
		return err
	}
	_, err = s.step() // what the last step wrote
	return err
}
