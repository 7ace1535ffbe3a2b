package generator

import (
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"sync"
	"time"

	"sheaf/generator/figure"
	"sheaf/generator/photo"
	"sheaf/generator/source"
)

// A Session builds one garden again and again while its files change. Only a
// file that changed is read and parsed again; what hangs on it is made anew.
type Session struct {
	garden string // its folder or its garden.yaml
	memory memory
}

// NewSession begins to build a garden: its folder or its garden.yaml.
func NewSession(garden string) *Session { return &Session{garden: garden} }

// Compose is [Compose] of the session's garden. The folders are opened for
// each build, since one may have been taken away and put back.
func (s *Session) Compose(o Options) (*Proof, source.Diagnostics, error) {
	folders, err := Open(s.garden)
	if err != nil {
		return nil, nil, err
	}
	defer folders.Close()
	o.Folders, o.memory = folders, &s.memory
	s.memory.begin()
	s.memory.folders = []string{folders.Disk("")}
	proof, ds, err := Compose(o)
	s.memory.whole = proof != nil
	return proof, ds, err
}

// Folders are where on the disk the last build read: the garden's folder first,
// then those of its libraries and of its theme but the shipped ones.
func (s *Session) Folders() []string { return s.memory.folders }

// PageOf gives the page of the web edition whose words are of one of the files,
// named by paths on the disk; "" when none is, or when there are several.
func (s *Session) PageOf(p *Proof, files []string) string {
	changed, page := absolute(files), ""
	for _, section := range p.press.book().Sections {
		if section.File == nil {
			continue
		}
		k := s.memory.files[section.File.Path]
		if k == nil || !changed[k.disk] {
			continue
		}
		if page != "" {
			return ""
		}
		page = section.ID + ".html"
	}
	return page
}

// Changed says which files may hold something else than when they were read,
// whatever their size and time say: paths of the disk, or none for all files.
func (s *Session) Changed(paths []string) {
	if len(paths) == 0 {
		s.memory.forget(func(string) bool { return true })
		return
	}
	changed := absolute(paths)
	s.memory.forget(func(p string) bool { return changed[p] })
}

func absolute(paths []string) map[string]bool {
	out := map[string]bool{}
	for _, p := range paths {
		if abs, err := filepath.Abs(p); err == nil {
			out[abs] = true
		}
	}
	return out
}

// memory keeps what files hold from one build of a session to the next. Three
// conditions make that right: what is kept is never changed by who gets it; it
// hangs on one file and nothing else; and all that could make a difference is
// compared: folder, name, kind and bytes. Diagnostics are kept with what was
// parsed and told again.
//
// A nil memory keeps nothing.
type memory struct {
	round int
	whole bool             // the last build came to its end
	files map[string]*kept // by the path that messages show
	shots map[string]*shot
	mu    sync.Mutex // of shots: photographs are read side by side

	folders []string // on the disk, that the last build read

	dressed  dressed // the theme of the last build
	sketches figure.Sketchbook
}

// kept is one file: its bytes, and what was made of them.
type kept struct {
	size  int64
	when  time.Time
	sure  bool   // as long as size and time are the same, so are the bytes
	round int    // of the build that last asked for it
	disk  string // its path on the disk

	file   *source.File
	kind   string // what it was parsed as
	parsed any    // nil when it was not
	found  source.Diagnostics
}

// shot is one photograph: what was in the file that had this size and time.
type shot struct {
	size    int64
	when    time.Time
	round   int
	disk    string
	picture *photo.Photo
}

// begin starts a build. What the build before did not ask for is forgotten, but
// only if that came to its end: a fault keeps a build from asking for much that
// the next will want again.
func (m *memory) begin() {
	if m.whole {
		maps.DeleteFunc(m.files, func(_ string, k *kept) bool { return k.round != m.round })
		maps.DeleteFunc(m.shots, func(_ string, s *shot) bool { return s.round != m.round })
		m.sketches.Turn()
		if p := m.dressed.paintings; p != nil {
			p.Turn()
		}
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

// path is where on the disk is a file of the folder.
func (d folder) path(name string) string { return filepath.Join(d.disk, filepath.FromSlash(name)) }

// file gives a file as it was read before, if it is as it was then; else nil.
func (m *memory) file(d folder, name string, info fs.FileInfo) *source.File {
	if m == nil {
		return nil
	}
	k := m.files[path.Join(d.name, name)]
	if k == nil || !k.sure || k.size != info.Size() || !k.when.Equal(info.ModTime()) {
		return nil
	}
	k.round = m.round
	return k.file
}

// keep remembers a file that was read. If its bytes are those that were there
// before, the file of then is given back, with what was made of it.
func (m *memory) keep(d folder, name string, info fs.FileInfo, f *source.File) *source.File {
	if m == nil {
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
	k.size, k.when, k.sure, k.round = info.Size(), info.ModTime(), true, m.round
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
	if s == nil || s.size != info.Size() || !s.when.Equal(info.ModTime()) {
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
	m.shots[path.Join(d.name, name)] = &shot{info.Size(), info.ModTime(), m.round, d.path(name), p}
}
