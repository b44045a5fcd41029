package web

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"evenstead/plan"
)

// plans are the year's plans asked for on the present state of a desk: made in the
// background one at a time, the newest asked for first, and kept until the state
// changes.
type plans struct {
	mu      sync.Mutex
	state   [sha256.Size]byte
	turn    int // counts states
	stop    context.CancelFunc
	running bool
	by      map[string]*planned
	order   []string // oldest first
}

// planned is one plan: done with a plan or an error, else under way or waiting.
type planned struct {
	ask   planAsk
	done  bool
	err   error
	plan  *plan.Plan
	text  []byte // the description with its plantings
	count Progress
}

// planAsk is what a plan is asked for.
type planAsk struct {
	wishes []plan.Wish
	risk   float64 // 0: the terms'
	once   int     // possible years to sow once for
	worth  bool    // weigh the limits though nobody hungers
}

// key is the ask written one way.
func (a *planAsk) key() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%g %d %t", a.risk, a.once, a.worth)
	said := make([]string, len(a.wishes))
	for i, w := range a.wishes {
		said[i] = w.String()
	}
	slices.Sort(said)
	for _, s := range said {
		fmt.Fprintf(&b, " %q", s)
	}
	return b.String()
}

const (
	mostPlans   = 6   // kept at a time: each holds the rows it was found by
	planMembers = 200 // years a plan is tried over
)

// Plan is the plan asked for; the copy that comes back is not done while it is
// under way, which asking sets going.
func (d *Desk) Plan(ctx context.Context, ask planAsk) (planned, error) {
	b, err := d.present(ctx)
	if err != nil {
		return planned{}, err
	}
	t := &d.plans
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.by == nil || t.state != b.state {
		if t.stop != nil {
			t.stop()
		}
		t.state, t.running, t.stop, t.by, t.order = b.state, false, nil, map[string]*planned{}, nil
		t.turn++
	}
	key := ask.key()
	if t.by[key] == nil {
		t.by[key] = &planned{ask: ask, count: Progress{Total: len(plan.Steps) + 1}}
		t.order = append(t.order, key)
		t.spare()
	}
	if b.snap.Past == nil {
		return planned{ask: ask, done: true, err: b.snap.Trouble}, nil
	}
	d.wantPlans(b)
	return *t.by[key], nil
}

// spare lets the oldest plan that is done go when there are too many. The lock is
// held.
func (t *plans) spare() {
	for i := 0; len(t.order) > mostPlans && i < len(t.order)-1; i++ {
		if t.by[t.order[i]].done {
			delete(t.by, t.order[i])
			t.order = slices.Delete(t.order, i, i+1)
			i--
		}
	}
}

// next is the newest plan that is not done; nil when all are.
func (t *plans) next() *planned {
	for _, key := range slices.Backward(t.order) {
		if p := t.by[key]; !p.done {
			return p
		}
	}
	return nil
}

// wantPlans sees to it that what is not made yet is. The lock of the plans is held.
func (d *Desk) wantPlans(b *base) {
	t := &d.plans
	if t.running || t.next() == nil || d.ctx.Err() != nil {
		return
	}
	ctx, stop := context.WithCancel(d.ctx)
	t.running, t.stop = true, stop
	turn := t.turn
	d.work.Go(func() {
		defer stop()
		for d.nextPlan(ctx, b, turn) {
		}
	})
}

// nextPlan makes the newest plan waited for; false when there is none, or another
// state has taken over.
func (d *Desk) nextPlan(ctx context.Context, b *base, turn int) bool {
	t := &d.plans
	t.mu.Lock()
	if t.turn != turn {
		t.mu.Unlock()
		return false
	}
	p := t.next()
	if p == nil || ctx.Err() != nil {
		t.running = false
		t.mu.Unlock()
		return false
	}
	ask := p.ask
	t.mu.Unlock()
	made, err := d.makePlan(ctx, b, &ask, func(step string) {
		t.mu.Lock()
		defer t.mu.Unlock()
		p.count.Done = max(p.count.Done, 1+slices.Index(plan.Steps[:], step))
	})
	var text []byte
	if err == nil {
		text, err = made.Text()
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	switch {
	case t.turn != turn: // another state has taken over
		return false
	case errors.Is(err, context.Canceled):
		t.running = false
		return false
	}
	p.done, p.plan, p.text, p.err = true, made, text, err
	return true
}

// makePlan makes a plan and tries it, beside the garden as it is, over years that
// it has not seen.
func (d *Desk) makePlan(ctx context.Context, b *base, ask *planAsk, report func(string)) (*plan.Plan, error) {
	q := d.ask(b.snap.Today)
	if q.Members == 0 || q.Members > planMembers {
		q.Members = planMembers
	}
	r, err := d.home.Reckon(ctx, q)
	if err != nil {
		return nil, err
	}
	a := plan.Of(r)
	a.Wishes, a.Risk, a.Years, a.Report = ask.wishes, ask.risk, ask.once, report
	p, err := plan.Make(ctx, a)
	if err != nil {
		return nil, err
	}
	if ask.worth || p.Hungry() {
		if err := p.Worth(ctx); err != nil {
			return nil, err
		}
	}
	q.Members, q.Seed = 2*q.Members, q.Seed+1
	other, err := d.home.Reckon(ctx, q)
	if err != nil {
		return nil, err
	}
	garden, err := plan.RunUnseen(ctx, r, other)
	if err != nil {
		return nil, err
	}
	return p, p.Measure(ctx, a, garden)
}
