package stead

// A Group is one tank, or several joined ones that share a level. Amounts are
// sums over its tanks in litres (Open in m2).
type Group struct {
	Name     string
	Holds    float64
	Dead     float64
	Level    float64
	Reserve  float64
	Open     float64
	Overflow string  // of the first tank that names one; "away" when none does
	Tanks    []int   // indices of Stead.Tanks
	Leak     float64 // L a day
}

// Groups returns the tank groups in the order their first tanks are written.
func (s *Stead) Groups() []Group {
	var out []Group
	at := map[string]int{}
	for i, t := range s.Tanks {
		name := t.group()
		g, ok := at[name]
		if !ok {
			g, at[name] = len(out), len(out)
			out = append(out, Group{Name: name, Overflow: "away"})
		}
		out[g].add(i, t)
	}
	return out
}

func (g *Group) add(i int, t Tank) {
	g.Holds += t.Holds
	g.Dead += t.Dead
	g.Level += t.Level
	g.Reserve += t.Reserve
	g.Open += t.Open
	g.Leak += t.Leak
	g.Tanks = append(g.Tanks, i)
	if g.Overflow == "away" && t.Overflow != "" {
		g.Overflow = t.Overflow
	}
}

// group is the group a tank belongs to: its own name when it stands alone.
func (t Tank) group() string {
	if t.Group != "" {
		return t.Group
	}
	return t.Name
}
