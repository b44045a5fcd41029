package engine

import (
	"context"
	"testing"

	"evenstead/data"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/stead"
	"evenstead/weather"

	"pgregory.net/rapid"
)

// ready is a stead with its tables and weather, for tests.
type ready struct {
	st  *stead.Stead
	tab *data.Tables
	ens *weather.Ensemble
	opt Options
}

func load(tb testing.TB) *data.Tables {
	tb.Helper()
	tab, err := data.Load()
	if err != nil {
		tb.Fatalf("load tables: %v", err)
	}
	return tab
}

// readyDemo draws n members of the demo's own climate over the given days.
func readyDemo(tb testing.TB, n, days int) ready {
	tb.Helper()
	st, err := stead.Read("quernfold.toml", demo.Quernfold())
	if err != nil {
		tb.Fatalf("read demo: %v", err)
	}
	return readyFor(tb, st, n, days)
}

func readyFor(tb testing.TB, st *stead.Stead, n, days int) ready {
	tb.Helper()
	if st.Stay.From == 0 {
		st.Stay.From = day.Of(2026, 3, 1)
	}
	site := weather.Site{Lat: st.Place.Latitude, Elev: st.Place.Elevation}
	ens, err := weather.FromNormals(normals(), site, st.Stay.From, days, n, 7)
	if err != nil {
		tb.Fatalf("draw weather: %v", err)
	}
	r := ready{st: st, tab: load(tb), ens: ens}
	r.opt = Options{Today: st.Stay.From, Days: days, Seed: 7, Climate: ens.Climate()}
	return r
}

// normals are those of the demo stead.
func normals() weather.Normals {
	return weather.Normals{
		Rain:    [12]float64{112, 96, 84, 68, 46, 19, 5, 8, 29, 83, 118, 124},
		WetDays: [12]float64{12, 11, 11, 9, 7, 3, 1, 1, 4, 8, 11, 12},
		TMin:    [12]float64{3.4, 3.9, 5.3, 7.1, 10.2, 13.6, 15.9, 15.8, 13.4, 10.1, 6.4, 4.1},
		TMax:    [12]float64{12.3, 13.9, 16.6, 19.0, 22.8, 27.5, 31.2, 31.0, 27.6, 21.9, 16.1, 12.8},
		TMinSD:  3.2, TMaxSD: 3.5, Persistence: 0.25, RainCV: 0.22,
	}
}

func (r ready) model(tb testing.TB) *Model {
	tb.Helper()
	m, err := Prepare(r.st, r.tab, r.opt)
	if err != nil {
		tb.Fatalf("prepare: %v", err)
	}
	return m
}

func (r ready) run(tb testing.TB) *Outlook {
	tb.Helper()
	res, err := r.model(tb).Run(context.Background(), r.ens, r.opt)
	if err != nil {
		tb.Fatalf("run: %v", err)
	}
	return res.Outlook()
}

func (o *Outlook) must(tb testing.TB, id string) *NeedOutlook {
	tb.Helper()
	n := o.find(id)
	if n == nil {
		tb.Fatalf("no need %q in the outlook", id)
	}
	return n
}

// drawnReady is readyFor with one member, for property tests.
func drawnReady(t *rapid.T, st *stead.Stead, tab *data.Tables, seed uint64) ready {
	t.Helper()
	site := weather.Site{Lat: st.Place.Latitude, Elev: st.Place.Elevation}
	ens, err := weather.FromNormals(normals(), site, st.Stay.From, 300, 1, seed)
	if err != nil {
		t.Fatalf("draw weather: %v", err)
	}
	return ready{st: st, tab: tab, ens: ens, opt: Options{Today: st.Stay.From, Days: 300, Seed: seed}}
}
