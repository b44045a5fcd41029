package crop

import "evenstead/data"

// restDefault is the years a family of which nothing is written stays off a bed
// (common practice).
const restDefault = 3

// RestYears returns the years between crops of a family on the same bed. Source:
// crops_rotation.csv, common practice.
func RestYears(family string, rests []data.Rest) float64 {
	for i := range rests {
		if rests[i].Family == family {
			return rests[i].Years
		}
	}
	return restDefault
}

// A Turn is a family's stand on a bed, by the days it was begun and cleared, in
// whatever count of days both turns share.
type Turn struct {
	Family   string
	From, To int
}

// Clash reports whether a turn comes too soon after (or before) another of its
// family on the same bed, and the years between them. Turns that stand at the
// same time are one turn of mixed crops and do not clash.
func Clash(a, b Turn, rests []data.Rest) (years float64, clash bool) {
	if a.Family != b.Family {
		return 0, false
	}
	if a.From > b.From {
		a, b = b, a
	}
	if b.From <= a.To {
		return 0, false
	}
	years = float64(b.From-a.From) / yearDays
	return years, years < RestYears(a.Family, rests)
}

// Sowings returns the days of the year on which a crop is sown through its windows
// for a steady supply, one every so many days from each opening. An interval of 0
// gives one sowing a window.
func Sowings(windows []Window, interval float64) []int {
	var days []int
	for _, w := range windows {
		days = append(days, w.Open)
		for k := 1; interval >= 1 && float64(k)*interval < float64(w.Days()); k++ {
			days = append(days, (w.Open-1+int(float64(k)*interval))%yearDays+1)
		}
	}
	return days
}

// Partners returns the pairs that a crop stands in, by common practice.
func Partners(id string, pairs []data.Pair) []data.Pair {
	var out []data.Pair
	for _, p := range pairs {
		if p.First == id || p.Second == id {
			out = append(out, p)
		}
	}
	return out
}

// LandEquivalent returns the land that crops grown alone would need for what a
// mixture gives, over the mixture's land: the sum of each yield in the mixture
// over its yield alone. Source: Mead and Willey (1980), Experimental Agriculture
// 16: 217-228. A cereal with a legume usually gives 1.1 to 1.4 (from memory).
func LandEquivalent(mixed, alone []float64) float64 {
	s := 0.0
	for i := range min(len(mixed), len(alone)) {
		if alone[i] > 0 {
			s += mixed[i] / alone[i]
		}
	}
	return s
}
