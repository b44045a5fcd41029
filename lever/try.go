package lever

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/unit"
	"evenstead/weather"
)

// Members is how many possible years a change is tried over where nobody says.
const Members = 100

// A Present is a stead as it stands, run over a few of its possible years, that
// changes are compared with.
type Present struct {
	Outlook *engine.Outlook

	kit   Kit
	few   *weather.Ensemble
	model *engine.Model
}

// Run runs the stead as it stands over the first members of a reckoning, at most
// so many. With a book behind it the run begins today, from what the book makes
// likeliest, so that a change holds from today on; without one it begins on the
// day of the description, and so does a change. The reckoning stays as it is.
func Run(ctx context.Context, r *hearth.Reckoning, sys unit.System, members int) (*Present, error) {
	p := &Present{kit: For(r, sys), few: fewer(r, members)}
	var err error
	if p.model, err = engine.Prepare(r.Stead, r.Tables, p.kit.opt); err != nil {
		return nil, fmt.Errorf("the stead as it stands: %w", err)
	}
	res, err := p.model.Run(ctx, p.few, p.kit.opt)
	if err != nil {
		return nil, err
	}
	p.Outlook = res.Outlook()
	p.Outlook.Judge()
	return p, nil
}

// fewer is the first members of a reckoning; with a book, from today on.
func fewer(r *hearth.Reckoning, members int) *weather.Ensemble {
	few := *r.Members
	few.Members = slices.Clone(r.Members.Members[:min(max(1, members), len(r.Members.Members))])
	if r.Past == nil {
		return &few
	}
	lead := int(r.Past.Today - few.Start)
	few.Start, few.Days = r.Past.Today, few.Days-lead
	for i := range few.Members {
		few.Members[i] = few.Members[i].From(lead)
	}
	return &few
}

// Kit makes levers for this stead.
func (p *Present) Kit() Kit { return p.kit }

// A Trial is a change with what it does.
type Trial struct {
	Lever
	Relief  float64         `json:"relief"`  // above 0 helps the first shortfalls, below 0 harms them
	Changes []Change        `json:"changes"` // needs that it moves, in the order of the verdict
	Verdict engine.Verdict  `json:"verdict"` // of the stead with the change
	Outlook *engine.Outlook `json:"-"`       // likewise
}

// A Change is one need before and after.
type Change struct {
	ID     string  `json:"id"`
	Name   string  `json:"name"`
	Group  string  `json:"group"`
	Before Figures `json:"before"`
	After  Figures `json:"after"`
}

// Figures are how a need stands over the days ahead.
type Figures struct {
	Short float64 `json:"share_short"` // share of years that fall short
	Weeks float64 `json:"weeks_short"` // weeks short in the mean year
	Days  int     `json:"middle_days"` // days of cover in the middle year
	Open  bool    `json:"open"`        // it still holds at the end of them
	Met   float64 `json:"met"`         // share of the need met in the middle year
}

// Try runs the stead with a change over the same years with the same luck.
func (p *Present) Try(ctx context.Context, l Lever) (*Trial, error) {
	return p.try(ctx, l, p.kit.opt)
}

func (p *Present) try(ctx context.Context, l Lever, opt engine.Options) (*Trial, error) {
	m, err := p.kit.prepare(l)
	if err != nil {
		return nil, err
	}
	m.LuckOf(p.model)
	skip := int(p.Outlook.Today - m.Start())
	res, err := m.Run(ctx, l.over(p.few, skip), opt)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", l.Name, err)
	}
	o := res.Outlook()
	o.Judge()
	t := &Trial{Lever: l, Verdict: o.Verdict, Outlook: o, Relief: relief(p.Outlook, o), Changes: changes(p.Outlook, o)}
	return t, nil
}

