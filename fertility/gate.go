package fertility

import (
	"math"

	"evenstead/day"
)

// A Gate is a published safety rule.
type Gate struct{ ID, Rule, Source string }

// A Ruling is what a gate says on one day. Rule and Source are those of the gate; Why
// is a sentence when the answer is no. Local law comes first: a Ruling is not leave.
type Ruling struct {
	Allowed           bool
	From              day.Day // first day allowed; 0 when allowed already or no day is known
	Until             day.Day // last day allowed; 0 when there is none
	Rule, Source, Why string
}

func (g Gate) yes(until day.Day) Ruling {
	return Ruling{Allowed: true, Until: until, Rule: g.Rule, Source: g.Source}
}

func (g Gate) no(from, until day.Day, why string) Ruling {
	return Ruling{From: from, Until: until, Rule: g.Rule, Source: g.Source, Why: why}
}

// Kind is how the eaten part of a plant stands to the soil, from safe to exposed.
type Kind uint8

// Kinds. The zero Kind is unknown and passes no gate.
const (
	Unknown  Kind = iota
	NotEaten      // ornamental, hedge, nursery tree
	Tree          // fruit or nut borne off the ground on a tree, bush or vine
	High          // eaten part off the soil and cooked or husked: maize, grain, pole bean
	Low           // eaten part near the soil, cooked: squash, cabbage
	Raw           // eaten raw within reach of soil or splash: lettuce, strawberry
	Root          // eaten part in the soil
)

// String returns the kind in words.
func (k Kind) String() string {
	names := [...]string{"unknown", "not eaten", "tree or bush", "high and cooked", "low and cooked", "eaten raw", "root"}
	if int(k) < len(names) {
		return names[k]
	}
	return names[Unknown]
}

var (
	drumGate = Gate{"drum",
		"shut at least one full year after the last addition, two where the yearly mean is under 20 °C or unknown",
		"common practice, within WHO 2006 vol. 4 and Schönning and Stenström 2004 (1.5-2 years at 2-20 °C, over 1 year above)"}
	drumPlaceGate = Gate{"drum-place",
		"toilet compost goes under soil or mulch at trees, bushes and ornamentals only; never on vegetables",
		"common practice; WHO 2006 vol. 4 (from memory): dig in, cover, nothing eaten raw"}
	urineGate = Gate{"urine",
		"none in the last month before harvest; on crops eaten raw put it under the soil; not on leaves",
		"Tilley et al., Compendium; WHO 2006 vol. 4 (raw crops, from memory)"}
	urineStoreGate = Gate{"urine-store",
		"neat urine for others' food is shut away six months at 20 °C; own food needs none; plants not eaten one month",
		"Schönning and Stenström 2004 and WHO 2006 Table 4.6 (from memory); Tilley et al."}
	greywaterGate = Gate{"greywater",
		"used within 24 hours, under mulch, no spray; no root crop and no eaten part that it can touch",
		"New Mexico and Arizona household rules; common practice"}
	manureGate = Gate{"manure",
		"fresh manure dug in at least 120 days before harvest where the eaten part can touch soil, 90 days elsewhere",
		"7 CFR 205.203(c)(1), from memory"}
	digestateGate = Gate{"digestate",
		"unheated effluent never on food eaten raw or roots; else as fresh manure; from toilet waste as unfinished faeces",
		"household digester manuals and WHO 2006 (from memory); waits as 7 CFR 205.203(c)(1), from memory"}
	ashGate = Gate{"ash",
		"clean wood ash only where soil pH is under 7, at most 0.10 kg/m2 a year",
		"extension sheet on wood ash, 1991 (10-20 lb per 1,000 square feet)"}
)

// Gates returns every gate of the package, for showing.
func Gates() []Gate {
	return []Gate{drumGate, drumPlaceGate, urineGate, urineStoreGate, greywaterGate, manureGate, digestateGate, ashGate}
}

// CureYears returns the years a closed drum must rest where the yearly mean is meanTemp
// [°C], and the source: 1, or 2 under 20 °C. An unknown mean (NaN) counts as cool.
func CureYears(meanTemp float64) (years float64, source string) {
	if meanTemp >= 20 && !math.IsInf(meanTemp, 0) {
		return 1, drumGate.Source
	}
	return 2, drumGate.Source
}

// Cautions returns what must be said wherever excreta, ash or washing water go to soil.
func Cautions() []string {
	return []string{
		"Rules differ by country, county and plot: ask the building, health and water offices before reusing toilet waste or washing water. Nothing here is leave to do it.",
		"Keep the waste of anyone with a gut illness or on strong medicine out of the loop and set that drum aside for the longest time.",
		"Wear gloves, wash hands, keep the tools apart, cover heaps from flies, rats and rain.",
		"Keep spreading away from wells, ditches and slopes, and off frozen, flooded or snow-covered ground.",
		"Where children, pregnant or immune-weak people eat, use the longest times and trees only.",
		"Food grown with human waste may not be sold or given away in many places.",
	}
}
