package generator

import (
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"sheaf/generator/source"
)

// A folder of a library is read by the names of its files: those that end in .md, in
// capitals or small letters, and do not begin with a dot. What is left aside and
// looks as if it were meant to be read is told, so that no entry is lost unseen.

// isMarkdown tells a file that is read.
func isMarkdown(name string) bool { return strings.EqualFold(path.Ext(name), ".md") }

// An aside is why a file or a link is left aside, and what to do about it.
type aside struct {
	severity  source.Severity
	why, mend string
}

const linkMend = "name the folder it leads to under library in garden.yaml, or put the files themselves here"

// leftAside looks at what does not end in .md; nil for what nobody misses. Links to
// folders are not followed: they may lead in a circle.
func leftAside(fsys fs.FS, name string, typ fs.FileMode) *aside {
	own := path.Base(name)
	small := strings.ToLower(own)
	if spare(small) {
		return nil
	}
	if typ&fs.ModeSymlink != 0 {
		switch info, err := fs.Stat(fsys, name); {
		case err != nil:
			return &aside{source.Warning, "this link leads nowhere or out of its folder: nothing of it is read", linkMend}
		case info.IsDir():
			return &aside{source.Warning, "this is a link to a folder, and nothing in it is read", linkMend}
		}
	} else if !typ.IsRegular() {
		return nil
	}
	const why = "this file is not read: its name does not end in .md"
	for _, mark := range []string{".markdown", ".mdown", ".mkd", ".mdwn", ".mdtext", ".md"} {
		if i := strings.Index(small, mark); i > 0 {
			return &aside{source.Warning, why, "rename it " + own[:i] + ".md"}
		}
	}
	end := path.Ext(small)
	renamed := own[:len(own)-len(end)] + ".md"
	switch {
	case slices.Contains([]string{".doc", ".docx", ".odt", ".rtf", ".pages"}, end):
		return &aside{source.Warning, why, "save it as plain text, as " + renamed}
	case slices.Contains([]string{"", ".txt", ".text", ".yaml", ".yml", ".html", ".htm"}, end) && hasFront(fsys, name):
		return &aside{source.Warning, why, "it begins as an entry does: rename it " + renamed}
	}
	return nil
}

// spare tells what editors, systems and people leave beside a file on purpose.
func spare(name string) bool {
	for _, end := range []string{"~", ".bak", ".old", ".orig", ".rej", ".save", ".swp", ".swx", ".swo", ".tmp", ".part", ".sheaf-new"} {
		if strings.HasSuffix(name, end) {
			return true
		}
	}
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$") || strings.HasPrefix(name, "#") && strings.HasSuffix(name, "#")
}

// hasFront tells a file that begins with front matter.
func hasFront(fsys fs.FS, name string) bool {
	info, err := fs.Stat(fsys, name)
	if err != nil || !info.Mode().IsRegular() { // opening a pipe would wait
		return false
	}
	f, err := fsys.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 8)
	n, _ := io.ReadFull(f, head)
	first, _, whole := strings.Cut(strings.TrimPrefix(string(head[:n]), "\ufeff"), "\n")
	return whole && strings.TrimRight(first, " \r") == "---"
}

// astray tells of a folder that is a link to what is no folder or lies outside; nil
// for any other.
func astray(fsys fs.FS, dir string) *aside {
	info, err := fs.Lstat(fsys, dir)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		return nil
	}
	if info, err = fs.Stat(fsys, dir); err == nil && info.IsDir() {
		return nil
	}
	return &aside{source.Error, "this folder is a link that leads nowhere, to no folder or out of its place: nothing of it is read", linkMend}
}
