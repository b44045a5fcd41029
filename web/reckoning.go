package web

import (
	"context"
	"errors"
	"math"
	"net/http"
	"net/url"
	"strings"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/reckon"
	"evenstead/unit"
)

// reckoningPage tells what the place carried over a span.
type reckoningPage struct {
	frame
	Lead, Rest string
	Second     string
	From, To   string // as typed
	Bad        string // what is wrong with them
	Spans      []spanWay
	Told       []string // how much of it is written
	Food       []carriedRow
	More       []carriedRow // other nutrients
	Dark       string       // uses of which there were none
	Origins    []originRow
	Water      []carriedRow
	Heat       string
	HeatBy     []pairRow
	Loops      []loopView
	Rings      []ringRow
	Passing    []string
	Then       *thenPart
	ThenWhy    string
	Hours      []string
	Noted      []string
	Exceptions []exceptionRow
	Lessons    []lessonRow
	Lines      string
	Book       string
}

// spanWay is a span to choose by a tap.
type spanWay struct {
	Name, Way string
	Current   bool
}

type (
	carriedRow   struct{ Name, Used, OfNeed, Carried, Bounds, Life, Written string }
	originRow    struct{ Name, All, Told, Filled string }
	pairRow      struct{ Name, Amount string }
	ringRow      struct{ Name, In, Round, Out, Lost, Stored, Again, Path, Sum string }
	exceptionRow struct{ When, What, Why string }
	lessonRow    struct{ What, Old, New, Range, By, Why string }
)

// thenPart is what was planned and forecast, beside what was found.
type thenPart struct {
	Second, Said string
	Crops        []thenRow
	MoreCrops    string
	Needs        []thenRow
	Stores       []thenRow
	Inside       string
}

type thenRow struct{ Name, Planned, Range, Middle, Told, Filled, Found string }

// auditMembers are the possible years of what was forecast.
const auditMembers = 200

// audit is the reckoning of a span, nil while it is under way.
func (d *Desk) audit(ctx context.Context, span engine.Span) (*reckon.Report, error) {
	b, err := d.present(ctx)
	if err != nil {
		return nil, err
	}
	ask := hearth.AuditAsk{Today: b.snap.Today, Span: span, Members: auditMembers, Seed: d.opt.Seed, Workers: d.opt.Workers}
	if d.opt.Members > 0 {
		ask.Members = min(ask.Members, d.opt.Members)
	}
	key := "audit " + span.From.String() + " " + span.To.String()
	got, done, err := d.later(b, key, func(ctx context.Context) (any, error) { return d.home.Audit(ctx, ask) })
	if !done || err != nil {
		return nil, err
	}
	return got.(*reckon.Report), nil
}

func (s *site) reckoning(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		if snap.Past == nil {
			s.sayStopped(w, snap.Trouble)
			return
		}
		page := reckoningPage{frame: s.deskFrame(snap, "book")}
		page.Title = s.words.say("reck.title")
		span, bad := s.spanAsked(snap, r.URL.Query())
		page.From, page.To, page.Spans = span.From.String(), span.To.String(), s.spans(snap, span)
		if bad != "" {
			page.From, page.To = bounded(r.URL.Query().Get("from")), bounded(r.URL.Query().Get("to"))
			page.Lead, page.Bad = s.words.say("reck.which"), bad
			s.render(w, http.StatusUnprocessableEntity, "reckoning", page)
			return
		}
		rep, err := s.desk.audit(r.Context(), span)
		switch {
		case errors.Is(err, hearth.ErrNoDays):
			page.Lead, page.Rest = s.words.say("reck.early"), s.words.say("reck.early.rest")
		case err != nil:
			s.sayStopped(w, err)
			return
		case rep == nil:
			page.Lead, page.Rest, page.Again = s.words.say("reck.waits"), s.words.say("wait.rest"), lookAgain
		default:
			(&audited{s, snap, rep}).fill(&page)
		}
		s.render(w, http.StatusOK, "reckoning", page)
	})
}

