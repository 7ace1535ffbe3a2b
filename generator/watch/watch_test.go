package watch_test

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"sheaf/generator/watch"
)

// A mirror reads again what batches name, and nothing else: what it holds must
// become what is on the disk. It stands for every reader of the package.
type mirror struct {
	*testing.T
	w     *watch.Watcher
	roots []watch.Root
	files map[watch.Change]string
	told  map[watch.Change]bool
	all   bool // a batch of everything came
	sent  int  // batches
	errs  []error
}

// patience is how long a test waits for what must come; it says nothing of how
// soon it comes.
const patience = 30 * time.Second

func start(t *testing.T, o watch.Options, roots ...watch.Root) *mirror {
	ctx, stop := context.WithCancel(t.Context())
	m := &mirror{T: t, w: watch.Start(ctx, roots, o), roots: roots, files: map[watch.Change]string{}}
	m.forget()
	t.Cleanup(func() {
		stop()
		for range m.w.Batches {
		}
	})
	m.readAll()
	return m
}

func (m *mirror) forget() { m.told, m.all, m.sent = map[watch.Change]bool{}, false, 0 }

func (m *mirror) readAll() { m.files = m.disk() }

// disk is what a build would read: texts below the roots.
func (m *mirror) disk() map[watch.Change]string {
	files := map[watch.Change]string{}
	for _, r := range m.roots {
		fsys := os.DirFS(r.Dir)
		fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
			if err != nil {
				return nil
			}
			if d.IsDir() {
				skipped := slices.ContainsFunc(r.Skip, func(s string) bool { return s == filepath.Join(r.Dir, filepath.FromSlash(p)) })
				if skipped || p != "." && strings.HasPrefix(d.Name(), ".") ||
					r.Into != nil && p != "." && !strings.Contains(p, "/") && !slices.Contains(r.Into, p) {
					return fs.SkipDir
				}
				return nil
			}
			if strings.HasSuffix(p, ".md") {
				if data, err := fs.ReadFile(fsys, p); err == nil {
					files[watch.Change{Root: r.Dir, Path: p}] = string(data)
				}
			}
			return nil
		})
	}
	return files
}

func (m *mirror) take(b watch.Batch) {
	m.sent++
	if b.Err != nil {
		m.errs = append(m.errs, b.Err)
	}
	for _, c := range b.Changes {
		m.told[c] = true
		if !strings.HasSuffix(c.Path, ".md") {
			continue
		}
		data, err := os.ReadFile(filepath.Join(c.Root, filepath.FromSlash(c.Path)))
		if err != nil {
			delete(m.files, c)
		} else {
			m.files[c] = string(data)
		}
	}
	if b.Everything {
		m.all = true
		m.readAll()
	}
}

// until takes batches until ok holds.
func (m *mirror) until(what string, ok func() bool) {
	m.Helper()
	end := time.After(patience)
	for !ok() {
		select {
		case b, open := <-m.w.Batches:
			if !open {
				m.Fatalf("%s: the channel was closed", what)
			}
			m.take(b)
		case <-end:
			m.Fatalf("%s: not within %v; told %v, everything %v", what, patience, slices.Collect(maps.Keys(m.told)), m.all)
		}
	}
}

// same waits until the mirror holds what is on the disk.
func (m *mirror) same() {
	m.Helper()
	m.until("the mirror and the disk", func() bool { return maps.Equal(m.files, m.disk()) })
}

// calm writes a last file into the first root and waits until it is told:
// whatever happened before it has then been told too.
func (m *mirror) calm() {
	m.Helper()
	last := watch.Change{Root: m.roots[0].Dir, Path: "last.md"}
	delete(m.told, last)
	write(m, filepath.Join(last.Root, last.Path), fmt.Sprint(rand.Int()))
	m.until("the last file", func() bool { return m.told[last] })
	delete(m.told, last)
}

