package tasks

import (
	"fmt"
	"slices"
	"strings"

	"evenstead/day"
	"evenstead/engine"
)

// putUp keeps what can't be eaten in time.
func (w *maker) putUp() {
	if !w.first() {
		return
	}
	for i := range w.Chores.Gluts {
		g := &w.Chores.Gluts[i]
		if g.Short > 0 {
			w.add(Task{ID: w.weekly("glut " + g.Food), Kind: "glut", Title: "Give away or trade " + g.Name, Amount: w.kg(g.Kg), Value: g.Kg, Unit: "kg", Rank: Spoils, Minutes: 30,
				By: g.By, Why: "it can't be eaten in time, and no shelf, jar or freezer has room for it", Slip: "a quarter of it is lost by " + plain(g.By.Short()),
				Note: "gave " + noted(g.Kg, "kg") + " " + spoken(g.Food) + " to the neighbour"})
			continue
		}
		w.add(w.puttingUp(g))
	}
}

// doing words a form as work.
var doing = map[string]string{"dried": "Dry", "jarred": "Can", "frozen": "Freeze", "fermented": "Ferment", "dry": "Dry"}

func (w *maker) puttingUp(g *engine.Glut) Task {
	t := Task{ID: w.weekly("put up " + g.Food + " " + g.Form), Kind: "put-up", Title: doing[g.Form] + " " + g.Name, Value: g.Kg, Unit: "kg", Rank: Spoils, Minutes: max(20, g.Hours*60), By: min(g.By, w.to),
		Amount: fmt.Sprintf("%s, to make %s for %s", w.kg(g.Kg), w.kg(g.Makes), g.To),
		Why:    fmt.Sprintf("more lies in %s than can be eaten before a quarter is lost", g.From),
		Slip:   "a quarter of it is lost by " + plain(g.By.Short()),
		Note:   fmt.Sprintf("put up %s %s %s", noted(g.Makes, "kg"), g.Form, spoken(g.Food))}
	if len(g.Cautions) > 0 {
		t.Caution, t.Source = g.Cautions[0].Text, g.Cautions[0].Source
	}
	return t
}

// Days ahead within which a lot is to be eaten first, and how many are named.
const (
	firstDays = 21
	mostFirst = 5
)

// eatFirst names the lots that lose most soonest.
func (w *maker) eatFirst() {
	if !w.first() {
		return
	}
	var said, notes []string
	kg, by, lost := 0.0, day.Day(0), 0.0
	for i := range w.Standing.Lots {
		l := &w.Standing.Lots[i]
		if l.Quarter == 0 || l.Quarter > w.Today+firstDays || len(said) == mostFirst {
			break // lots come in the order of their quarter
		}
		said = append(said, w.kg(l.Kg)+" "+lower(l.Name))
		notes = append(notes, "ate "+noted(min(l.Kg, 1), "kg")+" "+noteForm(l.Form)+spoken(l.Food))
		kg += l.Kg
		lost += l.Kg / 4
		if by == 0 {
			by = l.Quarter
		}
	}
	if len(said) == 0 {
		return
	}
	w.add(Task{ID: w.weekly("eat first"), Kind: "eat-first", Title: "Eat first: " + strings.Join(said, ", "), Amount: w.kg(kg) + " in all", Value: kg, Unit: "kg", Rank: Spoils, By: max(by, w.from),
		Why: "a quarter of each is lost soonest of all that lies in store", Slip: fmt.Sprintf("about %s rot by %s", w.kg(lost), plain((w.Today + firstDays).Short())),
		Caution: "What is mouldy, slimy or smells wrong is thrown out untasted.", Source: "common practice", Note: strings.Join(notes, "\n")})
}

// noteForm is a form before a food in a note; fresh food needs none.
func noteForm(form string) string {
	if form == "fresh" || form == "dry" {
		return ""
	}
	return form + " "
}

// goOver is the weekly look through every store with food that rots.
func (w *maker) goOver() {
	for _, p := range w.Standing.Places {
		if p.Kg <= 0 || p.Kind == "freezer" || p.Hold > 0 || p.Kind == "jars" && !w.firstOfMonth() || p.Kind == "dry" && !w.firstOfMonth() {
			continue
		}
		t := Task{ID: w.weekly("go over " + p.Name), Kind: "go-over", Title: "Go over the " + p.Name, Rank: Loop, Minutes: 10 + p.Kg/10,
			Amount: w.kg(p.Kg), Value: p.Kg, Unit: "kg",
			Why:  fmt.Sprintf("one rotten piece takes its neighbours; it stands at about %s", w.warm(p.Temp)),
			Slip: "squash stores of households lost 6 to 25 in 100 (two household accounts)", Source: "common practice",
			Note: "note: went over the " + p.Name}
		if p.Used > p.Holds && p.Holds > 0 {
			t.Why += fmt.Sprintf("; it is overfull by %s, and food on the floor keeps worse", w.litres(p.Used-p.Holds))
		}
		switch p.Kind {
		case "jars":
			t.Title, t.Slip = "Look over the "+p.Name+": seals, lids, leaks", "a bad jar stands among the good"
			t.Caution, t.Source = "A jar that bulges, leaks, spurts or smells wrong is not opened further and never tasted.", "common practice"
		case "crocks":
			t.Title, t.Slip = "Look at the "+p.Name+": food under its brine", "what stands out of the brine moulds"
			t.Caution, t.Source = "Throw out what is pink, slimy, furry or smells foul.", "common practice"
		}
		w.add(t)
	}
}

// Days after which a store is to be counted again, and how many foods at once.
const (
	countDays = 30
	mostCount = 6
)

// count asks for the monthly count of the greatest lots.
func (w *maker) count() {
	if !w.firstOfMonth() {
		return
	}
	lots := slices.Clone(w.Standing.Lots)
	slices.SortStableFunc(lots, func(a, b engine.LotNow) int { return int((b.MJ - a.MJ) * 1000) })
	var said, notes []string
	for i := range lots {
		l := &lots[i]
		if w.from-l.Day < countDays || len(said) == mostCount {
			continue
		}
		said = append(said, lower(l.Name)+formOf(l.Form))
		notes = append(notes, "counted "+Blank+" kg "+noteForm(l.Form)+spoken(l.Food))
	}
	if len(said) == 0 {
		return
	}
	w.add(Task{ID: "count-" + w.month(), Kind: "count", Title: "Weigh or count: " + strings.Join(said, ", "), Rank: Look, Minutes: float64(6 * len(said)),
		Why: fmt.Sprintf("nobody has counted them for %d days or more, and the outlook of food hangs on them", countDays), Slip: "the outlook grows vaguer: about a tenth a month",
		Source: "common practice", Note: strings.Join(notes, "\n")})
}

func formOf(form string) string {
	if form == "fresh" || form == "dry" {
		return ""
	}
	return " (" + form + ")"
}
