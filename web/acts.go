package web

import (
	"fmt"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/day"
)

// A nowAct is one of the week's few most useful things to do.
type nowAct struct {
	When, Lead, Rest, Why string
	Told                  bool   // Why is a sentence of the engine's, in English
	Way, Verb             string // what noting it begins with; empty for none
	by                    day.Day
}

const (
	mostActs  = 7
	fortnight = 14 // days that the acts look ahead
	thirsty   = 21 // days of the house's use under which a tank is looked at
)

// acts are the week's acts, the most pressing first.
func (n *present) acts() []nowAct {
	var list []nowAct
	if n.now != nil {
		for _, more := range []func() []nowAct{n.mendActs, n.frostActs, n.tankActs, n.drumActs, n.toiletActs, n.eatActs} {
			list = append(list, more()...)
		}
	}
	list = append(list, n.lookActs()...)
	slices.SortStableFunc(list, func(a, b nowAct) int { return int(a.by - b.by) })
	list = list[:min(len(list), mostActs)]
	for i := range list {
		list[i].When = n.whenBy(list[i].by)
	}
	return list
}

// whenBy says by when: today, a day of this week, or a date.
func (n *present) whenBy(d day.Day) string {
	switch away := int(d - n.snap.Today); {
	case away <= 0:
		return n.words.say("act.today")
	case away < 7:
		return n.words.say("act.by", n.words.say(fmt.Sprintf("weekday.%d", d.Time().Weekday())))
	}
	return n.words.say("act.by", n.words.short(d))
}

func (n *present) act(by day.Day, key string, args ...any) nowAct {
	return nowAct{by: by, Lead: n.words.say(key+".lead", args...), Rest: n.words.or(key+".rest", ""), Why: n.words.or(key+".why", "")}
}

// noting gives an act a way to the note box, the note begun.
func (a nowAct) noting(verb, note string) nowAct {
	a.Verb, a.Way = verb, "/?note="+url.QueryEscape(note)+"#note"
	return a
}

// mendActs asks to mend entries that can't be reckoned with.
func (n *present) mendActs() []nowAct {
	refused := n.snap.Past.Refused()
	if len(refused) == 0 {
		return nil
	}
	a := n.act(n.snap.Today, "act.mend", count(len(refused)))
	if len(refused) == 1 {
		a = n.act(n.snap.Today, "act.mendone")
	}
	a.Why, a.Told, a.Verb, a.Way = refused[0], true, n.words.say("act.mend.verb"), "/book"
	return []nowAct{a}
}

// tenderTo is the temperature at which a crop counts as one that frost takes.
const tenderTo = -2.0

// frostActs tells of the usual frosts within a fortnight. No forecast is known,
// so that the year's habit is all there is to go by.
func (n *present) frostActs() []nowAct {
	c := n.snap.Usual
	var list []nowAct
	soon, ok := near(c.FirstAutumn.Sooner(0.1), n.snap.Today)
	usual, most := near(c.FirstAutumn.Sooner(0.5), n.snap.Today)
	if names := n.tender(); ok && most && len(names) > 0 && n.snap.Today+fortnight >= soon && n.snap.Today <= usual+fortnight {
		a := n.act(max(soon, n.snap.Today), "act.autumn", n.words.list(names))
		a.Why = n.words.say("act.autumn.why", n.words.short(usual), n.words.short(soon))
		list = append(list, a)
	}
	late, ok := near(c.LastSpring.Later(0.1), n.snap.Today)
	usual, most = near(c.LastSpring.Later(0.5), n.snap.Today)
	if ok && most && n.snap.Today >= usual-fortnight && n.snap.Today <= late {
		a := n.act(n.snap.Today+6, "act.spring")
		a.Why = n.words.say("act.spring.why", n.words.short(usual), n.words.short(late))
		list = append(list, a)
	}
	return list
}

// tender names up to three stands that frost takes.
func (n *present) tender() []string {
	var names []string
	for _, p := range n.now.Plots {
		for _, st := range p.Stands {
			if name := lowerFirst(n.words.crop(st.Crop, st.Name)); st.Kills >= tenderTo && !slices.Contains(names, name) && len(names) < 3 {
				names = append(names, name)
			}
		}
	}
	return names
}

