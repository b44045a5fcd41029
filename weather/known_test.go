package weather

import (
	"math"
	"reflect"
	"testing"
	"time"

	"evenstead/day"
)

func usualPlace(t *testing.T, n int) *Ensemble {
	t.Helper()
	norm := Normals{TMinSD: 3, TMaxSD: 3, Persistence: 0.25, RainCV: 0.2}
	for i := range 12 {
		norm.Rain[i], norm.WetDays[i], norm.TMin[i], norm.TMax[i] = 60, 8, 8, 18
	}
	e, err := FromNormals(norm, Site{Lat: 40, Elev: 100}, day.Of(2026, time.March, 1), 365, n, 1)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// TestPastFillsFromTheUsualYear: a year of which nothing is known rains what the
// usual year does, in falls of the usual size; what is known stands.
func TestPastFillsFromTheUsualYear(t *testing.T) {
	e := usualPlace(t, 60)
	known := Unknown(e.Start, 365)
	known.Rain[100], known.TMin[100] = 40, -3
	m := e.Past(known)
	if m.Rain[100] != 40 || m.TMin[100] != -3 {
		t.Fatalf("what was measured did not stand: %g mm, %g °C", m.Rain[100], m.TMin[100])
	}
	sum, wet := 0.0, 0
	for i, mm := range m.Rain {
		if math.IsNaN(mm+m.TMin[i]+m.TMax[i]+m.ET0[i]) || m.TMin[i] > m.TMax[i] {
			t.Fatalf("day %d is not whole: %g mm, %g to %g °C", i, mm, m.TMin[i], m.TMax[i])
		}
		sum += mm
		if mm > 0 {
			wet++
		}
	}
	if sum < 680 || sum > 840 { // 720 mm a year, 40 of it laid over
		t.Errorf("the filled year rains %.0f mm, want about 720 to 760", sum)
	}
	if wet < 75 || wet > 115 {
		t.Errorf("the filled year has %d wet days, want about 96", wet)
	}
}

// TestOverlayLaysTheKnownOverEveryMember and leaves the rest to each.
func TestOverlayLaysTheKnownOverEveryMember(t *testing.T) {
	e := usualPlace(t, 20)
	before := e.Members[3].clone()
	shared := e.Members[3].Rain
	known := Unknown(e.Start-10, 40)
	known.Rain[15], known.TMax[16] = 33, 41 // days 5 and 6 of the members
	e.Overlay(known)
	for i := range e.Members {
		if m := &e.Members[i]; m.Rain[5] != 33 || m.TMax[6] != 41 {
			t.Fatalf("member %d: %g mm, %g °C", i, m.Rain[5], m.TMax[6])
		}
	}
	m := &e.Members[3]
	if m.Rain[6] != before.Rain[6] || m.TMin[6] != before.TMin[6] || m.Rain[200] != before.Rain[200] {
		t.Error("what the record does not know changed")
	}
	if m.ET0[6] <= before.ET0[6] {
		t.Errorf("a hotter day asks %g mm, was %g", m.ET0[6], before.ET0[6])
	}
	if shared[5] != before.Rain[5] {
		t.Error("a shared slice was written to")
	}
}

// TestSettleIsOverlay for members drawn from a place's months, which are not copied, and
// from a record, whose real years share its slices.
func TestSettleIsOverlay(t *testing.T) {
	known := Unknown(november-10, 40)
	known.Rain[15], known.TMax[16] = 33, 41
	drawn := func() *Ensemble { return usualPlace(t, 20) }
	recorded := func() *Ensemble {
		e, err := FromRecord(gainesville(t), Site{Lat: 29.69, Elev: 38}, november, 400, 80, 7)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	for name, made := range map[string]func() *Ensemble{"drawn": drawn, "recorded": recorded} {
		a, b := made(), made()
		known.Start = a.Start - 10
		last := len(b.Members) - 1
		had := &b.Members[last].Rain[0]
		a.Overlay(known)
		b.Settle(known)
		if !reflect.DeepEqual(a.Members, b.Members) {
			t.Errorf("%s: the members differ", name)
		}
		if had != &b.Members[last].Rain[0] {
			t.Errorf("%s: what nobody shares was copied", name)
		}
	}
}
