package book

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"evenstead/data"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/unit"
)

// today of every reading below is a Wednesday.
var today = day.Of(2026, time.November, 25)

func ids(s ...string) (out []Name) {
	for _, id := range s {
		out = append(out, Name{ID: id})
	}
	return out
}

func place() Context {
	return Context{Today: today, From: day.Of(2026, time.November, 1), Who: "Sorrel", Names: map[Sort][]Name{
		Bed:      {{ID: "north", Area: 12}, {ID: "B4", Area: 12}, {ID: "south"}},
		Tree:     ids("fig"),
		Tank:     {{ID: "tote 1", Holds: 1041}, {ID: "tote 2", Holds: 1041}},
		Shelf:    ids("cellar", "pantry"),
		Freezer:  ids("chest"),
		Digester: ids("digester"),
		Compost:  ids("heap"),
		Flock:    {{ID: "hens", Also: []string{"chickens"}}},
		Drum:     {{ID: "drum 1", Until: today + 30}, {ID: "drum 2", Until: today - 30}},
		Crop:     {{ID: "sweet_potato", Yield: 4}, {ID: "potato"}, {ID: "kale"}, {ID: "basil", Yield: 2}, {ID: "bean_dry", Also: []string{"dry bean"}}},
		Food:     {{ID: "tomato"}, {ID: "apple"}, {ID: "egg"}, {ID: "honey", Empty: true}},
		Wild:     ids("acorn"),
		Person:   ids("Sorrel", "Rook"),
	}}
}

// TestRead holds the note, and the entry it must become, in short form.
func TestRead(t *testing.T) {
	for _, c := range []struct{ note, want string }{
		{"picked 3.2 lb sweet potato, north bed", "2026-11-25 Sorrel picked 1.45 mass|sweet_potato|north"},
		{"dipped tote 2 at 140 gal", "2026-11-25 Sorrel dipped 530 volume||tote 2"},
		{"put up 11 quarts tomatoes", "2026-11-25 Sorrel put up 10.4 volume|tomato||jarred"},
		{"fed digester 4 kg scraps", "2026-11-25 Sorrel fed 4 mass|scraps|digester"},
		{"counted potatoes 18 kg", "2026-11-25 Sorrel counted 18 mass|potato|"},
		{"rain 14 mm yesterday", "2026-11-24 Sorrel rain 14 depth||"},
		{"14 mm rain, yesterday", "2026-11-24 Sorrel rain 14 depth||"},
		{"rain 1/2 in on monday", "2026-11-23 Sorrel rain 12.7 depth||"},
		{"rain 0", "2026-11-25 Sorrel rain 0 depth||"},
		{"Rook picked 6 lb 4 oz kale from B4 at 7:30", "2026-11-25 07:30 Rook picked 2.83 mass|kale|B4"},
		{"picked 1 1/2 kg of kale from the north bed 3 days ago", "2026-11-22 Sorrel picked 1.5 mass|kale|north"},
		{"picked sweet potatoes north bed 2 kg", "2026-11-25 Sorrel picked 2 mass|sweet_potato|north"},
		{"took a dozen eggs from hens last wednesday", "2026-11-18 Sorrel taken 12 number|egg|hens"},
		{"froze 2 and a half kg beans, dry bean, chest", "2026-11-25 Sorrel put up 2.5 mass|bean_dry|chest|frozen|beans"},
		{"ate 300 g dried apples by Rook 5 Nov", "2026-11-05 Rook eaten 0.3 mass|apple||dried"},
		{"moved 50 gal from tote 1 to tote 2", "2026-11-25 Sorrel moved 189 volume||tote 1|to=tote 2"},
		{"gave 2 kg kale to the neighbour", "2026-11-25 Sorrel given 2 mass|kale||to=neighbour"},
		{"worked 3 h pruning for landowner", "2026-11-25 Sorrel worked 3 time|pruning||for=landowner"},
		{"weighed Rook 75.5 kg", "2026-11-25 Sorrel weighed 75.5 mass|Rook|"},
		{"Rook away 2 days", "2026-11-25 Rook away 48 time|Rook|"},
		{"spread drum 2 20 L on fig", "2026-11-25 Sorrel spread 20 volume|drum 2|fig"},
		{"heat in heap 61 C", "2026-11-25 Sorrel heat 61 temperature||heap"},
		{"closed drum 2", "2026-11-25 Sorrel closed||drum 2"},
		{"cooked 2 h with wood", "2026-11-25 Sorrel cooked 2 time|wood|"},
		{"sown kale in B4 (old seed)", "2026-11-25 Sorrel sown|kale|B4|old seed"},
		{"- set out 24 kale B4", "2026-11-25 Sorrel set out 24 number|kale|B4"},
		{"note: the owl is back, at 2 am", "2026-11-25 Sorrel note|||the owl is back, at 2 am"},
		{"binned 3 kg glass", "2026-11-25 Sorrel binned 3 mass|glass|"},
		{"mended gate with 2 hinges", "2026-11-25 Sorrel mended 2 number|gate||from=hinges"},
		{"dipped tote 1 full", "2026-11-25 Sorrel dipped 1 share||tote 1"},
		{"tote 1, dipped, half full", "2026-11-25 Sorrel dipped 0.5 share||tote 1"},
		{"dipped tote 1 at 3/4", "2026-11-25 Sorrel dipped 0.75 share||tote 1"},
		{"dipped tote 1 at ¾ full", "2026-11-25 Sorrel dipped 0.75 share||tote 1"},
		{"counted 12 jars of tomatoes", "2026-11-25 Sorrel counted 12 number|tomato||jarred"},
		{"We picked 1 kg of kale yesterday morning", "2026-11-24 Sorrel picked 1 mass|kale|"},
		{"lost 2 kg apples to mould", "2026-11-25 Sorrel lost 2 mass|apple||to=mould"},
		{"dipped tote 1 85 %", "2026-11-25 Sorrel dipped 0.85 share||tote 1"},
	} {
		r := Read(c.note, place())
		if len(r) != 1 || r[0].Err != nil {
			t.Errorf("%q: %+v", c.note, r)
			continue
		}
		if got := brief(r[0].Entry); !strings.HasPrefix(got, c.want) {
			t.Errorf("%q\n got %s\nwant %s", c.note, got, c.want)
		}
	}
}

