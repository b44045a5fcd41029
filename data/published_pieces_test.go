package data

import (
	"math"
	"testing"
)

// TestPublishedPieces are the weights of a piece as their sources print them, of so
// many pieces as are printed, in g: every row of the table. The last cases weigh what
// is whole: the USDA prints the edible part, and of two kinds the whole as well.
func TestPublishedPieces(t *testing.T) {
	tab := loaded(t)
	g := func(food, word string, count float64) float64 {
		if p, ok := tab.Piece(food, word); ok {
			return 1000 * count * p.Kg
		}
		return math.NaN()
	}
	whole := func(food, word string) float64 {
		f, ok := tab.Food(food)
		if !ok {
			return math.NaN()
		}
		return g(food, word, 1) / (1 - f.Refuse)
	}
	const usda = "USDA SR27, weights of household measures"
	cases := []publishedFood{
		{usda, "apple: medium (3\" dia), g", g("apple", "apple", 1), 182, 1e-9},
		{usda, "apricot: apricot, g", g("apricot", "apricot", 1), 35, 1e-9},
		{usda, "artichoke: artichoke, medium, g", g("artichoke", "artichoke", 1), 128, 1e-9},
		{usda, "asparagus: spear, medium (5-1/4\" to 7\" long), g", g("asparagus", "spear", 1), 16, 1e-9},
		{usda, "avocado: avocado, NS as to Florida or California, g", g("avocado", "avocado", 1), 201, 1e-9},
		{usda, "banana: medium (7\" to 7-7/8\" long), g", g("banana", "banana", 1), 118, 1e-9},
		{usda, "beet: beet (2\" dia), g", g("beet", "beet", 1), 82, 1e-9},
		{usda, "bitter_gourd: balsam-pear, g", g("bitter_gourd", "gourd", 1), 124, 1e-9},
		{usda, "broccoli: bunch, g", g("broccoli", "bunch", 1), 608, 1e-9},
		{usda, "broccoli: stalk, g", g("broccoli", "stalk", 1), 151, 1e-9},
		{usda, "brussels_sprouts: sprout, g", g("brussels_sprouts", "sprout", 1), 19, 1e-9},
		{usda, "burdock_root: root, g", g("burdock_root", "root", 1), 156, 1e-9},
		{usda, "cabbage: head, medium (about 5-3/4\" dia), g", g("cabbage", "head", 1), 908, 1e-9},
		{usda, "cabbage_red: head, medium (about 5\" dia), g", g("cabbage_red", "head", 1), 839, 1e-9},
		{usda, "cantaloupe: melon, medium (about 5\" dia), g", g("cantaloupe", "melon", 1), 552, 1e-9},
		{usda, "carrot: medium, g", g("carrot", "carrot", 1), 61, 1e-9},
		{usda, "cassava: root, g", g("cassava", "root", 1), 408, 1e-9},
		{usda, "cauliflower: head medium (5-6\" dia.), g", g("cauliflower", "head", 1), 588, 1e-9},
		{usda, "celery: stalk, medium (7-1/2\" - 8\" long), g", g("celery", "stalk", 1), 40, 1e-9},
		{usda, "chayote: chayote (5-3/4\"), g", g("chayote", "chayote", 1), 203, 1e-9},
		{usda, "cherry_sweet: cherry, g", g("cherry_sweet", "cherry", 1), 8.2, 1e-9},
		{usda, "cucumber: cucumber (8-1/4\"); pickling kinds are a third of it, g", g("cucumber", "cucumber", 1), 301, 1e-9},
		{usda, "daikon: radish (7\" long), g", g("daikon", "radish", 1), 338, 1e-9},
		{usda, "eggplant: eggplant, peeled (yield from 1-1/4 lb), g", g("eggplant", "eggplant", 1), 458, 1e-9},
		{usda, "endive: head, g", g("endive", "head", 1), 513, 1e-9},
		{usda, "fig: medium (2-1/4\" dia), g", g("fig", "fig", 1), 50, 1e-9},
		{usda, "garlic: clove, g", g("garlic", "clove", 1), 3.0, 1e-9},
		{usda, "grape_american: grape, g", g("grape_american", "grape", 1), 2.4, 1e-9},
		{usda, "guava: fruit, without refuse, g", g("guava", "guava", 1), 55, 1e-9},
		{usda, "jicama: medium, g", g("jicama", "root", 1), 659, 1e-9},
		{usda, "leek: leek, g", g("leek", "leek", 1), 89, 1e-9},
		{usda, "lemon: fruit (2-1/8\" dia), g", g("lemon", "lemon", 1), 58, 1e-9},
		{usda, "lettuce_leaf: head; leaf lettuce: iceberg heads weigh more, g", g("lettuce_leaf", "head", 1), 360, 1e-9},
		{usda, "lettuce_romaine: head, g", g("lettuce_romaine", "head", 1), 626, 1e-9},
		{usda, "loquat: medium, g", g("loquat", "loquat", 1), 16, 1e-9},
		{usda, "lotus_root: root (9-1/2\" long), g", g("lotus_root", "root", 1), 115, 1e-9},
		{usda, "mango: fruit without refuse, g", g("mango", "mango", 1), 336, 1e-9},
		{usda, "okra: pods (3\" long), g", g("okra", "pod", 8), 95, 1e-9},
		{usda, "onion: medium (2-1/2\" dia), g", g("onion", "onion", 1), 110, 1e-9},
		{usda, "orange: fruit (2-5/8\" dia), g", g("orange", "orange", 1), 131, 1e-9},
		{usda, "pak_choi: head, g", g("pak_choi", "head", 1), 840, 1e-9},
		{usda, "peach: medium (2-2/3\" dia), g", g("peach", "peach", 1), 150, 1e-9},
		{usda, "pear: medium, g", g("pear", "pear", 1), 178, 1e-9},
		{usda, "pepper_hot_red: pepper, g", g("pepper_hot_red", "pepper", 1), 45, 1e-9},
		{usda, "pepper_sweet_green: medium (approx 2-3/4\" long, 2-1/2\" dia), g", g("pepper_sweet_green", "pepper", 1), 119, 1e-9},
		{usda, "pepper_sweet_red: medium (approx 2-3/4\" long, 2-1/2 dia.), g", g("pepper_sweet_red", "pepper", 1), 119, 1e-9},
		{usda, "persimmon_japanese: fruit (2-1/2\" dia), g", g("persimmon_japanese", "persimmon", 1), 168, 1e-9},
		{usda, "persimmon_native: fruit without refuse, g", g("persimmon_native", "persimmon", 1), 25, 1e-9},
		{usda, "pineapple: fruit, g", g("pineapple", "pineapple", 1), 905, 1e-9},
		{usda, "plantain: medium, g", g("plantain", "plantain", 1), 179, 1e-9},
		{usda, "plum: fruit (2-1/8\" dia), g", g("plum", "plum", 1), 66, 1e-9},
		{usda, "pomegranate: pomegranate (4\" dia), g", g("pomegranate", "pomegranate", 1), 282, 1e-9},
		{usda, "potato: Potato medium (2-1/4\" to 3-1/4\" dia); with its skin: the row of refuse is for parings, g", g("potato", "potato", 1), 213, 1e-9},
		{usda, "prickly_pear: fruit without refuse, g", g("prickly_pear", "fruit", 1), 103, 1e-9},
		{usda, "quince: fruit without refuse, g", g("quince", "quince", 1), 92, 1e-9},
		{usda, "radish: medium (3/4\" to 1\" dia), g", g("radish", "radish", 1), 4.5, 1e-9},
		{usda, "rhubarb: stalk, g", g("rhubarb", "stalk", 1), 51, 1e-9},
		{usda, "rutabaga: medium, g", g("rutabaga", "rutabaga", 1), 386, 1e-9},
		{usda, "scallion: medium (4-1/8\" long), g", g("scallion", "scallion", 1), 15, 1e-9},
		{usda, "shiitake: piece whole, g", g("shiitake", "mushroom", 1), 19, 1e-9},
		{usda, "snap_bean: beans (4\" long), g", g("snap_bean", "bean", 10), 55, 1e-9},
		{usda, "spinach: bunch, g", g("spinach", "bunch", 1), 340, 1e-9},
		{"growers of Waltham butternut, 4 to 5 lb a fruit, g", "squash_butternut: 4.5 lb; other kinds of squash weigh from 0.5 kg to 10 kg, g", g("squash_butternut", "squash", 1), 2041, 1e-9},
		{"growers of Waltham butternut, 4 to 5 lb a fruit, g", "squash_winter: 4.5 lb; other kinds of squash weigh from 0.5 kg to 10 kg, g", g("squash_winter", "squash", 1), 2041, 1e-9},
		{usda, "strawberry: medium (1-1/4\" dia), g", g("strawberry", "strawberry", 1), 12, 1e-9},
		{usda, "surinam_cherry: fruit without refuse, g", g("surinam_cherry", "cherry", 1), 7.0, 1e-9},
		{usda, "sweet_potato: sweetpotato, 5\" long, g", g("sweet_potato", "sweet potato", 1), 130, 1e-9},
		{usda, "sweetcorn: ear, medium (6-3/4\" to 7-1/2\" long) yields; the kernels of an ear, g", g("sweetcorn", "ear", 1), 102, 1e-9},
		{usda, "swiss_chard: leaf, g", g("swiss_chard", "leaf", 1), 48, 1e-9},
		{usda, "tomato: medium whole (2-3/5\" dia); cherry tomatoes 17 g, plum tomatoes 62 g, g", g("tomato", "tomato", 1), 123, 1e-9},
		{usda, "turnip: medium, g", g("turnip", "turnip", 1), 122, 1e-9},
		{usda, "watermelon: melon (15\" long x 7-1/2\" dia), g", g("watermelon", "melon", 1), 4518, 1e-9},
		{usda, "white_mushroom: medium, g", g("white_mushroom", "mushroom", 1), 18, 1e-9},
		{usda, "zucchini: medium, g", g("zucchini", "zucchini", 1), 196, 1e-9},
		{usda, "sweet green pepper, large: 2-1/4 per lb whole, 164 g edible (the table's medium scaled), g", whole("pepper_sweet_green", "pepper") * 164 / 119, 453.6 / 2.25, 2},
		{usda, "eggplant: 1-1/4 lb whole, g", whole("eggplant", "eggplant"), 1.25 * 453.6, 3},
	}
	for _, c := range cases {
		if math.Abs(c.got-c.want) > c.tol || math.IsNaN(c.got) {
			t.Errorf("%s, %s: %v, printed %v", c.source, c.name, c.got, c.want)
		}
	}
	if rows := len(cases) - 2; rows != len(tab.Pieces) {
		t.Errorf("%d rows, and %d cases", len(tab.Pieces), rows)
	}
}

