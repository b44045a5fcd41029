package web

import (
	"cmp"
	"html/template"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/engine"
	"evenstead/lever"
)

// deskPart is what Ahead shows of a household's own stead besides: what would
// help, a change to try, and what the place has taught.
type deskPart struct {
	Skill   string // how often outlooks like it were right
	More    string // needs that fall short and are drawn on the page of figures
	Levers  leverPart
	Try     tryPart
	Taught  []taughtRow
	Asks    []string
	AskNote string // where there is nothing to ask, or not yet
	Found   []foundRow
}

func (s *site) aheadAtDesk(w http.ResponseWriter, r *http.Request) {
	s.withAhead(w, r, func(snap *Snapshot, v *view) {
		more := v.leave(stripsBeside)
		page := s.aheadPage(v, snap.Progress)
		page.Desk = &deskPart{Skill: s.skillLine(r.Context()), More: more, Taught: v.taught(), Found: v.foundRows(), Levers: s.leverPart(r, v)}
		page.Desk.Asks, page.Desk.AskNote = v.asks()
		var status int
		page.Desk.Try, status = s.tryPart(r, v, snap)
		if page.Desk.Try.Waits {
			page.Again = lookAgain
		}
		s.render(w, status, "ahead", page)
	})
}

// stripsBeside is how many needs that are not main ones are drawn week by week;
// all are on the page of figures.
const stripsBeside = 4

