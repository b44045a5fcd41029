package web

import (
	"crypto/rand"
	"errors"
	"net/http"
	"net/url"
	"strings"

	"evenstead/book"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/unit"
)

// formView is a form with one choice and one amount, and what was typed when it
// could not be taken.
type formView struct {
	Choices []choice
	Amount  string
	Error   string
	People  []choice
}

// choice is an option of a list.
type choice struct {
	Key, Name string
	Chosen    bool
}

func (s *standing) dipForm(draft url.Values) formView {
	var f formView
	mine := draft.Get("form") == "dip"
	for _, g := range s.now.Tanks {
		f.Choices = append(f.Choices, choice{g.Name, upperFirst(g.Name), mine && draft.Get("what") == g.Name})
	}
	return s.typed(f, draft, mine)
}

func (s *standing) countForm(draft url.Values) formView {
	var f formView
	mine := draft.Get("form") == "count"
	add := func(key, name string) {
		f.Choices = append(f.Choices, choice{key, name, mine && draft.Get("what") == key})
	}
	for i := range s.now.Lots[:min(len(s.now.Lots), lotsInTable)] {
		l := &s.now.Lots[i]
		add(lotKey(l), s.words.lotName(l)+" · "+l.Place)
	}
	for _, fuel := range s.now.Fuels {
		add(fuelKey(fuel.Name), upperFirst(s.words.name("fuel", fuel.Name, fuel.Name)))
	}
	return s.typed(f, draft, mine)
}

// typed puts back what was typed, and offers who did it.
func (s *standing) typed(f formView, draft url.Values, mine bool) formView {
	if mine {
		f.Amount, f.Error = draft.Get("amount"), draft.Get("error")
	}
	who := ""
	if mine {
		who = draft.Get("who")
	}
	f.People = s.household(s.snap, who)
	return f
}

// lotKey names a lot in a form. Its parts are ids, a form and a shelf's name,
// and none of the first two holds a bar.
func lotKey(l *engine.LotNow) string { return l.Food + "|" + l.Form + "|" + l.Place }

func fuelKey(name string) string { return "fuel|" + name }

// dip writes the level of a tank as it was found.
func (s *site) dip(w http.ResponseWriter, r *http.Request) { s.writeFound(w, r, "dip") }

// count writes a shelf or a fuel as it was found.
func (s *site) count(w http.ResponseWriter, r *http.Request) { s.writeFound(w, r, "count") }

// body is what a form of the page found.
func (s *standing) body(form string, typed url.Values) (book.Body, error) {
	if form == "dip" {
		return s.dipped(typed)
	}
	return s.counted(typed)
}

func (s *standing) dipped(form url.Values) (book.Body, error) {
	b := book.Body{Where: form.Get("what"), Measure: unit.Volume}
	text := strings.TrimSpace(form.Get("amount"))
	for _, g := range s.now.Tanks {
		if g.Name != b.Where {
			continue
		}
		if share, err := s.words.parse(text, unit.Share, ""); err == nil && strings.ContainsAny(text, "%/") {
			b.Amount = share * g.Holds
			return b, nil
		}
		var err error
		b.Amount, err = s.amountOf(text, unit.Volume)
		return b, err
	}
	return b, errors.New(s.words.say("form.notank"))
}

func (s *standing) counted(form url.Values) (book.Body, error) {
	parts := strings.SplitN(form.Get("what"), "|", 3)
	b := book.Body{Measure: unit.Mass}
	switch {
	case len(parts) == 2 && parts[0] == "fuel":
		b.What = parts[1]
	case len(parts) == 3:
		b.What, b.Form, b.Where = parts[0], parts[1], parts[2]
	default:
		return b, errors.New(s.words.say("form.nolot"))
	}
	var err error
	b.Amount, err = s.amountOf(strings.TrimSpace(form.Get("amount")), unit.Mass)
	return b, err
}

// amountOf reads an amount; a bare number is in the unit that the page shows.
func (s *site) amountOf(text string, k unit.Kind) (float64, error) {
	return s.words.parse(text, k, s.usual(k))
}

// usual is the unit in which the page shows a kind of amount.
func (s *site) usual(k unit.Kind) string {
	if k == unit.Mass {
		return s.opt.measure("kg").unit
	}
	return s.opt.measure("L").unit
}

// writeFound writes what was found and leads back to the page: with the line
// that was written, or with what was typed and why it was not taken.
func (s *site) writeFound(w http.ResponseWriter, r *http.Request, form string) {
	if !s.form(w, r) {
		return
	}
	s.withStanding(w, r, func(st *standing) {
		typed := url.Values{"form": {form}, "what": {r.PostForm.Get("what")}, "amount": {r.PostForm.Get("amount")}, "who": {r.PostForm.Get("who")}}
		e, err := st.finding(form, typed, st.snap.Today)
		if err == nil {
			var id string
			if id, err = st.write(r, e); err == nil {
				s.seeOther(w, r, "/stores?wrote="+id+"#"+form)
				return
			}
		}
		typed.Set("error", sentence(err))
		s.seeOther(w, r, "/stores?draft="+s.drafts.keep(typed)+"#"+form)
	})
}

// finding is one finding of a day, checked against the stead.
func (s *standing) finding(form string, typed url.Values, on day.Day) (e book.Entry, err error) {
	e = book.Entry{Day: on, Who: s.snap.Context.Who, Kind: book.Counted}
	if form == "dip" {
		e.Kind = book.Dipped
	}
	if e.Body, err = s.body(form, typed); err != nil {
		return e, err
	}
	if who := typed.Get("who"); who != "" {
		if e.Who, err = s.snap.Context.Named(who, book.Person); err != nil {
			return e, err
		}
	}
	if e.ID, err = book.NewID(s.desk.clock(), rand.Reader); err != nil { // the writer gives its own; a check wants one
		return e, err
	}
	return e, book.Check(e, s.snap.Context)
}

// write keeps one finding; the short id comes back.
func (s *standing) write(r *http.Request, e book.Entry) (id string, err error) {
	got, err := s.desk.Home().Add(r.Context(), []book.Reading{{Line: 1, Entry: e, Sentence: e.Sentence(s.opt.Units)}})
	if err != nil {
		return "", err
	}
	s.desk.Changed()
	return hearth.Short(got[0].ID), nil
}

// sentence is an error as it stands by itself.
func sentence(err error) string {
	text := upperFirst(strings.ReplaceAll(err.Error(), "\n", "; "))
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
		text += "."
	}
	return text
}

// written says what was written a moment ago; empty when nothing was.
func (s *standing) written(short string) string {
	if len(short) < 4 {
		return ""
	}
	for i := len(s.snap.Entries) - 1; i >= 0; i-- {
		e := &s.snap.Entries[i]
		if hearth.Short(e.ID) != short {
			continue
		}
		said := s.say("form.wrote", e.Sentence(s.opt.Units)+".")
		for j := range s.snap.Past.Drifts {
			if d := &s.snap.Past.Drifts[j]; d.Entry == e.ID.String() {
				said += " " + upperFirst(s.drift(engine.Sight{Drift: d})) + "."
			}
		}
		return said
	}
	return ""
}
