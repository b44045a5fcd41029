package paper

import (
	"cmp"
	"slices"

	"evenstead/engine"
	"evenstead/larder"
	"evenstead/unit"
)

// A Shelved is a row of the store sheet, and of the page it is typed into.
type Shelved struct {
	*engine.LotNow
	BoxKg float64 // kg of food in one box
	Box   string  // what a box is, in words
}

// Shelves lists what lies in store in the order of the sheet: by place as
// described, then by name and form. Of two foods the same one always comes first,
// so that a sheet printed weeks ago is typed in from top to bottom.
func (f *Facts) Shelves() []Shelved {
	place := map[string]int{}
	for i, p := range f.Standing.Places {
		place[p.Name] = i
	}
	var out []Shelved
	for i := range f.Standing.Lots {
		l := &f.Standing.Lots[i]
		kg, word := f.box(l)
		out = append(out, Shelved{l, kg, word})
	}
	slices.SortStableFunc(out, func(a, b Shelved) int {
		return cmp.Or(cmp.Compare(place[a.Place], place[b.Place]), cmp.Compare(lotName(a.LotNow), lotName(b.LotNow)), cmp.Compare(a.Food, b.Food))
	})
	return out
}

// Name is the food with its form.
func (s *Shelved) Title() string { return lotName(s.LotNow) }

const pound = 0.45359237 // kg (NIST Handbook 44, appendix C)

// box is how much one box of a lot stands for: a jar, or a usual helping from
// the shelf. It depends on the form alone, so that it is the same on every sheet.
func (f *Facts) box(l *engine.LotNow) (kg float64, word string) {
	us := f.Units == unit.US
	switch {
	case l.Form == larder.Jarred && us:
		return larder.JarFill * 0.946, f.say("box.quart")
	case l.Form == larder.Jarred:
		return larder.JarFill, f.say("box.jar")
	case l.Form == larder.Dried && us:
		kg = pound / 2
	case l.Form == larder.Dried:
		kg = 0.25
	case (l.Form == larder.Frozen || l.Form == larder.Fermented) && us:
		kg = pound
	case l.Form == larder.Frozen || l.Form == larder.Fermented:
		kg = 0.5
	case us:
		kg = 2 * pound
	default:
		kg = 1
	}
	return kg, f.kg(kg)
}

// mostBoxes is the most boxes in a row.
const mostBoxes = 24

func (f *Facts) tally(l *engine.LotNow) Tally {
	kg, word := f.box(l)
	n := int(l.Kg/kg + 0.5)
	return Tally{Name: f.lot(l), Holds: f.kg(l.Kg), Box: f.say("box", word), Boxes: max(1, min(n, mostBoxes)), More: n > mostBoxes}
}

// store is the sheet at the larder's door.
func store(f *Facts) *Sheet {
	s := f.sheet("store")
	s.Lead, s.Rest = f.say("store.lead"), f.say("store.rest")
	var rows []Tally
	last := ""
	for _, l := range f.Shelves() {
		t := f.tally(l.LotNow)
		t.Write = true
		if l.Place != last {
			t.Place, last = upper(l.Place), l.Place
		}
		rows = append(rows, t)
	}
	if len(rows) == 0 {
		s.Rest = f.say("store.none")
	}
	s.add(Part{Tally: rows}, Part{Title: f.say("store.new"), Note: f.say("store.new.note"), Blanks: repeated("", 9)},
		Part{Title: f.say("store.care"), Lines: f.formCare(), Quoted: true})
	return s
}

func repeated(s string, n int) []string {
	out := make([]string, n)
	for i := range out {
		out[i] = s
	}
	return out
}

// formCare is what to know about each form that lies in store, once.
func (f *Facts) formCare() []Line {
	var out []Line
	for _, form := range []string{larder.Jarred, larder.Frozen, larder.Dried, larder.Fermented} {
		if !slices.ContainsFunc(f.Standing.Lots, func(l engine.LotNow) bool { return l.Form == form }) {
			continue
		}
		for i, c := range larder.Cautions(form) {
			lead := ""
			if i == 0 {
				lead = stop(upper(form))
			}
			out = append(out, Line{lead, c.Text + sourced(c.Source)})
		}
	}
	return append(out, Line{"", larder.Advice})
}

// keeping is the card that says what keeps how long, and what to look for.
func keeping(f *Facts) *Sheet {
	s := f.sheet("keeping")
	s.Lead, s.Rest = f.say("keeping.lead"), f.say("keeping.rest")
	for i := range f.Standing.Places {
		p := &f.Standing.Places[i]
		t := &Table{Head: []string{f.say("col.food"), f.say("col.holds"), f.say("col.quarter"), f.say("col.half")}, Right: []bool{false, true, false, false}}
		for j := range f.Standing.Lots { // soonest to go first
			if l := &f.Standing.Lots[j]; l.Place == p.Name {
				t.Rows = append(t.Rows, []string{f.lot(l), f.kg(l.Kg), f.orYears(l.Quarter != 0, f.date(l.Quarter)), f.orYears(l.Half != 0, f.date(l.Half))})
			}
		}
		note := f.say("keeping.place", f.warmth(p.Temp))
		if p.Hold > 0 {
			note = f.say("keeping.freezer", whole(p.Hold))
		}
		if len(t.Rows) > 0 {
			s.add(Part{Title: upper(p.Name), Note: note, Table: t})
		}
	}
	s.add(Part{Title: f.say("keeping.look"), Lines: f.looking()}, Part{Title: f.say("store.care"), Lines: f.formCare(), Quoted: true})
	return s
}

func (f *Facts) orYears(known bool, date string) string {
	if known {
		return date
	}
	return f.say("years")
}

// looking is how each kind of place is gone over.
func (f *Facts) looking() []Line {
	var out []Line
	seen := map[string]bool{}
	for _, p := range f.Standing.Places {
		kind := p.Kind
		if p.Hold > 0 {
			kind = "freezer"
		}
		if line := f.Say("paper.looking." + kind); !seen[kind] && line != "paper.looking."+kind {
			seen[kind] = true
			out = append(out, Line{f.say("place." + kind), line})
		}
	}
	return out
}
