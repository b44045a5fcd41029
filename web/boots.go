package web

import (
	"crypto/rand"
	"errors"
	"io"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/book"
	"evenstead/day"
	"evenstead/device"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
)

// A bootsVerb is a kind of entry that is made by tap.
type bootsVerb struct {
	key     string
	kind    book.Kind
	measure unit.Kind
	metric  bootsUnit
	us      bootsUnit
}

// bootsUnit is a unit with the amounts that a tap adds, each with its word where
// that is not the amount itself.
type bootsUnit struct {
	unit  string
	steps []float64
	words []string
}

// bootsVerbs are those of most days; the rest goes in words.
var bootsVerbs = []bootsVerb{
	{"picked", book.Picked, unit.Mass, bootsUnit{"kg", []float64{0.1, 0.5, 1}, []string{"100 g", "500 g", "1 kg"}}, bootsUnit{"lb", []float64{0.25, 1, 5}, []string{"4 oz", "1 lb", "5 lb"}}},
	{"watered", book.Watered, unit.Volume, bootsUnit{"L", []float64{5, 10, 50}, nil}, bootsUnit{"gal", []float64{1, 3, 10}, nil}},
	{"dipped", book.Dipped, unit.Volume, bootsUnit{"L", []float64{10, 100, 1000}, nil}, bootsUnit{"gal", []float64{5, 25, 250}, nil}},
	{"rain", book.Rain, unit.Depth, bootsUnit{"mm", []float64{1, 5, 10}, nil}, bootsUnit{"in", []float64{0.1, 0.5, 1}, nil}},
	{"ate", book.Eaten, unit.Mass, bootsUnit{"kg", []float64{0.1, 0.5, 1}, []string{"100 g", "500 g", "1 kg"}}, bootsUnit{"lb", []float64{0.25, 1, 5}, []string{"4 oz", "1 lb", "5 lb"}}},
	{"worked", book.Worked, unit.Time, bootsUnit{"h", []float64{0.25, 0.5, 1}, []string{"15 min", "30 min", "1 h"}}, bootsUnit{"h", []float64{0.25, 0.5, 1}, []string{"15 min", "30 min", "1 h"}}},
}

// inWords is the verb of what is written or spoken.
const inWords = "other"

func (v *bootsVerb) in(s unit.System) bootsUnit {
	if s == unit.US {
		return v.us
	}
	return v.metric
}

// bootsPage is the page for muddy hands.
type bootsPage struct {
	frame
	Lead, Rest string
	Way, Word  string // to the page it came from
	Verbs      []bootsPart
	Text       string
	Chosen     bool // the words are
	People     []choice
	Once       string
	Point      string // the decimal mark
	Wrote      string
	Error      string
}

// bootsPart is a verb with its things and amounts.
type bootsPart struct {
	Key, Name, Say string
	Chosen         bool
	Things         []bootsThing
	Amount, Unit   string
	Steps          []bootsStep
}

// bootsThing is what was done to, last used first.
type bootsThing struct {
	Key, Name, At, Say string
	Chosen             bool
}

// bootsStep is an amount that a tap adds.
type bootsStep struct{ Add, Word string }

// Things offered of a verb: of the book, and in all.
const (
	mostRecent = 4
	mostThings = 6
)

func (s *site) boots(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		form := r.URL.Query()
		draft := s.drafts.find(form.Get("draft"))
		if draft != nil {
			form = draft
		}
		form = s.words.addedTo(form)
		page := bootsPage{frame: s.deskFrame(snap, ""), Way: s.home(), Word: s.words.say("screen.now"), Text: form.Get("text"), Once: rand.Text(), Point: string(s.words.marks().Point)}
		if s.role < device.Household {
			page.Way, page.Word = "/week", s.words.say("boots.week")
		}
		page.Title, page.Screens, page.Boots, page.Year, page.Almanac = s.words.say("boots.title"), nil, false, "", ""
		page.Lead, page.Rest = s.words.say("boots.lead"), s.words.say("boots.rest")
		if len(page.Text) > mostNote {
			page.Text = ""
		}
		page.Verbs = s.bootsParts(snap, form)
		if page.Chosen = form.Get("do") == inWords || form.Get("do") == "" && page.Text != ""; page.Chosen {
			for i := range page.Verbs {
				page.Verbs[i].Chosen = false
			}
		}
		page.People = s.household(snap, form.Get("who"))
		page.Error, page.Wrote = draft.Get("error"), s.bootsSaid(snap, r.URL.Query())
		s.render(w, http.StatusOK, "boots", page)
	})
}

