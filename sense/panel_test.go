package sense

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/stead"
	"evenstead/unit"
)

var zone = time.FixedZone("here", -5*3600)

// midnight is the local beginning of the day the tests are on.
var midnight = time.Date(2026, 11, 25, 0, 0, 0, 0, zone)

var today = day.Of(2026, 11, 25)

// place of a small stead; its parts are all that sensors may be on.
func names(t testing.TB) book.Context {
	t.Helper()
	st, err := stead.Read("quernfold.toml", demo.Quernfold())
	if err != nil {
		t.Fatal(err)
	}
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	c := book.Of(st, tab)
	c.Today, c.From = today+400, st.Stay.From
	return c
}

// bench is a panel under test.
type bench struct {
	t *testing.T
	c book.Context
	Panel
	wrote []book.Entry
	told  []string
	rang  []string
}

func newBench(t *testing.T) *bench { return &bench{t: t, c: names(t)} }

// say sends a payload at a moment and tells whether it was used.
func (b *bench) say(at time.Time, topic, payload string) Verdict {
	b.t.Helper()
	r, err := Parse(Root+"/"+topic, []byte(payload))
	if err != nil {
		b.t.Fatal(err)
	}
	v := b.Take(r, b.c, at)
	b.keep(v.Events)
	return v
}

func (b *bench) keep(events []Event) {
	b.t.Helper()
	for _, e := range events {
		switch e.What {
		case Write:
			if err := book.Check(e.Entry, b.c); err != nil {
				b.t.Errorf("the book can't hold %s: %v", e.Entry.Sentence(unit.Metric), err)
			}
			b.wrote = append(b.wrote, e.Entry)
		case Tell:
			b.told = append(b.told, e.Say)
		case Ring:
			b.rang = append(b.rang, e.Say)
		}
	}
}

func (b *bench) used(v Verdict, want bool) {
	b.t.Helper()
	if v.Used != want {
		b.t.Errorf("used %v, want %v (%s)", v.Used, want, v.Why)
	}
}

// TestADayOfReadingsIsOneEntry: a reading every ten minutes for three days leaves
// one entry a day and measure, each of its own local day.
func TestADayOfReadingsIsOneEntry(t *testing.T) {
	b := newBench(t)
	for i := range 3 * 144 {
		at := midnight.Add(time.Duration(i) * 10 * time.Minute)
		wave := math.Sin(2 * math.Pi * float64(i) / 144)
		b.used(b.say(at, "barn/level", unitless(9000-float64(i))), true)
		b.used(b.say(at, "freezer/temperature", unitless(-20+2*wave)), true)
		b.used(b.say(at, "gauge/rain", unitless(float64(i/100))), true)
		b.keep(b.Tick(at.Add(time.Minute)))
	}
	b.keep(b.Tick(midnight.Add(72*time.Hour + time.Minute)))
	count := map[string]int{}
	for _, e := range b.wrote {
		count[string(e.Kind)+" "+e.Day.String()]++
	}
	for _, want := range []string{"dipped 2026-11-25", "dipped 2026-11-26", "dipped 2026-11-27", "heat 2026-11-25", "heat 2026-11-26", "heat 2026-11-27", "rain 2026-11-25", "rain 2026-11-26"} {
		if count[want] != 1 {
			t.Errorf("%d of %s", count[want], want)
		}
	}
	if len(b.told)+len(b.rang) > 0 {
		t.Errorf("told %v, rang %v", b.told, b.rang)
	}
	first := b.wrote[0]
	if first.Kind != book.Dipped || first.Body.Amount != 9000 || first.Time != "00:00" || first.Body.Where != "barn" {
		t.Errorf("first entry: %s", first.Sentence(unit.Metric))
	}
	for _, e := range b.wrote {
		if e.Kind == book.Heat && e.Body.Amount != -18 {
			t.Errorf("a freezer's day is its warmest, −18 °C: %s", e.Sentence(unit.Metric))
		}
	}
}

func unitless(v float64) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(text)
}

