package generator

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"sheaf/content"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/photo"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// BuiltIn is the name of the shipped library in a garden's library list.
const BuiltIn = "built-in"

// Folders is where a build reads: the garden's folder and, by their names in
// garden.yaml, the library folders.
type Folders struct {
	Garden  fs.FS
	File    string // the garden file's name in Garden: "garden.yaml"
	Library func(name string) (fs.FS, error)
	// Theme opens a theme's folder; nil when only shipped ones can be had.
	Theme func(name string) (fs.FS, error)
	// Disk tells where a library or a theme is on the disk, or with "" the garden, as a whole
	// path; nil when they are not on one.
	Disk func(library string) string

	opened *[]*os.Root
}

// Open gives the folders of a garden on disk; garden is its folder or its
// garden.yaml. Files are opened within their folder only: a link that leads
// out of it is refused by the system.
func Open(garden string) (Folders, error) {
	file := "garden.yaml"
	if strings.HasSuffix(garden, ".yaml") || strings.HasSuffix(garden, ".yml") {
		garden, file = filepath.Dir(garden), filepath.Base(garden)
	}
	in := Folders{File: file, opened: new([]*os.Root)}
	base, err := filepath.Abs(garden)
	if err != nil {
		return in, err
	}
	in.Disk = func(library string) string {
		dir := filepath.FromSlash(library)
		if !filepath.IsAbs(dir) {
			dir = filepath.Join(base, dir)
		}
		return dir
	}
	open := func(dir string) (fs.FS, error) {
		root, err := os.OpenRoot(dir)
		if err != nil {
			return nil, err
		}
		*in.opened = append(*in.opened, root)
		return root.FS(), nil
	}
	in.Library = func(name string) (fs.FS, error) {
		if name == BuiltIn {
			return content.Library(), nil
		}
		return open(in.Disk(name))
	}
	in.Theme = func(name string) (fs.FS, error) { return open(in.Disk(name)) }
	in.Garden, err = open(garden)
	return in, err
}

// Close gives the folders back. What was read stays.
func (in Folders) Close() {
	if in.opened != nil {
		for _, root := range *in.opened {
			root.Close()
		}
	}
}

// A ReadFolder is one that a build read: files in it, and in the folders of
// these names.
type ReadFolder struct {
	Dir  string
	Into []string
}

// Limits of what is read: a hostile folder is refused before it fills memory.
// The shipped library has 300 files and 1 MB of text.
const (
	// largestText and largestList are one byte more than fields and garden take,
	// which then tell that a file is too large.
	largestText    = 1<<20 + 1
	largestList    = 8<<20 + 1
	mostFiles      = 20000
	largestLibrary = 64 << 20 // all texts of a library
)

// A folder is one that files are read from.
type folder struct {
	fs.FS
	name   string  // how messages call it, before the names of its files
	disk   string  // where it is on the disk; "" for nowhere
	memory *memory // what its files held before; nil for none
}

// path is where on the disk is a file of the folder.
func (d folder) path(name string) string { return filepath.Join(d.disk, filepath.FromSlash(name)) }

// garden is the garden's own folder.
func (o Options) garden() folder {
	d := folder{FS: o.Garden, memory: o.memory}
	if o.Disk != nil {
		d.disk = o.Disk("")
	}
	return d
}

// library opens a library by its name in garden.yaml.
func (o Options) library(name string) (folder, error) {
	fsys, err := o.Library(name)
	d := folder{FS: fsys, name: name, memory: o.memory}
	if o.Disk != nil && name != BuiltIn {
		d.disk = o.Disk(name)
		o.memory.folders = append(o.memory.folders, ReadFolder{d.disk, append(LibraryFolders(), "photos", spellings)})
	}
	return d, err
}

// builtIn is the library that comes with the program.
func builtIn() folder { return folder{FS: content.Library(), name: BuiltIn} }

// read takes one text, named in messages by the folder's name before it.
func (d folder) read(name string) (*source.File, error) { return d.readMost(name, largestText) }

// readMost is [folder.read] of no more than some bytes.
func (d folder) readMost(name string, most int64) (*source.File, error) {
	// The file system is asked itself: [fs.Stat] of the folder would open the
	// file, and a pipe opens when somebody writes to it.
	info, err := fs.Stat(d.FS, name)
	if err != nil {
		return nil, err
	}
	return d.readAs(name, info, most)
}

