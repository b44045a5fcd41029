package data

import (
	"math"
	"testing"
)

type groundCase struct {
	source, name   string
	got, want, tol float64
}

// TestPublishedGround holds the tables of ground, stock and fuel against
// printed figures. Middles of printed ranges are marked computed; the tolerance
// is half a unit of the last digit printed.
func TestPublishedGround(t *testing.T) {
	var cases []groundCase
	cases = append(cases, waterCases(t)...)
	cases = append(cases, removalCases(t)...)
	cases = append(cases, energyCases(t)...)
	cases = append(cases, materialCases(t)...)
	cases = append(cases, placeCases(t)...)
	cases = append(cases, workCases(t)...)
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %v, printed %v, within %v", c.got, c.want, c.tol)
			}
		})
	}
}

// byID reads a table into a lookup that fails the test on an unknown id.
func byID[T any](t *testing.T, read func() ([]T, error), id func(T) string) func(string) T {
	t.Helper()
	rows, err := read()
	if err != nil {
		t.Fatal(err)
	}
	at := make(map[string]T, len(rows))
	for _, r := range rows {
		at[id(r)] = r
	}
	return func(want string) T {
		row, ok := at[want]
		if !ok {
			t.Fatalf("no row %q", want)
		}
		return row
	}
}

func cropOf(t *testing.T) func(string) Crop {
	return byID(t, loadCrops, func(c Crop) string { return c.ID })
}

func waterCases(t *testing.T) []groundCase {
	crop := cropOf(t)
	const (
		kc    = "Allen et al. 1998, FAO-56 table 12 p. 110-112"
		roots = "Allen et al. 1998, FAO-56 table 22 p. 163-165 (middle, computed)"
		p     = "Allen et al. 1998, FAO-56 table 22 p. 163-165"
		stage = "Allen et al. 1998, FAO-56 table 11 p. 104-108 (share, computed)"
		ky    = "Doorenbos and Kassam 1979, FAO 33 in FAO-56 table 24 p. 181"
		hard  = "winter limits of hardened crops, from memory"
	)
	return []groundCase{
		{kc, "potato mid", crop("potato").KcMid, 1.15, 0.005},
		{kc, "potato end", crop("potato").KcEnd, 0.75, 0.005},
		{kc, "onion dry end", crop("onion").KcEnd, 0.75, 0.005},
		{kc, "carrot initial", crop("carrot").KcIni, 0.7, 0.05},
		{kc, "cabbage mid", crop("cabbage").KcMid, 1.05, 0.005},
		{kc, "tomato mid", crop("tomato").KcMid, 1.15, 0.005},
		{kc, "strawberry mid", crop("strawberry").KcMid, 0.85, 0.005},
		{kc, "broad bean dry end", crop("broad_bean").KcEnd, 0.30, 0.005},
		{kc, "pea fresh end", crop("pea_green").KcEnd, 1.10, 0.005},
		{kc, "chickpea mid", crop("chickpea").KcMid, 1.00, 0.005},
		{kc, "barley end", crop("barley").KcEnd, 0.25, 0.005},
		{kc, "winter wheat, unfrozen, initial", crop("wheat_winter").KcIni, 0.7, 0.05},
		{kc, "maize dry end", crop("maize_dry").KcEnd, 0.35, 0.005},
		{kc, "grape table mid", crop("grape").KcMid, 0.85, 0.005},
		{kc, "walnut mid", crop("walnut").KcMid, 1.10, 0.005},
		{kc, "almond initial", crop("almond").KcIni, 0.40, 0.005},
		{kc, "apple, grass and frost, mid", crop("apple").KcMid, 1.20, 0.005},
		{kc, "plum, grass and frost, end", crop("plum").KcEnd, 0.90, 0.005},
		{p, "potato", crop("potato").Depletion, 0.35, 0.005},
		{p, "spinach", crop("spinach").Depletion, 0.20, 0.005},
		{p, "winter wheat", crop("wheat_winter").Depletion, 0.55, 0.005},
		{p, "tomato", crop("tomato").Depletion, 0.40, 0.005},
		{p, "walnut", crop("walnut").Depletion, 0.50, 0.005},
		{roots, "potato 0.4-0.6", crop("potato").Roots, 0.5, 0.05},
		{roots, "winter wheat 1.5-1.8", crop("wheat_winter").Roots, 1.65, 0.005},
		{roots, "carrot 0.5-1.0", crop("carrot").Roots, 0.75, 0.005},
		{roots, "lettuce 0.3-0.5", crop("lettuce").Roots, 0.4, 0.05},
		{roots, "lima bean 0.8-1.2", crop("lima_bean").Roots, 1.0, 0.05},
		{stage, "potato, continental, mid 45 of 130 d", crop("potato").ShareMid, 45.0 / 130, 0.0001},
		{stage, "winter wheat, mediterranean, development 140 of 240 d", crop("wheat_winter").ShareDev, 140.0 / 240, 0.0001},
		{stage, "tomato, mediterranean, initial 30 of 145 d", crop("tomato").ShareIni, 30.0 / 145, 0.0001},
		{stage, "broad bean dry, Europe, initial 90 of 235 d", crop("broad_bean").ShareIni, 90.0 / 235, 0.0001},
		{ky, "maize", crop("maize_dry").Ky, 1.25, 0.005},
		{ky, "potato", crop("potato").Ky, 1.10, 0.005},
		{ky, "bean", crop("dry_bean").Ky, 1.15, 0.005},
		{ky, "cabbage", crop("cabbage").Ky, 0.95, 0.005},
		{ky, "winter wheat", crop("wheat_winter").Ky, 1.05, 0.005},
		{ky, "grape", crop("grape").Ky, 0.85, 0.005},
		{ky, "onion", crop("onion").Ky, 1.10, 0.005},
		{hard, "rye -25 to -30", crop("rye").KillHardened, -25, 0.5},
		{hard, "broad bean -8 to -12", crop("broad_bean").KillHardened, -8, 0.5},
		{"Peoples et al. 2021", "broad bean fixed share", crop("broad_bean").Fixed, 0.74, 0.005},
		{"Peoples et al. 2021", "chickpea fixed share", crop("chickpea").Fixed, 0.62, 0.005},
		{"Peoples et al. 2021", "common bean fixed share", crop("dry_bean").Fixed, 0.38, 0.005},
	}
}

