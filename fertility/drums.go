package fertility

import (
	"errors"
	"math"
)

// Volumes into a toilet vault or drum.
const (
	DrumLitres     = 208.2 // L, a drum of 55 US gallons
	DrumUsable     = 0.90  // share of a drum that is filled (common practice)
	FaecesYear     = 200.0 // L a person-year with cover, urine apart (Tilley et al., design space)
	ShrinkOnDrying = 0.75  // share of volume lost by faeces kept dry (sswm.info)
	ResidueLo      = 0.10  // share of the starting volume left after composting
	ResidueHi      = 0.30  // (EPA 832-F-99-066, 1999)
)

const (
	bucketWeekly = 11.356 / 45.359 // L a week per kg of body, TogetherYear
	weeksInYear  = 365.25 / 7
	coverPores   = 0.5  // share of loose cover that liquid can fill (fits TogetherYear)
	faecesLitres = 1.0  // L/kg (common practice)
	roundingOff  = 1e-9 // keeps 3.0000000001 fills from asking for a fourth drum
)

// TogetherYear returns the litres a year, cover included, from a bucket toilet that
// takes urine and faeces together, for a person of the given mass [kg]: 3 US gallons a
// week per 100 lb of body (a toilet-compost handbook, as reprinted).
func TogetherYear(bodyKg float64) float64 { return bucketWeekly * bodyKg * weeksInYear }

// VolumeAdded returns the litres by which a drum rises when faeces [kg], urine [L] and
// loose cover [L] go in. Liquid first fills the pores, half of the cover (common practice).
func VolumeAdded(faecesKg, urine, cover float64) float64 {
	return faecesKg*faecesLitres + cover + urine - min(urine, coverPores*cover)
}

// FillsPerYear returns how many drums of usable litres people fill in a year.
func FillsPerYear(people, litresPerPersonYear, usable float64) (float64, error) {
	if !(usable > 0) || !(people >= 0) || !(litresPerPersonYear >= 0) {
		return 0, errors.New("drum fills: people and litres must not be negative and the usable litres must be above zero")
	}
	return people * litresPerPersonYear / usable, nil
}

// DaysToFill returns the days until one drum is full; +Inf when nothing goes in.
func DaysToFill(people, litresPerPersonYear, usable float64) (float64, error) {
	m, err := FillsPerYear(people, litresPerPersonYear, usable)
	return 365 / m, err
}

// DrumsNeeded returns the drums that let each full one rest for cureYears while another
// fills: 1 + ceil(fills a year × cure). One spare beyond these is prudent.
func DrumsNeeded(people, litresPerPersonYear, usable, cureYears float64) (int, error) {
	m, err := FillsPerYear(people, litresPerPersonYear, usable)
	if err != nil {
		return 0, err
	}
	if !(cureYears >= 0) || math.IsInf(m*cureYears, 1) {
		return 0, errors.New("drums needed: the years of cure must be zero or more")
	}
	return 1 + int(math.Ceil(m*cureYears-roundingOff)), nil
}
