package tasks

import (
	"strings"
	"testing"
	"time"
)

// TestStormsComeInTheirHalf: the list is gone through before the stormy half-year
// and in its months alone, half a year apart north and south.
func TestStormsComeInTheirHalf(t *testing.T) {
	p := quernfold(t)
	for _, c := range []struct {
		latitude float64
		first    time.Month
	}{{40, time.October}, {-40, time.April}, {29, time.June}, {-17, time.November}} {
		st := *p.st
		st.Place.Latitude = c.latitude
		here := &place{&st, p.tab, p.ens}
		a := here.ask(t, on(2026, time.November, 25), 26, "")
		plan, err := Make(a)
		if err != nil {
			t.Fatal(err)
		}
		for i := range plan.Weeks {
			w := &plan.Weeks[i]
			since := (int(w.To.Month()) - int(c.first) + 12) % 12
			got := w.kind("storm")
			if len(got) > 0 && since > 5 {
				t.Errorf("at %g the week to %s has a storm list", c.latitude, w.To)
			}
			for _, x := range got {
				if ready := strings.HasPrefix(x.Title, "Before the storms"); ready != (x.By.Time().Day() == 1 && x.By.Month() == c.first) {
					t.Errorf("at %g by %s: %s", c.latitude, x.By, x.Title)
				}
				if want := 3 * 3.785 * float64(a.Standing.People); x.Value != want {
					t.Errorf("%g L of water are set by, want %g", x.Value, want)
				}
			}
		}
	}
}

// TestPapersOnceAMonth: one a month, with the hours that are written; a stead
// without an exchange keeps its book alone.
func TestPapersOnceAMonth(t *testing.T) {
	p := quernfold(t)
	who := p.st.Exchange[0].With
	plan := p.plan(t, on(2026, time.December, 2), 9, "worked 4.5 h for "+who+" on 2026-11-20")
	months := map[string]int{}
	for i := range plan.Weeks {
		for _, x := range plan.Weeks[i].kind("papers") {
			months[x.ID]++
			says(t, x.Why, "4.5 h are written")
			says(t, x.Title, who)
		}
	}
	for id, n := range months {
		if n != 1 {
			t.Errorf("%s comes %d times", id, n)
		}
	}
	if len(months) != 3 {
		t.Errorf("papers in nine weeks from 2 December: %v", months)
	}
	st := *p.st
	st.Exchange = nil
	alone := (&place{&st, p.tab, p.ens}).plan(t, on(2026, time.December, 2), 1, "rain 3 mm on 2026-11-30").Weeks[0].one(t, "papers")
	if alone.Caution != "" || strings.Contains(alone.Title, who) {
		t.Errorf("without an exchange: %+v", alone)
	}
}
