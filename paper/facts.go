package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/tasks"
	"evenstead/unit"
	"evenstead/weather"
)

// Facts are what sheets are made from.
type Facts struct {
	Today, Began day.Day
	Stead        *stead.Stead
	Tables       *data.Tables
	Standing     *engine.Standing // of Past.Year
	Year         []engine.Growth  // of Past.Year
	Plan         *tasks.Plan      // PlanWeeks weeks
	Chores       *engine.Chores
	Usual        *weather.Climate
	Outlook      *engine.Outlook // nil: no cover is told
	Entries      []book.Entry    // that stand
	Cautions     []string
	Units        unit.System
	Most         int // rows of a table of beds or sowings; 0: all
	MostLabels   int // of lots; 0: all
	Say          func(key string, args ...any) string
	Tongue       Tongue
}

// A Tongue is how the language of Say writes what is not a phrase. What is nil is
// written as English does.
type Tongue struct {
	Short, Long func(day.Day) string                  // "24 May", "24 May 2027"
	Amount      func(amount string) string            // an amount of package unit
	Name        func(kind, id, english string) string // a crop, food or need
}

// PlanWeeks is how many weeks of work the sheets need: the first month and what
// is left of the fifth week.
const PlanWeeks = 5

// Sheets are the ids that Make knows, in the order in which they are shown.
func Sheets() []string {
	return []string{"week", "beds", "store", "tanks", "labels", "keeping", "helper-1", "helper-7", "helper-14", "storm", "exchange"}
}

// Make lays out a sheet. It fails on an id that Sheets has not.
func Make(id string, f *Facts) (*Sheet, error) {
	makers := map[string]func(*Facts) *Sheet{
		"week": week, "beds": beds, "store": store, "tanks": tanks, "labels": labels, "keeping": keeping,
		"helper-1":  func(f *Facts) *Sheet { return helper(f, 1) },
		"helper-7":  func(f *Facts) *Sheet { return helper(f, 7) },
		"helper-14": func(f *Facts) *Sheet { return helper(f, 14) },
		"storm":     storm, "exchange": exchange,
	}
	do, ok := makers[id]
	if !ok {
		return nil, fmt.Errorf("%q is no sheet; the sheets are %s", id, strings.Join(Sheets(), ", "))
	}
	s := do(f)
	s.ID = id
	return s, nil
}

// within cuts a list to so many, 0: all, and tells how many are left out.
func within[T any](most int, list []T) (kept []T, left int) {
	if most <= 0 || len(list) <= most {
		return list, 0
	}
	return list[:most], len(list) - most
}

// leftOut says how many are left out, and how to have them all; "" for none.
func (f *Facts) leftOut(n int) string {
	if n == 0 {
		return ""
	}
	return f.say("left", fmt.Sprint(n))
}

// sheet begins one with its title.
func (f *Facts) sheet(key string, args ...any) *Sheet {
	return &Sheet{Over: f.Stead.Name, Title: f.say(key+".title", args...), Foot: f.say("foot", f.long(f.Today))}
}

func (f *Facts) say(key string, args ...any) string { return f.Say("paper."+key, args...) }

func (f *Facts) amount(v float64, k unit.Kind) string {
	text := unit.Format(v, k, f.Units)
	if f.Tongue.Amount == nil {
		return text
	}
	return f.Tongue.Amount(text)
}

func (f *Facts) litres(v float64) string { return f.amount(v, unit.Volume) }
func (f *Facts) kg(v float64) string     { return f.amount(v, unit.Mass) }
func (f *Facts) warmth(v float64) string {
	return degrees(v, f.Units) + "\u00a0" + map[unit.System]string{unit.Metric: "°C", unit.US: "°F"}[f.Units]
}
func (f *Facts) long(d day.Day) string {
	if f.Tongue.Long == nil {
		return d.Long()
	}
	return f.Tongue.Long(d)
}

func (f *Facts) short(d day.Day) string {
	if f.Tongue.Short == nil {
		return d.Short()
	}
	return f.Tongue.Short(d)
}

