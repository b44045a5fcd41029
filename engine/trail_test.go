package engine

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"evenstead/book"
	"evenstead/day"
	"evenstead/weather"

	"github.com/google/uuid"
	"pgregory.net/rapid"
)

// trailLines are entries of every kind that a replay looks ahead or back from, and some
// that can't be reckoned with.
const trailLines = `
picked 2 kg lettuce, salad
picked 3 kg figs, figs
picked 2 kg figs, figs
picked 1 kg figs, figs
picked 4 kg figs, figs
foraged 2 kg acorns
took 12 eggs
put up 2 quarts figs
ate 1 kg potatoes
gave 2 kg potatoes to the neighbour
received 3 kg walnuts from the neighbour
bought 5 kg rice
rain 14 mm
dipped tank at 2000 L
watered salad with 40 L
treated 20 L
fed digester 4 kg scraps
fed bin 3 kg leaves
spread 10 L urine on grain
spread 5 kg compost on grain
emptied digester
cooked 1.5 kg wood
fuel in 20 kg wood
closed drum 2
opened drum 1
worked 3 h for the landowner
person 1 ill
person 2 away 3 days
counted potatoes 18 kg
counted wood 200 kg
weighed person 1 60 kg
note: frost in the hollow
sowed kale on bare
sowed lettuce on salad
set out 12 cabbage on grain
sowed wheat
`

// TestReplayGoesOnAsFromTheBeginning changes a book of years at random, entries of old
// and new days that come and go, a description and a record of weather with them, and
// holds the replay that goes on from the one before to one from the beginning, in
// every figure of what it found and of the state it came to.
func TestReplayGoesOnAsFromTheBeginning(t *testing.T) {
	r := gated(t, "40", "2026-11-03", "")
	first := r.st.Stay.From
	today := first + 2*stretch + Lead + 210 // figs are picked in the last part
	kinds := lineEntries(t, r, today, trailLines)
	more := *r.st
	more.Tanks = append(more.Tanks[:len(more.Tanks):len(more.Tanks)], more.Tanks[0])
	more.Tanks[len(more.Tanks)-1].Name, more.Tanks[len(more.Tanks)-1].Group = "shed", "shed"
	went := 0
	rapid.MakeCheck(func(rt *rapid.T) {
		trail := new(Trail)
		h := History{Versions: []Version{{first, r.st}}}
		if rapid.Bool().Draw(rt, "described anew") {
			h.Versions = append(h.Versions, Version{first + day.Day(rapid.IntRange(1, int(today-first)).Draw(rt, "on")), &more})
		}
		o := r.opt
		o.Today = today
		for n := range rapid.IntRange(2, 4).Draw(rt, "changes") {
			h.Entries = changed(rt, h.Entries, kinds, n, first, today)
			if rapid.IntRange(0, 4).Draw(rt, "weather") == 0 {
				h.Weather = weather.Unknown(first, int(today-first))
				h.Weather.Rain[rapid.IntRange(0, int(today-first)-1).Draw(rt, "measured")] = 12
			}
			if h.Try = rapid.IntRange(0, 3).Draw(rt, "try") == 0; h.Try && len(h.Entries) > 0 {
				at := rapid.IntRange(0, len(h.Entries)-1).Draw(rt, "asked")
				h.Tell = func(e book.Entry) bool { return e.ID == h.Entries[at].ID }
			} else {
				h.Tell = nil
			}
			before := trail.last
			got, err := trail.Replay(t.Context(), r.tab, h, r.ens, o)
			want, err2 := Replay(t.Context(), r.tab, h, r.ens, o)
			if err != nil || err2 != nil {
				rt.Fatal(err, err2)
			}
			if before != nil && before != trail.last && before.stops[0].past.end == trail.last.stops[0].past.end {
				went++
			}
			if where := unlike(reflect.ValueOf(got), reflect.ValueOf(want), map[[2]uintptr]bool{}); where != "" {
				rt.Fatalf("it differs at Past%s", where)
			}
		}
	})(t)
	t.Cleanup(func() {
		if went == 0 && !t.Failed() {
			t.Error("no replay went on from another")
		}
	})
}

// TestAStayOfTwentyYears is replayed, part by part.
func TestAStayOfTwentyYears(t *testing.T) {
	r := gated(t, "40", "2026-11-03", "")
	today := r.st.Stay.From + 20*365
	p := r.replay(t, today, notes(t, r, today, "dipped tank at 2000 L on 2030-05-01"))
	if at := p.Known.Days() - 1; at != 20*365 || !p.ended.sound() || len(p.Drifts) != 1 || p.Beds[0].From != r.st.Stay.From || p.Beds[0].To != today {
		t.Errorf("%d days, %d drifts, beds from %s to %s", at, len(p.Drifts), p.Beds[0].From, p.Beds[0].To)
	}
}

