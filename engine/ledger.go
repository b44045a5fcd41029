package engine

// A node is a place a material can be: a store of the stead, or one of the
// outsides (from the sky to what was not recorded) that it exchanges with.
type node int

const (
	atSky     node = iota // rain and sunlight
	atAir                 // vapour, gas, breath, smoke
	atDeep                // below the roots, and water that runs off
	atTrade               // bought, fetched, given, carried off
	atWild                // land beyond the beds
	atUnknown             // what a count or a dip finds and nothing recorded explains
	atTanks
	atHouse // people and kitchen: what comes in leaves the same day
	atSoil
	atPlants
	atLarder
	atSeed // set aside at harvest, to be sown
	atScraps
	atDigester
	atCompost
	atToilet // pail, cans of urine, drums, cover
	atStock  // hens and bees
	atFuels  // gas bag, wood, bottle, battery
	nodes    // how many there are
)

var nodeNames = [nodes]string{"sky", "air", "deep ground", "trade", "wild land", "not recorded", "tanks", "house",
	"soil", "plants", "larder", "seed", "scraps", "digester", "compost", "toilet", "hens and bees", "fuel"}

// outside tells the nodes that have no stock of their own.
func (n node) outside() bool { return n < atTanks }

// A material is one of the things the ledger balances.
type material int

const (
	mWater  material = iota // L of liquid water; the moisture of food counts as mass
	mMass                   // kg of food and organic matter, fresh
	mEnergy                 // MJ of food (edible part) and fuel
	mN                      // kg
	mP                      // kg
	mK                      // kg
	materials
)

var materialNames = [materials]string{"water", "mass", "energy", "nitrogen", "phosphorus", "potassium"}
var materialUnits = [materials]string{"L", "kg", "MJ", "kg", "kg", "kg"}

// A ledger sums every flow of a run by material, from and to.
type ledger [materials][nodes][nodes]float64

// flow books an amount of a material that moves. Amounts below zero are a fault
// of the caller; the balance tests find them.
func (l *ledger) flow(m material, from, to node, amount float64) {
	l[m][from][to] += amount
}

// npk books nitrogen, phosphorus and potassium that move together.
func (l *ledger) npk(from, to node, v npk) {
	l[mN][from][to] += v.n
	l[mP][from][to] += v.p
	l[mK][from][to] += v.k
}

// net is what a node gained of a material: all in less all out.
func (l *ledger) net(m material, at node) float64 {
	sum := 0.0
	for other := range nodes {
		sum += l[m][other][at] - l[m][at][other]
	}
	return sum
}

// through is all that came into a node, for the scale of a rounding error.
func (l *ledger) through(m material, at node) float64 {
	sum := 0.0
	for other := range nodes {
		sum += l[m][other][at] + l[m][at][other]
	}
	return sum
}

// npk is an amount of the three nutrients, kg.
type npk struct{ n, p, k float64 }

func (a npk) add(b npk) npk           { return npk{a.n + b.n, a.p + b.p, a.k + b.k} }
func (a npk) sub(b npk) npk           { return npk{a.n - b.n, a.p - b.p, a.k - b.k} }
func (a npk) times(f float64) npk     { return npk{a.n * f, a.p * f, a.k * f} }
func (a *npk) take(share float64) npk { t := a.times(share); *a = a.sub(t); return t }
