package generator

import (
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"

	"sheaf/generator/entries"
	"sheaf/generator/figure"
	"sheaf/generator/pdf"
	"sheaf/generator/photo"
	"sheaf/generator/source"
)

// memory keeps what files hold, and what was drawn and painted, from one build of
// a session to the next; a build by itself has one of its own. Three
// conditions make that right: what is kept is never changed by who gets it; it
// hangs on one file and nothing else; and all that could make a difference is
// compared: folder, name, kind and bytes. Diagnostics are kept with what was
// parsed and told again.
//
// A nil memory keeps nothing.
type memory struct {
	session bool // there will be other builds
	round   int
	whole   bool             // the last build came to its end
	files   map[string]*kept // by the path that messages show
	shots   map[string]*shot
	mu      sync.Mutex // of shots and entries: they are read side by side

	folders []ReadFolder
	entries map[*source.File]*entries.Entry // parsed of files that are else glanced at

	dressed  *dressed // the theme of the last build, and its paintings
	sketches figure.Sketchbook
	wordings entries.Wordings
	plates   pdf.Plates
}

// A stamp is what tells a file that was written from one that was not.
type stamp struct {
	size, when int64 // bytes; nanoseconds
}

func stampOf(info fs.FileInfo) stamp { return stamp{info.Size(), info.ModTime().UnixNano()} }

// kept is one file: its bytes, and what was made of them.
type kept struct {
	stamp
	sure  bool   // as long as the stamp is the same, so are the bytes
	round int    // of the build that last asked for it
	disk  string // its path on the disk

	file   *source.File
	kind   string // what it was parsed as
	parsed any    // nil when it was not
	found  source.Diagnostics
}

// shot is one photograph: what was in the file that had this stamp.
type shot struct {
	stamp
	round   int
	disk    string
	picture *photo.Photo
}

// opens notes the garden's folder, with which a build begins.
func (m *memory) opens(in Folders) {
	m.folders = nil
	if in.Disk != nil {
		m.folders = []ReadFolder{{in.Disk(""), []string{"plants", "groups", "photos"}}}
	}
}

// reads notes files that a garden names, by their paths in its folder.
func (m *memory) reads(names ...string) {
	if m.folders == nil {
		return
	}
	for _, name := range names {
		if first, _, below := strings.Cut(path.Clean(name), "/"); below && first != ".." && !slices.Contains(m.folders[0].Into, first) {
			m.folders[0].Into = append(m.folders[0].Into, first)
		}
	}
}

// begin starts a build. What the build before did not ask for is forgotten, but
// only if that came to its end: a fault keeps a build from asking for much that
// the next will want again.
func (m *memory) begin() {
	if m.whole {
		maps.DeleteFunc(m.files, func(_ string, k *kept) bool { return k.round != m.round })
		maps.DeleteFunc(m.shots, func(_ string, s *shot) bool { return s.round != m.round })
		m.sketches.Turn()
		m.wordings.Turn()
		m.dressed.paintings.Turn()
		m.plates.Turn()
	}
	m.whole = false
	m.round++
}

// forget has the files that are named read again.
func (m *memory) forget(changed func(file string) bool) {
	for _, k := range m.files {
		if changed(k.disk) {
			k.sure = false
		}
	}
	maps.DeleteFunc(m.shots, func(_ string, s *shot) bool { return changed(s.disk) })
}

// file gives a file as it was read before, if it is as it was then; else nil.
func (m *memory) file(d folder, name string, info fs.FileInfo) *source.File {
	if m == nil {
		return nil
	}
	k := m.files[path.Join(d.name, name)]
	if k == nil || !k.sure || k.stamp != stampOf(info) {
		return nil
	}
	k.round = m.round
	return k.file
}

// keep remembers a file that was read. If its bytes are those that were there
// before, the file of then is given back, with what was made of it.
func (m *memory) keep(d folder, name string, info fs.FileInfo, f *source.File) *source.File {
	if m == nil || !m.session {
		return f
	}
	if m.files == nil {
		m.files = map[string]*kept{}
	}
	k := m.files[path.Join(d.name, name)]
	if k == nil || k.file.Sum != f.Sum {
		k = &kept{file: f, disk: d.path(name)}
		m.files[path.Join(d.name, name)] = k
	}
	k.stamp, k.sure, k.round = stampOf(info), true, m.round
	return k.file
}

// made gives what a file was parsed to before; nil when it was not.
func (m *memory) made(f *source.File, kind string) (any, source.Diagnostics) {
	if k := m.of(f); k != nil && k.kind == kind {
		return k.parsed, k.found
	}
	return nil, nil
}

// keepMade remembers what a file was parsed to.
func (m *memory) keepMade(f *source.File, kind string, parsed any, found source.Diagnostics) {
	if k := m.of(f); k != nil {
		k.kind, k.parsed, k.found = kind, parsed, found
	}
}

// entry parses the whole of a file that is else glanced at. Its file stays the same
// while its bytes do.
func (m *memory) entry(f *source.File) *entries.Entry {
	if m == nil || !m.session {
		e, _ := entries.ParseEntry(f)
		return e
	}
	m.mu.Lock()
	e := m.entries[f]
	m.mu.Unlock()
	if e == nil {
		e, _ = entries.ParseEntry(f)
		m.mu.Lock()
		defer m.mu.Unlock()
		if m.entries == nil {
			m.entries = map[*source.File]*entries.Entry{}
		}
		m.entries[f] = e
	}
	return e
}

// worded keeps how texts are worded; nil when nothing is kept.
func (m *memory) worded() *entries.Wordings {
	if m == nil {
		return nil
	}
	return &m.wordings
}

func (m *memory) of(f *source.File) *kept {
	if m == nil {
		return nil
	}
	k := m.files[f.Path]
	if k == nil || k.file != f {
		return nil
	}
	return k
}

// picture gives a photograph that was read before; nil when it was not, or when
// its file has changed.
func (m *memory) picture(d folder, name string, info fs.FileInfo) *photo.Photo {
	if m == nil {
		return nil
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	s := m.shots[path.Join(d.name, name)]
	if s == nil || s.stamp != stampOf(info) {
		return nil
	}
	s.round = m.round
	return s.picture
}

func (m *memory) keepPicture(d folder, name string, info fs.FileInfo, p *photo.Photo) {
	if m == nil {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.shots == nil {
		m.shots = map[string]*shot{}
	}
	m.shots[path.Join(d.name, name)] = &shot{stampOf(info), m.round, d.path(name), p}
}
