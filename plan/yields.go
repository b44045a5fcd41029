package plan

import (
	"context"
	"fmt"
	"math"
	"slices"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
)

// A plan counts ground, water and hours in fortnights and the table in periods of
// two of them.
const (
	periods = 13
	slots   = 2 * periods
)

// MostYears is the most possible years that sowings can be decided for at once,
// UsualYears how many serve a household best for the time they take (docs/plan.md).
const (
	MostYears  = learn
	UsualYears = 10
)

// learn is how many members the yields are read from, fewLearn how many of them
// tell what the ground itself feeds.
const (
	learn    = 24
	fewLearn = 4
)

// ground is a kind of bed: alike in all that a sowing feels.
type ground struct {
	irrigated  bool
	mulch      float64
	tank       int
	litreHours float64
	beds       []int   // of Stead.Beds
	area       float64 // m2 of them
}

// A sowing is a crop begun on a day on a kind of ground, per square metre, in the
// year planned for.
type sowing struct {
	crop    *data.Crop
	day     day.Day
	on      int // ground
	watered bool
	fed     bool // what its ground lacks is brought
	food    int
	from    int // fortnights it holds its ground, half open
	to      int
	end     day.Day        // its ground is free
	kg      [slots]float64 // come to the larder
	seed    [slots]float64 // kg beside it that are set aside to sow the ground again
	litres  [slots]float64
	own     [3]float64 // kg of N, P, K taken from its own ground
	gap     [3]float64 // kg of them to bring when fed
	total   float64    // kg
	tried   *engine.Tried
	feeds   float64 // share of what was tried that it brings, for its feeding
}

// standing is a stand that is in the ground today.
type standing struct {
	tried  *engine.Tried
	on     int // ground; -1: trees
	bed    int
	to     int // fortnight from which its ground is free
	kg     [slots]float64
	seed   [slots]float64
	litres [slots]float64
	feeds  float64 // share of what was tried that its ground feeds
}

// years is what the members say of the year planned for.
type years struct {
	frame     *engine.Frame
	full      *engine.Tries // what each member said
	nets      [][][]float64 // L gained, member by tank group by fortnight
	grounds   []ground
	sowings   []sowing
	standing  []standing
	gone      []*engine.Tried      // stands begun and over before today
	come      [][slots]float64     // kg by food
	larder    []float64            // kg today by food
	gather    []float64            // h by fortnight
	water     [][slots]float64     // L gained by tank group
	soil      [3]float64           // kg of N, P, K that a m2 gives in a year
	supply    [carriers][3]float64 // kg of N, P, K for beds in a year, as the first round gives them
	rounds    []round              // ways of running the digester, the described one first
	barred    map[string]crop.Bar
	risk      float64
	beds      []stead.Bed
	comes     [][periods]bool // foods that may come in, by period; nil: not listed yet
	offers    []bool          // foods that can come to the table; nil: not asked yet
	rests     []Rest          // of families, from what stood before today
	aside     []bool          // nutrients that are not looked at; nil: none
	shunned   []bool          // foods that do not come to the table; nil: none
	weighs    []Wish          // of nutrients, the last of each first
	workFirst bool            // after need, work is kept least before what is bought
	sizing    bool            // the ground is to be found, and the larder comes round
}

// look runs the probes and reads the year planned for off them.
func (a *Ask) look(ctx context.Context) (*years, error) {
	if a.Options.Days < slots*engine.Fortnight {
		return nil, fmt.Errorf("a plan looks %d days ahead, not %d", slots*engine.Fortnight, a.Options.Days)
	}
	y := &years{risk: a.risk(), barred: map[string]crop.Bar{}, beds: a.Stead.Beds}
	y.hear(a.Wishes)
	y.grounds = a.grounds()
	tries, err := a.tries(y)
	if err != nil {
		return nil, err
	}
	a.tell(trying)
	opt := a.Options
	opt.Report = nil
	full, err := a.probe(ctx, tries, opt, engine.NoHunger, learn)
	if err != nil {
		return nil, err
	}
	own, err := a.probe(ctx, tries, opt, 0, fewLearn)
	if err != nil {
		return nil, err
	}
	y.frame, y.full = full.Frame, full
	y.fill(a, tries, full, own)
	return y, y.loops(ctx, a, opt)
}

