package sense

import (
	"math"
	"strings"
	"testing"
	"time"

	"evenstead/unit"
)

func TestParse(t *testing.T) {
	seven := time.Date(2026, 11, 25, 7, 30, 0, 0, time.UTC)
	cases := []struct {
		topic, payload string
		want           Reading
	}{
		{"evenstead/barn/level", "812", Reading{"barn", Level, 812, unit.Volume, time.Time{}}},
		{"evenstead/barn/level", " 812 L\r\n", Reading{"barn", Level, 812, unit.Volume, time.Time{}}},
		{"evenstead/barn/level", "275 gal", Reading{"barn", Level, 1040.988, unit.Volume, time.Time{}}},
		{"evenstead/barn/level", "41 %", Reading{"barn", Level, 0.41, unit.Share, time.Time{}}},
		{"evenstead/barn/level", "1.25 m", Reading{"barn", Level, 1.25, unit.Length, time.Time{}}},
		{"evenstead/chest-freezer/temperature", "-18.5", Reading{"chest-freezer", Temperature, -18.5, unit.Temperature, time.Time{}}},
		{"evenstead/chest freezer/temperature", "0 F", Reading{"chest freezer", Temperature, -17.7778, unit.Temperature, time.Time{}}},
		{"evenstead/heap/temperature", `{"value": 61.25}`, Reading{"heap", Temperature, 61.25, unit.Temperature, time.Time{}}},
		{"evenstead/heap/temperature", `{"value": 1.4e2, "unit": "°F", "battery": 3.1, "at": "2026-11-25T07:30:00Z"}`, Reading{"heap", Temperature, 60, unit.Temperature, seven}},
		{"evenstead/gauge/rain", "1.25e1", Reading{"gauge", Rain, 12.5, unit.Depth, time.Time{}}},
		{"evenstead/gauge/rain", "0.5 in", Reading{"gauge", Rain, 12.7, unit.Depth, time.Time{}}},
		{"evenstead/hives/weight", "90 lb", Reading{"hives", Weight, 40.8233, unit.Mass, time.Time{}}},
	}
	for _, c := range cases {
		got, err := Parse(c.topic, []byte(c.payload))
		if err != nil {
			t.Errorf("%s %q: %v", c.topic, c.payload, err)
			continue
		}
		if math.Abs(got.Value-c.want.Value) > 1e-3 {
			t.Errorf("%s %q: %v, want %v", c.topic, c.payload, got.Value, c.want.Value)
		}
		got.Value = c.want.Value
		if got != c.want {
			t.Errorf("%s %q: %+v, want %+v", c.topic, c.payload, got, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	cases := []struct{ topic, payload, say string }{
		{"barn/level", "1", "evenstead/STORE/MEASURE"},
		{"evenstead/barn/inside/level", "1", "is not ours"},
		{"evenstead//level", "1", "no name of a store"},
		{"evenstead/+/level", "1", "no name of a store"},
		{"evenstead/barn/pressure", "1", "write level, temperature, rain or weight"},
		{"evenstead/barn/level", "", "does not start with a number"},
		{"evenstead/barn/level", "nan", "does not start with a number"},
		{"evenstead/barn/level", "0x10", "not a level"},
		{"evenstead/barn/level", "18 °C", "not a level"},
		{"evenstead/heap/temperature", "18,5", "write a point, as in 18.5"},
		{"evenstead/barn/level", "1e300", "no sensor reads"},
		{"evenstead/barn/level", `{"unit": "L"}`, `no "value"`},
		{"evenstead/barn/level", `{"value": null}`, `no "value"`},
		{"evenstead/barn/level", `{"value": "812"}`, "not a reading in JSON"},
		{"evenstead/barn/level", `{"value": 1} {"value": 2}`, "goes on after its end"},
		{"evenstead/barn/level", `{"value": 1, "at": "yesterday"}`, "not a reading in JSON"},
		{"evenstead/barn/level", strings.Repeat("9", 2000), "are no reading"},
		{"evenstead/barn/level", "0,0" + strings.Repeat("\xf6", 900), "are no number with its unit"},
	}
	for _, c := range cases {
		if _, err := Parse(c.topic, []byte(c.payload)); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s %.40q: %v, want %q", c.topic, c.payload, err, c.say)
		}
	}
	if _, err := New("", Level, 1, "", time.Time{}); err == nil {
		t.Error("a reading of no store is made")
	}
	if _, err := New("barn", "speed", 1, "", time.Time{}); err == nil {
		t.Error("a reading of no measure is made")
	}
	if _, err := New("barn", Level, math.Inf(1), "", time.Time{}); err == nil {
		t.Error("an endless level is made")
	}
}

// FuzzParse: whatever comes, a reading that is taken is of our measures, finite
// and of a kind its measure has, and says the same when it is made again.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"812", "-18.5 °C", "41 %", "1 1/2 gal", `{"value": 1, "unit": "L"}`, `{"value":1e400}`, "{", "½ m", "0x1p3", "−0", "1,000.5 L"} {
		f.Add("evenstead/barn/level", []byte(s))
		f.Add("evenstead/heap/temperature", []byte(s))
	}
	for _, s := range []string{"evenstead/ /rain", "evenstead/a/b/c", "evenstead/\x00/rain", "evenstead/#/rain", strings.Repeat("evenstead/", 40)} {
		f.Add(s, []byte("1"))
	}
	f.Fuzz(func(t *testing.T, topic string, payload []byte) {
		r, err := Parse(topic, payload)
		if err != nil {
			if len(err.Error()) > 1000 {
				t.Errorf("an error of %d bytes", len(err.Error()))
			}
			return
		}
		if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) || r.Store == "" {
			t.Fatalf("%q %q gives %+v", topic, payload, r)
		}
		if _, ok := kinds[r.Measure]; !ok {
			t.Fatalf("measure %q", r.Measure)
		}
		if strings.ContainsAny(r.Store, "+#/\n\x00") || strings.TrimSpace(r.Store) == "" || !strings.Contains(topic, r.Store) || len(topic) > longestTopic {
			t.Fatalf("store %q of %q", r.Store, topic)
		}
		again, err := Parse(topic, payload)
		if err != nil || again != r {
			t.Fatalf("%+v, then %+v (%v)", r, again, err)
		}
	})
}
