package web

import (
	"html/template"
	"sort"
	"strings"
	"unicode/utf8"

	"evenstead/day"
	"evenstead/engine"
)

// Measures of the bed year, px.
const (
	bedName = 15.0 // the line of names over a bed's ribbons
	bedLane = 13.0 // a ribbon alone on its bed
	bedThin = 8.0  // one of several side by side
	bedGap  = 6.0
	bedMost = 4 // ribbons side by side at most; more share the last lane
)

// bedYear draws what stands where and when: a ribbon a stand, as thick as its
// leaves; plain while it grows, with an upright stroke a week while it bears,
// with lying strokes while it feeds the ground. Solid is past, pale is ahead,
// dashed is planned. Today and the months stand under those of the year rule.
type bedYear struct {
	r     ruler
	paths map[string]*strings.Builder // by class
	tall  float64
	names svg
}

// bedRow is a bed and its stands.
type bedRow struct {
	name   string
	stands []engine.Growth
}

// bedRows gathers the stands of plots that fall on the ruler, in the plots' order.
func (s *standing) bedRows(plots []engine.PlotNow) []bedRow {
	rows := make([]bedRow, len(plots))
	at := map[string]int{}
	for i := range plots {
		rows[i].name = plots[i].Name
		at[plots[i].Name] = i
	}
	from, to := s.snap.Today-day.Day(7*s.ruler.past()), s.snap.Today+day.Day(7*s.ruler.weeks)
	for _, g := range s.growths {
		if i, ok := at[g.Plot]; ok && g.Last > from && g.Sown < to {
			g.Name = s.words.crop(g.Crop, g.Name)
			rows[i].stands = append(rows[i].stands, g)
		}
	}
	for i := range rows {
		sort.SliceStable(rows[i].stands, func(a, b int) bool { return rows[i].stands[a].Sown < rows[i].stands[b].Sown })
	}
	return rows
}

// bedYear draws rows; id is that of its title and words.
func (s *standing) bedYear(rows []bedRow, id, title, desc string) template.HTML {
	y := &bedYear{r: s.ruler, paths: map[string]*strings.Builder{}}
	for i := range rows {
		y.row(&rows[i])
	}
	var g svg
	g.open("svg", "class", "beds free", "width", "100%", "height", y.tall+axisTall, "role", "img", "aria-labelledby", id+"t "+id+"d")
	g.text("title", title, "id", id+"t")
	g.text("desc", desc, "id", id+"d")
	g.leaf("rect", "class", "mist", "width", "100%", "height", y.tall)
	g.leaf("use", "href", "#months", "width", "100%", "height", y.tall)
	s.thin(&g, y.tall)
	y.ribbons(&g)
	g.leaf("line", "class", "today", "y1", 0, "y2", y.tall)
	g.b.WriteString(y.names.b.String())
	g.leaf("line", "class", "base", "x1", "-25%", "x2", "100%", "y1", y.tall, "y2", y.tall)
	g.leaf("use", "href", "#axis", "y", y.tall+1, "height", axisTall)
	g.leaf("use", "href", "#pastaxis", "y", y.tall+1, "height", axisTall)
	g.end("svg")
	return g.html()
}

// bedClasses are the paths in the order in which they are laid over each other.
var bedClasses = []string{"bedline", "grown", "growing", "growing dashed", "fed", "feeds", "feeds dashed", "borne", "bears", "bears dashed", "wks past-wks", "wks", "lies past-lies", "lies"}

// ribbons writes the stretched part: a year ahead is a thousand units, and the
// past stands left of it.
func (y *bedYear) ribbons(g *svg) {
	g.open("svg", "x", "-25%", "width", "125%", "height", y.tall, "viewBox", "-250 0 1250 "+num(y.tall, 1), "preserveAspectRatio", "none")
	for _, class := range bedClasses {
		if p := y.paths[class]; p != nil {
			g.path(class, p.String())
		}
	}
	g.end("svg")
}

func (y *bedYear) put(class, d string) {
	if y.paths[class] == nil {
		y.paths[class] = &strings.Builder{}
	}
	y.paths[class].WriteString(d)
}

