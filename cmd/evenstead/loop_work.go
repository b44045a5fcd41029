package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"evenstead/book"
	"evenstead/engine"
	"evenstead/unit"
	"evenstead/weather"
	"evenstead/work"
)

// hours tells each week's hours by task against those there are.
func (s *loopSheet) hours(p *printer) error {
	ens := s.r.Members
	weeks, err := s.model.WorkWeeks(s.ctx, ens.Past(weather.Unknown(ens.Start, ens.Days)))
	if err != nil {
		return err
	}
	p.head("Hours by week in the usual year: those there are, and those asked by task")
	names := taskNames(weeks)
	tw := tabwriter.NewWriter(p, 0, 4, 1, ' ', tabwriter.AlignRight)
	fmt.Fprint(tw, "  week of\tthere\tasked\tshort")
	for i, n := range names {
		fmt.Fprintf(tw, "\t%s", taskHead(n, weeks[0].Tasks[i].Slips))
	}
	fmt.Fprintln(tw, "\t ")
	for _, w := range weeks {
		short := "-"
		if lack := w.Asked - w.Done; lack >= 0.05 {
			short = fmt.Sprintf("%.1f", lack)
		}
		fmt.Fprintf(tw, "  %s\t%.0f\t%.1f\t%s", plain(w.From.Short()), w.Have, w.Asked, short)
		for _, t := range w.Tasks {
			fmt.Fprintf(tw, "\t%.1f", t.Hours)
		}
		fmt.Fprintln(tw, "\t ")
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	p.wrap("", "* gives way when hours run short; the rest can't. Hours by the table of work (garden: New Alchemy Institute 1976-77, 405 m2).")
	s.band(p, weeks)
	s.effort(p, weeks)
	s.written(p)
	s.trips(p)
	return nil
}

// band tells the garden's mean week and its busiest against the published ones.
func (s *loopSheet) band(p *printer, weeks []engine.WorkWeek) {
	sum, most := 0.0, 0.0
	for _, w := range weeks {
		for _, t := range w.Tasks {
			if t.Name == "garden" {
				sum, most = sum+t.Hours, max(most, t.Hours)
			}
		}
	}
	mean := sum / float64(max(1, len(weeks)))
	p.wrap("", fmt.Sprintf("The garden asks %.1f h a week in the mean and %.1f at most. Published: one household wrote 10.3 h a week (0.6 to 25); a tenth of an acre took 4 h a week in April, 8 in May, 15 to 20 in June, 20 in July and 3 to 8 in August, picking and preserving not counted (six months on in the south).", mean, most))
}

// effort tells the food energy that garden and picking cost in the busiest week.
func (s *loopSheet) effort(p *printer, weeks []engine.WorkWeek) {
	busiest, kg, heads := 0.0, 0.0, float64(len(s.stead().People))
	for _, w := range weeks {
		sum := 0.0
		for _, t := range w.Tasks {
			if t.Slips {
				sum += t.Hours
			}
		}
		busiest = max(busiest, sum)
	}
	for _, who := range s.stead().People {
		kg += who.Mass / heads
	}
	p.wrap("", fmt.Sprintf("In the busiest week garden, picking and putting up cost %.0f kcal a person-day above rest (gardening %.1f MET, Compendium of Physical Activities 2011): the activity under [[person]] should match it.",
		work.NetKcal(work.Gardening, kg, busiest/heads/7), work.Gardening))
}

func taskNames(weeks []engine.WorkWeek) (out []string) {
	for _, t := range weeks[0].Tasks {
		out = append(out, t.Name)
	}
	return out
}

func taskHead(name string, slips bool) string {
	head := map[string]string{"owed for the land": "owed", "fetching scraps": "scraps", "watering, picking, putting up, gathering": "picking etc."}[name]
	if head == "" {
		head = name
	}
	if slips {
		head += "*"
	}
	return head
}

// written sums what the household wrote of its work in the last four weeks.
func (s *loopSheet) written(p *printer) {
	by := map[string]float64{}
	for _, e := range s.past.Entries() {
		if e.Kind == book.Worked && e.Day > s.today()-28 && e.Day <= s.today() {
			by[workOf(e)] += e.Body.Amount
		}
	}
	var lines []string
	for what, h := range by {
		lines = append(lines, fmt.Sprintf("%s: %.1f h, %.1f a week", what, h, h/4))
	}
	slices.Sort(lines)
	p.section("Written in the last four weeks", lines)
}

// workOf is what an entry's hours went to.
func workOf(e book.Entry) string {
	switch {
	case e.Body.Extra["for"] != "":
		return "for " + strings.TrimPrefix(e.Body.Extra["for"], "the ")
	case e.Body.What != "":
		return e.Body.What
	}
	return "work not named"
}

// trips tells every described trip: time, food energy and what it brings.
func (s *loopSheet) trips(p *printer) {
	var lines []string
	for _, h := range s.stead().Hauls {
		t := work.Haul{Distance: h.Km, Climb: h.Climb, Load: h.Load, Speed: h.Speed}
		line := fmt.Sprintf("%s, %s and %s up: %.0f min and %.0f kcal a trip, %.0f trips a year", h.Name, s.say(h.Km, unit.Length), s.say(h.Climb, unit.Length), t.Minutes(), t.Kcal(), h.Trips)
		if h.Load > 0 {
			line += fmt.Sprintf("; %.2g min and %.2g kcal for each kg brought", t.Minutes()/h.Load, t.Kcal()/h.Load)
		}
		lines = append(lines, line)
	}
	p.section("Trips by bicycle and trailer, out and home", lines)
}
