package draw

import (
	"sync"
	"sync/atomic"
	"testing"
)

// TestMemo: each key is made once, whoever asks, and goes when a build has not
// asked for it.
func TestMemo(t *testing.T) {
	var m Memo[string, int]
	var made atomic.Int32
	seven := func() int { made.Add(1); return 7 }
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			if v := m.Of("a", seven); v != 7 {
				t.Errorf("got %d", v)
			}
		})
	}
	all.Wait()
	if made.Load() != 1 {
		t.Errorf("made %d times", made.Load())
	}
	m.Turn()
	m.Of("b", seven)
	m.Of("a", seven)
	if made.Load() != 2 || m.Len() != 2 {
		t.Errorf("the next build made %d and keeps %d", made.Load()-1, m.Len())
	}
	m.Turn()
	m.Of("b", seven)
	m.Turn()
	if m.Len() != 1 {
		t.Errorf("%d are kept, of which one was asked for", m.Len())
	}
	var none *Memo[string, int]
	if none.Of("a", seven); made.Load() != 3 {
		t.Error("a memo that is none keeps something")
	}
}