// readAs is [folder.readMost] of a file whose size and time are known.
func (d folder) readAs(name string, info fs.FileInfo, most int64) (*source.File, error) {
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a plain file", name)
	}
	if f := d.memory.file(d, name, info); f != nil {
		return f, nil
	}
	r, err := d.Open(name)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	text := bytes.NewBuffer(make([]byte, 0, min(info.Size(), most)+bytes.MinRead))
	// A file may have grown since its size was asked for.
	if _, err := text.ReadFrom(io.LimitReader(r, most)); err != nil {
		return nil, err
	}
	return d.memory.keep(d, name, info, source.NewFile(path.Join(d.name, name), lines(text.Bytes()))), nil
}

// lines gives a text whose lines end as on the first Macs, and as spreadsheets
// still save them, line feeds for its carriage returns: all else knows no other.
func lines(text []byte) []byte {
	if bytes.IndexByte(text, '\r') < 0 || bytes.ContainsAny(text, "\n\x00") {
		return text
	}
	return bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
}

// called is how messages call the folder.
func (d folder) called() string {
	if d.name == "" {
		return "the garden's folder"
	}
	return "the library " + d.name
}

// why says why a file cannot be read, in words that follow its name.
func (d folder) why(name string, err error) string {
	for at := name; at != "." && at != "/"; at = path.Dir(at) {
		link, fault := fs.Lstat(d.FS, at)
		if fault != nil || link.Mode()&fs.ModeSymlink == 0 {
			continue
		}
		if to, fault := fs.Stat(d.FS, at); fault != nil || at == name && !to.Mode().IsRegular() {
			it := at
			if at == name {
				it = "it"
			}
			return it + " is a link that leads nowhere, to no plain file or out of its folder"
		}
	}
	if at := (*fs.PathError)(nil); errors.As(err, &at) {
		return at.Err.Error()
	}
	return strings.Replace(err.Error(), name+" ", "it ", 1) // the place is told as for every message
}

// unreadable tells of a file that is there and cannot be read, and of no more.
func (d folder) unreadable(kind, name string, err error, ds *source.Diagnostics) {
	ds.Add(source.Error, kindOf(kind)+"/unreadable", source.Whole(source.NewFile(path.Join(d.name, name), nil)),
		"the file cannot be read: "+d.why(name, err), "put the file itself here, with leave to read it, or take it away")
}

// kindOf is how the codes of messages begin about files of a library's folder, or of
// the library itself.
func kindOf(dir string) string {
	kinds := map[string]string{"plants": "entry", "groups": "group", "jobs": "job", "regions": "region", "pages": "page"}
	return cmp.Or(kinds[dir], "library")
}

// written is a Markdown file that was found.
type written struct {
	name  string
	info  fs.FileInfo // nil for a link
	aside *aside      // nil for what is read
}

// markdown lists the Markdown files below a folder, and what is left aside there and
// should be told, in order.
func markdown(fsys fs.FS, dir string) ([]written, error) {
	if a := astray(fsys, dir); a != nil {
		return []written{{name: dir, aside: a}}, nil
	}
	var out []written
	err := fs.WalkDir(fsys, dir, func(p string, d fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil // there is no such folder, or it went while it was read
		case err != nil:
			return err
		case p != dir && strings.HasPrefix(d.Name(), "."):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case !d.IsDir():
			w := written{name: p}
			if !isMarkdown(p) {
				if w.aside = leftAside(fsys, p, d.Type()); w.aside == nil {
					return nil
				}
			} else if d.Type().IsRegular() {
				w.info, err = d.Info()
				if errors.Is(err, fs.ErrNotExist) {
					return nil
				} else if err != nil {
					return err
				}
			}
			out = append(out, w)
			if len(out) > mostFiles {
				return fmt.Errorf("%s holds more than %d files", dir, mostFiles)
			}
		}
		return nil
	})
	slices.SortFunc(out, func(a, b written) int { return strings.Compare(a.name, b.name) })
	return out, err
}

// have is what all shelves of a build hold.
type have struct {
	sums    map[[32]byte]bool // of their files
	shipped map[string]bool   // files of a copy that are as shipped, by their names
	authors Authors
}

