package main

import (
	"cmp"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/diet"
	"evenstead/engine"
	"evenstead/larder"
	"evenstead/lever"
	"evenstead/stead"
	"evenstead/unit"
)

// A larderGap is when food runs lean and what would fill it.
type larderGap struct {
	Members int          `json:"members"`
	Lead    string       `json:"lead"`
	Weakest []string     `json:"weakest"` // nutrients, the one that lacks most first
	Needs   []larderLean `json:"needs"`
	Not     []string     `json:"not_tried,omitempty"`
}

// A larderLean is one need's lean weeks.
type larderLean struct {
	ID    string        `json:"id"`
	Name  string        `json:"name"`
	Spans []larderSpan  `json:"lean"`
	Weeks float64       `json:"weeks_short"` // in the mean year
	Fills []larderFills `json:"fills"`
	Say   string        `json:"say,omitempty"` // what is known of a need that nothing tried fills
}

// A larderSpan is weeks in a row that fall short in half the years or more.
type larderSpan struct {
	From  day.Day `json:"from"`
	To    day.Day `json:"to"`
	Worst float64 `json:"worst"` // share of years
	first int
	last  int
}

// A larderFills is one thing that was tried against a gap.
type larderFills struct {
	Name   string  `json:"name"`
	Before float64 `json:"weeks_short_before"` // in the lean weeks of the mean year
	After  float64 `json:"weeks_short_after"`
	Met    float64 `json:"met_before"` // share of the whole need, in the middle year
	Then   float64 `json:"met_after"`
	Jars   bool    `json:"jars"`
}

// How the gap is looked for.
const (
	leanShare  = 0.5  // of years that fall short, for a week to be lean
	weakest    = 3    // nutrients looked at beside energy, protein and fat
	triedEach  = 4    // sowings tried for a need
	shownEach  = 3    // told of those that help
	sowGround  = 20.0 // m2 of new bed for a sowing
	fillShare  = 0.25 // of the need of the lean weeks that jars are to hold
	mostJars   = 300
	gainLeast  = 0.05  // weeks that a thing must save to be told, or
	metLeast   = 0.005 // share of the whole need that it must bring
	jarSpreads = 2     // kinds of jars tried for a need
)

// gapFinder tries things against gaps.
type gapFinder struct {
	*pantry
	present *lever.Present
	sowings []engine.Sowing
	tried   map[string]*engine.Outlook // by name; nil: it could not be tried
}

func (p *pantry) gap(ctx context.Context) error {
	present, err := lever.Run(ctx, p.r, p.sys, p.q.members)
	if err != nil {
		return blame(err)
	}
	g := gapFinder{pantry: p, present: present, tried: map[string]*engine.Outlook{}}
	o := present.Outlook
	if g.sowings, err = engine.Sowings(p.r.Stead, p.r.Tables, p.r.Members, o.Today, o.Days); err != nil {
		return blame(err)
	}
	gap := &larderGap{Members: o.Members, Lead: o.Verdict.Lead}
	needs := g.needs(o, gap)
	for i, n := range needs {
		lean := larderLean{ID: n.ID, Name: n.Name, Spans: spansOf(o, n)}
		for _, s := range n.Short {
			lean.Weeks += s
		}
		if len(lean.Spans) > 0 {
			if lean.Fills, err = g.fills(ctx, n, lean.Spans); err != nil {
				return err
			}
			if c, ok := diet.CautionOn(n.ID); ok && len(lean.Fills) == 0 {
				lean.Say = c.Text + " (" + c.Source + ")"
			}
		}
		gap.Needs = append(gap.Needs, lean)
		if p.report != nil {
			p.report(i+1, len(needs))
		}
	}
	p.b.Gap = gap
	return nil
}