// named is what a crop, a food or a need is called.
func (f *Facts) named(kind, id, english string) string {
	if f.Tongue.Name == nil {
		return english
	}
	return f.Tongue.Name(kind, id, english)
}

// unitOf is the unit in which a kind of amount is written by hand.
func (f *Facts) unitOf(k unit.Kind) string {
	if us := map[unit.Kind]string{unit.Volume: "gal", unit.Depth: "in", unit.Mass: "lb"}[k]; us != "" && f.Units == unit.US {
		return us
	}
	return unit.Symbol(k)
}

// date is a day, with its year when it is not within ten months of today.
func (f *Facts) date(d day.Day) string {
	switch away := d - f.Today; {
	case d == 0:
		return ""
	case away > 300 || away < -300:
		return f.long(d)
	}
	return f.short(d)
}

// weekday is a day of the week in three letters.
func (f *Facts) weekday(d time.Weekday) string { return f.Say(fmt.Sprintf("weekday.%d", d)) }

// whole is a number without decimals.
func whole(v float64) string { return fmt.Sprintf("%.0f", v) }

// minutes words a time: "20 min", "2.5 h".
func (f *Facts) minutes(m float64) string {
	switch {
	case m <= 0:
		return ""
	case m >= 90:
		return f.say("hours", strings.TrimSuffix(fmt.Sprintf("%.1f", m/60), ".0"))
	}
	return f.say("minutes", whole(math.Max(1, m)))
}

// listed joins names: "a, b and c"; beyond most it tells how many more.
func (f *Facts) listed(names []string, most int) string {
	if len(names) > most {
		return f.say("more", strings.Join(names[:most], ", "), fmt.Sprint(len(names)-most))
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return f.Say("list.and", strings.Join(names[:len(names)-1], ", "), names[len(names)-1])
}

func lower(s string) string {
	if len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' || s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// stop ends a sentence.
func stop(s string) string {
	if s == "" || strings.ContainsRune(".?!", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

// spoken is an id in words.
func spoken(id string) string { return strings.ReplaceAll(id, "_", " ") }

// lot is lotName in the language of Say.
func (f *Facts) lot(l *engine.LotNow) string {
	name := upper(f.named("food", l.Food, spoken(l.Name)))
	if l.Form == "fresh" || l.Form == "dry" {
		return name
	}
	return name + ", " + f.named("form", l.Form, l.Form)
}

// lotName is a food with its form, where it is not as it was picked.
func lotName(l *engine.LotNow) string {
	if l.Form == "fresh" || l.Form == "dry" {
		return upper(spoken(l.Name))
	}
	return upper(spoken(l.Name)) + ", " + l.Form
}

// gate is a published rule with its source, ready to be shown.
func (f *Facts) gate(id string) string {
	g := f.Standing.Gate(id)
	if g.Rule == "" {
		return ""
	}
	return upper(stop(g.Rule)) + " (" + g.Source + ")"
}

// cautions are those of tasks of some kinds, each once, with their sources.
func cautions(list []tasks.Task, kinds ...string) []Line {
	var out []Line
	seen := map[string]bool{}
	for i := range list {
		t := &list[i]
		if t.Caution == "" || seen[t.Caution] || len(kinds) > 0 && !slices.Contains(kinds, t.Kind) {
			continue
		}
		seen[t.Caution] = true
		title, _, _ := strings.Cut(t.Title, ":")
		out = append(out, Line{stop(title), stop(t.Caution) + sourced(t.Source)})
	}
	return out
}

func sourced(source string) string {
	if source == "" {
		return ""
	}
	return " (" + source + ")"
}

// From gathers the facts of a stead replayed to today: what its work is made from,
// the work of PlanWeeks weeks made from it, and the entries that stand.
func From(a *tasks.Ask, plan *tasks.Plan, entries []book.Entry, say func(string, ...any) string) *Facts {
	return &Facts{Today: a.Today, Began: a.Chores.Start, Stead: a.Stead, Tables: a.Tables, Standing: a.Standing, Year: a.Year, Chores: a.Chores,
		Usual: &a.Usual, Outlook: a.Outlook, Units: a.Units, Plan: plan, Entries: entries, Say: say}
}
