package weather

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"sync"

	"evenstead/day"
)

// A Member is one possible course of the weather, one value a day. Its slices may
// be shared with other members: read them, do not write.
type Member struct {
	Rain, TMin, TMax []float64 // mm, °C
	ET0              []float64 // reference evapotranspiration, mm/d, by Hargreaves
	Sun              []float64 // solar radiation, MJ m-2 d-1
	Label            string    // the year it was, such as "2012-13", or how it came about
	year             int       // it began in, of the record; 0 for one put together
}

// An Ensemble holds possible courses of the weather from one day on.
type Ensemble struct {
	Start   day.Day
	Days    int
	Members []Member
	Notes   []string // how they came about, one sentence each
	Lat     float64  // degrees, north positive

	site      Site
	record    *Record    // what the members came from, when they did
	generator *Generator // likewise
}

// light is the sun of a day: above the air and under a clear sky, MJ m-2 d-1.
type light struct{ ra, clear float64 }

// A horizon is the days ahead, with what they share whatever the weather.
type horizon struct {
	site  Site
	start day.Day
	days  int
	slot  []int
	light []light
}

// mostValues bounds members times days: 20 million make 800 MB.
const mostValues = 20_000_000

func newHorizon(site Site, start day.Day, days, n int) (*horizon, error) {
	switch {
	case days < 1 || n < 1:
		return nil, fmt.Errorf("%d days of %d members: give at least one of each", days, n)
	case n > mostValues/days:
		return nil, fmt.Errorf("%d days of %d members are too many: give fewer members", days, n)
	case !(site.Lat >= -90 && site.Lat <= 90):
		return nil, fmt.Errorf("latitude %g is out of range: -90 to 90", site.Lat)
	case !(site.Elev >= -450 && site.Elev <= 6000):
		return nil, fmt.Errorf("elevation %g m is out of range: -450 to 6000", site.Elev)
	}
	h := &horizon{site: site, start: start, days: days, slot: make([]int, days)}
	for t := range h.slot {
		h.slot[t] = Slot(start + day.Day(t))
	}
	h.light = site.lights(start, days)
	return h, nil
}

func (s Site) lights(start day.Day, days int) []light {
	var ofYear [367]light
	for j := 1; j <= 366; j++ {
		ra := Extraterrestrial(s.Lat, j)
		ofYear[j] = light{ra, ClearSky(ra, s.Elev)}
	}
	out := make([]light, days)
	for t := range out {
		out[t] = ofYear[(start + day.Day(t)).YearDay()]
	}
	return out
}

func (s Site) note() string {
	return fmt.Sprintf("Evapotranspiration by Hargreaves (FAO-56 eq. 52) and sun from the day's range (eq. 50, coefficient %.2f), "+
		"from temperature alone.", s.KRs())
}

// ensemble makes an ensemble whose members have slices of one block each.
func (h *horizon) ensemble(n int) *Ensemble {
	e := &Ensemble{Start: h.start, Days: h.days, Members: make([]Member, n), Lat: h.site.Lat, site: h.site}
	block := make([]float64, n*h.days*5)
	for i := range e.Members {
		block = e.Members[i].take(block, h.days)
	}
	return e
}

// take cuts the member's slices off a block and returns the rest.
func (m *Member) take(block []float64, days int) []float64 {
	for _, x := range []*[]float64{&m.Rain, &m.TMin, &m.TMax, &m.ET0, &m.Sun} {
		*x, block = block[:days:days], block[days:]
	}
	return block
}

// finish reckons ET0 and sun from the temperatures.
func (h *horizon) finish(m *Member) { fillSun(m, h.light, h.site.KRs()) }

func fillSun(m *Member, light []light, krs float64) {
	for t, l := range light {
		m.ET0[t] = Hargreaves(m.TMin[t], m.TMax[t], l.ra)
		m.Sun[t] = HargreavesSun(m.TMin[t], m.TMax[t], l.ra, krs, l.clear)
	}
}

// each calls do for 0 to n-1, on as many processors as there are. What do(i)
// leaves behind may depend on i alone.
func each(n int, do func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() {
			for i := w; i < n; i += workers {
				do(i)
			}
		})
	}
	wg.Wait()
}

// source returns member i's random numbers, the same for the same seed and i.
func source(seed uint64, i int) *rand.Rand {
	a := scatter(seed)
	b := scatter(a + uint64(i))
	return rand.New(rand.NewPCG(b, scatter(b^a)))
}

// scatter is the output mix of SplitMix64: near seeds come out far apart.
// Steele, Lea and Flood (2014), OOPSLA (from memory).
func scatter(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
