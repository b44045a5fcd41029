package stead

import (
	"fmt"
	"slices"
	"strings"

	"evenstead/data"
)

// A Caution is a safety sentence that some part of a stead calls for.
type Caution struct {
	Part   string // the part it is about; "" for the whole
	Text   string
	Source string
}

// Cautions returns what a household should know before it lives by s. They are
// the usual ones, not a safety review; the first says so. It returns only that
// one when the tables cannot be read.
func Cautions(s *Stead) []Caution {
	out := []Caution{{"", "Local codes and licensed practice come first; where they ask more than is said here, the stricter wins. Diet, illness and gaps in nutrients are for a clinician.", "common practice"}}
	tab, err := data.Load()
	if err != nil {
		return out
	}
	for _, more := range []func(*Stead, *data.Tables) []Caution{
		roofCautions, tankCautions, treatmentCautions, greyCautions, toiletCautions,
		fireCautions, storeCautions, honeyCautions, wildCautions, animalCautions,
	} {
		out = append(out, more(s, tab)...)
	}
	return out
}

func roofCautions(s *Stead, tab *data.Tables) (out []Caution) {
	if len(s.Roofs) == 0 {
		return nil
	}
	out = append(out,
		Caution{"", "Roof water is not fit to drink as caught: it carries germs from droppings and what the roof sheds. Divert the first flush, then filter and disinfect or boil what is drunk or cooked with.",
			"CDC, Rainwater Collection; Mendez and others 2011, Water Research 45, 2049-2059"},
		Caution{"", "Keep lead flashing, lead paint, treated shakes and bare copper off a roof whose water is drunk; new galvanised sheet sheds zinc. No boiling, chlorine or sun takes metals out.",
			"common practice (from memory); EPA and CDC on metals"})
	for i, r := range s.Roofs {
		row, ok := tab.Roof(r.Surface)
		if ok && row.Caution != "" && !strings.Contains(row.Caution, "first flush") { // said above
			out = append(out, Caution{label("roof", i, r.Name), row.Caution, row.Source})
		}
	}
	return out
}

func tankCautions(s *Stead, _ *data.Tables) (out []Caution) {
	for i, t := range s.Tanks {
		if t.Open > 0 {
			out = append(out, Caution{label("tank", i, t.Name), "Open water breeds mosquitoes and can drown a child: lid it, or screen it with mesh of 1.6 mm or finer.",
				"US mosquito control districts (mesh); common practice"})
		}
	}
	return out
}

func treatmentCautions(s *Stead, _ *data.Tables) (out []Caution) {
	drunk := slices.ContainsFunc(s.Uses, func(u Use) bool { return u.Class == "treated" })
	if drunk && len(s.Treatment) == 0 {
		out = append(out, Caution{"", "Water is drunk and no treatment is described: add a filter or boiling.", "CDC, Rainwater Collection"})
	}
	said := map[string][2]string{
		"filter":   {"Only an absolute 1 µm filter, reverse osmosis or one certified for cysts stops Cryptosporidium and Giardia; a microfilter does not stop viruses (from memory). Change the cartridge when its litres are used.", "CDC filter guide"},
		"boil":     {"Bring to a rolling boil for 1 minute, 3 minutes above 2,000 m (6,500 ft).", "CDC (altitude from memory); EPA prints 5,000 ft"},
		"chlorine": {"Chlorine needs clear water and 30 minutes, and does little to Cryptosporidium.", "EPA; CDC, Make Water Safe"},
		"sun":      {"Sun treats clear bottles of 2 L or less in 6 hours, two days under cloud; not in steady rain.", "solar disinfection guides (akvopedia.org)"},
	}
	for i, t := range s.Treatment {
		if c, ok := said[t.Kind]; ok {
			out = append(out, Caution{label("treatment", i, ""), c[0], c[1]})
		}
	}
	return out
}

// raw are crops often eaten uncooked (common practice).
var raw = strings.Fields("lettuce spinach parsley basil celery radish carrot cucumber melon watermelon strawberry tomato pepper_sweet cabbage chinese_cabbage pea_green kohlrabi turnip")

func greyCautions(s *Stead, tab *data.Tables) (out []Caution) {
	for i, u := range s.Uses {
		if u.Returned == 0 || u.To == "" || u.To == "away" {
			continue
		}
		part := label("use", i, u.Name)
		if len(out) == 0 {
			out = append(out, Caution{part, "Washing water goes on the day it is made, under mulch, never sprayed, stored or left to pond, and never with nappies, solvents or grease in it. Some codes do not count kitchen water as greywater.",
				"New Mexico NMAC 20.7.3.809; Arizona type 1 rules"})
		}
		for _, p := range s.Plantings {
			if p.Bed == u.To && (rooted(tab, p.Crop) || contains(raw, p.Crop)) {
				out = append(out, Caution{part, fmt.Sprintf("Its washing water goes to bed %q, where %s grows: none on roots or on what is eaten raw. Send it to trees.", u.To, p.Crop),
					"common practice; New Mexico NMAC 20.7.3.809"})
			}
		}
	}
	return out
}

