package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A failing disk fails the call with a number, or all from it on.
type failing struct {
	system
	from, count int
	lasting     bool
	err         error // short: half of a write is done and nothing said
	calls       []string
}

var errShort = errors.New("half is written and nothing said")

func (d *failing) fails(call string) error {
	d.count++
	d.calls = append(d.calls, call)
	if d.from > 0 && (d.count == d.from || d.lasting && d.count > d.from) {
		return &fs.PathError{Op: call, Path: "x", Err: d.err}
	}
	return nil
}

func (d *failing) createTemp(dir, pattern string) (file, error) {
	if err := d.fails("create"); err != nil {
		return nil, err
	}
	f, err := d.system.createTemp(dir, pattern)
	return &failingFile{f, d}, err
}

func (d *failing) open(name string) (file, error) {
	if err := d.fails("open"); err != nil {
		return nil, err
	}
	f, err := d.system.open(name)
	return &failingFile{f, d}, err
}

func (d *failing) link(old, new string) error {
	if err := d.fails("link"); err != nil {
		return err
	}
	return d.system.link(old, new)
}

func (d *failing) rename(old, new string) error {
	if err := d.fails("rename"); err != nil {
		return err
	}
	return d.system.rename(old, new)
}

type failingFile struct {
	file
	d *failing
}

func (f *failingFile) Write(p []byte) (int, error) {
	err := f.d.fails("write")
	switch {
	case err == nil:
		return f.file.Write(p)
	case errors.Is(err, errShort):
		return f.file.Write(p[:len(p)/2])
	}
	n, _ := f.file.Write(p[:len(p)/2])
	return n, err
}

func (f *failingFile) Sync() error {
	if err := f.d.fails("sync"); err != nil && !errors.Is(err, errShort) {
		return err
	}
	return f.file.Sync()
}

func (f *failingFile) Close() error {
	err := f.d.fails("close")
	if errors.Is(err, errShort) {
		err = nil
	}
	return errors.Join(f.file.Close(), err)
}

// making is a way to make a file, what it holds when that is done, and what was
// there before.
type making struct {
	name, before, after string
	make                func(disk, string) error
}

func makings(t *testing.T) []making {
	s := fresh(t)
	must(t, s.Add(t.Context(), dips(1, 5)))
	source := filepath.Join(t.TempDir(), "source.db")
	must(t, s.Backup(t.Context(), source))
	text := strings.Repeat("a line of an export\n", 10000)
	return []making{
		{"a new file", "", text, func(d disk, path string) error {
			return writeNew(d, path, func(w io.Writer) error {
				for part := range strings.SplitSeq(text, "0") {
					if _, err := io.WriteString(w, part); err != nil {
						return err
					}
				}
				return nil
			})
		}},
		{"a file replaced", "what was there", text, func(d disk, path string) error { return replace(d, path, []byte(text)) }},
		{"a backup", "", "", func(d disk, path string) error { return s.backup(t.Context(), d, path) }},
		{"a restored store", "", "", func(d disk, path string) error { return restore(t.Context(), d, source, path) }},
	}
}

// TestFilesAreWholeOrNotThere fails every call on the disk, in every way, while a
// file is made: either it is there as it should be, or it is as it was before, and
// an error is told; whichever, no part lies about unless it could not be taken away.
func TestFilesAreWholeOrNotThere(t *testing.T) {
	tried := 0
	for _, m := range makings(t) {
		for _, how := range []error{syscall.EIO, syscall.ENOSPC, errShort} {
			for _, lasting := range []bool{false, true} {
				for from := 1; ; from++ {
					path := filepath.Join(t.TempDir(), "file")
					if m.before != "" {
						must(t, os.WriteFile(path, []byte(m.before), 0o600))
					}
					d := &failing{from: from, lasting: lasting, err: how}
					err := m.make(d, path)
					m.check(t, fmt.Sprintf("%s, %v at call %d of %v", m.name, how, from, d.calls), path, how, err)
					if tried++; t.Failed() || d.count < from {
						break
					}
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d failures were tried", tried)
	}
}

func (m making) check(t *testing.T, name, path string, how, err error) {
	t.Helper()
	got, readErr := os.ReadFile(path)
	switch {
	case err == nil && readErr != nil:
		t.Errorf("%s: nothing is there and nothing is said", name)
	case err == nil && m.after != "" && string(got) != m.after:
		t.Errorf("%s: %d bytes of %d, and nothing is said", name, len(got), len(m.after))
	case err == nil && m.after == "":
		if _, err := inspect(t.Context(), path); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	case err != nil && readErr == nil && string(got) != m.before && m.after != "" && string(got) != m.after:
		t.Errorf("%s: %d bytes that are neither old nor new", name, len(got))
	case err != nil && readErr == nil && m.after == "":
		if _, err := inspect(t.Context(), path); err != nil { // the last sync failed: it is whole all the same
			t.Errorf("%s: half a store: %v", name, err)
		}
	}
	want := map[error]error{syscall.EIO: ErrDisk, syscall.ENOSPC: ErrFull}[how]
	if err != nil && want != nil && !errors.Is(err, want) {
		t.Errorf("%s: told %v", name, err)
	}
	parts, globErr := filepath.Glob(filepath.Join(filepath.Dir(path), ".part-*"))
	must(t, globErr)
	if len(parts) > 0 {
		t.Errorf("%s: %v is left", name, parts)
	}
}

func TestNothingIsWrittenOver(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	must(t, os.WriteFile(path, []byte("mine"), 0o600))
	err := WriteNew(path, func(w io.Writer) error { _, err := io.WriteString(w, "other"); return err })
	if got, _ := os.ReadFile(path); !errors.Is(err, fs.ErrExist) || string(got) != "mine" {
		t.Errorf("%v, and the file holds %q", err, got)
	}
	// One that came meanwhile is not written over either.
	late := filepath.Join(t.TempDir(), "late")
	err = WriteNew(late, func(w io.Writer) error { return os.WriteFile(late, []byte("mine"), 0o600) })
	if got, _ := os.ReadFile(late); !errors.Is(err, fs.ErrExist) || string(got) != "mine" {
		t.Errorf("%v, and the file holds %q", err, got)
	}
	must(t, Replace(path, []byte("new")))
	if got, _ := os.ReadFile(path); string(got) != "new" {
		t.Errorf("replaced: %q", got)
	}
}
