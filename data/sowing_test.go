package data

import (
	"math"
	"testing"
)

func wholeTables(t *testing.T) *Tables {
	t.Helper()
	tab, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

// TestSowingsAreWhole: what windows are reckoned from stands in its range, and
// every row of the tables beside crops.csv is of a crop.
func TestSowingsAreWhole(t *testing.T) {
	tab := wholeTables(t)
	for _, c := range tab.Crops {
		if c.Start == "" {
			continue
		}
		if c.SowingSource == "" {
			t.Errorf("%s: its sowing has no source", c.ID)
		}
		within(t, c.ID, "raise days", c.Raise, 0, 90)
		within(t, c.ID, "succession", c.Succession, 0, 60)
		if (c.Start == "set" || c.Start == "either") && c.Raise == 0 && !c.DaysFromSowing {
			t.Errorf("%s is set out and not raised", c.ID)
		}
		if c.Month.Most != 0 {
			rising(t, c.ID, "months", c.Month.Least, c.Month.OptLo, c.Month.OptHi, c.Month.Most)
		}
		if !math.IsNaN(c.Green) && !(c.Green <= c.GreenHi && c.Green < c.DaysFirst) {
			t.Errorf("%s is green after %v to %v days and dry after %v", c.ID, c.Green, c.GreenHi, c.DaysFirst)
		}
		if !math.IsNaN(c.GermMin) {
			within(t, c.ID, "least warmth to come up", c.GermMin, 0, 20)
		}
	}
	for _, name := range []string{"crops_sowing.csv", "crops_months.csv", "crops_seed.csv", "crops_kept.csv", "crops_salt.csv", "crops_emergence.csv", "crops_ky.csv"} {
		f, err := open(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range f.rows {
			if _, ok := tab.Crop(r.str("id")); !ok {
				t.Errorf("%s line %d: no crop %q", name, r.line, r.str("id"))
			}
		}
	}
}

// TestEmergenceQuickens: warmer soil up to 25 °C never slows a crop, parsnip apart.
func TestEmergenceQuickens(t *testing.T) {
	for _, c := range wholeTables(t).Crops {
		last := math.Inf(1)
		for soil := 0.0; soil <= 20; soil += 0.5 {
			days, ok := c.Emerge.Days(soil)
			if !ok {
				break
			}
			if days > last+1e-9 {
				t.Errorf("%s: %v days at %g °C, %v half a degree colder", c.ID, days, soil, last)
			}
			last = days
		}
	}
}

func TestSeedTable(t *testing.T) {
	tab := wholeTables(t)
	known := 0
	for _, c := range tab.Crops {
		if s := c.Seed; s.Source != "" {
			known++
			if !math.IsNaN(s.Germination) {
				within(t, c.ID, "germination", s.Germination, 0.3, 0.95)
			}
			if !math.IsNaN(s.Life) {
				within(t, c.ID, "years", s.Life, 1, 10)
			}
		}
	}
	if known < 65 {
		t.Errorf("%d crops have seed figures, want 65 or more", known)
	}
}

func TestPairsAndRestsNameWhatThereIs(t *testing.T) {
	tab := wholeTables(t)
	families := map[string]bool{}
	for _, c := range tab.Crops {
		families[c.Family] = true
	}
	for _, p := range tab.Pairs {
		for _, id := range []string{p.First, p.Second} {
			if _, ok := tab.Crop(id); !ok {
				t.Errorf("pair %s and %s: no crop %q", p.First, p.Second, id)
			}
		}
		if p.Source != "common practice" {
			t.Errorf("pair %s and %s rests on %q", p.First, p.Second, p.Source)
		}
	}
	for _, r := range tab.Rests {
		if !families[r.Family] {
			t.Errorf("no crop is of %s", r.Family)
		}
		within(t, r.Family, "years of rest", r.Years, 1, 8)
	}
}
