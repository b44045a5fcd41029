package fertility

import (
	"math"
	"testing"
)

// kilos turns g a day into kg a year.
const kilos = 365.0 / 1000

const (
	eco    = "Jönsson et al. 2004 EcoSanRes 2004-2 (from memory)"
	eco1   = "Jönsson et al. 2004 Table 1"
	part   = "40 CFR 503.32(a)(3), computed"
	mixing = "Richard and Trautmann, Cornell"
	drums  = "toilet figures of Tilley et al. and a toilet-compost handbook, computed"
	maas   = "Maas 1990 in FAO 61, computed"
	manure = "Cornell CSS 412"
	lime   = "limestone table, grower sheet, pH 6.5"
	haugs  = "Haug 1993 (from memory), computed"
)

func TestPublished(t *testing.T) {
	for _, c := range published(t) {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

type printed struct {
	source, name   string
	got, want, tol float64
}

func published(t *testing.T) []printed {
	days := func(d float64, ok bool) float64 {
		if !ok {
			t.Error("refused a temperature of the rule")
		}
		return d
	}
	sure := func(v float64, err error) float64 {
		t.Helper()
		if err != nil {
			t.Error(err)
		}
		return v
	}
	fill := func(n, v float64) float64 { return sure(DaysToFill(n, v, 187.4)) }
	need := func(n, v float64) float64 {
		d, err := DrumsNeeded(n, v, 187.4, 1)
		return sure(float64(d), err)
	}
	_, sweden := Split(NPK{4.55, 0.548, 1.365})
	grass := Material{Mass: 10, Moisture: 0.77, C: 0.45, N: 0.024}
	leaves := Material{Moisture: 0.35, C: 0.50, N: 0.0075}
	mixed := leaves
	mixed.Mass = 3.474
	faeces := Material{Mass: 51, Moisture: 1 - 11.0/51, C: 8 * 0.05, N: 0.05}
	urine := Material{Mass: 550, Moisture: 1 - 21.0/550, C: 0.8 * 4 / 21.0, N: 4 / 21.0}
	sawdust := Material{Moisture: 0.39, C: 511 * 0.0011, N: 0.0011}
	apart := sure(SecondForCN(faeces, sawdust, 30))
	toilet := Material{Mass: 601, Moisture: 1 - 32.0/601, C: (4.4 + 3.2) / 32, N: 4.55 / 32}
	together := sure(SecondForCN(toilet, sawdust, 30))
	used := sawdust
	used.Mass = 0.85 * 243

	cs := []printed{
		// Table A1: the equations to 5 % of the printed country figures.
		{eco, "eq 1, China, N kg/yr printed", ExcretedN(86) * kilos, 4.0, 0.05 * 4.0},
		{eco, "eq 1, Haiti, N printed", ExcretedN(45) * kilos, 2.1, 0.05 * 2.1},
		{eco, "eq 1, India, N printed", ExcretedN(57) * kilos, 2.7, 0.05 * 2.7},
		{eco, "eq 1, South Africa, N printed", ExcretedN(74) * kilos, 3.4, 0.05 * 3.4},
		{eco, "eq 1, Uganda, N printed", ExcretedN(55) * kilos, 2.5, 0.05 * 2.5},
		{eco, "eq 1, China, N computed", ExcretedN(86) * kilos, 4.08, 0.005},
		{eco, "eq 1, Uganda, N computed", ExcretedN(55) * kilos, 2.61, 0.005},
		{eco, "eq 2, China, P kg/yr printed", ExcretedP(86, 56) * kilos, 0.6, 0.05},
		{eco, "eq 2, Haiti, P printed", ExcretedP(45, 37) * kilos, 0.3, 0.05},
		{eco, "eq 2, India, P printed", ExcretedP(57, 47) * kilos, 0.4, 0.05},
		{eco, "eq 2, South Africa, P printed", ExcretedP(74, 48) * kilos, 0.5, 0.05},
		{eco, "eq 2, Uganda, P printed", ExcretedP(55, 45) * kilos, 0.4, 0.05},
		{eco, "eq 2, China, P computed", ExcretedP(86, 56) * kilos, 0.57, 0.005},
		{eco, "eq 2, South Africa, P computed", ExcretedP(74, 48) * kilos, 0.49, 0.005},
		{eco1, "sum N kg/yr", DefaultUrine.Plus(DefaultFaeces).N, 4.55, 0.005},
		{eco1, "sum P", DefaultUrine.Plus(DefaultFaeces).P, 0.548, 0.0005},
		{eco1, "sum K", DefaultUrine.Plus(DefaultFaeces).K, 1.365, 0.0005},
		{eco1, "urine N g/L", 1000 * DefaultUrine.N / 550, 7.3, 0.05},
		{eco1 + ", computed", "urine P g/L", 1000 * DefaultUrine.P / 550, 0.66, 0.005},
		{eco1, "urine K g/L", 1000 * DefaultUrine.K / 550, 1.8, 0.05},
		{eco1, "urine share N %", 100 * UrineShareN, 88, 0.5},
		{eco1, "urine share P %", 100 * UrineShareP, 67, 0.5},
		{eco1, "urine share K %", 100 * UrineShareK, 73, 0.5},
		{"sswm.info faeces shares", "N %", 100 * sweden.N / 4.55, 12, 0.5},
		{"Rose et al. 2015", "faeces wet kg/d", DailyOf(35).Faeces, 0.128, 0.0005},
		{"Rose et al. 2015", "faeces dry kg/d", DailyOf(35).Dry, 0.029, 0.0005},
		{"urine feed, computed", "10:1 strength g N/L", Diluted(7.3, 10), 0.66, 0.005},
		{"urine feed, computed", "10:1 of 1.5 L", DilutedVolume(1.5, 10), 16.5, 1e-9},
		{drums, "bucket, 68 kg adult, L/yr", TogetherYear(68.04), 889, 0.5},
		{drums, "bucket, 68 kg adult, L/week", TogetherYear(68) / weeksInYear, 17, 0.5},
		{drums, "bucket from its parts, L/week", VolumeAdded(0.128*7, 1.5*7, 11.4), 17, 0.5},
		{drums, "usable of 208.2 L", DrumLitres * DrumUsable, 187.4, 0.05},
		{drums, "1 at 200, days to fill", fill(1, 200), 342, 0.5},
		{drums, "2 at 200, days", fill(2, 200), 171, 0.5},
		{drums, "3 at 200, days", fill(3, 200), 114, 0.5},
		{drums, "4 at 200, days", fill(4, 200), 86, 0.5},
		{drums, "2 at 443, days", fill(2, 443), 77, 0.5},
		{drums, "1 at 886, days", fill(1, 886), 77, 0.5},
		{drums, "2 at 886, days", fill(2, 886), 39, 0.5},
		{drums, "1 at 200, drums", need(1, 200), 3, 0},
		{drums, "2 at 200, drums", need(2, 200), 4, 0},
		{drums, "3 at 200, drums", need(3, 200), 5, 0},
		{drums, "4 at 200, drums", need(4, 200), 6, 0},
		{drums, "2 at 443, drums", need(2, 443), 6, 0},
		{drums, "1 at 886, drums", need(1, 886), 6, 0},
		{drums, "2 at 886, drums", need(2, 886), 11, 0},

		// Table B4.
		{part, "thick, 50 °C, d", days(ClassADays(50)), 13.17, 0.005},
		{part, "thick, 52 °C, d", days(ClassADays(52)), 6.912, 0.0005},
		{part, "thick, 55 °C, d", days(ClassADays(55)), 2.628, 0.0005},
		{part, "thick, 55 °C, h", 24 * days(ClassADays(55)), 63.07, 0.005},
		{part, "thick, 60 °C, d", days(ClassADays(60)), 0.5243, 0.00005},
		{part, "thick, 60 °C, h", 24 * days(ClassADays(60)), 12.58, 0.005},
		{part, "thick, 65 °C, d", days(ClassADays(65)), 0.1046, 0.00005},
		{part, "thick, 70 °C, d", days(ClassADays(70)), 0.02087, 0.000005},
		{part, "thick, 70 °C, min", 1440 * days(ClassADays(70)), 30.06, 0.005},
		{part, "thin, 50 °C, d", days(ClassAThinDays(50)), 5.007, 0.0005},
		{part, "thin, 52 °C, d", days(ClassAThinDays(52)), 2.628, 0.0005},
		{part, "thin, 55 °C, d", days(ClassAThinDays(55)), 0.9990, 0.00005},
		{part, "thin, 60 °C, d", days(ClassAThinDays(60)), 0.1993, 0.00005},
		{part, "thin, 60 °C, h", 24 * days(ClassAThinDays(60)), 4.784, 0.0005},
		{part, "thin, 65 °C, min", 1440 * days(ClassAThinDays(65)), 57.27, 0.005},
		{part, "thin, 70 °C, min, the floor", 1440 * days(ClassAThinDays(70)), 30, 1e-9},
		{part, "+3 °C divides by", days(ClassADays(52)) / days(ClassADays(55)), 2.63, 0.005},

		// Composting, C2, C5 to C7.
		{mixing, "clippings 10 g to 2.3 g", sure(Moisture(10, 2.3)), 0.77, 1e-9},
		{mixing, "leaves for 60 % moisture, kg", sure(SecondForMoisture(10, 0.77, 0.35, 0.60)), 6.8, 0.05},
		{mixing + " (from memory)", "leaves for 30:1, kg", sure(SecondForCN(grass, leaves, 30)), 3.5, 0.05},
		{mixing + ", computed", "leaves for 30:1, kg", sure(SecondForCN(grass, leaves, 30)), 3.474, 0.0005},
		{mixing + ", computed", "moisture of that mix", MixMoisture(grass, mixed), 0.662, 0.0005},
		{"New Mexico State 2009, ratio of a 4 to 1 mix, computed", "carbon and nitrogen summed", MixCN(Material{4, 0, 0.4, 0.02}, Material{1, 0, 0.4, 0.005}), 23.5, 0.05},
		{"Gotaas 1956, cover, computed", "faeces only, dry sawdust kg", apart * 0.61, 23, 0.5},
		{"Gotaas 1956, cover, computed", "faeces only, wet kg", apart, 37, 0.5},
		{"Gotaas 1956, cover, computed", "faeces only, L", apart / 0.243, 154, 0.5},
		{"Gotaas 1956, cover, computed", "together, dry sawdust kg", together * 0.61, 244, 0.5},
		{"Gotaas 1956, cover, computed", "together, m3", together / 243, 1.6, 0.05},
		{"Gotaas 1956, cover, computed", "together as used, C:N", MixCN(faeces, urine, used), 17, 0.5},
		{"Karnchanawong and Suriyanon 2011", "loss in 120 d at 20 °C, 59-62 %", lostShare(CompostRate(20), 120), 0.605, 0.015},
		{"Karnchanawong and Suriyanon 2011", "rate 1/d, computed", -math.Log(0.395) / 120, CompostK20, 0.00005},
		{haugs, "moisture factor at 0.6", MoistureFactor(0.6), 0.97, 0.005},
		{haugs, "moisture factor at 0.4", MoistureFactor(0.4), 0.50, 0.005},

		// Soil, D1 to D6.
		{manure, "35/12/5 of 50 lb a year, lb/acre", CattleWet.Freed(50, 50, 50), 26, 1e-9},
		{manure, "this year", CattleWet.Freed(50), 17.5, 1e-9},
		{manure, "from last year", CattleWet.Freed(0, 50), 6, 1e-9},
		{manure, "from two years ago", CattleWet.Freed(0, 0, 50), 2.5, 1e-9},
		{manure, "three years, kg/ha", CattleWet.Freed(56.04, 56.04, 56.04), 29.1, 0.05},
		{"Hartz et al. 2000", "manure, 12 weeks at 25 °C, share", Mineralised(1, -math.Log(0.84)/84/SoilFactor(25), 25, 84), 0.16, 1e-9},
		{"wood ash, newspaper extension column", "K of 3 % K2O, %", KFromK2O(3), 2.5, 0.05},
		{"wood ash, newspaper extension column", "K of 8 % K2O, %", KFromK2O(8), 6.6, 0.05},
		{"wood ash, newspaper extension column", "P of 1 % P2O5, %", PFromP2O5(1), 0.4, 0.05},
		{"wood ash, newspaper extension column", "P of 2 % P2O5, %", PFromP2O5(2), 0.9, 0.05},
		{"wood ash, newspaper extension column", "ash for 1 kg limestone", AshForLime(1), 1.5, 0},
		{lime, "sandy loam from 4.0", sure(LimeNeed(SandyLoam, 4)), 0.56, 1e-9},
		{lime, "sandy loam from 6.0", sure(LimeNeed(SandyLoam, 6)), 0.15, 1e-9},
		{lime, "loam from 4.5", sure(LimeNeed(Loam, 4.5)), 0.66, 1e-9},
		{lime, "loam from 5.5", sure(LimeNeed(Loam, 5.5)), 0.39, 1e-9},
		{lime, "clay loam from 5.0", sure(LimeNeed(ClayLoam, 5)), 0.73, 1e-9},
		{maas, "bean at 2.0 dS/m", SaltYield(2, 1, 0.19), 0.81, 1e-9},
		{maas, "tomato at 4.0", SaltYield(4, 2.5, 0.099), 0.8515, 1e-9},
		{maas, "potato at 3.0", SaltYield(3, 1.7, 0.12), 0.844, 1e-9},
		{maas, "red beet at 5.0", SaltYield(5, 4, 0.09), 0.91, 1e-9},

		// Washing water, B6.
		{"California Plumbing Code 1503.8", "three bedrooms, L/d", DesignFlow(3), 608, 0.5},
		{"FAO 56 (from memory), computed", "banana ring of 5 m, L/d", BasinUptake(math.Pi*2.5*2.5, 1.2, 5), 118, 0.5},
		{"Uniform Plumbing Code (from memory)", "coarse sand, 5 gal/ft2", Acceptance(CoarseSand), 5 * 3.78541 / 0.09290304, 0.5},
		{"Uniform Plumbing Code (from memory)", "clay, 0.8 gal/ft2", Acceptance(Clay), 0.8 * 3.78541 / 0.09290304, 0.5},
	}
	return cs
}

func lostShare(rate, days float64) float64 {
	_, lost := Decay(1, 0, rate, days)
	return lost
}
