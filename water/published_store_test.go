package water

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

// TestPublishedStores checks sizing against textbooks, and against the Seattle
// record reckoned by a second program.
func TestPublishedStores(t *testing.T) {
	compare(t, slices.Concat(sheetCases(), deficitCases(), reservoirCases(), rankCases(), deficitDates(t),
		flushCases(t), neededCases(t), worthCases(t), ladderCases(t)))
}

// sheetCases are the printed examples on amounts, diverters and downspouts.
func sheetCases() []published {
	const dtu = "Warwick University DTU, roof-water sizing, method 2"
	const dtu1 = "Warwick University DTU, roof-water sizing, method 1"
	const pipe = "first-flush stand pipes, Texas guidance page"
	const spout = "downspout trade page (12 in/h, computed)"
	const inch = in / 1000
	asks := Ladder([]Cut{{"staff", 7 * 45, 0}, {"patients", 40 * 10, 0}}, Store{}, 0, nil)[0].Asks
	six := Ladder([]Cut{{"people", 6 * 20, 0}}, Store{}, 0, nil)[0].Asks
	year := Roof{Area: 125, Coef: 0.8, Gutter: 0.05}.Inflow([]float64{650})[0]
	return []published{
		{dtu, "7 staff at 45 L, 40 patients at 10 L, L a day", asks, 715, 0},
		{dtu, "the same, m3 a month", asks * 365 / 12000, 21.75, 0.005},
		{dtu1, "6 people at 20 L, L a year", six * 365, 43800, 0},
		{pipe, "3 in pipe, in per gal", StandPipe(gal, 3*inch) / inch, 33, 0.5},
		{pipe, "4 in pipe, in per gal", StandPipe(gal, 4*inch) / inch, 18, 0.5},
		{pipe, "6 in pipe, in per gal", StandPipe(gal, 6*inch) / inch, 8, 0.5},
		{spout, "2 x 3 in for 600 ft2, in2", DownspoutOpening(600*ft2, 12*in) / 6.4516, 6, 1e-9},
		{spout, "3 x 4 in for 1,200 ft2, in2", DownspoutOpening(1200*ft2, 12*in) / 6.4516, 12, 1e-9},
		{"BS 8515:2009 intermediate rule (tank maker's page)", "a twentieth of the catch less 5 % at the filter", 0.05 * year, 3087.5, 0.05},
	}
}

// deficitCases are the K column of a textbook's table, two rounds of its record.
func deficitCases() []published {
	const lvb = "Loucks and van Beek, Table 11.2, K column (computed)"
	flow := []float64{1, 3, 3, 5, 8, 6, 7, 2, 1}
	k := Deficits(slices.Concat(flow, flow), []float64{3.5}, 0)
	return []published{
		{lvb, "period 1", k[0], 2.5, 1e-12},
		{lvb, "period 2", k[1], 3, 1e-12},
		{lvb, "period 3", k[2], 3.5, 1e-12},
		{lvb, "period 4", k[3], 2, 1e-12},
		{lvb, "period 5", k[4], 0, 0},
		{lvb, "period 7", k[6], 0, 0},
		{lvb, "period 8", k[7], 1.5, 1e-12},
		{lvb, "period 9", k[8], 4, 1e-12},
		{lvb, "period 10", k[9], 6.5, 1e-12},
		{lvb, "period 11", k[10], 7, 1e-12},
		{lvb, "period 12", k[11], 7.5, 1e-12},
		{lvb, "period 13", k[12], 6, 1e-12},
		{lvb, "period 14", k[13], 1.5, 1e-12},
		{lvb, "period 15", k[14], 0, 0},
		{lvb, "period 17", k[16], 1.5, 1e-12},
		{lvb, "period 18", k[17], 4, 1e-12},
	}
}

