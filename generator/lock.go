package generator

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

const (
	// again is how often a build that waits looks whether the folder is free.
	again = 50 * time.Millisecond
	// moment is how long it does so without a word: most builds are shorter.
	moment = time.Second
	// beingTaken is what Windows says of a file that is just being removed,
	// ERROR_SHARING_VIOLATION; elsewhere no file is opened with this error.
	beingTaken = syscall.Errno(32)
)

// A lock keeps an output folder for one build, in this process or another.
//
// Its file lies in the staging folder, so it is gone when no build is under way,
// and what is published has no file more for it. It lies in the output folder at
// all, and not among the system's temporary files under a name made of the
// folder's path, since that is the one place that all builds share: a folder has
// several paths (links, drive letters, shares), users and machines have temporary
// files of their own, and some systems sweep them. A folder on a network is locked
// by its server: Linux turns these locks into byte ranges for NFS from 2.6.12 on
// (flock(2), "NFS details"), and Windows asks the server for each.
//
// The lock is the system's, which takes it back from a process that ends, however
// it ends. A file that such a process left is no lock.
type lock struct {
	file *flock.Flock
	bare bool // the file system knows no locks
}

// locked waits until no other build has the folder, or ctx ends; tell is given one
// line about each thing that a person should know meanwhile. The staging folder is
// there then.
func locked(ctx context.Context, dir string, tell func(string)) (*lock, error) {
	l := &lock{file: flock.New(filepath.Join(dir, staging, lockFile), flock.SetPermissions(0o644))}
	waits := time.After(moment)
	for {
		got, err := l.try(dir)
		switch {
		case err != nil:
			return nil, err
		case l.bare:
			tell(dir + ": this file system knows no locks; see that no other build writes to the folder")
			return l, nil
		case got:
			return l, nil
		}
		select {
		case <-ctx.Done():
			if errors.Is(ctx.Err(), context.DeadlineExceeded) {
				return nil, &FolderError{dir, "another build is still writing to the folder; nothing was written"}
			}
			return nil, ctx.Err()
		case <-waits:
			tell(dir + ": another build is writing to the folder; this one waits for it to end")
		case <-time.After(again):
		}
	}
}

// try takes the lock if it is free.
func (l *lock) try(dir string) (bool, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return false, err
	}
	// What is no folder or no plain file was put here by someone else: it may lead
	// elsewhere, and a pipe is not opened until somebody writes to it.
	if err := os.Mkdir(filepath.Join(dir, staging), 0o755); errors.Is(err, fs.ErrExist) {
		if info, err := os.Lstat(filepath.Join(dir, staging)); err == nil && !info.IsDir() {
			return false, &FolderError{dir, staging + " is in the way: it is no folder"}
		}
	} else if errors.Is(err, fs.ErrNotExist) {
		return false, nil // the folder went with a first build that failed
	} else if err != nil {
		return false, err
	}
	if info, err := os.Lstat(l.file.Path()); err == nil && !info.Mode().IsRegular() {
		return false, &FolderError{dir, filepath.Join(staging, lockFile) + " is in the way: it is no plain file"}
	}
	got, err := l.file.TryLock()
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, beingTaken):
		return false, nil // the build before has just ended and taken it away
	case errors.Is(err, errors.ErrUnsupported), errors.Is(err, syscall.ENOLCK):
		l.bare = true
		return false, nil
	case err != nil || !got:
		return false, err
	}
	// It may be the lock of a file that the build before has just taken away, so
	// that the next would find none.
	if there, err := os.Lstat(l.file.Path()); err == nil {
		if held, err := l.file.Stat(); err == nil && os.SameFile(there, held) {
			return true, nil
		}
	}
	return false, l.file.Unlock()
}

// release gives the folder to the next build and takes the staging folder away. The
// file goes while it is locked, as another build may have the lock right after. On
// Windows no file goes while it is open, so there it goes after that, unless
// another build has opened it.
func (l *lock) release() error {
	name := l.file.Path()
	remove := func() {
		os.Remove(name)
		os.Remove(filepath.Dir(name)) // fails if another build has begun
	}
	remove()
	err := l.file.Unlock()
	if runtime.GOOS == "windows" {
		remove()
	}
	return err
}
