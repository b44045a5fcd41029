package lever

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

const normals = `
[[place.normals]]
rain = [112, 96, 84, 68, 46, 19, 5, 8, 29, 83, 118, 124]
wet_days = [12, 11, 11, 9, 7, 3, 1, 1, 4, 8, 11, 12]
tmin = [3.4, 3.9, 5.3, 7.1, 10.2, 13.6, 15.9, 15.8, 13.4, 10.1, 6.4, 4.1]
tmax = [12.3, 13.9, 16.6, 19.0, 22.8, 27.5, 31.2, 31.0, 27.6, 21.9, 16.1, 12.8]
`

// south has the same months half a year on.
const south = `
[[place.normals]]
rain = [5, 8, 29, 83, 118, 124, 112, 96, 84, 68, 46, 19]
wet_days = [1, 1, 4, 8, 11, 12, 12, 11, 11, 9, 7, 3]
tmin = [15.9, 15.8, 13.4, 10.1, 6.4, 4.1, 3.4, 3.9, 5.3, 7.1, 10.2, 13.6]
tmax = [31.2, 31.0, 27.6, 21.9, 16.1, 12.8, 12.3, 13.9, 16.6, 19.0, 22.8, 27.5]
`

// ready reads a description from 1 March 2027 on.
func ready(t testing.TB, text string, members int) *hearth.Reckoning {
	t.Helper()
	st, err := stead.Read("a test", []byte(text))
	must(t, err)
	r, err := hearth.Plain(st, hearth.Ask{Today: day.Of(2027, time.March, 1), Members: members, Seed: 3})
	must(t, err)
	return r
}

func readyDemo(t testing.TB, members int) *hearth.Reckoning {
	t.Helper()
	return ready(t, string(demo.Quernfold()), members)
}

func present(t testing.TB, r *hearth.Reckoning, members int) *Present {
	t.Helper()
	p, err := Run(t.Context(), r, unit.Metric, members)
	must(t, err)
	return p
}

func try(t testing.TB, p *Present, l Lever, err error) *Trial {
	t.Helper()
	must(t, err)
	trial, err := p.Try(t.Context(), l)
	must(t, err)
	return trial
}

func TestCopySharesNothing(t *testing.T) {
	st, err := stead.Read("demo", demo.Quernfold())
	must(t, err)
	kept := Copy(st)
	if !reflect.DeepEqual(st, kept) {
		t.Fatal("a copy differs from its original")
	}
	spoil(reflect.ValueOf(Copy(st)).Elem())
	if !reflect.DeepEqual(st, kept) {
		t.Error("a change to the copy reached the original")
	}
}

// spoil changes everything that can be reached without replacing a slice.
func spoil(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			spoil(v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			spoil(v.Index(i))
		}
	case reflect.String:
		v.SetString("spoilt")
	case reflect.Float64:
		v.SetFloat(-1)
	case reflect.Int, reflect.Int32:
		v.SetInt(-1)
	case reflect.Bool:
		v.SetBool(!v.Bool())
	}
}

func TestEveryLeverChangesACopyAlone(t *testing.T) {
	for name, text := range map[string]string{"demo": string(demo.Quernfold()), "four lines": string(demo.FourLines()) + normals, "south": "place.latitude = -35\npeople = 2\nbed = [{ area = \"50 m2\" }]\n" + south} {
		r := ready(t, text, 4)
		kept := Copy(r.Stead)
		seen := map[string]bool{}
		for _, l := range For(r, unit.Metric).All(nil) {
			changed, err := l.On(r.Stead)
			must(t, err)
			if !reflect.DeepEqual(r.Stead, kept) {
				t.Fatalf("%s, %s: the stead itself changed", name, l.ID)
			}
			if l.Fate == !reflect.DeepEqual(changed, kept) || seen[l.ID] || l.Name == "" || l.Part == "" {
				t.Errorf("%s, %s: no change, or not told apart: %+v", name, l.ID, l)
			}
			seen[l.ID] = true
		}
	}
}