// spanAsked reads the span of a form; without one it is the stay so far.
func (s *site) spanAsked(snap *Snapshot, q url.Values) (span engine.Span, bad string) {
	span = engine.Span{From: snap.Past.Known.Start, To: snap.Today - 1}
	for name, to := range map[string]*day.Day{"from": &span.From, "to": &span.To} {
		if text := strings.TrimSpace(q.Get(name)); text != "" {
			d, err := day.Parse(text)
			if err != nil {
				return span, s.words.say("reck.bad.date")
			}
			*to = d
		}
	}
	if q.Get("from") != "" && span.From > span.To {
		return span, s.words.say("reck.bad.order")
	}
	span.From, span.To = max(span.From, snap.Past.Known.Start), min(span.To, snap.Today-1)
	return span, ""
}

// spans offers the stay, the last four weeks and the calendar years lived in.
func (s *site) spans(snap *Snapshot, now engine.Span) (out []spanWay) {
	first, last := snap.Past.Known.Start, snap.Today-1
	add := func(name string, span engine.Span) {
		span.From, span.To = max(first, span.From), min(last, span.To)
		way := "/reckoning?" + url.Values{"from": {span.From.String()}, "to": {span.To.String()}}.Encode()
		out = append(out, spanWay{name, way, span == now})
	}
	add(s.words.say("reck.stay"), engine.Span{From: first, To: last})
	if last-first > 28 {
		add(s.words.say("reck.weeks"), engine.Span{From: last - 27, To: last})
	}
	for y := first.Year(); y <= last.Year() && first.Year() != last.Year(); y++ {
		add(s.words.say("reck.year", day.Of(y, 1, 1).String()[:4]), engine.Span{From: day.Of(y, 1, 1), To: day.Of(y, 12, 31)})
	}
	return out
}

// audited is a reckoning ready to be shown.
type audited struct {
	*site
	snap *Snapshot
	r    *reckon.Report
}

func (a *audited) fill(page *reckoningPage) {
	energy := &a.r.Shares[1]
	from, to := a.words.long(a.r.From), a.words.long(a.r.To)
	page.Lead, page.Rest = a.words.say("reck.lead.none", from, to), ""
	if energy.Carried != nil {
		page.Lead = a.words.say("reck.lead", share(energy.Carried), from, to)
		page.Rest = a.words.say("reck.rest", share(energy.Low), share(energy.High))
	}
	page.Second = a.words.say("reck.second")
	page.Told = a.completeness(energy)
	n := len(a.r.Food)
	page.Food, page.More, page.Dark = a.carried(a.r.Food, a.r.Shares[:n])
	page.Origins = a.origins(&a.r.Food[1])
	page.Water, _, _ = a.carried(a.r.Water, a.r.Shares[n:])
	page.Heat, page.HeatBy = a.heat()
	page.Loops, page.Rings, page.Passing = a.loops(), a.rings(), a.passing()
	page.Then, page.ThenWhy = a.then(), a.r.ThenWhy
	page.Hours, page.Noted, page.Exceptions = a.hours(), a.noted(), a.exceptions()
	page.Lessons, page.Lines = a.lessons()
	page.Book = a.words.say("reck.book", count(a.r.Book.Entries), a.r.Book.Sum)
}

// share writes a share in parts of a hundred. What rounds to all or nothing
// without being it is told so; a dash where nothing was used.
func share(v *float64) string {
	switch {
	case v == nil:
		return "–"
	case *v < 1 && *v > 0.995:
		return "> 99"
	case *v > 0 && *v < 0.005:
		return "< 1"
	}
	return inHundred(*v)
}

func (a *audited) amount(v float64, in string) string {
	switch in {
	case "µg", "mg":
		return a.words.figure(v) + nbsp + in
	case "days":
		return a.words.days(int(math.Round(v)), false)
	}
	return a.opt.amount(v, in)
}

func (a *audited) completeness(energy *reckon.Share) []string {
	days := int(a.r.To-a.r.From) + 1
	return []string{
		a.words.say("reck.told.entries", count(a.r.Entries), count(a.r.DaysTold), count(days)),
		a.words.say("reck.told.energy", share(energy.Written), share(energy.Came)),
		a.words.say("reck.told.rain", count(a.r.RainKnown), count(days)),
	}
}

// mainFood is how many uses of food stand first: mass, energy, protein, fat.
const mainFood = 4

