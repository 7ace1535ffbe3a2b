package preview

import (
	"bufio"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"sheaf/generator/source"
)

const onePage = `<!doctype html>
<html><head>
<meta http-equiv="Content-Security-Policy" content="default-src &#39;none&#39;; script-src &#39;sha256-abc=&#39;; img-src data:">
<title>Reed</title>
</head><body><p>%</p></body></html>
`

func pages(words string) map[string][]byte {
	return map[string][]byte{
		"index.html":       []byte(strings.ReplaceAll(onePage, "%", words)),
		"plants/reed.html": []byte(strings.ReplaceAll(onePage, "%", "reed")),
		"style.css":        []byte("p { color: red }"),
	}
}

func faulty(t *testing.T) source.Diagnostics {
	t.Helper()
	f := source.NewFile("plants/reed.md", []byte("---\nwanter: <b>much</b>\n---\n"))
	var ds source.Diagnostics
	ds.Add(source.Error, "entry/unknown-key", source.Span{File: f, Start: 4, End: 10}, `unknown key "wanter"`, `did you mean "water"?`)
	ds.Add(source.Warning, "entry/other", source.Span{File: f, Start: 0, End: 3}, "a doubt")
	return ds
}

func get(t *testing.T, s *Server, method, path, host string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(method, path, nil)
	r.Host = host
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r *http.Response) string {
	t.Helper()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestRequests(t *testing.T) {
	s := New()
	s.Show(Build{Files: pages("first")})
	s.Printed(map[string][]byte{"booklet.pdf": []byte("%PDF-")})
	for _, c := range []struct {
		method, path, host string
		status             int
		has, kind          string
	}{
		{"GET", "/", "127.0.0.1:8000", 200, "first", "text/html; charset=utf-8"},
		{"GET", "/index.html", "localhost", 200, "first", "text/html; charset=utf-8"},
		{"GET", "/plants/reed.html?build=3", "[::1]:8000", 200, "reed", "text/html; charset=utf-8"},
		{"GET", "/style.css", "127.0.0.1", 200, "color: red", "text/css; charset=utf-8"},
		{"GET", "/booklet.pdf", "127.0.0.1", 200, "%PDF-", "application/pdf"},
		{"GET", "/-/preview.js", "127.0.0.1", 200, "EventSource", "text/javascript; charset=utf-8"},
		{"GET", "/-/panel.css", "127.0.0.1", 200, ".panel", "text/css; charset=utf-8"},
		{"GET", "/-/report", "127.0.0.1", 200, "Nothing to tell", "text/html; charset=utf-8"},
		{"HEAD", "/", "127.0.0.1", 200, "", "text/html; charset=utf-8"},
		{"HEAD", "/-/news?build=0", "127.0.0.1", 200, "", "text/event-stream"},
		{"GET", "/none.html", "127.0.0.1", 404, "No such page", "text/html; charset=utf-8"},
		{"GET", "/%3Cscript%3E", "127.0.0.1", 404, "&lt;script&gt;", "text/html; charset=utf-8"},
		{"GET", "/-/report.html", "127.0.0.1", 404, "", ""},
		{"GET", "/-/../preview.go", "127.0.0.1", 404, "", ""},
		{"GET", "/../../etc/passwd", "127.0.0.1", 404, "", ""},
		{"GET", "/-/news", "127.0.0.1", 400, "", ""},
		{"POST", "/", "127.0.0.1", 405, "", ""},
		{"PUT", "/index.html", "127.0.0.1", 405, "", ""},
		{"DELETE", "/-/report", "127.0.0.1", 405, "", ""},
		{"GET", "/", "sheaf.example", 403, "", ""},
		{"GET", "/", "127.0.0.1.sheaf.example:80", 403, "", ""},
		{"GET", "/-/news?build=0", "sheaf.example", 403, "", ""},
	} {
		r := get(t, s, c.method, c.path, c.host)
		text := body(t, r)
		if r.StatusCode != c.status || !strings.Contains(text, c.has) || c.kind != "" && r.Header.Get("Content-Type") != c.kind {
			t.Errorf("%s %s for %s: %d %s\n%s", c.method, c.path, c.host, r.StatusCode, r.Header.Get("Content-Type"), text)
		}
		if c.method == "HEAD" && text != "" {
			t.Errorf("HEAD %s has a body", c.path)
		}
		for h, want := range map[string]string{"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Cross-Origin-Resource-Policy": "same-origin"} {
			if got := r.Header.Get(h); got != want {
				t.Errorf("%s %s: %s is %q", c.method, c.path, h, got)
			}
		}
	}
}

// TestPolicy: the page's own policy is kept and lets in no more than the
// preview's files.
func TestPolicy(t *testing.T) {
	s := New()
	s.Show(Build{Files: pages("first")})
	r := get(t, s, "GET", "/", "127.0.0.1")
	text := body(t, r)
	const want = "default-src 'none'; script-src 'sha256-abc=' 'self'; img-src data:; connect-src 'self'; style-src 'self'; frame-ancestors 'none'"
	if got := r.Header.Get("Content-Security-Policy"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if strings.Contains(text, "http-equiv") || !strings.Contains(text, `<script src="/-/preview.js" data-build="1" defer></script>`+"\n</head>") {
		t.Errorf("the page has its own policy still, or not the script:\n%s", text)
	}
	if got := widened("script-src 'none'"); got != "script-src 'self'; connect-src 'self'; style-src 'self'; frame-ancestors 'none'" {
		t.Errorf("'none' beside another source is not valid: %s", got)
	}
}

// TestNews follows a page through builds: made, faulty, mended.
func TestNews(t *testing.T) {
	s := New()
	server := httptest.NewServer(s)
	defer server.Close()
	r, err := http.Get(server.URL + "/-/news?build=0")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	in := bufio.NewScanner(r.Body)
	next := func() news {
		t.Helper()
		for in.Scan() {
			if data, ok := strings.CutPrefix(in.Text(), "data: "); ok {
				var n news
				if err := json.Unmarshal([]byte(data), &n); err != nil {
					t.Fatal(err)
				}
				return n
			}
		}
		t.Fatalf("the stream ended: %v", in.Err())
		return news{}
	}
	if n := next(); n.Build != 0 || len(n.Changed)+len(n.Faults) != 0 {
		t.Errorf("before a build: %+v", n)
	}
	s.Show(Build{Files: pages("first"), Goal: "plants/reed.html"})
	if n := next(); n.Build != 1 || strings.Join(n.Changed, " ") != "index.html plants/reed.html style.css" || n.Goal != "plants/reed.html" {
		t.Errorf("the first build: %+v", n)
	}
	s.Show(Build{Files: pages("second")})
	if n := next(); n.Build != 2 || strings.Join(n.Changed, " ") != "index.html" || n.Goal != "" {
		t.Errorf("the second build: %+v", n)
	}
	s.Show(Build{Found: faulty(t), Shown: func(p string) string { return "club/" + p }})
	n := next()
	if n.Build != 2 || len(n.Changed) != 0 || len(n.Faults) != 1 || n.Found != "1 error, 1 warning" {
		t.Fatalf("a faulty build: %+v", n)
	}
	if f := n.Faults[0]; f.Place != "club/plants/reed.md:2:1" || f.Line != "wanter: <b>much</b>" || f.Caret != "^^^^^^" || f.Code != "entry/unknown-key" || len(f.Hints) != 1 {
		t.Errorf("the fault: %+v", f)
	}
	if text := body(t, get(t, s, "GET", "/", "127.0.0.1")); !strings.Contains(text, "second") {
		t.Errorf("the last good page is gone:\n%s", text)
	}
	if text := body(t, get(t, s, "GET", "/-/report", "127.0.0.1")); !strings.Contains(text, "wanter: &lt;b&gt;much") || !strings.Contains(text, "a doubt") {
		t.Errorf("the report does not tell, or not safely:\n%s", text)
	}
	s.Show(Build{Failed: "garden.yaml: no such file"})
	if n := next(); len(n.Faults) != 1 || n.Faults[0].Message != "garden.yaml: no such file" {
		t.Errorf("a build that could not read: %+v", n)
	}
	less := pages("second")
	delete(less, "plants/reed.html")
	s.Show(Build{Files: less})
	if n := next(); n.Build != 3 || strings.Join(n.Changed, " ") != "plants/reed.html" || len(n.Faults) != 0 {
		t.Errorf("a mended build with a page less: %+v", n)
	}
	if n := s.after(0); strings.Join(n.Changed, " ") != "index.html plants/reed.html style.css" {
		t.Errorf("a page of long ago hears of %v", n.Changed)
	}
}

func TestReport(t *testing.T) {
	s := New()
	s.Show(Build{Files: pages("first"), Report: Report{Title: "Larch <End>", Lines: []string{"5 plantings"}, Parts: []Part{{"Without care", []string{"row 2"}}}}})
	text := body(t, get(t, s, "GET", "/-/report", "127.0.0.1"))
	for _, want := range []string{"Larch &lt;End&gt;", "5 plantings", "Without care", "row 2", "They are being made"} {
		if !strings.Contains(text, want) {
			t.Errorf("the report lacks %q:\n%s", want, text)
		}
	}
	s.Printed(map[string][]byte{"booklet.pdf": make([]byte, 2_300_000), "care.ics": make([]byte, 12_001)})
	text = body(t, get(t, s, "GET", "/-/report", "127.0.0.1"))
	for _, want := range []string{`<a href="/booklet.pdf">booklet.pdf</a> <span class="quiet">2.3 MB`, "13 KB"} {
		if !strings.Contains(text, want) {
			t.Errorf("the report lacks %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "being made") {
		t.Error("what is made is said to be in the making")
	}
	s.Show(Build{Files: pages("second")})
	if text = body(t, get(t, s, "GET", "/-/report", "127.0.0.1")); !strings.Contains(text, "of an earlier state") {
		t.Error("files for print of an earlier build are not said to be that")
	}
}
