//go:build amd64 || arm64

package main

import (
	"runtime"
	"syscall"
)

// largePages has Linux give the heap its memory in pages of 2 MB where it gives those
// to who asks (transparent_hugepage=madvise). A build touches most of its memory once,
// and with pages of 4 KB an eighth of its time goes into being given them. It asks for
// a stretch of addresses that nobody touches and lets it go: the heap fills its lowest
// addresses first, so what it holds from now on lies there. Nothing but time hangs on
// that.
func largePages() {
	const size = 256 << 20
	// Where addresses are rationed (ulimit -v, strict overcommit) there is no such
	// stretch, and the runtime would end the program over it.
	probe, err := syscall.Mmap(-1, 0, size, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_PRIVATE|syscall.MAP_ANON)
	if err != nil {
		return
	}
	syscall.Munmap(probe)
	stretch := make([]byte, size)
	syscall.Madvise(stretch, syscall.MADV_HUGEPAGE) // a kernel without them says so
	runtime.KeepAlive(stretch)
	stretch = nil
	runtime.GC()
}
