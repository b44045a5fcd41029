package web

import (
	"context"
	"fmt"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/lever"
	"evenstead/stead"
	"evenstead/unit"
)

// change is what the form of Ahead asks to be tried. It is read from an address,
// so that what was tried can be handed on.
type change struct {
	lever  string // id of one in the table of levers
	tank   string // group that gets one more
	use    string // of water that is saved
	litres float64
	bed    float64 // m2 of new ground
	away   int     // days that one is away
	rain   int     // parts of a hundred of the rain drawn; 0: as drawn
}

// fault is what is wrong with one field: the key of its words.
type faults map[string]string

// readChange reads a change; what is wrong stands by field. Fields left empty
// change nothing.
func (w words) readChange(q url.Values, st *stead.Stead, sys unit.System) (c change, bad faults) {
	bad = faults{}
	c.lever = bounded(q.Get("lever"))
	c.tank = oneOfNames(q.Get("tank"), groupNames(st), "tank", bad)
	c.litres = w.typed(q.Get("litres"), unit.Volume, sys, 0.1, 200, "litres", bad)
	if c.litres > 0 {
		if c.use = oneOfNames(q.Get("use"), lever.Savable(st), "use", bad); q.Get("use") == "" {
			bad["use"] = "try.bad.use"
		}
	}
	c.bed = w.typed(q.Get("bed"), unit.Area, sys, 0.5, 10000, "bed", bad)
	c.away = whole(q.Get("away"), 1, 180, "away", bad)
	if c.rain = whole(q.Get("rain"), 0, 200, "rain", bad); c.rain == 100 {
		c.rain = 0
	}
	return c, bad
}

// bounded bounds a text that is only compared.
func bounded(s string) string { return s[:min(len(s), 200)] }

func groupNames(st *stead.Stead) []string {
	var names []string
	for _, g := range st.Groups() {
		names = append(names, g.Name)
	}
	return names
}

func oneOfNames(name string, names []string, field string, bad faults) string {
	if name != "" && !slices.Contains(names, name) {
		bad[field] = "try.bad." + field
		return ""
	}
	return name
}

// typed reads an amount in the units of the page where it has none of its own.
func (w words) typed(text string, k unit.Kind, sys unit.System, lo, hi float64, field string, bad faults) float64 {
	text = strings.TrimSpace(bounded(text))
	if text == "" {
		return 0
	}
	bare := ""
	if sys == unit.US {
		bare = map[unit.Kind]string{unit.Volume: "gal", unit.Area: "ft2"}[k]
	}
	v, err := w.parse(text, k, bare)
	if err == nil && v == 0 {
		return 0
	}
	if err != nil || !(v >= lo && v <= hi) {
		bad[field] = "try.bad." + field
		return 0
	}
	return v
}

func whole(text string, lo, hi int, field string, bad faults) int {
	text = strings.TrimSpace(bounded(text))
	if text == "" || text == "0" && lo > 0 {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < lo || n > hi {
		bad[field] = "try.bad." + field
		return 0
	}
	return n
}

// none tells that nothing is changed.
func (c change) none() bool { return c == change{} }

// key is the change written one way.
func (c change) key() string {
	return fmt.Sprintf("%q %q %q %g %g %d %d", c.lever, c.tank, c.use, c.litres, c.bed, c.away, c.rain)
}

// on makes the change and runs it beside the stead as it stands.
func (c change) on(ctx context.Context, p *lever.Present) (*lever.Trial, error) {
	list, err := c.levers(p)
	if err != nil {
		return nil, err
	}
	l := list[0]
	if len(list) > 1 {
		l = lever.Join(list...)
	}
	return p.Try(ctx, l)
}

// levers are the parts of a change, one at least.
func (c change) levers(p *lever.Present) (list []lever.Lever, err error) {
	k := p.Kit()
	add := func(wanted bool, make func() (lever.Lever, error)) {
		if !wanted || err != nil {
			return
		}
		var l lever.Lever
		if l, err = make(); err == nil {
			list = append(list, l)
		}
	}
	add(c.lever != "", func() (lever.Lever, error) { return named(k.All(p.Outlook), c.lever) })
	add(c.tank != "", func() (lever.Lever, error) { return k.Tank(c.tank) })
	add(c.litres > 0, func() (lever.Lever, error) { return k.Litres(c.use, c.litres) })
	add(c.bed > 0, func() (lever.Lever, error) { return k.Bed(c.bed) })
	add(c.away > 0, func() (lever.Lever, error) { return k.Away(p.Outlook.Today+1, c.away) })
	add(c.rain > 0, func() (lever.Lever, error) { return k.Drier(float64(c.rain) / 100) })
	if err == nil && len(list) == 0 {
		err = fmt.Errorf("nothing is changed")
	}
	return list, err
}

func named(list []lever.Lever, id string) (lever.Lever, error) {
	i := slices.IndexFunc(list, func(l lever.Lever) bool { return l.ID == id })
	if i < 0 {
		return lever.Lever{}, fmt.Errorf("no lever %q is offered here", id)
	}
	return list[i], nil
}

// parts is how many things are changed.
func (c change) parts() int {
	n := 0
	for _, set := range []bool{c.lever != "", c.tank != "", c.litres > 0, c.bed > 0, c.away > 0, c.rain > 0} {
		if set {
			n++
		}
	}
	return max(n, 1)
}

// weeksLeast is the least change of weeks short that is told in weeks.
const weeksLeast = 0.1

// moved words a change of one need by the figure that moves: weeks short, days of
// cover, or the share that is met; "" when none moves enough.
func (w words) moved(c *lever.Change) string {
	b, a := c.Before, c.After
	switch {
	case math.Abs(b.Weeks-a.Weeks) >= weeksLeast:
		return w.say("lever.weeks", decimals(b.Weeks, 1), decimals(a.Weeks, 1))
	case b.Days != a.Days:
		return w.say("lever.days", w.days(b.Days, b.Open), w.days(a.Days, a.Open))
	case math.Abs(b.Met-a.Met) >= 0.005:
		return w.say("lever.met", percent(b.Met), percent(a.Met))
	}
	return ""
}
