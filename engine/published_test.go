package engine

import (
	"math"
	"testing"

	"evenstead/stead"
	"evenstead/weather"
)

type printed struct {
	source, name   string
	got, want, tol float64
}

// TestPublished holds whole gardens, as the engine grows them, to gardens that
// were weighed. Gross ground is the planted ground with its paths, half again.
func TestPublished(t *testing.T) {
	const paths = 1.45 // gross over net, 1.3 to 1.6 (common practice)
	fed := gardenYield(t, "yes")
	poor := gardenYield(t, "no")
	for _, c := range []printed{
		{"Rutgers rule for a mixed vegetable garden, 0.5 lb/ft2 a season", "watered and dunged, kg a gross m2", fed / paths, 2.44, 1.2},
		{"Maine garden of 1,600 ft2, 834 lb in a season (Ohio extension)", "watered and dunged, kg a gross m2", fed / paths, 2.54, 1.2},
		{"San Jose, ten gardeners, 0.75 lb/ft2 of beds in four months", "watered and dunged, kg a net m2", fed, 3.66, 1.5},
		{"UK allotments, mean of a survey (Dobson et al. 2021), about 1 kg a gross m2", "neither watered nor dunged, kg a gross m2", poor / paths, 1, 0.6},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.3g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

// gardenYield is the middle year's kg a planted m2 of a mixed summer garden.
func gardenYield(t *testing.T, watered string) float64 {
	t.Helper()
	text := `
name = "Mixed"
place.latitude = 40
person = [{ sex = "female", age = 40, hours_week = 40 }, { sex = "male", age = 40, hours_week = 40 }]
roof = [{ area = "400 m2", tank = "200000 L" }]
`
	crops := []struct{ id, sow string }{{"tomato", "15 May"}, {"zucchini", "15 May"}, {"snap_bean", "15 May"}, {"carrot", "1 Apr"}, {"beet", "1 Apr"},
		{"cabbage", "15 Mar"}, {"potato", "10 Apr"}, {"chard", "1 Apr"}, {"onion", "15 Mar"}, {"winter_squash", "15 May"}}
	for _, c := range crops {
		irrigated := "true"
		if watered == "no" {
			irrigated = "false"
		}
		text += "[[bed]]\nname = \"" + c.id + "\"\narea = \"10 m2\"\nirrigated = " + irrigated + "\nhow = \"hose\"\n[[planting]]\nbed = \"" + c.id + "\"\ncrop = \"" + c.id + "\"\nsow = \"" + c.sow + "\"\n"
	}
	st, err := stead.Read("mixed", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	r := readyFor(t, st, 60, 300)
	if watered == "no" {
		r.ens = midlands(t, st, 60, 300)
		r.opt.Climate = r.ens.Climate()
	}
	if watered == "yes" {
		r.opt.Without = NoHunger
	}
	kg, area := 0.0, 0.0
	for _, c := range r.run(t).Crops {
		kg += c.Kg.P50
		area += c.Area
	}
	return kg / area
}

// midlands is weather like Leicester's, where the allotments are: twelve means, from
// memory (a station's normals of 1991 to 2020, rounded).
func midlands(t *testing.T, st *stead.Stead, n, days int) *weather.Ensemble {
	t.Helper()
	norm := weather.Normals{
		Rain:    [12]float64{52, 42, 41, 47, 50, 60, 58, 60, 52, 62, 60, 57},
		WetDays: [12]float64{11, 10, 9, 9, 9, 9, 9, 9, 9, 11, 11, 11},
		TMin:    [12]float64{1.5, 1.4, 2.5, 4.2, 6.9, 9.9, 12, 11.9, 9.8, 7.1, 3.9, 1.8},
		TMax:    [12]float64{7.3, 8, 10.6, 13.8, 16.9, 19.9, 22.3, 21.9, 18.7, 14.3, 10.1, 7.5},
		TMinSD:  3, TMaxSD: 3, Persistence: 0.25, RainCV: 0.15,
	}
	ens, err := weather.FromNormals(norm, weather.Site{Lat: 52.6, Elev: 70}, st.Stay.From, days, n, 7)
	if err != nil {
		t.Fatal(err)
	}
	return ens
}
