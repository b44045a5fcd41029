package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"
)

// The ways a store fails besides fs.ErrNotExist, fs.ErrExist, fs.ErrPermission
// and book.ErrConflict.
var (
	ErrFull    = errors.New("the disk is full")
	ErrLocked  = errors.New("another program holds the file")
	ErrCorrupt = errors.New("the file is damaged")
	ErrNewer   = errors.New("the file is of a newer version")
	ErrForeign = errors.New("the file belongs to another program")
	ErrDisk    = errors.New("the disk failed")
)

// An Error says what was tried on which file, why it failed and what to do.
type Error struct {
	Op   string // "add entries"
	Path string
	Err  error  // one of the kinds above, or the cause
	Mend string // "free some space and try again; nothing was lost"
}

// Error returns operation, file, cause and remedy in one line.
func (e *Error) Error() string {
	s := fmt.Sprintf("%s in %s: %v", e.Op, e.Path, e.Err)
	if e.Mend != "" {
		s += "; " + e.Mend
	}
	return s
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// mends holds what to do about each kind.
var mends = map[error]string{
	ErrFull:          "free some space and try again; what was saved before is safe",
	ErrLocked:        "close the other program or wait, then try again; nothing was changed",
	ErrCorrupt:       "keep the file, and restore the last backup under a new name",
	ErrNewer:         "use the newer evenstead that wrote it",
	ErrForeign:       "name another file",
	ErrDisk:          "check the disk, then try again",
	fs.ErrPermission: "make the file and its folder writable for you",
}

// causes maps the primary result codes of SQLite to kinds.
var causes = map[int]error{
	lib.SQLITE_FULL: ErrFull, lib.SQLITE_BUSY: ErrLocked, lib.SQLITE_LOCKED: ErrLocked,
	lib.SQLITE_CORRUPT: ErrCorrupt, lib.SQLITE_NOTADB: ErrCorrupt, lib.SQLITE_FORMAT: ErrCorrupt,
	lib.SQLITE_READONLY: fs.ErrPermission, lib.SQLITE_PERM: fs.ErrPermission, lib.SQLITE_AUTH: fs.ErrPermission,
	lib.SQLITE_IOERR: ErrDisk, lib.SQLITE_CANTOPEN: fs.ErrPermission, lib.SQLITE_NOLFS: ErrFull,
	lib.SQLITE_INTERRUPT: context.Canceled,
}

// fail turns an error of the driver into an *Error; nil stays nil.
func (s *Store) fail(op string, err error) error { return failure(op, s.path, err) }

func failure(op, path string, err error) error {
	if err == nil {
		return nil
	}
	if known := (*Error)(nil); errors.As(err, &known) {
		return err
	}
	cause := err
	switch {
	case errors.Is(err, syscall.ENOSPC):
		cause = ErrFull
	case errors.Is(err, syscall.EIO):
		cause = ErrDisk
	}
	if db := (*sqlite.Error)(nil); errors.As(err, &db) {
		cause = causes[db.Code()&0xff]
		if cause == nil {
			cause = errors.New(db.Error())
		}
	}
	return &Error{op, path, cause, mends[kindOf(cause)]}
}

// kindOf finds the kind that a cause wraps.
func kindOf(cause error) error {
	for k := range mends {
		if errors.Is(cause, k) {
			return k
		}
	}
	return nil
}

func locked(err error) bool {
	db := (*sqlite.Error)(nil)
	return errors.As(err, &db) && causes[db.Code()&0xff] == ErrLocked
}
