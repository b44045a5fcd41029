package plan

import (
	"context"
	"slices"

	"evenstead/engine"
)

// loops reads the water of the year planned for and what the loops give the beds.
func (y *years) loops(ctx context.Context, a *Ask, opt engine.Options) error {
	m, err := engine.Prepare(a.Stead, a.Tables, opt)
	if err != nil {
		return err
	}
	few := *a.Members
	few.Members = few.Members[:min(learn, len(few.Members))]
	waters, err := m.WaterYears(ctx, &few)
	if err != nil {
		return err
	}
	y.nets = waters.Net
	y.frame.Tanks = m.Frame().Tanks
	y.water = make([][slots]float64, len(y.frame.Tanks))
	for g := range y.water {
		y.water[g] = poorWater(waters.Net, g, y.risk)
		y.frame.Tanks[g].Level = waters.Today[g]
	}
	return y.lookRounds(ctx, a, m)
}

// poorWater is the member whose year's gain a share of members stay below.
func poorWater(net [][][]float64, g int, risk float64) (out [slots]float64) {
	order := make([]int, len(net))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		switch a, b := sum(net[i][g]), sum(net[j][g]); {
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return i - j
	})
	copy(out[:], net[order[int(risk*float64(len(net)-1))]][g])
	return out
}

// without is the same year with only the sowings that have ground and that no wish
// forbids.
func (y *years) without(wishes []Wish) *years {
	z := *y
	z.comes, z.offers = nil, nil
	z.sowings = slices.DeleteFunc(slices.Clone(y.sowings), func(w sowing) bool { return !y.room(&w, wishes) })
	return &z
}

// leastRoom is the ground below which nothing is sown, m2.
const leastRoom = 0.05

// room tells whether a sowing may have any ground.
func (y *years) room(w *sowing, wishes []Wish) bool {
	for _, wish := range wishes {
		if wish.Kind == Forbid && wish.What == w.crop.ID {
			return false
		}
	}
	area := y.open(w.on, wishes)
	for s := w.from; s < w.to; s++ {
		if area-y.held(w.on, s) < leastRoom {
			return false
		}
	}
	return area-y.familyHeld(w.on, w.crop.Family) >= leastRoom
}