// only fails if anything but the named files of the first root was told.
func (m *mirror) only(names ...string) {
	m.Helper()
	if m.all {
		m.Error("everything was told")
	}
	for c := range m.told {
		if c.Root != m.roots[0].Dir || !slices.Contains(names, c.Path) {
			m.Errorf("%v was told", c)
		}
	}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func write(t testing.TB, name, text string) {
	t.Helper()
	must(t, os.WriteFile(name, []byte(text), 0o644))
}

// garden makes a folder with a few files as gardens have them.
func garden(t *testing.T) string {
	dir := t.TempDir()
	for _, d := range []string{"plants/grasses", "groups", "photos"} {
		must(t, os.MkdirAll(filepath.Join(dir, filepath.FromSlash(d)), 0o755))
	}
	write(t, filepath.Join(dir, "garden.md"), "name: Long border\n")
	for i := range 12 {
		write(t, filepath.Join(dir, "plants", "grasses", fmt.Sprintf("grass-%d.md", i)), fmt.Sprintf("grass %d\n", i))
	}
	return dir
}

// both runs a test by both ways of watching.
func both(t *testing.T, run func(*testing.T, watch.Options)) {
	t.Run("system", func(t *testing.T) { t.Parallel(); run(t, watch.Options{}) })
	t.Run("poll", func(t *testing.T) {
		t.Parallel()
		run(t, watch.Options{Poll: true, Every: 10 * time.Millisecond})
	})
}

// TestSaving saves one file in each of the ways that editors have.
func TestSaving(t *testing.T) {
	ways := []struct {
		name string
		save func(t *testing.T, file string)
	}{
		{"overwrite", func(t *testing.T, file string) { write(t, file, "new\n") }},
		{"truncate and write later", func(t *testing.T, file string) {
			f, err := os.Create(file)
			must(t, err)
			time.Sleep(30 * time.Millisecond)
			_, err = f.WriteString("new ")
			must(t, err)
			time.Sleep(30 * time.Millisecond)
			_, err = f.WriteString("text\n")
			must(t, err)
			must(t, f.Close())
		}},
		{"write beside and rename over", func(t *testing.T, file string) {
			write(t, file+".tmp", "new\n")
			must(t, os.Rename(file+".tmp", file))
		}},
		{"rename over from a hidden name", func(t *testing.T, file string) {
			hidden := filepath.Join(filepath.Dir(file), ".new")
			write(t, hidden, "new\n")
			must(t, os.Rename(hidden, file))
		}},
		{"back up and swap", func(t *testing.T, file string) {
			must(t, os.Rename(file, file+"~"))
			write(t, file, "new\n")
			must(t, os.Remove(file+"~"))
		}},
		{"back up, swap and dawdle", func(t *testing.T, file string) {
			must(t, os.Rename(file, file+"~"))
			time.Sleep(200 * time.Millisecond)
			write(t, file, "new\n")
			must(t, os.Remove(file+"~"))
		}},
		{"try, lock and swap", func(t *testing.T, file string) {
			dir := filepath.Dir(file)
			write(t, filepath.Join(dir, "4913"), "")
			must(t, os.Remove(filepath.Join(dir, "4913")))
			write(t, filepath.Join(dir, ".grass-3.md.swp"), "lock")
			must(t, os.Rename(file, file+"~"))
			write(t, file, "new\n")
			must(t, os.Remove(file+"~"))
			must(t, os.Remove(filepath.Join(dir, ".grass-3.md.swp")))
		}},
		{"save twice", func(t *testing.T, file string) {
			write(t, file, "new\n")
			time.Sleep(3 * time.Millisecond)
			write(t, file, "newer\n")
		}},
		{"delete", func(t *testing.T, file string) { must(t, os.Remove(file)) }},
		{"delete and restore", func(t *testing.T, file string) {
			must(t, os.Remove(file))
			time.Sleep(150 * time.Millisecond)
			write(t, file, "restored\n")
		}},
		{"vim, backup by renaming", vim("set backup backupcopy=no swapfile")},
		{"vim, backup by copying", vim("set backup backupcopy=yes swapfile")},
	}
	for _, way := range ways {
		t.Run(way.name, func(t *testing.T) {
			both(t, func(t *testing.T, o watch.Options) {
				dir := garden(t)
				m := start(t, o, watch.Root{Dir: dir})
				way.save(t, filepath.Join(dir, "plants", "grasses", "grass-3.md"))
				m.same()
				m.calm()
				m.same()
				m.only("plants/grasses/grass-3.md")
				if len(m.told) != 1 {
					t.Error("the file was not told by its name")
				}
			})
		})
	}
}

// vim saves with the real editor, if there is one.
func vim(set string) func(*testing.T, string) {
	return func(t *testing.T, file string) {
		if _, err := exec.LookPath("vim"); err != nil {
			t.Skip("no vim")
		}
		out, err := exec.Command("vim", "-es", "-u", "NONE", "-c", set, "-c", "1s/^/new /", "-c", "wq", file).CombinedOutput()
		if err != nil {
			t.Fatalf("vim: %v\n%s", err, out)
		}
	}
}

// TestFolders moves whole folders about.
func TestFolders(t *testing.T) {
	moves := []struct {
		name string
		all  bool // the system's watcher must call it everything
		do   func(t *testing.T, dir string)
	}{
		{"a new folder with a file", false, func(t *testing.T, dir string) {
			must(t, os.Mkdir(filepath.Join(dir, "plants", "ferns"), 0o755))
			write(t, filepath.Join(dir, "plants", "ferns", "fern.md"), "fern\n")
		}},
		{"new folders in new folders", false, func(t *testing.T, dir string) {
			for i := range 5 {
				deep := filepath.Join(dir, "plants", fmt.Sprint("a", i), "b", "c", "d")
				must(t, os.MkdirAll(deep, 0o755))
				write(t, filepath.Join(deep, "fern.md"), "fern\n")
				write(t, filepath.Join(filepath.Dir(deep), "moss.md"), "moss\n")
			}
		}},
		{"a folder moved in", false, func(t *testing.T, dir string) {
			from := filepath.Join(t.TempDir(), "ferns")
			must(t, os.MkdirAll(filepath.Join(from, "hardy"), 0o755))
			write(t, filepath.Join(from, "hardy", "fern.md"), "fern\n")
			must(t, os.Rename(from, filepath.Join(dir, "plants", "ferns")))
		}},
		{"a folder renamed", true, func(t *testing.T, dir string) {
			must(t, os.Rename(filepath.Join(dir, "plants"), filepath.Join(dir, "flowers")))
		}},
		{"renamed and written", true, func(t *testing.T, dir string) {
			must(t, os.Rename(filepath.Join(dir, "plants"), filepath.Join(dir, "flowers")))
			write(t, filepath.Join(dir, "flowers", "grasses", "grass-3.md"), "new\n")
		}},
		{"renamed and back", true, func(t *testing.T, dir string) {
			must(t, os.Rename(filepath.Join(dir, "plants"), filepath.Join(dir, "flowers")))
			must(t, os.Rename(filepath.Join(dir, "flowers"), filepath.Join(dir, "plants")))
			write(t, filepath.Join(dir, "plants", "grasses", "grass-3.md"), "new\n")
		}},
		{"two folders swapped", true, func(t *testing.T, dir string) {
			a, b, c := filepath.Join(dir, "plants"), filepath.Join(dir, "groups"), filepath.Join(dir, "c")
			must(t, os.Rename(a, c))
			must(t, os.Rename(b, a))
			must(t, os.Rename(c, b))
			write(t, filepath.Join(a, "new.md"), "new\n")
		}},
		{"moved out", true, func(t *testing.T, dir string) {
			must(t, os.Rename(filepath.Join(dir, "plants"), filepath.Join(t.TempDir(), "plants")))
		}},
		{"removed", true, func(t *testing.T, dir string) { must(t, os.RemoveAll(filepath.Join(dir, "plants"))) }},
		{"removed and made again", true, func(t *testing.T, dir string) {
			for range 3 {
				must(t, os.RemoveAll(filepath.Join(dir, "plants")))
				must(t, os.MkdirAll(filepath.Join(dir, "plants", "grasses"), 0o755))
				write(t, filepath.Join(dir, "plants", "grasses", "grass-3.md"), "new\n")
			}
		}},
		{"an empty folder removed and made again", true, func(t *testing.T, dir string) {
			// On many file systems it gets the number of the one that was removed.
			must(t, os.Remove(filepath.Join(dir, "groups")))
			must(t, os.Mkdir(filepath.Join(dir, "groups"), 0o755))
			write(t, filepath.Join(dir, "groups", "group.md"), "new\n")
		}},
		{"the root removed and made again", true, func(t *testing.T, dir string) {
			must(t, os.RemoveAll(dir))
			must(t, os.MkdirAll(filepath.Join(dir, "plants"), 0o755))
			write(t, filepath.Join(dir, "plants", "new.md"), "new\n")
		}},
		{"the root gone for a while", true, func(t *testing.T, dir string) {
			must(t, os.Rename(dir, dir+"-away"))
			time.Sleep(400 * time.Millisecond)
			must(t, os.Rename(dir+"-away", dir))
			write(t, filepath.Join(dir, "garden.md"), "new\n")
		}},
		{"what lies above the root replaced", true, func(t *testing.T, dir string) {
			above := filepath.Dir(dir)
			must(t, os.Rename(above, above+"-away"))
			must(t, os.MkdirAll(dir, 0o755))
			write(t, filepath.Join(dir, "new.md"), "new\n")
			t.Cleanup(func() { os.RemoveAll(above + "-away") })
		}},
	}
	for _, move := range moves {
		t.Run(move.name, func(t *testing.T) {
			both(t, func(t *testing.T, o watch.Options) {
				dir := filepath.Join(t.TempDir(), "above", "garden")
				must(t, os.MkdirAll(filepath.Dir(dir), 0o755))
				must(t, os.Rename(garden(t), dir))
				m := start(t, o, watch.Root{Dir: dir})
				move.do(t, dir)
				m.same()
				if move.all && !o.Poll {
					m.until("everything", func() bool { return m.all })
				}
				// What is there now is watched, each folder of it.
				for file := range m.disk() {
					write(t, filepath.Join(dir, filepath.FromSlash(path.Dir(file.Path)), "after.md"), "after\n")
				}
				m.same()
				m.calm()
			})
		})
	}
}

// TestNewFolderIsToldByName: copying files in is no loss, so they are named.
func TestNewFolderIsToldByName(t *testing.T) {
	both(t, func(t *testing.T, o watch.Options) {
		dir := garden(t)
		m := start(t, o, watch.Root{Dir: dir})
		must(t, os.MkdirAll(filepath.Join(dir, "plants", "ferns", "hardy"), 0o755))
		write(t, filepath.Join(dir, "plants", "ferns", "hardy", "fern.md"), "fern\n")
		m.same()
		m.calm()
		m.only("plants/ferns/hardy/fern.md")
	})
}

// TestManyFiles copies a library in and swaps it for another.
func TestManyFiles(t *testing.T) {
	library := func(t *testing.T, dir string, text string) {
		for i := range 20 {
			kind := filepath.Join(dir, "plants", fmt.Sprint("kind-", i))
			must(t, os.MkdirAll(kind, 0o755))
			for j := range 25 {
				write(t, filepath.Join(kind, fmt.Sprintf("entry-%d.md", j)), fmt.Sprint(text, i, j))
			}
		}
	}
	both(t, func(t *testing.T, o watch.Options) {
		dir := t.TempDir()
		m := start(t, o, watch.Root{Dir: dir})
		library(t, dir, "one")
		m.same()
		if len(m.files) != 500 {
			t.Errorf("%d files", len(m.files))
		}
		library(t, dir, "two")
		m.same()
		m.calm()
	})
}

// TestCheckout goes to and fro between two states of a library with git.
func TestCheckout(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("no git")
	}
	both(t, func(t *testing.T, o watch.Options) {
		dir := garden(t)
		git := func(args ...string) {
			t.Helper()
			cmd := exec.Command("git", append([]string{"-C", dir, "-c", "user.name=a", "-c", "user.email=a@example.org", "-c", "core.hooksPath=/dev/null"}, args...)...)
			if out, err := cmd.CombinedOutput(); err != nil {
				t.Fatalf("git %v: %v\n%s", args, err, out)
			}
		}
		git("init", "-q", "-b", "spring")
		git("add", "-A")
		git("commit", "-q", "-m", "spring")
		git("checkout", "-q", "-b", "autumn")
		must(t, os.Rename(filepath.Join(dir, "plants", "grasses"), filepath.Join(dir, "plants", "tall")))
		for i := range 200 {
			kind := filepath.Join(dir, "plants", fmt.Sprint("kind-", i%7))
			must(t, os.MkdirAll(kind, 0o755))
			write(t, filepath.Join(kind, fmt.Sprintf("entry-%d.md", i)), "autumn\n")
		}
		write(t, filepath.Join(dir, "garden.md"), "name: Autumn\n")
		git("add", "-A")
		git("commit", "-q", "-m", "autumn")
		m := start(t, o, watch.Root{Dir: dir})
		for _, branch := range []string{"spring", "autumn", "spring", "autumn"} {
			m.forget()
			git("checkout", "-q", branch)
			m.same()
			if m.sent == 0 {
				t.Errorf("nothing was told of %s", branch)
			}
		}
		git("checkout", "-q", "spring")
		git("checkout", "-q", "autumn")
		git("checkout", "-q", "spring")
		m.calm()
		m.same()
		for c := range m.told {
			if strings.HasPrefix(c.Path, ".git") {
				t.Errorf("%v was told", c)
			}
		}
	})
}

