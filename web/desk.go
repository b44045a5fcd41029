package web

// How a page joins the others:
//   - its handlers are methods of *site in web/<page>.go, put into deskRoutes (routes.go), and begin with s.withDesk;
//   - web/templates/<page>.html is a page by its name alone, given to s.render as "<page>";
//   - web/static/<page>.css joins style.css by itself: all style sheets are sent as one;
//   - words stand in words/en.txt, or in words/en.<page>.txt, which is read with it;
//   - forms that fail keep what was typed with s.drafts.keep and answer 303 (see forms.go).

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/weather"
)

// DeskOptions are the choices of the one who opens a desk. The zero value is
// metric, by the clock's day, over a thousand possible years.
type DeskOptions struct {
	Today   day.Day     // 0: the clock's day
	Units   unit.System // of the pages, until the household has chosen
	Members int         // possible years of an outlook; 0: 1,000
	Seed    uint64      // 0: 1
	Workers int         // 0: all cores but one, so that pages stay quick
}

// A Desk is a household's own stead behind the pages: the book as it is, the
// stead replayed to this morning, and the newest outlook. Outlooks are reckoned
// in the background, one at a time; no request waits for one. Its methods may be
// called at the same time.
type Desk struct {
	home  *hearth.Home
	clock func() time.Time
	opt   DeskOptions
	ctx   context.Context // ends with Close
	stop  context.CancelFunc
	work  sync.WaitGroup

	build   sync.Mutex // held while a base is made
	near    sync.Mutex // held while one is made that may lack the newest entries
	mu      sync.Mutex // guards what follows
	wants   wants
	since   day.Day    // on which a description was seen to hold; 0: none yet
	first   sync.Mutex // held while the first description is kept
	edition uint64
	noted   uint64 // times that entries alone were written
	base    *base
	wanted  *base // the newest state an outlook is wanted of
	running bool
	lane    lane
	shown   reckoned
	before  *engine.Outlook
	count   Progress
	failed  [sha256.Size]byte // the state whose reckoning stopped

	tries tries // changes tried on the present state
	late  later // what single pages ask for of the present state

	skilled skilled
	plans   plans // the year's plans of the present state
}

// A Snapshot is the stead as one request sees it. What it points to is shared
// and must not be changed.
type Snapshot struct {
	Today   day.Day
	Stead   *stead.Stead     // the description that holds today; of the replay when there is one
	From    day.Day          // the day it holds from
	Text    string           // as it was written
	Past    *engine.Past     // of the present book; nil when it can't be reckoned
	Trouble error            // why there is no Past; nil when there is
	Tables  *data.Tables     // what the past was reckoned by; nil without one
	Usual   *weather.Climate // the usual year; nil without a Past
	Entries []book.Entry     // that stand
	All     []book.Entry     // struck ones too, in order of day and arrival
	Context book.Context     // notes are read against; Who is set for a household of one only

	Outlook  *engine.Outlook // the newest reckoned; nil before the first
	Earlier  *engine.Outlook // the one before it; nil when there is none
	Stale    bool            // the outlook is of an earlier state or day
	Progress Progress        // of the outlook under way
	Units    unit.System

	rain  *Rain       // for the year rule; nil without a Past
	year  *yearOnce   // of the ground; nil without a Past
	work  *workOnce   // of the weeks; nil without a Past
	gates *gatesOnce  // of the ground; nil without a Past
	made  time.Time   // when this state was first seen, to the second
	book  *book.Whole // what All and Entries are of
	order *orderOnce
}

// reckoned is an outlook and the state it is of.
type reckoned struct {
	state [sha256.Size]byte
	o     *engine.Outlook
}

// base is all of a snapshot but the outlook, and what it was made from.
type base struct {
	key   mark
	made  time.Time
	state [sha256.Size]byte // of the content
	days  int               // of the weather kept
	snap  Snapshot
}

// mark tells whether a base may be out of date: by what was written through the
// desk, by the day, and by the file itself, which a command may write to.
type mark struct {
	edition    uint64
	noted      uint64
	today      day.Day
	file, wal  time.Time
	size, long int64
}

// NewDesk opens a desk over a household's file; Close ends its background work.
func NewDesk(h *hearth.Home, clock func() time.Time, o DeskOptions) *Desk {
	if o.Workers == 0 {
		o.Workers = max(1, runtime.NumCPU()-1)
	}
	if o.Seed == 0 {
		o.Seed = 1
	}
	d := &Desk{home: h, clock: clock, opt: o, lane: newLane()}
	d.ctx, d.stop = context.WithCancel(context.Background())
	return d
}

// Close stops the reckoning under way and waits for it.
func (d *Desk) Close() {
	d.stop()
	d.work.Wait()
}

