package engine

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/day"
	"evenstead/weather"
)

// Judge writes the outlook's verdict in words.
func (o *Outlook) Judge() {
	short := o.shortfalls()
	if len(short) == 0 {
		end := o.Today + day.Day(o.Days-1)
		o.Verdict.Lead = "All holds to " + end.Long() + " in at least 9 years of 10."
		return
	}
	first := short[0]
	o.Verdict.Lead = sentence(first, o)
	rest := short[1:]
	if len(rest) > 3 {
		rest = rest[:3]
	}
	var said []string
	for _, n := range rest {
		said = append(said, lower(n.Name)+" about "+n.FirstShort.Short()+" ("+Years(n.ShareShort)+")")
	}
	if len(said) > 0 {
		o.Verdict.Rest = "Then " + join(said) + ". "
	}
	if more := len(short) - 1 - len(rest); more > 0 {
		o.Verdict.Rest += fmt.Sprintf("%d more needs are listed below.", more)
	} else {
		o.Verdict.Rest += "The rest holds."
	}
}

// sentence tells one shortfall.
func sentence(n *NeedOutlook, o *Outlook) string {
	when := "about " + n.FirstShort.Short()
	if *n.FirstShort-o.Today < 7 {
		when = "already this week"
	}
	verb := " runs short "
	if strings.HasSuffix(n.Name, "s") {
		verb = " run short "
	}
	return n.Name + verb + when + " in " + Years(n.ShareShort) + "."
}

// shortfalls are the needs that at least one year in ten leaves short: the main
// ones first, the likely before the less likely, then by date.
func (o *Outlook) shortfalls() []*NeedOutlook {
	var list []*NeedOutlook
	for i := range o.Needs {
		if n := &o.Needs[i]; n.Known && n.FirstShort != nil && n.ShareShort >= 0.1 {
			list = append(list, n)
		}
	}
	slices.SortStableFunc(list, func(a, b *NeedOutlook) int {
		if a.rank() != b.rank() {
			return a.rank() - b.rank()
		}
		return int(*a.FirstShort - *b.FirstShort)
	})
	return list
}

// rank puts main needs before others, and what is likelier short than not before
// the rest.
func (n *NeedOutlook) rank() int {
	rank := 0
	if !n.Main {
		rank += 2
	}
	if n.ShareShort < 0.5 {
		rank++
	}
	return rank
}

// Years says a chance as years of ten, or of a hundred when it is small.
func Years(p float64) string {
	switch n := math.Round(p * 10); {
	case p >= 0.995:
		return "every year"
	case p < 0.005:
		return "no year"
	case p > 0.95:
		return "more than 9 years of 10"
	case n < 1:
		return fmt.Sprintf("%.0f years of 100", math.Max(1, math.Round(p*100)))
	case n == 1:
		return "1 year of 10"
	default:
		return fmt.Sprintf("%.0f years of 10", n)
	}
}

func percent(p float64) string { return fmt.Sprintf("%.0f in 100", p*100) }

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func join(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// suspects are the limits that may stand behind a group's shortfalls.
var suspects = map[string][]struct {
	take Without
	say  string
}{
	Water: {{NoTankLimit, "too little rain is caught and kept"}, {NoIrrigation, "the beds drink what the house needs"}},
	Food: {{NoDryStress, "the crops go dry"}, {NoHunger, "the ground is hungry"}, {NoFrost, "frost takes the harvest"},
		{NoSpoilage, "food spoils in store"}, {NoHourLimit, "hands are too few for the work"}, {NoPests, "pests and failed crops"}},
	Heat:  {{NoPuttingUp, "putting up takes the fuel"}},
	Hours: {{NoIrrigation, "carrying and leading water takes the hours"}, {NoPuttingUp, "putting up takes the hours"}, {NoForage, "gathering takes the hours"}},
}

// causeMembers is how many members a search for causes runs.
const causeMembers = 60

// Causes looks for what stands behind each main shortfall by taking one limit
// away at a time, over the same weather and luck, and keeps the limit whose
// absence does most. prepare must make the same stead with other options.
func (o *Outlook) Causes(ctx context.Context, ens *weather.Ensemble, opt Options, prepare func(Options) (*Model, error)) error {
	few := *ens
	few.Members = ens.Members[:min(causeMembers, len(ens.Members))]
	opt.Report = nil
	runs := map[Without]*Outlook{}
	look := func(w Without) (*Outlook, error) {
		if have, ok := runs[w]; ok {
			return have, nil
		}
		with := opt
		with.Without |= w
		m, err := prepare(with)
		if err != nil {
			return nil, err
		}
		res, err := m.Run(ctx, &few, with)
		if err != nil {
			return nil, err
		}
		runs[w] = res.Outlook()
		return runs[w], nil
	}
	base, err := look(0)
	if err != nil {
		return err
	}
	for _, n := range o.shortfalls() {
		if !n.Main {
			continue
		}
		if err := n.cause(base, look); err != nil {
			return err
		}
	}
	o.Verdict.Why = o.empties()
	if list := o.shortfalls(); len(list) > 0 && list[0].Cause != "" {
		o.Verdict.Why += list[0].Name + ": " + list[0].Cause
	}
	return nil
}

// empties tells which store comes to its line first in the middle year, if any
// does: within a hundredth of its size, or of what it holds today.
func (o *Outlook) empties() string {
	first, name := math.MaxInt, ""
	for i := range o.Stores {
		s := &o.Stores[i]
		if s.Group == Room || s.Now <= s.Line {
			continue
		}
		near := s.Line + 0.01*max(s.Size, s.Now)
		w := slices.IndexFunc(s.Weeks, func(b Band) bool { return b.P50 <= near })
		if w > 0 && w < first {
			first, name = w, s.Name
		}
	}
	if name == "" {
		return ""
	}
	return fmt.Sprintf("Of the stores, %s comes to its end first, about %s in the middle year. ", lower(name), (o.Today + day.Day(7*first)).Short())
}

// cause tries the suspects of a need's group and words what does most.
func (n *NeedOutlook) cause(base *Outlook, look func(Without) (*Outlook, error)) error {
	before := base.find(n.ID)
	if before == nil || before.lack() <= 0 {
		return nil
	}
	if len(suspects[n.Group]) == 0 {
		return nil
	}
	best, gain := "", 0.0
	for _, s := range suspects[n.Group] {
		if n.ID == "beds" && s.take == NoIrrigation {
			continue
		}
		out, err := look(s.take)
		if err != nil {
			return err
		}
		if after := out.find(n.ID); after != nil {
			if g := before.lack() - after.lack(); g > gain {
				best, gain = s.say, g
			}
		}
	}
	switch share := gain / before.lack(); {
	case !(share >= 0.05):
		n.Cause = "there is too little of it to begin with: none of the limits tried explains a twentieth of the lack."
	default:
		n.Cause = fmt.Sprintf("%s; without that, %.0f in 100 of the lack is gone.", best, share*100)
	}
	return nil
}

func (o *Outlook) find(id string) *NeedOutlook {
	for i := range o.Needs {
		if o.Needs[i].ID == id {
			return &o.Needs[i]
		}
	}
	return nil
}

// lack is the mean weekly chance of falling short, and what of the need goes unmet.
func (n *NeedOutlook) lack() float64 {
	sum := 0.0
	for _, p := range n.Short {
		sum += p
	}
	return sum/float64(max(1, len(n.Short))) + (1 - n.Met[1])
}