// row draws one bed under those before it.
func (y *bedYear) row(row *bedRow) {
	lane, lanes := laneOf(row.stands)
	thick := bedLane
	if lanes > 1 {
		thick = bedThin
	}
	top := y.tall + bedName
	y.tall = top + thick*float64(lanes) + bedGap
	mid := top + thick*float64(lanes)/2
	y.put("bedline", "M-250 "+num(mid, 1)+"H1000")
	y.names.text("text", row.name, "class", "label strong", "x", "-25%", "y", top-3)
	y.label(row, top-3)
	for i := range row.stands {
		y.stand(&row.stands[i], top+thick*(float64(lane[i])+0.5), thick-1)
	}
}

// laneOf lays stands that meet in time side by side.
func laneOf(stands []engine.Growth) (lane []int, lanes int) {
	var ends []day.Day
	for i := range stands {
		at := 0
		for at < len(ends) && ends[at] > stands[i].Sown {
			at++
		}
		at = min(at, bedMost-1)
		if at == len(ends) {
			ends = append(ends, 0)
		}
		ends[at] = max(ends[at], stands[i].Last)
		lane = append(lane, at)
	}
	return lane, max(1, len(ends))
}

// Shares of the year ahead that a letter takes, on a phone and on a wide page.
const (
	letterPhone = 6.6 / 290
	letterWide  = 6.6 / 900
)

// label names the stands over their starts, moved past the today line when they
// would cross it, as far as there is room.
func (y *bedYear) label(row *bedRow, at float64) {
	name := float64(utf8.RuneCountInString(row.name)+1) * 1.15 // bold
	phone, wide := -0.25+name*letterPhone, -0.25+name*letterWide
	last := ""
	for i := range row.stands {
		g := &row.stands[i]
		if strings.EqualFold(g.Name, last) || namedFor(row.name, g.Name) {
			continue
		}
		n := float64(utf8.RuneCountInString(g.Name))
		onWide, ok := place(y.r.x(g.Sown), n*letterWide, &wide)
		onPhone, small := place(y.r.x(g.Sown), n*letterPhone, &phone)
		switch {
		case ok && small && onWide == onPhone:
			y.names.text("text", upperFirst(g.Name), "class", "label", "x", pct(onWide), "y", at)
		default:
			if ok {
				y.names.text("text", upperFirst(g.Name), "class", "label wide", "x", pct(onWide), "y", at)
			}
			if small {
				y.names.text("text", upperFirst(g.Name), "class", "label narrow", "x", pct(onPhone), "y", at)
			}
		}
		last = g.Name
	}
}

// namedFor tells whether a plot's name says its crop: "apples" for an apple.
func namedFor(plot, crop string) bool {
	crop, _, _ = strings.Cut(strings.ToLower(crop), " ")
	return len(crop) > 2 && strings.HasPrefix(strings.ToLower(plot), crop[:len(crop)-1])
}

// place finds room for words so wide at or after a start, behind what stands
// there already, clear of the today line and within the drawing.
func place(start, wide float64, taken *float64) (x float64, ok bool) {
	x = max(start, *taken)
	if x < 0 && x+wide > 0 {
		x = 0.006
	}
	if x+wide > 1 && start > 0.5 {
		x = max(*taken, 1-wide)
	}
	if x+wide > 1.001 || x > start+wide+0.1 && start > 0 {
		return 0, false
	}
	*taken = x + wide + 0.012
	return x, true
}