// tankActs tells of tanks near their line.
func (n *present) tankActs() (list []nowAct) {
	for i := range n.now.Tanks {
		g := &n.now.Tanks[i]
		left := max(0, g.Level-g.Dead)
		days := math.Inf(1)
		if g.Use > 0 {
			days = left / g.Use
		}
		if days >= thirsty && (g.Reserve <= g.Dead || g.Level > g.Reserve) {
			continue
		}
		a := n.act(n.snap.Today+day.Day(min(6, days/4)), "act.tank", upperFirst(g.Name), n.opt.amount(left, "L"))
		if days < thirsty {
			a.Rest = n.words.say("act.tank.days", count(int(days)))
		}
		if g.Reserve > g.Dead && g.Level <= g.Reserve {
			a.Why = n.words.say("act.tank.kept")
		}
		list = append(list, a.noting(n.words.say("act.dip.verb"), "dipped "+g.Name+" at "))
	}
	return list
}

// drumActs tells of drums to close, and of those that have rested long enough.
func (n *present) drumActs() (list []nowAct) {
	if n.now.Toilet == nil {
		return nil
	}
	rule := n.now.Gate("drum")
	for _, d := range n.now.Toilet.Drums {
		drum := fmt.Sprintf("drum %d", d.Number) // as a note names it
		name := lowerFirst(n.words.say("drum.name", strconv.Itoa(d.Number)))
		switch {
		case d.Filling && d.Full != 0 && d.Full <= n.snap.Today+fortnight:
			a := n.act(d.Full, "act.close", name)
			a.Why = n.words.say("act.close.why", n.words.long(d.Full+day.Day(n.now.Toilet.CureDays)))
			list = append(list, a.noting(n.words.say("act.note.verb"), "closed "+drum))
		case d.Opens != 0 && d.Litres > 0 && d.Opens <= n.snap.Today+fortnight:
			a := n.act(max(d.Opens, n.snap.Today+6), "act.open", upperFirst(name), n.words.long(d.Opens))
			a.Why = n.words.say("act.open.why", upperFirst(n.now.Gate("drum-place").Rule), rule.Source)
			list = append(list, a)
		}
	}
	return list
}

// toiletActs tells of cans that fill and of cover that ends.
func (n *present) toiletActs() (list []nowAct) {
	t := n.now.Toilet
	if t == nil {
		return nil
	}
	if t.Apart && t.UrineDays < 7 && t.Urine > 0 {
		a := n.act(n.snap.Today+day.Day(t.UrineDays), "act.urine", n.opt.amount(t.Urine, "L"))
		a.Why = n.words.say("act.urine.why", upperFirst(n.now.Gate("urine").Rule), n.now.Gate("urine").Source)
		list = append(list, a.noting(n.words.say("act.note.verb"), "spread "))
	}
	if t.CoverDays < fortnight {
		list = append(list, n.act(n.snap.Today+day.Day(t.CoverDays/2), "act.cover", count(int(t.CoverDays))))
	}
	return list
}

// eatDays is within how many days a quarter of a lot goes for it to be eaten first.
const eatDays = 21

// eatActs names what goes soonest in the larder.
func (n *present) eatActs() []nowAct {
	var names []string
	var first, kg = day.Day(0), 0.0
	for i := range n.now.Lots {
		l := &n.now.Lots[i]
		if l.Quarter == 0 || l.Quarter > n.snap.Today+eatDays || len(names) == 3 {
			break
		}
		if kg += l.Kg; first == 0 {
			first = l.Quarter
		}
		names = append(names, n.words.say("amount.of", n.opt.amount(l.Kg, "kg"), lowerFirst(n.words.food(l.Food, l.Name))))
	}
	if len(names) == 0 {
		return nil
	}
	a := n.act(max(first, n.snap.Today), "act.eat", n.words.list(names))
	a.Why = n.words.say("act.eat.why", n.words.short(first))
	return []nowAct{a.noting(n.words.say("act.note.verb"), "ate ")}
}

// lookActs asks for the look that would tell most; before that is known, for the
// store that was seen longest ago.
func (n *present) lookActs() []nowAct {
	o := n.snap.Outlook
	if o == nil || o.Found == nil || len(o.Found.Ask) == 0 {
		return nil
	}
	q := &o.Found.Ask[0]
	key, verb, note := "act.count", n.words.say("act.count.verb"), "counted "+q.Store+" "
	if q.Unit == "L" {
		key, verb, note = "act.dip", n.words.say("act.dip.verb"), "dipped "+strings.TrimSuffix(q.Store, " water")+" at "
	}
	a := n.act(n.snap.Today+1, key, lowerFirst(n.words.storeNamed(o, q.Store)))
	a.Rest = n.words.say("act.look.rest", n.opt.amount(q.Low, q.Unit), n.opt.amount(q.High, q.Unit))
	a.Why = upperFirst(n.words.asked(q, o)) + "."
	return []nowAct{a.noting(verb, strings.ReplaceAll(note, ",", ""))}
}
