package engine

import "maps"

// Shortfalls are the needs that at least one year in ten leaves short, in the
// order in which the verdict tells them.
func (o *Outlook) Shortfalls() []*NeedOutlook { return o.shortfalls() }

// Need finds a need by its id; nil when there is none.
func (o *Outlook) Need(id string) *NeedOutlook { return o.find(id) }

// Lack is how far a need goes unmet: its mean weekly chance of falling short, and
// the share of it that is not met in the middle year. 0 holds always, 2 never.
func (n *NeedOutlook) Lack() float64 { return n.lack() }

// LuckOf gives every stand that another model of the stead has too the luck that
// it has there, so that a bed more or less leaves the luck of the rest as it was.
// Stands that are here alone draw after them.
func (m *Model) LuckOf(other *Model) {
	here := map[string][]int{}
	for q := range m.plantings {
		name := m.standName(q)
		here[name] = append(here[name], q)
	}
	m.drawn = make([]int, 0, len(m.plantings))
	for q := range other.plantings {
		name := other.standName(q)
		if len(here[name]) == 0 {
			m.drawn = append(m.drawn, noStand)
			continue
		}
		m.drawn = append(m.drawn, here[name][0])
		here[name] = here[name][1:]
	}
	for q := range m.plantings {
		name := m.standName(q)
		if len(here[name]) > 0 && here[name][0] == q {
			m.drawn = append(m.drawn, q)
			here[name] = here[name][1:]
		}
	}
}

// noStand stands for one of the other model's that is not here.
const noStand = -1

// AtToday is the past with members that begin today rather than Lead days
// before, all from what the book makes likeliest: a change to the stead then
// holds from today on, and not from before it was made. Several may be prepared
// from at once, each from its own.
func (p *Past) AtToday() *Past {
	q := *p
	q.From, q.at, q.state, q.done = p.Today, p.end, p.ended, true
	q.refusals = maps.Clone(p.refusals)
	return &q
}
