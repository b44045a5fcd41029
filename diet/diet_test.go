package diet

import (
	"math"
	"strings"
	"testing"

	"evenstead/data"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %g, want %g ± %g", what, got, want, tol)
	}
}

func woman() Person {
	return Person{Sex: "female", Age: 30, Height: 1.66, Mass: 61, Activity: Active}
}

// drawPerson makes any person that the equations accept, from 3 years.
func drawPerson(t *rapid.T) Person {
	return Person{
		Sex:      rapid.SampledFrom([]string{"female", "male"}).Draw(t, "sex"),
		Age:      rapid.Float64Range(19, 90).Draw(t, "age"),
		Height:   rapid.Float64Range(1.4, 2.1).Draw(t, "height"),
		Mass:     rapid.Float64Range(40, 140).Draw(t, "mass"),
		Activity: rapid.SampledFrom([]string{Inactive, LowActive, Active, VeryActive}).Draw(t, "activity"),
	}
}

func TestPersonFaults(t *testing.T) {
	change := func(f func(*Person)) Person { p := woman(); f(&p); return p }
	for name, c := range map[string]struct {
		p    Person
		want string
	}{
		"sex":                 {change(func(p *Person) { p.Sex = "" }), "sex"},
		"age":                 {change(func(p *Person) { p.Age = -1 }), "age"},
		"age unknown":         {change(func(p *Person) { p.Age = math.NaN() }), "age"},
		"height in cm":        {change(func(p *Person) { p.Height = 166 }), "height"},
		"mass":                {change(func(p *Person) { p.Mass = 0 }), "mass"},
		"activity":            {change(func(p *Person) { p.Activity = "busy" }), "low_active"},
		"state":               {change(func(p *Person) { p.State = "tired" }), "lactating"},
		"pregnant man":        {change(func(p *Person) { p.Sex, p.State = "male", Pregnant }), "females"},
		"pregnant at 60":      {change(func(p *Person) { p.Age, p.State = 60, Pregnant }), "clinician"},
		"week 60":             {change(func(p *Person) { p.State, p.Week = Pregnant, 60 }), "week"},
		"week below nothing":  {change(func(p *Person) { p.State, p.Week = Lactating, -1 }), "week"},
		"two faults at once":  {Person{Sex: "female", Age: 30, Height: 9, Mass: 1, Activity: Active}, "height"},
		"the second of these": {Person{Sex: "female", Age: 30, Height: 9, Mass: 1, Activity: Active}, "mass"},
	} {
		for _, eer := range []func(Person) (float64, error){EER2023, EER2005, BMRSchofield, RestingMifflin} {
			if _, err := eer(c.p); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%s: error %v", name, err)
			}
		}
	}
}

func TestEnergyOfBearing(t *testing.T) {
	alone := kcalOf(EER2023, woman())
	state := func(s string, week int) Person { p := woman(); p.State, p.Week = s, week; return p }
	near(t, "first trimester adds nothing", kcalOf(EER2023, state(Pregnant, 10)), alone, 1e-9)
	near(t, "a week more of gestation", kcalOf(EER2023, state(Pregnant, 31))-kcalOf(EER2023, state(Pregnant, 30)), 9.16, 1e-9)
	near(t, "week 27 when unknown", kcalOf(EER2023, state(Pregnant, 0)), kcalOf(EER2023, state(Pregnant, 27)), 0)
	near(t, "at 30 weeks by hand", kcalOf(EER2023, state(Pregnant, 30)), -223.84-2.04*30+13.23*166+8.15*61+9.16*30+150, 1e-9)
	near(t, "first milk", kcalOf(EER2023, state(Lactating, 8))-alone, 400, 1e-9)
	near(t, "later milk", kcalOf(EER2023, state(Lactating, 40))-alone, 380, 1e-9)
	old := kcalOf(EER2005, woman())
	for _, c := range []struct {
		state string
		week  int
		adds  float64
	}{{Pregnant, 10, 0}, {Pregnant, 20, 340}, {Pregnant, 30, 452}, {Pregnant, 0, 452}, {Lactating, 8, 330}, {Lactating, 40, 400}} {
		near(t, c.state, kcalOf(EER2005, state(c.state, c.week))-old, c.adds, 1e-9)
	}
}

