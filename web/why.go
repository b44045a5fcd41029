package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"evenstead/engine"
)

// whyPage follows one figure to where it comes from: a need through one possible
// year, week by week.
type whyPage struct {
	frame
	Lead, Rest string
	How        []string // how the figure is made
	Note       string   // what counts as short, in the reckoning's words
	Cause      string
	Store      string
	Weeks      []whyWeek
	Others     []navItem
}

type whyWeek struct{ From, Level, Met, In, Out string }

// traceMembers are enough possible years for one in the middle of those short.
const traceMembers = 200

// trace follows a need of the present state; nil while it is under way.
func (d *Desk) trace(ctx context.Context, need string) (*engine.Trace, error) {
	b, err := d.present(ctx)
	if err != nil {
		return nil, err
	}
	ask := d.ask(b.snap.Today)
	if ask.Members == 0 || ask.Members > traceMembers {
		ask.Members = traceMembers
	}
	got, done, err := d.later(b, "trace "+need, func(ctx context.Context) (any, error) {
		r, err := d.home.Reckon(ctx, ask)
		if err != nil {
			return nil, err
		}
		m, err := r.Model()
		if err != nil {
			return nil, err
		}
		return m.Trace(ctx, r.Members, r.Options, need)
	})
	if !done || err != nil {
		return nil, err
	}
	return got.(*engine.Trace), nil
}

// whyWay leads to the trace of a need; empty where there is no desk or nothing is
// known.
func (v *view) whyWay(n *engine.NeedOutlook) string {
	if !v.traced || !n.Known {
		return ""
	}
	return "/why?" + url.Values{"need": {n.ID}}.Encode()
}

func (s *site) why(w http.ResponseWriter, r *http.Request) {
	s.withAhead(w, r, func(snap *Snapshot, v *view) {
		n := v.need(r.URL.Query().Get("need"))
		if n == nil || !n.Known {
			s.sayMissing(w, http.StatusNotFound)
			return
		}
		page := whyPage{frame: s.frame(v, "ahead"), Note: sentenced(n.Note), Cause: sentenced(n.Cause)}
		page.Title = s.words.say("why.title", lowerFirst(s.words.need(n)))
		page.How = v.howMade(n)
		for i := range v.needs {
			if o := &v.needs[i]; o.Known && (o.Main || !holds(o)) {
				page.Others = append(page.Others, navItem{upperFirst(s.words.need(o)), v.whyWay(o), o.ID == n.ID})
			}
		}
		t, err := s.desk.trace(r.Context(), n.ID)
		switch {
		case err != nil:
			s.sayStopped(w, err)
			return
		case t == nil:
			page.Lead, page.Rest, page.Again = s.words.say("why.waits", lowerFirst(s.words.need(n))), s.words.say("wait.rest"), lookAgain
		default:
			v.traceOf(&page, t, upperFirst(s.words.need(n)))
		}
		s.render(w, http.StatusOK, "why", page)
	})
}

// howMade tells how the figures of a need come about.
func (v *view) howMade(n *engine.NeedOutlook) []string {
	out := []string{v.words.say("why.middle", v.words.days(n.Middle, n.Open[1]), v.words.count(v.o.Members)),
		v.words.say("why.sure", v.words.days(n.Sure, n.Open[0]))}
	if n.ShareShort > 0 && n.FirstShort != nil {
		out = append(out, v.words.say("why.short", v.words.inTen(n.ShareShort), v.words.long(*n.FirstShort)))
	}
	return out
}

func (v *view) traceOf(page *whyPage, t *engine.Trace, name string) {
	weather := v.words.say("why.weather", t.Weather)
	if n, made := strings.CutPrefix(t.Weather, "made "); made {
		weather = v.words.say("why.made", n)
	}
	if t.Short == nil {
		page.Lead, page.Rest = v.words.say("why.holds", name, v.words.count(t.Members)), weather
	} else {
		page.Lead = v.words.say("why.falls", name, v.words.count(t.Of), v.words.count(t.Members))
		page.Rest = weather + " " + v.words.say("why.on", v.words.long(*t.Short))
	}
	page.Store = upperFirst(t.Store)
	for _, w := range t.Weeks {
		row := whyWeek{From: v.words.short(w.From), Level: v.opt.amount(w.Level, t.Unit), Met: "–", In: v.flows(w.In, t, true), Out: v.flows(w.Out, t, false)}
		if t.Unit == "days" {
			row.Level = v.words.days(int(w.Level), false)
		}
		if w.Seed > 0 {
			row.In = strings.TrimSpace(row.In + " " + v.words.say("why.seed", v.opt.amount(w.Seed, t.FlowUnit)))
		}
		if w.Want > 0 {
			row.Met = inHundred(w.Got / w.Want)
		}
		page.Weeks = append(page.Weeks, row)
	}
}

// flows writes a week's flows by their other end.
func (v *view) flows(list []engine.Flow, t *engine.Trace, into bool) string {
	var said []string
	for _, f := range list {
		node, way := f.To, ".to"
		if into {
			node, way = f.From, ".from"
		}
		said = append(said, v.opt.amount(f.Amount, t.FlowUnit)+" "+v.nodeName(t.Material+way, node))
	}
	return strings.Join(said, ", ")
}