// reservoirCases are monthly reservoirs of textbooks. The inputs are printed; the
// answers are those of the books' worked steps, as reworked in public code.
func reservoirCases() []published {
	const punmia = "Punmia, Irrigation and Water Power Engineering, chapter 6 (worked steps)"
	const plant = "run-off hydrograph of a plant, textbook companion 416, example 8.3"
	in10 := []float64{2.83, 4.25, 5.66, 18.4, 22.64, 22.64, 19.81, 8.49, 7.1, 7.1, 5.66, 5.66}
	mean := []float64{sum(in10) / 12}
	in2 := []float64{8.6, 2.2, 1.8, 0, 0, 13.5, 280.6, 510.2, 136, 52.5, 20.6, 12.3}
	pan := []float64{2.2, 2.3, 3.1, 8.6, 12.8, 15.6, 12.3, 10.6, 10, 8.2, 5.8, 3}
	rain2 := []float64{0.8, 1.2, 0, 0, 0, 4.8, 12.2, 18.6, 8.6, 1.5, 0, 0}
	for i := range in2 { // less 10 let down the river, less evaporation, with rain on the water
		in2[i] += -min(in2[i], 10) - 3.6*pan[i] + 3.5*rain2[i]
	}
	need2 := []float64{14.5, 15.8, 16.2, 16.8, 17.5, 18, 18, 17, 16.5, 16, 15.8, 15}
	in9 := []float64{50, 40, 30, 25, 20, 30, 200, 225, 150, 90, 70, 60}
	need9 := []float64{50, 75, 80, 85, 130, 120, 25, 25, 40, 45, 50, 60}
	lost := []float64{6, 8, 13, 17, 22, 22, 14, 11, 13, 12, 7, 5}
	rain9 := []float64{1, 0, 0, 0, 0, 19, 43, 39, 22, 6, 2, 1}
	for i := range in9 { // cm on 30 km2
		in9[i] += 0.3 * (0.4*rain9[i] - lost[i])
	}
	flow := []float64{1500, 1000, 500, 500, 500, 1200, 2900, 2900, 1000, 400, 600, 1600}
	return []published{
		{punmia, "example 6.10, least capacity", SequentPeak(in10, mean), 40.07667, 0.000005},
		{punmia, "example 6.10, storage at the start of the dry season", Deficits(in10, mean, 0)[2], 19.82, 0.005},
		{punmia, "example 6.2, useful storage, ha m", SequentPeak(in2, need2), 281.64, 0.005},
		{punmia, "example 6.9, storage from January on, Mm3", slices.Max(Deficits(in9, need9, 0)), 369, 0.5},
		{plant, "storage, m3/s months", SequentPeak(flow, []float64{1000}), 1500, 0.5},
	}
}

// rankCases are Weibull ranks of a textbook's yearly storms.
func rankCases() []published {
	const src = "Punmia, Irrigation and Water Power Engineering, example 4.11 (ranks computed)"
	storms := []int{142, 126, 116, 108, 102, 95, 92, 88, 86, 82, 80, 78, 76, 73, 71, 69, 68, 66, 65, 64}
	values := make([]float64, len(storms))
	for i, s := range storms {
		values[i] = float64(s)
	}
	return []published{
		{src, "the largest of 20, years", Return(storms, 20, 142), 21, 0},
		{src, "100 mm or more, chance in %", 100 / Return(storms, 20, 100), 23.81, 0.005},
		{src, "rank 7 comes once in 3 years, mm", float64(RunOnceIn(storms, 20, 3)), 92, 0},
		{src, "not passed with a chance of 1 in 21, mm", Plotted(values, 1./21), 64, 1e-9},
		{src, "not passed with a chance of 15 in 21, mm", Plotted(values, 15./21), 95, 1e-9},
	}
}

const byHand = "Seattle 2012-2015, a second program (computed)"

// deficitDates are the days on which the Seattle roof's deficit is deepest.
func deficitDates(t *testing.T) []published {
	deepest := func(draft float64) float64 {
		k := Deficits(seattleRoof(t, 0), []float64{draft}, 0)
		return float64(slices.Index(k, slices.Max(k)))
	}
	since := func(y int, m time.Month, d int) float64 {
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(time.Date(2012, 1, 1, 0, 0, 0, 0, time.UTC)).Hours() / 24
	}
	return []published{
		{byHand, "50 L/d, deepest on 2012-10-11", deepest(50), since(2012, 10, 11), 0},
		{byHand, "100 L/d, deepest on 2015-08-11", deepest(100), since(2015, 8, 11), 0},
	}
}

// flushCases are the catch past a diverter that empties in several ways.
func flushCases(t *testing.T) []published {
	rain := seattleRain(t)
	catch := func(flush float64, drains int) float64 {
		return sum(Roof{Area: 60, Coef: 0.9, Flush: flush, Drains: drains}.Inflow(rain))
	}
	return []published{
		{byHand, "diverter of 27 L, drains overnight, L", catch(27, 0), 222766.2, 0.05},
		{byHand, "diverter of 30 L, empty after a dry day, L", catch(30, 1), 233046, 0.05},
		{byHand, "diverter of 30 L, empty after three dry days, L", catch(30, 3), 236384.4, 0.05},
	}
}

// seattleCase is the Seattle roof with a tank and a steady demand.
func seattleCase(t testing.TB, size, demand float64) Case {
	return Case{Rain: seattleRain(t), Roofs: []Roof{{Area: 60, Coef: 0.9}}, Store: Store{Size: size}, Demand: []float64{demand}, Rule: YAS}
}

