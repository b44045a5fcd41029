package engine

// Of a crop that is sown from what is eaten of it, seed for the same ground is set
// aside before food goes to the larder. It waits apart: it takes no room, is not
// eaten and does not spoil. A stand that is begun takes up what was set aside of its
// kind; that of the first sowings was apart before the stay and is not known.

// setAside puts by what a stand still owes its ground of seed, out of what was just
// picked, and returns that, kg.
func (r *runner) setAside(g *planting, c *cropState, picked float64) float64 {
	seed := lesser(picked, g.seed-c.seed)
	if seed <= 0 {
		return 0
	}
	s, kind := r.s, &r.m.kinds[g.kind]
	c.seed += seed
	s.seed[g.kind] += seed
	s.led.flow(mMass, atPlants, atSeed, seed)
	s.led.flow(mEnergy, atPlants, atSeed, seed*kind.mj)
	s.led.npk(atPlants, atSeed, kind.has.times(seed))
	return seed
}

// LeastSeed is the seed of a crop below which none is told, kg.
const LeastSeed = 0.005

// home is what a stand gave that was not set aside for seed, kg.
func (c *cropState) home() float64 { return c.kg - c.seed }

// useSeed begins a stand with the seed that was set aside for it. What the seed holds
// feeds the plant; the rest of it is breathed out as it sprouts.
func (r *runner) useSeed(g *planting, c *cropState) {
	if g.seed <= 0 {
		return
	}
	s, kind := r.s, &r.m.kinds[g.kind]
	seed := lesser(g.seed, s.seed[g.kind])
	if seed <= 0 {
		return
	}
	s.seed[g.kind] -= seed
	has := kind.has.times(seed)
	c.got, c.pool = c.got.add(has), c.pool.add(has)
	s.led.flow(mMass, atSeed, atAir, seed)
	s.led.flow(mEnergy, atSeed, atAir, seed*kind.mj)
	s.led.npk(atSeed, atPlants, has)
	r.book(g.plot, bySeed, has)
}
