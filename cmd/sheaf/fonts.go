package main

import "path/filepath"

// fontFolders are the usual folders of a system's typefaces, those of its user
// first: on Linux by the XDG base directories and the configuration that
// fontconfig ships, on macOS and Windows as their makers document them. From
// memory; a folder that is not there is passed over.
func fontFolders(goos string, env func(string) string) []string {
	home := env("HOME")
	under := func(base string, more ...string) []string {
		if base == "" {
			return nil
		}
		return []string{filepath.Join(append([]string{base}, more...)...)}
	}
	var out []string
	switch goos {
	case "windows":
		out = append(out, under(env("LOCALAPPDATA"), "Microsoft", "Windows", "Fonts")...)
		out = append(out, under(env("WINDIR"), "Fonts")...)
	case "darwin":
		out = append(out, under(home, "Library", "Fonts")...)
		out = append(out, "/Library/Fonts", "/System/Library/Fonts")
	default:
		if data := env("XDG_DATA_HOME"); data != "" {
			out = append(out, under(data, "fonts")...)
		} else {
			out = append(out, under(home, ".local", "share", "fonts")...)
		}
		out = append(out, under(home, ".fonts")...)
		out = append(out, "/usr/local/share/fonts", "/usr/share/fonts")
	}
	return out
}
