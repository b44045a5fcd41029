package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"time"
)

// A Store is one stead's file. Its methods may be called at the same time.
type Store struct {
	path  string
	clock func() time.Time
	write *sql.DB // one connection, immediate transactions
	read  *sql.DB
}

// patience is how long a locked file is waited for.
const patience = 5 * time.Second

// application marks the file as ours ("EVST").
const application = 0x45565354

// Open opens the stead's file, making it when there is none, and brings an
// older form forward. clock gives the moment entries are received. The folder
// must exist (fs.ErrNotExist) and be writable (fs.ErrPermission).
func Open(ctx context.Context, path string, clock func() time.Time) (*Store, error) {
	return open(ctx, path, clock, patience)
}

func open(ctx context.Context, path string, clock func() time.Time, wait time.Duration) (*Store, error) {
	const op = "open the store"
	if err := reachable(path); err != nil {
		return nil, failure(op, path, err)
	}
	if err := found(ctx, path, clock, wait); err != nil {
		return nil, failure(op, path, err)
	}
	s := &Store{path: path, clock: clock}
	var err error
	if s.write, err = connect(path, wait, "&_txlock=immediate", 1); err != nil {
		return nil, s.fail(op, err)
	}
	if err := s.prepare(ctx, wait); err != nil {
		return nil, errors.Join(s.fail(op, err), s.write.Close())
	}
	if s.read, err = connect(path, wait, "&_pragma=query_only(1)", 4); err != nil {
		return nil, errors.Join(s.fail(op, err), s.write.Close())
	}
	return s, nil
}

// found makes the file when there is none. It is made whole under another name
// and then given its own, so that two processes that come at once open one and
// the same: one that turns an empty file to its journal while another writes
// would lose what the other was told is kept.
func found(ctx context.Context, path string, clock func() time.Time, wait time.Duration) error {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	d := system{}
	temp, err := spare(d, path)
	if err != nil {
		return err
	}
	defer discard(d, temp)
	s := &Store{path: temp, clock: clock}
	if s.write, err = connect(temp, wait, "&_txlock=immediate", 1); err != nil {
		return err
	}
	if err := errors.Join(s.prepare(ctx, wait), s.write.Close()); err != nil {
		return err
	}
	if err := syncFile(d, temp); err != nil {
		return err
	}
	if err := d.link(temp, path); err != nil && !errors.Is(err, fs.ErrExist) {
		return settle(d, temp, path) // a file system without links
	}
	return syncFolder(d, path)
}

// reachable reports why a file cannot be written, in the words of the file system.
func reachable(path string) error {
	if fi, err := os.Stat(path); err == nil && !fi.Mode().IsRegular() {
		return fmt.Errorf("%w: not a file", fs.ErrInvalid)
	}
	if _, err := os.Stat(filepath.Dir(path)); err != nil {
		return bare(err)
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return bare(err)
	}
	return f.Close()
}

// bare drops the path from a file error, which Error names already.
func bare(err error) error {
	if p := (*fs.PathError)(nil); errors.As(err, &p) {
		return p.Err
	}
	return err
}

// connect opens a pool of n connections. The pragmas stand in the name, so that
// every connection has them: a log typed by hand is synced at each commit.
func connect(path string, wait time.Duration, more string, n int) (*sql.DB, error) {
	name := (&url.URL{Scheme: "file", Opaque: url.PathEscape(filepath.ToSlash(path))}).String()
	name += fmt.Sprintf("?_pragma=busy_timeout(%d)&_pragma=foreign_keys(1)&_pragma=synchronous(FULL)", wait.Milliseconds())
	db, err := sql.Open("sqlite", name+more)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(n)
	db.SetMaxIdleConns(n)
	return db, nil
}

// prepare sets the journal and brings the form up to date. SQLite does not wait
// for a lock while it changes the journal, so two processes that open a new
// file at once try again.
func (s *Store) prepare(ctx context.Context, wait time.Duration) error {
	for end := time.Now().Add(wait); ; time.Sleep(20 * time.Millisecond) {
		err := s.journal(ctx)
		if err == nil {
			err = s.migrate(ctx)
		}
		if !locked(err) || time.Now().After(end) || ctx.Err() != nil {
			return err
		}
	}
}

func (s *Store) journal(ctx context.Context) error {
	var id, pages int64
	if err := s.write.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return err
	}
	if err := s.write.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema").Scan(&pages); err != nil {
		return err
	}
	if id != application && pages > 0 {
		return ErrForeign
	}
	var mode string
	return s.write.QueryRowContext(ctx, "PRAGMA journal_mode = WAL").Scan(&mode)
}

// Path returns the name of the file.
func (s *Store) Path() string { return s.path }

// Close lets go of the file.
func (s *Store) Close() error {
	return s.fail("close the store", errors.Join(s.read.Close(), s.write.Close()))
}

// within runs f in one write transaction; nothing of it stays when f or the
// commit fails. now is the one moment of the transaction.
func (s *Store) within(ctx context.Context, op string, f func(tx *sql.Tx, now time.Time) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return s.fail(op, err)
	}
	defer tx.Rollback() // does nothing after a commit
	if err := f(tx, s.clock()); err != nil {
		return s.fail(op, err)
	}
	return s.fail(op, tx.Commit())
}
