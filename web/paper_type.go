package web

import (
	"crypto/rand"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"evenstead/book"
	"evenstead/day"
	"evenstead/paper"
	"evenstead/unit"
)

// typePage is the store sheet to be typed in, row by row in its own order.
type typePage struct {
	frame
	Lead, Rest string
	Said       string
	Once       string
	Day        string
	DayErr     string
	People     []choice
	Places     []typePlace
}

type typePlace struct {
	Name string
	Rows []typeRow
}

// typeRow is a food with what was struck and found.
type typeRow struct {
	N             int
	Key           string
	Name, Hint    string
	Struck, Found string
	Error         string
}

func (s *site) typeSheet(w http.ResponseWriter, r *http.Request) {
	s.withFacts(w, r, func(snap *Snapshot, f *paper.Facts) {
		q := r.URL.Query()
		draft := s.drafts.find(q.Get("draft"))
		page := typePage{frame: s.deskFrame(snap, ""), Lead: s.words.say("paper.type.lead"), Rest: s.words.say("paper.type.rest"), Once: rand.Text(),
			Day: snap.Today.String(), People: s.household(snap, draft.Get("who"))}
		page.Title, page.Year = s.words.say("paper.type.title"), ""
		if draft != nil {
			page.Day, page.DayErr = draft.Get("day"), draft.Get("dayerr")
			page.Lead, page.Rest = s.words.say("paper.type.wrong.lead", draft.Get("wrong")), s.words.say("paper.type.wrong.rest")
		}
		if n, err := strconv.Atoi(q.Get("wrote")); err == nil && n >= 0 {
			page.Said = s.words.say("paper.type.wrote", count(n))
			if n == 0 {
				page.Said = s.words.say("paper.type.nothing")
			}
		}
		page.Places = s.typeRows(f, draft)
		if len(page.Places) == 0 {
			page.Lead, page.Rest = s.words.say("paper.type.none"), ""
		}
		s.render(w, http.StatusOK, "typesheet", page)
	})
}

// typeRows are the rows of the store sheet by place, with what was typed before.
func (s *site) typeRows(f *paper.Facts, draft url.Values) (out []typePlace) {
	for i, l := range f.Shelves() {
		if n := len(out); n == 0 || out[n-1].Name != upperFirst(l.Place) {
			out = append(out, typePlace{Name: upperFirst(l.Place)})
		}
		key := lotKey(l.LotNow)
		row := typeRow{N: i, Key: key, Name: s.words.lotName(l.LotNow), Hint: s.words.say("paper.type.box", l.Box, s.opt.amount(l.Kg, "kg"))}
		row.Struck, row.Found, row.Error = draft.Get("s|"+key), draft.Get("f|"+key), draft.Get("e|"+key)
		at := &out[len(out)-1]
		at.Rows = append(at.Rows, row)
	}
	return out
}

// postSheet writes a filled sheet, all of it or nothing: what was struck as eaten,
// then what was found.
func (s *site) postSheet(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	s.withFacts(w, r, func(snap *Snapshot, f *paper.Facts) {
		t := &typing{site: s, snap: snap, kept: url.Values{}, form: r.PostForm}
		t.read(f)
		switch {
		case t.wrong > 0 || t.kept.Get("dayerr") != "":
			t.kept.Set("wrong", count(max(1, t.wrong)))
			s.seeOther(w, r, "/paper/store/type?draft="+s.drafts.keep(t.kept))
			return
		case len(t.lines) == 0:
			s.seeOther(w, r, "/paper/store/type?wrote=0")
			return
		case !s.spent.first(r.PostForm.Get("once") + "\n" + r.PostForm.Encode()): // sent twice
			s.seeOther(w, r, "/paper/store/type")
			return
		}
		got, err := s.desk.Home().Add(r.Context(), t.lines)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		s.desk.Changed()
		s.seeOther(w, r, "/paper/store/type?wrote="+strconv.Itoa(len(got)))
	})
}

// typing is a posted sheet being read.
type typing struct {
	*site
	snap  *Snapshot
	form  url.Values
	kept  url.Values // what was typed, and what is wrong with it
	lines []book.Reading
	found []book.Reading
	wrong int
}

// mostStruck is the most boxes of a row that a sheet can hold.
const mostStruck = 99

func (t *typing) read(f *paper.Facts) {
	on := t.snap.Today
	t.kept.Set("day", typedLine(t.form.Get("day")))
	t.kept.Set("who", typedLine(t.form.Get("who")))
	if d, err := day.Parse(t.kept.Get("day")); err != nil {
		t.kept.Set("dayerr", sentence(err))
	} else {
		on = d
	}
	who := t.snap.Context.Who
	if name := t.kept.Get("who"); name != "" {
		if named, err := t.snap.Context.Named(name, book.Person); err == nil {
			who = named
		}
	}
	for i, key := range t.form["key"] {
		struck, found := cell(t.form, fmt.Sprintf("s.%d", i)), cell(t.form, fmt.Sprintf("f.%d", i))
		if struck == "" && found == "" {
			continue
		}
		t.kept.Set("s|"+key, struck)
		t.kept.Set("f|"+key, found)
		if err := t.row(f, key, struck, found, book.Entry{Day: on, Who: who}); err != nil {
			t.wrong++
			t.kept.Set("e|"+key, sentence(err))
		}
	}
	t.lines = append(t.lines, t.found...)
}

