package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"image/png"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenstead/day"
)

// released are the migrations that are out in the world, by the first digits of
// their SHA-256: a step that somebody's file has gone through is never changed.
var released = []string{"d9f2fd689f1898a0", "fe7d2b05ffb76db9", "390a087024778579", "2f11ce59958fc2cf", "63cbe19f7ddf3064"}

func TestReleasedMigrationsNeverChange(t *testing.T) {
	if len(steps) < len(released) {
		t.Fatalf("%d of %d migrations are left", len(steps), len(released))
	}
	for i, want := range released {
		text, err := schema.ReadFile("schema/" + steps[i])
		must(t, err)
		if sum := sha256.Sum256(text); hex.EncodeToString(sum[:8]) != want {
			t.Errorf("%s was changed: add a new migration instead", steps[i])
		}
	}
}

// fillings put something into every table that each migration made.
var fillings = []func(context.Context, *Store, *sql.Tx) error{
	func(ctx context.Context, _ *Store, tx *sql.Tx) error {
		for i, text := range []string{"name = \"Thornby\"\n", "name = \"Thornby\" # later\n"} {
			if err := putStead(ctx, tx, Version{day.Of(2026, 11, 1+i), time.Unix(int64(i), 5).UTC(), text}); err != nil {
				return err
			}
		}
		return addAll(ctx, tx, dips(1, 50), time.Unix(1e9, 7))
	},
	func(ctx context.Context, _ *Store, tx *sql.Tx) error {
		return putWeather(ctx, tx, Weather{day.Of(2026, 11, 2), 4, value(nil), 12})
	},
	func(ctx context.Context, _ *Store, tx *sql.Tx) error {
		return putPlan(ctx, tx, Plan{Name: "year one", Accepted: time.Unix(1e9, 0).UTC(), Body: []byte(`{"beds":3}`)})
	},
	func(ctx context.Context, _ *Store, tx *sql.Tx) error {
		var file bytes.Buffer
		if err := png.Encode(&file, shaded(5)); err != nil {
			return err
		}
		p := Photo{Entry: id(1, 3), Media: "image/png", Sum: sha256.Sum256(file.Bytes()), Bytes: file.Bytes()}
		return putPhoto(ctx, tx, p)
	},
	func(ctx context.Context, _ *Store, tx *sql.Tx) error {
		return putSetting(ctx, tx, Setting{"units", "us"})
	},
}

// formOf makes a file of an earlier form, n migrations old, and fills it: full
// says how many of the fillings are put in.
func formOf(t *testing.T, path string, n, full int) {
	t.Helper()
	db, err := connect(path, patience, "&_txlock=immediate", 1)
	must(t, err)
	s := &Store{path: path, clock: ticking(), write: db}
	must(t, s.journal(t.Context()))
	for range n {
		must(t, s.within(t.Context(), "migrate", step))
	}
	for i := range full {
		must(t, s.within(t.Context(), "fill", func(tx *sql.Tx, _ time.Time) error { return fillings[i](t.Context(), s, tx) }))
	}
	must(t, db.Close())
}

// TestEveryEarlierFormComesForward opens a file of every form there ever was, full
// of what it could hold: all of it is there as if it had been written today, the
// file is sound, takes new entries, and can be backed up and restored.
func TestEveryEarlierFormComesForward(t *testing.T) {
	for n := 1; n <= len(steps); n++ {
		t.Run(fmt.Sprint("form ", n), func(t *testing.T) {
			full := min(n, len(fillings))
			path, today := filepath.Join(t.TempDir(), "old.db"), filepath.Join(t.TempDir(), "new.db")
			formOf(t, path, n, full)
			formOf(t, today, len(steps), full)
			want := exported(t, opened(t, today))
			s := opened(t, path)
			if got := exported(t, s); got != want || !strings.Contains(got, "Thornby") {
				t.Errorf("it holds\n%s\nwant\n%s", got, want)
			}
			at, err := version(t.Context(), s.read)
			must(t, err)
			if at != len(steps) {
				t.Errorf("form %d after it was opened", at)
			}
			must(t, s.Add(t.Context(), dips(2, 1)))
			must(t, s.Verify(t.Context()))
			if n >= 4 {
				if list, err := s.Photos(t.Context(), id(1, 3)); err != nil || len(list) != 1 {
					t.Errorf("%d photos, %v", len(list), err)
				}
			}
			must(t, s.Backup(t.Context(), path+".copy"))
			must(t, Restore(t.Context(), path+".copy", path+".again"))
			if got := exported(t, opened(t, path+".again")); got != exported(t, s) {
				t.Error("the restored store holds something else")
			}
		})
	}
}

// TestEarlierBackupsAreRestored: a backup of an earlier form need not be opened
// first.
func TestEarlierBackupsAreRestored(t *testing.T) {
	for n := 1; n < len(steps); n++ {
		dir := t.TempDir()
		old, made := filepath.Join(dir, "old.db"), filepath.Join(dir, "made.db")
		formOf(t, old, n, min(n, len(fillings)))
		must(t, Restore(t.Context(), old, made))
		if got := len(read(t, opened(t, made))); got != 50 {
			t.Errorf("form %d: %d entries", n, got)
		}
	}
}

// TestAnUpgradeThatFailsLeavesTheOldForm: a migration is done or not done at all.
func TestAnUpgradeThatFailsLeavesTheOldForm(t *testing.T) {
	path := filepath.Join(t.TempDir(), "old.db")
	formOf(t, path, 2, 2)
	db, err := connect(path, patience, "", 1)
	must(t, err)
	_, err = db.Exec("CREATE TABLE photo (in_the_way INTEGER)") // the fourth step can't be done
	must(t, errors.Join(err, db.Close()))
	if _, err := Open(t.Context(), path, ticking()); err == nil {
		t.Fatal("it opens")
	}
	db, err = connect(path, patience, "", 1)
	must(t, err)
	at, err := version(t.Context(), db)
	must(t, err)
	_, err = db.Exec("DROP TABLE photo")
	must(t, errors.Join(err, db.Close()))
	if at != 3 {
		t.Errorf("form %d: the third step was done and the fourth was not", at)
	}
	if got := len(read(t, opened(t, path))); got != 50 {
		t.Errorf("%d entries", got)
	}
}
