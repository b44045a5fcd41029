package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/diet"
	"evenstead/stead"
)

// needReckoner gathers a household's need.
type needReckoner struct {
	st      *stead.Stead
	tab     *data.Tables
	today   day.Day
	entries []book.Entry
	sheet   *needSheet
	lines   [][]diet.Line // by person
	home    []float64     // share of the year at home, by person
}

func (r *needReckoner) person(i int) error {
	p := &r.st.People[i]
	who := diet.Person{Sex: p.Sex, Age: p.Age, Height: p.Height, Mass: p.Mass, Activity: p.Activity, State: p.State}
	name := p.Name
	if name == "" {
		name = fmt.Sprintf("person %d", i+1)
	}
	lines, err := diet.Lines(who, r.tab.Nutrients, r.tab.Requirements)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	out := needPerson{Name: name, Said: personWords(p), Away: r.away(p)}
	if out.Energy, err = r.energy(p, who, &out); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	for j, l := range lines {
		n := r.tab.Nutrients[j]
		out.Lines = append(out.Lines, needLine{l.Nutrient, n.Unit, known(l.Target), l.Kind, known(l.Upper), l.Scope, l.Binds, l.Source, n.Name})
	}
	r.lines = append(r.lines, lines)
	r.home = append(r.home, 1-float64(out.Away)/365)
	r.sheet.People = append(r.sheet.People, out)
	return nil
}

