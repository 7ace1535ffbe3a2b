package html

import (
	"context"
	"errors"
	"html/template"
	"io"
	"strings"
	"testing"
	"time"
)

// TestSlowTemplates: steps that each take long end by the clock.
func TestSlowTemplates(t *testing.T) {
	pages := template.Must(template.New("page").Funcs(new(budget).functions()).Parse("\n{{range 1000000000}}{{end}}"))
	if err := stepped(pages); err != nil {
		t.Fatal(err)
	}
	s, err := newSet(pages, budget{steps: 1 << 60, bytes: 1 << 60, time: 50 * time.Millisecond})
	if err != nil {
		t.Fatal(err)
	}
	ctx, done := context.WithTimeout(t.Context(), s.time)
	defer done()
	s.begin(ctx)
	began := time.Now()
	err = s.execute(io.Discard, "page", nil)
	if !errors.Is(err, errSpent) || !strings.HasPrefix(err.Error(), "template: page:2:") || time.Since(began) > 10*time.Second {
		t.Errorf("after %v: %v", time.Since(began), err)
	}
}
