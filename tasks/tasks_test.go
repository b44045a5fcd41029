package tasks

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/unit"

	"pgregory.net/rapid"
)

// TestEveryNoteCanBeWritten reads the quick notes of a year's weeks back: each is
// understood and moves what its task is about, or is a plain note.
func TestEveryNoteCanBeWritten(t *testing.T) {
	p := quernfold(t)
	kinds := map[string]bool{}
	for round := range 13 {
		today := p.st.Stay.From + day.Day(28*round)
		plan := p.plan(t, today, 2, "")
		c := p.context(today)
		for _, task := range append(plan.Weeks[0].Tasks, plan.Weeks[1].Tasks...) {
			kinds[task.Kind] = true
			if task.Note == "" {
				t.Errorf("%s has no note", task.ID)
			}
			for _, got := range book.Read(strings.ReplaceAll(task.Note, Blank, "5"), c) {
				if got.Err != nil {
					t.Errorf("%s, %s: %q can't be noted: %v", today, task.ID, got.Text, got.Err)
				}
			}
		}
	}
	for _, k := range []string{"kitchen", "tend", "birds", "bees", "pail", "digester", "freezer", "exchange", "frost", "water", "sow", "pick", "seed",
		"dry", "put-up", "eat-first", "go-over", "count", "urine", "drum", "cover", "dip", "flush", "filter", "mosquito", "haul", "thin", "turn", "freeze", "storm", "papers"} {
		if !kinds[k] {
			t.Errorf("a whole year of the demo asks for no %s", k)
		}
	}
}

// TestTasksAreWhole: each says why, what it costs to slip, and where its caution
// comes from; ids are one a week.
func TestTasksAreWhole(t *testing.T) {
	p := quernfold(t)
	for _, today := range []day.Day{on(2026, time.November, 25), on(2027, time.June, 10), on(2027, time.August, 20)} {
		for _, w := range p.plan(t, today, 4, "").Weeks {
			seen := map[string]bool{}
			for _, x := range w.Tasks {
				if x.Why == "" || x.Slip == "" || x.Title == "" || x.ID != slug(x.ID) || seen[x.ID] {
					t.Errorf("%s: %+v", w.From, x)
				}
				if x.Caution != "" && x.Source == "" {
					t.Errorf("%s: the caution of %s has no source", w.From, x.ID)
				}
				if x.By < w.From || x.From > w.To || x.From > x.By || !(x.Minutes >= 0) {
					t.Errorf("%s: %s is from %s by %s, %g min", w.From, x.ID, x.From, x.By, x.Minutes)
				}
				seen[x.ID] = true
			}
		}
	}
}

// TestIDsHold: a day later the same work has the same id.
func TestIDsHold(t *testing.T) {
	p := quernfold(t)
	monday := on(2026, time.November, 23)
	ids := func(today day.Day) (out []string) {
		for _, x := range p.plan(t, today, 1, "").Weeks[0].Tasks {
			out = append(out, x.ID)
		}
		slices.Sort(out)
		return out
	}
	a, b := ids(monday), ids(monday+1)
	same := 0
	for _, id := range a {
		if slices.Contains(b, id) {
			same++
		}
	}
	if same < len(a)*9/10 {
		t.Errorf("%d of %d ids hold from Monday to Tuesday:\n%v\n%v", same, len(a), a, b)
	}
}

// TestWateringIsBoundByTheTank: the beds of a tank together are given no more than
// it may give, and the rest are named.
func TestWateringIsBoundByTheTank(t *testing.T) {
	p := quernfold(t)
	a := p.ask(t, on(2027, time.June, 8), 1, "")
	for i := range a.Standing.Tanks {
		if g := &a.Standing.Tanks[i]; g.Name == "barn" {
			g.Level = max(g.Dead, g.Reserve) + 30
		}
	}
	plan, err := Make(a)
	if err != nil {
		t.Fatal(err)
	}
	given := 0.0
	for _, x := range plan.Weeks[0].kind("water") {
		given += x.Value
	}
	if math.Abs(given-30) > 1e-9 {
		t.Errorf("%g L are given of 30", given)
	}
	says(t, plan.Weeks[0].one(t, "dry").Why, "no more above its reserve")
}

