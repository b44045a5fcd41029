package diet

import (
	"math"
	"strings"
	"testing"

	"evenstead/data"

	"pgregory.net/rapid"
)

func TestNeedEnergyAndFat(t *testing.T) {
	tables := load(t)
	need, err := NeedOf(woman(), tables.Nutrients, tables.Requirements)
	if err != nil {
		t.Fatal(err)
	}
	mj, _ := EER2023(woman())
	fat := at(t, tables, "fat_g")
	near(t, "energy", need.Target[at(t, tables, "energy_mj")], mj, 0)
	near(t, "fat, 20 % of energy", need.Target[fat]*9*kcal/mj, 0.20, 1e-12)
	near(t, "fat, at most 35 %", need.Upper[fat]*9*kcal/mj, 0.35, 1e-12)
	near(t, "protein by mass", need.Target[at(t, tables, "protein_g")], 0.8*61, 1e-9)
	for _, id := range []string{"magnesium_mg", "folate_dfe_ug", "vit_a_rae_ug", "niacin_ne_mg", "vit_e_mg"} {
		if u := need.Upper[at(t, tables, id)]; !math.IsNaN(u) {
			t.Errorf("%s: %g binds on whole food", id, u)
		}
	}
}

func TestNeedForEveryLifeStage(t *testing.T) {
	tables := load(t)
	for _, sex := range []string{"female", "male"} {
		for age := 1.0; age < 100; age += 0.5 {
			p := Person{Sex: sex, Age: age, Height: 1.2, Mass: 40, Activity: Active}
			need, err := NeedOf(p, tables.Nutrients, tables.Requirements)
			if err != nil {
				t.Fatalf("%s %g: %v", sex, age, err)
			}
			for i, n := range tables.Nutrients {
				if !(need.Target[i] > 0) {
					t.Errorf("%s %g: %s target %g", sex, age, n.ID, need.Target[i])
				}
				if need.Upper[i] < need.Target[i] {
					t.Errorf("%s %g: %s upper %g under target %g", sex, age, n.ID, need.Upper[i], need.Target[i])
				}
			}
		}
	}
}

func TestNeedOfInfantIsEnergyOnly(t *testing.T) {
	tables := load(t)
	baby := Person{Sex: "male", Age: 0.5, Height: 0.66, Mass: 7.5, Activity: Active}
	need, err := NeedOf(baby, tables.Nutrients, tables.Requirements)
	if err != nil {
		t.Fatal(err)
	}
	for i, n := range tables.Nutrients {
		if has := !math.IsNaN(need.Target[i]); has != (n.ID == "energy_mj") {
			t.Errorf("%s: target %g", n.ID, need.Target[i])
		}
	}
}

func TestNeedFaults(t *testing.T) {
	p := woman()
	p.Mass = -1
	if _, err := NeedOf(p, nil, nil); err == nil || !strings.Contains(err.Error(), "mass") {
		t.Errorf("error %v", err)
	}
	if _, err := NeedOf(woman(), nil, nil); err == nil || !strings.Contains(err.Error(), "no published row") {
		t.Errorf("no rows: error %v", err)
	}
}

func TestNeedByShareOfOne(t *testing.T) {
	reqs := []data.Requirement{{Sex: "both", AgeMin: 1, AgeMax: 120, State: None, Nutrient: "fat_energy_pct", Unit: "share", Target: 0.25, Upper: 0.35}}
	need, err := NeedOf(woman(), []data.Nutrient{{ID: "fat_g"}}, reqs)
	if err != nil {
		t.Fatal(err)
	}
	mj, _ := EER2023(woman())
	near(t, "a quarter of the energy", need.Target[0]*9*kcal, mj/4, 1e-12)
}

func TestFatWithoutRow(t *testing.T) {
	if lo, hi := fat(10, nil); !math.IsNaN(lo) || !math.IsNaN(hi) {
		t.Errorf("%g to %g", lo, hi)
	}
}