func nothing() have { return have{map[[32]byte]bool{}, map[string]bool{}, Authors{}} }

// shelf reads and parses one library folder.
func (d folder) shelf(dirs []string, there have) (entries.Shelf, source.Diagnostics, error) {
	s := d.shelve(there)
	err := s.read(dirs)
	shelf, ds := s.done()
	return shelf, ds, err
}

// A shelving is a library on its way onto a shelf. Its files are parsed side by
// side, the first while others are still read: none looks at another.
type shelving struct {
	folder
	there   have
	glances bool          // entries are read by their names, and whole when they are wanted
	copy    *likeness     // to the shipped library; nil where it is not asked for
	shelf   entries.Shelf // without what is parsed
	found   source.Diagnostics
	files   []*parsing
	parsers sync.WaitGroup
}

// A parsing is a file and what it is parsed to.
type parsing struct {
	file  *source.File
	kind  string // the folder it is in, or [glanced]
	value any
	found source.Diagnostics
}

// shelve begins with the files that a library has once.
func (d folder) shelve(there have) *shelving {
	s := &shelving{folder: d, there: there}
	s.shelf.About = entries.About{WrittenFor: site.North}
	if f := d.maybe("library.yaml", &s.found); f != nil {
		s.shelf.About, s.found = entries.ParseAbout(f)
	}
	if f := d.maybe(spellings+"/"+entries.American+".yaml", &s.found); f != nil {
		var more source.Diagnostics
		s.shelf.Spelling, more = entries.ParseSpelling(f)
		s.found = append(s.found, more...)
	}
	if f := d.maybe(regulated, &s.found); f != nil && !there.sums[f.Sum] {
		var more source.Diagnostics
		s.shelf.Regulated, more = entries.ParseRegulated(f)
		s.found = append(s.found, more...)
		there.sums[f.Sum] = true
	}
	if f := d.maybe(pests, &s.found); f != nil {
		var more source.Diagnostics
		s.shelf.Pests, more = entries.ParsePests(f)
		s.found = append(s.found, more...)
	}
	return s
}

// read reads the Markdown files in folders of the library. A file whose bytes an
// earlier shelf has too is passed over: it would say the same under the same name,
// and the first found wins. What is read is added to what there is. Of a library that
// cannot be read to its end no file is told.
func (s *shelving) read(dirs []string) (err error) {
	defer func() {
		if err != nil {
			s.parsers.Wait()
			s.files = nil
		}
	}()
	size := 0
	sums := map[[32]byte]bool{}
	for _, dir := range dirs {
		glances := dir == "plants" && (s.glances || s.copy.whole("groups", "jobs", "regions", "pages"))
		found, err := markdown(s.FS, dir)
		if err != nil {
			return fmt.Errorf("%s: %w", s.called(), err)
		}
		for _, w := range found {
			if a := w.aside; a != nil {
				s.copy.differs(dir)
				s.found.Add(a.severity, kindOf(dir)+"/not-read", source.Whole(source.NewFile(path.Join(s.name, w.name), nil)), a.why, a.mend)
				continue
			}
			if s.name == BuiltIn && s.there.shipped[w.name] {
				continue // its bytes are those of a copy
			}
			var f *source.File
			if w.info != nil {
				f, err = s.readAs(w.name, w.info, largestText)
			} else {
				f, err = s.folder.read(w.name)
			}
			if errors.Is(err, fs.ErrNotExist) && w.info != nil {
				continue // it went after it was found
			} else if err != nil {
				s.copy.differs(dir)
				s.unreadable(dir, w.name, err, &s.found)
				if dir == "plants" {
					s.there.authors[path.Join(s.name, w.name)] = Author{File: w.name}
				}
				continue
			}
			if size += len(f.Text); size > largestLibrary {
				return fmt.Errorf("%s has more than %d MB of text", s.called(), largestLibrary>>20)
			}
			s.compare(dir, w.name, f)
			if sums[f.Sum] = true; !s.there.sums[f.Sum] {
				kind := dir
				if glances && (s.glances || s.there.shipped[w.name]) {
					kind = glanced
				}
				s.parse(kind, f)
			}
		}
	}
	maps.Copy(s.there.sums, sums)
	return nil
}