// needs are energy, protein and fat, and the weakest of the other nutrients.
func (g *gapFinder) needs(o *engine.Outlook, gap *larderGap) []*engine.NeedOutlook {
	var main, rest []*engine.NeedOutlook
	for i := range o.Needs {
		n := &o.Needs[i]
		switch {
		case n.Group != engine.Food:
		case !n.Known:
			gap.Not = append(gap.Not, lowerFirst(n.Name))
		case n.Main:
			main = append(main, n)
		case n.Lack() > 0.02:
			rest = append(rest, n)
		}
	}
	slices.SortStableFunc(rest, func(a, b *engine.NeedOutlook) int { return cmp.Compare(b.Lack(), a.Lack()) })
	for _, n := range rest {
		gap.Weakest = append(gap.Weakest, lowerFirst(n.Name))
	}
	return append(main, rest[:min(weakest, len(rest))]...)
}

// spansOf are the runs of weeks in which half the years or more fall short.
func spansOf(o *engine.Outlook, n *engine.NeedOutlook) (out []larderSpan) {
	for w, s := range n.Short {
		if s < leanShare {
			continue
		}
		from := o.Today + day.Day(7*w)
		if k := len(out) - 1; k >= 0 && out[k].last == w-1 {
			out[k].To, out[k].last, out[k].Worst = from+6, w, max(out[k].Worst, s)
			continue
		}
		out = append(out, larderSpan{from, from + 6, s, w, w})
	}
	return out
}

// leanShort is how many of the lean weeks fall short in the mean year.
func leanShort(n *engine.NeedOutlook, spans []larderSpan) (weeks float64) {
	if n == nil || !n.Known {
		return math.NaN()
	}
	for _, s := range spans {
		for w := s.first; w <= min(s.last, len(n.Short)-1); w++ {
			weeks += n.Short[w]
		}
	}
	return weeks
}

// fills tries the likeliest sowings and jars against a need, and keeps the best.
func (g *gapFinder) fills(ctx context.Context, n *engine.NeedOutlook, spans []larderSpan) ([]larderFills, error) {
	j := g.nutrient(n.ID)
	if j < 0 {
		return nil, nil
	}
	before := leanShort(n, spans)
	var out []larderFills
	add := func(name string, jars bool, o *engine.Outlook) {
		if o == nil {
			return
		}
		then := o.Need(n.ID)
		after := leanShort(then, spans)
		if before-after >= gainLeast || !math.IsNaN(after) && then.Met[1]-n.Met[1] >= metLeast {
			out = append(out, larderFills{name, before, after, n.Met[1], then.Met[1], jars})
		}
	}
	for _, s := range g.sowingsFor(j, spans) {
		o, err := g.trySowing(ctx, s)
		if err != nil {
			return nil, err
		}
		add(g.sowingWords(s), false, o)
	}
	for _, jar := range g.jarsFor(j, spans) {
		o, err := g.tryJars(ctx, jar)
		if err != nil {
			return nil, err
		}
		add(jar.name, true, o)
	}
	slices.SortStableFunc(out, func(a, b larderFills) int {
		return cmp.Or(cmp.Compare(a.After, b.After), cmp.Compare(b.Then, a.Then))
	})
	return out[:min(shownEach, len(out))], nil
}

// nutrient is the place of a need in the foods' figures.
func (g *gapFinder) nutrient(need string) int {
	if need == "energy" {
		return 0
	}
	return g.r.Tables.NutrientIndex(need)
}

// sowingsFor are the sowings that bring most of a nutrient a square metre and
// come home before the gap ends.
func (g *gapFinder) sowingsFor(j int, spans []larderSpan) []engine.Sowing {
	end := spans[len(spans)-1].To
	list := slices.DeleteFunc(slices.Clone(g.sowings), func(s engine.Sowing) bool {
		return s.First > end || !(s.Food.Nutrient[j] > 0) || slices.ContainsFunc(g.r.Tables.HazardsOf(s.Crop.ID), func(h data.Hazard) bool { return h.Stop })
	})
	slices.SortStableFunc(list, func(a, b engine.Sowing) int {
		return cmp.Compare(b.KgM2*b.Food.Nutrient[j], a.KgM2*a.Food.Nutrient[j])
	})
	return list[:min(triedEach, len(list))]
}