// removalCases hold N, P, K against field removal where that is the larger.
func removalCases(t *testing.T) []groundCase {
	crop := cropOf(t)
	const (
		ne  = "New England Vegetable Management Guide, nutrient removal, table 4"
		on  = "Ontario crop removal, table 1 (middle, computed)"
		rb  = "RB209 2020, nutrients in crop material (oxide to element, computed)"
		mem = "composition and field tables, as amended"
	)
	return []groundCase{
		{ne, "cabbage N", crop("cabbage").N, 3.1, 0.05},
		{ne, "cabbage K", crop("cabbage").K, 2.7, 0.05},
		{ne, "carrot N", crop("carrot").N, 1.6, 0.05},
		{ne, "cauliflower N", crop("cauliflower").N, 3.75, 0.005},
		{ne, "celery K", crop("celery").K, 3.15, 0.005},
		{ne, "lettuce K", crop("lettuce").K, 4.15, 0.005},
		{ne, "onion N", crop("onion").N, 2.75, 0.005},
		{ne, "snap bean N", crop("snap_bean").N, 4.0, 0.05},
		{ne, "broccoli K", crop("broccoli").K, 3.7, 0.05},
		{on, "winter wheat N 19.1-20.9", crop("wheat_winter").N, 20.0, 0.05},
		{on, "oat N 18-24", crop("oats").N, 21.0, 0.05},
		{on, "barley K from 4.79-7.22 K2O", crop("barley").K, 4.99, 0.005},
		{rb, "dried pea P from 9.0 P2O5", crop("pea_dry").P, 3.93, 0.005},
		{rb, "potato K from 5.8 K2O", crop("potato").K, 4.81, 0.006},
		{mem, "wheat P", crop("wheat_winter").P, 3.6, 0.05},
		{mem, "dry bean N", crop("dry_bean").N, 38, 0.5},
		{mem, "moringa N", crop("moringa").N, 9, 0.5},
	}
}

// energyCases hold typical yield x edible share x energy against the printed
// energy of a square metre, for every crop. Two edible shares were amended, so
// the printed value is scaled by the change: leek 0.44 to 0.65, grape 0.95 to 0.6.
func energyCases(t *testing.T) []groundCase {
	crop := cropOf(t)
	amended := map[string]float64{"leek": 0.65 / 0.44, "grape": 0.6 / 0.95}
	var out []groundCase
	for _, e := range cropEnergy {
		c := crop(e.id)
		want, tol := e.kcalM2, 0.51
		if f, ok := amended[e.id]; ok {
			want, tol = want*f, tol*f
		}
		out = append(out, groundCase{"USDA SR26 energy, kcal per m2 (computed)", e.id,
			c.YieldTyp * c.EdibleFraction * e.kcal * 10, want, tol})
	}
	return out
}