// tryAll tries changes side by side, as many at once as the stead's runs have workers,
// and returns them in their order; what they are does not depend on how many that is.
// After a fault, or once the context ends, no more are begun.
func (p *Present) tryAll(ctx context.Context, list []Lever, report func(done, total int)) ([]*Trial, error) {
	opt := p.kit.opt
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	opt.Workers = 1
	trials, errs := make([]*Trial, len(list)), make([]error, len(list))
	var next atomic.Int64
	var told sync.Mutex
	done := 0
	var wg sync.WaitGroup
	for range min(workers, len(list)) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(list) {
					return
				}
				if errs[i] = ctx.Err(); errs[i] == nil {
					trials[i], errs[i] = p.try(ctx, list[i], opt)
				}
				if errs[i] != nil {
					next.Store(int64(len(list)))
					return
				}
				trials[i].Outlook = nil
				told.Lock()
				if done++; report != nil {
					report(done, len(list))
				}
				told.Unlock()
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return trials, nil
}

// A Ranking is every change of a stead, the most helpful first.
type Ranking struct {
	Members int            `json:"members"`
	Before  engine.Verdict `json:"verdict"`
	Trials  []*Trial       `json:"levers"`          // what nobody chooses stands last
	Pairs   []*Pair        `json:"pairs,omitempty"` // of the best, where they were asked for
}

// Rank tries every change that makes sense and ranks them by what they do to the
// first shortfalls. report, which may be nil, is told how far it has come.
func (p *Present) Rank(ctx context.Context, report func(done, total int)) (*Ranking, error) {
	list := p.kit.All(p.Outlook)
	rank := &Ranking{Members: len(p.few.Members), Before: p.Outlook.Verdict}
	var err error
	if rank.Trials, err = p.tryAll(ctx, list, report); err != nil {
		return nil, err
	}
	slices.SortStableFunc(rank.Trials, func(a, b *Trial) int {
		if a.Fate != b.Fate {
			return cmp.Compare(b2i(a.Fate), b2i(b.Fate))
		}
		return cmp.Compare(b.Relief, a.Relief)
	})
	return rank, nil
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Weights of relief: each shortfall of the verdict counts for half of the one
// before it. A need that is not among the first few, or not short yet, counts as
// little as the last of them, against a lack of a twentieth at least.
const (
	weighed  = 6
	leastWas = 0.05
)

// relief is the weighted share of the lack that is gone.
func relief(before, after *engine.Outlook) float64 {
	sum, weight := 0.0, 1.0
	seen := map[string]bool{}
	list := before.Shortfalls()
	for i, n := range list[:min(weighed, len(list))] {
		if i > 0 {
			weight /= 2
		}
		seen[n.ID] = true
		sum += weight * gone(n, after, n.Lack())
	}
	for i := range before.Needs {
		if n := &before.Needs[i]; n.Known && n.Main && !seen[n.ID] {
			sum += weight * gone(n, after, math.Max(n.Lack(), leastWas))
		}
	}
	return sum
}

func gone(n *engine.NeedOutlook, after *engine.Outlook, was float64) float64 {
	then := after.Need(n.ID)
	if then == nil || !then.Known || !(was > 0) {
		return 0
	}
	return (n.Lack() - then.Lack()) / was
}

// moved is the least change of a need's lack that is told: half a week in a
// hundred years of fifty weeks is chance.
const moved = 0.001

// changes are the needs that a change moves, those short in the verdict's order,
// then the rest.
func changes(before, after *engine.Outlook) []Change {
	var out []Change
	seen := map[string]bool{}
	add := func(n *engine.NeedOutlook) {
		then := after.Need(n.ID)
		if seen[n.ID] || !n.Known || then == nil || !then.Known || math.Abs(n.Lack()-then.Lack()) < moved {
			return
		}
		seen[n.ID] = true
		out = append(out, Change{n.ID, n.Name, n.Group, figures(n), figures(then)})
	}
	for _, n := range before.Shortfalls() {
		add(n)
	}
	for i := range before.Needs {
		add(&before.Needs[i])
	}
	return out
}

func figures(n *engine.NeedOutlook) Figures {
	f := Figures{Short: n.ShareShort, Days: n.Middle, Open: n.Open[1], Met: n.Met[1]}
	for _, p := range n.Short {
		f.Weeks += p
	}
	return f
}

// Helps tells whether a change moves the first shortfalls at all.
func (t *Trial) Helps() bool { return t.Relief >= 0.005 }

// Harms tells whether it makes them worse.
func (t *Trial) Harms() bool { return t.Relief <= -0.005 }