func TestDepositionByBodyMass(t *testing.T) {
	for _, c := range []struct{ bmi, want float64 }{{17, 200}, {22, 150}, {27, 125}, {33, -50}} {
		p := woman()
		p.Mass = c.bmi * p.Height * p.Height
		near(t, "deposition", deposition(p), c.want, 0)
	}
}

func TestGrowthByMonths(t *testing.T) {
	for _, c := range []struct{ months, boy, girl float64 }{
		{1, 200, 180}, {4, 50, 60}, {8, 20, 20}, {20, 20, 15}, {40, 20, 15}, {60, 15, 15}, {120, 25, 30}, {180, 20, 20}, {240, 0, 0},
	} {
		near(t, "boy", growth2023(Person{Sex: "male", Age: c.months / 12}), c.boy, 0)
		near(t, "girl", growth2023(Person{Sex: "female", Age: c.months / 12}), c.girl, 0)
	}
}

func TestInfantEnergy(t *testing.T) {
	baby := Person{Sex: "female", Age: 0.75, Height: 0.70, Mass: 8.2, Activity: Active}
	near(t, "2023, by hand", kcalOf(EER2023, baby), -69.15+80*0.75+2.65*70+54.15*8.2+20, 1e-9)
	near(t, "2005, by hand", kcalOf(EER2005, baby), 89*8.2-100+22, 1e-9)
	for months, growth := range map[float64]float64{2: 175, 5: 56, 9: 22, 20: 20} {
		baby.Age = months / 12
		near(t, "2005 growth", kcalOf(EER2005, baby)-89*8.2+100, growth, 1e-9)
	}
}

func TestHeavierNeedsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPerson(t)
		q := p
		q.Mass += rapid.Float64Range(0.1, 50).Draw(t, "more")
		for name, eer := range map[string]func(Person) (float64, error){"2023": EER2023, "2005": EER2005, "Schofield": BMRSchofield, "Mifflin": RestingMifflin} {
			if kcalOf(eer, q) <= kcalOf(eer, p) {
				t.Fatalf("%s: %+v needs no more at %g kg", name, p, q.Mass)
			}
		}
	})
}

// The total need is some 1.0 to 2.6 times the basal one for any usual body.
func TestEnergyFitsBasal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPerson(t)
		p.Mass = rapid.Float64Range(19, 30).Draw(t, "bmi") * p.Height * p.Height
		if ratio := kcalOf(EER2023, p) / kcalOf(BMRSchofield, p); ratio < 1.0 || ratio > 2.6 {
			t.Fatalf("%+v: %g times basal", p, ratio)
		}
	})
}

func TestMifflinIsForAdults(t *testing.T) {
	p := woman()
	p.Age = 12
	if _, err := RestingMifflin(p); err == nil || !strings.Contains(err.Error(), "19") {
		t.Errorf("error %v", err)
	}
	near(t, "men less women", kcalOf(RestingMifflin, Person{Sex: "male", Age: 30, Height: 1.66, Mass: 61, Activity: Active})-kcalOf(RestingMifflin, woman()), 166, 1e-9)
}

func TestSchofieldBands(t *testing.T) {
	for _, c := range []struct{ age, male, female float64 }{
		{2, 59.512*20 - 30.4, 58.317*20 - 31.1}, {3, 22.706*20 + 504.3, 20.315*20 + 485.9}, {10, 17.686*20 + 658.2, 13.384*20 + 692.6},
		{30, 11.472*20 + 873.1, 8.126*20 + 845.6}, {60, 11.711*20 + 587.7, 9.082*20 + 658.5},
	} {
		p := Person{Sex: "male", Age: c.age, Height: 1, Mass: 20, Activity: Active}
		near(t, "male", kcalOf(BMRSchofield, p), c.male, 1e-9)
		p.Sex = "female"
		near(t, "female", kcalOf(BMRSchofield, p), c.female, 1e-9)
	}
}

