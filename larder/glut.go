package larder

import (
	"fmt"
	"math"
	"strings"

	"evenstead/data"
)

// A Kitchen is where a glut is dealt with.
type Kitchen struct {
	Altitude   float64 // m
	Crock      float64 // °C where ferments stand
	TMax, TMin float64 // °C of a usual day this month, for drying outdoors; NaN unknown
}

// A Part is something that goes into a batch or comes out of it, kg.
type Part struct {
	What string
	Kg   float64
}

// A Way is one way to put up a glut. In and Out balance; the first of Out is the
// product. So do MJIn and MJOut + MJLost, the food energy of what is eaten.
type Way struct {
	Name, Form    string // the form it is then kept in; "" for what has none, such as flour
	In, Out       []Part
	MJIn, MJOut   float64 // MJ of food energy: of the edible part, of the product
	MJLost        float64 // to heat, and to what is left over
	Minutes       float64 // of hands
	Heat          float64 // MJ in the pot
	Water         float64 // L used, most of it poured away
	Jars          int     // of Jar
	Jar           string  // "quart", "pint"
	Litres        float64 // of store
	ReadyLo       float64 // days until it is ready; 0 at once
	ReadyHi       float64
	Tested        []Process // of jars, by pack, jar and pressure
	Batches       []Batch   // of Tested, in step
	Do            []string  // what to do, one sentence each
	Stop          string    // why it is not offered; the rest is then empty
	Source        string
	productWaters float64 // kg of water in the product
}

// Product is the kg made.
func (w *Way) Product() float64 {
	if len(w.Out) == 0 {
		return 0
	}
	return w.Out[0].Kg
}

// A Glut is more of a food than can be eaten while it keeps.
type Glut struct {
	Food   *data.Food
	Kg     float64 // as picked
	Edible float64 // share of it
}

// Ways returns what can be done with a glut, each with its balance. A way that
// the tables know for no such food, or that the kitchen rules out, is returned
// with the reason. A food that must not be eaten is an error with its reason, and
// so are amounts that can't be.
func Ways(tab *data.Tables, g Glut, k Kitchen) ([]Way, error) {
	if !(g.Kg > 0) || math.IsInf(g.Kg, 0) || !(g.Edible > 0 && g.Edible <= 1) {
		return nil, fmt.Errorf("%g kg of %s, %g of it edible: give more than 0 kg and a share up to 1", g.Kg, g.Food.ID, g.Edible)
	}
	for _, h := range tab.HazardsOf(g.Food.ID) {
		if h.Stop {
			return nil, fmt.Errorf("%s is not put up: %s; %s (%s)", h.Name, h.Hazard, h.Rule, h.Source)
		}
	}
	names, err := NamesOf(g.Food.ID)
	if err != nil {
		return nil, err
	}
	b := batcher{tab: tab, g: g, k: k, names: names, mj: g.Kg * g.Edible * g.Food.Nutrient[0]}
	var out []Way
	for _, row := range tab.PutUps(g.Food) {
		out = append(out, b.putUp(row))
	}
	if !hasForm(out, Jarred) {
		out = append(out, b.untested())
	}
	pressed, err := b.pressed()
	if err != nil {
		return nil, err
	}
	milled, err := b.milled()
	return append(append(out, pressed...), milled...), err
}

func hasForm(ways []Way, form string) bool {
	for _, w := range ways {
		if w.Form == form {
			return true
		}
	}
	return false
}

// batcher works one glut out.
type batcher struct {
	tab   *data.Tables
	g     Glut
	k     Kitchen
	names Names
	mj    float64 // of the edible part
}

// verbs name the ways of the table.
var verbs = map[string]string{Dried: "dry", Jarred: "can in jars", Frozen: "freeze", Fermented: "ferment"}

// putUp is one row of the table, as a batch.
func (b *batcher) putUp(row data.PutUp) Way {
	edible := b.g.Kg * b.g.Edible
	row.MassOut *= b.tab.MassOut(b.g.Food, row.Method) / max(b.classOut(row), 1e-9)
	if row.MassOut < 1-b.g.Food.Water+row.Salt { // soured food keeps its salt as well
		row.MassOut = 1 - b.g.Food.Water + row.Salt
	}
	m, err := PutUp(row, edible, b.g.Food.Water)
	w := Way{Name: verbs[row.Method], Form: row.Method, Source: row.Source}
	if err != nil {
		w.Stop = err.Error()
		return w
	}
	w.In = parts(Part{b.g.Food.ID, b.g.Kg}, Part{"salt", m.Salt}, Part{"water", m.Water})
	w.Out = parts(Part{row.Method + " " + b.g.Food.ID, m.Product}, Part{"peel and trimmings", b.g.Kg - edible}, Part{"water off", m.Off})
	w.MJIn, w.MJOut = b.mj, b.mj
	w.Minutes, w.Heat, w.Water, w.Litres = m.Hours*60, m.Heat, edible*row.Water, m.Litres
	w.productWaters = m.ProductWater
	switch row.Method {
	case Frozen:
		b.freeze(&w)
	case Dried:
		b.dry(&w)
	case Fermented:
		b.ferment(&w, row)
	case Jarred:
		b.can(&w)
	}
	return w
}

