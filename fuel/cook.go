package fuel

import "math"

// Heat of water.
const (
	WaterMJ = 4.186e-3 // MJ/kg/K
	SteamMJ = 2.257    // MJ/kg evaporated at 100 °C
)

// Propane and butane, MJ/kg.
const (
	BottleMJ    = 46.35 // bottled gas, lower heat value (propane, from memory)
	BottleHigh  = 50.12 // propane, higher heat value: 21,548 Btu/lb, suppliers' tables
	woodDryMJ   = 19.0  // oven-dry wood, lower heat value (range 18.5-19.0)
	woodWaterMJ = 2.44  // heat to drive off a kg of its water
)

// Efficiencies of the usual hearths and stoves, share of fuel heat that reaches the pot.
const (
	ThreeStone  = 0.10 // 5-15 % (a review of stoves in Pakistan; tended 10-20, from memory)
	Rocket      = 0.30 // 25-35 % (from memory)
	RocketSkirt = 0.50 // with a tight skirt about the pot (Aprovecho)
	Charcoal    = 0.30 // improved stove, 25-35 % (from memory)
	BottleRing  = 0.50 // 50-60 %
	GasRing     = 0.55 // digester gas: 55 % least of an Indian standard (from memory), 60 % (FAO 1996)
	SunBox      = 0.25 // 15-35 % of what falls on the aperture (from memory)
	Hotplate    = 0.70 // electric (common practice)
)

// WoodMJ returns the lower heat value [MJ/kg as burnt] of wood at a moisture, share of wet
// mass. Never under 0; moisture outside 0 to 1 counts as the nearer end.
//
//	19.0 (1 - M) - 2.44 M
//
// Follows a printed table to within 0.1 MJ/kg.
func WoodMJ(moisture float64) float64 {
	m := min(1, max(0, moisture))
	return max(0, woodDryMJ*(1-m)-woodWaterMJ*m)
}

// WetBasis returns moisture as a share of wet mass from moisture as a share of dry mass.
func WetBasis(dryBasis float64) float64 { return dryBasis / (1 + dryBasis) }

// BoilMJ returns the heat [MJ] that brings kg of water from fromC to toC; 0 when it is
// already there.
func BoilMJ(kg, fromC, toC float64) float64 { return kg * WaterMJ * max(0, toC-fromC) }

// FuelFor returns the fuel [in the unit of perUnit] for heat [MJ] in the pot at an
// efficiency and a heat value perUnit [MJ]; +Inf where either gives nothing.
func FuelFor(heat, efficiency, perUnit float64) float64 {
	if !(efficiency > 0) || !(perUnit > 0) {
		return math.Inf(1)
	}
	return heat / efficiency / perUnit
}

// Kept returns the temperature [°C] of food hours after it was put at start in an insulated
// box, with ambient air, conductance ua [W/K] and heat capacity [kJ/K].
//
//	Ta + (T0 - Ta) exp(-UA t/C)
//
// Food stays above 60 °C until eaten or is reheated to 74 °C.
func Kept(start, ambient, ua, capacity, hours float64) float64 {
	return ambient + (start-ambient)*math.Exp(-ua*hours*3.6/capacity)
}

// Pressure returns the air pressure [kPa] at an altitude [m]:
// 101.3 ((293 - 0.0065 z)/293)^5.26, FAO-56 eq. 7 (from memory). Up to about 11,000 m.
func Pressure(altitude float64) float64 {
	return 101.3 * math.Pow((293-0.0065*altitude)/293, 5.26)
}

// BoilingPoint returns the temperature [°C] at which water boils at an altitude [m], by
// Pressure and Antoine's equation in mmHg (from memory).
//
//	T = 1730.63/(8.07131 - log10 P) - 233.426
func BoilingPoint(altitude float64) float64 {
	mmHg := Pressure(altitude) / 101.325 * 760
	return 1730.63/(8.07131-math.Log10(mmHg)) - 233.426
}
