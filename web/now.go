package web

import (
	"errors"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
)

// nowPage is the screen "Now".
type nowPage struct {
	frame
	Lead, Rest string
	Second     template.HTML
	Wrote      string   // what a form has just done; empty when none has
	Alarms     []string // what sensors ring for
	Axis       template.HTML
	Cover      []nowRow
	Rounds     []string // of today, in English
	Acts       []nowAct
	Note       noteForm
	Since      []sinceLine
}

// nowRow is a need on the cover rule, with when it may run short.
type nowRow struct {
	coverRow
	When string
}

// sinceLine is a line of "Since yesterday".
type sinceLine struct {
	Lead, Rest string
	Quote      string // what the book or a sensor says, in English
	Why        template.HTML
}

// noteForm is the quick-note box.
type noteForm struct {
	Text, Error string
	People      []choice
}

// present is what the screen is made from.
type present struct {
	*site
	snap *Snapshot
	now  *engine.Standing // nil without a Past
	view *view            // nil before the first outlook
}

func (s *site) now(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		n := &present{site: s, snap: snap}
		if snap.Past != nil {
			n.now = snap.Past.Standing()
		}
		page := nowPage{frame: s.deskFrame(snap, "now"), Note: n.noteForm(r.URL.Query()), Wrote: n.done(r.URL.Query())}
		if snap.Outlook != nil {
			n.view = s.view(snap.Outlook)
			page.Axis, page.Cover = coverAxis(n.view.cover, s.words), n.cover()
		}
		page.Lead, page.Rest, page.Second = n.verdict()
		page.Rounds, page.Acts = n.acts()
		page.Since, page.Alarms = n.since(), n.alarms()
		s.render(w, http.StatusOK, "now", page)
	})
}

// deskFrame is the frame of a screen over a household's own stead.
func (s *site) deskFrame(snap *Snapshot, current string) frame {
	f := s.bareFrame(s.words.say("screen."+current), current)
	if f.Stead == "" {
		f.Stead = snap.Stead.Name
	}
	f.Almanac = s.words.say("now.almanac", s.words.weekday(snap.Today), count(int(snap.Today-snap.Context.From)+1))
	r, cover := ruler{snap.Today, usualWeeks}, coverRule{365}
	if snap.Outlook != nil {
		v := s.view(snap.Outlook)
		r.weeks, cover = v.ruler.weeks, v.cover
	}
	f.Defs = defs(r, cover, s.words)
	if snap.rain != nil {
		f.Year = yearRule(r, snap.rain, s.words.say("year.title"), s.words.say("year.desc", count(min(len(snap.rain.Past), r.past()))))
	}
	return f
}

// verdict is what stands first: the outlook's, or why there is none yet.
func (n *present) verdict() (lead, rest string, second template.HTML) {
	o, p := n.snap.Outlook, n.snap.Progress
	switch {
	case o == nil && errors.Is(n.snap.Trouble, hearth.ErrNoWeather):
		return n.words.say("now.blind"), n.words.say("now.blind.rest"), escaped(n.words.say("now.noweather"))
	case o == nil && n.snap.Trouble != nil:
		return n.words.say("now.blind"), n.words.say("now.blind.rest"), n.words.quote(upperFirst(n.snap.Trouble.Error()))
	case o == nil && p.Err != nil:
		return n.words.say("stopped.lead"), "", n.words.quote(p.Err.Error())
	case o == nil && p.Done == 0:
		return n.words.say("wait.begun"), n.words.say("now.wait"), ""
	case o == nil:
		return n.words.say("wait.lead", tenths(p)), n.words.say("now.wait"), ""
	}
	second = n.view.restsOn()
	if said := n.running(o, p); said != "" {
		second = escaped(said)
	} else if n.snap.Stale {
		second = escaped(n.words.say("running.on", n.words.long(o.Today), tenths(p)))
	}
	v := n.words.verdict(o)
	return v.Lead, v.Rest, second
}

// cover are the main needs of water, food, heat and soil.
func (n *present) cover() []nowRow {
	var rows []nowRow
	for i := range n.view.needs {
		need := &n.view.needs[i]
		if need.Main && groupRank(need.Group) <= groupRank(engine.Soil) {
			rows = append(rows, nowRow{n.view.coverRow(need), n.when(need)})
		}
	}
	return rows
}

// when says the week a need may run short, when one year of ten or more is.
func (n *present) when(need *engine.NeedOutlook) string {
	if !need.Known || need.FirstShort == nil || need.ShareShort < 0.1 {
		return ""
	}
	week := n.view.weekIn(max(0, int(*need.FirstShort-n.snap.Outlook.Today)/7))
	return n.words.say("now.when", week, n.words.inTen(need.ShareShort))
}

// mostPrefill is the most bytes of a note that a link may fill in.
const mostPrefill = 1000

