package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"sheaf/generator"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

func matchCommand(sys system) *cobra.Command {
	var r generator.MatchRequest
	var strict, asJSON, fix bool
	var out string
	c := &cobra.Command{Use: "match LIST", RunE: func(cmd *cobra.Command, args []string) error {
		switch len(args) {
		case 0:
			return usageError{fmt.Errorf("match needs a plant list, such as plants.csv")}
		case 1:
			r.List = args[0]
		default:
			return usageError{fmt.Errorf("one plant list at a time; %d are named", len(args))}
		}
		switch {
		case out != "" && !fix:
			return usageError{fmt.Errorf("--out names the file that --fix writes: add --fix")}
		case fix && out == "" && r.List == generator.Stdin:
			return usageError{fmt.Errorf("a list that comes in has no name to write beside: --out plants-fixed.csv")}
		case out == "":
			out = generator.FixedName(r.List)
		}
		r.In = sys.stdin
		cover, ds, err := generator.MatchList(r)
		if err != nil {
			return ledTo(err, r.List)
		}
		var fixed garden.Fix
		if fix = fix && len(cover.Rows) > 0; fix {
			if fixed, err = cover.Fix(out); err != nil {
				return hinted{err, "--out FILE writes to another file"}
			}
		}
		all := append(slices.Clone(ds), cover.Told()...)
		if asJSON {
			if err := printJSON(sys, all, cover); err != nil {
				return err
			}
			return verdict(all, strict)
		}
		if err := ds.Print(sys.stderr, sys.style("", 0)); err != nil {
			return err
		}
		if len(cover.Rows) > 0 {
			printCoverage(sys.stdout, cover, sys.columns())
		}
		if fix {
			fmt.Fprintf(sys.stderr, "%s: %s put right, %s to answer, %s without care\n", source.Printable(out), count(fixed.Renamed, "name", "names"), count(fixed.Asked, "question", "questions"), count(fixed.Without, "row", "rows"))
		}
		return verdict(all, strict)
	}}
	f := c.Flags()
	f.StringVar(&r.Sheet, "sheet", "", "")
	f.StringVar(&r.Library, "library", "", "")
	f.BoolVar(&fix, "fix", false, "")
	f.StringVar(&out, "out", "", "")
	f.BoolVar(&strict, "strict", false, "")
	f.BoolVar(&asJSON, "json", false, "")
	return c
}

// Between two columns, and the least a column of names can be: a word such as
// Calamagrostis and some.
const (
	gap       = "  "
	leastName = 18
)

// printCoverage writes a table of the rows and a line that counts them. Where
// the names do not fit beside each other they stand below each other.
func printCoverage(w io.Writer, c *generator.Coverage, width int) {
	row, read, entry, how := len("row"), len("as read"), len("entry"), len("how")
	for _, r := range c.Rows {
		row, how = max(row, len(fmt.Sprint(r.Row))), max(how, len(r.How))
		read, entry = max(read, utf8.RuneCountInString(r.Name)), max(entry, utf8.RuneCountInString(r.Entry))
	}
	names := width - row - how - 3*len(gap)
	if names < 2*leastName {
		printNarrow(w, c, row, width)
		return
	}
	if read+entry > names { // the shorter column keeps what it needs, up to a half
		half := names / 2
		if read < half {
			entry = names - read
		} else {
			entry = min(entry, half)
			read = names - entry
		}
	}
	line := func(number, asRead, of, by string) {
		left, right := wrap(asRead, read), wrap(of, entry)
		for i := range max(len(left), len(right)) {
			if i > 0 {
				number, by = "", ""
			}
			text := fmt.Sprintf("%*s%s%s%s%s%s%s", row, number, gap, pad(at(left, i), read), gap, pad(at(right, i), entry), gap, by)
			fmt.Fprintln(w, strings.TrimRight(text, " "))
		}
	}
	line("row", "as read", "entry", "how")
	for _, r := range c.Rows {
		line(fmt.Sprint(r.Row), r.Name, cmp.Or(r.Entry, "–"), r.How)
		printNotes(w, r, row, width)
	}
	printCounts(w, c, width)
}

// printNarrow writes the rows for a narrow terminal.
func printNarrow(w io.Writer, c *generator.Coverage, row, width int) {
	inner := width - row - len(gap)
	for _, r := range c.Rows {
		result := "→ " + r.How
		if r.Entry != "" {
			result = fmt.Sprintf("→ %s, %s", r.Entry, r.How)
		}
		number := fmt.Sprint(r.Row)
		for _, l := range slices.Concat(wrap(r.Name, inner), wrap(result, inner)) {
			fmt.Fprintf(w, "%*s%s%s\n", row, number, gap, l)
			number = ""
		}
		printNotes(w, r, row, width)
	}
	printCounts(w, c, width)
}

// printNotes writes below a row what its columns do not say.
func printNotes(w io.Writer, r generator.RowLine, row, width int) {
	indent := strings.Repeat(" ", row) + gap + gap
	for _, n := range notes(r) {
		for i, l := range wrap(n, width-len(indent)-2) {
			mark := "- "
			if i > 0 {
				mark = "  "
			}
			fmt.Fprintln(w, indent+mark+l)
		}
	}
}

func notes(r generator.RowLine) []string {
	var forms, out []string
	for _, d := range r.Told {
		switch {
		case d.Code == "list/name-form":
			forms = append(forms, d.Message)
		case d.Code == "list/uncovered": // its last hint is for all such rows alike
			out = append(out, d.Hints[:len(d.Hints)-1]...)
		case d.Code == "list/synonym", d.Code == "list/species":
			out = append(out, d.Hints...)
		case d.Code == "list/spelling" && r.How == string(garden.Spelling):
		case d.Code == "list/spelling":
			out = append(out, d.Message)
		default:
			out = append(append(out, d.Message), d.Hints...)
		}
	}
	if len(forms) > 0 {
		out = append([]string{strings.Join(forms, "; ")}, out...)
	}
	return out
}

// printCounts writes how many rows came to an entry in each way.
func printCounts(w io.Writer, c *generator.Coverage, width int) {
	counts := map[string]int{}
	for _, r := range c.Rows {
		counts[r.How]++
	}
	var parts []string
	for _, how := range []garden.Match{garden.Exact, garden.Synonym, garden.Species, garden.Spelling, garden.Group, garden.Ambiguous, garden.None} {
		if n := counts[string(how)]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, how))
		}
	}
	fmt.Fprintln(w)
	for _, l := range wrap(fmt.Sprintf("%s: %d of %d rows have care: %s", c.List, c.Covered, len(c.Rows), strings.Join(parts, ", ")), width) {
		fmt.Fprintln(w, l)
	}
	if c.Covered < len(c.Rows) {
		for _, l := range wrap("hint: for a row without care, correct its name, write an entry, or name a care group in a column \"care\"", width) {
			fmt.Fprintln(w, l)
		}
	}
}

// wrap breaks text between words into lines of at most width characters, and
// within a word that is longer than a line.
func wrap(text string, width int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(source.Printable(text)) {
		if line != "" && utf8.RuneCountInString(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		runes := []rune(word)
		for ; len(runes) > width; runes = runes[width:] {
			out = append(out, string(runes[:width]))
		}
		line = string(runes)
	}
	return append(out, line)
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s)))
}
