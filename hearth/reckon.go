package hearth

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"reflect"
	"sort"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/weather"
)

// An Ask is what an outlook is asked for.
type Ask struct {
	Today    day.Day // 0: the day of the description (Plain), or the clock's (Home)
	Days     int     // ahead; 0: 365
	Members  int     // possible years; 0: 1,000
	Seed     uint64
	Recent   weather.Recent // how much less old years of a record weigh
	Without  engine.Without
	Workers  int                   // 0: all cores
	Handbook bool                  // leave out what the place has taught
	Tell     func(book.Entry) bool // entries whose flows are wanted; nil: none
	Book     *book.Whole           // the book, when it has been read already; nil: it is read
	Also     []book.Entry          // not in the book yet, reckoned as if they were
	Span     *engine.Span          // of which the past's account is wanted; nil: none
	Weather  *weather.Record       // nil: the one kept, else the description's normals
	Report   func(done, total int) // may be nil

	made   func(weather.Normals) (*weather.Generator, error) // nil: weather.NewGenerator
	before day.Day                                           // the first day whose weather is not known yet; 0: all that is kept is
}

// A Reckoning is a stead, its weather and its tables, ready to run.
type Reckoning struct {
	Stead   *stead.Stead
	Tables  *data.Tables
	Members *weather.Ensemble
	Options engine.Options
	How     []string     // how the weather was read, one sentence each
	Past    *engine.Past // nil when there is no book
}

// fewest and most members of an ask.
const mostMembers = 20000

func (a *Ask) defaults() error {
	if a.Days == 0 {
		a.Days = 365
	}
	if a.Members == 0 {
		a.Members = 1000
	}
	if a.Members < 1 || a.Members > mostMembers {
		return fmt.Errorf("--members %d: give 1 to 20,000", a.Members)
	}
	return nil
}

func (a *Ask) options() engine.Options {
	return engine.Options{Today: a.Today, Days: a.Days, Seed: a.Seed, Without: a.Without, Workers: a.Workers, Report: a.Report}
}

// Plain readies a description by itself, from the day it was made or, without
// one, from the ask's today.
func Plain(st *stead.Stead, a Ask) (*Reckoning, error) {
	if err := a.defaults(); err != nil {
		return nil, err
	}
	tab, err := data.Load()
	if err != nil {
		return nil, fmt.Errorf("load tables: %w", err)
	}
	if tab, err = st.Tables(tab); err != nil {
		return nil, err
	}
	if a.Today == 0 {
		a.Today = st.Stay.From
	}
	if st.Stay.From == 0 {
		st.Stay.From = a.Today
	}
	r := &Reckoning{Stead: st, Tables: tab, Options: a.options()}
	if err := r.draw(&a, st.Stay.From); err != nil {
		return nil, err
	}
	r.Options.Climate = r.Members.Climate()
	return r, engine.Sow(st, tab, r.Members, nil)
}

// Reckon readies the stead as its file has it on the ask's today: descriptions,
// weather and book replayed to that morning.
func (h *Home) Reckon(ctx context.Context, a Ask) (*Reckoning, error) {
	if err := a.defaults(); err != nil {
		return nil, err
	}
	if a.Today == 0 {
		a.Today = day.Today(h.clock())
	}
	a.made = h.generator
	past, err := h.history(ctx, &a)
	if err != nil {
		return nil, err
	}
	from, _, err := past.Start(a.Today)
	if err != nil {
		return nil, err
	}
	r := &Reckoning{Options: a.options()}
	if r.Tables, err = h.tables(past.Versions); err != nil {
		return nil, err
	}
	for _, v := range past.Versions {
		if v.From <= a.Today {
			r.Stead = v.Stead
		}
	}
	if err := r.draw(&a, from); err != nil {
		return nil, err
	}
	r.Options.Climate = r.Members.Climate()
	for _, v := range past.Versions {
		if err := engine.Sow(v.Stead, r.Tables, r.Members, past.Entries); err != nil {
			return nil, err
		}
	}
	if r.Past, err = h.trail.Replay(ctx, r.Tables, *past, r.Members, r.Options); err != nil {
		return nil, err
	}
	r.Members.Settle(r.Past.Known)
	r.Options.Past = r.Past
	return r, nil
}

// own is what descriptions add to the tables, and the tables with it.
type own struct {
	foods   [][]stead.OwnFood
	rations [][]stead.Ration
	tab     *data.Tables
}

