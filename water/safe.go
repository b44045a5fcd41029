package water

import (
	"errors"
	"fmt"
	"math"
)

const (
	gallon      = 3.785411784 // L
	dropsPerML  = 20
	chlorineOf  = 70.906 / 74.442 // Cl2 over NaOCl by mass
	boilAbove   = 1000            // m
	pasteurC    = 65              // °C
	pasteurMins = 5
)

// BoilMinutes returns how long to hold a rolling boil at an elevation [m]: 1
// minute, or 3 above 1,000 m. EPA prints 5,000 ft beside 1,000 m, and CDC is
// recalled at 2,000 m (from memory); the lowest of the three is taken.
// Source: EPA, emergency disinfection of drinking water.
func BoilMinutes(elevation float64) float64 {
	if elevation > boilAbove {
		return 3
	}
	return 1
}

// BleachDrops returns the drops (20 to the mL) of plain household bleach for
// clear or cloudy water [L]. Strength is the share of sodium hypochlorite: 0.05
// to 0.06 takes 8 drops a gallon, 0.0825 takes 6, twice as many when cloudy.
// The dose is rounded to whole drops, as the printed 2 drops a litre is.
// Any other strength is an error, since no dose is printed for it. Stir, wait 30
// minutes, and look for a slight smell of chlorine. Source: CDC and EPA leaflets.
func BleachDrops(litres, strength float64, cloudy bool) (float64, error) {
	if !(litres > 0) {
		return 0, fmt.Errorf("bleach for %g L of water: give an amount above 0", litres)
	}
	perGallon, err := dropsPerGallon(strength)
	if err != nil {
		return 0, err
	}
	if cloudy {
		perGallon *= 2
	}
	return math.Max(1, math.Round(perGallon*litres/gallon)), nil
}

func dropsPerGallon(strength float64) (float64, error) {
	switch {
	case strength >= 0.05 && strength <= 0.06:
		return 8, nil
	case math.Abs(strength-0.0825) < 1e-6:
		return 6, nil
	}
	return 0, fmt.Errorf("bleach of %.3g %%: doses are printed for 5 to 6 %% and for 8.25 %% only; read the label or boil", 100*strength)
}

// ChlorineDose returns the free chlorine added [mg Cl2/L] by drops of bleach of
// a strength (share NaOCl, mass by volume) in water [L].
func ChlorineDose(drops, strength, litres float64) float64 {
	return drops / dropsPerML * strength * 1e6 / 1000 * chlorineOf / litres
}

// A Bottle is water set out in the sun.
type Bottle struct {
	Litres float64 // at most 2, clear glass or PET
	NTU    float64 // turbidity, under 30 (from memory)
	Cloud  float64 // share of sky, 0..1
	Warm   float64 // °C the water itself reaches
	Rain   bool    // steady rain
}

// SunHours returns the hours of daylight in the sun that disinfect a bottle: 1
// when the water reaches 50 °C, 6 with the sky at most half clouded, and two days
// (48) when overcast. An error says why sun will not do. Source: solar water
// disinfection leaflets (SODIS).
func (b Bottle) SunHours() (float64, error) {
	switch {
	case b.Rain:
		return 0, errors.New("sun does not disinfect in steady rain: boil or treat instead")
	case b.Litres > 2:
		return 0, fmt.Errorf("bottle of %g L: sun reaches through at most 2 L", b.Litres)
	case b.NTU >= 30:
		return 0, fmt.Errorf("water of %g NTU is too cloudy for sun: let it settle and filter it below 30", b.NTU)
	case b.Warm >= 50:
		return 1, nil
	case b.Cloud <= 0.5:
		return 6, nil
	}
	return 48, nil
}

// Pasteurised reports whether water held at a temperature [°C] for some minutes
// meets the advice: 65 °C for 5 minutes. Source: Ciochetti and Metcalf (1984),
// 65 °C advised; a tenth survives each minute at the killing temperature.
func Pasteurised(tempC, minutes float64) bool {
	return tempC >= pasteurC && minutes >= pasteurMins
}
