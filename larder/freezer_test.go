package larder

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFreezerDaily(t *testing.T) {
	near(t, "label at 25 °C", FreezerDaily(1.8, 25), 1.8, 1e-12)
	near(t, "in a room as cold as the cabinet", FreezerDaily(1.8, -18), 0, 0)
	near(t, "colder still", FreezerDaily(1.8, -40), 0, 0)
}

func TestFreezerDailyRisesWithTheRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		room := rapid.Float64Range(-17, 40).Draw(t, "room")
		if a, b := FreezerDaily(2, room), FreezerDaily(2, room+1); b <= a {
			t.Fatalf("%g MJ at %g °C, %g a degree warmer", a, room, b)
		}
	})
}

func TestFreezerHoldIsNeverOverThePublished(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fill := rapid.Float64Range(-0.5, 1.5).Draw(t, "fill")
		h := FreezerHold(fill, rapid.Float64Range(0, 800).Draw(t, "litres"), rapid.Float64Range(-30, 45).Draw(t, "room"))
		if h < 0 || h > 48*min(max(fill, 0), 1) {
			t.Fatalf("%g h at fill %g", h, fill)
		}
	})
	near(t, "a hot room shortens", FreezerHold(1, 300, 35), 48*43/53.0, 1e-12)
	near(t, "a cool one lengthens nothing", FreezerHold(1, 300, 5), 48, 0)
	near(t, "a small chest shortens", FreezerHold(1, 25, 20), 24, 1e-12)
	near(t, "empty", FreezerHold(0, 300, 20), 0, 0)
}

func TestThaw(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		ice         bool
		temp, hours float64
		want        Fate
	}{
		{false, 7, 1, CookNow}, {false, 7, nan, Discard}, {false, nan, 1, Discard}, {true, nan, nan, Refreeze}, {false, 2, nan, Refreeze}, {false, 12, 10, Discard},
	} {
		if got := Thaw(c.ice, c.temp, c.hours); got != c.want {
			t.Errorf("ice %v, %g °C, %g h: %s, want %s", c.ice, c.temp, c.hours, got, c.want)
		}
	}
}

func TestFreezeHeatAddsUp(t *testing.T) {
	near(t, "two kg take twice one", FreezeHeat(2, 15), 2*FreezeHeat(1, 15), 1e-15)
	near(t, "warmer food by its own heat", FreezeHeat(1, 30)-FreezeHeat(1, 20), 0.037, 1e-12)
}
