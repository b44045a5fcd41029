package fertility

import (
	"math"

	"evenstead/day"
)

// DrumReady returns the day on which a drum closed on the given day has rested for years;
// whole years follow the calendar, a part of a year is rounded up to days. Years outside
// 0 to 100 count as the nearer end, NaN as 100.
func DrumReady(closed day.Day, years float64) day.Day {
	if !(years <= 100) {
		years = 100
	}
	years = max(0, years)
	whole := math.Floor(years)
	y, m, d := closed.Date()
	return day.Of(y+int(whole), m, d) + day.Day(math.Ceil((years-whole)*365.25))
}

// DrumGate rules on opening a drum closed on the given day (0: not closed or not known)
// where the yearly mean temperature is meanTemp [°C].
func DrumGate(closed day.Day, meanTemp float64, today day.Day) Ruling {
	if closed == 0 {
		return drumGate.no(0, 0, "no closing date is known, and the rest counts from that day")
	}
	years, _ := CureYears(meanTemp)
	if from := DrumReady(closed, years); today < from {
		return drumGate.no(from, 0, "the drum has not rested long enough")
	}
	return drumGate.yes(0)
}

// DrumPlaceGate rules on where rested toilet compost may go.
func DrumPlaceGate(to Kind) Ruling {
	switch to {
	case NotEaten, Tree:
		return drumPlaceGate.yes(0)
	case Unknown:
		return drumPlaceGate.no(0, 0, "what grows there is not known")
	}
	return drumPlaceGate.no(0, 0, "food crops other than trees and bushes do not get toilet compost")
}

// A UrineDose is one use of urine on plants.
type UrineDose struct {
	Today    day.Day
	Harvest  day.Day // next harvest; 0: not known
	Withhold int     // days before harvest asked for; under 30 counts as 30
	Kind     Kind
	Covered  bool // put under the soil or watered in at once
}

// UrineWithhold is the least time between the last urine and harvest [d]: one month.
const UrineWithhold = 30

// UrineGate rules on giving urine. Until is the last day allowed before the harvest.
func UrineGate(u UrineDose) Ruling {
	switch {
	case u.Kind == Unknown:
		return urineGate.no(0, 0, "what grows there is not known")
	case u.Kind == NotEaten:
		return urineGate.yes(0)
	case u.Harvest == 0 || u.Harvest < u.Today:
		return urineGate.no(0, 0, "the next harvest is not known")
	}
	last := u.Harvest - day.Day(max(u.Withhold, UrineWithhold))
	switch {
	case u.Today > last:
		return urineGate.no(0, last, "too near the harvest")
	case u.Kind == Raw && !u.Covered:
		return urineGate.no(0, last, "on a crop eaten raw it must go under the soil")
	}
	return urineGate.yes(last)
}

// UrineStoreGate rules on stored neat urine that was shut for days at a mean of tempC
// [°C]. own tells that only this household eats the crop.
func UrineStoreGate(own bool, k Kind, tempC, days float64) Ruling {
	switch {
	case k == Unknown:
		return urineStoreGate.no(0, 0, "what grows there is not known")
	case own:
		return urineStoreGate.yes(0)
	case k == NotEaten && days >= 30:
		return urineStoreGate.yes(0)
	case tempC >= 20 && days >= 183:
		return urineStoreGate.yes(0)
	}
	return urineStoreGate.no(0, 0, "not stored long or warm enough for others' use")
}

// GreywaterHours is the longest that washing water is held [h].
const GreywaterHours = 24

// GreywaterGate rules on washing water of the given age [h] going to a kind of crop.
func GreywaterGate(ageHours float64, k Kind) Ruling {
	switch {
	case !(ageHours >= 0 && ageHours <= GreywaterHours):
		return greywaterGate.no(0, 0, "held over a day, or its age is not known")
	case k == NotEaten || k == Tree || k == High:
		return greywaterGate.yes(0)
	case k == Unknown:
		return greywaterGate.no(0, 0, "what grows there is not known")
	}
	return greywaterGate.no(0, 0, "it could touch the part that is eaten")
}

// ManureDays returns the days that must lie between fresh manure and harvest; ok is
// false for an unknown kind.
func ManureDays(k Kind) (days int, ok bool) {
	switch k {
	case NotEaten:
		return 0, true
	case Tree, High:
		return 90, true
	case Low, Raw, Root:
		return 120, true
	}
	return 0, false
}

// ManureGate rules on digging in fresh manure today for the next harvest (0: not known).
func ManureGate(today, harvest day.Day, k Kind) Ruling { return manureGate.before(today, harvest, k) }

// DigestateGate rules on unheated digester effluent. human tells that toilet waste is
// among the feed; it must then meet the drum rule instead.
func DigestateGate(today, harvest day.Day, k Kind, human bool) Ruling {
	switch {
	case human:
		return digestateGate.no(0, 0, "it holds toilet waste: close it in a drum and wait as for faeces")
	case k == Raw || k == Root:
		return digestateGate.no(0, 0, "not on roots or food eaten raw")
	}
	return digestateGate.before(today, harvest, k)
}

func (g Gate) before(today, harvest day.Day, k Kind) Ruling {
	wait, ok := ManureDays(k)
	switch {
	case !ok:
		return g.no(0, 0, "what grows there is not known")
	case k == NotEaten:
		return g.yes(0)
	case harvest == 0 || harvest < today:
		return g.no(0, 0, "the next harvest is not known")
	}
	last := harvest - day.Day(wait)
	if today > last {
		return g.no(0, last, "too near the harvest")
	}
	return g.yes(last)
}

// AshYear is the most wood ash on soil in a year [kg/m2]; boron harms above it.
const AshYear = 0.10

// AshGate rules on wood ash: soilPH as measured (NaN: not known), total the year's ash
// with this dose [kg/m2], clean false when coal, paint or treated wood may be in it.
func AshGate(soilPH, total float64, clean bool) Ruling {
	switch {
	case !clean:
		return ashGate.no(0, 0, "only ash of clean wood may be used")
	case !(soilPH > 0 && soilPH < 7):
		return ashGate.no(0, 0, "the soil is not acid, or its pH is not known")
	case !(total >= 0 && total <= AshYear):
		return ashGate.no(0, 0, "over the year's amount")
	}
	return ashGate.yes(0)
}
