package fuel

import "errors"

// Panels and batteries.
const (
	Derate      = 0.75 // of a panel's rated power that reaches the battery (0.70-0.75, sizing guide)
	LeadDepth   = 0.5  // share of a lead-acid battery to use (common practice)
	LithiumDeep = 0.8  // share of a lithium iron phosphate battery to use (common practice)
	wattHour    = 0.0036
)

// PanelW returns the panel [W] that makes wh a day in the given hours of full sun at a derate.
func PanelW(wh, sunHours, derate float64) (float64, error) {
	if !(wh >= 0) || !(sunHours > 0) || !(derate > 0) {
		return 0, errors.New("panel: sun hours and derate must be above zero and the energy not negative")
	}
	return wh / (sunHours * derate), nil
}

// A Battery is what a bank must carry.
type Battery struct {
	Wh       float64 // drawn a day, after the inverter if there is one
	Days     float64 // without sun
	Volts    float64
	Depth    float64 // share that may be used
	Inverter float64 // efficiency; 1 without one
	Cold     float64 // ColdFactor of the place it stands in
}

// AmpHours returns the size of the bank: E days / (V × depth × inverter) × cold.
func (b Battery) AmpHours() (float64, error) {
	if !(b.Wh >= 0 && b.Days >= 0 && b.Volts > 0 && b.Depth > 0 && b.Inverter > 0 && b.Cold >= 1) {
		return 0, errors.New("battery: volts, depth and inverter efficiency must be above zero, the cold factor one or more")
	}
	return b.Wh * b.Days / (b.Volts * b.Depth * b.Inverter) * b.Cold, nil
}

// coldTable is the factor on lead-acid size by temperature [°C] (battery sizing worksheets).
var coldTable = [...]struct{ temp, factor float64 }{
	{-6.7, 1.59}, {-1.1, 1.40}, {4.4, 1.30}, {10.0, 1.19}, {15.6, 1.11}, {21.2, 1.04}, {26.7, 1.00},
}

// ColdFactor returns how much larger a lead-acid bank must be at tempC: 1 from 26.7 °C up to
// 1.59 at -6.7 °C and under, straight between the lines of the worksheets. NaN counts as cold.
func ColdFactor(tempC float64) float64 {
	if !(tempC > coldTable[0].temp) {
		return coldTable[0].factor
	}
	for i, hi := range coldTable {
		if tempC <= hi.temp {
			lo := coldTable[i-1]
			return lo.factor + (hi.factor-lo.factor)*(tempC-lo.temp)/(hi.temp-lo.temp)
		}
	}
	return 1
}

// LightStep carries a battery through a day: a panel of panelW in sunHours of full sun at a
// derate fills it up to capacity, then a load of loadW is lit for at most hours. Charge and
// capacity are MJ. It returns the charge left and the hours lit; what the full battery
// could not take is lost.
func LightStep(charge, panelW, sunHours, derate, loadW, hours, capacity float64) (left, lit float64) {
	charge = min(max(0, capacity), max(0, charge)+max(0, panelW*sunHours*derate)*wattHour)
	if !(loadW > 0) || !(hours > 0) {
		return charge, max(0, hours)
	}
	lit = min(hours, charge/(loadW*wattHour))
	return max(0, charge-lit*loadW*wattHour), lit
}
