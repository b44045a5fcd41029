package larder

import (
	"fmt"
	"math"
)

// Fermenting extract: 2.0665 kg give 1 of ethanol, 0.9565 of carbon dioxide and
// 0.11 of yeast (Balling, from memory; glucose alone and no growth would give 0.511
// of its mass). Ethanol takes 0.695 of its mass of oxygen to acetic acid and water. Food
// energy in MJ/kg by Atwater's factors of the USDA: 3.87, 6.93 and 3.49 kcal/g.
const (
	extractOfSpirit = 2.0665
	gasOfSpirit     = 0.9565
	leesOfSpirit    = 0.11
	oxygenOfSpirit  = 31.998 / 46.069
	acidOfSpirit    = 60.052 / 46.069

	sugarMJ   = 3.87 * 4.184
	ethanolMJ = 6.93 * 4.184
	acidMJ    = 3.49 * 4.184
)

// honeyPoints is the gravity that a kg of honey gives a litre, less 1 (292 points,
// from memory).
const honeyPoints = 0.292

// attenuated is the share of its extract that a drink has lost when it reads 1.000:
// by Balling its real extract is then 0.1808 of what it began with. Of its spirit
// 85 % turn to vinegar (common practice).
const (
	attenuated = 0.8192
	soured     = 0.85
)

type pressing struct {
	food, product string
	low, high     float64 // L of juice per kg
	sgLow, sgHigh float64
	source        string
}

// A Must is sweet liquor ready to ferment; its sugar is all its extract.
type Must struct {
	Kg, Litres, Sugar float64 // kg, L, kg
	Gravity           float64
}

// must of so many litres at a gravity.
func must(litres, gravity float64) Must {
	kg := litres * gravity
	return Must{kg, litres, kg * Plato(gravity) / 100, gravity}
}

// MeadMust is honey made up with water to so many litres for each kg, 3 to 4.
// 1 kg in 4 L is near 1.073.
func MeadMust(honey, litresKg float64) (m Must, water float64, err error) {
	if !(honey > 0) || !(litresKg >= 2.5 && litresKg <= 8) {
		return Must{}, 0, fmt.Errorf("mead of %g kg of honey in %g L each: take 2.5 to 8 L for a kg of honey", honey, litresKg)
	}
	m = must(honey*litresKg, 1+honeyPoints/litresKg)
	return m, m.Kg - honey, nil
}

// A Ferment is a must after its yeast, or after its vinegar. Masses are kg.
type Ferment struct {
	Kg      float64 // of the drink
	Gas     float64 // carbon dioxide given off; of vinegar, spirit lost to the air
	Lees    float64 // yeast
	Oxygen  float64 // taken from the air
	Ethanol float64
	Acid    float64 // acetic
	Sugar   float64 // left
	MJ      float64 // food energy left
	Lost    float64 // MJ to heat
	ABV     float64 // % by volume, of the ethanol in the litres of the must
}

// yeastEnds is the kg of ethanol to a litre, 15 % by volume, at which wine yeast
// gives up (common practice).
const yeastEnds = 0.15 * 0.789

// Yeast ferments a must until it reads 1.000, or as far as yeast can stand.
func (m Must) Yeast() Ferment {
	spirit := min(attenuated*m.Sugar/extractOfSpirit, yeastEnds*m.Litres)
	f := Ferment{Ethanol: spirit, Gas: spirit * gasOfSpirit, Lees: spirit * leesOfSpirit, Sugar: m.Sugar - spirit*extractOfSpirit}
	f.Kg = m.Kg - f.Gas - f.Lees
	f.MJ = f.Ethanol*ethanolMJ + f.Sugar*sugarMJ
	f.Lost = m.Sugar*sugarMJ - f.MJ
	f.ABV = 100 * f.Ethanol / 0.789 / m.Litres
	return f
}

// Sour turns 85 % of a drink's ethanol into vinegar; the rest goes to the air.
func (f Ferment) Sour() Ferment {
	used := soured * f.Ethanol
	v := Ferment{Oxygen: used * oxygenOfSpirit, Acid: used * acidOfSpirit, Sugar: f.Sugar, Gas: f.Ethanol - used}
	v.Kg = f.Kg + v.Oxygen - v.Gas
	v.MJ = v.Acid*acidMJ + v.Sugar*sugarMJ
	v.Lost = f.MJ - v.MJ
	return v
}

// pressed are juice, the drink fermented from it, and its vinegar.
func (b *batcher) pressed() ([]Way, error) {
	t, err := tables()
	if err != nil {
		return nil, err
	}
	for _, row := range t.pressing {
		if row.food == b.g.Food.ID {
			return b.press(row), nil
		}
	}
	if b.g.Food.ID == "honey" {
		return b.mead()
	}
	return nil, nil
}

