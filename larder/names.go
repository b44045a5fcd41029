package larder

// Names are what the tables of this package call a food of the foods table; an
// empty one stands for no row.
type Names struct {
	Canning     []string
	PH, Prepare string
}

// NamesOf returns the tables' names of a food; none of them set for a food that
// stands in no table. The error tells that the tables can't be read.
func NamesOf(food string) (Names, error) {
	t, err := tables()
	if err != nil {
		return Names{}, err
	}
	return t.names[food], nil
}

// Thawed is one row of the published list for a freezer that has thawed.
type Thawed struct {
	Group, Examples string
	Cold            string  // what to do where ice is left or it is as cold as a refrigerator
	Warm            string  // what to do once it was above 4 °C for Hours
	Hours           float64 // NaN where it does not matter
	Source          string
}

// ThawList returns what to keep and throw after a power cut, by group of food.
func ThawList() ([]Thawed, error) {
	t, err := tables()
	if err != nil {
		return nil, err
	}
	return t.thaw, nil
}

// ThawGroup returns the group of the list that a category of the foods table
// stands in; "dish" for what is none of them, the strictest.
func ThawGroup(category string) string {
	switch category {
	case "meat", "liver", "fish", "shellfish":
		return "meat"
	case "dairy":
		return "dairy"
	case "egg":
		return "egg"
	case "fruit", "berry", "rhubarb", "mild_fruit", "melon", "citrus", "sour_fruit", "cooking_fruit", "dried_fruit", "sugar", "honey":
		return "fruit"
	case "grain", "meal", "nut", "seed", "chestnut", "acorn", "pulse", "fat", "salt":
		return "dry"
	case "leaf", "brassica", "stalk", "wild_leaf", "herb", "salad", "pod", "corn", "fruiting", "tomato", "spice_pod", "squash", "root", "staple_root",
		"sweet_potato", "starchy_fruit", "inulin_root", "bulb", "spice_root", "mushroom", "seaweed", "dried_vegetable":
		return "vegetable"
	}
	return "dish"
}