// Home is the household's file, for writing; Changed must follow.
func (d *Desk) Home() *hearth.Home { return d.home }

// Today is the day that counts as today.
func (d *Desk) Today() day.Day {
	if d.opt.Today != 0 {
		return d.opt.Today
	}
	return day.Today(d.clock())
}

// Changed says that something was written.
func (d *Desk) Changed() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.edition++
}

// Now is the stead as it stands. It wraps fs.ErrNotExist when no description
// holds today. Only the first call after a change replays the book.
func (d *Desk) Now(ctx context.Context) (*Snapshot, error) {
	b, err := d.present(ctx)
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	s := b.snap
	d.want(b)
	s.Outlook, s.Earlier, s.Progress = d.shown.o, d.before, d.count
	s.Stale = s.Outlook != nil && d.shown.state != b.state
	return &s, nil
}

// present is the base of the present state, made anew when it is out of date.
func (d *Desk) present(ctx context.Context) (*base, error) {
	if b := d.fresh(); b != nil {
		return b, nil
	}
	d.build.Lock()
	defer d.build.Unlock()
	if b := d.fresh(); b != nil {
		return b, nil
	}
	key := d.mark()
	b, err := d.gather(ctx, key)
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	b.snap.made = d.clock().UTC().Truncate(time.Second)
	if d.base != nil && d.base.state == b.state {
		b.snap.made = d.base.snap.made
	}
	d.base = b
	return b, nil
}

// fresh is the base made before when it still holds, else nil.
func (d *Desk) fresh() *base {
	key := d.mark()
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.base != nil && d.base.key == key {
		return d.base
	}
	return nil
}

func (d *Desk) mark() mark {
	d.mu.Lock()
	m := mark{edition: d.edition, noted: d.noted}
	d.mu.Unlock()
	m.today = d.Today()
	path := d.home.Store().Path()
	m.file, m.size = written(path)
	m.wal, m.long = written(path + "-wal")
	return m
}

// written is when a file was last written to, and its size; zero for none.
func written(path string) (time.Time, int64) {
	fi, err := os.Stat(path)
	if err != nil {
		return time.Time{}, 0
	}
	return fi.ModTime(), fi.Size()
}

// replayMembers are enough to tell the climate that a usual garden is sown by;
// the replay itself runs none.
const replayMembers = 30

// gather reads the file and replays the book.
func (d *Desk) gather(ctx context.Context, key mark) (*base, error) {
	b := &base{key: key, made: time.Now(), snap: Snapshot{Today: key.today}}
	s := &b.snap
	set, err := d.Settings(ctx)
	if err != nil {
		return nil, err
	}
	s.Units = set.Units
	held, err := d.home.On(ctx, key.today)
	if err != nil {
		return nil, err
	}
	s.Stead, s.From, s.Text = held.Stead, held.From, held.Text
	if s.book, err = d.home.Book(ctx); err != nil {
		return nil, err
	}
	s.All, s.order = s.book.All(), &orderOnce{}
	if s.Entries, err = s.book.Live(); err != nil {
		return nil, err
	}
	if s.Context, err = d.home.Context(ctx, key.today, "", s.Units); err != nil {
		return nil, err
	}
	if err := d.state(ctx, b); err != nil {
		return nil, err
	}
	ask := d.ask(key.today)
	ask.Members, ask.Book = replayMembers, s.book
	r, err := d.home.Reckon(ctx, ask)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		s.Trouble = err
		return b, nil
	}
	if s.Context.Bars, s.Trouble = r.Past.Bars(); s.Trouble != nil {
		return b, nil
	}
	s.Past, s.Stead = r.Past, r.Past.Stead
	s.Tables, s.Usual = r.Tables, &r.Options.Climate
	s.Past.Fill(&s.Context)
	s.rain, s.year, s.work, s.gates = rainOf(s), &yearOnce{}, &workOnce{}, &gatesOnce{}
	return b, nil
}

// An orderOnce puts the entries in the order in which they are read, when that is
// first asked for.
type orderOnce struct {
	once sync.Once
	list []int32
}

// newest lists the places in All, newest first: by day, time and arrival.
func (s *Snapshot) newest() []int32 {
	s.order.once.Do(func() {
		list := make([]int32, 0, len(s.All))
		for end := len(s.All); end > 0; {
			from := end - 1
			timed := s.All[from].Time != ""
			for ; from > 0 && s.All[from-1].Day == s.All[end-1].Day; from-- {
				timed = timed || s.All[from-1].Time != ""
			}
			for i := end - 1; i >= from; i-- {
				list = append(list, int32(i))
			}
			if timed {
				slices.SortStableFunc(list[len(list)-(end-from):], func(i, j int32) int { return strings.Compare(s.All[j].Time, s.All[i].Time) })
			}
			end = from
		}
		s.order.list = list
	})
	return s.order.list
}