// TestPieces: every row is of a food, weighs something, and a bare number has one
// meaning.
func TestPieces(t *testing.T) {
	tab := loaded(t)
	bare := map[string]bool{}
	for _, p := range tab.Pieces {
		if _, ok := tab.Food(p.Food); !ok {
			t.Errorf("pieces.csv has %q, which is no food", p.Food)
		}
		if !(p.Kg > 0.001 && p.Kg < 10) || len(p.Words) == 0 {
			t.Errorf("one %s weighs %g kg and is called %q", p.Food, p.Kg, p.Words)
		}
		if p.Bare && bare[p.Food] {
			t.Errorf("a number of %s alone has two meanings", p.Food)
		}
		bare[p.Food] = bare[p.Food] || p.Bare
	}
	if p, ok := tab.Piece("garlic", "clove"); !ok || p.Kg != 0.003 {
		t.Errorf("a clove of garlic is %+v", p)
	}
	for _, none := range [][2]string{{"garlic", ""}, {"garlic", "head"}, {"pumpkin", ""}, {"onion", "clove"}} {
		if p, ok := tab.Piece(none[0], none[1]); ok {
			t.Errorf("one %q of %s weighs %g kg", none[1], none[0], p.Kg)
		}
	}
	own := tab.Weighing(Piece{Food: "garlic", Bare: true, Kg: 0.06})
	if p, ok := own.Piece("garlic", "head"); !ok || p.Kg != 0.06 {
		t.Errorf("one's own head of garlic is %+v", p)
	}
	if _, ok := tab.Piece("garlic", ""); ok {
		t.Error("the tables are changed")
	}
}
