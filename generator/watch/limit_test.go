//go:build linux

package watch_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"sheaf/generator/watch"
)

// TestLimit reaches the system's limits of watched folders and of watchers, in a
// process of its own for which they are low.
func TestLimit(t *testing.T) {
	for _, limit := range []string{"watches=0", "watches=5", "instances=0"} {
		t.Run(limit, func(t *testing.T) {
			cmd := exec.Command(os.Args[0], "-test.run=^TestUnderLimit$", "-test.v")
			cmd.Env = append(os.Environ(), "WATCH_TEST_LIMIT="+limit)
			cmd.SysProcAttr = &syscall.SysProcAttr{
				Cloneflags:  syscall.CLONE_NEWUSER,
				UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
				GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}},
			}
			out, err := cmd.CombinedOutput()
			switch {
			case strings.Contains(string(out), "--- PASS: TestUnderLimit"):
			case strings.Contains(string(out), "--- FAIL"):
				t.Errorf("%s", out)
			default:
				t.Skipf("no limits of its own for a process here: %v\n%s", err, out)
			}
		})
	}
}

// TestUnderLimit is TestLimit's other half.
func TestUnderLimit(t *testing.T) {
	kind, limit, ok := strings.Cut(os.Getenv("WATCH_TEST_LIMIT"), "=")
	if !ok {
		t.Skip("TestLimit runs it")
	}
	if err := os.WriteFile("/proc/sys/user/max_inotify_"+kind, []byte(limit), 0); err != nil {
		t.Skip(err)
	}
	dir := garden(t)
	m := start(t, watch.Options{Every: 10 * time.Millisecond}, watch.Root{Dir: dir})
	if limit == "5" { // enough to begin with
		m.calm()
		if len(m.errs) != 0 {
			t.Fatalf("got %v", m.errs)
		}
	}
	for i := range 5 {
		kind := filepath.Join(dir, "plants", fmt.Sprint("kind-", i))
		must(t, os.MkdirAll(kind, 0o755))
		write(t, filepath.Join(kind, "entry.md"), "entry\n")
	}
	m.until("word of the limit", func() bool { return len(m.errs) > 0 })
	m.same()
	write(t, filepath.Join(dir, "plants", "kind-4", "entry.md"), "again\n")
	m.same()
	m.calm()
	if len(m.errs) != 1 || !strings.Contains(m.errs[0].Error(), "--poll") {
		t.Errorf("got %v", m.errs)
	}
	t.Log(m.errs[0])
}
