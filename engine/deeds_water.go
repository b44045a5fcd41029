package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/water"
)

// groupOf finds a tank group by its name or a tank's, with the share of the
// group's size that the name stands for.
func (b *builder) groupOf(name string) (g int, share float64, err error) {
	for i, grp := range b.tankGroups() {
		if grp.Name == name {
			return i, 1, nil
		}
		for _, t := range grp.Tanks {
			if b.st.Tanks[t].Name == name {
				return i, b.st.Tanks[t].Holds / grp.Holds, nil
			}
		}
	}
	return 0, 0, fmt.Errorf("there is no tank %q", name)
}

func (b *builder) waterDeed(e *book.Entry) (func(*runner), error) {
	v := e.Body.Amount
	switch e.Kind {
	case book.Treated:
		by := e.Body.Extra["by"] + e.Body.What
		filtered := !strings.Contains(by, "boil") && !strings.Contains(by, "chlor") && !strings.Contains(by, "sun")
		return func(r *runner) {
			r.said.treated += v
			if filtered {
				r.s.filterLeft = max(0, r.s.filterLeft-v)
			}
		}, nil
	case book.Watered:
		return b.wateredDeed(e)
	}
	g, share, err := b.groupOf(e.Body.Where)
	if err != nil {
		return nil, err
	}
	if e.Kind == book.Dipped {
		litres := v / share // joined tanks share a level
		switch e.Body.Measure {
		case unit.Share:
			litres = v * b.m.groups[g].holds
		case unit.Length:
			if litres, err = b.litresAt(e.Body.Where, v); err != nil {
				return nil, err
			}
		}
		return func(r *runner) { r.setLevel(g, litres) }, nil
	}
	to, _, err := b.groupOf(e.Body.Extra["to"])
	if err != nil {
		if p := b.plotNamed(e.Body.Extra["to"]); p >= 0 {
			return func(r *runner) { r.waterTold(g, p, v) }, nil
		}
		return nil, fmt.Errorf("water moved from %s: say to which tank or bed, such as: to cabin", e.Body.Where)
	}
	return func(r *runner) { r.moveWater(g, to, v) }, nil
}

// litresAt is what a tank's group holds when it is dipped at a depth, m: joined
// tanks share the tank's fill.
func (b *builder) litresAt(name string, depth float64) (float64, error) {
	i := slices.IndexFunc(b.st.Tanks, func(t stead.Tank) bool { return t.Name == name })
	if i < 0 {
		return 0, fmt.Errorf("%s is a group of tanks: dip one of them by its name, or say how many litres", name)
	}
	t := &b.st.Tanks[i]
	if t.Height == 0 {
		return 0, fmt.Errorf("%s has no height in the description, so a depth can't be turned to litres: write height = \"1 m\", or dip it in litres", name)
	}
	if depth > t.Height*1.02 {
		return 0, fmt.Errorf("%s is %.2f m high and can't be dipped at %.2f m", name, t.Height, depth)
	}
	g, _, err := b.groupOf(name)
	return Filled(t, depth) * b.m.groups[g].holds, err
}

// Filled is the share of a tank that is full when it is dipped at a depth [m], by
// its shape; 0 for one whose height is not described.
func Filled(t *stead.Tank, depth float64) float64 {
	if t.Height == 0 {
		return 0
	}
	shape := map[string]water.Kind{"lying": water.Lying, "box": water.Box}[t.Shape]
	form := water.Shape{Kind: shape, Diameter: t.Height, Length: 1, Width: 1, Height: t.Height}
	return form.Volume(depth) / form.Full()
}

func (b *builder) wateredDeed(e *book.Entry) (func(*runner), error) {
	p, err := b.plotOf(e.Body.Where)
	if err != nil {
		return nil, err
	}
	plot := &b.m.plots[p]
	g := plot.group
	if from := e.Body.Extra["from"]; from != "" {
		if g, _, err = b.groupOf(from); err != nil {
			return nil, err
		}
	}
	if len(b.m.groups) == 0 {
		g = -1
	}
	litres := e.Body.Amount
	switch e.Body.Measure {
	case unit.Depth:
		litres *= plot.area
	case unit.Time:
		if !(plot.litreHours > 0) {
			return nil, fmt.Errorf("%s is not watered by the description: say how many litres", e.Body.Where)
		}
		litres /= plot.litreHours
	case "":
		return nil, errors.New("say how much water: litres, gallons, mm or minutes")
	}
	b.quietly(&plot.watered, quietDaily)
	return func(r *runner) { r.waterTold(g, p, litres) }, nil
}
