package crop

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/stead"
)

var update = flag.Bool("update", false, "write the tables of docs/ground.md")

const groundPage = "../docs/ground.md"

// TestGroundPage holds the two tables of docs/ground.md to what is computed.
func TestGroundPage(t *testing.T) {
	page, err := os.ReadFile(groundPage)
	if err != nil {
		t.Fatal(err)
	}
	fresh := page
	for name, table := range map[string]string{"charts": chartTable(t), "guides": guideTable(t)} {
		if fresh, err = put(fresh, name, table); err != nil {
			t.Fatal(err)
		}
	}
	if *update {
		if err := os.WriteFile(groundPage, fresh, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(page, fresh) {
		t.Error("docs/ground.md is stale: go test ./crop -run GroundPage -update")
	}
}

// put puts a table between the marks of its name.
func put(page []byte, name, table string) ([]byte, error) {
	from, to := "<!-- "+name+" -->\n", "<!-- end of "+name+" -->"
	i, j := bytes.Index(page, []byte(from)), bytes.Index(page, []byte(to))
	if i < 0 || j < i {
		return nil, fmt.Errorf("%s has no marks for %s", groundPage, name)
	}
	var out []byte
	out = append(out, page[:i+len(from)]...)
	out = append(out, table...)
	return append(out, page[j:]...), nil
}

func chartTable(t *testing.T) string {
	crops, climates := windowCrops(t), climates(t)
	var b strings.Builder
	b.WriteString("| place | crop | printed | computed | agrees |\n|---|---|---|---|---|\n")
	passed, all := 0, 0
	for _, p := range printedWindows(t) {
		got := Windows(crops[p.crop], climates[p.place], 0.5)
		all++
		yes := "no"
		if p.passes(got) {
			passed++
			yes = "yes"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", p.place, crops[p.crop].Name, span(p.w), spans(got), yes)
	}
	fmt.Fprintf(&b, "\n%d of %d agree. ", passed, all)
	open, far := farDays(t)
	fmt.Fprintf(&b, "Of the %d crop-days more than a month from every printed window, %d (%.0f %%) are computed open.\n", far, open, 100*float64(open)/float64(far))
	return b.String()
}

// farDays counts the days more than 30 days from every printed window of a crop
// whose windows are all printed (Gainesville), and how many are computed open.
func farDays(t testing.TB) (open, far int) {
	crops, clim := windowCrops(t), climates(t)["Gainesville"]
	printed := map[string][]Window{}
	for _, p := range printedWindows(t) {
		if p.place == "Gainesville" {
			printed[p.crop] = append(printed[p.crop], p.w)
		}
	}
	for id, ws := range printed {
		got := Windows(crops[id], clim, 0.5)
		for d := 1; d <= 365; d++ {
			near := slices.ContainsFunc(ws, func(w Window) bool {
				return Window{(w.Open-31+730)%365 + 1, (w.Close+29)%365 + 1}.Has(d) || w.Days() > 300
			})
			if near {
				continue
			}
			far++
			if slices.ContainsFunc(got, func(w Window) bool { return w.Has(d) }) {
				open++
			}
		}
	}
	return open, far
}

// TestFarFromChartsIsClosed: windows are not right by being wide.
func TestFarFromChartsIsClosed(t *testing.T) {
	open, far := farDays(t)
	if share := float64(open) / float64(far); far < 1000 || share > 0.25 {
		t.Errorf("%d of %d crop-days far from every printed window are open", open, far)
	}
}

// guideTable compares with calendars that were not looked at while the rules were
// settled: a named span agrees when two thirds of it lie in computed windows.
func guideTable(t *testing.T) string {
	crops := windowCrops(t)
	climates := map[string]*Climate{"Seattle": recorded(t, "seattle-weather.csv", 47.45), "Quernfold": quernfold(t)}
	var b strings.Builder
	b.WriteString("| place | guide | crop | named | computed | agrees |\n|---|---|---|---|---|---|\n")
	passed, all := map[string]int{}, map[string]int{}
	for _, r := range table(t, "guides.csv") {
		w := Window{yearDay(t, r["from"]), yearDay(t, r["to"])}
		got := Windows(crops[r["crop"]], climates[r["place"]], 0.5)
		all[r["place"]]++
		yes := "no"
		if 3*covered(w, got) >= 2*w.Days() {
			passed[r["place"]]++
			yes = "yes"
		}
		fmt.Fprintf(&b, "| %s | %s | %s, %s | %s | %s | %s |\n", r["place"], r["guide"], crops[r["crop"]].Name, r["what"], span(w), spans(got), yes)
	}
	fmt.Fprintf(&b, "\nSeattle: %d of %d agree. Quernfold: %d of %d agree.\n",
		passed["Seattle"], all["Seattle"], passed["Quernfold"], all["Quernfold"])
	return b.String()
}

func covered(w Window, got []Window) int {
	n := 0
	for k := range w.Days() {
		d := (w.Open-1+k)%365 + 1
		for _, g := range got {
			if g.Has(d) {
				n++
				break
			}
		}
	}
	return n
}

func span(w Window) string {
	if w.Days() == 365 {
		return "all year"
	}
	at := func(yd int) string {
		return strings.ReplaceAll((day.Of(2023, 1, 1) + day.Day(yd-1)).Short(), "\u00a0", " ")
	}
	return at(w.Open) + " - " + at(w.Close)
}

func spans(ws []Window) string {
	if len(ws) == 0 {
		return "none"
	}
	var said []string
	for _, w := range ws {
		said = append(said, span(w))
	}
	return strings.Join(said, ", ")
}

// quernfold is the climate of the invented stead.
func quernfold(t testing.TB) *Climate {
	t.Helper()
	st, err := stead.Read("quernfold.toml", demo.Quernfold())
	if err != nil {
		t.Fatal(err)
	}
	n := normals{lat: st.Place.Latitude}
	written := st.Place.Normals[0]
	copy(n.lo[:], written.TMin)
	copy(n.hi[:], written.TMax)
	for m := range 12 {
		n.sdLo[m], n.sdHi[m] = written.TMinSD, written.TMaxSD
	}
	return n.climate(t, false)
}
