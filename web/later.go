package web

import (
	"context"
	"crypto/sha256"
	"errors"
	"slices"
	"sync"
)

// later are reckonings that a page asks for and no request waits for: a span's
// account, a trace. They are of the present state, done one at a time in the
// background, and kept until the state changes.
type later struct {
	mu      sync.Mutex
	state   [sha256.Size]byte // what follows is of
	turn    int               // counts states
	stop    context.CancelFunc
	running bool
	by      map[string]*lateJob
	order   []string // oldest first
}

type lateJob struct {
	run   func(context.Context) (any, error)
	done  bool
	value any
	err   error
}

// mostLater is how many are kept of a state.
const mostLater = 30

// later gives what a job of the present state made, and whether it is done; the
// first to ask starts it. Keys name jobs that give the same.
func (d *Desk) later(b *base, key string, run func(context.Context) (any, error)) (value any, done bool, err error) {
	l := &d.late
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.by == nil || l.state != b.state {
		if l.stop != nil {
			l.stop()
		}
		l.state, l.running, l.stop, l.by, l.order = b.state, false, nil, map[string]*lateJob{}, nil
		l.turn++
	}
	j := l.by[key]
	if j == nil {
		j = &lateJob{run: run}
		l.by[key] = j
		if l.order = append(l.order, key); len(l.order) > mostLater {
			delete(l.by, l.order[0])
			l.order = l.order[1:]
		}
	}
	if !j.done && !l.running && d.ctx.Err() == nil {
		var ctx context.Context
		ctx, l.stop = context.WithCancel(d.ctx)
		l.running = true
		turn := l.turn
		d.work.Go(func() { d.doLater(ctx, turn) })
	}
	return j.value, j.done, j.err
}

// doLater does what is not done until all is, or another state has taken over.
func (d *Desk) doLater(ctx context.Context, turn int) {
	l := &d.late
	for {
		l.mu.Lock()
		at := slices.IndexFunc(l.order, func(k string) bool { return !l.by[k].done })
		if l.turn != turn || at < 0 || ctx.Err() != nil {
			if l.turn == turn {
				l.running = false
			}
			l.mu.Unlock()
			return
		}
		j := l.by[l.order[at]]
		l.mu.Unlock()
		var value any
		err := d.lane.in(ctx, func() (err error) {
			value, err = j.run(ctx)
			return err
		})
		l.mu.Lock()
		if !errors.Is(err, context.Canceled) {
			j.done, j.value, j.err = true, value, err
		}
		l.mu.Unlock()
	}
}
