package crop

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

type published struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	cases := slices.Concat(kcCases(), dualCases(), bareSoilCases(), weekCases(), soilCases(), tomatoCases(),
		drainCases(), degreeDayCases(), esparto(t), yieldCases(), bearingCases(),
		sunCases(), saltCases(t), seedShareCases(t), seedRateCases(t), seedLifeCases(t), spreadCases(), emergenceCases(t))
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.6g, printed %.6g (tolerance %g)", c.got, c.want, c.tol)
			}
		})
	}
}

// series compares daily results with a printed row.
func series(source, name string, got, want []float64, tol float64) []published {
	out := make([]published, len(want))
	for i := range want {
		out[i] = published{source, fmt.Sprintf("%s, day %d", name, i+1), got[i], want[i], tol}
	}
	return out
}

func kcCases() []published {
	kc := func(d, ini, mid, end float64) float64 { return Kc(d/100, ini, mid, end, 0.25, 0.25, 0.30) }
	const e27, e28, e30 = "FAO-56 example 27, p. 125", "FAO-56 example 28, p. 133", "FAO-56 example 30, p. 141"
	return []published{
		{e27, "maize, humid and calm", AdjustKc(1.20, 1.3, 75, 2), 1.07, 0.005},
		{e27, "maize, dry and windy", AdjustKc(1.20, 4.6, 44, 2), 1.30, 0.005},
		{"FAO-56 box 15, p. 130", "dry bean", AdjustKc(1.15, 2.2, 30, 0.4), 1.19, 0.005},
		{"FAO-56 example 29, p. 136", "dry bean Kcb mid", AdjustKc(1.10, 2.2, 30, 0.4), 1.14, 0.005},
		{"FAO-56 example 29, p. 136", "dry bean Kcb end", AdjustKcEnd(0.25, 2.2, 30, 0.4), 0.25, 0},
		{e28, "day 20", kc(20, 0.15, 1.19, 0.35), 0.15, 0.005},
		{e28, "day 40", kc(40, 0.15, 1.19, 0.35), 0.77, 0.005},
		{e28, "day 70", kc(70, 0.15, 1.19, 0.35), 1.19, 0.005},
		{e28, "day 95", kc(95, 0.15, 1.19, 0.35), 0.56, 0.005},
		{e30, "day 12", kc(12, 0.15, 1.14, 0.25), 0.15, 0.005},
		{e30, "day 37", kc(37, 0.15, 1.14, 0.25), 0.63, 0.005},
		{e30, "day 65", kc(65, 0.15, 1.14, 0.25), 1.14, 0.005},
		{e30, "day 90", kc(90, 0.15, 1.14, 0.25), 0.70, 0.0051}, // exactly 0.695
	}
}

func dualCases() []published {
	const e32, e33 = "FAO-56 example 32, p. 150", "FAO-56 example 33, p. 151"
	kcMax := KcMax(0.9, 3, 20, 1)
	fc := Cover(0.9, kcMax, 1)
	sprinkler, furrow := Exposed(fc, 1), Exposed(fc, 0.3)
	return []published{
		{e32, "Kc max", kcMax, 1.30, 0.005},
		{e32, "cover", fc, 0.53, 0.005},
		{e32, "few", sprinkler, 0.47, 0.005},
		{e32, "Ke", Ke(1, kcMax, 0.9, sprinkler), 0.40, 0.005},
		{e32, "Kc", 0.9 + Ke(1, kcMax, 0.9, sprinkler), 1.30, 0.005},
		{e33, "few", furrow, 0.30, 0},
		{e33, "Ke", Ke(1, kcMax, 0.9, furrow), 0.39, 0.005},
		{e33, "Kc", 0.9 + Ke(1, kcMax, 0.9, furrow), 1.29, 0.005},
		{"FAO-56 example 35, p. 154", "TEW", TotalEvaporable(0.23, 0.10, 0.1), 18, 0.05},
		{"FAO-56 example 35, p. 154", "Kc max", KcMax(0.3, 1.6, 35, 0.3), 1.21, 0.005},
	}
}

