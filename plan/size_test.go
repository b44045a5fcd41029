package plan

import (
	"context"
	"math"
	"testing"
)

// TestSizeUp: water saves ground, fat asks for more of it, twice the people need
// twice the ground, the table is covered, and the roof catches what is asked of it.
func TestSizeUp(t *testing.T) {
	pl := places(t)[1]
	r := reckoning(t, pl.text, pl.file, pl.learn, 30, 1)
	z, err := SizeUp(context.Background(), ask(r))
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range z.Ways {
		t.Logf("%s: watered %v, fat %v: %.0f m2, %.0f L, %.0f at most; roof %.0f m2, tank %.0f or %.0f L; %.1f kg N; %.1f h, %.1f h; %.0f L of store",
			pl.name, w.Watered, w.WithFat, w.Ground, w.Water, w.Most, w.Roof, w.Tank, w.Tank2, w.Bring[0], w.Hours, w.Busiest, w.Room)
		if w.Watered != (i >= 2) || w.WithFat != (i%2 == 1) || (w.Water > 0) != w.Watered {
			t.Errorf("way %d: %+v", i, w)
		}
		if w.Lacking > 0.5 || w.Protein > 0.5 || w.WithFat && w.Fat > 0.5 {
			t.Errorf("way %d lacks %.1f, %.1f and %.1f days", i, w.Lacking, w.Protein, w.Fat)
		}
		if caught := w.Roof * z.Rain * roofCatch; caught < w.Water+z.House*0.99 || !(w.Tank > w.Tank2) || w.Tank2 <= 0 {
			t.Errorf("way %d: the roof catches %.0f L of %.0f; tanks %.0f and %.0f L", i, caught, w.Water+z.House, w.Tank, w.Tank2)
		}
		area := 0.0
		for _, l := range w.Crops {
			area += l.Area
		}
		if area < w.Ground*0.99 || w.Each != w.Ground/z.People {
			t.Errorf("way %d: %.0f m2 are sown in all, on %.0f of ground", i, area, w.Ground)
		}
	}
	if each := z.Ways[3].Each; each < 372 || each > 2000 { // the band of landCases
		t.Errorf("a whole diet takes %.0f m2 a person", each)
	}
	if z.Ways[2].Ground > z.Ways[0].Ground*1.001 || z.Ways[1].Ground < z.Ways[0].Ground*0.999 {
		t.Errorf("ground by way: %.0f, %.0f, %.0f, %.0f", z.Ways[0].Ground, z.Ways[1].Ground, z.Ways[2].Ground, z.Ways[3].Ground)
	}
	twice := *r.Stead
	twice.People = append(append(twice.People[:0:0], twice.People...), twice.People...)
	b := ask(r)
	b.Stead = &twice
	y, err := b.unbuilt(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	both, err := y.sized(context.Background(), true, false)
	if err != nil {
		t.Fatal(err)
	}
	if got := both.Ground / z.Ways[2].Ground; math.Abs(got-2) > 0.02 {
		t.Errorf("twice the people need %.3f times the ground", got)
	}
	b.Stead.People = nil
	if _, err := SizeUp(context.Background(), b); err == nil {
		t.Error("nobody to feed is no error")
	}
}
