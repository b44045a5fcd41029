package larder

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Ways to heat jars.
const (
	BoilingWater  = "boiling water"
	DialGauge     = "dial gauge"     // pressure canner with a dial
	WeightedGauge = "weighted gauge" // pressure canner with a weight
)

// Batch is a load of jars of one food.
type Batch struct {
	Food     string  // as in CanningFoods
	Pack     string  // hot, raw
	Jar      string  // pint (473 mL) or quart (946 mL); see JarOf
	Method   string  // boiling water, dial gauge, weighted gauge
	Altitude float64 // m
}

// Process is a tested time and pressure.
type Process struct {
	Minutes float64
	KPa     float64 // gauge pressure; 0 in boiling water
	Acidify bool    // add the tested acid to every jar
	Note    string
	Source  string // says "from memory" where the figure was not seen in print
}

// Acidify is the acid each jar of tomatoes or figs needs (USDA; figs from memory).
const Acidify = "To each quart (0.95 L): 30 mL of bottled lemon juice, or 2.5 mL of citric acid, or 60 mL of vinegar of 5 %; half of that to a pint."

// Untested is why there is no time outside the table.
const Untested = "an untested time can leave botulism alive: use only a tested recipe of your extension service or food authority, or freeze or dry it instead"

// Processing returns the tested time and pressure of a batch. Altitude is taken
// up to the end of its band, and nothing is interpolated: a food, pack, jar or
// method that the table does not print is an error that says so.
//
// Times are those of the USDA guide as carried by US extension services. Gauge
// pressures hold about 115 °C and rise with altitude in place of time; steam is
// vented a full 10 minutes first. Pressure bands end at 2,438 m (8,000 ft).
func Processing(b Batch) (Process, error) {
	t, err := tables()
	if err != nil {
		return Process{}, err
	}
	if math.IsNaN(b.Altitude) || b.Altitude < -500 || b.Altitude > 6000 {
		return Process{}, fmt.Errorf("canning at %g m: altitude must be from -500 to 6000 m", b.Altitude)
	}
	row, err := t.canning.row(b)
	if err != nil {
		return Process{}, err
	}
	kpa, err := pressure(b)
	if err != nil {
		return Process{}, err
	}
	return Process{row.minutes[timeBand(b.Altitude)], kpa, row.class == "acidified", row.note, row.source}, nil
}

// feet returns an altitude in m as whole feet, taken up; the bands are printed in
// feet. A thousandth of a foot is left to the rounding of conversions.
func feet(altitude float64) float64 { return math.Ceil(altitude/0.3048 - 0.001) }

// timeBand is the column of a boiling-water time: to 1,000, 3,000 and 6,000 ft
// (305, 914, 1,829 m), and above.
func timeBand(altitude float64) int {
	switch ft := feet(altitude); {
	case ft <= 1000:
		return 0
	case ft <= 3000:
		return 1
	case ft <= 6000:
		return 2
	}
	return 3
}

// pressure returns kPa by gauge. A dial rises by band: 11 psi to 2,000 ft (610
// m), 12 to 4,000, 13 to 6,000, 14 to 8,000. A weight has two: 10 psi to 1,000
// ft, 15 above. Source: USDA AIB 539 (1994).
func pressure(b Batch) (float64, error) {
	switch ft := feet(b.Altitude); {
	case b.Method == BoilingWater:
		return 0, nil
	case ft > 8000:
		return 0, fmt.Errorf("canning at %g m: tested pressures end at 2438 m; %s", b.Altitude, Untested)
	case b.Method == WeightedGauge && ft <= 1000:
		return 68.9, nil
	case b.Method == WeightedGauge:
		return 103.4, nil
	case ft <= 2000:
		return 75.8, nil
	case ft <= 4000:
		return 82.7, nil
	case ft <= 6000:
		return 89.6, nil
	}
	return 96.5, nil
}

type canningRow struct {
	food, class, method, pack, jar string
	minutes                        [4]float64
	note, source                   string
}

type canningTable []canningRow

// row narrows the table by food, method, pack and jar in turn, so that the error
// names the first that fails.
func (t canningTable) row(b Batch) (canningRow, error) {
	method := b.Method
	switch method {
	case DialGauge, WeightedGauge:
		method = "pressure"
	case BoilingWater:
	default:
		return canningRow{}, fmt.Errorf("canning method %q: write %s, %s or %s", b.Method, BoilingWater, DialGauge, WeightedGauge)
	}
	rows := t
	for _, step := range []struct {
		what, got string
		of        func(canningRow) string
		fits      func(cell string) bool
	}{
		{"food", b.Food, func(r canningRow) string { return r.food }, func(c string) bool { return strings.EqualFold(c, b.Food) }},
		{"method", b.Method, func(r canningRow) string { return r.method }, func(c string) bool { return c == method }},
		{"pack", b.Pack, func(r canningRow) string { return r.pack }, func(c string) bool { return packed(c, b.Pack) }},
		{"jar", b.Jar, func(r canningRow) string { return r.jar }, func(c string) bool { return c == b.Jar }},
	} {
		left := slices.DeleteFunc(slices.Clone(rows), func(r canningRow) bool { return !step.fits(step.of(r)) })
		if len(left) == 0 {
			return canningRow{}, refusal(rows, b, step.what, step.got, step.of)
		}
		rows = left
	}
	return rows[0], nil
}

// packed tells whether a cell such as "hot or raw" or "hot, soaked" allows a pack.
func packed(cell, pack string) bool {
	return pack != "" && slices.Contains(strings.FieldsFunc(cell, func(r rune) bool { return r == ' ' || r == ',' }), pack) && pack != "or"
}

func refusal(rows canningTable, b Batch, what, got string, of func(canningRow) string) error {
	if what == "food" {
		return fmt.Errorf("canning %q: no tested time in the table; %s", b.Food, Untested)
	}
	if what == "method" && rows[0].class == "low-acid" {
		return fmt.Errorf("canning %s in boiling water: low-acid food is canned under pressure only, for spores outlive boiling; %s", b.Food, Untested)
	}
	var known []string
	for _, r := range rows {
		if v := of(r); !slices.Contains(known, v) {
			known = append(known, v)
		}
	}
	return fmt.Errorf("canning %s, %s %q: tested only for %s; %s", b.Food, what, got, strings.Join(known, ", "), Untested)
}

// CanningFoods returns the foods that have a tested time, in the table's order.
func CanningFoods() ([]string, error) {
	t, err := tables()
	if err != nil {
		return nil, err
	}
	var foods []string
	for _, r := range t.canning {
		if !slices.Contains(foods, r.food) {
			foods = append(foods, r.food)
		}
	}
	return foods, nil
}

// JarOf returns the tested jar that covers a jar of so many litres: the next
// size up. Jars over a quart have no tested time and are an error.
func JarOf(litres float64) (string, error) {
	switch {
	case litres > 0 && litres <= 0.4735:
		return "pint", nil
	case litres > 0 && litres <= 0.9465:
		return "quart", nil
	}
	return "", fmt.Errorf("a jar of %g L: tested times are for up to a quart (0.946 L); %s", litres, Untested)
}
