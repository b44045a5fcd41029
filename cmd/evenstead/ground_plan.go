package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
)

// dateOf writes a day of the year, counted round, as in "3 Apr".
func dateOf(yearday int) string {
	return plain((day.Of(2023, 1, 1) + day.Day((yearday-1)%365)).Short())
}

func windowWords(windows []crop.Window) []string {
	var said []string
	for _, w := range windows {
		if w.Days() == 365 {
			return []string{"all year"}
		}
		said = append(said, dateOf(w.Open)+" to "+dateOf(w.Close))
	}
	return said
}

// clashes tells where a family follows itself too soon: within a bed's year, and
// from year to year where sowings are written without one.
func (p *groundPlan) clashes(stands []groundStand) []string {
	again := map[string][]string{} // by family: beds it comes back to each year
	var families, said []string
	for i := range stands {
		s := &stands[i]
		if !s.turns() {
			continue
		}
		rest, f := crop.RestYears(s.c.Family, p.Tables.Rests), s.c.Family
		if follow := p.following(stands, i); len(follow) > 0 {
			said = append(said, fmt.Sprintf("%s: %s %s and %s are all %s, which rests %.0f years (common practice).", s.Bed, s.Crop, s.Sown, strings.Join(follow, ", "), f, rest))
		}
		if s.recurs() && rest > 1 && !slices.Contains(again[f], s.Bed) {
			if again[f] == nil {
				families = append(families, f)
			}
			again[f] = append(again[f], s.Bed)
		}
	}
	for _, f := range families {
		said = append(said, fmt.Sprintf("%s comes back each year, as written, to %s; it rests %.0f years: move it on (common practice).",
			f, few(again[f]), crop.RestYears(f, p.Tables.Rests)))
	}
	return said
}

// following lists the stands that clash with the first of their family on a bed;
// none for the others, which it has named.
func (p *groundPlan) following(stands []groundStand, first int) []string {
	a := &stands[first]
	var follow []string
	for i := range stands {
		b := &stands[i]
		if i == first || b.Bed != a.Bed || b.c.Family != a.c.Family || !b.turns() {
			continue
		}
		if i < first {
			return nil
		}
		if _, clash := crop.Clash(a.turn(), b.turn(), p.Tables.Rests); clash {
			follow = append(follow, b.Crop+" "+b.Sown)
		}
	}
	return follow
}

// turns tells whether a stand is sown anew and so takes part in rotation.
func (s *groundStand) turns() bool { return s.c.HarvestFrom == 0 && s.Sown != "" }

func (s *groundStand) turn() crop.Turn {
	return crop.Turn{Family: s.c.Family, From: s.sow, To: s.sow + s.last}
}

// recurs tells whether the sowing is written without a year.
func (s *groundStand) recurs() bool {
	return !strings.ContainsAny(s.Sown, "-") && len(s.Sown) <= len("28 Feb")
}

// empty lists beds by the ground that stays free for the coming weeks.
func (p *groundPlan) empty(b *groundBook) []emptyBed {
	today := yearDayOf(b.Today)
	var out []emptyBed
	for _, bed := range p.Stead.Beds {
		taken := 0.0
		var families []string
		for i := range b.Stands {
			s := &b.Stands[i]
			if s.Bed != bed.Name {
				continue
			}
			if !slices.Contains(families, s.c.Family) {
				families = append(families, s.c.Family)
			}
			if s.stands(today) {
				taken += s.Area
			}
		}
		if free := bed.Area - taken; free >= 0.05*bed.Area {
			out = append(out, emptyBed{bed.Name, free, strings.Join(families, ", ")})
		}
	}
	return out
}

// stands tells whether a stand is in the ground on some of the coming days.
func (s *groundStand) stands(today int) bool {
	if s.c.HarvestFrom != 0 {
		return true
	}
	since := (today - s.sow + 365) % 365
	return since <= s.last || 365-since < soonDays
}

// survey goes through the table for what may be sown soon and what never.
func (p *groundPlan) survey(b *groundBook) {
	today := yearDayOf(b.Today)
	why := map[crop.Bar][]string{}
	for i := range p.Tables.Crops {
		c := &p.Tables.Crops[i]
		windows, bar := crop.Suit(c, p.clim, p.risk)
		switch {
		case bar == crop.Unknown:
		case len(windows) == 0:
			why[bar] = append(why[bar], c.Name)
		case slices.ContainsFunc(windows, func(w crop.Window) bool { return soon(w, today) }):
			b.Soon = append(b.Soon, p.card(c, windows, today))
		}
	}
	for bar := crop.ColdSoil; bar < crop.Unknown; bar++ {
		if why[bar] != nil {
			b.None = append(b.None, barred{bar.String(), why[bar]})
		}
	}
}

func soon(w crop.Window, today int) bool {
	return w.Has(today) || (w.Open-today+365)%365 < soonDays
}

// A cropCard tells one crop.
type cropCard struct {
	Crop      string   `json:"crop"`
	ID        string   `json:"id"`
	Family    string   `json:"family"`
	Windows   []string `json:"windows,omitempty"`
	Why       string   `json:"no_window_because,omitempty"`
	Nearest   []string `json:"nearest_that_fit,omitempty"`
	Start     string   `json:"start,omitempty"`          // sown, set, either, piece
	RaiseDays float64  `json:"raise_days,omitempty"`     // under cover before setting out
	SowNow    string   `json:"sow_from,omitempty"`       // the first day of the coming weeks
	First     string   `json:"first_harvest,omitempty"`  // of that sowing
	Sowings   []string `json:"sowings,omitempty"`        // for a steady supply
	Rest      float64  `json:"rest_years,omitempty"`     // of its family
	With      []string `json:"with,omitempty"`           // by common practice
	SeedG     float64  `json:"seed_g_m2,omitempty"`      // to sow a m2
	KeepG     float64  `json:"keep_seed_g_m2,omitempty"` // to keep for a m2 and one failure
	SaltFrom  float64  `json:"salt_from_ds_m,omitempty"` // of soil extract
}

