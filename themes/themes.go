// Package themes carries the shipped themes inside the binary.
package themes

import (
	"embed"
	"io/fs"
)

//go:embed fieldbook seedroom
var shipped embed.FS

// Shipped gives the files of one theme by its folder name.
func Shipped(name string) (fs.FS, error) { return fs.Sub(shipped, name) }

// Default is the theme from which others take what they leave out.
const Default = "fieldbook"

// Names lists the shipped themes, the default first.
func Names() []string { return []string{Default, "seedroom"} }