// TestRandomEdits edits at random, with and without rests, while the mirror
// reads; at the end both must agree.
func TestRandomEdits(t *testing.T) {
	both(t, func(t *testing.T, o watch.Options) {
		dir := garden(t)
		m := start(t, o, watch.Root{Dir: dir, Skip: []string{filepath.Join(dir, "output")}})
		seed := rand.Uint64()
		t.Logf("seed %d", seed)
		r := rand.New(rand.NewPCG(seed, 0))
		folders := []string{".", "plants", "plants/a", "plants/b", "plants/a/c", "output", "groups"}
		folder := func() string { return filepath.Join(dir, folders[r.IntN(len(folders))]) }
		file := func() string { return filepath.Join(folder(), fmt.Sprintf("f-%d.md", r.IntN(4))) }
		for i := range 600 {
			// Many of these fail, as what they name is not there: that is part of it.
			switch r.IntN(9) {
			case 0, 1, 2, 3:
				f := file()
				os.MkdirAll(filepath.Dir(f), 0o755)
				os.WriteFile(f, fmt.Appendf(nil, "%d\n", i), 0o644)
			case 4:
				os.Remove(file())
			case 5:
				os.Rename(file(), file())
			case 6:
				if d := folder(); d != dir {
					os.Rename(d, folder()+fmt.Sprint(r.IntN(2)))
				}
			case 7:
				if d := folder(); d != dir {
					os.RemoveAll(d)
				}
			case 8:
				f := file()
				os.WriteFile(f+"~", fmt.Appendf(nil, "%d\n", i), 0o644)
				os.Rename(f+"~", f)
			}
			if r.IntN(20) == 0 {
				time.Sleep(time.Duration(r.IntN(40)) * time.Millisecond)
			}
			select {
			case b := <-m.w.Batches:
				m.take(b)
			default:
			}
		}
		m.same()
		m.calm()
		m.same()
	})
}

