package web

import (
	"html/template"
	"math"
	"net/url"
	"strconv"

	"evenstead/day"
	"evenstead/engine"
)

// filled is a length filled to a share, on the line of the whole. The figure
// beside it says the same.
func filled(share float64, class string) template.HTML {
	var s svg
	s.open("svg", "class", "len "+class, "width", "100%", "height", 12, "aria-hidden", "true")
	s.leaf("rect", "class", "full", "y", 2, "width", pct(clamp(share, 0, 1)), "height", 8)
	s.leaf("line", "class", "base", "x2", "100%", "y1", 10.5, "y2", 10.5)
	s.leaf("line", "class", "base", "x1", "100%", "x2", "100%", "y1", 0, "y2", 11)
	s.end("svg")
	return s.html()
}

// Measures of the elevation, px. Tanks are drawn as tall as they are wide, by the
// cube root of what they hold, so that among them volumes compare.
const (
	tankTall  = 130.0 // the largest of the stead
	tankLeast = 46.0
	tankGap   = 14.0
	tankRungs = 34.0 // room for the scale at the left
	tankTail  = 30.0 // room for the bracket at the right
	roofTall  = 44.0
	tankFoot  = 24.0
	tanksMost = 6
)

// elevation draws a group of tanks from the side: roof, pipe, joined vessels at
// one level, the dead water, what beds leave, the last dip and where the level
// will stand in a week.
func (st *standing) elevation(g *engine.TankGroup, id string) template.HTML {
	e := &elevation{standing: st, g: g, tanks: g.Tanks[:min(len(g.Tanks), tanksMost)]}
	e.size()
	var s svg
	s.open("svg", "class", "tank g-water", "width", e.wide, "height", e.ground+tankFoot, "role", "img", "aria-labelledby", id+"t "+id+"d")
	s.text("title", st.say("tank.title", g.Name), "id", id+"t")
	s.text("desc", st.say("tank.desc", st.of(g.Level, g.Holds, "L"), st.amount(g.Dead, "L"), st.amount(max(g.Dead, g.Reserve), "L")), "id", id+"d")
	e.roof(&s)
	e.vessels(&s)
	e.rungs(&s)
	e.week(&s)
	s.leaf("line", "class", "past shown", "x2", "100%", "y1", e.ground, "y2", e.ground)
	s.end("svg")
	return s.html()
}

type elevation struct {
	*standing
	g      *engine.TankGroup
	tanks  []engine.TankNow
	side   []float64 // px of each vessel
	tall   float64   // px of the tallest
	ground float64   // px from the top
	wide   float64
}

// size gives each vessel its side; all of the stead share one scale.
func (e *elevation) size() {
	most := 1.0
	for _, g := range e.now.Tanks {
		for _, t := range g.Tanks {
			most = max(most, t.Holds)
		}
	}
	e.wide = tankRungs + tankTail
	for _, t := range e.tanks {
		side := max(tankLeast, tankTall*math.Cbrt(t.Holds/most))
		e.side = append(e.side, side)
		e.tall = max(e.tall, side)
		e.wide += side + tankGap
	}
	top := 10.0
	if len(e.g.Roofs) > 0 {
		top = roofTall
	}
	e.ground = top + e.tall
}

// x is a place across as a share, so that the drawing may shrink on a phone.
func (e *elevation) x(px float64) pct { return pct(px / e.wide) }

func (e *elevation) roof(s *svg) {
	if len(e.g.Roofs) == 0 {
		return
	}
	area := 0.0
	for _, r := range e.g.Roofs {
		area += r.Area
	}
	name := e.say("tank.roofs", count(len(e.g.Roofs)))
	if len(e.g.Roofs) == 1 {
		name = e.g.Roofs[0].Name
	}
	pipe := tankRungs + e.side[0]*0.3
	s.text("text", name+" "+e.amount(area, "m2"), "class", "label", "x", e.x(pipe+16), "y", 12)
	s.leaf("line", "class", "eaves", "x1", e.x(pipe), "x2", e.x(min(e.wide-8, pipe+130)), "y1", 32, "y2", 18)
	s.leaf("line", "class", "pipe", "x1", e.x(pipe), "x2", e.x(pipe), "y1", 32, "y2", e.ground-e.side[0]+4)
}

