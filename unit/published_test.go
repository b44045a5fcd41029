package unit

import (
	"math"
	"testing"
)

// Both NIST sheets are cited from the values they print for one unit. Those of
// SP 811 are from memory; those of Handbook 44 were read in a public copy.
func TestPublished(t *testing.T) {
	const sp, hb = "Thompson and Taylor 2008, NIST SP 811, B.8 (from memory)", "NIST Handbook 44, appendix C, table of units"
	one := func(text string, k Kind) float64 {
		v, err := Parse(text, k)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	cases := []struct {
		source, name   string
		got, want, tol float64
	}{
		{sp, "inch 2.54 E-02 m", one("1 in", Length), 0.0254, 1e-15},
		{sp, "foot 3.048 E-01 m", one("1 ft", Length), 0.3048, 1e-15},
		{sp, "yard 9.144 E-01 m", one("1 yd", Length), 0.9144, 1e-15},
		{sp, "mile 1.609344 E+03 m", one("1 mi", Length), 1609.344, 1e-9},
		{sp, "square foot 9.290304 E-02 m2", one("1 ft2", Area), 0.09290304, 1e-15},
		{sp, "square yard 8.361274 E-01 m2", one("1 yd2", Area), 0.8361274, 5e-8},
		{sp, "hectare 1 E+04 m2", one("1 ha", Area), 10000, 1e-9},
		{sp, "gallon, US liquid 3.785412 E-03 m3", one("1 gal", Volume), 3.785412, 5e-7},
		{sp, "quart, US liquid 9.463529 E-04 m3", one("1 qt", Volume), 0.9463529, 5e-8},
		{sp, "pint, US liquid 4.731765 E-04 m3", one("1 pt", Volume), 0.4731765, 5e-8},
		{sp, "cup, US 2.365882 E-04 m3", one("1 cup", Volume), 0.2365882, 5e-8},
		{sp, "fluid ounce, US 2.957353 E-05 m3", one("1 fl oz", Volume), 0.02957353, 5e-9},
		{sp, "tablespoon 1.478676 E-05 m3", one("1 tbsp", Volume), 0.01478676, 5e-9},
		{sp, "teaspoon 4.928922 E-06 m3", one("1 tsp", Volume), 0.004928922, 5e-10},
		{sp, "bushel, US 3.523907 E-02 m3", one("1 bushel", Volume), 35.23907, 5e-6},
		{sp, "cubic foot 2.831685 E-02 m3", one("1 ft3", Volume), 28.31685, 5e-6},
		{sp, "cord 3.624556 E+00 m3", one("1 cord", Volume), 3624.556, 5e-4},
		{sp, "gallon, imperial 4.54609 E-03 m3", one("1 imp gal", Volume), 4.54609, 1e-15},
		{sp, "pound 4.5359237 E-01 kg", one("1 lb", Mass), 0.45359237, 1e-15},
		{sp, "ounce 2.834952 E-02 kg", one("1 oz", Mass), 0.02834952, 5e-9},
		{sp, "ton, short 9.071847 E+02 kg", one("1 short ton", Mass), 907.1847, 5e-5},
		{sp, "Btu, International Table 1.055056 E+03 J", one("1 Btu", Energy), 1055.056e-6, 5e-10},
		{sp, "kilocalorie, thermochemical 4.184 E+03 J", one("1 kcal", Energy), 4184e-6, 1e-15},
		{sp, "kilowatt hour 3.6 E+06 J", one("1 kWh", Energy), 3.6, 1e-15},
		{sp, "horsepower, 550 ft lbf/s 7.456999 E+02 W", one("1 hp", Power), 745.6999, 5e-5},
		{sp, "mile an hour 4.4704 E-01 m/s", one("1 mph", Speed), 0.44704, 1e-15},
		{sp, "pound a square foot 4.882428 E+00 kg/m2", one("1 lb/ft2", ArealMass), 4.882428, 5e-7},
		{sp, "gallon, US, a day 4.381264 E-08 m3/s", one("1 gal/day", Flow) / 86400 / 1000, 4.381264e-8, 5e-15},
		{hb, "bushel 35.239 L", one("1 bu", Volume), 35.239, 5e-4},
		{hb, "cubic foot 28.316 dm3 (truncated)", one("1 cu ft", Volume), 28.316, 1e-3},
		{hb, "cubic yard 0.765 m3", one("1 cubic yard", Volume), 765, 0.5},
		{hb, "cup 237 mL", one("1 cup", Volume), 0.237, 5e-4},
		{"definition of the Fahrenheit scale", "water freezes at 32 °F", one("32 °F", Temperature), 0, 1e-12},
		{"definition of the Fahrenheit scale", "water boils at 212 °F", one("212 F", Temperature), 100, 1e-12},
		{"definition of the Fahrenheit scale", "-40 meets -40", one("-40 °F", Temperature), -40, 1e-12},
		{"BIPM SI Brochure 2019, 2.3.1", "0 °C is 273.15 K", one("273.15 K", Temperature), 0, 1e-12},
		{"Allen and others 1998, FAO-56 example 7", "22°54'S is -0.400 rad", one("22°54'S", Angle) * math.Pi / 180, -0.400, 5e-4},
		{"Allen and others 1998, FAO-56 example 7", "13°44'N is 0.240 rad", one("13°44'N", Angle) * math.Pi / 180, 0.240, 5e-4},
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if math.Abs(c.got-c.want) > c.tol {
				t.Errorf("got %.10g, printed %.10g within %g", c.got, c.want, c.tol)
			}
		})
	}
}