// TestQuiet does what must not be told.
func TestQuiet(t *testing.T) {
	both(t, func(t *testing.T, o watch.Options) {
		dir := garden(t)
		out := filepath.Join(dir, "output", "garden")
		m := start(t, o, watch.Root{Dir: dir, Skip: []string{out, filepath.Join(dir, "never")}, Into: []string{"plants", "output"}})
		grasses := filepath.Join(dir, "plants", "grasses")
		for range 2 {
			must(t, os.MkdirAll(filepath.Join(out, "plants"), 0o755))
			write(t, filepath.Join(out, "index.md"), "page\n")
			write(t, filepath.Join(out, "plants", "index.md"), "page\n")
			m.calm()
			must(t, os.RemoveAll(out))
			m.calm()
		}
		for _, name := range []string{".hidden", "grass-3.md~", ".grass-3.md.swp", "grass-3.md.tmp", "4913", "#grass-3.md#", ".#grass-3.md", "a.sheaf-new", "~$list.xlsx"} {
			write(t, filepath.Join(grasses, name), "litter")
			must(t, os.Remove(filepath.Join(grasses, name)))
		}
		must(t, os.MkdirAll(filepath.Join(dir, ".git", "objects"), 0o755))
		write(t, filepath.Join(dir, ".git", "objects", "entry.md"), "object")
		must(t, os.MkdirAll(filepath.Join(dir, "Downloads"), 0o755))
		write(t, filepath.Join(dir, "Downloads", "large.md"), "not gone into")
		_, err := os.ReadFile(filepath.Join(grasses, "grass-3.md"))
		must(t, err)
		if !o.Poll {
			must(t, os.Chmod(filepath.Join(grasses, "grass-3.md"), 0o600))
			must(t, os.Chmod(grasses, 0o700))
		}
		m.calm()
		m.calm()
		m.only()
	})
}

