package larder

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestProcessingRefusesWhatIsUntested(t *testing.T) {
	beans := Batch{"beans, snap", "hot", "quart", DialGauge, 100}
	change := func(f func(*Batch)) Batch { b := beans; f(&b); return b }
	for _, c := range []struct {
		name string
		b    Batch
		want string
	}{
		{"unknown food", change(func(b *Batch) { b.Food = "pumpkin puree" }), "no tested time"},
		{"low-acid food in boiling water", change(func(b *Batch) { b.Method = BoilingWater }), "pressure only"},
		{"unknown method", change(func(b *Batch) { b.Method = "oven" }), "write boiling water"},
		{"unknown pack", change(func(b *Batch) { b.Pack = "dry" }), "hot or raw"},
		{"no pack", change(func(b *Batch) { b.Pack = "" }), "hot or raw"},
		{"a word of the cell that is no pack", change(func(b *Batch) { b.Pack = "or" }), "hot or raw"},
		{"unknown jar", change(func(b *Batch) { b.Jar = "half gallon" }), "pint, quart"},
		{"quarts where pints only", Batch{"corn, cream style", "hot", "quart", DialGauge, 0}, "only for pint"},
		{"raw where hot only", Batch{"beets", "raw", "pint", DialGauge, 0}, "only for hot"},
		{"acid food under pressure", Batch{"peaches, halved or sliced", "hot", "pint", DialGauge, 0}, "only for boiling water"},
		{"pressure above the bands", change(func(b *Batch) { b.Altitude = 2500 }), "2438"},
		{"no altitude", change(func(b *Batch) { b.Altitude = math.NaN() }), "altitude"},
		{"under the sea", change(func(b *Batch) { b.Altitude = -600 }), "altitude"},
	} {
		p, err := Processing(c.b)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %+v, error %v", c.name, p, err)
		}
	}
}

func TestRefusalsSayWhy(t *testing.T) {
	_, err := Processing(Batch{"pumpkin puree", "hot", "pint", DialGauge, 0})
	if err == nil || !strings.Contains(err.Error(), "botulism") {
		t.Errorf("error %v does not warn", err)
	}
}

// A higher place never gets less time or pressure.
func TestProcessingNeverEasesWithAltitude(t *testing.T) {
	set, err := tables()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom(set.canning).Draw(t, "row")
		method := BoilingWater
		if r.method == "pressure" {
			method = rapid.SampledFrom([]string{DialGauge, WeightedGauge}).Draw(t, "gauge")
		}
		pack := "hot"
		if r.pack == "raw" {
			pack = "raw"
		}
		low := rapid.Float64Range(0, 2400).Draw(t, "low")
		high := rapid.Float64Range(low, 2400).Draw(t, "high")
		a, errA := Processing(Batch{r.food, pack, r.jar, method, low})
		b, errB := Processing(Batch{r.food, pack, r.jar, method, high})
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		if b.Minutes < a.Minutes || b.KPa < a.KPa {
			t.Fatalf("%s: %+v at %g m, %+v at %g m", r.food, a, low, b, high)
		}
	})
}

func TestCanningTable(t *testing.T) {
	set, err := tables()
	if err != nil {
		t.Fatal(err)
	}
	if len(set.canning) != 82 || len(set.acidity) != 62 || len(set.preparing) != 27 {
		t.Fatalf("%d, %d, %d rows", len(set.canning), len(set.acidity), len(set.preparing))
	}
	for _, r := range set.canning {
		if r.source == "" || !slices.IsSorted(r.minutes[:]) || r.minutes[0] < 5 {
			t.Errorf("row %+v", r)
		}
		if (r.class == "low-acid") != (r.method == "pressure") {
			t.Errorf("%s is %s and goes in %s", r.food, r.class, r.method)
		}
		if (r.jar != "pint" && r.jar != "quart") || r.class == "low-acid" && r.minutes[0] != r.minutes[3] {
			t.Errorf("row %+v", r)
		}
	}
}

func TestAcidifiedFoodSaysSo(t *testing.T) {
	if p := process("tomatoes, crushed", "hot", "pint", BoilingWater, 0); !p.Acidify || !strings.Contains(p.Source, "from memory") {
		t.Errorf("%+v", p)
	}
	if p := process("apples, sliced", "hot", "pint", BoilingWater, 0); p.Acidify {
		t.Errorf("%+v", p)
	}
	if !strings.Contains(Acidify, "30 mL") {
		t.Error("the measure of acid is missing")
	}
}

func TestCanningFoods(t *testing.T) {
	foods, err := CanningFoods()
	if err != nil {
		t.Fatal(err)
	}
	if len(foods) != 40 || !slices.Contains(foods, "sauerkraut") {
		t.Errorf("%d foods: %q", len(foods), foods)
	}
}

func TestJarOfRoundsUp(t *testing.T) {
	for litres, want := range map[float64]string{0.25: "pint", 0.473: "pint", 0.5: "quart", 0.946: "quart"} {
		if got, err := JarOf(litres); err != nil || got != want {
			t.Errorf("%g L: %q, %v", litres, got, err)
		}
	}
	for _, litres := range []float64{0, -1, 1, 1.89, math.NaN()} {
		if got, err := JarOf(litres); err == nil {
			t.Errorf("%g L passed as %s", litres, got)
		}
	}
}

func TestAcidClass(t *testing.T) {
	a, err := AcidClass("Tomatoes")
	if err != nil || a.Class != Borderline || a.High != 4.6 {
		t.Errorf("%+v, %v", a, err)
	}
	if _, err := AcidClass("moon cheese"); err == nil || !strings.Contains(err.Error(), "low-acid") {
		t.Errorf("error %v", err)
	}
}

func TestPrepare(t *testing.T) {
	p, err := Prepare("Asparagus")
	if err != nil {
		t.Fatal(err)
	}
	if lo, hi := p.BlanchAt(1600); lo != 3 || hi != 5 {
		t.Errorf("%g to %g min", lo, hi)
	}
	if p, _ := Prepare("squash, winter"); !math.IsNaN(p.BlanchLow) || p.BlanchNote == "" {
		t.Errorf("%+v", p)
	}
	if _, err := Prepare("stone"); err == nil {
		t.Error("stone passed")
	}
}

func TestCautions(t *testing.T) {
	for _, form := range []string{Jarred, Frozen, Dried, Fermented} {
		if len(Cautions(form)) == 0 {
			t.Errorf("%s has no caution", form)
		}
		for _, c := range Cautions(form) {
			if c.Text == "" || c.Source == "" {
				t.Errorf("%s: %+v", form, c)
			}
		}
	}
	if Cautions(Fresh) != nil {
		t.Error("fresh food has cautions of putting up")
	}
}

func TestEachReportsBadCells(t *testing.T) {
	read := func(text string) error {
		return each("x.csv", text, 2, func(c cells) { c.text(0); c.opt(1); c.num(1) })
	}
	if err := read("a,b\nx,1\n"); err != nil {
		t.Error(err)
	}
	for name, text := range map[string]string{"a word for a number": "a,b\nx,one\n", "a cell too many": "a,b\nx,1,2\n"} {
		if err := read(text); err == nil || !strings.Contains(err.Error(), "x.csv") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzEach(f *testing.F) {
	f.Add("a,b\nx,1\n")
	f.Add("a,b\n\"x,1\n")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		rows := 0
		err := each("x.csv", text, 2, func(c cells) { rows++; c.opt(1) })
		if err == nil && rows > strings.Count(text, "\n")+strings.Count(text, "\r") {
			t.Errorf("%d rows from %q", rows, text)
		}
	})
}