func bareSoilCases() []published {
	const src = "FAO-56 example 31, p. 146"
	soil := Topsoil{TEW: 20, REW: 9}
	var ke, de, etc []float64
	d := 0.0
	for range 10 {
		s := soil.Day(d, Surface{Fw: 1, Few: 1, Kcb: 0.15, KcMax: 1.20, ET0: 4.5})
		d = s.De
		ke, de, etc = append(ke, s.Ke), append(de, d), append(etc, (0.15+s.Ke)*4.5)
	}
	return slices.Concat(
		series(src, "Ke", ke, []float64{1.05, 1.05, 1.01, 0.57, 0.33, 0.19, 0.11, 0.06, 0.03, 0.02}, 0.0051),
		series(src, "De mm", de, []float64{4.73, 9.45, 13.98, 16.57, 18.04, 18.88, 19.36, 19.64, 19.79, 19.88}, 0.0051),
		series(src, "ETc mm", etc, []float64{5.4, 5.4, 5.2, 3.3, 2.1, 1.5, 1.2, 0.9, 0.8, 0.8}, 0.051))
}

// weekCases follow ten days of wetting and drying; the print rounds De to whole
// mm, so the reckoned row is held close and the printed Kc and ETc loosely. Day
// 3 of the print disagrees with itself and is left out there.
func weekCases() []published {
	const exact, print = "FAO-56 example 35, p. 154 (computed)", "FAO-56 example 35, p. 154"
	et0 := []float64{4.5, 5.0, 3.9, 4.2, 4.8, 2.7, 5.8, 5.1, 4.7, 5.2}
	kcMax, soil := KcMax(0.3, 1.6, 35, 0.3), Topsoil{TEW: 18, REW: 8}
	var kr, de, kc, etc []float64
	d := soil.TEW
	for i, e := range et0 {
		x := float64(i) / 9
		s := Surface{Fw: 0.8, Kcb: 0.30 + 0.10*x, KcMax: kcMax, ET0: e}
		switch {
		case i == 0:
			s.Irrigation = 0.8 * 40 // 40 mm on the wetted part
		case i == 5:
			s.Rain, s.Fw = 6, 1
		case i > 5:
			s.Fw = 1
		}
		s.Few = Exposed(1-(0.92-0.06*x), s.Fw)
		r := soil.Day(d, s)
		d = r.De
		kr, de = append(kr, r.Kr), append(de, d)
		kc, etc = append(kc, s.Kcb+r.Ke), append(etc, (s.Kcb+r.Ke)*e)
	}
	return slices.Concat(
		series(exact, "Kr", kr, []float64{1, 1, 0.72, 0.41, 0.22, 0.71, 0.52, 0.23, 0.12, 0.07}, 0.0101),
		series(exact, "De mm", de, []float64{5.1, 10.8, 13.9, 15.8, 16.9, 12.8, 15.7, 16.8, 17.3, 17.7}, 0.06),
		series(exact, "Kc", kc, []float64{1.21, 1.21, 0.97, 0.69, 0.54, 0.96, 0.81, 0.57, 0.49, 0.45}, 0.0101),
		series(print, "Kc", kc[:2], []float64{1.21, 1.21}, 0.005),
		series(print, "Kc from day 4,", kc[3:], []float64{0.70, 0.52, 1.00, 0.82, 0.55, 0.47, 0.44}, 0.08),
		series(print, "ETc mm from day 4,", etc[3:], []float64{2.9, 2.5, 2.7, 4.7, 2.8, 2.2, 2.3}, 0.2))
}

func soilCases() []published {
	soils := [3][2]float64{{0.15, 0.06}, {0.32, 0.15}, {0.35, 0.23}}
	names := [3]string{"loamy sand", "silt", "silty clay"}
	var out []published
	for _, c := range []struct {
		crop     string
		zr, p    float64
		taw, raw [3]float64
	}{
		{"onion", 0.4, 0.30, [3]float64{36, 68, 48}, [3]float64{11, 20, 14}},
		{"tomato", 0.8, 0.40, [3]float64{72, 136, 96}, [3]float64{29, 54, 38}},
		{"maize", 1.2, 0.55, [3]float64{108, 204, 144}, [3]float64{59, 112, 79}},
	} {
		for i, s := range soils {
			taw := Available(s[0], s[1], c.zr)
			out = append(out,
				published{"FAO-56 example 36, p. 166", c.crop + " TAW, " + names[i], taw, c.taw[i], 0.5},
				published{"FAO-56 example 36, p. 166", c.crop + " RAW, " + names[i], c.p * taw, c.raw[i], 0.5})
		}
	}
	return out
}

