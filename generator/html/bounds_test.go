package html_test

import (
	"context"
	"errors"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/generator/html"
	"sheaf/generator/theme"
	"sheaf/generator/theme/themetest"
	"sheaf/themes"
)

// endless are templates that come to no end, or to one that no memory holds, with
// the line on which that is told.
func endless() map[string]struct {
	text string
	line string
} {
	return map[string]struct{ text, line string }{
		"a range that prints nothing":            {"\n{{range 1000000000000}}{{end}}", "2:"},
		"a range that prints":                    {"\n\n{{range 1000000000000}}a line of some thirty letters{{end}}", "3:"},
		"ranges in each other":                   {"\n{{range 1000000}}\n{{range 1000000}}{{end}}{{end}}", "3:"},
		"a range in an attribute":                {"<a title=\"\n{{range 1000000000000}}{{end}}\">", "2:"},
		"a range in a script":                    {"<script>\n{{range 1000000000000}}{{end}}</script>", "2:"},
		"a template that calls itself":           {"{{template \"again\"}}{{end}}\n{{define \"again\"}}{{template \"again\"}}", "2:"},
		"one that calls itself twice":            {"{{template \"twice\" \"\"}}{{end}}\n{{define \"twice\"}}{{if lt (len .) 50}}{{template \"twice\" (print . \"x\")}}{{template \"twice\" (print . \"x\")}}{{end}}", "2:"},
		"text twice as long each time":           {"{{$s := \"abcdefgh\"}}\n{{range 60}}{{$s = printf \"%s%s\" $s $s}}{{end}}", "2:"},
		"the same, said once and for all":        {"{{$s := \"abcdefgh\"}}\n" + strings.Repeat("{{$s = print $s $s $s $s}}", 30), "2:"},
		"the same, escaped":                      {"{{$s := `\\`}}\n{{range 60}}{{$s = js $s}}{{end}}", "2:"},
		"the same, by one format":                {"{{$s := printf \"%999s\" \"x\"}}\n{{$s = printf \"" + strings.Repeat("%[1]s", 999) + "\" $s}}{{$s = printf \"" + strings.Repeat("%[1]s", 999) + "\" $s}}{{$s}}", "2:"},
		"spaces":                                 {"\n{{printf \"%999999d\" 1}}", "2:"},
		"spaces as many as are asked for":        {"\n{{printf \"%*d\" 999999 1}}", "2:"},
		"words filled into words":                {"{{$s := \"abcdefgh\"}}{{$t := .}}\n{{range 60}}{{$s = $t.Say \"drawn.alt\" \"plant\" (print $s $s)}}{{end}}", "2:"},
		"gigabytes":                              {"\n{{range 4000000}}" + strings.Repeat("a line of some thirty letters\n", 200) + "{{end}}", "2:"},
		"work of the program's, again and again": {"\n{{range 4000000}}{{$.Parts (index $.Sections 0)}}{{end}}", "2:"},
		"the same section, again and again":      {"\n{{range 4000000}}{{$.Under (index $.Sections 0)}}{{end}}", "2:"},
	}
}

// dressed joins a theme that has a file over the default's.
func dressed(t *testing.T, name, text string) *theme.Theme {
	t.Helper()
	th, ds := theme.Load(themetest.Files(t, themes.Default), themetest.Of(t, fstest.MapFS{name: {Data: []byte(text)}}, "looks"), nil)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	return th
}

