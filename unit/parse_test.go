package unit

import (
	"errors"
	"math"
	"testing"
)

func TestParseReadsWhatPeopleWrite(t *testing.T) {
	cases := []struct {
		text string
		kind Kind
		want float64
	}{
		{"275 gal", Volume, 275 * 3.785411784},
		{"3,000 L", Volume, 3000},
		{"1,234,567 l", Volume, 1234567},
		{"1 1/2 cups", Volume, 1.5 * 0.2365882365},
		{"1½ L", Volume, 1.5},
		{"40\u00a0L", Volume, 40},
		{"2 qt 1 pt", Volume, 2.5 * 0.946352946},
		{"2 imperial gallons", Volume, 9.09218},
		{"0.9 m3", Volume, 900},
		{"250 ml", Volume, 0.25},
		{"1000", Volume, 1000},
		{"6 m2", Area, 6},
		{"6m²", Area, 6},
		{"3 square feet", Area, 3 * 0.09290304},
		{"1/2 lb", Mass, 0.226796185},
		{"3 lb 4 oz", Mass, 3.25 * 0.45359237},
		{"2 KG", Mass, 2},
		{"6 ft 2 in", Length, 1.8796},
		{"6' 2\"", Length, 1.8796},
		{"166 cm", Length, 1.66},
		{"-3 °C", Temperature, -3},
		{"−3 C", Temperature, -3},
		{"50 °F", Temperature, 10},
		{"2.5 kg/week", MassRate, 2.5 / 7},
		{"7 kg a week", MassRate, 1},
		{"7 kg per week", MassRate, 1},
		{"365.2425 kg/year", MassRate, 1},
		{"300 L/h", Flow, 7200},
		{"4.8 L/day", Flow, 4.8},
		{"1 gal an hour", Flow, 24 * 3.785411784},
		{"3 kg/m2", ArealMass, 3},
		{"30 t/ha", ArealMass, 3},
		{"12 km/h", Speed, 12 / 3.6},
		{"36 km/hour", Speed, 10},
		{"0.5 kWh", Energy, 1.8},
		{"256 Wh", Energy, 0.9216},
		{"2 kW", Power, 2000},
		{"1 h 20 min", Time, 4.0 / 3},
		{"2 in", Depth, 50.8},
		{"5 L/m2", Depth, 5},
		{"85 %", Share, 0.85},
		{"85%", Share, 0.85},
		{"0.85", Share, 0.85},
		{"12 percent", Share, 0.12},
		{"13°44'N", Angle, 13 + 44.0/60},
		{"22° 54' 30\" S", Angle, -(22 + 54.0/60 + 30.0/3600)},
		{"40.1 N", Angle, 40.1},
		{"W 21", Angle, -21},
		{"-33.9", Angle, -33.9},
		{"-33°30'", Angle, -33.5},
		{"6.4", Number, 6.4},
		{"1/4", Number, 0.25},
	}
	for _, c := range cases {
		got, err := Parse(c.text, c.kind)
		if err != nil {
			t.Errorf("Parse(%q, %s): %v", c.text, c.kind, err)
		} else if math.Abs(got-c.want) > 1e-9*max(1, math.Abs(c.want)) {
			t.Errorf("Parse(%q, %s) = %v, want %v", c.text, c.kind, got, c.want)
		}
	}
}

