package main

import (
	"context"
	"fmt"
	"math"
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
	p.line("%s %s: %s to %s, %d days", rec.Station, rec.Name, plain(rec.Start.Long()), plain(rec.End().Long()), rec.Days())
	for _, s := range rec.Notes {
		p.wrap("- ", s)
	}
	p.months(rec, system(*us))
	return p.err
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