// leave keeps the strips of the main needs and of the first so many others in the
// verdict's order, and says in a sentence which are left to the page of figures.
func (v *view) leave(keep int) string {
	v.left = map[string]bool{}
	kept := map[string]bool{}
	for _, n := range v.o.Shortfalls() {
		if !n.Main && len(kept) < keep {
			kept[n.ID] = true
		}
	}
	var names []string
	for i := range v.needs {
		if n := &v.needs[i]; !n.Main && !holds(n) && !kept[n.ID] {
			v.left[n.ID] = true
			names = append(names, lowerFirst(v.words.need(n)))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return v.words.say("strip.more", v.words.list(names))
}

// lookAgain is after how long the page of a change under way looks whether it is
// there, s.
const lookAgain = 3

// figuresPage is every need, crop and loop in full: a link away from Ahead.
type figuresPage struct {
	frame
	Second  template.HTML
	Running string
	Strips  []stripRow
	Figures []needRow
	Weight  string
	Crops   []cropRow
	Loops   []loopView
}

func (s *site) aheadFigures(w http.ResponseWriter, r *http.Request) {
	s.withAhead(w, r, func(snap *Snapshot, v *view) {
		page := figuresPage{frame: s.frame(v, "ahead"), Second: v.restsOn(), Running: s.running(v.o, snap.Progress),
			Figures: v.needRows(), Weight: s.opt.measure("kg").unit, Crops: v.cropRows(), Loops: v.loopViews(true)}
		for i := range v.needs {
			page.Strips = append(page.Strips, v.stripRow(i))
		}
		s.render(w, http.StatusOK, "figures", page)
	})
}

// withAhead hands a page the newest outlook with the past behind it, or says how
// far the first has come.
func (s *site) withAhead(w http.ResponseWriter, r *http.Request, show func(*Snapshot, *view)) {
	s.withDesk(w, r, func(snap *Snapshot) {
		switch {
		case snap.Outlook != nil:
			v := s.view(snap.Outlook)
			v.past = snap.Past
			show(snap, v)
		case snap.Progress.Err != nil:
			s.sayStopped(w, snap.Progress.Err)
		default:
			s.sayWait(w, snap.Progress)
		}
	})
}

// leverPart is the table of levers.
type leverPart struct {
	Progress string // while they are tried; or why they can't be
	Stopped  bool
	Members  string
	Rows     []leverRow    // those that help, the most helpful first
	None     template.HTML // levers that do nothing that shows
	All      []leverFigures
}

// leverRow is a lever with what it does to the need it helps most of those that
// fall short first.
type leverRow struct {
	Rank  int
	Hue   string
	Name  string
	Now   string // weeks short, or another figure
	Does  string
	Costs string
	Care  string
	Way   string // to see it beside the stead as it stands
	Rule  template.HTML
}

// leverFigures is a line of the table behind.
type leverFigures struct{ Name, Does, Once, Week string }

// leversShown is how many levers are drawn; the table has all.
const leversShown = 8

func (s *site) leverPart(r *http.Request, v *view) leverPart {
	rank, p, err := s.desk.Levers(r.Context())
	switch {
	case err != nil:
		return leverPart{Progress: err.Error(), Stopped: true}
	case p.Err != nil:
		return leverPart{Progress: s.words.say("lever.stopped", p.Err.Error()), Stopped: true}
	case rank == nil:
		return leverPart{Progress: s.words.say("lever.running", tenths(p))}
	}
	part := leverPart{Members: s.words.count(rank.Members)}
	var none []string
	for i, t := range rank.Trials {
		part.All = append(part.All, leverFigures{upperFirst(t.Name), s.does(t), s.words.number(hoursOf(t.Cost.Once)), s.words.number(hoursOf(t.Cost.Week))})
		switch {
		case t.Fate || t.Harms():
		case !t.Helps():
			none = append(none, t.Name)
		case len(part.Rows) < leversShown:
			part.Rows = append(part.Rows, v.leverRow(i+1, t))
		}
	}
	if len(none) > 0 {
		part.None = s.words.told("lever.none", s.words.list(none))
	}
	return part
}

func (v *view) leverRow(rank int, t *lever.Trial) leverRow {
	row := leverRow{Rank: rank, Name: upperFirst(t.Name), Does: (&site{words: v.words}).does(t), Costs: v.costs(t.Cost), Care: t.Care,
		Way: "/ahead?" + url.Values{"lever": {t.ID}}.Encode() + "#try"}
	c := foremostChange(t)
	if c == nil {
		row.Hue = hue(engine.Room)
		return row
	}
	row.Hue, row.Now = hue(c.Group), v.words.decimals(c.Before.Weeks, 1)+" → "+v.words.decimals(c.After.Weeks, 1)
	row.Rule = leverRule(c, v.ruler.weeks)
	return row
}

// foremostChange is the first need of the verdict whose weeks short change, else
// the first change.
func foremostChange(t *lever.Trial) *lever.Change {
	for i := range t.Changes {
		if d := t.Changes[i].Before.Weeks - t.Changes[i].After.Weeks; d >= weeksLeast {
			return &t.Changes[i]
		}
	}
	if len(t.Changes) > 0 {
		return &t.Changes[0]
	}
	return nil
}

// leverRule draws weeks short from none to all of them: a ring at now, a disc at
// then, a bar between. The words beside it hold the figures.
func leverRule(c *lever.Change, weeks int) template.HTML {
	const tall, mid = 16.0, 8.0
	var s svg
	s.open("svg", "class", "lever", "width", "100%", "height", tall, "aria-hidden", "true")
	s.leaf("line", "class", "tick", "x2", "100%", "y1", mid, "y2", mid)
	for i := range 5 {
		x := pct(float64(i) / 4)
		s.leaf("line", "class", "tick", "x1", x, "x2", x, "y1", mid-4, "y2", mid+4)
	}
	now, then := pct(clamp(c.Before.Weeks/float64(weeks), 0, 1)), pct(clamp(c.After.Weeks/float64(weeks), 0, 1))
	s.leaf("line", "class", "span", "x1", now, "x2", then, "y1", mid, "y2", mid)
	s.leaf("circle", "class", "from", "cx", now, "cy", mid, "r", 5)
	s.leaf("circle", "class", "full", "cx", then, "cy", mid, "r", 6)
	s.end("svg")
	return s.html()
}

// doesMost is how many needs are told of each lever.
const doesMost = 3

// does words what a change does, the first shortfalls first.
func (s *site) does(t *lever.Trial) string {
	var said []string
	for i := range t.Changes {
		if m := s.words.moved(&t.Changes[i]); m != "" && len(said) < doesMost {
			said = append(said, s.words.say("lever.does", lowerFirst(s.words.name("need", t.Changes[i].ID, t.Changes[i].Name)), m))
		}
	}
	if len(said) == 0 {
		return s.words.say("lever.nothing")
	}
	return upperFirst(strings.Join(said, "; ")) + "."
}

// costs words what a change asks; "" when nothing.
func (v *view) costs(c lever.Cost) string {
	var said []string
	if c.Once >= 0.05 {
		said = append(said, v.words.say("lever.once", hoursOf(c.Once)))
	}
	if c.Week >= 0.05 {
		said = append(said, v.words.say("lever.week", hoursOf(c.Week)))
	}
	if c.Needs != "" {
		said = append(said, c.Needs)
	}
	if len(said) == 0 {
		return ""
	}
	return v.words.say("lever.costs", v.words.list(said))
}

// hoursOf writes hours; a dash for none that count.
func hoursOf(h float64) string {
	if h < 0.05 {
		return "–"
	}
	return figure(h)
}

// taughtRow is a factor that harvests or dips have moved.
type taughtRow struct {
	What, Before, Now, From, Weight string
}

func (v *view) taught() []taughtRow {
	if v.o.Found == nil {
		return nil
	}
	var rows []taughtRow
	for _, l := range v.o.Found.Learned {
		key := "taught.harvests"
		if strings.Contains(l.Weight, "width") {
			key = "taught.dips"
		}
		rows = append(rows, taughtRow{upperFirst(l.What), v.words.factor(l.Prior), v.words.factor(l.Result), v.words.say(key, count(l.Evidence)), l.Weight})
	}
	return rows
}

// factor writes a factor with the range that four beliefs of five lie in.
func (w words) factor(f [3]float64) string {
	return w.decimals(f[1], 2) + " (" + w.decimals(f[0], 2) + "–" + w.decimals(f[2], 2) + ")"
}

// foundRow is the last look at a store.
type foundRow struct{ Store, When, Found, Reckoned, Likely string }

func (v *view) foundRows() []foundRow {
	if v.o.Found == nil {
		return nil
	}
	var rows []foundRow
	for _, d := range v.o.Found.Drifts {
		rows = append(rows, foundRow{upperFirst(v.words.storeNamed(v.o, d.Store)), v.words.short(d.Day), v.opt.amount(d.Found, d.Unit), v.opt.amount(d.Reckoned, d.Unit), d.Likely})
	}
	return rows
}

// asksShown is how many looks are told; the spreadsheet has all.
const asksShown = 6

// asks are the looks that would settle most, the most telling first.
func (v *view) asks() (list []string, note string) {
	f := v.o.Found
	if f == nil || len(f.Ask) == 0 {
		return nil, v.words.say("asks.none")
	}
	for i := range f.Ask[:min(asksShown, len(f.Ask))] {
		q := &f.Ask[i]
		key := "asks.count"
		if q.Unit == "L" {
			key = "asks.dip"
		}
		list = append(list, v.words.say(key, lowerFirst(v.words.storeNamed(v.o, q.Store)), v.opt.amount(q.Low, q.Unit), v.opt.amount(q.High, q.Unit), v.words.asked(q, v.o)))
	}
	return list, ""
}

// tryPart is the form and what it found.
type tryPart struct {
	Fields  []tryField
	Waits   bool
	Failed  string
	Asked   bool
	Title   string // what is changed
	Verdict engine.Verdict
	Axis    template.HTML
	Pairs   []tryPair
	Same    string
	Costs   string
	Care    string
	Rows    []tryRow
}

// tryField is one field of the form with what was typed.
type tryField struct {
	Name, Label, Hint, Value, Bad string
	Choices                       []tryChoice // nil: typed
}

type tryChoice struct {
	Value, Name string
	Chosen      bool
}

// tryPair is a need as it stands and with the change.
type tryPair struct {
	label
	Now, Then         template.HTML
	NowDays, ThenDays string
}

// tryRow is a need that the change moves.
type tryRow struct{ Name, Years, Weeks, Days string }

// tryPart reads the form, asks for what it wants tried, and shows what is known.
func (s *site) tryPart(r *http.Request, v *view, snap *Snapshot) (tryPart, int) {
	q := r.URL.Query()
	c, bad := s.words.readChange(q, snap.Stead, s.opt.Units)
	part := tryPart{Fields: s.tryFields(q, bad, snap)}
	if len(bad) > 0 {
		return part, http.StatusUnprocessableEntity
	}
	if c.none() {
		return part, http.StatusOK
	}
	part.Asked = true
	a, err := s.desk.try(r.Context(), c)
	switch {
	case err != nil:
		part.Failed = err.Error()
	case !a.done:
		part.Waits = true
	case a.err != nil:
		part.Failed = upperFirst(a.err.Error()) + "."
	default:
		v.tried(&part, &a, c)
	}
	return part, http.StatusOK
}

func (v *view) tried(part *tryPart, a *attempt, c change) {
	t := a.trial
	part.Title, part.Verdict = upperFirst(t.Name), v.words.verdict(t.Outlook)
	part.Axis = coverAxis(v.cover, v.words)
	part.Pairs = v.pairs(a)
	part.Costs, part.Care = v.costs(t.Cost), t.Care
	key := "try.same.one"
	if c.parts() > 1 {
		key = "try.same.more"
	}
	part.Same = v.words.say(key, count(a.before.Members))
	for i := range t.Changes {
		ch := &t.Changes[i]
		part.Rows = append(part.Rows, tryRow{v.words.name("need", ch.ID, ch.Name), inHundred(ch.Before.Short) + " → " + inHundred(ch.After.Short),
			v.words.decimals(ch.Before.Weeks, 1) + " → " + v.words.decimals(ch.After.Weeks, 1),
			v.words.days(ch.Before.Days, ch.Before.Open) + " → " + v.words.days(ch.After.Days, ch.After.Open)})
	}
}

// pairsShown is how many needs are drawn twice.
const pairsShown = 2

// pairs are the main needs that a change moves most, or the first shortfall when
// it moves none.
func (v *view) pairs(a *attempt) []tryPair {
	var ids []string
	for i := range a.trial.Changes {
		if n := a.before.Need(a.trial.Changes[i].ID); n.Main {
			ids = append(ids, n.ID)
		}
	}
	by := func(id string) float64 { return math.Abs(a.before.Need(id).Lack() - a.trial.Outlook.Need(id).Lack()) }
	slices.SortStableFunc(ids, func(x, y string) int { return cmp.Compare(by(y), by(x)) })
	if list := a.before.Shortfalls(); len(ids) == 0 && len(list) > 0 {
		ids = []string{list[0].ID}
	}
	var out []tryPair
	for _, id := range ids[:min(pairsShown, len(ids))] {
		now, then := a.before.Need(id), a.trial.Outlook.Need(id)
		out = append(out, tryPair{v.label(now.Group, v.words.need(now)), ribbon(now, v.cover), ribbon(then, v.cover),
			v.words.days(now.Middle, now.Open[1]), v.words.days(then.Middle, then.Open[1])})
	}
	return out
}

// rains are the parts of a hundred of the rain drawn that the form offers.
var rains = []int{100, 120, 90, 80, 70, 60}

func (s *site) tryFields(q url.Values, bad faults, snap *Snapshot) []tryField {
	say := s.words.say
	field := func(name string) tryField {
		f := tryField{Name: name, Label: say("try." + name), Value: bounded(q.Get(name))}
		if key, ok := bad[name]; ok {
			f.Bad = say(key)
		}
		return f
	}
	var fields []tryField
	if groups := groupNames(snap.Stead); len(groups) > 0 {
		f := field("tank")
		f.Choices = choices(f.Value, say("try.tank.none"), groups)
		fields = append(fields, f)
	}
	if uses := lever.Savable(snap.Stead); len(uses) > 0 {
		f := field("litres")
		f.Hint = say("try.litres.hint", s.opt.measure("L").unit)
		u := field("use")
		u.Choices = choices(u.Value, say("try.use.none"), uses)
		fields = append(fields, f, u)
	}
	f := field("bed")
	f.Hint = say("try.bed.hint", s.opt.measure("m2").unit)
	fields = append(fields, f)
	if len(snap.Stead.People) > 1 {
		f = field("away")
		f.Hint = say("try.away.hint")
		fields = append(fields, f)
	}
	f = field("rain")
	for _, n := range rains {
		text := strconv.Itoa(n)
		f.Choices = append(f.Choices, tryChoice{text, say("try.rain." + text), text == f.Value || n == 100 && f.Value == ""})
	}
	return append(fields, f)
}

func choices(chosen, none string, names []string) []tryChoice {
	list := []tryChoice{{"", none, chosen == ""}}
	for _, n := range names {
		list = append(list, tryChoice{n, n, n == chosen})
	}
	return list
}
