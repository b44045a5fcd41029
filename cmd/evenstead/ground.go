package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/work"
)

var groundCommand = command{"ground", "[STEAD.toml] [flags]", "tells what each bed can grow here and when, what it asks, and what to keep for seed", ground}

const (
	groundYears = 60 // possible years that the ground is reckoned over
	soonDays    = 28 // days ahead for which empty ground is offered crops
	tapMetres   = 20 // m from tap to bed (common practice)
)

func ground(_ context.Context, a *args) error {
	var q request
	f := a.flags
	f.StringVar(&q.weather, "weather", "", "daily weather `file`: GHCN-Daily .dly, its CSV forms, or date,rain,tmin,tmax; .gz too")
	f.StringVar(&q.units, "units", "auto", "units of the weather file: auto, metric, tenths or us")
	f.StringVar(&q.years, "years", "", "`years` of the record to learn from, such as 1984-2019")
	f.StringVar(&q.today, "today", "", "`date` the ground is looked at (default: the description's stay.from, else today)")
	risk := f.Float64("risk", 0, "`share` of years in which frost may take a sowing, such as 0.1 (default: the description's terms.risk)")
	only := f.String("crop", "", "tell one `crop` alone, by its name in the crops table")
	night := f.String("tonight", "", "also list what a night of this `temperature` harms, such as 1C or 30F")
	dry := f.Float64("dry", 0, "also list what suffers within so many `days` without rain")
	us := f.Bool("us", false, "print US units")
	asJSON := f.Bool("json", false, "print JSON")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	q.name = "evenstead.toml"
	if len(words) == 1 {
		q.name = words[0]
	}
	if q.text, err = readStead(q.name); err != nil {
		return err
	}
	q.days, q.members, q.seed = 365, groundYears, 1
	g, err := groundOf(&q, groundAsk{risk: *risk, crop: *only, night: *night, dry: *dry})
	if err != nil {
		return err
	}
	if *asJSON {
		return writeJSON(a.out, g)
	}
	return writeGround(a.out, g, system(*us))
}

// A groundBook is what the ground command tells. Amounts are SI: m2, mm, L, g, kg;
// dates of a year are written as in "3 Apr".
type groundBook struct {
	Stead    string        `json:"stead"`
	Today    day.Day       `json:"today"`
	Risk     float64       `json:"risk"`
	Stands   []groundStand `json:"stands,omitempty"`
	Clashes  []string      `json:"clashes,omitempty"`
	Empty    []emptyBed    `json:"empty,omitempty"`
	Soon     []cropCard    `json:"soon,omitempty"`
	None     []barred      `json:"no_window,omitempty"`
	Seed     []seedKept    `json:"seed,omitempty"`
	Crop     *cropCard     `json:"crop,omitempty"`
	NightC   *float64      `json:"night_c,omitempty"`
	Night    []nightHarm   `json:"harmed_tonight,omitempty"`
	DryDays  float64       `json:"dry_days,omitempty"`
	Dry      []dryStand    `json:"dry_spell,omitempty"`
	From     []string      `json:"reckoned_from"`
	Defaults []string      `json:"defaults,omitempty"`
	south    bool
}

// A groundStand is one planting or stand of trees.
type groundStand struct {
	Bed     string   `json:"bed"`
	Crop    string   `json:"crop"`
	Area    float64  `json:"area_m2"`
	Sown    string   `json:"sown,omitempty"`
	Windows []string `json:"windows,omitempty"`
	Fits    bool     `json:"fits"` // sown within a window; trees and other perennials always
	Why     string   `json:"why,omitempty"`
	First   string   `json:"first_harvest,omitempty"`
	Last    string   `json:"last_harvest,omitempty"`

	ETc     [12]float64 `json:"etc_mm"`        // what it draws, by month, January first
	Rain    [12]float64 `json:"rain_used_mm"`  // of the rain of a usual year
	Water   [12]float64 `json:"water_mm"`      // to give
	Litres  float64     `json:"litres_year"`   // all months
	Minutes float64     `json:"carry_minutes"` // by can, all months; 0 by drip or without irrigation
	N       float64     `json:"nitrogen_g"`    // from soil and dressings
	Watered bool        `json:"watered"`

	sow, first, last int // days: of the year (from 1), and after sowing
	c                *data.Crop
}

// An emptyBed is ground that nothing stands on for the coming weeks.
type emptyBed struct {
	Bed  string  `json:"bed"`
	Area float64 `json:"area_m2"`
	Rest string  `json:"rests_from,omitempty"` // families that stood there
}

// A barred crop has no window here.
type barred struct {
	Why   string   `json:"why"`
	Crops []string `json:"crops"`
}

// A seedKept is what to set aside of a crop.
type seedKept struct {
	Crop  string  `json:"crop"`
	Area  float64 `json:"area_m2"`
	Grams float64 `json:"grams"` // next year's sowing and one failure
	Share float64 `json:"share_of_harvest"`
	Stock bool    `json:"planting_stock"`
	Life  float64 `json:"keeps_years,omitempty"`
}

