package web

import (
	"html/template"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
)

// startTold is what the answers tell already, on mist below a question.
type startTold struct {
	Lead    string
	Lines   []string
	Months  template.HTML // a drawing of twelve months; empty for none
	Figures []startMonth  // the same as a table
	Unit    string
	Gate    []template.HTML // rules that hold at this point
}

// startMonth is a month in the table beneath a drawing.
type startMonth struct{ Month, Amount string }

// teller makes what a page of the start tells.
type teller struct {
	*site
	o    Options // in the units that were answered
	a    url.Values
	p    *hearth.Preview
	st   *stead.Stead
	sown []engine.Opening
}

// tell sums up the answers as far as a question; nothing where they can't be read
// yet.
func (t *teller) tell(key string) (told startTold) {
	if t.p == nil {
		return told
	}
	switch key {
	case "place":
		told.Lead = t.words.say("start.tell.place", figure(t.p.Shortest), figure(t.p.Longest))
	case "weather":
		t.weather(&told)
	case "people":
		told.Lead = t.words.say("start.tell.people", figure(t.p.Eats), count(int(round(t.p.Eats/0.004184/100, 0)*100)))
	case "roof":
		t.roof(&told)
	case "tanks":
		t.tanks(&told)
	case "beds":
		t.beds(&told)
	case "trees":
		told.Lead = t.words.say("start.tell.trees")
	case "store":
		t.store(&told)
	case "toilet", "cook":
		t.care(&told, key)
	case "hours":
		told.Lead = t.words.say("start.tell.hours", figure(t.p.Hours))
	}
	return told
}

func (t *teller) weather(told *startTold) {
	switch {
	case t.p.Weather:
	case t.a.Get("weather") == "kept":
		told.Lead = t.words.say("start.tell.short")
		return
	default:
		told.Lead = t.words.say("start.tell.noweather")
		return
	}
	wet, dry, frosts := 0, 0, []string{}
	year := 0.0
	for m, mm := range t.p.Rain {
		year += mm
		if mm > t.p.Rain[wet] {
			wet = m
		}
		if mm < t.p.Rain[dry] {
			dry = m
		}
		if t.p.Low[m] < frostMean {
			frosts = append(frosts, t.month(m))
		}
	}
	told.Lead = t.words.say("start.tell.weather", t.o.amount(year, "mm"), t.month(wet), t.month(dry))
	if len(frosts) > 0 {
		told.Lines = append(told.Lines, t.words.say("start.tell.frost", strings.Join(frosts, ", ")))
	} else {
		told.Lines = append(told.Lines, t.words.say("start.tell.nofrost"))
	}
	t.draw(told, t.p.Rain, 0, "mm", t.words.say("start.tell.weather.draw"))
}

// frostMean is the mean daily minimum under which frosty nights are likely in a
// month, °C (common practice: nights spread about 3 °C to each side).
const frostMean = 3

func (t *teller) month(m int) string { return t.words.say("month." + strconv.Itoa(m+1)) }

func (t *teller) roof(told *startTold) {
	if !t.p.Weather {
		told.Lead = t.words.say("start.tell.roof.unknown")
		return
	}
	year := 0.0
	var daily [12]float64
	for m, l := range t.p.Catch {
		year += l
		daily[m] = l / float64(time.Date(2025, time.Month(m+2), 0, 0, 0, 0, 0, time.UTC).Day())
	}
	told.Lead = t.words.say("start.tell.roof", t.o.amount(year, "L"), t.o.amount(365*t.p.Use, "L"))
	t.draw(told, daily, t.p.Use, "L", t.words.say("start.tell.roof.draw", t.o.amount(t.p.Use, "L")))
}

func (t *teller) tanks(told *startTold) {
	if t.p.Holds == 0 || t.p.Use == 0 {
		told.Lead = t.words.say("start.tell.notank")
		return
	}
	told.Lead = t.words.say("start.tell.tanks", t.o.amount(t.p.Holds, "L"), count(int(t.p.Level/t.p.Use)), t.o.amount(t.p.Use, "L"))
	told.Lines = append(told.Lines, t.words.say("start.tell.tanks.full", count(int(t.p.Holds/t.p.Use))))
	told.Gate = []template.HTML{escaped(t.words.say("start.tell.tanks.gate"))}
}

