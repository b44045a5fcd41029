package store

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/unit"
)

var (
	start = time.Date(2026, 11, 1, 8, 0, 0, 0, time.UTC)
	from  = day.Of(2026, time.November, 1)
	never = day.Of(2100, time.January, 1)
)

// ticking is a clock that moves on a second at each look.
func ticking() func() time.Time {
	now := start
	return func() time.Time { now = now.Add(time.Second); return now }
}

func opened(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Open(t.Context(), path, ticking())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func fresh(t testing.TB) *Store { return opened(t, filepath.Join(t.TempDir(), "stead.db")) }

// id is the nth id of a writer.
func id(writer, n int) (u uuid.UUID) {
	binary.BigEndian.PutUint32(u[2:], uint32(writer))
	binary.BigEndian.PutUint32(u[12:], uint32(n))
	u[6], u[8] = 0x70, 0x80
	return u
}

// dip is the nth entry of a writer, one a day in turn over ten years.
func dip(writer, n int) book.Entry {
	return book.Entry{ID: id(writer, n), Day: from + day.Day(n%3650), Time: "07:30", Who: "Sorrel", Kind: book.Dipped,
		Body: book.Body{Where: "tote 2", Amount: float64(n), Measure: unit.Volume}, Note: "clear & <cold>"}
}

func dips(writer, n int) []book.Entry {
	out := make([]book.Entry, n)
	for i := range out {
		out[i] = dip(writer, i)
	}
	return out
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func read(t testing.TB, s *Store) []book.Entry {
	t.Helper()
	got, err := s.Entries(t.Context(), 0, never)
	must(t, err)
	return got
}

func TestWhatWasAddedIsThereOnce(t *testing.T) {
	s := fresh(t)
	must(t, s.Add(t.Context(), dips(1, 50)))
	must(t, s.Add(t.Context(), dips(1, 50)))
	got := read(t, s)
	if !slices.EqualFunc(got, dips(1, 50), book.Same) {
		t.Errorf("%d entries came back changed", len(got))
	}
	if got[0].Received.IsZero() || !got[0].Received.Equal(got[49].Received) {
		t.Error("a transaction has one moment of receipt")
	}
	some, err := s.Entries(t.Context(), from+10, from+12)
	if err != nil || len(some) != 3 || some[0].Day != from+10 {
		t.Errorf("days 10 to 12: %v %v", some, err)
	}
}

func TestOneBadEntryRefusesAll(t *testing.T) {
	s := fresh(t)
	must(t, s.Add(t.Context(), dips(1, 1)))
	other := dip(1, 0)
	other.Body.Amount = 7
	if err := s.Add(t.Context(), []book.Entry{dip(1, 5), other}); !errors.Is(err, book.ErrConflict) {
		t.Errorf("another body under one id: %v", err)
	}
	bad := dip(1, 6)
	bad.Body.Measure = unit.Mass
	if err := s.Add(t.Context(), []book.Entry{dip(1, 5), bad}); err == nil || !strings.Contains(err.Error(), "measured in") {
		t.Errorf("a tank in kilograms: %v", err)
	}
	if got := read(t, s); len(got) != 1 || got[0].Body.Amount != 0 {
		t.Errorf("after refusals: %v", got)
	}
}

func TestStrikeStaysKnown(t *testing.T) {
	s := fresh(t)
	fix := dip(1, 2)
	fix.Strikes = id(1, 1)
	must(t, s.Add(t.Context(), []book.Entry{dip(1, 1), fix}))
	all := read(t, s)
	live, err := book.Live(all)
	if err != nil || len(all) != 2 || len(live) != 1 || live[0].ID != fix.ID {
		t.Errorf("%d known, %d live, %v", len(all), len(live), err)
	}
}

func TestEntriesCannotBeRewritten(t *testing.T) {
	s := fresh(t)
	must(t, s.Add(t.Context(), dips(1, 1)))
	for _, q := range []string{"DELETE FROM entry", "UPDATE entry SET day = 1"} {
		if _, err := s.write.Exec(q); err == nil {
			t.Errorf("%s was let through", q)
		}
	}
}

func TestSteadVersions(t *testing.T) {
	s, ctx := fresh(t), t.Context()
	if _, err := s.Stead(ctx, from); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no stead yet: %v", err)
	}
	texts := []string{"# first\nname = \"Quernfold\"\n", "# spring\r\n\ttwo  blanks\n", "# first, mended\n"}
	must(t, s.SaveStead(ctx, from, texts[0]))
	must(t, s.SaveStead(ctx, from+100, texts[1]))
	must(t, s.SaveStead(ctx, from, texts[2]))
	for at, want := range map[day.Day]string{from: texts[2], from + 99: texts[2], from + 100: texts[1], never: texts[1]} {
		if got, err := s.Stead(ctx, at); got != want || err != nil {
			t.Errorf("on %s: %q %v, want %q", at, got, err, want)
		}
	}
	if all, err := s.Steads(ctx); err != nil || len(all) != 3 || all[0].Text != texts[0] {
		t.Errorf("%v %v", all, err)
	}
	if err := s.SaveStead(ctx, from, "\xff"); !errors.Is(err, fs.ErrInvalid) {
		t.Errorf("text that is not UTF-8: %v", err)
	}
}

func TestWeatherAndPlans(t *testing.T) {
	s, ctx := fresh(t), t.Context()
	must(t, s.SaveWeather(ctx, []Weather{{from, 14, 6.1, 13}, {from + 1, math.NaN(), 5, math.NaN()}}))
	must(t, s.SaveWeather(ctx, []Weather{{from, 15, 6.1, 13}}))
	w, err := s.Weather(ctx, from, from+9)
	if err != nil || len(w) != 2 || w[0].Rain != 15 || !math.IsNaN(w[1].Rain) || w[1].TMin != 5 {
		t.Errorf("%v %v", w, err)
	}
	must(t, s.SavePlan(ctx, "year one", []byte(`{ "beds": [1, 2] }`)))
	p, err := s.Plan(ctx, "year one")
	if err != nil || string(p.Body) != `{"beds":[1,2]}` {
		t.Errorf("%s %v", p.Body, err)
	}
	if _, err := s.Plan(ctx, "none"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no such plan: %v", err)
	}
	if err := s.SavePlan(ctx, "bad", []byte("{")); err == nil {
		t.Error("a plan that is not JSON was kept")
	}
}

// filled is a store with something of everything.
func filled(t testing.TB) *Store {
	t.Helper()
	s, ctx := fresh(t), t.Context()
	must(t, s.SaveStead(ctx, from, "# Quernfold <&>\u2028\n"))
	must(t, s.SaveStead(ctx, from+30, "name = \"later\"\r\n"))
	must(t, s.SaveWeather(ctx, []Weather{{from, 14, 6.1, 13}, {from + 1, math.NaN(), 5, math.NaN()}}))
	must(t, s.SavePlan(ctx, "year <one>", []byte(`{"beds":["a&b"],"m2":1e-7}`)))
	must(t, s.SaveSettings(ctx, []Setting{{"week", "sunday"}, {"units", "<us>"}}))
	must(t, s.Add(ctx, dips(1, 200)))
	rain := book.Entry{ID: id(2, 1), Day: from, Kind: book.Rain, Body: book.Body{Amount: 1.0 / 3, Measure: unit.Depth, Extra: map[string]string{"by": "can"}}, Note: "two\nlines, \"so\""}
	must(t, s.Add(ctx, []book.Entry{rain, {ID: id(2, 2), Day: from, Kind: book.Struck, Strikes: rain.ID}}))
	_, err := s.AddPhoto(ctx, rain.ID, pictured(t, 1))
	must(t, err)
	return s
}

func exported(t testing.TB, s *Store) string {
	t.Helper()
	var b bytes.Buffer
	must(t, s.Export(t.Context(), &b))
	return b.String()
}

func TestExportComesBackToTheByte(t *testing.T) {
	want := exported(t, filled(t))
	s := fresh(t)
	for range 2 { // the second import changes nothing
		must(t, s.Import(t.Context(), strings.NewReader(want)))
		if got := exported(t, s); got != want {
			t.Fatalf("got %d bytes, want %d", len(got), len(want))
		}
	}
	if n := strings.Count(want, "\n"); n != 1+2+2+1+2+202+1 {
		t.Errorf("the export has %d lines", n)
	}
}

func TestCSVComesBackToTheByte(t *testing.T) {
	a, b := filled(t), fresh(t)
	for _, k := range []book.Kind{book.Dipped, book.Rain, book.Struck} {
		var first, second bytes.Buffer
		must(t, a.ExportCSV(t.Context(), &first, k))
		must(t, b.ImportCSV(t.Context(), bytes.NewReader(first.Bytes())))
		must(t, b.ExportCSV(t.Context(), &second, k))
		if first.String() != second.String() || strings.Count(first.String(), "\n") < 2 {
			t.Errorf("%s: %d bytes, then %d", k, first.Len(), second.Len())
		}
	}
}

func TestImportRefusesAllOfABadFile(t *testing.T) {
	line, _ := dip(1, 1).Line()
	entry := `{"entry":` + string(line) + "}\n"
	for _, c := range []struct{ text, say string }{
		{"", "nothing to import"},
		{entry, "line 1: an export begins"},
		{"{\"evenstead\":2}\n", "newer version"},
		{"{\"evenstead\":1}\n" + entry + "{\"evenstead\":1}\n", "line 3: an export begins"},
		{"{\"evenstead\":1}\n" + entry + "{}\n", "line 3: the line holds no"},
		{"{\"evenstead\":1}\n" + entry + "{\"hat\":1}\n", "line 3: not a line"},
		{"{\"evenstead\":1}\n" + entry + strings.Replace(entry, "tote 2", "tote 3", 1), "line 3: entry"},
		{"{\"evenstead\":1}\n" + entry + strings.Replace(entry, "dipped", "sipped", 1), "line 3: kind"},
	} {
		s := fresh(t)
		if err := s.Import(t.Context(), strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("want %q, got %v", c.say, err)
		}
		if n := len(read(t, s)); n != 0 {
			t.Errorf("%q left %d entries behind", c.say, n)
		}
	}
}

func FuzzImport(f *testing.F) {
	f.Add(exported(f, filled(f)))
	s := fresh(f)
	f.Fuzz(func(t *testing.T, text string) {
		if err := s.Import(context.Background(), strings.NewReader(text)); err != nil && err.Error() == "" {
			t.Fatal("an error without words")
		}
	})
}

func TestBackupIsWholeAndNeverOverwrites(t *testing.T) {
	s, ctx := filled(t), t.Context()
	dir := t.TempDir()
	copied, back := filepath.Join(dir, "copy.db"), filepath.Join(dir, "back.db")
	must(t, s.Backup(ctx, copied))
	if err := s.Backup(ctx, copied); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second backup of one name: %v", err)
	}
	must(t, Restore(ctx, copied, back))
	if exported(t, opened(t, back)) != exported(t, s) {
		t.Error("the restored store differs")
	}
	if err := Restore(ctx, copied, back); !errors.Is(err, fs.ErrExist) {
		t.Errorf("restore over a store: %v", err)
	}
	if err := Restore(ctx, filepath.Join(dir, "none"), filepath.Join(dir, "x.db")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("restore from nothing: %v", err)
	}
	names, err := os.ReadDir(dir)
	must(t, err)
	for _, n := range names {
		if strings.HasPrefix(n.Name(), ".part") || n.Name() == "x.db" {
			t.Errorf("%s was left behind", n.Name())
		}
	}
}

