package sums

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"evenstead/unit"
)

// TestPublishedExamples holds the worked example of every sum to its print.
func TestPublishedExamples(t *testing.T) {
	for _, sum := range All() {
		t.Run(sum.Name, func(t *testing.T) {
			a, err := sum.Run(sum.Example.Values(), unit.Metric)
			if err != nil {
				t.Fatal(err)
			}
			if len(sum.Example.Printed) == 0 || sum.Example.Source == "" {
				t.Fatal("no example with its source")
			}
			for _, want := range sum.Example.Printed {
				got, ok := a.Line(want.Label)
				switch {
				case !ok:
					t.Errorf("no line %q among %v", want.Label, a.Lines)
				case got.Kind == "" && got.Text != want.Text:
					t.Errorf("%s: %q, printed %q", want.Label, got.Text, want.Text)
				case got.Kind != "" && !(math.Abs(got.Amount-want.Amount) <= want.Within):
					t.Errorf("%s: %.8g, printed %s (%.8g within %g)", want.Label, got.Amount, want.Text, want.Amount, want.Within)
				}
			}
		})
	}
}

func TestEverySumIsWhole(t *testing.T) {
	seen := map[string]bool{}
	last := 0
	for _, s := range All() {
		if seen[s.Name] || s.Name == "" || strings.ContainsAny(s.Name, " =_") {
			t.Errorf("name %q is taken or not one word", s.Name)
		}
		seen[s.Name] = true
		group := slices.Index(Groups(), s.Group)
		if group < last {
			t.Errorf("%s: group %q is out of order or unknown", s.Name, s.Group)
		}
		last = group
		if s.Title == "" || s.About == "" || s.Source == "" || len(s.Inputs) == 0 {
			t.Errorf("%s says too little of itself", s.Name)
		}
		keys := map[string]bool{}
		for _, in := range s.Inputs {
			if keys[in.Key] || in.Label == "" {
				t.Errorf("%s: key %q is taken or has no label", s.Name, in.Key)
			}
			keys[in.Key] = true
			if in.Form == Amount && !(in.Least < in.Most) || in.Form == Choice && len(in.Choices) < 2 {
				t.Errorf("%s: %s takes nothing", s.Name, in.Key)
			}
		}
		for _, p := range s.Example.Given {
			if !keys[p.Key] {
				t.Errorf("%s: the example gives %q", s.Name, p.Key)
			}
		}
		if got, err := Named(s.Name); err != nil || got.Title != s.Title {
			t.Errorf("Named(%s): %v", s.Name, err)
		}
	}
	if len(seen) < 40 {
		t.Errorf("only %d sums", len(seen))
	}
}

func TestUnknownSumGetsTheNearest(t *testing.T) {
	for name, want := range map[string]string{"catsh": "meant catch?", "xyzzy": "they are catch, "} {
		if _, err := Named(name); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Named(%s): %v", name, err)
		}
	}
}

// us is a unit that is not SI, for each kind that has one.
var us = map[unit.Kind]string{unit.Length: "ft", unit.Area: "ft2", unit.Volume: "gal", unit.Mass: "lb", unit.Temperature: "°F", unit.Depth: "in",
	unit.Energy: "kWh", unit.Time: "min", unit.Flow: "gal/day", unit.MassRate: "lb/week", unit.ArealMass: "oz/ft2", unit.Speed: "mph", unit.Share: "%"}

