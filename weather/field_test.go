package weather

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"evenstead/day"
)

func TestNumber(t *testing.T) {
	for text, want := range map[string]float64{"12.8": 12.8, "-0.3": -0.3, "+7": 7, "5.": 5, ".5": 0.5, "1e2": 100, "123456789012345678": 123456789012345678} {
		if v, _, ok := number([]byte(text), false); !ok || v != want {
			t.Errorf("%q: %g %t", text, v, ok)
		}
	}
	for _, text := range []string{"", "NA", "nan", "null", "M", "-", "."} {
		if v, _, ok := number([]byte(text), false); !ok || !math.IsNaN(v) {
			t.Errorf("%q is not taken for missing", text)
		}
	}
	for _, text := range []string{"1,5", "abc", "1.2.3", "+", "Infinity", "0x1p-2x"} {
		if v, _, ok := number([]byte(text), false); ok {
			t.Errorf("%q: %g", text, v)
		}
	}
	if v, point, ok := number([]byte("1,5"), true); v != 1.5 || !point || !ok {
		t.Errorf("decimal comma: %g", v)
	}
}

func TestNumberIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`-?[0-9]{1,7}(\.[0-9]{1,6})?`).Draw(t, "number")
		want, err := strconv.ParseFloat(text, 64)
		if got, _, ok := number([]byte(text), false); err != nil || !ok || got != want {
			t.Fatalf("%q: %v, want %v", text, got, want)
		}
	})
}

func TestDate(t *testing.T) {
	want := day.Of(2012, 2, 3)
	for text, o := range map[string]order{"2012-02-03": isoOrder, "2012/2/3": isoOrder, "20120203": isoOrder,
		"2012-02-03 12:00": isoOrder, "2/3/2012": monthFirst, "03.02.2012": dayFirst, "03-02-2012": dayFirst} {
		if d, ok := date([]byte(text), o); !ok || d != want {
			t.Errorf("%q: %s %t", text, d, ok)
		}
	}
	for text, o := range map[string]order{"2011-02-29": isoOrder, "2012-13-01": isoOrder, "2/3/2012": isoOrder, "2012-02-03": monthFirst,
		"13/1/2012": monthFirst, "1/13/2012": dayFirst, "1/2/12": monthFirst, "": isoOrder, "2012-02": isoOrder, "1599-01-01": isoOrder,
		"2012-00-10": isoOrder, "20121301": isoOrder} {
		if d, ok := date([]byte(text), o); ok {
			t.Errorf("%q is taken for %s", text, d)
		}
	}
}

func TestColumnName(t *testing.T) {
	for text, want := range map[string][2]string{"Tmax (°C)": {"tmax", "c"}, "rain_mm": {"rain", "mm"}, "PRCP": {"prcp", ""},
		"temp_min": {"tempmin", ""}, "Precip, inches": {"precip", "in"}, "PRCP_ATTRIBUTES": {"prcpattributes", ""},
		"rain (tenths of mm)": {"rain", "tenths"}, "tmin tenths C": {"tmin", "tenths"}, "in": {"in", ""}} {
		if name, unit := columnName([]byte(text)); name != want[0] || unit != want[1] {
			t.Errorf("%q: %q %q", text, name, unit)
		}
	}
}

func TestSplit(t *testing.T) {
	got := split([]byte(`a , "b, c",,"  7"`), ',', nil)
	want := []string{"a", "b, c", "", "7"}
	if len(got) != len(want) {
		t.Fatalf("%q", got)
	}
	for i := range want {
		if string(got[i]) != want[i] {
			t.Errorf("field %d: %q", i, got[i])
		}
	}
}