func ids(list []Lever) []string {
	out := make([]string, len(list))
	for i, l := range list {
		out[i] = l.ID
	}
	return out
}

func TestOnlyWhatMakesSense(t *testing.T) {
	got := ids(For(ready(t, string(demo.FourLines())+normals, 30), unit.Metric).All(nil))
	want := []string{"tank:tank 1", "roof:roof 1", "use:washing up and hands", "use:shower", "drip", "bed", "mulch", "hive", "hens", "shelf:shelf", "hours", "away", "buy:sunflower_oil", "rain"}
	if !slices.Equal(got, want) {
		t.Errorf("four lines offer %v, want %v", got, want)
	}
	dry := For(ready(t, "place.latitude = 40\n[[person]]\nsex = \"female\"\nage = 50\n"+normals, 4), unit.Metric)
	for _, id := range ids(dry.All(nil)) {
		if part, _, _ := strings.Cut(id, ":"); slices.Contains([]string{"tank", "roof", "use", "drip", "bed", "mulch", "scraps", "cover", "wood", "freezer", "away"}, part) {
			t.Errorf("one person without a roof, a bed or a stove is offered %s", id)
		}
	}
}

func TestTheNewTankStandsWithTheOthers(t *testing.T) {
	r := readyDemo(t, 4)
	for _, want := range r.Stead.Groups() {
		l, err := For(r, unit.Metric).Tank(want.Name)
		must(t, err)
		st, err := l.On(r.Stead)
		must(t, err)
		groups := st.Groups()
		if len(groups) != len(r.Stead.Groups()) {
			t.Fatalf("a new tank made a group of its own: %+v", groups)
		}
		for _, got := range groups {
			if got.Name == want.Name && (got.Level != want.Level || got.Reserve != want.Reserve || got.Overflow != want.Overflow || len(got.Tanks) != len(want.Tanks)+1) {
				t.Errorf("%s was %+v and is %+v", want.Name, want, got)
			}
		}
	}
	l, err := For(ready(t, string(demo.FourLines())+normals, 4), unit.Metric).Tank("tank 1")
	must(t, err)
	st, err := l.On(ready(t, string(demo.FourLines())+normals, 4).Stead)
	must(t, err)
	if g := st.Groups(); len(g) != 1 || g[0].Holds != 2000 || g[0].Level != 500 {
		t.Errorf("beside a tank that stood alone: %+v", g)
	}
}

func TestUsualTank(t *testing.T) {
	tanks := []stead.Tank{{Holds: 500}, {Holds: 1000}, {Holds: 200}, {Holds: 1000}}
	if got := usualTank(tanks, []int{0, 1, 2, 3}); got != 1 {
		t.Errorf("tank %d is the usual one", got)
	}
}

// TestNothingChangedIsTheSameYear proves that the years and the luck are shared.
func TestNothingChangedIsTheSameYear(t *testing.T) {
	p := present(t, readyDemo(t, 12), 12)
	same := try(t, p, Lever{ID: "none", Name: "nothing"}, nil)
	if !reflect.DeepEqual(same.Outlook.Needs, p.Outlook.Needs) || !reflect.DeepEqual(same.Outlook.Crops, p.Outlook.Crops) || same.Relief != 0 || len(same.Changes) != 0 {
		t.Errorf("no change, yet another outlook: relief %g, %+v", same.Relief, same.Changes)
	}
	once := try(t, p, Lever{ID: "rain", Name: "as it rains", Rain: 1}, nil)
	if once.Relief != 0 {
		t.Error("rain times one is another rain")
	}
}

func TestMembersAreOnlyRead(t *testing.T) {
	r := readyDemo(t, 3)
	kept := slices.Clone(r.Members.Members[0].Rain)
	p := present(t, r, 3)
	l, err := p.Kit().Drier(0.5)
	try(t, p, l, err)
	if !slices.Equal(kept, r.Members.Members[0].Rain) {
		t.Error("the members' rain was written over")
	}
	wet := l.over(r.Members, 10)
	for d := range 20 {
		want := kept[d]
		if d >= 10 {
			want *= 0.5
		}
		if wet.Members[0].Rain[d] != want {
			t.Fatalf("day %d: %g mm, want %g", d, wet.Members[0].Rain[d], want)
		}
	}
}

