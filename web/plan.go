package web

import (
	"errors"
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"evenstead/engine"
	"evenstead/plan"
	"evenstead/stead"
	"evenstead/unit"
)

// planPage is the year's plan, on Ground.
type planPage struct {
	frame
	Lead, Rest string
	Said       string // what accepting has just done
	Fields     []planField
	Worth      bool
	Failed     string
	Query      string // of the wishes, for CSV and accepting
	Asked      bool
	Done       *planDone
}

// planField is one field of the wishes with what was typed and what is wrong.
type planField struct {
	Name, Label, Hint, Value, Bad string
	Choices                       []planChoice // nil: it is typed
}

type planChoice struct{ Value, Label string }

// planDone is a plan in words.
type planDone struct {
	Short    string
	Members  string
	Compare  []planPair
	Before   engine.Verdict
	After    engine.Verdict
	Beds     template.HTML
	Used     string
	Dry      string
	Sowings  []planSowing
	Why      string // nothing is sown
	Seed     []planSeed
	Keep     string // of the harvest, for seed
	Table    []planMeal
	Bought   string
	Rations  []planRation
	PutUp    []planPut
	Works    []planWork
	Round    *planRound // nil: the stead has no loop and no fire
	Limits   []planLimit
	NoLimits string
}

type planPair struct{ Name, Now, Then string }

type planSowing struct{ Sow, What, Where, More string }

type planSeed struct{ By, Name, Grams, Plants string }

type planMeal struct {
	From, Eaten, Stock, Foods string
	Bar                       template.HTML
}

type planRation struct{ Name, Most string }

type planPut struct{ From, What, Hours string }

type planWork struct {
	From, Hours, Free, Water string
	Bar                      template.HTML
}

type planLimit struct{ Name, Worth string }

// planWishes are the fields of wishes by the kind they ask for.
var planWishes = []struct{ field, kind string }{{"forbid", plan.Forbid}, {"atmost", plan.AtMost}, {"atleast", plan.AtLeast}, {"fallow", plan.Fallow}, {"weigh", plan.Weigh}, {"first", plan.First}}

// usualFirst is the wish that a plan keeps to where nobody says.
var usualFirst = plan.Wish{Kind: plan.First, What: plan.Bought}

// mostWishes is how many wishes are read.
const mostWishes = 60

// readPlan reads a plan's ask from an address; what is wrong stands by field.
func readPlan(q url.Values, snap *Snapshot, w words) (ask planAsk, bad faults) {
	bad = faults{}
	for _, f := range planWishes {
		wished, err := w.marks().Plain(wishText(q.Get(f.field)))
		if two := (*unit.Twofold)(nil); errors.As(err, &two) {
			bad[f.field] = w.twofold(two).Error() + "."
			continue
		}
		for _, text := range strings.Split(wished, ",") {
			if text = strings.TrimSpace(text); text == "" || len(ask.wishes) >= mostWishes {
				continue
			}
			if f.kind == plan.AtMost || f.kind == plan.AtLeast {
				text = inUnits(text, snap.Units)
			}
			wish, err := plan.ParseWish(f.kind, text, snap.Stead, snap.Tables)
			if err != nil {
				bad[f.field] = upperFirst(err.Error()) + "."
				continue
			}
			if wish == usualFirst {
				continue
			}
			ask.wishes = append(ask.wishes, wish)
		}
	}
	if text := typedLine(bounded(q.Get("risk"))); text != "" {
		v, err := w.parse(strings.TrimSuffix(text, "%")+"%", unit.Share, "")
		if err != nil || !(v >= leastRisk && v <= mostRisk) {
			bad["risk"] = w.say("settings.risk.wrong")
		} else {
			ask.risk = v
		}
	}
	ask.once = plan.UsualYears
	if text := typedLine(bounded(q.Get("once"))); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > plan.MostYears {
			bad["once"] = w.say("plan.once.wrong", count(plan.MostYears))
		} else {
			ask.once = n
		}
	}
	ask.worth = q.Get("worth") != ""
	return ask, bad
}

// wishText is what was typed of wishes, on one line, and not without end.
func wishText(s string) string { return typedLine(s[:min(len(s), 4000)]) }

// inUnits gives a bare number before a crop the page's unit of area.
func inUnits(text string, sys unit.System) string {
	words := strings.Fields(text)
	if len(words) < 2 {
		return text
	}
	if _, err := strconv.ParseFloat(words[0], 64); err != nil {
		return text
	}
	for n := 2; n <= min(3, len(words)); n++ {
		if _, err := unit.Parse(strings.Join(words[:n], " "), unit.Area); err == nil {
			return text
		}
	}
	in := " m2 "
	if sys == unit.US {
		in = " ft2 "
	}
	return words[0] + in + strings.Join(words[1:], " ")
}

