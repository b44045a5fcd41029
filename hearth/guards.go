package hearth

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/data"
	"evenstead/larder"
	"evenstead/stead"
	"evenstead/unit"
)

// guarding knows what can harm in the food of an entry, for one household.
type guarding struct {
	st       *stead.Stead
	cautions []stead.Caution // of the description
	tab      *data.Tables
	sys      unit.System
	altitude float64 // m
	infant   string  // who of the household is under a year; "": nobody
	bearing  string  // who is pregnant
}

// Guarded returns what is to be told of the food of entries of a stead: its
// hazards, the doubles of what grows wild, what is tested of jars; and of work that
// can hurt.
func Guarded(st *stead.Stead, tab *data.Tables, sys unit.System) func(book.Entry) []book.Guard {
	g := &guarding{st: st, cautions: stead.Cautions(st), tab: tab, sys: sys, altitude: st.Place.Elevation}
	for _, p := range st.People {
		if p.Age < 1 {
			g.infant = p.Name
		}
		if p.State == "pregnant" {
			g.bearing = p.Name
		}
	}
	return g.of
}

// of lists the guards of an entry, those that stop it among them: of the work where
// it has its own, else of the food.
func (g *guarding) of(e book.Entry) (out []book.Guard) {
	if out = g.deeds(e); len(out) > 0 || e.Body.What == "" {
		return out
	}
	for _, h := range g.tab.HazardsOf(e.Body.What) {
		if stop, told := g.tells(h, e); told {
			out = append(out, book.Guard{What: capital(h.Name), Why: h.Hazard + "; " + h.Rule, Source: h.Source, Stop: stop})
		}
	}
	if e.Kind == book.Foraged {
		out = append(out, g.doubles(e.Body.What)...)
	}
	if e.Kind == book.PutUp || e.Kind == book.Eaten {
		out = append(out, g.kept(e)...)
	}
	return out
}

// tells says whether a hazard concerns an entry, and whether it stops it.
func (g *guarding) tells(h data.Hazard, e book.Entry) (stop, told bool) {
	food := slices.Contains([]book.Kind{book.Picked, book.Foraged, book.Taken, book.PutUp, book.Eaten}, e.Kind)
	use := e.Kind == book.PutUp || e.Kind == book.Eaten
	if h.Stop {
		stop = food || e.Kind == book.Received || e.Kind == book.Bought
		return stop, stop
	}
	switch h.When {
	case data.Always:
		return false, food
	case data.RawFood:
		return false, food && e.Kind != book.Picked
	case data.InStore:
		return false, e.Kind == book.PutUp || e.Kind == book.Picked
	case data.InJars:
		return false, use && e.Body.Form == larder.Jarred
	case data.InOil:
		return false, e.Kind == book.PutUp
	case data.ToInfant:
		stop = g.infant != "" && e.Kind == book.Eaten
		return stop, e.Kind == book.Taken || use
	case data.Expecting:
		stop = g.bearing != "" && e.Kind == book.Eaten
		return stop, stop
	}
	return false, false
}

// doubles are the look-alikes of a wild food, its own harm and how it is made fit.
func (g *guarding) doubles(id string) []book.Guard {
	w, ok := g.tab.WildFood(id)
	if !ok || w.Rule == data.Excluded {
		return nil
	}
	var said []string
	for _, s := range []string{w.Hazard, w.Preparation, w.Law} {
		if s != "" {
			said = append(said, s)
		}
	}
	out := []book.Guard{{What: capital(w.Name), Why: strings.Join(said, "; "), Source: w.Source}}
	if w.Lookalikes != "" {
		out = append(out, book.Guard{What: "Look-alikes", Why: w.Lookalikes + "; two sure marks and a second opinion before it is eaten", Source: w.Source})
	}
	return out
}

// kept are the guards of the form food is put up or eaten in.
func (g *guarding) kept(e book.Entry) []book.Guard {
	f := g.food(e.Body.What)
	if f == nil {
		return nil
	}
	switch {
	case e.Body.Form == larder.Jarred && e.Kind == book.PutUp && canned(f):
		return g.jars(f)
	case e.Body.Form == larder.Jarred && e.Kind == book.Eaten && canned(f):
		return g.opened(f)
	case e.Body.Form == larder.Dried && e.Kind == book.PutUp:
		return driedGuards(f)
	case e.Body.Form == larder.Fermented && e.Kind == book.PutUp:
		c := larder.Cautions(larder.Fermented)[0]
		return []book.Guard{{What: "Crock", Why: c.Text, Source: c.Source}}
	}
	return nil
}