func TestParseErrorsNameTextAndMend(t *testing.T) {
	cases := []struct {
		text string
		kind Kind
		want string
	}{
		{"275 gsl", Volume, `"275 gsl": not a unit of volume; meant 275 gal (1,041 L)?`},
		{"6 metrs", Length, `"6 metrs": not a unit of length; meant 6 metre?`},
		{"3 furlongs", Length, `"3 furlongs": not a unit of length; write m, mm, cm, km, in, ft, yd or mi`},
		{"5 kg", Volume, `"5 kg": kg is a unit of mass, not of volume; write L, mL, m3, gal, qt, pt, cup, fl oz or imp gal`},
		{"", Volume, `"": does not start with a number; write 2.5 L or 6 imp gal`},
		{"some", Mass, `"some": does not start with a number; write 2.5 kg or 6 oz`},
		{"2,5 kg", Mass, `"2,5 kg": has a comma in an odd place; write a point, as in 2.5 kg, and commas only between thousands`},
		{"12 apples", Number, `"12 apples": takes no unit; write 12`},
		{"6 ft 2", Length, `"6 ft 2": goes on with "2"; end after the unit, as in 2.5 m or 6 mi`},
		{"2 in 6 ft", Length, `"2 in 6 ft": has parts that do not add up; write one amount, or falling units as in 6 ft 2 in`},
		{"40 L of rain", Volume, `"40 L of rain": goes on with "of rain"; end after the unit, as in 2.5 L or 6 imp gal`},
		{"13°64'N", Angle, `"13°64'N": is not degrees, minutes and seconds; write 40.1 N or 13°44'N`},
		{"-40 S", Angle, `"-40 S": has both a minus sign and a letter; keep one of them`},
		{"361", Angle, `"361": is more than a full turn; write degrees, such as 40.1 N or 13°44'N`},
		{"N", Angle, `"N": does not start with a number; write 40.1 N or 13°44'N`},
		{"2 Mg", Mass, `"2 Mg": not a unit of mass; meant 2 mg (2 mg)?`},
	}
	for _, c := range cases {
		_, err := Parse(c.text, c.kind)
		if err == nil {
			t.Errorf("Parse(%q, %s): no error", c.text, c.kind)
			continue
		}
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("Parse(%q, %s): error is %T", c.text, c.kind, err)
		}
		if err.Error() != c.want {
			t.Errorf("Parse(%q, %s)\n got %s\nwant %s", c.text, c.kind, err, c.want)
		}
	}
}

func TestSplitFindsNumberUnitAndRest(t *testing.T) {
	cases := []struct {
		text  string
		value float64
		unit  string
		rest  string
		ok    bool
	}{
		{"2.5 kg carrots", 2.5, "kg", "carrots", true},
		{"6 eggs", 6, "", "eggs", true},
		{"1/2 lb of walnuts", 0.5, "lb", "of walnuts", true},
		{"2.5 kg/week bread", 2.5, "kg/week", "bread", true},
		{"3 fl oz oil", 3, "fl oz", "oil", true},
		{"12 kale", 12, "", "kale", true},
		{"40 L", 40, "L", "", true},
		{"7", 7, "", "", true},
		{"6 ft 2 in", 6, "ft", "2 in", true},
		{"some rain", 0, "", "some rain", false},
		{"", 0, "", "", false},
	}
	for _, c := range cases {
		v, u, rest, ok := Split(c.text)
		if v != c.value || u != c.unit || rest != c.rest || ok != c.ok {
			t.Errorf("Split(%q) = %v, %q, %q, %v", c.text, v, u, rest, ok)
		}
	}
}

func TestKindsOfTellsWhereAWordFits(t *testing.T) {
	for word, want := range map[string]Kind{"gal": Volume, "kg": Mass, "kWh": Energy, "%": Share, "kg/m2": ArealMass} {
		if got := KindsOf(word); len(got) != 1 || got[0] != want {
			t.Errorf("KindsOf(%q) = %v, want %s", word, got, want)
		}
	}
	if got := KindsOf("gsl"); got != nil {
		t.Errorf("KindsOf(gsl) = %v", got)
	}
}

func TestUnitsOfferedAreRead(t *testing.T) {
	for _, k := range Kinds() {
		for _, u := range Units(k) {
			if _, err := Parse("2 "+u, k); err != nil {
				t.Errorf("offered for %s: %v", k, err)
			}
		}
		if v, err := Parse("2 "+Symbol(k), k); err != nil || v != 2 {
			t.Errorf("SI symbol of %s: %v, %v", k, v, err)
		}
	}
}

func TestNearestForgivesOneSlipInThree(t *testing.T) {
	among := []string{"holds", "level", "dead", "reserve", "overflow"}
	for word, want := range map[string]string{
		"hold": "holds", "lvel": "level", "RESERV": "reserve", "overlfow": "overflow",
		"xyz": "", "": "", "capacity": "",
	} {
		if got := Nearest(word, among); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", word, got, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"275 gal", "1 1/2 cups", "13°44'N", "6 ft 2 in", "−3 °C", "½", "1,000", "5 kg a week", "9e9", "'", "1/0", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, k := range Kinds() {
			v, err := Parse(s, k)
			if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Errorf("Parse(%q, %s) = %v", s, k, v)
			}
			var e *Error
			if err != nil && (!errors.As(err, &e) || e.Problem == "" || e.Mend == "") {
				t.Errorf("Parse(%q, %s): error without a mend: %v", s, k, err)
			}
		}
		if _, _, rest, ok := Split(s); ok && len(rest) >= len(s) {
			t.Errorf("Split(%q) ate nothing", s)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("2.5 kg/week", MassRate); err != nil {
			b.Fatal(err)
		}
	}
}