// stand draws one stand about a middle line.
func (y *bedYear) stand(g *engine.Growth, mid, thick float64) {
	leaf := leafing{y.r.x(g.Sown), y.r.x(g.Full), y.r.x(g.Last)}
	from, to := max(leaf.sown, -0.25), min(leaf.last, 1)
	bears := clamp(y.r.x(g.First), from, to)
	grown, growing, dashed := "grown", "growing", ""
	if g.Planned {
		dashed = " dashed"
	}
	rest, resting, strokes := "borne", "bears", "wks"
	if g.Feeds {
		rest, resting, strokes = "fed", "feeds", "lies"
		bears = clamp(leaf.full, from, to)
	}
	y.part(grown, leaf, from, min(bears, 0), mid, thick)
	y.part(growing+dashed, leaf, max(from, 0), bears, mid, thick)
	y.part(rest, leaf, bears, min(to, 0), mid, thick)
	y.part(resting+dashed, leaf, max(bears, 0), to, mid, thick)
	if g.Feeds {
		y.lying("lies past-lies", leaf, bears, min(to, 0), mid, thick)
		y.lying(strokes, leaf, max(bears, 0), to, mid, thick)
		return
	}
	y.upright("wks past-wks", leaf, bears, min(to, 0), mid, thick)
	y.upright(strokes, leaf, max(bears, 0), to, mid, thick)
}

// leafing is when a stand begins, has its leaves, and ends, on the ruler.
type leafing struct{ sown, full, last float64 }

// cover is its leaf cover, 0 to 1: slow at first, then quick, drawn in at the end.
func (l leafing) cover(x float64) float64 {
	c := 1.0
	if x < l.full {
		c = clamp((x-l.sown)/max(1e-9, l.full-l.sown), 0, 1)
		c *= c * (1.5 - 0.5*c)
	}
	if end := l.last - x; end < 0.02 {
		c = min(c, 0.15+0.85*max(0, end)/0.02)
	}
	return max(c, 0.06)
}

// corners are the places between two days where a ribbon bends.
func (l leafing) corners(from, to float64) []float64 {
	all := []float64{from}
	for _, at := range []float64{l.sown + 0.25*(l.full-l.sown), l.sown + 0.5*(l.full-l.sown), l.sown + 0.75*(l.full-l.sown), l.full, l.last - 0.02, l.last} {
		if at > all[len(all)-1] && at < to {
			all = append(all, at)
		}
	}
	return append(all, to)
}

// part is the outline of a stand between two days.
func (y *bedYear) part(class string, l leafing, from, to, mid, thick float64) {
	if to-from < 1e-4 {
		return
	}
	all := l.corners(from, to)
	t := track{decimals: 1}
	for _, x := range all {
		t.at(1000*x, mid-thick/2*l.cover(x))
	}
	for i := len(all) - 1; i >= 0; i-- {
		t.at(1000*all[i], mid+thick/2*l.cover(all[i]))
	}
	y.put(class, t.path(true))
}

// upright sets a stroke a week while a stand bears. Each is written from the end
// of the one before, which takes a third fewer bytes.
func (y *bedYear) upright(class string, l leafing, from, to, mid, thick float64) {
	step := y.r.x(y.r.today + 7)
	px, py := 0.0, 0.0
	for x := from + step; x < to-step/3; x += step {
		half := thick / 2 * l.cover(x)
		at, top, tall := round(1000*x, 0), round(mid-half, 1), round(2*half, 1)
		move := "M" + num(at, 0) + " " + num(top, 1)
		if x > from+step {
			move = "m" + num(at-px, 0) + " " + num(top-py, 1)
		}
		y.put(class, strings.ReplaceAll(move, " -", "-")+"v"+num(tall, 1))
		px, py = at, round(top+tall, 1)
	}
}

// lying lays strokes along a stand that feeds the ground.
func (y *bedYear) lying(class string, l leafing, from, to, mid, thick float64) {
	if to-from < 0.01 {
		return
	}
	for _, at := range []float64{-0.25, 0.25} {
		y.put(class, "M"+num(1000*from, 0)+" "+num(mid+at*thick, 1)+"H"+num(1000*(to-0.008), 0))
	}
}

// thinFrom is the weekly chance of going short of food from which a week is thin.
const thinFrom = 0.2

// thinWeeks are the runs of weeks in which food is thin, first and the one after
// the last; none while there is no outlook of this state.
func (s *standing) thinWeeks() (runs [][2]int) {
	if s.snap.Outlook == nil {
		return nil
	}
	for i := range s.snap.Outlook.Needs {
		n := &s.snap.Outlook.Needs[i]
		if n.ID != "energy" || !n.Known {
			continue
		}
		for week, p := range n.Short {
			switch {
			case p < thinFrom:
			case len(runs) > 0 && runs[len(runs)-1][1] == week:
				runs[len(runs)-1][1]++
			default:
				runs = append(runs, [2]int{week, week + 1})
			}
		}
	}
	return runs
}