// known is nil for what is not.
func known(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func personWords(p *stead.Person) string {
	said := fmt.Sprintf("%s, %g years", p.Sex, p.Age)
	if p.State != "" && p.State != diet.None {
		said += ", " + p.State
	}
	return said + ", " + strings.ReplaceAll(p.Activity, "_", " ")
}

// away counts the days of the coming year that a person is off the place.
func (r *needReckoner) away(p *stead.Person) int {
	n := 0
	for d := r.today; d < r.today+365; d++ {
		off := slices.ContainsFunc(p.Away, func(a stead.Away) bool {
			for _, year := range [...]int{d.Year() - 1, d.Year()} {
				from, to := a.From.In(year), a.To.In(year)
				if to < from {
					to = a.To.In(year + 1)
				}
				if from <= d && d <= to {
					return true
				}
			}
			return false
		})
		if off {
			n++
		}
	}
	return n
}

func (r *needReckoner) energy(p *stead.Person, who diet.Person, out *needPerson) (e needEnergy, err error) {
	if e.EER2023, err = diet.EER2023(who); err != nil {
		return e, err
	}
	if e.EER2005, err = diet.EER2005(who); err != nil {
		return e, err
	}
	if e.Growth, e.Bearing, err = diet.Added(who); err != nil {
		return e, err
	}
	out.Worked, out.WorkFrom = r.work(p)
	var spells []diet.Spell
	for _, w := range out.Worked {
		spells = append(spells, diet.Spell{MET: w.MET, Hours: w.Hours})
		e.Hours += w.Hours
		e.METh += w.MET * w.Hours
		e.Work += diet.Extra(w.MET, p.Mass, w.Hours)
	}
	e.ByWork, err = diet.ByWork(who, spells)
	return e, err
}

// worklog is how many days back the book is read for work, and enough on how
// many of them someone's work must be told to stand for the rest.
const (
	worklog   = 28
	enoughLog = 8
)

// work is what a person did of late by the book, or else the hours of the
// description as general garden work.
func (r *needReckoner) work(p *stead.Person) ([]needSpell, string) {
	hours, days := map[string]float64{}, map[day.Day]bool{}
	for _, e := range r.entries {
		if e.Kind == book.Worked && e.Who == p.Name && e.Day > r.today-worklog && e.Day <= r.today {
			hours[e.Body.What] += e.Body.Amount / worklog
			days[e.Day] = true
		}
	}
	if len(days) < enoughLog {
		garden, _ := r.tab.Activity("garden")
		said := fmt.Sprintf("%g hours a week by the description, all as general garden work", p.Hours)
		if len(days) > 0 {
			said += fmt.Sprintf(" (the book tells of %s in four weeks, fewer than %d)", counted(len(days), "day", "days"), enoughLog)
		}
		return []needSpell{{"garden", p.Hours / 7, garden.MET, garden.Source}}, said
	}
	var out []needSpell
	for task, h := range hours {
		a := r.effort(task)
		out = append(out, needSpell{task, h, a.MET, a.Source})
	}
	slices.SortFunc(out, func(a, b needSpell) int { return strings.Compare(a.Task, b.Task) })
	return out, fmt.Sprintf("the book's last %d days", worklog)
}

// efforts are the book's jobs by their word in the table of efforts.
var efforts = map[string]string{
	"transplant": "plant", "sow": "plant", "picking": "pick", "pruning": "prune", "watering": "water", "reap": "farm", "thresh": "farm",
	"split_wood": "split", "firewood_trip": "stack", "hauling": "haul", "foraging": "pick", "putting up": "cook", "wash_up": "cook", "mulch": "barrow",
}

// effort is what a job of the book costs; what is in no table is garden work.
func (r *needReckoner) effort(task string) *data.Activity {
	if other, ok := efforts[task]; ok {
		task = other
	}
	if a, ok := r.tab.Activity(task); ok {
		return a
	}
	a, _ := r.tab.Activity("garden")
	return a
}

// household adds the people up, guests eating as they do, and sets against it
// what the terms let in.
func (r *needReckoner) household() {
	s := r.sheet
	for _, g := range r.st.Guests {
		s.Guests += g.PersonDays
	}
	mouth := 1 + s.Guests/365/float64(len(r.lines))
	brought, blank := r.bought()
	for j, n := range r.tab.Nutrients {
		day, year, upper := math.NaN(), math.NaN(), 0.0
		for i := range r.lines {
			l := &r.lines[i][j]
			if !math.IsNaN(l.Target) {
				day, year = more(day, l.Target*mouth), more(year, l.Target*mouth*365*r.home[i])
			}
			if !l.Binds {
				upper = math.NaN()
			}
			upper += l.Upper
		}
		t := needTotal{Nutrient: n.ID, Unit: n.Unit, Day: known(day), Year: known(year), Upper: known(upper), Blank: blank[j], name: n.Name}
		if len(s.Bought) > 0 && len(blank[j]) < len(s.Bought) {
			t.Bought, t.Share = known(brought[j]), known(brought[j]/day)
		}
		s.Household = append(s.Household, t)
	}
}

// more adds to a sum that nothing was known of before.
func more(sum, v float64) float64 {
	if math.IsNaN(sum) {
		return v
	}
	return sum + v
}

// bought is what the terms' foods bring in a day, and which of them have no
// figure for a nutrient.
func (r *needReckoner) bought() (brought []float64, blank [][]string) {
	brought, blank = make([]float64, len(r.tab.Nutrients)), make([][]string, len(r.tab.Nutrients))
	mouths := float64(len(r.st.People)) + r.sheet.Guests/365
	for _, b := range r.st.Terms.Bought {
		f, ok := r.tab.Food(b.Food)
		if !ok {
			continue
		}
		kg := b.Rate
		if b.PerPerson {
			kg *= mouths
		}
		edible := kg * (1 - f.Refuse)
		r.sheet.Bought = append(r.sheet.Bought, needBought{b.Food, f.Name, kg, edible * f.Nutrient[0]})
		for j, v := range f.Nutrient {
			if math.IsNaN(v) {
				blank[j] = append(blank[j], b.Food)
				continue
			}
			brought[j] += edible * v
		}
	}
	return brought, blank
}

// say adds sources of what is scarce, notes and cautions.
func (r *needReckoner) say() {
	s := r.sheet
	for _, c := range r.tab.Scarce {
		s.Scarce = append(s.Scarce, needScarce{c.Nutrient, c.Food, c.Amount, c.Of, c.Source, c.Note})
	}
	s.Notes = []string{
		"NASEM 2023 is the equation the outlook uses; its standard error for adults is about 340 (men) and 250 kcal (women) a day.",
		"By work is another way to the same need, not an addition to it: the inactive need, and hours of work at their effort above rest.",
		"Iodine is unknown in nearly every food: the table has it for iodised salt alone, since soil and sea decide. Unknown is not none.",
		"Vitamin D is in no plant; the target assumes little sun, and what the sun gives is not reckoned.",
		"What is bought is counted as it is bought, less its refuse and before any cooking.",
		"Upper limits that are set for supplements or made forms are shown and do not bind on whole food.",
	}
	for _, n := range s.Household {
		if len(n.Blank) > 0 && n.Bought != nil {
			s.Notes = append(s.Notes, fmt.Sprintf("Of %s there is no figure for bought %s: what it brings is not counted.", n.name, strings.ReplaceAll(strings.Join(n.Blank, ", "), "_", " ")))
		}
	}
	s.Cautions = append(s.Cautions, diet.Advice)
	for _, c := range diet.Cautions() {
		if c.Nutrient != "infant" || slices.ContainsFunc(r.st.People, func(p stead.Person) bool { return p.Age < 2 }) {
			s.Cautions = append(s.Cautions, c.Text+" ("+c.Source+")")
		}
	}
	for _, p := range r.st.People {
		if p.Age < 1 {
			s.Cautions = append(s.Cautions, p.Name+" is under one year: only energy has a target here; milk and first foods are for a clinician.")
		}
	}
}
