package web

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"evenstead/data"
	"evenstead/demo"
)

// manyLots is the demo with so many lots more, of every food that can be kept, form
// and place in turn.
func manyLots(tb testing.TB, n int) []byte {
	tb.Helper()
	tab, err := data.Load()
	deskMust(tb, err)
	var text strings.Builder
	text.Write(demo.Quernfold())
	forms := []string{"fresh", "dry", "dried", "jarred", "frozen", "fermented"}
	at := []string{"", "dry room", "jar shelf"}
	for i, made := 0, 0; made < n; i++ {
		f := &tab.Foods[i%len(tab.Foods)]
		if len(tab.HazardsOf(f.ID)) > 0 && tab.HazardsOf(f.ID)[0].Stop {
			continue
		}
		form := forms[i/len(tab.Foods)%len(forms)]
		place := at[made%len(at)]
		if form == "frozen" {
			place = ""
		}
		fmt.Fprintf(&text, "\n[[lot]]\nfood = %q\nform = %q\nmass = \"%d g\"\nat = %q\nborn = 2026-%02d-%02d\n", f.ID, form, 100+made%900, place, 4+made%6, 1+made%28)
		made++
	}
	return []byte(strings.ReplaceAll(text.String(), "at = \"\"\n", ""))
}

// TestStoresWithTwoThousandLots holds the pages that tell of food to 100 KB and 60 ms
// over a full larder.
func TestStoresWithTwoThousandLots(t *testing.T) {
	d := deskOf(t, manyLots(t, 2000))
	settled(t, d)
	h := deskSite(t, d)
	for _, path := range []string{"/", "/stores", "/ahead"} {
		w := answersIn(t, h, path, 60*time.Millisecond*slack, nil)
		if w.Code != 200 {
			t.Fatalf("%s: status %d", path, w.Code)
		}
		size := w.Body.Len()
		if size > mostBytes {
			t.Errorf("%s has %d bytes, the most is %d", path, size, mostBytes)
		}
	}
}
