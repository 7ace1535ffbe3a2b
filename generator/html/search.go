package html

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"sheaf/generator/booklet"
	"sheaf/generator/prose"
)

// The search works without a server: its index is a script file with one
// constant, which pages opened from a folder may load, and a page of its own
// reads it. Words are folded here as the script folds what is typed.

// A found is a section as the index holds it; the keys are short because there
// are many.
type found struct {
	Title string `json:"t"`
	About string `json:"a"`           // what it is and where
	Plant bool   `json:"p,omitempty"` // goes before others
	Href  string `json:"h"`
	Names string `json:"n"` // folded words it is called by
	Words string `json:"w"` // folded words that stand in it, each once
}

// searchData is the index that the search page reads.
func (e *edition) searchData() ([]byte, error) {
	var all []found
	for i := range e.book.Sections {
		s := &e.book.Sections[i]
		if !own(s.Kind) {
			continue
		}
		f := found{Title: prose.String(s.Title), About: e.book.Words.Say("kind." + kindWord(s.Kind)), Href: e.files[s.ID]}
		names, words := []string{f.Title}, []string{s.Aside}
		switch {
		case s.Kind == booklet.Plant:
			f.Plant = true
			names = append(names, s.Aside)
			if s.Aside != "" {
				f.Title, f.About = s.Aside, f.Title
			}
			for _, b := range s.Blocks {
				if b, ok := b.(booklet.Portrait); ok {
					f.About = strings.Join(append([]string{f.About}, b.Where...), "; ")
				}
			}
		case s.Aside != "":
			f.About += ": " + s.Aside
		}
		for _, b := range s.Blocks {
			n, w := said(b)
			names, words = append(names, n...), append(words, w...)
		}
		f.Names, f.Words = unique(names), unique(words)
		all = append(all, f)
	}
	data, err := json.Marshal(all)
	if err != nil {
		return nil, fmt.Errorf("html: %w", err)
	}
	return slices.Concat([]byte("const sections = "), data, []byte(";\n")), nil
}

const searchPage = "search.html"

func kindWord(k booklet.Kind) string {
	switch k {
	case booklet.Plant:
		return "plant"
	case booklet.Day:
		return "day"
	case booklet.Month:
		return "month"
	case booklet.JobPage:
		return "job"
	case booklet.Bed:
		return "bed"
	case booklet.CareGroup:
		return "group"
	}
	return "page"
}

// said gives the words of a block: those a plant is called by, and the rest.
func said(b booklet.Block) (names, words []string) {
	facts := func(rows []booklet.Fact) {
		for _, r := range rows {
			words = append(words, r.Label, prose.String(r.Text))
		}
	}
	switch b := b.(type) {
	case booklet.Text:
		words = append(words, prose.String(b.Runs))
	case booklet.Online:
		words = append(words, b.Words)
	case booklet.Heading:
		words = append(words, prose.String(b.Runs))
	case booklet.List:
		for _, item := range b.Items {
			words = append(words, prose.String(item))
		}
	case booklet.Facts:
		facts(b.Rows)
	case booklet.Terms:
		facts(b.Rows)
	case booklet.Portrait:
		names = append(names, b.Names...)
		words = append(append(words, prose.String(b.Look)), b.Where...)
	case booklet.Work:
		words = append(words, b.Verb, b.Amount, b.Never, b.Terms)
		facts(b.Notes)
		for _, r := range b.Rows {
			words = append(words, r.Label, prose.String(r.Text))
		}
	case booklet.Harm:
		words = append(words, b.Full...)
	case booklet.Visit:
		words = append(words, b.Window, b.Tools)
	case booklet.Chores:
		words = append(words, b.Verb)
		for _, l := range b.Lines {
			for _, p := range l.Plants {
				words = append(words, p.Common, prose.String(p.Latin))
			}
			words = append(words, l.Where, l.Amount, l.Look)
		}
	case booklet.Grown:
		for _, r := range b.Rows {
			words = append(words, r.Common, prose.String(r.Latin))
		}
	case booklet.Tasks:
		for _, l := range b.Lines {
			words = append(words, l.Verb, l.Rest, l.Where)
		}
	}
	return names, words
}

// unique folds texts and keeps each word once, in order.
func unique(texts []string) string {
	var out []string
	seen := map[string]bool{}
	for _, t := range texts {
		for _, w := range strings.FieldsFunc(fold(t), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
			if !seen[w] && (len(w) > 1 || w >= "0" && w <= "9") { // garden day 3
				seen[w] = true
				out = append(out, w)
			}
		}
	}
	return strings.Join(out, " ")
}

// fold takes capitals and accents away.
func fold(s string) string {
	if !strings.ContainsFunc(s, func(r rune) bool { return r >= utf8.RuneSelf }) {
		return strings.ToLower(s)
	}
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, norm.NFD.String(s))
}