// hear takes in how the household weighs its wishes.
func (y *years) hear(wishes []Wish) {
	for _, w := range wishes {
		switch w.Kind {
		case Weigh:
			y.weighs = append([]Wish{w}, y.weighs...)
		case First:
			y.workFirst = w.What == Work
		}
	}
}

func (a *Ask) probe(ctx context.Context, tries []try, opt engine.Options, without engine.Without, members int) (*engine.Tries, error) {
	opt.Without |= without
	list := make([]engine.Try, len(tries))
	for i, t := range tries {
		list[i] = t.Try
	}
	p, err := engine.NewProbe(a.bare(), a.Tables, opt, list)
	if err != nil {
		return nil, err
	}
	few := *a.Members
	few.Members = few.Members[:min(members, len(few.Members))]
	return p.Run(ctx, &few, opt)
}

// bare is the stead without the usual garden that was taken for beds of which
// nothing is written: nothing is known to stand there.
func (a *Ask) bare() *stead.Stead {
	if !slices.ContainsFunc(a.Stead.Taken, func(d stead.Default) bool { return d.Key == "planting" && d.Part != "" }) {
		return a.Stead
	}
	st := *a.Stead
	st.Plantings = nil
	return &st
}

// grounds parts the beds by what a sowing feels.
func (a *Ask) grounds() []ground {
	var out []ground
	for i, b := range a.Stead.Beds {
		g := ground{irrigated: b.Irrigated && len(a.Stead.Tanks) > 0, mulch: b.Mulch, litreHours: hoursLitre(b.How), tank: -1}
		if g.irrigated {
			g.tank = a.tank(b.From)
		}
		at := slices.IndexFunc(out, func(o ground) bool {
			return o.irrigated == g.irrigated && o.mulch == g.mulch && o.tank == g.tank && o.litreHours == g.litreHours
		})
		if at < 0 {
			at, out = len(out), append(out, g)
		}
		out[at].beds = append(out[at].beds, i)
		out[at].area += b.Area
	}
	return out
}

// hoursLitre is the work of watering, as the engine has it.
func hoursLitre(how string) float64 {
	if how == "can" {
		return 3.0 / 60 / 20
	}
	return 0.02 / 60
}

func (a *Ask) tank(name string) int {
	for i, g := range a.Stead.Groups() {
		if g.Name == name {
			return i
		}
		for _, t := range g.Tanks {
			if a.Stead.Tanks[t].Name == name {
				return i
			}
		}
	}
	return 0
}

// A try is an engine.Try with the kinds of ground it stands for.
type try struct {
	engine.Try
	crop *data.Crop
}

// tries lists every crop at every fortnight of its windows on every kind of ground.
func (a *Ask) tries(y *years) ([]try, error) {
	clim, err := engine.CropClimate(a.Members, a.Stead.Place.Latitude)
	if err != nil {
		return nil, err
	}
	type soil struct {
		wet   bool
		mulch float64
	}
	var soils []soil
	for _, g := range y.grounds {
		for _, wet := range []bool{false, true} {
			if s := (soil{wet, g.mulch}); (g.irrigated || !wet) && !slices.Contains(soils, s) {
				soils = append(soils, s)
			}
		}
	}
	var out []try
	for i := range a.Tables.Crops {
		c := &a.Tables.Crops[i]
		if c.Food == "" {
			continue
		}
		windows, bar := crop.Suit(c, clim, y.risk)
		if len(windows) == 0 {
			y.barred[c.ID] = bar
			continue
		}
		for _, d := range a.days(c, windows) {
			for _, s := range soils {
				out = append(out, try{engine.Try{Crop: c.ID, Sow: d, Irrigated: s.wet, Mulch: s.mulch}, c})
			}
		}
	}
	return out, nil
}

// mostDays is how many days of sowing are tried for a crop: more lie too near to
// each other to tell apart.
const mostDays = 4

