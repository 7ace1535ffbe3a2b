package generator_test

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"net/url"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"sheaf/generator"
)

// twoBuilds are the demo as it is and as it is after a year, a plant and the
// index page's words have changed, in folders from which a child process takes
// them.
func twoBuilds(t *testing.T) (builds [2]map[string][]byte, dirs [2]string) {
	t.Helper()
	for i, o := range []generator.Options{moved(t), moved(t, "date: 2027-03-20", "date: 2028-03-20", "garden: Dovecote Barn", "garden: Dovecote Byre")} {
		o.Editions = []string{"web", "ics", "json"}
		r := build(t, o)
		dirs[i] = filepath.Join(t.TempDir(), "build")
		if err := r.WriteTo(dirs[i]); err != nil {
			t.Fatal(err)
		}
		builds[i] = r.Files
	}
	if bytes.Equal(builds[0]["index.html"], builds[1]["index.html"]) || builds[1]["months/2028-05.html"] == nil || builds[1]["months/2027-05.html"] != nil {
		t.Fatal("the two builds should differ in pages and in words")
	}
	return builds, dirs
}

// loaded takes a build from its folder.
func loaded(t *testing.T, dir string) *generator.Result {
	t.Helper()
	r := &generator.Result{Files: map[string][]byte{}}
	root := os.DirFS(dir)
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || p == "sheaf-files.txt" {
			return err
		}
		r.Files[p], err = fs.ReadFile(root, p)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestWriterToBeKilled is the child of [TestKilled]: it writes one build over
// the other until it is killed.
func TestWriterToBeKilled(t *testing.T) {
	out := os.Getenv("SHEAF_TEST_OUT")
	if out == "" {
		t.Skip("only for the child process of another test")
	}
	builds := []*generator.Result{loaded(t, os.Getenv("SHEAF_TEST_A")), loaded(t, os.Getenv("SHEAF_TEST_B"))}
	fmt.Println("ready")
	for i := 0; ; i++ {
		if err := builds[i%2].WriteTo(out); err != nil {
			t.Fatal(err)
		}
	}
}

var anchor = regexp.MustCompile(` (?:href|src)="([^"]*)"`)

// sound holds an output folder to two builds: each file is one of theirs, whole,
// and from the opening page every link leads to a file that is there.
func sound(t *testing.T, dir string, builds [2]map[string][]byte) (mixed bool) {
	t.Helper()
	var of [2]bool
	have := map[string][]byte{}
	root := os.DirFS(dir)
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && d.Name() == ".sheaf-new":
			return fs.SkipDir
		case d.IsDir() || strings.HasPrefix(p, "sheaf-files.txt"):
			return nil
		}
		data, err := fs.ReadFile(root, p)
		have[p] = data
		a, inA := builds[0][p]
		b, inB := builds[1][p]
		isA, isB := inA && bytes.Equal(a, data), inB && bytes.Equal(b, data)
		if !isA && !isB {
			t.Errorf("%s is of neither build, or not whole: %d bytes", p, len(data))
		}
		of[0], of[1] = of[0] || isA && !isB, of[1] || isB && !isA
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	todo, seen := []string{"index.html"}, map[string]bool{"index.html": true}
	for len(todo) > 0 {
		page := todo[0]
		todo = todo[1:]
		if path.Ext(page) != ".html" {
			continue
		}
		for _, m := range anchor.FindAllStringSubmatch(string(have[page]), -1) {
			u, err := url.Parse(m[1])
			if err != nil || u.Scheme != "" || u.Path == "" {
				continue
			}
			to := path.Join(path.Dir(page), u.Path)
			if _, ok := have[to]; !ok {
				t.Errorf("%s leads to %s, which is not there", page, to)
			}
			if !seen[to] {
				seen[to] = true
				todo = append(todo, to)
			}
		}
	}
	if len(seen) < 100 {
		t.Errorf("only %d files are led to", len(seen))
	}
	return of[0] && of[1]
}

// TestKilled kills a process that writes one build over another, three hundred
// times, at random moments.
func TestKilled(t *testing.T) {
	builds, dirs := twoBuilds(t)
	out := filepath.Join(t.TempDir(), "out")
	if err := loaded(t, dirs[0]).WriteTo(out); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(9, 300))
	mixed := 0
	for range 300 {
		cmd := exec.Command(os.Args[0], "-test.run=^TestWriterToBeKilled$", "-test.v")
		cmd.Env = append(os.Environ(), "SHEAF_TEST_OUT="+out, "SHEAF_TEST_A="+dirs[0], "SHEAF_TEST_B="+dirs[1])
		said, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		for buf, got := make([]byte, 64), ""; !strings.Contains(got, "ready"); {
			n, err := said.Read(buf)
			if err != nil {
				t.Fatalf("the child says %q: %v", got, err)
			}
			got += string(buf[:n])
		}
		time.Sleep(time.Duration(r.IntN(60_000)) * time.Microsecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		cmd.Wait()
		if sound(t, out, builds) {
			mixed++
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("in %d of 300 cases the folder was caught between the two builds", mixed)
	if mixed == 0 {
		t.Error("no kill came while files were renamed: the test shows nothing")
	}
	// The next build clears up whatever is left.
	if err := loaded(t, dirs[1]).WriteTo(out); err != nil {
		t.Fatal(err)
	}
	if sound(t, out, builds); names(t, out) != names(t, dirs[1]) {
		t.Errorf("left after the next build: %s", names(t, out))
	}
}

// TestDiskFull writes to a disk that is too small for the second build beside
// the first, and to one that is too small for any.
func TestDiskFull(t *testing.T) {
	builds, dirs := twoBuilds(t)
	small := 0
	for _, data := range builds[0] {
		small += (len(data) + 4095) / 4096 * 4096
	}
	disk := t.TempDir()
	if err := mount(disk, small+small/4); err != nil {
		t.Skipf("no small disk can be mounted here: %v", err)
	}
	defer unmount(t, disk)
	out := filepath.Join(disk, "out")
	if err := loaded(t, dirs[0]).WriteTo(out); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		err := loaded(t, dirs[1]).WriteTo(out)
		if !errors.Is(err, syscall.ENOSPC) {
			t.Fatalf("the disk should be full: %v", err)
		}
		if sound(t, out, builds) || names(t, out) != names(t, dirs[0]) {
			t.Error("the old booklet is not what it was")
		}
	}
	if err := mount(disk, small/3); err != nil {
		t.Fatal(err)
	}
	defer unmount(t, disk)
	if err := loaded(t, dirs[0]).WriteTo(out); !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("the disk should be full: %v", err)
	}
	if _, err := os.Lstat(out); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a first build that failed leaves its folder: %v", err)
	}
}

func unmount(t *testing.T, dir string) {
	if err := exec.Command("umount", dir).Run(); err != nil {
		t.Error(err)
	}
}

// mount puts a disk of some bytes on a folder, as only the superuser may.
func mount(dir string, size int) error {
	out, err := exec.Command("mount", "-t", "tmpfs", "-o", fmt.Sprintf("size=%d", size), "tmpfs", dir).CombinedOutput()
	if err != nil {
		return fmt.Errorf("%w: %s", err, bytes.TrimSpace(out))
	}
	return nil
}