func met(t *Trial, p *Present, id string) float64 {
	return t.Outlook.Need(id).Met[1] - p.Outlook.Need(id).Met[1]
}

func lack(t *Trial, p *Present, id string) float64 {
	return p.Outlook.Need(id).Lack() - t.Outlook.Need(id).Lack()
}

func TestLeversDoWhatTheySay(t *testing.T) {
	p := present(t, readyDemo(t, 30), 30)
	k := p.Kit()
	made := func(l Lever, err error) *Trial { t.Helper(); return try(t, p, l, err) }
	if x := made(k.Tank("barn")); met(x, p, "beds") <= 0 {
		t.Errorf("a barn tank brings the beds %g", met(x, p, "beds"))
	}
	if x := made(k.Litres("shower", 4)); lack(x, p, "washing") <= 0 {
		t.Errorf("shorter showers do %g for washing", lack(x, p, "washing"))
	}
	if x := made(k.Roof("barn roof", 50)); met(x, p, "beds") <= 0 {
		t.Errorf("a third more roof brings the beds %g", met(x, p, "beds"))
	}
	if x := made(k.Buy("sunflower_oil", 0.03)); met(x, p, "fat_g") <= 0 {
		t.Errorf("oil brings %g of fat", met(x, p, "fat_g"))
	}
	if x := made(k.Hours(6)); met(x, p, "hours") <= 0 {
		t.Errorf("six hours bring %g of hours", met(x, p, "hours"))
	}
	if x := made(k.Drier(0.6)); met(x, p, "beds") >= 0 || !x.Fate || x.Relief >= 0 {
		t.Errorf("a dry year brings the beds %g, relief %g", met(x, p, "beds"), x.Relief)
	}
	if x := made(k.Freezer(100)); lack(x, p, "freezer") < 0 {
		t.Errorf("more freezer takes %g of freezer room", lack(x, p, "freezer"))
	}
	store := func(o *engine.Outlook, id string) float64 {
		i := slices.IndexFunc(o.Stores, func(s engine.StoreOutlook) bool { return s.ID == id })
		return o.Stores[i].Weeks[len(o.Stores[i].Weeks)-1].P50
	}
	for _, c := range []struct {
		id string
		x  *Trial
	}{{"wood", made(k.Wood(100))}, {"cover", made(k.Cover(0.5))}} {
		if store(c.x.Outlook, c.id) <= store(p.Outlook, c.id) {
			t.Errorf("more %s leaves no more of it", c.id)
		}
	}
}

func TestHensLay(t *testing.T) {
	p := present(t, readyDemo(t, 8), 8)
	l, err := p.Kit().Hens(5)
	x := try(t, p, l, err)
	if lack(x, p, "vit_b12_ug") < 0 || met(x, p, "vit_b12_ug") <= 0 {
		t.Errorf("twice the hens bring %g of vitamin B12", met(x, p, "vit_b12_ug"))
	}
	st, err := l.On(p.kit.st)
	must(t, err)
	if f := st.Flocks[0]; f.Count != 10 || math.Abs(f.Feed-2*p.kit.st.Flocks[0].Feed) > 1e-9 {
		t.Errorf("%+v", f)
	}
}

func TestJoinDoesBoth(t *testing.T) {
	r := readyDemo(t, 4)
	k := For(r, unit.Metric)
	tank, err := k.Tank("barn")
	must(t, err)
	dry, err := k.Drier(0.8)
	must(t, err)
	away, err := k.Away(r.Options.Today+10, 7)
	must(t, err)
	all := Join(tank, dry, away)
	st, err := all.On(r.Stead)
	must(t, err)
	if len(st.Tanks) != len(r.Stead.Tanks)+1 || all.Rain != 0.8 || len(st.People[1].Away) != 2 || all.Fate || all.Cost.Once != tank.Cost.Once {
		t.Errorf("%+v", all)
	}
	if !strings.Contains(all.Name, "barn, 20 in 100 less rain, Rook away for 7 days") {
		t.Errorf("named %q", all.Name)
	}
	if twice := Join(dry, dry); math.Abs(twice.Rain-0.64) > 1e-12 || !twice.Fate {
		t.Errorf("two dry fates: %+v", twice)
	}
}