// days are the days of sowing tried: one in each fortnight that a window reaches,
// thinned evenly when there are many.
func (a *Ask) days(c *data.Crop, windows []crop.Window) []day.Day {
	var out []day.Day
	for s := range slots {
		for _, off := range [...]int{7, 1, 13} {
			d := a.Options.Today + day.Day(s*engine.Fortnight+off)
			if c.Start == "set" && d < a.Options.Today+day.Day(c.Raise) {
				continue // nobody has raised the plants
			}
			if slices.ContainsFunc(windows, func(w crop.Window) bool { return w.Has(min(d.YearDay(), 365)) }) {
				out = append(out, d)
				break
			}
		}
	}
	if len(out) <= mostDays {
		return out
	}
	thin := make([]day.Day, mostDays)
	for i := range thin {
		thin[i] = out[i*(len(out)-1)/(mostDays-1)]
	}
	return thin
}

// fill reads sowings and stands off the probes.
func (y *years) fill(a *Ask, tries []try, full, own *engine.Tries) {
	for q := range full.Stands {
		t := &full.Stands[q]
		feeds := fedShare(t, &own.Stands[q], own)
		if t.Try < 0 {
			y.stands(a, t, full, feeds)
			continue
		}
		y.addSowings(&tries[t.Try], t, &own.Stands[q], full, feeds)
	}
	y.listRests(a)
	y.choose()
	y.soil = y.frame.Soil
	most := 0.0
	for i := range y.sowings {
		most = max(most, y.sowings[i].own[0])
	}
	y.soil[0] = min(y.soil[0], moreThanOne*most)
	y.larder = own.Larder
	y.gather = full.GatherHours
	y.come = make([][slots]float64, len(full.Frame.Foods))
	for k := range y.come {
		n := len(full.Frame.Foods)
		y.come[k] = poor(full.Members, y.risk, false, func(i, s int) float64 {
			return float64(full.Come[(i*n+k)*full.Slots+s])
		})
	}
}

// moreThanOne is how many times the nitrogen of the hungriest crop the ground
// gives through a year, rain taking the rest (common practice).
const moreThanOne = 1.25

// fedShare is the share of a stand's harvest that its own ground feeds.
func fedShare(full, own *engine.Tried, t *engine.Tries) float64 {
	a, b := 0.0, 0.0
	for i := range t.Members * t.Slots {
		a += float64(full.Kg[i])
		b += float64(own.Kg[i])
	}
	if a <= 0 {
		return 1
	}
	return min(1, b/a)
}

// enoughFed is the share from which ground counts as rich enough by itself.
const enoughFed = 0.97

// leastKg is the harvest below which a sowing is not worth its seed, kg/m2.
const leastKg = 0.02

func (y *years) addSowings(of *try, t, own *engine.Tried, tr *engine.Tries, feeds float64) {
	w := sowing{crop: of.crop, day: of.Sow, watered: of.Irrigated, food: t.Food, tried: t, feeds: 1}
	w.kg = poor(tr.Members, y.risk, false, func(i, s int) float64 { return float64(t.Kg[i*tr.Slots+s]) })
	w.litres = poor(tr.Members, y.risk, true, func(i, s int) float64 { return float64(t.Litres[i*tr.Slots+s]) })
	w.seed = usual(tr, t.Seed)
	w.total = sum(w.kg[:])
	if w.total < leastKg {
		return
	}
	w.tidy()
	w.from = int(of.Sow-y.frame.Today) / engine.Fortnight
	out := middleOut(t.Out)
	w.end = y.frame.Today + day.Day(out)
	w.to = min(slots, max(w.from+1, (out+engine.Fortnight/2)/engine.Fortnight))
	for k := range w.gap {
		w.own[k] = own.Got[k]
		w.gap[k] = max(0, t.Asked[k]-own.Got[k])
	}
	for g := range y.grounds {
		if gr := &y.grounds[g]; gr.mulch != of.Mulch || of.Irrigated && !gr.irrigated {
			continue
		}
		w.on = g
		y.feed(w, feeds)
	}
}

// feed adds a sowing as its ground feeds it and, where that is poor, as it grows
// when what is lacking is brought.
func (y *years) feed(w sowing, feeds float64) {
	if feeds < enoughFed {
		fed := w
		fed.fed = true
		y.sowings = append(y.sowings, fed)
	}
	w.feeds = feeds
	if w.scale(feeds); w.total >= leastKg {
		y.sowings = append(y.sowings, w)
	}
}

// On irrigated ground a sowing is looked at watered, unwatered, or both: watered
// alone where rain brings less than the first share of its harvest, unwatered
// alone where it brings the second.
const (
	needsWater = 0.4
	enoughRain = 0.95
)

