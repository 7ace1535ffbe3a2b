// Package wordstest gives tests the words of a booklet.
package wordstest

import (
	"io/fs"
	"path"
	"sync"
	"testing"

	"sheaf/generator/source"
	"sheaf/generator/words"
	"sheaf/themes"
)

// English are the words of British English.
func English(t testing.TB) *words.Words { return Of(t, words.Reference) }

// loaded are the words by language: nothing changes them once they are read.
var loaded sync.Map

// Of are the words of a language that ships; they have no fault.
func Of(t testing.TB, lang string) *words.Words {
	t.Helper()
	if w, ok := loaded.Load(lang); ok {
		return w.(*words.Words)
	}
	w, ds := words.Load(Files(t), nil, lang)
	if w == nil || len(ds) > 0 {
		t.Fatal(lang, ds)
	}
	loaded.Store(lang, w)
	return w
}

// Files are those of the words that ship.
func Files(t testing.TB) words.Files {
	t.Helper()
	folder, err := themes.Shipped(themes.Default)
	if err != nil {
		t.Fatal(err)
	}
	names, err := fs.Glob(folder, words.Dir+"/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	out := words.Files{}
	for _, name := range names {
		text, err := fs.ReadFile(folder, name)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = source.NewFile(path.Join("built-in", name), text)
	}
	return out
}
