package tasks

import (
	"strings"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/weather"

	"github.com/google/uuid"
)

// place is a stead with its weather, ready for asks of any day.
type place struct {
	st  *stead.Stead
	tab *data.Tables
	ens *weather.Ensemble
}

func quernfold(t testing.TB) *place {
	t.Helper()
	st, err := stead.Read("quernfold.toml", demo.Quernfold())
	if err != nil {
		t.Fatal(err)
	}
	return placeOf(t, st)
}

func placeOf(t testing.TB, st *stead.Stead) *place {
	t.Helper()
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	n := st.Place.Normals[0]
	w := weather.Normals{TMinSD: n.TMinSD, TMaxSD: n.TMaxSD, Persistence: n.Persistence, RainCV: n.RainCV}
	copy(w.Rain[:], n.Rain)
	copy(w.WetDays[:], n.WetDays)
	copy(w.TMin[:], n.TMin)
	copy(w.TMax[:], n.TMax)
	ens, err := weather.FromNormals(w, weather.Site{Lat: st.Place.Latitude, Elev: st.Place.Elevation}, st.Stay.From, 1200, 1, 7)
	if err != nil {
		t.Fatal(err)
	}
	return &place{st, tab, ens}
}

// context reads notes as of a day.
func (p *place) context(today day.Day) book.Context {
	c := book.Of(p.st, p.tab)
	c.Today, c.From, c.Who = today, p.st.Stay.From, p.st.People[0].Name
	return c
}

func (p *place) read(t testing.TB, today day.Day, text string) []book.Entry {
	t.Helper()
	var out []book.Entry
	for i, got := range book.Read(text, p.context(today)) {
		if got.Err != nil {
			t.Fatalf("%q: %v", got.Text, got.Err)
		}
		got.Entry.ID = uuid.UUID{6: 0x70, 8: 0x80, 14: byte(i >> 8), 15: byte(i)}
		out = append(out, got.Entry)
	}
	live, err := book.Live(out)
	if err != nil {
		t.Fatal(err)
	}
	return live
}

// ask replays a book of notes to a day.
func (p *place) ask(t testing.TB, today day.Day, weeks int, notes string) Ask {
	t.Helper()
	usual := p.ens.Climate()
	h := engine.History{Versions: []engine.Version{{From: p.st.Stay.From, Stead: p.st}}, Entries: p.read(t, today, notes)}
	past, err := engine.Replay(t.Context(), p.tab, h, p.ens, engine.Options{Today: today, Seed: 7, Climate: usual})
	if err != nil {
		t.Fatal(err)
	}
	a := Ask{Today: today, Weeks: weeks, Stead: p.st, Tables: p.tab, Usual: usual, Units: unit.Metric}
	if a.Standing, a.Year, err = past.Year(p.tab, usual); err != nil {
		t.Fatal(err)
	}
	if a.Chores, err = past.Chores(p.tab, usual, 7*weeks); err != nil {
		t.Fatal(err)
	}
	return a
}

func (p *place) plan(t testing.TB, today day.Day, weeks int, notes string) *Plan {
	t.Helper()
	plan, err := Make(p.ask(t, today, weeks, notes))
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func (w *Week) kind(kind string) (out []*Task) {
	for i := range w.Tasks {
		if w.Tasks[i].Kind == kind {
			out = append(out, &w.Tasks[i])
		}
	}
	return out
}

// one is the only task of a kind.
func (w *Week) one(t testing.TB, kind string) *Task {
	t.Helper()
	got := w.kind(kind)
	if len(got) != 1 {
		t.Fatalf("%d tasks of %s in the week from %s, want 1", len(got), kind, w.From)
	}
	return got[0]
}

func says(t testing.TB, text string, parts ...string) {
	t.Helper()
	for _, s := range parts {
		if !strings.Contains(text, s) {
			t.Errorf("%q does not say %q", text, s)
		}
	}
}

func on(y int, m time.Month, d int) day.Day { return day.Of(y, m, d) }
