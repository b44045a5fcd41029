package larder

import (
	"math"
	"testing"

	"evenstead/data"
)

// whyApart says why the lives reckoned with are not those of a source that other
// sources of the same food contradict.
var whyApart = map[string]string{
	"USDA FSIS food storage set":                    "advice for shop-bought packs in a kitchen: weeks for what cellars keep for months, and one life for whole and milled grain",
	"New England guide table 16, after Handbook 66": "market quality, below its own source for some crops",
	"USDA Handbook 66 (1954)":                       "a later or longer table of the same food was taken",
	"ASHRAE commodity table":                        "another table of the same food was taken",
	"ASHRAE/USDA fruit table L3.3":                  "another table of the same food was taken",
	"Cantwell 2001":                                 "another table of the same food was taken",
	"Utah State University Extension":               "its most, where the least is a year of quality; berries as soft ones",
	"a long-term store list, as reprinted":          "thirty years in sealed cans without air, not in a pantry",
	"NCHFP":                                         "longer printed months of the same food were taken, or the class's",
	"Rees et al. 2003":                              "Handbook 66 was taken",
}

// TestStorageSourcesDiffer lists the printed rows that the reckoning does not
// follow, with how many times the printed life it takes: a table changed unseen
// would move them.
func TestStorageSourcesDiffer(t *testing.T) {
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range apart {
		printed := math.Sqrt(c.lo * c.hi)
		got := c.life(tab)
		if whyApart[c.source] == "" {
			t.Errorf("%s, %s: no reason is given", c.source, c.name)
		}
		if !(math.Abs(got/printed/c.times-1) < 0.02) {
			t.Errorf("%s, %s: %.3g days against %g to %g is %.3g times, listed as %g", c.source, c.name, got, c.lo, c.hi, got/printed, c.times)
		}
		if got >= c.lo-0.5 && got <= c.hi+0.5 {
			t.Errorf("%s, %s: agrees now: it belongs among the published cases", c.source, c.name)
		}
	}
}

