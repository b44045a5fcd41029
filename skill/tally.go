package skill

import (
	"fmt"
	"slices"

	"evenstead/day"
	"evenstead/engine"
)

// tally gathers hindcasts.
type tally struct {
	leads   []int
	members int
	horizon int // days
	years   map[int]bool
	stores  map[string]*storeTally
	needs   map[string]*needTally
	ids     []string // stores as first met
	once    map[string]*onceTally
	onceIDs []string
	wants   []string // needs likewise
	starts  int
}

// told is one level or chance, with what came of it.
type told struct {
	start   day.Day
	members []float64 // sorted levels; a chance alone for needs
	found   float64
	of      string // the one it is about, where several are judged together
}

type storeTally struct {
	head  Store
	leads [][]told
}

type onceTally struct {
	head Once
	list []told
}

type needTally struct {
	head  Need
	leads [][]told
}

func newTally(a *Ask) *tally {
	return &tally{leads: a.Leads, members: a.Members, horizon: a.horizon(), years: map[int]bool{}, stores: map[string]*storeTally{}, once: map[string]*onceTally{}, needs: map[string]*needTally{}}
}

// skilled are the stores that are judged: those that weather moves from week to
// week.
func skilled(id string) bool {
	return id == "root-zone" || len(id) > 5 && id[:5] == "tank:" || id == "nitrogen"
}

func (t *tally) add(s day.Day, said, found *engine.Result) {
	t.starts++
	t.years[s.Year()] = true
	a, b := said.Outlook(), found.Outlook()
	for i := range a.Stores {
		if st := &a.Stores[i]; skilled(st.ID) {
			t.store(s, st, said, found)
		}
	}
	for i := range a.Needs {
		if n := &a.Needs[i]; n.Main && n.Known && i < len(b.Needs) {
			t.need(s, n, &b.Needs[i])
			t.met(s, n, said, found)
		}
	}
	for i := range a.Crops {
		t.picking(s, &a.Crops[i], said, found)
	}
}

func (t *tally) store(s day.Day, head *engine.StoreOutlook, said, found *engine.Result) {
	x := t.stores[head.ID]
	if x == nil {
		x = &storeTally{head: Store{ID: head.ID, Name: head.Name, Unit: head.Unit}, leads: make([][]told, len(t.leads))}
		t.stores[head.ID] = x
		t.ids = append(t.ids, head.ID)
	}
	levels, ok := said.Levels(head.ID)
	real, ok2 := found.Levels(head.ID)
	if !ok || !ok2 {
		return
	}
	for i, week := range t.leads {
		v := make([]float64, t.members)
		for m := range v {
			v[m] = levels(m, week)
		}
		slices.Sort(v)
		x.leads[i] = append(x.leads[i], told{start: s, members: v, found: real(0, week)})
	}
}

func (t *tally) need(s day.Day, said, found *engine.NeedOutlook) {
	x := t.needs[said.ID]
	if x == nil {
		x = &needTally{head: Need{ID: said.ID, Name: said.Name}, leads: make([][]told, len(t.leads))}
		t.needs[said.ID] = x
		t.wants = append(t.wants, said.ID)
	}
	for i, week := range t.leads {
		if week < len(said.Short) && week < len(found.Short) {
			x.leads[i] = append(x.leads[i], told{start: s, members: []float64{said.Short[week]}, found: found.Short[week]})
		}
	}
}

func (t *tally) report() *Report {
	r := &Report{Starts: t.starts, Years: len(t.years), Members: t.members}
	for _, id := range t.ids {
		x := t.stores[id]
		for i, list := range x.leads {
			x.head.Leads = append(x.head.Leads, lead(t.leads[i], list))
		}
		r.Stores = append(r.Stores, x.head)
	}
	for _, id := range t.wants {
		x := t.needs[id]
		for i, list := range x.leads {
			x.head.Leads = append(x.head.Leads, chance(t.leads[i], list))
		}
		r.Needs = append(r.Needs, x.head)
	}
	r.Once = t.onceReport()
	r.Said = r.say()
	return r
}

// lead sums up one store's levels at one lead.
func lead(weeks int, list []told) Lead {
	l := Lead{Weeks: weeks, N: len(list)}
	for i, x := range list {
		for b, share := range Bands {
			tail := (1 - share) / 2
			if x.found >= Quantile(x.members, tail)-slack(x.found) && x.found <= Quantile(x.members, 1-tail)+slack(x.found) {
				l.In[b]++
			}
		}
		l.CRPS += CRPS(slices.Clone(x.members), x.found)
		if others := sameDate(list, i); len(others) > 0 {
			l.Usual += CRPS(others, x.found)
		}
	}
	n := float64(max(1, l.N))
	for b := range l.In {
		l.In[b] /= n
	}
	l.CRPS /= n
	l.Usual /= n
	if l.Usual > 0 {
		l.Gain = 1 - l.CRPS/l.Usual
	}
	return l
}

// slack lets a value that stands on a band's edge count as within: full and empty
// tanks are the same value in many members.
func slack(v float64) float64 { return 1e-6 * (1 + max(v, -v)) }

// sameDate lists what other years had on the month and lead of a case.
func sameDate(list []told, i int) []float64 {
	var out []float64
	for j := range list {
		if j != i && list[j].of == list[i].of && list[j].start.Month() == list[i].start.Month() && list[j].start.Year() != list[i].start.Year() {
			out = append(out, list[j].found)
		}
	}
	return out
}

// chance sums up one need's chances at one lead.
func chance(weeks int, list []told) Chance {
	c := Chance{Weeks: weeks, N: len(list)}
	var stated []float64
	var came []bool
	for i, x := range list {
		short := x.found > 0.5
		stated, came = append(stated, x.members[0]), append(came, short)
		c.Brier += Brier(x.members[0], short)
		usual := 0.0
		others := sameDate(list, i)
		for _, v := range others {
			usual += v / float64(len(others))
		}
		c.Usual += Brier(usual, short)
	}
	c.Bins = binned(stated, came)
	c.Brier /= float64(max(1, c.N))
	c.Usual /= float64(max(1, c.N))
	return c
}

// say tells how often nine-in-ten chances came true, over all main needs and leads.
// Sure is how many past weeks were called more than 95 in 100 sure of a need, and
// the share of these that held.
func (r *Report) Sure() (weeks int, held float64) {
	for _, need := range r.Needs {
		for _, l := range need.Leads {
			for _, b := range l.Bins {
				if b.To <= 0.05 {
					weeks += b.N
					held += (1 - b.Came) * float64(b.N)
				}
			}
		}
	}
	return weeks, held / float64(max(1, weeks))
}

func (r *Report) say() string {
	n, held := r.Sure()
	if n == 0 {
		return "No need was called sure in any past week."
	}
	return fmt.Sprintf("Of %d past weeks that were called more than 95 in 100 sure, %.0f in 100 held.", n, 100*held)
}