// addedTo is a form with the amount of the button that was pressed put to it: "add"
// is "picked:0.5", and "picked:" begins anew. What can't be added to stays as it was
// typed.
func (w words) addedTo(form url.Values) url.Values {
	verb, step, ok := strings.Cut(form.Get("add"), ":")
	if !ok {
		return form
	}
	out := url.Values{}
	for k, v := range form {
		out[k] = v
	}
	field := "amount." + verb
	add, err := strconv.ParseFloat(step, 64)
	had, unread := 0.0, error(nil)
	if typed := strings.TrimSpace(form.Get(field)); typed != "" {
		had, unread = w.parse(typed, unit.Number, "")
	}
	out.Set("do", verb)
	switch {
	case err != nil:
		out.Set(field, "")
	case unread == nil && math.Abs(had+add) < 1e9:
		out.Set(field, w.asTyped(strconv.FormatFloat(math.Round((had+add)*1e4)/1e4, 'f', -1, 64)))
	}
	return out
}

// bootsSaid says what a form has just written.
func (s *site) bootsSaid(snap *Snapshot, q url.Values) string {
	if q.Get("gone") != "" {
		return s.words.say("note.gone")
	}
	if e := snap.entry(q.Get("did")); e != nil {
		return s.words.say("form.wrote", e.Sentence(s.opt.Units)+".")
	}
	n, err := strconv.Atoi(q.Get("wrote"))
	switch {
	case err != nil || n < 1:
		return ""
	case n == 1:
		return s.words.say("note.wrote.one")
	}
	return s.words.say("note.wrote", count(n))
}

func (s *site) bootsParts(snap *Snapshot, form url.Values) (list []bootsPart) {
	chosen := form.Get("do")
	if !slices.ContainsFunc(bootsVerbs, func(v bootsVerb) bool { return v.key == chosen }) {
		chosen = s.lastVerb(snap)
	}
	for i := range bootsVerbs {
		v := &bootsVerbs[i]
		in := v.in(s.opt.Units)
		p := bootsPart{Key: v.key, Name: s.words.say("boots." + v.key), Say: s.words.say("boots.say." + v.key), Chosen: v.key == chosen, Unit: in.unit, Amount: shorten(form.Get("amount."+v.key), 40)}
		for j, step := range in.steps {
			word := s.words.figure(step) + nbsp + in.unit
			if in.words != nil {
				word = strings.ReplaceAll(in.words[j], " ", nbsp)
			}
			p.Steps = append(p.Steps, bootsStep{figure(step), "+" + word})
		}
		p.Things = s.bootsThings(snap, v, form.Get("thing."+v.key))
		list = append(list, p)
	}
	return list
}

// lastVerb is the verb of the newest entry that one of them made.
func (s *site) lastVerb(snap *Snapshot) string {
	for i := len(snap.Entries) - 1; i >= 0; i-- {
		for j := range bootsVerbs {
			if bootsVerbs[j].kind == snap.Entries[i].Kind {
				return bootsVerbs[j].key
			}
		}
	}
	return bootsVerbs[0].key
}

// bootsThings are the things of a verb: those of the book, last used first, then
// those of the stead. A verb without things has none.
func (s *site) bootsThings(snap *Snapshot, v *bootsVerb, chosen string) (list []bootsThing) {
	add := func(b book.Body, most int) {
		t := s.bootsThing(snap, v, b)
		if len(list) < most && strings.Count(t.Key, "|") == 3 && !slices.ContainsFunc(list, func(o bootsThing) bool { return o.Key == t.Key }) {
			list = append(list, t)
		}
	}
	if v.kind == book.Rain {
		return nil
	}
	for i := len(snap.Entries) - 1; i >= 0 && len(list) < mostRecent; i-- {
		if e := &snap.Entries[i]; e.Kind == v.kind {
			add(e.Body, mostRecent)
		}
	}
	for _, b := range s.bootsUsual(snap, v.kind) {
		add(b, mostThings)
	}
	for i := range list {
		list[i].Chosen = list[i].Key == chosen
	}
	if len(list) > 0 && !slices.ContainsFunc(list, func(t bootsThing) bool { return t.Chosen }) {
		list[0].Chosen = true
	}
	return list
}