func tomatoCases() []published {
	const src = "FAO-56 example 37, p. 168"
	taw := Available(0.32, 0.12, 0.8)
	var ks, etc, dr []float64
	d := 55.0
	for range 10 {
		k := Stress(d, taw, 0.4*taw)
		d, _ = RootZone(d, taw, 0, k*1.2*5)
		ks, etc, dr = append(ks, k), append(etc, k*6), append(dr, d)
	}
	return slices.Concat(
		[]published{{src, "TAW", taw, 160, 1e-9}},
		series(src, "Ks", ks, []float64{1, 1, 0.97, 0.91, 0.85, 0.80, 0.75, 0.70, 0.66, 0.62}, 0.0051),
		series(src, "ETc mm", etc, []float64{6, 6, 5.8, 5.4, 5.1, 4.8, 4.5, 4.2, 3.9, 3.7}, 0.051),
		series(src, "Dr mm", dr, []float64{61, 67, 72.8, 78.3, 83.4, 88.2, 92.6, 96.9, 100.8, 104.5}, 0.051))
}

// drainCases take the printed ETc of example 35 and wet the zone early in the
// day. Day 10 is watered here, not there, so its ETc is
// taken as Kc max 1.21 x ET0 5.2; that is inferred from the printed Dr, not read.
func drainCases() []published {
	const src = "FAO-56 example 38, p. 172"
	etc := []float64{5.5, 6.1, 4.0, 2.9, 2.5, 2.7, 4.7, 2.8, 2.2, 1.21 * 5.2}
	in := []float64{40, 0, 0, 0, 0, 6, 0, 0, 0, 27}
	var raw, dr []float64
	var first float64
	d := 23.0
	for i := range etc {
		taw := Available(0.23, 0.10, RootDepth(float64(i)/9, 0.30, 0.35))
		dr2, perc := RootZone(d, taw, in[i], etc[i])
		if i == 0 {
			first = perc
		}
		d = dr2
		raw, dr = append(raw, 0.6*taw), append(dr, d)
	}
	// The print carries whole mm from day to day.
	return slices.Concat(
		[]published{{src, "drained on day 1, mm", first, 17, 0.5}},
		series(src, "RAW mm", raw, []float64{23, 24, 24, 25, 25, 26, 26, 26, 27, 27}, 0.51),
		series(src, "Dr mm", dr, []float64{5, 12, 16, 18, 21, 18, 22, 25, 27, 6}, 1))
}

const f = 1 / 1.8 // °F to °C steps

func degreeDayCases() []published {
	const maize = "extension column, 2018-04-25, maize 50/86 °F"
	m := func(tmax, tmin float64) float64 { return ModifiedAverage(tmin, tmax, 50, 86) }
	return []published{
		{maize, "90/65", m(90, 65), 25.5, 0},
		{maize, "72/46", m(72, 46), 11, 0},
		{maize, "63/42", m(63, 42), 6.5, 0},
		{maize, "three days, °C d", (m(90, 65) + m(72, 46) + m(63, 42)) * f, 23.9, 0.05},
		{"Ohio State Extension, 2023-06-12", "87/63", m(87, 63), 24.5, 0},
		{"Iowa State University, Agron 541", "70/50", m(70, 50), 10, 0},
		{"Iowa State University, Agron 541", "most in a day", m(120, 90), 36, 0},
		{"Ohio State Extension AGF-101", "simple average 70/50 over 50", SimpleAverage(50, 70, 50), 10, 0},
	}
}

