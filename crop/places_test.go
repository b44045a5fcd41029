package crop

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"evenstead/data"
	"evenstead/day"
	"evenstead/weather"
)

// table reads a CSV file of testdata as rows by column name.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, h := range all[0] {
			row[h] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// number reads a cell; an empty one is NaN.
func number(t testing.TB, s string) float64 {
	t.Helper()
	if s == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// windowCrops are the crops of the table, limas picked green as the charts mean.
func windowCrops(t testing.TB) map[string]*data.Crop {
	t.Helper()
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*data.Crop{}
	for i := range tab.Crops {
		c := Green(&tab.Crops[i])
		out[c.ID] = &c
	}
	return out
}

// normals are monthly means and standard deviations of daily extremes, °C.
type normals struct {
	lat        float64
	lo, hi     [12]float64
	sdLo, sdHi [12]float64
}

func places(t testing.TB) map[string]normals {
	out := map[string]normals{}
	for _, r := range table(t, "normals.csv") {
		n := out[r["place"]]
		m := int(number(t, r["month"])) - 1
		n.lat = number(t, r["lat"])
		n.lo[m], n.hi[m] = number(t, r["tmin_c"]), number(t, r["tmax_c"])
		n.sdLo[m], n.sdHi[m] = number(t, r["tmin_sd_c"]), number(t, r["tmax_sd_c"])
		out[r["place"]] = n
	}
	return out
}

// climates are the places' own: of the real record where there is one.
func climates(t testing.TB) map[string]*Climate {
	t.Helper()
	out := map[string]*Climate{}
	for name, n := range places(t) {
		out[name] = n.climate(t, false)
	}
	out["Gainesville"] = recorded(t, "gainesville-1960-2020.csv.gz", 29.69)
	return out
}

// recorded is the climate of a daily record of weather/testdata.
func recorded(t testing.TB, name string, lat float64) *Climate {
	t.Helper()
	f, err := os.Open("../weather/testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rec, err := weather.Read(f, weather.Options{Name: name})
	if err != nil {
		t.Fatal(err)
	}
	c, err := NewClimate(lat, rec.Start, rec.TMin, rec.TMax)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// climate draws 60 years about the normals: month middles joined by straight
// lines, departures normal with a day-to-day correlation of 0.7. Shifted by half
// a year it is the same place south of the line.
func (n normals) climate(t testing.TB, south bool) *Climate {
	t.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	first := day.Of(1961, 1, 1)
	var lo, hi []float64
	var z float64
	for i := range 60 * 365 {
		doy := dayOfYear(first + day.Day(i))
		if south {
			doy = (doy + 182) % 365
		}
		z = 0.7*z + math.Sqrt(1-0.49)*r.NormFloat64()
		lo = append(lo, between(n.lo, doy)+z*between(n.sdLo, doy))
		hi = append(hi, between(n.hi, doy)+z*between(n.sdHi, doy))
	}
	lat := n.lat
	if south {
		lat = -lat
	}
	c, err := NewClimate(lat, first, lo, hi)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// between joins twelve month middles by straight lines.
func between(v [12]float64, doy int) float64 {
	x := (float64(doy) - 15) / (365.0 / 12)
	if x < 0 {
		x += 12
	}
	i := int(x)
	return v[i%12] + (x-float64(i))*(v[(i+1)%12]-v[i%12])
}
