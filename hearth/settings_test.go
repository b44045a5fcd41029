package hearth

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/stead"
	"evenstead/store"
	"evenstead/unit"
)

func TestSettingsComeBack(t *testing.T) {
	h := empty(t)
	usual := Settings{Units: unit.US, Week: time.Monday}
	got, err := h.Settings(t.Context(), usual)
	if err != nil || got != usual {
		t.Errorf("a new file has %+v, %v", got, err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		want := Settings{rapid.SampledFrom([]unit.System{unit.Metric, unit.US}).Draw(rt, "units"), rapid.Bool().Draw(rt, "12"),
			time.Weekday(rapid.IntRange(0, 6).Draw(rt, "week")), rapid.SampledFrom([]string{"", "en"}).Draw(rt, "language")}
		must(t, h.KeepSettings(t.Context(), want))
		if got, err := h.Settings(t.Context(), usual); err != nil || got != want {
			rt.Fatalf("got %+v, %v, want %+v", got, err, want)
		}
	})
}

func TestSettingsOfAnotherEvensteadAreNone(t *testing.T) {
	h := empty(t)
	must(t, h.Store().SaveSettings(t.Context(), []store.Setting{{Name: "units", Value: "cubits"}, {Name: "week", Value: "ide"}, {Name: "moon", Value: "yes"}}))
	usual := Settings{Week: time.Monday}
	if got, err := h.Settings(t.Context(), usual); err != nil || got != usual {
		t.Errorf("got %+v, %v", got, err)
	}
}

// TestSettingsMoveHouse proves that an export carries the choices along.
func TestSettingsMoveHouse(t *testing.T) {
	h, other := empty(t), empty(t)
	want := Settings{unit.US, true, time.Saturday, "en"}
	must(t, h.KeepSettings(t.Context(), want))
	var b bytes.Buffer
	must(t, h.Store().Export(t.Context(), &b))
	must(t, other.Store().Import(t.Context(), &b))
	if got, err := other.Settings(t.Context(), Settings{}); err != nil || got != want {
		t.Errorf("got %+v, %v", got, err)
	}
}

const fourLines = "place.latitude = 29.7\npeople = 2\n"

func TestTermsChangeNothingElse(t *testing.T) {
	for name, text := range map[string]string{
		"no terms":        fourLines,
		"a table":         fourLines + "[terms]   # agreed\nrisk = \"20 %\"   # one year in five\noutside_water = false\n\n[[bed]]\narea = \"3 m2\"\n",
		"half a table":    fourLines + "[terms]\noutside_water = false # no mains\n",
		"an empty table":  fourLines + "[terms]\n[[bed]]\narea = 3\n",
		"dotted":          "terms.risk = 0.2\n" + fourLines,
		"the demo":        string(demo.Quernfold()),
		"a risk elsehere": fourLines + "# risk = 3\n[[bed]]\nname = \"risk = 4\"\narea = 3\n",
	} {
		h := empty(t)
		must(t, h.Describe(t.Context(), begun, name, []byte(text)))
		if err := h.Terms(t.Context(), today, 0.1, true); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		held, err := h.On(t.Context(), today)
		must(t, err)
		if held.From != today || held.Stead.Terms.Storage != 0.1 || !held.Stead.Terms.Water {
			t.Errorf("%s: from %s, terms %+v in\n%s", name, held.From, held.Stead.Terms, held.Text)
		}
		was, err := stead.Read(name, []byte(text))
		must(t, err)
		if len(was.Beds) != len(held.Stead.Beds) || strings.Count(held.Text, "#") != strings.Count(text, "#") {
			t.Errorf("%s: more than the terms changed in\n%s", name, held.Text)
		}
		must(t, h.Terms(t.Context(), today+1, 0.1, true))
		if all, err := h.Steads(t.Context()); err != nil || len(all) != 2 {
			t.Errorf("%s: the same terms again make %d versions, %v", name, len(all), err)
		}
	}
}

