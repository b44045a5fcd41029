package plan

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// small draws the two-bed stead with more or less of all that it has.
func small(all *years) *rapid.Generator[*years] {
	return rapid.Custom(func(t *rapid.T) *years {
		y := *all
		more := rapid.Float64Range(0.1, 10)
		y.grounds = slices.Clone(all.grounds)
		for i := range y.grounds {
			y.grounds[i].area *= more.Draw(t, "ground")
		}
		y.larder = slices.Clone(all.larder)
		for k := range y.larder {
			y.larder[k] *= more.Draw(t, "larder")
		}
		y.soil[0] *= more.Draw(t, "soil")
		f := *all.frame
		y.frame = &f
		f.Free, f.Tanks = slices.Clone(f.Free), slices.Clone(f.Tanks)
		hours := more.Draw(t, "hours")
		for d := range f.Free {
			f.Free[d] *= hours
		}
		f.Tanks[0].Holds *= 1 + more.Draw(t, "tank")
		return &y
	})
}

// TestSmallSteads: whatever the ground, tank, store and hours, the answer is
// certified, balances, and more of a limit never makes it worse.
func TestSmallSteads(t *testing.T) {
	a := ask(reckoning(t, text(t, "testdata/two-beds.toml"), "", "", 30, 3))
	all, err := a.look(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	gen := small(all)
	for i := range 10 {
		y := gen.Example(i).without(nil)
		p := &Plan{years: y, Risk: y.risk}
		if err := p.choose(context.Background(), y, nil); err != nil {
			t.Fatalf("stead %d: %v", i, err)
		}
		for _, s := range p.sol {
			if s.Residuals.Primal > 1e-7 || s.Residuals.Gap > 1e-6 || s.Bound > s.Objective+1e-6*(1+math.Abs(s.Objective)) {
				t.Errorf("stead %d: not certified: %+v", i, s.Residuals)
			}
		}
		foods(t, p)
		if i > 2 {
			continue
		}
		if err := p.Worth(context.Background()); err != nil {
			t.Fatal(err)
		}
		for _, l := range p.Limits {
			if l.Worth < 0 {
				t.Errorf("stead %d: more %s harms: %.2f days", i, l.Name, l.Worth)
			}
		}
	}
}
