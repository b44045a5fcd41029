package hearth

import (
	"context"
	"fmt"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/reckon"
)

// An AuditAsk is what a reckoning is asked for.
type AuditAsk struct {
	Today   day.Day
	Span    engine.Span // cut to the days lived; a From of before the stay is its first day
	Members int         // possible years of what was forecast then; 0: it is left out
	Seed    uint64      // of these; 0: 1
	Workers int         // 0: all cores
}

// usualMembers are enough to tell the climate that a usual garden is sown by.
const usualMembers = 60

// Audit reckons up a span of the past, and sets what was planned and forecast on its
// first morning against it.
func (h *Home) Audit(ctx context.Context, a AuditAsk) (*reckon.Report, error) {
	ready, err := h.Reckon(ctx, Ask{Today: a.Today, Span: &a.Span, Members: usualMembers})
	if err != nil {
		return nil, err
	}
	acc := ready.Past.Account
	if acc.From > acc.To {
		return nil, fmt.Errorf("%w from %s to %s: the stay began on %s, and today, %s, is not over", ErrNoDays, a.Span.From, a.Span.To, ready.Past.Known.Start, a.Today)
	}
	r := reckon.Of(ready.Past, ready.Tables)
	if r.Book, err = h.Proof(ctx); err != nil {
		return nil, err
	}
	if a.Members > 0 {
		if err := h.then(ctx, &a, r); err != nil {
			if ctx.Err() != nil {
				return nil, err
			}
			r.ThenWhy = err.Error()
		}
	}
	return r, nil
}

// ErrNoDays says that a span holds no day that is over.
var ErrNoDays = fmt.Errorf("there is no day to reckon")

// Proof is the digest of the whole book as it arrived.
func (h *Home) Proof(ctx context.Context) (book.Proof, error) {
	all, err := h.Store().Arrived(ctx)
	if err != nil {
		return book.Proof{}, err
	}
	return book.Digest(all)
}

// then fills in what was planned and forecast.
func (h *Home) then(ctx context.Context, a *AuditAsk, r *reckon.Report) error {
	if a.Seed == 0 {
		a.Seed = 1
	}
	days := max(leastDays, int(r.To-r.From)+1)
	early, known, late, err := h.AsOf(ctx, Ask{Today: r.From, Days: days, Members: a.Members, Seed: a.Seed, Workers: a.Workers})
	if err != nil {
		return err
	}
	o, err := early.bare(ctx)
	if err != nil {
		return err
	}
	o.Judge()
	m := &reckon.Morning{Outlook: o, Tables: early.Tables, Entries: known, Late: late, Weather: early.How}
	if _, m.Growths, err = early.Past.Year(early.Tables, early.Options.Climate); err != nil {
		return err
	}
	end, err := h.Reckon(ctx, Ask{Today: r.To + 1, Days: leastDays, Members: 2})
	if err != nil {
		return err
	}
	ended, err := end.bare(ctx)
	if err != nil {
		return err
	}
	r.Then = reckon.Compare(m, r.Account, ended.Stores)
	return nil
}

const leastDays = 7

// bare is the outlook without causes.
func (r *Reckoning) bare(ctx context.Context) (*engine.Outlook, error) {
	m, err := r.Model()
	if err != nil {
		return nil, err
	}
	res, err := m.Run(ctx, r.Members, r.Options)
	if err != nil {
		return nil, err
	}
	return res.Outlook(), nil
}

// AsOf is Reckon as it would have been on the ask's today: of the book only what had
// been received before that day, of the weather only the days before it. known
// counts those entries; late, entries of days before it that came after.
func (h *Home) AsOf(ctx context.Context, a Ask) (r *Reckoning, known, late int, err error) {
	all, err := h.All(ctx)
	if err != nil {
		return nil, 0, 0, err
	}
	y, m, d := a.Today.Time().Date()
	dawn := time.Date(y, m, d, 0, 0, 0, 0, h.clock().Location())
	had := make([]book.Entry, 0, len(all))
	for _, e := range all {
		switch {
		case e.Received.Before(dawn):
			had = append(had, e)
		case e.Day < a.Today && e.Kind != book.Struck:
			late++
		}
	}
	a.Book, a.before = book.NewWhole(had), a.Today
	r, err = h.Reckon(ctx, a)
	return r, len(had), late, err
}
