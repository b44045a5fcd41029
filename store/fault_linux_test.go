package store

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	lib "modernc.org/sqlite/lib"

	"evenstead/book"
)

// faults are the ways in which the disk fails.
var faults = []struct {
	name string
	fault
	kind error
}{
	{"EIO once", fault{code: lib.SQLITE_IOERR}, ErrDisk},
	{"EIO from then on", fault{code: lib.SQLITE_IOERR, lasting: true}, ErrDisk},
	{"a short write, then EIO", fault{code: lib.SQLITE_IOERR, lasting: true, short: true}, ErrDisk},
	{"ENOSPC", fault{code: lib.SQLITE_FULL, lasting: true}, ErrFull},
	{"a short write, then ENOSPC", fault{code: lib.SQLITE_FULL, lasting: true, short: true}, ErrFull},
}

// nightly reports whether there is time to try everything (.ci/nightly).
func nightly() bool { return os.Getenv("EVENSTEAD_NIGHTLY") != "" }

// holds checks that the store at a path is sound and has what was acknowledged,
// each once, and nothing but what was asked for.
func holds(t *testing.T, path string, acknowledged, asked []book.Entry) {
	t.Helper()
	s := opened(t, path)
	defer s.Close()
	must(t, s.Verify(t.Context()))
	may := map[uuid.UUID]book.Entry{}
	for _, e := range asked {
		may[e.ID] = e
	}
	got := map[uuid.UUID]bool{}
	for _, e := range read(t, s) {
		if want, ok := may[e.ID]; !ok || got[e.ID] || !book.Same(e, want) {
			t.Errorf("entry %s is there again, or changed, or was never written", e.ID)
		}
		got[e.ID] = true
	}
	for _, e := range acknowledged {
		if !got[e.ID] {
			t.Errorf("an acknowledged entry is gone")
		}
	}
}

// TestFaultsLoseNothing fails every single thing that SQLite asks of the disk
// while entries are written, in every way: each failure is told by its kind, what
// was acknowledged is kept, and once the disk is sound the store goes on.
func TestFaultsLoseNothing(t *testing.T) {
	shimmed(t, "", fault{})
	runs, failures, step := 0, 0, 9
	if nightly() {
		step = 1
	}
	for i, f := range faults {
		for from := 1 + i; ; from += step {
			path := filepath.Join(t.TempDir(), "stead.db")
			s := opened(t, path)
			_, err := s.write.Exec("PRAGMA wal_autocheckpoint = 8")
			must(t, err)
			var kept, asked []book.Entry
			f.from = from
			sh := shimmed(t, path, f.fault)
			failed := false
			for i := range 12 {
				e := dips(i, 1)
				asked = append(asked, e...)
				switch err := s.Add(t.Context(), e); {
				case err == nil:
					kept = append(kept, e...)
				case errors.Is(err, f.kind):
					failed = true
				default:
					t.Fatalf("%s at act %d: %v", f.name, from, err)
				}
			}
			acts := sh.count
			sh.set("", fault{})
			last := dips(99, 1)
			must(t, s.Add(t.Context(), last))
			kept, asked = append(kept, last...), append(asked, last...)
			must(t, s.Close())
			holds(t, path, kept, asked)
			if runs++; failed {
				failures++
			}
			if t.Failed() {
				t.Fatalf("%s at act %d", f.name, from)
			}
			if acts < from {
				break
			}
		}
	}
	if runs < 40 || failures < 35 {
		t.Errorf("only %d runs, %d of them with a failure", runs, failures)
	}
	t.Logf("%d runs, in %d of them a failure was told", runs, failures)
}