// parse begins to parse a file.
func (s *shelving) parse(kind string, f *source.File) {
	p := &parsing{file: f, kind: kind}
	s.files = append(s.files, p)
	if p.value, p.found = s.memory.made(f, kind); p.value != nil {
		return
	}
	if kind == glanced {
		// What was read whole is more than was asked for.
		if p.value, p.found = s.memory.made(f, "plants"); p.value != nil {
			p.kind = "plants"
			return
		}
	}
	s.parsers.Go(func() {
		if kind == glanced {
			if e, ok := entries.Glance(f); ok {
				p.value = e
				return
			}
			p.kind = "plants"
		}
		p.value, p.found = parse(p.kind, f)
	})
}

// whole parses the files of entries that were glanced at, and gives them to the
// hemisphere and the words of the garden as their shelf was.
func (s *shelving) whole(files []*source.File, of entries.Shelf, as func(entries.Shelf) entries.Shelf) []*entries.Entry {
	shelf := entries.Shelf{About: of.About, Spelling: of.Spelling, Entries: make([]*entries.Entry, len(files))}
	var all sync.WaitGroup
	for i, f := range files {
		all.Go(func() {
			e := *s.memory.entry(f)
			e.WrittenFor = of.WrittenFor
			shelf.Entries[i] = &e
		})
	}
	all.Wait()
	return as(shelf).Entries
}

// place waits for the last file and puts all in their order on the shelf.
func (s *shelving) place() {
	s.parsers.Wait()
	s.doubt()
	for _, p := range s.files {
		s.memory.keepMade(p.file, p.kind, p.value, p.found)
		switch v := p.value.(type) {
		case *entries.Entry:
			// A copy, since the folder's hemisphere and photographs come to it.
			e := *v
			if v.Photo != nil {
				photo := *v.Photo
				e.Photo = &photo
			}
			s.shelf.Entries = append(s.shelf.Entries, &e)
		case *entries.Group:
			s.shelf.Groups = append(s.shelf.Groups, v)
		case *entries.Job:
			s.shelf.Jobs = append(s.shelf.Jobs, v)
		case *entries.Region:
			s.shelf.Regions = append(s.shelf.Regions, v)
		case *entries.Page:
			s.shelf.Pages = append(s.shelf.Pages, v)
		}
		s.found = append(s.found, p.found...)
	}
	s.files = nil // a shelving lives as long as its library, which has copies of all
}

// done gives the shelf with all that is on it.
func (s *shelving) done() (entries.Shelf, source.Diagnostics) {
	s.place()
	for _, g := range s.shelf.Groups {
		g.WrittenFor = s.shelf.WrittenFor
	}
	for _, e := range s.shelf.Entries {
		e.WrittenFor = s.shelf.WrittenFor
		s.there.authors[e.File.Path] = Author{e.Contributor, strings.TrimPrefix(e.File.Path, path.Clean(s.name)+"/"), e}
		if e.Photo != nil {
			s.locate(e.Photo, "entry/photo", &s.found)
		}
	}
	return s.shelf, s.found
}

// spellings is the folder in which a library lists words of another English.
const spellings = "spellings"

// Beside the regions a library lists the plants that are regulated and the pests
// that are not everywhere.
const (
	regulated = "regions/regulated.yaml"
	pests     = "regions/pests.yaml"
)

// maybe reads a file that a folder need not have; nil when it has none.
func (d folder) maybe(name string, ds *source.Diagnostics) *source.File {
	f, err := d.read(name)
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			d.unreadable("", name, err, ds)
		}
		return nil
	}
	return f
}

// locate looks for the file of a photograph in the folder's photos.
func (d folder) locate(p *entries.Photo, code string, ds *source.Diagnostics) {
	if p.File.Value == "" {
		return // told where it was parsed
	}
	name := path.Join("photos", p.File.Value)
	switch info, err := fs.Stat(d.FS, name); {
	case err != nil || !info.Mode().IsRegular():
		ds.Add(source.Error, code, p.File.Span, fmt.Sprintf("the photograph %q cannot be read", p.File.Value), "it belongs into the photos folder beside plants")
	case info.Size() > photo.LargestFile:
		ds.Add(source.Error, code, p.File.Span, fmt.Sprintf("the photograph %q has more than %d MB", p.File.Value, photo.LargestFile>>20))
	default:
		p.Develop = func() (*photo.Photo, error) { return d.develop(name, info) }
	}
}