// written rewrites an amount of SI in another unit, in full.
func written(t *testing.T, v float64, k unit.Kind) string {
	t.Helper()
	word, ok := us[k]
	if !ok {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	zero, err0 := unit.Parse("0 "+word, k)
	one, err1 := unit.Parse("1 "+word, k)
	if err0 != nil || err1 != nil {
		t.Fatal(err0, err1)
	}
	return strconv.FormatFloat((v-zero)/(one-zero), 'f', -1, 64) + " " + word
}

// TestUnitsDoNotChangeTheAnswer writes every example in US units and asks for US
// units: the SI amounts stay.
func TestUnitsDoNotChangeTheAnswer(t *testing.T) {
	for _, sum := range All() {
		t.Run(sum.Name, func(t *testing.T) {
			want, err := sum.Run(sum.Example.Values(), unit.Metric)
			if err != nil {
				t.Fatal(err)
			}
			values := sum.Example.Values()
			for _, in := range sum.Inputs {
				text, given := values[in.Key]
				if !given || in.Form != Amount && in.Form != List {
					continue
				}
				var out []string
				for _, part := range shareUnit(split(text)) {
					v, err := unit.Parse(part, in.Kind)
					if err != nil {
						t.Fatal(err)
					}
					out = append(out, written(t, v, in.Kind))
				}
				values[in.Key] = strings.Join(out, "; ")
			}
			got, err := sum.Run(values, unit.US)
			if err != nil {
				t.Fatalf("%v: %v", values, err)
			}
			for i, w := range want.Lines {
				g := got.Lines[i]
				if g.Label != w.Label || g.Kind != w.Kind || math.Abs(g.Amount-w.Amount) > 1e-6*max(1, math.Abs(w.Amount)) {
					t.Errorf("%s: %.9g %s, in metric %.9g %s", w.Label, g.Amount, g.Kind, w.Amount, w.Kind)
				}
			}
		})
	}
}

// TestEverySumRefusesBadInput spoils each input of each example in turn.
func TestEverySumRefusesBadInput(t *testing.T) {
	for _, sum := range All() {
		for _, in := range sum.Inputs {
			for what, value := range spoilt(in) {
				values := sum.Example.Values()
				values[in.Key] = value
				_, err := sum.Run(values, unit.Metric)
				var faults Problems
				if !errors.As(err, &faults) {
					t.Errorf("%s, %s = %q (%s): %v", sum.Name, in.Key, value, what, err)
					continue
				}
				if i := slices.IndexFunc(faults, func(p Problem) bool { return p.Key == in.Key }); i < 0 || len(faults[i].Mend) < 12 {
					t.Errorf("%s, %s = %q (%s): says %q", sum.Name, in.Key, value, what, err)
				}
			}
		}
	}
}

// spoilt are values that an input can't have.
func spoilt(in Input) map[string]string {
	out := map[string]string{"empty": "", "spaces": "  ", "words": "plenty ßo", "not a number": "NaN"}
	if in.Form == Choice || in.Form == Date || in.Form == Dates {
		out["negative"] = "-7"
		return out
	}
	if in.Form == List {
		row := func(one string) string { return strings.Repeat(one+"; ", in.Fewest-1) + one }
		out["list of kg"], out["list of zorks"] = row("5 kg"), row("5 zorks")
		if in.Kind == unit.Mass {
			out["list of kg"] = row("5 gal")
		}
		out["long list"] = strings.Repeat("1,", in.Longest) + "1"
		out["absurd list"] = row("1" + strings.Repeat("0", 300))
	}
	out["absurd"] = "1" + strings.Repeat("0", 300)
	out["endless"] = "1" + strings.Repeat("0", 400)
	if in.Least >= 0 {
		out["negative"] = "-1"
	}
	if in.Kind == unit.Mass {
		out["wrong unit"] = "5 gal"
	} else if in.Kind != unit.Angle {
		out["wrong unit"] = "5 kg"
		out["slip"] = "5 zorks"
	}
	return out
}

func TestMissingInputsAreToldAtOnce(t *testing.T) {
	for _, sum := range All() {
		_, err := sum.Run(map[string]string{"arae": "60 m2"}, unit.Metric)
		var faults Problems
		if !errors.As(err, &faults) {
			t.Errorf("%s with nothing given: %v", sum.Name, err)
			continue
		}
		said := err.Error()
		for _, in := range sum.Inputs {
			if in.Required() && !strings.Contains(said, in.Key+": is missing; ") {
				t.Errorf("%s: %s is not missed in %q", sum.Name, in.Key, said)
			}
		}
		if !strings.Contains(said, "arae = 60 m2: is not a key of "+sum.Name) {
			t.Errorf("%s: the odd key is not told in %q", sum.Name, said)
		}
	}
}

func TestFaultsNameKeyValueAndMend(t *testing.T) {
	for _, c := range []struct{ sum, given, want string }{
		{"catch", "area=60 m2 rain=14 mm rof=tile", "rof = tile: is not a key of catch; meant roof?"},
		{"catch", "area=60 m2 rain=14 mm roof=tlie", "roof = tlie: is not one of the choices; meant tile?"},
		{"catch", "area=60 sqmm rain=14 mm", "area = 60 sqmm: not a unit of area; "},
		{"catch", "area=0 m2 rain=14 mm", "area = 0 m2: must be from 0.1 m² to 10 ha"},
		{"catch", "area=60 m2 rain=14 kg", "rain = 14 kg: kg is a unit of mass, not of depth of rain; write mm, cm or in"},
		{"tank-level", "shape=box depth=0.5 m length=1 m", "width: is missing; it is needed for a tank that is box\nheight: is missing"},
		{"tank-size", "area=60 use=50 rain=1,2,3", "rain = 1,2,3: has 3; write 12 amounts parted by commas"},
		{"et0", "tmin=30 tmax=20 latitude=40 date=5 Jul", "tmin = 30 °C: is not below tmax, 20 °C; swap or mend them"},
		{"et0", "tmin=10 tmax=20 latitude=40 date=35 Jul", `date = 35 Jul: "35 Jul" is not a date`},
		{"cure-date", "closed=5 Nov", "closed = 5 Nov: needs its year; write it as 2026-11-05"},
		{"brine", "water=1 L weighed=900 g", "weighed = 900 g: is 47.4 % salt; water takes up no more than 26.4 %, so weigh again"},
		{"brine", "water=1 L", "salt: or weighed: give one of the two"},
		{"heat-time", "temperature=400 °C", "temperature = 400 °C: must be from −20 °C to 100 °C"},
		{"heat-time", "temperature=49.9 °C", "temperature = 49.9 °C: is under 50 °C, where the rule gives no time"},
		{"energy-need", "sex=male age=30 height=170 cm mass=400 kg", "mass = 400 kg: must be from 2 kg to 300 kg"},
		{"energy-need", "sex=male age=30 height=170 cm mass=70 kg state=pregnant", "pregnant"},
		{"canning", "food=pumpkin altitude=100 m", "food = pumpkin: is not one of the choices"},
		{"canning", "food=carrots altitude=100 m", "low-acid food is canned under pressure only"},
		{"canning", "food=carrots method=dial gauge altitude=3000 m", "tested pressures end at 2438 m"},
		{"canning", "food=carrots method=dial gauge altitude=100 m jar=2 L", "tested times are for up to a quart"},
		{"degree-days", "tmin=10,12 tmax=20", "tmax: has 1 days but tmin has 2; give both for each day"},
		{"degree-days", "tmin=10 tmax=20 method=modified", "upper: is missing; it is needed by the modified method"},
		{"plants", "crop=potato", "need: or energy: give one of the two"},
		{"alcohol", "before=1.01 after=1.05", "after = 1.05: is above the gravity before"},
		{"drying", "after=30 %", "before: is missing; give it, or a food whose water the table knows"},
		{"compost-mix", "first=food_scraps first-kg=10 kg", "second-n: is missing; give it, or name the material in second"},
		{"compost-mix", "first=food_scraps first-kg=10 kg second=grass_clippings", "no amounts of these materials meet the goal"},
		{"water-days", "level=100 L dead=200 L use=10", "dead = 200 L: is more than the level; give less than 100 L"},
		{"lime", "ph=3.5", "not pH 3.5"},
		{"frost-dates", "dates=1 Apr,2 Apr,3 Apr,4 Apr years=3", "years = 3: is fewer than the 4 dates"},
		{"digester", "feed=kitchen_scraps mass=72 kg water=0 L tank=540 L", "mass = 72 kg: is 20 times what this digester takes in a day; feed at most 3.6 kg"},
		{"digester", "feed=kitchen_scrap mass=72 kg water=0 L tank=540 L", "meant kitchen_scraps?"},
		{"sowing-window", "crop=apple latitude=40", "crop = apple: is not one of the choices"},
		{"tank-size", "area=60 use=50 rain=1,2,3,4,5,6,7,8,9,10,11,-12", "rain = -12: must be from 0 mm to"},
		{"tank-size", "area=60 use=50 rain=1,2,3,4,5,6,7,8,9,10,11,", "rain = 1,2,3,4,5,6,7,8,9,10,11,: has 11; write 12 amounts"},
		{"frost-dates", "dates=1 Apr,2 Apr", "dates = 1 Apr,2 Apr: has 2; write 3 to 200 dates parted by commas"},
		{"compost-mix", "first=food_scraps first-kg=10 kg second=tomato_waste", "second-moisture: is missing; the table has none for tomato waste"},
		{"cover", "people=2 cover=bark_hardwood", "has no moisture in the table"},
		{"thaw", "ice=yes temperature=20 °C", "temperature = 20 °C: is too warm for food with ice in it"},
		{"boil", "altitude=5000 m from=90 °C", "is at the boil already at this altitude"},
	} {
		if err := try(t, c.sum, c.given, unit.Metric); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %s\n got %v\nwant %s", c.sum, c.given, err, c.want)
		}
	}
}