// TestFaultsLeaveNoHalfCopy fails every thing asked of the disk while a backup and
// a restore are made: a copy that is there is whole, and one that failed is not there.
func TestFaultsLeaveNoHalfCopy(t *testing.T) {
	shimmed(t, "", fault{})
	dir := t.TempDir()
	path := filepath.Join(dir, "stead.db")
	s := opened(t, path)
	want := dips(1, 40)
	must(t, s.Add(t.Context(), want))
	source := filepath.Join(dir, "source.db")
	must(t, s.Backup(t.Context(), source))
	makes := map[string]func(string) error{
		"backup":  func(to string) error { return s.Backup(t.Context(), to) },
		"restore": func(to string) error { return Restore(t.Context(), source, to) },
	}
	for name, make := range makes {
		for _, f := range faults {
			for from := 1; ; from++ {
				to := filepath.Join(t.TempDir(), "copy.db")
				f.from = from
				sh := shimmed(t, filepath.Dir(to), f.fault)
				err := make(to)
				acts := sh.count
				sh.set("", fault{})
				copied(t, fmt.Sprintf("%s, %s at act %d", name, f.name, from), to, err, want)
				if t.Failed() || acts < from {
					break
				}
			}
		}
	}
	must(t, s.Verify(t.Context()))
}

// copied checks a copy that was made, or not, and that nothing else lies about.
func copied(t *testing.T, name, path string, err error, want []book.Entry) {
	t.Helper()
	_, stat := os.Stat(path)
	switch {
	case err == nil && stat != nil:
		t.Errorf("%s: no error and no copy", name)
	case err != nil && stat == nil:
		t.Errorf("%s: a copy, and %v", name, err)
	case err == nil:
		holds(t, path, want, want)
	case !errors.Is(err, ErrDisk) && !errors.Is(err, ErrFull) && !errors.Is(err, ErrCorrupt):
		t.Errorf("%s: %v", name, err)
	}
	part, globErr := filepath.Glob(filepath.Join(filepath.Dir(path), ".part-*"))
	must(t, globErr)
	if len(part) > 0 {
		t.Errorf("%s: %v is left", name, part)
	}
}

// A left is what of each file would be there after a power cut.
type left map[string][]byte

// cut is the disk after the first n acts: of each file what was synced, and of
// what was asked since then some acts and not others, the last torn anywhere, as
// a disk that orders its own work may leave it. acked is the number of entries
// acknowledged by then.
func cut(acts []act, n int, start left, rng *rand.Rand) (after left, acked int) {
	after = left{}
	for p, b := range start {
		after[p] = slices.Clone(b)
	}
	waiting := map[string][]act{}
	for _, a := range acts[:n] {
		switch a.does {
		case "ack":
			acked = int(a.size)
		case "sync":
			for _, w := range waiting[a.path] {
				after.apply(w, len(w.data))
			}
			waiting[a.path] = nil
		case "delete":
			delete(after, a.path)
			delete(waiting, a.path)
		default:
			waiting[a.path] = append(waiting[a.path], a)
		}
	}
	for _, p := range slices.Sorted(maps.Keys(waiting)) {
		for _, w := range waiting[p] {
			switch rng.IntN(4) {
			case 0, 1:
				after.apply(w, len(w.data))
			case 2:
				after.apply(w, rng.IntN(len(w.data)+1))
			}
		}
	}
	return after, acked
}

// apply does an act, of a write the first n bytes.
func (im left) apply(a act, n int) {
	b := im[a.path]
	switch a.does {
	case "write":
		if end := a.at + int64(n); int64(len(b)) < end {
			b = append(b, make([]byte, end-int64(len(b)))...)
		}
		copy(b[a.at:], a.data[:n])
	case "truncate":
		b = b[:min(a.size, int64(len(b)))]
	}
	im[a.path] = b
}

// lay writes them into a folder.
func (im left) lay(t *testing.T, dir string) {
	t.Helper()
	for p, b := range im {
		if !strings.HasSuffix(p, "-shm") { // memory that the database makes anew
			must(t, os.WriteFile(filepath.Join(dir, filepath.Base(p)), b, 0o600))
		}
	}
}

