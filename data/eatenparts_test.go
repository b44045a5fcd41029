package data

import "testing"

// Every crop has a part, and a part is one that the gates know.
func TestEveryCropHasAnEatenPart(t *testing.T) {
	tab, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string]bool{"not_eaten": true, "tree": true, "high": true, "low": true, "raw": true, "root": true}
	for _, c := range tab.Crops {
		row, ok := tab.EatenPart(c.ID)
		switch {
		case !ok:
			t.Errorf("%s has no row in eaten_parts.csv", c.ID)
		case !parts[row.Part] || row.Source == "":
			t.Errorf("%s: part %q, source %q", c.ID, row.Part, row.Source)
		case (c.Form == "cover") != (row.Part == "not_eaten"):
			t.Errorf("%s is a %s and its part is %s", c.ID, c.Form, row.Part)
		case c.Form == "tree" && row.Part != "tree":
			t.Errorf("the tree %s is eaten %s", c.ID, row.Part)
		}
	}
	for _, p := range tab.EatenParts {
		if _, ok := tab.Crop(p.Crop); !ok {
			t.Errorf("eaten_parts.csv has %s, which is no crop", p.Crop)
		}
	}
	if len(tab.EatenParts) != len(tab.Crops) {
		t.Errorf("%d rows for %d crops", len(tab.EatenParts), len(tab.Crops))
	}
}
