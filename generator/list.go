package generator

import (
	"bytes"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"sheaf/content"
	"sheaf/generator/garden"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// A ListGarden is a garden that is nowhere but in a plant list: what [StartGarden]
// would write into a folder, kept in memory.
type ListGarden struct {
	Folders
	Name  string // of the garden, after the list's
	Slug  string // the name of a folder for it, or for what is made of it
	Sheet string // of the workbook, as asked for
	Date  site.Day
	Beds  []string
}

// OpenList reads a plant list as [StartGarden] does, and gives the garden that it would
// begin. It is nil if the list has errors. Nothing is written, and nothing that lies
// beside the list is read.
func OpenList(r GardenRequest) (*ListGarden, source.Diagnostics, error) {
	in, ds, err := r.read("")
	if in == nil {
		return nil, ds, err
	}
	g := &ListGarden{Slug: slugOf(filepath.Base(r.List)), Sheet: r.Sheet, Date: site.Date(r.Now.Date()), Beds: garden.BedsOf(in.rows)}
	if g.Name, err = titled(g.Slug); err != nil {
		return nil, ds, err
	}
	b := garden.Beginning{Name: g.Name, List: in.name, Sheet: r.Sheet, Date: g.Date, Beds: g.Beds}
	g.Folders = Folders{
		Garden: drafted{"garden.yaml": b.Draft(), in.name: in.file.Text},
		File:   "garden.yaml",
		Library: func(name string) (fs.FS, error) {
			if name != BuiltIn {
				return nil, fs.ErrNotExist
			}
			return content.Library(), nil
		},
	}
	return g, nil, nil
}

// Untold drops of what a build tells what is about the garden.yaml that nobody wrote
// and is only a matter of what was assumed; a fault of it is told without its place.
func (g *ListGarden) Untold(ds source.Diagnostics) source.Diagnostics {
	var out source.Diagnostics
	for _, d := range ds {
		if d.Span.File != nil && d.Span.File.Path == g.File {
			if d.Severity != source.Error {
				continue
			}
			d.Span = source.Span{}
		}
		out = append(out, d)
	}
	return out
}

// slugOf is the name of a list's file without its ending.
func slugOf(list string) string {
	name := strings.TrimSpace(strings.TrimSuffix(list, filepath.Ext(list)))
	if strings.Trim(name, "-. ") == "" {
		return "garden"
	}
	return name
}

// drafted are files that are nowhere on the disk, by their names.
type drafted map[string][]byte

// Open implements [fs.FS].
func (d drafted) Open(name string) (fs.File, error) {
	text, ok := d[name]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &draftedFile{bytes.NewReader(text), draftedInfo{name, int64(len(text))}}, nil
}

type draftedFile struct {
	*bytes.Reader
	info draftedInfo
}

func (f *draftedFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *draftedFile) Close() error               { return nil }

type draftedInfo struct {
	name string
	size int64
}

func (i draftedInfo) Name() string       { return i.name }
func (i draftedInfo) Size() int64        { return i.size }
func (i draftedInfo) Mode() fs.FileMode  { return 0o444 }
func (i draftedInfo) ModTime() time.Time { return time.Time{} }
func (i draftedInfo) IsDir() bool        { return false }
func (i draftedInfo) Sys() any           { return nil }
