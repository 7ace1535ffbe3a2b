package preview

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"html"
	"html/template"
	"net"
	"net/http"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

//go:embed assets
var assets embed.FS

// own is where the preview's own files are; no file of a booklet begins so.
const own = "/-/"

// ServeHTTP answers one request. It knows the booklet's files and its own, and
// reads none from the disk. Only this machine is served: a request whose Host
// is another name comes from a page elsewhere that had its name point here.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	switch {
	case !loopback(r.Host):
		http.Error(w, "only this machine is served", http.StatusForbidden)
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD are answered", http.StatusMethodNotAllowed)
	case r.URL.Path == own+"news":
		s.news(w, r)
	case r.URL.Path == own+"report":
		s.report(w, r)
	case strings.HasPrefix(r.URL.Path, own):
		data, err := assets.ReadFile(path.Join("assets", path.Base(r.URL.Path)))
		if err != nil || !slices.Contains([]string{".js", ".css"}, path.Ext(r.URL.Path)) {
			http.NotFound(w, r)
			return
		}
		send(w, r, r.URL.Path, data)
	default:
		s.file(w, r)
	}
}

// loopback tells a Host header that names this machine.
func loopback(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return slices.Contains([]string{"127.0.0.1", "localhost", "::1", "[::1]"}, host)
}

// file sends one of the booklet's files.
func (s *Server) file(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" {
		name = "index.html"
	}
	s.mu.Lock()
	data, ok := s.last.Files[name]
	if !ok {
		data, ok = s.printed[name]
	}
	build := s.made
	s.mu.Unlock()
	switch {
	case !ok:
		s.missing(w, name, build)
	case path.Ext(name) == ".html":
		page(w, r, data, build)
	default:
		send(w, r, name, data)
	}
}

// types are what the files of a booklet are; the system may not know them.
func types(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	case ".jpg":
		return "image/jpeg"
	case ".png":
		return "image/png"
	case ".pdf":
		return "application/pdf"
	case ".ics":
		return "text/calendar; charset=utf-8"
	case ".json":
		return "application/json"
	}
	return "application/octet-stream"
}

func send(w http.ResponseWriter, r *http.Request, name string, data []byte) {
	w.Header().Set("Content-Type", types(name))
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(data))
}

var policyForm = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">\n?`)

// page sends a page with the preview's script in it. The page's own policy goes
// into the answer's head, where leave for that script and for its news is added
// to it; all else that the policy forbids stays forbidden.
func page(w http.ResponseWriter, r *http.Request, data []byte, build int) {
	policy := ""
	if m := policyForm.FindSubmatchIndex(data); m != nil {
		policy = html.UnescapeString(string(data[m[2]:m[3]]))
		data = slices.Concat(data[:m[0]], data[m[1]:])
	}
	w.Header().Set("Content-Security-Policy", widened(policy))
	script := fmt.Sprintf("<script src=\"%spreview.js\" data-build=\"%d\" defer></script>\n</head>", own, build)
	send(w, r, "page.html", bytes.Replace(data, []byte("</head>"), []byte(script), 1))
}

// widened lets a policy also load from this server what the preview needs.
func widened(policy string) string {
	var out []string
	needed := []string{"connect-src", "script-src", "style-src"}
	for d := range strings.SplitSeq(policy, ";") {
		words := strings.Fields(d)
		if len(words) == 0 {
			continue
		}
		if i := slices.Index(needed, words[0]); i >= 0 {
			needed = slices.Delete(needed, i, i+1)
			words = slices.DeleteFunc(words, func(w string) bool { return w == "'none'" })
			if !slices.Contains(words, "'self'") {
				words = append(words, "'self'")
			}
		}
		out = append(out, strings.Join(words, " "))
	}
	for _, n := range needed {
		out = append(out, n+" 'self'")
	}
	return strings.Join(append(out, "frame-ancestors 'none'"), "; ")
}

// news streams what happens to an open page as server-sent events, the state
// of things first (HTML Living Standard, 9.2).
func (s *Server) news(w http.ResponseWriter, r *http.Request) {
	build, err := strconv.Atoi(r.URL.Query().Get("build"))
	if err != nil {
		http.Error(w, "news since which build?", http.StatusBadRequest)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	if r.Method == http.MethodHead {
		return
	}
	here := &reader{r.URL.Query().Get("page"), make(chan struct{}, 1)}
	s.mu.Lock()
	s.open[here] = true
	s.mu.Unlock()
	defer func() {
		s.mu.Lock()
		delete(s.open, here)
		s.mu.Unlock()
	}()
	to := http.NewResponseController(w)
	for {
		n := s.after(build)
		data, err := json.Marshal(n)
		if err != nil {
			return
		}
		if _, err := fmt.Fprintf(w, "data: %s\n\n", data); err != nil {
			return
		}
		if err := to.Flush(); err != nil {
			return
		}
		build = n.Build
		select {
		case <-here.woken:
		case <-r.Context().Done():
			return
		}
	}
}

// missing answers for a page that is not there: not yet, or no longer.
func (s *Server) missing(w http.ResponseWriter, name string, build int) {
	var b bytes.Buffer
	if err := templates().ExecuteTemplate(&b, "missing.html", struct {
		Name  string
		Build int
		None  bool
	}{name, build, build == 0}); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", types(".html"))
	w.Header().Set("Content-Security-Policy", policy)
	w.WriteHeader(http.StatusNotFound)
	w.Write(b.Bytes())
}

// policy is that of the preview's own pages.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// report sends the designer's page.
func (s *Server) report(w http.ResponseWriter, r *http.Request) {
	type file struct{ Name, Size string }
	s.mu.Lock()
	view := struct {
		Report
		Build  int
		Found  string
		Faults []fault
		Prints []file
		Making bool // the files for print are of an earlier build
	}{s.last.Report, s.made, s.last.Found.Summary(), s.faults, nil, s.of != s.made}
	for name, data := range s.printed {
		view.Prints = append(view.Prints, file{name, size(len(data))})
	}
	s.mu.Unlock()
	slices.SortFunc(view.Prints, func(a, b file) int { return strings.Compare(a.Name, b.Name) })
	var b bytes.Buffer
	if err := templates().ExecuteTemplate(&b, "report.html", view); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Security-Policy", policy)
	send(w, r, "report.html", b.Bytes())
}

func size(bytes int) string {
	if bytes < 1e6 {
		return fmt.Sprintf("%d KB", (bytes+999)/1000)
	}
	return fmt.Sprintf("%.1f MB", float64(bytes)/1e6)
}

func templates() *template.Template {
	return template.Must(template.ParseFS(assets, "assets/*.html"))
}