// classOut is what the row's MassOut stands for where the food has its own: 1
// for what is dried by its water, else the row's own figure.
func (b *batcher) classOut(row data.PutUp) float64 {
	if row.Method == Dried {
		return row.MassOut
	}
	return 1
}

// parts leaves out what is nothing.
func parts(all ...Part) (out []Part) {
	for i, p := range all {
		if i == 0 || p.Kg > 1e-12 {
			out = append(out, p)
		}
	}
	return out
}

// blanching is the sentence on blanching; "" where none is printed.
func (b *batcher) blanching() string {
	p, err := Prepare(b.names.Prepare)
	if err != nil {
		return ""
	}
	lo, hi := p.BlanchAt(b.k.Altitude)
	note := ""
	if p.BlanchNote != "" {
		note = " (" + p.BlanchNote + ")"
	}
	switch {
	case math.IsNaN(lo) && p.BlanchNote != "":
		return "Before the freezer: " + p.BlanchNote + "."
	case math.IsNaN(lo):
		return ""
	case hi == 0:
		return "It needs no blanching" + note + "."
	case lo == hi:
		return fmt.Sprintf("Blanch %g minutes%s in 8 litres of boiling water to the kilogram, counted from its return to the boil; cool as long in ice water (%s).", lo, note, p.BlanchFrom)
	}
	return fmt.Sprintf("Blanch %g to %g minutes%s in 8 litres of boiling water to the kilogram, counted from its return to the boil; cool as long in ice water (%s).", lo, hi, note, p.BlanchFrom)
}

func (b *batcher) freeze(w *Way) {
	if s := b.blanching(); s != "" {
		w.Do = append(w.Do, s)
	}
	w.Do = append(w.Do, fmt.Sprintf("Pack without air and freeze at -18 °C, no more than %.3f kg for each litre of freezer in a day; it takes %.1f MJ out of the food.", FreezeRate, FreezeHeat(w.Product(), 20)))
}

func (b *batcher) dry(w *Way) {
	p, err := Prepare(b.names.Prepare)
	if err != nil || math.IsNaN(p.DryLow) {
		w.Do = append(w.Do, "Dry at 49 to 66 °C in moving air; no drying time is printed for it.")
	} else {
		w.ReadyLo, w.ReadyHi = p.DryLow/24, p.DryHi/24
		w.Do = append(w.Do, fmt.Sprintf("Dry %g to %g hours at 60 °C%s until %s (%s).", p.DryLow, p.DryHi, comma(p.DryNote), p.DryTest, p.DryFrom))
		if s := b.blanching(); s != "" && p.BlanchHi > 0 {
			w.Do = append(w.Do, s)
		}
	}
	w.Do = append(w.Do, b.sun(p))
	if b.fruit() {
		w.Do = append(w.Do, "Let it even out 7 to 10 days in loosely filled jars, shaken daily; dampness on the glass means dry again (University of Georgia).")
	}
}

// sun tells what the weather of the month lets be dried outdoors.
func (b *batcher) sun(p Preparing) string {
	if !b.fruit() {
		return "Not in the sun: vegetables, mushrooms and meat spoil there before they dry (University of Georgia)."
	}
	if math.IsNaN(b.k.TMax) {
		return "In the sun only where days reach 30 °C and the air is dry (University of Georgia)."
	}
	lo, ok := SunDays(p.DryLow, b.k.TMax, b.k.TMin)
	hi, _ := SunDays(p.DryHi, b.k.TMax, b.k.TMin)
	if !ok {
		return fmt.Sprintf("Not in the sun now: a usual day here reaches %.0f °C, and fruit wants 30 (University of Georgia).", b.k.TMax)
	}
	return fmt.Sprintf("In the sun, at a usual day of %.0f °C here, about %.0f to %.0f days, taken in at night; then 48 hours at -18 °C or 30 minutes at 71 °C against insects.", b.k.TMax, math.Ceil(lo), math.Ceil(hi))
}

func (b *batcher) fruit() bool {
	e, ok := b.tab.Eaten(b.g.Food.Category)
	return ok && (e.Class == "fruit" || e.Class == "mild_fruit")
}

func comma(s string) string {
	if s == "" {
		return ""
	}
	return " (" + s + ")"
}

func (b *batcher) ferment(w *Way, row data.PutUp) {
	lo, hi, err := KrautDays(b.k.Crock)
	if err != nil {
		*w = Way{Name: w.Name, Form: w.Form, Source: w.Source, Stop: strings.Replace(err.Error(), "kraut at", "a crock at", 1)}
		return
	}
	w.ReadyLo, w.ReadyHi = lo, hi
	if row.Water > 0.3 {
		w.Do = append(w.Do, fmt.Sprintf("Cover with brine of %.0f g of salt to a litre, %.1f %% (5 to 8 is usual); keep it under by 2.5 to 5 cm.", 1000*row.Salt/row.Water, 100*BrineShare(row.Water, row.Salt)))
	} else {
		w.Do = append(w.Do, fmt.Sprintf("Weigh %.1f %% of salt, knead it in until juice stands above; keep it under by 2.5 to 5 cm.", 100*row.Salt))
	}
	w.Do = append(w.Do, fmt.Sprintf("At %.0f °C it is ready after %.0f to %.0f days (North Dakota State University).", b.k.Crock, lo, hi))
}
