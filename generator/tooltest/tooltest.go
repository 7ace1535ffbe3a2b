// Package tooltest finds the programs outside Go that tests lean on. A test
// whose tool is missing is skipped with the reason; with SHEAF_TOOLS=require,
// as in continuous integration, it fails.
package tooltest

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Tool gives the path of a program.
func Tool(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		missing(t, name+" is not installed")
	}
	return path
}

// Module gives a file of a node module under SHEAF_NODE_MODULES.
func Module(t testing.TB, file string) string {
	t.Helper()
	name := filepath.Join(os.Getenv("SHEAF_NODE_MODULES"), filepath.FromSlash(file))
	if _, err := os.Stat(name); err != nil || os.Getenv("SHEAF_NODE_MODULES") == "" {
		missing(t, file+" is not under SHEAF_NODE_MODULES")
	}
	return name
}

func missing(t testing.TB, why string) {
	t.Helper()
	if os.Getenv("SHEAF_TOOLS") == "require" {
		t.Fatalf("%s, and SHEAF_TOOLS=require", why)
	}
	t.Skip(why)
}

// Browser starts Chromium without a window; it ends with the test.
func Browser(t testing.TB) context.Context {
	t.Helper()
	opts := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(Tool(t, "chromium")), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("allow-file-access-from-files", false))
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), opts...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 8*time.Minute)
	t.Cleanup(cancel)
	return ctx
}
