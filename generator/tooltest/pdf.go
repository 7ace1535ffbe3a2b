package tooltest

import (
	"bytes"
	"crypto/sha256"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
)

var (
	// read are the files that qpdf was given already: most tests build the same.
	read sync.Map // [sha256.Size]byte → struct{}
	// readers keep qpdf from taking more processors than there are.
	readers = make(chan struct{}, runtime.GOMAXPROCS(0))
)

// PDF has qpdf read a PDF file, beside the test, which fails if it finds a fault.
// Each file is read once. Benchmarks are left alone.
func PDF(t testing.TB, name string, data []byte) {
	t.Helper()
	if _, bench := t.(*testing.B); bench {
		return
	}
	if _, known := read.LoadOrStore(sha256.Sum256(data), struct{}{}); known {
		return
	}
	qpdf, err := exec.LookPath("qpdf")
	if err != nil {
		const why = "qpdf is not installed: no PDF file is read by it"
		if os.Getenv("SHEAF_TOOLS") == "require" {
			t.Fatal(why)
		}
		t.Log(why)
		return
	}
	file := filepath.Join(t.TempDir(), "a.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	said := make(chan []byte, 1)
	go func() {
		readers <- struct{}{}
		defer func() { <-readers }()
		out, err := exec.Command(qpdf, "--check", file).CombinedOutput()
		if err == nil && !bytes.Contains(bytes.ToLower(out), []byte("warning")) {
			out = nil
		}
		said <- out
	}()
	t.Cleanup(func() {
		if out := <-said; out != nil {
			t.Errorf("qpdf finds of %s:\n%s", name, out)
		}
	})
}

// PDFs is [PDF] of those among files.
func PDFs(t testing.TB, files map[string][]byte) {
	t.Helper()
	for name, data := range files {
		if filepath.Ext(name) == ".pdf" {
			PDF(t, name, data)
		}
	}
}