// brief writes an entry on one line, amounts to three figures.
func brief(e Entry) string {
	s := strings.Join(strings.Fields(fmt.Sprint(e.Day, " ", e.Time, " ", e.Who, " ", e.Kind)), " ")
	if e.Body.Measure != "" {
		s += fmt.Sprintf(" %.3g %s", e.Body.Amount, e.Body.Measure)
	}
	s += "|" + e.Body.What + "|" + e.Body.Where
	for _, x := range []string{e.Body.Form, e.Note} {
		if x != "" {
			s += "|" + x
		}
	}
	for k, v := range e.Body.Extra {
		s += "|" + k + "=" + v
	}
	return s
}

func TestReadRefuses(t *testing.T) {
	for _, c := range []struct{ note, say string }{
		{"picked 3000 kg basil", "check the unit"},
		{"picked 60 kg sweet potato from B4", "more than B4 (12 m²) can give: at most 48 kg"},
		{"picked 3 lb kale tomorrow", "in the future"},
		{"rain 3 mm 2026-10-30", "before the stay"},
		{"rain 3 kg", "not an amount of depth"},
		{"picked 4 gallons per day kale", "not an amount"},
		{"dipped tote 2 at 400 gal", "it holds 1,041 L"},
		{"dipped zzzzzz at 40 gal", `no tank is called "zzzzzz": there is tote 1, tote 2`},
		{"fed hens", "needs an amount, such as 3 kg"},
		{"picked kale", "needs an amount"},
		{"spread drum 1 20 L on fig", "must stay closed until"},
		{"picked 3 kg kale and 2 kg potatoes", "one on each line"},
		{"pickd 3 kg kale", `"pickd" meant for picked`},
		{"picked 2,5 kg kale", `"2,5 kg" has a comma in an odd place`},
		{"picked kale 2,5", "has a comma in an odd place"},
		{"spread 12 345 L urine on B4", "write 12345 L without the blank"},
		{"hello there", "no word says what was done"},
		{"rain 14 mm at 27:00", "not a time of day"},
		{"rain 2000 mm", "the most in one entry is 1,825 mm"},
		{"ate 0 kg kale", "above nothing"},
		{"note", "needs the note"},
		{"cooked 3 with wood", "needs a unit"},
		{"note " + strings.Repeat("very ", 400) + "long", "write several lines"},
	} {
		r := Read(c.note, place())
		if len(r) != 1 || r[0].Err == nil || !strings.Contains(strings.ReplaceAll(r[0].Err.Error(), "\u00a0", " "), c.say) {
			t.Errorf("%q: want %q, got %+v", c.note, c.say, r)
		}
	}
}