func (p *groundPlan) card(c *data.Crop, windows []crop.Window, today int) cropCard {
	k := cropCard{Crop: c.Name, ID: c.ID, Family: c.Family, Windows: windowWords(windows), Start: c.Start, RaiseDays: c.Raise}
	for _, w := range windows {
		if !soon(w, today) {
			continue
		}
		from := today
		if !w.Has(today) {
			from = w.Open
		}
		if first, _, ok := crop.Harvest(c, p.clim, from); ok {
			k.SowNow, k.First = dateOf(from), dateOf(from+first)
		}
		break
	}
	return k
}

// tellCrop tells one crop alone, with what fits instead when it has no window.
func (p *groundPlan) tellCrop(b *groundBook, name string) error {
	c, err := cropNamed(p.Tables, name)
	if err != nil {
		return given(err)
	}
	windows, bar := crop.Suit(c, p.clim, p.risk)
	k := p.card(c, windows, yearDayOf(b.Today))
	if bar != crop.Free {
		k.Why = bar.String()
	}
	if len(windows) == 0 && bar != crop.Unknown {
		for _, o := range crop.NearestFit(c, p.Tables.Crops, p.clim, p.risk, 3) {
			w, _ := crop.Suit(o, p.clim, p.risk)
			k.Nearest = append(k.Nearest, o.Name+" ("+strings.Join(windowWords(w), "; ")+")")
		}
	}
	if c.Succession > 0 {
		for _, d := range crop.Sowings(windows, c.Succession) {
			k.Sowings = append(k.Sowings, dateOf(d))
		}
	}
	k.Rest = crop.RestYears(c.Family, p.Tables.Rests)
	k.With = partners(p.Tables, c.ID)
	k.SeedG, k.KeepG, k.SaltFrom = c.SeedGM2, crop.KeepBack(c, 1, 1, 1), c.Salt.Threshold
	b.Crop = &k
	return nil
}

func cropNamed(tab *data.Tables, name string) (*data.Crop, error) {
	var ids []string
	for i := range tab.Crops {
		c := &tab.Crops[i]
		if strings.EqualFold(c.ID, name) || strings.EqualFold(c.Name, name) {
			return c, nil
		}
		ids = append(ids, c.ID)
	}
	err := fmt.Errorf("--crop %q is not in the crops table", name)
	if near := data.Nearest(name, ids); near != "" {
		err = fmt.Errorf("%w: did you mean %s?", err, near)
	}
	return nil, err
}

func partners(tab *data.Tables, id string) []string {
	var with []string
	for _, pair := range crop.Partners(id, tab.Pairs) {
		other := pair.First
		if other == id {
			other = pair.Second
		}
		if o, ok := tab.Crop(other); ok {
			with = append(with, o.Name+": "+pair.How)
		}
	}
	return with
}

// few lists some names and counts the rest.
func few(list []string) string {
	const some = 8
	if len(list) > some+1 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:some], ", "), len(list)-some)
	}
	return strings.Join(list, ", ")
}

// seedOf adds up what to keep, crop by crop: for next year and one failure, of
// seed a year old by then.
func seedOf(stands []groundStand) []seedKept {
	var kept []seedKept
	for i := range stands {
		s := &stands[i]
		if s.c.HarvestFrom != 0 || s.c.SeedGM2 == 0 {
			continue
		}
		at := slices.IndexFunc(kept, func(k seedKept) bool { return k.Crop == s.Crop })
		if at < 0 {
			k := seedKept{Crop: s.Crop, Stock: s.c.Seed.Stock, Share: crop.KeepShare(s.c, s.c.YieldTyp)}
			if s.c.Seed.Life > 0 {
				k.Life = s.c.Seed.Life
			}
			kept = append(kept, k)
			at = len(kept) - 1
		}
		kept[at].Area += s.Area
		kept[at].Grams += crop.KeepBack(s.c, s.Area, 1, 1)
	}
	slices.SortStableFunc(kept, func(a, b seedKept) int { return cmp.Compare(b.Grams, a.Grams) })
	return kept
}

// yearRow draws a stand's year in half months, January first: s sown or set, -
// growing, H harvest.
func (s *groundStand) yearRow() string {
	row := []byte(strings.Repeat(".", 24))
	put := func(d int, mark byte) {
		i := halfMonth(d)
		if row[i] != 's' && (row[i] != 'H' || mark == 's') {
			row[i] = mark
		}
	}
	if s.c.HarvestFrom == 0 {
		for k := 0; k <= s.last; k++ {
			put(s.sow+k, '-')
		}
	}
	for k := s.first; s.First != "" && k <= s.last; k++ {
		put(s.sow+k, 'H')
	}
	if s.c.HarvestFrom == 0 {
		row[halfMonth(s.sow)] = 's'
	}
	return string(row)
}

func halfMonth(yearday int) int {
	d := day.Of(2023, 1, 1) + day.Day((yearday-1)%365)
	_, month, dom := d.Date()
	return 2*(int(month)-1) + int(math.Min(float64(dom/16), 1))
}
