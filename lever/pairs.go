package lever

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Best is how many of the most helpful changes are tried two and two.
const Best = 4

// How two changes go together.
const (
	Add     = "add up"
	Overlap = "overlap"
	Help    = "help one another"
)

// A Pair is two changes tried together over the same years with the same luck.
type Pair struct {
	Of      [2]string  `json:"of"`      // their ids
	Names   [2]string  `json:"names"`   // as the levers have them
	Alone   [2]float64 `json:"alone"`   // relief of each by itself
	Relief  float64    `json:"relief"`  // of both together
	How     string     `json:"how"`     // "add up", "overlap" or "help one another"
	Changes []Change   `json:"changes"` // needs that both together move
}

// Least shares by which a pair must miss the sum of its two to be told from it: of
// the sum, and of the whole lack.
const (
	apart      = 0.1
	leastApart = 0.01
)

// goTogether says how the relief of both compares with that of each alone.
func goTogether(a, b, both float64) string {
	tol := math.Max(apart*(math.Abs(a)+math.Abs(b)), leastApart)
	switch more := both - (a + b); {
	case more > tol:
		return Help
	case more < -tol:
		return Overlap
	}
	return Add
}

// Pairs tries the changes of a ranking that help most two and two, and says whether
// they add up. Two that can't be made together are left out.
func (p *Present) Pairs(ctx context.Context, rank *Ranking, report func(done, total int)) error {
	var best []*Trial
	for _, t := range rank.Trials {
		if !t.Fate && t.Helps() && len(best) < Best {
			best = append(best, t)
		}
	}
	var list []Lever
	var of [][2]*Trial
	for i, a := range best {
		for _, b := range best[i+1:] {
			both := Join(a.Lever, b.Lever)
			if _, err := p.kit.prepare(both); err == nil {
				list, of = append(list, both), append(of, [2]*Trial{a, b})
			}
		}
	}
	trials, err := p.tryAll(ctx, list, report)
	if err != nil {
		return err
	}
	rank.Pairs = []*Pair{}
	for i, t := range trials {
		a, b := of[i][0], of[i][1]
		rank.Pairs = append(rank.Pairs, &Pair{Of: [2]string{a.ID, b.ID}, Names: [2]string{a.Name, b.Name},
			Alone: [2]float64{a.Relief, b.Relief}, Relief: t.Relief, How: goTogether(a.Relief, b.Relief, t.Relief), Changes: t.Changes})
	}
	slices.SortStableFunc(rank.Pairs, func(a, b *Pair) int { return cmp.Compare(b.Relief, a.Relief) })
	return nil
}
