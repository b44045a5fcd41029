package fertility

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/day"
)

// A Deed is something a gate stands before.
type Deed uint8

// The deeds. The zero Deed is none and passes no gate.
const (
	NoDeed          Deed = iota
	OpenDrum             // a drum of toilet compost
	SpreadDrum           // what was in it
	SpreadUrine          // on what this household eats
	UrineForOthers       // on what others eat
	PourGreywater        // washing water
	DigManure            // fresh manure, hen droppings
	SpreadCompost        // compost with manure, droppings or digestate in it, without toilet waste
	SpreadDigestate      // unheated effluent of a digester
	SpreadAsh            // of wood
)

var deedNames = [...]string{"nothing", "open drum", "spread toilet compost", "urine", "urine on others' food", "washing water", "fresh manure",
	"compost", "digestate", "wood ash"}

// String returns the deed in words.
func (d Deed) String() string {
	if int(d) < len(deedNames) {
		return deedNames[d]
	}
	return deedNames[NoDeed]
}

// Deeds returns every deed.
func Deeds() []Deed {
	var out []Deed
	for d := OpenDrum; d <= SpreadAsh; d++ {
		out = append(out, d)
	}
	return out
}

// An Act is a deed on a day with what is known of it. What is not known is 0 for a
// date, NaN for a number, and counts as not met; a deed looks only at its own lines.
type Act struct {
	Deed    Deed
	Today   day.Day
	Kind    Kind    // of what grows there
	Harvest day.Day // the next one there

	Closed   day.Day // drum, or digestate with toilet waste: nothing was added after
	MeanTemp float64 // °C, of the year there

	Water   float64 // parts to one of urine
	Season  float64 // L/m2 of neat urine this season, this dose with it
	Covered bool    // urine goes under the soil or is watered in at once
	Shut    float64 // days that urine for others was kept shut
	ShutAt  float64 // °C, its mean

	Age       float64 // hours since washing water was made
	LitresDay float64 // of washing water from the household
	Well      float64 // m from the nearest well

	Human  bool    // toilet waste is in the digestate or compost
	Rotted float64 // days since anything was added to the compost
	Hot    bool    // its readings met Proved

	SoilPH  float64
	AshYear float64 // kg/m2 this year, this dose with it
	Clean   bool    // of wood without paint, coal or treatment
}

// Gate rules on an act: whether it may be done, from which day, until which, and by
// which rule of which source. Local law and licensed practice come first: a yes is
// not leave.
func (b Rulebook) Gate(a Act) Ruling {
	if ban, ok := b.bans[banOf(a.Deed)]; ok {
		return ban.no(0, 0, "the rules of the place forbid it")
	}
	switch a.Deed {
	case OpenDrum:
		return b.openDrum(a)
	case SpreadDrum:
		return b.spreadDrum(a)
	case SpreadUrine:
		return b.urine(a)
	case UrineForOthers:
		return b.others(a)
	case PourGreywater:
		return b.greywater(a)
	case DigManure:
		return b.before(a, b.manure(a.Kind))
	case SpreadCompost:
		return b.compost(a)
	case SpreadDigestate:
		return b.digestate(a)
	case SpreadAsh:
		return b.ash(a)
	}
	return Ruling{Rule: "a gate stands before a named deed", Source: "common practice", Why: "it is not said what is to be done"}
}

// Forbids tells whether the household's own rules forbid a deed altogether.
func (b Rulebook) Forbids(d Deed) bool {
	_, ok := b.bans[banOf(d)]
	return ok
}

func banOf(d Deed) string {
	return [...]string{NoDeed: "", OpenDrum: "", SpreadDrum: "no_drum", SpreadUrine: "no_urine", UrineForOthers: "no_urine", PourGreywater: "no_greywater",
		DigManure: "no_manure", SpreadCompost: "", SpreadDigestate: "no_digestate", SpreadAsh: "no_ash"}[min(d, SpreadAsh)]
}

func (l Limit) yes(until day.Day) Ruling {
	return Ruling{Allowed: true, Until: until, Rule: l.words(), Source: l.Source}
}

func (l Limit) no(from, until day.Day, why string) Ruling {
	return Ruling{From: from, Until: until, Rule: l.words(), Source: l.Source, Why: why}
}

// words are the rule with its figure.
func (l Limit) words() string {
	text := l.Rule
	if l.Local {
		text = "the household's own rule: " + text
	}
	if l.Unit == "" {
		return text
	}
	unit := l.Unit
	if l.Value != 1 && slices.Contains([]string{"year", "month", "day", "hour", "part"}, unit) {
		unit += "s"
	}
	return fmt.Sprintf("%s: %g %s", strings.TrimSuffix(text, "."), l.Value, unit)
}

func (b Rulebook) openDrum(a Act) Ruling {
	l := b.DrumYears(a.MeanTemp)
	if a.Closed == 0 {
		return l.no(0, 0, "no closing date is known, and the rest counts from that day")
	}
	if from := DrumReady(a.Closed, l.Value); a.Today < from {
		return l.no(from, 0, "it has not rested long enough")
	}
	return l.yes(0)
}

func (b Rulebook) spreadDrum(a Act) Ruling {
	if r := DrumPlaceGate(a.Kind); !r.Allowed {
		return r
	}
	return b.openDrum(a)
}

