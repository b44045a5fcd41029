package web

import (
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenstead/day"
	"evenstead/engine"

	"pgregory.net/rapid"
)

func TestStrength(t *testing.T) {
	for _, c := range []struct {
		chance float64
		want   strength
	}{
		{0, absent}, {0.049, absent}, {0.05, outlined}, {0.199, outlined}, {0.2, hatched}, {0.499, hatched}, {0.5, solid}, {1, solid}, {math.NaN(), absent},
	} {
		if got := strengthOf(c.chance); got != c.want {
			t.Errorf("chance %g is drawn %d, want %d", c.chance, got, c.want)
		}
	}
}

func TestNum(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.04: "0", -0.04: "0", 0.5: ".5", -0.5: "-.5", 12: "12", 3.14: "3.1", 100: "100", math.Inf(1): "0", math.NaN(): "0"} {
		if got := num(v, 1); got != want {
			t.Errorf("num(%g) = %q, want %q", v, got, want)
		}
	}
}

// points reads a path of M, l and z back into absolute points.
func points(t interface{ Fatalf(string, ...any) }, d string) [][2]float64 {
	var list [][2]float64
	for i, f := range regexp.MustCompile(`-?\d*\.?\d+`).FindAllString(d, -1) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatalf("path %q: %v", d, err)
		}
		if i%2 == 0 {
			list = append(list, [2]float64{v, 0})
		} else {
			list[len(list)-1][1] = v
		}
	}
	for i := 1; i < len(list); i++ {
		list[i][0] += list[i-1][0]
		list[i][1] += list[i-1][1]
	}
	return list
}

func TestTrackKeepsItsPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ys := rapid.SliceOfN(rapid.Float64Range(-500, 500), 2, 80).Draw(t, "ys")
		tr := track{decimals: 1}
		for i, y := range ys {
			tr.at(float64(i), y)
		}
		for i, p := range points(t, tr.path(false)) {
			if math.Abs(p[0]-float64(i)) > 1e-6 || math.Abs(p[1]-ys[i]) > 0.051 {
				t.Fatalf("point %d drifted to %v, want %d %g", i, p, i, ys[i])
			}
		}
	})
}

// falling draws a share that begins at one and never rises.
func falling(t *rapid.T) []float64 {
	list := []float64{1}
	for range rapid.IntRange(1, 60).Draw(t, "weeks") {
		list = append(list, list[len(list)-1]*rapid.Float64Range(0.5, 1).Draw(t, "keeps"))
	}
	return list
}

func TestRibbonThinsAndStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		covered := falling(t)
		c := coverRule{7 * (len(covered) - 1)}
		from := rapid.Float64Range(0, float64(c.days)).Draw(t, "from")
		d := c.edge(covered, from, float64(c.days))
		if d == "" {
			return
		}
		p := points(t, d)
		half := len(p) / 2
		for i := range half {
			thick := p[len(p)-1-i][1] - p[i][1]
			if thick < -0.11 || thick > ribbonTall+0.11 {
				t.Fatalf("the ribbon is %g px thick", thick)
			}
			if i > 0 && (p[i][0] < p[i-1][0]-1e-6 || p[i][1] < p[i-1][1]-1e-6) {
				t.Fatalf("the upper edge turns back at %v", p[i])
			}
			if p[i][0] < 0 || p[i][0] > ribbonWide+10.01 {
				t.Fatalf("the ribbon leaves its box at %v", p[i])
			}
		}
	})
}

func TestCoverRule(t *testing.T) {
	c := coverRule{365}
	for _, d := range []struct{ days, want float64 }{{0, 0}, {365, 1}, {91.25, 0.5}, {-3, 0}, {900, 1}, {math.NaN(), 0}} {
		if got := c.x(d.days); math.Abs(got-d.want) > 1e-12 {
			t.Errorf("day %g lies at %g, want %g", d.days, got, d.want)
		}
	}
	if n := len(coverRule{60}.ticks()); n != 2 {
		t.Errorf("%d marks within 60 days, want a week and a month", n)
	}
}

func TestShareAt(t *testing.T) {
	covered := []float64{1, 0.6, 0.2}
	for d, want := range map[float64]float64{0: 1, 3.5: 0.8, 7: 0.6, 14: 0.2, 30: 0.2} {
		if got := shareAt(covered, d); math.Abs(got-want) > 1e-12 {
			t.Errorf("day %g: share %g, want %g", d, got, want)
		}
	}
}

func TestMonthsCoverTheRuler(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := ruler{day.Day(rapid.IntRange(-4000, 40000).Draw(t, "today")), rapid.IntRange(1, 160).Draw(t, "weeks")}
		at := 0.0
		for _, m := range r.months() {
			if math.Abs(m.from-at) > 1e-12 || m.to <= m.from {
				t.Fatalf("%v begins at %g, the one before ended at %g", m.month, m.from, at)
			}
			at = m.to
		}
		if math.Abs(at-1) > 1e-12 {
			t.Fatalf("the months end at %g of the ruler", at)
		}
	})
}

func TestFanStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := stave{id: "s", weeks: 20, line: rapid.Float64Range(-10, 2000).Draw(t, "line"), size: rapid.Float64Range(0, 5000).Draw(t, "size")}
		for range 21 {
			b := rapid.Float64Range(0, 5000).Draw(t, "low")
			v.bands = append(v.bands, engine.Band{P10: b, P25: b + 1, P50: b + 2, P75: b + 3, P90: b + 4})
		}
		for _, d := range []string{v.middle(), v.between(func(b engine.Band) (float64, float64) { return b.P90, b.P10 })} {
			for _, p := range points(t, d) {
				if p[0] < -1e-6 || p[0] > 20+1e-6 || p[1] < staveTop-0.1 || p[1] > staveLine+0.1 {
					t.Fatalf("the fan leaves its box at %v", p)
				}
			}
		}
		if v.y(10) < v.y(20) {
			t.Fatalf("more lies lower")
		}
	})
}

func TestFanRests(t *testing.T) {
	v := stave{weeks: 1, line: 560, size: 2440, bands: []engine.Band{{P90: 1330, P50: 1330}, {P90: 2000, P50: 100}}}
	if y := v.y(560); y != staveLine {
		t.Errorf("the even line lies at %g, want %g", y, staveLine)
	}
	if y := v.y(100); y != staveLine {
		t.Errorf("a level under the line lies at %g, want on it", y)
	}
	if y := v.y(2440); y != staveTop {
		t.Errorf("full lies at %g, want %g", y, staveTop)
	}
	v.size = 100_000
	if v.fullShown() || v.y(2000) != staveTop {
		t.Error("a far full line flattens the fan")
	}
	if v.full = "full, far away"; strings.Contains(string(v.fan()), v.full) {
		t.Error("the words of a full line stand where none is drawn")
	}
}

// wellFormed fails on a drawing that is not XML.
func wellFormed(t *testing.T, name, drawing string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(drawing))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Errorf("%s: %v in %.200s", name, err, drawing)
			return
		}
	}
}

func TestDrawingsAreWellFormed(t *testing.T) {
	o := fixture()
	for i := range o.Needs {
		n := &o.Needs[i]
		wellFormed(t, n.Name, string(ribbon(n, coverRule{365})))
		wellFormed(t, n.Name, string(strip(n, 52, "x")))
	}
	v := stave{id: "s", title: "<&\">", desc: "'", full: "</svg>", weeks: 52, size: 10, bands: o.Stores[0].Weeks, chance: o.Needs[2].Short}
	wellFormed(t, "fan", string(v.fan()))
	w, err := readWords("en")
	must(t, err)
	r := ruler{fixtureDay, 52}
	wellFormed(t, "defs", string(defs(r, coverRule{365}, w)))
	wellFormed(t, "year", string(yearRule(r, fixtureRain(fixtureDay), "a", "b")))
	wellFormed(t, "axis", string(coverAxis(coverRule{365}, w)))
}

func TestStripHangsWhatItShould(t *testing.T) {
	n := &engine.NeedOutlook{Known: true, Short: []float64{0.04, 0.1, 0.3, 0.8}}
	s := parsePage(t, string(strip(n, 4, "n0h")))
	full, open := s.find("path.full"), s.find("path.open")
	if len(full) != 1 || strings.Count(full[0].attrs["d"], "z") != 1 || !strings.Contains(full[0].attrs["d"], "v20.8") {
		t.Errorf("one solid week, 20.8 px deep, is wanted: %v", full)
	}
	if len(open) != 1 || strings.Count(open[0].attrs["d"], "z") != 2 {
		t.Errorf("two outlined weeks are wanted: %v", open)
	}
	if hatch := s.find("rect.hatch"); len(hatch) != 1 || hatch[0].attrs["clip-path"] != "url(#n0h)" {
		t.Errorf("one hatched week is wanted: %v", hatch)
	}
	n.Short = make([]float64, 4)
	if s := parsePage(t, string(strip(n, 4, "n0h"))); len(s.find("path")) != 0 {
		t.Error("nothing to fear, yet something hangs")
	}
	n.Known = false
	if s := parsePage(t, string(strip(n, 4, "n0h"))); len(s.find("rect.unknown")) != 1 {
		t.Error("what is not known lacks its dotted field")
	}
}

func TestRibbonOfTheUnknown(t *testing.T) {
	s := parsePage(t, string(ribbon(&engine.NeedOutlook{}, coverRule{365})))
	if len(s.find("rect.unknown")) != 1 || len(s.find("path")) != 0 {
		t.Error("what is not known must be a dotted field and no ribbon")
	}
}

func TestMiddleStrokeOnlyWhenReached(t *testing.T) {
	n := need("beds", "Beds", engine.Water, true, shape(0.64, 41, 6))
	if s := parsePage(t, string(ribbon(&n, coverRule{365}))); len(s.find("line.middle")) != 1 {
		t.Error("the middle year has no stroke")
	}
	n.Open[1] = true
	if s := parsePage(t, string(ribbon(&n, coverRule{365}))); len(s.find("line.middle")) != 0 {
		t.Error("a need that holds has a stroke at the middle year")
	}
}

func FuzzSVGEscapes(f *testing.F) {
	f.Add("Barn tanks", "x")
	f.Add("</title><script>", `" onload="`)
	f.Fuzz(func(t *testing.T, title, value string) {
		var s svg
		s.open("svg", "class", value)
		s.text("title", title)
		s.end("svg")
		if got := strings.Count(string(s.html()), "<"); got != 4 {
			t.Errorf("%d tags in %s", got, s.html())
		}
	})
}