func TestOutOfRangeIsToldNotUsed(t *testing.T) {
	b := newBench(t)
	b.used(b.say(midnight, "freezer/temperature", "-19"), true)
	b.used(b.say(midnight.Add(time.Minute), "freezer/temperature", "85"), false)
	b.used(b.say(midnight.Add(2*time.Minute), "freezer/temperature", "-127"), false)
	b.used(b.say(midnight.Add(3*time.Minute), "freezer/temperature", "60"), false)
	b.used(b.say(midnight.Add(4*time.Minute), "barn/level", "34100"), true) // a brimful tank and a coarse stick
	b.used(b.say(midnight.Add(5*time.Minute), "barn/level", "35000"), false)
	b.used(b.say(midnight.Add(6*time.Minute), "freezer/temperature", "-19.1"), true)
	want := []string{"has not measured", "believable are", "can be believed again"}
	for i, say := range want {
		if i >= len(b.told) || !strings.Contains(b.told[i], say) {
			t.Errorf("told %q, want %q in its place %d", b.told, say, i)
		}
	}
}

func TestAJumpWaitsForOthersToAgree(t *testing.T) {
	b := newBench(t)
	at := func(min int) time.Time { return midnight.Add(time.Duration(min) * time.Minute) }
	b.used(b.say(at(0), "barn/level", "5000"), true)
	b.used(b.say(at(1), "barn/level", "30000"), false) // a splash before the eye of the sensor
	b.used(b.say(at(2), "barn/level", "5010"), true)
	b.used(b.say(at(3), "barn/level", "30000"), false) // a tanker came
	b.used(b.say(at(4), "barn/level", "30010"), false)
	b.used(b.say(at(5), "barn/level", "30020"), true)
	if s := b.Standing()[0]; s.Value != 30020 || s.Trouble != Sound {
		t.Errorf("%+v", s)
	}
	if len(b.wrote) != 1 || b.wrote[0].Body.Amount != 5000 {
		t.Errorf("wrote %v", b.wrote)
	}
}

func TestAStuckSensorIsNotUsed(t *testing.T) {
	b := newBench(t)
	var last Verdict
	for h := range 20 {
		last = b.say(midnight.Add(time.Duration(h)*time.Hour), "freezer/temperature", "-19.5")
	}
	b.used(last, false)
	if len(b.told) != 1 || !strings.Contains(b.told[0], "without any change") {
		t.Errorf("told %q", b.told)
	}
	b.used(b.say(midnight.Add(21*time.Hour), "freezer/temperature", "-19.6"), true)
	// A count of rain may stand still all summer.
	for d := range 40 {
		b.used(b.say(midnight.AddDate(0, 0, d).Add(time.Hour), "gauge/rain", "412.6"), true)
	}
}

func TestSilenceIsTold(t *testing.T) {
	b := newBench(t)
	b.say(midnight, "freezer/temperature", "-19")
	for h := range 30 {
		b.keep(b.Tick(midnight.Add(time.Duration(h) * time.Hour)))
	}
	if len(b.told) != 1 || !strings.Contains(b.told[0], "not been heard from") || len(b.rang) != 1 {
		t.Errorf("told %q, rang %q", b.told, b.rang)
	}
}

// TestRainIsWhatTheCountRose: a count that begins again loses nothing, one that
// leaps brings nothing.
func TestRainIsWhatTheCountRose(t *testing.T) {
	cases := []struct {
		name   string
		counts string
		want   float64
	}{
		{"rises", "100 101 104.2", 4.2},
		{"the same again", "100 101 101 101 104.2 104.2", 4.2},
		{"begins again", "100 102 1 1 1.5", 3.5},
		{"a glitch to nothing", "100 102 0 103", 3},
		{"a glitch upwards", "100 102 9000 103", 3},
		{"another gauge is hung", "100 102 9000 9000 9000 9001", 3},
	}
	for _, c := range cases {
		b := newBench(t)
		for i, v := range strings.Fields(c.counts) {
			b.say(midnight.Add(time.Duration(i)*time.Minute), "gauge/rain", v)
		}
		b.keep(b.Tick(midnight.Add(25 * time.Hour)))
		if len(b.wrote) != 1 || math.Abs(b.wrote[0].Body.Amount-c.want) > 1e-9 {
			t.Errorf("%s: wrote %v, want %v mm", c.name, b.wrote, c.want)
		}
	}
}

// TestHeapsAreToldByTheirCoolest: the rule of a heap asks that it stays hot.
func TestHeapsAreToldByTheirCoolest(t *testing.T) {
	b := newBench(t)
	heap := b.c.Names[book.Compost][0].ID
	for i, v := range []string{"58", "61", "56.5", "60"} {
		b.say(midnight.Add(time.Duration(6*i)*time.Hour), heap+"/temperature", v)
	}
	b.keep(b.Tick(midnight.Add(24 * time.Hour)))
	if len(b.wrote) != 1 || b.wrote[0].Body.Amount != 56.5 || b.wrote[0].Body.Where != heap {
		t.Errorf("wrote %v", b.wrote)
	}
}