func TestSum(t *testing.T) {
	nan := math.NaN()
	s := Sum(Need{[]float64{1, nan, 3, nan}, []float64{10, 20, nan, nan}}, Need{[]float64{2, 5, nan, nan}, []float64{10, 20, 30, nan}})
	for i, want := range []float64{3, 5, 3} {
		near(t, "target", s.Target[i], want, 0)
	}
	near(t, "upper", s.Upper[0], 20, 0)
	if !math.IsNaN(s.Target[3]) || !math.IsNaN(s.Upper[2]) || !math.IsNaN(s.Upper[3]) {
		t.Errorf("unknown became known: %+v", s)
	}
	if z := Sum(); z.Target != nil || z.Upper != nil {
		t.Errorf("nobody needs %+v", z)
	}
}

func TestSumOfOneIsItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(0, 1e4), 1, 40).Draw(t, "need")
		s := Sum(Need{v, v})
		for i := range v {
			if s.Target[i] != v[i] || s.Upper[i] != v[i] {
				t.Fatalf("%g became %g and %g", v[i], s.Target[i], s.Upper[i])
			}
		}
	})
}

func TestIntakeAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "nutrients")
		a, b := NewIntake(n), NewIntake(n)
		food := rapid.SliceOfN(rapid.Float64Range(0, 100), n, n).Draw(t, "food")
		if rapid.Bool().Draw(t, "blank") {
			food[0] = math.NaN()
		}
		x, y := rapid.Float64Range(0, 9).Draw(t, "x"), rapid.Float64Range(0, 9).Draw(t, "y")
		a.Add(x, food)
		a.Add(y, food)
		b.Add(x+y, food)
		for i := range n {
			if math.Abs(a.Amount[i]-b.Amount[i]) > 1e-9 || math.Abs(a.Unknown[i]-b.Unknown[i]) > 1e-9 {
				t.Fatalf("in two meals %+v, in one %+v", a, b)
			}
		}
		if a.Reset(); a.Mass != 0 || a.Amount[0] != 0 || a.Unknown[0] != 0 {
			t.Fatalf("reset left %+v", a)
		}
	})
}

func TestAssess(t *testing.T) {
	nan := math.NaN()
	ns := []data.Nutrient{{ID: "a"}, {ID: "b"}, {ID: "c"}, {ID: "d"}}
	need := Need{[]float64{10, 4, nan, 0}, []float64{nan, 5, 1, nan}}
	in := NewIntake(4)
	in.Add(1, []float64{5, 6, 2, 1})
	in.Add(3, []float64{nan, 0, 0, 0})
	g := Assess(in, need, ns)
	near(t, "half met", g[0].Share, 0.5, 0)
	near(t, "three quarters unknown", g[0].Unknown, 0.75, 0)
	if g[0].Over || !g[1].Over || !g[2].Over {
		t.Errorf("over: %+v", g)
	}
	if !math.IsNaN(g[2].Share) || !math.IsNaN(g[3].Share) || g[1].Nutrient != "b" {
		t.Errorf("no target: %+v", g)
	}
	if g := Assess(NewIntake(4), need, ns); g[0].Share != 0 || g[0].Unknown != 0 {
		t.Errorf("nothing eaten: %+v", g[0])
	}
}

// The optimum of 1939 meets each of its minima through Assess; a dollar less does not.
func TestAssessStigler(t *testing.T) {
	s := readStigler(t)
	var ns []data.Nutrient
	for _, name := range s.names {
		ns = append(ns, data.Nutrient{ID: name})
	}
	limit := blank(len(ns)).Upper
	meets := func(scale float64) bool {
		in := NewIntake(len(ns))
		for _, f := range s.foods {
			in.Add(scale*f.dollars, f.content)
		}
		for _, g := range Assess(in, Need{s.minimum, limit}, ns) {
			if g.Share < 1-1e-5 {
				return false
			}
		}
		return true
	}
	if len(s.foods) != 77 || !meets(1) || meets(0.999) {
		t.Errorf("%d foods, optimum meets the minima: %v, a thousandth less: %v", len(s.foods), meets(1), meets(0.999))
	}
}

func TestAddDoesNotAllocate(t *testing.T) {
	in, food := NewIntake(30), make([]float64, 30)
	if n := testing.AllocsPerRun(100, func() { in.Add(0.3, food) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkAdd(b *testing.B) {
	in, food := NewIntake(30), make([]float64, 30)
	b.ReportAllocs()
	for b.Loop() {
		in.Add(0.3, food)
	}
}
