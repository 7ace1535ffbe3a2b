//go:build !linux || !(amd64 || arm64)

package main

// largePages does nothing here: other systems choose the size of pages themselves.
func largePages() {}
