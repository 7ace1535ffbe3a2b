package draw

import "sync"

// A Memo keeps what was drawn or painted in one build for the next, and for
// whoever asks for the same within one: each key is made once. What is kept is
// never changed by who gets it. A nil Memo keeps nothing. It is safe for use from
// several places at once.
type Memo[K comparable, V any] struct {
	mu    sync.Mutex
	round int
	kept  map[K]*kept[V]
}

type kept[V any] struct {
	once  sync.Once
	value V
	round int // of the build that last asked for it
}

// Of gives what belongs to a key, made now, by the function, if it is not kept.
func (m *Memo[K, V]) Of(key K, by func() V) V {
	if m == nil {
		return by()
	}
	m.mu.Lock()
	k := m.kept[key]
	if k == nil {
		if m.kept == nil {
			m.kept = map[K]*kept[V]{}
		}
		k = &kept[V]{}
		m.kept[key] = k
	}
	k.round = m.round
	m.mu.Unlock()
	k.once.Do(func() { k.value = by() })
	return k.value
}

// Turn begins a build: what the build before did not ask for is forgotten.
func (m *Memo[K, V]) Turn() {
	m.mu.Lock()
	defer m.mu.Unlock()
	for key, k := range m.kept {
		if k.round != m.round {
			delete(m.kept, key)
		}
	}
	m.round++
}

// Len is how many things are kept.
func (m *Memo[K, V]) Len() int {
	m.mu.Lock()
	defer m.mu.Unlock()
	return len(m.kept)
}
