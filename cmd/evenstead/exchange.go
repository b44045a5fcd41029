package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"evenstead/book"
	"evenstead/day"
	"evenstead/hearth"
	"evenstead/paper"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/work"
)

var exchangeCommand = command{"exchange", "[flags]", "tells what is owed for the land, done and left, what was built and binned; --agreement prints a page to sign", showExchange}

// exchanging is what exchange is asked.
type exchanging struct {
	at
	agreement, us bool
}

func showExchange(ctx context.Context, a *args) error {
	var q exchanging
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.BoolVar(&q.agreement, "agreement", false, "print a one-page agreement to sign instead")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 0 {
		return given(errors.New("exchange takes no words; for another file: evenstead exchange --stead FILE"))
	}
	today, err := q.day()
	if err != nil {
		return err
	}
	return q.with(ctx, func(h *hearth.Home) error {
		all, err := h.Steads(ctx)
		if err != nil {
			return blame(err)
		}
		held, err := h.On(ctx, today)
		if err != nil {
			return blame(err)
		}
		entries, err := h.Entries(ctx)
		if err != nil {
			return blame(err)
		}
		s := &statement{st: held.Stead, from: held.Stead.Stay.From, today: today, entries: upTo(entries, today), sys: system(q.us)}
		if s.from == 0 {
			s.from = all[0].From
		}
		if q.agreement {
			return s.agreement(&printer{w: a.out})
		}
		return s.write(&printer{w: a.out})
	})
}

// upTo keeps the entries of days to today.
func upTo(entries []book.Entry, today day.Day) (out []book.Entry) {
	for _, e := range entries {
		if e.Day <= today {
			out = append(out, e)
		}
	}
	return out
}

// A statement is what was exchanged by a day.
type statement struct {
	st          *stead.Stead
	from, today day.Day
	entries     []book.Entry
	sys         unit.System
}

func (s *statement) say(v float64, k unit.Kind) string { return plain(unit.Format(v, k, s.sys)) }

// deals reads the exchanges of the description.
func (s *statement) deals() []paper.Deal { return paper.Deals(s.st, s.from, s.today, s.entries) }

func (s *statement) write(p *printer) error {
	deals := s.deals()
	p.line("%s: statement of exchange, %s to %s", s.st.Name, plain(s.from.Long()), plain(s.today.Long()))
	if len(deals) == 0 {
		p.line("")
		p.wrap("", "No exchange is described: write [[exchange]] with hours_week and, if they take some, share.")
	}
	for i := range deals {
		s.account(p, &deals[i])
	}
	s.built(p)
	s.rubbish(p)
	s.left(p)
	return p.err
}

// account prints a deal month by month and its sum.
func (s *statement) account(p *printer, d *paper.Deal) {
	p.head("With " + d.With + ": hours")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tagreed\tdone\towed at the end\t ")
	lines := work.Statement(d.Term, d.Stints, s.today)
	done, agreed, owed := 0.0, 0.0, 0.0
	for _, l := range lines {
		fmt.Fprintf(tw, "  %s\t%.1f\t%.1f\t%.1f\t \n", fill(l.From.Month().String()+" "+fmt.Sprint(l.From.Year()), 16), l.Agreed, l.Done, l.Balance)
		done, agreed, owed = done+l.Done, agreed+l.Agreed, l.Balance
	}
	fmt.Fprintf(tw, "  %s\t%.1f\t%.1f\t%.1f\t \n", fill("all", 16), agreed, done, owed)
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	balance := fmt.Sprintf("%.1f h are still owed.", owed)
	if owed < 0 {
		balance = fmt.Sprintf("%.1f h were done beyond what was agreed.", -owed)
	}
	p.wrap("", balance+" "+s.share(d))
	p.line("")
	p.line("Seen by both (initials, date): ____________   ____________")
}

func (s *statement) share(d *paper.Deal) string {
	if d.Term.Share == 0 && d.Given == 0 && d.Loose == 0 {
		return "No share of the crop is agreed."
	}
	line := fmt.Sprintf("Share of the crop: %s a year agreed, %s by now; %s given.", s.say(d.Term.Share, unit.Mass), s.say(d.Term.Kg(s.today), unit.Mass), s.say(d.Given, unit.Mass))
	if d.Loose > 0 {
		line += fmt.Sprintf(" Besides, %s not weighed.", counted(d.Loose, "gift was", "gifts were"))
	}
	return line
}