// thin hatches the thin weeks through all beds.
func (s *standing) thin(g *svg, tall float64) {
	for _, run := range s.thinWeeks() {
		x, z := s.ruler.x(s.ruler.week(run[0])), s.ruler.x(s.ruler.week(run[1]))
		g.leaf("rect", "class", "hatch thinweeks", "x", pct(x), "width", pct(min(1, z)-x), "height", tall)
	}
}

// thinWords say when food is thin; empty when it is not, or nothing is known.
func (s *standing) thinWords() string {
	runs := s.thinWeeks()
	if len(runs) == 0 {
		return ""
	}
	var said []string
	for _, run := range runs[:min(len(runs), 4)] {
		said = append(said, s.say("beds.span", s.date(s.ruler.week(run[0])), s.date(s.ruler.week(run[1])-1)))
	}
	return s.say("beds.thin", s.words.list(said))
}

// Measures of the weekly energy, px.
const (
	liftTall = 56.0
	liftNeed = 12.0 // room for the words over it
)

// lift is the energy picked in each week from the start of the past to the end
// of the ruler, MJ, each stand's harvest spread evenly over its picking.
func (s *standing) lift() []float64 {
	back := s.ruler.past()
	weeks := make([]float64, back+s.ruler.weeks)
	for i := range s.growths {
		g := &s.growths[i]
		span := max(1, g.Last-g.First)
		for d := max(g.First, s.snap.Today-day.Day(7*back)); d < g.Last; d++ {
			if week := int(d-s.snap.Today+day.Day(7*back)) / 7; week < len(weeks) {
				weeks[week] += g.MJ / float64(span)
			}
		}
	}
	return weeks
}

// lifted draws the energy picked each week against what the household eats.
func (s *standing) lifted(id string) template.HTML {
	weeks, need := s.lift(), 7*s.now.Mouthful
	most, sum, enough := need, 0.0, 0
	back := s.ruler.past()
	for i, mj := range weeks {
		most = max(most, mj)
		if i >= back {
			sum += mj
			if mj >= need {
				enough++
			}
		}
	}
	var g svg
	g.open("svg", "class", "lift free g-food", "width", "100%", "height", liftTall+axisTall, "role", "img", "aria-labelledby", id+"t "+id+"d")
	g.text("title", s.say("lift.title"), "id", id+"t")
	g.text("desc", s.say("lift.desc", s.amount(sum, "MJ"), s.amount(need, "MJ"), count(enough), count(s.ruler.weeks)), "id", id+"d")
	g.leaf("rect", "class", "mist", "width", "100%", "height", liftTall)
	s.thin(&g, liftTall)
	week := 1 / float64(s.ruler.weeks)
	for i, mj := range weeks {
		tall := (liftTall - liftNeed) * mj / most
		class := "outer"
		if i < back {
			class = "full"
		}
		if tall >= 0.5 {
			g.leaf("rect", "class", class, "x", pct((float64(i-back)+0.15)*week), "width", pct(0.7*week), "y", liftTall-tall, "height", tall)
		}
	}
	level := liftTall - (liftTall-liftNeed)*need/most
	g.leaf("line", "class", "keptline", "x1", "-25%", "x2", "100%", "y1", level, "y2", level)
	g.text("text", s.say("lift.need"), "class", "label strong inset", "x", "100%", "y", level-4, "text-anchor", "end")
	g.leaf("line", "class", "today", "y1", 0, "y2", liftTall)
	g.leaf("line", "class", "base", "x1", "-25%", "x2", "100%", "y1", liftTall, "y2", liftTall)
	g.leaf("use", "href", "#axis", "y", liftTall+1, "height", axisTall)
	g.leaf("use", "href", "#pastaxis", "y", liftTall+1, "height", axisTall)
	g.end("svg")
	return g.html()
}