func (n *present) noteForm(q url.Values) noteForm {
	f := noteForm{Text: q.Get("note")}
	if len(f.Text) > mostPrefill {
		f.Text = ""
	}
	who := q.Get("who")
	if draft := n.drafts.find(q.Get("draft")); draft != nil {
		f.Text, f.Error, who = draft.Get("text"), draft.Get("error"), draft.Get("who")
	}
	f.People = n.household(n.snap, who)
	return f
}

// household offers who did a thing; nobody to choose from in a household of one.
func (s *site) household(snap *Snapshot, who string) (list []choice) {
	if len(snap.Stead.People) < 2 {
		return nil
	}
	for _, p := range snap.Stead.People {
		list = append(list, choice{p.Name, p.Name, p.Name == who})
	}
	return list
}

// done says what a form before this page did.
func (n *present) done(q url.Values) string {
	wrote, err := strconv.Atoi(q.Get("wrote"))
	switch {
	case q.Get("gone") != "":
		return n.words.say("note.gone")
	case err != nil || wrote < 1:
		return ""
	case wrote == 1:
		return n.words.say("note.wrote.one")
	}
	return n.words.say("note.wrote", count(wrote))
}

// mostSince is how many lines tell what changed.
const mostSince = 6

// since tells what changed since yesterday: what was found, how cover moved,
// what was written.
func (n *present) since() []sinceLine {
	list := slices.Concat(n.troubles(), n.drifts(), n.moved())
	if c, ok := n.written(); ok {
		list = append(list[:min(len(list), mostSince-1)], c)
	}
	return list[:min(len(list), mostSince)]
}

func (n *present) drifts() (list []sinceLine) {
	if n.snap.Past == nil {
		return nil
	}
	all := n.snap.Past.Drifts
	for i := len(all) - 1; i >= 0 && all[i].Day >= n.snap.Today-1; i-- {
		d := &all[i]
		if d.Likely == "" {
			continue
		}
		c := sinceLine{Lead: upperFirst(n.words.storeNamed(n.snap.Outlook, d.Store)) + ":", Rest: n.words.say("since.found", n.opt.amount(d.Found, d.Unit), n.opt.amount(d.Reckoned, d.Unit))}
		c.Why = n.words.told("since.likely", d.Likely)
		list = append(list, c)
	}
	return list
}

// moved are the main needs whose cover is not what the outlook before said, by
// the day it ends.
func (n *present) moved() (list []sinceLine) {
	before, now := n.snap.Earlier, n.snap.Outlook
	if before == nil || now == nil {
		return nil
	}
	for i := range now.Needs {
		is, was := &now.Needs[i], needOf(before, now.Needs[i].ID)
		if was == nil || !is.Main || !is.Known || !was.Known || is.Open[1] && was.Open[1] {
			continue
		}
		if ends, ended := now.Today+day.Day(is.Middle), before.Today+day.Day(was.Middle); gap(ends, ended) > 1 {
			list = append(list, sinceLine{Lead: n.words.need(is) + ":", Rest: n.words.say("since.cover", n.words.days(is.Middle, is.Open[1]), n.words.days(was.Middle, was.Open[1]))})
		}
	}
	if now.Verdict.Lead != before.Verdict.Lead {
		list = append(list, sinceLine{Lead: n.words.say("since.before"), Rest: n.words.verdict(before).Lead})
	}
	return list
}

func needOf(o *engine.Outlook, id string) *engine.NeedOutlook {
	for i := range o.Needs {
		if o.Needs[i].ID == id {
			return &o.Needs[i]
		}
	}
	return nil
}

// written counts the entries of today and yesterday, and reads the last of them.
func (n *present) written() (c sinceLine, ok bool) {
	var last []string
	total := 0
	for i := len(n.snap.Entries) - 1; i >= 0 && n.snap.Entries[i].Day >= n.snap.Today-1; i-- {
		if total++; len(last) < 4 {
			last = append(last, n.snap.Entries[i].Undated(n.snap.Units))
		}
	}
	switch total {
	case 0:
		return n.quiet()
	case 1:
		return sinceLine{Lead: n.words.say("since.one"), Quote: upperFirst(last[0]) + "."}, true
	}
	return sinceLine{Lead: n.words.say("since.entries", count(total)), Why: n.words.quote(upperFirst(strings.Join(last, "; ")) + ".")}, true
}

// quiet says how long nothing has been written, once that is longer than a day.
func (n *present) quiet() (c sinceLine, ok bool) {
	if len(n.snap.Entries) == 0 {
		return sinceLine{Lead: n.words.say("since.empty"), Rest: n.words.say("since.empty.rest")}, true
	}
	days := int(n.snap.Today - n.snap.Entries[len(n.snap.Entries)-1].Day)
	return sinceLine{Lead: n.words.say("since.quiet", count(days)), Rest: n.words.say("since.quiet.rest")}, true
}