// built lists what was made and mended, and from what.
func (s *statement) built(p *printer) {
	var lines []string
	by := map[string]int{}
	for _, e := range s.entries {
		if e.Kind != book.Made && e.Kind != book.Mended {
			continue
		}
		lines = append(lines, plain(e.Sentence(s.sys)))
		by[materialOf(e)]++
	}
	if len(lines) > 0 {
		var sum []string
		for _, k := range []string{"found", "second-hand", "new", "not said"} {
			if by[k] > 0 {
				sum = append(sum, fmt.Sprintf("%s %d", k, by[k]))
			}
		}
		lines = append(lines, "materials: "+strings.Join(sum, ", "))
	}
	p.section("Built and mended", lines)
}

// materialOf tells by an entry's words whether its materials were found, second-hand or new.
func materialOf(e book.Entry) string {
	text := strings.ToLower(e.Body.Extra["from"] + " " + e.Note + " " + e.Body.What)
	for _, k := range []struct{ name, words string }{
		{"second-hand", "second-hand second hand used old salvaged reclaimed"}, {"found", "found scrap pallet free"}, {"new", "new bought"},
	} {
		for w := range strings.FieldsSeq(k.words) {
			if slices.Contains(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '.' }), w) {
				return k.name
			}
		}
	}
	return "not said"
}

// rubbish sums what was binned, by what and measure.
func (s *statement) rubbish(p *printer) {
	sums, order, kg := map[string]float64{}, []string{}, 0.0
	kinds := map[string]unit.Kind{}
	for _, e := range s.entries {
		if e.Kind != book.Binned {
			continue
		}
		key := e.Body.What + "\x00" + string(e.Body.Measure)
		if kinds[key] == "" {
			order = append(order, key)
			kinds[key] = e.Body.Measure
		}
		sums[key] += e.Body.Amount
		if e.Body.Measure == unit.Mass {
			kg += e.Body.Amount
		}
	}
	var lines []string
	for _, key := range order {
		what, _, _ := strings.Cut(key, "\x00")
		lines = append(lines, fmt.Sprintf("%s: %s", what, s.say(sums[key], kinds[key])))
	}
	if kg > 0 {
		days := math.Max(1, float64(s.today-s.from+1))
		lines = append(lines, fmt.Sprintf("weighed in all: %s, %s a week", s.say(kg, unit.Mass), s.say(kg/days*7, unit.Mass)))
	}
	p.section("Sent off the place as rubbish", lines)
}

// left tells who is left what.
func (s *statement) left(p *printer) {
	if s.st.Stay.LeftTo == "" {
		return
	}
	when := "at the end of the stay"
	if s.st.Stay.To != 0 {
		when = "on " + plain(s.st.Stay.To.Long())
	}
	p.section(fmt.Sprintf("Left to %s %s", s.st.Stay.LeftTo, when), s.goods())
}

// goods are what stays with the ground.
func (s *statement) goods() []string {
	var out []string
	beds, trees, holds := 0.0, 0.0, 0.0
	for _, b := range s.st.Beds {
		beds += b.Area
	}
	for _, t := range s.st.Trees {
		trees += t.Count
	}
	for _, t := range s.st.Tanks {
		holds += t.Holds
	}
	if beds > 0 {
		out = append(out, fmt.Sprintf("%s, %s", counted(len(s.st.Beds), "bed", "beds"), s.say(beds, unit.Area)))
	}
	if trees > 0 {
		out = append(out, fmt.Sprintf("trees and vines: %.0f in %s", trees, counted(len(s.st.Trees), "stand", "stands")))
	}
	if holds > 0 {
		out = append(out, fmt.Sprintf("%s, %s", counted(len(s.st.Tanks), "tank", "tanks"), s.say(holds, unit.Volume)))
	}
	return append(out, "drums that still rest, with their dates: evenstead gate")
}