// TestLinks: a root may be a link, also one that is turned to another folder;
// links inside are not followed.
func TestLinks(t *testing.T) {
	both(t, func(t *testing.T, o watch.Options) {
		one, two, elsewhere := garden(t), garden(t), garden(t)
		link := filepath.Join(t.TempDir(), "link")
		if err := os.Symlink(one, link); err != nil {
			t.Skip(err)
		}
		must(t, os.Symlink(elsewhere, filepath.Join(one, "elsewhere")))
		m := start(t, o, watch.Root{Dir: link})
		write(t, filepath.Join(link, "garden.md"), "new\n")
		m.same()
		write(t, filepath.Join(elsewhere, "garden.md"), "new\n")
		m.calm()
		m.only("garden.md")

		write(t, filepath.Join(two, "groups", "two.md"), "two\n")
		must(t, os.Remove(link))
		must(t, os.Symlink(two, link))
		m.same()
		write(t, filepath.Join(two, "groups", "two.md"), "again\n")
		m.same()
		m.forget()
		write(t, filepath.Join(one, "garden.md"), "no longer\n")
		m.calm()
		m.only()
	})
}

// TestRoots: one that comes later, one in another, and others in their place.
func TestRoots(t *testing.T) {
	both(t, func(t *testing.T, o watch.Options) {
		dir, other := garden(t), garden(t)
		late := filepath.Join(t.TempDir(), "not", "yet")
		inner := filepath.Join(dir, "plants")
		m := start(t, o, watch.Root{Dir: dir}, watch.Root{Dir: late}, watch.Root{Dir: inner})
		m.calm()
		m.only()
		must(t, os.MkdirAll(filepath.Join(late, "plants"), 0o755))
		write(t, filepath.Join(late, "plants", "late.md"), "late\n")
		m.same()
		if !m.all {
			t.Error("a root that came was not told as everything")
		}
		m.calm()
		m.forget()
		write(t, filepath.Join(inner, "grasses", "grass-3.md"), "new\n")
		m.same()
		for _, c := range []watch.Change{{Root: dir, Path: "plants/grasses/grass-3.md"}, {Root: inner, Path: "grasses/grass-3.md"}} {
			m.until(fmt.Sprint(c), func() bool { return m.told[c] })
		}
		m.calm()

		m.forget()
		m.roots = []watch.Root{{Dir: other}, {Dir: inner}}
		m.w.Replace(m.roots)
		m.until("everything", func() bool { return m.all })
		m.same()
		write(t, filepath.Join(inner, "new.md"), "new\n")
		write(t, filepath.Join(other, "new.md"), "new\n")
		m.same()
		m.calm()
		m.forget()
		m.roots = append(m.roots, watch.Root{Dir: filepath.Join(other, "groups")}) // which was watched before, as part of another
		m.w.Replace(m.roots)
		m.until("everything", func() bool { return m.all })
		m.calm()
		m.forget()
		m.w.Replace(slices.Clone(m.roots)) // the same: nothing to tell
		write(t, filepath.Join(dir, "groups", "new.md"), "no longer\n")
		m.calm()
		m.only()
	})
}