func cell(form url.Values, name string) string { return typedLine(form.Get(name)) }

// row reads one row: boxes struck, and the amount found.
func (t *typing) row(f *paper.Facts, key, struck, found string, e book.Entry) error {
	l := shelfOf(f, key)
	if l == nil {
		return errors.New(t.words.say("paper.type.stale", strings.ReplaceAll(key, "|", ", ")))
	}
	e.Body = book.Body{What: l.Food, Form: l.Form, Where: l.Place, Measure: unit.Mass}
	if struck != "" {
		n, err := strconv.Atoi(struck)
		switch {
		case err != nil || n < 0:
			return errors.New(struck + ": " + t.words.say("paper.type.whole"))
		case n > mostStruck:
			return errors.New(struck + " " + t.words.say("paper.type.toomany"))
		}
		if n > 0 {
			eaten := e
			eaten.Kind, eaten.Body.Amount = book.Eaten, float64(n)*l.BoxKg
			if err := t.take(&t.lines, eaten); err != nil {
				return err
			}
		}
	}
	if found == "" {
		return nil
	}
	kg, err := t.amountOf(found, unit.Mass)
	if err != nil {
		return err
	}
	e.Kind, e.Body.Amount = book.Counted, kg
	return t.take(&t.found, e)
}

// take checks an entry against the stead and puts it on a list.
func (t *typing) take(list *[]book.Reading, e book.Entry) error {
	id, err := book.NewID(t.desk.clock(), rand.Reader) // Home.Add gives its own; a check wants one
	if err != nil {
		return err
	}
	e.ID = id
	if err := book.Check(e, t.snap.Context); err != nil {
		return err
	}
	*list = append(*list, book.Reading{Line: len(*list) + 1, Entry: e, Sentence: e.Sentence(t.opt.Units)})
	return nil
}

func shelfOf(f *paper.Facts, key string) *paper.Shelved {
	for _, l := range f.Shelves() {
		if lotKey(l.LotNow) == key {
			return &l
		}
	}
	return nil
}

// thingPage is what a label's code opens: a lot or a drum.
type thingPage struct {
	frame
	Lead, Rest string
	Card       *card
	Key        string // of a lot, for the form that counts it
	Ways       []sheetWay
}

// lot is the page of a lot, by the number on its label.
func (s *site) lot(w http.ResponseWriter, r *http.Request) {
	s.withFacts(w, r, func(snap *Snapshot, f *paper.Facts) {
		page := thingPage{frame: s.deskFrame(snap, "stores"), Lead: s.words.say("paper.lot.gone"), Rest: s.words.say("paper.lot.gone.rest")}
		status := http.StatusNotFound
		if l := f.Lot(strings.ToUpper(r.PathValue("number"))); l != nil {
			status = http.StatusOK
			page.Lead, page.Rest = stopped(s.words.lotName(l.LotNow)), s.words.say("paper.lot.rest", s.opt.amount(l.Kg, "kg"), l.Place)
			page.Card, page.Key = &card{Label: f.LabelOf(l)}, lotKey(l.LotNow)
			form := l.Form + " "
			if l.Form == "fresh" || l.Form == "dry" {
				form = ""
			}
			note := s.words.say("paper.lot.note", form+strings.ReplaceAll(l.Food, "_", " "))
			page.Ways = append(page.Ways, sheetWay{Path: "/?note=" + url.QueryEscape(note) + "#note", Name: s.words.say("paper.lot.eaten")})
		}
		page.Title = s.words.say("paper.sheet.labels")
		page.Ways = append(page.Ways, sheetWay{Path: "/stores#larder", Name: s.words.say("paper.lot.ways")})
		s.render(w, status, "thing", page)
	})
}

// drum is the page of a drum, by its number.
func (s *site) drum(w http.ResponseWriter, r *http.Request) {
	s.withFacts(w, r, func(snap *Snapshot, f *paper.Facts) {
		page := thingPage{frame: s.deskFrame(snap, "stores"), Lead: s.words.say("paper.drumpage.gone"), Rest: s.words.say("paper.drumpage.gone.rest")}
		status := http.StatusNotFound
		n, err := strconv.Atoi(r.PathValue("number"))
		if l, ok := f.DrumLabel(n); err == nil && ok {
			status = http.StatusOK
			page.Lead, page.Rest = stopped(l.What), strings.Join(l.Facts[:1], "")+"."
			page.Card = &card{Label: l}
		}
		page.Title = s.words.say("paper.sheet.labels")
		page.Ways = append(page.Ways, sheetWay{Path: "/stores#drums", Name: s.words.say("paper.drumpage.way")})
		s.render(w, status, "thing", page)
	})
}

func stopped(text string) string { return text + "." }
