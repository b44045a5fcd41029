package web

import (
	"strings"
	"testing"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/unit"
)

// TestEveryGateStandsAtItsStore: each thing that goes back to the ground says where
// it may go today, by which rule of which source, where it lies.
func TestEveryGateStandsAtItsStore(t *testing.T) {
	d := deskOn(t, demo.Quernfold(), day.Of(2027, 5, 20), unit.Metric)
	write(t, d, "heat 58 C in bins on 2027-05-10\nheat 60 C in bins on 2027-05-11\nspread 5 L urine, B25 on 2027-05-12")
	settled(t, d)
	s, err := d.Now(t.Context())
	must(t, err)
	h := deskSite(t, d)
	page := look(t, h, "/stores")
	text := saidBy(page)
	gates, err := s.Past.PlotGates()
	must(t, err)
	deeds := map[string]string{"urine": "Urine:", "digestate": "Digestate:", "compost": "Compost:", "fresh manure": "Fresh manure:", "wood ash": "Wood ash:",
		"spread toilet compost": "What has rested in a drum:", "washing water": "Washing water"}
	asked := map[string]bool{}
	for _, g := range gates {
		asked[g.Deed.String()] = true
		if !strings.Contains(text, g.Source) {
			t.Errorf("the source of %s is not told: %s", g.Deed, g.Source)
		}
	}
	for deed, said := range deeds {
		if asked[deed] != strings.Contains(text, said) {
			t.Errorf("%s: asked %v, shown %v", deed, asked[deed], !asked[deed])
		}
	}
	if n := len(page.find("div.deedgate")); n < 6 || n != len(asked) {
		t.Errorf("%d gates stand at their stores, %d are asked", n, len(asked))
	}
	for _, want := range []string{"Today on", "Not on", "Ground that waits for its picking", "B25: urine went on it 12 May", "Feed", "for tomorrow's cooking", "Cover material:"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	rings := page.find("#loops")
	if len(rings) != 1 {
		t.Fatal("no loop is told")
	}
	said := saidBy(rings[0])
	for _, want := range []string{"Water, L", "Energy, MJ", "Nitrogen, kg", "Phosphorus, kg", "Potassium, kg", "Carbon, kg"} {
		if !strings.Contains(said, want) {
			t.Errorf("the loops lack %s", want)
		}
	}
	if strings.Contains(said, "off by") || strings.Count(said, "yes") != 7 {
		t.Errorf("a loop does not add up: %s", said)
	}
}