func TestRestoreFromAStoreInUseTakesItsJournalAlong(t *testing.T) {
	s, path := fresh(t), filepath.Join(t.TempDir(), "back.db")
	must(t, s.Add(t.Context(), dips(1, 5)))
	must(t, Restore(t.Context(), s.path, path))
	if n := len(read(t, opened(t, path))); n != 5 {
		t.Errorf("%d of 5 entries came along", n)
	}
}

func TestBackupWhileWriting(t *testing.T) {
	s, ctx := fresh(t), t.Context()
	done := make(chan error, 1)
	go func() {
		for i := range 300 {
			if err := s.Add(ctx, dips(1, i+1)[i:]); err != nil {
				done <- err
				return
			}
		}
		done <- nil
	}()
	for i := range 5 {
		path := filepath.Join(t.TempDir(), "copy.db")
		must(t, s.Backup(ctx, path))
		got := read(t, opened(t, path))
		if !slices.EqualFunc(got, dips(1, len(got)), book.Same) {
			t.Errorf("backup %d is not the book at one moment", i)
		}
	}
	must(t, <-done)
}

func TestUpgradeFromEachForm(t *testing.T) {
	for at := range steps {
		path := filepath.Join(t.TempDir(), "old.db")
		db, err := connect(path, time.Second, "&_txlock=immediate", 1)
		must(t, err)
		old := &Store{path: path, clock: ticking(), write: db}
		for range at {
			must(t, old.within(t.Context(), "make", step))
		}
		if at > 0 {
			must(t, old.Add(t.Context(), dips(1, 10)))
			must(t, old.SaveStead(t.Context(), from, "old\n"))
		}
		must(t, db.Close())
		s := opened(t, path)
		if v, err := version(t.Context(), s.write); err != nil || v != len(steps) {
			t.Errorf("from form %d: form %d, %v", at, v, err)
		}
		if n := len(read(t, s)); at > 0 && n != 10 {
			t.Errorf("from form %d: %d entries", at, n)
		}
		must(t, s.SavePlan(t.Context(), "p", []byte("{}")))
		must(t, s.SaveWeather(t.Context(), []Weather{{Day: from}}))
		must(t, s.Verify(t.Context()))
	}
}

func TestClockSetBackLosesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stead.db")
	for i := range 3 {
		at := start.AddDate(-i, 0, 0)
		s, err := Open(t.Context(), path, func() time.Time { return at })
		must(t, err)
		e := dip(1, 0)
		e.ID = id(1, i)
		must(t, s.Add(t.Context(), []book.Entry{e, e}))
		must(t, s.SaveStead(t.Context(), from, e.ID.String()))
		must(t, s.Close())
	}
	s := opened(t, path)
	got := read(t, s)
	if len(got) != 3 || got[0].ID != id(1, 0) || got[2].ID != id(1, 2) {
		t.Errorf("entries in order of arrival: %v", got)
	}
	if text, err := s.Stead(t.Context(), from); err != nil || text != id(1, 2).String() {
		t.Errorf("the last saved stead holds: %q %v", text, err)
	}
}

// TestAfterReadsWhatArrivedSince, and all of it where the marked entry is not there.
func TestAfterReadsWhatArrivedSince(t *testing.T) {
	s := fresh(t)
	read := func(m Mark, anew bool, want ...int) Mark {
		t.Helper()
		got, now, again, err := s.After(t.Context(), m)
		must(t, err)
		if len(got) != len(want) || again != anew {
			t.Fatalf("%d entries, anew %v, want %d, %v", len(got), again, len(want), anew)
		}
		for i, n := range want {
			if got[i].ID != id(1, n) || got[i].Received.IsZero() {
				t.Errorf("entry %d is %s, want %s", i, got[i].ID, id(1, n))
			}
		}
		return now
	}
	none := read(Mark{}, false)
	late := dip(1, 2)
	late.Day += 10
	must(t, s.Add(t.Context(), []book.Entry{late}))
	one := read(none, false, 2)
	must(t, s.Add(t.Context(), []book.Entry{dip(1, 1), late}))
	two := read(one, false, 1)
	read(two, false)
	read(Mark{}, false, 2, 1)
	read(Mark{one.seq, two.id}, true, 2, 1)
	read(Mark{99, two.id}, true, 2, 1)
}

func BenchmarkOpen100k(b *testing.B) {
	path := filled100k(b)
	for b.Loop() {
		s, err := Open(b.Context(), path, time.Now)
		must(b, err)
		must(b, s.Close())
	}
}

func BenchmarkRead100k(b *testing.B) {
	s := opened(b, filled100k(b))
	for b.Loop() {
		if got := read(b, s); len(got) != 100_000 {
			b.Fatal(len(got))
		}
	}
}

func BenchmarkAddOne(b *testing.B) {
	s := fresh(b)
	for n := 0; b.Loop(); n++ {
		must(b, s.Add(b.Context(), []book.Entry{dip(1, n)}))
	}
}

func filled100k(b *testing.B) string {
	path := filepath.Join(b.TempDir(), "stead.db")
	s := opened(b, path)
	must(b, s.Add(b.Context(), dips(1, 100_000)))
	return path
}
