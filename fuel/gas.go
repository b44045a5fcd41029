package fuel

import "math"

// Digester gas.
const (
	MethaneMJ  = 35.88 // MJ/m3 at 0 °C, 1 atm, lower heat value (from memory, heats of combustion)
	UsualCH4   = 0.60  // share of methane (Bond and Templeton 2011: 50-70 %)
	StoveFlow  = 300.0 // L/h through a household burner (GTZ 1993; range 200-450)
	GasPerMeal = 225.0 // L a person and meal (after GTZ and Estoppey 2010: 150-300)
	HoldOutput = 0.55  // share of a day's gas that a store should hold (from memory, 50-60 %)
)

// BiogasMJ returns the lower heat value [MJ/m3] of dry gas at 0 °C with the given methane
// share; 21.5 at 60 %. Gas as it comes, warm and wet, holds AsMet of it.
func BiogasMJ(methane float64) float64 { return methane * MethaneMJ }

// AsMet returns the dry gas at 0 °C in a volume of gas at tempC and 1 atm, saturated with
// water, as a share: 0.89 at 25 °C.
//
//	273.15/(T + 273.15) (1 - es/101.325),  es = 0.6108 exp(17.27 T/(T + 237.3)) kPa
func AsMet(tempC float64) float64 {
	es := 0.6108 * math.Exp(17.27*tempC/(tempC+237.3))
	return 273.15 / (tempC + 273.15) * max(0, 1-es/101.325)
}

// BiogasDensity returns kg/m3 of dry gas at 0 °C with the given methane share, the rest
// carbon dioxide: 1.215 at 60 %, 0.94 of air. Do not count on it rising.
func BiogasDensity(methane float64) float64 {
	return (methane*massCH4 + (1-methane)*massCO2) / MolarVolume
}

// GasOf returns the gas [m3 at 0 °C, dry] from digested volatile solids [kg] that give b0 m3
// of methane a kg, at the given methane share, and its mass [kg], which the slurry loses.
// A methane share of zero or less gives none.
func GasOf(digested, b0, methane float64) (m3, kg float64) {
	if !(methane > 0) {
		return 0, 0
	}
	m3 = digested * b0 / methane
	return m3, m3 * BiogasDensity(methane)
}

// FreeAmmonia returns the share of ammonia nitrogen that is free NH3 at a pH and tempC.
//
//	1 / (1 + 10^(pKa - pH)),  pKa = 0.09018 + 2729.92/(T + 273.15)
//
// Hansen et al. 1998, from memory.
func FreeAmmonia(pH, tempC float64) float64 {
	pKa := 0.09018 + 2729.92/(tempC+273.15)
	return 1 / (1 + math.Pow(10, pKa-pH))
}

// RetentionDays returns the least and usual most days that slurry should stay at its mean
// temperature: 40-50 over 25 °C, 50-60 over 20, 60-90 over 15, else 90-120 (household
// manuals, from memory).
func RetentionDays(tempC float64) (least, most float64) {
	switch {
	case tempC >= 25:
		return 40, 50
	case tempC >= 20:
		return 50, 60
	case tempC >= 15:
		return 60, 90
	}
	return 90, 120
}

// LoadLimit returns the most volatile solids a simple digester takes [kg/m3/d]: 1.5 (Werner
// et al. 1989) at 25 °C and over, less in proportion to RetentionDays where cooler
// (computed), none under 4 °C, over 40 or at NaN.
func LoadLimit(tempC float64) float64 {
	if !(tempC >= 4 && tempC <= 40) {
		return 0
	}
	least, most := RetentionDays(tempC)
	return 1.5 * 90 / (least + most)
}

// LoadCheck reports whether feeding vs kg of volatile solids per m3 of liquid and day suits
// slurry at tempC, and why not.
func LoadCheck(vs, tempC float64) (ok bool, why string) {
	limit := LoadLimit(tempC)
	switch {
	case !(vs >= 0):
		return false, "the load is not known"
	case vs == 0:
		return true, ""
	case math.IsNaN(tempC):
		return false, "the slurry temperature is not known"
	case limit == 0:
		return false, "the slurry is too cold or too hot to digest: do not feed"
	case vs > limit:
		return false, "more feed than the slurry takes at its temperature: it will turn sour; feed less or warm it"
	}
	return true, ""
}

// PHCheck reports whether slurry of a pH may be fed, and what to do: it works at 6.8-7.5,
// feeding stops under 6.6, gas stops near 6.0-6.2 (Chen et al. 2008, from memory).
func PHCheck(pH float64) (ok bool, why string) {
	switch {
	case !(pH > 0 && pH <= 14):
		return false, "the pH is not known"
	case pH < 6.2:
		return false, "sour: gas is stopping; stop feeding, add ripe slurry or a little lime, and wait"
	case pH < 6.6:
		return false, "turning sour: stop feeding until the pH is over 6.8"
	case pH < 6.8:
		return true, "low: feed half and measure again"
	case pH > 8.5:
		return false, "too much ammonia: stop rich feeds and dilute"
	}
	return true, ""
}

// SourSigns returns what is seen when a digester is overfed or chilled, most telling first.
func SourSigns() []string {
	return []string{
		"pH under 6.6",
		"less gas for the same feed, or gas that will not hold a flame (much carbon dioxide)",
		"a sharp vinegar smell instead of earth or tar",
		"foam or a scum that lifts",
		"after a change of feed, a cold week or a doubled ration",
	}
}
