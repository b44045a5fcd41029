package web

import (
	"html/template"
	"math"
	"net/http"
	"strconv"

	"evenstead/engine"
)

// Bounds that keep the screen under 100 KB however much there is; the CSV has all.
const (
	lotsDrawn   = 24
	lotsInTable = 120
	groupsDrawn = 8
	drumsDrawn  = 24
)

// eatFirst is within how many days of losing a quarter a lot is to be eaten first.
const eatFirst = 14

// shelvesPage is the screen "Stores" over a household's own stead.
type shelvesPage struct {
	frame
	Lead, Rest string
	Wrote      string
	Rain       string
	Tanks      []tankView
	Dip, Count formView
	LarderNote string
	CoverAxis  template.HTML
	Lots       []lotView
	AllLots    []lotRow
	MoreLots   string
	Places     []roomView
	Drums      []drumView
	DrumAxis   template.HTML
	DrumNote   string
	Gate       *gateView
	Cover      string
	DrumTo     *deedGate // where what was in a drum may go
	Grey       *deedGate // where washing water may go
	Held       []heldLine
	Others     []otherRow
	Rings      []ringRow
	RingsOf    string
}

// tankView is a group of tanks: its words and its elevation.
type tankView struct {
	Name, Now, Found, Drift, Likely string
	Use, Caught                     string
	Draw                            template.HTML
	Rows                            []tankRow
}

type tankRow struct{ Name, Now, Share string }

// lotView is a food on its shelf: a ribbon that thins as it goes.
type lotView struct {
	Name, Kg, First string
	Ribbon          template.HTML
	Gone            string
}

type lotRow struct{ Name, Place, Now, MJ, Aged, Quarter, Half, Found, Drift string }

type roomView struct {
	Name, Now, Note string
	Bar             template.HTML
}

type drumView struct {
	Name, State, Opens string
	Draw               template.HTML
}

// gateView is a thing that stays shut, and the way to write that it was opened.
type gateView struct{ Lead, After, Rule, Source, Way string }

// otherRow is a store told in words: compost, digester, fuels, urine.
type otherRow struct {
	Hue, Glyph, Group, Name, Now, More, Found string

	Gate  *deedGate // where what lies in it may go today
	Lines []string
}

// shelves is the screen "Stores" at a desk.
func (s *site) shelves(w http.ResponseWriter, r *http.Request) {
	s.withStanding(w, r, func(st *standing) {
		q := r.URL.Query()
		draft := s.drafts.find(q.Get("draft"))
		page := shelvesPage{frame: s.deskFrame(st.snap, "stores"), Wrote: st.written(q.Get("wrote"))}
		page.Lead, page.Rest = st.storesVerdict()
		page.Rain = st.rainLine()
		page.Tanks = st.tankViews()
		page.Dip, page.Count = st.dipForm(draft), st.countForm(draft)
		st.larder(&page)
		st.drums(&page)
		page.Others = st.others()
		page.Grey, page.Held = st.gateOf("washing water"), st.held()
		if page.Rings = st.loopRows(); page.Rings != nil {
			page.RingsOf = s.words.say("ring.ahead", count(st.snap.Outlook.Days), count(st.snap.Outlook.Members))
		}
		s.render(w, http.StatusOK, "shelves", page)
	})
}

// storesVerdict says how the stores stand, the scarcest first.
func (s *standing) storesVerdict() (lead, rest string) {
	level, holds := 0.0, 0.0
	for _, g := range s.now.Tanks {
		level, holds = level+g.Level, holds+g.Holds
	}
	mj := 0.0
	for _, l := range s.now.Lots {
		mj += l.MJ
	}
	if s.now.Mouthful > 0 {
		lead = s.say("shelves.food", count(int(mj/s.now.Mouthful)))
	}
	if holds > 0 {
		rest = s.say("shelves.water", strconv.Itoa(int(math.Round(100*level/holds))))
	}
	if names := s.firstNames(3); len(names) > 0 {
		rest += " " + s.say("shelves.first", s.words.list(names))
	}
	return lead, rest
}

