package fuel

import (
	"encoding/csv"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"evenstead/day"
)

const (
	buswell = "Buswell and Mueller 1952, computed"
	angel   = "Angelidaki and Sanders 2004 (from memory)"
	shares  = "Buswell-Boyle shares, renewable-energy-concepts.com"
	sasse   = "Sasse 1988, Biogas Plants"
	hashi   = "Hashimoto 1982 and 1984 (from memory), computed"
	zhang   = "Zhang et al. 2007, computed"
	heats   = "heats of combustion, computed"
	water   = "heat of water, computed"
	s580    = "ASAE S580, computed"
	wood    = "wood heat value by moisture, relaiscdo.eu"
	fao     = "Allen et al. 1998, FAO-56"
	faoRa   = "Allen et al. 1998, FAO-56 eq. 21, computed"
	nrel    = "Reda and Andreas 2008, NREL TP-560-34302 example"
	usno    = "US Naval Observatory 2015"
	duffie  = "Duffie and Beckman (from memory, recomputed)"
	pv      = "sizing formulas, computed"
	cold    = "battery sizing worksheets"
	kusuda  = "Kusuda and Achenbach 1965, computed"
	boil    = "FAO-56 pressure and Antoine, computed"
)

type printed struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	for _, c := range published(t) {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.8g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

// Every line of the carried table has a case.
func TestEveryCheckLine(t *testing.T) {
	f, err := os.Open("testdata/checks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	cases := published(t)
	for _, line := range lines[1:] {
		found := false
		for _, c := range cases {
			found = found || strings.HasPrefix(c.name, line[0]+" ")
		}
		if !found {
			t.Errorf("%s has no case", line[0])
		}
	}
}

func published(t *testing.T) []printed {
	var cs []printed
	for _, part := range []func(*testing.T) []printed{gasCases, cookCases, sunCases, placeCases, tiltCases, lightCases} {
		cs = append(cs, part(t)...)
	}
	return cs
}

func sure(t *testing.T, v float64, err error) float64 {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func gasCases(t *testing.T) []printed {
	gas := func(a, b, c, d, e float64) Buswelled {
		g, err := Buswell(a, b, c, d, e)
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	glucose, acetic, cellulose := gas(6, 12, 6, 0, 0), gas(2, 4, 2, 0, 0), gas(6, 10, 5, 0, 0)
	olein, palmitin, ethanol := gas(57, 104, 6, 0, 0), gas(51, 98, 6, 0, 0), gas(2, 6, 1, 0, 0)
	protein, sulphur, propionic := gas(5, 7, 2, 1, 0), gas(13, 25, 7, 3, 1), gas(3, 6, 2, 0, 0)
	all := sulphur.CH4 + sulphur.CO2 + sulphur.NH3 + sulphur.H2S

	um, _ := GrowthMax(25)
	pig, pigRate := ChenHashimoto(0.35, 50, KPig(50), um, 30)
	cow, cowRate := ChenHashimoto(0.195, 60, KCattle(60), um, 30)
	k, b0, err := FitBatch(10, 348, 28, 435)
	if err != nil {
		t.Fatal(err)
	}
	scraps := Mixed(0.40, 0.08, 60) * 0.675
	gasDay, _ := GasOf(0.675*Mixed(1, 0.08, 60), 0.40, 0.60)
	return []printed{
		{buswell, "A01 glucose CH4 m3/kg", glucose.M3PerKg, 0.3732, 0.00005},
		{buswell, "A02 acetic acid", acetic.M3PerKg, 0.3732, 0.00005},
		{buswell, "A03 cellulose", cellulose.M3PerKg, 0.4147, 0.00005},
		{buswell, "A04 triolein", olein.M3PerKg, 1.0125, 0.00005},
		{buswell, "A05 protein C5H7O2N", protein.M3PerKg, 0.4954, 0.00005},
		{angel, "A03 cellulose", cellulose.M3PerKg, 0.415, 0.0005},
		{angel, "A04 triolein", olein.M3PerKg, 1.014, 0.002},
		{angel, "A05 protein C5H7O2N", protein.M3PerKg, 0.496, 0.001},
		{buswell, "ethanol m3/kg", ethanol.M3PerKg, 0.7298, 0.00005},
		{buswell, "tripalmitin m3/kg", palmitin.M3PerKg, 1.0064, 0.00005},
		{buswell, "propionic acid m3/kg", propionic.M3PerKg, 0.5295, 0.00005},
		{buswell, "protein with sulphur m3/kg", sulphur.M3PerKg, 0.3965, 0.00005},
		{shares, "A06 tripalmitin CH4 %", 100 * palmitin.MethaneShare(), 71, 0.5},
		{shares, "glucose CH4 %", 100 * glucose.MethaneShare(), 50, 0.5},
		{shares, "A07 protein CH4 %", 100 * sulphur.CH4 / all, 38, 0.5},
		{shares, "A07 protein CO2 %", 100 * sulphur.CO2 / all, 38, 0.5},
		{shares, "A07 protein NH3 %", 100 * sulphur.NH3 / all, 18, 0.5},
		{shares, "A07 protein H2S %", 100 * sulphur.H2S / all, 6, 0.5},
		{buswell, "A08 glucose m3 per kg COD", glucose.M3PerKg / glucose.COD, 0.350, 0.0005},
		{buswell, "A08 triolein m3 per kg COD", olein.M3PerKg / olein.COD, 0.350, 0.0005},
		{buswell, "A08 protein m3 per kg COD", protein.M3PerKg / protein.COD, 0.350, 0.0005},
		{buswell, "triolein molar mass", olein.Mass, 885.453, 0.0015},
		{buswell, "protein with sulphur molar mass", sulphur.Mass, 367.417, 0.0005},
		{buswell, "triolein COD", olein.COD, 2.891, 0.0005},
		{buswell, "protein COD", protein.COD, 1.414, 0.0005},
		{buswell, "ethanol COD", ethanol.COD, 2.084, 0.0005},
		{buswell, "propionic acid COD", propionic.COD, 1.512, 0.0005},
		{buswell, "triolein CH4 mol", olein.CH4, 40, 1e-9},
		{buswell, "tripalmitin CO2 mol", palmitin.CO2, 14.75, 1e-9},
		{sasse, "A09 volume L", TankLitres(60, 80), 4800, 0},
		{sasse, "A10 retention d", Retention(4800, 60), 80, 0},
		{hashi, "A11 pig K", KPig(50), 0.864, 0.0005},
		{"Triolo, lecture on the Hashimoto model", "A12 growth at 25 °C", um, 0.196, 0.0005},
		{hashi, "A13 pig m3/kg VS", pig, 0.2974, 0.00005},
		{hashi, "A14 pig m3/m3/d", pigRate, 0.496, 0.0005},
		{hashi, "cattle K", KCattle(60), 0.859, 0.0005},
		{hashi, "cattle m3/kg VS", cow, 0.166, 0.0005},
		{hashi, "cattle m3/m3/d", cowRate, 0.332, 0.0005},
		{zhang, "A15 k of the fit", k, 0.156, 0.0005},
		{zhang, "A15 B0 of the fit", b0, 441, 0.5},
		{"first order, computed", "A16 mixed, k 0.1, 30 d", Mixed(1, 0.1, 30), 0.75, 1e-12},
		{heats, "A17 60 % CH4 MJ/m3", BiogasMJ(UsualCH4), 21.5, 0.05},
		{heats, "as met at 25 °C, wet", BiogasMJ(UsualCH4) * AsMet(25), 19.1, 0.05},
		{heats, "density of 60 % gas", BiogasDensity(0.6), 1.215, 0.0005},
		{heats, "density over air", BiogasDensity(0.6) / 1.293, 0.94, 0.005},
		{"worked household plant, computed", "share digested", Mixed(1, 0.08, 60), 0.828, 0.0005},
		{"worked household plant, computed", "CH4 m3/d", scraps, 0.223, 0.0006},
		{"worked household plant, computed", "gas m3/d", gasDay, 0.372, 0.0006},
		{"worked household plant, computed", "stove hours", gasDay * 1000 / StoveFlow, 1.24, 0.005},
		{"worked household plant, computed", "MJ/d in the pot", gasDay * BiogasMJ(0.6) * GasRing, 4.41, 0.005},
		{"Werner et al. 1989", "load limit, warm", LoadLimit(28), 1.5, 1e-9},
	}
}

func cookCases(t *testing.T) []printed {
	litre := BoilMJ(1, 20, 100)
	line, err := RateCooker([]float64{15, 25, 35, 45, 55}, []float64{132, 115, 98.5, 84, 66.5})
	if err != nil {
		t.Fatal(err)
	}
	power := CookerPower(2, 40, 52, 600)
	cs := []printed{
		{water, "B01 1 kg 20 to 100 °C kJ", 1000 * litre, 334.9, 0.05},
		{water, "1 kg 15 to 100 °C kJ", 1000 * BoilMJ(1, 15, 100), 355.8, 0.05},
		{water, "evaporate 100 g kJ", 100 * SteamMJ, 226, 0.5},
		{water, "B02 propane g at 50 %", 1000 * FuelFor(litre, BottleRing, BottleMJ), 14.5, 0.05},
		{water, "B03 wood g at 15 %", 1000 * FuelFor(litre, 0.15, 15), 149, 0.5},
		{water, "wood g at 35 %", 1000 * FuelFor(litre, 0.35, 15), 64, 0.5},
		{"gas use table after GTZ and Estoppey 2010", "B04 L of gas to boil 1 L", 1000 * FuelFor(litre, GasRing, BiogasMJ(0.6)*AsMet(25)), 35, 5},
		{water, "gas L at 55 %, dry at 0 °C", 1000 * FuelFor(litre, GasRing, BiogasMJ(0.6)), 28, 0.5},
		{water, "gas L at 55 %, as met", 1000 * FuelFor(litre, GasRing, BiogasMJ(0.6)*AsMet(25)), 32, 0.5},
		{s580, "B05 power W", power, 167.4, 0.05},
		{s580, "B05 standardised W", Standardised(power, 850), 137.9, 0.05},
		{s580, "B06 at 50 K W", line.At50, 74.9, 0.05},
		{s580, "B06 slope", line.Slope, -1.62, 0.005},
		{s580, "B06 intercept", line.Intercept, 155.9, 0.05},
		{s580, "B06 r2", line.R2, 0.9993, 0.00005},
		{wood, "B07 20 % moist, printed", WoodMJ(0.20), 14.72, 0.03},
		{wood + ", computed", "B07 20 %", WoodMJ(0.20), 14.71, 0.005},
		{wood, "15 %", WoodMJ(0.15), 15.79, 0.02},
		{wood, "25 %", WoodMJ(0.25), 13.72, 0.1},
		{wood, "30 %", WoodMJ(0.30), 12.58, 0.02},
		{wood, "40 %", WoodMJ(0.40), 10.44, 0.03},
		{wood, "50 %", WoodMJ(0.50), 8.20, 0.1},
		{wood, "60 %", WoodMJ(0.60), 6.16, 0.03},
		{"propane tables of two suppliers", "B08 20 lb MJ", 9.07 * BottleHigh, 455, 0.5},
		{"propane tables of two suppliers", "1 lb MJ", 0.45359 * BottleHigh, 22.7, 0.05},
		{"retained heat, computed", "3 kg after 3 h", Kept(100, 20, 0.6, 3*3.8, 3), 65, 0.5},
		{fao, "C06 ex. 2, 1800 m kPa", Pressure(1800), 81.8, 0.05},
	}
	for _, b := range [][2]float64{{0, 100.0}, {305, 99.0}, {500, 98.4}, {1000, 96.7}, {1500, 95.1}, {2000, 93.5}, {3000, 90.2}} {
		cs = append(cs, printed{boil, "boils at " + itoa(b[0]) + " m", BoilingPoint(b[0]), b[1], 0.05})
	}
	return cs
}

func sunCases(t *testing.T) []printed {
	decl := Declination(246)
	ws := SunsetAngle(-20*rad, decl)
	cs := []printed{
		{fao, "C01 ex. 8 distance", DistanceFactor(246), 0.985, 0.0005},
		{fao, "C01 ex. 8 declination", decl, 0.120, 0.0005},
		{fao, "C01 ex. 8 sunset angle", ws, 1.527, 0.0005},
		{fao, "C02 ex. 8 Ra", AboveAir(-20, 246), 32.2, 0.05},
		{fao, "C03 ex. 9 day length", DayLength(1.527), 11.7, 0.05},
		{fao, "C04 ex. 15 by temperature", ByTemperature(26.6, 14.8, 40.6, 0.16), 22.3, 0.05},
		{fao, "C05 ex. 18 clear sky", ClearSky(41.09, 100), 30.90, 0.005},
	}
	days := []int{17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344}
	for _, row := range []struct {
		lat float64
		ra  [12]float64
	}{
		{0, [12]float64{36.2, 37.5, 37.9, 36.8, 34.8, 33.5, 33.9, 35.7, 37.2, 37.3, 36.4, 35.7}},
		{40, [12]float64{15.2, 20.6, 27.5, 34.7, 39.7, 41.7, 40.6, 36.5, 29.9, 22.5, 16.4, 13.8}},
		{60, [12]float64{3.4, 8.6, 16.9, 27.5, 36.7, 41.0, 38.8, 30.9, 20.5, 10.8, 4.5, 2.3}},
	} {
		for i, want := range row.ra {
			cs = append(cs, printed{faoRa, itoa(row.lat) + " north, day " + itoa(float64(days[i])), AboveAir(row.lat, days[i]), want, 0.051})
		}
	}
	return cs
}

func placeCases(t *testing.T) []printed {
	s := SunAt(39.742476, -105.1786, day.Of(2003, time.October, 17), 12.5+30.0/3600+7)
	cs := []printed{
		{nrel, "C07 zenith", s.Zenith(), 50.11162, 0.01},
		{nrel, "C07 azimuth", s.Azimuth, 194.340241, 0.01},
		{nrel, "C08 declination", s.Declination, -9.31434, 0.01},
		{nrel, "C08 equation of time min", s.Equation, 14.64, 0.02},
		{nrel, "C08 distance", s.Distance, 0.9965422974, 0.0001},
		{nrel, "hour angle", s.HourAngle, 11.10590, 0.01},
		{nrel + " (report, from memory)", "incidence, 30° slope, face 10° east of south",
			math.Acos(Plane{30, 170}.CosIncidence(s.Elevation, s.Azimuth)) / rad, 25.187, 0.02},
	}
	clock := func(h, m float64) float64 { return h + m/60 }
	for _, r := range []struct {
		id                       string
		lat, lon, offset         float64
		month                    time.Month
		riseH, riseM, setH, setM float64
	}{
		{"C09", 39, -105, -7, time.January, 7, 19, 16, 49},
		{"C10", 39, -105, -7, time.April, 5, 43, 18, 24},
		{"C11", 39, -105, -7, time.August, 5, 1, 19, 10},
		{"C12", 39, -105, -7, time.December, 7, 1, 16, 38},
		{"C13", 39.917, 116.383, 8, time.August, 5, 13, 19, 28},
	} {
		rise, set, ok := RiseAndSet(r.lat, r.lon, day.Of(2015, r.month, 2), r.offset)
		if !ok {
			t.Fatalf("%s: no sunrise", r.id)
		}
		cs = append(cs,
			printed{usno, r.id + " sunrise h", rise, clock(r.riseH, r.riseM), 1.0 / 60},
			printed{usno, r.id + " sunset h", set, clock(r.setH, r.setM), 1.0 / 60})
	}
	return cs
}

// cooper is the declination [rad] that Duffie and Beckman use.
func cooper(n float64) float64 { return 23.45 * math.Sin(2*math.Pi*(284+n)/365) * rad }

func tiltCases(t *testing.T) []printed {
	south := func(slope float64) Plane { return Plane{slope, 180} }
	el, az := SolarPlace(40, cooper(51), 9.5)
	rb := south(60).HourRatio(el, az)
	el2, az2 := SolarPlace(43, cooper(44), 10.5)
	incidence := math.Acos(Plane{45, 195}.CosIncidence(el2, az2)) / rad
	return []printed{
		{duffie, "C14 ex. 2.15.1 Rb", rb, 1.71, 0.01},
		{duffie, "C15 ex. 2.15.1 beam", 0.25 * rb, 0.43, 0.005},
		{duffie, "C15 ex. 2.15.1 all", Tilted(0.25, 0.79, rb, 60, 0.6), 1.18, 0.01},
		{duffie, "C16 ex. 1.6.1 incidence", incidence, 35, 0.5},
		{duffie, "C17 ex. 2.19.1 Ho", AboveAir(43, 17), 13.4, 0.01 * 13.4},
		{duffie, "C17 ex. 2.19.1 KT", 6.44 / AboveAir(43, 17), 0.482, 0.01 * 0.482},
		{duffie, "C17 ex. 2.19.1 Rb", DayRatio(43, 60, cooper(17)), 2.79, 0.01 * 2.79},
		{duffie, "C17 ex. 2.19.1 HT", TiltedDay(6.44, 43, 60, 0.7, 17), 13.7, 0.01 * 13.7},
	}
}

func lightCases(t *testing.T) []printed {
	panel, err := PanelW(900/0.90, 2.5, 0.75)
	bank := Battery{Wh: 1000, Days: 3, Volts: 24, Depth: LeadDepth, Inverter: 1, Cold: 1}
	warm, errWarm := bank.AmpHours()
	bank.Cold = ColdFactor(15.6)
	cool, errCool := bank.AmpHours()
	g := Ground{Mean: 10.5, Swing: 12.5, Coldest: 35, Diffusivity: 0.6e-6}
	amplitude := func(z float64) float64 { return g.Swing * math.Exp(-z/DampingDepth(g.Diffusivity)) }
	cs := []printed{
		{pv, "C18 panel W", sure(t, panel, err), 533, 0.5},
		{pv, "C19 bank Ah", sure(t, warm, errWarm), 250, 0.05},
		{pv, "C19 bank at 15.6 °C Ah", sure(t, cool, errCool), 277.5, 0.05},
		{"published exercise on damping depth, computed", "D03 depth of 5 %", -math.Log(0.05) * DampingDepth(2e-7), 4.24, 0.01},
		{"published exercise on damping depth, computed", "D03 damping depth", DampingDepth(2e-7), 1.417, 0.0005},
		{kusuda, "D04 damping depth", DampingDepth(0.6e-6), 2.454, 0.001},
		{kusuda, "D04 lag at 2 m", g.Lag(2), 47.3, 0.05},
		{kusuda, "D04 amplitude at 2 m", amplitude(2), 5.53, 0.005},
		{kusuda, "D05 2 m on day 35", g.At(2, 35), 6.70, 0.005},
		{kusuda, "D05 2 m on day 210", g.At(2, 210), 13.75, 0.005},
		{kusuda, "D05 2 m least", g.At(2, 35+g.Lag(2)), 4.97, 0.005},
		{kusuda, "D05 2 m most", g.At(2, 35+182.5+g.Lag(2)), 16.03, 0.005},
	}
	for _, r := range [][4]float64{{0.5, 10.20, 11.8, 0.51}, {1, 8.32, 23.7, 2.86}, {3, 3.68, 71.0, 9.24}, {5, 1.63, 118.4, 11.23}} {
		cs = append(cs,
			printed{kusuda, "amplitude at " + itoa(10*r[0]) + " dm", amplitude(r[0]), r[1], 0.005},
			printed{kusuda, "lag at " + itoa(10*r[0]) + " dm", g.Lag(r[0]), r[2], 0.051},
			printed{kusuda, "day 35 at " + itoa(10*r[0]) + " dm", g.At(r[0], 35), r[3], 0.0051})
	}
	for _, r := range [][2]float64{{26.7, 1}, {21.2, 1.04}, {15.6, 1.11}, {10, 1.19}, {4.4, 1.30}, {-1.1, 1.40}, {-6.7, 1.59}} {
		cs = append(cs, printed{cold, "factor at " + itoa(10*r[0]) + " tenths °C", ColdFactor(r[0]), r[1], 1e-9})
	}
	return cs
}
