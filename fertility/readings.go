package fertility

import (
	"fmt"
	"math"
)

// A Spot is the heat of a heap as read at one moment.
type Spot struct {
	At     float64 // days from any origin, rising
	TempC  float64
	Turned bool // the heap was turned since the last reading
}

// readGap is the longest time [d] between two readings over which the heap is taken
// to have held the lower of the two: readings once a day, by an uneven clock.
const readGap = 1.5

// Spans turns readings at moments into spans for the rules: between two readings the
// heap held the lower; a longer gap is not read. Nothing is claimed after the last.
// A reading of NaN ends a span.
func Spans(spots []Spot) []Reading {
	var out []Reading
	for i := 1; i < len(spots); i++ {
		a, b := spots[i-1], spots[i]
		r := Reading{Hours: 24 * (b.At - a.At), TempC: math.Min(a.TempC, b.TempC), Turned: b.Turned}
		if !(b.At-a.At <= readGap) {
			r.TempC = math.NaN()
		}
		out = append(out, r)
	}
	return out
}

// A HeatRule is one rule of time at a heat, and how far readings go towards it.
type HeatRule struct {
	Ruling
	ID    string
	Share float64 // of the time asked for, the best run; 1 and over is met
}

// Heat tells how far readings of a heap meet each rule of time and temperature:
// the Class A equation within its range, further reduction (a vessel or still pile,
// a windrow), over 50 °C for a week, and significant reduction. Missing readings
// count as not met. They are evidence, never proof: not all of a heap is at the
// temperature of its core.
func (b Rulebook) Heat(log []Reading) []HeatRule {
	var sum HeatTime
	for _, r := range log {
		sum.Add(r.TempC, r.Hours/24)
	}
	pile, _ := longest(log, 55)
	window, turns := longest(log, 55)
	week, _ := longest(log, math.Nextafter(50, 51))
	warm, _ := longest(log, 40)
	classA := Limit{Rule: "D = 131 700 000 / 10^(0.14 t) days at 50 °C or more", Source: "40 CFR 503.32(a)(3)(ii)(A); 7 % solids or more"}
	low := Limit{Rule: "40 °C or more for 5 days, over 55 °C for 4 hours within them", Source: "40 CFR 257 Appendix II, significant reduction"}
	return []HeatRule{
		heatRule("class-a", classA, sum.Met(), sum.Share, fmt.Sprintf("the readings come to %.0f %% of the time the equation asks for", 100*sum.Share)),
		heatRule("pile", b.limits["pile_55"], FurtherVessel(log), pile/72, run(pile, 55)),
		heatRule("windrow", b.limits["windrow_55"], FurtherWindrow(log), min(window/360, float64(turns)/5), fmt.Sprintf("%s, with %d turns", run(window, 55), turns)),
		heatRule("week", b.limits["drum_heat"], HotWeek(log), week/168, run(week, 50)),
		heatRule("significant", low, Significant(log), warm/120, run(warm, 40)+", or not hot enough within it"),
	}
}

func run(hours, temp float64) string {
	return fmt.Sprintf("the longest run read at %g °C is %.1f days", temp, hours/24)
}

func heatRule(id string, l Limit, met bool, share float64, why string) HeatRule {
	if met {
		return HeatRule{l.yes(0), id, max(1, share)}
	}
	return HeatRule{l.no(0, 0, why), id, min(share, 0.999)}
}

// longest returns the longest run of readings at tempC or more, its hours and the
// turns in it.
func longest(log []Reading, tempC float64) (hours float64, turns int) {
	var run float64
	var turned int
	for _, r := range log {
		if !(r.TempC >= tempC) || !(r.Hours > 0) {
			run, turned = 0, 0
			continue
		}
		run += r.Hours
		if r.Turned {
			turned++
		}
		if run > hours {
			hours, turns = run, turned
		}
	}
	return hours, turns
}

// Proved reports whether readings meet further reduction, in a pile or a windrow.
func Proved(log []Reading) bool { return FurtherVessel(log) || FurtherWindrow(log) }
