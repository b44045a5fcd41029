package web

import "context"

// A lane is held by what is reckoned behind the pages, so that pages share the
// processors with one thing only. Who waits gets it in turn.
type lane chan struct{}

func newLane() lane { return make(lane, 1) }

// take waits for the lane; false when the context ends first, so that what another
// state has taken over from lets go of all it holds at once.
func (l lane) take(ctx context.Context) bool {
	if ctx.Err() != nil {
		return false
	}
	select {
	case l <- struct{}{}:
		return true
	case <-ctx.Done():
		return false
	}
}

func (l lane) free() { <-l }

// in runs f on the lane; the error is the context's when that ends first.
func (l lane) in(ctx context.Context, f func() error) error {
	if !l.take(ctx) {
		return ctx.Err()
	}
	defer l.free()
	return f()
}
