package plan

import (
	"slices"

	"evenstead/crop"
	"evenstead/day"
	"evenstead/stead"
)

// A Rest is a part of a bed that a family may not have yet: it stood there and
// its years of rest are not over.
type Rest struct {
	Bed    string  `json:"bed"`
	Family string  `json:"family"`
	Until  day.Day `json:"until"`
	Area   float64 `json:"area_m2"`
	bed    int
}

// begun is a stand of the past.
type begun struct {
	bed    int
	family string
	day    day.Day
	area   float64 // m2; 0: the whole bed
}

// listRests gathers what stood before today from the book, from the description's
// dated plantings and from the run's own stands that are over, and keeps what a
// year of sowings from today on comes too soon after. A sowing told twice is one.
func (y *years) listRests(a *Ask) {
	var all []begun
	add := func(name, family string, on day.Day, area float64) {
		b := slices.IndexFunc(a.Stead.Beds, func(b stead.Bed) bool { return b.Name == name })
		if b < 0 || on >= y.frame.Today {
			return
		}
		if slices.ContainsFunc(all, func(o begun) bool { return o.bed == b && o.family == family && max(o.day-on, on-o.day) < sameSowing }) {
			return
		}
		all = append(all, begun{b, family, on, area})
	}
	for _, t := range y.gone {
		add(t.Plot, t.Crop.Family, t.Sown, t.Area)
	}
	if a.Options.Past != nil {
		for _, s := range a.Options.Past.Sown() {
			if s.Crop.HarvestFrom == 0 {
				add(s.Plot, s.Crop.Family, s.Day, s.Area)
			}
		}
	}
	for _, pl := range a.Stead.Plantings {
		if c, ok := a.Tables.Crop(pl.Crop); ok && pl.Sow.Year != 0 && c.HarvestFrom == 0 {
			add(pl.Bed, c.Family, pl.Sow.In(0), pl.Area)
		}
	}
	for _, h := range all {
		until := h.day + day.Day(365*crop.RestYears(h.family, a.Tables.Rests))
		if until <= y.frame.Today {
			continue
		}
		bed := &a.Stead.Beds[h.bed]
		if h.area == 0 {
			h.area = bed.Area
		}
		y.rests = append(y.rests, Rest{bed.Name, h.family, until, min(bed.Area, h.area), h.bed})
	}
}

// sameSowing is how far apart two accounts of one sowing may lie, days.
const sameSowing = 45

// restsOn is the part of a bed that a family may not have, m2: what stands there of
// it today, or what stood there and has not rested, whichever is more.
func (y *years) restsOn(bed int, family string) float64 {
	stands, stood := 0.0, 0.0
	for i := range y.standing {
		if s := &y.standing[i]; s.bed == bed && s.tried.Crop.Family == family {
			stands += s.tried.Area
		}
	}
	for i := range y.rests {
		if r := &y.rests[i]; r.bed == bed && r.Family == family {
			stood += r.Area
		}
	}
	return min(y.beds[bed].Area, max(stands, stood))
}
