package wire

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"sync"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/hearth"
	"evenstead/sense"
	"evenstead/store"
	"evenstead/unit"
)

// Options are what a hub is made with.
type Options struct {
	State string       // file that the sensors' state is kept in over a restart; "": it is not
	Token string       // senders by HTTP and to our broker must show it; "": none may send
	Log   func(string) // told of troubles, alarms and entries, one line each
	Bell  *Bell        // rung for alarms; nil: they are only shown and logged
}

// A Hub takes readings from wherever they come. Its methods may be called at the
// same time.
type Hub struct {
	home  *hearth.Home
	clock func() time.Time
	opt   Options

	mu      sync.Mutex // guards what follows
	panel   sense.Panel
	due     []book.Entry // made and not yet in the book
	names   book.Context
	namedAt time.Time
	faults  map[string]time.Time // when each fault of a sender was logged
	keptAt  time.Time
}

// kept is the state file.
type kept struct {
	Gauges map[string]*sense.Gauge `json:"gauges"`
	Due    []book.Entry            `json:"due"`
}

// namesLast is how long the names of the description are taken for true.
const namesLast = 10 * time.Minute

// NewHub opens a hub over a household's file. A state file that can't be read is
// an error: it tells how to begin anew.
func NewHub(h *hearth.Home, clock func() time.Time, o Options) (*Hub, error) {
	if o.Log == nil {
		o.Log = func(string) {}
	}
	hub := &Hub{home: h, clock: clock, opt: o, faults: map[string]time.Time{}}
	if o.State == "" {
		return hub, nil
	}
	text, err := os.ReadFile(o.State)
	if errors.Is(err, fs.ErrNotExist) {
		return hub, nil
	}
	var k kept
	if err == nil {
		err = json.Unmarshal(text, &k)
	}
	if err != nil {
		return nil, fmt.Errorf("the sensors' state in %s: %w; move the file away to begin anew", o.State, err)
	}
	hub.panel.Gauges, hub.due = k.Gauges, k.Due
	for key, g := range k.Gauges {
		if g == nil {
			delete(k.Gauges, key)
		}
	}
	return hub, nil
}

// Allowed reports whether a sender's token is ours, in a time that does not
// depend on where it differs.
func (h *Hub) Allowed(token string) bool {
	got, want := sha256.Sum256([]byte(token)), sha256.Sum256([]byte(h.opt.Token))
	return h.opt.Token != "" && subtle.ConstantTimeCompare(got[:], want[:]) == 1
}

// Take judges a reading and does what follows from it.
func (h *Hub) Take(ctx context.Context, r sense.Reading) sense.Verdict {
	h.mu.Lock()
	defer h.mu.Unlock()
	now := h.clock()
	c, err := h.context(ctx, now)
	if err != nil {
		return sense.Verdict{Store: r.Store, Why: err.Error()}
	}
	v := h.panel.Take(r, c, now)
	if v.Unusable {
		h.fault(v.Why, now)
	}
	h.do(ctx, v.Events, now)
	return v
}

// Message takes what came over MQTT. A retained message without a time is what
// was true once, nobody knows when, and is passed over.
func (h *Hub) Message(ctx context.Context, topic string, payload []byte, retained bool) {
	r, err := sense.Parse(topic, payload)
	if err != nil {
		h.mu.Lock()
		defer h.mu.Unlock()
		h.fault(err.Error(), h.clock())
		return
	}
	if !retained || !r.At.IsZero() {
		h.Take(ctx, r)
	}
}

// Standing lists the sensors as they stand.
func (h *Hub) Standing() []sense.Standing {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.panel.Standing()
}

// keepEvery is how often the state is kept when no entry is made. A count of rain
// goes on from the last one kept, so that little is lost, and a memory card lasts.
const keepEvery = 10 * time.Minute

// Run does what time brings until ctx ends, and then keeps the state.
func (h *Hub) Run(ctx context.Context, every time.Duration) {
	beat := time.NewTicker(every)
	defer beat.Stop()
	for {
		h.Tick(ctx)
		select {
		case <-ctx.Done():
			h.Tick(context.WithoutCancel(ctx))
			h.mu.Lock()
			defer h.mu.Unlock()
			h.keep(h.clock())
			return
		case <-beat.C:
		}
	}
}

