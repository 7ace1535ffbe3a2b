package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"net"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"sheaf/generator"
	"sheaf/generator/preview"
	"sheaf/generator/watch"
)

const watchHelp = `Watch builds on each save and shows the booklet in a browser on this machine.

  sheaf watch                           the garden in this folder
  sheaf watch gardens/dovecote-barn     another garden
  sheaf watch . --no-browser            prints the address and opens nothing

Save an entry and see its page. What is wrong is told here as check prints it,
and over the page, which stays as it was until the fault is mended. The link in
the corner of each page leads to the designer's report and to the files for
print, which are made after the pages and written to the output folder.
Ctrl-C ends it. Options:

  --out DIR          where to write (default output/ and the garden's name)
  --port N           the port on 127.0.0.1 (default: a free one)
  --no-browser       do not open a browser
  --poll             look at the files twice a second, for network drives that
                     tell nothing of changes
  --year N           the booklet's first year (default: that of the handover)
  --partial          let plants without an entry pass, with a warning, and leave
                     out entries with faults of their own
`

func watchCommand(sys system) *cobra.Command {
	w := &watcher{system: sys}
	var year, port int
	var noBrowser, partial bool
	c := &cobra.Command{Use: "watch [GARDEN]", RunE: func(cmd *cobra.Command, args []string) error {
		garden := "."
		if len(args) > 1 {
			return usageError{fmt.Errorf("one garden at a time; %d are named", len(args))}
		} else if len(args) == 1 {
			garden = args[0]
		}
		if port < 0 || port > 65535 {
			return usageError{fmt.Errorf("--port %d is not a port from 0 to 65535", port)}
		}
		o, folder, err := open(sys, args)
		if err != nil {
			return err
		}
		o.Close() // the session opens them for each build
		w.options = o
		w.options.Partial = partial
		if w.options.Year, err = yearOf(year); err != nil {
			return err
		}
		if w.out, err = outputOf(w.out, folder); err != nil {
			return err
		}
		if w.skip, err = filepath.Abs(w.out); err != nil {
			return err
		}
		w.garden, w.folder = garden, folder
		ctx, stop := sys.interrupted()
		defer stop()
		context.AfterFunc(ctx, stop) // who asks again need not wait for anything
		listener, err := listen(port)
		if err != nil {
			return err
		}
		return w.run(ctx, listener, !noBrowser)
	}}
	f := c.Flags()
	f.StringVar(&w.out, "out", "", "")
	f.IntVar(&port, "port", 0, "")
	f.BoolVar(&noBrowser, "no-browser", false, "")
	f.BoolVar(&w.poll, "poll", false, "")
	f.IntVar(&year, "year", 0, "")
	f.BoolVar(&partial, "partial", false, "")
	return c
}

// listen takes a port of this machine, 0 for a free one.
func listen(port int) (net.Listener, error) {
	l, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	switch {
	case err == nil:
		return l, nil
	case port == 0:
		return nil, fmt.Errorf("this machine gives no port to show the booklet on: %w", err)
	case errors.Is(err, fs.ErrPermission):
		err = fmt.Errorf("port %d may not be used by this user", port)
	default:
		err = fmt.Errorf("port %d is used by another program on this machine, which may be another sheaf watch", port)
	}
	return nil, hinted{err, "choose another with --port, or leave --port away to get a free one"}
}

// A watcher builds a garden again and again and shows what comes of it.
type watcher struct {
	system
	garden, folder, out string
	skip                string // out, as a whole path
	poll                bool
	options             generator.Options

	session *generator.Session
	server  *preview.Server
	said    string // the diagnostics last printed

	printing sync.Mutex // held while files for print are made
	writing  sync.Mutex // held while the output folder is written to
	saying   sync.Mutex // held while something is printed
}

// run serves until ctx ends.
func (w *watcher) run(ctx context.Context, listener net.Listener, browse bool) error {
	w.session, w.server = generator.NewSession(w.garden), preview.New()
	ctx, stop := context.WithCancel(ctx)
	defer w.writing.Lock() // what is being written is written to the end
	defer stop()
	server := &http.Server{Handler: w.server, ReadHeaderTimeout: 10 * time.Second}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	defer server.Close()
	address := "http://" + listener.Addr().String() + "/"
	w.printf("%s shows %s; Ctrl-C ends it\n", address, w.folder)

	// Watching begins before the first build: what changes meanwhile is told.
	changes := watch.Start(ctx, w.roots([]generator.ReadFolder{{Dir: w.options.Disk("")}}), watch.Options{Poll: w.poll})
	cancel := w.build(ctx, watch.Batch{Everything: true})
	defer func() { cancel() }()
	changes.Replace(w.roots(w.session.Folders()))
	if browse {
		if err := w.browse(address); err != nil {
			w.printf("hint: no browser could be opened: open %s\n", address)
		}
	}
	for {
		select {
		case <-ctx.Done():
			return nil
		case err := <-failed:
			return err
		case batch, ok := <-changes.Batches:
			if !ok {
				return nil
			}
			if batch.Err != nil {
				w.printf("sheaf: warning: %v\n", batch.Err)
			}
			cancel()
			cancel = w.build(ctx, batch)
			changes.Replace(w.roots(w.session.Folders()))
		}
	}
}

