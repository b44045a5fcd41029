package web

import (
	"context"
	"crypto/sha256"
	"errors"
	"sync"

	"evenstead/engine"
	"evenstead/lever"
	"evenstead/unit"
)

// tries are the changes tried on the present state of a desk: every lever, and
// those that somebody asked for. They are reckoned in the background once a
// state, and only when a page that shows them is looked at.
type tries struct {
	mu      sync.Mutex
	state   [sha256.Size]byte // what follows is of
	units   unit.System       // that it is named in
	turn    int               // counts states
	stop    context.CancelFunc
	running bool
	p       *lever.Present
	rank    *lever.Ranking // nil until every lever is tried
	count   Progress       // Err: why they can't be tried
	by      map[string]*attempt
	order   []string // oldest first
}

// attempt is a change that somebody asked for.
type attempt struct {
	change change
	done   bool
	err    error // why it can't be tried
	before *engine.Outlook
	trial  *lever.Trial
}

// mostAttempts is how many asked-for changes are kept.
const mostAttempts = 20

// Levers are the changes tried on the present state, nil while they are under
// way; Progress tells how far.
func (d *Desk) Levers(ctx context.Context) (*lever.Ranking, Progress, error) {
	b, err := d.present(ctx)
	if err != nil {
		return nil, Progress{}, err
	}
	t := &d.tries
	t.mu.Lock()
	defer t.mu.Unlock()
	d.wantTries(b)
	return t.rank, t.count, nil
}

// try asks for one change; the attempt that comes back is a copy, and not done
// while it is under way.
func (d *Desk) try(ctx context.Context, c change) (attempt, error) {
	b, err := d.present(ctx)
	if err != nil {
		return attempt{}, err
	}
	t := &d.tries
	t.mu.Lock()
	defer t.mu.Unlock()
	d.renew(b)
	key := c.key()
	if t.by[key] == nil {
		t.by[key] = &attempt{change: c}
		t.order = append(t.order, key)
		if len(t.order) > mostAttempts {
			delete(t.by, t.order[0])
			t.order = t.order[1:]
		}
	}
	d.wantTries(b)
	got := *t.by[key]
	if t.count.Err != nil && !got.done {
		got.done, got.err = true, t.count.Err
	}
	return got, nil
}

// renew empties the tries when they are of another state. Their lock is held.
func (d *Desk) renew(b *base) {
	t := &d.tries
	if t.by != nil && t.state == b.state && t.units == b.snap.Units {
		return
	}
	if t.stop != nil {
		t.stop()
	}
	t.state, t.units, t.running, t.stop, t.p, t.rank, t.count = b.state, b.snap.Units, false, nil, nil, nil, Progress{}
	t.by, t.order = map[string]*attempt{}, nil
	t.turn++
}

// wantTries sees to it that what is not tried yet is. Their lock is held.
func (d *Desk) wantTries(b *base) {
	d.renew(b)
	t := &d.tries
	if t.running || t.count.Err != nil || d.ctx.Err() != nil || t.rank != nil && t.next() == nil {
		return
	}
	if b.snap.Past == nil {
		t.count.Err = b.snap.Trouble
		return
	}
	ctx, stop := context.WithCancel(d.ctx)
	t.running, t.stop = true, stop
	if t.rank == nil {
		t.count = Progress{Total: 1}
	}
	job := &trying{d: d, t: t, b: b, turn: t.turn}
	d.work.Go(func() {
		defer stop()
		job.end(job.all(ctx))
	})
}

// next is the oldest attempt that is not done; nil when all are.
func (t *tries) next() *attempt {
	for _, key := range t.order {
		if a := t.by[key]; !a.done {
			return a
		}
	}
	return nil
}

// trying is one run of the tries, of one state.
type trying struct {
	d    *Desk
	t    *tries
	b    *base
	turn int
}

// mine runs f under the lock unless another state has taken over.
func (j *trying) mine(f func()) bool {
	j.t.mu.Lock()
	defer j.t.mu.Unlock()
	if j.t.turn != j.turn {
		return false
	}
	f()
	return true
}

// end lets go; an error other than being stopped is kept, so that it is not run
// into again until the state changes.
func (j *trying) end(err error) {
	j.mine(func() {
		j.t.running = false
		if err != nil && !errors.Is(err, context.Canceled) {
			j.t.count = Progress{Err: err}
		}
	})
}

// all tries what was asked for, then every lever, and between any two of them
// what has been asked for since.
func (j *trying) all(ctx context.Context) error {
	lane := j.d.lane
	held := lane.take(ctx)
	if !held {
		return ctx.Err()
	}
	defer func() {
		if held {
			lane.free()
		}
	}()
	p, err := j.ready(ctx)
	if err != nil {
		return err
	}
	j.asked(ctx, p)
	var ranked bool
	j.mine(func() { ranked = j.t.rank != nil })
	if !ranked {
		rank, err := p.Rank(ctx, func(done, total int) {
			j.mine(func() { j.t.count = Progress{Done: done, Total: total} })
			j.asked(ctx, p)
			if held {
				lane.free() // an outlook that waits goes first
				held = lane.take(ctx)
			}
		})
		if err != nil {
			return err
		}
		j.mine(func() { j.t.rank, j.t.count = rank, Progress{} })
	}
	for j.asked(ctx, p) {
	}
	return ctx.Err()
}

// ready is the stead as it stands, run over a few years.
func (j *trying) ready(ctx context.Context) (p *lever.Present, err error) {
	j.mine(func() { p = j.t.p })
	if p != nil {
		return p, nil
	}
	ask := j.d.ask(j.b.snap.Today)
	ask.Book = j.b.snap.book
	if ask.Members == 0 || ask.Members > lever.Members {
		ask.Members = lever.Members
	}
	r, err := j.d.home.Reckon(ctx, ask)
	if err != nil {
		return nil, err
	}
	if p, err = lever.Run(ctx, r, j.b.snap.Units, lever.Members); err != nil {
		return nil, err
	}
	j.mine(func() { j.t.p = p })
	return p, nil
}

// asked tries the changes that were asked for; false when there were none.
func (j *trying) asked(ctx context.Context, p *lever.Present) (any bool) {
	for ctx.Err() == nil {
		var a *attempt
		j.mine(func() { a = j.t.next() })
		if a == nil {
			return any
		}
		any = true
		trial, err := a.change.on(ctx, p)
		j.mine(func() {
			a.done, a.err, a.trial, a.before = ctx.Err() == nil, err, trial, p.Outlook
		})
	}
	return any
}