// Tick closes days, tells of silence, writes what is due and keeps the state.
func (h *Hub) Tick(ctx context.Context) {
	h.mu.Lock()
	defer h.mu.Unlock()
	now := h.clock()
	h.do(ctx, h.panel.Tick(now), now)
	h.write(ctx, now)
	if now.Sub(h.keptAt) >= keepEvery || now.Before(h.keptAt) {
		h.keep(now)
	}
}

// do carries out events.
func (h *Hub) do(ctx context.Context, events []sense.Event, now time.Time) {
	wrote := false
	for _, e := range events {
		switch e.What {
		case sense.Write:
			h.due, wrote = append(h.due, e.Entry), true
		case sense.Tell:
			h.opt.Log(e.Say)
		case sense.Ring:
			h.opt.Log(e.Say)
			if h.opt.Bell != nil {
				h.opt.Bell.Ring(e.Say)
			}
		}
	}
	if wrote {
		h.write(ctx, now)
		h.keep(now)
	}
}

// write puts what is due into the book. What the book already says of that day by
// hand stands; what can't be written now is tried again.
func (h *Hub) write(ctx context.Context, now time.Time) {
	var left []book.Entry
	for _, e := range h.due {
		said, err := h.put(ctx, e, now)
		switch {
		case err != nil && lasting(err):
			left = append(left, e)
			h.fault(fmt.Sprintf("an entry waits: %v", err), now)
		case err != nil:
			h.opt.Log(fmt.Sprintf("not written: %s: %v", e.Sentence(unit.Metric), err))
		case said != "":
			h.opt.Log(said)
		}
	}
	h.due = left
}

// lasting faults may be over later, so that the entry is kept.
func lasting(err error) bool {
	for _, kind := range []error{store.ErrFull, store.ErrLocked, store.ErrDisk, fs.ErrPermission, context.Canceled, context.DeadlineExceeded} {
		if errors.Is(err, kind) {
			return true
		}
	}
	return false
}

func (h *Hub) put(ctx context.Context, e book.Entry, now time.Time) (said string, err error) {
	c, err := h.context(ctx, now)
	if err != nil {
		return "", err
	}
	if err := book.Check(e, c); err != nil {
		return "", err
	}
	there, err := h.home.Store().Entries(ctx, e.Day, e.Day)
	if err != nil {
		return "", err
	}
	if slices.ContainsFunc(there, func(o book.Entry) bool { return o.ID == e.ID }) {
		return "", nil
	}
	live, err := book.Live(there)
	if err != nil {
		return "", err
	}
	if e.Kind != book.Noted && slices.ContainsFunc(live, func(o book.Entry) bool { return o.Kind == e.Kind && o.Body.Where == e.Body.Where }) {
		return fmt.Sprintf("left out, since the book has one of that day: %s.", e.Sentence(c.System)), nil
	}
	if err := h.home.Store().Add(ctx, []book.Entry{e}); err != nil {
		return "", err
	}
	return "wrote: " + e.Sentence(c.System) + ".", nil
}

// context is what the description calls things.
func (h *Hub) context(ctx context.Context, now time.Time) (book.Context, error) {
	if !h.namedAt.IsZero() && now.Sub(h.namedAt) < namesLast && now.Sub(h.namedAt) >= 0 {
		h.names.Today = day.Today(now)
		return h.names, nil
	}
	c, err := h.home.Context(ctx, day.Today(now), "", unit.Metric)
	if err != nil {
		return c, err
	}
	h.names, h.namedAt = c, now
	return c, nil
}

// mostFaults bounds the faults that are remembered, so that a sender of rubbish
// can't fill the log or the memory.
const mostFaults = 100

// fault logs what is wrong with a sender, each at most once an hour.
func (h *Hub) fault(why string, now time.Time) {
	if last, told := h.faults[why]; told && now.Sub(last) < time.Hour {
		return
	}
	if len(h.faults) >= mostFaults {
		for k, at := range h.faults {
			if now.Sub(at) >= time.Hour {
				delete(h.faults, k)
			}
		}
		if len(h.faults) >= mostFaults {
			return
		}
	}
	h.faults[why] = now
	h.opt.Log("sensors: " + why)
}

// keep writes the state file.
func (h *Hub) keep(now time.Time) {
	if h.opt.State == "" {
		return
	}
	h.keptAt = now
	text, err := json.Marshal(kept{h.panel.Gauges, h.due})
	if err == nil {
		err = store.Replace(h.opt.State, text)
	}
	if err != nil {
		h.fault(fmt.Sprintf("the state is not kept: %v", err), now)
	}
}
