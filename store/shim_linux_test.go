package store

import (
	"strings"
	"sync"
	"testing"
	"unsafe"

	"modernc.org/libc"
	lib "modernc.org/sqlite/lib"
)

// The shim is a file system of SQLite's own kind (sqlite.org/vfs.html) between it
// and the system's: it hands every call on, and under a watched folder it counts
// and records what is written, cut, synced and deleted, and fails what it is told to.

// An act is one change that SQLite asked of a file.
type act struct {
	does string // "write", "truncate", "sync", "delete"; "ack" is put in by a test
	path string
	at   int64
	data []byte
	size int64
}

// A fault is what goes wrong, from the act with this number on.
type fault struct {
	from    int  // counted from 1; 0: never
	lasting bool // all after it fail too
	code    int32
	short   bool // half of a write reaches the disk before it fails
}

// A shim watches one folder at a time.
type shim struct {
	mu     sync.Mutex
	plain  lib.Tsqlite3_vfs
	ours   uintptr
	tables map[uintptr]uintptr // our methods by the system's
	names  map[uintptr]string  // of open files
	keep   []any               // functions that only SQLite points to

	under  string // the watched folder; "": none
	fault  fault
	count  int
	acts   []act
	record bool
}

var theShim struct {
	sync.Once
	*shim
}

// shimmed watches a folder until the test ends. A file that was opened before the
// first call in a process is not seen: begin with shimmed(t, "", fault{}).
func shimmed(t testing.TB, dir string, f fault) *shim {
	t.Helper()
	theShim.Do(func() { theShim.shim = newShim(t) })
	s := theShim.shim
	s.set(dir, f)
	t.Cleanup(func() { s.set("", fault{}) })
	return s
}

func (s *shim) set(dir string, f fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.under, s.fault, s.count, s.acts, s.record = dir, f, 0, nil, false
}

// newShim registers the shim as the file system that SQLite uses from now on.
func newShim(t testing.TB) *shim {
	tls := libc.NewTLS()
	was := lib.Xsqlite3_vfs_find(tls, 0)
	if was == 0 {
		t.Fatal("SQLite has no file system")
	}
	s := &shim{plain: *at[lib.Tsqlite3_vfs](was), tables: map[uintptr]uintptr{}, names: map[uintptr]string{}}
	s.ours = libc.Xmalloc(tls, libc.Tsize_t(unsafe.Sizeof(s.plain)))
	name, err := libc.CString("shim")
	if err != nil {
		t.Fatal(err)
	}
	v := s.plain
	v.FzName, v.FpNext = name, 0
	v.FxOpen = pointerTo(s, func(tls *libc.TLS, _, name, file uintptr, flags int32, out uintptr) int32 {
		return s.open(tls, was, name, file, flags, out)
	})
	v.FxDelete = pointerTo(s, func(tls *libc.TLS, _, name uintptr, sync int32) int32 { return s.delete(tls, was, name, sync) })
	*at[lib.Tsqlite3_vfs](s.ours) = v
	if rc := lib.Xsqlite3_vfs_register(tls, s.ours, 1); rc != lib.SQLITE_OK {
		t.Fatalf("register the shim: %d", rc)
	}
	return s
}

// pointerTo is the pointer by which SQLite's Go calls a function, which is kept
// for as long as the process lives.
func pointerTo[F any](s *shim, f F) uintptr {
	s.keep = append(s.keep, f)
	return *(*uintptr)(unsafe.Pointer(&struct{ f F }{f}))
}

// at is what lies at an address of SQLite's.
func at[T any](p uintptr) *T { return *(**T)(unsafe.Pointer(&p)) }

// function is the function behind such a pointer.
func function[F any](p uintptr) F { return *(*F)(unsafe.Pointer(&struct{ p uintptr }{p})) }

type (
	openFunc     = func(*libc.TLS, uintptr, uintptr, uintptr, int32, uintptr) int32
	deleteFunc   = func(*libc.TLS, uintptr, uintptr, int32) int32
	closeFunc    = func(*libc.TLS, uintptr) int32
	writeFunc    = func(*libc.TLS, uintptr, uintptr, int32, int64) int32
	truncateFunc = func(*libc.TLS, uintptr, int64) int32
	syncFunc     = func(*libc.TLS, uintptr, int32) int32
)