// food is the food that an id of foods, crops or wild foods is eaten as; nil when
// there is none.
func (g *guarding) food(id string) *data.Food {
	if c, ok := g.tab.Crop(id); ok {
		id = c.Food
	} else if w, ok := g.tab.WildFood(id); ok {
		id = w.Food
	}
	f, _ := g.tab.Food(id)
	return f
}

// canned tells whether a food in a jar has been heated in it: dry stores, oil and
// honey are only filled in.
func canned(f *data.Food) bool {
	switch f.Category {
	case "honey", "sugar", "fat", "salt", "grain", "meal", "seed", "nut", "chestnut", "acorn", "condiment", "drink", "dried_fruit", "dried_vegetable":
		return false
	}
	return true
}

// jars are the tested times of a food at the stead's altitude; it stops where
// none is printed.
func (g *guarding) jars(f *data.Food) []book.Guard {
	names, err := larder.NamesOf(f.ID)
	if err != nil {
		return nil
	}
	tested, batches := names.Tests(g.altitude)
	if len(tested) == 0 || f.Like != "" {
		return []book.Guard{{What: "Jars of " + strings.ReplaceAll(f.ID, "_", " "), Source: "USDA Complete Guide to Home Canning, AIB 539", Stop: true,
			Why: fmt.Sprintf("no tested time for them at %s is in the table; %s", unit.Format(g.altitude, unit.Length, g.sys), larder.Untested)}}
	}
	var said []string
	weight := ""
	for i, t := range tested {
		switch b := batches[i]; b.Method {
		case larder.WeightedGauge: // as long as by the dial
			weight = "; a weighted gauge holds " + g.pressure(t.KPa)
		case larder.DialGauge:
			said = append(said, fmt.Sprintf("%s, %s pack, %ss: %.0f min at %s by the dial", b.Food, b.Pack, b.Jar, t.Minutes, g.pressure(t.KPa)))
		default:
			said = append(said, fmt.Sprintf("%s, %s pack, %ss: %.0f min in boiling water", b.Food, b.Pack, b.Jar, t.Minutes))
		}
	}
	out := []book.Guard{{What: "Tested in jars at this altitude", Why: strings.Join(said, "; ") + weight, Source: tested[0].Source}}
	if slices.ContainsFunc(tested, func(t larder.Process) bool { return t.Acidify }) {
		out = append(out, book.Guard{What: "Acid", Why: larder.Acidify, Source: "USDA; figs from memory"})
	}
	return out
}

// pressure is a gauge pressure in the words of the trade.
func (g *guarding) pressure(kPa float64) string {
	if g.sys == unit.US {
		return fmt.Sprintf("%.0f psi", kPa/6.894757)
	}
	return fmt.Sprintf("%.0f kPa", kPa)
}

// opened is what to do with a jar before it is eaten from: low-acid food is
// boiled, 10 minutes and one more for each begun 305 m.
func (g *guarding) opened(f *data.Food) []book.Guard {
	names, err := larder.NamesOf(f.ID)
	if err != nil {
		return nil
	}
	if a, err := larder.AcidClass(names.PH); err == nil && a.Class == larder.Acid {
		c := larder.Cautions(larder.Jarred)[1]
		return []book.Guard{{What: "Opening a jar", Why: c.Text, Source: c.Source}}
	}
	minutes := 10 + math.Ceil(max(0, g.altitude)/305)
	return []book.Guard{{What: "Opening a jar", Source: "US extension advice; altitude step from memory",
		Why: fmt.Sprintf("it counts as low in acid: boil it %.0f minutes here before anyone tastes it; one that bulges, leaks, spurts or smells wrong is thrown out untasted", minutes)}}
}

func driedGuards(f *data.Food) []book.Guard {
	var at int
	switch larder.ThawGroup(f.Category) {
	case "vegetable":
		at = 0
	case "meat":
		at = 1
	default:
		return nil
	}
	c := larder.Cautions(larder.Dried)[at]
	return []book.Guard{{What: "Drying", Why: c.Text, Source: c.Source}}
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
