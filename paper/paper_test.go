package paper

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenstead/data"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/tasks"
	"evenstead/unit"
	"evenstead/weather"
	"evenstead/work"
)

// echo says a key with what it is given, so that a sheet's layout shows.
func echo(key string, args ...any) string {
	return strings.TrimSpace(strings.TrimPrefix(key, "paper.") + " " + strings.TrimSuffix(fmt.Sprintln(args...), "\n"))
}

// factsOf readies a described stead some days after its first.
func factsOf(t testing.TB, text string, after day.Day) *Facts {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	st, err := stead.Read("stead.toml", []byte(text))
	must(err)
	tab, err := data.Load()
	must(err)
	n := st.Place.Normals[0]
	w := weather.Normals{TMinSD: n.TMinSD, TMaxSD: n.TMaxSD, Persistence: n.Persistence, RainCV: n.RainCV}
	copy(w.Rain[:], n.Rain)
	copy(w.WetDays[:], n.WetDays)
	copy(w.TMin[:], n.TMin)
	copy(w.TMax[:], n.TMax)
	ens, err := weather.FromNormals(w, weather.Site{Lat: st.Place.Latitude, Elev: st.Place.Elevation}, st.Stay.From, 500, 1, 7)
	must(err)
	must(engine.Sow(st, tab, ens, nil))
	o := engine.Options{Today: st.Stay.From + after, Days: 365, Seed: 1, Climate: ens.Climate()}
	past, err := engine.Replay(context.Background(), tab, engine.History{Versions: []engine.Version{{From: st.Stay.From, Stead: st}}}, ens, o)
	must(err)
	ask, err := tasks.Of(past, tab, o.Climate, PlanWeeks)
	must(err)
	plan, err := tasks.Make(ask)
	must(err)
	return From(&ask, plan, nil, echo)
}

// TestSpreadKeepsDays: every piece stands once, on a day it may be done on and by
// which it is due.
func TestSpreadKeepsDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := tasks.Week{From: 1000, To: 1006}
		for i := range rapid.IntRange(0, 40).Draw(t, "tasks") {
			from := rapid.IntRange(995, 1006).Draw(t, "from")
			w.Tasks = append(w.Tasks, tasks.Task{ID: strconv.Itoa(i), From: day.Day(from), By: day.Day(rapid.IntRange(from, 1020).Draw(t, "by")),
				Minutes: rapid.Float64Range(0, 600).Draw(t, "minutes"), Daily: rapid.Bool().Draw(t, "daily"), Drop: rapid.Bool().Draw(t, "drop"), Rank: tasks.Rank(rapid.IntRange(0, 5).Draw(t, "rank"))})
		}
		seen := map[string]int{}
		for at, list := range spread(&w) {
			for _, x := range list {
				seen[x.ID]++
				on := w.From + day.Day(at)
				if on < min(max(x.From, w.From), w.To) && x.By >= on || on > x.By && x.By >= w.From {
					t.Fatalf("a task of %d to %d stands on %d", x.From, x.By, on)
				}
			}
		}
		for i := range w.Tasks {
			want := 1
			if w.Tasks[i].Daily || w.Tasks[i].Drop {
				want = 0
			}
			if seen[w.Tasks[i].ID] != want {
				t.Fatalf("task %d stands %d times", i, seen[w.Tasks[i].ID])
			}
		}
	})
}

// TestSpreadEvensHours: alike pieces due at the week's end fill its days alike.
func TestSpreadEvensHours(t *testing.T) {
	w := tasks.Week{From: 1000, To: 1006}
	for i := range 14 {
		w.Tasks = append(w.Tasks, tasks.Task{ID: strconv.Itoa(i), From: 1000, By: 1006, Minutes: 60})
	}
	for at, list := range spread(&w) {
		if len(list) != 2 {
			t.Errorf("day %d has %d", at, len(list))
		}
	}
}

