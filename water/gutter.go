package water

// GutterFall is the fall of a gutter toward its outlet, m/m: half an inch in ten
// feet. Source: trade rule.
const GutterFall = 0.5 / 120

// GutterFlow returns what a gutter must carry [L/s]: A i / 3600, with plan area
// A [m2] and rain rate i [mm/h].
func GutterFlow(areaM2, mmPerHour float64) float64 { return areaM2 * mmPerHour / 3600 }

// PitchFactor returns by how much wind-driven rain raises the area a gutter
// drains, from the roof's slope (rise over run). Source: trade table, 1.0 to 3
// in 12, 1.05 to 5, 1.1 to 8, 1.2 to 11, 1.3 from 12 in 12.
func PitchFactor(slope float64) float64 {
	switch in12 := slope * 12; {
	case in12 < 4:
		return 1
	case in12 < 6:
		return 1.05
	case in12 < 9:
		return 1.1
	case in12 < 12:
		return 1.2
	}
	return 1.3
}

// DownspoutOpening returns the cross-section of downspout [cm2] for a roof area
// [m2] at a rain rate [mm/h]: one square inch for 1,200 ft2 at one inch an hour.
// Source: trade rule.
func DownspoutOpening(areaM2, mmPerHour float64) float64 {
	const inch2, roof, rate = 6.4516, 1200 * 0.09290304, 25.4
	return inch2 * areaM2 / roof * mmPerHour / rate
}

// StandPipe returns the length of pipe [m] of a bore [m] that holds a first flush
// of some litres.
func StandPipe(litres, bore float64) float64 { return litres / 1000 / circle(bore) }
