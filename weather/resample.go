package weather

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// A resampler puts years together from blocks of a record. A block is 14 to 28
// days that stood together, moved by at most 10 days in the calendar. Each year of
// the record offers one block: at a random shift, or, for the year in hand, the
// days that followed. Of those the k = √n whose day before is most like the day
// just passed are taken, and one is drawn with a chance that falls as 1/rank
// (nearest neighbours after Rajagopalan and Lall 1999, Water Resources Research 35:
// 3089-3101; blocks after Künsch 1989). Likeness is the distance of both
// temperatures' anomalies in standard deviations, plus 1 where one day is wet and
// the other dry. Moved days keep their anomaly: the seasonal mean of their new
// date stands for that of the old. ET0 and sun are reckoned afresh.
type resampler struct {
	*recordSource
	tmin, tmax Curve     // seasonal means
	hi, lo     []float64 // anomalies in standard deviations
}

const (
	shortBlock, longBlock = 14, 28
	moveBlock             = 10 // days either way
	leastBlocks           = 2  // years that must offer a block on any date
)

var errShortRecord = errors.New("the record is too short to make further years of: on some dates fewer than two years are whole; " +
	"give a longer record, fill its gaps, or give monthly normals")

func newResampler(s *recordSource) (*resampler, error) {
	c := seasonOf(s)
	p := &resampler{recordSource: s, tmin: c.TMin, tmax: c.TMax}
	for slot := range YearSlots {
		n := 0
		for k := range s.newYear {
			if p.offers(s.index(s.first+k, slot), longBlock) {
				n++
			}
		}
		if n < leastBlocks {
			return nil, errShortRecord
		}
	}
	p.hi, p.lo = p.anomalies(s.TMax, &p.tmax), p.anomalies(s.TMin, &p.tmin)
	return p, nil
}

func (p *resampler) anomalies(x []float64, c *Curve) []float64 {
	out := make([]float64, len(x))
	var square mean
	for i, v := range x {
		out[i] = v - c[p.slot[i]]
		square.add(out[i] * out[i])
	}
	sd := max(0.1, math.Sqrt(square.value()))
	for i := range out {
		out[i] /= sd
	}
	return out
}

func (p *resampler) note(n int) string {
	return fmt.Sprintf("%s more put together from blocks of %d to %d days of those years, moved by at most %d days and "+
		"joined where the weather is alike.", thousands(n), shortBlock, longBlock, moveBlock)
}

// offers reports whether a block of days from i on is whole, with the day before it.
func (p *resampler) offers(i, days int) bool {
	return i >= 1 && i+days <= p.Days() && p.run[i-1] > days
}

// member fills one member.
func (p *resampler) member(h *horizon, rng *rand.Rand, m *Member) {
	last := -1
	for t := 0; t < h.days; {
		days := min(shortBlock+rng.IntN(longBlock-shortBlock+1), h.days-t)
		i := p.next(rng, h.slot[t], days, last)
		for k := range days {
			p.move(m, t+k, h.slot[t+k], i+k)
		}
		t += days
		last = i + days - 1
	}
	h.finish(m)
}

// move lays day i of the record on day t, whose slot is given.
func (p *resampler) move(m *Member, t, slot, i int) {
	from := p.slot[i]
	m.Rain[t] = p.Rain[i]
	m.TMin[t] = p.TMin[i] + p.tmin[slot] - p.tmin[from]
	m.TMax[t] = p.TMax[i] + p.tmax[slot] - p.tmax[from]
	if m.TMin[t] > m.TMax[t] {
		mid := MeanTemp(m.TMin[t], m.TMax[t])
		m.TMin[t], m.TMax[t] = mid, mid
	}
}

// candidate is a block that begins at a day of the record.
type candidate struct {
	far    float64
	at     int
	weight float64 // of its year
}

// next chooses the block that follows the day last used (-1 at the beginning).
func (p *resampler) next(rng *rand.Rand, slot, days, last int) int {
	var room [128]candidate
	found := room[:0]
	for k := range p.newYear {
		here := p.index(p.first+k, slot)
		i := here + rng.IntN(2*moveBlock+1) - moveBlock
		if last >= 0 && last+1 >= here-moveBlock && last+1 <= here+moveBlock {
			i = last + 1
		}
		if !p.offers(i, days) {
			i = here
		}
		if p.offers(i, days) {
			found = append(found, candidate{p.far(last, i-1), i, p.recent.of(p.first + k)})
		}
	}
	if last < 0 {
		return p.opening(rng, found)
	}
	near := int(math.Round(math.Sqrt(float64(len(found)))))
	slices.SortFunc(found, func(a, b candidate) int {
		switch {
		case a.far < b.far || a.far == b.far && a.at < b.at:
			return -1
		default:
			return 1
		}
	})
	if p.recent.HalfLife > 0 {
		return weighed(rng.Float64(), found[:near], kernels[near])
	}
	return found[rank(rng.Float64(), near)].at
}

// opening chooses the first block: any year's, the newer ones oftener where they weigh more.
func (p *resampler) opening(rng *rand.Rand, found []candidate) int {
	if p.recent.HalfLife > 0 {
		return weighed(rng.Float64(), found, nil)
	}
	return found[rng.IntN(len(found))].at
}

// weighed turns a random share into one of the candidates by their years' weights,
// times a kernel where there is one.
func weighed(u float64, found []candidate, kernel []float64) int {
	total := 0.0
	for i := range found {
		if kernel != nil {
			found[i].weight *= kernel[i]
		}
		total += found[i].weight
	}
	u *= total
	for i := range found {
		if u -= found[i].weight; u < 0 {
			return found[i].at
		}
	}
	return found[len(found)-1].at
}

// far is the unlikeness of two days.
func (p *resampler) far(a, b int) float64 {
	if a < 0 {
		return 0
	}
	hi, lo := p.hi[a]-p.hi[b], p.lo[a]-p.lo[b]
	far := hi*hi + lo*lo
	if (p.Rain[a] > 0) != (p.Rain[b] > 0) {
		far++
	}
	return far
}

// Kernel returns the chances of the k nearest neighbours, nearest first:
// (1/j)/Σ(1/i). Lall and Sharma (1996), from memory.
func Kernel(k int) []float64 {
	total := 0.0
	for j := 1; j <= k; j++ {
		total += 1 / float64(j)
	}
	out := make([]float64, k)
	for j := range out {
		out[j] = 1 / float64(j+1) / total
	}
	return out
}

// kernels hold the chances for each k that a record can call for: its square is its years.
var kernels = func() (all [32][]float64) {
	for k := range all {
		all[k] = Kernel(k)
	}
	return all
}()

// rank turns a random share into the rank drawn among the k nearest.
func rank(u float64, k int) int {
	for j, chance := range kernels[k] {
		if u -= chance; u < 0 {
			return j
		}
	}
	return k - 1
}
