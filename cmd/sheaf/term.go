package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"sheaf/generator"
	"sheaf/generator/source"
)

// How the program speaks:
//
//   - stdout holds only what was asked for: a report, --json, --help. All else
//     goes to stderr.
//   - A message is lower case and ends without a full stop; about a place it is
//     path:line:column: error: message [code], then the line with a caret, then
//     hint: lines. Paths are as seen from the working directory.
//   - Colour is for terminals, and not when NO_COLOR is set or TERM is dumb.
//   - Exit 0 done, warnings allowed; 1 faults in the content; 2 usage; 3 could
//     not read or write. The same under --json.

const (
	exitDone    = 0
	exitContent = 1
	exitUsage   = 2
	exitSystem  = 3
)

// usageError is a call that cannot be understood.
type usageError struct{ error }

// errContent says that the diagnostics already told what is wrong.
var errContent = errors.New("faults in the content")

// report prints what ended a call and gives the exit code.
func report(sys system, root *cobra.Command, err error) int {
	var usage usageError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errContent):
		return exitContent
	case errors.As(err, &usage):
		fmt.Fprintf(sys.stderr, "sheaf: error: %v\n", err)
		fmt.Fprintln(sys.stderr, "hint: sheaf --help shows how to call it")
		return exitUsage
	}
	fmt.Fprintf(sys.stderr, "sheaf: error: %v\n", plain(err))
	var folder *generator.FolderError
	if errors.As(err, &folder) {
		fmt.Fprintln(sys.stderr, "hint: --out DIR chooses another folder")
	}
	return exitSystem
}

// plain says a file error without the name of the system call.
func plain(err error) string {
	var path *fs.PathError
	if errors.As(err, &path) {
		return fmt.Sprintf("%s: %v", path.Path, path.Err)
	}
	return err.Error()
}

func isTerminal(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

// widthOf is the width of a terminal in characters; 0 for what is none.
func widthOf(f *os.File) int {
	w, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return w
}

// columns is how wide a table may be: as COLUMNS says, as the terminal is, or
// 80, and never so narrow that a name cannot be read.
func (sys system) columns() int {
	w := sys.width
	if n, err := strconv.Atoi(sys.env("COLUMNS")); err == nil {
		w = n
	}
	if w <= 0 {
		w = 80
	}
	return max(w, 30)
}

// style is how diagnostics are printed for a garden in a folder.
func (sys system) style(folder string, most int) source.Style {
	color := sys.terminal && sys.env("NO_COLOR") == "" && sys.env("TERM") != "dumb"
	return source.Style{Color: color, Most: most, Show: func(p string) string {
		if strings.HasPrefix(p, generator.BuiltIn+"/") || p == "theme.yaml" {
			return p
		}
		return filepath.Join(folder, filepath.FromSlash(p))
	}}
}

// verdict turns diagnostics into the call's outcome.
func verdict(ds source.Diagnostics, strict bool) error {
	if ds.HasErrors() || strict && ds.Count(source.Warning) > 0 {
		return errContent
	}
	return nil
}