func (b *batcher) press(row pressing) []Way {
	litres := b.g.Kg * (row.low + row.high) / 2
	gravity := (row.sgLow + row.sgHigh) / 2
	m := must(litres, gravity)
	m.Sugar = min(m.Sugar, b.mj/sugarMJ)
	pomace := Part{"pomace", b.g.Kg - m.Kg}
	juice := Way{Name: "press for juice", In: []Part{{b.g.Food.ID, b.g.Kg}}, Out: parts(Part{"juice", m.Kg}, pomace),
		MJIn: b.mj, MJOut: m.Sugar * sugarMJ, Minutes: 6 * b.g.Kg, Litres: litres, Source: row.source}
	juice.MJLost = juice.MJIn - juice.MJOut
	juice.Do = []string{
		fmt.Sprintf("%.1f L of juice, %.2f to %.2f L a kilogram; gravity %.3f to %.3f.", litres, row.low, row.high, row.sgLow, row.sgHigh),
		"No windfalls that lay among droppings. Heat juice to 71 °C before infants, the pregnant, the old or the ill drink it (US FDA, from memory).",
		"Stones and kernels out before anything is crushed.",
	}
	drink := b.fermented(juice, m, pomace, row.product)
	return []Way{juice, drink, b.vinegar(juice, m, pomace, row.product)}
}

func (b *batcher) fermented(juice Way, m Must, pomace Part, product string) Way {
	f := m.Yeast()
	w := juice
	w.Name, w.Form = "ferment to "+product, ""
	w.Out = parts(Part{product, f.Kg}, pomace, Part{"carbon dioxide", f.Gas}, Part{"lees", f.Lees})
	w.MJOut, w.MJLost = f.MJ, juice.MJIn-f.MJ
	w.ReadyLo, w.ReadyHi = 42, 120
	w.Do = []string{
		fmt.Sprintf("About %.1f %% alcohol from a gravity of %.3f; the hydrometer tells (sum alcohol).", f.ABV, m.Gravity),
		"Airlock, never a shut bottle while it works: glass bursts.",
		"No distilling: it is unlawful in most places and gathers what harms.",
	}
	return w
}

func (b *batcher) vinegar(juice Way, m Must, pomace Part, product string) Way {
	f := m.Yeast()
	v := f.Sour()
	w := juice
	w.Name = "sour to vinegar"
	w.In = append([]Part{{b.g.Food.ID, b.g.Kg}}, Part{"oxygen of the air", v.Oxygen})
	w.Out = parts(Part{"vinegar", v.Kg}, pomace, Part{"carbon dioxide", f.Gas}, Part{"lees", f.Lees}, Part{"spirit to the air", v.Gas})
	w.MJOut, w.MJLost = v.MJ, juice.MJIn-v.MJ
	w.ReadyLo, w.ReadyHi = 100, 240
	w.Do = []string{
		fmt.Sprintf("From dry %s, open to air under a cloth: about %.1f %% acetic acid.", product, 100*v.Acid/v.Kg),
		"For the table only: pickling wants vinegar of a known 5 %, titrated or bought (USDA, from memory).",
	}
	return w
}

func (b *batcher) mead() ([]Way, error) {
	const litresKg = 4
	m, water, err := MeadMust(b.g.Kg, litresKg)
	if err != nil {
		return nil, err
	}
	f := m.Yeast()
	w := Way{Name: "ferment to mead", In: parts(Part{"honey", b.g.Kg}, Part{"water", water}),
		Out: parts(Part{"mead", f.Kg}, Part{"carbon dioxide", f.Gas}, Part{"lees", f.Lees}), MJIn: b.mj, MJOut: min(f.MJ, b.mj), Minutes: 90, Water: water,
		Litres: m.Litres, ReadyLo: 120, ReadyHi: 365, Source: "1 kg of honey made up to 4 L, common practice"}
	w.MJLost = w.MJIn - w.MJOut
	w.Do = []string{
		fmt.Sprintf("%.1f L at a gravity of %.3f, dry at about %.1f %% alcohol.", m.Litres, m.Gravity, f.ABV),
		"Honey of 18.6 % water or less keeps as it is; above 19 % it ferments by itself (USDA grades; Codex).",
	}
	if math.IsNaN(f.ABV) {
		return nil, fmt.Errorf("mead of %g kg of honey: its strength can't be reckoned", b.g.Kg)
	}
	return []Way{w}, nil
}