// try runs a sum from words as on the command line.
func try(t *testing.T, name, given string, sys unit.System) error {
	t.Helper()
	_, err := reckon(t, name, given, sys)
	return err
}

func reckon(t *testing.T, name, given string, sys unit.System) (Answer, error) {
	t.Helper()
	sum, err := Named(name)
	if err != nil {
		t.Fatal(err)
	}
	values, err := ReadPairs(strings.Fields(given))
	if err != nil {
		t.Fatal(err)
	}
	return sum.Run(values, sys)
}

func TestReadPairs(t *testing.T) {
	got, err := ReadPairs([]string{"area=60", "m2", "note=a=b", " rain = 14 mm"})
	if err != nil || got["area"] != "60 m2" || got["note"] != "a=b" || got["rain"] != "14 mm" || len(got) != 3 {
		t.Errorf("%v, %v", got, err)
	}
	_, err = ReadPairs([]string{"60", "=5", "a=1", "a=2"})
	want := "\"60\": write key=value, such as area=60\n\"=5\": has no key before the equals sign\na = 2: given before as \"1\"; write it once"
	if err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
}

func FuzzReadPairs(f *testing.F) {
	for _, s := range []string{"area=60 m2 rain=14 mm", "a=1 a=2", "=", "x", "tmin=1,2,3 °F", "area=1e9", "date=5 Nov", "\xff=\x00", "crop=potato energy=912500 kcal"} {
		f.Add(s)
	}
	all := All()
	f.Fuzz(func(t *testing.T, s string) {
		values, err := ReadPairs(strings.Fields(s))
		if err != nil {
			if values != nil || err.Error() == "" {
				t.Errorf("%q: %v beside %v", s, values, err)
			}
			return
		}
		sum := all[len(s)%len(all)]
		a, err := sum.Run(values, unit.US)
		if err == nil {
			if _, err := json.Marshal(a); err != nil {
				t.Errorf("%s %q: %v", sum.Name, s, err)
			}
		} else if strings.TrimSpace(err.Error()) == "" {
			t.Errorf("%s %q: an error without words", sum.Name, s)
		}
	})
}