// A plan is a description with its climate, ready to be asked.
type groundPlan struct {
	*hearth.Reckoning
	clim *crop.Climate
	risk float64
	rain [][]float64 // by member, two calendar years long
	et0  [][]float64
	soil crop.Ground
}

// A groundAsk is what is asked of the ground beside its description.
type groundAsk struct {
	risk        float64
	crop, night string
	dry         float64
}

func groundOf(q *request, a groundAsk) (*groundBook, error) {
	risk := a.risk
	r, err := q.prepare(time.Now)
	if err != nil {
		return nil, err
	}
	p := &groundPlan{Reckoning: r, risk: risk}
	if risk == 0 {
		p.risk = r.Stead.Terms.Storage
	}
	if !(p.risk > 0 && p.risk <= 0.9) {
		return nil, given(fmt.Errorf("--risk %g: give a share of years from 0.01 to 0.9", risk))
	}
	if p.clim, err = q.cropClimate(r); err != nil {
		return nil, given(err)
	}
	if err := p.lay(); err != nil {
		return nil, given(err)
	}
	b := &groundBook{Stead: r.Stead.Name, Today: r.Options.Today, Risk: p.risk, From: r.How, south: p.clim.Lat < 0}
	b.From = append(b.From, fmt.Sprintf("%d frost years; a usual year is the mean of %d possible years.", len(p.clim.Years), len(p.rain)))
	if a.crop != "" {
		return b, p.tellCrop(b, a.crop)
	}
	b.Defaults = hearth.Taken(groundTaken(r.Stead.Taken))
	if err := p.tell(b); err != nil {
		return nil, err
	}
	return b, p.lists(b, a)
}

// groundTaken keeps the defaults that the ground is reckoned from.
func groundTaken(taken []stead.Default) []stead.Default {
	return slices.DeleteFunc(slices.Clone(taken), func(d stead.Default) bool {
		of := func(part string) bool { return strings.HasPrefix(d.Part, part) }
		return !of("bed") && !of("tree") && !of("planting") && !of("place") && d.Key != "risk" && d.Key != "planting"
	})
}

// cropClimate is that of the whole record, or of the members laid end to end.
func (q *request) cropClimate(r *hearth.Reckoning) (*crop.Climate, error) {
	lat := r.Stead.Place.Latitude
	if q.weather != "" {
		rec, err := readWeather(q.weather, q.units)
		if err != nil {
			return nil, err
		}
		if rec, err = yearsOf(rec, q.years); err != nil {
			return nil, err
		}
		return crop.NewClimate(lat, rec.Start, rec.TMin, rec.TMax)
	}
	var tmin, tmax []float64
	from := r.Members.Start
	y, month, dom := from.Date()
	for i := range r.Members.Members {
		next := day.Of(y+i+1, month, dom)
		w := &r.Members.Members[i]
		for d := range int(next - from) { // a leap day repeats the day before
			j := min(d, 364, len(w.TMin)-1)
			tmin, tmax = append(tmin, w.TMin[j]), append(tmax, w.TMax[j])
		}
		from = next
	}
	return crop.NewClimate(lat, r.Members.Start, tmin, tmax)
}

// lay turns each member's first year to begin in January, twice over, so that a
// season may run over the new year.
func (p *groundPlan) lay() error {
	s, ok := p.Tables.Soil(p.Stead.Place.Soil)
	if !ok {
		return fmt.Errorf("place.soil %q is not a soil of the table", p.Stead.Place.Soil)
	}
	p.soil = crop.Ground{FieldCapacity: s.FieldCapacity, Wilting: s.Wilting, Depth: p.Stead.Place.SoilDepth}
	for i := range p.Members.Members {
		m := &p.Members.Members[i]
		rain, et0 := make([]float64, 730), make([]float64, 730)
		for k := range min(365, len(m.Rain), len(m.ET0)) {
			d := yearDayOf(p.Members.Start+day.Day(k)) - 1
			rain[d], rain[d+365] = m.Rain[k], m.Rain[k]
			et0[d], et0[d+365] = m.ET0[k], m.ET0[k]
		}
		p.rain, p.et0 = append(p.rain, rain), append(p.et0, et0)
	}
	return nil
}

// yearDayOf counts from 1 to 365; 29 February counts as the 28th.
func yearDayOf(d day.Day) int {
	_, month, dom := d.Date()
	if month == time.February && dom == 29 {
		dom = 28
	}
	return day.Of(2023, month, dom).YearDay()
}

func (p *groundPlan) tell(b *groundBook) error {
	for i := range p.Stead.Plantings {
		s, err := p.planting(&p.Stead.Plantings[i])
		if err != nil {
			return given(err)
		}
		b.Stands = append(b.Stands, s)
	}
	for i := range p.Stead.Trees {
		s, err := p.trees(&p.Stead.Trees[i])
		if err != nil {
			return given(err)
		}
		b.Stands = append(b.Stands, s)
	}
	b.Clashes = p.clashes(b.Stands)
	b.Empty = p.empty(b)
	p.survey(b)
	b.Seed = seedOf(b.Stands)
	return nil
}

