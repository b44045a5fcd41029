package sums

import (
	"math"
	"testing"

	"evenstead/unit"
)

// TestPublished holds the sums to further printed cases, through the words that
// people write. Those printed for the sciences stand beside them.
func TestPublished(t *testing.T) {
	const (
		dtu    = "Warwick University DTU, roof-water sizing"
		lvb    = "Loucks and van Beek, Table 11.2 (inputs printed, store computed)"
		fao    = "Allen et al. 1998, FAO-56"
		usda   = "USDA Complete Guide to Home Canning, AIB 539"
		rule   = "40 CFR 503.32(a)(3)(ii) (computed)"
		drums  = "drums of 55 gal, 90 % filled, a year of rest (computed)"
		wood   = "wood heat value by moisture, printed table"
		plant  = "worked household plant (computed)"
		sizing = "sizing formulas (computed)"
		inflow = "inflow=1,3,3,5,8,6,7,2,1 draft="
		gal    = 3.785411784
	)
	cases := []struct {
		source, name     string
		sum, given, line string
		want, tol        float64
	}{
		{dtu, "method 2, 190 m2, 1,056 mm, C 0.9, L a year", "catch", "area=190 m2 rain=1056 mm coefficient=0.9", "caught", 180580, 5},
		{"Rain Barrels Iowa, worksheet", "2,500 ft2, 36 in, C 0.90", "catch", "area=2500 ft2 rain=36 in coefficient=90 %", "caught", 50490 * gal, 5 * gal},
		{lvb, "draft 2", "no-fail-store", inflow + "2", "store", 2, 1e-9},
		{lvb, "draft 3", "no-fail-store", inflow + "3", "store", 5, 1e-9},
		{lvb, "draft 4", "no-fail-store", inflow + "4", "store", 10, 1e-9},
		{fao, "example 16, p. 62, Bangkok at the coast, sun", "sun-oven", "tmin=25.6 tmax=34.8 latitude=13°44'N date=15 Apr place=coast", "sun on the flat", 21.9, 0.05},
		{"Iowa State University, Agron 541", "70/50 °F by the modified average, °F d", "degree-days", "tmin=50 °F tmax=70 °F upper=86 °F method=modified", "degree-days", 10 * 5. / 9, 0.001},
		{"Ohio State Extension, 2023-06-12", "87/63 °F, °F d", "degree-days", "tmin=63 °F tmax=87 °F upper=86 °F method=modified", "degree-days", 24.5 * 5. / 9, 0.001},
		{"UC IPM, Esparto 2020", "54/67 °F by the sine, °F d", "degree-days", "tmin=54 °F tmax=67 °F upper=70 °F", "degree-days", 10.5 * 5. / 9, 0.003},
		{"UC IPM, Esparto 2020", "52/73 °F by the sine, cut off", "degree-days", "tmin=52 °F tmax=73 °F upper=70 °F", "degree-days", 12.01 * 5. / 9, 0.003},
		{"NASEM 2023, worked example", "woman 30 y, 170 cm, 70 kg, active, MJ", "energy-need", "sex=female age=30 height=170 cm mass=70 kg", "need by NASEM 2023", 2475.55 * kcal, 0.005 * kcal},
		{"Institute of Medicine 2005, reference boy 14-18", "61 kg, 174 cm, active, MJ", "energy-need", "sex=male age=16 height=174 cm mass=61 kg", "need by IOM 2005", 3152 * kcal, 3.5 * kcal},
		{"Institute of Medicine 2005, table by height", "man 30 y, 1.50 m, 41.6 kg, low active, MJ", "energy-need", "sex=male age=30 height=150 cm mass=41.6 kg activity=low_active", "need by IOM 2005", 2009 * kcal, 1.5 * kcal},
		{usda, "snap beans, quart, 1,400 m, dial gauge, min", "canning", "food=beans, snap pack=raw method=dial gauge altitude=1400 m", "time", 25. / 60, 1e-9},
		{usda, "snap beans, the same, kPa", "canning", "food=beans, snap pack=raw method=dial gauge altitude=1400 m", "pressure by gauge", 89.6, 0.05},
		{usda, "tomatoes in water, quart, 800 m, min", "canning", "food=tomatoes, whole, in water pack=raw altitude=800 m", "time", 50. / 60, 1e-9},
		{"University of Minnesota canning chart", "carrots, pint, min", "canning", "food=carrots jar=1 pt method=weighted gauge altitude=400 m", "time", 25. / 60, 1e-9},
		{"USDA SR26, tomato fresh and dried (computed)", "ratio", "drying", "before=94.52 % after=14.56 %", "ratio", 0.064, 0.0005},
		{"USDA SR26, fig fresh and dried (computed)", "ratio", "drying", "before=79.11 % after=30.05 %", "ratio", 0.299, 0.0015},
		{"USDA power failure", "full freezer, h", "freezer-hours", "fill=100 % size=420 L", "holds", 48, 0},
		{"mead, Balling (computed)", "1.110 to 0.996, %", "alcohol", "before=1.110 after=0.996", "Balling", 0.1549, 0.00005},
		{"Richard and Trautmann, Cornell (from memory)", "leaves for 30:1, kg", "compost-mix", "first-kg=10 first-moisture=77 % first-n=2.4 % first-cn=18.75 second-moisture=35 % second-n=0.75 % second-cn=66.667", "add of the second", 3.5, 0.05},
		{"Richard and Trautmann, Cornell (computed)", "moisture of that mix", "compost-mix", "first-kg=10 first-moisture=77 % first-n=2.4 % first-cn=18.75 second-kg=3.474 second-moisture=35 % second-n=0.75 % second-cn=66.667", "moisture", 0.662, 0.0005},
		{"Gotaas 1956, cover (computed)", "together, m3", "cover", "people=1 toilet=together", "loose volume", 1600, 50},
		{drums, "1 person at 200 L", "drums", "people=1 mean=25", "drums", 3, 0},
		{drums, "3 at 200 L, days to fill", "drums", "people=3 mean=25", "one fills in", 114, 0.5},
		{drums, "2 at 886 L", "drums", "people=2 volume=886 L mean=25", "drums", 11, 0},
		{rule, "thick, 60 °C, h", "heat-time", "temperature=60 °C", "held for", 12.58, 0.005},
		{rule, "thick, 158 °F, min", "heat-time", "temperature=158 °F", "held for", 30.06 / 60, 0.005 / 60},
		{rule, "thin, 60 °C, h", "heat-time", "temperature=60 solids=thin", "held for", 4.784, 0.0005},
		{"grower sheet", "clay loam from pH 5.0, kg/m2", "lime", "texture=clay loam ph=5", "limestone", 0.73, 1e-9},
		{"wood ash, extension column", "ash for sandy loam at pH 6", "lime", "texture=sandy loam ph=6", "wood ash worth as much", 0.225, 1e-9},
		{plant, "gas, L a day", "digester", "feed=kitchen_scraps mass=3 kg water=6 L tank=540 L temperature=28.04", "gas", 372, 0.6},
		{plant, "burner, h", "digester", "feed=kitchen_scraps mass=3 kg water=6 L tank=540 L temperature=28.04", "burner", 1.24, 0.005},
		{plant, "load, kg/m3", "digester", "feed=kitchen_scraps mass=3 kg water=6 L tank=540 L temperature=28.04", "load", 1.25, 0.005},
		{plant, "heat in the pot, MJ", "digester", "feed=kitchen_scraps mass=3 kg water=6 L tank=540 L temperature=28.04", "heat in the pot", 4.41, 0.005},
		{"FAO-56 pressure and Antoine (computed)", "water boils at 2,000 m, °C", "boil", "altitude=2000 m", "boils at", 93.5, 0.05},
		{"heat of water (computed)", "1 L, 20 to 100 °C, MJ", "boil", "from=20 °C", "heat in the water", 0.3349, 0.0003},
		{wood, "30 % moist, MJ/kg", "wood-store", "moisture=30 %", "heat of the wood", 12.58, 0.02},
		{wood, "15 % moist, MJ/kg", "wood-store", "moisture=15 %", "heat of the wood", 15.79, 0.02},
		{sizing, "at 26.7 °C no cold factor, Ah", "panel", "load=900 Wh inverter=90 % sun=2.5 volts=24 temperature=26.7", "battery", 250, 0.05},
		{"Pimentel, maize by hand, Mexico", "1,944 kg of maize at 0.1944 kg/m2, m2", "plants", "crop=maize_dry need=1944 kg yield=0.1944 loss=0", "ground", 10000, 1e-6},
		{"a year all from maize, 25 % lost (computed)", "m2", "plants", "crop=maize_dry energy=912500 kcal", "ground", 667, 0.5},
		{"a year all from winter wheat, 25 % lost (computed)", "m2", "plants", "crop=wheat_winter energy=912500 kcal", "ground", 1378, 1.5},
	}
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			a, err := reckon(t, c.sum, c.given, unit.US)
			if err != nil {
				t.Fatal(err)
			}
			got, ok := a.Line(c.line)
			if !ok || !(math.Abs(got.Amount-c.want) <= c.tol) {
				t.Errorf("got %.8g, printed %.8g within %g", got.Amount, c.want, c.tol)
			}
		})
	}
}
