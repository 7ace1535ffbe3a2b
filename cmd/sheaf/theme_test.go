package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWatchSeesThemes: a save in a theme's folder is shown, whether the folder
// lies beside the garden's or in it, and a fault there is told.
func TestWatchSeesThemes(t *testing.T) {
	for _, theme := range []string{"../looks", "looks"} {
		d := begin(t, 0)
		looks := filepath.Join(d.garden, filepath.FromSlash(theme))
		if err := os.MkdirAll(looks, 0o755); err != nil {
			t.Fatal(err)
		}
		d.write(t, filepath.Join(looks, "theme.yaml"), "theme: ours\n")
		d.write(t, d.in("garden.yaml"), d.read(t, d.in("garden.yaml"))+"theme: "+theme+"\n")
		written := func(what, colour string) {
			d.until(t, what, func() bool {
				css, err := os.ReadFile(filepath.Join(d.out, "style.css"))
				return err == nil && strings.Contains(string(css), colour)
			})
		}
		d.write(t, filepath.Join(looks, "theme.yaml"), "colours: {light: {clay: \"#8a1538\"}}\n")
		written("a colour", "--clay: #8a1538")
		d.write(t, filepath.Join(looks, "more.css"), "h1 { color: var(--clay); }\n")
		written("a stylesheet", "h1 { color: var(--clay); }")
		d.write(t, filepath.Join(looks, "theme.yaml"), "colours: {light: {clay: \"#ffb0c0\"}}\n")
		d.until(t, "a fault", func() bool { return strings.Contains(d.said.String(), "theme/contrast") })
		d.write(t, filepath.Join(looks, "theme.yaml"), "colours: {light: {clay: \"#7b3068\"}}\n")
		written("its mend", "--clay: #7b3068")
		d.stop()
	}
}