func (b Rulebook) urine(a Act) Ruling {
	if a.Kind == Unknown || a.Kind > Root {
		return b.limits["urine_withhold"].no(0, 0, unknownCrop)
	}
	wait := b.limits["urine_withhold"]
	if a.Kind == Raw {
		wait = b.limits["urine_raw"]
	}
	r := wait.yes(0)
	if a.Kind != NotEaten {
		if r = wait.before(a); !r.Allowed {
			return r
		}
	}
	thin, most := b.limits["urine_dilution_min"], b.limits["urine_max"]
	switch {
	case a.Kind == Raw && !a.Covered:
		return wait.no(0, r.Until, "on a crop eaten raw it must go under the soil")
	case !(a.Water >= thin.Value):
		return thin.no(0, r.Until, "it is not thinned enough, or not known to be")
	case !(a.Season > 0 && a.Season <= most.Value):
		return most.no(0, 0, "over the season's amount, or it is not known")
	}
	return r
}

const unknownCrop = "what grows there is not known"

// before rules on a wait in days between an act and the next harvest.
func (l Limit) before(a Act) Ruling {
	if a.Harvest == 0 || a.Harvest < a.Today {
		return l.no(0, 0, "the next harvest is not known")
	}
	last := a.Harvest - day.Day(math.Ceil(l.Value))
	if a.Today > last {
		return l.no(0, last, "too near the harvest")
	}
	return l.yes(last)
}

// monthDays is a mean month; whole days are counted, 30 for one month and 183 for six.
const monthDays = 365.25 / 12

// storeTemp is the mean [°C] that the storage of urine for others asks for.
const storeTemp = 20.0

func (b Rulebook) others(a Act) Ruling {
	l := b.limits["urine_store_others"]
	if a.Kind == NotEaten {
		l = b.limits["urine_store_plants"]
	}
	switch {
	case a.Kind == Unknown || a.Kind > Root:
		return l.no(0, 0, unknownCrop)
	case !(a.Shut >= math.Round(l.Value*monthDays)):
		return l.no(0, 0, "not shut away long enough, or it is not known how long")
	case a.Kind != NotEaten && !(a.ShutAt >= storeTemp):
		return l.no(0, 0, "kept too cool, or its temperature is not known")
	case a.Kind == NotEaten:
		return l.yes(0)
	}
	return b.urine(a)
}

func (b Rulebook) greywater(a Act) Ruling {
	hold := b.limits["greywater_hours"]
	if r := GreywaterGate(0, a.Kind); !r.Allowed {
		return r
	}
	if !(a.Age >= 0 && a.Age <= hold.Value) {
		return hold.no(0, 0, "held too long, or its age is not known")
	}
	if most, ok := b.limits["greywater_most"]; ok && !(a.LitresDay <= most.Value) {
		return most.no(0, 0, "more a day than the place allows, or it is not known")
	}
	if well, ok := b.limits["greywater_well"]; ok && !(a.Well >= well.Value) {
		return well.no(0, 0, "too near a well, or the distance is not known")
	}
	return hold.yes(0)
}

// manure is the wait for a kind of crop.
func (b Rulebook) manure(k Kind) Limit {
	if k == Tree || k == High {
		return b.limits["manure_clear"]
	}
	return b.limits["manure_touch"]
}

func (b Rulebook) before(a Act, l Limit) Ruling {
	switch {
	case a.Kind == Unknown || a.Kind > Root:
		return l.no(0, 0, unknownCrop)
	case a.Kind == NotEaten:
		return l.yes(0)
	}
	return l.before(a)
}

// compost rules on a heap that took manure or digestate: hot ones, and those left
// their time, are free; others wait as fresh manure.
func (b Rulebook) compost(a Act) Ruling {
	l := b.limits["hen_litter_compost"]
	switch {
	case a.Human:
		return b.spreadDrum(a)
	case a.Hot:
		return b.limits["pile_55"].yes(0)
	case a.Rotted >= l.Value:
		return l.yes(0)
	}
	return b.before(a, b.manure(a.Kind))
}

func (b Rulebook) digestate(a Act) Ruling {
	l := b.limits["digestate_wait"]
	switch {
	case a.Human:
		return b.humanDigestate(a)
	case a.Kind == Raw || a.Kind == Root:
		return l.no(0, 0, "not on roots or on food eaten raw")
	}
	wait := b.manure(a.Kind) // it is used as fresh manure
	wait.Rule, wait.Source, wait.Local = l.Rule, l.Source, l.Local
	if own, ok := b.own["digestate_wait"]; ok && own.Value > wait.Value {
		wait = own
	}
	return b.before(a, wait)
}

func (b Rulebook) humanDigestate(a Act) Ruling {
	l := b.limits["digestate_cure"]
	if r := DrumPlaceGate(a.Kind); !r.Allowed {
		return r
	}
	if a.Closed == 0 {
		return l.no(0, 0, "it holds toilet waste and no day is known since which nothing was added")
	}
	if from := DrumReady(a.Closed, l.Value); a.Today < from {
		return l.no(from, 0, "it holds toilet waste and has not rested long enough")
	}
	return l.yes(0)
}

func (b Rulebook) ash(a Act) Ruling {
	pH, most := b.limits["ash_ph"], b.limits["ash_rate"]
	switch {
	case !a.Clean:
		return pH.no(0, 0, "only ash of clean wood may be used")
	case !(a.SoilPH > 0 && a.SoilPH < pH.Value):
		return pH.no(0, 0, "the soil is not acid, or its pH is not known")
	case !(a.AshYear >= 0 && a.AshYear <= most.Value):
		return most.no(0, 0, "over the year's amount, or it is not known")
	}
	return most.yes(0)
}
