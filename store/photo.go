package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"net/http"
	"time"

	"github.com/google/uuid"
)

// MostPhoto is the most bytes a photo may have: 4 MB.
const MostPhoto = 4 << 20

// A Photo belongs to an entry.
type Photo struct {
	Entry uuid.UUID
	Media string            // "image/jpeg" or "image/png"
	Sum   [sha256.Size]byte // SHA-256 of the bytes, by which it is asked for
	Bytes []byte            // nil in lists
}

// AddPhoto keeps a JPEG or PNG file of at most MostPhoto bytes with an entry
// that is in the book (else fs.ErrNotExist). Other files are fs.ErrInvalid. The
// same file sent twice is one.
func (s *Store) AddPhoto(ctx context.Context, entry uuid.UUID, file []byte) (Photo, error) {
	p := Photo{Entry: entry, Media: http.DetectContentType(file), Sum: sha256.Sum256(file), Bytes: file}
	return p, s.within(ctx, "add a photo", func(tx *sql.Tx, _ time.Time) error { return putPhoto(ctx, tx, p) })
}

func putPhoto(ctx context.Context, tx *sql.Tx, p Photo) error {
	if err := p.check(); err != nil {
		return err
	}
	var there int
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM entry WHERE id = ?", p.Entry[:]).Scan(&there); err != nil {
		return err
	}
	if there == 0 {
		return fmt.Errorf("no entry %s for the photo: %w", p.Entry, fs.ErrNotExist)
	}
	_, err := tx.ExecContext(ctx, "INSERT INTO photo (entry, media, sum, bytes) VALUES (?, ?, ?, ?) ON CONFLICT (entry, sum) DO NOTHING",
		p.Entry[:], p.Media, p.Sum[:], p.Bytes)
	return err
}

// CheckPhoto reports why a file cannot be kept as a photo (fs.ErrInvalid).
func CheckPhoto(file []byte) error {
	if len(file) > MostPhoto {
		return fmt.Errorf("%w: the photo has over 4 MB; save it smaller", fs.ErrInvalid)
	}
	if media := http.DetectContentType(file); media != "image/jpeg" && media != "image/png" {
		return fmt.Errorf("%w: a photo must be a JPEG or PNG file, this is %s", fs.ErrInvalid, media)
	}
	return nil
}

// check holds media and sum to the bytes.
func (p Photo) check() error {
	if err := CheckPhoto(p.Bytes); err != nil {
		return err
	}
	if http.DetectContentType(p.Bytes) != p.Media || sha256.Sum256(p.Bytes) != p.Sum {
		return fmt.Errorf("%w: photo %s does not match its media type and checksum", ErrCorrupt, hex.EncodeToString(p.Sum[:]))
	}
	return nil
}

// Photos lists the photos of an entry in order of arrival, without their bytes.
func (s *Store) Photos(ctx context.Context, entry uuid.UUID) ([]Photo, error) {
	out, err := all(ctx, s.read, "SELECT entry, media, sum, NULL FROM photo WHERE entry = ? ORDER BY seq", scanPhoto, entry[:])
	return out, s.fail("read photos", err)
}

// Photo returns the photo of a sum with its bytes: fs.ErrNotExist when there is
// none, ErrCorrupt when the bytes have changed.
func (s *Store) Photo(ctx context.Context, sum [sha256.Size]byte) (Photo, error) {
	const op = "read a photo"
	out, err := all(ctx, s.read, "SELECT entry, media, sum, bytes FROM photo WHERE sum = ? LIMIT 1", scanPhoto, sum[:])
	switch {
	case err != nil:
		return Photo{}, s.fail(op, err)
	case len(out) == 0:
		return Photo{}, s.fail(op, fmt.Errorf("no photo %s: %w", hex.EncodeToString(sum[:]), fs.ErrNotExist))
	}
	return out[0], s.fail(op, out[0].check())
}

func scanPhoto(rows *sql.Rows) (p Photo, err error) {
	var entry, sum []byte
	if err := rows.Scan(&entry, &p.Media, &sum, &p.Bytes); err != nil {
		return p, err
	}
	if len(entry) != len(p.Entry) || len(sum) != len(p.Sum) {
		return p, fmt.Errorf("%w: a photo without an entry", ErrCorrupt)
	}
	copy(p.Entry[:], entry)
	copy(p.Sum[:], sum)
	return p, nil
}

// photos walks all photos in order of arrival, one in memory at a time, and
// checks each. A file of an older form has none.
func photos(ctx context.Context, db *sql.DB) iter.Seq2[Photo, error] {
	return func(yield func(Photo, error) bool) {
		if has, err := hasPhotos(ctx, db); err != nil || !has {
			if err != nil {
				yield(Photo{}, err)
			}
			return
		}
		rows, err := db.QueryContext(ctx, "SELECT entry, media, sum, bytes FROM photo ORDER BY seq")
		if err != nil {
			yield(Photo{}, err)
			return
		}
		defer rows.Close()
		for rows.Next() {
			p, err := scanPhoto(rows)
			if err == nil {
				err = p.check()
			}
			if !yield(p, err) || err != nil {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(Photo{}, err)
		}
	}
}

// hasPhotos reports whether the file is of a form that keeps photos.
func hasPhotos(ctx context.Context, db *sql.DB) (bool, error) {
	var n int
	err := db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema WHERE name = 'photo'").Scan(&n)
	return n > 0, err
}

// photoLine is a photo in an export; bytes are base64.
type photoLine struct {
	Entry uuid.UUID `json:"entry"`
	Media string    `json:"media"`
	Sum   string    `json:"sum"`
	Bytes []byte    `json:"bytes"`
}

func (l photoLine) photo() (Photo, error) {
	p := Photo{Entry: l.Entry, Media: l.Media, Bytes: l.Bytes}
	sum, err := hex.DecodeString(l.Sum)
	if err != nil || len(sum) != len(p.Sum) {
		return p, errors.New("a photo's sum is the SHA-256 of its bytes, 64 hexadecimal digits")
	}
	copy(p.Sum[:], sum)
	return p, nil
}