// choose drops the watered or the unwatered sowing where one of them is idle.
func (y *years) choose() {
	type key struct {
		crop string
		day  day.Day
		on   int
		fed  bool
	}
	rain, wet := map[key]float64{}, map[key]float64{}
	for _, w := range y.sowings {
		k := key{w.crop.ID, w.day, w.on, w.fed}
		if w.watered {
			wet[k] = w.total
		} else {
			rain[k] = w.total
		}
	}
	y.sowings = slices.DeleteFunc(y.sowings, func(w sowing) bool {
		if !y.grounds[w.on].irrigated {
			return false
		}
		k := key{w.crop.ID, w.day, w.on, w.fed}
		if w.watered {
			return rain[k] >= enoughRain*wet[k]
		}
		return rain[k] < needsWater*wet[k]
	})
}

// tidy leaves out harvests and waterings too small to tell, and keeps the total.
func (w *sowing) tidy() {
	left := 0.0
	for s := range w.kg {
		if w.kg[s] < 0.01*w.total {
			w.kg[s] = 0
		}
		if w.litres[s] < leastLitres {
			w.litres[s] = 0
		}
		left += w.kg[s]
	}
	if left <= 0 {
		return
	}
	for s := range w.kg {
		w.kg[s] *= w.total / left
	}
}

// leastLitres is the least watering counted, L/m2 in a fortnight.
const leastLitres = 0.5

func (w *sowing) scale(f float64) {
	for s := range w.kg {
		w.kg[s] *= f
	}
	w.total *= f
}

// stands keeps a stand of the stead itself when it is in the ground today, or is
// a tree or other perennial.
func (y *years) stands(a *Ask, t *engine.Tried, tr *engine.Tries, feeds float64) {
	if !t.Tree && t.Now < 0.5 {
		if t.Sown < y.frame.Today {
			y.gone = append(y.gone, t)
		}
		return
	}
	s := standing{tried: t, on: -1, feeds: feeds, bed: slices.IndexFunc(a.Stead.Beds, func(b stead.Bed) bool { return b.Name == t.Plot })}
	for g := range y.grounds {
		if slices.Contains(y.grounds[g].beds, s.bed) {
			s.on = g
		}
	}
	s.kg = poor(tr.Members, y.risk, false, func(i, k int) float64 { return float64(t.Kg[i*tr.Slots+k]) * feeds })
	s.seed = usual(tr, t.Seed)
	s.litres = poor(tr.Members, y.risk, true, func(i, k int) float64 { return float64(t.Litres[i*tr.Slots+k]) })
	s.to = min(slots, (middleOut(t.Out)+engine.Fortnight/2)/engine.Fortnight)
	if t.Tree {
		s.to = slots
	}
	y.standing = append(y.standing, s)
}

func middleOut(out []int16) int {
	v := slices.Clone(out)
	slices.Sort(v)
	return int(v[len(v)/2])
}

// poor is the course of the year at a risk: the total that a share of members
// stay below (above, for what is asked: high), spread as in the members about it.
func poor(members int, risk float64, high bool, at func(i, slot int) float64) (out [slots]float64) {
	total := make([]float64, members)
	order := make([]int, members)
	for i := range members {
		order[i] = i
		for s := range slots {
			total[i] += at(i, s)
		}
	}
	slices.SortFunc(order, func(i, j int) int {
		switch {
		case total[i] < total[j]:
			return -1
		case total[i] > total[j]:
			return 1
		}
		return i - j
	})
	if high {
		risk = 1 - risk
	}
	mid := risk * float64(members-1)
	lo := int(math.Floor(mid))
	hi := min(lo+1, members-1)
	want := total[order[lo]] + (mid-float64(lo))*(total[order[hi]]-total[order[lo]])
	about := 0.0
	for r := max(0, lo-2); r <= min(members-1, hi+2); r++ {
		for s := range slots {
			v := at(order[r], s)
			out[s] += v
			about += v
		}
	}
	if about <= 0 || want <= 0 {
		return [slots]float64{}
	}
	for s := range out {
		out[s] *= want / about
	}
	return out
}

func sum(v []float64) float64 {
	t := 0.0
	for _, x := range v {
		t += x
	}
	return t
}
