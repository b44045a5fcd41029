package unit

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFormatReadsLikeALabel(t *testing.T) {
	cases := []struct {
		v    float64
		kind Kind
		sys  System
		want string
	}{
		{1041, Volume, Metric, "1,041 L"},
		{34000, Volume, Metric, "34,000 L"},
		{0.25, Volume, Metric, "250 mL"},
		{0.9996, Volume, Metric, "1 L"},
		{0, Volume, Metric, "0 L"},
		{0, Volume, US, "0 qt"},
		{250000, Volume, Metric, "250 m³"},
		{1041, Volume, US, "275 gal"},
		{2, Volume, US, "2.11 qt"},
		{0.1, Volume, US, "3.38 fl oz"},
		{12.345, Mass, Metric, "12.3 kg"},
		{0.058, Mass, Metric, "58 g"},
		{0.1, Mass, US, "3.53 oz"},
		{1, Mass, US, "2.2 lb"},
		{12000, Mass, Metric, "12 t"},
		{1.8, Length, Metric, "1.8 m"},
		{2100, Length, Metric, "2.1 km"},
		{0.05, Length, Metric, "5 cm"},
		{0.05, Length, US, "1.97 in"},
		{12, Area, Metric, "12 m²"},
		{12, Area, US, "129 ft²"},
		{8.25, Temperature, Metric, "8.2 °C"},
		{-3, Temperature, Metric, "−3 °C"},
		{-40, Temperature, US, "−40 °F"},
		{10, Temperature, US, "50 °F"},
		{25.4, Depth, US, "1 in"},
		{0.9216, Energy, Metric, "922 kJ"},
		{1.8, Energy, US, "500 Wh"},
		{0.85, Share, Metric, "85 %"},
		{0.034, Share, US, "3.4 %"},
		{10.0 / 3, Speed, Metric, "12 km/h"},
		{40.1, Angle, Metric, "40.1°"},
		{1234.5, Number, Metric, "1,234"},
		{-0.0001, Number, Metric, "−0.0001"},
		{math.NaN(), Mass, Metric, "not known"},
	}
	for _, c := range cases {
		if got := plain(Format(c.v, c.kind, c.sys)); got != c.want {
			t.Errorf("Format(%v, %s, %d) = %q, want %q", c.v, c.kind, c.sys, got, c.want)
		}
	}
	if got := Format(45, Volume, Metric); !strings.Contains(got, nbsp) {
		t.Errorf("%q parts number and unit by a plain space", got)
	}
}

func TestWhatIsPrintedReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(Kinds()).Draw(t, "kind")
		sys := rapid.SampledFrom([]System{Metric, US}).Draw(t, "system")
		v := rapid.Float64Range(-360, 360).Draw(t, "v")
		if k != Angle && k != Temperature {
			v *= math.Pow(10, rapid.Float64Range(-3, 4).Draw(t, "scale"))
		}
		text := Format(v, k, sys)
		got, err := Parse(text, k)
		if err != nil {
			t.Fatalf("Format(%v, %s) = %q: %v", v, k, text, err)
		}
		if tol := max(0.006*math.Abs(v), leastShown(k, sys)); math.Abs(got-v) > tol {
			t.Fatalf("%v prints as %q and reads back as %v", v, text, got)
		}
	})
}

// leastShown is the SI amount below which a kind is not told apart: half of the
// twelfth decimal in the smallest unit of its ladder, and a hair for rounding.
func leastShown(k Kind, sys System) float64 {
	const half = 0.51e-12
	switch k {
	case Temperature:
		return 0.051
	case Angle:
		return 6e-5
	case Number:
		return half
	case Share:
		return half / 100
	}
	ladder := ladders[sys][k]
	return half * ladder[len(ladder)-1].factor
}
