package hearth

import (
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/stead"
)

// deeds are the guards of work that can hurt though nobody eats of it: what is done
// to a drum, a digester, a bottle, water to be drunk, and what is for a clinician.
// They are those of the description, told where the work is written. Daily work
// (feeding, cooking) has them in the week instead.
func (g *guarding) deeds(e book.Entry) []book.Guard {
	what, where := e.Body.What, e.Body.Where
	drum := strings.HasPrefix(what, string(book.Drum)) || strings.HasPrefix(where, string(book.Drum))
	handled := slices.Contains([]book.Kind{book.Opened, book.Emptied, book.Closed, book.Spread}, e.Kind)
	switch {
	case handled && drum:
		return g.said("toilet", "drum")
	case e.Kind == book.Spread && strings.Contains(what, "urine"):
		return g.said("toilet", "Urine")
	case handled && g.isDigester(where):
		return g.said("digester", "")
	case e.Kind == book.FuelIn:
		return g.said("cooker", "")
	case e.Kind == book.Treated:
		by := what + " " + e.Body.Extra["by"]
		for _, t := range g.st.Treatment {
			if strings.Contains(by, t.Kind) {
				return g.said("treatment", treatmentWord[t.Kind])
			}
		}
		return g.said("", "Roof water")
	case e.Kind == book.Ill || e.Kind == book.Weighed:
		return g.said("", "clinician")
	}
	return nil
}

// treatmentWord is a word of the caution of each treatment.
var treatmentWord = map[string]string{"filter": "filter", "boil": "boil", "chlorine": "Chlorine", "sun": "Sun"}

func (g *guarding) isDigester(name string) bool {
	return slices.ContainsFunc(g.st.Digesters, func(d stead.Digester) bool { return d.Name == name })
}

// said are the first of the description's cautions about a part, by its name without
// the number, that has a word in it.
func (g *guarding) said(part, word string) []book.Guard {
	for _, c := range g.cautions {
		about, _, _ := strings.Cut(c.Part, " ")
		if about == part && strings.Contains(c.Text, word) {
			return []book.Guard{{What: capital(orWhole(c.Part)), Why: c.Text, Source: c.Source}}
		}
	}
	return nil
}

// orWhole names what a caution is of; one of no part is of the whole place.
func orWhole(part string) string {
	if part == "" {
		return "take care"
	}
	return part
}