// firstNames are lots to be eaten first, by name.
func (s *standing) firstNames(most int) []string {
	var names []string
	for i := range s.now.Lots {
		if l := &s.now.Lots[i]; s.goesSoon(l) && len(names) < most && l.Kg >= 0.05 {
			names = append(names, lowerFirst(s.words.lotName(l)))
		}
	}
	return names
}

func (s *standing) goesSoon(l *engine.LotNow) bool {
	return l.Quarter != 0 && l.Quarter <= s.snap.Today+eatFirst
}

// lotName is a food with its form, where it is not as it was picked.
func (w words) lotName(l *engine.LotNow) string {
	name := upperFirst(w.food(l.Food, l.Name))
	if l.Form == "fresh" || l.Form == "dry" {
		return name
	}
	return name + ", " + w.name("form", l.Form, l.Form)
}

func (s *standing) rainLine() string {
	r := s.now.Rain
	switch {
	case r.Known == 0:
		return s.say("rain.unknown")
	case r.DryDays > 1:
		return s.say("rain.dry", s.amount(r.MM, "mm"), count(r.Known), count(r.Days), count(r.DryDays))
	}
	return s.say("rain.lately", s.amount(r.MM, "mm"), count(r.Known), count(r.Days))
}

func (s *standing) tankViews() []tankView {
	var out []tankView
	for i := range s.now.Tanks[:min(len(s.now.Tanks), groupsDrawn)] {
		g := &s.now.Tanks[i]
		v := tankView{Name: upperFirst(g.Name), Now: s.of(g.Level, g.Holds, "L"), Found: s.found(g.Sight), Drift: s.drift(g.Sight), Likely: likely(g.Sight)}
		if g.Use > 0 {
			v.Use = s.say("tank.use", s.amount(g.Use, "L"), count(int(max(0, g.Level-g.Dead)/g.Use)))
		}
		if len(g.Roofs) > 0 && s.now.Rain.Known > 0 {
			v.Caught = s.say("tank.caught", s.amount(g.Caught, "L"))
		}
		for _, t := range g.Tanks[:min(len(g.Tanks), 40)] {
			v.Rows = append(v.Rows, tankRow{t.Name, s.of(t.Level, t.Holds, "L"), inHundred(t.Share)})
		}
		v.Draw = s.elevation(g, ids("t", i))
		out = append(out, v)
	}
	return out
}

// larder fills the page's part on food.
func (s *standing) larder(page *shelvesPage) {
	page.LarderNote = s.say("larder.note", count(len(s.now.Lots)))
	page.CoverAxis = coverAxis(s.cover, s.words)
	for i := range s.now.Lots {
		l := &s.now.Lots[i]
		if i < lotsDrawn {
			page.Lots = append(page.Lots, s.lotView(l))
		}
		if i < lotsInTable {
			page.AllLots = append(page.AllLots, lotRow{s.words.lotName(l), l.Place, s.amount(l.Kg, "kg"), s.amount(l.MJ, "MJ"), inHundred(min(1, l.Aged)),
				s.orNever(l.Quarter != 0, s.date(l.Quarter)), s.orNever(l.Half != 0, s.date(l.Half)), s.found(l.Sight), s.drift(l.Sight)})
		}
	}
	if more := len(s.now.Lots) - lotsInTable; more > 0 {
		page.MoreLots = s.say("larder.more", count(more))
	}
	for i := range s.now.Places {
		page.Places = append(page.Places, s.room(&s.now.Places[i]))
	}
}

// orNever is a date, or the words for one past the years looked at.
func (s *standing) orNever(known bool, date string) string {
	if known {
		return date
	}
	return s.say("lot.years")
}

func (s *standing) lotView(l *engine.LotNow) lotView {
	v := lotView{Name: s.words.lotName(l), Kg: s.amount(l.Kg, "kg") + ", " + l.Place, Gone: s.orNever(l.Half != 0, s.date(l.Half))}
	if s.goesSoon(l) {
		v.First = s.say("lot.first")
	}
	n := engine.NeedOutlook{Known: true, Covered: l.Sound, Sure: s.cover.days, Middle: s.cover.days}
	n.Open[1] = l.Half == 0 || int(l.Half-s.snap.Today) > s.cover.days
	if l.Quarter != 0 {
		n.Sure = min(n.Sure, int(l.Quarter-s.snap.Today))
	}
	if !n.Open[1] {
		n.Middle = int(l.Half - s.snap.Today)
	}
	v.Ribbon = ribbon(&n, s.cover)
	return v
}

