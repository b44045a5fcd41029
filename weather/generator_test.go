package weather

import (
	"math"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"

	"evenstead/day"
)

// mild are the normals of an invented place with a wet winter and a dry summer.
var mild = Normals{
	Rain:    [12]float64{112, 96, 84, 68, 46, 19, 5, 8, 29, 83, 118, 124},
	WetDays: [12]float64{12, 11, 11, 9, 7, 3, 1, 1, 4, 8, 11, 12},
	TMin:    [12]float64{3.4, 3.9, 5.3, 7.1, 10.2, 13.6, 15.9, 15.8, 13.4, 10.1, 6.4, 4.1},
	TMax:    [12]float64{12.3, 13.9, 16.6, 19.0, 22.8, 27.5, 31.2, 31.0, 27.6, 21.9, 16.1, 12.8},
	TMinSD:  3.2, TMaxSD: 3.5, Persistence: 0.25, RainCV: 0.22,
}

func make1000(t *testing.T, n Normals, start day.Day, days int) *Ensemble {
	t.Helper()
	e, err := FromNormals(n, inland, start, days, 1000, 11)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// sample is one figure of each member.
func sample(e *Ensemble, of func(m *Member) float64) (mean, sd, error float64) {
	x := make([]float64, len(e.Members))
	for i := range x {
		x[i] = of(&e.Members[i])
	}
	mean, sd = meanSD(x)
	return mean, sd, sd / math.Sqrt(float64(len(x)))
}

// slotsOf picks the days of one month.
func slotsOf(e *Ensemble, month int) (t []int) {
	for k := range e.Days {
		if monthOf[Slot(e.Start+day.Day(k))] == month {
			t = append(t, k)
		}
	}
	return t
}

func over(days []int, x []float64, f func(float64) float64) (s float64) {
	for _, t := range days {
		s += f(x[t])
	}
	return s
}

func same(v float64) float64 { return v }

func wetOne(v float64) float64 {
	if v > 0 {
		return 1
	}
	return 0
}

// TestGeneratorKeepsNormals allows four standard errors of 1,000 members. Chances
// change at the first of a month and rain lags them by a third of a day, which adds
// at most 0.1 of a wet day and its rain.
func TestGeneratorKeepsNormals(t *testing.T) {
	e := make1000(t, mild, november, 365)
	for m := range 12 {
		days := slotsOf(e, m)
		n := float64(len(days))
		name := time.Month(m + 1).String()
		rain, _, se := sample(e, func(x *Member) float64 { return over(days, x.Rain, same) })
		near(t, name+" rain", rain, mild.Rain[m], 4*se+0.1*mild.Rain[m]/mild.WetDays[m])
		wet, _, se := sample(e, func(x *Member) float64 { return over(days, x.Rain, wetOne) })
		near(t, name+" wet days", wet, mild.WetDays[m], 4*se+0.1)
		lo, _, se := sample(e, func(x *Member) float64 { return over(days, x.TMin, same) / n })
		near(t, name+" tmin", lo, mild.TMin[m], 4*se+0.05)
		hi, _, se := sample(e, func(x *Member) float64 { return over(days, x.TMax, same) / n })
		near(t, name+" tmax", hi, mild.TMax[m], 4*se+0.05)
	}
	mean, sd, _ := sample(e, func(x *Member) float64 { return sum(x.Rain) })
	near(t, "rain of the year", mean, 792, 20)
	near(t, "variation of the year", sd/mean, mild.RainCV, 4*mild.RainCV/math.Sqrt(2000)+0.005)
}

// TestGeneratorSpread checks daily spread about the month's mean, the correlations
// and the chain within 3 %: 31,000 days, some five of them worth one independent day.
func TestGeneratorSpread(t *testing.T) {
	e := make1000(t, mild, day.Of(2027, 1, 1), 31)
	var lo, hi, cross, lag mean
	var c [2][2]float64
	for i := range e.Members {
		m := &e.Members[i]
		for k := range e.Days {
			a, b := m.TMin[k]-mild.TMin[0], m.TMax[k]-mild.TMax[0]
			lo.add(a * a)
			hi.add(b * b)
			cross.add(a * b)
			if k > 0 {
				lag.add(b * (m.TMax[k-1] - mild.TMax[0]))
				c[int(wetOne(m.Rain[k-1]))][int(wetOne(m.Rain[k]))]++
			}
		}
	}
	near(t, "tmin sd", math.Sqrt(lo.value()), mild.TMinSD, 0.1)
	near(t, "tmax sd", math.Sqrt(hi.value()), mild.TMaxSD, 0.1)
	near(t, "tmax with itself the day before", lag.value()/hi.value(), 0.62, 0.03)
	// Wet days part the two: 0.633 is of residuals, and -1.4·1.3·π(1 - π) comes on top.
	near(t, "tmax with tmin", cross.value()/math.Sqrt(lo.value()*hi.value()), 0.56, 0.04)
	π := 12.0 / 31
	near(t, "P01", c[0][1]/(c[0][0]+c[0][1]), π*0.75, 0.015)
	near(t, "P11", c[1][1]/(c[1][0]+c[1][1]), π*0.75+0.25, 0.015)
}

// TestFitGenerator makes years after the Gainesville record and holds them beside
// it: month by month within four standard errors of both, the spread of whole years
// within the sampling error of 50, and frosts and dry spells.
func TestFitGenerator(t *testing.T) {
	r := gainesville(t)
	g, err := FitGenerator(r)
	if err != nil {
		t.Fatal(err)
	}
	e, err := g.Ensemble(Site{Lat: 29.69, Elev: 38}, day.Of(2027, 1, 1), 365, 1000, 5)
	if err != nil {
		t.Fatal(err)
	}
	n, err := FitNormals(r)
	if err != nil {
		t.Fatal(err)
	}
	for m := range 12 {
		days := slotsOf(e, m)
		rain, sd, se := sample(e, func(x *Member) float64 { return over(days, x.Rain, same) })
		near(t, time.Month(m+1).String()+" rain", rain, n.Rain[m], 4*se+0.02*n.Rain[m])
		if sd < 0.3*rain {
			t.Errorf("rain of month %d hardly varies: %g of %g", m+1, sd, rain)
		}
		wet, _, se := sample(e, func(x *Member) float64 { return over(days, x.Rain, wetOne) })
		near(t, time.Month(m+1).String()+" wet days", wet, n.WetDays[m], 4*se+0.2)
		lo, _, se := sample(e, func(x *Member) float64 { return over(days, x.TMin, same) / float64(len(days)) })
		near(t, time.Month(m+1).String()+" tmin", lo, n.TMin[m], 4*se+0.1)
	}
	mean, sd, _ := sample(e, func(x *Member) float64 { return sum(x.Rain) })
	near(t, "variation of the year", sd/mean, n.RainCV, 0.02)
	real, _ := FrostDates(r, 0, false)
	e.generator = nil
	made, _ := e.Frosts(0)
	near(t, "mean last frost", made.Mean(), real.Mean(), 8) // 51 springs of sd 19: three standard errors
	near(t, "sd of the last frost", made.SD(), real.SD(), 5)
	longest, _, _ := sample(e, func(x *Member) float64 {
		lengths, began := Spells(&Record{Start: e.Start, Rain: x.Rain}, 0.1)
		n, _ := longestOf(lengths, began)
		return float64(n)
	})
	near(t, "longest dry spell", longest, 22, 3)
}

func TestGeneratorDry(t *testing.T) {
	n := mild
	n.Rain, n.WetDays = [12]float64{}, [12]float64{}
	e := make1000(t, n, november, 40)
	for i := range e.Members {
		if sum(e.Members[i].Rain) != 0 {
			t.Fatal("rain where there is none")
		}
	}
}

func TestNormalsRefused(t *testing.T) {
	for want, change := range map[string]func(n *Normals){
		"March is -1 mm":                func(n *Normals) { n.Rain[2] = -1 },
		"wet days of April are 31":      func(n *Normals) { n.WetDays[3] = 31 },
		"May has 46 mm of rain on no":   func(n *Normals) { n.WetDays[4] = 0 },
		"June has 3 wet days without":   func(n *Normals) { n.Rain[5] = 0 },
		"July has tmin 32":              func(n *Normals) { n.TMin[6] = 32 },
		"August has tmin NaN":           func(n *Normals) { n.TMin[7] = nan },
		"spread of temperature is 0":    func(n *Normals) { n.TMinSD = 0 },
		"persistence of rain is 1":      func(n *Normals) { n.Persistence = 1 },
		"spread of yearly rain is -0.1": func(n *Normals) { n.RainCV = -0.1 },
	} {
		n := mild
		change(&n)
		if _, err := NewGenerator(n); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
}

func TestFitNormalsRefused(t *testing.T) {
	r := steady(day.Of(2010, 1, 1), day.Of(2010, 12, 31))
	if _, err := FitNormals(r); err == nil || !strings.Contains(err.Error(), "too few days in January") {
		t.Error(err)
	}
	if _, err := FitGenerator(&Record{}); err == nil {
		t.Error("an empty record was fitted")
	}
}

// TestGammaDraws compares draws with the mean and variance of their distribution,
// both equal to the shape at scale 1, within four standard errors.
func TestGammaDraws(t *testing.T) {
	const n = 200_000
	for _, shape := range []float64{0.3, 0.7, 1, 2.5, 40} {
		g, rng := newGamma(shape), source(3, int(shape*10))
		x := make([]float64, n)
		for i := range x {
			if x[i] = g.draw(rng); x[i] < 0 {
				t.Fatal("below 0")
			}
		}
		mean, sd := meanSD(x)
		near(t, "mean", mean, shape, 4*math.Sqrt(shape/n))
		near(t, "variance", sd*sd, shape, 4*shape*math.Sqrt((2+6/shape)/n))
		if _, fitted, _ := ThomGamma(x); shape >= 0.7 && shape < 5 { // Thom's form is a tenth high at 0.3
			near(t, "fitted shape", fitted, shape, 0.03*shape)
		}
	}
	if _, shape, _ := ThomGamma([]float64{2, 2, 2}); !math.IsNaN(shape) {
		t.Error("equal amounts have a shape")
	}
}

func TestLagMatricesReturn(t *testing.T) {
	a, b, err := LagMatrices(wgenM0, wgenM1)
	if err != nil {
		t.Fatal(err)
	}
	m0, m1 := LagMoments(a, b)
	if !mat.EqualApprox(m0, wgenM0, 1e-9) || !mat.EqualApprox(m1, wgenM1, 1e-9) {
		t.Errorf("%v\n%v", mat.Formatted(m0), mat.Formatted(m1))
	}
	one := mat.NewDense(2, 2, []float64{1, 1, 1, 1})
	if _, _, err := LagMatrices(one, one); err == nil {
		t.Error("singular correlations gave matrices")
	}
	if _, err := newPair(0.1, [2][2]float64{{0.99, 0.9}, {0.9, 0.99}}); err == nil {
		t.Error("impossible correlations gave matrices")
	}
}
