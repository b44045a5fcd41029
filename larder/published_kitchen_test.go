package larder

import (
	"fmt"
	"math"
	"testing"
)

// canningSheet is every row of the tested table as its sources print it, typed
// again: minutes to 1,000, 3,000 and 6,000 ft and above. A pressure's minutes do
// not change.
var canningSheet = []struct {
	source, food, pack, jar, method string
	minutes                         [4]float64
}{
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "apple juice", "hot", "pint", BoilingWater, [4]float64{5, 10, 10, 15}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "apple juice", "hot", "quart", BoilingWater, [4]float64{5, 10, 10, 15}},
	{"USDA Complete Guide to Home Canning, apple slices", "apples, sliced", "hot", "pint", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"USDA Complete Guide to Home Canning, apple slices", "apples, sliced", "hot", "quart", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "applesauce", "hot", "pint", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "applesauce", "hot", "quart", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"University of Minnesota Extension canning chart", "asparagus", "hot", "pint", DialGauge, [4]float64{30, 30, 30, 30}},
	{"University of Minnesota Extension canning chart", "asparagus", "hot", "quart", DialGauge, [4]float64{40, 40, 40, 40}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "beans, dry", "hot", "pint", DialGauge, [4]float64{75, 75, 75, 75}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "beans, dry", "hot", "quart", DialGauge, [4]float64{90, 90, 90, 90}},
	{"University of Minnesota Extension canning chart", "beans, lima, shelled", "hot", "pint", DialGauge, [4]float64{40, 40, 40, 40}},
	{"University of Minnesota Extension canning chart", "beans, lima, shelled", "hot", "quart", DialGauge, [4]float64{50, 50, 50, 50}},
	{"USDA AIB 539 (1994), snap beans", "beans, snap", "hot", "pint", DialGauge, [4]float64{20, 20, 20, 20}},
	{"USDA AIB 539 (1994), snap beans", "beans, snap", "hot", "quart", DialGauge, [4]float64{25, 25, 25, 25}},
	{"University of Minnesota Extension canning chart", "beets", "hot", "pint", DialGauge, [4]float64{30, 30, 30, 30}},
	{"University of Minnesota Extension canning chart", "beets", "hot", "quart", DialGauge, [4]float64{35, 35, 35, 35}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "berries, whole", "hot", "pint", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "berries, whole", "hot", "quart", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "berries, whole", "raw", "pint", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "berries, whole", "raw", "quart", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"University of Minnesota Extension canning chart", "carrots", "hot", "pint", DialGauge, [4]float64{25, 25, 25, 25}},
	{"University of Minnesota Extension canning chart", "carrots", "hot", "quart", DialGauge, [4]float64{30, 30, 30, 30}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "cherries", "hot", "pint", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "cherries", "hot", "quart", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "cherries", "raw", "pint", BoilingWater, [4]float64{25, 30, 35, 40}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "cherries", "raw", "quart", BoilingWater, [4]float64{25, 30, 35, 40}},
	{"USDA table of meats, poultry and fish, as reprinted", "chicken or rabbit, boneless", "hot", "pint", DialGauge, [4]float64{75, 75, 75, 75}},
	{"USDA table of meats, poultry and fish, as reprinted", "chicken or rabbit, boneless", "hot", "quart", DialGauge, [4]float64{90, 90, 90, 90}},
	{"USDA table of meats, poultry and fish, as reprinted", "chicken or rabbit, with bones", "hot", "pint", DialGauge, [4]float64{65, 65, 65, 65}},
	{"USDA table of meats, poultry and fish, as reprinted", "chicken or rabbit, with bones", "hot", "quart", DialGauge, [4]float64{75, 75, 75, 75}},
	{"USDA table of meats, poultry and fish, as reprinted", "chili con carne", "hot", "pint", DialGauge, [4]float64{75, 75, 75, 75}},
	{"University of Minnesota Extension canning chart", "corn, cream style", "hot", "pint", DialGauge, [4]float64{85, 85, 85, 85}},
	{"University of Minnesota Extension canning chart", "corn, whole kernel", "hot", "pint", DialGauge, [4]float64{55, 55, 55, 55}},
	{"University of Minnesota Extension canning chart", "corn, whole kernel", "hot", "quart", DialGauge, [4]float64{85, 85, 85, 85}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "cucumber pickles, fermented dill", "raw", "pint", BoilingWater, [4]float64{10, 15, 15, 20}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "cucumber pickles, fermented dill", "raw", "quart", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA table of meats, poultry and fish, as reprinted", "fish (not tuna)", "raw", "pint", DialGauge, [4]float64{100, 100, 100, 100}},
	{"University of Minnesota Extension canning chart", "greens (spinach and other)", "hot", "pint", DialGauge, [4]float64{70, 70, 70, 70}},
	{"University of Minnesota Extension canning chart", "greens (spinach and other)", "hot", "quart", DialGauge, [4]float64{90, 90, 90, 90}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "jams and jellies", "hot", "pint", BoilingWater, [4]float64{5, 10, 10, 15}},
	{"USDA table of meats, poultry and fish, as reprinted", "meat, ground", "hot", "pint", DialGauge, [4]float64{75, 75, 75, 75}},
	{"USDA table of meats, poultry and fish, as reprinted", "meat, ground", "hot", "quart", DialGauge, [4]float64{90, 90, 90, 90}},
	{"USDA table of meats, poultry and fish, as reprinted", "meat, strips or cubes", "hot", "pint", DialGauge, [4]float64{75, 75, 75, 75}},
	{"USDA table of meats, poultry and fish, as reprinted", "meat, strips or cubes", "hot", "quart", DialGauge, [4]float64{90, 90, 90, 90}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "mushrooms", "hot", "pint", DialGauge, [4]float64{45, 45, 45, 45}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "okra", "hot", "pint", DialGauge, [4]float64{25, 25, 25, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "okra", "hot", "quart", DialGauge, [4]float64{40, 40, 40, 40}},
	{"USDA AIB 539, peaches", "peaches, halved or sliced", "hot", "pint", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"USDA AIB 539, peaches", "peaches, halved or sliced", "hot", "quart", BoilingWater, [4]float64{25, 30, 35, 40}},
	{"USDA AIB 539, peaches", "peaches, halved or sliced", "raw", "pint", BoilingWater, [4]float64{25, 30, 35, 40}},
	{"USDA AIB 539, peaches", "peaches, halved or sliced", "raw", "quart", BoilingWater, [4]float64{30, 35, 40, 45}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "pears, halved", "hot", "pint", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "pears, halved", "hot", "quart", BoilingWater, [4]float64{25, 30, 35, 40}},
	{"University of Minnesota Extension canning chart", "peas, green shelled", "hot", "pint", DialGauge, [4]float64{40, 40, 40, 40}},
	{"University of Minnesota Extension canning chart", "peas, green shelled", "hot", "quart", DialGauge, [4]float64{40, 40, 40, 40}},
	{"University of Minnesota Extension canning chart", "peppers, peeled", "hot", "pint", DialGauge, [4]float64{35, 35, 35, 35}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "plums", "hot", "pint", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "plums", "hot", "quart", BoilingWater, [4]float64{25, 30, 35, 40}},
	{"University of Minnesota Extension canning chart", "potatoes, white, cubed or whole", "hot", "pint", DialGauge, [4]float64{35, 35, 35, 35}},
	{"University of Minnesota Extension canning chart", "potatoes, white, cubed or whole", "hot", "quart", DialGauge, [4]float64{40, 40, 40, 40}},
	{"University of Minnesota Extension canning chart", "pumpkin and winter squash, cubed", "hot", "pint", DialGauge, [4]float64{55, 55, 55, 55}},
	{"University of Minnesota Extension canning chart", "pumpkin and winter squash, cubed", "hot", "quart", DialGauge, [4]float64{90, 90, 90, 90}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "rhubarb, stewed", "hot", "pint", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "rhubarb, stewed", "hot", "quart", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "sauerkraut", "hot", "pint", BoilingWater, [4]float64{10, 15, 15, 20}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "sauerkraut", "hot", "quart", BoilingWater, [4]float64{15, 20, 20, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "sauerkraut", "raw", "pint", BoilingWater, [4]float64{20, 25, 30, 35}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "sauerkraut", "raw", "quart", BoilingWater, [4]float64{25, 30, 35, 40}},
	{"Michigan State University Extension 01600886", "soups (vegetable, bean, meat)", "hot", "pint", DialGauge, [4]float64{60, 60, 60, 60}},
	{"Michigan State University Extension 01600886", "soups (vegetable, bean, meat)", "hot", "quart", DialGauge, [4]float64{75, 75, 75, 75}},
	{"USDA table of meats, poultry and fish, as reprinted", "stock (broth)", "hot", "pint", DialGauge, [4]float64{20, 20, 20, 20}},
	{"USDA table of meats, poultry and fish, as reprinted", "stock (broth)", "hot", "quart", DialGauge, [4]float64{25, 25, 25, 25}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "sweet potatoes", "hot", "pint", DialGauge, [4]float64{65, 65, 65, 65}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "sweet potatoes", "hot", "quart", DialGauge, [4]float64{90, 90, 90, 90}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "tomato juice", "hot", "pint", BoilingWater, [4]float64{35, 40, 45, 50}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "tomato juice", "hot", "quart", BoilingWater, [4]float64{40, 45, 50, 55}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "tomatoes, crushed", "hot", "pint", BoilingWater, [4]float64{35, 40, 45, 50}},
	{"USDA Complete Guide to Home Canning, AIB 539 (2015), from memory", "tomatoes, crushed", "hot", "quart", BoilingWater, [4]float64{45, 50, 55, 60}},
	{"USDA Complete Guide to Home Canning, tomatoes in juice", "tomatoes, whole, in tomato juice", "hot", "pint", BoilingWater, [4]float64{85, 90, 95, 100}},
	{"USDA Complete Guide to Home Canning, tomatoes in juice", "tomatoes, whole, in tomato juice", "hot", "quart", BoilingWater, [4]float64{85, 90, 95, 100}},
	{"USDA Complete Guide to Home Canning, guide 3, tomatoes in water", "tomatoes, whole, in water", "hot", "pint", BoilingWater, [4]float64{40, 45, 50, 55}},
	{"USDA Complete Guide to Home Canning, guide 3, tomatoes in water", "tomatoes, whole, in water", "hot", "quart", BoilingWater, [4]float64{45, 50, 55, 60}},
}

// TestPublishedCanning looks every printed time up at both ends of its band.
func TestPublishedCanning(t *testing.T) {
	for _, r := range canningSheet {
		t.Run(fmt.Sprintf("%s/%s %s %s", r.source, r.food, r.pack, r.jar), func(t *testing.T) {
			for band, feet := range [4][2]float64{{0, 1000}, {1001, 3000}, {3001, 6000}, {6001, 8000}} {
				for _, ft := range feet {
					if got := process(r.food, r.pack, r.jar, r.method, ft*0.3048).Minutes; got != r.minutes[band] {
						t.Errorf("at %g ft got %g min, printed %g", ft, got, r.minutes[band])
					}
				}
			}
			if r.method == DialGauge && !math.IsNaN(process(r.food, r.pack, r.jar, BoilingWater, 0).Minutes) {
				t.Error("low-acid food is offered in boiling water")
			}
		})
	}
	if len(canningSheet) < 82 {
		t.Errorf("%d rows", len(canningSheet))
	}
}

func TestPublishedKitchen(t *testing.T) {
	mead, water, err := MeadMust(1, 4)
	if err != nil {
		t.Fatal(err)
	}
	dryer := func(food string, high bool) float64 {
		p, err := Prepare(food)
		if err != nil {
			t.Fatal(err)
		}
		if high {
			return p.DryHi
		}
		return p.DryLow
	}
	litres := func(food string, high bool) float64 {
		set, err := tables()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range set.pressing {
			switch {
			case r.food == food && high:
				return r.high
			case r.food == food:
				return r.low
			}
		}
		return math.NaN()
	}
	sugar := Must{Kg: 1, Litres: 1, Sugar: 1}.Yeast()
	used := 1 - sugar.Sugar
	const reichert = "table after Reichert 1977 (printed values are cut, not rounded)"
	const dried = "University of Georgia, So Easy to Preserve (from memory), h at 60 °C"
	for _, c := range []struct {
		source, name   string
		got, want, tol float64
	}{
		{reichert, "lethal rate at 100 °C", LethalRate(100, RefTemp, BotulinumZ), 0.007, 0.0015},
		{reichert, "lethal rate at 105 °C", LethalRate(105, RefTemp, BotulinumZ), 0.024, 0.0015},
		{reichert, "lethal rate at 110 °C", LethalRate(110, RefTemp, BotulinumZ), 0.077, 0.0006},
		{reichert, "lethal rate at 115 °C", LethalRate(115, RefTemp, BotulinumZ), 0.244, 0.0015},
		{reichert, "lethal rate at 118 °C", LethalRate(118, RefTemp, BotulinumZ), 0.488, 0.0015},
		{reichert, "lethal rate at 121 °C", LethalRate(121, RefTemp, BotulinumZ), 0.974, 0.0015},
		{reichert, "lethal rate at 125 °C", LethalRate(125, RefTemp, BotulinumZ), 2.448, 0.0015},
		{"course of a canner (computed)", "F0, min", F0([]float64{60, 95, 108, 114, 116, 116, 116, 116, 110, 90}, 5), 7.80, 0.02},
		{"definition (computed)", "minutes at 100 °C for an F0 of 2.52", 2.52 / LethalRate(100, RefTemp, BotulinumZ), 325, 0.6},
		{"pasteurisation units of beer (computed)", "20 min at 63 °C", Pasteurisation(20, 63), 54.1, 0.1},
		{"pasteurisation units of beer", "a minute at 60 °C", Pasteurisation(1, 60), 1, 0},
		{"pasteurisation, z of 7 K", "5 min at 60 °C, at 67", 5 * LethalRate(60, 67, 7), 0.5, 1e-12},
		{"1 kg of honey made up to 4 L (computed)", "gravity of the must", mead.Gravity, 1.073, 0.0005},
		{"1 kg of honey made up to 4 L (computed)", "alcohol when dry, %", mead.Yeast().ABV, 9.5, 0.5},
		{"1 kg of honey made up to 4 L (computed)", "kg of water", water, 3.29, 0.03},
		{"Balling (from memory)", "kg of extract for a kg of spirit", used / sugar.Ethanol, 2.0665, 1e-9},
		{"Balling (from memory)", "kg of gas with it", sugar.Gas / sugar.Ethanol, 0.9565, 1e-9},
		{"Balling's real extract (from memory), computed", "% by volume of a must of 1.050 that reads 1.000", must(1, 1.050).Yeast().ABV, ABVBalling(1.050, 1.000), 0.15},
		{"Balling's real extract (from memory), computed", "% by volume of a must of 1.090 that reads 1.000", must(1, 1.090).Yeast().ABV, ABVBalling(1.090, 1.000), 0.35},
		{"vinegar of spirit (from memory)", "% of acid of 1 % by volume, most", 0.789 * acidOfSpirit, 1, 0.04},
		{"common practice, cider", "alcohol of a juice of 1.050, %", must(1, 1.050).Yeast().ABV, 6.5, 0.5},
		{"home press, common practice", "cider, least L of a kg", litres("apple", false), 0.43, 0},
		{"home press, common practice", "cider, most L of a kg", litres("apple", true), 0.61, 0},
		{"12 to 15 lb to a US gallon of wine (from memory)", "least L of a kg", litres("grape_american", false), 3.785 / (15 * 0.4536), 0.005},
		{"12 to 15 lb to a US gallon of wine (from memory)", "most L of a kg", litres("grape_american", true), 3.785 / (12 * 0.4536), 0.005},
		{"North Dakota State University, sauerkraut", "top-up brine, g to a litre", 1000 * BrineSalt(1, BrineShare(0.946, 0.0265)), 28, 0.5},
		{"USDA, cucumbers (from memory)", "5 % brine, g to a litre", 1000 * BrineSalt(1, PickleBrine), 52.6, 0.05},
		{"University of Georgia, sun drying", "least day, °C", SunAt, 30, 0},
		{dried, "apples, least", dryer("apples, slices", false), 6, 0},
		{dried, "apples, most", dryer("apples, slices", true), 12, 0},
		{dried, "snap beans, least", dryer("beans, snap", false), 8, 0},
		{dried, "snap beans, most", dryer("beans, snap", true), 14, 0},
		{dried, "carrots, most", dryer("carrots, sliced", true), 12, 0},
		{dried, "tomatoes, most", dryer("tomatoes", true), 18, 0},
		{dried, "plums, most", dryer("plums (prunes)", true), 36, 0},
		{"University of Georgia, freezing (from memory)", "lb of food to a cubic foot in a day", FreezeRate * 28.3168 / 0.45359237, 3, 0.01},
		{"Fraser and Lackey 2004", "lb of packed food to a cubic foot", FreezerPacking * 28.3168 / 0.45359237, 35, 0.1},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.6g, printed %.6g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}
