package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"
	"unicode/utf8"

	"evenstead/day"
	"evenstead/stead"
	"evenstead/tasks"
)

// wallWidth is the widest line of a wall week, for paper.
const wallWidth = 80

// writeWall prints the weeks with boxes to tick.
func writeWall(w io.Writer, plan *tasks.Plan) error {
	p := &wall{printer{w: w}}
	for i := range plan.Weeks {
		if i > 0 {
			p.line("\f")
		}
		p.week(plan, &plan.Weeks[i])
	}
	p.line("")
	for _, s := range plan.Watch {
		p.block("! ", watchWords(s))
	}
	for _, s := range plan.Unknown {
		p.block("* ", s)
	}
	p.block("* ", "Lines after book: are quick notes, to be saved with evenstead note, the amounts put right. Local codes and licensed practice come before every caution here.")
	return p.err
}

// wall is a printer for paper.
type wall struct{ printer }

func (p *wall) week(plan *tasks.Plan, w *tasks.Week) {
	p.line("%s", strings.Repeat("=", wallWidth))
	p.block("", fmt.Sprintf("%s: the week from %s to %s", strings.ToUpper(plan.Stead), onDay(w.From), onDay(w.To)))
	p.block("", w.Said)
	p.line("%s", strings.Repeat("=", wallWidth))
	p.line("")
	p.line("EVERY DAY %s", dayBoxes(w.From, "", true))
	for i := range w.Tasks {
		if t := &w.Tasks[i]; t.Daily {
			p.daily(w, t)
		}
	}
	last := day.Day(0)
	for i := range w.Tasks {
		t := &w.Tasks[i]
		if t.Daily {
			continue
		}
		if by := t.By; by != last {
			last = by
			p.line("")
			p.line("BY %s", strings.ToUpper(onDay(by)))
		}
		p.task(t)
	}
}

// onDay is a date with its day of the week.
func onDay(d day.Day) string { return d.Time().Weekday().String() + " " + plain(d.Short()) }

// dayBoxes are seven boxes, or the letters that stand over them, at the right.
func dayBoxes(from day.Day, title string, letters bool) string {
	var b strings.Builder
	for i := range 7 {
		if letters {
			fmt.Fprintf(&b, " %s ", from.Time().Add(time.Duration(i) * 24 * time.Hour).Weekday().String()[:2])
			continue
		}
		b.WriteString(" [ ]")
	}
	room := wallWidth - 28
	if letters {
		return strings.Repeat(" ", room-len("EVERY DAY ")) + strings.TrimRight(b.String(), " ")
	}
	return title + strings.Repeat(" ", max(0, room-utf8.RuneCountInString(title))) + b.String()
}

func (p *wall) daily(w *tasks.Week, t *tasks.Task) {
	title := t.Title + mark(t)
	if utf8.RuneCountInString(title) > wallWidth-30 {
		p.block("", title)
		title = ""
	}
	p.line("%s", strings.TrimRight(dayBoxes(w.From, title, false), " "))
	p.body(t)
}

func (p *wall) task(t *tasks.Task) {
	p.block("[ ] ", t.Title+mark(t)+minutes(t.Minutes))
	p.body(t)
}

// mark tells a task that does not fit.
func mark(t *tasks.Task) string {
	switch {
	case t.Drop:
		return " (drop)"
	case t.Cut > 0:
		return fmt.Sprintf(" (cut from %.0f h)", (t.Cut+t.Minutes)/60)
	}
	return ""
}

// minutes tells how long a task takes, after its title; nothing for one that
// takes no time of its own.
func minutes(m float64) string {
	switch {
	case m <= 0:
		return ""
	case m >= 90:
		return fmt.Sprintf(", %.1f h", m/60)
	}
	return fmt.Sprintf(", %.0f min", max(1, m))
}

func (p *wall) body(t *tasks.Task) {
	if t.Amount != "" {
		p.block("      ", t.Amount+".")
	}
	p.block("      why:  ", t.Why+".")
	p.block("      slip: ", t.Slip+".")
	if t.Caution != "" {
		p.block("      care: ", strings.TrimSuffix(t.Caution, ".")+" ("+t.Source+").")
	}
	for line := range strings.Lines(t.Note) {
		p.block("      book: ", strings.ReplaceAll(line, tasks.Blank, "______"))
	}
}

// block prints text with a lead, no line wider than the paper; a word that is
// wider by itself is cut.
func (p *wall) block(lead, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	row, empty := lead, true
	for _, word := range strings.Fields(plain(text)) {
		if utf8.RuneCountInString(row)+1+utf8.RuneCountInString(word) > wallWidth && !empty {
			p.line("%s", row)
			row, empty = indent, true
		}
		if !empty {
			row += " "
		}
		row, empty = row+word, false
	}
	if !empty {
		p.line("%s", row)
	}
}

func watchWords(w tasks.Watch) string {
	if w.First == nil {
		return w.Need + ": may run short."
	}
	if w.Tag == "short" {
		return fmt.Sprintf("%s: short about %s in the middle of the years that fall short. Spare now.", w.Need, plain(w.First.Short()))
	}
	return fmt.Sprintf("%s: short about %s in the middle of the years that fall short. Watch it.", w.Need, plain(w.First.Short()))
}

func dirOf(name string) string { return filepath.Dir(name) }

// stayFrom is the first day of the stay that a description names; 0 for none.
func stayFrom(name string, text []byte) (day.Day, error) {
	st, err := stead.Read(name, text)
	if err != nil {
		return 0, given(err)
	}
	return st.Stay.From, nil
}
