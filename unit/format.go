package unit

import (
	"math"
	"strconv"
	"strings"
)

const nbsp = "\u00a0"

// A rung is one unit of a ladder: it is used from `from` of it upwards.
type rung struct {
	word   string
	factor float64 // SI units in one of it
	from   float64 // least amount, in this unit
}

// ladders go from the largest unit down; the last serves what is smaller still.
var ladders = map[System]map[Kind][]rung{
	Metric: {
		Length:    {{"km", 1000, 1}, {"m", 1, 1}, {"cm", 0.01, 1}, {"mm", 0.001, 0}},
		Area:      {{"ha", 1e4, 1}, {"m²", 1, 0.01}, {"cm²", 1e-4, 0}},
		Volume:    {{"m³", 1000, 100}, {"L", 1, 1}, {"mL", 0.001, 0}},
		Mass:      {{"t", 1000, 10}, {"kg", 1, 1}, {"g", 0.001, 1}, {"mg", 1e-6, 0}},
		Depth:     {{"mm", 1, 0}},
		Energy:    {{"GJ", 1000, 10}, {"MJ", 1, 1}, {"kJ", 0.001, 0}},
		Power:     {{"kW", 1000, 1}, {"W", 1, 0}},
		Time:      {{"h", 1, 1}, {"min", 1.0 / 60, 0}},
		Flow:      {{"L/day", 1, 1}, {"mL/day", 0.001, 0}},
		MassRate:  {{"kg/day", 1, 1}, {"g/day", 0.001, 0}},
		ArealMass: {{"kg/m²", 1, 0.1}, {"g/m²", 0.001, 0}},
		Speed:     {{"km/h", 1 / 3.6, 0}},
	},
	US: {
		Length:    {{"mi", mile, 1}, {"ft", foot, 1}, {"in", inch, 0}},
		Area:      {{"acre", 43560 * foot * foot, 1}, {"ft²", foot * foot, 0}},
		Volume:    {{"gal", gallon, 1}, {"qt", gallon / 4, 1}, {"fl oz", gallon / 128, 0}},
		Mass:      {{"lb", pound, 1}, {"oz", pound / 16, 0}},
		Depth:     {{"in", 25.4, 0}},
		Energy:    {{"kWh", 3.6, 1}, {"Wh", 0.0036, 0}},
		Power:     {{"kW", 1000, 1}, {"W", 1, 0}},
		Time:      {{"h", 1, 1}, {"min", 1.0 / 60, 0}},
		Flow:      {{"gal/day", gallon, 0.1}, {"fl oz/day", gallon / 128, 0}},
		MassRate:  {{"lb/day", pound, 1}, {"oz/day", pound / 16, 0}},
		ArealMass: {{"lb/ft²", pound / (foot * foot), 0.1}, {"oz/ft²", pound / 16 / (foot * foot), 0}},
		Speed:     {{"mph", mile / 3600, 0}},
	},
}

// Format prints an SI amount of kind k in system s with three figures (whole
// numbers from 100 up), commas between thousands and a no-break space before
// the unit. NaN prints as "not known".
func Format(v float64, k Kind, s System) string {
	switch {
	case math.IsNaN(v):
		return "not known"
	case k == Number:
		return comma(v, 3)
	case k == Angle:
		return trimZeros(strconv.FormatFloat(v, 'f', 4, 64)) + "°"
	case k == Share:
		return comma(v*100, 3) + nbsp + "%"
	case k == Temperature && s == US:
		return oneDecimal(v*9/5+32) + nbsp + "°F"
	case k == Temperature:
		return oneDecimal(v) + nbsp + "°C"
	}
	r := choose(v, ladders[s][k])
	return comma(v/r.factor, 3) + nbsp + r.word
}

// choose takes the largest rung the amount fills; nothing at all is told in
// the unit of everyday use, the one nearest SI.
func choose(v float64, ladder []rung) rung {
	if v == 0 {
		return everyday(ladder)
	}
	for _, r := range ladder {
		if math.Abs(figures(v/r.factor, 3)) >= r.from {
			return r
		}
	}
	return rung{"", 1, 0}
}

func everyday(ladder []rung) rung {
	best := rung{"", 1, 0}
	gap := math.Inf(1)
	for _, r := range ladder {
		if d := math.Abs(math.Log(r.factor)); d < gap {
			best, gap = r, d
		}
	}
	return best
}

// figures rounds to n significant figures, never coarser than whole numbers.
func figures(v float64, n int) float64 {
	f, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals(v, n), 64), 64)
	if err != nil {
		return v
	}
	return f
}

// decimals is the number of decimals that show n significant figures of v.
func decimals(v float64, n int) int {
	if v == 0 || math.IsInf(v, 0) {
		return 0
	}
	e := int(math.Floor(math.Log10(math.Abs(v))))
	return min(max(n-1-e, 0), 12)
}

func comma(v float64, n int) string {
	s := trimZeros(strconv.FormatFloat(v, 'f', decimals(v, n), 64))
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "−", s[1:]
	}
	whole, part, _ := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if part != "" {
		part = "." + part
	}
	if whole+part == "0" {
		sign = ""
	}
	return sign + whole + part
}

func oneDecimal(v float64) string {
	s := trimZeros(strconv.FormatFloat(v, 'f', 1, 64))
	if s == "-0" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

func trimZeros(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