func (g *gapFinder) sowingWords(s engine.Sowing) string {
	return fmt.Sprintf("%s of %s sown or set about %s, home from %s", plain(unit.Format(sowGround, unit.Area, g.sys)), strings.ToLower(s.Crop.Name), plain(s.Sow.Short()), plain(s.First.Short()))
}

// trySowing runs the stead with a new bed under a crop.
func (g *gapFinder) trySowing(ctx context.Context, s engine.Sowing) (*engine.Outlook, error) {
	_, month, dom := s.Sow.Date()
	const name = "new bed tried against a gap"
	l := lever.Lever{ID: "sow:" + s.Crop.ID, Name: name, Part: "bed", Apply: func(st *stead.Stead) error {
		bed := stead.Bed{Name: name, Area: sowGround, How: "can"}
		if len(st.Beds) > 0 {
			bed.Irrigated, bed.From, bed.How = st.Beds[0].Irrigated, st.Beds[0].From, st.Beds[0].How
		}
		st.Beds = append(st.Beds, bed)
		st.Plantings = append(st.Plantings, stead.Planting{Bed: name, Crop: s.Crop.ID, Sow: day.When{Month: month, Dom: dom}})
		return nil
	}}
	return g.try(ctx, l)
}

// try runs a change once; what does not fit the description is left out.
func (g *gapFinder) try(ctx context.Context, l lever.Lever) (*engine.Outlook, error) {
	if o, done := g.tried[l.ID]; done {
		return o, nil
	}
	t, err := g.present.Try(ctx, l)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		g.tried[l.ID] = nil
		return nil, nil
	}
	g.tried[l.ID] = t.Outlook
	return t.Outlook, nil
}

// A jarred is put-up food that might lie on the shelf today.
type jarred struct {
	food, form, name string
	kg               float64
}

// jarsFor are the foods grown here that hold most of a nutrient in a litre once
// put up, as much of each as holds a quarter of the need in the lean weeks.
func (g *gapFinder) jarsFor(j int, spans []larderSpan) (out []jarred) {
	days := 0.0
	for _, s := range spans {
		days += float64(s.To-s.From) + 1
	}
	want := fillShare * days * g.dayNeed(j)
	type held struct {
		jarred
		litre float64
	}
	var list []held
	for _, id := range g.grown() {
		f, ok := g.r.Tables.Food(id)
		if !ok {
			continue
		}
		for _, way := range g.shelved(f) {
			composition, ratio := g.r.Tables.FoodForm(f, way.Method)
			per := composition.Nutrient[j] * ratio
			if !(per > 0) {
				continue
			}
			jars := int(math.Ceil(want / per * way.Litres / quart))
			if jars > mostJars {
				continue
			}
			name := fmt.Sprintf("%s of %s %s in store, %s in all", counted(jars, "quart jar", "quart jars"), way.Method, strings.ReplaceAll(id, "_", " "), g.mass(want/per))
			list = append(list, held{jarred{id, way.Method, name, want / per}, per / way.Litres})
		}
	}
	slices.SortStableFunc(list, func(a, b held) int { return cmp.Compare(b.litre, a.litre) })
	for _, h := range list[:min(jarSpreads, len(list))] {
		out = append(out, h.jarred)
	}
	return out
}

// dryLitres is the room of a kg of dry grain, pulses or nuts, L (common practice).
const dryLitres = 1 / 0.75

// shelved are the forms in which a food stands in jars on a shelf: dry as
// harvested, dried, or canned by a tested time.
func (g *gapFinder) shelved(f *data.Food) (out []data.PutUp) {
	if len(g.r.Tables.KeepingOf(f, larder.Dry)) > 0 {
		out = append(out, data.PutUp{Method: larder.Dry, Litres: dryLitres})
	}
	for _, row := range g.r.Tables.PutUps(f) {
		if row.Method == larder.Dried || row.Method == larder.Jarred && tested(f.ID) {
			out = append(out, row)
		}
	}
	return out
}

// tested tells whether a food has a tested time for jars.
func tested(id string) bool {
	n, err := larder.NamesOf(id)
	return err == nil && len(n.Canning) > 0
}

