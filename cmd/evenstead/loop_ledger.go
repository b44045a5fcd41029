package main

import (
	"fmt"
	"slices"
	"text/tabwriter"

	"evenstead/engine"
	"evenstead/unit"
)

// ledgerYears is how many possible years the beds' ledger of the year ahead is the
// mean of.
const ledgerYears = 20

// ledger tells what came to each plot and what left it, by the book so far and in
// the year ahead.
func (s *loopSheet) ledger(p *printer) error {
	if past := s.past.Beds; s.kept && len(past) > 0 && past[0].From < past[0].To {
		p.head(fmt.Sprintf("What came to each plot and left it from %s to %s, %s a plot, by the book and the reckoning",
			plain(past[0].From.Long()), plain((past[0].To - 1).Long()), s.small()))
		s.ledgerTable(p, past)
	}
	ahead, err := s.model.BedsAhead(s.ctx, s.r.Members, ledgerYears)
	if err != nil {
		return err
	}
	p.head(fmt.Sprintf("What will come to each plot and leave it in the year ahead, %s a plot, the mean of %d possible years", s.small(), min(ledgerYears, len(s.r.Members.Members))))
	s.ledgerTable(p, ahead)
	p.wrap("", "In less out is what ground and plants gain, the slow store of humus with them. Sodium is that of urine (2.5 g/L, from memory); rain takes it down as it takes nitrate. That of washing water is not known.")
	return p.err
}

// small is the unit of a plot's nutrients.
func (s *loopSheet) small() string {
	if s.sys == unit.US {
		return "oz"
	}
	return "g"
}

// inSmall turns kg into that unit.
func (s *loopSheet) inSmall(kg float64) float64 {
	if s.sys == unit.US {
		return kg / 0.028349523125
	}
	return 1000 * kg
}

// ledgerTable prints the plots that moved most nitrogen, then all together.
func (s *loopSheet) ledgerTable(p *printer, list []engine.BedLedger) {
	list = slices.Clone(list)
	moved := func(l *engine.BedLedger) float64 { return l.Sum(true).N + l.Sum(false).N }
	slices.SortStableFunc(list, func(a, b engine.BedLedger) int { return int(1e6 * (moved(&b) - moved(&a))) })
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tN in\tN out\tgain\tP in\tP out\tgain\tK in\tK out\tgain\tNa in\tleft\t ")
	all := engine.BedLedger{Plot: "all"}
	ways := map[string]*engine.BedMove{}
	var names []string
	for i := range list {
		l := &list[i]
		if i < mostBeds {
			s.ledgerRow(tw, l)
		}
		all.SodiumIn, all.SodiumGone = all.SodiumIn+l.SodiumIn, all.SodiumGone+l.SodiumGone
		for _, mv := range l.Moves {
			if ways[mv.Way] == nil {
				ways[mv.Way] = &engine.BedMove{Way: mv.Way, In: mv.In}
				names = append(names, mv.Way)
			}
			of := &ways[mv.Way].Has
			of.N, of.P, of.K = of.N+mv.Has.N, of.P+mv.Has.P, of.K+mv.Has.K
		}
	}
	for _, n := range names {
		all.Moves = append(all.Moves, *ways[n])
	}
	if more := len(list) - mostBeds; more > 0 {
		fmt.Fprintf(tw, "%s\t\t\t\t\t\t\t\t\t\t\t\t \n", fill(fmt.Sprintf("  and %d more", more), 22))
	}
	s.ledgerRow(tw, &all)
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	slices.SortStableFunc(all.Moves, func(a, b engine.BedMove) int { return side(a) - side(b) })
	var lines []string
	for _, mv := range all.Moves {
		way := "in by " + mv.Way
		if !mv.In {
			way = "out by " + mv.Way
		}
		lines = append(lines, fmt.Sprintf("%s: N %s, P %s, K %s", way, three(s.inSmall(mv.Has.N)), three(s.inSmall(mv.Has.P)), three(s.inSmall(mv.Has.K))))
	}
	p.section("By what, all plots together", lines)
}

func side(mv engine.BedMove) int {
	if mv.In {
		return 0
	}
	return 1
}

func (s *loopSheet) ledgerRow(tw *tabwriter.Writer, l *engine.BedLedger) {
	in, out := l.Sum(true), l.Sum(false)
	fmt.Fprint(tw, fill("  "+l.Plot, 22))
	for _, v := range [][2]float64{{in.N, out.N}, {in.P, out.P}, {in.K, out.K}} {
		fmt.Fprintf(tw, "\t%s\t%s\t%s", three(s.inSmall(v[0])), three(s.inSmall(v[1])), three(s.inSmall(v[0]-v[1])))
	}
	fmt.Fprintf(tw, "\t%s\t%s\t \n", three(s.inSmall(l.SodiumIn)), three(s.inSmall(l.SodiumIn-l.SodiumGone)))
}
