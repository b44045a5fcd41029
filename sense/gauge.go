package sense

import (
	"fmt"
	"math"
	"slices"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/unit"
)

// A Gauge is what is known of one sensor. Its fields are exported so that it can
// be kept over a restart.
type Gauge struct {
	Store   string // the book's name of it
	Sort    book.Sort
	Measure Measure
	Kind    unit.Kind

	Heard time.Time // last message of any sort
	At    time.Time // of the last reading believed
	Value float64   // of it, SI
	Since time.Time // since when the value has been the very same
	Same  int       // readings in which it was

	Held   float64 // a reading that jumped, until others agree
	HeldAt time.Time
	Agree  int // how many have, itself with them

	Trouble Trouble
	Why     string                // in words
	Told    map[Trouble]time.Time // when each was told last

	Day   day.Day // the day that is being summed
	N     int     // readings of it
	Sum   float64 // of values; of rain, what fell
	Least float64
	Most  float64
	Wrote day.Day // the last day an entry was made for

	Warm, Thaw, Rung time.Time // freezers: since when; zero: not
	Ringing          bool
}

// Trouble says why a sensor's readings are not used.
type Trouble string

// The troubles.
const (
	Sound   Trouble = ""
	Outside Trouble = "out of range"
	Jumped  Trouble = "jumped"
	Stuck   Trouble = "stuck"
	Quiet   Trouble = "silent"
)

// agreeing is how many readings in a row make a jump believed; sameAtLeast how
// many a stuck sensor must have sent. Common practice.
const (
	agreeing    = 3
	sameAtLeast = 6
)

// judge tells whether a reading is believed, and if not what is wrong with it.
func (g *Gauge) judge(r Reading, rule *Rule, size float64) (Trouble, string) {
	v := r.Value / size
	switch {
	case slices.Contains(rule.Never, r.Value):
		return Outside, fmt.Sprintf("says %s, which such a probe says when it has not measured", show(r.Value, r.Kind))
	case v < rule.Low || v > rule.High:
		return Outside, fmt.Sprintf("says %s: believable are %s to %s", show(r.Value, r.Kind), show(rule.Low*size, r.Kind), show(rule.High*size, r.Kind))
	case g.At.IsZero():
		return Sound, ""
	}
	if g.jumps(r, rule, size) {
		return g.hold(r, rule, size)
	}
	g.Agree = 0
	return g.stands(r, rule)
}

// jumps reports whether a reading is further from the last one believed than can
// be; a rain gauge's count, lower than it was or by more than falls in a day.
func (g *Gauge) jumps(r Reading, rule *Rule, size float64) bool {
	room := rule.Step + rule.Rate*r.At.Sub(g.At).Hours()
	if r.Measure == Rain && (r.Value < g.Value || !g.fits(r, r.Value-g.Value)) {
		return true
	}
	return math.Abs(r.Value-g.Value) > room*size
}

// hold keeps a reading that jumped until enough in a row agree with it.
func (g *Gauge) hold(r Reading, rule *Rule, size float64) (Trouble, string) {
	room := (rule.Step + rule.Rate*r.At.Sub(g.HeldAt).Hours()) * size
	if g.Agree == 0 || math.Abs(r.Value-g.Held) > room {
		g.Agree = 0
	}
	g.Held, g.HeldAt = r.Value, r.At
	if g.Agree++; g.Agree >= agreeing {
		return Sound, ""
	}
	return Jumped, fmt.Sprintf("went from %s to %s within %s: it is used once %d readings in a row agree",
		show(g.Value, r.Kind), show(r.Value, r.Kind), span(r.At.Sub(g.At)), agreeing)
}

// stands tells of a figure that has been the very same for too long.
func (g *Gauge) stands(r Reading, rule *Rule) (Trouble, string) {
	if r.Value != g.Value {
		g.Since, g.Same = r.At, 1
		return Sound, ""
	}
	if g.Same++; rule.Still > 0 && g.Same >= sameAtLeast && r.At.Sub(g.Since) >= rule.Still {
		return Stuck, fmt.Sprintf("has said %s for %s without any change", show(r.Value, r.Kind), span(r.At.Sub(g.Since)))
	}
	return Sound, ""
}

// believe takes a reading into the day; rise is what the count of rain went up.
func (g *Gauge) believe(r Reading) {
	add := r.Value
	if g.Measure == Rain {
		add = g.rise(r)
	}
	if g.N == 0 {
		g.Sum, g.Least, g.Most = 0, r.Value, r.Value
	}
	g.N++
	g.Sum += add
	g.Least, g.Most = min(g.Least, r.Value), max(g.Most, r.Value)
	if r.Value != g.Value || g.Since.IsZero() {
		g.Since, g.Same = r.At, 1
	}
	g.At, g.Value, g.Kind, g.Agree = r.At, r.Value, r.Kind, 0
}

// fits reports whether so much more rain, mm, leaves the day of a reading with no
// more than the book takes of one day.
func (g *Gauge) fits(r Reading, more float64) bool {
	if localDay(r.At, r.At) == g.Day {
		more += g.Sum
	}
	rule, _ := book.RuleOf(book.Rain)
	return more <= rule.Most(unit.Depth)
}

// rise is what fell since the last count, mm. A count that fell back began again
// from nothing; one that leapt is a new beginning, and what it claims is not used.
func (g *Gauge) rise(r Reading) float64 {
	switch {
	case !g.fits(r, r.Value-g.Value), r.Value < g.Value && !g.fits(r, r.Value):
		return 0
	case g.At.IsZero() || g.Agree >= agreeing && r.Value >= g.Value:
		return 0
	case r.Value < g.Value && r.Value > rainRule.Step+rainRule.Rate*r.At.Sub(g.At).Hours():
		return 0
	case r.Value < g.Value:
		return r.Value
	}
	return r.Value - g.Value
}

func show(v float64, k unit.Kind) string { return unit.Format(v, k, unit.Metric) }

// span is a time in words: "40 min", "7 h", "3 days".
func span(d time.Duration) string {
	switch {
	case d < 90*time.Minute:
		return fmt.Sprintf("%d min", int(d.Round(time.Minute).Minutes()))
	case d < 48*time.Hour:
		return fmt.Sprintf("%d h", int(d.Round(time.Hour).Hours()))
	}
	return fmt.Sprintf("%d days", int(d.Hours()/24))
}