// tables are the tables with what descriptions add to them: the same ones as long as
// that is the same, so that a replay knows them again.
func (h *Home) tables(versions []engine.Version) (*data.Tables, error) {
	o := own{tab: h.tab}
	for _, v := range versions {
		o.foods, o.rations = append(o.foods, v.Stead.Foods), append(o.rations, v.Stead.Rations)
		var err error
		if o.tab, err = v.Stead.Tables(o.tab); err != nil {
			return nil, err
		}
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.own.tab == nil || !reflect.DeepEqual(o.foods, h.own.foods) || !reflect.DeepEqual(o.rations, h.own.rations) {
		h.own = o
	}
	return h.own.tab, nil
}

// history gathers what the file holds.
func (h *Home) history(ctx context.Context, a *Ask) (*engine.History, error) {
	versions, err := h.Steads(ctx)
	if err != nil {
		return nil, err
	}
	if _, err := h.holding(versions, a.Today); err != nil {
		return nil, err
	}
	past := &engine.History{Handbook: a.Handbook, Tell: a.Tell, Span: a.Span, Try: len(a.Also) > 0}
	for _, v := range versions {
		if v.Stead.Stay.From == 0 {
			v.Stead.Stay.From = versions[0].From
		}
		past.Versions = append(past.Versions, engine.Version{From: v.From, Stead: v.Stead})
	}
	whole := a.Book
	if whole == nil {
		if whole, err = h.Book(ctx); err != nil {
			return nil, err
		}
	}
	live, err := whole.With(a.Also).Live()
	if err != nil {
		return nil, err
	}
	past.Entries = live[:sort.Search(len(live), func(i int) bool { return live[i].Day > a.Today })]
	if past.Weather, err = h.Record(ctx); err != nil {
		return nil, err
	}
	if a.before != 0 {
		past.Weather = until(past.Weather, a.before)
	}
	if a.Weather == nil && past.Weather != nil {
		a.Weather = past.Weather
	}
	return past, nil
}

// until is a record cut before a day; nil when nothing is left of it.
func until(rec *weather.Record, end day.Day) *weather.Record {
	if rec == nil || end <= rec.Start {
		return nil
	}
	n := min(rec.Days(), int(end-rec.Start))
	cut := *rec
	cut.Rain, cut.TMin, cut.TMax = rec.Rain[:n], rec.TMin[:n], rec.TMax[:n]
	if rec.Wind != nil {
		cut.Wind = rec.Wind[:n]
	}
	return &cut
}

// enough is how many days of a record make it the source of the members rather
// than the description's normals.
const enough = 5 * 365

// ErrNoWeather says that there is neither a record nor twelve months to draw years from.
var ErrNoWeather = errors.New("no weather: give a daily file with --weather FILE, or write twelve monthly means under [[place.normals]] (rain, wet_days, tmin, tmax)")

// draw makes the members from a day on: from the record, or from the normals.
func (r *Reckoning) draw(a *Ask, start day.Day) error {
	p := r.Stead.Place
	site := weather.Site{Lat: p.Latitude, Elev: p.Elevation, Coastal: p.Coastal}
	days := int(a.Today-start) + a.Days
	if days < 7 || days > 1500 {
		return fmt.Errorf("%d days from %s can't be run: 7 to 1,500", days, start)
	}
	var err error
	switch rec := a.Weather; {
	case rec != nil && (rec.Days() >= enough || len(p.Normals) == 0):
		whole := *rec
		whole.Rain, whole.TMin, whole.TMax = append([]float64(nil), rec.Rain...), append([]float64(nil), rec.TMin...), append([]float64(nil), rec.TMax...)
		whole.Fill()
		r.How = whole.Notes
		r.Members, err = weather.FromRecent(&whole, site, start, days, a.Members, a.Seed, a.Recent)
	case len(p.Normals) > 0:
		var g *weather.Generator
		if g, err = a.generator(Normals(p.Normals[0])); err == nil {
			r.Members, err = g.Ensemble(site, start, days, a.Members, a.Seed)
		}
	default:
		return ErrNoWeather
	}
	if err != nil {
		return err
	}
	r.How = append(r.How, r.Members.Notes...)
	slog.Debug("members drawn", "members", len(r.Members.Members), "from", start, "days", days)
	return nil
}

func (a *Ask) generator(n weather.Normals) (*weather.Generator, error) {
	if a.made != nil {
		return a.made(n)
	}
	return weather.NewGenerator(n)
}

// generator is the one made last when the months are the same, since it keeps what
// it has summed up of the place.
func (h *Home) generator(n weather.Normals) (*weather.Generator, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.drawn != nil && h.months == n {
		return h.drawn, nil
	}
	g, err := weather.NewGenerator(n)
	if err == nil {
		h.drawn, h.months = g, n
	}
	return g, err
}

// Normals are a description's twelve months, as the generator takes them.
func Normals(n stead.Normals) weather.Normals {
	w := weather.Normals{TMinSD: n.TMinSD, TMaxSD: n.TMaxSD, Persistence: n.Persistence, RainCV: n.RainCV}
	copy(w.Rain[:], n.Rain)
	copy(w.WetDays[:], n.WetDays)
	copy(w.TMin[:], n.TMin)
	copy(w.TMax[:], n.TMax)
	return w
}

func (r *Reckoning) prepare(o engine.Options) (*engine.Model, error) {
	return engine.Prepare(r.Stead, r.Tables, o)
}

// Model is the stead ready to run.
func (r *Reckoning) Model() (*engine.Model, error) { return r.prepare(r.Options) }

// Outlook runs the members, sums them up and finds the causes.
func (r *Reckoning) Outlook(ctx context.Context) (*engine.Outlook, error) {
	m, err := r.Model()
	if err != nil {
		return nil, err
	}
	res, err := m.Run(ctx, r.Members, r.Options)
	if err != nil {
		return nil, err
	}
	o := res.Outlook()
	o.Judge()
	if err := o.Causes(ctx, r.Members, r.Options, r.prepare); err != nil {
		return nil, err
	}
	o.Weather, o.Cautions = r.How, Cautions(r.Stead)
	o.Defaults = append(o.Defaults, Taken(r.Stead.Taken)...)
	if r.Past != nil {
		o.Found = r.Past.Found()
	}
	return o, nil
}

// Questions are the counts and dips that would sharpen the outlook most.
func (r *Reckoning) Questions(ctx context.Context) ([]engine.Question, error) {
	return engine.Questions(ctx, r.Members, r.Options, r.prepare)
}
