package main

import (
	"path/filepath"
	"slices"
	"testing"
)

func TestFontFolders(t *testing.T) {
	env := map[string]string{"HOME": "/home/ann", "WINDIR": "windows", "LOCALAPPDATA": "local"}
	get := func(k string) string { return env[k] }
	for system, want := range map[string]string{
		"linux": "/home/ann/.local/share/fonts", "darwin": "/home/ann/Library/Fonts", "windows": "local/Microsoft/Windows/Fonts",
	} {
		if got := fontFolders(system, get); len(got) < 2 || filepath.ToSlash(got[0]) != want {
			t.Errorf("%s: %q, want %s first", system, got, want)
		}
	}
	env["XDG_DATA_HOME"] = "/data"
	if got := fontFolders("linux", get); !slices.Contains(got, filepath.FromSlash("/data/fonts")) {
		t.Errorf("with XDG_DATA_HOME: %q", got)
	}
	if got := fontFolders("windows", func(string) string { return "" }); len(got) != 0 {
		t.Errorf("without an environment: %q", got)
	}
}