// TestAnswersSayHowAndBeware holds every answer to steps, a source and, where
// work can hurt, cautions.
func TestAnswersSayHowAndBeware(t *testing.T) {
	harmful := []string{"catch", "first-flush", "energy-need", "jars", "brine", "alcohol", "canning", "drying", "freezer-hours", "thaw",
		"cover", "drums", "cure-date", "heat-time", "urine-dose", "lime", "digester", "boil", "sun-oven", "wood-store", "bottle-days", "panel", "cord-or-sun", "trip"}
	for _, sum := range All() {
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			a, err := sum.Run(sum.Example.Values(), sys)
			if err != nil {
				t.Fatal(err)
			}
			if len(a.Steps) == 0 || a.Source == "" || len(a.Lines) == 0 {
				t.Errorf("%s says too little: %+v", sum.Name, a)
			}
			for _, step := range a.Steps {
				if strings.Contains(step, "NaN") || strings.Contains(step, "not known") || strings.Contains(step, "%!") || !strings.HasSuffix(step, ".") {
					t.Errorf("%s: step %q", sum.Name, step)
				}
			}
			if slices.Contains(harmful, sum.Name) && len(a.Cautions) == 0 {
				t.Errorf("%s warns of nothing", sum.Name)
			}
		}
	}
}

