package larder

import (
	"fmt"
	"strings"
)

// AcidLimit is the pH at or under which boiling water is enough (US rule).
const AcidLimit = 4.6

// Class is how acid a food is.
type Class string

// Classes by the published band of pH.
const (
	Acid       Class = "acid"
	LowAcid    Class = "low-acid"
	Borderline Class = "borderline" // treat as low-acid, or acidify by a tested recipe
)

// Acidity is the published pH of a food.
type Acidity struct {
	Food      string
	Low, High float64 // pH
	Class     Class
	Source    string
}

// AcidClass returns the acidity of a food: acid when its whole band lies at or
// under 4.6, low-acid when all of it lies above, borderline when it straddles
// the line or, as tomatoes, is always to be acidified. A food without a
// published pH is an error: treat it as low-acid.
func AcidClass(food string) (Acidity, error) {
	t, err := tables()
	if err != nil {
		return Acidity{}, err
	}
	for _, r := range t.acidity {
		if strings.EqualFold(r.Food, food) {
			return r, nil
		}
	}
	return Acidity{}, fmt.Errorf("pH of %q: none is published in the table; treat it as low-acid", food)
}

func classOf(low, high float64, always bool) Class {
	switch {
	case low > AcidLimit:
		return LowAcid
	case high <= AcidLimit && !always:
		return Acid
	}
	return Borderline
}

// Preparing is how a food is made ready for the freezer or the dryer. A figure
// that is not published is NaN.
type Preparing struct {
	Food                string
	BlanchLow, BlanchHi float64 // min in boiling water, 8 L/kg, from its return to the boil; 0 none needed
	BlanchNote          string
	DryLow, DryHi       float64 // h at 60 °C
	DryNote             string
	FreshLow, FreshHi   float64 // kg as harvested per kg dried
	DryTest             string  // how to know it is dry
	BlanchFrom, DryFrom string  // sources
}

// Prepare returns how a food is blanched and dried; a food outside the table is
// an error.
func Prepare(food string) (Preparing, error) {
	t, err := tables()
	if err != nil {
		return Preparing{}, err
	}
	for _, r := range t.preparing {
		if strings.EqualFold(r.Food, food) {
			return r, nil
		}
	}
	return Preparing{}, fmt.Errorf("blanching or drying %q: not in the table", food)
}

// BlanchAt returns the minutes of blanching at an altitude in m: one more above
// 1,524 m (5,000 ft), where any is needed.
func (p Preparing) BlanchAt(altitude float64) (lo, hi float64) {
	if altitude > 1524 && p.BlanchHi > 0 {
		return p.BlanchLow + 1, p.BlanchHi + 1
	}
	return p.BlanchLow, p.BlanchHi
}
