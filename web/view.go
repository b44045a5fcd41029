package web

import (
	"sort"
	"strconv"

	"evenstead/engine"
)

// view is an outlook made ready to be shown: its rulers, and its needs and
// stores in the order in which they are always shown.
type view struct {
	o      *engine.Outlook
	words  words
	opt    Options
	ruler  ruler
	cover  coverRule
	needs  []engine.NeedOutlook
	stores []engine.StoreOutlook
	past   *engine.Past    // nil where one outlook is shown by itself
	left   map[string]bool // needs that another page draws
	summed bool            // its loops are a span's sum, no mean
	traced bool            // figures lead to their trace
}

func (s *site) view(o *engine.Outlook) *view {
	v := &view{o: o, words: s.words, opt: s.opt, traced: s.desk != nil}
	v.ruler = ruler{o.Today, weeksOf(o)}
	v.cover = coverRule{max(o.Days, 7)}
	v.needs = append(v.needs, o.Needs...)
	sort.SliceStable(v.needs, func(i, j int) bool { return groupRank(v.needs[i].Group) < groupRank(v.needs[j].Group) })
	v.stores = append(v.stores, o.Stores...)
	sort.SliceStable(v.stores, func(i, j int) bool { return groupRank(v.stores[i].Group) < groupRank(v.stores[j].Group) })
	return v
}

// weeksOf is the longest run of weeks in an outlook, which its rulers must hold.
func weeksOf(o *engine.Outlook) int {
	weeks := max(1, o.Days/7)
	for i := range o.Needs {
		weeks = max(weeks, len(o.Needs[i].Short), len(o.Needs[i].Covered)-1)
	}
	for i := range o.Stores {
		weeks = max(weeks, len(o.Stores[i].Weeks)-1)
	}
	return weeks
}

// need finds a need by id; nil when there is none.
func (v *view) need(id string) *engine.NeedOutlook {
	for i := range v.needs {
		if v.needs[i].ID == id {
			return &v.needs[i]
		}
	}
	return nil
}

// label is the name of a row with its hue, glyph and word.
type label struct {
	Hue, Glyph, Group, Name string
}

func (v *view) label(group, name string) label {
	g := group
	if groupRank(g) == len(groups) {
		g = engine.Room
	}
	return label{hue(g), "#i-" + g, v.words.say("group." + g), upperFirst(name)}
}

// weekIn says a week by its first day, with the year when it is not this one.
func (v *view) weekIn(i int) string {
	d := v.ruler.week(i)
	if d.Year() != v.o.Today.Year() {
		return v.words.long(d)
	}
	return v.words.short(d)
}

// worst puts the week with the greatest chance into words.
func (v *view) worst(n *engine.NeedOutlook) string {
	if !n.Known {
		return v.words.say("need.unknown")
	}
	if n.WorstWeek < 0 || n.WorstWeek >= len(n.Short) || n.Short[n.WorstWeek] < outlineFrom {
		return v.words.say("strip.holds")
	}
	return v.words.say("strip.worst", v.words.inHundred(n.Short[n.WorstWeek]), v.weekIn(n.WorstWeek))
}

// ids number the drawings of a page, so that no name from outside enters an id.
func ids(prefix string, i int) string { return prefix + strconv.Itoa(i) }
