package lever

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"evenstead/stead"
)

// Scraps fetches more for the digester, kg a day. The trips stay, each with more.
func (k Kit) Scraps(kg float64) (Lever, error) {
	if len(k.st.Digesters) == 0 {
		return Lever{}, errors.New("there is no digester")
	}
	return Lever{ID: "scraps", Part: "digester", Name: fmt.Sprintf("%s a day more scraps fetched", k.mass(kg)),
		Care: "Raise the feed over three weeks: a digester fed too fast turns sour and stops making gas.",
		Apply: func(st *stead.Stead) error {
			if len(st.Digesters) == 0 {
				return errors.New("there is no digester")
			}
			d := &st.Digesters[0]
			if d.Water > 0 {
				d.Water *= (d.Feed + kg) / d.Feed
			}
			d.Feed += kg
			d.Fetched += kg
			return nil
		}}, nil
}

// Cover gathers more cover material for the toilet, a share of what is made now.
func (k Kit) Cover(share float64) (Lever, error) {
	if len(k.st.Toilets) == 0 {
		return Lever{}, errors.New("there is no toilet")
	}
	made := coverMade(k.st)
	return Lever{ID: "cover", Part: "toilet", Name: fmt.Sprintf("%s a year more cover material", k.litres(made*share)),
		Cost: Cost{Week: hoursCover * made * share / 52},
		Apply: func(st *stead.Stead) error {
			if len(st.Toilets) == 0 {
				return errors.New("there is no toilet")
			}
			st.Toilets[0].CoverMade = coverMade(st) * (1 + share)
			return nil
		}}, nil
}

// hoursCover to gather, sieve and bring in a litre of cover (common practice: a
// barrow of 80 L in a quarter of an hour).
const hoursCover = 0.25 / 80

// coverMade is what is gathered in a year, L: as used where nothing is written.
func coverMade(st *stead.Stead) float64 {
	t := &st.Toilets[0]
	if t.CoverMade > 0 {
		return t.CoverMade
	}
	return t.CoverUse * float64(len(st.People)) * 365
}

// stacked is the mass of a stacked cubic metre of wood, kg (common practice).
const stacked = 450

// Wood brings in more wood a year, kg.
func (k Kit) Wood(kg float64) (Lever, error) {
	if !slices.ContainsFunc(k.st.Cookers, func(c stead.Cooker) bool { return c.Kind == "wood" }) {
		return Lever{}, errors.New("nothing burns wood")
	}
	return Lever{ID: "wood", Part: "fuel", Name: fmt.Sprintf("%s more wood a year", k.mass(kg)),
		Cost: Cost{Week: kg / stacked * (k.hours("split_wood") + hoursStack) / 52},
		Care: "Saw and split with eyes and shins covered, and nobody near.",
		Apply: func(st *stead.Stead) error {
			i := slices.IndexFunc(st.Fuels, func(f stead.Fuel) bool { return f.Kind == "wood" })
			if i < 0 {
				st.Fuels = append(st.Fuels, stead.Fuel{Kind: "wood", Moisture: 0.2, PerYear: kg})
				return nil
			}
			st.Fuels[i].PerYear += kg
			return nil
		}}, nil
}

// hoursStack to saw, bring home and stack a cubic metre of wood (common practice).
const hoursStack = 6.0

// Drier scales the rain of every year ahead; under one is a drier year.
func (k Kit) Drier(factor float64) (Lever, error) {
	if !(factor >= 0 && factor <= 3) {
		return Lever{}, fmt.Errorf("rain times %g: give 0 to 3", factor)
	}
	name := fmt.Sprintf("%.0f in 100 less rain", math.Round(100*(1-factor)))
	if factor > 1 {
		name = fmt.Sprintf("%.0f in 100 more rain", math.Round(100*(factor-1)))
	}
	if factor == 0 {
		factor = 1e-9 // 0 means as drawn
	}
	return Lever{ID: "rain", Part: "weather", Name: name, Fate: true, Rain: factor}, nil
}
