package book

import (
	"errors"
	"slices"
	"strings"

	"evenstead/unit"
)

// filler is a line's body while its pieces are told apart.
type filler struct {
	*line
	*Reading
	rule Rule
	err  error
}

// things fills in what, where, form and the other end; words that fit nowhere
// go to the note.
func (l *line) things(r *Reading, rule Rule) error {
	f := &filler{l, r, rule, nil}
	left := f.each(l.pieces(), f.linked)
	left = f.each(left, f.formed)
	left = f.each(left, f.known)
	left = f.each(left, f.both)
	left = f.each(left, f.guess)
	for _, p := range left {
		f.note(strings.TrimSpace(p.link + " " + p.text))
	}
	if l.one != "" {
		f.extra(Piece, l.one)
	}
	if l.note != "" {
		f.note(l.note)
	}
	f.person()
	f.keeping()
	f.empty()
	return f.err
}

// each passes over the pieces and returns those that take left alone.
func (f *filler) each(in []piece, take func(piece) bool) (left []piece) {
	for _, p := range in {
		if !take(p) {
			left = append(left, p)
		}
	}
	return left
}

// linked takes a piece whose small word the rule gives a meaning, such as "to".
func (f *filler) linked(p piece) bool {
	key := f.rule.Links[p.link]
	switch {
	case key == "" || f.Entry.Body.Extra[key] != "":
		return false
	case key == "what":
		return f.setWhat(p.text)
	case key == "from" && f.placeKnown(p.text), key == "to" && f.placeKnown(p.text):
		p.text, _ = f.exact(p.text, []Sort{Tank, Bed, Tree, Shelf, Freezer, Compost})
	}
	f.extra(key, p.text)
	return true
}

func (f *filler) extra(key, text string) {
	if f.Entry.Body.Extra == nil {
		f.Entry.Body.Extra = map[string]string{}
	}
	f.Entry.Body.Extra[key] = text
}

// formed takes a piece that only says how food is kept.
func (f *filler) formed(p piece) bool {
	form := formWords[strings.ToLower(p.text)]
	if form == "" || p.link != "" || f.Entry.Body.Form != "" || !slices.Contains(f.rule.What, Food) {
		return false
	}
	f.setForm(form)
	return true
}

func (f *filler) placeKnown(text string) bool {
	_, ok := f.exact(text, []Sort{Tank, Bed, Tree, Shelf, Freezer, Compost})
	return ok
}

// known takes a piece that names a thing or place of the rule outright.
func (f *filler) known(p piece) bool {
	b := &f.Entry.Body
	if id, ok := f.exact(p.text, f.rule.Where); ok && b.Where == "" && (p.link != "" || f.rule.First) {
		b.Where = id
		return true
	}
	if id, form, ok := f.food(p.text); ok && b.What == "" {
		b.What = id
		f.setForm(form)
		return true
	}
	if id, ok := f.exact(p.text, f.rule.Where); ok && b.Where == "" {
		b.Where = id
		return true
	}
	return false
}

// food names a thing, with a form in front of it or behind ("dried apples").
func (f *filler) food(text string) (id, form string, ok bool) {
	if id, ok = f.exact(text, f.rule.What); ok {
		return id, "", true
	}
	if short, form := cutForm(text); form != "" {
		id, ok = f.exact(short, f.rule.What)
		return id, form, ok
	}
	return "", "", false
}

var formWords = map[string]string{"fresh": "fresh", "dry": "dry", "dried": "dried", "jarred": "jarred", "canned": "jarred",
	"bottled": "jarred", "frozen": "frozen", "fermented": "fermented", "pickled": "jarred", "jar": "jarred", "jars": "jarred"}

func cutForm(text string) (short, form string) {
	w := strings.Fields(text)
	if len(w) < 2 {
		return text, ""
	}
	if form = formWords[strings.ToLower(w[0])]; form != "" {
		return strings.TrimPrefix(strings.Join(w[1:], " "), "of "), form
	}
	if form = formWords[strings.ToLower(w[len(w)-1])]; form != "" {
		return strings.Join(w[:len(w)-1], " "), form
	}
	return text, ""
}

func (f *filler) setForm(form string) {
	if form != "" {
		f.Entry.Body.Form = form
	}
}

// both parts a piece without a comma into a known thing and a known place.
func (f *filler) both(p piece) bool {
	b := &f.Entry.Body
	w := strings.Fields(p.text)
	if b.What != "" || b.Where != "" || len(w) > 12 {
		return false
	}
	for i := 1; i < len(w); i++ {
		a, z := strings.Join(w[:i], " "), strings.Join(w[i:], " ")
		if f.rule.First {
			a, z = z, a
		}
		what, form, ok := f.food(a)
		where, ok2 := f.exact(z, f.rule.Where)
		if ok && ok2 {
			b.What, b.Where = what, where
			f.setForm(form)
			return true
		}
	}
	return false
}

// guess takes the first piece left for the thing and the next for the place,
// or the other way round where the rule says so, with a question when unsure.
func (f *filler) guess(p piece) bool {
	if f.rule.First && f.setWhere(p.text) {
		return true
	}
	if p.link == "" && f.setWhat(p.text) {
		return true
	}
	return f.setWhere(p.text) || f.setWhat(p.text)
}

func (f *filler) setWhat(text string) bool {
	b := &f.Entry.Body
	if f.rule.What == nil || b.What != "" || f.optional(NeedWhat, text, f.rule.What) {
		return false
	}
	short, form := text, ""
	if slices.Contains(f.rule.What, Food) {
		short, form = cutForm(text)
	}
	b.What = f.resolved("what", short, f.rule.What)
	f.setForm(form)
	return true
}

func (f *filler) setWhere(text string) bool {
	b := &f.Entry.Body
	if f.rule.Where == nil || b.Where != "" || f.optional(NeedWhere, text, f.rule.Where) {
		return false
	}
	b.Where = f.resolved("where", text, f.rule.Where)
	return true
}

// optional reports that the words resemble no name of a part the rule can do
// without: they are then a note.
func (f *filler) optional(n Need, text string, sorts []Sort) bool {
	return !f.rule.Has(n) && f.knows(sorts) && len(f.closest(text, sorts)) == 0 && f.missing(text, sorts) == ""
}

func (f *filler) resolved(field, text string, sorts []Sort) string {
	id, q, err := f.resolve(field, text, sorts)
	f.doubt(q)
	f.err = errors.Join(f.err, err)
	return id
}

func (f *filler) note(s string) {
	e := &f.Entry
	if e.Note != "" {
		s = e.Note + "; " + s
	}
	e.Note = s
}

// person lets the one in front of the line be the thing of a note about people.
func (f *filler) person() {
	if slices.Contains(f.rule.What, Person) && f.Entry.Body.What == "" {
		f.Entry.Body.What = f.Entry.Who
	}
}

// keeping asks how food put up is kept; quarts and pints mean jars.
func (f *filler) keeping() {
	b := &f.Entry.Body
	if f.Entry.Kind != PutUp || b.Form != "" {
		return
	}
	if b.Measure == unit.Volume {
		b.Form = "jarred"
		return
	}
	f.doubt(&Doubt{"form", "how is it kept?", []string{"dried", "jarred", "frozen", "fermented", "fresh", "dry"}})
}

// empty asks about eating what should be gone.
func (f *filler) empty() {
	b := f.Entry.Body
	if n, ok := f.find(b.What, edible); ok && n.Empty && f.Entry.Kind == Eaten {
		f.doubt(&Doubt{"what", "by the reckoning no " + spoken(b.What) + " is left: was some not recorded, or is another food meant?", nil})
	}
}
