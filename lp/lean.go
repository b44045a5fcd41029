package lp

// clearRatio is how much more a side's room must have shrunk than its multiplier,
// or the reverse, for the side to count as settled; unclearShare of all pairs,
// or unclearFew, may be unsettled. muApart is how far mu must have fallen
// between the two points compared.
const (
	clearRatio   = 10
	unclearShare = 2e-3
	unclearFew   = 5
	muApart      = 1e-2
)

// lean says which sides an interior answer rests on: -1 lower, +1 upper, 0
// neither, for each column and row; unclear counts those near the middle.
type lean struct {
	col, row []int8
	unclear  int
	pairs    int
}

// trail keeps two earlier points, each with a mu well above the next.
type trail struct{ last, before point }

// note files the point if mu has fallen far enough since the last one filed.
func (t *trail) note(s *ipm) {
	if t.last.x == nil || s.gauge(&s.point) < muApart*s.gauge(&t.last) {
		t.before, t.last = t.last, s.point.copy()
	}
}

// reference is the latest filed point whose mu is well above the present one.
func (t *trail) reference(s *ipm) *point {
	switch now := s.gauge(&s.point); {
	case now < muApart*s.gauge(&t.last):
		return &t.last
	case t.before.x != nil:
		return &t.before
	}
	return nil
}

// gauge is mu of the point x/tau.
func (s *ipm) gauge(p *point) float64 {
	return (dot(p.x, p.z) + dot(p.w, p.v)) / (p.tau * p.tau)
}

func (p *point) copy() point {
	c := func(a []float64) []float64 { return append([]float64(nil), a...) }
	return point{c(p.x), c(p.z), c(p.w), c(p.v), c(p.y), p.tau, p.kappa}
}

// newLean judges each pair by its course, which no unit changes: as mu goes to
// zero, the one of multiplier and room that goes to zero follows it and the
// other stands (El-Bakry, Tapia and Zhang 1994, SIAM Rev. 36:45-72).
func newLean(s *ipm) *lean {
	l := &lean{col: make([]int8, len(s.p.Cost)), row: make([]int8, len(s.p.RowLo))}
	old := s.trail.reference(s)
	for j, q := range s.parts {
		if q.mate >= 0 {
			continue
		}
		at := &l.row
		i := -1 - q.source
		if q.source >= 0 {
			at, i = &l.col, q.source
		}
		lower, upper := s.z[j]/s.x[j], 0.0
		if s.bounded(j) {
			upper = s.v[j] / s.w[j]
		}
		if old != nil {
			lower *= old.x[j] / old.z[j]
			if s.bounded(j) {
				upper *= old.w[j] / old.v[j]
			}
		}
		l.weigh(&(*at)[i], int8(-q.sign), lower)
		if s.bounded(j) {
			l.weigh(&(*at)[i], int8(q.sign), upper)
		}
	}
	return l
}

// weigh notes a side as rested on when its multiplier outweighs its room.
func (l *lean) weigh(at *int8, dir int8, ratio float64) {
	l.pairs++
	if ratio > 1 {
		*at = dir
	}
	if ratio < clearRatio && ratio > 1.0/clearRatio {
		l.unclear++
	}
}

func (l *lean) settled() bool {
	return l.unclear <= unclearFew+int(unclearShare*float64(l.pairs))
}