func TestAnswerAsJSON(t *testing.T) {
	a, err := reckon(t, "cure-date", "closed=2026-11-05", unit.Metric)
	if err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`{"label":"not before","text":"5 Nov 2028"}`, `{"label":"rest","amount":2,"kind":"number","unit":"years","text":"2 years"}`} {
		if !strings.Contains(string(out), want) {
			t.Errorf("no %s in %s", want, out)
		}
	}
	for _, sum := range All() {
		if _, err := json.Marshal(sum); err != nil {
			t.Errorf("%s: %v", sum.Name, err)
		}
	}
}

func TestAnswersOfSums(t *testing.T) {
	for _, c := range []struct{ sum, given, label, want string }{
		{"catch", "area=60 m2 rain=10 mm", "caught", "510 L"},
		{"catch", "area=60 m2 rain=10 mm flush=0.5 mm", "turned away by the first flush", "30 L"},
		{"water-days", "level=500 L use=50 inflow=60", "lasts", "as long as the inflow does: it brings what is drawn or more"},
		{"tank-size", "area=10 use=100 rain=1,1,1,1,1,1,1,1,1,1,1,1", "never failing in mean months", "no tank: the roof brings less in a year than is asked"},
		{"no-fail-store", "inflow=1,1,1 draft=2", "store", "none is enough: the record brings less than is drawn"},
		{"tank-level", "shape=lying diameter=0.6 length=0.9 depth=0.3", "filled", "50 %"},
		{"tank-level", "shape=box length=1 width=1 height=1 depth=0.25", "water", "250 L"},
		{"et0", "tmin=14.8 tmax=26.6 latitude=45.72 S date=15 Jan", "reference evaporation", "5.34 mm a day"},
		{"degree-days", "tmin=50 °F tmax=70 °F lower=50 °F method=simple", "degree-days", "5.56 °C d"},
		{"thaw", "ice=yes temperature=3 above=5 h", "do", "refreeze"},
		{"thaw", "ice=no temperature=3 above=1 h", "do", "refreeze"},
		{"thaw", "ice=no temperature=3 above=5 h", "do", "discard"},
		{"thaw", "ice=no temperature=6 above=1 h", "do", "cook and eat now"},
		{"thaw", "ice=no", "do", "discard"},
		{"cure-date", "closed=2026-11-05 mean=24", "not before", "5 Nov 2027"},
		{"cure-date", "closed=2028-02-29 mean=20", "not before", "1 Mar 2029"},
		{"canning", "food=carrots method=weighted gauge jar=1 pt altitude=400 m", "time", "25 min"},
		{"canning", "food=carrots method=weighted gauge jar=1 pt altitude=400 m", "pressure by gauge", "103 kPa"},
		{"brine", "water=1 L weighed=50 g", "share", "4.76 %"},
		{"brine", "way=dry food=1 kg weighed=25 g", "share", "2.5 %"},
		{"jars", "eat=0.5 kg/week for=40 weeks", "jars", "24"},
		{"urine-dose", "area=1 nitrogen=10 g/m2 eaten=raw harvest=2027-06-30 today=2027-05-01", "last day before the harvest", "31 May 2027"},
		{"frost-dates", "dates=1 Jan,10 Jan,20 Dec hemisphere=south", "mean", "31 Dec"},
		{"frost-dates", "dates=1 Apr,11 Apr,21 Apr years=60", "in 1 year of 10 after", "fewer years than that have frost"},
		{"compost-mix", "first=food_scraps first-kg=10 second=straw_wheat third=hay_legume", "carbon to nitrogen", "30 : 1"},
		{"compost-mix", "first=food_scraps first-kg=10 second=leaves_dry second-kg=5", "whole mix", "15 kg"},
		{"seed", "crop=potato area=20 m2", "seed", "8 kg"},
		{"seed", "crop=beet area=10 m2 rate=1 g/m2 failures=0 tested=32.5 %", "seed", "20 g"},
		{"plants", "crop=tomato need=40 kg", "with paths and edges", "19.3 m²"},
		{"exchange", "weekly=6 h weeks=1 done=5 h,3 h", "done beyond what was agreed", "2 h"},
		{"sowing-window", "crop=snap_bean latitude=41.5 " + ice, "nearest that fit", "none of the table"},
	} {
		a, err := reckon(t, c.sum, c.given, unit.Metric)
		if err != nil {
			t.Errorf("%s %s: %v", c.sum, c.given, err)
			continue
		}
		l, ok := a.Line(c.label)
		if !ok || l.Text != c.want {
			t.Errorf("%s %s\n%s: got %q, want %q", c.sum, c.given, c.label, l.Text, c.want)
		}
	}
}