func rooted(tab *data.Tables, id string) bool {
	c, ok := tab.Crop(id)
	if !ok {
		return false
	}
	f, ok := tab.Food(c.Food)
	return ok && (f.Category == "root" || f.Category == "allium")
}

func toiletCautions(s *Stead, _ *data.Tables) (out []Caution) {
	if len(s.Toilets) == 0 {
		return nil
	}
	return []Caution{
		{"toilet", "A drum rests shut at least one year after the last addition, two where the mean is under 20 °C; then it goes to trees, dug in, never to vegetables. Gloves, hands washed, dates written. Set a sick person's drum aside for the longest time.",
			"common practice, after WHO 2006 volume 4 and Schönning and Stenström 2004"},
		{"toilet", "Urine goes thinned on the ground, on food only the household eats, and not within a month of harvest; on others' food only after six months in a shut can.",
			"WHO 2006 volume 4, as printed by sswm.info"},
		{"toilet", "Many codes ask that toilet residue be buried or taken by a licensed hauler: ask before the first drum.", "US federal sheet of 1999 on composting toilets"},
	}
}

func fireCautions(s *Stead, _ *data.Tables) (out []Caution) {
	if len(s.Digesters) > 0 {
		out = append(out, Caution{"digester", "Biogas burns and smothers, and its hydrogen sulphide soon dulls the nose: digester and bag stand outdoors, with a flame arrestor, a water seal and a tap at the bag. On any smell open up, no flame, no switch. Nobody enters a tank.",
			"biogas safety sheets of the fuel table; common practice"})
	}
	for _, c := range s.Cookers {
		if c.Kind == "wood" || c.Kind == "bottle" || c.Kind == "biogas" {
			return append(out, Caution{"cooker", "Any flame makes carbon monoxide: cook with air moving through, never heat a shut room with it, and hang a CO alarm.", "NIOSH limit 35 ppm (from memory); common practice"})
		}
	}
	return out
}

func storeCautions(s *Stead, _ *data.Tables) (out []Caution) {
	jars := slices.ContainsFunc(s.Shelves, func(h Shelf) bool { return h.Kind == "jars" }) ||
		slices.ContainsFunc(s.Lots, func(l Lot) bool { return l.Form == "jarred" })
	if jars {
		out = append(out, Caution{"shelf", "Jars of low-acid food (vegetables, beans, meat) are pressure canned by a tested recipe, at the pressure of the altitude; a water bath does not kill botulinum. When unsure, do not taste.",
			"USDA Complete Guide to Home Canning, 2015 (from memory)"})
	}
	if len(s.Freezers) > 0 {
		out = append(out, Caution{"freezer", "A long cord is for a while only, never buried, and felt for warmth in hot weather. A full freezer left shut keeps two to four days without current (University of Florida extension).", "common practice; UF/IFAS Alachua"})
	}
	return out
}

func honeyCautions(s *Stead, _ *data.Tables) (out []Caution) {
	stored := slices.ContainsFunc(s.Lots, func(l Lot) bool { return l.Food == "honey" })
	if len(s.Hives) == 0 && !stored {
		return nil
	}
	text := "No honey, raw or heated, to a child under one year: it can hold botulism spores."
	for _, p := range s.People {
		if p.Age < 1 {
			text += fmt.Sprintf(" %s is under one.", p.Name)
		}
	}
	return []Caution{{"hive", text, "Willis, on honey and botulism; common medical advice"}}
}

func wildCautions(s *Stead, tab *data.Tables) (out []Caution) {
	for i, f := range s.Forage {
		row, ok := tab.WildFood(f.Food)
		if !ok {
			continue
		}
		text := "Two sure marks and a second opinion before it is eaten."
		for _, s := range []struct{ name, said string }{
			{"Look-alikes", row.Lookalikes}, {"Hazard", row.Hazard}, {"Prepare", row.Preparation}, {"Rule", row.Rule}, {"Law", row.Law}} {
			if s.said != "" {
				text += fmt.Sprintf(" %s: %s.", s.name, strings.TrimSuffix(s.said, "."))
			}
		}
		out = append(out, Caution{label("forage", i, row.Name), text, row.Source})
	}
	return out
}

func animalCautions(s *Stead, tab *data.Tables) (out []Caution) {
	var kinds []string
	for _, h := range s.Hives {
		kinds = append(kinds, h.Kind)
	}
	for _, f := range s.Flocks {
		kinds = append(kinds, f.Kind)
	}
	slices.Sort(kinds)
	for _, k := range slices.Compact(kinds) {
		if row, ok := tab.Animal(k); ok && row.Cautions != "" {
			where, _, _ := strings.Cut(row.Source, " (from memory or") // which columns of the row are so
			out = append(out, Caution{row.Species, strings.ToUpper(row.Cautions[:1]) + row.Cautions[1:], where})
		}
	}
	return out
}
