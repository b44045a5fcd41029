package web

import (
	"errors"
	"io/fs"
	"net/http"
	"path/filepath"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/hearth"
)

var (
	deskBegun = day.Of(2026, time.November, 1)
	deskToday = day.Of(2026, time.November, 25)
	deskNoon  = time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC)
)

// homeOf is a household's file with a description; "" leaves it out.
func homeOf(t testing.TB, text []byte) *hearth.Home {
	t.Helper()
	h, err := hearth.Open(t.Context(), filepath.Join(t.TempDir(), "evenstead.stead"), func() time.Time { return deskNoon })
	deskMust(t, err)
	t.Cleanup(func() { h.Close() })
	if text != nil {
		deskMust(t, h.Describe(t.Context(), deskBegun, "demo.toml", text))
	}
	return h
}

// deskOf is a desk over the invented stead, with a few possible years.
func deskOf(t testing.TB, text []byte) *Desk {
	t.Helper()
	d := NewDesk(homeOf(t, text), func() time.Time { return deskNoon }, DeskOptions{Members: 6})
	t.Cleanup(d.Close)
	return d
}

func deskSite(t testing.TB, d *Desk) http.Handler {
	t.Helper()
	h, err := NewAt(d, Options{})
	deskMust(t, err)
	return h
}

func deskMust(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// write notes lines in the book, past any doubt.
func write(t testing.TB, d *Desk, note string) []book.Entry {
	t.Helper()
	c, err := d.Home().Context(t.Context(), d.Today(), "Sorrel", d.opt.Units)
	deskMust(t, err)
	got, err := d.Home().Add(t.Context(), book.Read(note, c))
	deskMust(t, err)
	d.Changed()
	return got
}

// settled waits until the outlook is of the present state, with what to count.
func settled(t testing.TB, d *Desk) *Snapshot {
	t.Helper()
	for end := time.Now().Add(2 * time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		s, err := d.Now(t.Context())
		deskMust(t, err)
		d.mu.Lock()
		running := d.running
		d.mu.Unlock()
		if s.Progress.Err != nil || s.Outlook != nil && !s.Stale && !running {
			return s
		}
	}
	t.Fatal("no outlook came")
	return nil
}

func TestDeskReckonsInTheBackground(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	first, err := d.Now(t.Context())
	must(t, err)
	if first.Outlook != nil || first.Past == nil || first.Stale {
		t.Errorf("the first look: outlook %v, past %v, stale %v", first.Outlook, first.Past, first.Stale)
	}
	s := settled(t, d)
	if s.Outlook == nil || s.Outlook.Today != deskToday || s.Outlook.Found == nil || len(s.Outlook.Found.Ask) == 0 {
		t.Fatalf("the outlook: %+v", s.Progress)
	}
	write(t, d, "rain 14 mm yesterday")
	after, err := d.Now(t.Context())
	must(t, err)
	if !after.Stale || after.Outlook != s.Outlook || len(after.Entries) != 1 {
		t.Errorf("after a note: stale %v, %d entries", after.Stale, len(after.Entries))
	}
	last := settled(t, d)
	if last.Outlook == s.Outlook || last.Earlier == nil || last.Earlier.Today != deskToday {
		t.Error("no new outlook followed the note")
	}
}

// TestDeskSeesOtherWriters proves that a command that writes while the pages are
// served is not missed.
func TestDeskSeesOtherWriters(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	_, err := d.Now(t.Context())
	must(t, err)
	other, err := hearth.Open(t.Context(), d.Home().Store().Path(), func() time.Time { return deskNoon })
	must(t, err)
	defer other.Close()
	c, err := other.Context(t.Context(), deskToday, "", 0)
	must(t, err)
	_, err = other.Add(t.Context(), book.Read("rain 14 mm", c))
	must(t, err)
	s, err := d.Now(t.Context())
	if err != nil || len(s.Entries) != 1 {
		t.Errorf("%d entries, %v", len(s.Entries), err)
	}
}

func TestDeskWithoutWhatItNeeds(t *testing.T) {
	if _, err := deskOf(t, nil).Now(t.Context()); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("without a description: %v", err)
	}
	s := settled(t, deskOf(t, []byte("place.latitude = 50\npeople = 2\n")))
	if s.Past != nil || s.Trouble == nil || s.Outlook != nil || s.Progress.Err == nil {
		t.Errorf("without weather: past %v, trouble %v", s.Past, s.Trouble)
	}
}

func TestDeskStopsWhenClosed(t *testing.T) {
	d := NewDesk(homeOf(t, demo.Quernfold()), func() time.Time { return deskNoon }, DeskOptions{})
	_, err := d.Now(t.Context())
	must(t, err)
	begun := time.Now()
	d.Close()
	if took := time.Since(begun); took > 20*time.Second {
		t.Errorf("it took %s to stop", took)
	}
}