func (t *teller) beds(told *startTold) {
	if len(t.sown) == 0 {
		told.Lead = t.words.say("start.tell.beds.unknown")
		return
	}
	picked := strings.Split(t.a.Get("crops"), ",")
	stand, any := 0, 0
	for _, c := range t.sown {
		if !slices.Contains(picked, c.ID) {
			continue
		}
		any++
		key := "start.tell.crop.later"
		if c.Stands {
			stand++
			key = "start.tell.crop.now"
		}
		told.Lines = append(told.Lines, t.words.say(key, upperFirst(t.words.crop(c.ID, c.Name)), t.window(&c), t.words.when(c.Sow)))
	}
	if told.Lead = t.words.say("start.tell.beds", count(any), count(stand)); any == 0 {
		told.Lead = t.words.say("start.tell.beds.usual")
	}
}

// window says when a crop is sown here.
func (s *site) window(c *engine.Opening) string {
	if c.Always {
		return s.words.say("start.window.always")
	}
	return s.words.say("start.window", s.words.when(c.Open), s.words.when(c.Close))
}

func (t *teller) store(told *startTold) {
	days := int(t.p.Stored / max(t.p.Eats, 1))
	if told.Lead = t.words.say("start.tell.store", figure(t.p.Stored), count(days)); days == 0 {
		told.Lead = t.words.say("start.tell.nostore")
	}
}

// care are the rules that a description calls for, of the parts just told of.
func (t *teller) care(told *startTold, key string) {
	parts := map[string][]string{"toilet": {"toilet", "drum", "compost"}, "cook": {"cooker", "fuel"}}[key]
	for _, c := range stead.Cautions(t.st) {
		word, _, _ := strings.Cut(c.Part, " ")
		if slices.Contains(parts, word) {
			told.Gate = append(told.Gate, t.words.quote(upperFirst(c.Text)+" ("+c.Source+")"))
		}
	}
	if len(told.Gate) == 0 {
		told.Lead = t.words.say("start.tell." + key)
	}
}

// draw adds a drawing of twelve months and its table. line is a need to compare
// with; 0: none.
func (t *teller) draw(told *startTold, months [12]float64, line float64, si, title string) {
	told.Months, told.Unit = monthBars(t.words, months, line, title), t.o.measure(si).unit
	for m, v := range months {
		told.Figures = append(told.Figures, startMonth{t.month(m), t.words.figure(v * t.o.measure(si).per)})
	}
}

const (
	monthTall = 72.0 // px of the tallest month
	monthBox  = monthTall + 18
)

// monthBars draws twelve months, January first, and the line of a need. Its words
// are its title; the table beneath gives the figures.
func monthBars(w words, months [12]float64, line float64, title string) template.HTML {
	most := max(line*1.1, 1e-9)
	for _, v := range months {
		most = max(most, v)
	}
	var s svg
	s.open("svg", "class", "months", "width", "100%", "height", monthBox, "role", "img", "aria-labelledby", "mt")
	s.text("title", title, "id", "mt")
	for m, v := range months {
		tall := monthTall * v / most
		x := float64(m) / 12
		s.leaf("rect", "class", "tail", "x", pct(x+0.012), "width", pct(1.0/12-0.024), "y", monthTall-tall, "height", tall)
		s.text("text", w.say("initial."+strconv.Itoa(m+1)), "class", "label", "x", pct(x+1.0/24), "y", monthTall+14, "text-anchor", "middle")
	}
	s.leaf("line", "class", "even", "x2", "100%", "y1", monthTall, "y2", monthTall)
	if line > 0 {
		y := monthTall * (1 - line/most)
		s.leaf("line", "class", "needline", "x2", "100%", "y1", y, "y2", y)
	}
	s.end("svg")
	return s.html()
}