// neededCases are volumes for a share of days, and cells of the surface.
func neededCases(t *testing.T) []published {
	needs := func(demand, dead, rt float64) float64 {
		c := seattleCase(t, 1000, demand)
		c.Store.Dead = dead
		v, ok := c.VolumeFor(rt)
		if !ok {
			t.Fatalf("no volume meets %g of days at %g L/d", rt, demand)
		}
		return v
	}
	out := []published{
		{byHand, "50 L/d, volume for 90 % of days", needs(50, 0, 0.9), 1550.2, 0.5},
		{byHand, "50 L/d, 95 %", needs(50, 0, 0.95), 2477.4, 0.5},
		{byHand, "50 L/d, 99 %", needs(50, 0, 0.99), 3797.4, 0.5},
		{byHand, "50 L/d, every day", needs(50, 0, 1), 4147.4, 0.5},
		{byHand, "100 L/d, 90 %", needs(100, 0, 0.9), 5372.2, 0.5},
		{byHand, "100 L/d, 95 %", needs(100, 0, 0.95), 7056, 0.5},
		{byHand, "100 L/d, 99 %", needs(100, 0, 0.99), 9126, 0.5},
		{byHand, "100 L/d, every day", needs(100, 0, 1), 10031.8, 0.5},
		{byHand, "50 L/d, 95 %, 120 L below the tap", needs(50, 120, 0.95), 2597.4, 0.5},
	}
	c := seattleCase(t, 0, 0)
	g := c.Surface([]float64{500, 1000, 3000, 10000}, []float64{40, 100})
	want := [][2][3]float64{
		{{0.8229, 0.8070, 71}, {0.5707, 0.5243, 79}},
		{{0.8966, 0.8919, 59}, {0.7032, 0.6762, 76}},
		{{0.9911, 0.9904, 8}, {0.8409, 0.8337, 66}},
		{{1, 1, 0}, {0.9998, 0.9993, 1}},
	}
	for i, s := range g.Sizes {
		for j, d := range g.Demands {
			rv, rt := g.At(i, j)
			at := fmt.Sprintf("%g L, %g L/d, come round, ", s, d)
			out = append(out,
				published{byHand, at + "Rv", rv, want[i][j][0], 0.00005},
				published{byHand, at + "Rt", rt, want[i][j][1], 0.00005},
				published{byHand, at + "longest", float64(g.Longest(i, j)), want[i][j][2], 0})
		}
	}
	return out
}

// worthCases are changes to 1,000 L and 50 L a day.
func worthCases(t *testing.T) []published {
	c := seattleCase(t, 1000, 50)
	run := c.Run()
	barrel, tote, roof, less := c.MoreStore(208), c.MoreStore(1000), c.MoreRoof(Roof{Area: 10, Coef: 0.9}), c.Saved(2)
	return []published{
		{byHand, "days in full", float64(run.Total.Full), 1258, 0},
		{byHand, "yield, L", run.Total.Yield, 63422.2, 0.05},
		{byHand, "spill, L", run.Total.Spill, 175581.8, 0.05},
		{byHand, "short runs", float64(len(run.Runs)), 12, 0},
		{byHand, "longest short run", float64(run.Total.Longest), 64, 0},
		{byHand, "second longest comes back in 2.5 years", Return(run.Runs, c.Years(), 50), 2.5, 0.005},
		{byHand, "a barrel of 208 L, days a year", barrel.Days, 6.25, 0.005},
		{byHand, "a barrel of 208 L, L a year", barrel.Litres, 294.95, 0.005},
		{byHand, "a tote of 1,000 L, days", tote.Days, 23.25, 0.005},
		{byHand, "a tote of 1,000 L, L", tote.Litres, 1110.15, 0.005},
		{byHand, "10 m2 of roof, days", roof.Days, 3.75, 0.005},
		{byHand, "10 m2 of roof, L", roof.Litres, 161.7, 0.005},
		{byHand, "2 L a day saved, days", less.Days, 2, 0.005},
		{byHand, "2 L a day saved, L", less.Litres, 206.4, 0.005},
	}
}

// ladderCases are how long 1,000 L in a 3,000 L tank last from 1 July of four years.
func ladderCases(t *testing.T) []published {
	in := seattleRoof(t, 0)
	var runs []Days
	for _, from := range []int{182, 547, 912, 1277} {
		run := make([]float64, 365)
		for d := range run {
			run[d] = in[(from+d)%len(in)]
		}
		runs = append(runs, Days{Inflow: run})
	}
	rungs := Ladder([]Cut{{"shower", 30, 0}, {"washing", 20, 5}}, Store{Size: 3000}, 1000, append(runs, Days{Inflow: in[:365]}))
	s := Store{Size: 3000}
	lasts := func(year int, asks float64) float64 {
		d := runs[year]
		d.Demand = []float64{asks}
		return float64(s.Lasts(d, 1000, YAS))
	}
	return []published{
		{byHand, "60 L/d from July 2012, days", lasts(0, 60), 40, 0},
		{byHand, "60 L/d from July 2013", lasts(1, 60), 16, 0},
		{byHand, "60 L/d from July 2015", lasts(3, 60), 16, 0},
		{byHand, "30 L/d from July 2012", lasts(0, 30), 81, 0},
		{byHand, "30 L/d from July 2013", lasts(1, 30), 36, 0},
		{byHand, "30 L/d from July 2014, all year", lasts(2, 30), 365, 0},
		{byHand, "30 L/d from July 2015", lasts(3, 30), 37, 0},
		{byHand, "15 L/d from July 2015, all year", lasts(3, 15), 365, 0},
		{byHand, "nothing cut, no rain, days", rungs[0].Dry, 20, 1e-9},
		{byHand, "shower stopped, no rain, days", rungs[1].Dry, 50, 1e-9},
		{byHand, "washing to 5 L, no rain, days", rungs[2].Dry, 200, 1e-9},
	}
}
