package generator

import (
	"bytes"
	"io/fs"
	"slices"
	"sync"

	"sheaf/content"
	"sheaf/generator/entries"
	"sheaf/generator/source"
)

// A library may be a copy of the shipped one in which a few files were changed, as
// that of the gardens beside it is. Parsing 3,000 entries and weighing them costs
// more than the rest of a booklet, and tells nothing of those that are as shipped:
// their faults are found by the tests. They are glanced at, as the shipped ones are,
// where all that they hang on is as shipped as well.

// glanced is the kind of a plant's file of which no more is read than a glance does.
const glanced = "glanced"

// A likeness is how much of a library is as shipped.
type likeness struct {
	same   map[string]int  // files that are, by the folders they are in
	differ map[string]bool // folders in which something is not
}

// differs notes that something in a folder is not as shipped.
func (l *likeness) differs(dir string) {
	if l == nil {
		return
	}
	if l.differ == nil {
		l.differ = map[string]bool{}
	}
	l.differ[dir] = true
}

// whole tells that folders were read and all is in them that is shipped, and as it is.
func (l *likeness) whole(dirs ...string) bool {
	return l != nil && !slices.ContainsFunc(dirs, func(dir string) bool {
		return l.differ[dir] || l.same[dir] != len(shippedIn(dir))
	})
}

// shippedIn are the texts in a folder of the shipped library.
func shippedIn(dir string) []written {
	found, err := markdown(content.Library(), dir)
	if err != nil {
		return nil
	}
	return found
}

// asShipped tells that a file is that of the shipped library, byte for byte.
func asShipped(name string, f *source.File) bool {
	text, err := fs.ReadFile(content.Library(), name)
	return err == nil && f != nil && bytes.Equal(text, f.Text)
}

// order is that in which the folders are read: of a copy the plants last, when all
// that they hang on is known.
func (s *shelving) order() []string {
	dirs := LibraryFolders()
	if s.copy == nil {
		return dirs
	}
	return append(dirs[1:], dirs[0])
}

// has tells whether a file of a folder was read.
func (s *shelving) has(dir string) bool {
	return slices.ContainsFunc(s.files, func(p *parsing) bool { return p.kind == dir })
}

// compare notes whether a file is as shipped.
func (s *shelving) compare(dir, name string, f *source.File) {
	if s.copy == nil {
		return
	}
	// What was glanced at in an earlier build of the session was as shipped.
	if before, _ := s.memory.made(f, glanced); before == nil && !asShipped(name, f) {
		s.copy.differs(dir)
		return
	}
	if s.copy.same == nil {
		s.copy.same = map[string]int{}
	}
	s.copy.same[dir]++
	s.there.shipped[name] = true
}

// doubt parses the cautious entries that were glanced at where a plant is not as
// shipped: it may be one that they have among their answers.
func (s *shelving) doubt() {
	if s.copy == nil || s.copy.whole("plants") {
		return
	}
	var all sync.WaitGroup
	for _, p := range s.files {
		e, ok := p.value.(*entries.Entry)
		if ok && p.kind == glanced && e.Serves.Value == entries.ServesUnknown {
			p.kind = "plants"
			all.Go(func() { p.value, p.found = parse(p.kind, p.file) })
		}
	}
	all.Wait()
}