// lineEntries reads quick notes, a line each, by whatever day.
func lineEntries(tb testing.TB, r ready, today day.Day, text string) (out []book.Entry) {
	c := book.Of(r.st, r.tab)
	c.Today, c.From, c.Who = today, r.st.Stay.From, r.st.People[0].Name
	for _, got := range book.Read(strings.TrimSpace(text), c) {
		got = got.Because("tested by a laboratory", c)
		if got.Err != nil {
			tb.Fatalf("%q: %v", got.Text, got.Err)
		}
		out = append(out, got.Entry)
	}
	return out
}

// changed is a book with some entries more, at the first many, and some less.
func changed(rt *rapid.T, old, kinds []book.Entry, n int, first, today day.Day) []book.Entry {
	out := slices.Clone(old)
	most := 3
	if n == 0 {
		most = 80
	}
	for range rapid.IntRange(0, most).Draw(rt, "more") {
		e := rapid.SampledFrom(kinds).Draw(rt, "entry")
		e.Day = today - day.Day(rapid.IntRange(0, int(today-first)).Draw(rt, "back"))
		if rapid.Bool().Draw(rt, "lately") {
			e.Day = today - (today-e.Day)/20
		}
		times := 1
		if e.Kind == book.Picked { // week after week, so that there is something to learn
			times = rapid.IntRange(1, 8).Draw(rt, "times")
		}
		for ; times > 0; times-- {
			e.ID = uuid.UUID{0: byte(rapid.IntRange(0, 255).Draw(rt, "id")), 6: 0x70, 8: 0x80, 13: byte(n), 14: byte(len(out) >> 8), 15: byte(len(out))}
			out = append(out, e)
			e.Day = min(today, e.Day+7)
		}
	}
	for range rapid.IntRange(0, 1).Draw(rt, "less") {
		if len(out) > 0 {
			at := rapid.IntRange(0, len(out)-1).Draw(rt, "gone")
			out = slices.Delete(out, at, at+1)
		}
	}
	live, err := book.Live(out)
	if err != nil {
		rt.Fatal(err)
	}
	return live
}

// unlike is where two values differ, "" when nowhere: figures to the last bit,
// functions left out.
func unlike(a, b reflect.Value, seen map[[2]uintptr]bool) string {
	if a.IsValid() != b.IsValid() || a.IsValid() && a.Type() != b.Type() {
		return " in its kind"
	}
	if !a.IsValid() {
		return ""
	}
	switch a.Kind() {
	case reflect.Func:
		return ""
	case reflect.Float64, reflect.Float32:
		if math.Float64bits(a.Float()) != math.Float64bits(b.Float()) && !(math.IsNaN(a.Float()) && math.IsNaN(b.Float())) {
			return fmt.Sprintf(": %v, %v", a.Float(), b.Float())
		}
		return ""
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() || b.IsNil() {
			if a.IsNil() != b.IsNil() {
				return ": one is nil"
			}
			return ""
		}
		if a.Kind() == reflect.Pointer {
			at := [2]uintptr{a.Pointer(), b.Pointer()}
			if at[0] == at[1] || seen[at] {
				return ""
			}
			seen[at] = true
		}
		return unlike(a.Elem(), b.Elem(), seen)
	case reflect.Struct:
		for i := range a.NumField() {
			if where := unlike(a.Field(i), b.Field(i), seen); where != "" {
				return "." + a.Type().Field(i).Name + where
			}
		}
		return ""
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return fmt.Sprintf(": %d, %d long", a.Len(), b.Len())
		}
		for i := range a.Len() {
			if where := unlike(a.Index(i), b.Index(i), seen); where != "" {
				return fmt.Sprintf("[%d]%s", i, where)
			}
		}
		return ""
	case reflect.Map:
		if a.Len() != b.Len() {
			return fmt.Sprintf(": %d, %d long", a.Len(), b.Len())
		}
		for _, key := range a.MapKeys() {
			if where := unlike(a.MapIndex(key), b.MapIndex(key), seen); where != "" {
				return fmt.Sprintf("[%v]%s", key, where)
			}
		}
		return ""
	}
	if !a.Equal(b) {
		return fmt.Sprintf(": %v, %v", a, b)
	}
	return ""
}
