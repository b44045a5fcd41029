package plan

import (
	"math"
	"path/filepath"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/hearth"
)

// TestMidSeason: a plan made in June from a book keeps what the book says was
// sown, sows nothing before its day, and once taken up has every stand once.
func TestMidSeason(t *testing.T) {
	ctx := t.Context()
	now := time.Date(2027, time.June, 14, 12, 0, 0, 0, time.UTC)
	today := day.Today(now)
	home, err := hearth.Open(ctx, filepath.Join(t.TempDir(), "two.stead"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	defer home.Close()
	if err := home.Describe(ctx, day.Of(2027, 3, 1), "two-beds.toml", text(t, "testdata/two-beds.toml")); err != nil {
		t.Fatal(err)
	}
	c, err := home.Context(ctx, today, "Teal", 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := home.Add(ctx, book.Read("sown 9 m2 carrot on west 2027-05-02\nsown 12 m2 turnip on east 2027-05-20\nsown 6 m2 radish on east 2027-03-20\n", c)); err != nil {
		t.Fatal(err)
	}
	q := hearth.Ask{Today: today, Members: 30, Seed: 1}
	r, err := home.Reckon(ctx, q)
	if err != nil {
		t.Fatal(err)
	}
	a := Of(r)
	p := made(t, a)
	balanced(t, p)
	stands := map[string]float64{}
	for _, l := range p.Stands {
		stands[l.Crop] += l.Area
	}
	if math.Abs(stands["carrot"]-9) > 1e-6 || math.Abs(stands["turnip"]-12) > 1e-6 {
		t.Errorf("what stands is told as %v", stands)
	}
	if len(p.Sowings) == 0 {
		t.Error("nothing is sown on what is left")
	}
	for _, l := range p.Sowings {
		if l.Sow <= today {
			t.Errorf("%s is to be sown on %s, which is past", l.Crop, l.Sow)
		}
	}
	written, err := p.Text()
	if err != nil {
		t.Fatal(err)
	}
	if err := home.Describe(ctx, today, "the plan", written); err != nil {
		t.Fatal(err)
	}
	after, err := home.Reckon(ctx, q)
	if err != nil {
		t.Fatal(err)
	}
	_, all, err := after.Past.Year(after.Tables, after.Options.Climate)
	if err != nil {
		t.Fatal(err)
	}
	area, planned := map[string]float64{}, 0
	for _, g := range all {
		switch {
		case g.Planned:
			planned++
		case !g.Done:
			area[g.Crop] += g.Area
		}
	}
	if planned != len(p.Sowings) {
		t.Errorf("%d sowings stand as planned, the plan has %d", planned, len(p.Sowings))
	}
	if math.Abs(area["carrot"]-9) > 0.01 || math.Abs(area["turnip"]-12) > 0.01 {
		t.Errorf("after taking the plan up the ground bears %v", area)
	}
}

// TestFamiliesRest: what the description dates before the stay and what the book
// says was sown keep their families off that part of the bed for their years.
func TestFamiliesRest(t *testing.T) {
	ctx := t.Context()
	now := time.Date(2028, time.April, 14, 12, 0, 0, 0, time.UTC)
	today := day.Today(now)
	home, err := hearth.Open(ctx, filepath.Join(t.TempDir(), "two.stead"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	defer home.Close()
	was := "\n[[planting]]\nbed = \"east\"\ncrop = \"kale\"\nsow = 2026-04-10\n"
	if err := home.Describe(ctx, day.Of(2027, 3, 1), "two-beds.toml", append(text(t, "testdata/two-beds.toml"), was...)); err != nil {
		t.Fatal(err)
	}
	c, err := home.Context(ctx, today, "Teal", 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := home.Add(ctx, book.Read("sown 21 m2 carrot on west 2027-05-02\nsown 30 m2 barley on east 2027-04-02\n", c)); err != nil {
		t.Fatal(err)
	}
	r, err := home.Reckon(ctx, hearth.Ask{Today: today, Members: 30, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	p := made(t, Of(r))
	area := map[string]float64{}
	for _, l := range p.Sowings {
		c, _ := r.Tables.Crop(l.Crop)
		area[l.Bed+" "+c.Family] += l.Area
	}
	if area["east Brassicaceae"] > 0 || area["west Brassicaceae"] == 0 {
		t.Errorf("kale stood on east in 2026; of its family are sown %.1f m2 there and %.1f on west", area["east Brassicaceae"], area["west Brassicaceae"])
	}
	if area["west Apiaceae"] > 9+1e-6 {
		t.Errorf("carrots stood on 21 of 30 m2 of west last year; %.1f m2 of their family are sown there", area["west Apiaceae"])
	}
	if len(p.Rests) != 2 || p.Rests[0].Until.Year() < 2029 {
		t.Errorf("resting: %+v", p.Rests)
	}
}