// TestSowingsAreAskedAfter: a sowing that was due and is not in the book is asked
// after; one that is in the book is not.
func TestSowingsAreAskedAfter(t *testing.T) {
	p := quernfold(t)
	today := on(2026, time.November, 25)
	late := p.plan(t, today, 1, "").Weeks[0].one(t, "late")
	says(t, late.Amount, "F1", "F2")
	says(t, late.Note, "F1")
	told := p.plan(t, today, 1, "sown 140 m2 wheat winter, F1 on 2026-11-06").Weeks[0].one(t, "late")
	if strings.Contains(told.Amount, "in F1 ") {
		t.Errorf("the book has it, and it is asked for: %s", told.Amount)
	}
	if told.Value != late.Value-1 {
		t.Errorf("%g asked after, want %g", told.Value, late.Value-1)
	}
	next := p.plan(t, on(2026, time.November, 15), 1, "").Weeks[0]
	found := slices.ContainsFunc(next.kind("sow"), func(x *Task) bool { return x.By == on(2026, time.November, 20) && strings.Contains(x.Title, "F7") })
	if !found {
		t.Error("the wheat of F7, due on 20 November, is not in its week")
	}
}

// TestDrumsCloseAndOpen: the gate stands at both.
func TestDrumsCloseAndOpen(t *testing.T) {
	p := quernfold(t)
	closed, opened := false, false
	for d := p.st.Stay.From; d < p.st.Stay.From+700; d += 56 {
		for _, x := range drumsOf(p.plan(t, d, 8, "")) {
			if strings.HasPrefix(x.Title, "Close") {
				closed = true
				says(t, x.Caution, "not to be opened before")
			} else {
				opened = true
				says(t, x.Caution, "never on vegetables")
				says(t, x.Title, "walnuts")
			}
		}
	}
	if !closed || !opened {
		t.Errorf("in two years closed %v, opened %v", closed, opened)
	}
}

func drumsOf(p *Plan) (out []*Task) {
	for i := range p.Weeks {
		out = append(out, p.Weeks[i].kind("drum")...)
	}
	return out
}

// TestUrineKeepsItsGate: no plot within a month of its harvest has any, and what
// is given is no more than the cans hold.
func TestUrineKeepsItsGate(t *testing.T) {
	p := quernfold(t)
	for month := range 12 {
		a := p.ask(t, p.st.Stay.From+day.Day(30*month), 1, "")
		plan, err := Make(a)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range plan.Weeks[0].kind("urine") {
			says(t, x.Caution, "last month before harvest")
			if x.Value > a.Standing.Toilet.Urine+1e-9 {
				t.Errorf("%s: %g L of %g", a.Today, x.Value, a.Standing.Toilet.Urine)
			}
			if strings.HasPrefix(x.Title, "Urine") {
				continue
			}
			for _, d := range a.Chores.Doses {
				if !d.Open && strings.Contains(x.Note, "urine, "+d.Plot+"\n") {
					t.Errorf("%s: %s may have none: %s", a.Today, d.Plot, d.Why)
				}
			}
		}
	}
}

// TestFrostComesOnceAYear: before the usual frost, for what it kills, and not in
// summer; in the south half a year later.
func TestFrostComesOnceAYear(t *testing.T) {
	north := quernfold(t)
	south := *north.st
	south.Place.Latitude = -south.Place.Latitude
	south.Place.Normals = slices.Clone(south.Place.Normals)
	turn := func(v []float64) []float64 { return append(slices.Clone(v[6:]), v[:6]...) }
	n := south.Place.Normals[0]
	n.Rain, n.WetDays, n.TMin, n.TMax = turn(n.Rain), turn(n.WetDays), turn(n.TMin), turn(n.TMax)
	south.Place.Normals[0] = n
	months := func(p *place) map[time.Month]bool {
		out := map[time.Month]bool{}
		for d := p.st.Stay.From; d < p.st.Stay.From+365; d += 28 {
			plan := p.plan(t, d, 4, "")
			for i := range plan.Weeks {
				for _, x := range plan.Weeks[i].kind("frost") {
					out[x.By.Month()] = true
					if !x.Alarm || x.Value <= 0 {
						t.Errorf("%+v", x)
					}
				}
			}
		}
		return out
	}
	cold := months(north)
	if len(cold) == 0 {
		t.Error("no frost work in the north")
	}
	for m := range cold {
		if m != time.November && m != time.December && m != time.October {
			t.Errorf("frost work in %s", m)
		}
	}
	cold = months(placeOf(t, &south))
	if len(cold) == 0 {
		t.Error("no frost work in the south")
	}
	for m := range cold {
		if m < time.April || m > time.June {
			t.Errorf("frost work in %s of the south", m)
		}
	}
}

// TestDipsAreNotAskedTwice: a tank dipped two days ago is left alone, the other is not.
func TestDipsAreNotAskedTwice(t *testing.T) {
	x := quernfold(t).plan(t, on(2026, time.November, 20), 2, "dipped barn at 9000 L on 2026-11-18")
	says(t, x.Weeks[0].one(t, "dip").Title, "cabin")
	if got := len(x.Weeks[1].kind("dip")); got != 2 {
		t.Errorf("%d dips the week after, want 2", got)
	}
}

