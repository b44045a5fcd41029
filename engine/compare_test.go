package engine

import (
	"slices"
	"testing"

	"evenstead/day"
	"evenstead/stead"
)

// TestLuckOfLeavesTheRestAsItWas adds a bed among the beds, takes a planting
// away, and finds every other stand with the luck it had.
func TestLuckOfLeavesTheRestAsItWas(t *testing.T) {
	r := readyDemo(t, 1, 365)
	before := r.model(t)
	gone := r.st.Plantings[3]
	r.st.Plantings = slices.Delete(r.st.Plantings, 3, 4)
	r.st.Beds = append(r.st.Beds, stead.Bed{Name: "new", Area: 10, How: "can"})
	r.st.Plantings = append(r.st.Plantings, stead.Planting{Bed: "new", Crop: "potato", Sow: day.When{Month: 3, Dom: 1}})
	after := r.model(t)
	after.LuckOf(before)
	var was, is luck
	for member := range 20 {
		was.draw(before, member)
		is.draw(after, member)
		had := map[string][2]float64{}
		for q := range before.plantings {
			had[before.standName(q)] = [2]float64{was.crop[q], was.pest[q]}
		}
		found := 0
		for q := range after.plantings {
			if h, ok := had[after.standName(q)]; ok {
				found++
				if h != [2]float64{is.crop[q], is.pest[q]} {
					t.Fatalf("member %d, %s: luck %v became %g, %g", member, after.standName(q), h, is.crop[q], is.pest[q])
				}
			} else if !(is.crop[q] > 0) {
				t.Fatalf("member %d: the new stand has no luck", member)
			}
		}
		if found < len(before.plantings)-3 || found == len(before.plantings) {
			t.Fatalf("%d of %d stands are in both, with %s gone", found, len(before.plantings), gone.Bed)
		}
		if was.years[0] != is.years[0] || !slices.Equal(was.wild, is.wild) || !slices.Equal(was.hive, is.hive) {
			t.Fatalf("member %d: the year, the wild or the bees have other luck", member)
		}
	}
}

func TestLuckOfItselfIsAsItStands(t *testing.T) {
	r := readyDemo(t, 1, 365)
	m := r.model(t)
	var was, is luck
	was.draw(m, 3)
	m.LuckOf(m)
	is.draw(m, 3)
	if !slices.Equal(was.crop, is.crop) || !slices.Equal(was.pest, is.pest) {
		t.Error("a model does not share its own luck")
	}
}

func TestStaples(t *testing.T) {
	r := readyDemo(t, 30, 365)
	from := r.opt.Today
	list, err := Staples(r.st, r.tab, r.ens, from, 365)
	if err != nil || len(list) < 3 {
		t.Fatalf("%d staples, %v", len(list), err)
	}
	for i, s := range list {
		sow, _ := s.Sow.Next(from)
		if i > 0 && s.MJM2 > list[i-1].MJM2 || s.Days > 365 || sow < from || !(s.MJM2 > 0) {
			t.Errorf("%s, sown %s, %d days, %.1f MJ/m2", s.Crop.ID, s.Sow, s.Days, s.MJM2)
		}
	}
	few, err := Staples(r.st, r.tab, r.ens, from, 60)
	if err != nil || len(few) >= len(list) {
		t.Errorf("within 60 days of November %d staples come to harvest, %v", len(few), err)
	}
}
