package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"evenstead/demo"
	"evenstead/engine"
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
	return r.table(ctx, a)
}

// table prints a row for the stead as it stands and one for each loop away: the
// share of years short, in 100, and the middle year's share of the need met.
func (r *reckoning) table(ctx context.Context, a *args) error {
	base, err := r.plain(ctx, r.opt)
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
	fmt.Fprintf(a.out, "| Taken away | %s |\n|---%s|\n", strings.Join(heads, " | "), strings.Repeat("|---:", len(heads)))
	fmt.Fprintf(a.out, "| nothing | %s |\n", cells(base, ids))
	for _, name := range engine.WithoutNames() {
		w, err := engine.ParseWithout(name)
		if err != nil {
			return err
		}
		opt := r.opt
		opt.Without |= w
		o, err := r.plain(ctx, opt)
		if err != nil {
			return err
		}
		fmt.Fprintf(a.out, "| %s | %s |\n", w.Say(), cells(o, ids))
	}
	return nil
}

// plain is an outlook without causes or words.
func (r *reckoning) plain(ctx context.Context, opt engine.Options) (*engine.Outlook, error) {
	opt.Report = nil
	m, err := engine.Prepare(r.stead, r.tab, opt)
	if err != nil {
		return nil, given(err)
	}
	res, err := m.Run(ctx, r.ens, opt)
	if err != nil {
		return nil, err
	}
	return res.Outlook(), nil
}

// cells are short years in 100 and, in brackets, the need met in 100.
func cells(o *engine.Outlook, ids []string) string {
	var out []string
	for _, id := range ids {
		cell := "-"
		for i := range o.Needs {
			if n := &o.Needs[i]; n.ID == id {
				cell = fmt.Sprintf("%.0f (%.1f)", 100*n.ShareShort, 100*n.Met[1])
			}
		}
		out = append(out, cell)
	}
	return strings.Join(out, " | ")
}
