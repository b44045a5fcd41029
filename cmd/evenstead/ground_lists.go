package main

import (
	"fmt"
	"math"

	"evenstead/crop"
	"evenstead/unit"
)

// groundMargin is how far above its limit a stand is still listed for tonight, °C:
// clear still nights are colder at the ground (common practice, 2-4 °C).
const groundMargin = 2

// A nightHarm is a stand that tonight's cold may kill.
type nightHarm struct {
	Bed   string  `json:"bed"`
	Crop  string  `json:"crop"`
	Limit float64 `json:"kills_at_c"`
	Sure  bool    `json:"below_limit"` // else within the margin for cold ground
}

// A dryStand is a stand and the days it lasts from a good soaking without rain.
type dryStand struct {
	Bed      string  `json:"bed"`
	Crop     string  `json:"crop"`
	Stressed float64 `json:"suffers_after_days"`
	Empty    float64 `json:"dry_after_days"`
	Litres   float64 `json:"litres_to_refill"` // when it begins to suffer
}

// lists adds the lists that were asked for.
func (p *groundPlan) lists(b *groundBook, a groundAsk) error {
	if a.night != "" {
		tmin, err := unit.Parse(a.night, unit.Temperature)
		if err != nil {
			return given(fmt.Errorf("--tonight: %w", err))
		}
		b.NightC, b.Night = &tmin, p.tonight(b, tmin)
	}
	if !(a.dry >= 0 && a.dry <= 365) {
		return given(fmt.Errorf("--dry %g: give days from 1 to 365", a.dry))
	}
	if a.dry > 0 {
		b.DryDays, b.Dry = a.dry, p.dry(b, a.dry)
	}
	return nil
}

// now lists what stands today as package crop wants it.
func (p *groundPlan) now(b *groundBook) []crop.Stand {
	today := yearDayOf(b.Today)
	var out []crop.Stand
	for i := range b.Stands {
		s := &b.Stands[i]
		since := (today - s.sow + 365) % 365
		if s.c.HarvestFrom == 0 && (s.First == "" || since > s.last) {
			continue
		}
		st := crop.Stand{Name: s.Bed, Crop: s.c, Hardened: crop.Hardening(p.lately(today)), Days: since}
		st.Dormant = s.c.HarvestFrom != 0 && since >= leafDays
		p.water(&st, s, today, since)
		out = append(out, st)
	}
	return out
}

// lately is the mean temperature of the two weeks before a day of the year.
func (p *groundPlan) lately(today int) float64 {
	sum := 0.0
	for k := range crop.HardenDays {
		sum += p.clim.Mean(today - 2 - k)
	}
	return sum / crop.HardenDays
}

// water fills in the root zone of a stand, full, and what it draws a day.
func (p *groundPlan) water(st *crop.Stand, s *groundStand, today, since int) {
	lasts := s.last + 1
	if s.c.HarvestFrom != 0 {
		lasts = leafDays
	}
	frac := math.Min(float64(since)/float64(lasts), 1)
	c := s.c
	st.ETc = p.et0On(today) * crop.Kc(frac, c.KcIni, c.KcMid, c.KcEnd, c.ShareIni, c.ShareDev, c.ShareMid)
	if st.Dormant {
		st.ETc = 0
	}
	roots := math.Min(crop.RootDepth(frac/(c.ShareIni+c.ShareDev), math.Min(crop.RootsAtSowing, c.Roots), c.Roots), p.soil.Depth)
	st.Available = crop.Available(p.soil.FieldCapacity, p.soil.Wilting, roots)
	st.Ready = crop.AdjustDepletion(c.Depletion, st.ETc) * st.Available
}

// et0On is the usual reference evapotranspiration about a day of the year, mm/d.
func (p *groundPlan) et0On(today int) float64 {
	const about = 7
	sum := 0.0
	for _, year := range p.et0 {
		for k := -about; k <= about; k++ {
			sum += year[(today-1+k+365)%365]
		}
	}
	return sum / float64(len(p.et0)*(2*about+1))
}

// tonight lists what a night of tmin [°C] harms.
func (p *groundPlan) tonight(b *groundBook, tmin float64) []nightHarm {
	var out []nightHarm
	for _, h := range crop.FrostList(tmin, groundMargin, p.now(b)) {
		out = append(out, nightHarm{h.Name, h.Crop.Name, h.Limit, h.Below >= 0})
	}
	return out
}

// dry lists what suffers within some days without rain, from a good soaking.
func (p *groundPlan) dry(b *groundBook, within float64) []dryStand {
	area := map[string]float64{}
	for _, s := range b.Stands {
		area[s.Bed+"\x00"+s.Crop] = s.Area
	}
	var out []dryStand
	for _, t := range crop.DryList(within, p.now(b)) {
		out = append(out, dryStand{t.Name, t.Crop.Name, t.Stressed, t.Empty, t.Ready * area[t.Name+"\x00"+t.Crop.Name]})
	}
	return out
}

func (p *printer) nightList(b *groundBook, sys unit.System) {
	if b.NightC == nil {
		return
	}
	var said []string
	for _, h := range b.Night {
		how := "dies at"
		if !h.Sure {
			how = "may die where cold air settles; it dies at"
		}
		said = append(said, fmt.Sprintf("%s: %s %s %s.", h.Bed, h.Crop, how, unit.Format(h.Limit, unit.Temperature, sys)))
	}
	if len(said) == 0 {
		said = []string{"Nothing that stands is near its limit."}
	}
	p.section("Tonight at "+plain(unit.Format(*b.NightC, unit.Temperature, sys))+": cover, lift or pick", said)
}

func (p *printer) dryList(b *groundBook, sys unit.System) {
	if b.DryDays == 0 {
		return
	}
	var said []string
	for _, d := range b.Dry {
		said = append(said, fmt.Sprintf("%s: %s suffers after %.0f days, dry after %.0f; %s then fill it again.",
			d.Bed, d.Crop, d.Stressed, d.Empty, unit.Format(d.Litres, unit.Volume, sys)))
	}
	if len(said) == 0 {
		said = []string{"Nothing that stands suffers so soon."}
	}
	p.section(fmt.Sprintf("From a good soaking, %.0f days without rain", b.DryDays), said)
}
