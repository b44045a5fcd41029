package engine

import (
	"context"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"evenstead/weather"
)

// A Result is what a run of many members left, member by member, so that it is
// the same for any number of workers.
type Result struct {
	m       *Model
	members int
	first   []int16   // member by need: days from today to the first shortfall; the horizon when none
	met     []float32 // member by need: share of the horizon's need met
	short   []uint32  // need by week: members short
	level   []float32 // member by gauge by week
	kg      []float32 // member by planting
	picked  []int16   // member by planting: first day of picking from today, -1 never
	seed    []float32 // member by planting: kg of kg set aside to be sown
	cause   []uint8   // member by planting
	flows   []ledger  // of the first members
	eaten   []float32 // member by kind: MJ eaten
}

// flowMembers is how many members' ledgers are kept for the loops.
const flowMembers = 200

// Run carries every member of the ensemble through its days on all cores. The
// ensemble must begin on the model's first day and last at least its days.
func (m *Model) Run(ctx context.Context, ens *weather.Ensemble, o Options) (*Result, error) {
	if ens.Start != m.start || ens.Days < m.days {
		return nil, fmt.Errorf("the weather runs from %s for %d days; the stead needs %s for %d", ens.Start, ens.Days, m.start, m.days)
	}
	res := m.newResult(len(ens.Members))
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = min(workers, len(ens.Members))
	counts := make([][]uint32, workers)
	together := max(1, min(abreast, len(ens.Members)/workers))
	var next, done atomic.Int64
	var wg sync.WaitGroup
	for w := range workers {
		counts[w] = make([]uint32, len(res.short))
		wg.Go(func() {
			row := m.row(together, recorder{res: res, short: counts[w], force: o.force})
			for {
				i := int(next.Add(int64(together))) - together
				if i >= len(ens.Members) || ctx.Err() != nil {
					return
				}
				n := min(together, len(ens.Members)-i)
				row[:n].run(i, ens.Members[i:i+n])
				if n := int(done.Add(int64(n))); o.Report != nil && w == 0 {
					o.Report(n, len(ens.Members))
				}
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("the run was stopped: %w", err)
	}
	for _, c := range counts { // whole numbers: the order of adding does not matter
		for i, n := range c {
			res.short[i] += n
		}
	}
	return res, nil
}

func (m *Model) newResult(members int) *Result {
	n, weeks := m.needs(), m.weeks
	return &Result{
		m: m, members: members,
		first: make([]int16, members*n), met: make([]float32, members*n),
		short:  make([]uint32, n*weeks),
		level:  make([]float32, members*len(m.gauges)*(weeks+1)),
		kg:     make([]float32, members*len(m.plantings)),
		seed:   make([]float32, members*len(m.plantings)),
		picked: make([]int16, members*len(m.plantings)),
		cause:  make([]uint8, members*len(m.plantings)),
		eaten:  make([]float32, members*len(m.kinds)),
		flows:  make([]ledger, min(members, flowMembers)),
	}
}

// A recorder runs members and writes down what they show.
type recorder struct {
	*runner
	res   *Result
	short []uint32
	i     int
	force func(*state)
}

// A row is members that go through their days side by side. Each has a state of its
// own: what one shows does not depend on the others.
type row []*recorder

// abreast is how many members go together (measured: 4 to 16 cost a twentieth less than one).
const abreast = 8

func (m *Model) row(n int, like recorder) row {
	all := make(row, n)
	for i := range all {
		c := like
		c.runner = newRunner(m)
		all[i] = &c
	}
	return all
}

// run runs members from the first day to the last; the first is the i-th of the
// ensemble.
func (all row) run(i int, members []weather.Member) {
	for k, c := range all {
		c.start(i+k, members[k])
	}
	for day := range all[0].m.days {
		plan := &all[0].m.cal[day]
		for _, c := range all {
			c.morning(day)
		}
		for _, phase := range phases {
			for _, c := range all {
				phase(c.runner, plan)
			}
		}
		for _, c := range all {
			c.evening(day)
		}
		if plan.wd == 0 {
			runtime.Gosched() // pages that wait for a processor go first
		}
	}
	for _, c := range all {
		c.finish()
	}
}

// start sets a recorder to the first morning of a member.
func (c *recorder) start(i int, w weather.Member) {
	c.i = i
	c.begin(i, w)
	first := c.firsts()
	for n := range first {
		first[n] = int16(c.m.days - c.m.skip)
	}
}

func (c *recorder) morning(day int) {
	c.hear(day)
	if day == c.m.skip {
		c.today()
	}
	c.dawn(day)
}

func (c *recorder) evening(day int) {
	c.endDay()
	c.closeDay(day)
	if plan := &c.m.cal[day]; plan.wd == 6 || day == c.m.days-1 {
		c.closeWeek(day)
	}
}

func (c *recorder) firsts() []int16 {
	n := c.m.needs()
	return c.res.first[c.i*n : (c.i+1)*n]
}

// today begins the horizon: what came before is not counted.
func (c *recorder) today() {
	s := c.s
	clear(s.wantAll)
	clear(s.gotAll)
	clear(s.wantWeek)
	clear(s.gotWeek)
	s.led = ledger{}
	if c.force != nil {
		c.force(s)
		c.stale = true
	}
	for q := range s.crop {
		s.crop[q].kg, s.crop[q].first = 0, -1
		c.res.seed[c.i*len(s.crop)+q] = -float32(s.crop[q].seed)
	}
	c.gauge(0)
}

// closeDay looks for shortfalls of the needs that are felt within a day.
func (c *recorder) closeDay(day int) {
	s, m := c.s, c.m
	for _, n := range m.daily {
		if s.want[n] > 0 {
			if s.got[n] < s.want[n]*(1-m.tolerances[n]) {
				c.mark(n, day)
			}
			s.wantWeek[n] += s.want[n]
			s.gotWeek[n] += s.got[n]
			s.want[n], s.got[n] = 0, 0
		}
	}
}

// mark notes the first day a need falls short.
func (c *recorder) mark(n, day int) {
	if day < c.m.skip {
		return
	}
	f := c.firsts()
	f[n] = min(f[n], int16(day-c.m.skip))
}

// closeWeek sums the week, judges every need over it, and reads the gauges.
func (c *recorder) closeWeek(day int) {
	s, m := c.s, c.m
	c.nutrition(day)
	c.nitrogen()
	week := (day - m.skip) / 7
	for n := range s.wantWeek {
		want, got := s.wantWeek[n]+s.want[n], s.gotWeek[n]+s.got[n]
		s.wantWeek[n], s.gotWeek[n], s.want[n], s.got[n] = 0, 0, 0, 0
		s.wantAll[n] += want
		s.gotAll[n] += got
		if day >= m.skip && c.judge(n, want, got) {
			c.mark(n, max(m.skip, day-6))
			if week < m.weeks {
				c.short[n*m.weeks+week]++
			}
		}
	}
	clear(s.eaten)
	if day >= m.skip && week+1 <= m.weeks {
		c.gauge(week + 1)
	}
}

// judge tells whether a week's need fell short. A nutrient is judged over the
// four weeks behind it.
func (c *recorder) judge(n int, want, got float64) bool {
	m, s := c.m, c.s
	if k := n - needFirstNutrient; k > 0 && k < m.nutrientNeeds {
		want, got = 0, 0
		for i := range s.intake {
			want += s.target[i][k]
			got += s.intake[i][k]
		}
	}
	return want > 0 && got < want*(1-m.tolerances[n])
}

// nutrition sums what the week's eating brought of each nutrient.
func (c *recorder) nutrition(day int) {
	s, m := c.s, c.m
	k := m.nutrientNeeds
	s.ring = (s.ring + 1) % len(s.intake)
	in, target := s.intake[s.ring], s.target[s.ring]
	clear(in)
	for i, kg := range s.eaten {
		if kg <= 0 {
			continue
		}
		if day >= m.skip {
			c.res.eaten[c.i*len(m.kinds)+i] += float32(kg * m.kinds[i].mj)
		}
		row := m.composition[i*k : (i+1)*k]
		sums := in[:len(row)]
		for j, v := range row {
			sums[j] += kg * v
		}
	}
	week := m.cal[day].week
	copy(target, m.targets[week*k:(week+1)*k])
	for j := 1; j < k; j++ {
		c.s.wantWeek[needFirstNutrient+j] += target[j]
		c.s.gotWeek[needFirstNutrient+j] += min(in[j], target[j])
	}
}

// nitrogen sums what the standing crops have asked for and had.
func (c *recorder) nitrogen() {
	for _, q := range c.here {
		cs := &c.s.crop[q]
		if cs.asked.n > 0 {
			c.need(c.m.after(needNitrogen), cs.asked.n, min(cs.asked.n, cs.got.n))
		}
	}
}

// gauge reads every store at the start of a week.
func (c *recorder) gauge(week int) {
	m := c.m
	at := c.i * len(m.gauges) * (m.weeks + 1)
	for g := range m.gauges {
		c.res.level[at+g*(m.weeks+1)+week] = float32(m.gauges[g].read(c.s))
	}
}

// finish writes down the member's totals.
func (c *recorder) finish() {
	m, s := c.m, c.s
	n := m.needs()
	for k := range n {
		met := float32(1)
		if s.wantAll[k] > 0 {
			met = float32(min(1, s.gotAll[k]/s.wantAll[k]))
		}
		c.res.met[c.i*n+k] = met
	}
	for q := range m.plantings {
		c.res.kg[c.i*len(m.plantings)+q] = float32(s.crop[q].kg)
		c.res.seed[c.i*len(m.plantings)+q] += float32(s.crop[q].seed)
		c.res.picked[c.i*len(m.plantings)+q] = int16(s.crop[q].first)
		c.res.cause[c.i*len(m.plantings)+q] = uint8(s.crop[q].cause)
	}
	if c.i < len(c.res.flows) {
		c.res.flows[c.i] = s.led
	}
}
