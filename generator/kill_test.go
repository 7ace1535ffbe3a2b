package generator_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"maps"
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

// twins are two builds of one garden: their files, and where the links of each
// page lead.
type twins struct {
	files [2]map[string][]byte
	links [2]map[string][]string
}

// twoBuilds are the demo as it is and as it is after a year, a plant and the
// index page's words have changed, in folders from which a child process takes
// them.
func twoBuilds(t *testing.T) (builds twins, dirs [2]string) {
	t.Helper()
	for i, o := range []generator.Options{moved(t), moved(t, "date: 2027-03-20", "date: 2028-03-20", "garden: Dovecote Barn", "garden: Dovecote Byre")} {
		o.Editions = []string{"web", "ics", "json"}
		r := build(t, o)
		dirs[i] = filepath.Join(t.TempDir(), "build")
		if err := writeTo(t, r, dirs[i]); err != nil {
			t.Fatal(err)
		}
		builds.files[i], builds.links[i] = r.Files, map[string][]string{}
		for page, data := range r.Files {
			if path.Ext(page) == ".html" {
				builds.links[i][page] = linksOf(page, data)
			}
		}
	}
	a, b := builds.files[0], builds.files[1]
	if bytes.Equal(a["index.html"], b["index.html"]) || b["months/2028-05.html"] == nil || b["months/2027-05.html"] != nil {
		t.Fatal("the two builds should differ in pages and in words")
	}
	return builds, dirs
}

var anchor = regexp.MustCompile(` (?:href|src)="([^"]*)"`)

// linksOf gives the files that a page leads to.
func linksOf(page string, data []byte) []string {
	var out []string
	for _, m := range anchor.FindAllStringSubmatch(string(data), -1) {
		if u, err := url.Parse(m[1]); err == nil && u.Scheme == "" && u.Path != "" {
			out = append(out, path.Join(path.Dir(page), u.Path))
		}
	}
	return out
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
	os.Stdin.Read(make([]byte, 1))
	for i := 0; ; i++ {
		if err := writeTo(t, builds[i%2], out); err != nil {
			t.Fatal(err)
		}
	}
}

