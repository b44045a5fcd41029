package lever

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"evenstead/unit"
)

func TestGoTogether(t *testing.T) {
	for _, c := range []struct {
		a, b, both float64
		want       string
	}{
		{0.3, 0.2, 0.5, Add}, {0.3, 0.2, 0.46, Add}, {0.3, 0.2, 0.56, Help}, {0.3, 0.2, 0.3, Overlap},
		{0.3, -0.2, 0.1, Add}, {0.01, 0.01, 0.025, Add}, {0.01, 0.01, 0.035, Help}, {0, 0, 0, Add},
	} {
		if got := goTogether(c.a, c.b, c.both); got != c.want {
			t.Errorf("%g and %g alone, %g together: they %s, want %s", c.a, c.b, c.both, got, c.want)
		}
	}
}

func TestGoTogetherMindsNoOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, both := rapid.Float64Range(-1, 1).Draw(t, "a"), rapid.Float64Range(-1, 1).Draw(t, "b"), rapid.Float64Range(-2, 2).Draw(t, "both")
		if goTogether(a, b, both) != goTogether(b, a, both) {
			t.Fatalf("%g and %g go otherwise turned about", a, b)
		}
		if goTogether(a, b, a+b) != Add {
			t.Fatalf("%g and %g don't add up to their sum", a, b)
		}
	})
}

// TestPairsAreTheirTwoChanges: a pair is what trying both in one gives, over the same
// years, and its parts are of the ranking.
func TestPairsAreTheirTwoChanges(t *testing.T) {
	p := present(t, readyDemo(t, 10), 10)
	rank, err := p.Rank(t.Context(), nil)
	must(t, err)
	if rank.Pairs != nil {
		t.Error("pairs that nobody asked for")
	}
	must(t, p.Pairs(t.Context(), rank, nil))
	if len(rank.Pairs) != Best*(Best-1)/2 {
		t.Fatalf("%d pairs of the best %d", len(rank.Pairs), Best)
	}
	of := map[string]*Trial{}
	for _, x := range rank.Trials {
		of[x.ID] = x
	}
	for i, x := range rank.Pairs {
		a, b := of[x.Of[0]], of[x.Of[1]]
		both := try(t, p, Join(a.Lever, b.Lever), nil)
		if x.Relief != both.Relief || x.Alone != [2]float64{a.Relief, b.Relief} || !reflect.DeepEqual(x.Changes, both.Changes) {
			t.Errorf("%v: relief %g of %v, tried in one %g of %g and %g", x.Of, x.Relief, x.Alone, both.Relief, a.Relief, b.Relief)
		}
		if i > 0 && x.Relief > rank.Pairs[i-1].Relief {
			t.Error("pairs out of order")
		}
	}
}

// TestSideBySideIsOneByOne: changes tried on all cores come out as tried alone.
func TestSideBySideIsOneByOne(t *testing.T) {
	p := present(t, readyDemo(t, 6), 6)
	rank, err := p.Rank(t.Context(), nil)
	must(t, err)
	for _, got := range rank.Trials {
		want := try(t, p, got.Lever, nil)
		if got.Relief != want.Relief || !reflect.DeepEqual(got.Changes, want.Changes) {
			t.Errorf("%s: relief %g side by side, %g alone", got.ID, got.Relief, want.Relief)
		}
	}
}

func TestTwoTanksGoTogether(t *testing.T) {
	r := readyDemo(t, 2)
	k := For(r, unit.Metric)
	a, err := k.Tank("barn")
	must(t, err)
	b, err := k.Tank("cabin")
	must(t, err)
	st, err := Join(a, b).On(r.Stead)
	must(t, err)
	if len(st.Tanks) != len(r.Stead.Tanks)+2 {
		t.Errorf("%d tanks of %d and two", len(st.Tanks), len(r.Stead.Tanks))
	}
}

// TestATradeGivesEnergyForEnergy: what leaves the staple's harvest comes back as much
// food energy in the year.
func TestATradeGivesEnergyForEnergy(t *testing.T) {
	r := readyDemo(t, 2)
	k := For(r, unit.Metric)
	l, err := k.TradeFor(traded, "fat_g")
	must(t, err)
	st, err := l.On(r.Stead)
	must(t, err)
	crop, mj := k.staple()
	after := k
	after.st = st
	if _, left := after.staple(); math.Abs(left-0.9*mj) > 1e-6*mj {
		t.Errorf("%s holds %g MJ of %g after a tenth is given", crop.Name, left, mj)
	}
	got := st.Terms.Bought[len(st.Terms.Bought)-1]
	food, _ := r.Tables.Food(got.Food)
	if back := got.Rate * 365 * food.Nutrient[0]; got.PerPerson || math.Abs(back-0.1*mj) > 1e-6*mj {
		t.Errorf("%g MJ a year come back for %g", back, 0.1*mj)
	}
	if _, err := k.Trade(0.1, "moon_cheese"); err == nil {
		t.Error("moon cheese is to be had")
	}
	bare := For(ready(t, "place.latitude = 40\npeople = 2\n"+normals, 2), unit.Metric)
	if _, err := bare.Trade(0.1, "oats"); err == nil {
		t.Error("a trade without a crop")
	}
}

// TestLaterIsLater: what is sown ahead moves by the days said, what stands does not.
func TestLaterIsLater(t *testing.T) {
	text := "place.latitude = 40\npeople = 2\nbed = [{ name = \"a\", area = \"20 m2\" }, { name = \"b\", area = \"20 m2\" }]\n" +
		"planting = [{ bed = \"a\", crop = \"potato\", sow = \"2027-04-20\" }, { bed = \"b\", crop = \"potato\", sow = \"2027-02-20\" }]\n" + normals
	r := ready(t, text, 2)
	l, err := For(r, unit.Metric).Later(14)
	must(t, err)
	st, err := l.On(r.Stead)
	must(t, err)
	if got, want := st.Plantings[0].Sow.In(0), r.Stead.Plantings[0].Sow.In(0)+14; got != want {
		t.Errorf("sown %s, want %s", got, want)
	}
	if st.Plantings[1] != r.Stead.Plantings[1] {
		t.Error("what stands was sown anew")
	}
	bare := For(ready(t, "place.latitude = 40\npeople = 2\n"+normals, 2), unit.Metric)
	if _, err := bare.Later(14); err == nil {
		t.Error("nothing sown is sown later")
	}
}