// TestShelvesKeepTheirOrder: whatever is eaten up or comes in between, of two foods
// the same one stands first, so that an old sheet is typed in from top to bottom.
func TestShelvesKeepTheirOrder(t *testing.T) {
	places := []engine.PlaceNow{{Name: "store"}, {Name: "bins"}, {Name: "chest", Hold: 10}}
	var all []engine.LotNow
	for _, food := range []string{"apple", "beet", "carrot", "oat", "pea", "plum"} {
		for _, form := range []string{"fresh", "dried", "jarred", "frozen"} {
			for _, p := range places {
				all = append(all, engine.LotNow{Food: food, Name: food, Form: form, Place: p.Name, Kg: 1})
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		order := func(name string) map[string]int {
			lots := rapid.Permutation(all).Draw(t, name)[:rapid.IntRange(0, len(all)).Draw(t, name+" kept")]
			f := &Facts{Standing: &engine.Standing{Places: places, Lots: lots}, Say: echo}
			at := map[string]int{}
			for i, l := range f.Shelves() {
				at[l.Food+l.Form+l.Place] = i
			}
			return at
		}
		one, other := order("one"), order("other")
		for a, i := range one {
			for b, j := range one {
				if k, ok := other[a]; ok {
					if l, ok := other[b]; ok && (i < j) != (k < l) {
						t.Fatalf("%s and %s change places", a, b)
					}
				}
			}
		}
	})
}

// TestRungsByShape: the brim holds what the tank holds, each rung less than the one
// above; a lying drum is half full at half its height, and holds at a quarter of it
// what a segment does (0.1955 of the circle: acos(0.5)/pi - 0.5*sqrt(0.75)/pi).
func TestRungsByShape(t *testing.T) {
	for _, x := range []struct {
		shape  string
		at     float64
		filled float64
	}{{"upright", 0.25, 0.25}, {"box", 0.5, 0.5}, {"lying", 0.5, 0.5}, {"lying", 0.25, 0.19550}, {"", 0.75, 0.75}} {
		tank := &stead.Tank{Holds: 1000, Height: 1, Shape: x.shape, Dead: 30}
		if got := engine.Filled(tank, x.at); math.Abs(got-x.filled) > 5e-6 {
			t.Errorf("%q at %g is filled %.5f, want %.5f", x.shape, x.at, got, x.filled)
		}
		f := &Facts{Say: echo}
		g := &engine.TankGroup{Holds: 1000, Dead: 30, Reserve: 200, Use: 10, Tanks: make([]engine.TankNow, 1)}
		marks := f.rungs(tank, g).Marks
		if marks[0].Litres != "1,000" || marks[0].Gallons != "264" || marks[0].Days != "97" {
			t.Errorf("%q at the brim: %+v", x.shape, marks[0])
		}
		if !slices.IsSortedFunc(marks, func(a, b Rung) int { return -strings.Compare(a.Name, b.Name) }) || len(marks) != 20 {
			t.Errorf("%q: %d rungs %+v", x.shape, len(marks), marks)
		}
		under := 0
		for _, m := range marks {
			if m.Under != "" {
				under++
			}
		}
		if under != 2 {
			t.Errorf("%q: the tap and the house's share stand under %d rungs", x.shape, under)
		}
	}
}

// TestRungsWithoutHeight are tenths.
func TestRungsWithoutHeight(t *testing.T) {
	f := &Facts{Say: echo, Units: unit.US}
	r := f.rungs(&stead.Tank{Holds: 1041}, &engine.TankGroup{Holds: 2082, Tanks: make([]engine.TankNow, 2)})
	if len(r.Marks) != 10 || r.Marks[0].Name != "10/10" || r.Marks[0].Gallons != "275" || r.Marks[4].Group != "330" {
		t.Errorf("%+v", r.Marks)
	}
}

// TestEverySheetIsMade of a full stead, in both systems, each with a title, a lead
// and parts that hold something.
func TestEverySheetIsMade(t *testing.T) {
	f := factsOf(t, string(demo.Quernfold()), 24)
	for _, u := range []unit.System{unit.Metric, unit.US} {
		f.Units = u
		sheets := []*Sheet{Handover(f), OpenDay(f)}
		for _, id := range Sheets() {
			s, err := Make(id, f)
			if err != nil {
				t.Fatal(err)
			}
			sheets = append(sheets, s)
		}
		for _, s := range sheets {
			if s.Title == "" || s.Lead == "" || len(s.Parts) == 0 || s.Foot == "" {
				t.Errorf("%s: title %q, lead %q, %d parts", s.ID, s.Title, s.Lead, len(s.Parts))
			}
			n := 0
			for _, row := range s.Rows() {
				n += len(row.Parts)
				if len(row.Parts) > 3 || len(row.Parts) > 1 && !row.Columns {
					t.Errorf("%s: a row of %d parts", s.ID, len(row.Parts))
				}
			}
			if n != len(s.Parts) {
				t.Errorf("%s: %d of %d parts stand in rows", s.ID, n, len(s.Parts))
			}
		}
	}
	if _, err := Make("handover", f); err == nil {
		t.Error("what is no sheet was made")
	}
}

// TestMonthTellsEachOnce: on the hand-over's first page no piece of work stands
// twice, and the drum that fills within the month is there.
func TestMonthTellsEachOnce(t *testing.T) {
	f := factsOf(t, string(demo.Quernfold()), 24)
	m := f.month()
	seen := map[string]bool{}
	all := m.weekly
	for _, w := range m.weeks {
		all = append(all, w...)
	}
	drum := false
	for _, x := range all {
		if key := x.Title + x.More; seen[key] {
			t.Errorf("%q stands twice", key)
		} else {
			seen[key] = true
		}
		drum = drum || strings.HasPrefix(x.Title, "Close drum")
	}
	if !drum || len(m.weekly) == 0 || len(all) < 8 {
		t.Errorf("drum %v, %d weekly, %d in all", drum, len(m.weekly), len(all))
	}
	if len(m.dear) > 0 && m.dear[0].Rank > m.dear[len(m.dear)-1].Rank {
		t.Error("the dearest does not stand first")
	}
}

// TestHelperLeavesWastesAlone: for no span is a helper asked to handle drums or
// urine; what falls due of them is the household's before it leaves.
func TestHelperLeavesWastesAlone(t *testing.T) {
	f := factsOf(t, string(demo.Quernfold()), 24)
	for _, days := range []int{1, 7, 14} {
		s := helper(f, days)
		for _, p := range s.Parts {
			for _, x := range p.Ticks {
				waste := strings.Contains(x.Title, "rum ") || strings.Contains(strings.ToLower(x.Title), "urine")
				if waste && p.Title != "helper.before" {
					t.Errorf("%d days: %q stands under %s", days, x.Title, p.Title)
				}
			}
			for _, r := range p.Rounds {
				if len(r.Boxes) != days {
					t.Errorf("%d days: %d boxes", days, len(r.Boxes))
				}
			}
		}
	}
}

// TestBalanceIsTheStatements: what the sheet says is owed is what the months say.
func TestBalanceIsTheStatements(t *testing.T) {
	f := &Facts{Today: day.Of(2026, 11, 30), Say: echo, Stead: &stead.Stead{}}
	d := &Deal{With: "them", Term: work.Term{Weekly: 7, From: day.Of(2026, 11, 1)}}
	for _, x := range []struct {
		done float64
		want string
	}{{20, "exchange.owed 10.0 them"}, {30, "exchange.even"}, {34.5, "exchange.ahead 4.5 them"}} {
		d.Stints = []work.Stint{{Day: day.Of(2026, 11, 9), Hours: x.done}}
		if got := f.balance(d); got != x.want {
			t.Errorf("%g h done of 30: %q, want %q", x.done, got, x.want)
		}
		rows := f.account(d).Rows
		if last := rows[len(rows)-1]; last[1] != "30.0" || last[2] != tenth(x.done) || last[3] != tenth(30-x.done) {
			t.Errorf("the account's sum is %v", last)
		}
	}
}

// TestSpanIsWordedInYears where it is whole ones, leap days counted or not.
func TestSpanIsWordedInYears(t *testing.T) {
	f := &Facts{Say: echo}
	for days, want := range map[int]string{1: "span.days 1", 364: "span.year", 365: "span.year", 366: "span.year", 370: "span.days 370", 730: "span.years 2", 731: "span.years 2", 1096: "span.years 3", 0: "span.days 0"} {
		if got := f.span(days, false); got != want {
			t.Errorf("%d days are %q, want %q", days, got, want)
		}
	}
}

func BenchmarkHandover(b *testing.B) {
	f := factsOf(b, string(demo.Quernfold()), 24)
	for b.Loop() {
		Handover(f)
	}
}
