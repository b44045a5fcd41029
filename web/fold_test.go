package web

import (
	"math"
	"testing"

	"evenstead/engine"

	"pgregory.net/rapid"
)

func closeTo(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(a)+math.Abs(b)) }

func sumParts(list []part) float64 {
	sum := 0.0
	for _, p := range list {
		sum += p.amount
	}
	return sum
}

func TestFoldByHand(t *testing.T) {
	l := loop("nitrogen", "kg", "air", "soil", 2.0, "soil", "plants", 10.0, "plants", "house", 10.0,
		"house", "toilet", 10.0, "toilet", "soil", 6.0, "toilet", "air", 4.0)
	f, ok := fold(&l)
	if !ok || !closeTo(f.Into, 10) || !closeTo(f.Round, 6) || !closeTo(f.Share(), 0.6) {
		t.Fatalf("folded %v to %+v", ok, f)
	}
	if len(f.Lost) != 1 || f.Lost[0].node != "air" || !closeTo(f.Lost[0].amount, 4) {
		t.Errorf("lost %+v, want 4 to the air", f.Lost)
	}
	if want := []part{{"air", false, 2}, {"soil", true, 2}}; len(f.Joins) != 2 || f.Joins[0] != want[0] || !closeTo(f.Joins[1].amount, 2) || !f.Joins[1].kept {
		t.Errorf("joins %+v, want %+v", f.Joins, want)
	}
}

// TestFoldBalances holds for any network: what joins and what leaves make the intake.
func TestFoldBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := engine.LoopOutlook{Material: rapid.SampledFrom([]string{"water", "energy", "nitrogen", "phosphorus"}).Draw(t, "material"), Nodes: fixtureNodes}
		for range rapid.IntRange(1, 40).Draw(t, "flows") {
			l.Flows = append(l.Flows, engine.LoopFlow{From: rapid.IntRange(0, 15).Draw(t, "from"), To: rapid.IntRange(0, 15).Draw(t, "to"), Amount: rapid.Float64Range(0.1, 100).Draw(t, "amount")})
		}
		f, ok := fold(&l)
		if !ok {
			return
		}
		made := f.Round + sumParts(f.Joins) - sumParts(f.Leaves)
		if math.Abs(made-f.Into) > 1e-3*math.Max(1, f.Into) {
			t.Fatalf("round %g + joins %g - leaves %g = %g, the house takes %g", f.Round, sumParts(f.Joins), sumParts(f.Leaves), made, f.Into)
		}
	})
}

func TestFoldRefuses(t *testing.T) {
	for _, l := range []engine.LoopOutlook{
		loop("mass", "kg", "sky", "house", 1.0), loop("water", "L", "sky", "tanks", 1.0), {Material: "water", Nodes: []string{"house"}}, {},
	} {
		if f, ok := fold(&l); ok {
			t.Errorf("%s folds to %+v, yet nothing reaches the house by it", l.Material, f)
		}
	}
}

func TestForemostParts(t *testing.T) {
	list := []part{{"a", false, 1}, {"b", false, 9}, {"c", false, 4}, {"d", false, 2}, {"e", false, 0.01}}
	got := foremostParts(list, 3, 0.1)
	want := []part{{"b", false, 9}, {"c", false, 4}, {"other", false, 3}}
	if len(got) != 3 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] {
		t.Errorf("kept %+v, want %+v", got, want)
	}
	if got := foremostParts(list[1:4], 3, 0); len(got) != 3 || got[2].node != "d" {
		t.Errorf("three of three are %+v", got)
	}
}

func TestBeltFitsItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		amount := rapid.Float64Range(0, 1e6)
		b := belt{id: "l", round: amount.Draw(t, "round"), into: rapid.Float64Range(0.001, 1e6).Draw(t, "into"),
			joins: []branch{{"a", "1", amount.Draw(t, "join")}}, lost: []branch{{"b", "2", amount.Draw(t, "lost")}}}
		if h := b.upper() - beltHead - 4; h > beltMost+1e-9 {
			t.Fatalf("a lane is %g px wide", h)
		}
		if b.px(b.into) > beltNeed+1e-9 || b.lower() >= b.tall() || b.tall() > 320 {
			t.Fatalf("the belt is %g px tall, its intake %g", b.tall(), b.px(b.into))
		}
	})
}

func TestEqualNeedIsEquallyWide(t *testing.T) {
	for _, into := range []float64{0.4, 8, 28000} {
		b := belt{round: into / 2, into: into, joins: []branch{{amount: into / 2}}}
		if !closeTo(b.px(into), beltNeed) || b.narrowed() {
			t.Errorf("an intake of %g is %g px wide, want %g", into, b.px(into), beltNeed)
		}
	}
}

func BenchmarkFold(b *testing.B) {
	l := fixtureLoops()[2]
	for b.Loop() {
		fold(&l)
	}
}
