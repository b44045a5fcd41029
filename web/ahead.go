package web

import (
	"html/template"
	"net/http"
	"strconv"
	"strings"

	"evenstead/engine"
)

// storesShown is how many stores stand on Ahead; the rest are a link away.
const storesShown = 3

// aheadPage is the screen "Ahead".
type aheadPage struct {
	frame
	Verdict   engine.Verdict
	Second    template.HTML // what the verdict rests on
	Running   string        // a new reckoning under way
	Axis      template.HTML
	Cover     []coverRow
	Strips    []stripRow
	Held      string // needs that stand in a sentence; empty when there are none
	Figures   []needRow
	Stores    []storeView
	Rest      int // stores on their own screen only
	AllStores int
	Weight    string // unit of the harvest
	Crops     []cropRow
	Loops     []loopView
	Defaults  []string
	Cautions  []string
	Weather   []string
	Reckoned  string // the day it began
	SeedText  string
	Desk      *deskPart // nil where one outlook is shown by itself
}

func (s *site) ahead(w http.ResponseWriter, r *http.Request) {
	s.withOutlook(w, r, func(o *engine.Outlook, p Progress) {
		s.render(w, http.StatusOK, "ahead", s.aheadPage(s.view(o), p))
	})
}

func (s *site) aheadPage(v *view, p Progress) aheadPage {
	o, first := v.o, v.foremost(storesShown)
	return aheadPage{
		frame:     s.frame(v, "ahead"),
		Verdict:   v.words.verdict(o),
		Second:    v.restsOn(),
		Running:   s.running(o, p),
		Axis:      coverAxis(v.cover, v.words),
		Cover:     v.coverRows(),
		Strips:    v.stripRows(),
		Held:      v.heldNeeds(),
		Figures:   v.needRows(),
		Stores:    v.storeViews(first),
		Rest:      len(v.stores) - len(first),
		AllStores: len(v.stores),
		Weight:    s.opt.measure("kg").unit,
		Crops:     v.cropRows(),
		Loops:     v.loopViews(true),
		Defaults:  o.Defaults,
		Cautions:  o.Cautions,
		Weather:   o.Weather,
		Reckoned:  s.words.long(o.Today),
		SeedText:  strconv.FormatUint(o.Seed, 10),
	}
}

// restsOn is the second voice under the verdict.
func (v *view) restsOn() template.HTML {
	said := escaped(v.words.say("verdict.members", count(v.o.Members)))
	if len(v.o.Weather) > 0 {
		said += " " + v.words.quote(v.o.Weather[0])
	}
	return said
}

// coverRow is a need on the cover rule.
type coverRow struct {
	label
	Tag          string // class and key of the tag; empty for none
	Middle, Sure string
	Note         string // why it is not known
	Why          string // the way to its trace; empty for none
	Ribbon       template.HTML
}

func (v *view) coverRows() []coverRow {
	var rows []coverRow
	for i := range v.needs {
		if n := &v.needs[i]; n.Main {
			rows = append(rows, v.coverRow(n))
		}
	}
	return rows
}

func (v *view) coverRow(n *engine.NeedOutlook) coverRow {
	row := coverRow{label: v.label(n.Group, v.words.need(n)), Tag: n.Tag(), Ribbon: ribbon(n, v.cover)}
	if !n.Known {
		row.Middle, row.Note = v.words.say("cover.unknown"), n.Note
		return row
	}
	row.Why = v.whyWay(n)
	row.Middle = v.words.days(n.Middle, n.Open[1])
	row.Sure = v.words.say("cover.sure", v.words.days(n.Sure, n.Open[0]))
	return row
}

// stripRow is a need week by week.
type stripRow struct {
	label
	Worst string
	Why   string // the way to its trace; empty for none
	Strip template.HTML
}

// stripRows are the needs that may run short or are not known, and the main
// ones; those short from the first weeks on come last, for nothing turns there.
func (v *view) stripRows() []stripRow {
	var rows, always []stripRow
	for i := range v.needs {
		n := &v.needs[i]
		if holds(n) || v.left[n.ID] {
			continue
		}
		row := v.stripRow(i)
		if alwaysShort(n) {
			always = append(always, row)
		} else {
			rows = append(rows, row)
		}
	}
	return append(rows, always...)
}

func (v *view) stripRow(i int) stripRow {
	n := &v.needs[i]
	return stripRow{v.label(n.Group, v.words.need(n)), v.worst(n), v.whyWay(n), strip(n, v.ruler.weeks, ids("n", i))}
}

// heldNeeds says in one sentence which needs have no strip.
func (v *view) heldNeeds() string {
	var names []string
	for i := range v.needs {
		if n := &v.needs[i]; holds(n) {
			names = append(names, lowerFirst(v.words.need(n)))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return v.words.say("strip.held", strings.Join(names, ", "))
}

// holds tells that a need has nothing to draw: it falls short in fewer than 1
// year of 20, so that no week can reach the least chance that is drawn.
func holds(n *engine.NeedOutlook) bool {
	return n.Known && !n.Main && n.ShareShort < outlineFrom
}

// alwaysShort tells that 9 years of 10 fall short within the first four weeks.
func alwaysShort(n *engine.NeedOutlook) bool {
	return n.Known && !n.Main && n.ShareShort > sureShare && n.Long < 28
}

// needRow is a need in figures.
type needRow struct {
	Name, Note, Short, Cause string
	First, Year              string
	Met, Between             string // middle year; 1 year in 10 and 9 in 10
}

func (v *view) needRows() []needRow {
	rows := make([]needRow, len(v.needs))
	for i := range v.needs {
		rows[i] = v.needRow(&v.needs[i])
	}
	return rows
}

func (v *view) needRow(n *engine.NeedOutlook) needRow {
	row := needRow{Name: v.words.need(n), Note: n.Note, Cause: n.Cause, First: "–", Met: "–"}
	if !n.Known {
		row.Short = v.words.say("need.unknown")
		return row
	}
	row.Short = v.words.inTen(n.ShareShort)
	row.Met, row.Between = v.words.number(percent(n.Met[1])), v.words.say("met.range", percent(n.Met[0]), percent(n.Met[2]))
	if n.FirstShort != nil {
		row.First, row.Year = v.words.short(*n.FirstShort), strconv.Itoa(n.FirstShort.Year())
	}
	return row
}

// percent writes a share of what is needed as parts of a hundred.
func percent(share float64) string { return figure(float64(int(100*clamp(share, 0, 99) + 0.5))) }
