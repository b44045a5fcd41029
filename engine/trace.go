package engine

import (
	"context"
	"fmt"
	"slices"

	"evenstead/day"
	"evenstead/weather"
)

// A Trace follows one need through one member, week by week, up to the day it
// first falls short and a little beyond.
type Trace struct {
	Need     string      `json:"need"`
	Name     string      `json:"name"`
	Weather  string      `json:"weather"`  // which year's it is
	Of       int         `json:"of"`       // members that fall short
	Members  int         `json:"members"`  // all
	Short    *day.Day    `json:"short"`    // the first day short in this one; nil when it holds
	Store    string      `json:"store"`    // that is followed
	Unit     string      `json:"unit"`     // of the store's level
	Material string      `json:"material"` // of the flows
	FlowUnit string      `json:"flow_unit"`
	Weeks    []TraceWeek `json:"weeks"`
}

// A TraceWeek is one week of a trace.
type TraceWeek struct {
	From  day.Day `json:"from"`
	Level float64 `json:"level"` // as the week begins
	Want  float64 `json:"want"`  // asked of the need, in its own unit
	Got   float64 `json:"got"`
	In    []Flow  `json:"in"`   // into the stores followed
	Out   []Flow  `json:"out"`  // out of them
	Seed  float64 `json:"seed"` // of what is eaten: harvest set aside to be sown, which does not come in
}

// after is how many weeks a trace goes on once the need is short.
const after = 2

// wellspring is where a need's store stands in the ledger.
type wellspring struct {
	at    node
	mat   material
	gauge string // id of the store shown
}

// springOf finds the store that a need draws on.
func (m *Model) springOf(n int) wellspring {
	switch {
	case n == needDrinking || n == needWashing || n == needBeds:
		return wellspring{atTanks, mWater, m.gaugeOf(n, "tank:")}
	case n == needFirstNutrient || n > needFirstNutrient && n < m.after(0):
		return wellspring{atLarder, mEnergy, "food"}
	case n == m.after(needNitrogen):
		return wellspring{atSoil, mN, "nitrogen"}
	case n == m.after(needCover) || n == m.after(needDrums):
		return wellspring{atToilet, mMass, "cover"}
	case n == m.after(needFreezer) || n == m.after(needShelf):
		return wellspring{atLarder, mMass, m.gaugeOf(n, "place:")}
	}
	return wellspring{atFuels, mEnergy, "bottle"}
}

// gaugeOf is the first store of a kind that serves a need, else the first of the kind.
func (m *Model) gaugeOf(n int, prefix string) string {
	any := ""
	for i := range m.gauges {
		g := &m.gauges[i]
		if len(g.id) < len(prefix) || g.id[:len(prefix)] != prefix {
			continue
		}
		if g.need == n {
			return g.id
		}
		if any == "" {
			any = g.id
		}
	}
	return any
}

// Trace follows a need through the member that stands in the middle of those that
// fall short, or of all when none does.
func (m *Model) Trace(ctx context.Context, ens *weather.Ensemble, o Options, need string) (*Trace, error) {
	n := -1
	var known []string
	for i := range m.needs() {
		id, _, _, _, _ := m.title(i)
		if m.applies(i) {
			known = append(known, id)
		}
		if id == need && m.applies(i) {
			n = i
		}
	}
	if n < 0 {
		return nil, fmt.Errorf("%q is not a need of this stead: one of %v", need, known)
	}
	res, err := m.Run(ctx, ens, o)
	if err != nil {
		return nil, err
	}
	member, of := res.middleShort(n)
	t := &Trace{Need: need, Of: of, Members: res.members, Weather: ens.Members[member].Label}
	_, t.Name, _, _, _ = m.title(n)
	m.follow(t, n, member, ens.Members[member], res)
	return t, nil
}

// middleShort is the member whose first shortfall is in the middle of those that
// have one, or the first member when none has, and how many have.
func (r *Result) middleShort(n int) (member, of int) {
	horizon := r.m.days - r.m.skip
	var list []int
	for i := range r.members {
		if int(r.first[i*r.m.needs()+n]) < horizon {
			list = append(list, i)
		}
	}
	if len(list) == 0 {
		return 0, 0
	}
	slices.SortStableFunc(list, func(a, b int) int { return int(r.first[a*r.m.needs()+n]) - int(r.first[b*r.m.needs()+n]) })
	return list[len(list)/2], len(list)
}

// follow runs the member again and writes its weeks down.
func (m *Model) follow(t *Trace, n, member int, w weather.Member, res *Result) {
	src := m.springOf(n)
	g := slices.IndexFunc(m.gauges, func(g gauge) bool { return g.id == src.gauge })
	if g >= 0 {
		t.Store, t.Unit = m.gauges[g].name, m.gauges[g].unit
	}
	t.Material, t.FlowUnit = materialNames[src.mat], materialUnits[src.mat]
	first := int(res.first[member*m.needs()+n])
	last := m.days
	if first < m.days-m.skip {
		d := m.today + day.Day(first)
		t.Short = &d
		last = min(m.days, m.skip+first+7*(after+1))
	}
	c := recorder{runner: newRunner(m), res: m.newResult(1), short: make([]uint32, m.needs()*m.weeks)}
	c.begin(member, w)
	before := ledger{}
	for d := range last {
		c.hear(d)
		if d == m.skip {
			c.today()
		}
		if d >= m.skip && (d-m.skip)%7 == 0 {
			before = c.s.led
			week := TraceWeek{From: m.start + day.Day(d)}
			if g >= 0 {
				week.Level = m.gauges[g].read(c.s)
			}
			t.Weeks = append(t.Weeks, week)
		}
		want, got := c.s.wantAll[n]+c.s.wantWeek[n]+c.s.want[n], c.s.gotAll[n]+c.s.gotWeek[n]+c.s.got[n]
		c.step(d)
		if k := len(t.Weeks) - 1; k >= 0 {
			t.Weeks[k].Want += c.s.wantAll[n] + c.s.wantWeek[n] + c.s.want[n] - want
			t.Weeks[k].Got += c.s.gotAll[n] + c.s.gotWeek[n] + c.s.got[n] - got
		}
		c.closeDay(d)
		if m.cal[d].wd == 6 || d == m.days-1 {
			c.closeWeek(d)
		}
		if k := len(t.Weeks) - 1; k >= 0 && ((d-m.skip)%7 == 6 || d == last-1) {
			t.Weeks[k].In, t.Weeks[k].Out = moved(&before, &c.s.led, src)
			if src.at == atLarder {
				t.Weeks[k].Seed = c.s.led[src.mat][atPlants][atSeed] - before[src.mat][atPlants][atSeed]
			}
		}
	}
}

// moved lists what came into and went out of a node.
func moved(before, now *ledger, src wellspring) (in, out []Flow) {
	for other := range nodes {
		if v := now[src.mat][other][src.at] - before[src.mat][other][src.at]; v > 1e-9 {
			in = append(in, Flow{materialNames[src.mat], materialUnits[src.mat], nodeNames[other], nodeNames[src.at], v})
		}
		if v := now[src.mat][src.at][other] - before[src.mat][src.at][other]; v > 1e-9 {
			out = append(out, Flow{materialNames[src.mat], materialUnits[src.mat], nodeNames[src.at], nodeNames[other], v})
		}
	}
	return in, out
}