// TestExchangeTellsWhatIsWritten: the hours in the book stand beside what is owed.
func TestExchangeTellsWhatIsWritten(t *testing.T) {
	p := quernfold(t)
	x := p.plan(t, on(2026, time.November, 20), 1, "worked 3 h for the landowner on 2026-11-10\nworked 2 h for the landowner on 2026-11-12").Weeks[0].one(t, "exchange")
	says(t, x.Why, "5.0 h are written")
	if math.Abs(x.Value-6*1.3) > 1 {
		t.Errorf("%g h owed, 6 h a week and more in winter", x.Value)
	}
}

// TestFitDropsTheCheapest: over any list, what must be done stays, nothing is
// dropped while a cheaper rank of the same length or more is kept, and the rest
// fits unless it is said that it can't.
func TestFitDropsTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Week{Hands: rapid.Float64Range(0, 40).Draw(t, "hands")}
		for range rapid.IntRange(0, 20).Draw(t, "tasks") {
			w.Tasks = append(w.Tasks, Task{Title: "x", Rank: Rank(rapid.IntRange(0, int(Later)).Draw(t, "rank")), Minutes: float64(rapid.IntRange(0, 600).Draw(t, "min")), Parts: rapid.IntRange(0, 4).Draw(t, "parts") == 0})
		}
		fit(&w)
		must, kept, asked := 0.0, 0.0, 0.0
		for _, x := range w.Tasks {
			asked += (x.Minutes + x.Cut) / 60
			if x.Cut != 0 && (!x.Parts || x.Drop || x.Rank == Must || x.Minutes < leastPart-1e-9 || x.Cut < 0) {
				t.Fatalf("cut %+v", x)
			}
			if x.Rank == Must {
				must += x.Minutes / 60
			}
			if !x.Drop {
				kept += x.Minutes / 60
			}
			if x.Drop && x.Rank == Must {
				t.Fatal("what must be done is dropped")
			}
			for _, y := range w.Tasks {
				if x.Drop && !y.Drop && y.Cut == 0 && y.Rank > x.Rank && y.Minutes >= x.Minutes {
					t.Fatalf("%s of %g min is dropped, %s of %g kept", x.Rank, x.Minutes, y.Rank, y.Minutes)
				}
			}
		}
		if math.Abs(kept-w.Kept) > 1e-9 || math.Abs(asked-w.Asked) > 1e-9 {
			t.Fatalf("kept %g and asked %g, said %g and %g", kept, asked, w.Kept, w.Asked)
		}
		if kept > w.Hands+1e-9 && (math.Abs(kept-must) > 1e-9 || !strings.Contains(w.Said, "does not fit")) {
			t.Fatalf("%g h kept of %g: %s", kept, w.Hands, w.Said)
		}
	})
}

// TestBothUnitSystems: the same tasks, the amounts in other words.
func TestBothUnitSystems(t *testing.T) {
	p := quernfold(t)
	a := p.ask(t, on(2027, time.June, 10), 1, "")
	metric, err := Make(a)
	if err != nil {
		t.Fatal(err)
	}
	a.Units = unit.US
	us, err := Make(a)
	if err != nil {
		t.Fatal(err)
	}
	for i, x := range metric.Weeks[0].Tasks {
		y := us.Weeks[0].Tasks[i]
		if x.ID != y.ID || x.Value != y.Value || x.Minutes != y.Minutes {
			t.Errorf("%s and %s differ", x.ID, y.ID)
		}
		for _, s := range []string{" kg", " L", " m²", "°C"} {
			if strings.Contains(y.Amount+y.Why+y.Slip+y.Caution, s+" ") {
				t.Errorf("metric words in US units: %s: %s %s", y.ID, y.Amount, y.Why)
			}
		}
	}
}

// TestBareSteadHasAWeek: four lines are enough, and what is not there asks nothing.
func TestBareSteadHasAWeek(t *testing.T) {
	st, err := stead.Read("bare.toml", []byte("place.latitude = 50\npeople = 1\nstay.from = 2026-11-01\n"))
	if err != nil {
		t.Fatal(err)
	}
	st.Place.Normals = quernfold(t).st.Place.Normals
	plan := placeOf(t, st).plan(t, on(2026, time.November, 10), 2, "")
	for _, w := range plan.Weeks {
		for _, x := range w.Tasks {
			if x.Kind != "kitchen" && x.Kind != "filter" && x.Kind != "dip" && x.Kind != "flush" && x.Kind != "mosquito" {
				t.Errorf("a stead of one person asks for %s", x.Title)
			}
		}
	}
	if _, err := Make(Ask{Weeks: 0}); err == nil {
		t.Error("no weeks")
	}
}

func BenchmarkMake(b *testing.B) {
	a := quernfold(b).ask(b, on(2027, time.June, 10), 4, "")
	for b.Loop() {
		if _, err := Make(a); err != nil {
			b.Fatal(err)
		}
	}
}
