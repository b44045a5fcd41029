package web

import (
	"math"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"

	"pgregory.net/rapid"
)

// standingOf is what the pages of standing are made from.
func standingOf(t testing.TB, d *Desk) *standing {
	t.Helper()
	w, err := readWords("")
	deskMust(t, err)
	s := &site{src: d.source, desk: d, drafts: newDrafts(), words: w}
	s.opt.Units = d.opt.Units
	var st *standing
	s.withStanding(httptest.NewRecorder(), httptest.NewRequest("GET", "/ground", nil), func(x *standing) { st = x })
	if st == nil {
		t.Fatal("the stead can't be told as it stands")
	}
	return st
}

func TestGroundTellsWhatStands(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	write(t, d, lately+"picked 3 kg kale, B1 yesterday\n")
	page := deskPage(t, deskSite(t, d), "/ground")
	root := parsePage(t, page)
	text := strings.ReplaceAll(root.words(), nbsp, " ")
	for _, want := range []string{"Sow lettuce on B32, 10 Jan", "The beds through the year", "Winter wheat", "first picked about", "3 kg by the book", "Kale: B1, B2 and B3", "of urine, each in 10 of water",
		"in the last month before harvest", "The first usual frost is", "Chestnut european", "Two sure marks", "Hives: 1", "eggs a day", "Energy picked each week", "at rest"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if n := len(root.find("table.plots")[0].find("tr")); n != 59+1 {
		t.Errorf("%d rows of plots, want 59 and a head", n)
	}
	if n := len(root.find("svg.beds")); n != 1 {
		t.Errorf("%d drawings of the beds", n)
	}
}

// TestThirstIsToldInCans: after a dry book the watered beds ask for litres, and
// the cans carry them.
func TestThirstIsToldInCans(t *testing.T) {
	st := standingOf(t, deskOf(t, demo.Quernfold()))
	p := &st.now.Plots[0]
	p.Irrigated, p.Thirst, p.From = true, 41, "barn"
	got := st.waterings().Acts[0]
	if said := strings.ReplaceAll(got.What+" "+got.Detail, nbsp, " "); said != p.Name+": 41 L 5 cans of 10 L, from barn" {
		t.Errorf("%q", said)
	}
	if _, rest := st.groundVerdict(); !strings.Contains(rest, p.Name) {
		t.Errorf("the verdict leaves the thirsty bed out: %q", rest)
	}
}

// TestUrineIsGivenOnce: what the acts give together is what the cans hold.
func TestUrineIsGivenOnce(t *testing.T) {
	st := standingOf(t, deskOf(t, demo.Quernfold()))
	if st.now.Toilet.Urine <= 0 {
		t.Fatal("no urine after 24 days")
	}
	sum := 0.0
	left := st.now.Toilet.Urine
	for i := range st.now.Plots {
		before := left
		st.feedWith(&st.now.Plots[i], 1000, &left)
		sum += before - left
	}
	if left < 0 || sum > st.now.Toilet.Urine+1e-9 || sum == 0 {
		t.Errorf("%g L given of %g, %g left", sum, st.now.Toilet.Urine, left)
	}
}

// TestLiftIsWhatIsPicked: the weeks sum to the harvests that fall in them.
func TestLiftIsWhatIsPicked(t *testing.T) {
	st := standingOf(t, deskOf(t, demo.Quernfold()))
	want := 0.0
	from, to := st.snap.Today-day.Day(7*st.ruler.past()), st.snap.Today+day.Day(7*st.ruler.weeks)
	for _, g := range st.growths {
		days := float64(min(g.Last, to) - max(g.First, from))
		if span := float64(g.Last - g.First); days > 0 && span > 0 {
			want += g.MJ * days / span
		}
	}
	got := 0.0
	for _, mj := range st.lift() {
		got += mj
	}
	if math.Abs(got-want) > 1e-6*want || want == 0 {
		t.Errorf("%g MJ in the weeks, %g in the stands", got, want)
	}
}

// growth draws a stand about a year.
func growth(t *rapid.T) engine.Growth {
	sown := fixtureDay + day.Day(rapid.IntRange(-300, 400).Draw(t, "sown"))
	full := sown + day.Day(rapid.IntRange(0, 150).Draw(t, "full"))
	first := sown + day.Day(rapid.IntRange(1, 250).Draw(t, "first"))
	last := max(full, first) + day.Day(rapid.IntRange(0, 200).Draw(t, "last"))
	return engine.Growth{Name: rapid.SampledFrom([]string{"kale", "winter squash", "<b>"}).Draw(t, "name"), Sown: sown, Full: full, First: first, Last: last,
		Planned: sown >= fixtureDay, Feeds: rapid.Bool().Draw(t, "feeds")}
}

var moves = regexp.MustCompile(`([MmlvHz])([^MmlvHz]*)`)

// corners reads the paths of the bed year back into absolute points.
func corners(t *rapid.T, d string) (list [][2]float64) {
	var x, y float64
	for _, m := range moves.FindAllStringSubmatch(d, -1) {
		var v []float64
		for _, f := range regexp.MustCompile(`-?\d*\.?\d+`).FindAllString(m[2], -1) {
			n, err := strconv.ParseFloat(f, 64)
			if err != nil {
				t.Fatalf("path %q: %v", d, err)
			}
			v = append(v, n)
		}
		switch m[1] {
		case "M":
			x, y = v[0], v[1]
		case "m":
			x, y = x+v[0], y+v[1]
		case "v":
			y += v[0]
		case "H":
			x = v[0]
		case "l":
			for i := 0; i+1 < len(v); i += 2 {
				x, y = x+v[i], y+v[i+1]
				list = append(list, [2]float64{x, y})
			}
		}
		list = append(list, [2]float64{x, y})
	}
	return list
}

// TestBedYearStaysInItsBed: ribbons stay between their bed's lines and on the
// ruler, what is past lies left of today and what is ahead right of it.
func TestBedYearStaysInItsBed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := &bedYear{r: ruler{fixtureDay, 52}, paths: map[string]*strings.Builder{}}
		row := bedRow{name: "B1"}
		for range rapid.IntRange(0, 6).Draw(t, "stands") {
			row.stands = append(row.stands, growth(t))
		}
		y.row(&row)
		for class, p := range y.paths {
			for _, at := range corners(t, p.String()) {
				if at[0] < -250.1 || at[0] > 1000.1 || at[1] < bedName-0.1 || at[1] > y.tall+0.1 {
					t.Fatalf("%s at %v leaves a bed %g tall", class, at, y.tall)
				}
				past := class == "grown" || class == "borne" || class == "fed" || strings.Contains(class, "past")
				if past && at[0] > 0.1 || !past && class != "bedline" && at[0] < -0.1 {
					t.Fatalf("%s at %v is on the wrong side of today", class, at)
				}
			}
		}
	})
}

