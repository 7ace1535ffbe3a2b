package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestReadmeSession does what the README's terminal session shows, in an empty
// folder, and holds it to what is printed there.
func TestReadmeSession(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, after, ok := strings.Cut(string(readme), "```console\n")
	session, _, closed := strings.Cut(after, "```")
	if !ok || !closed {
		t.Fatal("the README shows no terminal session")
	}
	t.Chdir(t.TempDir())
	commands := 0
	for _, part := range strings.Split(session, "$ ")[1:] {
		call, want, _ := strings.Cut(part, "\n")
		var got bytes.Buffer
		switch words := strings.Fields(call); words[0] {
		case "cat": // the one file that is there
			if err := os.WriteFile(words[1], []byte(want), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		case "ls":
			files, err := filepath.Glob(words[1])
			if err != nil {
				t.Fatal(err)
			}
			got.WriteString(filepath.ToSlash(strings.Join(files, "\n")) + "\n")
		case "sheaf":
			commands++
			code := run(words[1:], system{
				stdout: &got, stderr: &got, env: func(string) string { return "" },
				now:         func() time.Time { return time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC) },
				interrupted: func() (context.Context, context.CancelFunc) { return context.WithCancel(t.Context()) },
			})
			if code != exitDone {
				t.Errorf("%s ends with %d", call, code)
			}
		default:
			t.Fatalf("%s cannot be tried", call)
		}
		if got.String() != want {
			t.Errorf("%s prints\n%s\nthe README has\n%s", call, &got, want)
		}
	}
	if commands != 2 {
		t.Errorf("%d commands were tried, want two", commands)
	}
}
