package store

import (
	"database/sql"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"modernc.org/sqlite"

	"evenstead/book"
)

// told checks kind and words of an error, and that the driver stays hidden.
func told(t *testing.T, err, kind error, say string) {
	t.Helper()
	if err == nil || !errors.Is(err, kind) || !strings.Contains(err.Error(), say) {
		t.Errorf("want %v and %q, got %v", kind, say, err)
	}
	if db := (*sqlite.Error)(nil); errors.As(err, &db) || err != nil && strings.Contains(err.Error(), "SQL") {
		t.Errorf("the driver shows: %v", err)
	}
}

func TestOpenRefuses(t *testing.T) {
	dir := t.TempDir()
	_, err := Open(t.Context(), filepath.Join(dir, "no", "stead.db"), ticking())
	told(t, err, fs.ErrNotExist, "open the store in")
	_, err = Open(t.Context(), dir, ticking())
	told(t, err, fs.ErrInvalid, "not a file")

	text := filepath.Join(dir, "letter.txt")
	must(t, os.WriteFile(text, []byte(strings.Repeat("a letter, not a store\n", 200)), 0o600))
	_, err = Open(t.Context(), text, ticking())
	told(t, err, ErrCorrupt, "restore the last backup")

	other := filepath.Join(dir, "other.db")
	db, err := sql.Open("sqlite", other)
	must(t, err)
	_, err = db.Exec("CREATE TABLE songs (title TEXT)")
	must(t, errors.Join(err, db.Close()))
	_, err = Open(t.Context(), other, ticking())
	told(t, err, ErrForeign, "name another file")
}

func TestNewerFormIsLeftAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stead.db")
	s := opened(t, path)
	_, err := s.write.Exec("PRAGMA user_version = 99")
	must(t, errors.Join(err, s.Close()))
	_, err = Open(t.Context(), path, ticking())
	told(t, err, ErrNewer, "form 99")
	told(t, Restore(t.Context(), path, path+"2"), ErrNewer, "use the newer evenstead")
}

func TestOddNamesOpen(t *testing.T) {
	for _, name := range []string{"a b.db", "100%.db", "what?.db", "#1&x=y.db", "münze.db"} {
		path := filepath.Join(t.TempDir(), name)
		must(t, opened(t, path).Add(t.Context(), dips(1, 1)))
		if _, err := os.Stat(path); err != nil {
			t.Error(err)
		}
	}
}

func TestFullDiskLosesNothing(t *testing.T) {
	s := fresh(t)
	must(t, s.Add(t.Context(), dips(1, 20)))
	_, err := s.write.Exec("PRAGMA max_page_count = 30")
	must(t, err)
	err = s.Add(t.Context(), dips(2, 5000))
	told(t, err, ErrFull, "free some space")
	if got := read(t, s); !slices.EqualFunc(got, dips(1, 20), book.Same) {
		t.Errorf("%d entries after a full disk", len(got))
	}
	_, err = s.write.Exec("PRAGMA max_page_count = 100000")
	must(t, err)
	must(t, s.Add(t.Context(), dips(2, 5000)))
	must(t, s.Verify(t.Context()))
}

func TestLockedFileIsWaitedForThenTold(t *testing.T) {
	s := fresh(t)
	tx, err := s.write.Begin()
	must(t, err)
	late, err := open(t.Context(), s.path, ticking(), 100*time.Millisecond)
	must(t, err)
	defer late.Close()
	told(t, late.Add(t.Context(), dips(1, 1)), ErrLocked, "nothing was changed")
	must(t, tx.Rollback())
	must(t, late.Add(t.Context(), dips(1, 1)))
}

func TestReaderIsNotHeldUpByAWriter(t *testing.T) {
	s := fresh(t)
	must(t, s.Add(t.Context(), dips(1, 3)))
	tx, err := s.write.Begin()
	must(t, err)
	defer tx.Rollback()
	if n := len(read(t, s)); n != 3 {
		t.Errorf("%d entries seen", n)
	}
}

// TestDamageIsFoundOrHarmless flips bytes all over the file: each time either
// an error tells of it, or every entry is still there as it was.
func TestDamageIsFoundOrHarmless(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stead.db")
	s := opened(t, path)
	want := dips(1, 400)
	must(t, errors.Join(s.Add(t.Context(), want), s.Close()))
	sound, err := os.ReadFile(path)
	must(t, err)
	rng := rand.New(rand.NewPCG(7, 7))
	found := 0
	for range 60 {
		broken := slices.Clone(sound)
		for range 16 {
			broken[rng.IntN(len(broken))] ^= byte(1 + rng.IntN(255))
		}
		found += damaged(t, broken, want)
	}
	if found < 30 {
		t.Errorf("damage was found in %d of 60 files", found)
	}
}

// damaged opens a file of these bytes, returns 1 when damage is told of, and
// fails the test when it is not and the entries differ.
func damaged(t *testing.T, file []byte, want []book.Entry) int {
	t.Helper()
	path := filepath.Join(t.TempDir(), "broken.db")
	must(t, os.WriteFile(path, file, 0o600))
	s, err := Open(t.Context(), path, ticking())
	if err != nil {
		return 1
	}
	defer s.Close()
	got, err := s.Entries(t.Context(), 0, never)
	if check := s.Verify(t.Context()); err != nil || check != nil {
		if back := s.Backup(t.Context(), path+".copy"); check != nil && back == nil {
			if err := func() error { _, err := inspect(t.Context(), path+".copy"); return err }(); err != nil {
				t.Errorf("a damaged store gave a damaged backup: %v", err)
			}
		}
		return 1
	}
	if !slices.EqualFunc(got, want, book.Same) {
		t.Errorf("%d of %d entries, and nobody was told", len(got), len(want))
	}
	return 0
}

func TestChangedEntryIsFound(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stead.db")
	s := opened(t, path)
	must(t, errors.Join(s.Add(t.Context(), dips(1, 3)), s.Close()))
	b, err := os.ReadFile(path)
	must(t, err)
	i := strings.Index(string(b), "tote 2")
	b[i] = 'v'
	must(t, os.WriteFile(path, b, 0o600))
	_, err = opened(t, path).Entries(t.Context(), 0, never)
	told(t, err, ErrCorrupt, "checksum")
}