// dayNeed is the household's target of a nutrient in a day.
func (g *gapFinder) dayNeed(j int) float64 {
	s, err := needOf(g.r.Stead, nil, g.now.Today)
	if err != nil || s.Household[j].Day == nil {
		return 0
	}
	return *s.Household[j].Day
}

// grown are the foods of what stands here, once each.
func (g *gapFinder) grown() (ids []string) {
	add := func(crop string) {
		if c, ok := g.r.Tables.Crop(crop); ok && c.Food != "" && !slices.Contains(ids, c.Food) {
			ids = append(ids, c.Food)
		}
	}
	for _, x := range g.r.Stead.Plantings {
		add(x.Crop)
	}
	for _, x := range g.r.Stead.Trees {
		add(x.Crop)
	}
	return ids
}

// tryJars runs the stead with food more in store: as one more lot of the
// description, or as if received today where there is a book.
func (g *gapFinder) tryJars(ctx context.Context, jar jarred) (*engine.Outlook, error) {
	id := "jars:" + jar.form + ":" + jar.food
	if g.again == nil {
		return g.try(ctx, lever.Lever{ID: id, Name: jar.name, Part: "lot", Apply: func(st *stead.Stead) error {
			if st.Stay.From == 0 {
				return errors.New("the description has no first day")
			}
			st.Lots = append(st.Lots, stead.Lot{Food: jar.food, Form: jar.form, Mass: jar.kg, Born: st.Stay.From})
			return nil
		}})
	}
	if o, done := g.tried[id]; done {
		return o, nil
	}
	entry := book.Entry{Day: g.now.Today, Kind: book.Received, Body: book.Body{What: jar.food, Form: jar.form, Amount: jar.kg, Measure: unit.Mass}}
	var err error
	if entry.ID, err = book.NewID(time.Now(), rand.Reader); err != nil {
		return nil, err
	}
	r, err := g.again(ctx, []book.Entry{entry})
	if err != nil {
		return nil, err
	}
	p, err := lever.Run(ctx, r, g.sys, g.q.members)
	if err != nil {
		return nil, err
	}
	g.tried[id] = p.Outlook
	return p.Outlook, nil
}

func (p *printer) larderGap(b *larderBook, sys unit.System) {
	g := b.Gap
	if g == nil {
		return
	}
	p.line("")
	p.line("Lean weeks: those that fall short in half the years or more")
	p.wrap("", g.Lead)
	for _, n := range g.Needs {
		if len(n.Spans) == 0 {
			p.wrap("  ", fmt.Sprintf("%s: no lean week; %.1f weeks short in the mean year.", n.Name, n.Weeks))
			continue
		}
		var spans []string
		for _, s := range n.Spans {
			spans = append(spans, fmt.Sprintf("%s to %s (%.0f years in 100 at worst)", plain(s.From.Short()), plain(s.To.Long()), 100*s.Worst))
		}
		p.wrap("  ", fmt.Sprintf("%s: %s; %.1f weeks short in the mean year.", n.Name, strings.Join(spans, ", "), n.Weeks))
		for _, f := range n.Fills {
			p.wrap("    + ", fmt.Sprintf("%s: %.1f lean weeks short instead of %.1f, %.1f %% of the year's need met instead of %.1f.", f.Name, f.After, f.Before, 100*f.Then, 100*f.Met))
		}
		if len(n.Fills) == 0 {
			p.wrap("    ", "None of the sowings and jars tried moved it: see evenstead levers for what is bought or built. "+n.Say)
		}
	}
	if len(g.Weakest) > 0 {
		p.wrap("", "Weakest nutrients, the one that lacks most first: "+strings.Join(g.Weakest, ", ")+".")
	}
	if len(g.Not) > 0 {
		p.wrap("", "Not known, for want of figures: "+strings.Join(g.Not, ", ")+".")
	}
	p.wrap("", fmt.Sprintf("Each was tried alone over the same %d possible years with the same luck. Jars are tried as if they lay in store today.", g.Members))
}