// TestReadPieces: a note counts what it will, by the piece, by the word for one, or by
// what each weighs or holds; the sentence reads back as the same entry.
func TestReadPieces(t *testing.T) {
	c := place()
	c.Pieces = []string{"head", "clove", "leaf"}
	c.Names[Food] = append(c.Names[Food], Name{ID: "garlic"}, Name{ID: "squash_winter", Also: []string{"squash"}}, Name{ID: "olive_oil"})
	for _, x := range []struct{ note, want string }{
		{"counted 6 squash, cellar", "2026-11-25 Sorrel counted 6 number|squash_winter|cellar"},
		{"counted 6 squash of 1.8 kg, cellar", "2026-11-25 Sorrel counted 10.8 mass|squash_winter|cellar|6 of 1.8 kg each"},
		{"counted 6 squash, 1.8 kg each, cellar", "2026-11-25 Sorrel counted 10.8 mass|squash_winter|cellar|6 of 1.8 kg each"},
		{"picked 3 kale at 2 lb each from B4", "2026-11-25 Sorrel picked 2.72 mass|kale|B4|3 of 2 lb each"},
		{"counted 4 heads of garlic", "2026-11-25 Sorrel counted 4 number|garlic||piece=head"},
		{"ate three garlic cloves", "2026-11-25 Sorrel eaten 3 number|garlic||piece=clove"},
		{"counted 12 jars of 0.5 L tomatoes", "2026-11-25 Sorrel counted 6 volume|tomato||jarred|12 of 0.5 L each"},
		{"watered B4, 3 cans of 10 L", "2026-11-25 Sorrel watered 30 volume||B4|cans; 3 of 10 L each"},
		{"fed 2 buckets of 5 kg scraps to digester", "2026-11-25 Sorrel fed 10 mass|scraps|digester|2 of 5 kg each"},
		{"dipped tote 2 of 140 gal", "2026-11-25 Sorrel dipped 530 volume||tote 2"},
		{"spread drum 2 20 L on fig", "2026-11-25 Sorrel spread 20 volume|drum 2|fig"},
	} {
		r := Read(x.note, c)
		if len(r) != 1 || r[0].Err != nil || !strings.HasPrefix(brief(r[0].Entry), x.want) {
			t.Errorf("%q: %s, %v; want %s", x.note, brief(r[0].Entry), r[0].Err, x.want)
			continue
		}
		e := r[0].Entry
		e.Note = ""
		again := Read(strings.ReplaceAll(e.Sentence(unit.Metric), "\u00a0", " "), c)
		if got := again[0].Entry; again[0].Err != nil || got.Body.What != e.Body.What || math.Abs(got.Body.Amount-e.Body.Amount) > 0.005*e.Body.Amount || got.Body.Extra[Piece] != e.Body.Extra[Piece] {
			t.Errorf("%q says %q, which reads as %s, %v", x.note, e.Sentence(unit.Metric), brief(got), again[0].Err)
		}
	}
}

// TestMany: the word for several pieces gives the one again.
func TestMany(t *testing.T) {
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range tab.PieceWords() {
		if got := singular(many(w)); got != w {
			t.Errorf("%q is %q of several, and that is %q", w, many(w), got)
		}
	}
}

// TestReadDecimalComma: a note reads the marks of its language, leaves what is said
// in brackets alone, and refuses a number that could be two.
func TestReadDecimalComma(t *testing.T) {
	c := place()
	c.Marks = unit.Marks{Point: ',', Group: '\u202f'}
	for _, x := range []struct{ note, want string }{
		{"picked 2,5 kg kale, north", "2026-11-25 Sorrel picked 2.5 mass|kale|north"},
		{"picked 2.5 kg kale, north", "2026-11-25 Sorrel picked 2.5 mass|kale|north"},
		{"moved 1\u202f000,5 L from tote 1 to tote 2", "2026-11-25 Sorrel moved 1e+03 volume||tote 1|to=tote 2"},
		{"dipped tote 2 500 L", "2026-11-25 Sorrel dipped 500 volume||tote 2"},
		{"sown kale in B4 (paid 1,200)", "2026-11-25 Sorrel sown|kale|B4|paid 1,200"},
		{"note: 1,200 bees", "2026-11-25 Sorrel note|||1,200 bees"},
	} {
		r := Read(x.note, c)
		if len(r) != 1 || r[0].Err != nil || !strings.HasPrefix(brief(r[0].Entry), x.want) {
			t.Errorf("%q: %s, %v; want %s", x.note, brief(r[0].Entry), r[0].Err, x.want)
		}
	}
	if r := Read("picked 1,2,3 kg kale", c); r[0].Err == nil || strings.Contains(r[0].Err.Error(), "\n") {
		t.Errorf("a list of numbers is told %v", r[0].Err)
	}
	two := (*unit.Twofold)(nil)
	if r := Read("moved 1,200 L from tote 1 to tote 2", c); !errors.As(r[0].Err, &two) {
		t.Errorf("1,200 L is read: %v", r[0].Err)
	}
}