// bootsUsual are the things of a kind that the stead offers.
func (s *site) bootsUsual(snap *Snapshot, kind book.Kind) (list []book.Body) {
	switch kind {
	case book.Picked:
		return pickable(snap.Stead)
	case book.Watered:
		for _, b := range snap.Stead.Beds {
			list = append(list, book.Body{Where: b.Name})
		}
	case book.Dipped:
		for _, g := range snap.Stead.Groups() {
			list = append(list, book.Body{Where: g.Name})
		}
	case book.Eaten:
		if snap.Past != nil {
			for _, l := range snap.Past.Standing().Lots {
				list = append(list, book.Body{What: l.Food, Form: l.Form, Where: l.Place})
			}
		}
	case book.Worked:
		for task := range strings.SplitSeq(s.words.say("boots.tasks"), ",") {
			list = append(list, book.Body{What: strings.TrimSpace(task)})
		}
	}
	return list
}

// pickable are the crops of a stead where they stand: each once, then those that
// stand in several beds.
func pickable(st *stead.Stead) (list []book.Body) {
	var more []book.Body
	add := func(crop, where string) {
		b := book.Body{What: crop, Where: where}
		if slices.ContainsFunc(list, func(o book.Body) bool { return o.What == crop }) {
			more = append(more, b)
			return
		}
		list = append(list, b)
	}
	for _, p := range st.Plantings {
		add(p.Crop, p.Bed)
	}
	for _, t := range st.Trees {
		add(t.Crop, t.Name)
	}
	return append(list, more...)
}

// bootsThing names a thing; its key holds what, form, from and where.
func (s *site) bootsThing(snap *Snapshot, v *bootsVerb, b book.Body) bootsThing {
	from := ""
	if v.kind == book.Watered {
		from = b.Extra["from"]
	}
	t := bootsThing{Key: b.What + "|" + b.Form + "|" + from + "|" + b.Where}
	what := s.thingName(snap, b.What)
	if b.Form != "" && b.Form != "fresh" && b.Form != "dry" {
		what = b.Form + " " + what
	}
	rule, _ := book.RuleOf(v.kind)
	switch {
	case what == "":
		t.Name, t.Say = upperFirst(b.Where), b.Where
	case b.Where == "":
		t.Name, t.Say = upperFirst(what), what
	default:
		t.Name, t.At, t.Say = upperFirst(what), b.Where, what+" "+rule.At+" "+b.Where
	}
	if from != "" {
		t.At = s.words.say("boots.from", from)
		t.Say += " " + lowerFirst(t.At)
	}
	return t
}

// thingName is a crop or food as its table calls it.
func (s *site) thingName(snap *Snapshot, id string) string {
	if snap.Tables != nil {
		if c, ok := snap.Tables.Crop(id); ok {
			return lowerFirst(s.words.crop(id, c.Name))
		}
	}
	return s.words.food(id, strings.ReplaceAll(id, "_", " "))
}

// What may be missing.
var (
	errNoThing  = errors.New("choose what it was")
	errNoAmount = errors.New("say how much")
)

