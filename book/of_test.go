package book

import (
	"strings"
	"testing"
	"time"

	"evenstead/data"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/stead"
)

// contextOf is the context of a description, read on today.
func contextOf(t testing.TB, text string) Context {
	t.Helper()
	st, err := stead.Read("test", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	c := Of(st, tab)
	c.Today, c.From = today, day.Of(2026, time.November, 1)
	return c
}

const fourMore = `
[[compost]]
name = "heap"
[[toilet]]
drums = 3
[[drum]]
closed = 2025-06-01
[[flock]]
kind = "duck_layer"
count = 4
`

// TestOfHearsPlainWords reads notes against the demo stead, in the words a
// household would use.
func TestOfHearsPlainWords(t *testing.T) {
	c := contextOf(t, string(demo.Quernfold()))
	for _, n := range []struct{ note, want string }{
		{"picked 3.2 lb sweet potato, B4 bed", "picked 1.45 mass|sweet_potato|B4"},
		{"dipped tote 2 at 140 gal", "dipped 530 volume||tote 2"},
		{"dipped the cabin tanks at 800 gal", "dipped 3.03e+03 volume||cabin"},
		{"dipped cistern half full", "dipped 0.5 share||cistern"},
		{"put up 11 quarts tomatoes, jar shelf", "put up 10.4 volume|tomato|jar shelf|jarred"},
		{"put up 2 kg cabbage, crocks, fermented", "put up 2 mass|cabbage|crocks|fermented"},
		{"fed digester 4 kg scraps", "fed 4 mass|kitchen_scraps|digester"},
		{"fed the hens 1 kg feed", "fed 1 mass|hen_feed|hens"},
		{"fed bin 2 10 kg straw", "fed 10 mass|straw_wheat|bin 2"},
		{"counted potatoes 18 kg in the cellar", "counted 18 mass|potato|banked store"},
		{"counted walnuts 40 kg", "counted 40 mass|walnut_english|"},
		{"counted kidney beans 4 kg", "counted 4 mass|bean_kidney|"},
		{"ate 6 eggs", "eaten 6 number|egg_hen|"},
		{"took a dozen eggs from the hens", "taken 12 number|egg_hen|hens"},
		{"took 8 lb honey from hives", "taken 3.63 mass|honey|hives"},
		{"foraged 2 kg blackberries", "foraged 2 mass|blackberry_wild|"},
		{"foraged 500 g acorns", "foraged 0.5 mass|acorn|"},
		{"picked 5 kg swiss chard from B7", "picked 5 mass|chard|B7"},
		{"picked 12 kg figs, figs", "picked 12 mass|fig|figs"},
		{"spread 20 L urine on plums", "spread 20 volume|urine|plums"},
		{"spread effluent 40 L on F13", "spread 40 volume|digestate|F13"},
		{"cooked 1.5 h with firewood", "cooked 1.5 time|wood|"},
		{"cooked 2 h on the solar oven", "cooked 2 time|sun|"},
		{"treated 20 L from tote 1 by filter", "treated 20 volume||tote 1|by=filter"},
		{"worked 2 h weeding in B4", "worked 2 time|weed|B4"},
		{"Rook worked 3 h for landowner", "Rook worked 3 time||"},
		{"moved 200 L from cistern to tote 1", "moved 200 volume||cistern|to=tote 1"},
		{"froze 3 kg snap beans, freezer", "put up 3 mass|snap_bean|chest|frozen"},
		{"closed drum 2", "closed||drum 2"},
		{"weighed Sorrel 61 kg", "weighed 61 mass|Sorrel|"},
		{"sown winter wheat in F3, 140 m2", "sown 140 area|wheat_winter|F3"},
	} {
		r := Read(n.note, c)[0]
		if got := brief(r.Entry); r.Err != nil || len(r.Doubts) > 0 || !strings.Contains(got, n.want) {
			t.Errorf("%q\n got %s %v %v\nwant %s", n.note, got, r.Err, r.Doubts, n.want)
		}
	}
}

func TestOfRefusesWhatTheSteadLacks(t *testing.T) {
	bare, more := string(demo.FourLines()), string(demo.FourLines())+fourMore
	for _, n := range []struct{ text, note, say string }{
		{bare, "fed digester 4 kg scraps", "no digester is described: add [[digester]] to the description"},
		{more, "fed digester 4 kg scraps", "no digester is described"},
		{bare, "froze 3 kg kale in the freezer", "no freezer is described"},
		{bare, "closed drum 1", "add [[toilet]]"},
		{bare, "took 6 eggs from the hens", "no flock is described"},
		{bare, "took 3 kg honey from the bees", "no hive is described"},
		{bare, "spread compost 20 L on trees", "no tree is described"},
		{bare, "heat in crock 20 C", `[[shelf]] with kind = "crocks"`},
		{"place.latitude = 29.7\npeople = 1\nbed = [{ area = \"5 m2\" }]", "dipped tote 1 at 100 L", "no tank is described"},
		{bare, "dipped tote 9 at 100 L", "no tank is called"},
		{bare, "dipped tank 1 at 3000 L", "it holds 1,000 L"},
		{bare, "picked 310 kg basil", "can give: at most 300 kg"},
		{bare, "picked 3000 kg basil", "check the unit"},
		{bare, "moved 20 L from tank 1 to the moon", "no tank or bed or tree is called"},
		{bare, "bought 3 kg plutonium", "to keep the words as they are, begin with note:"},
		{more, "spread drum 1 40 L on bed 1", "must stay closed until 2027-06-02"},
		{more, "spread drum 9 40 L on bed 1", "no drum is called \"drum 9\": there is drum 1, drum 2, drum 3"},
		{bare, "foraged 2 kg pokeweed", "pokeweed is listed as one to leave alone"},
	} {
		r := Read(n.note, contextOf(t, n.text))[0]
		if r.Err == nil || !strings.Contains(strings.ReplaceAll(r.Err.Error(), "\u00a0", " "), n.say) {
			t.Errorf("%q: want %q, got %v (%s)", n.note, n.say, r.Err, brief(r.Entry))
		}
	}
}

func TestOfOneOfItsSortNeedsNoName(t *testing.T) {
	c := contextOf(t, string(demo.FourLines())+fourMore)
	for note, want := range map[string]string{
		"dipped the tank at 100 gal": "dipped 379 volume||tank 1",
		"fed bin 4 kg weeds":         "fed 4 mass|vegetable_residue|heap",
		"took 3 eggs from ducks":     "taken 3 number|egg_duck|ducks",
		"picked 2 kg kale, garden":   "picked 2 mass|kale|bed 1",
	} {
		if r := Read(note, c)[0]; r.Err != nil || len(r.Doubts) > 0 || !strings.Contains(brief(r.Entry), want) {
			t.Errorf("%q: got %s %v %v, want %s", note, brief(r.Entry), r.Err, r.Doubts, want)
		}
	}
}

// TestOfAsks holds the questions about words that could mean several things.
func TestOfAsks(t *testing.T) {
	c := contextOf(t, string(demo.Quernfold()))
	for _, n := range []struct{ note, field, choices string }{
		{"fed compost 10 kg straw", "where", "bin 1, bin 2"},
		{"dipped tote at 100 gal", "where", "tote 1"},
		{"sown wheat in F3", "what", "wheat_spring, wheat_winter"},
		{"ate 200 g beans", "what", "bean_"},
	} {
		r := Read(n.note, c)[0]
		if r.Err != nil || len(r.Doubts) != 1 || r.Doubts[0].Field != n.field || !strings.Contains(strings.Join(r.Doubts[0].Choices, ", "), n.choices) {
			t.Errorf("%q: %v %v, want a question about %s: %s", n.note, r.Err, r.Doubts, n.field, n.choices)
		}
	}
}

func TestUntilGoneAndBecause(t *testing.T) {
	c := contextOf(t, string(demo.FourLines())+fourMore)
	c.Until("drum 2", today+10)
	c.Gone(map[string]bool{"potato": true})
	r := Read("spread drum 2 40 L on bed 1", c)[0]
	if r.Err == nil || !strings.Contains(r.Err.Error(), (today+10).String()) {
		t.Errorf("a shut drum: %v", r.Err)
	}
	r = r.Because("the health office tested it", c)
	if r.Err != nil || r.Entry.Body.Extra["reason"] == "" || !strings.Contains(r.Sentence, "health office") {
		t.Errorf("with a reason: %+v", r)
	}
	if r := Read("ate 1 kg potatoes", c)[0]; r.Err != nil || len(r.Doubts) != 1 {
		t.Errorf("food that is gone: %+v", r)
	}
	if r := Read("dipped tank 1 at 3000 L", c)[0].Because("it is so", c); r.Err == nil {
		t.Error("a reason let an overfull tank through")
	}
	if id, err := c.Named("the tank", Tank); err == nil || id != "" {
		t.Errorf("Named takes names as they are: %q %v", id, err)
	}
	if id, err := c.Named("tank", Tank); err != nil || id != "tank 1" {
		t.Errorf("%q %v", id, err)
	}
}

// TestOfNamesAreTheirOwn holds that every id of every sort reads as itself.
func TestOfNamesAreTheirOwn(t *testing.T) {
	c := contextOf(t, string(demo.Quernfold()))
	for s, names := range c.Names {
		for _, n := range names {
			for _, w := range append([]string{n.ID}, spoken(n.ID)) {
				if id, ok := c.exact(w, []Sort{s}); !ok || id != n.ID {
					t.Errorf("%s %q is read as %q", s, w, id)
				}
			}
		}
	}
}

func TestReadOfAWholeSteadIsQuick(t *testing.T) {
	c := contextOf(t, string(demo.Quernfold()))
	for _, w := range []string{"1 ", "1 kg ", "in ", "picked ", "north bed ", "potato "} {
		start := time.Now()
		Read(strings.Repeat(w, longestLine/len(w)), c)
		if d := time.Since(start); d > 2*time.Second {
			t.Errorf("%q over and over took %v", w, d)
		}
	}
}

func BenchmarkReadOfAWholeStead(b *testing.B) {
	c := contextOf(b, string(demo.Quernfold()))
	for b.Loop() {
		if r := Read("picked 3.2 lb sweet potato, B4", c); r[0].Err != nil {
			b.Fatal(r[0].Err)
		}
	}
}
