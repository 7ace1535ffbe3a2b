package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"unicode"

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
//     not read or write; 130 ended with Ctrl-C, as shells tell it. The same under
//     --json. A watcher that is ended has done what it was asked for.

const (
	exitDone    = 0
	exitContent = 1
	exitUsage   = 2
	exitSystem  = 3
	// exitInterrupted is 128 and the number of SIGINT.
	exitInterrupted = 130
)

// usageError is a call that cannot be understood.
type usageError struct{ error }

// errContent says that the diagnostics already told what is wrong.
var errContent = errors.New("faults in the content")

// hinted is an error with the way out of it.
type hinted struct {
	error
	hint string
}

func (h hinted) Unwrap() error { return h.error }

// errInterrupted is a build that was told to end before it was done.
var errInterrupted = errors.New("ended before it was done; nothing was written")

// report prints what ended a call and gives the exit code.
func report(sys system, root *cobra.Command, err error) int {
	var usage usageError
	var year *generator.YearError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errContent):
		return exitContent
	case errors.As(err, &year):
		fmt.Fprintf(sys.stderr, "sheaf: error: %s\n", plain(err))
		return exitUsage
	case errors.As(err, &usage):
		fmt.Fprintf(sys.stderr, "sheaf: error: %v\n", err)
		fmt.Fprintln(sys.stderr, "hint: sheaf --help shows how to call it")
		return exitUsage
	}
	fmt.Fprintf(sys.stderr, "sheaf: error: %v\n", plain(err))
	if errors.Is(err, errInterrupted) {
		return exitInterrupted
	}
	var folder *generator.FolderError
	if errors.As(err, &folder) {
		fmt.Fprintln(sys.stderr, "hint: --out DIR chooses another folder")
	}
	var way hinted
	if errors.As(err, &way) {
		fmt.Fprintln(sys.stderr, "hint: "+source.Printable(way.hint))
	}
	return exitSystem
}

// plain says a file error without the name of the system call, and a year as it was
// asked for.
func plain(err error) string {
	var path *fs.PathError
	var year *generator.YearError
	switch {
	case errors.As(err, &path):
		return fmt.Sprintf("%s: %v", path.Path, path.Err)
	case errors.As(err, &year):
		return fmt.Sprintf("--year %v", err)
	}
	return err.Error()
}

// quoted writes a word of a command, a path or a name, so that it can be copied
// into the usual shells of a system: as it is, or in quotes where they would read
// it otherwise (POSIX.1-2017, Shell Command Language, 2.2; on Windows double quotes
// are all that both its shells take).
func quoted(goos, word string) string {
	plain := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("_-./:,+@%", r) || r == '\\' && goos == "windows"
	}
	other := func(r rune) bool { return !plain(r) }
	switch {
	case word != "" && !strings.ContainsFunc(word, other):
		return word
	case goos == "windows":
		return `"` + strings.ReplaceAll(word, `"`, `\"`) + `"`
	case !strings.ContainsAny(word, "\"$`\\!"):
		return `"` + word + `"`
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

// ledTo adds to an error about a file that a call names, if it is a link, where
// the file itself is.
func ledTo(err error, name string) error {
	info, fault := os.Lstat(name)
	if fault != nil || info.Mode()&fs.ModeSymlink == 0 {
		return err
	}
	to, fault := filepath.EvalSymlinks(name)
	if fault != nil {
		return err
	}
	return hinted{err, "name the file itself: " + quoted(runtime.GOOS, to)}
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
		if filepath.IsAbs(filepath.FromSlash(p)) {
			return filepath.FromSlash(p) // of a library that is named by its whole path
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
