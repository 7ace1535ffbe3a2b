package generator

import (
	"errors"
	"fmt"
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
}

// Open gives the folders of a garden on disk; garden is its folder or its
// garden.yaml. Files are opened within their folder only: a link that leads
// out of it is refused by the system.
func Open(garden string) (Folders, error) {
	file := "garden.yaml"
	if strings.HasSuffix(garden, ".yaml") || strings.HasSuffix(garden, ".yml") {
		garden, file = filepath.Dir(garden), filepath.Base(garden)
	}
	root, err := os.OpenRoot(garden)
	if err != nil {
		return Folders{}, err
	}
	return Folders{
		Garden: root.FS(),
		File:   file,
		Library: func(name string) (fs.FS, error) {
			if name == BuiltIn {
				return content.Library(), nil
			}
			dir := filepath.FromSlash(name)
			if !filepath.IsAbs(dir) {
				dir = filepath.Join(garden, dir)
			}
			root, err := os.OpenRoot(dir)
			if err != nil {
				return nil, err
			}
			return root.FS(), nil
		},
	}, nil
}

// Limits of what is read: a hostile folder is refused before it fills memory.
const (
	largestFile = 2 << 20
	mostFiles   = 50000
)

// read takes one file, named in messages by the folder's name before it.
func read(fsys fs.FS, folder, name string) (*source.File, error) {
	info, err := fs.Stat(fsys, name)
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is not a plain file", name)
	case info.Size() > largestFile*4:
		return nil, fmt.Errorf("%s is larger than %d MB", name, largestFile*4>>20)
	}
	text, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, err
	}
	return source.NewFile(path.Join(folder, name), text), nil
}

// markdown lists the Markdown files below a folder, in order.
func markdown(fsys fs.FS, dir string) ([]string, error) {
	var out []string
	err := fs.WalkDir(fsys, dir, func(p string, d fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist) && p == dir:
			return fs.SkipAll
		case err != nil:
			return err
		case p != dir && strings.HasPrefix(d.Name(), "."):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case !d.IsDir() && strings.HasSuffix(p, ".md"):
			out = append(out, p)
			if len(out) > mostFiles {
				return fmt.Errorf("%s holds more than %d files", dir, mostFiles)
			}
		}
		return nil
	})
	slices.Sort(out)
	return out, err
}

// shelf reads and parses one library folder. A file whose bytes an earlier
// shelf has too is passed over: it would say the same under the same name, and
// the first found wins. seen holds their sums and is added to.
func shelf(fsys fs.FS, folder string, dirs []string, seen map[[32]byte]bool) (entries.Shelf, source.Diagnostics, error) {
	var s entries.Shelf
	var ds source.Diagnostics
	hemisphere := site.North
	about, err := read(fsys, folder, "library.yaml")
	switch {
	case err == nil:
		hemisphere, ds = entries.ParseAbout(about)
	case !errors.Is(err, fs.ErrNotExist):
		return s, ds, fmt.Errorf("library %s: %w", folder, err)
	}
	var files []*source.File
	var kinds []string
	sums := map[[32]byte]bool{}
	for _, dir := range dirs {
		names, err := markdown(fsys, dir)
		if err != nil {
			return s, ds, fmt.Errorf("library %s: %w", folder, err)
		}
		for _, name := range names {
			f, err := read(fsys, folder, name)
			if err != nil {
				return s, ds, fmt.Errorf("library %s: %w", folder, err)
			}
			if sums[f.Sum] = true; !seen[f.Sum] {
				files, kinds = append(files, f), append(kinds, dir)
			}
		}
	}
	maps.Copy(seen, sums)
	ds = append(ds, place(&s, kinds, files)...)
	s.WrittenFor = hemisphere
	for _, e := range s.Entries {
		e.WrittenFor = hemisphere
		if e.Photo != nil {
			locate(fsys, e.Photo, "entry/photo", &ds)
		}
	}
	return s, ds, nil
}

// locate looks for the file of a photograph in the photos folder of fsys.
func locate(fsys fs.FS, p *entries.Photo, code string, ds *source.Diagnostics) {
	if p.File.Value == "" {
		return // told where it was parsed
	}
	switch info, err := fs.Stat(fsys, path.Join("photos", p.File.Value)); {
	case err != nil || !info.Mode().IsRegular():
		ds.Add(source.Error, code, p.File.Span, fmt.Sprintf("the photograph %q cannot be read", p.File.Value), "it belongs into the photos folder beside plants")
	case info.Size() > photo.LargestFile:
		ds.Add(source.Error, code, p.File.Span, fmt.Sprintf("the photograph %q has more than %d MB", p.File.Value, photo.LargestFile>>20))
	default:
		p.Folder = fsys
	}
}