// TestSameTime writes files again that keep size and time, as on drives whose
// clock has coarse steps.
func TestSameTime(t *testing.T) {
	t.Parallel()
	dir := garden(t)
	at := time.Date(2027, 3, 9, 12, 0, 0, 0, time.UTC)
	save := func(name, text string) {
		write(t, filepath.Join(dir, name), text)
		must(t, os.Chtimes(filepath.Join(dir, name), at, at))
	}
	save("before.md", "late March\n")
	m := start(t, watch.Options{Poll: true, Every: 100 * time.Millisecond}, watch.Root{Dir: dir})
	save("before.md", "late April\n")
	m.same()
	save("new.md", "late March\n")
	m.same()
	save("new.md", "late April\n")
	m.same()
	m.calm()
	m.only("before.md", "new.md")
}

// TestOrder: the changes of a batch are sorted, and batches wait to be taken.
func TestOrder(t *testing.T) {
	both(t, func(t *testing.T, o watch.Options) {
		dir := garden(t)
		m := start(t, o, watch.Root{Dir: dir})
		for range 3 {
			for i := range 12 {
				write(t, filepath.Join(dir, "plants", "grasses", fmt.Sprintf("grass-%d.md", 11-i)), fmt.Sprint(rand.Int()))
			}
			time.Sleep(200 * time.Millisecond) // longer than any batch grows
		}
		b := <-m.w.Batches
		if len(b.Changes) != 12 || b.Everything || !slices.IsSortedFunc(b.Changes, func(a, b watch.Change) int { return strings.Compare(a.Path, b.Path) }) {
			t.Errorf("got %v, everything %v", b.Changes, b.Everything)
		}
		m.take(b)
		m.same()
	})
}

