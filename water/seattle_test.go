package water

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
)

// seattleRain returns the daily rain [mm] of testdata/seattle-weather.csv.
func seattleRain(t testing.TB) []float64 {
	t.Helper()
	f, err := os.Open("testdata/seattle-weather.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rain := make([]float64, 0, len(rows))
	for _, r := range rows[1:] {
		v, err := strconv.ParseFloat(r[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		rain = append(rain, v)
	}
	return rain
}

// seattleRoof returns the inflow [L a day] of 60 m2, C 0.9, with f mm of run-off
// lost to a diverter that drains overnight.
func seattleRoof(t testing.TB, f float64) []float64 {
	in := seattleRain(t)
	for i, p := range in {
		in[i], _ = CatchAfterFlush(p, 60, 0.9, f*60*0.9)
	}
	return in
}