// TestTermsInOneLineAreLeftAlone: what the form can't change is said and not broken.
func TestTermsInOneLineAreLeftAlone(t *testing.T) {
	h := empty(t)
	text := "terms = { risk = \"20 %\" }\n" + fourLines
	must(t, h.Describe(t.Context(), begun, "one line", []byte(text)))
	if err := h.Terms(t.Context(), today, 0.1, true); err == nil || !strings.Contains(err.Error(), "stead text") {
		t.Errorf("no way on is told: %v", err)
	}
	if held, err := h.On(t.Context(), today); err != nil || held.Text != text {
		t.Errorf("the text became %q, %v", held.Text, err)
	}
}

func TestPreviewAddsUp(t *testing.T) {
	h := empty(t)
	st, err := stead.Read("demo", demo.Quernfold())
	must(t, err)
	p, err := h.Preview(t.Context(), st)
	must(t, err)
	if !p.Weather || p.Rain[0] != 112 || p.Holds != 38000 || p.Hours != 64 {
		t.Errorf("weather %v, January %g mm, tanks of %g L, %g h", p.Weather, p.Rain[0], p.Holds, p.Hours)
	}
	// 112 mm on 150 and 40 m2 at 85 %, less 76 L on each of 12 wet days.
	if want := 112*190*0.85 - 76*12; p.Catch[0] < want-0.5 || p.Catch[0] > want+0.5 {
		t.Errorf("January sheds %g L, want %g", p.Catch[0], want)
	}
	// 38 L a person-day by the uses, and 3 L for the animals.
	if p.Use != 2*(3+4+4+6+3+12+6)+3 {
		t.Errorf("use %g L a day", p.Use)
	}
	if p.Longest < 14.5 || p.Longest > 15.5 || p.Shortest < 9 || p.Shortest > 9.7 {
		t.Errorf("days of %g to %g h at 40 north", p.Shortest, p.Longest)
	}
	if p.Eats < 18 || p.Eats > 30 || p.Stored <= 0 {
		t.Errorf("two eat %g MJ a day, %g in store", p.Eats, p.Stored)
	}
}

// TestStoredEnergyIsOfTheFood: a kilogram of oil is about 37 MJ (8,840 kcal in
// USDA SR, x 0.004184), and salt has none.
func TestStoredEnergyIsOfTheFood(t *testing.T) {
	h := empty(t)
	if got := energy(h.tab, stead.Lot{Food: "sunflower_oil", Mass: 1}); got < 36.9 || got > 37.1 {
		t.Errorf("oil: %g MJ", got)
	}
	if got := energy(h.tab, stead.Lot{Food: "salt", Mass: 5}); got != 0 {
		t.Errorf("salt: %g MJ", got)
	}
}

func TestBegunByADay(t *testing.T) {
	h := empty(t)
	if got, err := h.Begun(t.Context(), today); err != nil || got {
		t.Errorf("an empty file has begun: %v", err)
	}
	must(t, h.Describe(t.Context(), today+1, "later", []byte(fourLines)))
	for d, want := range map[day.Day]bool{today: false, today + 1: true} {
		if got, err := h.Begun(t.Context(), d); err != nil || got != want {
			t.Errorf("%s: %v, %v", d, got, err)
		}
	}
}

func TestSowableNeedsWeather(t *testing.T) {
	h := empty(t)
	bare, err := stead.Read("bare", []byte(fourLines))
	must(t, err)
	if got, err := h.Sowable(t.Context(), bare, today); err != nil || got != nil {
		t.Errorf("without weather: %v, %v", got, err)
	}
	st, err := stead.Read("demo", demo.Quernfold())
	must(t, err)
	if got, err := h.Sowable(t.Context(), st, today); err != nil || len(got) < 10 {
		t.Errorf("%d crops, %v", len(got), err)
	}
}
