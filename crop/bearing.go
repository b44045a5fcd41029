package crop

import (
	"math"
	"strings"
)

// bearing years of the curves below; before year 1 nothing is borne.
var bearingYears = [8]float64{1, 2, 3, 4, 5, 6, 8, 10}

// bearingCurve returns the share of mature yield in bearingYears of a kind of
// perennial; strawberry and banana are renewed where the table ends. From
// memory and common practice.
func bearingCurve(kind string) (c [8]float64, ok bool) {
	switch kind {
	case "strawberry":
		return [8]float64{0, 1, 0.8, 0.5, 0.5, 0.5, 0.5, 0.5}, true
	case "cane": // raspberry, blackberry
		return [8]float64{0, 0.4, 0.9, 1, 1, 1, 0.9, 0.7}, true
	case "bush": // currant, gooseberry
		return [8]float64{0, 0.2, 0.5, 0.8, 1, 1, 1, 1}, true
	case "blueberry":
		return [8]float64{0, 0, 0.15, 0.3, 0.5, 0.7, 1, 1}, true
	case "asparagus":
		return [8]float64{0, 0, 0.4, 0.8, 1, 1, 1, 1}, true
	case "grape":
		return [8]float64{0, 0, 0.3, 0.7, 1, 1, 1, 1}, true
	case "pome": // apple, pear on dwarfing stock
		return [8]float64{0, 0, 0.15, 0.35, 0.55, 0.75, 1, 1}, true
	case "pome strong": // on strong stock
		return [8]float64{0, 0, 0, 0.05, 0.1, 0.2, 0.5, 0.8}, true
	case "stone": // peach, sour cherry, plum
		return [8]float64{0, 0, 0.2, 0.4, 0.7, 0.9, 1, 0.9}, true
	case "citrus": // citrus, mango, avocado, grafted
		return [8]float64{0, 0, 0.1, 0.2, 0.35, 0.5, 0.8, 1}, true
	case "banana": // banana, plantain, papaya
		return [8]float64{0.3, 1, 1, 0.8, 0.8, 0.8, 0.8, 0.8}, true
	case "hazelnut":
		return [8]float64{0, 0, 0.05, 0.15, 0.3, 0.5, 0.8, 1}, true
	case "nut": // chestnut, walnut, grafted
		return [8]float64{0, 0, 0, 0.05, 0.1, 0.15, 0.3, 0.5}, true
	}
	return c, false
}

// Bearing returns the share of mature yield (0..1) at an age in years after
// planting. form is a kind of the bearing table ("pome", "cane", "nut" ...),
// whose years are joined by straight lines, or a life form: annual, biennial and
// cover crops always give 1; any other rises straight from the year before
// bearFrom to 1 at bearFull (0 for both: 1). Kinds still rising in the table's
// last years rise on at that rate. From memory and common practice.
func Bearing(form string, age, bearFrom, bearFull float64) float64 {
	if c, ok := bearingCurve(form); ok {
		return onCurve(c, age)
	}
	if yearly(form) || bearFull <= 0 {
		return 1
	}
	start := math.Max(bearFrom-1, 0)
	if bearFull <= start {
		return step(age >= bearFull)
	}
	return clamp((age-start)/(bearFull-start), 0, 1)
}

func yearly(form string) bool {
	return strings.HasPrefix(form, "annual") || strings.HasPrefix(form, "biennial") || form == "cover"
}

func step(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func onCurve(c [8]float64, age float64) float64 {
	from, was := 0.0, 0.0
	for i, year := range bearingYears {
		if age <= year {
			return was + math.Max(age-from, 0)/(year-from)*(c[i]-was)
		}
		from, was = year, c[i]
	}
	return math.Min(was+(age-from)*math.Max(c[7]-c[6], 0)/2, math.Max(was, 1))
}
