package web

import (
	"math"
	"strings"
	"testing"

	"evenstead/unit"
)

func english(t *testing.T) words {
	t.Helper()
	w, err := readWords("")
	must(t, err)
	return w
}

func TestInTen(t *testing.T) {
	w := english(t)
	for p, want := range map[float64]string{0: "no year", 0.01: "under 1 year of 20", 0.06: "1 year of 10", 0.1: "1 year of 10",
		0.58: "6 years of 10", 0.9: "9 years of 10", 0.97: "over 19 years of 20", 1: "every year"} {
		if got := w.inTen(p); got != want {
			t.Errorf("chance %g is said %q, want %q", p, got, want)
		}
	}
	if got := w.inTen(math.NaN()); got != "no year" {
		t.Errorf("no number is said %q", got)
	}
}

func TestFigure(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.124: "0.12", 1.04: "1", 2.25: "2.2", 9.96: "10", 1330.4: "1,330", 1e6: "1,000,000", -1330: "-1,330", -0.001: "0"} {
		if got := figure(v); got != want {
			t.Errorf("%g is written %q, want %q", v, got, want)
		}
	}
	if got := figure(math.Inf(1)); got != "–" {
		t.Errorf("no number is written %q", got)
	}
}

func TestAmount(t *testing.T) {
	us := Options{Units: unit.US}
	for _, c := range []struct {
		opt  Options
		v    float64
		unit string
		want string
	}{
		{Options{}, 1330, "L", "1,330\u00a0L"}, {us, 1330, "L", "351\u00a0gal"}, {Options{}, 12, "m2", "12\u00a0m²"}, {us, 1, "kg", "2.2\u00a0lb"},
		{us, 34, "days' eating", "34\u00a0days'\u00a0eating"}, {Options{}, 3, "g/m2", "3\u00a0g/m²"}, {Options{}, 3, "", "3"}, {us, 3.6, "MJ", "1\u00a0kWh"},
	} {
		if got := c.opt.amount(c.v, c.unit); got != c.want {
			t.Errorf("%g %s is written %q, want %q", c.v, c.unit, got, c.want)
		}
	}
}

func TestDays(t *testing.T) {
	w := english(t)
	for _, c := range []struct {
		n    int
		open bool
		want string
	}{{1, false, "1 day"}, {98, false, "98 days"}, {365, true, "a year"}, {365, false, "365 days"}, {730, true, "two years"}, {90, true, "all 90 days"}} {
		if got := w.days(c.n, c.open); got != c.want {
			t.Errorf("%d days are said %q, want %q", c.n, got, c.want)
		}
	}
}

func TestHeldKeepsChancesTogether(t *testing.T) {
	if got := held.Replace("in 6 years of 10, 56 in 100"); strings.Count(got, nbsp) != 5 {
		t.Errorf("held %q", got)
	}
}

func TestUpperFirst(t *testing.T) {
	for s, want := range map[string]string{"": "", "food in store": "Food in store", "örtchen": "Örtchen", "9 tanks": "9 tanks"} {
		if got := upperFirst(s); got != want {
			t.Errorf("%q begins %q", s, got)
		}
	}
}

func TestLowerFirst(t *testing.T) {
	for s, want := range map[string]string{"": "", "Fibre": "fibre", "Vitamin B6": "vitamin B6", "Öl": "öl", "DHA and EPA": "DHA and EPA", "K": "k"} {
		if got := lowerFirst(s); got != want {
			t.Errorf("%q stands in a sentence as %q, want %q", s, got, want)
		}
	}
}

func TestParseWords(t *testing.T) {
	w, err := parseWords([]byte("# c\n\na = b = c\nd.e = %[2]s of %[1]s\n"))
	must(t, err)
	if w["a"] != "b = c" || w.say("d.e", "1", "2") != "2 of 1" || w.say("no.such") != "no.such" || w.or("no.such", "x") != "x" {
		t.Errorf("read %v", w)
	}
	for text, want := range map[string]string{"a b": "line 1", "a = 1\na = 2": "line 2", " = x": "line 1"} {
		if _, err := parseWords([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v, want %s named", text, err, want)
		}
	}
}

func FuzzParseWords(f *testing.F) {
	f.Add([]byte("a = b\n# c"))
	f.Fuzz(func(t *testing.T, b []byte) {
		w, err := parseWords(b)
		if err == nil && w == nil {
			t.Error("neither words nor an error")
		}
	})
}