// TestEndlessTemplates: each ends by itself, with a fault at its place.
func TestEndlessTemplates(t *testing.T) {
	for name, c := range endless() {
		t.Run(name, func(t *testing.T) {
			th := dressed(t, "cover.html", "{{define \"home\"}}"+c.text+"{{end}}")
			began := time.Now()
			if ds := html.Check(th); len(ds) > 0 {
				t.Fatal(ds)
			}
			if took := time.Since(began); took > time.Second {
				t.Errorf("it ran for %v before there was a book", took)
			}
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, _, err := render(everything(t), th)
			runtime.ReadMemStats(&after)
			ds := html.Fault(th, err)
			if len(ds) != 1 || ds[0].Code != "theme/template" {
				t.Fatalf("%v: %v", err, ds)
			}
			place, _, _ := ds[0].Where(nil)
			if !strings.HasPrefix(place, "looks/cover.html:"+c.line) {
				t.Errorf("told at %s, not line %s: %s", place, c.line, ds[0].Message)
			}
			if took := time.Since(began); took > 30*time.Second { // on a busy machine
				t.Errorf("it ran for %v", took)
			}
			if most := uint64(1 << 30); after.Sys-before.Sys > most {
				t.Errorf("it took %d MB", (after.Sys-before.Sys)>>20)
			}
			t.Logf("%v, %d MB: %s: %s", time.Since(began).Round(time.Millisecond), (after.Sys-before.Sys)>>20, place, ds[0].Message)
		})
	}
}

// TestDeepRanges: ranges in ranges double the time in which templates are looked
// through, so they are counted before.
func TestDeepRanges(t *testing.T) {
	th := dressed(t, "cover.html", "{{define \"home\"}}\n"+strings.Repeat("{{range .Sections}}", 40)+strings.Repeat("{{end}}", 40)+"{{end}}")
	began := time.Now()
	ds := html.Check(th)
	if len(ds) != 1 || ds[0].Code != "theme/template" || time.Since(began) > 5*time.Second {
		t.Fatalf("%v: %v", time.Since(began), ds)
	}
	if place, _, _ := ds[0].Where(nil); !strings.HasPrefix(place, "looks/cover.html:2:") {
		t.Errorf("told at %s: %s", place, ds[0].Message)
	}
}

// TestInterrupted: who waits for a page need not wait for its end.
func TestInterrupted(t *testing.T) {
	th := dressed(t, "cover.html", "{{define \"home\"}}{{range 4000000}}{{$.Parts (index $.Sections 0)}}{{end}}{{end}}")
	for name, page := range map[string]func(ctx context.Context) error{
		"all pages": func(ctx context.Context) error {
			w, err := html.NewWeb(everything(t), th, nil)
			if err == nil {
				_, err = w.Files(ctx, into(map[string][]byte{}))
			}
			return err
		},
		"one page": func(ctx context.Context) error {
			w, err := html.NewWeb(everything(t), th, nil)
			if err == nil {
				_, err = w.Page(ctx, "index.html")
			}
			return err
		},
	} {
		ctx, stop := context.WithCancel(t.Context())
		time.AfterFunc(200*time.Millisecond, stop)
		began := time.Now()
		err := page(ctx)
		if !errors.Is(err, context.Canceled) || html.Fault(th, err) != nil || time.Since(began) > 2*time.Second {
			t.Errorf("%s: after %v: %v", name, time.Since(began), err)
		}
	}
}

// TestStepsChangeNothing: functions that ask for leave do what those do that they
// stand for.
func TestStepsChangeNothing(t *testing.T) {
	th := dressed(t, "cover.html", `{{define "home"}}{{printf "%-5s|%03d|%.2f|%q in 2027, 100 %%" "a" 7 1.5 "b"}}; {{print 1 2 "c"}}; {{println "d"}}; {{js "'e'"}}; {{urlquery "f g"}}; {{"<h>" | html}}{{end}}`)
	out, _, err := render(everything(t), th)
	if err != nil {
		t.Fatal(err)
	}
	if want := `a    |007|1.50|&#34;b&#34; in 2027, 100 %; 1 2c; d` + "\n" + `; \&#39;e\&#39;; f&#43;g; &lt;h&gt;`; !strings.Contains(string(out["index.html"]), want) {
		t.Errorf("it reads %s, want %s", out["index.html"], want)
	}
}