// planNames are the fields in their order on the page.
var planNames = []string{"forbid", "atmost", "atleast", "fallow", "weigh", "first", "risk", "once"}

// planFields are the fields as they were typed.
func (s *site) planFields(q url.Values, bad faults, st *stead.Stead) []planField {
	var out []planField
	for _, name := range planNames {
		f := planField{Name: name, Label: s.words.say("plan." + name), Value: wishText(q.Get(name)), Bad: bad[name]}
		switch name {
		case "risk":
			f.Hint = s.words.say("plan.risk.hint", figure(100*st.Terms.Storage))
		case "once":
			f.Hint = s.words.say("plan.once.hint", count(plan.MostYears), count(plan.UsualYears))
		case "first":
			f.Choices = []planChoice{{plan.Bought, s.words.say("plan.first.bought")}, {plan.Work, s.words.say("plan.first.work")}}
			f.Hint = s.words.say("plan.first.hint")
		default:
			f.Hint = s.words.say("plan." + name + ".hint")
		}
		out = append(out, f)
	}
	return out
}

// planQuery is the part of an address that says what was asked for.
func planQuery(q url.Values) url.Values {
	out := url.Values{}
	for _, name := range append(planNames[:len(planNames):len(planNames)], "worth") {
		if v := wishText(q.Get(name)); v != "" && (name != "first" || v != usualFirst.What) {
			out.Set(name, v)
		}
	}
	return out
}

// groundPlan shows the plan that an address asks for, or how far it has come.
func (s *site) groundPlan(w http.ResponseWriter, r *http.Request) {
	s.withStanding(w, r, func(st *standing) {
		q := r.URL.Query()
		ask, bad := readPlan(q, st.snap, s.words)
		page := planPage{frame: s.deskFrame(st.snap, "ground"), Fields: s.planFields(q, bad, st.snap.Stead), Worth: ask.worth,
			Query: planQuery(q).Encode(), Asked: len(planQuery(q)) > 0, Rest: s.words.say("plan.rest")}
		page.Title = s.words.say("plan.title")
		if q.Get("accepted") != "" {
			page.Lead, page.Rest, page.Said = s.words.say("plan.accepted"), s.words.say("plan.accepted.rest"), "yes"
			s.render(w, http.StatusOK, "plan", page)
			return
		}
		if len(bad) > 0 {
			page.Lead, page.Rest = s.words.say("plan.bad"), s.words.say("plan.bad.rest")
			s.render(w, http.StatusUnprocessableEntity, "plan", page)
			return
		}
		got, err := s.desk.Plan(r.Context(), ask)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		st.planSaid(&page, &got)
		s.render(w, http.StatusOK, "plan", page)
	})
}

// planSaid puts what has come of an ask on the page.
func (s *standing) planSaid(page *planPage, got *planned) {
	switch {
	case !got.done:
		page.Again = lookAgain
		page.Lead = s.say("plan.making", tenths(got.count))
	case got.err != nil:
		page.Lead, page.Rest = s.say("plan.failed"), upperFirst(got.err.Error())+"."
	default:
		page.Done = s.planDone(got.plan)
		b, a := &got.plan.Measured.Before, &got.plan.Measured.After
		page.Lead = s.say("plan.lead", percent(a.Covered), percent(b.Covered))
		page.Rest = s.say("plan.lead.rest", decimals(a.AnyLean, 1), decimals(b.AnyLean, 1))
	}
}

// acceptPlan writes the plan that a form names into the description, from today on.
func (s *site) acceptPlan(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	s.withDesk(w, r, func(snap *Snapshot) {
		q := planQuery(r.PostForm)
		back := "/ground/plan?" + q.Encode()
		if snap.Tables == nil {
			s.seeOther(w, r, back)
			return
		}
		ask, bad := readPlan(q, snap, s.words)
		if len(bad) > 0 {
			s.seeOther(w, r, back)
			return
		}
		got, err := s.desk.Plan(r.Context(), ask)
		switch {
		case err != nil:
			s.sayStopped(w, err)
			return
		case !got.done || got.err != nil:
			s.seeOther(w, r, back)
			return
		}
		if err := s.desk.home.Describe(r.Context(), snap.Today, "the plan", got.text); err != nil {
			s.sayStopped(w, err)
			return
		}
		s.desk.Changed()
		s.seeOther(w, r, "/ground/plan?accepted=1")
	})
}
