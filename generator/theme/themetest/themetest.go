// Package themetest gives tests a theme.
package themetest

import (
	"io/fs"
	"path"
	"testing"

	"sheaf/generator/source"
	"sheaf/generator/theme"
	"sheaf/themes"
)

// Fieldbook is the default theme, which has no fault.
func Fieldbook(t testing.TB) *theme.Theme { return Shipped(t, themes.Default) }

// Shipped is a shipped theme.
func Shipped(t testing.TB, name string) *theme.Theme {
	t.Helper()
	var own theme.Files
	if name != themes.Default {
		own = Files(t, name)
	}
	th, ds := theme.Load(Files(t, themes.Default), own, nil)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	return th
}

// Files are those of a shipped theme.
func Files(t testing.TB, name string) theme.Files {
	t.Helper()
	folder, err := themes.Shipped(name)
	if err != nil {
		t.Fatal(err)
	}
	return Of(t, folder, name)
}

// Of are the files of a folder, named in messages below a name.
func Of(t testing.TB, folder fs.FS, name string) theme.Files {
	t.Helper()
	files, err := theme.Gather(folder, func(file string) (*source.File, error) {
		text, err := fs.ReadFile(folder, file)
		return source.NewFile(path.Join(name, file), text), err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}