func TestReadAsks(t *testing.T) {
	for _, c := range []struct{ note, field, first string }{
		{"picked 3 kg swet potato, north", "what", "sweet_potato"},
		{"picked 3 kg kale, noth bed", "where", "north"},
		{"dipped tote2 at 40 gal", "where", "tote 2"},
		{"rain 14", "amount", "14 mm"},
		{"put up 3 kg apples", "form", "dried"},
		{"ate 100 g honey", "what", ""},
	} {
		r := Read(c.note, place())[0]
		if r.Err != nil || len(r.Doubts) != 1 || r.Doubts[0].Field != c.field {
			t.Errorf("%q: %+v", c.note, r)
			continue
		}
		if d := r.Doubts[0]; c.first != "" && (len(d.Choices) == 0 || d.Choices[0] != c.first) {
			t.Errorf("%q: choices %v, want %s first", c.note, d.Choices, c.first)
		}
	}
}

func TestReadSeveralLines(t *testing.T) {
	r := Read("picked 2 kg kale, B4\n\n  * rain 3 mm\r\nnonsense\n", place())
	if len(r) != 3 || r[0].Line != 1 || r[1].Line != 3 || r[2].Line != 4 || r[2].Err == nil || r[1].Err != nil {
		t.Fatalf("%+v", r)
	}
	if want := "picked 2 kg of kale from B4, 25 Nov 2026, by Sorrel"; strings.ReplaceAll(r[0].Sentence, "\u00a0", " ") != want {
		t.Errorf("sentence %q, want %q", r[0].Sentence, want)
	}
}

func TestReadWithoutNamesTakesWordsAsWritten(t *testing.T) {
	r := Read("fed digester 4 kg scraps\nemptied drum 2\ndipped tank 3 at 50 gal", Context{Today: today})
	want := []string{"fed 4 mass|scraps|digester", "emptied||drum 2", "dipped 189 volume||tank 3"}
	for i, w := range want {
		if got := brief(r[i].Entry); r[i].Err != nil || !strings.HasSuffix(got, w) {
			t.Errorf("got %s (%v), want %s", got, r[i].Err, w)
		}
	}
}

func TestEveryKindHasAWordThatReadsAsIt(t *testing.T) {
	for _, k := range Kinds() {
		for _, w := range Words(k) {
			if k == Struck || k == Noted {
				continue
			}
			if r := Read(w+" 3 kg kale", Context{Today: today})[0]; r.Entry.Kind != k {
				t.Errorf("%q reads as %q, want %q", w, r.Entry.Kind, k)
			}
		}
	}
}

func TestWeekdayIsTheLatestOne(t *testing.T) {
	for note, want := range map[string]day.Day{"rain 1 mm wednesday": today, "rain 1 mm last wednesday": today - 7,
		"rain 1 mm sunday": today - 3, "rain 1 mm thu": today - 6, "rain 1 mm a week ago": today - 7, "rain 1 mm Nov 9": today - 16} {
		if r := Read(note, Context{Today: today})[0]; r.Entry.Day != want || r.Err != nil {
			t.Errorf("%q: %s (%v), want %s", note, r.Entry.Day, r.Err, want)
		}
	}
}

// FuzzRead holds that any text gives readings that are either refused or can be
// written down and read again.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"picked 3.2 lb sweet potato, north bed", "dipped tote 2 at 140 gal", "rain ½ in yesterday (late)",
		"put up 11 quarts", "6 lb 4 oz kale picked by Rook 5 feb 7 pm", "moved 3 L from a to b\nfed hens", "half a dozen eggs taken", "\xff\x00 rain 1e9 mm", "heat -3 F heap"} {
		f.Add(s)
	}
	c, whole := place(), contextOf(f, string(demo.Quernfold()))
	f.Fuzz(func(t *testing.T, s string) {
		for _, r := range append(Read(s, c), Read(s, whole)...) {
			if r.Err != nil {
				if r.Err.Error() == "" {
					t.Fatal("an error without words")
				}
				continue
			}
			if !utf8.ValidString(r.Sentence) || r.Sentence == "" || math.IsNaN(r.Entry.Body.Amount) {
				t.Fatalf("%q: %+v", s, r)
			}
			line, err := r.Entry.withID().Line()
			if err != nil {
				t.Fatal(err)
			}
			if back, err := ParseLine(line); err != nil || !Same(back, r.Entry.withID()) {
				t.Fatalf("%q: %s: %v", s, line, err)
			}
		}
	})
}

// TestReadIsQuickOnOddLines holds that no line of the longest length takes long.
func TestReadIsQuickOnOddLines(t *testing.T) {
	for _, w := range []string{"1 ", "1 kg ", "(", "in ", "a, ", "picked ", "1/", "½", "north bed ", "é"} {
		start := time.Now()
		Read(strings.Repeat(w, longestLine/len(w)), place())
		if d := time.Since(start); d > 2*time.Second {
			t.Errorf("%q over and over took %v", w, d)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	c := place()
	for b.Loop() {
		if r := Read("picked 3.2 lb sweet potato, north bed", c); r[0].Err != nil {
			b.Fatal(r[0].Err)
		}
	}
}