// TestLongCopy: a copy that goes on and on is told of before it ends.
func TestLongCopy(t *testing.T) {
	dir := garden(t)
	m := start(t, watch.Options{}, watch.Root{Dir: dir})
	end := time.Now().Add(patience)
	for i := 0; m.sent == 0; i++ {
		if time.Now().After(end) {
			t.Fatal("nothing was told while the copy went on")
		}
		write(t, filepath.Join(dir, "photos", fmt.Sprint(i)), "part")
		select {
		case b := <-m.w.Batches:
			m.take(b)
		case <-time.After(time.Millisecond):
		}
	}
	m.same()
}

// TestEnd: the end of the context ends all, whatever is going on.
func TestEnd(t *testing.T) {
	for name, o := range map[string]watch.Options{"system": {}, "poll": {Poll: true, Every: time.Hour}} {
		t.Run(name, func(t *testing.T) {
			before := runtime.NumGoroutine()
			for _, busy := range []bool{false, true} {
				dir := garden(t)
				ctx, stop := context.WithCancel(t.Context())
				w := watch.Start(ctx, []watch.Root{{Dir: dir}}, o)
				if busy {
					write(t, filepath.Join(dir, "garden.md"), "nobody reads of it\n")
					time.Sleep(50 * time.Millisecond)
				}
				stop()
				end := time.After(patience)
				for open := true; open; {
					select {
					case _, open = <-w.Batches:
					case <-end:
						t.Fatal("the channel was not closed")
					}
				}
				w.Replace(nil) // does not hang
			}
			for end := time.After(patience); runtime.NumGoroutine() > before; {
				select {
				case <-end:
					buf := make([]byte, 1<<16)
					t.Fatalf("%d goroutines, before %d\n%s", runtime.NumGoroutine(), before, buf[:runtime.Stack(buf, true)])
				default:
					runtime.Gosched()
				}
			}
		})
	}
}

// BenchmarkBatch is the time from a write to its batch.
func BenchmarkBatch(b *testing.B) {
	for _, files := range []int{60, 1000, 10000} {
		b.Run(fmt.Sprint(files), func(b *testing.B) {
			dir := b.TempDir()
			for i := range files {
				kind := filepath.Join(dir, fmt.Sprint("kind-", i%20))
				must(b, os.MkdirAll(kind, 0o755))
				write(b, filepath.Join(kind, fmt.Sprintf("entry-%d.md", i)), "entry\n")
			}
			w := watch.Start(b.Context(), []watch.Root{{Dir: dir}}, watch.Options{})
			name := filepath.Join(dir, "kind-0", "entry-0.md")
			for i := 0; b.Loop(); i++ {
				write(b, name, fmt.Sprint(i))
				<-w.Batches
			}
		})
	}
}
