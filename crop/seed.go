package crop

import (
	"math"

	"evenstead/data"
)

// usualGermination is taken where no standard is printed (common practice).
const usualGermination = 0.7

// SeedLife returns the years that seed keeps, from its life dry and cool, in a
// place warmer by some °C and seed damper by some per cent of water: halved for
// each 5.6 °C and each 1 %. Source: Harrington's rule, from memory.
func SeedLife(years, warmer, damper float64) float64 {
	return years * math.Exp2(-warmer/5.6-damper)
}

// Viability returns the share of seed that still comes up at an age [years], from
// the share fresh and the life over which half of that is lost: the normal curve
// of deaths of Ellis and Roberts (1980), Annals of Botany 45: 13-30, with the life
// as its middle and a third of it as its spread (common practice).
func Viability(fresh, life, age float64) float64 {
	if !(life > 0) {
		return 0
	}
	alive := func(x float64) float64 { return 0.5 * math.Erfc((x-life)/(life/3)/math.Sqrt2) }
	return fresh * alive(math.Max(age, 0)) / alive(0)
}

// SeedsFor returns the seeds to sow for a number of plants, of which a share comes
// up and a share of those lives to stand.
func SeedsFor(plants, comesUp, stands float64) float64 {
	if !(comesUp > 0 && stands > 0) {
		return math.Inf(1)
	}
	return plants / (comesUp * stands)
}

// KeepBack returns the seed or planting stock to set aside [g] for sowing an area
// [m2] again, with so many whole failures to make good (2 sowings for one), when
// it will be an age [years] by then. Seed rates count fresh seed of the standard;
// stock does not age within the year. 0 where no rate is known.
func KeepBack(c *data.Crop, area, failures, age float64) float64 {
	sow := c.SeedGM2 * area * (1 + math.Max(failures, 0))
	fresh := c.Seed.Germination
	if c.Seed.Stock || !(c.Seed.Life > 0) {
		return sow
	}
	if !(fresh > 0) {
		fresh = usualGermination
	}
	return sow * fresh / Viability(fresh, c.Seed.Life, age)
}

// keptAge is how old seed set aside at harvest is at most when its ground is sown
// again, years.
const keptAge = 1

// KeptOfHarvest returns what of a harvest is set aside to sow an area [m2] again [kg
// as carried home]: one sowing, with what dies of the seed by then; 0 where a crop is
// sown from nothing that is eaten. Planting stock is counted as it is set.
func KeptOfHarvest(c *data.Crop, area float64) float64 {
	return KeepBack(c, area, 0, keptAge) / 1000 * c.Seed.OfHarvest
}

// KeepShare is the share of a harvest [kg/m2] that sowing the same area again
// takes.
func KeepShare(c *data.Crop, yield float64) float64 {
	if !(yield > 0) {
		return 0
	}
	return c.SeedGM2 / 1000 / yield
}