func TestHivesAreNotedOnceAWeek(t *testing.T) {
	b := newBench(t)
	for d := range 15 {
		b.say(midnight.AddDate(0, 0, d).Add(time.Hour), "hives/weight", unitless(40+float64(d)/10))
	}
	b.keep(b.Tick(midnight.AddDate(0, 0, 15)))
	if len(b.wrote) != 3 || b.wrote[0].Kind != book.Noted || !strings.Contains(b.wrote[0].Note, "40.0 kg") {
		t.Errorf("wrote %v", b.wrote)
	}
}

// TestFreezerAlarm follows a freezer that loses its current for a day.
func TestFreezerAlarm(t *testing.T) {
	b := newBench(t)
	at := midnight
	say := func(v float64, minutes int) {
		for range minutes / 10 {
			b.say(at, "freezer/temperature", unitless(v+math.Mod(at.Sub(midnight).Minutes(), 7)/1000))
			at = at.Add(10 * time.Minute)
			b.keep(b.Tick(at))
		}
	}
	rang := func(n int, words string) {
		t.Helper()
		if len(b.rang) != n || n > 0 && !strings.Contains(b.rang[n-1], words) {
			t.Fatalf("at %s rang %q, want %d, the last with %q", at.Format("15:04"), b.rang, n, words)
		}
	}
	say(-18, 60)
	say(-11, 40) // defrosting
	say(-18, 60)
	rang(0, "")
	say(-11, 90)
	rang(1, "leave it shut")
	say(-13, 120) // the alarm stands until −15 °C
	say(-8, 300)
	rang(2, "warmer than")
	say(5, 150)
	rang(3, "thrown away")
	say(-2, 10)
	say(-9, 10)
	say(-16, 10)
	rang(4, "cold again")
	say(-18, 600)
	rang(4, "cold again")
}

func TestAlarmIsShownWhileItStands(t *testing.T) {
	b := newBench(t)
	for i := range 10 {
		b.say(midnight.Add(time.Duration(i)*10*time.Minute), "freezer/temperature", unitless(-10+float64(i)/10))
	}
	if s := b.Standing(); len(s) != 1 || !strings.HasPrefix(s[0].Alarm, "Freezer ") {
		t.Errorf("%+v", s)
	}
}

func TestTimesOfReadings(t *testing.T) {
	b := newBench(t)
	now := midnight.Add(12 * time.Hour)
	dated := func(d time.Duration) Verdict {
		r := Reading{Store: "barn", Measure: Level, Value: 5000, Kind: unit.Volume, At: now.Add(d).UTC()}
		return b.Take(r, b.c, now)
	}
	b.used(dated(time.Hour), false)
	b.used(dated(-25*time.Hour), false)
	b.used(dated(-2*time.Hour), true)
	b.used(dated(-2*time.Hour), false) // the same again
	b.used(dated(-3*time.Hour), false)
	b.used(dated(time.Minute), true)
}

func TestUnknownStoresAreTold(t *testing.T) {
	b := newBench(t)
	for _, topic := range []string{"attic/level", "barn/temperature", "barn/weight"} {
		v := b.say(midnight, topic, "5")
		if !v.Unusable || v.Why == "" || len(b.Gauges) > 0 {
			t.Errorf("%s: %+v", topic, v)
		}
	}
	for i := range mostGauges + 5 {
		b.say(midnight, "gauge "+unitless(float64(i))+"/rain", "5")
	}
	if len(b.Gauges) != mostGauges {
		t.Errorf("%d gauges", len(b.Gauges))
	}
}

// TestKeptOverARestart: a panel that is written and read again goes on as if it
// had not been.
func TestKeptOverARestart(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a, b := newBench(t), newBench(t)
		for i := range rapid.IntRange(1, 40).Draw(rt, "n") {
			at := midnight.Add(time.Duration(i) * 67 * time.Minute)
			topic := rapid.SampledFrom([]string{"barn/level", "freezer/temperature", "gauge/rain", "hives/weight"}).Draw(rt, "topic")
			value := unitless(rapid.Float64Range(-30, 120).Draw(rt, "value"))
			if va, vb := a.say(at, topic, value), b.say(at, topic, value); va.Used != vb.Used || va.Why != vb.Why {
				rt.Fatalf("%+v, kept %+v", va, vb)
			}
			a.keep(a.Tick(at))
			b.keep(b.Tick(at))
			text, err := json.Marshal(b.Panel)
			if err != nil {
				rt.Fatal(err)
			}
			b.Panel = Panel{}
			if err := json.Unmarshal(text, &b.Panel); err != nil {
				rt.Fatal(err)
			}
		}
		if len(a.wrote) != len(b.wrote) || strings.Join(a.told, "\n") != strings.Join(b.told, "\n") || len(a.rang) != len(b.rang) {
			rt.Fatalf("%d and %d entries, %q and %q, %q and %q", len(a.wrote), len(b.wrote), a.told, b.told, a.rang, b.rang)
		}
	})
}

