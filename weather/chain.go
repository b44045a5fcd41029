package weather

import (
	"math"

	"evenstead/day"
)

// Transitions counts, by month, dry and wet days after dry and wet ones: N01 is
// wet after dry. A day counts in its own month when the day before is observed.
// A day is wet when its rain is above 0.
type Transitions struct{ N00, N01, N10, N11 [12]int }

// CountTransitions counts the transitions of a record. Missing days are passed over.
func CountTransitions(r *Record) (t Transitions) {
	for i := 1; i < r.Days(); i++ {
		if math.IsNaN(r.Rain[i]) || math.IsNaN(r.Rain[i-1]) {
			continue
		}
		m := (r.Start + day.Day(i)).Month() - 1
		switch was, is := r.Rain[i-1] > 0, r.Rain[i] > 0; {
		case was && is:
			t.N11[m]++
		case was:
			t.N10[m]++
		case is:
			t.N01[m]++
		default:
			t.N00[m]++
		}
	}
	return t
}

// P01 returns the chance of a wet day after a dry one in a month (0 January); 0 when none was seen.
func (t *Transitions) P01(m int) float64 { return share(t.N01[m], t.N00[m]+t.N01[m]) }

// P11 returns the chance of a wet day after a wet one in a month (0 January); 0 when none was seen.
func (t *Transitions) P11(m int) float64 { return share(t.N11[m], t.N10[m]+t.N11[m]) }

// WetShare returns the long-run share of wet days of a two-state first-order
// chain, P01/(1 + P01 - P11). Richardson (1981).
func WetShare(p01, p11 float64) float64 {
	if p01 == 0 {
		return 0
	}
	return p01 / (1 + p01 - p11)
}

// WetDaysVariance returns the variance of the wet days in a span of days,
// Tπ(1 - π)(1 + r)/(1 - r) with r = P11 - P01. Katz (1977, from memory); for spans
// much longer than a spell.
func WetDaysVariance(days, p01, p11 float64) float64 {
	π, r := WetShare(p01, p11), p11-p01
	return days * π * (1 - π) * (1 + r) / (1 - r)
}

// MeanDrySpell returns the mean length of a dry spell [days], 1/P01.
func MeanDrySpell(p01 float64) float64 { return 1 / p01 }

// DryFor returns the chance that the days after a dry one all stay dry.
func DryFor(days int, p01 float64) float64 { return math.Pow(1-p01, float64(days)) }

// Spells returns the lengths of the runs of days with rain below the least amount
// that counts [mm], in order of time, and the day each began. A missing day ends a run.
func Spells(r *Record, least float64) (lengths []int, began []day.Day) {
	run := 0
	for i := 0; i <= r.Days(); i++ {
		if i < r.Days() && r.Rain[i] < least {
			run++
			continue
		}
		if run > 0 {
			lengths = append(lengths, run)
			began = append(began, r.Start+day.Day(i-run))
		}
		run = 0
	}
	return lengths, began
}
