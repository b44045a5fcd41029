package engine

import "evenstead/day"

// The classes of water used, in the order of the account.
const (
	classDrinking = iota
	classWashing
	classBeds
	classDigester
	classNumber
)

var classNames = [classNumber][2]string{{"drinking", "drinking and cooking water"}, {"washing", "washing and yard water"},
	{"beds", "water led to beds"}, {"digester", "water to the digester"}}

// waterAccount follows the tanks as one pool.
type waterAccount struct {
	pool  pool
	set   bool
	held  float64 // L in all tanks, when last looked at
	use   [classNumber]Use
	told  [classNumber]float64 // L of the day, by the book
	mark  [classNumber]float64
	in    [nodes]float64 // L into the tanks by node, when last looked at
	wants [classNumber]float64
}

func (w *waterAccount) turn(r *runner) {
	if !w.set {
		w.set, w.pool = true, pool{Held: {Told: 1}}
	}
	w.morning(r)
}

// totals are litres drawn by class so far.
func (w *waterAccount) totals(r *runner) (got, want [classNumber]float64) {
	s := r.s
	got = [classNumber]float64{s.got[needDrinking], s.got[needWashing], s.got[needBeds], s.led[mWater][atTanks][atDigester]}
	want = [classNumber]float64{s.want[needDrinking], s.want[needWashing], s.want[needBeds], 0}
	return got, want
}

func (w *waterAccount) morning(r *runner) {
	w.mark, w.wants = w.totals(r)
	w.held = 0
	for _, l := range r.s.level {
		w.held += l
	}
	for n := range nodes {
		w.in[n] = r.s.led[mWater][n][atTanks]
	}
	w.told = [classNumber]float64{}
}

// heard takes what the book led to beds and treated.
func (w *waterAccount) heard(a *account) {
	w.mixIn(a, true)
	w.told[classBeds] = a.r.s.led[mWater][atTanks][atSoil] - a.day[mWater][atTanks][atSoil]
	w.told[classDrinking] = a.r.said.treated
}

// mixIn lays what came into the tanks since the last look into the pool. Rain is
// told where it was measured.
func (w *waterAccount) mixIn(a *account, told bool) {
	r := a.r
	for n := range nodes {
		litres := r.s.led[mWater][n][atTanks] - w.in[n]
		w.in[n] += litres
		if litres <= 0 {
			continue
		}
		o, part := NotRecorded, Part{Told: litres}
		switch n {
		case atSky:
			o, part = Grown, Part{Filled: litres}
			if at := a.past.Known.At(r.m.start + day.Day(r.day)); at >= 0 && a.past.Known.Rain[at] == a.past.Known.Rain[at] {
				part = Part{Told: litres}
			}
		case atDeep: // a well of one's own
			o, part = Grown, Part{Filled: litres}
		case atTrade:
			o = Bought
			if !told {
				part = Part{Filled: litres}
			}
		}
		keep := w.held / (w.held + litres)
		for i := range w.pool {
			w.pool[i] = w.pool[i].times(keep)
		}
		w.pool[o].add(part.times(1 / (w.held + litres)))
		w.held += litres
	}
}

func (w *waterAccount) evening(a *account) {
	w.mixIn(a, false)
	if !a.on {
		return
	}
	got, want := w.totals(a.r)
	for c := range classNumber {
		litres := got[c] - w.mark[c]
		told := w.told[c]
		if c == classBeds {
			litres += told
		}
		told = min(told, litres)
		u := &w.use[c]
		u.Need += want[c] - w.wants[c]
		u.Met += min(litres, want[c]-w.wants[c])
		u.Used.add(Part{told, litres - told})
		for o := range w.pool {
			u.By[o].add(w.pool[o].times(litres))
		}
	}
}

func (w *waterAccount) uses() []Use {
	out := []Use{}
	for c := range classNumber {
		u := w.use[c]
		u.ID, u.Name, u.Unit = classNames[c][0], classNames[c][1], "L"
		if u.Used.All() > 0 || u.Need > 0 {
			out = append(out, u)
		}
	}
	return out
}