// TestStandsThatMeetLieSideBySide, as far as there are lanes.
func TestStandsThatMeetLieSideBySide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stands []engine.Growth
		at := fixtureDay
		for range rapid.IntRange(0, 8).Draw(t, "stands") {
			g := growth(t)
			at += day.Day(rapid.IntRange(0, 40).Draw(t, "later"))
			g.Last += at - g.Sown
			g.Sown = at
			stands = append(stands, g)
		}
		lane, lanes := laneOf(stands)
		if len(lane) != len(stands) || lanes < 1 || lanes > bedMost {
			t.Fatalf("%d lanes of %d for %d stands", len(lane), lanes, len(stands))
		}
		for i := range stands {
			for j := range i {
				if lane[i] == lane[j] && lane[i] < bedMost-1 && stands[j].Last > stands[i].Sown {
					t.Fatalf("stands %d and %d meet on lane %d", j, i, lane[i])
				}
			}
		}
	})
}

// TestLeavesGrowAndAreDrawnIn: cover never leaves 0 to 1 and rises to full leaf.
func TestLeavesGrowAndAreDrawnIn(t *testing.T) {
	l := leafing{-0.1, 0.2, 0.5}
	last := 0.0
	for x := -0.1; x <= 0.2; x += 0.01 {
		if c := l.cover(x); c < last-1e-9 || c > 1 {
			t.Errorf("cover %g at %g after %g", c, x, last)
		} else {
			last = c
		}
	}
	if l.cover(0.3) != 1 || l.cover(0.5) > 0.2 {
		t.Errorf("full leaf %g, at the end %g", l.cover(0.3), l.cover(0.5))
	}
}

// TestLengthsShrinkWithTheirBox: a length is a share of its box, however narrow.
func TestLengthsShrinkWithTheirBox(t *testing.T) {
	for share, want := range map[float64]string{-1: `"0%"`, 0.86: `"86%"`, 2: `"100%"`, math.NaN(): `"0%"`} {
		if got := string(length(share, "g-water")); !strings.Contains(got, "width="+want) {
			t.Errorf("share %g is drawn %s", share, got)
		}
	}
}

func TestGroundCSV(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	rows := table(t, deskPage(t, deskSite(t, d), "/ground.csv"))
	seen := map[string]bool{}
	for _, r := range rows[1:] {
		seen[r[0]+"/"+r[3]+"/"+r[5]] = true
		if n, err := strconv.ParseFloat(r[12], 64); err != nil || n < 0 {
			t.Errorf("water of %s: %q", r[0], r[12])
		}
	}
	for _, want := range []string{"F1/winter wheat/stands", "F13/potato/planned", "B1/kale/stands"} {
		if !seen[want] && !seen[strings.Replace(want, "winter", "Winter", 1)] && !seen[title(want)] {
			t.Errorf("no row %s", want)
		}
	}
}

// title is a key with its crop as the table writes it.
func title(key string) string {
	parts := strings.Split(key, "/")
	return parts[0] + "/" + upperFirst(parts[1]) + "/" + parts[2]
}

// TestManyBedsArePaged: a stead of 150 beds is shown part by part, each small.
func TestManyBedsArePaged(t *testing.T) {
	text := string(demo.Quernfold())
	for i := range 150 {
		n := strconv.Itoa(i)
		text += "\n[[bed]]\nname = \"extra bed " + n + "\"\narea = \"9 m2\"\n\n[[planting]]\nbed = \"extra bed " + n + "\"\ncrop = \"kale\"\nsow = \"1 Aug\"\n"
	}
	h := deskSite(t, deskOf(t, []byte(text)))
	beds := 0
	for way := "/ground"; way != ""; {
		page := deskPage(t, h, way)
		if len(page) > mostBytes {
			t.Errorf("%s is %d bytes", way, len(page))
		}
		root := parsePage(t, page)
		beds += len(root.find("table.plots")[0].find("tr")) - 1
		way = ""
		for _, a := range root.find("a.way") {
			if a.words() == "More beds" {
				way = a.attrs["href"]
			}
		}
	}
	if beds != 59+150 {
		t.Errorf("%d plots over all pages, want %d", beds, 59+150)
	}
}

func BenchmarkGround(b *testing.B) {
	d := deskOf(b, demo.Quernfold())
	h := deskSite(b, d)
	for b.Loop() {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest("GET", "/ground", nil))
		if w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}
