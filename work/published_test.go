package work

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"
)

type published struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	for _, c := range slices.Concat(effortCases(t), rideCases(), labourCases()) {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.6g, printed %.6g (tolerance %g)", c.got, c.want, c.tol)
			}
		})
	}
}

func effortCases(t *testing.T) []published {
	const src = "Compendium of Physical Activities (2011)"
	met := compendium(t)
	out := []published{
		{"digging 5.0 MET, 70 kg, 2 h (computed)", "gross kcal", Kcal(Digging, 70, 2), 700, 0},
		{"digging 5.0 MET, 70 kg, 2 h (computed)", "net kcal", NetKcal(Digging, 70, 2), 560, 0},
	}
	for name, v := range map[string]float64{
		"sleeping": Sleeping, "sitting quietly, reading": Sitting, "watering garden, standing or walking": Watering,
		"cooking (as work)": Cooking, "picking fruit or vegetables, moderate": Picking, "feeding small animals": FeedingSmall,
		"gardening, general, moderate": Gardening, "hauling water (farm)": HaulingWater, "planting crops or garden, stooping": Planting,
		"weeding, cultivating": Weeding, "chopping or splitting wood, moderate": Splitting,
		"digging, spading, filling garden, composting": Digging, "weeding with a hoe, moderate to vigorous": Hoeing,
		"pushing a cart or wheelbarrow": Barrow,
	} {
		out = append(out, published{src, name, v, met[name], 0})
	}
	return out
}

func compendium(t *testing.T) map[string]float64 {
	t.Helper()
	file, err := os.Open("testdata/met.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for _, r := range rows[1:] {
		if out[r[2]], err = strconv.ParseFloat(r[1], 64); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

func rideCases() []published {
	const src = "bicycle table, rho 1.2, muscle 0.24 (computed)"
	var out []published
	for _, c := range []struct{ kg, kmh, grade, crr, cda, watts, kcal float64 }{
		{90, 15, 0, 0.006, 0.6, 50.6, 12.1},
		{150, 12, 0, 0.008, 0.8, 60.0, 17.9},
		{150, 15, 0, 0.008, 0.8, 88.2, 21.1},
		{150, 20, 0, 0.008, 0.8, 155.5, 27.9},
		{150, 6, 0.04, 0.008, 0.8, 126.2, 75.4},
		{210, 12, 0, 0.008, 0.9, 78.9, 23.6},
	} {
		r := Ride{Mass: c.kg, Speed: c.kmh / 3.6, Grade: c.grade, Crr: c.crr, CdA: c.cda}
		name := fmt.Sprintf("%g kg, %g km/h, grade %g, ", c.kg, c.kmh, c.grade)
		out = append(out,
			published{src, name + "W", r.Watts(), c.watts, 0.05},
			published{src, name + "kcal/km", r.KcalPerKm(), c.kcal, 0.05})
	}
	return append(out, published{"load carriage, 7.6 W per kg at 1.25 m/s", "kcal/kg/km", CarryKcal(1, 1000), 1.45, 0.005})
}

func labourCases() []published {
	const alchemy = "New Alchemy Institute (1976-77), 405 m2"
	season := 0.0
	for m := time.April; m <= time.August; m++ {
		days := time.Date(2021, m+1, 0, 0, 0, 0, 0, time.UTC).Day()
		season += GardenHours(405, m, false) * float64(days)
	}
	week := func(m time.Month) float64 { return 7 * GardenHours(405, m, false) }
	const cans = "hand watering, 2 x 10 L, 20 m (computed)"
	return []published{
		{alchemy, "season, h", season, 241, 1},
		{alchemy, "season, h/m2", season / 405, 0.60, 0.005 + 1./405},
		{alchemy, "April, h a week", week(time.April), 4, 1e-9},
		{alchemy, "May, h a week", week(time.May), 8, 1e-9},
		{alchemy, "June 15-20 h a week", week(time.June), 17.5, 2.5},
		{alchemy, "July, h a week", week(time.July), 20, 1e-9},
		{alchemy, "August 3-8 h a week", week(time.August), 5.5, 2.5},
		{cans, "20 L, s", 60 * CanMinutes(20, 20), 136, 0.5},
		{cans, "s per L", 60 * CanMinutes(1, 20), 6.8, 0.05},
		{cans, "kcal per L, 70 kg", CanKcal(1, 20, 70), 0.57, 0.005},
		{"UK allotments, 24 min/kg (household logs)", "10 kg, h", PickHours(10, 24), 4, 1e-9},
	}
}
