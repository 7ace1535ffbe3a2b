// Sheaf makes a garden's care booklet from plant entries and a plant list.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/cli/browser"
)

func main() {
	// A build makes much and keeps little: collecting less often saves a sixth
	// of its time. With a guide of thousands of plants memory comes first: with what
	// is not the collector's the program stays under 1 GiB.
	debug.SetGCPercent(600)
	debug.SetMemoryLimit(980 << 20)
	largePages()
	os.Exit(run(os.Args[1:], system{
		stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, now: time.Now, env: os.Getenv,
		terminal: isTerminal(os.Stderr), width: widthOf(os.Stdout),
		interrupted: func() (context.Context, context.CancelFunc) {
			return signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
		},
		browse: browser.OpenURL,
	}))
}

// A system is what the program knows of the world; tests give their own.
type system struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	now            func() time.Time
	env            func(string) string
	terminal       bool // stderr is a terminal
	width          int  // of the terminal that stdout is, in characters; 0 for none
	// interrupted gives what ends when the program is asked to end.
	interrupted func() (context.Context, context.CancelFunc)
	browse      func(url string) error // opens a page in the user's browser
}

// run does one call and gives its exit code.
func run(args []string, sys system) int {
	root := newRoot(sys)
	root.SetArgs(args)
	root.SetOut(sys.stdout)
	root.SetErr(sys.stderr)
	return report(sys, root, root.Execute())
}
