package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// A disk is what files are made whole on: the system's own, and in tests one that
// fails where it is told to.
type disk interface {
	createTemp(dir, pattern string) (file, error)
	open(name string) (file, error) // for syncing only
	link(old, new string) error
	rename(old, new string) error
	remove(name string) error
	lstat(name string) (fs.FileInfo, error)
}

// A file is what is written to and synced.
type file interface {
	io.Writer
	Name() string
	Sync() error
	Close() error
}

// system is the disk of the machine.
type system struct{}

func (system) createTemp(dir, pattern string) (file, error) { return os.CreateTemp(dir, pattern) }
func (system) open(name string) (file, error)               { return os.Open(name) }
func (system) link(old, new string) error                   { return os.Link(old, new) }
func (system) rename(old, new string) error                 { return os.Rename(old, new) }
func (system) remove(name string) error                     { return os.Remove(name) }
func (system) lstat(name string) (fs.FileInfo, error)       { return os.Lstat(name) }

// WriteNew makes a file of what write gives. It is made under another name,
// synced, and then given its own, so that a file of that name is always whole. A
// file that is there is never written over (fs.ErrExist).
func WriteNew(path string, write func(io.Writer) error) error {
	return writeNew(system{}, path, write)
}

func writeNew(d disk, path string, write func(io.Writer) error) error {
	const op = "write a file"
	if _, err := d.lstat(path); err == nil {
		return failure(op, path, fs.ErrExist)
	}
	temp, err := poured(d, path, write)
	if err != nil {
		return failure(op, path, err)
	}
	defer d.remove(temp)
	err = d.link(temp, path)
	if err != nil && !errors.Is(err, fs.ErrExist) { // a file system without links
		err = d.rename(temp, path)
	}
	if err != nil {
		return failure(op, path, bare(err))
	}
	return failure(op, path, syncFolder(d, path))
}

// Replace puts data into a file, which holds all of it or what it held before.
func Replace(path string, data []byte) error { return replace(system{}, path, data) }

func replace(d disk, path string, data []byte) error {
	const op = "replace a file"
	temp, err := poured(d, path, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
	if err != nil {
		return failure(op, path, err)
	}
	if err := d.rename(temp, path); err != nil {
		return failure(op, path, errors.Join(bare(err), d.remove(temp)))
	}
	return failure(op, path, syncFolder(d, path))
}

// poured writes and syncs a file beside path, and leaves none when that fails.
func poured(d disk, path string, write func(io.Writer) error) (temp string, err error) {
	f, err := d.createTemp(filepath.Dir(path), ".part-*")
	if err != nil {
		return "", bare(err)
	}
	if err := errors.Join(write(whole{f}), f.Sync(), f.Close()); err != nil {
		return "", errors.Join(bare(err), d.remove(f.Name()))
	}
	return f.Name(), nil
}

// whole reports a write that fell short, which a file system may leave unsaid.
type whole struct{ io.Writer }

func (w whole) Write(p []byte) (int, error) {
	n, err := w.Writer.Write(p)
	if err == nil && n < len(p) {
		err = io.ErrShortWrite
	}
	return n, err
}

// free reports fs.ErrExist when a store, or the journal of one, is at path.
func free(d disk, path string) error {
	for _, end := range []string{"", "-wal", "-journal"} {
		if _, err := d.lstat(path + end); err == nil {
			return fmt.Errorf("%w: move it away, or choose another name", fs.ErrExist)
		}
	}
	return nil
}

// spare names a file beside path that does not exist yet.
func spare(d disk, path string) (string, error) {
	f, err := d.createTemp(filepath.Dir(path), ".part-*")
	if err != nil {
		return "", bare(err)
	}
	if err := f.Close(); err != nil {
		return "", errors.Join(bare(err), d.remove(f.Name()))
	}
	return f.Name(), nil
}

// discard takes away what is left of a file that was to be a store, with the
// journals that a failing disk may have left beside it.
func discard(d disk, temp string) {
	for _, end := range []string{"", "-journal", "-wal", "-shm"} {
		// What can't be taken away stays under a name that says it is a part.
		_ = d.remove(temp + end)
	}
}

// settle syncs a finished file, gives it its name and syncs the folder.
func settle(d disk, temp, path string) error {
	if err := syncFile(d, temp); err != nil {
		return err
	}
	if err := free(d, path); err != nil {
		return err
	}
	if err := d.rename(temp, path); err != nil {
		return bare(err)
	}
	return syncFolder(d, path)
}

// syncFolder makes a name in its folder last.
func syncFolder(d disk, path string) error {
	if runtime.GOOS == "windows" { // folders cannot be synced there
		return nil
	}
	return syncFile(d, filepath.Dir(path))
}

func syncFile(d disk, path string) error {
	f, err := d.open(path)
	if err != nil {
		return bare(err)
	}
	return errors.Join(f.Sync(), f.Close())
}
