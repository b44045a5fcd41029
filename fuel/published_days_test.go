package fuel

import (
	"math"
	"testing"
)

const (
	gtz      = "GTZ 1993, biogas handbook"
	manual   = "household biogas training manual"
	plant    = "worked household plant, computed"
	kitchens = "gas use table after GTZ and Estoppey 2010"
	cassini  = "least heat to cook, beans and potatoes"
	estimate = "sun's height, computed"
	heat     = "propane tables of two suppliers"
)

// TestPublishedDays holds what the fuel sheet prints that stands nowhere else.
func TestPublishedDays(t *testing.T) {
	for _, c := range dayCases(t) {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.8g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

func dayCases(t *testing.T) []printed {
	scraps := Feed{VS: 0.225, B0: 0.40, K35: 0.08, Methane: 0.60}
	equal := func(name string) float64 { m3, _ := GasFor(name); return m3 }
	least := func(temp float64) float64 { d, _ := RetentionDays(temp); return d }
	most := func(temp float64) float64 { _, d := RetentionDays(temp); return d }
	gas := func(a, b, c, d, e float64) Buswelled {
		g, err := Buswell(a, b, c, d, e)
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	acetic, cellulose, glucose, palmitin := gas(2, 4, 2, 0, 0), gas(6, 10, 5, 0, 0), gas(6, 12, 6, 0, 0), gas(51, 98, 6, 0, 0)
	propionic, sulphur, ethanol, olein := gas(3, 6, 2, 0, 0), gas(13, 25, 7, 3, 1), gas(2, 6, 1, 0, 0), gas(57, 104, 6, 0, 0)
	litre := BoilMJ(1, 20, 100)
	share := GasRing * BiogasMJ(0.6) * AsMet(25) // MJ in the pot a m3 as met
	return []printed{
		// A1: every substrate of the table.
		{buswell, "acetic acid molar mass", acetic.Mass, 60.052, 0.0005},
		{buswell, "acetic acid COD", acetic.COD, 1.066, 0.0005},
		{buswell, "acetic acid CH4 %", 100 * acetic.MethaneShare(), 50, 0.05},
		{buswell, "cellulose molar mass", cellulose.Mass, 162.141, 0.0005},
		{buswell, "cellulose COD", cellulose.COD, 1.184, 0.0005},
		{buswell, "cellulose CO2 mol", cellulose.CO2, 3, 1e-12},
		{buswell, "ethanol molar mass", ethanol.Mass, 46.069, 0.0005},
		{buswell, "ethanol CH4 %", 100 * ethanol.MethaneShare(), 75, 0.05},
		{buswell, "glucose molar mass", glucose.Mass, 180.156, 0.0005},
		{buswell, "glucose COD", glucose.COD, 1.066, 0.0005},
		{buswell, "triolein CH4 %", 100 * olein.MethaneShare(), 70.2, 0.05},
		{buswell, "tripalmitin molar mass", palmitin.Mass, 807.339, 0.0015},
		{buswell, "tripalmitin CH4 mol", palmitin.CH4, 36.25, 1e-12},
		{buswell, "tripalmitin CH4 %", 100 * palmitin.MethaneShare(), 71.1, 0.05},
		{buswell, "tripalmitin COD", palmitin.COD, 2.873, 0.001},
		{buswell, "propionic acid molar mass", propionic.Mass, 74.079, 0.0005},
		{buswell, "propionic acid CH4 %", 100 * propionic.MethaneShare(), 58.3, 0.05},
		{buswell, "protein with sulphur COD", sulphur.COD, 1.176, 0.0005},
		{buswell, "cellulose m3 per kg COD", cellulose.M3PerKg / cellulose.COD, 0.350, 0.0005},
		{buswell, "ethanol m3 per kg COD", ethanol.M3PerKg / ethanol.COD, 0.350, 0.0005},

		// A3, A4: kinetics, loading, retention.
		{"Zhang et al. 2007", "fit gives back 348 mL/g at 10 d", Batch(441, 0.156, 10), 348, 1},
		{"Zhang et al. 2007", "fit gives back 435 mL/g at 28 d", Batch(441, 0.156, 28), 435, 1},
		{"household manuals (from memory)", "retention over 25 °C, least", least(26), 40, 0},
		{"household manuals (from memory)", "retention over 25 °C, most", most(26), 50, 0},
		{"household manuals (from memory)", "retention at 22 °C, most", most(22), 60, 0},
		{"household manuals (from memory)", "retention at 17 °C, most", most(17), 90, 0},
		{"household manuals (from memory)", "retention under 15 °C, most", most(10), 120, 0},
		{"Werner et al. 1989", "gas share of the end in farm practice, 30-60 %, at 20 °C and 60 d", Mixed(1, Rate(0.06, 20), 60), 0.45, 0.16},
		{"Werner et al. 1989", "load of the worked plant stands under the limit", 1.25 / LoadLimit(28), 0.833, 0.0005},
		{"Sasse 1988, Biogas Plants", "15 L of gas from a kg of dung at 20 °C in 30 d", 1000 * 0.08 * Batch(0.24, Rate(0.06, 20), 30) / 0.6, 15, 3},

		// A5: gas.
		{plant, "gas from 3 kg a day of scraps, L/d", 3 * scraps.Steady(35, 60), 372, 0.6},
		{plant, "burner, h", BurnerMinutes(372, StoveFlow) / 60, 1.24, 0.005},
		{plant, "scraps cover of 0.8 m3 a day, %", 100 * 3 * scraps.Steady(35, 60) / 800, 47, 0.5},
		{kitchens, "a m3 lasts 2.5-3.5 h", BurnerMinutes(1000, StoveFlow) / 60, 3, 0.5},
		{kitchens, "boil 3 L, 75 L of gas, and half as much again", 1000 * 3 * litre / share, 90, 16},
		{kitchens, "cook 0.5 kg of rice, 120-205 L, at 1.0-1.8 MJ a kg and water's heat", 1000 * (0.5*1.4 + 1.2*litre) / share, 120, 45},
		{gtz, "a kg of wood, m3", equal("wood"), 0.2, 0},
		{gtz, "a kg of charcoal, m3", equal("charcoal"), 0.5, 0},
		{gtz, "a litre of kerosene, m3", equal("kerosene"), 2.0, 0},
		{manual, "a m3 replaces bottled gas, kg", 1 / equal("bottle"), 0.4, 1e-12},
		{"heat in the pot, computed", "a kg of wood at 15 % by its replacement in gas, share", equal("wood") * GasRing * BiogasMJ(0.6) / (WoodMJ(0.2) * 0.15), 1.07, 0.01},
		{"heat in the pot, computed", "a kg of bottled gas by its replacement, share", equal("bottle") * GasRing * BiogasMJ(0.6) / (BottleMJ * BottleRing), 1.28, 0.01},
		{"definition", "stove pressure of 75 mm of water, kPa (from memory)", StovePa / 1000, 0.75, 0.02},
		{manual, "20 MJ/m3, as used", BiogasMJ(0.6) * AsMet(20), 20, 0.5},
		{"biogas handbook", "21-24 MJ/m3, at 60-65 % methane", BiogasMJ(0.625), 22.5, 1.5},

		// B: cooking.
		{cassini, "bottled gas for a kg of beans, g", 1000 * FuelFor(0.710, 0.525, BottleMJ), 29.2, 0.05},
		{cassini, "bottled gas for a kg of potatoes, g", 1000 * FuelFor(0.287, 0.525, BottleMJ), 11.8, 0.05},
		{water, "charcoal g at 25 %, to boil a litre", 1000 * FuelFor(litre, 0.25, 29), 46, 0.5},
		{heat, "a 1 lb bottle at 50 % boils, L", 0.45359 * BottleMJ * BottleRing / litre, 31, 0.5},
		{heat, "lower heat value over higher, %", 100 * BottleMJ / BottleHigh, 92.5, 0.05},
		{heat, "20 lb, lower heat value, MJ", 9.07 * BottleMJ, 420, 0.5},
		{heat, "9 kg bottle at 3 MJ a day in the pot, days", StoreDays(9.07, BottleMJ, BottleRing, 3), 70.1, 0.05},
		{"retained heat, computed", "1/e of the gap after it, °C", Kept(100, 20, 0.6, 3*3.8, 3*3.8/(0.6*3.6)), 20 + 80/math.E, 1e-9},

		// C: sun.
		{fao, "Ra at 20 north, day 17", AboveAir(20, 17), 27.0, 0.051},
		{fao, "Ra at 20 north, day 162", AboveAir(20, 162), 39.5, 0.051},
		{fao, "Ra at 30 north, day 17", AboveAir(30, 17), 21.3, 0.051},
		{fao, "Ra at 30 north, day 198", AboveAir(30, 198), 40.4, 0.051},
		{fao, "Ra at 50 north, day 17", AboveAir(50, 17), 9.1, 0.051},
		{fao, "Ra at 50 north, day 344", AboveAir(50, 344), 7.7, 0.051},
		{estimate, "noon at 40 north on 21 June", NoonHeight(40, 172), 73.4, 0.1},
		{estimate, "noon at 40 south on 21 June", NoonHeight(-40, 172), 26.6, 0.1},
		{estimate, "noon at the equator on 21 March", NoonHeight(0, 80), 90, 0.6},
		{estimate, "day length is the hours over 0°, FAO-56 ex. 8 and 9", HoursAbove(-20, 0, 246), 11.7, 0.05},
		{pv, "3 days of 12 Wh in the dark, from 0.1296 MJ", Lamp{Battery: 0.1296, Load: 3, Hours: 4}.Dark(), 3, 1e-9},

		// D: cold.
		{"Stull 2011 (from memory), worked example", "20 °C at 50 %, wet bulb", WetBulb(20, 0.5), 13.7, 0.05},
		{fao + " (from memory)", "ex. 3, 1.705 over 3.075 kPa", Humidity(24.5, 15), 1.705 / 3.075, 0.0005},
		{"clay pot cooler, sswm.info", "up to 10 °C under dry air of 35 °C at 30 %", 35 - PotCooler(35, 0.30), 9.3, 0.8},
	}
}