func TestRefusals(t *testing.T) {
	k := For(readyDemo(t, 4), unit.Metric)
	lone := For(ready(t, "place.latitude = 40\n[[person]]\nsex = \"female\"\nage = 50\nhours_week = 0\n"+normals, 4), unit.Metric)
	for say, err := range map[string]error{
		`no tanks "moat"`:         second(k.Tank("moat")),
		`no roof "hay"`:           second(k.Roof("hay", 10)),
		`no use "swimming"`:       second(k.Litres("swimming", 1)),
		"nothing can be saved":    second(k.Litres("drinking", 1)),
		"every bed":               second(For(ready(t, "place.latitude = 40\npeople = 1\nbed = [{ area = \"5 m2\", mulch = \"8 cm\" }]\n"+normals, 4), unit.Metric).Mulch()),
		"watered by can":          second(k.Drip()),
		`no shelf "attic"`:        second(k.Shelf("attic", 1)),
		"no digester":             second(lone.Scraps(1)),
		"no toilet":               second(lone.Cover(1)),
		"nothing burns wood":      second(lone.Wood(1)),
		"nobody has hours":        second(lone.Hours(1)),
		"cannot be spared":        second(lone.Away(1, 3)),
		"400 days away":           second(k.Away(1, 400)),
		"rain times -1":           second(k.Drier(-1)),
		`no "moon_cheese"`:        second(k.Buy("moon_cheese", 1)),
		"no food of a plain shop": second(k.BuyFor("stardust")),
	} {
		if err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("want %q, got %v", say, err)
		}
	}
	bad := Lever{Name: "a bed too many", Apply: func(st *stead.Stead) error { st.Beds = append(st.Beds, st.Beds[0]); return nil }}
	if _, err := bad.On(k.st); err == nil || !strings.Contains(err.Error(), "a bed too many") {
		t.Errorf("a description with faults: %v", err)
	}
}

func second(_ Lever, err error) error { return err }

func TestRanking(t *testing.T) {
	p := present(t, readyDemo(t, 20), 20)
	told := 0
	rank, err := p.Rank(t.Context(), func(done, total int) { told = total - done })
	must(t, err)
	if told != 0 || rank.Members != 20 || len(rank.Trials) < 15 || rank.Before.Lead != p.Outlook.Verdict.Lead {
		t.Fatalf("%d left to tell, %d members, %d levers", told, rank.Members, len(rank.Trials))
	}
	for i, x := range rank.Trials {
		if i > 0 && (rank.Trials[i-1].Fate && !x.Fate || rank.Trials[i-1].Fate == x.Fate && rank.Trials[i-1].Relief < x.Relief) {
			t.Errorf("%s before %s", rank.Trials[i-1].ID, x.ID)
		}
		if x.Outlook != nil || x.Helps() && x.Harms() {
			t.Errorf("%s keeps its outlook, or helps and harms", x.ID)
		}
	}
	if first := rank.Trials[0]; first.Part != "terms" || first.Changes[0].ID != "fat_g" {
		t.Errorf("fat is short first, yet %s leads", first.ID)
	}
	if last := rank.Trials[len(rank.Trials)-1]; last.ID != "rain" {
		t.Errorf("%s is last", last.ID)
	}
}

// TestRankingStopsWhenTold: what is stopped tries nothing more.
func TestRankingStopsWhenTold(t *testing.T) {
	p := present(t, readyDemo(t, 2), 2)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	told := 0
	_, err := p.Rank(ctx, func(int, int) { told++; stop() })
	if most := runtime.GOMAXPROCS(0); !errors.Is(err, context.Canceled) || told < 1 || told > most {
		t.Errorf("%v; told %d times, at most %d were under way", err, told, most)
	}
}

