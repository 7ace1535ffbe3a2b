package main

import (
	"bufio"
	"fmt"
	"path/filepath"

	"sheaf/generator"
	"sheaf/generator/source"
)

// byContributor is what check can sort by.
const byContributor = "contributor"

// widestLetter is how many characters a line of a mail should have at most
// (RFC 5322, 2.1.1).
const widestLetter = 78

// tellContributors prints what is wrong with a garden in a folder, or with
// single files, under the names of those who can mend it. Each part is written to
// be sent as it is: the files of an entry's author are named as they lie in the
// library, whose place on this machine is nobody's business.
func (sys system) tellContributors(folder string, authors generator.Authors, ds source.Diagnostics, asJSON bool) error {
	all := authors.ByContributor(ds)
	if asJSON {
		return encode(sys.stdout, struct {
			Contributors []generator.Contribution `json:"contributors"`
		}{all})
	}
	style := sys.style(folder, 0)
	style.Color = style.Color && sys.width > 0 // that is, if stdout is a terminal too
	style.Width = min(sys.columns(), widestLetter)
	editors := style.Show
	out := bufio.NewWriter(sys.stdout)
	for i, c := range all {
		if i > 0 {
			fmt.Fprint(out, "\n\n")
		}
		faults := count(len(c.Faults), "fault", "faults")
		title := fmt.Sprintf("%s: %s in %s", source.Printable(c.Contributor), faults, count(c.Entries, "entry", "entries"))
		style.Show = func(p string) string {
			if a, ok := authors[p]; ok {
				return a.File
			}
			return editors(p)
		}
		if c.Contributor == "" {
			title = fmt.Sprintf("no contributor: %s in %s", faults, count(c.Files, "file", "files"))
			style.Show = func(p string) string { return fromHere(editors(p)) }
		}
		if style.Color {
			title = "\x1b[1m" + title + "\x1b[0m"
		}
		fmt.Fprintln(out, title)
		if err := c.Faults.Letter(out, style); err != nil {
			return err
		}
	}
	if err := out.Flush(); err != nil {
		return err
	}
	sum := unnoted(ds).Summary()
	if sum == "" {
		sum = "no faults"
	} else if len(all) > 0 {
		fmt.Fprintln(sys.stderr) // below the last part, on a terminal
	}
	fmt.Fprintln(sys.stderr, sum)
	return nil
}

// fromHere is a path as seen from the working directory, as far as there is a
// way from here to there.
func fromHere(p string) string {
	if !filepath.IsAbs(p) {
		return p
	}
	here, err := filepath.Abs(".")
	if err != nil {
		return p
	}
	if rel, err := filepath.Rel(here, p); err == nil {
		return rel
	}
	return p
}
