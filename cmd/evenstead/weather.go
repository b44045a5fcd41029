package main

import (
	"context"
	"fmt"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"evenstead/day"
	"evenstead/unit"
	"evenstead/weather"
)

var weatherCommand = command{"weather", "FILE [flags]", "tells how a weather file was read and what climate it shows", showWeather}

func showWeather(_ context.Context, a *args) error {
	units := a.flags.String("units", "auto", "units of the file: auto, metric, tenths or us")
	us := a.flags.Bool("us", false, "print US units")
	lat := a.flags.Float64("latitude", math.NaN(), "`degrees`, for reference evaporation, when the file does not say")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) != 1 {
		return given(fmt.Errorf("weather wants one file, such as evenstead weather station.csv.gz"))
	}
	rec, err := readWeather(words[0], *units)
	if err != nil {
		return given(err)
	}
	rec.Fill()
	if !math.IsNaN(*lat) {
		rec.Lat = *lat
	}
	p := &printer{w: a.out}
	name := strings.TrimSpace(rec.Station + " " + rec.Name)
	if name == "" {
		name = words[0]
	}
	p.line("%s: %s to %s, %d days", name, plain(rec.Start.Long()), plain(rec.End().Long()), rec.Days())
	for _, s := range rec.Notes {
		p.wrap("- ", s)
	}
	p.months(rec, system(*us))
	p.frosts(rec)
	return p.err
}

// frosts prints when the last and first frosts of a season come.
func (p *printer) frosts(rec *weather.Record) {
	last, first := weather.FrostDates(rec, 0, rec.Lat < 0)
	p.line("")
	p.frost("Last frost of spring", "after", last, last.Later)
	p.frost("First frost of autumn", "before", first, first.Sooner)
}

// frost prints one kind of frost: the dates beyond which it comes in 1, 5 and 9
// years of 10.
func (p *printer) frost(what, side string, f weather.Frosts, date func(float64) float64) {
	if f.Seasons == 0 {
		p.line("%s (0 °C or less): no season of the record is whole enough to tell.", what)
		return
	}
	var said []string
	for _, c := range []struct {
		chance float64
		words  string
	}{{0.1, "1 year of 10"}, {0.5, "5 of 10"}, {0.9, "9 of 10"}} {
		if d := date(c.chance); !math.IsInf(d, 0) && !math.IsNaN(d) {
			said = append(said, fmt.Sprintf("%s %s in %s", side, plain((day.Of(2023, 1, 1)+day.Day(math.Round(d))-1).Short()), c.words))
		}
	}
	if len(said) == 0 {
		p.line("%s (0 °C or less): in fewer than 1 year of 10.", what)
		return
	}
	p.line("%s (0 °C or less): %s (%d seasons, %d with frost).", what, strings.Join(said, ", "), f.Seasons, len(f.Dates))
}

// month sums one calendar month of a record.
type month struct {
	rain, tmin, tmax, et0 float64
	days, wet             int
}

func (p *printer) months(rec *weather.Record, sys unit.System) {
	var by [12]month
	for i := range rec.Rain {
		d := rec.Start + day.Day(i)
		m := &by[d.Month()-1]
		if math.IsNaN(rec.Rain[i]) || math.IsNaN(rec.TMin[i]) || math.IsNaN(rec.TMax[i]) {
			continue
		}
		m.days++
		m.rain += rec.Rain[i]
		if rec.Rain[i] > 0 {
			m.wet++
		}
		m.tmin += rec.TMin[i]
		m.tmax += rec.TMax[i]
		if !math.IsNaN(rec.Lat) {
			m.et0 += weather.Hargreaves(rec.TMin[i], rec.TMax[i], weather.Extraterrestrial(rec.Lat, d.YearDay()))
		}
	}
	p.line("")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "month\train\twet days\ttmin\ttmax\tET0\t")
	for i, m := range by {
		if m.days == 0 {
			continue
		}
		n := float64(m.days)
		length := float64(time.Date(2023, time.Month(i+2), 0, 0, 0, 0, 0, time.UTC).Day())
		et0 := "-"
		if !math.IsNaN(rec.Lat) {
			et0 = unit.Format(m.et0/n*length, unit.Depth, sys)
		}
		fmt.Fprintf(tw, "%s\t%s\t%.1f\t%s\t%s\t%s\t\n", time.Month(i + 1).String()[:3], unit.Format(m.rain/n*length, unit.Depth, sys),
			float64(m.wet)/n*length, unit.Format(m.tmin/n, unit.Temperature, sys), unit.Format(m.tmax/n, unit.Temperature, sys), et0)
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}
