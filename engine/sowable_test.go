package engine

import (
	"slices"
	"testing"
	"time"

	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/weather"
)

// mildNormals are twelve months of an invented mild place, January first.
var mildNormals = weather.Normals{
	Rain:    [12]float64{112, 96, 84, 68, 46, 19, 5, 8, 29, 83, 118, 124},
	WetDays: [12]float64{12, 11, 11, 9, 7, 3, 1, 1, 4, 8, 11, 12},
	TMin:    [12]float64{3.4, 3.9, 5.3, 7.1, 10.2, 13.6, 15.9, 15.8, 13.4, 10.1, 6.4, 4.1},
	TMax:    [12]float64{12.3, 13.9, 16.6, 19.0, 22.8, 27.5, 31.2, 31.0, 27.6, 21.9, 16.1, 12.8},
	TMinSD:  3.2, TMaxSD: 3.5, Persistence: 0.25, RainCV: 0.22,
}

func sowable(t *testing.T, lat float64, shift int, on day.Day) []Opening {
	t.Helper()
	n := mildNormals
	for i := range 12 {
		j := (i + shift) % 12
		n.Rain[i], n.WetDays[i] = mildNormals.Rain[j], mildNormals.WetDays[j]
		n.TMin[i], n.TMax[i] = mildNormals.TMin[j], mildNormals.TMax[j]
	}
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	ens, err := weather.FromNormals(n, weather.Site{Lat: lat, Elev: 100}, on, 365, 30, 1)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Sowable(&stead.Stead{Place: stead.Place{Latitude: lat}, Terms: stead.Terms{Storage: 0.2}}, tab, ens, on)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func monthOf(list []Opening, id string) time.Month {
	for _, s := range list {
		if s.ID == id {
			return s.Sow.Month
		}
	}
	return 0
}

// TestSowableTurnsWithTheHemisphere: what is sown in spring north of the line is
// sown half a year later south of it, and nothing from the tropics fits.
func TestSowableTurnsWithTheHemisphere(t *testing.T) {
	on := day.Of(2026, time.November, 25)
	north, south := sowable(t, 40, 0, on), sowable(t, -40, 6, on)
	for _, id := range []string{"tomato", "dry_bean"} {
		n, s := monthOf(north, id), monthOf(south, id)
		if n < time.March || n > time.July {
			t.Errorf("%s is sown in %s in the north", id, n)
		}
		if gap := (int(s) - int(n) + 12) % 12; gap < 4 || gap > 8 {
			t.Errorf("%s is sown in %s in the north, %s in the south", id, n, s)
		}
	}
	if slices.ContainsFunc(north, func(s Opening) bool { return s.ID == "cassava" }) {
		t.Error("cassava has a window in a frosty place")
	}
}

// TestSowableTellsWhatStands: in late November summer's beans are gone.
func TestSowableTellsWhatStands(t *testing.T) {
	for _, s := range sowable(t, 40, 0, day.Of(2026, time.November, 25)) {
		if s.ID == "dry_bean" && s.Stands {
			t.Errorf("dry bean sown %s still stands in late November", s.Sow)
		}
		if s.ID == "broad_bean" && s.Sow.Month >= time.September && s.Sow.Month < time.December && !s.Stands {
			t.Errorf("broad bean sown %s does not stand in late November", s.Sow)
		}
	}
}

func TestAppetiteAddsPeople(t *testing.T) {
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	adult := stead.Person{Name: "A", Sex: "female", Age: 35, Height: 1.7, Mass: 65, Activity: "active"}
	one, err := Appetite(&stead.Stead{People: []stead.Person{adult}}, tab)
	if err != nil || one < 8 || one > 13 {
		t.Errorf("one adult needs %g MJ, %v", one, err)
	}
	two, err := Appetite(&stead.Stead{People: []stead.Person{adult, adult}}, tab)
	if err != nil || two != 2*one {
		t.Errorf("two need %g MJ, one %g, %v", two, one, err)
	}
}
