package reckon

import (
	"slices"

	"evenstead/engine"
)

// Carbon follows from what the engine balances: food by its energy, wastes and
// heaps by their mass. Carbon shares:
//
//   - kg C a MJ eaten, from the three that give energy: starch C6H10O5, fat as
//     triolein C57H104O6 and protein as C5H7NO2, by their formulas, at 17, 37 and 17
//     MJ/kg (FAO 2003, Food energy: general Atwater factors);
//   - kg C a MJ of fuel: IPCC 2006, vol. 2, table 1.3;
//   - food waste and garden waste, share of dry mass: IPCC 2006, vol. 5, table 2.4; a
//     quarter of kitchen waste is dry, nine tenths of that volatile (data/digester_feeds.csv);
//   - leaves, faeces, droppings, share of wet mass: nitrogen times C:N times what is
//     dry, of Rynk 1992 and Gotaas 1956 (data/compost_materials.csv);
//   - what stood in a heap, drum or digester before: common practice.
const (
	starchC, fatC, proteinC = 72.066 / 162.141, 684.627 / 885.453, 60.055 / 113.116

	woodC, bottleC = 0.0305, 0.0172 // kg C a MJ

	wasteDryC = 0.38
	wasteC    = 0.25 * wasteDryC // of kitchen waste as it is
	gasC      = wasteDryC / 0.9  // of volatile solids that went into gas
	plantC    = 0.49             // of dry straw and roots
	leavesC   = 0.009 * 54 * (1 - 0.38)
	faecesC   = 0.06 * 7.5 * (1 - 0.746)
	litterC   = 0.04 * 13 * (1 - 0.4)
	feedC     = 0.88 * starchC // of grain with 12 % water
	slurryC   = 0.05 * wasteDryC
	heapC     = 0.12
	drumC     = 0.20
)

// Energy of what is eaten, MJ/kg.
const starchMJ, fatMJ, proteinMJ = 17.0, 37.0, 17.0

// A Mix is the share of food energy from protein and from fat; the rest is starch.
type Mix struct{ Protein, Fat float64 }

// UsualMix is taken where nothing is known of the food: the middle of the goals for
// populations, 10 to 15 and 15 to 30 in 100 of energy (WHO and FAO 2003, Technical
// Report 916, table 6).
var UsualMix = Mix{0.125, 0.225}

// MixOf is the mix of what an account's household ate; UsualMix when nothing was.
func MixOf(a *engine.Account) Mix {
	var mj, protein, fat float64
	for i := range a.Food {
		switch u := &a.Food[i]; u.ID {
		case "energy_mj":
			mj = u.Used.All()
		case "protein_g":
			protein = u.Used.All() / 1000
		case "fat_g":
			fat = u.Used.All() / 1000
		}
	}
	m := Mix{protein * proteinMJ / mj, fat * fatMJ / mj}
	if !(mj > 0) || m.Protein+m.Fat > 1 {
		return UsualMix
	}
	return m
}

// perMJ is the carbon of a MJ of the mix, kg.
func (m Mix) perMJ() float64 {
	return m.Protein*proteinC/proteinMJ + m.Fat*fatC/fatMJ + (1-m.Protein-m.Fat)*starchC/starchMJ
}

// Carbon is the balance of carbon, kg, reckoned from those of mass and energy: what
// plants bind, what is eaten and breathed out, wastes, gas, wood and bottled gas. In
// heaps, drums and slurry carbon goes where the mass goes, in its proportion. The
// carbon of urine counts as breathed out, that in washing water and below the roots
// is left out, and of the soil only the change is known. ok is false without both.
func Carbon(all []engine.Balance, eaten Mix) (b engine.Balance, ok bool) {
	mass, energy := material(all, "mass"), material(all, "energy")
	if mass == nil || energy == nil {
		return b, false
	}
	c := &carbon{mass: mass, energy: energy, flows: map[[2]string]engine.Part{}, stores: map[string]*engine.StoreChange{}, food: eaten.perMJ()}
	for _, s := range mass.Stores {
		c.stores[s.Node] = &engine.StoreChange{Node: s.Node}
	}
	c.larder()
	c.seed()
	c.house()
	c.hens()
	c.mixed("scraps", wasteC)
	c.digester()
	c.mixed("toilet", drumC)
	c.mixed("compost", heapC)
	c.ground()
	c.fuel()
	return c.balance(), true
}

func material(all []engine.Balance, name string) *engine.Balance {
	at := slices.IndexFunc(all, func(b engine.Balance) bool { return b.Material == name })
	if at < 0 {
		return nil
	}
	return &all[at]
}

