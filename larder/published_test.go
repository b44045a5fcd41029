package larder

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"evenstead/data"
)

type check struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	var all []check
	for _, of := range []func(*testing.T) []check{
		sheetChecks, groundTable, freezerCells, powerCuts, jarsInStore, driedInStore, strengths, krautTimes,
		canningCells, altitudeBands, acidity, dryingRatios, blanching,
	} {
		all = append(all, of(t)...)
	}
	for _, c := range all {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.6g, printed %.6g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

func readTable(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// minutes and kPa of a batch; a refused one is NaN, which no case accepts.
func process(food, pack, jar, method string, altitude float64) Process {
	p, err := Processing(Batch{food, pack, jar, method, altitude})
	if err != nil {
		return Process{Minutes: math.NaN(), KPa: math.NaN()}
	}
	return p
}

var northern = Wave{Mean: 10.5, Amplitude: 12.5, Coldest: 35}

// yearly returns the least and most of a ground temperature, sampled finely.
func yearly(w Wave, depth float64) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for n := 0.0; n < 365; n += 0.1 {
		v := w.Ground(depth, Loam, n)
		least, most = min(least, v), max(most, v)
	}
	return least, most
}

// coldest returns the day of the least ground temperature.
func coldest(w Wave, depth float64) float64 {
	day, least := 0.0, math.Inf(1)
	for n := 0.0; n < 365; n += 0.01 {
		if v := w.Ground(depth, Loam, n); v < least {
			day, least = n, v
		}
	}
	return day
}

func kWhYear(litres float64) float64 { return ChestLabel(litres) * 365 / 3.6 }

func sheetChecks(t *testing.T) []check {
	least, most := yearly(northern, 2)
	got := map[string]float64{
		"D01":  kWhYear(14.8 * 28.3168),
		"D02":  kWhYear(419),
		"D03":  DampingDepth(2e-7) * math.Log(20),
		"D04a": DampingDepth(Loam),
		"D04b": (most - least) / 2,
		"D04c": coldest(northern, 2) - northern.Coldest,
		"D05a": northern.Ground(2, Loam, 35),
		"D05b": northern.Ground(2, Loam, 210),
		"D05c": least,
		"D05d": most,
		"D06":  1 / FreezerSpace(1),
		"E07a": ABV(1.050, 1.010),
		"E07b": ABVHall(1.050, 1.010),
		"E07c": ABVBalling(1.050, 1.010),
		"E08":  Plato(1.050),
		"E09":  100 * 0.054 / DrySalt(2.268, 1),
		"E10":  process("peaches, halved or sliced", "raw", "quart", BoilingWater, 1400).Minutes,
		"E11a": process("beans, snap", "raw", "quart", DialGauge, 1400).Minutes,
		"E11b": process("beans, snap", "raw", "quart", DialGauge, 1400).KPa,
		"E12":  process("tomatoes, whole, in water", "raw", "quart", BoilingWater, 800).Minutes,
	}
	var out []check
	for _, r := range readTable(t, "checks.csv") {
		v, ok := got[r[0]]
		if !ok {
			t.Fatalf("check %s has no test", r[0])
		}
		out = append(out, check{r[5], r[0] + " " + r[2], v, number(t, r[3]), number(t, r[4])})
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func groundTable(*testing.T) []check {
	var out []check
	for _, r := range []struct{ depth, lag, day35, least, most float64 }{
		{0.5, 11.8, 0.51, 0.30, 20.70},
		{1.0, 23.7, 2.86, 2.18, 18.82},
		{2.0, 47.3, 6.70, 4.97, 16.03},
		{3.0, 71.0, 9.24, 6.82, 14.18},
		{5.0, 118.4, 11.23, 8.87, 12.13},
	} {
		least, most := yearly(northern, r.depth)
		at := func(what string) string { return fmt.Sprintf("%g m, %s", r.depth, what) }
		const source = "Kusuda and Achenbach 1965, computed"
		out = append(out,
			check{source, at("lag"), coldest(northern, r.depth) - northern.Coldest, r.lag, 0.06},
			check{source, at("day 35"), northern.Ground(r.depth, Loam, 35), r.day35, 0.006},
			check{source, at("least"), least, r.least, 0.006},
			check{source, at("most"), most, r.most, 0.006})
	}
	return out
}

func freezerCells(*testing.T) []check {
	const source = "10 CFR 430.32, class 10, computed"
	return []check{
		{source, "7 ft3, kWh a year", kWhYear(7 * 28.3168), 198, 0.5},
		{source, "7 ft3, kWh a day", ChestLabel(7*28.3168) / 3.6, 0.54, 0.005},
		{source, "10 ft3, kWh a year", kWhYear(10 * 28.3168), 236, 0.5},
		{source, "15 ft3, kWh a year", kWhYear(15 * 28.3168), 300, 0.5},
		{source, "20 ft3, kWh a year", kWhYear(20 * 28.3168), 364, 0.5},
		// 425 L is 15 ft3 rounded to a litre.
		{source, "425 L, kWh a year", kWhYear(425), 300, 0.5},
		{"common properties from memory, computed", "1 kg from 20 °C, kJ", 1000 * FreezeHeat(1, 20), 380, 0.5},
	}
}

func powerCuts(*testing.T) []check {
	fate := func(got, want Fate) float64 {
		if got == want {
			return 1
		}
		return 0
	}
	nan := math.NaN()
	return []check{
		{"USDA power failure", "full, hours", FreezerHold(1, 420, 25), 48, 0},
		{"USDA power failure", "half full, hours", FreezerHold(0.5, 420, 25), 24, 0},
		{"USDA power failure", "ice left: refreeze", fate(Thaw(true, 6, 5), Refreeze), 1, 0},
		{"USDA power failure", "4 °C, no ice: refreeze", fate(Thaw(false, 4, 0), Refreeze), 1, 0},
		{"USDA power failure", "above 4 °C for 2 h: discard", fate(Thaw(false, 5, 2), Discard), 1, 0},
		{"USDA power failure", "nobody measured: discard", fate(Thaw(false, nan, nan), Discard), 1, 0},
	}
}

func row(form string, temp, days float64) data.Keeping {
	return data.Keeping{Form: form, TempLo: temp, TempHi: temp, RHLo: math.NaN(), RHHi: math.NaN(), DaysLo: math.NaN(), DaysHi: days}
}

func jarsInStore(*testing.T) []check {
	rows := []data.Keeping{row(Jarred, 4.4, 1460), row(Jarred, 21.1, 730), row(Jarred, 32.2, 365)}
	const source = "Utah State University, canned fruit"
	return []check{
		{source, "4.4 °C, months", Life(rows, 4.4) / 30.4, 48, 0.05},
		{source, "21.1 °C, months", Life(rows, 21.1) / 30.4, 24, 0.05},
		{source, "32.2 °C, months", Life(rows, 32.2) / 30.4, 12, 0.05},
		{source, "halves over 16.7 K", Life(rows, 4.4) / Life(rows, 21.1), 2, 1e-12},
		{source, "halves over 11.1 K", Life(rows, 21.1) / Life(rows, 32.2), 2, 1e-12},
		{source, "between, geometric middle", Life(rows, (4.4+21.1)/2), math.Sqrt(1460 * 730), 1e-9},
	}
}

func driedInStore(*testing.T) []check {
	rows := []data.Keeping{row(Dried, 15.6, 365), row(Dried, 26.7, 182)}
	return []check{
		{"NCHFP, dried fruit", "a year at 16 °C", Life(rows, 15.6) / 365, 1, 1e-12},
		{"NCHFP, dried fruit", "half a year at 27 °C", Life(rows, 26.7) / 365, 0.5, 0.002},
	}
}

func strengths(*testing.T) []check {
	var out []check
	for _, r := range []struct{ og, fg, plain, hall, balling, wine float64 }{
		{1.060, 1.000, 7.88, 8.04, 7.97, 8.15},
		{1.100, 1.010, 11.81, 12.90, 12.19, 12.23},
		{1.110, 0.996, 14.96, 16.36, 15.49, 15.49},
	} {
		at := func(what string) string { return fmt.Sprintf("%.3f to %.3f, %s", r.og, r.fg, what) }
		out = append(out,
			check{"plain form, computed", at("plain"), ABV(r.og, r.fg), r.plain, 0.0051},
			check{"Hall 1995, computed", at("Hall"), ABVHall(r.og, r.fg), r.hall, 0.0051},
			check{"Balling from memory, computed", at("Balling"), ABVBalling(r.og, r.fg), r.balling, 0.0051},
			check{"wine form, computed", at("wine"), ABVWine(r.og, r.fg), r.wine, 0.0051})
	}
	return append(out,
		check{"ASBC fit from memory, computed", "1.040", Plato(1.040), 9.99, 0.006},
		check{"ASBC fit from memory, computed", "1.083", Plato(1.083), 20.0, 0.06})
}

func krautTimes(*testing.T) []check {
	cool, coolHi, _ := KrautDays(17)
	warm, warmHi, _ := KrautDays(22.5)
	const source = "North Dakota State University, sauerkraut"
	return []check{
		{source, "16-18 °C, least weeks", cool / 7, 5, 0}, {source, "16-18 °C, most weeks", coolHi / 7, 6, 0},
		{source, "21-24 °C, least weeks", warm / 7, 3, 0}, {source, "21-24 °C, most weeks", warmHi / 7, 4, 0},
	}
}

func canningCells(*testing.T) []check {
	minutes := func(food, pack, jar, method string, altitude float64) float64 {
		return process(food, pack, jar, method, altitude).Minutes
	}
	return []check{
		{"University of Minnesota canning chart", "asparagus quart", minutes("asparagus", "raw", "quart", DialGauge, 400), 40, 0},
		{"University of Minnesota canning chart", "carrots pint", minutes("carrots", "hot", "pint", WeightedGauge, 400), 25, 0},
		{"University of Minnesota canning chart", "squash cubes quart", minutes("pumpkin and winter squash, cubed", "hot", "quart", DialGauge, 0), 90, 0},
		{"USDA AIB 539, peaches", "hot pint, sea level", minutes("peaches, halved or sliced", "hot", "pint", BoilingWater, 0), 20, 0},
		{"USDA AIB 539, peaches", "hot quart, over 6000 ft", minutes("peaches, halved or sliced", "hot", "quart", BoilingWater, 2000), 40, 0},
		{"USDA guide 3", "tomatoes in juice, quart, 1000 ft", minutes("tomatoes, whole, in tomato juice", "hot", "quart", BoilingWater, 304), 85, 0},
		{"USDA table of meats", "rabbit with bones, quart", minutes("chicken or rabbit, with bones", "raw", "quart", DialGauge, 100), 75, 0},
		{"USDA table of meats", "fish, pint", minutes("fish (not tuna)", "raw", "pint", DialGauge, 100), 100, 0},
		{"Michigan State University 01600886", "soup, quart", minutes("soups (vegetable, bean, meat)", "hot", "quart", WeightedGauge, 100), 75, 0},
	}
}

// altitudeBands holds the printed steps at the ends of the bands, in feet.
func altitudeBands(*testing.T) []check {
	var out []check
	for _, r := range []struct{ feet, dial, weight, longer float64 }{
		{1000, 11, 10, 0}, {2000, 11, 15, 5}, {3000, 12, 15, 5}, {4000, 12, 15, 10}, {6000, 13, 15, 10}, {8000, 14, 15, 15},
	} {
		const psi = 6.894757
		m := r.feet * 0.3048
		at := func(what string) string { return fmt.Sprintf("%g ft, %s", r.feet, what) }
		out = append(out,
			check{"USDA AIB 539 (1994)", at("dial psi"), process("beans, snap", "hot", "quart", DialGauge, m).KPa / psi, r.dial, 0.01},
			check{"USDA AIB 539 (1994)", at("weighted psi"), process("beans, snap", "hot", "quart", WeightedGauge, m).KPa / psi, r.weight, 0.01},
			check{"USDA AIB 539, peaches", at("min longer"), process("peaches, halved or sliced", "raw", "pint", BoilingWater, m).Minutes - 25, r.longer, 0})
	}
	return out
}

func acidity(t *testing.T) []check {
	var out []check
	for _, r := range readTable(t, "acid.csv") {
		a, err := AcidClass(r[0])
		got := 0.0
		if err == nil && string(a.Class) == r[1] {
			got = 1
		}
		out = append(out, check{"US FDA and others, pH 4.6 line", r[0] + " is " + r[1], got, 1, 0})
	}
	return out
}

// dryingRatios holds kg dried per kg fresh, computed from USDA water contents
// before and after, g in 100 g.
func dryingRatios(*testing.T) []check {
	var out []check
	for _, r := range []struct {
		food                 string
		before, after, ratio float64
	}{
		{"apple", 85.56, 31.76, 0.212}, {"apricot", 86.35, 30.89, 0.198}, {"peach", 88.87, 31.80, 0.163},
		{"pear", 83.96, 26.69, 0.219}, {"plum", 87.23, 30.92, 0.185}, {"fig", 79.11, 30.05, 0.299},
		{"grape", 80.54, 15.43, 0.230}, {"tomato", 94.52, 14.56, 0.064}, {"shiitake", 89.74, 9.50, 0.113},
		{"chestnut", 52.00, 9.00, 0.527}, {"acorn", 27.90, 5.06, 0.759}, {"egg", 76.15, 3.67, 0.248},
		{"lentil, boiled", 10.40, 69.64, 2.95}, {"bean kidney, boiled", 11.75, 66.94, 2.67}, {"rice brown, boiled", 10.37, 73.09, 3.33},
	} {
		tol := 0.0005
		if r.ratio > 1 {
			tol = 0.005
		}
		out = append(out, check{"USDA SR26, computed", r.food, DryRatio(r.before/100, r.after/100), r.ratio, tol})
	}
	return append(out, check{"computed", "carrots of 88 % to 10 %, fresh per dry", 1 / DryRatio(0.88, 0.10), 7.5, 0.05})
}

func blanching(*testing.T) []check {
	at := func(food string, altitude float64) float64 {
		p, err := Prepare(food)
		if err != nil {
			return math.NaN()
		}
		lo, _ := p.BlanchAt(altitude)
		return lo
	}
	const source = "blanching lists that agree, after NCHFP"
	return []check{
		{source, "snap beans, min", at("beans, snap", 0), 3, 0},
		{source, "greens, min", at("greens (spinach, chard)", 0), 2, 0},
		{source, "broccoli above 5000 ft, min", at("broccoli", 1600), 4, 0},
		{source, "peppers need none, even high", at("peppers", 2000), 0, 0},
	}
}