// cropEnergy is kcal per 100 g edible (USDA SR26) and kcal per m2 at typical yield.
var cropEnergy = []struct {
	id           string
	kcal, kcalM2 float64
}{
	{"almond", 579, 463}, {"amaranth_grain", 371, 445}, {"amaranth_leaf", 23, 432}, {"apple", 52, 1170},
	{"asparagus", 20, 67}, {"avocado", 160, 947}, {"banana", 89, 1139}, {"barley", 354, 765},
	{"basil", 23, 221}, {"beet", 43, 1187}, {"black_currant", 63, 494}, {"blackberry", 43, 413},
	{"blueberry", 57, 379}, {"breadfruit", 103, 964}, {"broad_bean", 341, 750}, {"broccoli", 34, 249},
	{"brussels_sprouts", 43, 580}, {"buckwheat", 343, 370}, {"cabbage", 25, 600}, {"carrot", 41, 1277},
	{"cassava", 160, 1747}, {"cauliflower", 25, 356}, {"celery", 16, 570}, {"chard", 19, 437},
	{"chayote", 19, 564}, {"chestnut", 224, 282}, {"chickpea", 364, 437}, {"chinese_cabbage", 16, 521},
	{"coconut", 354, 994}, {"collards", 32, 480}, {"cowpea", 336, 336}, {"cucumber", 15, 407},
	{"dry_bean", 333, 433}, {"eggplant", 25, 506}, {"fig", 74, 733}, {"garlic", 149, 1296},
	{"gooseberry", 44, 440}, {"grape", 67, 955}, {"guava", 68, 1061}, {"hazelnut", 628, 644},
	{"jerusalem_artichoke", 73, 1259}, {"kale", 49, 735}, {"kohlrabi", 27, 310}, {"leek", 61, 671},
	{"lentil", 343, 343}, {"lettuce", 15, 255}, {"lima_bean", 338, 473}, {"maize_dry", 365, 1825},
	{"malabar_spinach", 19, 380}, {"mango", 60, 426}, {"melon", 34, 347}, {"moringa", 64, 992},
	{"mulberry", 43, 430}, {"mustard_greens", 27, 502}, {"oats", 389, 681}, {"okra", 33, 341},
	{"onion", 40, 1080}, {"orange", 47, 858}, {"papaya", 43, 1066}, {"parsley", 36, 513},
	{"parsnip", 75, 1594}, {"pea_dry", 341, 682}, {"pea_green", 81, 246}, {"peach", 39, 749},
	{"peanut", 567, 873}, {"pear", 57, 923}, {"pearl_millet", 378, 454}, {"pecan", 691, 476},
	{"pepper_sweet", 20, 328}, {"persimmon", 70, 882}, {"pigeon_pea", 343, 309}, {"pineapple", 50, 1020},
	{"plantain", 122, 841}, {"plum", 46, 562}, {"potato", 77, 1463}, {"proso_millet", 378, 544},
	{"pumpkin", 26, 255}, {"quinoa", 368, 442}, {"radish", 16, 259}, {"raspberry", 52, 349},
	{"rhubarb", 21, 315}, {"rice", 370, 1425}, {"rutabaga", 37, 786}, {"rye", 338, 642},
	{"snap_bean", 31, 398}, {"sorghum", 339, 1186}, {"sour_cherry", 50, 360}, {"soybean", 446, 981},
	{"spinach", 23, 235}, {"strawberry", 32, 361}, {"sunflower", 584, 568}, {"sweet_corn", 86, 402},
	{"sweet_potato", 86, 1161}, {"tannia", 98, 843}, {"taro", 112, 963}, {"tomato", 18, 655},
	{"turnip", 28, 567}, {"walnut", 654, 677}, {"water_spinach", 19, 439}, {"watermelon", 30, 374},
	{"wheat_spring", 327, 719}, {"wheat_winter", 327, 883}, {"winter_squash", 34, 386}, {"yam", 118, 1015},
	{"zucchini", 17, 484},
}