// TestPowerCutsLoseNothing records what SQLite asks of the disk while entries are
// written and checkpoints made, cuts the power between any two acts, and opens
// what is left: all that was acknowledged is there and the file is sound.
func TestPowerCutsLoseNothing(t *testing.T) {
	shimmed(t, "", fault{})
	cuts := 80
	if nightly() {
		cuts = 5000
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "stead.db")
	s := opened(t, path)
	_, err := s.write.Exec("PRAGMA wal_autocheckpoint = 8")
	must(t, err)
	start := left{}
	for _, end := range []string{"", "-wal"} {
		if start[path+end], err = os.ReadFile(path + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			t.Fatal(err)
		}
	}
	sh := shimmed(t, path, fault{})
	sh.record = true
	var asked []book.Entry
	for i := range 60 {
		e := dips(i, 1+i%5)
		asked = append(asked, e...)
		must(t, s.Add(t.Context(), e))
		sh.ack(len(asked))
	}
	must(t, s.Close()) // which checkpoints and takes the journal away
	acts := sh.acts
	sh.set("", fault{})
	rng := rand.New(rand.NewPCG(20261125, 5))
	most := 0
	for i := range cuts {
		n := rng.IntN(len(acts) + 1)
		if i == 0 {
			n = len(acts)
		}
		after, acked := cut(acts, n, start, rng)
		to := t.TempDir()
		after.lay(t, to)
		holds(t, filepath.Join(to, "stead.db"), asked[:acked], asked)
		if most = max(most, acked); t.Failed() {
			t.Fatalf("power cut after act %d of %d, %d acknowledged", n, len(acts), acked)
		}
	}
	if most < len(asked) || len(acts) < 500 {
		t.Errorf("%d acts, at most %d of %d acknowledged", len(acts), most, len(asked))
	}
	t.Logf("%d power cuts among %d acts", cuts, len(acts))
}

// TestAPowerCutThatForgetsSyncsIsFound: the check above can fail. A disk that says
// it has synced and has not loses entries, and the check sees it.
func TestAPowerCutThatForgetsSyncsIsFound(t *testing.T) {
	shimmed(t, "", fault{})
	dir := t.TempDir()
	path := filepath.Join(dir, "stead.db")
	s := opened(t, path)
	start := left{}
	var err error
	start[path], err = os.ReadFile(path)
	must(t, err)
	sh := shimmed(t, path, fault{})
	sh.record = true
	must(t, s.Add(t.Context(), dips(1, 3)))
	acts := slices.DeleteFunc(sh.acts, func(a act) bool { return a.does == "sync" })
	sh.set("", fault{})
	lost := 0
	rng := rand.New(rand.NewPCG(1, 1))
	for range 20 {
		after, _ := cut(acts, len(acts), start, rng)
		to := t.TempDir()
		after.lay(t, to)
		o := opened(t, filepath.Join(to, "stead.db"))
		if len(read(t, o)) < 3 {
			lost++
		}
		must(t, o.Close())
	}
	if lost == 0 {
		t.Error("twenty power cuts without a sync lost nothing")
	}
}

// TestAJournalCutAnywhere: a journal that ends at any byte, as one that was copied
// while it was written, leaves a beginning of the book and never a damaged one.
func TestAJournalCutAnywhere(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "stead.db")
	s := opened(t, path)
	var asked []book.Entry
	for i := range 30 {
		asked = append(asked, dips(i, 1)...)
		must(t, s.Add(t.Context(), asked[i:]))
	}
	file, err := os.ReadFile(path)
	must(t, err)
	journal, err := os.ReadFile(path + "-wal")
	must(t, err)
	rng := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		n := rng.IntN(len(journal) + 1)
		to := filepath.Join(t.TempDir(), "stead.db")
		must(t, errors.Join(os.WriteFile(to, file, 0o600), os.WriteFile(to+"-wal", journal[:n], 0o600)))
		o := opened(t, to)
		must(t, o.Verify(t.Context()))
		if got := read(t, o); len(got) > len(asked) || !slices.EqualFunc(got, asked[:len(got)], book.Same) {
			t.Fatalf("a journal of %d bytes of %d leaves %d entries that are no beginning", n, len(journal), len(got))
		}
		must(t, o.Close())
	}
}
