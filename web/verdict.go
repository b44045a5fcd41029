package web

import (
	"math"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/engine"
)

// verdict is an outlook's in the language of the page. English is the engine's
// own; another language says the same of the same needs. What lies behind stays
// English.
func (w words) verdict(o *engine.Outlook) engine.Verdict {
	if w.foreign() == "" {
		return o.Verdict
	}
	v := w.judged(o)
	v.Why = o.Verdict.Why
	return v
}

// othersSaid is how many needs a verdict names beside the first.
const othersSaid = 3

// judged says which needs fall short first, as engine.Outlook.Judge does.
func (w words) judged(o *engine.Outlook) (v engine.Verdict) {
	short := o.Shortfalls()
	if len(short) == 0 {
		v.Lead = w.say("verdict.holds", w.long(o.Today+day.Day(o.Days-1)))
		return v
	}
	first, others := short[0], short[1:min(len(short), 1+othersSaid)]
	v.Lead = w.shortfall(first, o)
	var said []string
	for _, n := range others {
		said = append(said, w.say("verdict.each", lowerFirst(w.need(n)), w.short(*n.FirstShort), w.years(n.ShareShort)))
	}
	if len(said) > 0 {
		v.Rest = w.say("verdict.then", w.list(said)) + " "
	}
	if more := len(short) - 1 - len(others); more > 0 {
		v.Rest += w.say("verdict.more", count(more))
	} else {
		v.Rest += w.say("verdict.rest")
	}
	return v
}

// shortfall tells one need.
func (w words) shortfall(n *engine.NeedOutlook, o *engine.Outlook) string {
	when := w.say("verdict.about", w.short(*n.FirstShort))
	if *n.FirstShort-o.Today < 7 {
		when = w.say("verdict.now")
	}
	key := "verdict.one"
	if strings.HasSuffix(n.Name, "s") {
		key = "verdict.many"
	}
	return w.say(key, w.need(n), when, w.years(n.ShareShort))
}

// years says a chance as engine.Years does.
func (w words) years(p float64) string {
	switch n := math.Round(p * 10); {
	case p >= 0.995:
		return w.say("chance.all")
	case p < 0.005:
		return w.say("chance.none")
	case p > 0.95:
		return w.say("years.most")
	case n < 1:
		return w.say("years.hundred", strconv.Itoa(int(max(1, math.Round(p*100)))))
	case n == 1:
		return w.say("chance.one")
	default:
		return w.say("chance.years", strconv.Itoa(int(n)))
	}
}

// asked says what hangs on the look that a question asks for, as
// engine.Question.Said does.
func (w words) asked(q *engine.Question, o *engine.Outlook) string {
	need := w.needNamed(o, q.Need)
	if q.LowDays == q.HighDays {
		return w.say("ask.little", need)
	}
	return w.say("ask.short", lowerFirst(need), w.short(o.Today+day.Day(q.LowDays)), w.short(o.Today+day.Day(q.HighDays)))
}

// lowest says when a store stands lowest in the middle year; English is the
// engine's own.
func (w words) lowest(st *engine.StoreOutlook, today day.Day) string {
	if w.foreign() == "" || len(st.Weeks) == 0 {
		return st.Said
	}
	low := 0
	for i := range st.Weeks {
		if st.Weeks[i].P50 < st.Weeks[low].P50 {
			low = i
		}
	}
	if low == 0 {
		return w.say("store.lowest.today")
	}
	return w.say("store.lowest", w.short(today+day.Day(7*low)))
}

// needNamed is what a need of an outlook is called, by its English name.
func (w words) needNamed(o *engine.Outlook, english string) string {
	if o != nil {
		for i := range o.Needs {
			if n := &o.Needs[i]; n.Name == english {
				return w.need(n)
			}
		}
	}
	return english
}

// storeNamed is what a store of an outlook, or a food that is counted, is called, by
// its English name.
func (w words) storeNamed(o *engine.Outlook, english string) string {
	if o != nil {
		for i := range o.Stores {
			if st := &o.Stores[i]; st.Name == english {
				return w.store(st.ID, english)
			}
		}
	}
	return w.food("", english)
}

// need is what a need is called.
func (w words) need(n *engine.NeedOutlook) string { return w.name("need", n.ID, n.Name) }
