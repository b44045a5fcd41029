package unit

import "strings"

// Lengths in metres, exact since the yard and pound agreement of 1959.
const (
	inch = 0.0254
	foot = 12 * inch
	yard = 3 * foot
	mile = 5280 * foot
)

// Volumes in litres: the US gallon is 231 cubic inches, the US bushel 2150.42,
// both exact (Handbook 44, appendix C); the imperial gallon is 4.54609 L, exact
// (SP 811, B.8).
const (
	cubicInch   = inch * inch * inch * 1000
	gallon      = 231 * cubicInch
	bushel      = 2150.42 * cubicInch
	cubicFoot   = 1728 * cubicInch
	imperialGal = 4.54609
)

// pound is the avoirdupois pound in kg, exact (SP 811, B.8).
const pound = 0.45359237

// Energies in MJ: the International Table Btu, exact as 1055.05585262 J
// (SP 811, B.8 prints 1.055056 E+03), and the thermochemical kilocalorie of
// 4184 J that food tables use, exact (SP 811, B.8).
const (
	btu  = 1055.05585262e-6
	kcal = 4184e-6
)

// Mean Gregorian year and its twelfth, in hours.
const (
	yearHours  = 365.2425 * 24
	monthHours = yearHours / 12
)

// simple holds the units of each kind that stand alone.
var simple = map[Kind][]measure{
	Length: join(
		names(1, "m", "metre", "metres", "meter", "meters"),
		names(0.001, "mm", "millimetre", "millimetres", "millimeter", "millimeters"),
		names(0.01, "cm", "centimetre", "centimetres", "centimeter", "centimeters"),
		names(1000, "km", "kilometre", "kilometres", "kilometer", "kilometers"),
		names(inch, "in", "inch", "inches", `"`, "″"),
		names(foot, "ft", "foot", "feet", "'", "′"),
		names(yard, "yd", "yard", "yards"),
		names(mile, "mi", "mile", "miles")),
	Area: join(
		names(1, "m2", "m²", "sq m", "square metre", "square metres", "square meter", "square meters"),
		names(1e-4, "cm2", "cm²"),
		names(1e4, "ha", "hectare", "hectares"),
		names(1e6, "km2", "km²"),
		names(foot*foot, "ft2", "ft²", "sq ft", "sqft", "square foot", "square feet"),
		names(yard*yard, "yd2", "yd²", "sq yd", "square yard", "square yards"),
		names(43560*foot*foot, "acre", "acres", "ac")), // international acre
	Volume: join(
		names(1, "L", "l", "litre", "litres", "liter", "liters"),
		names(0.001, "mL", "ml", "cm3", "cm³", "millilitre", "millilitres", "milliliter", "milliliters"),
		names(0.1, "dL", "dl"), names(0.01, "cL", "cl"),
		names(1000, "m3", "m³", "cubic metre", "cubic metres", "cubic meter", "cubic meters"),
		names(gallon, "gal", "gals", "gallon", "gallons", "US gal", "US gallon", "US gallons"),
		names(gallon/4, "qt", "qts", "quart", "quarts"),
		names(gallon/8, "pt", "pts", "pint", "pints"),
		names(gallon/16, "cup", "cups"),
		names(gallon/128, "fl oz", "floz", "fluid ounce", "fluid ounces"),
		names(gallon/256, "tbsp", "tablespoon", "tablespoons"),
		names(gallon/768, "tsp", "teaspoon", "teaspoons"),
		names(bushel, "bu", "bushel", "bushels"),
		names(cubicFoot, "ft3", "ft³", "cu ft", "cubic foot", "cubic feet"),
		names(27*cubicFoot, "yd3", "yd³", "cu yd", "cubic yard", "cubic yards"),
		names(128*cubicFoot, "cord", "cords"),
		names(imperialGal, "imp gal", "imperial gal", "imperial gallon", "imperial gallons"),
		names(imperialGal/4, "imp qt", "imperial quart", "imperial quarts"),
		names(imperialGal/8, "imp pt", "imperial pint", "imperial pints")),
	Mass: join(
		names(1, "kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"),
		names(0.001, "g", "gram", "grams"), names(1e-6, "mg", "milligram", "milligrams"),
		names(1000, "t", "tonne", "tonnes"),
		names(pound, "lb", "lbs", "pound", "pounds"),
		names(pound/16, "oz", "ounce", "ounces"),
		names(2000*pound, "short ton", "short tons"),
		names(2240*pound, "long ton", "long tons")),
	Temperature: join(
		names(1, "°C", "C", "degC", "deg C", "Celsius"),
		shifted(5.0/9, -32*5.0/9, "°F", "F", "degF", "deg F", "Fahrenheit"),
		shifted(1, -273.15, "K")),
	Depth: join(
		names(1, "mm", "millimetre", "millimetres", "millimeter", "millimeters", "L/m2", "L/m²"),
		names(10, "cm"), names(25.4, "in", "inch", "inches", `"`)),
	Energy: join(
		names(1, "MJ"), names(1e-6, "J"), names(0.001, "kJ"), names(1000, "GJ"),
		names(3.6, "kWh"), names(0.0036, "Wh"), names(kcal, "kcal"), names(btu, "Btu")),
	Power: join(
		names(1, "W", "watt", "watts"), names(1000, "kW", "kilowatt", "kilowatts"),
		names(1e6/86400, "MJ/day"), names(btu*1e6/3600, "Btu/h"),
		names(550*foot*pound*9.80665, "hp", "horsepower")), // 550 ft lbf/s
	Time: join(
		names(1, "h", "hr", "hrs", "hour", "hours"),
		names(1.0/60, "min", "mins", "minute", "minutes"),
		names(1.0/3600, "s", "sec", "second", "seconds"),
		names(24, "d", "day", "days"), names(168, "week", "weeks", "wk")),
	Speed: join(names(1, "m/s"), names(1/3.6, "km/h", "kph", "kmh"), names(mile/3600, "mph")),
	Share: names(0.01, "%", "percent", "per cent"),
}

// periods are what a rate may be over, in hours.
var periods = join(simple[Time],
	names(monthHours, "month", "months"),
	names(yearHours, "year", "years", "yr", "y"))

// A ratio is a kind written as one unit over another.
type ratio struct {
	over, under []measure
	scale       float64 // SI units of the kind in one SI over one SI
}

var ratios = map[Kind]ratio{
	Flow:      {simple[Volume], periods, 24},
	MassRate:  {simple[Mass], periods, 24},
	ArealMass: {simple[Mass], simple[Area], 1},
	Speed:     {simple[Length], periods, 1.0 / 3600},
}

func names(factor float64, words ...string) []measure { return shifted(factor, 0, words...) }

func shifted(factor, offset float64, words ...string) []measure {
	out := make([]measure, len(words))
	for i, w := range words {
		out[i] = measure{w, factor, offset}
	}
	return out
}

func join(lists ...[]measure) (out []measure) {
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// spelt reports whether text may stand for word. Case is forgiven except in a
// two-letter symbol led by m, where it tells milli from mega.
func spelt(text, word string) bool {
	if text == word {
		return true
	}
	if len(word) == 2 && (word[0] == 'm' || word[0] == 'M') {
		return false
	}
	return strings.EqualFold(text, word)
}