func (p *groundPlan) planting(pl *stead.Planting) (groundStand, error) {
	c, ok := p.Tables.Crop(pl.Crop)
	if !ok {
		return groundStand{}, fmt.Errorf("planting on %q: crop %q is not known", pl.Bed, pl.Crop)
	}
	i := slices.IndexFunc(p.Stead.Beds, func(b stead.Bed) bool { return b.Name == pl.Bed })
	if i < 0 {
		return groundStand{}, fmt.Errorf("planting of %s: there is no bed %q", c.Name, pl.Bed)
	}
	bed := &p.Stead.Beds[i]
	s := groundStand{Bed: pl.Bed, Crop: c.Name, Area: pl.Area, Watered: bed.Irrigated, c: c}
	if s.Area == 0 {
		s.Area = bed.Area
	}
	if !pl.Sow.IsZero() {
		s.Sown = plain(pl.Sow.String())
		s.sow = yearDayOf(pl.Sow.In(p.Options.Today.Year()))
	}
	p.season(&s)
	yield := pl.Yield
	if yield == 0 {
		yield = c.YieldTyp
	}
	p.asks(&s, yield, bed.Mulch > 0)
	if bed.Irrigated && bed.How == "can" {
		s.Minutes = work.CanMinutes(s.Litres, tapMetres)
	}
	return s, nil
}

func (p *groundPlan) trees(t *stead.Tree) (groundStand, error) {
	c, ok := p.Tables.Crop(t.Crop)
	if !ok {
		return groundStand{}, fmt.Errorf("trees %q: crop %q is not known", t.Name, t.Crop)
	}
	s := groundStand{Bed: t.Name, Crop: c.Name, Area: t.Area, c: c}
	if s.Area == 0 && c.PlantsM2 > 0 {
		s.Area = t.Count / c.PlantsM2
	}
	p.season(&s)
	p.asks(&s, c.YieldTyp*crop.Bearing(c.Form, t.Age, c.BearFrom, c.BearFull), false)
	return s, nil
}

// season fills in when a stand fits, and its harvest.
func (p *groundPlan) season(s *groundStand) {
	windows, bar := crop.Suit(s.c, p.clim, p.risk)
	s.Windows = windowWords(windows)
	if bar == crop.Unknown {
		s.Fits = true
		p.perennial(s)
		return
	}
	s.Fits = slices.ContainsFunc(windows, func(w crop.Window) bool { return w.Has(s.sow) })
	switch {
	case len(windows) == 0:
		s.Why = bar.String()
	case !s.Fits:
		s.Why = crop.Ask(s.c, p.clim, s.sow, p.risk).String()
	}
	if first, last, ok := crop.Harvest(s.c, p.clim, s.sow); ok {
		s.first, s.last = first, last
		s.First, s.Last = dateOf(s.sow+first), dateOf(s.sow+last)
	}
}

const (
	leafOut  = 60  // 1 March: perennials begin to draw (common practice; north)
	leafDays = 275 // days until they rest
)

// perennial times a stand by its northern months, half a year later in the south.
func (p *groundPlan) perennial(s *groundStand) {
	shift := 0
	if p.clim.Lat < 0 {
		shift = 182
	}
	s.sow = (leafOut+shift-1)%365 + 1
	from := monthStart(s.c.HarvestFrom) + shift
	to := monthStart(s.c.HarvestTo%12+1) - 1 + shift
	s.first, s.last = (from-s.sow+730)%365, (to-s.sow+730)%365
	if s.last < s.first {
		s.last += 365
	}
	s.First, s.Last = dateOf(from), dateOf(to)
}

func monthStart(m time.Month) int { return day.Of(2023, m, 1).YearDay() }

// asks fills in water and nitrogen; what comes to no harvest asks nothing.
func (p *groundPlan) asks(s *groundStand, yield float64, mulched bool) {
	if s.First == "" {
		return
	}
	soil := p.soil
	soil.Mulched = mulched
	begins, lasts := s.sow-1, s.last+1
	if s.c.HarvestFrom != 0 {
		lasts = leafDays
	}
	month := func(d int) int { return int((day.Of(2023, 1, 1) + day.Day(d%365)).Month()) - 1 }
	n := float64(len(p.rain))
	for i := range p.rain {
		w := crop.WaterYear(s.c, soil, begins, min(lasts, 364), p.rain[i], p.et0[i], month)
		for m := range 12 {
			s.ETc[m] += w.ETc[m] / n
			s.Rain[m] += w.Rain[m] / n
			s.Water[m] += w.Water[m] / n
		}
	}
	for _, mm := range s.Water {
		s.Litres += mm * s.Area
	}
	if s.c.HarvestN > 0 {
		s.N = yield * s.Area * s.c.N / s.c.HarvestN * (1 - s.c.Fixed)
	}
}