// stands tells whether an entry of All counts.
func (s *Snapshot) stands(e *book.Entry) bool { return s.book.Stands(e) }

func (d *Desk) ask(today day.Day) hearth.Ask {
	return hearth.Ask{Today: today, Members: d.opt.Members, Seed: d.opt.Seed, Workers: d.opt.Workers}
}

// state sums up all that an outlook depends on: the book's entries, descriptions and weather whole, and the day.
func (d *Desk) state(ctx context.Context, b *base) error {
	s := &b.snap
	h := sha256.New()
	put := func(v ...any) {
		for _, x := range v {
			// A hash never fails to take what is written to it.
			_ = binary.Write(h, binary.LittleEndian, x)
		}
	}
	put(int64(s.Today), int64(len(s.All)), s.book.Sum())
	steads, err := d.home.Steads(ctx)
	if err != nil {
		return err
	}
	for _, v := range steads {
		put(int64(v.From), int64(len(v.Text)), []byte(v.Text))
	}
	rec, err := d.home.Record(ctx)
	if err != nil {
		return err
	}
	if rec != nil {
		put(int64(rec.Start), measured(rec))
		b.days = rec.Days()
	}
	h.Sum(b.state[:0])
	return nil
}

// measured lists a record's figures, one NaN for every gap.
func measured(rec *weather.Record) []float64 {
	var all []float64
	for _, list := range [][]float64{rec.Rain, rec.TMin, rec.TMax} {
		for _, v := range list {
			if math.IsNaN(v) {
				v = math.NaN()
			}
			all = append(all, v)
		}
	}
	return all
}

// want sees to it that an outlook of the base is made, now or after the one
// under way, which is let finish: it is newer than what is shown. d.mu is held.
func (d *Desk) want(b *base) {
	if b.snap.Past == nil {
		d.count = Progress{Err: b.snap.Trouble}
		return
	}
	d.wanted = b
	switch {
	case d.running, d.ctx.Err() != nil, b.state == d.failed:
		return
	case b.state == d.shown.state:
		d.count = Progress{}
		return
	}
	d.running = true
	d.count = Progress{Total: 1}
	d.work.Add(1)
	go d.reckon()
}

// reckon makes outlooks until the newest state has one.
func (d *Desk) reckon() {
	defer d.work.Done()
	for {
		d.mu.Lock()
		b := d.wanted
		if b.state == d.shown.state || b.state == d.failed || d.ctx.Err() != nil {
			d.running = false
			d.mu.Unlock()
			return
		}
		d.mu.Unlock()
		err := d.lane.in(d.ctx, func() error { return d.outlook(b) })
		d.mu.Lock()
		d.count = Progress{}
		if err != nil && !errors.Is(err, context.Canceled) {
			d.failed, d.count.Err = b.state, err
		}
		d.mu.Unlock()
	}
}

// outlook reckons the outlook of a base, shows it, and then finds what a look
// would settle, which takes as long again.
func (d *Desk) outlook(b *base) error {
	ask := d.ask(b.snap.Today)
	ask.Book = b.snap.book
	ask.Report = func(done, total int) {
		d.mu.Lock()
		defer d.mu.Unlock()
		d.count = Progress{Done: done, Total: total + total/4} // the causes are still to find
	}
	r, err := d.home.Reckon(d.ctx, ask)
	if err != nil {
		return fmt.Errorf("reckon the stead: %w", err)
	}
	o, err := r.Outlook(d.ctx)
	if err != nil {
		return fmt.Errorf("reckon the outlook: %w", err)
	}
	d.show(b.state, o)
	asks, err := r.Questions(d.ctx)
	if err != nil {
		return fmt.Errorf("find what to count: %w", err)
	}
	more, found := *o, *o.Found
	found.Ask = asks
	more.Found = &found
	d.show(b.state, &more)
	return nil
}

// show puts an outlook in the place of the one before.
func (d *Desk) show(state [sha256.Size]byte, o *engine.Outlook) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.shown.state != state {
		d.before = d.shown.o
	}
	d.shown = reckoned{state, o}
	d.count = Progress{}
}

// rain is what the year rule shows of the newest state read.
func (d *Desk) rain(day.Day) *Rain {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.base == nil {
		return nil
	}
	return d.base.snap.rain
}

// source is the desk as the older pages ask for it.
func (d *Desk) source(ctx context.Context) (*engine.Outlook, Progress) {
	s, err := d.Now(ctx)
	if err != nil {
		return nil, Progress{Err: err}
	}
	return s.Outlook, s.Progress
}