// TestReliefIsEven proves the sign and the weights of relief on made outlooks.
func TestReliefIsEven(t *testing.T) {
	at := day.Day(100)
	out := func(first, second float64) *engine.Outlook {
		need := func(id string, short float64) engine.NeedOutlook {
			return engine.NeedOutlook{ID: id, Known: true, Main: true, ShareShort: 1, FirstShort: &at, Short: []float64{short}, Met: [3]float64{1, 1, 1}}
		}
		return &engine.Outlook{Needs: []engine.NeedOutlook{need("a", first), need("b", second)}}
	}
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.1, 1)
		a, b := share.Draw(t, "a"), share.Draw(t, "b")
		c, d := share.Draw(t, "c"), share.Draw(t, "d")
		want := (a-c)/a + (b-d)/b/2
		if got := relief(out(a, b), out(c, d)); math.Abs(got-want) > 1e-9 {
			t.Fatalf("relief %g, want %g", got, want)
		}
	})
}

// TestInAReplayedBook tries levers on a stead that its book has carried on: the
// water found by a dip stays what it is beside one more tank.
func TestInAReplayedBook(t *testing.T) {
	begun, today := day.Of(2026, time.November, 1), day.Of(2027, time.January, 20)
	clock := func() time.Time { return today.Time().Add(12 * time.Hour) }
	h, err := hearth.Open(t.Context(), filepath.Join(t.TempDir(), "a.stead"), clock)
	must(t, err)
	t.Cleanup(func() { h.Close() })
	must(t, h.Describe(t.Context(), begun, "demo", demo.Quernfold()))
	c, err := h.Context(t.Context(), today, "Sorrel", unit.Metric)
	must(t, err)
	_, err = h.Add(t.Context(), book.Read("dipped cistern at 20,000 L\ncounted potatoes 11 kg", c))
	must(t, err)
	r, err := h.Reckon(t.Context(), hearth.Ask{Members: 8})
	must(t, err)
	p := present(t, r, 8)
	rank, err := p.Rank(t.Context(), nil)
	must(t, err)
	if len(rank.Trials) < 15 {
		t.Errorf("only %d levers", len(rank.Trials))
	}
	for _, tr := range r.Past.Tracks {
		at := slices.IndexFunc(p.Outlook.Stores, func(s engine.StoreOutlook) bool { return s.ID == tr.ID })
		if want := tr.Levels[len(tr.Levels)-1]; tr.ID != "root-zone" && math.Abs(p.Outlook.Stores[at].Now-want) > 0.01*max(1, want) {
			t.Errorf("%s begins at %g, the book left it at %g", tr.ID, p.Outlook.Stores[at].Now, want)
		}
	}
	l, err := p.Kit().Tank("barn")
	x := try(t, p, l, err)
	now := func(o *engine.Outlook) engine.StoreOutlook {
		return o.Stores[slices.IndexFunc(o.Stores, func(s engine.StoreOutlook) bool { return s.ID == "tank:barn" })]
	}
	before, after := now(p.Outlook), now(x.Outlook)
	if before.Now != after.Now || after.Size != before.Size+4000 {
		t.Errorf("the barn holds %g of %g, with one more tank %g of %g", before.Now, before.Size, after.Now, after.Size)
	}
}

func TestUnitsAreThePages(t *testing.T) {
	r := readyDemo(t, 4)
	l, err := For(r, unit.US).Roof("barn roof", 10)
	must(t, err)
	if l.Name != "108 ft² more of barn roof" {
		t.Errorf("named %q", l.Name)
	}
}

// BenchmarkRank ranks every lever of the demo over the usual number of years.
func BenchmarkRank(b *testing.B) {
	r := readyDemo(b, Members)
	for b.Loop() {
		p, err := Run(b.Context(), r, unit.Metric, Members)
		must(b, err)
		if _, err := p.Rank(b.Context(), nil); err != nil {
			b.Fatal(err)
		}
	}
}