func (a *audited) carried(uses []engine.Use, shares []reckon.Share) (first, more []carriedRow, dark string) {
	var none []string
	for i := range uses {
		u, s := &uses[i], &shares[i]
		name := upperFirst(a.words.name("use", u.ID, a.words.name("need", u.ID, u.Name)))
		if s.Carried == nil {
			none = append(none, lowerFirst(name))
			continue
		}
		row := carriedRow{name, a.amount(u.Used.All(), u.Unit), share(s.OfNeed), share(s.Carried), share(s.Low) + "–" + share(s.High), share(s.Life), share(s.Written)}
		if len(first) < mainFood {
			first = append(first, row)
		} else {
			more = append(more, row)
		}
	}
	return first, more, a.words.list(none)
}

func (a *audited) origins(u *engine.Use) (out []originRow) {
	for o, p := range u.By {
		if p.All() > 0 {
			name := engine.Origin(o).String()
			out = append(out, originRow{upperFirst(a.words.or("reck.origin."+name, name)), a.amount(p.All(), u.Unit), a.amount(p.Told, u.Unit), a.amount(p.Filled, u.Unit)})
		}
	}
	return out
}

func (a *audited) heat() (said string, by []pairRow) {
	sum, own := 0.0, 0.0
	for _, f := range a.r.Heat {
		sum += f.Heat.All()
		if f.Carried {
			own += f.Heat.All()
		}
		by = append(by, pairRow{upperFirst(a.words.or("reck.heat."+f.Kind, f.Kind)), a.amount(f.Heat.All(), "MJ")})
	}
	if sum == 0 {
		return a.words.say("reck.heat.none"), nil
	}
	part := own / sum
	return a.words.say("reck.heat", a.amount(sum, "MJ"), a.amount(a.r.HeatNeed, "MJ"), share(&part)), by
}

func (a *audited) hours() []string {
	out := []string{a.words.say("reck.hours", count(rounded(a.r.Hours.Asked)), count(rounded(a.r.Hours.Had)), count(rounded(a.r.Hours.Owed)))}
	for _, k := range sortedNames(a.r.Hours.Written) {
		out = append(out, a.words.say("reck.hours.for", a.words.hours(a.r.Hours.Written[k]), strings.ReplaceAll(k, "_", " ")))
	}
	return out
}

func (a *audited) noted() (out []string) {
	n := &a.r.Noted
	sum := 0.0
	for _, x := range n.Spent {
		sum += x.Amount
	}
	if len(n.Spent) == 0 {
		out = append(out, a.words.say("reck.money.none"))
	} else {
		out = append(out, a.words.say("reck.money", a.words.decimals(sum, 2), count(len(n.Spent))))
	}
	for _, x := range n.Rubbish {
		out = append(out, a.words.say("reck.rubbish", a.words.marked(unit.Format(x.Amount, unit.Kind(x.Measure), a.opt.Units)), x.What))
	}
	if len(n.Rubbish) == 0 {
		out = append(out, a.words.say("reck.rubbish.none"))
	}
	if n.Wood > 0 || n.Bottled > 0 {
		out = append(out, a.words.say("reck.fuel", a.amount(n.Wood, "kg"), a.amount(n.Bottled, "kg")))
	}
	return out
}

// mostExceptions keeps the page small; the book has all.
const mostExceptions = 40

func (a *audited) exceptions() (out []exceptionRow) {
	for _, x := range a.r.Exceptions[:min(len(a.r.Exceptions), mostExceptions)] {
		row := exceptionRow{What: sentenced(strings.ReplaceAll(x.What, "_", " ")), Why: sentenced(x.Why)}
		if x.Day != 0 {
			row.When = a.words.long(x.Day)
		}
		out = append(out, row)
	}
	return out
}

func (a *audited) lessons() (out []lessonRow, lines string) {
	var all []string
	for _, x := range a.r.Lessons {
		row := lessonRow{What: upperFirst(x.What), Old: "–", New: a.words.figure(x.New) + nbsp + x.Unit, Range: a.words.figure(x.Low) + "–" + a.words.figure(x.High),
			By: count(x.N) + nbsp + a.words.or("reck.of."+x.Of, x.Of), Why: sentenced(x.Why)}
		if x.Old > 0 {
			row.Old = a.words.figure(x.Old)
		}
		out = append(out, row)
		all = append(all, x.Lines...)
	}
	return out, strings.Join(all, "\n")
}
