package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"strings"
	"time"

	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/weather"
)

// request is what an outlook is asked from.
type request struct {
	name    string // of the description, for messages
	text    []byte
	weather string // file; "": the description's normals
	units   string
	years   string // of the record to use, such as 1984-2019; "": all
	today   string
	days    int
	members int
	seed    uint64
	without string
	workers int
	report  func(done, total int)
}

// flagsInto ties the flags that every reckoning command knows to a request.
func (q *request) flagsInto(f *flag.FlagSet) {
	f.StringVar(&q.weather, "weather", "", "daily weather `file`: GHCN-Daily .dly, its CSV forms, or date,rain,tmin,tmax; .gz too")
	f.StringVar(&q.units, "units", "auto", "units of the weather file: auto, metric, tenths or us")
	f.StringVar(&q.years, "years", "", "`years` of the record to learn from, such as 1984-2019")
	f.StringVar(&q.today, "today", "", "`date` the outlook begins (default: the description's stay.from, else today)")
	f.IntVar(&q.days, "days", 365, "days ahead")
	f.IntVar(&q.members, "members", 1000, "possible years to run")
	f.Uint64Var(&q.seed, "seed", 1, "seed of chance: the same seed gives the same outlook")
	f.StringVar(&q.without, "without", "", "`loops` taken away, such as greywater,hens")
}

// A reckoning is a stead, its weather and its tables, ready to run.
type reckoning struct {
	stead *stead.Stead
	tab   *data.Tables
	ens   *weather.Ensemble
	opt   engine.Options
	how   []string // how the weather was read
}

// prepare reads the description and weather and draws the members.
func (q *request) prepare(clock func() time.Time) (*reckoning, error) {
	st, err := stead.Read(q.name, q.text)
	if err != nil {
		return nil, given(err)
	}
	tab, err := data.Load()
	if err != nil {
		return nil, fmt.Errorf("load tables: %w", err)
	}
	r := &reckoning{stead: st, tab: tab}
	if r.opt, err = q.options(st, clock); err != nil {
		return nil, given(err)
	}
	if err := q.draw(r); err != nil {
		return nil, given(err)
	}
	r.opt.Climate = r.ens.Climate()
	if err := engine.Sow(st, tab, r.ens, nil); err != nil {
		return nil, given(err)
	}
	return r, nil
}

func (q *request) options(st *stead.Stead, clock func() time.Time) (engine.Options, error) {
	o := engine.Options{Today: st.Stay.From, Days: q.days, Seed: q.seed, Workers: q.workers, Report: q.report}
	if q.today != "" {
		d, err := day.Parse(q.today)
		if err != nil {
			return o, fmt.Errorf("--today: %w", err)
		}
		o.Today = d
	}
	if o.Today == 0 {
		o.Today = day.Today(clock())
	}
	if st.Stay.From == 0 {
		st.Stay.From = o.Today
	}
	if q.members < 1 || q.members > 20000 {
		return o, fmt.Errorf("--members %d: give 1 to 20,000", q.members)
	}
	var err error
	o.Without, err = engine.ParseWithout(q.without)
	return o, err
}

// draw makes the members from the weather file, or from the normals.
func (q *request) draw(r *reckoning) error {
	p := r.stead.Place
	site := weather.Site{Lat: p.Latitude, Elev: p.Elevation, Coastal: p.Coastal}
	start := r.stead.Stay.From
	days := int(r.opt.Today-start) + q.days
	if days < 7 || days > 1500 {
		return fmt.Errorf("%d days from %s can't be run: 7 to 1,500", days, start)
	}
	var err error
	switch {
	case q.weather != "":
		var rec *weather.Record
		if rec, err = readWeather(q.weather, q.units); err != nil {
			return err
		}
		if rec, err = yearsOf(rec, q.years); err != nil {
			return err
		}
		rec.Fill()
		r.how = rec.Notes
		r.ens, err = weather.FromRecord(rec, site, start, days, q.members, q.seed)
	case len(p.Normals) > 0:
		r.ens, err = weather.FromNormals(normalsOf(p.Normals[0]), site, start, days, q.members, q.seed)
	default:
		return errors.New("no weather: give a daily file with --weather FILE, or write twelve monthly means under [[place.normals]] (rain, wet_days, tmin, tmax)")
	}
	if err != nil {
		return err
	}
	r.how = append(r.how, r.ens.Notes...)
	slog.Debug("members drawn", "members", len(r.ens.Members), "from", start, "days", days)
	return nil
}

