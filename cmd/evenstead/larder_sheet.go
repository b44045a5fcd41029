package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/hearth"
	"evenstead/larder"
	"evenstead/unit"
)

// A larderBatch is a ferment that is under way.
type larderBatch struct {
	Kind   string        `json:"kind"`
	Number string        `json:"number,omitempty"`
	What   string        `json:"what,omitempty"`
	Began  day.Day       `json:"began"`
	TempC  float64       `json:"temp_c"`
	In     []larderPart  `json:"in"`
	Stages []larderStage `json:"stages"`
	Now    int           `json:"now"`  // of Stages
	Next   *day.Day      `json:"next"` // the next stage at the earliest; null in the last
	Source string        `json:"source"`
	Care   []string      `json:"care,omitempty"`
}

type larderStage struct {
	Name string  `json:"name"`
	From day.Day `json:"from"`
	To   day.Day `json:"to"`
	Do   string  `json:"do"`
}

// A larderLabel is what stands on a lot.
type larderLabel struct {
	Number string   `json:"number"`
	What   string   `json:"what"`
	Kg     float64  `json:"kg"`
	Place  string   `json:"place"`
	Made   day.Day  `json:"made"`
	Dated  string   `json:"dated"` // what Made is: put up, counted or described
	Keep   *day.Day `json:"keep_until"`
	Care   string   `json:"care,omitempty"`
}

// batchOf fills a sheet in with dates.
func batchOf(kind string, kg, temp float64, began, today day.Day) (larderBatch, error) {
	s, err := larder.SheetOf(kind, kg, temp)
	if err != nil {
		return larderBatch{}, err
	}
	b := larderBatch{Kind: kind, Began: began, TempC: temp, Source: s.Source}
	for _, x := range s.In {
		b.In = append(b.In, larderPart(x))
	}
	for _, st := range s.Stages {
		b.Stages = append(b.Stages, larderStage{st.Name, began + day.Day(math.Ceil(st.From)), began + day.Day(math.Ceil(st.To)), st.Do})
	}
	at, _, next := s.At(float64(today - began))
	b.Now = at
	if next {
		b.Next = &b.Stages[at+1].From
	}
	for _, c := range larder.Cautions(larder.Fermented) {
		b.Care = append(b.Care, c.Text+" ("+c.Source+")")
	}
	return b, nil
}

// showSheet prints one batch sheet, which needs no stead.
func (q *lardering) showSheet(a *args) error {
	today, err := dayNamed("today", q.request.today, day.Today(time.Now()))
	if err != nil {
		return err
	}
	began, err := dayNamed("began", q.began, today)
	if err != nil {
		return err
	}
	kg, err := unit.Parse(q.amount, unit.Mass)
	if err != nil {
		return given(fmt.Errorf("--amount: %w", err))
	}
	temp, err := unit.Parse(q.temp, unit.Temperature)
	if err != nil {
		return given(fmt.Errorf("--temp: %w", err))
	}
	if began > today {
		return given(fmt.Errorf("--began %s is after %s: a sheet tells of a batch that has begun", began, today))
	}
	b, err := batchOf(q.sheet, kg, temp, began, today)
	if err != nil {
		return given(err)
	}
	if q.json {
		return writeAny(a, b)
	}
	if q.us {
		b.inUS()
	}
	p := &printer{w: a.out}
	p.batch(&b, system(q.us))
	p.section("Care", b.Care)
	return p.err
}

// recent is how many days back put up ferments are still told as batches.
const recent = 60

// batches finds the ferments of the book that are under way.
func (p *pantry) batches() {
	for _, e := range p.entries {
		if e.Kind != book.PutUp || e.Body.Form != larder.Fermented || e.Day < p.now.Today-recent || e.Day > p.now.Today || e.Body.Measure != unit.Mass {
			continue
		}
		kind := "mixed"
		switch {
		case strings.Contains(e.Body.What, "cabbage"):
			kind = "kraut"
		case strings.Contains(e.Body.What, "cucumber"):
			kind = "pickles"
		}
		temp := min(max(p.crock(), 16), 24)
		if b, err := batchOf(kind, e.Body.Amount, temp, e.Day, p.now.Today); err == nil {
			b.Number, b.What, b.Care = hearth.Short(e.ID), strings.ReplaceAll(e.Body.What, "_", " "), nil
			p.b.Batches = append(p.b.Batches, b)
		}
	}
}

// labels are one for each thing put up by the book of late, and one for each lot.
func (p *pantry) labels() {
	for _, e := range p.entries {
		if e.Kind != book.PutUp || e.Body.Form == "" || e.Day < p.now.Today-recent || e.Body.Measure != unit.Mass {
			continue
		}
		what := strings.ReplaceAll(e.Body.What, "_", " ") + ", " + e.Body.Form
		p.b.Labels = append(p.b.Labels, larderLabel{hearth.Short(e.ID), what, e.Body.Amount, e.Body.Where, e.Day, "put up", p.keepUntil(e.Body.What, e.Body.Form, e.Body.Where, e.Day), careOf(e.Body.Form)})
	}
	for _, l := range p.b.Lots {
		p.b.Labels = append(p.b.Labels, larderLabel{l.Number, strings.ReplaceAll(l.Name, "_", " ") + ", " + l.Form, l.Kg, l.Place, l.Seen, l.How, l.Quarter, careOf(l.Form)})
	}
}

// keepUntil is when a quarter of what was put up on a day is lost, in the place
// as warm as it is now and as damp as is written.
func (p *pantry) keepUntil(id, form, place string, made day.Day) *day.Day {
	f, _, _, err := p.foodNamed(id)
	if err != nil {
		return nil
	}
	for _, at := range p.now.Places {
		if at.Name != place && place != "" {
			continue
		}
		temp := at.Temp
		if form == larder.Frozen {
			temp = -18
		}
		if days := larder.LifeIn(p.r.Tables.KeepingOf(f, form), temp, at.RH); days > 0 {
			d := made + day.Day(days)
			return &d
		}
	}
	return nil
}

// careOf is the line of care on a label.
func careOf(form string) string {
	switch form {
	case larder.Jarred:
		return "Low-acid: boil 10 min before eating. Bulging, leaking or spurting: do not taste."
	case larder.Frozen:
		return "Ice left or under 4 °C: refreeze. Above it two hours: throw out."
	case larder.Fermented:
		return "Pink, slimy or furry: throw out."
	}
	return ""
}

// writeLabels prints labels with a line to cut between them.
func writeLabels(w io.Writer, b *larderBook, sys unit.System) error {
	p := &printer{w: w}
	for _, l := range b.Labels {
		p.line("%s  %s", l.Number, b.Stead)
		p.line("%s", capital(l.What))
		place := ""
		if l.Place != "" {
			place = ", " + l.Place
		}
		p.line("%s%s", plain(unit.Format(l.Kg, unit.Mass, sys)), place)
		p.line("%s %s", l.Dated, plain(l.Made.Long()))
		if l.Keep != nil {
			p.line("keeps until %s (a quarter lost)", plain(l.Keep.Long()))
		}
		if care := l.Care; care != "" {
			if sys == unit.US {
				care = fahrenheit(care)
			}
			p.line("%s", care)
		}
		p.line("- - - - - - - - - - - - - - - - - - - -")
	}
	if len(b.Labels) == 0 {
		p.line("Nothing is in store.")
	}
	return p.err
}
