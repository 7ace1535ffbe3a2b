// Package content carries the shipped library inside the binary: plant
// entries, care groups, job pages, regions and pages, and how its words are
// spelt elsewhere.
package content

import (
	"embed"
	"io/fs"
)

//go:embed plants groups jobs regions pages spellings library.yaml
var library embed.FS

// Library gives the shipped library's files.
func Library() fs.FS { return library }