var apart = []struct {
	printedLife
	times float64
}{
	{printedLife{"USDA FSIS food storage set", "amaranth grain, dried at 20 °C", "amaranth_grain", "dry", 20, 0, 122, 122}, 5.98},
	{printedLife{"USDA FSIS food storage set", "amaranth leaves, fridge at 4 °C", "amaranth_leaves", "fresh", 4, 0, 1, 4}, 4.7},
	{printedLife{"USDA FSIS food storage set", "apple, fridge at 4 °C", "apple", "fresh", 4, 0, 28, 42}, 4.29},
	{printedLife{"Cantwell 2001", "apple, cellar at 4 °C", "apple", "fresh", 4, 0.925, 30, 60}, 3.09},
	{printedLife{"USDA FSIS food storage set", "apple, fresh at 20 °C", "apple", "fresh", 20, 0, 21, 21}, 0.976},
	{printedLife{"USDA FSIS food storage set", "apple, frozen at -18 °C", "apple", "frozen", -18, 0, 243, 243}, 2.25},
	{printedLife{"Utah State University Extension", "apple, frozen at -17.8 °C", "apple", "frozen", -17.8, 0, 547, 547}, 0.978},
	{printedLife{"Utah State University Extension", "apple, canned at 4.4 °C", "apple", "jarred", 4.4, 0, 1460, 1460}, 0.5},
	{printedLife{"Utah State University Extension", "apple, canned at 21.1 °C", "apple", "jarred", 21.1, 0, 730, 730}, 0.707},
	{printedLife{"Utah State University Extension", "apple, canned at 32.2 °C", "apple", "jarred", 32.2, 0, 365, 365}, 0.706},
	{printedLife{"a long-term store list, as reprinted", "apple dried, dried at 20 °C", "apple_dried", "dried", 20, 0, 10950, 10950}, 0.0253},
	{printedLife{"Utah State University Extension", "apricot, fridge at 4 °C", "apricot", "fresh", 4, 0, 21, 21}, 0.417},
	{printedLife{"Utah State University Extension", "apricot, canned at 4.4 °C", "apricot", "jarred", 4.4, 0, 1460, 1460}, 0.5},
	{printedLife{"Utah State University Extension", "apricot, canned at 21.1 °C", "apricot", "jarred", 21.1, 0, 730, 730}, 0.707},
	{printedLife{"Utah State University Extension", "apricot, canned at 32.2 °C", "apricot", "jarred", 32.2, 0, 365, 365}, 0.706},
	{printedLife{"New England guide table 16, after Handbook 66", "asparagus, fresh at 1.1 °C", "asparagus", "fresh", 1.1, 0.95, 7, 14}, 1.73},
	{printedLife{"USDA FSIS food storage set", "asparagus, fridge at 4 °C", "asparagus", "fresh", 4, 0, 3, 4}, 4.07},
	{printedLife{"USDA FSIS food storage set", "avocado, fridge at 4 °C", "avocado", "fresh", 4, 0, 3, 4}, 5.72},
	{printedLife{"ASHRAE/USDA fruit table L3.3", "avocado, fresh at 8.6 °C", "avocado", "fresh", 8.6, 0.875, 14, 28}, 0.589},
	{printedLife{"USDA FSIS food storage set", "barley hulled, dried at 20 °C", "barley_hulled", "dry", 20, 0, 182, 182}, 4.91},
	{printedLife{"USDA FSIS food storage set", "basil, fridge at 4 °C", "basil", "fresh", 4, 0, 7, 10}, 0.632},
	{printedLife{"USDA FSIS food storage set", "bean kidney, dried at 20 °C", "bean_kidney", "dry", 20, 0, 365, 730}, 1.73},
	{printedLife{"a long-term store list, as reprinted", "bean pinto, dried at 20 °C", "bean_pinto", "dry", 20, 0, 10950, 10950}, 0.0471},
	{printedLife{"New England guide table 16, after Handbook 66", "beet, fresh at 0 °C", "beet", "fresh", 0, 0, 7, 14}, 7.75},
	{printedLife{"USDA Handbook 66 (1954)", "beet, cellar at 0 °C", "beet", "fresh", 0, 0.925, 49, 56}, 1.46},
	{printedLife{"ASHRAE commodity table", "beet, cellar at 0 °C", "beet", "fresh", 0, 0.99, 120, 120}, 0.639},
	{printedLife{"USDA FSIS food storage set", "beet, fridge at 4 °C", "beet", "fresh", 4, 0, 7, 14}, 7.75},
	{printedLife{"USDA FSIS food storage set", "beet, fresh at 20 °C", "beet", "fresh", 20, 0, 1, 1}, 15.5},
	{printedLife{"ASHRAE commodity table", "beet, fresh at 20 °C", "beet", "fresh", 20, 0.99, 10, 14}, 1.31},
	{printedLife{"USDA FSIS food storage set", "beet greens, fridge at 4 °C", "beet_greens", "fresh", 4, 0, 1, 4}, 4.95},
	{printedLife{"ASHRAE/USDA fruit table L3.3", "blackberry, fresh at -0.3 °C", "blackberry", "fresh", -0.3, 0.925, 2, 3}, 1.73},
	{printedLife{"Utah State University Extension", "blueberry, fridge at 4 °C", "blueberry", "fresh", 4, 0, 3, 3}, 3.3},
	{printedLife{"USDA FSIS food storage set", "broccoli, fridge at 4 °C", "broccoli", "fresh", 4, 0, 3, 5}, 1.87},
	{printedLife{"USDA Handbook 66 (1954)", "brussels sprouts, cellar at 0 °C", "brussels_sprouts", "fresh", 0, 0.925, 28, 28}, 0.968},
	{printedLife{"USDA FSIS food storage set", "brussels sprouts, fridge at 4 °C", "brussels_sprouts", "fresh", 4, 0, 3, 5}, 4.92},
	{printedLife{"USDA FSIS food storage set", "buckwheat, dried at 20 °C", "buckwheat", "dry", 20, 0, 61, 61}, 8.46},
	{printedLife{"New England guide table 16, after Handbook 66", "cabbage, cellar at 0 °C", "cabbage", "fresh", 0, 0.925, 21, 42}, 3.27},
	{printedLife{"USDA FSIS food storage set", "cabbage, fridge at 4 °C", "cabbage", "fresh", 4, 0, 7, 14}, 6.93},
	{printedLife{"USDA FSIS food storage set", "cantaloupe, fridge at 4 °C", "cantaloupe", "fresh", 4, 0, 14, 14}, 0.707},
	{printedLife{"a long-term store list, as reprinted", "carrot, dried at 20 °C", "carrot", "dried", 20, 0, 7300, 7300}, 0.0189},
	{printedLife{"New England guide table 16, after Handbook 66", "carrot, cellar at 0 °C", "carrot", "fresh", 0, 0.925, 30, 30}, 6.48},
	{printedLife{"USDA Handbook 66 (1954)", "carrot, cellar at 0 °C", "carrot", "fresh", 0, 0.925, 112, 140}, 1.55},
	{printedLife{"USDA FSIS food storage set", "carrot, fridge at 4 °C", "carrot", "fresh", 4, 0, 14, 21}, 8.78},
	{printedLife{"USDA FSIS food storage set", "cassava, fridge at 4 °C", "cassava", "fresh", 4, 0, 3, 3}, 14.1},
	{printedLife{"USDA FSIS food storage set", "cauliflower, fridge at 4 °C", "cauliflower", "fresh", 4, 0, 3, 5}, 4.37},
	{printedLife{"NCHFP", "chicken meat skin, frozen at -18 °C", "chicken_meat_skin", "frozen", -18, 0, 182, 274}, 1.63},
	{printedLife{"USDA FSIS food storage set", "chicory greens, fridge at 4 °C", "chicory_greens", "fresh", 4, 0, 1, 4}, 4.95},
	{printedLife{"USDA FSIS food storage set", "chives, fridge at 4 °C", "chives", "fresh", 4, 0, 7, 10}, 1.43},
	{printedLife{"USDA FSIS food storage set", "coconut meat, fridge at 4 °C", "coconut_meat", "fresh", 4, 0, 14, 21}, 1.92},
	{printedLife{"USDA FSIS food storage set", "collards, fridge at 4 °C", "collards", "fresh", 4, 0, 1, 4}, 3.62},
	{printedLife{"USDA FSIS food storage set", "collards, frozen at -18 °C", "collards", "frozen", -18, 0, 304, 365}, 0.894},
	{printedLife{"USDA FSIS food storage set", "cowpea leaves, fridge at 4 °C", "cowpea_leaves", "fresh", 4, 0, 1, 4}, 4.95},
	{printedLife{"USDA FSIS food storage set", "cranberry, fridge at 4 °C", "cranberry", "fresh", 4, 0, 61, 61}, 1.39},
	{printedLife{"New England guide table 16, after Handbook 66", "cucumber, fresh at 10 °C", "cucumber", "fresh", 10, 0.925, 7, 14}, 2},
	{printedLife{"USDA FSIS food storage set", "dandelion, fridge at 4 °C", "dandelion", "fresh", 4, 0, 1, 4}, 4.95},
	{printedLife{"USDA FSIS food storage set", "egg hen, fridge at 4 °C", "egg_hen", "fresh", 4, 0, 21, 35}, 2.86},
	{printedLife{"New England guide table 16, after Handbook 66", "eggplant, fresh at 10 °C", "eggplant", "fresh", 10, 0.925, 7, 7}, 1.26},
	{printedLife{"USDA FSIS food storage set", "eggplant, fresh at 20 °C", "eggplant", "fresh", 20, 0, 1, 1}, 6},
	{printedLife{"USDA FSIS food storage set", "garlic, fridge at 4 °C", "garlic", "fresh", 4, 0, 3, 14}, 23.2},
	{printedLife{"USDA FSIS food storage set", "garlic, fresh at 20 °C", "garlic", "fresh", 20, 0, 30, 30}, 3.87},
	{printedLife{"USDA FSIS food storage set", "ginger, fresh at 20 °C", "ginger", "fresh", 20, 0, 2, 5}, 19},
	{printedLife{"NCHFP", "goat meat, frozen at -18 °C", "goat_meat", "frozen", -18, 0, 91, 122}, 2},
	{printedLife{"Utah State University Extension", "gooseberry, fridge at 4 °C", "gooseberry", "fresh", 4, 0, 3, 3}, 4.67},
	{printedLife{"ASHRAE/USDA fruit table L3.3", "grape american, cellar at -0.85 °C", "grape_american", "fresh", -0.85, 0.925, 90, 180}, 0.156},
	{printedLife{"USDA FSIS food storage set", "jicama, fresh at 20 °C", "jicama", "fresh", 20, 0, 122, 122}, 0.116},
	{printedLife{"USDA FSIS food storage set", "kale, fridge at 4 °C", "kale", "fresh", 4, 0, 3, 5}, 1.87},
	{printedLife{"New England guide table 16, after Handbook 66", "kohlrabi, cellar at 0 °C", "kohlrabi", "fresh", 0, 0.925, 14, 28}, 2},
	{printedLife{"USDA FSIS food storage set", "kohlrabi, fridge at 4 °C", "kohlrabi", "fresh", 4, 0, 7, 7}, 4.41},
	{printedLife{"Cantwell 2001", "leek, cellar at 0 °C", "leek", "fresh", 0, 0.975, 60, 60}, 0.772},
	{printedLife{"USDA FSIS food storage set", "leek, fridge at 4 °C", "leek", "fresh", 4, 0, 7, 14}, 3.71},
	{printedLife{"USDA FSIS food storage set", "lemon, fridge at 4 °C", "lemon", "fresh", 4, 0, 10, 21}, 5.07},
	{printedLife{"USDA FSIS food storage set", "lemon, fresh at 20 °C", "lemon", "fresh", 20, 0, 10, 10}, 4.35},
	{printedLife{"USDA FSIS food storage set", "lentil, dried at 20 °C", "lentil", "dry", 20, 0, 365, 365}, 2.45},
	{printedLife{"USDA Handbook 66 (1954)", "lettuce leaf, cellar at 0 °C", "lettuce_leaf", "fresh", 0, 0.925, 14, 28}, 0.283},
	{printedLife{"New England guide table 16, after Handbook 66", "lettuce leaf, fresh at 1.1 °C", "lettuce_leaf", "fresh", 1.1, 0.95, 14, 21}, 0.408},
	{printedLife{"USDA FSIS food storage set", "lima bean, dried at 20 °C", "lima_bean", "dry", 20, 0, 365, 730}, 1.73},
	{printedLife{"a long-term store list, as reprinted", "maize yellow, dried at 20 °C", "maize_yellow", "dry", 20, 0, 10950, 10950}, 0.0471},
	{printedLife{"USDA FSIS food storage set", "malabar spinach, fridge at 4 °C", "malabar_spinach", "fresh", 4, 0, 1, 4}, 4.95},
	{printedLife{"USDA FSIS food storage set", "malabar spinach, frozen at -18 °C", "malabar_spinach", "frozen", -18, 0, 304, 365}, 0.894},
	{printedLife{"USDA FSIS food storage set", "millet, dried at 20 °C", "millet", "dry", 20, 0, 61, 61}, 12},
	{printedLife{"NCHFP", "mulberry, dried at 15.6 °C", "mulberry", "dried", 15.6, 0, 365, 365}, 0.706},
	{printedLife{"NCHFP", "mulberry, dried at 26.7 °C", "mulberry", "dried", 26.7, 0, 182, 182}, 0.89},
	{printedLife{"USDA FSIS food storage set", "mustard greens, fridge at 4 °C", "mustard_greens", "fresh", 4, 0, 1, 4}, 4.95},
	{printedLife{"USDA FSIS food storage set", "mustard greens, frozen at -18 °C", "mustard_greens", "frozen", -18, 0, 304, 365}, 0.894},
	{printedLife{"New England guide table 16, after Handbook 66", "napa cabbage, cellar at 0 °C", "napa_cabbage", "fresh", 0, 0.925, 28, 56}, 1.73},
	{printedLife{"USDA FSIS food storage set", "napa cabbage, fridge at 4 °C", "napa_cabbage", "fresh", 4, 0, 182, 365}, 0.188},
	{printedLife{"USDA FSIS food storage set", "nettle blanched, fridge at 4 °C", "nettle_blanched", "fresh", 4, 0, 1, 4}, 4.95},
	{printedLife{"USDA FSIS food storage set", "oats, dried at 20 °C", "oats", "dry", 20, 0, 122, 122}, 4.23},
	{printedLife{"a long-term store list, as reprinted", "oats, dried at 20 °C", "oats", "dry", 20, 0, 10950, 10950}, 0.0471},
	{printedLife{"New England guide table 16, after Handbook 66", "okra, fresh at 8.6 °C", "okra", "fresh", 8.6, 0.95, 7, 7}, 1.12},
	{printedLife{"USDA FSIS food storage set", "okra, fresh at 20 °C", "okra", "fresh", 20, 0, 1, 1}, 6},
	{printedLife{"USDA Handbook 66 (1954)", "onion, cellar at 0 °C", "onion", "fresh", 0, 0.725, 196, 196}, 0.386},
	{printedLife{"USDA FSIS food storage set", "onion, fridge at 4 °C", "onion", "fresh", 4, 0, 61, 61}, 1.7},
	{printedLife{"USDA FSIS food storage set", "onion, fresh at 20 °C", "onion", "fresh", 20, 0, 30, 30}, 2.83},
	{printedLife{"USDA FSIS food storage set", "orange, fridge at 4 °C", "orange", "fresh", 4, 0, 10, 21}, 3.67},
	{printedLife{"USDA FSIS food storage set", "pak choi, fridge at 4 °C", "pak_choi", "fresh", 4, 0, 2, 3}, 4.04},
	{printedLife{"USDA FSIS food storage set", "parsley, fridge at 4 °C", "parsley", "fresh", 4, 0, 7, 10}, 3.59},
	{printedLife{"USDA FSIS food storage set", "parsnip, fridge at 4 °C", "parsnip", "fresh", 4, 0, 14, 21}, 7.9},
	{printedLife{"USDA FSIS food storage set", "peanut, fridge at 4 °C", "peanut", "fresh", 4, 0, 365, 365}, 0.86},
	{printedLife{"USDA FSIS food storage set", "peanut, pantry at 20 °C", "peanut", "fresh", 20, 0, 122, 122}, 2.57},
	{printedLife{"USDA Handbook 66 (1954)", "pepper sweet green, fresh at 8.6 °C", "pepper_sweet_green", "fresh", 8.6, 0.875, 7, 14}, 1.54},
	{printedLife{"NCHFP", "perch, frozen at -18 °C", "perch", "frozen", -18, 0, 91, 182}, 1.63},
	{printedLife{"NCHFP", "pike northern, frozen at -18 °C", "pike_northern", "frozen", -18, 0, 91, 182}, 1.63},
	{printedLife{"USDA FSIS food storage set", "pinyon, fridge at 4 °C", "pinyon", "fresh", 4, 0, 91, 91}, 2.82},
	{printedLife{"USDA FSIS food storage set", "pinyon, pantry at 20 °C", "pinyon", "fresh", 20, 0, 14, 21}, 14.9},
	{printedLife{"USDA FSIS food storage set", "pomegranate, fresh at 20 °C", "pomegranate", "fresh", 20, 0, 2, 5}, 8.07},
	{printedLife{"USDA FSIS food storage set", "potato, fridge at 4 °C", "potato", "fresh", 4, 0, 7, 14}, 17.7},
	{printedLife{"New England guide table 16, after Handbook 66", "potato, cellar at 4.4 °C", "potato", "fresh", 4.4, 0.9, 60, 120}, 2.06},
	{printedLife{"NCHFP", "rabbit domestic, frozen at -18 °C", "rabbit_domestic", "frozen", -18, 0, 91, 122}, 2.6},
	{printedLife{"USDA FSIS food storage set", "radish, fridge at 4 °C", "radish", "fresh", 4, 0, 10, 14}, 0.632},
	{printedLife{"Utah State University Extension", "redcurrant, fridge at 4 °C", "redcurrant", "fresh", 4, 0, 3, 3}, 2.41},
	{printedLife{"USDA FSIS food storage set", "rice brown, dried at 20 °C", "rice_brown", "dry", 20, 0, 365, 365}, 1.41},
	{printedLife{"Utah State University Extension", "rice brown, dried at 21.1 °C", "rice_brown", "dry", 21.1, 0, 182, 182}, 0.707},
	{printedLife{"a long-term store list, as reprinted", "rice white, dried at 20 °C", "rice_white", "dry", 20, 0, 10950, 10950}, 0.0667},
	{printedLife{"USDA FSIS food storage set", "rutabaga, fridge at 4 °C", "rutabaga", "fresh", 4, 0, 14, 21}, 3.59},
	{printedLife{"USDA FSIS food storage set", "rutabaga, fresh at 20 °C", "rutabaga", "fresh", 20, 0, 7, 7}, 2.22},
	{printedLife{"USDA FSIS food storage set", "rye, dried at 20 °C", "rye", "dry", 20, 0, 182, 182}, 4.01},
	{printedLife{"USDA FSIS food storage set", "sauerkraut, fridge at 4 °C", "sauerkraut", "fresh", 4, 0, 182, 365}, 0.403},
	{printedLife{"New England guide table 16, after Handbook 66", "scallion, fresh at 0 °C", "scallion", "fresh", 0, 0.925, 7, 10}, 2.01},
	{printedLife{"USDA FSIS food storage set", "sorghum, dried at 20 °C", "sorghum", "dry", 20, 0, 122, 122}, 5.98},
	{printedLife{"USDA FSIS food storage set", "split pea, dried at 20 °C", "split_pea", "dry", 20, 0, 365, 365}, 2.45},
	{printedLife{"USDA FSIS food storage set", "squash winter, fresh at 20 °C", "squash_winter", "fresh", 20, 0, 14, 42}, 3.5},
	{printedLife{"USDA FSIS food storage set", "strawberry, fridge at 4 °C", "strawberry", "fresh", 4, 0, 2, 3}, 1.67},
	{printedLife{"Utah State University Extension", "strawberry, fridge at 4 °C", "strawberry", "fresh", 4, 0, 3, 3}, 1.36},
	{printedLife{"a long-term store list, as reprinted", "sugar, dried at 20 °C", "sugar", "dry", 20, 0, 10950, 10950}, 0.1},
	{printedLife{"Rees et al. 2003", "sweet potato, cellar at 0 °C", "sweet_potato", "fresh", 0, 0, 90, 120}, 1.53},
	{printedLife{"Rees et al. 2003", "sweet potato, cellar at 14 °C", "sweet_potato", "fresh", 14, 0.9, 365, 365}, 0.435},
	{printedLife{"USDA FSIS food storage set", "sweet potato leaves, fridge at 4 °C", "sweet_potato_leaves", "fresh", 4, 0, 1, 4}, 4.95},
	{printedLife{"USDA FSIS food storage set", "sweetcorn, fridge at 4 °C", "sweetcorn", "fresh", 4, 0, 1, 2}, 3.35},
	{printedLife{"USDA FSIS food storage set", "taro, fresh at 20 °C", "taro", "fresh", 20, 0, 7, 7}, 1.41},
	{printedLife{"NCHFP", "tilapia, frozen at -18 °C", "tilapia", "frozen", -18, 0, 91, 182}, 1.63},
	{printedLife{"USDA FSIS food storage set", "turnip, fridge at 4 °C", "turnip", "fresh", 4, 0, 14, 14}, 7.25},
	{printedLife{"USDA FSIS food storage set", "turnip greens, fridge at 4 °C", "turnip_greens", "fresh", 4, 0, 1, 4}, 3.62},
	{printedLife{"NCHFP", "venison, frozen at -18 °C", "venison", "frozen", -18, 0, 91, 122}, 2},
	{printedLife{"USDA FSIS food storage set", "vinegar cider, pantry at 20 °C", "vinegar_cider", "fresh", 20, 0, 730, 730}, 1.22},
	{printedLife{"USDA FSIS food storage set", "walnut black, pantry at 20 °C", "walnut_black", "fresh", 20, 0, 14, 28}, 13.2},
	{printedLife{"USDA FSIS food storage set", "walnut english, pantry at 20 °C", "walnut_english", "fresh", 20, 0, 14, 28}, 15.9},
	{printedLife{"USDA FSIS food storage set", "watermelon, fridge at 4 °C", "watermelon", "fresh", 4, 0, 3, 4}, 4.04},
	{printedLife{"USDA FSIS food storage set", "watermelon, fresh at 20 °C", "watermelon", "fresh", 20, 0, 1, 2}, 5.66},
	{printedLife{"USDA FSIS food storage set", "watermelon, frozen at -18 °C", "watermelon", "frozen", -18, 0, 30, 30}, 12.2},
	{printedLife{"USDA FSIS food storage set", "wheat flour whole, pantry at 20 °C", "wheat_flour_whole", "fresh", 20, 0, 182, 365}, 0.499},
	{printedLife{"a long-term store list, as reprinted", "wheat hard red winter, dried at 20 °C", "wheat_hard_red_winter", "dry", 20, 0, 10950, 10950}, 0.0816},
}