func (s *standing) room(p *engine.PlaceNow) roomView {
	v := roomView{Name: upperFirst(p.Name), Now: s.of(p.Used, p.Holds, "L"), Bar: filled(p.Used/p.Holds, "g-room")}
	left := max(0, p.Holds-p.Used)
	v.Note = s.say("room.left", s.amount(left, "L"), s.warmth(p.Temp))
	if p.Hold > 0 {
		v.Note = s.say("room.freezer", s.amount(left, "L"), count(int(p.Hold)))
	}
	if p.Holds > 0 && p.Used > p.Holds {
		v.Note = s.say("room.over", s.amount(p.Used-p.Holds, "L"))
	}
	return v
}

// others are the stores that are told in words.
func (s *standing) others() []otherRow {
	var rows []otherRow
	add := func(group, name, now, more, found string) {
		rows = append(rows, otherRow{Hue: hue(group), Glyph: "#i-" + group, Group: s.say("group." + group), Name: name, Now: now, More: more, Found: found})
	}
	last := func() *otherRow { return &rows[len(rows)-1] }
	for _, f := range s.now.Fuels {
		more := s.say("fuel.still")
		if f.Days > 0 {
			more = s.say("fuel.days", count(int(f.Days)))
		}
		if d := s.drift(f.Sight); d != "" {
			more += " " + upperFirst(d) + "."
		}
		add(engine.Heat, upperFirst(s.words.name("fuel", f.Name, f.Name)), s.say("fuel.now", s.amount(f.Kg, "kg"), s.amount(f.MJ, "MJ")), more, s.found(f.Sight))
		if f.Name == "wood" {
			last().Gate = s.gateOf("wood ash").of(s.say("deed.ash"))
		}
	}
	if d := s.now.Digester; d != nil {
		more := s.say("gas.day", s.amount(d.GasDay, "L"), s.warmth(d.Slurry), s.amount(d.Feed, "kg"))
		if !d.Ripe {
			more = s.say("gas.unripe", s.date(d.RipeOn))
		}
		add(engine.Heat, s.say("gas.name"), s.of(d.Gas, d.Bag, "L"), more, s.say("found.reckoned"))
		last().Lines, last().Gate = s.feeding(), s.gateOf("digestate").of(s.say("deed.digestate"))
	}
	c := s.now.Compost
	add(engine.Soil, s.say("compost.name"), s.say("compost.now", s.amount(c.Ripe, "kg"), s.amount(c.Fresh, "kg")),
		s.say("compost.more", s.amount(1000*c.RipeN, "g"), s.amount(1000*c.FreshN, "g")), s.say("found.reckoned"))
	last().Lines, last().Gate = s.heapLines(), s.gateOf("compost").of(s.say("deed.compost"))
	s.birds(add, last)
	if t := s.now.Toilet; t != nil && t.Apart {
		more := s.say("urine.full")
		if t.UrineDays >= 1 {
			more = s.say("urine.days", count(int(t.UrineDays)))
		}
		add(engine.Soil, s.say("urine.name"), s.of(t.Urine, t.Cans, "L"), more+" "+s.say("urine.n", s.amount(1000*t.UrineN, "g")), s.say("found.reckoned"))
		last().Gate = s.gateOf("urine").of(s.say("deed.urine"))
	}
	return rows
}

// birds are the hens, whose droppings have a gate.
func (s *standing) birds(add func(group, name, now, more, found string), last func() *otherRow) {
	n, eggs, feed := 0.0, 0.0, 0.0
	for _, f := range s.now.Flocks {
		n, eggs, feed = n+f.Count, eggs+f.Eggs, feed+f.Feed
	}
	if n == 0 {
		return
	}
	add(engine.Soil, s.say("birds.name"), count(int(n)), s.say("birds.more", s.words.figure(7*eggs), s.amount(feed, "kg")), s.say("found.described", s.date(s.snap.From)))
	last().Gate = s.gateOf("fresh manure").of(s.say("deed.manure"))
}