func materialCases(t *testing.T) []groundCase {
	mix := byID(t, loadCompostMaterials, func(m CompostMaterial) string { return m.ID })
	feed := byID(t, loadDigesterFeeds, func(f DigesterFeed) string { return f.ID })
	fuel := byID(t, loadFuels, func(f FuelRow) string { return f.ID })
	const (
		gotaas = "Gotaas 1956 p. 44"
		rynk   = "Rynk 1992 table A.1"
		heat   = "heats of combustion, from memory"
		wood   = "wood calorific value by humidity"
	)
	return []groundCase{
		{gotaas, "cabbage C:N", mix("cabbage").CN, 12, 0.5},
		{gotaas, "turnip tops C:N", mix("turnip_tops").CN, 19, 0.5},
		{gotaas, "urine C:N", mix("urine").CN, 0.8, 0.05},
		{gotaas, "sawdust raw C:N", mix("sawdust_raw").CN, 511, 0.5},
		{gotaas, "tomato waste N", mix("tomato_waste").N, 0.033, 0.0005},
		{rynk, "bark hardwood C:N", mix("bark_hardwood").CN, 223, 0.5},
		{rynk, "rice hulls C:N", mix("rice_hulls").CN, 121, 0.5},
		{rynk, "sheep manure C:N", mix("sheep_manure").CN, 16, 0.5},
		{rynk, "leaves dry N", mix("leaves_dry").N, 0.009, 0.0005},
		{"Rose et al. 2015", "faeces moisture", mix("human_faeces").Moisture, 0.746, 0.0005},
		{"Zhang et al. 2007", "food waste methane in 28 d", feed("food_waste").B0, 0.435, 0.0005},
		{"Luna-delRisco et al. 2011", "cattle slurry methane", feed("cattle_slurry").B0, 0.238, 0.0005},
		{"FNR 2012, Guide to Biogas", "grass silage solids", feed("grass_silage").TS, 0.35, 0.005},
		{"FNR 2012, Guide to Biogas", "pig slurry volatile share", feed("pig_manure").VS, 0.80, 0.005},
		{heat, "propane, lower", fuel("bottle").MJ, 46.4, 0.05},
		{heat, "methane, lower", fuel("methane").MJ, 35.88, 0.005},
		{heat, "biogas, 60 % methane (computed)", fuel("biogas").MJ, 0.6 * 35.88, 0.05},
		{wood, "15 % moist", fuel("wood_15").MJ, 15.79, 0.005},
		{wood, "20 % moist", fuel("wood").MJ, 14.72, 0.005},
		{wood, "30 % moist", fuel("wood_30").MJ, 12.58, 0.005},
	}
}

func placeCases(t *testing.T) []groundCase {
	roof := byID(t, loadRoofings, func(r Roofing) string { return r.ID })
	soil := byID(t, loadSoils, func(s SoilTexture) string { return s.ID })
	gate := byID(t, loadGates, func(g Gate) string { return g.ID })
	const (
		f19 = "Allen et al. 1998, FAO-56 table 19 p. 144 (middle, computed)"
		sl  = "40 CFR 503, time and temperature (computed)"
	)
	return []groundCase{
		{f19, "loam field capacity 0.20-0.30", soil("loam").FieldCapacity, 0.25, 0.005},
		{f19, "loam wilting 0.07-0.17", soil("loam").Wilting, 0.12, 0.005},
		{f19, "loam TEW 16-22 mm", soil("loam").TEW, 19, 0.5},
		{f19, "sand REW 2-7 mm", soil("sand").REW, 4.5, 0.05},
		{f19, "clay wilting 0.20-0.24", soil("clay").Wilting, 0.22, 0.005},
		{"Gould and Nissen-Petersen", "corrugated iron, upper 0.85", roof("metal").Coefficient, 0.85, 0.005},
		{"Warwick DTU", "new corrugated iron", roof("metal_new").Coefficient, 0.9, 0.05},
		{"BS 8515:2009, quoted", "tiles, low", roof("tile").Low, 0.75, 0.005},
		{"BS 8515:2009, quoted", "flat smooth roof", roof("flat").Coefficient, 0.5, 0.05},
		{"from memory", "thatch", roof("thatch").Coefficient, 0.2, 0.05},
		{sl, "55 °C, days", gate("class_a_days_55").Value, 131.7e6 / math.Pow(10, 0.14*55), 0.0005},
		{sl, "50 °C, days", gate("class_a_days_50").Value, 131.7e6 / math.Pow(10, 0.14*50), 0.005},
		{"NMAC 20.7.3.809", "washing water, hours", gate("greywater_hours").Value, 24, 0.5},
		{"7 CFR 205.203(c)(1), from memory", "manure, days", gate("manure_touch").Value, 120, 0.5},
		{"Arizona type 1 (400 gal, computed)", "washing water, L a day", gate("greywater_az").Value, 400 * 3.785412, 0.5},
	}
}

func workCases(t *testing.T) []groundCase {
	hours := byID(t, loadWork, func(w Work) string { return w.Task })
	stock := byID(t, loadLivestock, func(l Livestock) string { return l.ID })
	season := 0.0
	for _, m := range []string{"apr", "may", "jun", "jul", "aug"} {
		season += 405 * hours("garden_"+m).Hours
	}
	return []groundCase{
		{"New Alchemy Institute 1976-77", "April to August, 405 m2", season, 241, 0.5},
		{"Pimentel, hand maize, 1,144 h/ha", "h per m2", hours("maize_hand").Hours, 0.1144, 0.00005},
		{"hand watering, 6.8 s per L (computed)", "h per L", hours("can_watering").Hours, 6.8 / 3600, 0.00001},
		{"laying hen, from memory", "mass of an egg, kg", stock("hen_layer").UnitKg, 0.058, 0.0005},
		{"feed of 16 % protein (computed)", "g N per kg", stock("hen_layer").FeedN, 160 / 6.25, 0.05},
		{"USDA NASS honey releases", "kg a colony", stock("honey_bee_mild").Yield, 14, 0.5},
	}
}
