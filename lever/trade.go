package lever

import (
	"errors"
	"fmt"

	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
)

// Shares and days of the changes to what is sown.
const (
	traded = 0.1
	later  = 14 // days
)

// staple is the annual crop whose usual harvest, as described, holds most food
// energy, and that energy, MJ; nil without any.
func (k Kit) staple() (best *data.Crop, mj float64) {
	sums := map[string]float64{}
	for i := range k.st.Plantings {
		c, ok := k.r.Tables.Crop(k.st.Plantings[i].Crop)
		if !ok || c.HarvestFrom != 0 {
			continue
		}
		f, ok := k.r.Tables.Food(c.Food)
		if !ok || !(f.Nutrient[0] > 0) {
			continue
		}
		sums[c.ID] += k.usual(&k.st.Plantings[i], c) * f.Nutrient[0] * c.EdibleFraction
		if sums[c.ID] > mj {
			best, mj = c, sums[c.ID]
		}
	}
	return best, mj
}

// usual is a planting's harvest as described, kg.
func (k Kit) usual(p *stead.Planting, c *data.Crop) float64 {
	area, yield := p.Area, p.Yield
	for _, b := range k.st.Beds {
		if area == 0 && b.Name == p.Bed {
			area = b.Area
		}
	}
	if yield == 0 {
		yield = c.YieldTyp
	}
	return area * yield
}

// Trade gives a share of the staple's usual harvest for as much food energy in a food
// of the plain shop, agreed beforehand and brought through the year. What the land
// gives away is left out of its yield.
func (k Kit) Trade(share float64, food string) (Lever, error) {
	crop, mj := k.staple()
	if crop == nil {
		return Lever{}, errors.New("no staple is sown to trade of")
	}
	row, ok := k.r.Tables.Food(food)
	if !ok || !(row.Nutrient[0] > 0) || food == crop.Food {
		return Lever{}, fmt.Errorf("%s can't be had for %s", food, crop.Name)
	}
	rate := share * mj / row.Nutrient[0] / 365
	return Lever{ID: "trade:" + food, Part: "terms", Name: fmt.Sprintf("%.0f in 100 of the %s traded for %s", 100*share, plainName(crop.Name), plainName(row.Name)),
		Cost: Cost{Needs: fmt.Sprintf("someone who gives %s of it a month, energy for energy, and the terms to allow it", k.mass(rate*365/12))},
		Apply: func(st *stead.Stead) error {
			for i := range st.Plantings {
				if p := &st.Plantings[i]; p.Crop == crop.ID {
					if p.Yield == 0 {
						p.Yield = crop.YieldTyp
					}
					p.Yield *= 1 - share
				}
			}
			st.Terms.Bought = append(st.Terms.Bought, stead.Bought{Food: food, Rate: rate})
			return nil
		}}, nil
}

// TradeFor trades for the food of the plain shop that brings most of a nutrient for
// its energy.
func (k Kit) TradeFor(share float64, nutrient string) (Lever, error) {
	at := k.r.Tables.NutrientIndex(nutrient)
	best, most := "", 0.0
	for _, id := range shop {
		if f, ok := k.r.Tables.Food(id); ok && at > 0 && f.Nutrient[0] > 0 && f.Nutrient[at]/f.Nutrient[0] > most {
			best, most = id, f.Nutrient[at]/f.Nutrient[0]
		}
	}
	if best == "" {
		return Lever{}, errors.New("no food of a plain shop brings it")
	}
	return k.Trade(share, best)
}

// Later sows the staple so many days later, wherever its date lies ahead.
func (k Kit) Later(days int) (Lever, error) {
	crop, _ := k.staple()
	if crop == nil {
		return Lever{}, errors.New("no staple is sown")
	}
	own := plainName(crop.Name)
	today := k.r.Options.Today
	moved := func(st *stead.Stead) (n int) {
		for i := range st.Plantings {
			p := &st.Plantings[i]
			if sow, ok := p.Sow.Next(today + 1); p.Crop == crop.ID && ok && sow < today+day.Day(k.days()-days) {
				p.Sow = put(p.Sow, days)
				n++
			}
		}
		return n
	}
	if moved(Copy(k.st)) == 0 {
		return Lever{}, fmt.Errorf("%s is not sown in the time ahead", own)
	}
	l := Lever{ID: "later", Part: "planting", Name: fmt.Sprintf("%s sown %d days later", own, days),
		Apply: func(st *stead.Stead) error {
			if moved(st) == 0 {
				return fmt.Errorf("%s is not sown in the time ahead", own)
			}
			return nil
		}}
	_, err := k.prepare(l) // the frost may forbid it
	return l, err
}

// put moves a date on, with its year or without.
func put(w day.When, days int) day.When {
	d := w.In(2023) + day.Day(days)
	y, m, dom := d.Date()
	if w.Year == 0 {
		y = 0
	}
	return day.When{Year: y, Month: m, Dom: dom}
}
