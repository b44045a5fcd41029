package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"evenstead/demo"
	"evenstead/engine"
	"evenstead/hearth"
)

var loopsCommand = command{"loops", "[STEAD.toml] [flags]", "shows what each loop, taken away, does to the outlook (a Markdown table)", loops}

func loops(ctx context.Context, a *args) error {
	var q request
	q.flagsInto(a.flags)
	words, err := a.parse()
	if err != nil {
		return err
	}
	q.members = min(q.members, 200)
	q.name, q.text = "the demo", demo.Quernfold()
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	if len(words) == 1 {
		q.name = words[0]
		if q.text, err = readStead(q.name); err != nil {
			return err
		}
	}
	r, err := q.prepare(time.Now)
	if err != nil {
		return err
	}
	return loopTable(ctx, a, r)
}

// loopTable prints a row for the stead as it stands and one for each loop away: the
// years of 100 in which each main need falls short, then what is left.
func loopTable(ctx context.Context, a *args, r *hearth.Reckoning) error {
	base, err := bare(ctx, r, r.Options)
	if err != nil {
		return err
	}
	var ids, heads []string
	for i := range base.Needs {
		if n := &base.Needs[i]; n.Main && n.Known {
			ids = append(ids, n.ID)
			heads = append(heads, n.Name)
		}
	}
	for _, l := range left {
		heads = append(heads, l.head)
	}
	fmt.Fprintf(a.out, "| Taken away | %s |\n|---%s|\n", strings.Join(heads, " | "), strings.Repeat("|---:", len(heads)))
	fmt.Fprintf(a.out, "| nothing | %s |\n", cells(base, ids))
	for _, name := range engine.WithoutNames() {
		w, err := engine.ParseWithout(name)
		if err != nil {
			return err
		}
		opt := r.Options
		opt.Without |= w
		o, err := bare(ctx, r, opt)
		if err != nil {
			return err
		}
		fmt.Fprintf(a.out, "| %s | %s |\n", w.Say(), cells(o, ids))
	}
	return nil
}

// bare is an outlook without causes or words.
func bare(ctx context.Context, r *hearth.Reckoning, opt engine.Options) (*engine.Outlook, error) {
	opt.Report = nil
	m, err := engine.Prepare(r.Stead, r.Tables, opt)
	if err != nil {
		return nil, given(err)
	}
	res, err := m.Run(ctx, r.Members, opt)
	if err != nil {
		return nil, err
	}
	return res.Outlook(), nil
}

// left are the columns that show a loop which no need feels yet: means over the
// weeks of the middle year.
var left = []struct {
	head string
	of   func(*engine.Outlook) float64
}{
	{"Food in store, days", func(o *engine.Outlook) float64 { return middle(o, "food") }},
	{"Bottled gas, kg", func(o *engine.Outlook) float64 { return middle(o, "bottle") }},
	{"Free nitrogen, g/m2", func(o *engine.Outlook) float64 { return middle(o, "nitrogen") }},
	{"Water in the ground, mm", func(o *engine.Outlook) float64 { return middle(o, "root-zone") }},
	{"Harvest, kg", func(o *engine.Outlook) float64 {
		sum := 0.0
		for _, c := range o.Crops {
			sum += c.Kg.P50
		}
		return sum
	}},
}

func middle(o *engine.Outlook, id string) float64 {
	for _, s := range o.Stores {
		if s.ID != id {
			continue
		}
		sum := 0.0
		for _, w := range s.Weeks {
			sum += w.P50
		}
		return sum / float64(len(s.Weeks))
	}
	return 0
}

// cells are short years in 100 for each need, then what is left.
func cells(o *engine.Outlook, ids []string) string {
	var out []string
	for _, id := range ids {
		cell := "-"
		for i := range o.Needs {
			if n := &o.Needs[i]; n.ID == id {
				cell = fmt.Sprintf("%.0f", 100*n.ShareShort)
			}
		}
		out = append(out, cell)
	}
	for _, l := range left {
		out = append(out, fmt.Sprintf("%.4g", l.of(o)))
	}
	return strings.Join(out, " | ")
}