// develop decodes a photograph.
func (d folder) develop(name string, info fs.FileInfo) (*photo.Photo, error) {
	if p := d.memory.picture(d, name, info); p != nil {
		return p, nil
	}
	data, err := fs.ReadFile(d.FS, name)
	if err != nil {
		return nil, err
	}
	p, err := photo.Read(data)
	if err == nil {
		d.memory.keepPicture(d, name, info, p)
	}
	return p, err
}

// mostPhotos of a booklet: each is kept, with up to 8 MB.
const mostPhotos = 300

// develop reads the photographs of what is planted; a library may hold many
// more. Two at a time are decoded, as one may take some hundred megabytes.
func develop(g *garden.Garden, plantings []garden.Planting) source.Diagnostics {
	var wanted []*entries.Photo
	for i := range plantings {
		if p := plantings[i].Photo; p != nil && p.Develop != nil && p.Picture == nil && !slices.Contains(wanted, p) {
			wanted = append(wanted, p)
		}
	}
	if len(wanted) > mostPhotos {
		var ds source.Diagnostics
		ds.Add(source.Error, "garden/too-much", wanted[mostPhotos].File.Span, fmt.Sprintf("the garden has %d photographs; a booklet shows at most %d", len(wanted), mostPhotos), "leave out those of plants that everybody knows")
		return ds
	}
	faults := make([]error, len(wanted))
	var all sync.WaitGroup
	free := make(chan struct{}, 2)
	for i, p := range wanted {
		all.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			p.Picture, faults[i] = p.Develop()
		})
	}
	all.Wait()
	var ds source.Diagnostics
	for i, p := range wanted {
		if faults[i] != nil {
			code := "entry/photo"
			if p.File.Span.File == g.File {
				code = "garden/photo"
			}
			ds.Add(source.Error, code, p.File.Span, faults[i].Error())
		}
	}
	return ds
}

// parse reads one file by the folder it is in.
func parse(kind string, f *source.File) (any, source.Diagnostics) {
	switch kind {
	case "plants":
		return entries.ParseEntry(f)
	case "groups":
		return entries.ParseGroup(f)
	case "jobs":
		return entries.ParseJob(f)
	case "regions":
		return entries.ParseRegion(f)
	}
	return entries.ParsePage(f)
}

// LibraryFolders are the folders of a library that are read.
func LibraryFolders() []string { return []string{"plants", "groups", "jobs", "regions", "pages"} }

// libraries reads all libraries a garden names, its own entries first.
func (o Options) libraries(g *garden.Garden) (*entries.Library, Authors, source.Diagnostics, error) {
	there := nothing()
	own := o.garden().shelve(there)
	begun := []*shelving{own}
	whole := g.Kind == garden.Guide // which chooses among whole entries
	err := own.read([]string{"plants", "groups"})
	wanted := g.Libraries
	if wanted == nil {
		wanted = []source.At[string]{{Value: BuiltIn, Span: g.Span}}
	}
	var closed source.Diagnostics
	for i, w := range wanted {
		if err != nil {
			break
		}
		d, missing := o.library(w.Value)
		if missing != nil {
			closed.Add(source.Error, "garden/no-library", w.Span, fmt.Sprintf("the library folder %q cannot be opened", w.Value),
				"folders are named from the garden's own folder; built-in is the shipped library")
			continue
		}
		s := d.shelve(there)
		switch {
		case whole:
		case w.Value == BuiltIn:
			s.glances = true // its entries have no faults to tell
		case i == 0 && s.shelf.WrittenFor == site.North && !own.has("groups"):
			s.copy = &likeness{}
		}
		begun = append(begun, s)
		err = s.read(s.order())
	}
	var shelves []entries.Shelf
	var ds source.Diagnostics
	for _, s := range begun {
		shelf, more := s.done()
		shelves = append(shelves, shelf)
		ds = append(ds, more...)
	}
	ds = append(ds, closed...)
	if err != nil {
		return nil, nil, ds, err
	}
	found := slices.Clone(shelves)
	turned := func(s entries.Shelf) entries.Shelf {
		if s.WrittenFor != g.Place.Hemisphere() {
			return s.Turned()
		}
		return s
	}
	for i, s := range shelves {
		shelves[i] = turned(s)
	}
	as := o.worded(g, shelves)
	for i, s := range begun {
		if i > 0 {
			shelves[i] = as(shelves[i])
		}
		if s.glances || s.copy != nil {
			shelves[i].Fill = func(files []*source.File) []*entries.Entry {
				return s.whole(files, found[i], func(s entries.Shelf) entries.Shelf { return as(turned(s)) })
			}
		}
	}
	l, more := entries.Assemble(shelves)
	return l, there.authors, append(ds, more...), nil
}