// esparto sums the six methods over the checked half-year, and takes six days.
func esparto(t *testing.T) []published {
	const src = "UC IPM (2022), Esparto 2020, 50/70 °F"
	rows := table(t, "degree-days-check.csv")
	sum := map[string]float64{}
	worst := 0.0
	for i, r := range rows {
		lo, hi := number(t, r["tmin_f"]), number(t, r["tmax_f"])
		for _, m := range []struct {
			col string
			dd  float64
		}{
			{"sngsine_horiz", SingleSine(lo, hi, 50, 70, Horizontal)},
			{"sngsine_vert", SingleSine(lo, hi, 50, 70, Vertical)},
			{"sngtri_horiz", SingleTriangle(lo, hi, 50, 70, Horizontal)},
			{"sngtri_vert", SingleTriangle(lo, hi, 50, 70, Vertical)},
		} {
			worst = math.Max(worst, math.Abs(m.dd-number(t, r[m.col])))
			sum[m.col] += m.dd
		}
		if i+1 < len(rows) {
			next := number(t, rows[i+1]["tmin_f"])
			d := DoubleSine(lo, hi, next, 50, 70, Horizontal) - number(t, r["dblsine_horiz"])
			d2 := DoubleTriangle(lo, hi, next, 50, 70, Horizontal) - number(t, r["dbltri_horiz"])
			worst = math.Max(worst, math.Max(math.Abs(d), math.Abs(d2)))
		}
	}
	day := func(lo, hi float64, c Cutoff) float64 { return SingleSine(lo, hi, 50, 70, c) }
	return []published{
		{src, "worst single day of six methods", worst, 0, 0.0051},
		{src, "sum, single sine horizontal", sum["sngsine_horiz"], 1739.54, 0.1},
		{src, "sum, single sine vertical", sum["sngsine_vert"], 865.87, 0.1},
		{src, "sum, single triangle horizontal", sum["sngtri_horiz"], 1751.92, 0.1},
		{src, "sum, single triangle vertical", sum["sngtri_vert"], 907.41, 0.1},
		{src, "38, 55", day(38, 55, Horizontal), 1.19, 0.005},
		{src, "36, 67 vertical", day(36, 67, Vertical), 5.71, 0.005},
		{src, "54, 67", day(54, 67, Horizontal), 10.5, 0.005},
		{src, "52, 73", day(52, 73, Horizontal), 12.01, 0.005},
		{src, "52, 73 vertical", day(52, 73, Vertical), 7.08, 0.005},
		{src, "44, 76", day(44, 76, Horizontal), 10, 0.005},
		{src, "44, 76 vertical", day(44, 76, Vertical), 4.3, 0.005},
		{src, "34, 47", day(34, 47, Horizontal), 0, 0},
	}
}

func yieldCases() []published {
	return []published{
		{"FAO-56 eq. 90, p. 176 (computed)", "Ky 1.25, a tenth less water", YieldResponse(1.25, 0.9), 0.875, 1e-12},
		{"FAO-56 eq. 89, p. 176 (computed)", "bean 1.0 dS/m, 19 %, at 2 dS/m", SaltYield(2, 1, 19), 0.81, 1e-12},
		{"FAO-56 eq. 93, p. 180", "ECe over ECiw at LF 0.15", SoilSalt(1, 0.15), 1.5, 0.05},
		{"FAO-56 p. 163 note (computed)", "p 0.5 at ETc 5", AdjustDepletion(0.5, 5), 0.5, 0},
		{"FAO-56 p. 163 note (computed)", "p 0.5 at ETc 3", AdjustDepletion(0.5, 3), 0.58, 1e-12},
	}
}

// bearingCases: the table by kind, and the straight rule by life form, which
// follows that table only within a tenth.
func bearingCases() []published {
	const src = "bearing of perennials (from memory, common practice)"
	return []published{
		{src, "strawberry, year 3", Bearing("strawberry", 3, 0, 0), 0.8, 0},
		{src, "raspberry, year 10", Bearing("cane", 10, 0, 0), 0.7, 0},
		{src, "apple on dwarfing stock, year 5", Bearing("pome", 5, 0, 0), 0.55, 0},
		{src, "walnut, year 8", Bearing("nut", 8, 0, 0), 0.3, 0},
		{src, "banana, year 1", Bearing("banana", 1, 0, 0), 0.3, 0},
		{src, "a tree bearing from 3, fully at 8, year 4", Bearing("tree", 4, 3, 8), 0.35, 0.05},
		{src, "the same, year 6", Bearing("tree", 6, 3, 8), 0.75, 0.1},
		{src, "a vine bearing from 3, fully at 5, year 4", Bearing("vine", 4, 3, 5), 0.7, 0.05},
	}
}
