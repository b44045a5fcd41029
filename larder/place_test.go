package larder

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestGroundSurfaceIsTheWave(t *testing.T) {
	near(t, "coldest day", northern.Ground(0, Loam, 35), -2, 1e-12)
	near(t, "half a year on", northern.Ground(0, Loam, 35+182.5), 23, 1e-12)
	near(t, "very deep", northern.Ground(40, Loam, 35), 10.5, 1e-5)
}

func TestGroundSouth(t *testing.T) {
	south := Wave{Mean: 14, Amplitude: 7, Coldest: 210}
	if jan, jul := south.Ground(1, Loam, 20), south.Ground(1, Loam, 210); jan <= jul {
		t.Errorf("January %g °C, July %g: the southern wave is upside down", jan, jul)
	}
}

func TestGroundRepeatsAndDamps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Wave{rapid.Float64Range(-5, 28).Draw(t, "mean"), rapid.Float64Range(0, 25).Draw(t, "amplitude"), rapid.Float64Range(1, 365).Draw(t, "coldest")}
		z, n := rapid.Float64Range(0, 10).Draw(t, "depth"), rapid.Float64Range(1, 365).Draw(t, "day")
		v := w.Ground(z, Loam, n)
		if math.Abs(v-w.Ground(z, Loam, n+365)) > 1e-9 {
			t.Fatal("a year on differs")
		}
		if math.Abs(v-w.Mean) > w.Amplitude*math.Exp(-z/DampingDepth(Loam))+1e-9 {
			t.Fatalf("%g °C swings too far", v)
		}
	})
}

func TestStoreTemp(t *testing.T) {
	w := Wave{Mean: 15, Amplitude: 8, Coldest: 20}
	for _, c := range []struct {
		kind            string
		air, day, wants float64
	}{
		{Room, 5, 20, 18}, {Room, 27, 200, 27}, {Jars, 5, 20, 18}, {Crocks, 24, 200, 24}, {Freezer, -3, 20, 18},
		{DryRoom, 7, 20, 9}, {DryRoom, 15, 100, 15}, {Cellar, -10, 20, w.Ground(1, Loam, 20)},
	} {
		got, err := StoreTemp(c.kind, c.air, w, c.day)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.kind, got, c.wants, 1e-12)
	}
	if _, err := StoreTemp("attic", 10, w, 1); err == nil {
		t.Error("an unknown kind passed")
	}
}

func TestCellarIsCoolInSummerAndMildInWinter(t *testing.T) {
	w := Wave{Mean: 15, Amplitude: 8, Coldest: 20}
	winter, _ := StoreTemp(Cellar, 7, w, 20)
	summer, _ := StoreTemp(Cellar, 23, w, 202)
	if winter <= 7 || summer >= 23 {
		t.Errorf("winter %g, summer %g °C", winter, summer)
	}
}
