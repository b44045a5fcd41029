package web

import (
	"fmt"

	"evenstead/day"
)

// A nowAct is one of the week's first things to do.
type nowAct struct {
	When, Lead, Rest string
	Quote            string // why, in English
	Care, Source     string // its caution, and where that is from
	Told             bool   // Lead and Rest are of the week's list, in English
	Way, Verb        string // to where it is done or noted; empty for none
}

// longestRest is how much of an amount Now shows; the week has all of it.
const longestRest = 90

// mostActs is how many of the week's tasks Now shows, the daily rounds aside.
const mostActs = 6

// acts are what is to be mended in the book, then the first of the week's tasks as
// the week lists them, without those that the book has; before them the daily rounds
// that it has not yet today.
func (n *present) acts() (rounds []string, list []nowAct) {
	if n.now == nil {
		return nil, nil
	}
	list = n.mendActs()
	plan, err := n.work(n.snap, 1)
	if err != nil {
		return nil, append(list, nowAct{Lead: upperFirst(err.Error()) + ".", Told: true})
	}
	shown := 0
	for i := range plan.Weeks[0].Tasks {
		t := &plan.Weeks[0].Tasks[i]
		if shown == mostActs {
			break // what stands in the book is not read for more
		}
		switch had, of, _ := n.snap.noted(t); {
		case of > 0 && had == of:
		case t.Daily:
			rounds = append(rounds, t.Title)
		default:
			shown++
			list = append(list, nowAct{When: n.whenBy(t.By), Lead: t.Title + ".", Rest: shorten(sentenced(t.Amount), longestRest), Quote: sentenced(t.Why),
				Care: sentenced(t.Caution), Source: t.Source, Told: true, Way: "/week#t-" + t.ID, Verb: n.words.say("act.note.verb")})
		}
	}
	return rounds, list
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

// mendActs asks to mend entries that can't be reckoned with.
func (n *present) mendActs() []nowAct {
	refused := n.snap.Past.Refused()
	if len(refused) == 0 {
		return nil
	}
	a := nowAct{When: n.words.say("act.today"), Lead: n.words.say("act.mendone.lead"), Rest: n.words.say("act.mendone.rest"), Quote: refused[0],
		Verb: n.words.say("act.mend.verb"), Way: "/book"}
	if len(refused) > 1 {
		a.Lead, a.Rest = n.words.say("act.mend.lead", count(len(refused))), n.words.say("act.mend.rest")
	}
	return []nowAct{a}
}
