package main

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"evenstead/day"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/water"
	"evenstead/weather"
)

// A past is the rain and evaporation of whole years, laid end to end.
type past struct {
	rain, et0 []float64 // mm a day
	first     []int     // index of each year's 1 January
	notes     []string
}

// past lays the record's whole years end to end, or years made from the normals.
func (q *request) past(st *stead.Stead) (*past, error) {
	p := st.Place
	site := weather.Site{Lat: p.Latitude, Elev: p.Elevation, Coastal: p.Coastal}
	switch {
	case q.weather != "":
		rec, err := readWeather(q.weather, q.units)
		if err != nil {
			return nil, err
		}
		if rec, err = yearsOf(rec, q.years); err != nil {
			return nil, err
		}
		rec.Fill()
		return pastOf(rec, site, openTank(st))
	case len(p.Normals) > 0:
		ens, err := weather.FromNormals(hearth.Normals(p.Normals[0]), site, day.Of(2023, 1, 1), 365, madeYears, q.seed)
		if err != nil {
			return nil, err
		}
		return pastMade(ens), nil
	}
	return nil, errors.New("no weather: give a daily file with --weather FILE, or write twelve monthly means under [[place.normals]] (rain, wet_days, tmin, tmax)")
}

// pastOf keeps a record's whole calendar years.
func pastOf(rec *weather.Record, site weather.Site, open bool) (*past, error) {
	p := &past{notes: rec.Notes}
	left := 0
	for y := rec.Start.Year(); y <= rec.End().Year(); y++ {
		from, to := day.Of(y, 1, 1), day.Of(y+1, 1, 1)
		i, n := rec.At(from), int(to-from)
		if i < 0 || i+n > rec.Days() || unknown(rec.Rain[i:i+n]) || open && !rec.Whole(from, n) {
			left++
			continue
		}
		p.first = append(p.first, len(p.rain))
		p.rain = append(p.rain, rec.Rain[i:i+n]...)
		for k := i; open && k < i+n; k++ {
			ra := weather.Extraterrestrial(site.Lat, (rec.Start + day.Day(k)).YearDay())
			p.et0 = append(p.et0, weather.Hargreaves(rec.TMin[k], rec.TMax[k], ra))
		}
	}
	if len(p.first) == 0 {
		return nil, fmt.Errorf("the record, %s to %s, has no whole calendar year of rain: give a longer one, or leave --weather out and write [[place.normals]]", rec.Start, rec.End())
	}
	p.notes = append(p.notes, fmt.Sprintf("%d whole calendar years of daily rain are laid end to end and come round again.", len(p.first)))
	if left > 0 {
		p.notes = append(p.notes, fmt.Sprintf("%d years with days missing are left out.", left))
	}
	return p, nil
}

func unknown(list []float64) bool { return slices.ContainsFunc(list, math.IsNaN) }

// pastMade lays the members of an ensemble end to end.
func pastMade(ens *weather.Ensemble) *past {
	p := &past{notes: append(slices.Clone(ens.Notes),
		fmt.Sprintf("There is no daily record: %d years made from the monthly means are laid end to end. They know no run of dry years, and their dry spells tend to be shorter than real ones (Wilks and Wilby 1999, from memory): give a record with --weather where you can.", len(ens.Members)))}
	for _, m := range ens.Members {
		p.first = append(p.first, len(p.rain))
		p.rain = append(p.rain, m.Rain...)
		p.et0 = append(p.et0, m.ET0...)
	}
	return p
}

// years sums daily amounts by year.
func (p *past) years(daily []float64) []float64 {
	var out []float64
	for k, from := range p.first {
		to := len(p.rain)
		if k+1 < len(p.first) {
			to = p.first[k+1]
		}
		sum := 0.0
		if daily != nil {
			for _, v := range daily[from:to] {
				sum += v
			}
		}
		out = append(out, sum)
	}
	return out
}

// shortByMonth counts the days a year, by month, on which less is drawn than asked.
func (p *past) shortByMonth(drawn []float64, asked float64) []float64 {
	out := make([]float64, 12)
	year := 0
	for t, v := range drawn {
		if year+1 < len(p.first) && t == p.first[year+1] {
			year++
		}
		if v < asked {
			d := day.Of(2023, 1, 1) + day.Day(t-p.first[year]) // a leap year's last day counts with December
			out[min(d, day.Of(2023, 12, 31)).Month()-1] += 1 / float64(len(p.first))
		}
	}
	return out
}

// from cuts a year of days from each year of the past, all beginning on a date's
// place in the calendar; the last goes on into the first.
func (p *past) from(date day.Day, d water.Days) []water.Days {
	const year = 365
	n := len(p.rain)
	var out []water.Days
	for _, first := range p.first {
		run := water.Days{Inflow: make([]float64, year)}
		if d.ET0 != nil {
			run.ET0 = make([]float64, year)
		}
		for t := range year {
			k := (first + date.YearDay() - 1 + t) % n
			run.Inflow[t] = d.Inflow[k]
			if d.ET0 != nil {
				run.ET0[t] = d.ET0[k]
			}
		}
		out = append(out, run)
	}
	return out
}
