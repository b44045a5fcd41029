package web

import "html/template"

const (
	beltNeed = 22.0 // px: the household's intake, the same in every loop
	beltMost = 80.0 // px: no lane is wider; a greater one narrows the whole drawing
	beltThin = 1.5  // px: no lane is thinner
	beltGap  = 34.0 // px between the two lanes
	beltHead = 40.0 // px for words and arrows above, and below
	beltFrom = 0.13 // shares of the width between which the lanes run straight
	beltTo   = 0.87
)

// A branch is a part with its words, ready to draw.
type branch struct {
	name, figure string
	amount       float64
}

// A belt is one material going round between a far end and the house: the upper
// lane goes to people, the lower comes back. What joins comes in from above,
// what leaves peels off pale with an arrow, and the closed left end is what
// comes round again.
type belt struct {
	id, title, desc string
	far, house      string
	round, into     float64
	joins, leaves   []branch
	lost            []branch
}

// px is the width of an amount, and u the inner edge of the upper lane.
func (b belt) px(amount float64) float64 { return amount * b.scale() }

// scale gives every loop's intake the same width, less where a lane would be
// wider than there is room for.
func (b belt) scale() float64 {
	widest := max(b.into, b.round+total(b.joins), total(b.lost)+b.round)
	return min(beltNeed/b.into, beltMost/widest)
}

func total(list []branch) float64 {
	sum := 0.0
	for _, br := range list {
		sum += br.amount
	}
	return sum
}

// narrowed tells that the intake is drawn less wide than in the other loops.
func (b belt) narrowed() bool { return b.scale() < beltNeed/b.into }

// upper and lower are the inner edges of the lanes; tall is the drawing's height.
func (b belt) upper() float64 { return beltHead + b.px(b.round+total(b.joins)) + 4 }
func (b belt) lower() float64 { return b.upper() + beltGap }
func (b belt) tall() float64 {
	foot := 6.0
	if len(b.lost) > 0 {
		foot = beltHead
	}
	return b.lower() + max(b.px(b.round+total(b.lost)), beltThin) + foot
}

func (b belt) draw() template.HTML {
	var s svg
	s.open("svg", "class", "belt", "width", "100%", "height", b.tall(), "role", "img", "aria-labelledby", b.id+"t "+b.id+"d")
	s.text("title", b.title, "id", b.id+"t")
	s.text("desc", b.desc, "id", b.id+"d")
	s.upperLane(b)
	s.lowerLane(b)
	s.turnAt(beltFrom, -1, b.px(b.round), b)
	s.turnAt(beltTo, 1, b.px(b.into), b)
	s.text("text", b.far, "class", "label", "x", pct(beltFrom+0.01), "y", b.upper()+beltGap/2+4)
	s.text("text", b.house, "class", "label", "x", pct(beltTo-0.01), "y", b.upper()+beltGap/2+4, "text-anchor", "end")
	s.end("svg")
	return s.html()
}

// spread is where the i-th of n branches stands.
func spread(i, n int) float64 {
	return beltFrom + (beltTo-beltFrom)*(float64(i)+0.5)/float64(n)
}

// upperLane runs to the right; each branch changes its width where it stands.
func (s *svg) upperLane(b belt) {
	n, at, w := len(b.joins)+len(b.leaves), beltFrom, b.round
	for i, br := range b.joins {
		x := spread(i, n)
		s.lane(at, x, b.upper(), b.px(w), -1)
		s.join(x, b.px(br.amount), b.upper(), br)
		at, w = x, w+br.amount
	}
	for i, br := range b.leaves {
		x := spread(len(b.joins)+i, n)
		s.lane(at, x, b.upper(), b.px(w), -1)
		w = max(w-br.amount, 0)
		s.leave(x, b.px(br.amount), b.upper()-b.px(w), beltHead-8, br)
		at = x
	}
	s.lane(at, beltTo, b.upper(), b.px(w), -1)
}

// lowerLane runs back to the left.
func (s *svg) lowerLane(b belt) {
	at, w := beltTo, b.round+total(b.lost)
	for i, br := range b.lost {
		x := spread(len(b.lost)-1-i, len(b.lost))
		s.lane(x, at, b.lower(), b.px(w), 1)
		w = max(w-br.amount, 0)
		s.leave(x, b.px(br.amount), b.lower()+b.px(w), b.tall()-beltHead+10, br)
		at = x
	}
	s.lane(beltFrom, at, b.lower(), b.px(w), 1)
}

// lane is a straight stretch that grows from its inner edge y, upward (-1) or
// downward (1). Nothing is drawn for nothing.
func (s *svg) lane(from, to, y, wide, way float64) {
	if wide <= 0 {
		return
	}
	wide = max(wide, beltThin)
	s.leaf("rect", "class", "lane", "x", pct(from), "width", pct(to-from), "y", min(y, y+way*wide), "height", wide)
}

// join comes down from its words into the lane, whose inner edge is upper.
func (s *svg) join(x, wide, upper float64, br branch) {
	wide = max(wide, beltThin)
	s.open("svg", "x", pct(x), "class", "free")
	s.leaf("rect", "class", "lane", "x", -wide/2, "y", beltHead-8, "width", wide, "height", upper-beltHead+8)
	s.words(11, br)
	s.end("svg")
}

// leave peels off a lane that is left at y, and ends in an arrow at tip.
func (s *svg) leave(x, wide, y, tip float64, br branch) {
	half := max(wide, beltThin) / 2
	neck, words := tip+6, 11.0 // the arrow points up, under its words
	if tip > y {
		neck, words = tip-6, tip+13
	}
	t := track{decimals: 1}
	for _, p := range [][2]float64{{half, y}, {half, neck}, {half + 3, neck}, {0, tip}, {-half - 3, neck}, {-half, neck}, {-half, y}} {
		t.at(p[0], p[1])
	}
	s.open("svg", "x", pct(x), "class", "free")
	s.path("clear", t.path(true))
	s.path("gone", t.path(true))
	s.words(words, br)
	s.end("svg")
}

// words stand in the middle, name over figure.
func (s *svg) words(y float64, br branch) {
	s.text("text", br.name, "class", "label", "y", y, "text-anchor", "middle")
	s.text("text", br.figure, "class", "label strong", "y", y+14, "text-anchor", "middle")
}

// turnAt closes the belt at one end: a half ring as wide as what goes round
// there, or a dotted line where nothing does.
func (s *svg) turnAt(x, side, wide float64, b belt) {
	r, u, l := beltGap/2, b.upper(), b.lower()
	sweep, back := "1", "0"
	if side < 0 {
		sweep, back = "0", "1"
	}
	s.open("svg", "x", pct(x), "class", "free")
	if wide <= 0 {
		s.path("nothing", "M0 "+num(u, 1)+"a"+num(r, 1)+" "+num(r, 1)+" 0 0 "+sweep+" 0 "+num(beltGap, 1))
	} else {
		wide = max(wide, beltThin)
		o := num(r+wide, 1)
		in := num(-side, 0) // a pixel into the straight, so that no seam shows
		s.path("lane", "M"+in+" "+num(u-wide, 1)+"H0A"+o+" "+o+" 0 0 "+sweep+" 0 "+num(l+wide, 1)+"H"+in+"V"+num(l, 1)+
			"H0A"+num(r, 1)+" "+num(r, 1)+" 0 0 "+back+" 0 "+num(u, 1)+"H"+in+"z")
	}
	s.end("svg")
}