func (e *elevation) vessels(s *svg) {
	share := clamp(e.g.Level/e.g.Holds, 0, 1)
	dead, kept := clamp(e.g.Dead/e.g.Holds, 0, 1), clamp(e.g.Reserve/e.g.Holds, 0, 1)
	left := tankRungs
	for i, t := range e.tanks {
		side := e.side[i]
		top, wet := e.ground-side, side*share
		if i > 0 {
			s.leaf("line", "class", "pipe", "x1", e.x(left-tankGap), "x2", e.x(left), "y1", e.ground-5, "y2", e.ground-5)
		}
		s.leaf("rect", "class", "clear", "x", e.x(left), "y", top, "width", e.x(side), "height", side)
		s.leaf("rect", "class", "full", "x", e.x(left), "y", e.ground-wet, "width", e.x(side), "height", wet)
		if dead > 0 {
			s.leaf("line", "class", "deadline", "x1", e.x(left), "x2", e.x(left+side), "y1", e.ground-side*dead, "y2", e.ground-side*dead)
		}
		if kept > dead {
			class := "keptline"
			if kept < share {
				class += " under"
			}
			s.leaf("line", "class", class, "x1", e.x(left), "x2", e.x(left+side), "y1", e.ground-side*kept, "y2", e.ground-side*kept)
		}
		s.leaf("rect", "class", "vessel", "x", e.x(left), "y", top, "width", e.x(side), "height", side)
		s.text("text", tankLabel(t.Name, side), "class", "label", "x", e.x(left+side/2), "y", e.ground+16, "text-anchor", "middle")
		left += side + tankGap
	}
}

// tankLabel is a tank's name where there is room for it, else its end: "2".
func tankLabel(name string, side float64) string {
	letters := []rune(name)
	fits := int(side+tankGap) / 7
	if len(letters) <= fits {
		return name
	}
	for i := len(letters) - 1; i > 0; i-- {
		if letters[i] == ' ' && len(letters)-i-1 <= fits {
			return string(letters[i+1:])
		}
	}
	return string(letters[:max(1, fits-1)]) + "…"
}

// rungs is the scale at the left in quarters, with a dot at the last dip.
func (e *elevation) rungs(s *svg) {
	side := e.side[0]
	for i, mark := range []string{"0", "¼", "½", "¾", "1"} {
		y := e.ground - side*float64(i)/4
		if i%2 == 1 && side < tankTall/2 {
			continue
		}
		s.leaf("line", "class", "tick", "x1", e.x(tankRungs-8), "x2", e.x(tankRungs), "y1", y, "y2", y)
		s.text("text", mark, "class", "label", "x", e.x(tankRungs-12), "y", y+rungDrop(i), "text-anchor", "end")
	}
	if d := e.g.Drift; d != nil {
		s.leaf("circle", "class", "found", "cx", e.x(tankRungs), "cy", e.ground-side*clamp(d.Found/e.g.Holds, 0, 1), "r", 5)
	}
}

// week brackets where the level will stand in a week, 8 years in 10.
func (e *elevation) week(s *svg) {
	o := e.snap.Outlook
	if o == nil || e.snap.Stale {
		return
	}
	side := e.side[len(e.side)-1]
	for i := range o.Stores {
		st := &o.Stores[i]
		if st.ID != "tank:"+e.g.Name || len(st.Weeks) < 2 {
			continue
		}
		x := e.wide - tankTail - tankGap + 6
		hi, lo := e.ground-side*clamp(st.Weeks[1].P90/e.g.Holds, 0, 1), e.ground-side*clamp(st.Weeks[1].P10/e.g.Holds, 0, 1)
		for _, y := range []float64{hi, lo} {
			s.leaf("line", "class", "hue", "x1", e.x(x), "x2", e.x(x+8), "y1", y, "y2", y)
		}
		s.leaf("line", "class", "hue", "x1", e.x(x+8), "x2", e.x(x+8), "y1", hi, "y2", lo)
		mid := e.ground - side*clamp(st.Weeks[1].P50/e.g.Holds, 0, 1)
		s.leaf("line", "class", "middle", "x1", e.x(x+3), "x2", e.x(x+13), "y1", mid, "y2", mid)
	}
}