// carbon is a balance in the making.
type carbon struct {
	mass, energy *engine.Balance
	flows        map[[2]string]engine.Part
	stores       map[string]*engine.StoreChange
	food         float64 // kg C a MJ eaten
}

func scaled(p engine.Part, by float64) engine.Part {
	return engine.Part{Told: p.Told * by, Filled: p.Filled * by}
}

func (c *carbon) move(from, to string, p engine.Part) {
	had := c.flows[[2]string{from, to}]
	c.flows[[2]string{from, to}] = engine.Part{Told: had.Told + p.Told, Filled: had.Filled + p.Filled}
}

// of is what moved between two nodes in a balance.
func of(b *engine.Balance, from, to string) engine.Part {
	for _, f := range b.Flows {
		if f.From == from && f.To == to {
			return f.Part
		}
	}
	return engine.Part{}
}

// held is what a node held before and after, in a balance; what it lost more than it
// is known to have held was there before.
func held(b *engine.Balance, node string) (before, after float64) {
	for _, s := range b.Stores {
		if s.Node == node {
			before, after = s.Before+s.Described, s.After
			low := min(0, before, after)
			return before - low, after - low
		}
	}
	return 0, 0
}

// net sums the carbon into a node, less what left it.
func (c *carbon) net(node string) (sum float64) {
	for k, p := range c.flows {
		if k[1] == node {
			sum += p.All()
		}
		if k[0] == node {
			sum -= p.All()
		}
	}
	return sum
}

// larder books food by its energy, and its peels and what spoilt by mass: the peels
// came in with the food.
func (c *carbon) larder() {
	spoilt := of(c.energy, "larder", "air").All() * c.food
	for _, f := range c.energy.Flows {
		if f.To == "larder" || f.From == "larder" && f.To != "air" {
			c.move(f.From, f.To, scaled(f.Part, c.food))
		}
	}
	out, in := 0.0, 0.0
	for _, f := range c.mass.Flows {
		if f.From == "larder" && offFood(f.To) {
			out += f.All()
		}
		if f.To == "larder" && f.From != "hens and bees" {
			in += f.All()
		}
	}
	before, after := held(c.mass, "larder")
	gone := max(0, before-after)
	scraps := max(out*wasteC, spoilt)
	if in+gone <= 0 {
		scraps = spoilt
	}
	refuse := scraps - spoilt
	for _, f := range c.mass.Flows {
		switch {
		case f.From == "larder" && offFood(f.To):
			c.move("larder", f.To, scaled(f.Part, scraps/out))
		case f.To == "larder" && f.From != "hens and bees" && refuse > 0:
			c.move(f.From, "larder", scaled(f.Part, refuse/(in+gone)))
		}
	}
	if out <= 0 {
		c.move("larder", "air", engine.Part{Filled: spoilt})
	}
	before, after = held(c.energy, "larder")
	s := c.stores["larder"]
	s.Before, s.After = before*c.food, after*c.food
	if refuse > 0 {
		s.Before += refuse * gone / (in + gone)
	}
}

// seed is set aside and sprouts as the food that it is.
func (c *carbon) seed() {
	s := c.stores["seed"]
	if s == nil {
		return
	}
	for _, f := range c.energy.Flows {
		if f.To == "seed" || f.From == "seed" {
			c.move(f.From, f.To, scaled(f.Part, c.food))
		}
	}
	before, _ := held(c.energy, "seed")
	s.Before = before * c.food
	c.settle("seed")
}

// offFood tells where peels and spoilt food go.
func offFood(to string) bool { return to == "scraps" || to == "hens and bees" || to == "compost" }

// house breathes out what it eats, less what goes to the toilet.
func (c *carbon) house() {
	for _, to := range []string{"toilet", "trade", "compost", "soil"} {
		c.move("house", to, scaled(of(c.mass, "house", to), faecesC))
	}
	left := c.net("house")
	c.move("house", "air", engine.Part{Filled: max(0, left)})
	if left < 0 {
		c.stores["house"].Before = -left
	}
}

// hens breathe out what is in neither eggs nor droppings.
func (c *carbon) hens() {
	const node = "hens and bees"
	for _, f := range c.mass.Flows {
		if f.To == node && f.From != "larder" {
			c.move(f.From, node, scaled(f.Part, feedC))
		}
	}
	room := max(0, c.net(node))
	droppings := 0.0
	for _, to := range []string{"soil", "compost"} {
		droppings += of(c.mass, node, to).All() * litterC
	}
	for _, to := range []string{"soil", "compost"} {
		if droppings > 0 {
			c.move(node, to, scaled(of(c.mass, node, to), litterC*min(1, room/droppings)))
		}
	}
	left := c.net(node)
	c.move(node, "air", engine.Part{Filled: max(0, left)})
	if left < 0 { // honey, and eggs of what they found themselves
		c.move("wild land", node, engine.Part{Filled: -left})
	}
}

