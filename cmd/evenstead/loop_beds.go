package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
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
		return s.yearOfBeds(p)
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
		fmt.Fprintf(tw, "%s\t\t\t\t\t\t\t\t \n", fill(fmt.Sprintf("  and %d more", more), 22))
	}
	total.row(tw)
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	p.wrap("", "A bucket's count is the most that any of the three takes; - where it has none of what lacks; urine counts for its nitrogen less what goes as ammonia, compost for the tenth of its nitrogen freed in a year. What the ground itself sets free meanwhile is not taken off. Give no more urine than 3 L/m2 in a season, and keep ash to acid soil.")
	return s.yearOfBeds(p)
}

// yearOfBeds tells what a year's harvest carries off each plot, what the place puts
// back, and the shortfall.
func (s *loopSheet) yearOfBeds(p *printer) error {
	order, off, err := s.carried()
	if err != nil {
		return err
	}
	p.head("What the harvests of a year carry off, g, and the buckets of urine with as much nitrogen")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tN\tP\tK\turine\t ")
	var total fertility.NPK
	for i, plot := range order {
		total = total.Plus(off[plot])
		if i < mostBeds {
			carriedRow(tw, "  "+plot, off[plot])
		}
	}
	if more := len(order) - mostBeds; more > 0 {
		fmt.Fprintf(tw, "%s\t\t\t\t\t \n", fill(fmt.Sprintf("  and %d more", more), 24))
	}
	carriedRow(tw, "  all", total)
	carriedRow(tw, "  put back by the place", s.putBack())
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	p.wrap("", s.shortfall(total))
	s.salt(p)
	return nil
}

// carried is what the harvests of a year from today take from each plot, kg, the plots
// in order of their nitrogen; what a crop fixes is not the ground's.
func (s *loopSheet) carried() (order []string, off map[string]fertility.NPK, err error) {
	_, grown, err := s.past.Year(s.tables(), s.r.Options.Climate)
	if err != nil {
		return nil, nil, given(err)
	}
	off = map[string]fertility.NPK{}
	for _, g := range grown {
		c, ok := s.tables().Crop(g.Crop)
		if !ok || g.Done || g.Likely <= 0 || g.First > s.today()+365 {
			continue
		}
		if _, seen := off[g.Plot]; !seen {
			order = append(order, g.Plot)
		}
		off[g.Plot] = off[g.Plot].Plus(fertility.NPK{N: fertility.Need(g.Likely, c.N/1000*(1-c.Fixed), 1), P: fertility.Need(g.Likely, c.P/1000, 1), K: fertility.Need(g.Likely, c.K/1000, 1)})
	}
	slices.SortStableFunc(order, func(a, b string) int { return int(1e6 * (off[b].N - off[a].N)) })
	return order, off, nil
}

func carriedRow(tw *tabwriter.Writer, name string, kg fertility.NPK) {
	g := kg.Times(1000)
	fmt.Fprintf(tw, "%s\t%.0f\t%.0f\t%.0f\t%.1f\t \n", fill(name, 24), g.N, g.P, g.K, fertility.UrineBucket.For(fertility.NPK{N: g.N}))
}

// putBack is what toilet, compost, digester, hens and litter bring to the ground in the
// year ahead, kg.
func (s *loopSheet) putBack() fertility.NPK {
	from := []string{"toilet", "compost", "digester", "hens and bees", "scraps", "house"}
	to := []string{"soil"}
	return fertility.NPK{N: s.between("nitrogen", from, to), P: s.between("phosphorus", from, to), K: s.between("potassium", from, to)}
}

// shortfall says what lacks to keep the ground as it is, in buckets.
func (s *loopSheet) shortfall(off fertility.NPK) string {
	lack := off.Plus(s.putBack().Times(-1)).Times(1000)
	out := "Beside what fixes from the air, comes with rain, goes below the roots and to the air, the place "
	if lack.N <= 0 && lack.P <= 0 && lack.K <= 0 {
		return out + "puts back as much of each as its harvests carry off."
	}
	var of []string
	for _, one := range []struct {
		name string
		lack fertility.NPK
		b    fertility.Bucket
		with string
	}{
		{"nitrogen", fertility.NPK{N: lack.N}, fertility.UrineBucket, "urine"},
		{"phosphorus", fertility.NPK{P: lack.P}, fertility.CompostBucket, "compost"},
		{"potassium", fertility.NPK{K: lack.K}, fertility.AshBucket, "ash"},
	} {
		if n := one.b.For(one.lack); n > 0 {
			of = append(of, fmt.Sprintf("%.0f g of %s (%.1f buckets of %s)", one.lack.N+one.lack.P+one.lack.K, one.name, n, one.with))
		}
	}
	return out + "falls short in a year by " + strings.Join(of, ", ") + "."
}

func (l lack) row(tw *tabwriter.Writer) {
	fmt.Fprintf(tw, "%s\t%.0f\t%.0f\t%.0f", fill("  "+l.plot, 22), l.of.N, l.of.P, l.of.K)
	for _, b := range fertility.Buckets() {
		lack := l.of
		if b.Holds.N == 0 { // ash: for the rest
			lack.N = 0
		}
		n := b.For(lack)
		if math.IsInf(n, 1) || n == 0 {
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
		lines = append(lines, fmt.Sprintf("soil of pH %.1f: %.2f kg/m2 of ground limestone, or %.2f of wood ash spread over %s, brings it to 6.5",
			s.stead().Place.SoilPH, lime, fertility.AshForLime(lime), counted(int(math.Ceil(fertility.AshForLime(lime)/fertility.AshYear)), "year", "years")))
	}
	p.section("Salt, lime and ash", lines)
}
