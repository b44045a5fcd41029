package work

import (
	"math"
	"strings"
	"testing"
	"time"

	"evenstead/data"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func TestDayAddsUp(t *testing.T) {
	day := []Spell{{Sleeping, 8}, {Digging, 2}, {Sitting, 14}}
	near(t, "kcal", DayKcal(70, day), 70*(7.6+10+18.2), 1e-9)
	near(t, "an empty day", DayKcal(70, nil), 0, 0)
}

func TestHaulOnTheFlat(t *testing.T) {
	h := Haul{Distance: 2000, Load: 45, Rider: 70, Speed: 12 / 3.6}
	near(t, "minutes at 12 km/h both ways", h.Minutes(), 20, 1e-9)
	near(t, "kcal", h.Kcal(), 2*(17.9+Ride{Mass: 105, Speed: 12 / 3.6, Crr: 0.008, CdA: 0.8}.KcalPerKm()), 0.1)
}

func TestHaulUphill(t *testing.T) {
	flat := Haul{Distance: 2000, Load: 45, Rider: 70, Speed: 12 / 3.6}
	hill := flat
	hill.Climb = 40
	lift := 150 * gravity * 40.
	near(t, "more minutes", hill.Minutes()-flat.Minutes(), lift/(flat.home().Watts()*drive)/60, 1e-9)
	near(t, "more kcal", hill.Kcal()-flat.Kcal(), lift/drive/muscle/4184, 1e-9)
}

func TestHaulUnknowns(t *testing.T) {
	near(t, "no speed, minutes", Haul{Distance: 500}.Minutes(), 0, 0)
	near(t, "no speed, kcal", Haul{Distance: 500, Speed: math.NaN()}.Kcal(), 0, 0)
	a, b := Haul{Distance: 500, Speed: 3}, Haul{Distance: 500, Speed: 3, Rider: 70}
	near(t, "a rider of 70 kg is taken", a.Kcal(), b.Kcal(), 0)
}

func TestHarderHaulsCostMore(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		h := Haul{
			Distance: rapid.Float64Range(1, 20000).Draw(r, "m"), Climb: rapid.Float64Range(0, 300).Draw(r, "climb"),
			Load: rapid.Float64Range(0, 120).Draw(r, "load"), Rider: 65, Speed: rapid.Float64Range(1, 6).Draw(r, "speed"),
		}
		far, heavy := h, h
		far.Distance *= 1.5
		heavy.Load += 20
		if far.Kcal() <= h.Kcal() || heavy.Kcal() <= h.Kcal() || far.Minutes() <= h.Minutes() {
			r.Fatalf("%+v", h)
		}
	})
}

func TestDownhillIsFree(t *testing.T) {
	near(t, "W", Ride{Mass: 100, Speed: 3, Grade: -0.1, Crr: 0.008, CdA: 0.7}.Watts(), 0, 0)
}

func TestTrips(t *testing.T) {
	for _, c := range []struct {
		kg, payload float64
		want        int
	}{{90, 45, 2}, {91, 45, 3}, {1, 45, 1}, {0, 45, 0}, {10, 0, 0}, {math.NaN(), 45, 0}, {0.3, 0.1, 3}} {
		if got := Trips(c.kg, c.payload); got != c.want {
			t.Errorf("%v kg by %v: %d trips, want %d", c.kg, c.payload, got, c.want)
		}
	}
}

func TestSouthernGardenYear(t *testing.T) {
	for m := time.January; m <= time.December; m++ {
		other := (m+5)%12 + 1
		near(t, m.String(), GardenHours(100, m, true), GardenHours(100, other, false), 0)
	}
	if GardenHours(100, time.January, true) <= GardenHours(100, time.July, true) {
		t.Error("southern summer is not the busy time")
	}
}

func TestGardenYearLiesInItsBand(t *testing.T) {
	year := 0.0
	for m := time.January; m <= time.December; m++ {
		year += GardenHours(1, m, false) * 365 / 12
	}
	if year < 0.6 || year > 2 { // h/m2 of hand vegetable beds, common practice
		t.Errorf("%v h/m2 a year", year)
	}
}

func TestTable(t *testing.T) {
	rows := []data.Work{{Task: "hens", Hours: 0.05, Unit: "day"}, {Task: "cook", Hours: 1.5, Unit: "day"}, {Task: "bad", Hours: math.Inf(1), Unit: "day"}}
	h, err := Hours(rows, "hens", 7)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "hens for a week", h, 0.35, 1e-12)
	for _, c := range []struct {
		rows   []data.Work
		task   string
		amount float64
		want   string
	}{
		{rows, "shear", 1, "bad, cook, hens"},
		{nil, "hens", 1, "no tasks"},
		{rows, "hens", -1, "not a time"},
		{rows, "bad", 1, "not a time"},
		{rows, "cook", math.NaN(), "not a time"},
	} {
		if _, err := Hours(c.rows, c.task, c.amount); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s x %v: error %v, want one about %q", c.task, c.amount, err, c.want)
		}
	}
}

func TestDailyWorkDoesNotAllocate(t *testing.T) {
	h := Haul{Distance: 2100, Climb: 15, Load: 5.3, Speed: 3.3}
	var sink float64
	if n := testing.AllocsPerRun(100, func() {
		sink += h.Minutes() + h.Kcal() + GardenHours(90, time.May, false) + CanMinutes(40, 20)
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkHaul(b *testing.B) {
	h := Haul{Distance: 2100, Climb: 15, Load: 5.3, Speed: 3.3}
	for b.Loop() {
		h.Minutes()
	}
}
