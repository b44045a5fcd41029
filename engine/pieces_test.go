package engine

import (
	"math"
	"strings"
	"testing"

	"evenstead/stead"
)

// TestPiecesAreWeighed: what is counted by the piece moves the weight that the echo
// names, such that what is eaten of it is what the source prints, and the household's
// own weight goes before it.
func TestPiecesAreWeighed(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 30
	weighed := func(r ready, note string) (kg float64, remark string) {
		t.Helper()
		p := r.replay(t, today, notes(t, r, today, note))
		for _, f := range p.Told[len(p.Told)-1].Flows {
			if f.Material == "mass" {
				kg += f.Amount
			}
		}
		return kg, p.Told[len(p.Told)-1].Remark
	}
	onion := 0.0
	for i := range r.tab.Crops {
		if c := &r.tab.Crops[i]; c.ID == "onion" {
			onion = c.EdibleFraction
		}
	}
	kg, remark := weighed(r, "bought 10 onions, cellar")
	if want := 10 * 0.110 / onion; math.Abs(kg-want) > 1e-9 || !strings.Contains(remark, "USDA SR27 NDB 11282") {
		t.Errorf("10 onions weigh %g kg, want %g: %s", kg, want, remark)
	}
	own := *r.st
	own.Pieces = []stead.Piece{{Food: "onion", Weighs: 0.2}}
	mine := r
	mine.st = &own
	var err error
	if mine.tab, err = own.Tables(r.tab); err != nil {
		t.Fatal(err)
	}
	if kg, remark := weighed(mine, "bought 10 onions, cellar"); math.Abs(kg-2) > 1e-9 || !strings.Contains(remark, "the household") {
		t.Errorf("10 onions of one's own weigh %g kg: %s", kg, remark)
	}
	if kg, _ := weighed(r, "bought 12 cloves of garlic, cellar"); !(kg > 0.036 && kg < 0.06) {
		t.Errorf("12 cloves weigh %g kg", kg)
	}
}

// TestPiecesWithoutAWeight: what no source weighs is refused, with what to do.
func TestPiecesWithoutAWeight(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 30
	for note, say := range map[string]string{"bought 5 heads of garlic": "what one head of garlic", "bought 3 pumpkins": "what one piece of pumpkin"} {
		h := History{Versions: []Version{{r.st.Stay.From, r.st}}, Entries: notes(t, r, today, note)}
		o := r.opt
		o.Today = today
		p, err := Replay(t.Context(), r.tab, h, r.ens, o)
		if err != nil {
			t.Fatal(err)
		}
		if said := strings.Join(p.Refused(), "\n"); !strings.Contains(strings.ToLower(said), say) || !strings.Contains(said, "[[piece]]") {
			t.Errorf("%q: %s", note, said)
		}
	}
}