// worded gives what writes a library in the English and the units of a garden, which
// are those of its country where it says nothing. The first shelf is the garden's
// own: its words are left alone.
func (o Options) worded(g *garden.Garden, shelves []entries.Shelf) func(entries.Shelf) entries.Shelf {
	known := false
	for _, s := range shelves {
		// The first found of each name wins.
		if i := slices.IndexFunc(s.Regions, func(r *entries.Region) bool { return r.Code == g.Country }); i >= 0 {
			settle(g, s.Regions[i])
			known = true
			break
		}
	}
	// Of pests that are not known in the country nothing is said, but by the garden.
	var absent []*entries.Pest
	if known {
		absent = entries.Absent(shelves, g.Country)
	}
	var ours *entries.Spelling
	american := strings.EqualFold(languageOf(g), entries.American)
	if american {
		ours = ourSpelling()
	}
	return func(s entries.Shelf) entries.Shelf {
		s = s.Without(absent)
		var spelling *entries.Spelling
		if american {
			spelling = s.Spelling.Over(ours)
		}
		return s.Worded(spelling, g.Units, o.memory.worded())
	}
}

// settle gives a garden what its country decides and it does not.
func settle(g *garden.Garden, r *entries.Region) {
	if g.Paper == "" {
		g.Paper = r.Paper
	}
	if !g.UnitsGiven {
		g.Units = r.Units
	}
}

// ourSpelling is the list of American words that comes with the program: for any
// library in British English.
func ourSpelling() *entries.Spelling {
	f, err := builtIn().read(spellings + "/" + entries.American + ".yaml")
	if err != nil {
		return nil
	}
	s, _ := entries.ParseSpelling(f) // told, if anything is wrong, when the library is read
	return s
}

// CheckFiles parses single library files and holds them to the checks, beside
// the shipped library. A file's kind is told by the folder it lies in (plants,
// groups, jobs, regions, pages); one that lies in none is an entry.
func CheckFiles(paths []string) (Authors, source.Diagnostics, error) {
	var own entries.Shelf
	authors := Authors{}
	var ds source.Diagnostics
	for _, p := range paths {
		root, err := os.OpenRoot(filepath.Dir(p))
		if err != nil {
			return nil, nil, err
		}
		d := folder{FS: root.FS(), name: filepath.ToSlash(filepath.Dir(p))}
		f, err := d.read(filepath.Base(p))
		if err != nil {
			err = fmt.Errorf("%s cannot be read: %s", p, d.why(filepath.Base(p), err))
		}
		root.Close()
		if err != nil {
			return nil, nil, err
		}
		dir, within := "plants", filepath.Base(p)
		parts := strings.Split(filepath.ToSlash(p), "/")
		for i, part := range parts {
			if slices.Contains(LibraryFolders(), part) {
				dir, within = part, strings.Join(parts[i:], "/")
			}
		}
		s := shelving{folder: d, shelf: own}
		s.parse(dir, f)
		s.place()
		own, ds = s.shelf, append(ds, s.found...)
		if dir == "plants" {
			e := own.Entries[len(own.Entries)-1]
			authors[f.Path] = Author{e.Contributor, within, e}
		}
	}
	ours, more, err := builtIn().shelf(LibraryFolders(), nothing())
	if err != nil {
		return nil, nil, err
	}
	for _, e := range own.Entries {
		if len(e.Body) == 0 {
			ds.Add(source.Note, "entry/no-words", source.Whole(e.File), "nothing is said of the plant yet", "below the front matter: what it looks like, why it is cared for so, and what to expect")
		}
	}
	_, joined := entries.Assemble([]entries.Shelf{own, ours})
	return authors, append(ds, append(more, joined...)...), nil
}
