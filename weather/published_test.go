package weather

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"

	"evenstead/day"
)

func number2(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// station reads one of the records kept beside the tests.
func station(t testing.TB, name string) *Record {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r, err := Read(f, Options{Name: name})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func seattle(t testing.TB) *Record     { return station(t, "seattle-weather.csv") }
func gainesville(t testing.TB) *Record { return station(t, "gainesville-1960-2026.csv.gz") }

// between sums what f gives for the days of a month.
func monthTotal(r *Record, year int, m time.Month, f func(i int, d day.Day) float64) float64 {
	total := 0.0
	for d := day.Of(year, m, 1); d < day.Of(year, m+1, 1); d++ {
		total += f(r.At(d), d)
	}
	return total
}

func isWet(r *Record) func(int, day.Day) float64 {
	return func(i int, _ day.Day) float64 {
		if r.Rain[i] > 0 {
			return 1
		}
		return 0
	}
}

func TestPublishedSeattleMonths(t *testing.T) {
	r := seattle(t)
	rainOf := func(i int, _ day.Day) float64 { return r.Rain[i] }
	et0 := func(i int, d day.Day) float64 {
		return Hargreaves(r.TMin[i], r.TMax[i], Extraterrestrial(47.6, d.YearDay()))
	}
	rows := []struct {
		year                int
		name                string
		of                  func(int, day.Day) float64
		want                [12]float64
		year1, tol, yearTol float64
	}{
		{2012, "rain", rainOf, [12]float64{173.3, 92.3, 183.0, 68.1, 52.2, 75.1, 26.3, 0.0, 0.9, 170.3, 210.5, 174.0}, 1226.0, tenth, tenth},
		{2014, "rain", rainOf, [12]float64{94.0, 155.2, 240.0, 106.1, 80.0, 18.8, 19.6, 46.0, 56.7, 171.5, 123.1, 121.8}, 1232.8, tenth, tenth},
		{2012, "wet days", isWet(r), [12]float64{22, 19, 22, 17, 10, 14, 7, 0, 3, 16, 20, 27}, 177, 0, 0},
		{2014, "wet days", isWet(r), [12]float64{13, 19, 20, 13, 8, 9, 2, 7, 9, 19, 16, 15}, 150, 0, 0},
		{2012, "ET0", et0, [12]float64{15.8, 24.7, 42.9, 76.7, 105.9, 107.7, 130.6, 130.3, 87.9, 42.7, 20.7, 11.7}, 797.6, tenth, tenth},
		{2014, "ET0", et0, [12]float64{17.2, 23.0, 50.3, 77.6, 115.0, 126.1, 158.3, 131.1, 84.7, 45.5, 20.6, 15.3}, 864.7, tenth, tenth},
	}
	var cases []published
	for _, row := range rows {
		year := 0.0
		for m, want := range row.want {
			got := monthTotal(r, row.year, time.Month(m+1), row.of)
			year += got
			cases = append(cases, published{"computed from Seattle", strconv.Itoa(row.year) + " " + row.name + " " + time.Month(m+1).String(), got, want, row.tol})
		}
		cases = append(cases, published{"computed from Seattle", strconv.Itoa(row.year) + " " + row.name, year, row.year1, row.yearTol})
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}

func TestPublishedSeattleDays(t *testing.T) {
	r := seattle(t)
	const s = "computed from Seattle"
	at := func(y, m, d int) (float64, float64, float64) {
		when := day.Of(y, time.Month(m), d)
		j, i := when.YearDay(), r.At(when)
		ra := Extraterrestrial(47.6, j)
		return ra, Daylight(47.6, j), Hargreaves(r.TMin[i], r.TMax[i], ra)
	}
	ra1, n1, e1 := at(2012, 1, 1)
	ra2, n2, e2 := at(2012, 7, 1)
	ra3, n3, e3 := at(2013, 7, 1)
	dry, began := Spells(r, math.SmallestNonzeroFloat64)
	below1, began1 := Spells(r, 1)
	longest, when := longestOf(dry, began)
	longest1, when1 := longestOf(below1, began1)
	last, first := FrostDates(r, 0, false)
	frost := func(y int) (n float64) {
		for d := day.Of(y, 1, 1); d < day.Of(y+1, 1, 1); d++ {
			if r.TMin[r.At(d)] <= 0 {
				n++
			}
		}
		return n
	}
	cases := []published{
		{s, "2012-01-01 Ra", ra1, 9.1719, tenmil}, {s, "2012-01-01 daylight", n1, 8.3112, tenmil}, {s, "2012-01-01 ET0", e1, 0.6418, tenmil},
		{s, "2012-07-01 Ra", ra2, 41.5284, tenmil}, {s, "2012-07-01 daylight", n2, 15.6964, tenmil}, {s, "2012-07-01 ET0", e2, 3.6896, tenmil},
		{s, "2013-07-01 Ra", ra3, 41.5819, tenmil}, {s, "2013-07-01 daylight", n3, 15.7105, tenmil}, {s, "2013-07-01 ET0", e3, 6.1135, tenmil},
		{s, "dry spells", float64(len(dry)), 205, 0},
		{s, "mean dry spell", sumInts(dry) / float64(len(dry)), 4.0878, tenmil},
		{s, "longest dry spell", float64(longest), 48, 0},
		{s, "longest dry spell begins", float64(when), float64(day.Of(2012, 7, 23)), 0},
		{s, "longest spell below 1 mm", float64(longest1), 81, 0},
		{s, "longest spell below 1 mm begins", float64(when1), float64(day.Of(2012, 7, 23)), 0},
		{s, "frost days 2012", frost(2012), 21, 0}, {s, "frost days 2014", frost(2014), 22, 0},
		{s, "last frost 2012", float64(last.Dates[0]), float64(Slot(day.Of(2012, 3, 19)) + 1), 0},
		{s, "last frost 2014", float64(last.Dates[2]), float64(Slot(day.Of(2014, 2, 9)) + 1), 0},
		{s, "first frost 2012", float64(first.Dates[0]), float64(Slot(day.Of(2012, 11, 10)) + 1), 0},
		{s, "first frost 2014", float64(first.Dates[2]), float64(Slot(day.Of(2014, 11, 12)) + 1), 0},
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}

func longestOf(lengths []int, began []day.Day) (int, day.Day) {
	best := 0
	for i, n := range lengths {
		if n > lengths[best] {
			best = i
		}
	}
	return lengths[best], began[best]
}

func sumInts(x []int) (s float64) {
	for _, v := range x {
		s += float64(v)
	}
	return s
}

func TestPublishedSeattleTransitions(t *testing.T) {
	got := CountTransitions(seattle(t))
	var cases []published
	for m, want := range map[time.Month][4]int{
		1: {40, 19, 17, 47}, 3: {32, 19, 19, 54}, 5: {77, 13, 13, 21}, 7: {103, 9, 10, 2}, 9: {67, 18, 18, 17}, 11: {31, 17, 18, 54},
	} {
		for i, n := range []int{got.N00[m-1], got.N01[m-1], got.N10[m-1], got.N11[m-1]} {
			cases = append(cases, published{"computed from Seattle", m.String() + " " + [4]string{"n00", "n01", "n10", "n11"}[i], float64(n), float64(want[i]), 0})
		}
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}

// gainesvilleFit is the fitted check of rain at Gainesville, computed independently.
var gainesvilleFit = []struct {
	m                                                time.Month
	n00, n01, n10, n11                               int
	p01, p11, mean, sd, a, shape, scale, momentShape float64
}{
	{1, 918, 259, 259, 175, 0.2201, 0.4032, 9.119, 11.520, 0.87296, 0.7077, 12.887, 0.6267},
	{3, 996, 228, 225, 163, 0.1863, 0.4201, 12.157, 16.250, 0.88154, 0.7019, 17.320, 0.5597},
	{5, 1026, 204, 199, 166, 0.1659, 0.4548, 10.786, 14.750, 0.88866, 0.6972, 15.472, 0.5347},
	{7, 441, 331, 329, 511, 0.4288, 0.6083, 11.183, 14.925, 0.84022, 0.7308, 15.302, 0.5614},
	{9, 704, 254, 264, 338, 0.2651, 0.5615, 11.822, 19.807, 1.05723, 0.6035, 19.589, 0.3563},
	{11, 1066, 194, 191, 109, 0.1540, 0.3633, 8.600, 11.715, 0.95016, 0.6593, 13.045, 0.5389},
}

func TestPublishedGainesvilleFit(t *testing.T) {
	r := gainesville(t)
	c := CountTransitions(r)
	var wet [12][]float64
	for i, v := range r.Rain {
		if v > 0 {
			m := (r.Start + day.Day(i)).Month() - 1
			wet[m] = append(wet[m], v)
		}
	}
	var cases []published
	for _, w := range gainesvilleFit {
		m := int(w.m) - 1
		a, shape, scale := ThomGamma(wet[m])
		mean, sd := meanSD(wet[m])
		add := func(name string, got, want, tol float64) {
			cases = append(cases, published{"computed from Gainesville", w.m.String() + " " + name, got, want, tol})
		}
		add("n00", float64(c.N00[m]), float64(w.n00), 0)
		add("n01", float64(c.N01[m]), float64(w.n01), 0)
		add("n10", float64(c.N10[m]), float64(w.n10), 0)
		add("n11", float64(c.N11[m]), float64(w.n11), 0)
		add("P01", c.P01(m), w.p01, tenmil)
		add("P11", c.P11(m), w.p11, tenmil)
		add("mean of wet days", mean, w.mean, mille)
		add("sd of wet days", sd, w.sd, mille)
		add("A of Thom", a, w.a, 5.1e-6)
		add("shape of Thom", shape, w.shape, tenmil)
		add("scale", scale, w.scale, mille)
		add("shape by moments", MomentShape(mean, sd), w.momentShape, tenmil)
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}

// springs are the sorted last frosts of Gainesville, days of the 365-day calendar, computed independently.
var springs = []int{21, 26, 27, 28, 28, 31, 34, 35, 38, 38, 40, 40, 42, 43, 44, 45, 46, 48, 52, 57, 58, 59, 59, 59, 60, 61, 61, 61, 63, 64, 65,
	66, 67, 68, 68, 70, 70, 71, 72, 73, 74, 74, 75, 76, 76, 78, 84, 86, 87, 90, 107}

func TestPublishedGainesvilleFrost(t *testing.T) {
	last, _ := FrostDates(gainesville(t), 0, false)
	const s = "computed from Gainesville, method of Thom and Shaw 1958 (from memory)"
	cases := []published{
		{s, "springs", float64(last.Seasons), 51, 0},
		{s, "springs with frost", float64(len(last.Dates)), 51, 0},
		{s, "mean", last.Mean(), 58.137, mille},
		{s, "sd", last.SD(), 19.237, mille},
		{s, "median", last.LaterByOrder(0.5), 61, 0},
		{s, "later in 1 of 10", last.Later(0.1), 82.8, tenth},
		{s, "later in 5 of 10", last.Later(0.5), 58.1, tenth},
		{s, "later in 9 of 10", last.Later(0.9), 33.5, tenth},
	}
	sorted := last.floats()
	slices.Sort(sorted)
	for i, want := range springs {
		cases = append(cases, published{s, "sorted " + strconv.Itoa(i+1), sorted[i], float64(want), 0})
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}

// Ephrata, Washington, station 452614, CLIGEN record of 44 years; amounts in inches.
var ephrata = struct{ mean, p11, p01, share, wet, mm [12]float64 }{
	[12]float64{0.10, 0.10, 0.11, 0.10, 0.11, 0.14, 0.14, 0.09, 0.10, 0.10, 0.12, 0.12},
	[12]float64{0.47, 0.50, 0.39, 0.32, 0.33, 0.30, 0.27, 0.28, 0.40, 0.41, 0.42, 0.48},
	[12]float64{0.20, 0.16, 0.15, 0.13, 0.13, 0.11, 0.05, 0.06, 0.08, 0.12, 0.23, 0.23},
	[12]float64{0.2740, 0.2424, 0.1974, 0.1605, 0.1625, 0.1358, 0.0641, 0.0769, 0.1176, 0.1690, 0.2840, 0.3067},
	[12]float64{8.493, 6.788, 6.118, 4.815, 5.038, 4.074, 1.987, 2.385, 3.529, 5.239, 8.519, 9.507},
	[12]float64{21.57, 17.24, 17.09, 12.23, 14.07, 14.49, 7.07, 5.45, 8.96, 13.31, 25.96, 28.98},
}

func TestPublishedEphrata(t *testing.T) {
	const s = "CLIGEN record of Ephrata, computed"
	var cases []published
	days, mm := 0.0, 0.0
	for m := range 12 {
		π := WetShare(ephrata.p01[m], ephrata.p11[m])
		wet := π * float64(monthDays[m])
		amount := wet * ephrata.mean[m] * 25.4
		days, mm = days+wet, mm+amount
		name := time.Month(m + 1).String()
		cases = append(cases, published{s, name + " share of wet days", π, ephrata.share[m], tenmil},
			published{s, name + " wet days", wet, ephrata.wet[m], mille}, published{s, name + " mm", amount, ephrata.mm[m], cent})
	}
	cases = append(cases,
		published{s, "year wet days", days, 66.49, cent},
		published{s, "year mm", mm, 186.4, tenth},
		published{s, "January variance of wet days", WetDaysVariance(31, 0.20, 0.47), 10.73, cent},
		published{s, "January a dry week", DryFor(7, 0.20), 0.2097, tenmil},
		published{s, "July variance of wet days", WetDaysVariance(31, 0.05, 0.27), 2.909, mille},
		published{s, "July a dry week", DryFor(7, 0.05), 0.6983, tenmil},
		published{s, "January mean dry spell", MeanDrySpell(0.20), 5, 1e-9},
		published{s, "July mean dry spell", MeanDrySpell(0.05), 20, 1e-9})
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}

var (
	wgenA  = mat.NewDense(3, 3, []float64{0.567, 0.086, -0.002, 0.253, 0.504, -0.050, -0.006, -0.039, 0.244})
	wgenB  = mat.NewDense(3, 3, []float64{0.781, 0, 0, 0.328, 0.637, 0, 0.238, -0.341, 0.873})
	wgenM0 = mat.NewDense(3, 3, []float64{1, 0.633, 0.186, 0.633, 1, -0.193, 0.186, -0.193, 1})
	wgenM1 = mat.NewDense(3, 3, []float64{0.621, 0.445, 0.087, 0.563, 0.674, -0.100, 0.015, -0.091, 0.251})
)

func TestPublishedLagMatrices(t *testing.T) {
	a, b, err := LagMatrices(wgenM0, wgenM1)
	if err != nil {
		t.Fatal(err)
	}
	const wg = "Richardson and Wright 1984 WGEN ARS-8"
	var cases []published
	for i := range 3 {
		for j := range 3 {
			at := strconv.Itoa(i+1) + strconv.Itoa(j+1)
			cases = append(cases, published{wg, "A" + at, a.At(i, j), wgenA.At(i, j), 0.003},
				published{wg, "B" + at, b.At(i, j), wgenB.At(i, j), 0.002})
		}
	}
	m0, m1 := LagMoments(wgenA, wgenB)
	correlation := func(m *mat.Dense, i, j int) float64 { return m.At(i, j) / math.Sqrt(m.At(i, i)*m.At(j, j)) }
	const implied = "implied by the printed matrices, computed"
	cases = append(cases,
		published{implied, "variance of tmax", m0.At(0, 0), 1.000, mille},
		published{implied, "variance of tmin", m0.At(1, 1), 1.001, mille},
		published{implied, "variance of sun", m0.At(2, 2), 1.000, mille},
		published{implied, "tmax with tmin", correlation(m0, 0, 1), 0.633, mille},
		published{implied, "tmax with sun", correlation(m0, 0, 2), 0.186, mille},
		published{implied, "tmin with sun", correlation(m0, 1, 2), -0.193, mille},
		published{implied, "tmax with itself the day before", m1.At(0, 0), 0.621, mille},
		published{implied, "tmin with itself the day before", m1.At(1, 1), 0.674, mille},
		published{implied, "sun with itself the day before", m1.At(2, 2), 0.250, mille},
		published{implied, "tmax with tmin the day before", m1.At(0, 1), 0.446, mille},
		published{implied, "tmin with tmax the day before", m1.At(1, 0), 0.563, mille})
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}

func TestPublishedKernel(t *testing.T) {
	var cases []published
	for _, want := range [][]float64{
		{0.43796, 0.21898, 0.14599, 0.10949, 0.08759},
		{0.34142, 0.17071, 0.11381, 0.08535, 0.06828, 0.05690, 0.04877, 0.04268, 0.03794, 0.03414},
	} {
		for j, w := range Kernel(len(want)) {
			cases = append(cases, published{"Lall and Sharma 1996 (from memory), computed",
				"k " + strconv.Itoa(len(want)) + " rank " + strconv.Itoa(j+1), w, want[j], 5.1e-6})
		}
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}

// TestPublishedSeattleAnomalies takes anomalies from pooled calendar months, as the figures do.
func TestPublishedSeattleAnomalies(t *testing.T) {
	r := seattle(t)
	n, err := FitNormals(r)
	if err != nil {
		t.Fatal(err)
	}
	hi, lo := make([]float64, r.Days()), make([]float64, r.Days())
	var wet, dry mean
	for i := range hi {
		m := (r.Start + day.Day(i)).Month() - 1
		hi[i], lo[i] = r.TMax[i]-n.TMax[m], r.TMin[i]-n.TMin[m]
		if r.Rain[i] > 0 {
			wet.add(hi[i])
		} else {
			dry.add(hi[i])
		}
	}
	const s = "computed from Seattle"
	cases := []published{
		{s, "sd of tmax", n.TMaxSD, 3.660, mille},
		{s, "sd of tmin", n.TMinSD, 2.703, mille},
		{s, "tmax on wet days", wet.value(), -0.828, mille},
		{s, "tmax on dry days", dry.value(), 0.616, mille},
		{s, "tmax with itself the day before", lagged(hi, hi, 1), 0.6748, 2e-4},
		{s, "tmin with itself the day before", lagged(lo, lo, 1), 0.7248, 2e-4},
		{s, "tmax with tmin", lagged(hi, lo, 0), 0.5641, tenmil},
		{s, "tmax with tmin the day before", lagged(hi, lo, 1), 0.4231, 2e-4},
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) { c.near(t) })
	}
}