// brought is the carbon a kg of what comes from outside into a heap or vessel.
var brought = map[string]float64{"scraps": wasteC, "digester": wasteC, "compost": wasteC, "toilet": leavesC}

// bring books what comes into a node from where no carbon was booked yet.
func (c *carbon) bring(node string) (kg float64) {
	for _, f := range c.mass.Flows {
		if f.To != node {
			continue
		}
		kg += f.All()
		if slices.Contains(engine.OutsideNodes(), f.From) {
			c.move(f.From, node, scaled(f.Part, brought[node]))
		}
	}
	return kg
}

// mixed books what leaves a heap or vessel in proportion to its mass.
func (c *carbon) mixed(node string, stood float64) { c.mix(node, stood, 0, 0) }

// mix is mixed with some mass and carbon gone before.
func (c *carbon) mix(node string, stood, kgGone, carbonGone float64) {
	kg := c.bring(node)
	before, _ := held(c.mass, node)
	in := c.net(node) + carbonGone
	s := c.stores[node]
	s.Before = before * stood
	per := 0.0
	if kg+before-kgGone > 0 {
		per = max(0, s.Before+in-carbonGone) / (kg + before - kgGone)
	}
	for _, f := range c.mass.Flows {
		if f.From == node && !(kgGone > 0 && f.To == "air") {
			c.move(node, f.To, scaled(f.Part, per))
		}
	}
	c.settle(node)
}

// settle makes a rounding difference, or what mass the ledger did not follow, a
// change of the store.
func (c *carbon) settle(node string) {
	s := c.stores[node]
	s.After = s.Before + c.net(node)
	if s.After < 0 {
		s.Before, s.After = s.Before-s.After, 0
	}
}

// digester gives its gas to the fuels before the rest is mixed.
func (c *carbon) digester() {
	gas := of(c.mass, "digester", "air")
	in := 0.0
	for _, f := range c.mass.Flows {
		if f.To != "digester" {
			continue
		}
		if p, booked := c.flows[[2]string{f.From, f.To}]; booked {
			in += p.All()
		} else {
			in += f.All() * brought["digester"]
		}
	}
	before, _ := held(c.mass, "digester")
	carbonGone := min(gas.All()*gasC, 0.95*(in+before*slurryC))
	if gas.All() > 0 {
		c.move("digester", "fuel", scaled(gas, carbonGone/gas.All()))
	}
	c.mix("digester", slurryC, gas.All(), carbonGone)
}

// ground books straw and roots, what rots in the soil, and what plants bind.
func (c *carbon) ground() {
	c.move("plants", "soil", scaled(of(c.mass, "plants", "soil"), plantC))
	c.move("wild land", "soil", scaled(of(c.mass, "wild land", "soil"), leavesC))
	c.move("soil", "air", scaled(of(c.mass, "soil", "air"), plantC))
	c.settle("soil")
	need := -c.net("plants")
	c.move("air", "plants", engine.Part{Filled: max(0, need)})
	c.settle("plants")
}

// fuel burns what came and what was there.
func (c *carbon) fuel() {
	c.move("wild land", "fuel", scaled(of(c.energy, "wild land", "fuel"), woodC))
	c.move("not recorded", "fuel", scaled(of(c.energy, "not recorded", "fuel"), woodC))
	c.move("trade", "fuel", scaled(of(c.energy, "trade", "fuel"), bottleC))
	before, after := held(c.energy, "fuel")
	s := c.stores["fuel"]
	s.Before, s.After = before*woodC, after*woodC
	burnt := c.net("fuel") + s.Before - s.After
	c.move("fuel", "air", engine.Part{Filled: max(0, burnt)})
	c.settle("fuel")
}

func (c *carbon) balance() engine.Balance {
	b := engine.Balance{Material: "carbon", Unit: "kg", Flows: []engine.AccountFlow{}}
	for k, p := range c.flows {
		if p.All() != 0 {
			b.Flows = append(b.Flows, engine.AccountFlow{From: k[0], To: k[1], Part: p})
		}
	}
	slices.SortFunc(b.Flows, func(x, y engine.AccountFlow) int {
		return slices.Compare([]string{x.From, x.To}, []string{y.From, y.To})
	})
	for _, s := range c.mass.Stores {
		b.Stores = append(b.Stores, *c.stores[s.Node])
	}
	return b
}