// startRule draws how far the questions have come; the page says it in words.
func startRule(n, of int) template.HTML {
	const mid, long = 11.0, 5.0
	here := pct(float64(n-1) / float64(of-1) * 0.94)
	var s svg
	s.open("svg", "class", "startline", "width", "100%", "height", 2*mid, "aria-hidden", "true")
	s.leaf("line", "class", "tick", "x2", "94%", "y1", mid, "y2", mid)
	for i := range of {
		x := pct(float64(i) / float64(of-1) * 0.94)
		s.leaf("line", "class", "tick", "x1", x, "x2", x, "y1", mid-long, "y2", mid+long)
	}
	s.leaf("line", "class", "past shown", "x2", here, "y1", mid, "y2", mid)
	s.open("svg", "class", "free", "x", here, "y", mid)
	s.leaf("circle", "class", "disc", "r", 7)
	s.path("ink", "M-7 0a7 7 0 0 0 14 0z")
	s.end("svg")
	s.end("svg")
	return s.html()
}

// sentence is what has been answered so far, a piece for each question.
func (s *site) sentence(a url.Values, upTo int, sown []engine.Opening) string {
	say := s.words.say
	var said []string
	add := func(i int, text string) {
		if i < upTo && text != "" {
			said = append(said, text)
		}
	}
	add(0, orElse(a.Get("name"), say("start.name.usual"))+".")
	if a.Get("lat") != "" {
		add(1, say("start.so.place", a.Get("lat"), say("start.ns."+orElse(a.Get("ns"), "N")), orElse(a.Get("elev"), "0 m")))
	}
	add(2, s.soWeather(a))
	add(3, s.soPeople(a))
	add(4, s.soAmount(a, "roof", unit.Area))
	add(5, s.soTanks(a))
	add(6, s.soBeds(a, sown))
	add(7, s.soNamed(a, "trees", "tree.", startTrees))
	add(8, s.soNamed(a, "store", "lot.", startFoods))
	add(9, say("start.so.toilet."+orElse(a.Get("toilet"), "other")))
	add(10, s.soCook(a))
	return strings.Join(said, " ")
}

func (s *site) soWeather(a url.Values) string {
	if a.Get("weather") == "kept" {
		return s.words.say("start.so.weather.kept", a.Get("kept"))
	}
	return s.words.say("start.so.weather." + orElse(a.Get("weather"), "none"))
}

func (s *site) soPeople(a url.Values) string {
	if n := a.Get("people"); n != "1" {
		return s.words.say("start.so.people", orElse(n, "2"))
	}
	return s.words.say("start.so.person")
}

func (s *site) soAmount(a url.Values, name string, k unit.Kind) string {
	if v, err := unit.Parse(a.Get(name), k); err != nil || v == 0 {
		return s.words.say("start.so." + name + ".none")
	}
	return s.words.say("start.so."+name, typedAmount.Replace(a.Get(name)))
}

// typedAmount writes an amount as it was typed, for a sentence.
var typedAmount = strings.NewReplacer(" ", nbsp, "m2", "m²", "ft2", "ft²")

func (s *site) soTanks(a url.Values) string {
	switch n := a.Get("tanks"); n {
	case "", "0":
		return s.words.say("start.so.tanks.none")
	case "1":
		return s.words.say("start.so.tank", a.Get("size"), a.Get("full"))
	default:
		return s.words.say("start.so.tanks", n, a.Get("size"), a.Get("full"))
	}
}

func (s *site) soBeds(a url.Values, sown []engine.Opening) string {
	said := s.soAmount(a, "beds", unit.Area)
	var names []string
	for _, c := range (&startText{a: a, sown: sown}).grown() {
		names = append(names, c.Name)
	}
	if len(names) > 0 {
		said += " " + s.words.say("start.so.crops", strings.Join(names, ", "))
	}
	return said
}

func (s *site) soNamed(a url.Values, key, prefix string, keys []string) string {
	var said []string
	for _, k := range keys {
		if v := a.Get(prefix + k); v != "" && v != "0" {
			said = append(said, s.words.say("start.so."+key+".each", v, lowerFirst(s.words.say("start.ask."+key+"."+k))))
		}
	}
	if len(said) == 0 {
		return s.words.say("start.so." + key + ".none")
	}
	return s.words.say("start.so."+key, strings.Join(said, ", "))
}

func (s *site) soCook(a url.Values) string {
	var said []string
	for k := range strings.SplitSeq(a.Get("cook"), ",") {
		if k != "" {
			said = append(said, s.words.say("start.so.cook."+k))
		}
	}
	if len(said) == 0 {
		return ""
	}
	return s.words.say("start.so.cook", strings.Join(said, ", "))
}
