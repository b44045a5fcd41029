package crop

import (
	"cmp"
	"math"
	"slices"

	"evenstead/data"
)

// A Stand is a crop on a bed as it is today.
type Stand struct {
	Name     string // of the bed or tree
	Crop     *data.Crop
	Hardened float64 // share, see Hardening
	Days     int     // since it came up or was set out
	Dormant  bool    // a perennial at rest
	// of its root zone:
	Depletion, Available, Ready float64 // mm: Dr, TAW, RAW
	ETc                         float64 // mm/d
}

// A Harm is a stand that tonight's cold may kill.
type Harm struct {
	Stand
	Limit float64 // °C that kills it as it is
	Below float64 // °C that the night lies below the limit; negative: above it, within the margin
}

// FrostList returns the stands that a night of tmin [°C, at 1.5 m] harms, the most
// endangered first. margin [°C] also lists those that stand so near: still clear
// nights are 2-4 °C colder at the ground (common practice).
func FrostList(tmin, margin float64, stands []Stand) []Harm {
	var out []Harm
	for _, s := range stands {
		limit := limitOf(&s)
		if tmin <= limit+margin {
			out = append(out, Harm{s, limit, limit - tmin})
		}
	}
	slices.SortStableFunc(out, func(a, b Harm) int { return cmp.Compare(b.Below, a.Below) })
	return out
}

// limitOf is what kills a stand as it is: a plant in its first three weeks at
// youngStands at the lowest, a dormant one at its hardened limit.
func limitOf(s *Stand) float64 {
	grown, hard := s.Crop.KillGrowing, s.Crop.KillHardened
	switch {
	case s.Dormant:
		return KillLimit(grown, hard, 1)
	case s.Crop.HarvestFrom == 0 && s.Days < young:
		return KillLimit(math.Max(grown, youngStands), hard, s.Hardened)
	}
	return KillLimit(grown, hard, s.Hardened)
}

// A Thirst is a stand and the days that its soil lasts without rain.
type Thirst struct {
	Stand
	Stressed float64 // days until growth suffers; 0 already
	Empty    float64 // days until the root zone is dry
}

// DryList returns the stands by the days until they suffer in a spell without
// rain, those that suffer within some days only. Past Ready the draw falls in a
// straight line (FAO-56 eq. 84), so the last water goes slower; Empty counts to
// nine tenths of Available.
func DryList(days float64, stands []Stand) []Thirst {
	var out []Thirst
	for _, s := range stands {
		t := thirst(s)
		if t.Stressed <= days {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b Thirst) int { return cmp.Compare(a.Stressed, b.Stressed) })
	return out
}

func thirst(s Stand) Thirst {
	t := Thirst{Stand: s, Stressed: math.Inf(1), Empty: math.Inf(1)}
	if !(s.ETc > 0) {
		return t
	}
	t.Stressed = math.Max(s.Ready-s.Depletion, 0) / s.ETc
	from := math.Max(s.Depletion, s.Ready)
	last := 0.9 * s.Available
	if last <= from {
		t.Empty = t.Stressed
		return t
	}
	k := s.ETc / (s.Available - s.Ready) // d(TAW - Dr)/dt = -k (TAW - Dr)
	t.Empty = t.Stressed + math.Log((s.Available-from)/(s.Available-last))/k
	return t
}