// roots says what is watched: the folders that a build reads, and never the
// output.
func (w *watcher) roots(folders []generator.ReadFolder) []watch.Root {
	var out []watch.Root
	for _, f := range folders {
		out = append(out, watch.Root{Dir: f.Dir, Into: f.Into, Skip: []string{w.skip}})
	}
	return out
}

// idle is how long nothing is saved before the files for print are made: while
// someone is writing, the pages have the machine to themselves.
const idle = 400 * time.Millisecond

// build takes in what changed, shows what comes of it and goes on to the files
// for print, until it is told to stop.
func (w *watcher) build(ctx context.Context, batch watch.Batch) (stop func()) {
	began := w.now()
	var changed []string
	for _, c := range batch.Changes {
		changed = append(changed, filepath.Join(c.Root, filepath.FromSlash(c.Path)))
	}
	if batch.Everything {
		w.session.Changed(nil)
	} else {
		w.session.Changed(changed)
	}
	style := w.style(w.folder, mostShown)
	b := preview.Build{Shown: style.Show}
	o := w.options
	if o.Stamp.IsZero() {
		o.Now = began
	}
	proof, ds, err := w.session.Compose(o)
	var web map[string][]byte
	other := false // pages than those shown before
	if err == nil && proof != nil {
		b.Goal = w.session.PageOf(proof, changed)
		other = w.ahead(ctx, proof, b.Goal)
		if web, ds, err = proof.Print(ctx, []string{"web"}); ds.HasErrors() {
			web = nil
		}
	}
	if ctx.Err() != nil {
		return func() {}
	}
	b.Found, b.Files = ds, web
	if err != nil {
		b.Failed, b.Files = plain(err), nil
	}
	if proof != nil {
		b.Report = reportOf(proof.Plan)
	}
	other = w.server.Show(b) || other
	w.say(b, other, began)
	if b.Files == nil {
		return func() {}
	}
	ctx, cancel := context.WithCancel(ctx)
	go w.print(ctx, proof, web)
	return cancel
}

// ahead shows the pages that are being looked at before all others are made, and
// says whether they are other than before. A page that fails is told of with the
// rest.
func (w *watcher) ahead(ctx context.Context, proof *generator.Proof, goal string) (other bool) {
	pages := map[string][]byte{}
	wanted := w.server.Open()
	if goal != "" && slices.Contains(wanted, "index.html") {
		wanted = append(wanted, goal)
	} else {
		goal = ""
	}
	for _, name := range wanted {
		if data, err := proof.Page(ctx, name); err == nil && data != nil {
			pages[name] = data
		}
	}
	return w.server.ShowAhead(pages, goal)
}

// say prints what a build came to. Diagnostics that were printed before are not
// repeated, nor are pages told of that are as they were.
func (w *watcher) say(b preview.Build, other bool, began time.Time) {
	var text strings.Builder
	if b.Failed != "" {
		fmt.Fprintf(&text, "sheaf: error: %s\n", b.Failed)
	}
	unnoted(b.Found).Print(&text, w.style(w.folder, mostShown)) // a builder does not fail
	if told := text.String(); told != w.said {
		w.said = told
		w.printf("%s", told)
	}
	took := w.now().Sub(began).Milliseconds()
	clock := began.Format("15:04:05")
	switch {
	case b.Files == nil:
		w.printf("%s  faults; the pages stay as they were (%d ms)\n", clock, took)
	case other:
		w.printf("%s  shown: %s (%d ms)\n", clock, b.Report.Lines[0], took)
	}
}

// print makes the editions that are not for the browser and writes all files to
// the output folder, unless something changes meanwhile.
func (w *watcher) print(ctx context.Context, proof *generator.Proof, web map[string][]byte) {
	wait := time.NewTimer(idle)
	defer wait.Stop()
	select {
	case <-ctx.Done():
		return
	case <-wait.C:
	}
	w.printing.Lock()
	defer w.printing.Unlock()
	began := w.now()
	files := map[string][]byte{}
	for _, e := range generator.Editions() {
		if e == "web" {
			continue
		}
		// One after the other, so that a core is left for the next save.
		made, ds, err := proof.Print(ctx, []string{e})
		if ctx.Err() != nil {
			return
		}
		if err == nil && ds.HasErrors() {
			err = errors.New(ds.Summary())
		}
		if err != nil {
			w.printf("sheaf: error: the edition %s could not be made: %v\n", e, err)
			return
		}
		maps.Copy(files, made)
	}
	w.server.Printed(maps.Clone(files))
	maps.Copy(files, web)
	w.writing.Lock()
	defer w.writing.Unlock()
	if ctx.Err() != nil {
		return
	}
	result := generator.Result{Plan: proof.Plan, Files: files}
	err := outside(w.out, proof.Plan.Read)
	if err == nil {
		waiting, cancel := context.WithTimeout(ctx, patience)
		defer cancel()
		err = result.WriteTo(waiting, w.out, func(s string) { w.printf("sheaf: note: %s\n", s) })
	}
	if errors.Is(err, context.Canceled) {
		return // it waited for another build, and something changed or the watching ends
	} else if err != nil {
		w.printf("sheaf: error: %s\n", plain(err))
		return
	}
	w.printf("%s  written: %d files in %s (%d ms)\n", began.Format("15:04:05"), len(files), w.out, w.now().Sub(began).Milliseconds())
}

func (w *watcher) printf(format string, args ...any) {
	w.saying.Lock()
	defer w.saying.Unlock()
	fmt.Fprintf(w.stderr, format, args...)
}
