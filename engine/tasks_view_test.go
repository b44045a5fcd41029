package engine

import (
	"math"
	"testing"

	"evenstead/book"
	"evenstead/day"
)

func choresOf(t *testing.T, r ready, today day.Day, text string, days int) (*Past, *Chores) {
	t.Helper()
	p := r.replay(t, today, notes(t, r, today, text))
	c, err := p.Chores(r.tab, r.ens.Climate(), days)
	if err != nil {
		t.Fatal(err)
	}
	return p, c
}

// TestChoresReadTheDescription: hours, who is here and what is owed are those of
// the description; Sorrel gives 30 h a week and Rook 34, who is away in January.
func TestChoresReadTheDescription(t *testing.T) {
	r := readyDemo(t, 2, 365)
	_, c := choresOf(t, r, day.Of(2027, 1, 4), "", 14)
	sum := func(list []float64, from, to int) (s float64) {
		for _, v := range list[from:to] {
			s += v
		}
		return s
	}
	if got := sum(c.Hands, 0, 6); math.Abs(got-6*64.0/7) > 1e-9 {
		t.Errorf("%g h from 4 to 9 January, want %g", got, 6*64.0/7)
	}
	if got := sum(c.Hands, 6, 14); math.Abs(got-8*30.0/7) > 1e-9 {
		t.Errorf("%g h while Rook is away, want %g", got, 8*30.0/7)
	}
	if got := sum(c.Owed, 0, 7); math.Abs(got-6*1.3) > 1e-9 {
		t.Errorf("%g h owed in a week of January, want 7.8", got)
	}
	if c.Heads[0] != 2 || c.Heads[6] != 1 || len(c.Hauls) != 4 || c.Hauls[0].PerWeek != 2 || !(c.Hauls[0].Hours > 0) {
		t.Errorf("heads %v, hauls %+v", c.Heads, c.Hauls)
	}
}

// TestChoresReadTheBook: the last of each deed, how often, and hours by for whom.
func TestChoresReadTheBook(t *testing.T) {
	r := readyDemo(t, 2, 365)
	_, c := choresOf(t, r, r.st.Stay.From+20, `
sown 140 m2 wheat winter, F1 on 2026-11-06
worked 3 h for the landowner on 2026-11-06
worked 1.5 h for the landowner on 2026-11-08
hauled 5 kg scraps by canteen on 2026-11-09
dipped barn at 9000 L on 2026-11-05
dipped barn at 9500 L on 2026-11-12
`, 7)
	if got := c.WorkedFor("the landowner"); got != 4.5 {
		t.Errorf("%g h worked, want 4.5", got)
	}
	if c.Last(string(book.Dipped), "", "barn") != day.Of(2026, 11, 12) || c.Times(string(book.Dipped), "", "") != 2 {
		t.Errorf("dips: %+v", c.Written)
	}
	if !c.Sown("wheat_winter", "F1", day.Of(2026, 11, 1)) || c.Sown("wheat_winter", "F2", 0) || c.Sown("wheat_winter", "F1", day.Of(2026, 11, 7)) {
		t.Errorf("sowings: %+v", c.Written)
	}
	if c.Hauls[0].Last != day.Of(2026, 11, 9) {
		t.Errorf("the canteen was last fetched from on %s", c.Hauls[0].Last)
	}
}

// TestDosesAndGlutsStayWithinTheStores over a year of the demo.
func TestDosesAndGlutsStayWithinTheStores(t *testing.T) {
	r := readyDemo(t, 2, 500)
	doses, gluts := 0, 0
	for month := range 9 {
		p, c := choresOf(t, r, r.st.Stay.From+day.Day(40*month), "", 7)
		sum := 0.0
		for _, d := range c.Doses {
			sum += d.Litres
			if d.Litres > d.Area*urineAWeek+1e-9 || !d.Open && d.Litres != 0 {
				t.Errorf("%s: %+v", p.Today, d)
			}
			if d.Litres > 0 {
				doses++
			}
		}
		if sum > p.ended.urine+1e-9 {
			t.Errorf("%s: %g L given of %g", p.Today, sum, p.ended.urine)
		}
		taken := map[string]float64{}
		for _, g := range c.Gluts {
			taken[g.Name+g.From] += g.Kg
			gluts++
			if g.Makes > g.Kg+1e-9 && g.Form != "jarred" && g.Form != "fermented" || g.Hours < 0 {
				t.Errorf("%s: %+v", p.Today, g)
			}
		}
		for _, l := range p.Standing().Lots {
			if l.Form == "fresh" && taken[l.Name+l.Place] > l.Kg+1e-9 {
				t.Errorf("%s: %g kg of %s to be put up of %g", p.Today, taken[l.Name+l.Place], l.Name, l.Kg)
			}
		}
	}
	if doses == 0 || gluts == 0 {
		t.Errorf("%d doses, %d gluts in a year", doses, gluts)
	}
}