func TestPALBandsMeet(t *testing.T) {
	for _, age := range []float64{3, 8.9, 9, 14, 19, 70} {
		end := 1.0
		for _, l := range levels {
			lo, hi, err := PAL(age, l)
			if err != nil || lo != end || hi <= lo {
				t.Errorf("%g years, %s: %g to %g after %g, %v", age, l, lo, hi, end, err)
			}
			end = hi
		}
		near(t, "top", end, 2.5, 0)
	}
	if _, _, err := PAL(2, Active); err == nil {
		t.Error("a band for two years")
	}
	if _, _, err := PAL(30, "busy"); err == nil {
		t.Error("a band for busy")
	}
}

func TestLifestyle(t *testing.T) {
	last := 1.39
	for _, name := range []string{"sedentary", "moderate", "vigorous"} {
		lo, hi, err := Lifestyle(name)
		if err != nil || lo <= last || hi <= lo {
			t.Errorf("%s: %g to %g, %v", name, lo, hi, err)
		}
		last = hi
	}
	if _, _, err := Lifestyle("idle"); err == nil {
		t.Error("idle passed")
	}
}

func TestExtraIsNeverNegative(t *testing.T) {
	near(t, "sleep, 0.95 MET", Extra(0.95, 70, 8), 0, 0)
	near(t, "gross less rest", Exertion(4, 70, 3)-Exertion(1, 70, 3), Extra(4, 70, 3), 1e-12)
}

func TestNiacinUnknownTryptophan(t *testing.T) {
	near(t, "preformed only", data.NiacinEquivalents(2.5, math.NaN()), 2.5, 0)
}

func TestRetainedKeepsUnknownAndUnlisted(t *testing.T) {
	ns := []data.Nutrient{{ID: "vit_c_mg"}, {ID: "vit_k_ug"}, {ID: "iron_mg"}}
	raw := []float64{100, 8, math.NaN()}
	got := Retained(raw, ns, &data.Retention{Kept: map[string]float64{"vit_c_mg": 0.6, "iron_mg": 0.9}})
	if got[0] != 60 || got[1] != 8 || !math.IsNaN(got[2]) || raw[0] != 100 {
		t.Errorf("got %v from %v", got, raw)
	}
	if got := Retained(raw, ns, nil); got[0] != 100 || &got[0] == &raw[0] {
		t.Errorf("no row: %v", got)
	}
}

func TestSharesAreOfTheEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.Float64Range(0, 400)
		p, f, c := g.Draw(t, "p"), g.Draw(t, "f"), g.Draw(t, "c")+1
		s := Shares(kcal*(4*p+9*f+4*c), p, f, c)
		if math.Abs(s.Protein+s.Fat+s.Carbohydrate-1) > 1e-12 {
			t.Fatalf("%+v", s)
		}
	})
}

func TestCautions(t *testing.T) {
	known := map[string]bool{"infant": true}
	for _, n := range load(t).Nutrients {
		known[n.ID] = true
	}
	for _, c := range Cautions() {
		if !known[c.Nutrient] || c.Text == "" || c.Source == "" {
			t.Errorf("caution %+v", c)
		}
	}
	for _, id := range []string{"vit_b12_ug", "vit_d_ug", "iodine_ug", "infant"} {
		if _, ok := CautionOn(id); !ok {
			t.Errorf("no caution on %s", id)
		}
	}
	if _, ok := CautionOn("vit_c_mg"); ok {
		t.Error("a caution on vitamin C")
	}
	if !strings.Contains(Advice, "clinician") {
		t.Error("the advice names no clinician")
	}
}