func normalsOf(n stead.Normals) weather.Normals {
	w := weather.Normals{TMinSD: n.TMinSD, TMaxSD: n.TMaxSD, Persistence: n.Persistence, RainCV: n.RainCV}
	copy(w.Rain[:], n.Rain)
	copy(w.WetDays[:], n.WetDays)
	copy(w.TMin[:], n.TMin)
	copy(w.TMax[:], n.TMax)
	return w
}

func readWeather(name, units string) (*weather.Record, error) {
	u, err := unitsNamed(units)
	if err != nil {
		return nil, err
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("open weather: %w", err)
	}
	defer f.Close()
	rec, err := weather.Read(f, weather.Options{Name: name, Units: u})
	if err != nil {
		return nil, fmt.Errorf("read weather %s: %w", name, err)
	}
	return rec, nil
}

// yearsOf keeps the calendar years of a record from the first through the last named.
func yearsOf(rec *weather.Record, years string) (*weather.Record, error) {
	if years == "" {
		return rec, nil
	}
	var first, last int
	if n, err := fmt.Sscanf(years, "%d-%d", &first, &last); n != 2 || err != nil || first > last {
		return nil, fmt.Errorf("--years %q: write the first and last year, such as 1984-2019", years)
	}
	from := max(0, rec.At(day.Of(first, 1, 1)))
	to := min(rec.Days(), rec.At(day.Of(last+1, 1, 1)))
	if from >= to {
		return nil, fmt.Errorf("--years %s: the record runs from %s to %s", years, rec.Start, rec.End())
	}
	cut := *rec
	cut.Start += day.Day(from)
	cut.Rain, cut.TMin, cut.TMax = rec.Rain[from:to], rec.TMin[from:to], rec.TMax[from:to]
	if rec.Wind != nil {
		cut.Wind = rec.Wind[from:to]
	}
	cut.Notes = append(append([]string(nil), rec.Notes...), "Only the years "+years+" are used.")
	return &cut, nil
}

func unitsNamed(s string) (weather.Units, error) {
	switch s {
	case "auto":
		return weather.Auto, nil
	case "metric":
		return weather.MetricUnits, nil
	case "tenths":
		return weather.TenthsUnits, nil
	case "us":
		return weather.USUnits, nil
	}
	return weather.Auto, fmt.Errorf("--units %q: one of auto, metric, tenths, us", s)
}

// outlook runs the members, sums them up and finds the causes.
func (r *reckoning) outlook(ctx context.Context) (*engine.Outlook, error) {
	prepare := func(o engine.Options) (*engine.Model, error) { return engine.Prepare(r.stead, r.tab, o) }
	m, err := prepare(r.opt)
	if err != nil {
		return nil, given(err)
	}
	res, err := m.Run(ctx, r.ens, r.opt)
	if err != nil {
		return nil, err
	}
	o := res.Outlook()
	o.Judge()
	if err := o.Causes(ctx, r.ens, r.opt, prepare); err != nil {
		return nil, err
	}
	o.Weather = r.how
	o.Cautions = cautions(r.stead)
	o.Defaults = append(o.Defaults, takenLines(r.stead.Taken)...)
	return o, nil
}

// cautions are the safety sentences a description calls for, each with its source.
func cautions(st *stead.Stead) []string {
	var said []string
	for _, c := range stead.Cautions(st) {
		about := ""
		if c.Part != "" {
			about = c.Part + ": "
		}
		said = append(said, about+c.Text+" ("+c.Source+")")
	}
	return said
}

// takenLines tells the defaults taken, those alike in one line.
func takenLines(taken []stead.Default) []string {
	parts := map[string][]string{}
	var order []string
	for _, d := range taken {
		said := d.Key + " = " + d.Value
		if d.Why != "" {
			said += " (" + d.Why + ")"
		}
		if parts[said] == nil {
			order = append(order, said)
		}
		parts[said] = append(parts[said], d.Part)
	}
	for i, said := range order {
		if who := names(parts[said]); who != "" {
			order[i] = who + ": " + said
		}
	}
	return order
}

// names lists a few names and counts the rest.
func names(list []string) string {
	const few = 3
	if len(list) > few+1 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:few], ", "), len(list)-few)
	}
	return strings.Join(list, ", ")
}

// readStead reads a description's text from a file.
func readStead(name string) ([]byte, error) {
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, given(fmt.Errorf("there is no %s here: name a description, or start from the four lines in the README", name))
	}
	if err != nil {
		return nil, given(err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxStead+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	if len(text) > maxStead {
		return nil, given(fmt.Errorf("%s is larger than 1 MB: it is not a stead's description", name))
	}
	return text, nil
}

const maxStead = 1 << 20
