package generator

import (
	"path/filepath"

	"sheaf/generator/source"
)

// A Session builds one garden again and again while its files change. Only a
// file that changed is read and parsed again; what hangs on it is made anew.
type Session struct {
	garden string // its folder or its garden.yaml
	memory memory
}

// NewSession begins to build a garden: its folder or its garden.yaml.
func NewSession(garden string) *Session {
	return &Session{garden: garden, memory: memory{session: true}}
}

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
	proof, ds, err := Compose(o)
	s.memory.whole = proof != nil
	return proof, ds, err
}

// Folders are where on the disk the last build read, or would have read if it
// had found anything: the garden's folder first, then those of its libraries and
// of its theme but the shipped ones.
func (s *Session) Folders() []ReadFolder { return s.memory.folders }

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
