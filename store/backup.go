package store

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"time"
)

// Backup writes the store as it is at one moment to a new file, while others
// may go on writing. The copy is made under a temporary name, checked page by
// page and row by row, counted against the original, synced, and only then
// named path. A file of that name is never written over (fs.ErrExist).
func (s *Store) Backup(ctx context.Context, path string) error { return s.backup(ctx, system{}, path) }

func (s *Store) backup(ctx context.Context, d disk, path string) error {
	const op = "back up"
	if err := free(d, path); err != nil {
		return failure(op, path, err)
	}
	before, err := count(ctx, s.read)
	if err != nil {
		return s.fail(op, err)
	}
	temp, err := spare(d, path)
	if err != nil {
		return failure(op, path, err)
	}
	defer discard(d, temp)
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", temp); err != nil {
		return failure(op, path, err)
	}
	after, err := count(ctx, s.read)
	if err != nil {
		return s.fail(op, err)
	}
	got, err := inspect(ctx, temp)
	if err == nil && (got < before || got > after) {
		err = fmt.Errorf("%w: the copy holds %d rows, the store %d", ErrCorrupt, got, before)
	}
	if err != nil {
		return failure(op, path, err)
	}
	return failure(op, path, settle(d, temp, path))
}

// Restore makes a new store at path from a backup, checked first like a fresh
// one. It never writes over a store (fs.ErrExist): move the old one away.
func Restore(ctx context.Context, backup, path string) error {
	return restore(ctx, system{}, backup, path)
}

func restore(ctx context.Context, d disk, backup, path string) error {
	const op = "restore"
	if err := free(d, path); err != nil {
		return failure(op, path, err)
	}
	want, err := inspect(ctx, backup)
	if err != nil {
		return failure(op, backup, err)
	}
	temp, err := spare(d, path)
	if err != nil {
		return failure(op, path, err)
	}
	defer discard(d, temp)
	if err := clone(ctx, backup, temp); err != nil {
		return failure(op, path, err)
	}
	got, err := inspect(ctx, temp)
	if err == nil && got != want {
		err = fmt.Errorf("%w: the copy holds %d rows, the backup %d", ErrCorrupt, got, want)
	}
	if err != nil {
		return failure(op, path, err)
	}
	return failure(op, path, settle(d, temp, path))
}

// clone copies a store through the database, so that what still stands in the
// journal beside it comes along.
func clone(ctx context.Context, from, to string) error {
	db, err := connect(from, patience, "&mode=ro", 1)
	if err != nil {
		return err
	}
	defer db.Close()
	_, err = db.ExecContext(ctx, "VACUUM INTO ?", to)
	return err
}

// count is the number of rows that are never taken away.
func count(ctx context.Context, db *sql.DB) (n int64, err error) {
	query := "SELECT (SELECT count(*) FROM entry) + (SELECT count(*) FROM stead)"
	has, err := hasPhotos(ctx, db)
	if err != nil {
		return 0, err
	}
	if has {
		query += " + (SELECT count(*) FROM photo)"
	}
	err = db.QueryRowContext(ctx, query).Scan(&n)
	return n, err
}

// inspect opens a file for reading only and checks it; n is its count.
func inspect(ctx context.Context, path string) (n int64, err error) {
	if _, err := os.Stat(path); err != nil {
		return 0, bare(err)
	}
	db, err := connect(path, time.Second, "&mode=ro&_pragma=query_only(1)", 1)
	if err != nil {
		return 0, err
	}
	defer db.Close()
	var id int64
	if err := db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return 0, err
	}
	if id != application {
		return 0, ErrForeign
	}
	if _, err := version(ctx, db); err != nil {
		return 0, err
	}
	if err := verify(ctx, db); err != nil {
		return 0, err
	}
	return count(ctx, db)
}

// Verify reads the whole file and reports ErrCorrupt when a page, an index, an
// entry or a photo is not sound.
func (s *Store) Verify(ctx context.Context) error {
	return s.fail("check the store", verify(ctx, s.read))
}

func verify(ctx context.Context, db *sql.DB) error {
	var first string
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&first); err != nil {
		return err
	}
	if first != "ok" {
		return fmt.Errorf("%w: %s", ErrCorrupt, first)
	}
	for _, err := range entries(ctx, db, "ORDER BY seq") {
		if err != nil {
			return err
		}
	}
	for _, err := range photos(ctx, db) {
		if err != nil {
			return err
		}
	}
	return nil
}
