package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/weather"
)

// request is what an outlook is asked from.
type request struct {
	name     string // of the description, for messages
	text     []byte
	weather  string // file; "": the description's normals
	units    string
	years    string // of the record to use, such as 1984-2019; "": all
	recent   weather.Recent
	today    string
	days     int
	members  int
	seed     uint64
	without  string
	workers  int
	handbook bool
	report   func(done, total int)
}

// flagsInto ties the flags that every reckoning command knows to a request.
func (q *request) flagsInto(f *flag.FlagSet) {
	f.StringVar(&q.weather, "weather", "", "daily weather `file`: GHCN-Daily .dly, its CSV forms, or date,rain,tmin,tmax; .gz too")
	f.StringVar(&q.units, "units", "auto", "units of the weather file: auto, metric, tenths or us")
	f.StringVar(&q.years, "years", "", "`years` of the record to learn from, such as 1984-2019")
	recentFlag(f, &q.recent)
	f.StringVar(&q.today, "today", "", "`date` the outlook begins (default: the description's stay.from, else today)")
	f.IntVar(&q.days, "days", 365, "days ahead")
	f.IntVar(&q.members, "members", 1000, "possible years to run")
	f.Uint64Var(&q.seed, "seed", 1, "seed of chance: the same seed gives the same outlook")
	f.StringVar(&q.without, "without", "", "`loops` taken away, such as greywater,hens")
}

// recentFlag lets newer years of a record weigh more.
func recentFlag(f *flag.FlagSet, r *weather.Recent) {
	f.Float64Var(&r.HalfLife, "trend", 0, "let newer years of the record weigh more: `years` in which the weight halves, 5 or more (default: all alike)")
}

// prepare reads the description and weather and draws the members.
func (q *request) prepare(clock func() time.Time) (*hearth.Reckoning, error) {
	st, err := stead.Read(q.name, q.text)
	if err != nil {
		return nil, given(err)
	}
	a, err := q.ask(clock)
	if err != nil {
		return nil, err
	}
	if q.today == "" && st.Stay.From != 0 {
		a.Today = st.Stay.From
	}
	r, err := hearth.Plain(st, a)
	if err != nil {
		return nil, given(err)
	}
	return r, nil
}

// ask reads what the flags ask for; without a date it begins on the clock's day.
func (q *request) ask(clock func() time.Time) (hearth.Ask, error) {
	a := hearth.Ask{Today: day.Today(clock()), Days: q.days, Members: q.members, Seed: q.seed, Recent: q.recent, Workers: q.workers, Handbook: q.handbook, Report: q.report}
	if q.days < 1 {
		return a, given(fmt.Errorf("--days %d: give 7 or more", q.days))
	}
	if q.members < 1 {
		return a, given(fmt.Errorf("--members %d: give 1 to 20,000", q.members))
	}
	var err error
	if q.today != "" {
		if a.Today, err = day.Parse(q.today); err != nil {
			return a, given(fmt.Errorf("--today: %w", err))
		}
	}
	if a.Without, err = engine.ParseWithout(q.without); err != nil {
		return a, given(err)
	}
	if q.weather != "" {
		if a.Weather, err = readWeather(q.weather, q.units); err != nil {
			return a, given(err)
		}
		if a.Weather, err = yearsOf(a.Weather, q.years); err != nil {
			return a, given(err)
		}
	}
	return a, nil
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