// The drums' ruler: 26 weeks back and 104 ahead, today one fifth along.
const (
	drumBack  = 26 * 7
	drumAhead = 104 * 7
	drumBox   = 26.0
	drumTall  = 18.0
)

// drumX is the share of the width at a day, held on the ruler.
func (s *standing) drumX(d day.Day) float64 {
	return clamp(float64(d-s.snap.Today+drumBack)/(drumBack+drumAhead), 0, 1)
}

// drums fills the page's part on the toilet.
func (s *standing) drums(page *shelvesPage) {
	t := s.now.Toilet
	if t == nil {
		return
	}
	empty := 0
	for i := range t.Drums[:min(len(t.Drums), drumsDrawn)] {
		d := &t.Drums[i]
		if d.Closed == 0 && !d.Filling && d.Litres <= 0 {
			empty++
			continue
		}
		page.Drums = append(page.Drums, s.drumView(t, d))
	}
	page.DrumAxis = s.drumAxis()
	page.DrumNote = s.say("drums.note", count(len(t.Drums)), count(empty), count(int(t.FillDays)), count(t.CureDays))
	page.Gate = s.drumGate(t)
	page.DrumTo = s.gateOf("spread toilet compost").of(s.say("deed.drum"))
	page.Cover = s.say("cover.left", s.amount(t.Cover, "L"), s.coverDays(t))
}

func (s *standing) coverDays(t *engine.ToiletNow) string {
	if math.IsInf(t.CoverDays, 0) || math.IsNaN(t.CoverDays) {
		return s.say("cover.unused")
	}
	return s.words.days(int(t.CoverDays), false)
}

func (s *standing) drumView(t *engine.ToiletNow, d *engine.DrumNow) drumView {
	v := drumView{Name: s.say("drum.name", strconv.Itoa(d.Number))}
	switch {
	case d.Closed != 0:
		v.State, v.Opens = s.say("drum.shut", s.date(d.Closed)), s.say("drum.opens", s.words.long(d.Opens))
	case d.Filling:
		v.State, v.Opens = s.say("drum.filling", s.of(d.Litres, t.Holds, "L"), s.date(d.Full)), s.say("drum.would", s.words.long(d.Full+day.Day(t.CureDays)))
	default:
		v.State = s.say("drum.part", s.of(d.Litres, t.Holds, "L"))
	}
	v.Draw = s.drum(t, d)
	return v
}

// drum is a row: a wedge while it fills, a hatched block while it rests, a gate
// at the first safe day. What is still to come is dashed.
func (s *standing) drum(t *engine.ToiletNow, d *engine.DrumNow) template.HTML {
	var g svg
	g.open("svg", "class", "drum g-soil", "width", "100%", "height", drumBox, "aria-hidden", "true")
	today := s.drumX(s.snap.Today)
	g.leaf("rect", "class", "mist", "x", pct(today), "width", pct(1-today), "y", (drumBox-drumTall)/2, "height", drumTall)
	g.leaf("line", "class", "thin", "x2", "100%", "y1", drumBox/2, "y2", drumBox/2)
	closed, opens := d.Closed, d.Opens
	if d.Filling {
		closed, opens = d.Full, d.Full+day.Day(t.CureDays)
	}
	if d.Begun != 0 {
		s.wedge(&g, d, t, min(closed, s.snap.Today))
	}
	if closed != 0 {
		a, z := s.drumX(closed), s.drumX(opens)
		if d.Closed != 0 {
			g.leaf("rect", "class", "hatch", "x", pct(a), "width", pct(z-a), "y", (drumBox-drumTall)/2, "height", drumTall)
		}
		class := "open"
		if d.Closed == 0 {
			class = "planned"
		}
		g.leaf("rect", "class", class, "x", pct(a), "width", pct(z-a), "y", (drumBox-drumTall)/2, "height", drumTall)
		g.post(z)
	}
	g.leaf("line", "class", "today", "x1", pct(today), "x2", pct(today), "y1", 0, "y2", drumBox)
	g.end("svg")
	return g.html()
}

