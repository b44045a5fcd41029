package book

import (
	"slices"

	"evenstead/unit"
)

// A Kind says what was done or found.
type Kind string

// The kinds of entry.
const (
	Sown     Kind = "sown"
	SetOut   Kind = "set out"
	Picked   Kind = "picked"
	Foraged  Kind = "foraged"
	Taken    Kind = "taken" // honey from hives, eggs from hens
	PutUp    Kind = "put up"
	Eaten    Kind = "eaten"
	Lost     Kind = "lost"
	Given    Kind = "given"
	Received Kind = "received"
	Bought   Kind = "bought"
	Rain     Kind = "rain"
	Dipped   Kind = "dipped" // a tank's level as measured
	Watered  Kind = "watered"
	Moved    Kind = "moved"   // water from tank to tank
	Treated  Kind = "treated" // water made fit to drink
	Fed      Kind = "fed"     // digester, compost, hens
	Emptied  Kind = "emptied"
	Closed   Kind = "closed"
	Opened   Kind = "opened"
	Heat     Kind = "heat" // a reading of a heap, crock or store
	Spread   Kind = "spread"
	Cooked   Kind = "cooked" // fuel burnt
	FuelIn   Kind = "fuel in"
	Meter    Kind = "meter" // electricity used since the last reading
	Worked   Kind = "worked"
	Hauled   Kind = "hauled"
	Binned   Kind = "binned" // sent off the place as waste
	Away     Kind = "away"
	Ill      Kind = "ill"
	Counted  Kind = "counted" // a shelf, freezer or jars as found
	Weighed  Kind = "weighed" // a person
	Made     Kind = "made"
	Mended   Kind = "mended"
	Noted    Kind = "note"
	Struck   Kind = "struck" // takes an entry out and puts nothing in its place
)

// A Need is what an entry of a kind cannot do without.
type Need uint8

// The needs, to be joined by |.
const (
	NeedAmount Need = 1 << iota
	NeedWhat
	NeedWhere
	NeedNote
	NeedStrikes
)

// A Rule is what entries of one kind hold.
type Rule struct {
	Kind     Kind
	Needs    Need
	Measures []unit.Kind       // kinds of amount allowed; nil: no amount
	What     []Sort            // what the thing may be; nil: no thing
	Where    []Sort            // what the place may be; nil: no place
	At       string            // the word before the place in a sentence
	Zero     bool              // an amount of nothing is news
	Top      float64           // greatest amount of the first measure, SI; 0: that of the measure
	Links    map[string]string // words such as "to" and the key of Extra they fill
	First    bool              // the place is written before the thing
}

// Has reports whether the rule asks for all of n.
func (r Rule) Has(n Need) bool { return r.Needs&n == n }

// Allows reports whether an amount of kind k fits the rule.
func (r Rule) Allows(k unit.Kind) bool { return slices.Contains(r.Measures, k) }

var (
	ground    = []Sort{Bed, Tree}
	larder    = []Sort{Shelf, Freezer}
	edible    = []Sort{Food, Crop, Wild}
	countable = []Sort{Food, Crop, Wild, Fuel, Supply}
	bins      = []Sort{Drum, Compost, Digester, Crock, Tank}
	stuff     = []unit.Kind{unit.Mass, unit.Volume, unit.Number}
	litres    = []unit.Kind{unit.Volume}
	hours     = []unit.Kind{unit.Time}
	weights   = []unit.Kind{unit.Mass, unit.Volume}
)