// bootsEntry is the entry that taps have made, of a day.
func (s *site) bootsEntry(snap *Snapshot, form url.Values, on day.Day) (e book.Entry, err error) {
	at := slices.IndexFunc(bootsVerbs, func(v bootsVerb) bool { return v.key == form.Get("do") })
	if at < 0 {
		return e, errors.New("choose what was done")
	}
	v := &bootsVerbs[at]
	e = book.Entry{Day: on, Who: snap.Context.Who, Kind: v.kind}
	if v.kind != book.Rain {
		parts := strings.SplitN(form.Get("thing."+v.key), "|", 4)
		if len(parts) != 4 {
			return e, errNoThing
		}
		e.Body = book.Body{What: parts[0], Form: parts[1], Where: parts[3]}
		if parts[2] != "" {
			e.Body.Extra = map[string]string{"from": parts[2]}
		}
	}
	text := strings.TrimSpace(form.Get("amount." + v.key))
	if text == "" {
		return e, errNoAmount
	}
	e.Body.Measure = v.measure
	if e.Body.Amount, err = s.words.parse(text, v.measure, v.in(s.opt.Units).unit); err != nil {
		return e, err
	}
	if who := form.Get("who"); who != "" {
		if e.Who, err = snap.Context.Named(who, book.Person); err != nil {
			return e, err
		}
	}
	if e.ID, err = book.NewID(s.desk.clock(), rand.Reader); err != nil { // the writer gives its own; a check wants one
		return e, err
	}
	return e, book.Check(e, snap.Context)
}

// postBoots writes what was tapped, or has what was said read back.
func (s *site) postBoots(w http.ResponseWriter, r *http.Request) {
	form, file, ok := s.bootsForm(w, r)
	if !ok {
		return
	}
	s.withDesk(w, r, func(snap *Snapshot) {
		if form.Get("do") == inWords {
			s.keepNote(w, r, form, "/boots")
			return
		}
		e, err := s.bootsEntry(snap, form, snap.Today)
		if err == nil && len(file) > 0 {
			err = hearth.CheckPhoto(file)
		}
		if err == nil && !s.spent.first(form.Encode()) {
			s.seeOther(w, r, "/boots?do="+url.QueryEscape(form.Get("do")))
			return
		}
		var got []book.Entry
		if err == nil {
			got, err = s.desk.home.Add(r.Context(), []book.Reading{{Line: 1, Entry: e}})
		}
		if err == nil && len(file) > 0 {
			err = s.desk.home.AddPhoto(r.Context(), got[0].ID, file)
		}
		s.desk.Changed()
		if err != nil {
			form.Set("error", sentence(err))
			s.seeOther(w, r, "/boots?draft="+s.drafts.keep(form))
			return
		}
		back := url.Values{"do": form["do"], "thing." + form.Get("do"): form["thing."+form.Get("do")], "who": form["who"], "did": {got[0].ID.String()}}
		s.seeOther(w, r, "/boots?"+back.Encode())
	})
}

// mostBoots is the most bytes of the form: a photo and what stands around it.
const mostBoots = 5 << 20

// bootsForm reads the form, with its photo when it has one; it answers itself when
// it can't.
func (s *site) bootsForm(w http.ResponseWriter, r *http.Request) (form url.Values, file []byte, ok bool) {
	if !strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		if !s.form(w, r) {
			return nil, nil, false
		}
		return clipped(r.PostForm), nil, true
	}
	r.Body = http.MaxBytesReader(w, r.Body, mostBoots)
	parts, err := r.MultipartReader()
	form = url.Values{}
	for n := 0; err == nil && n < 100; n++ {
		p, next := parts.NextPart()
		if errors.Is(next, io.EOF) {
			return clipped(form), file, true
		}
		if err = next; err != nil {
			break
		}
		var b []byte
		if b, err = io.ReadAll(p); p.FormName() == "photo" {
			file = b
		} else if len(b) <= mostNote {
			form.Add(p.FormName(), string(b))
		}
	}
	status := http.StatusBadRequest
	if large := (*http.MaxBytesError)(nil); errors.As(err, &large) {
		status = http.StatusRequestEntityTooLarge
	}
	s.sayRefused(w, status)
	return nil, nil, false
}

// clipped is a form with what is typed fit to be kept.
func clipped(form url.Values) url.Values {
	out := url.Values{}
	for k, v := range form {
		if len(k) > 40 || len(v) == 0 || len(v[0]) > mostNote {
			continue
		}
		if out.Set(k, typedLine(v[0])); k == "text" {
			out.Set(k, typedText(v[0]))
		}
	}
	return out
}