// ice is a place where nothing grows.
const ice = "tmin=-20,-20,-20,-20,-20,-20,-20,-20,-20,-20,-20,-20 tmax=-9,-9,-9,-9,-9,-9,-9,-9,-9,-9,-9,-9"

func TestDangersAreTold(t *testing.T) {
	for _, c := range []struct{ sum, given, want string }{
		{"digester", "feed=kitchen_scraps mass=10 kg water=0 L tank=540 L", "Too much: "},
		{"urine-dose", "area=1 nitrogen=40 g/m2", "household guidance on urine"},
		{"urine-dose", "area=1 nitrogen=10 g/m2 eaten=raw harvest=2027-06-30 today=2027-06-29", "too near the harvest"},
		{"brine", "water=1 L salt=2 %", "Under the least"},
		{"jars", "mass=5 kg jar=2 L", "Tested canning times end at a quart"},
		{"lime", "ph=4 area=1", "over the year's amount"},
		{"compost-mix", "first=grass_clippings first-kg=10 second=food_scraps second-kg=1", "sheds nitrogen"},
		{"sun-oven", "tmin=2 tmax=4 latitude=50 date=15 Dec", "brings nothing to a safe heat"},
		{"catch", "area=60 rain=10 roof=asbestos", "do not drink"},
	} {
		a, err := reckon(t, c.sum, c.given, unit.Metric)
		if err != nil {
			t.Errorf("%s %s: %v", c.sum, c.given, err)
		} else if !strings.Contains(strings.Join(a.Cautions, "\n"), c.want) {
			t.Errorf("%s %s: %q is not told in %q", c.sum, c.given, c.want, a.Cautions)
		}
	}
}

// TestSouthIsTheNorthHalfAYearOn mirrors a climate over the equator.
func TestSouthIsTheNorthHalfAYearOn(t *testing.T) {
	north := Example{Given: desMoines()}.Values()
	south := map[string]string{"latitude": "42 S", "spread": north["spread"]}
	for _, key := range []string{"tmin", "tmax"} {
		parts := shareUnit(split(north[key]))
		south[key] = strings.Join(slices.Concat(parts[6:], parts[:6]), ", ")
	}
	sum, err := Named("sowing-window")
	if err != nil {
		t.Fatal(err)
	}
	opens := func(values map[string]string) float64 {
		values["crop"] = "tomato"
		a, err := sum.Run(values, unit.Metric)
		if err != nil {
			t.Fatal(err)
		}
		l, ok := a.Line("opens")
		if !ok {
			t.Fatalf("no window: %v", a.Lines)
		}
		return l.Amount
	}
	n, s := opens(north), opens(south)
	if d := math.Abs(s - n - 182); d > 12 {
		t.Errorf("opens on day %g north and %g south", n, s)
	}
}

func TestMoreNeedTakesMoreGround(t *testing.T) {
	last := 0.0
	for kg := 1; kg < 1000; kg *= 3 {
		a, err := reckon(t, "plants", fmt.Sprintf("crop=tomato need=%d kg year=poor", kg), unit.Metric)
		if err != nil {
			t.Fatal(err)
		}
		if g := a.Lines[0].Amount; g <= last {
			t.Errorf("%d kg take %g m2, less took %g", kg, g, last)
		} else {
			last = g
		}
	}
}

// TestSameAnswerTwice holds the sums to no chance and no clock.
func TestSameAnswerTwice(t *testing.T) {
	for _, sum := range All() {
		one, err1 := sum.Run(sum.Example.Values(), unit.Metric)
		two, err2 := sum.Run(sum.Example.Values(), unit.Metric)
		if err1 != nil || err2 != nil || fmt.Sprint(one) != fmt.Sprint(two) {
			t.Errorf("%s: %v, %v\n%v\n%v", sum.Name, err1, err2, one, two)
		}
	}
}

func BenchmarkCatch(b *testing.B) {
	sum, err := Named("catch")
	if err != nil {
		b.Fatal(err)
	}
	values := sum.Example.Values()
	for b.Loop() {
		if _, err := sum.Run(values, unit.US); err != nil {
			b.Fatal(err)
		}
	}
}