// rules holds every kind in the order of the constants. The greatest amounts
// are common sense for one household and one entry, except rain: 1,825 mm is the most
// that ever fell in 24 hours (World Meteorological Organization archive,
// Foc-Foc, 1966; from memory).
var rules = []Rule{
	{Kind: Sown, Needs: NeedWhat, Measures: []unit.Kind{unit.Area, unit.Mass, unit.Number}, What: []Sort{Crop}, Where: ground, At: "in", Top: 1e5},
	{Kind: SetOut, Needs: NeedWhat, Measures: []unit.Kind{unit.Number, unit.Area}, What: []Sort{Crop}, Where: ground, At: "in", Top: 1e5},
	{Kind: Picked, Needs: NeedAmount | NeedWhat, Measures: stuff, What: []Sort{Crop, Food}, Where: ground, At: "from", Top: 2000},
	{Kind: Foraged, Needs: NeedAmount | NeedWhat, Measures: stuff, What: []Sort{Wild, Food}, Where: []Sort{Spot}, At: "at", Top: 200},
	{Kind: Taken, Needs: NeedAmount | NeedWhat, Measures: stuff, What: []Sort{Food}, Where: []Sort{Hive, Flock}, At: "from", Top: 500},
	{Kind: PutUp, Needs: NeedAmount | NeedWhat, Measures: stuff, What: edible, Where: larder, At: "in", Top: 500},
	{Kind: Eaten, Needs: NeedAmount | NeedWhat, Measures: stuff, What: edible, Where: larder, At: "from", Top: 50},
	{Kind: Lost, Needs: NeedAmount | NeedWhat, Measures: stuff, What: edible, Where: larder, At: "from", Top: 2000, Links: map[string]string{"to": "to"}},
	{Kind: Given, Needs: NeedAmount | NeedWhat, Measures: stuff, What: edible, Where: larder, At: "from", Top: 2000, Links: map[string]string{"to": "to"}},
	{Kind: Received, Needs: NeedAmount | NeedWhat, Measures: stuff, What: edible, Where: larder, At: "into", Top: 2000, Links: map[string]string{"from": "from"}},
	{Kind: Bought, Needs: NeedAmount | NeedWhat, Measures: stuff, What: edible, Where: larder, At: "into", Top: 2000, Links: map[string]string{"from": "from", "for": "price"}},
	{Kind: Rain, Needs: NeedAmount, Measures: []unit.Kind{unit.Depth}, Zero: true, Top: 1825},
	{Kind: Dipped, Needs: NeedAmount | NeedWhere, Measures: []unit.Kind{unit.Volume, unit.Share, unit.Length}, Where: []Sort{Tank}, At: "in", Zero: true},
	{Kind: Watered, Needs: NeedWhere, Measures: []unit.Kind{unit.Volume, unit.Depth, unit.Time}, Where: ground, At: "onto", Top: 20000, Links: map[string]string{"from": "from"}},
	{Kind: Moved, Needs: NeedAmount | NeedWhere, Measures: litres, Where: []Sort{Tank}, At: "from", Top: 1e5, Links: map[string]string{"to": "to", "into": "to"}},
	{Kind: Treated, Needs: NeedAmount, Measures: litres, What: []Sort{Treatment}, Where: []Sort{Tank}, At: "from", Top: 5000, Links: map[string]string{"by": "by", "with": "by"}},
	{Kind: Fed, Needs: NeedAmount | NeedWhere, Measures: weights, What: []Sort{Feed, Food, Crop}, Where: []Sort{Digester, Compost, Flock}, At: "to", Top: 1000, First: true},
	{Kind: Emptied, Needs: NeedWhere, Measures: weights, Where: bins, At: "from", Top: 5000, Links: map[string]string{"to": "to", "onto": "to", "on": "to", "into": "to"}},
	{Kind: Closed, Needs: NeedWhere, Where: bins, At: ""},
	{Kind: Opened, Needs: NeedWhere, Where: bins, At: ""},
	{Kind: Heat, Needs: NeedAmount | NeedWhere, Measures: []unit.Kind{unit.Temperature}, Where: []Sort{Compost, Drum, Crock, Shelf, Freezer, Digester}, At: "in", Zero: true, Top: 110},
	{Kind: Spread, Needs: NeedAmount | NeedWhat | NeedWhere, Measures: []unit.Kind{unit.Volume, unit.Mass, unit.Number}, What: []Sort{Fertiliser, Drum, Compost}, Where: ground, At: "on", Top: 5000},
	{Kind: Cooked, Needs: NeedAmount, Measures: []unit.Kind{unit.Mass, unit.Volume, unit.Time, unit.Energy}, What: []Sort{Fuel}, At: "in", Top: 200, Links: map[string]string{"by": "what", "with": "what", "on": "what"}},
	{Kind: FuelIn, Needs: NeedAmount | NeedWhat, Measures: weights, What: []Sort{Fuel}, Top: 20000, Links: map[string]string{"from": "from"}},
	{Kind: Meter, Needs: NeedAmount, Measures: []unit.Kind{unit.Energy}, What: []Sort{MeterOf}, Zero: true, Top: 36000},
	{Kind: Worked, Needs: NeedAmount, Measures: hours, What: []Sort{Task}, Where: []Sort{Bed, Tree, Spot}, At: "in", Top: 24, Links: map[string]string{"for": "for"}},
	{Kind: Hauled, Needs: NeedWhat, Measures: []unit.Kind{unit.Mass, unit.Volume, unit.Number, unit.Length}, What: []Sort{Feed, Load}, Where: []Sort{Trip}, At: "by", Top: 2000, Links: map[string]string{"from": "from", "to": "to"}},
	{Kind: Binned, Needs: NeedAmount | NeedWhat, Measures: stuff, What: []Sort{Waste}, Top: 2000},
	{Kind: Away, Measures: hours, What: []Sort{Person}, Top: 24 * 366},
	{Kind: Ill, Measures: hours, What: []Sort{Person}, Top: 24 * 366},
	{Kind: Counted, Needs: NeedAmount | NeedWhat, Measures: stuff, What: countable, Where: larder, At: "in", Zero: true, Top: 20000},
	{Kind: Weighed, Needs: NeedAmount | NeedWhat, Measures: []unit.Kind{unit.Mass}, What: []Sort{Person}, Top: 350},
	{Kind: Made, Needs: NeedWhat, Measures: []unit.Kind{unit.Number, unit.Mass, unit.Volume, unit.Length, unit.Time}, What: []Sort{Load}, At: "at", Links: map[string]string{"from": "from", "with": "from"}},
	{Kind: Mended, Needs: NeedWhat, Measures: []unit.Kind{unit.Number, unit.Mass, unit.Volume, unit.Length, unit.Time}, What: []Sort{Load}, At: "at", Links: map[string]string{"from": "from", "with": "from"}},
	{Kind: Noted, Needs: NeedNote},
	{Kind: Struck, Needs: NeedStrikes},
}

// RuleOf returns the rule of a kind; ok is false for an unknown one.
func RuleOf(k Kind) (r Rule, ok bool) {
	r, ok = byKind[k]
	return r, ok
}

// Kinds lists every kind.
func Kinds() []Kind {
	out := make([]Kind, len(rules))
	for i, r := range rules {
		out[i] = r.Kind
	}
	return out
}

var byKind = func() map[Kind]Rule {
	m := map[Kind]Rule{}
	for _, r := range rules {
		m[r.Kind] = r
	}
	return m
}()

// greatest is the most of any measure that no rule bounds: L, kg, pieces and so on.
var greatest = map[unit.Kind]float64{
	unit.Volume: 1e6, unit.Mass: 20000, unit.Number: 1e5, unit.Area: 1e5, unit.Time: 24 * 366,
	unit.Energy: 36000, unit.Length: 1e6, unit.Depth: 1825, unit.Share: 1, unit.Temperature: 110,
}

// Most returns the greatest believable amount in one entry, in SI.
func (r Rule) Most(k unit.Kind) float64 {
	if r.Top > 0 && len(r.Measures) > 0 && r.Measures[0] == k {
		return r.Top
	}
	return greatest[k]
}