// TestWhateverComesTheBookCanHoldIt: any readings in any order make at most one
// entry a store, measure and day, and only entries the book takes.
func TestWhateverComesTheBookCanHoldIt(t *testing.T) {
	c := names(t)
	rapid.Check(t, func(rt *rapid.T) {
		b := &bench{t: t, c: c}
		at := midnight
		for range rapid.IntRange(1, 60).Draw(rt, "n") {
			at = at.Add(time.Duration(rapid.Int64Range(0, int64(20*time.Hour)).Draw(rt, "gap")))
			m := rapid.SampledFrom(Measures()).Draw(rt, "measure")
			store := rapid.SampledFrom([]string{"barn", "cabin", "freezer", "cellar", "hives", "gauge", "digester"}).Draw(rt, "store")
			v := rapid.Float64Range(-200, 40000).Draw(rt, "value")
			k := rapid.SampledFrom(kinds[m]).Draw(rt, "kind")
			b.keep(b.Take(Reading{store, m, v, k, at.Add(time.Duration(rapid.Int64Range(-int64(30*time.Hour), int64(time.Hour)).Draw(rt, "late")))}, c, at).Events)
			b.keep(b.Tick(at))
		}
		seen := map[string]bool{}
		for _, e := range b.wrote {
			if seen[e.ID.String()] {
				rt.Fatalf("%s is written twice", e.Sentence(unit.Metric))
			}
			seen[e.ID.String()] = true
		}
	})
}

// TestOneDayHoldsNoMoreThanFallsInOne: of a count that climbs beyond what the book
// takes of a day no more is used that day, and what comes after it is the next day's.
func TestOneDayHoldsNoMoreThanFallsInOne(t *testing.T) {
	b := newBench(t)
	for i := range 24 { // 200 mm an hour is believed for itself
		v := b.say(midnight.Add(time.Duration(i)*time.Hour), "gauge/rain", unitless(float64(200*i)))
		b.used(v, i <= 9 || i%3 == 0) // the third that agrees is a new beginning
	}
	b.used(b.say(midnight.Add(24*time.Hour), "gauge/rain", unitless(4610)), true)
	b.keep(b.Tick(midnight.Add(49 * time.Hour)))
	if len(b.wrote) != 2 || b.wrote[0].Body.Amount != 1800 || b.wrote[1].Body.Amount != 4610-4200 {
		t.Errorf("wrote %v", b.wrote)
	}
}

// TestBrimfulIsFull: a coarse stick reads a little over, and the book takes no more
// than all.
func TestBrimfulIsFull(t *testing.T) {
	b := newBench(t)
	b.used(b.say(midnight, "barn/level", `{"value": 102, "unit": "%"}`), true)
	if len(b.wrote) != 1 || b.wrote[0].Body.Amount != 1 {
		t.Errorf("wrote %v", b.wrote)
	}
}

// TestUnitsMayChange: a sensor that says litres today and shares tomorrow writes one
// entry a day all the same, and none for a day that is written.
func TestUnitsMayChange(t *testing.T) {
	b := newBench(t)
	b.used(b.say(midnight, "barn/level", `{"value": 9000, "unit": "L"}`), true)
	b.used(b.say(midnight.Add(time.Minute), "barn/level", `{"value": 30, "unit": "%", "at": "2026-11-24T23:00:00-05:00"}`), true)
	b.used(b.say(midnight.Add(2*time.Minute), "barn/level", `{"value": 9000, "unit": "L"}`), true)
	if len(b.wrote) != 1 {
		t.Errorf("wrote %v", b.wrote)
	}
}

func BenchmarkTake(b *testing.B) {
	c := names(b)
	var p Panel
	at := midnight
	for b.Loop() {
		at = at.Add(10 * time.Second)
		p.Take(Reading{"barn", Level, 9000 + float64(at.Second()), unit.Volume, at}, c, at)
	}
}