// develop reads the photographs of what is planted; a library may hold many
// more. Two at a time are decoded, as one may take some hundred megabytes.
func develop(g *garden.Garden, plantings []garden.Planting) source.Diagnostics {
	var wanted []*entries.Photo
	for i := range plantings {
		if p := plantings[i].Photo; p != nil && p.Folder != nil && p.Picture == nil && !slices.Contains(wanted, p) {
			wanted = append(wanted, p)
		}
	}
	faults := make([]error, len(wanted))
	var all sync.WaitGroup
	free := make(chan struct{}, 2)
	for i, p := range wanted {
		all.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			data, err := fs.ReadFile(p.Folder, path.Join("photos", p.File.Value))
			if err == nil {
				p.Picture, err = photo.Read(data)
			}
			faults[i] = err
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

// place parses files by the folders they are in and puts them on the shelf, in
// their order. Files are parsed side by side: none looks at another.
func place(s *entries.Shelf, kinds []string, files []*source.File) source.Diagnostics {
	parsed := make([]func() source.Diagnostics, len(files)) // puts its file on the shelf
	var all sync.WaitGroup
	for i, f := range files {
		all.Go(func() { parsed[i] = parse(s, kinds[i], f) })
	}
	all.Wait()
	var ds source.Diagnostics
	for _, put := range parsed {
		ds = append(ds, put()...)
	}
	return ds
}

// parse reads one file and gives what puts it on the shelf.
func parse(s *entries.Shelf, kind string, f *source.File) func() source.Diagnostics {
	switch kind {
	case "plants":
		e, ds := entries.ParseEntry(f)
		return func() source.Diagnostics { s.Entries = append(s.Entries, e); return ds }
	case "groups":
		g, ds := entries.ParseGroup(f)
		return func() source.Diagnostics { s.Groups = append(s.Groups, g); return ds }
	case "jobs":
		j, ds := entries.ParseJob(f)
		return func() source.Diagnostics { s.Jobs = append(s.Jobs, j); return ds }
	case "regions":
		r, ds := entries.ParseRegion(f)
		return func() source.Diagnostics { s.Regions = append(s.Regions, r); return ds }
	default:
		p, ds := entries.ParsePage(f)
		return func() source.Diagnostics { s.Pages = append(s.Pages, p); return ds }
	}
}

func libraryFolders() []string { return []string{"plants", "groups", "jobs", "regions", "pages"} }

// Library reads all libraries a garden names, its own entries first.
func (in Folders) library(g *garden.Garden) (*entries.Library, source.Diagnostics, error) {
	seen := map[[32]byte]bool{}
	own, ds, err := shelf(in.Garden, "", []string{"plants", "groups"}, seen)
	if err != nil {
		return nil, ds, err
	}
	shelves := []entries.Shelf{own}
	wanted := g.Libraries
	if wanted == nil {
		wanted = []source.At[string]{{Value: BuiltIn, Span: g.Span}}
	}
	for _, w := range wanted {
		fsys, err := in.Library(w.Value)
		if err != nil {
			ds.Add(source.Error, "garden/no-library", w.Span, fmt.Sprintf("the library folder %q cannot be opened", w.Value),
				"folders are named from the garden's own folder; built-in is the shipped library")
			continue
		}
		s, more, err := shelf(fsys, w.Value, libraryFolders(), seen)
		ds = append(ds, more...)
		if err != nil {
			return nil, ds, err
		}
		shelves = append(shelves, s)
	}
	for i, s := range shelves {
		if s.WrittenFor != g.Place.Hemisphere() {
			shelves[i] = s.Turned()
		}
	}
	l, more := entries.Assemble(shelves)
	return l, append(ds, more...), nil
}

// CheckFiles parses single library files and holds them to the checks, beside
// the shipped library. A file's kind is told by the folder it lies in (plants,
// groups, jobs, regions, pages); one that lies in none is an entry.
func CheckFiles(paths []string) (source.Diagnostics, error) {
	var own entries.Shelf
	var ds source.Diagnostics
	for _, p := range paths {
		root, err := os.OpenRoot(filepath.Dir(p))
		if err != nil {
			return nil, err
		}
		f, err := read(root.FS(), filepath.ToSlash(filepath.Dir(p)), filepath.Base(p))
		root.Close()
		if err != nil {
			return nil, err
		}
		dir := "plants"
		for _, part := range strings.Split(filepath.ToSlash(p), "/") {
			if slices.Contains(libraryFolders(), part) {
				dir = part
			}
		}
		ds = append(ds, place(&own, []string{dir}, []*source.File{f})...)
	}
	shipped, more, err := shelf(content.Library(), BuiltIn, libraryFolders(), map[[32]byte]bool{})
	if err != nil {
		return nil, err
	}
	for _, e := range own.Entries {
		if len(e.Body) == 0 {
			ds.Add(source.Note, "entry/no-words", source.Whole(e.File), "nothing is said of the plant yet", "below the front matter: what it looks like, why it is cared for so, and what to expect")
		}
	}
	_, joined := entries.Assemble([]entries.Shelf{own, shipped})
	return append(ds, append(more, joined...)...), nil
}
