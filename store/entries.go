package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"hash/crc32"
	"iter"
	"strconv"
	"time"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
)

// Add writes entries to the book, all or none; when it returns nil they are on
// disk. An entry that is there already is left as it is; one whose id is there
// with another body is book.ErrConflict. Received is set by the clock where it
// is zero. Entries must be well formed (book.Entry.Valid).
func (s *Store) Add(ctx context.Context, entries []book.Entry) error {
	return s.within(ctx, "add entries", func(tx *sql.Tx, now time.Time) error {
		return addAll(ctx, tx, entries, now)
	})
}

func addAll(ctx context.Context, tx *sql.Tx, entries []book.Entry, now time.Time) error {
	put, err := tx.PrepareContext(ctx, "INSERT INTO entry (id, day, received, sum, line) VALUES (?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING")
	if err != nil {
		return err
	}
	defer put.Close()
	for _, e := range entries {
		if e.Received.IsZero() {
			e.Received = now
		}
		if err := add(ctx, tx, put, e); err != nil {
			return err
		}
	}
	return nil
}

func add(ctx context.Context, tx *sql.Tx, put *sql.Stmt, e book.Entry) error {
	if err := e.Valid(); err != nil {
		return err
	}
	at := e.Received.UnixNano()
	e.Received = time.Time{}
	line, err := e.Line()
	if err != nil {
		return err
	}
	res, err := put.ExecContext(ctx, e.ID[:], int(e.Day), at, sum(string(line), at), string(line))
	if err != nil {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n == 1 {
		return err
	}
	var there string
	if err := tx.QueryRowContext(ctx, "SELECT line FROM entry WHERE id = ?", e.ID[:]).Scan(&there); err != nil {
		return err
	}
	if there != string(line) {
		return fmt.Errorf("entry %s of %s: %w", e.ID, e.Day, book.ErrConflict)
	}
	return nil
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sum tells a damaged row from a sound one; SQLite keeps no sums of its pages.
func sum(line string, received int64) int64 {
	return int64(crc32.Checksum(strconv.AppendInt([]byte(line), received, 10), castagnoli))
}

// Entries returns the entries of the days from through to, struck ones with
// them, in order of day and arrival.
func (s *Store) Entries(ctx context.Context, from, to day.Day) ([]book.Entry, error) {
	const op = "read entries"
	var n int
	if err := s.read.QueryRowContext(ctx, "SELECT count(*) FROM entry WHERE day BETWEEN ? AND ?", int(from), int(to)).Scan(&n); err != nil {
		return nil, s.fail(op, err)
	}
	out := make([]book.Entry, 0, n)
	for e, err := range entries(ctx, s.read, "WHERE day BETWEEN ? AND ? ORDER BY day, seq", int(from), int(to)) {
		if err != nil {
			return nil, s.fail(op, err)
		}
		out = append(out, e)
	}
	return out, nil
}

// A Mark is how far a book was read: the last entry that had arrived. The zero Mark
// is before the first.
type Mark struct {
	seq int64
	id  uuid.UUID
}

// After returns the entries that arrived after a mark, in order of arrival, and the
// mark of the last. Where the marked entry is not there, because the file is another,
// anew says so and the entries are all there are.
func (s *Store) After(ctx context.Context, m Mark) (list []book.Entry, now Mark, anew bool, err error) {
	const op = "read entries"
	var id uuid.UUID
	err = s.read.QueryRowContext(ctx, "SELECT id FROM entry WHERE seq = ?", m.seq).Scan(&id)
	if m != (Mark{}) && (errors.Is(err, sql.ErrNoRows) || err == nil && id != m.id) {
		m, anew, err = Mark{}, true, nil
	}
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return nil, m, anew, s.fail(op, err)
	}
	// What arrives between the two questions is read the next time.
	if err := s.read.QueryRowContext(ctx, "SELECT seq, id FROM entry ORDER BY seq DESC LIMIT 1").Scan(&now.seq, &now.id); errors.Is(err, sql.ErrNoRows) {
		return nil, Mark{}, anew, nil
	} else if err != nil {
		return nil, m, anew, s.fail(op, err)
	}
	for e, err := range entries(ctx, s.read, "WHERE seq > ? AND seq <= ? ORDER BY seq", m.seq, now.seq) {
		if err != nil {
			return nil, m, anew, s.fail(op, err)
		}
		list = append(list, e)
	}
	return list, now, anew, nil
}

// entries walks the rows that a clause selects and checks each.
func entries(ctx context.Context, db *sql.DB, clause string, args ...any) iter.Seq2[book.Entry, error] {
	return func(yield func(book.Entry, error) bool) {
		rows, err := db.QueryContext(ctx, "SELECT day, received, sum, line FROM entry "+clause, args...) // #nosec G202 -- a constant of the caller (TestQueriesAreConstants)
		if err != nil {
			yield(book.Entry{}, err)
			return
		}
		defer rows.Close()
		for rows.Next() {
			e, err := entry(rows)
			if !yield(e, err) || err != nil {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(book.Entry{}, err)
		}
	}
}

func entry(rows *sql.Rows) (book.Entry, error) {
	var d, at, want int64
	var line string
	if err := rows.Scan(&d, &at, &want, &line); err != nil {
		return book.Entry{}, err
	}
	if sum(line, at) != want {
		return book.Entry{}, fmt.Errorf("%w: an entry does not match its checksum", ErrCorrupt)
	}
	e, err := book.ParseLine([]byte(line))
	if err != nil || int64(e.Day) != d {
		return book.Entry{}, errors.Join(fmt.Errorf("%w: entry %s", ErrCorrupt, e.ID), err)
	}
	e.Received = time.Unix(0, at).UTC()
	return e, nil
}