func (s *shim) open(tls *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32 {
	rc := function[openFunc](s.plain.FxOpen)(tls, vfs, name, file, flags, out)
	methods := &at[lib.Tsqlite3_file](file).FpMethods
	if rc != lib.SQLITE_OK || *methods == 0 {
		return rc
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if name != 0 {
		s.names[file] = libc.GoString(name)
	}
	*methods = s.table(tls, *methods)
	return rc
}

// table is a copy of a file's methods with ours in it.
func (s *shim) table(tls *libc.TLS, real uintptr) uintptr {
	if t, made := s.tables[real]; made {
		return t
	}
	m := *at[lib.Tsqlite3_io_methods](real)
	of := m
	m.FxClose = pointerTo(s, closeFunc(func(tls *libc.TLS, file uintptr) int32 {
		s.mu.Lock()
		delete(s.names, file)
		s.mu.Unlock()
		return function[closeFunc](of.FxClose)(tls, file)
	}))
	m.FxWrite = pointerTo(s, writeFunc(func(tls *libc.TLS, file, from uintptr, n int32, off int64) int32 {
		code, short := s.note(file, "write", off, unsafe.Slice(at[byte](from), n), 0)
		if code != lib.SQLITE_OK {
			if short {
				function[writeFunc](of.FxWrite)(tls, file, from, n/2, off)
			}
			return code
		}
		return function[writeFunc](of.FxWrite)(tls, file, from, n, off)
	}))
	m.FxTruncate = pointerTo(s, truncateFunc(func(tls *libc.TLS, file uintptr, size int64) int32 {
		if code, _ := s.note(file, "truncate", 0, nil, size); code != lib.SQLITE_OK {
			return code
		}
		return function[truncateFunc](of.FxTruncate)(tls, file, size)
	}))
	m.FxSync = pointerTo(s, syncFunc(func(tls *libc.TLS, file uintptr, flags int32) int32 {
		if code, _ := s.note(file, "sync", 0, nil, 0); code != lib.SQLITE_OK {
			return code
		}
		return function[syncFunc](of.FxSync)(tls, file, flags)
	}))
	t := libc.Xmalloc(tls, libc.Tsize_t(unsafe.Sizeof(m)))
	*at[lib.Tsqlite3_io_methods](t) = m
	s.tables[real] = t
	return t
}

func (s *shim) delete(tls *libc.TLS, vfs, name uintptr, sync int32) int32 {
	s.mu.Lock()
	path := libc.GoString(name)
	code, _ := s.take(act{does: "delete", path: path})
	s.mu.Unlock()
	if code != lib.SQLITE_OK {
		return code
	}
	return function[deleteFunc](s.plain.FxDelete)(tls, vfs, name, sync)
}

func (s *shim) note(file uintptr, does string, off int64, data []byte, size int64) (int32, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.take(act{does, s.names[file], off, data, size})
}

// take counts an act and tells how it fails; SQLITE_OK when it does not.
func (s *shim) take(a act) (code int32, short bool) {
	if s.under == "" || !strings.HasPrefix(a.path, s.under) {
		return lib.SQLITE_OK, false
	}
	s.count++
	f := s.fault
	if f.from > 0 && (s.count == f.from || s.count > f.from && f.lasting) {
		return f.of(a.does), f.short
	}
	if s.record {
		a.data = append([]byte(nil), a.data...)
		s.acts = append(s.acts, a)
	}
	return lib.SQLITE_OK, false
}

// of is the code that an act fails with: a full disk only stops what needs room.
func (f fault) of(does string) int32 {
	switch {
	case f.code == lib.SQLITE_FULL && does == "write":
		return lib.SQLITE_FULL
	case f.code == lib.SQLITE_FULL:
		return lib.SQLITE_OK
	}
	return map[string]int32{"write": lib.SQLITE_IOERR_WRITE, "truncate": lib.SQLITE_IOERR_TRUNCATE, "sync": lib.SQLITE_IOERR_FSYNC, "delete": lib.SQLITE_IOERR_DELETE}[does]
}

// ack puts into the record that so many entries have been acknowledged.
func (s *shim) ack(n int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.acts = append(s.acts, act{does: "ack", size: int64(n)})
}
