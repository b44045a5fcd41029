package main

import (
	"context"
	"fmt"
	"text/tabwriter"

	"evenstead/hearth"
	"evenstead/reckon"
)

var learnCommand = command{"learn", "[flags]", "proposes next year's yields, use and hours from the book, as lines for a description", runLearn}

func runLearn(ctx context.Context, a *args) error {
	q := new(accounting)
	q.spanFlags(a)
	a.flags.BoolVar(&q.asJSON, "json", false, "print JSON")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 0 {
		return given(fmt.Errorf("learn takes no words; for another file: evenstead learn --stead %s", words[0]))
	}
	return q.with(ctx, func(h *hearth.Home) error {
		r, err := q.reckon(ctx, h)
		switch {
		case err != nil:
			return err
		case q.asJSON:
			return writeJSON(a.out, r.Lessons)
		}
		p := &printer{w: a.out}
		p.lessons(r)
		return p.err
	})
}

// lessons tells each figure with its evidence, then the lines.
func (p *printer) lessons(r *reckon.Report) {
	p.line("What the book of %s says of next year's figures, %s to %s", r.Stead, plain(r.From.Long()), plain(r.To.Long()))
	if len(r.Lessons) == 0 {
		p.wrap("", "Nothing yet: it takes harvests noted to the end, dips with rain between them, food bought three times, four weeks of work, two counts of a food.")
		return
	}
	p.line("")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, fill("", 36)+"\tnow\tproposed\tlow\thigh\tby\t ")
	for _, x := range r.Lessons {
		old := three(x.Old)
		if x.Old == 0 {
			old = "-"
		}
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\t%s\t%d %s\t \n", fill(comma(x.What, x.Unit), 36), old, three(x.New), three(x.Low), three(x.High), x.N, x.Of)
	}
	p.flush(tw)
	p.line("")
	p.line("# Lines to copy into a description, where the remark says.")
	for _, x := range r.Lessons {
		for _, line := range x.Lines {
			p.line("%s", line)
		}
	}
	p.section("How to read it", []string{
		"Nothing is changed by this command. Low and high hold four beliefs of five, or the least and the most that was seen.",
		"Yields, rain caught and water used are learned from this book, and the outlook goes by them already: copy their lines only into the description of a stead that begins a book of its own, else they count twice.",
		"Hours and food bought are what was written: what was not written is not in them. What was counted missing may have been eaten.",
	})
}

func comma(what, unit string) string {
	if unit == "" {
		return what
	}
	return what + ", " + unit
}
