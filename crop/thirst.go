package crop

import "evenstead/data"

// A Ground is the soil of a bed.
type Ground struct {
	FieldCapacity, Wilting float64 // m3/m3
	Depth                  float64 // m that roots can reach
	Mulched                bool    // covered: the bare part of the season dries less
}

// A YearWater is what a stand asks by calendar month, mm.
type YearWater struct{ ETc, Rain, Water [12]float64 }

const (
	mulchSaves = 0.45 // of soil evaporation (common practice, 0.30-0.60)
	bareSoil   = 0.5  // of the first Kc is soil evaporation (common practice)
)

// RootsAtSowing is the depth that a young plant draws from, m (common practice).
const RootsAtSowing = 0.2

// WaterYear carries a stand through its days and returns, by month, what it draws,
// the rain it uses, and the water to give it: whenever the root zone has lost what
// the crop draws without stress, it is filled again. begins is its first day,
// lasts its days, calendar the month (0 to 11) of each day of the weather; rain and
// et0 are mm a day. The zone is full at the start. Source: FAO-56 eq. 66, 82-85,
// single coefficient.
func WaterYear(c *data.Crop, g Ground, begins, lasts int, rain, et0 []float64, calendar func(int) int) YearWater {
	var w YearWater
	dr := 0.0
	for k := range lasts {
		d := begins + k
		if d < 0 || d >= len(rain) || d >= len(et0) {
			continue
		}
		frac := (float64(k) + 0.5) / float64(lasts)
		etc := kcOf(c, g, frac) * et0[d]
		roots := min(RootDepth(frac/(c.ShareIni+c.ShareDev), min(RootsAtSowing, c.Roots), c.Roots), g.Depth)
		taw := Available(g.FieldCapacity, g.Wilting, roots)
		m := calendar(d)
		in := EffectiveRain(rain[d], et0[d])
		w.ETc[m] += etc
		var perc float64
		dr, perc = RootZone(min(dr, taw), taw, in, etc)
		w.Rain[m] += in - perc
		if dr > AdjustDepletion(c.Depletion, etc)*taw {
			w.Water[m] += dr
			dr = 0
		}
	}
	return w
}

// kcOf is the crop coefficient at a fraction of the season, less what mulch saves
// while the ground is bare.
func kcOf(c *data.Crop, g Ground, frac float64) float64 {
	kc := Kc(frac, c.KcIni, c.KcMid, c.KcEnd, c.ShareIni, c.ShareDev, c.ShareMid)
	if g.Mulched && frac < c.ShareIni+c.ShareDev {
		bare := 1 - max(frac-c.ShareIni, 0)/c.ShareDev
		kc -= mulchSaves * bareSoil * c.KcIni * bare
	}
	return kc
}
