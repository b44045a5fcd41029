package main

import (
	"fmt"
	"math"
	"slices"
	"text/tabwriter"

	"evenstead/engine"
	"evenstead/fertility"
	"evenstead/unit"
)

// mostBeds is how many plots are told one by one.
const mostBeds = 15

// A lack is what a plot's crops will yet ask for beyond what is free in the ground, g.
type lack struct {
	plot string
	area float64
	of   fertility.NPK
}

func (s *loopSheet) lacks() (out []lack) {
	for i := range s.now.Plots {
		pl := &s.now.Plots[i]
		of := lackOf(pl)
		if of.N > 0 || of.P > 0 || of.K > 0 {
			out = append(out, lack{pl.Name, pl.Area, of})
		}
	}
	slices.SortStableFunc(out, func(a, b lack) int { return int(1000*b.of.N/b.area) - int(1000*a.of.N/a.area) })
	return out
}

// lackOf is what stands on a plot asks less what is free there, never under none.
func lackOf(pl *engine.PlotNow) fertility.NPK {
	return fertility.NPK{N: max(0, pl.Asks.N-pl.Mineral.N), P: max(0, pl.Asks.P-pl.Mineral.P), K: max(0, pl.Asks.K-pl.Mineral.K)}.Times(pl.Area)
}

func (s *loopSheet) beds(p *printer) error {
	p.head(fmt.Sprintf("What the ground lacks today for what stands on it, in buckets of %s", s.say(fertility.BucketLitres, unit.Volume)))
	list := s.lacks()
	if len(list) == 0 {
		p.line("  Nothing: what is free in the ground feeds what stands there.")
		s.salt(p)
		return nil
	}
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(tw, "\tN g\tP g\tK g")
	for _, b := range fertility.Buckets() {
		fmt.Fprint(tw, "\t"+b.Name)
	}
	fmt.Fprintln(tw, "\t ")
	total := lack{plot: "all"}
	for i, l := range list {
		total.of = total.of.Plus(l.of)
		if i < mostBeds {
			l.row(tw)
		}
	}
	if more := len(list) - mostBeds; more > 0 {
		fmt.Fprintf(tw, "  and %d more\t\t\t\t\t\t\t\t \n", more)
	}
	total.row(tw)
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	p.wrap("", "A bucket's count is the most that any of the three takes; - where it has none of what lacks; urine counts for its nitrogen less what goes as ammonia, compost for the tenth of its nitrogen freed in a year. What the ground itself sets free meanwhile is not taken off. Give no more urine than 3 L/m2 in a season, and keep ash to acid soil.")
	s.salt(p)
	return nil
}

func (l lack) row(tw *tabwriter.Writer) {
	fmt.Fprintf(tw, "%s\t%.0f\t%.0f\t%.0f", fill("  "+l.plot, 22), l.of.N, l.of.P, l.of.K)
	for _, b := range fertility.Buckets() {
		lack := l.of
		if b.Name == "wood ash" {
			lack.N = 0
		}
		n := b.For(lack)
		if math.IsInf(n, 1) {
			fmt.Fprint(tw, "\t-")
			continue
		}
		fmt.Fprintf(tw, "\t%.1f", n)
	}
	fmt.Fprintln(tw, "\t ")
}

// salt tells the sodium that the year's urine leaves on its ground, and lime and ash.
func (s *loopSheet) salt(p *printer) {
	var lines []string
	if t := s.now.Toilet; t != nil && t.Apart {
		litres, area := s.between("water", []string{"toilet"}, []string{"soil"}), 0.0
		for _, pl := range s.now.Plots {
			if slices.Contains(t.UrineTo, pl.Name) {
				area += pl.Area
			}
		}
		if area > 0 {
			lines = append(lines, fmt.Sprintf("urine over a year: %s on %s, %.2g L/m2, which leaves %.2g g of sodium a m2 where no rain washes it down (1-4 g/L, from memory)",
				s.say(litres, unit.Volume), s.say(area, unit.Area), litres/area, fertility.SodiumYear(litres/area, 0)))
		}
	}
	texture, known := map[string]fertility.Texture{"sandy loam": fertility.SandyLoam, "loam": fertility.Loam, "clay loam": fertility.ClayLoam}[s.stead().Place.Soil]
	if lime, err := fertility.LimeNeed(texture, s.stead().Place.SoilPH); known && err == nil && lime > 0 {
		lines = append(lines, fmt.Sprintf("soil of pH %.1f: %.2f kg/m2 of ground limestone, or %.2f of wood ash spread over %.0f years, brings it to 6.5",
			s.stead().Place.SoilPH, lime, fertility.AshForLime(lime), math.Ceil(fertility.AshForLime(lime)/fertility.AshYear)))
	}
	p.section("Salt, lime and ash", lines)
}