// wedge grows from a drum's first day to its last.
func (s *standing) wedge(g *svg, d *engine.DrumNow, t *engine.ToiletNow, to day.Day) {
	if d.Closed != 0 {
		to = d.Closed
	}
	a, z := s.drumX(d.Begun), s.drumX(to)
	if z <= a {
		return
	}
	tall := drumTall * clamp(d.Litres/t.Holds, 0, 1)
	if d.Closed != 0 {
		tall = drumTall
	}
	g.open("svg", "x", pct(a), "width", pct(z-a), "height", drumBox, "viewBox", "0 0 100 26", "preserveAspectRatio", "none")
	tr := track{decimals: 1}
	tr.at(0, drumBox/2)
	tr.at(100, drumBox/2-tall/2)
	tr.at(100, drumBox/2+tall/2)
	g.path("solid", tr.path(true))
	g.end("svg")
}

// post is a gate at a share of the width.
func (g *svg) post(at float64) {
	g.leaf("line", "class", "middle", "x1", pct(at), "x2", pct(at), "y1", 1, "y2", drumBox-1)
	g.open("svg", "x", pct(at), "width", 1, "height", drumBox, "class", "free")
	for _, y := range []float64{6, 11, 15, 20} {
		g.leaf("line", "class", "base", "x1", -4, "x2", 4, "y1", y, "y2", y)
	}
	g.end("svg")
}

// drumAxis names the quarters under the drums.
func (s *standing) drumAxis() template.HTML {
	var g svg
	g.open("svg", "class", "drum", "width", "100%", "height", 18, "aria-hidden", "true")
	y, m, _ := (s.snap.Today - drumBack).Date()
	for d := day.Of(y, (m-1)/3*3+4, 1); d < s.snap.Today+drumAhead-30; {
		yy, mm, _ := d.Date()
		x := s.drumX(d)
		g.leaf("line", "class", "tick", "x1", pct(x), "x2", pct(x), "y2", 4)
		switch {
		case mm == 1:
			g.text("text", strconv.Itoa(yy), "class", "label strong", "x", pct(x), "y", 15, "text-anchor", "middle")
		default:
			g.text("text", s.say("month."+strconv.Itoa(int(mm))), "class", "label wide", "x", pct(x), "y", 15, "text-anchor", "middle")
		}
		d = day.Of(yy, mm+3, 1)
	}
	g.leaf("use", "href", "#mark", "x", pct(s.drumX(s.snap.Today)), "y", 0)
	g.end("svg")
	return g.html()
}

// drumGate is the notice of the drum that opens next; nil when none is shut.
func (s *standing) drumGate(t *engine.ToiletNow) *gateView {
	var next *engine.DrumNow
	for i := range t.Drums {
		if d := &t.Drums[i]; d.Closed != 0 && d.Opens > s.snap.Today && (next == nil || d.Opens < next.Opens) {
			next = d
		}
	}
	if next == nil {
		return nil
	}
	rule, place := s.now.Gate("drum"), s.now.Gate("drum-place")
	number := strconv.Itoa(next.Number)
	return &gateView{s.say("gate.drum", number, s.words.long(next.Opens)), upperFirst(place.Rule) + ".", upperFirst(rule.Rule) + ".", rule.Source,
		"/?note=" + url.QueryEscape("opened drum "+number) + "#note"}
}

// rungDrop sets a rung's figure beside its tick, the lowest clear of the ground.
func rungDrop(i int) float64 {
	if i == 0 {
		return -2
	}
	return 4
}