// sound holds an output folder to two builds: each file is one of theirs, whole,
// and from the opening page every link leads to a file that is there.
func sound(t *testing.T, dir string, builds twins) (mixed bool) {
	t.Helper()
	var of [2]bool
	leads := map[string][]string{} // by the files that are there
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
		a, inA := builds.files[0][p]
		b, inB := builds.files[1][p]
		isA, isB := inA && bytes.Equal(a, data), inB && bytes.Equal(b, data)
		if !isA && !isB {
			t.Errorf("%s is of neither build, or not whole: %d bytes", p, len(data))
		}
		if leads[p] = builds.links[1][p]; isA {
			leads[p] = builds.links[0][p]
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
		for _, to := range leads[page] {
			if _, ok := leads[to]; !ok {
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

var (
	kills = flag.Int("kills", 30, "how many processes TestKilled kills")
	races = flag.Int("races", 4, "how often two processes race in TestRaced")
)

// TestStopped looks at the folder before each change that gives one build's files
// their places over another's: it is then as a process leaves it that is stopped
// there.
func TestStopped(t *testing.T) {
	builds, dirs := twoBuilds(t)
	out := filepath.Join(t.TempDir(), "out")
	if err := writeTo(t, loaded(t, dirs[0]), out); err != nil {
		t.Fatal(err)
	}
	for _, to := range []int{1, 0} {
		o := opened(t, loaded(t, dirs[to]), out)
		changes, mixed := 0, 0
		o.OnChange(func() error {
			changes++
			if sound(t, out, builds) {
				mixed++
			}
			if t.Failed() {
				return fmt.Errorf("not sound before change %d", changes)
			}
			return nil
		})
		if _, err := o.Settle(); err != nil {
			t.Fatal(err)
		}
		if err := o.Close(); err != nil {
			t.Fatal(err)
		}
		t.Logf("%d changes, before %d of them the folder was between the two builds", changes, mixed)
		if mixed < 100 {
			t.Error("the two builds should differ in more files")
		}
		if sound(t, out, builds); names(t, out) != names(t, dirs[to]) {
			t.Errorf("left: %s", names(t, out))
		}
	}
}

// opened puts all files of a result to a folder, and does not settle them.
func opened(t *testing.T, r *generator.Result, dir string) *generator.Output {
	t.Helper()
	o, err := generator.OpenOutput(t.Context(), dir, func(s string) { t.Errorf("told: %s", s) })
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range r.Files {
		if err := o.Put(name, data); err != nil {
			t.Fatal(err)
		}
	}
	return o
}

// TestStoppedAndBuiltAgain stops a build before each of its changes, the first of
// a folder and one over another, and holds what two builds after it leave to what
// they leave in a new folder.
func TestStoppedAndBuiltAgain(t *testing.T) {
	a := result("index.html", "plants/a.html", "plants/b.html", "months/1.html", "care.ics")
	b := result("index.html", "plants/b.html", "plants/c.html", "jobs/1.html", "jobs/more/2.html")
	for _, name := range []string{"index.html", "plants/b.html"} {
		b.Files[name] = []byte("another text")
	}
	stopped := errors.New("stopped")
	for _, before := range []*generator.Result{nil, a} {
		for changes := 0; ; changes++ {
			dir := filepath.Join(t.TempDir(), "out")
			if before != nil {
				if err := writeTo(t, before, dir); err != nil {
					t.Fatal(err)
				}
			}
			o := opened(t, b, dir)
			left := changes
			o.OnChange(func() error {
				if left--; left < 0 {
					return stopped
				}
				return nil
			})
			_, err := o.Settle()
			if err == nil {
				t.Logf("it has %d changes", changes)
				if err := o.Close(); err != nil {
					t.Fatal(err)
				}
				break
			} else if !errors.Is(err, stopped) {
				t.Fatal(err)
			}
			o.Abandon()
			for _, next := range []*generator.Result{a, b} {
				if err := writeTo(t, next, dir); err != nil {
					t.Fatalf("after a build that was stopped after %d changes: %v", changes, err)
				}
				if got := contents(t, dir); !maps.Equal(got, texts(next)) {
					t.Errorf("after a build that was stopped after %d changes: %v", changes, got)
				}
			}
		}
	}
}

func texts(r *generator.Result) map[string]string {
	out := map[string]string{}
	for name, data := range r.Files {
		out[name] = string(data)
	}
	return out
}

// contents is what an output folder holds but the list, staged files among it.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	return texts(loaded(t, dir))
}

// child is a process of this test binary that has read two builds and waits for a
// word to go on.
func child(t *testing.T, run, out string, dirs [2]string) (cmd *exec.Cmd, goOn io.Writer) {
	t.Helper()
	cmd = exec.Command(os.Args[0], "-test.run=^"+run+"$", "-test.v")
	cmd.Env = append(os.Environ(), "SHEAF_TEST_OUT="+out, "SHEAF_TEST_A="+dirs[0], "SHEAF_TEST_B="+dirs[1])
	said, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if goOn, err = cmd.StdinPipe(); err != nil {
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
	return cmd, goOn
}

// TestKilled kills a process that writes one build over another at random moments:
// what it leaves is sound, and the next build clears up. [TestStopped] looks at
// every moment; this shows that the system keeps its word.
func TestKilled(t *testing.T) {
	builds, dirs := twoBuilds(t)
	out := filepath.Join(t.TempDir(), "out")
	if err := writeTo(t, loaded(t, dirs[0]), out); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(9, 300))
	mixed := 0
	for range *kills {
		cmd, goOn := child(t, "TestWriterToBeKilled", out, dirs)
		fmt.Fprintln(goOn)
		time.Sleep(time.Duration(r.IntN(150_000)) * time.Microsecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		// One that is killed has no exit code of its own.
		if err := cmd.Wait(); cmd.ProcessState.Exited() {
			t.Fatalf("the child ended by itself: %v", err)
		}
		if sound(t, out, builds) {
			mixed++
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("in %d of %d cases the folder was caught between the two builds", mixed, *kills)
	// The next build clears up whatever is left.
	if err := writeTo(t, loaded(t, dirs[1]), out); err != nil {
		t.Fatal(err)
	}
	if sound(t, out, builds); names(t, out) != names(t, dirs[1]) {
		t.Errorf("left after the next build: %s", names(t, out))
	}
}

// TestRacer is a child of [TestRaced]: it writes one build once.
func TestRacer(t *testing.T) {
	out := os.Getenv("SHEAF_TEST_OUT")
	if out == "" {
		t.Skip("only for the child process of another test")
	}
	r := loaded(t, os.Getenv("SHEAF_TEST_A"))
	fmt.Println("ready")
	os.Stdin.Read(make([]byte, 1))
	if err := r.WriteTo(t.Context(), out, func(string) {}); err != nil {
		t.Fatal(err)
	}
}

// TestRaced has two processes write two gardens to one folder at once: then it holds
// all of one and nothing of the other, and a third build is not refused. Every
// other race is for a folder that is not there yet.
func TestRaced(t *testing.T) {
	_, dirs := twoBuilds(t)
	want := [2]map[string]string{contents(t, dirs[0]), contents(t, dirs[1])}
	out, won := "", [2]int{}
	for i := range *races {
		if i%2 == 0 {
			out = filepath.Join(t.TempDir(), "out")
		}
		var racers [2]*exec.Cmd
		var goOn [2]io.Writer
		for j := range racers {
			racers[j], goOn[j] = child(t, "TestRacer", out, [2]string{dirs[j], dirs[1-j]})
		}
		for _, w := range goOn {
			fmt.Fprintln(w)
		}
		for j, racer := range racers {
			if err := racer.Wait(); err != nil {
				t.Errorf("race %d, build %d: %v", i, j, err)
			}
		}
		switch got := contents(t, out); {
		case maps.Equal(got, want[0]):
			won[0]++
		case maps.Equal(got, want[1]):
			won[1]++
		default:
			t.Errorf("race %d: %d files of neither build alone", i, len(got))
		}
		if err := writeTo(t, loaded(t, dirs[i/2%2]), out); err != nil {
			t.Errorf("race %d: the third build: %v", i, err)
		} else if !maps.Equal(contents(t, out), want[i/2%2]) {
			t.Errorf("race %d: the third build is not whole", i)
		}
	}
	t.Logf("%d races: each build was the later one in %v", *races, won)
}

// TestDiskFull writes to a disk that is too small for the second build beside
// the first, and to one that is too small for any.
func TestDiskFull(t *testing.T) {
	builds, dirs := twoBuilds(t)
	small := 0
	for _, data := range builds.files[0] {
		small += (len(data) + 4095) / 4096 * 4096
	}
	disk := t.TempDir()
	if err := mount(disk, small+small/4); err != nil {
		t.Skipf("no small disk can be mounted here: %v", err)
	}
	defer unmount(t, disk)
	out := filepath.Join(disk, "out")
	if err := writeTo(t, loaded(t, dirs[0]), out); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		err := writeTo(t, loaded(t, dirs[1]), out)
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
	if err := writeTo(t, loaded(t, dirs[0]), out); !errors.Is(err, syscall.ENOSPC) {
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
