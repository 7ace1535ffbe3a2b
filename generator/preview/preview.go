// Package preview shows a booklet in a browser on this machine while it is
// written. In go what each build came to ([Server.Show], [Server.Printed]); out
// come the booklet's pages, which bring themselves up to date in place, with
// each fault told over the last good page, and the designer's report.
//
// What is served is the booklet as it will be handed over. Only on its way to
// the browser a page is given the preview's script, and leave to hear news from
// this server.
package preview

import (
	"bytes"
	"cmp"
	"maps"
	"path"
	"slices"
	"sync"

	"sheaf/generator/source"
)

// A Server shows one booklet; make it with [New].
type Server struct {
	mu      sync.Mutex
	last    Build
	made    int               // counts builds that made pages
	since   map[string]int    // the build that last changed a file
	faults  []fault           // of the last build
	printed map[string][]byte // files of the editions for print and for calendars
	of      int               // the build they are of
	open    map[*reader]bool
}

// reader is one open page.
type reader struct {
	file  string
	woken chan struct{}
}

// A Build is what one build came to.
type Build struct {
	// Files of the web edition; nil when faults kept them from being made. Those
	// shown before then stay.
	Files map[string][]byte
	// Goal is the page of what was changed, to which a reader of the opening page
	// is taken; "" leaves readers where they are.
	Goal  string
	Found source.Diagnostics
	// Failed says why nothing could even be read; "" when that is not so.
	Failed string
	// Shown turns a file's path into what the writer should see; nil keeps it.
	Shown  func(path string) string
	Report Report
}

// A Report is what check tells the designer; it is in no edition.
type Report struct {
	Title string
	Lines []string // of the whole garden
	Parts []Part
}

// A Part is lines under a heading.
type Part struct {
	Title string
	Lines []string
}

// New gives a server that has nothing to show yet.
func New() *Server {
	return &Server{since: map[string]int{}, open: map[*reader]bool{}}
}

// Show takes over what a build came to and tells the open pages. It says whether
// that made pages other than those shown before.
func (s *Server) Show(b Build) (changed bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults = faultsOf(b)
	if b.Files == nil {
		b.Files, b.Goal = s.last.Files, ""
		if b.Report.Title == "" {
			b.Report = s.last.Report
		}
	} else {
		s.made++
		for name, data := range b.Files {
			if was, ok := s.last.Files[name]; !ok || !bytes.Equal(was, data) {
				s.since[name], changed = s.made, true
			}
		}
		for name := range s.last.Files {
			if _, ok := b.Files[name]; !ok {
				s.since[name], changed = s.made, true
			}
		}
	}
	s.last = b
	s.tell()
	return changed
}

// Open gives the paths of the booklet's pages that are open, each once.
func (s *Server) Open() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var out []string
	for r := range s.open {
		if !slices.Contains(out, r.file) && path.Ext(r.file) == ".html" {
			out = append(out, r.file)
		}
	}
	slices.Sort(out)
	return out
}

// ShowAhead takes over pages of a build that is not done yet, so that who reads
// them need not wait for all; [Server.Show] follows with the whole. It says
// whether any is other than it was.
func (s *Server) ShowAhead(pages map[string][]byte, goal string) (changed bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files := maps.Clone(s.last.Files)
	if files == nil {
		files = map[string][]byte{}
	}
	for name, data := range pages {
		if !bytes.Equal(files[name], data) {
			changed = true
			files[name] = data
			s.since[name] = s.made + 1
		}
	}
	if changed || goal != "" {
		s.made++
		s.last.Files, s.last.Goal, s.faults = files, goal, nil
		s.tell()
	}
	return changed
}

// Printed takes over the files of the editions that are not for the browser,
// made from the same build as the pages last shown.
func (s *Server) Printed(files map[string][]byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.printed, s.of = files, s.made
	s.tell()
}

// tell wakes the open pages. A page that is still busy with earlier news will
// find the latest.
func (s *Server) tell() {
	for r := range s.open {
		select {
		case r.woken <- struct{}{}:
		default:
		}
	}
}

// news is what an open page is told.
type news struct {
	Build   int      `json:"build"`
	Changed []string `json:"changed"` // files that differ from those of the build the page shows
	Goal    string   `json:"goal"`
	Faults  []fault  `json:"faults"` // why the pages are of an earlier build; none when they are not
	Found   string   `json:"found"`  // "2 warnings"
}

// after gives the news for a page that shows a build.
func (s *Server) after(build int) news {
	s.mu.Lock()
	defer s.mu.Unlock()
	n := news{Build: s.made, Changed: []string{}, Faults: []fault{}, Found: s.last.Found.Summary()}
	for name, since := range s.since {
		if since > build {
			n.Changed = append(n.Changed, name)
		}
	}
	slices.Sort(n.Changed)
	if s.made > build {
		n.Goal = s.last.Goal
	}
	for _, f := range s.faults {
		if f.Severity == source.Error.String() && !f.aside {
			n.Faults = append(n.Faults, f)
		}
	}
	return n
}

// A fault is a message as a page shows it.
type fault struct {
	Severity string   `json:"severity"`
	Place    string   `json:"place"`
	Message  string   `json:"message"`
	Code     string   `json:"code"`
	Line     string   `json:"line"`
	Caret    string   `json:"caret"`
	Hints    []string `json:"hints"`
	aside    bool     // it is on the report's page, and over no other
}

func faultsOf(b Build) []fault {
	var out []fault
	if b.Failed != "" {
		out = append(out, fault{Severity: source.Error.String(), Message: source.Printable(b.Failed), Hints: []string{}})
	}
	for _, d := range b.Found.Sorted() {
		f := fault{Severity: d.Severity.String(), Message: source.Printable(d.Message), Code: d.Code, Hints: []string{}, aside: d.Aside}
		f.Place, f.Line, f.Caret = d.Where(b.Shown)
		for _, h := range d.Hints {
			f.Hints = append(f.Hints, source.Printable(h))
		}
		out = append(out, f)
	}
	// What keeps a booklet from being made comes first.
	rank := []string{source.Error.String(), source.Warning.String(), source.Note.String()}
	of := func(f fault) int {
		if f.aside {
			return 1 // below the warning that says what is left out
		}
		return slices.Index(rank, f.Severity)
	}
	slices.SortStableFunc(out, func(a, b fault) int {
		return cmp.Compare(of(a), of(b))
	})
	return out
}
