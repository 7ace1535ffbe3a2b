// Package themetest gives tests a theme.
package themetest

import (
	"testing"

	"sheaf/generator/theme"
	"sheaf/themes"
)

// Fieldbook is the shipped theme, which has no fault.
func Fieldbook(t testing.TB) *theme.Theme {
	t.Helper()
	files, err := themes.Shipped("fieldbook")
	if err != nil {
		t.Fatal(err)
	}
	th, ds, err := theme.Load(files)
	if err != nil || len(ds) > 0 {
		t.Fatal(err, ds)
	}
	return th
}
