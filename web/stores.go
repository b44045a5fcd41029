package web

import (
	"html/template"
	"net/http"
	"sort"
	"strconv"

	"evenstead/engine"
)

// storesAPage keeps the screen under 100 KB however many stores there are.
const storesAPage = 10

// storesPage is the screen "Stores".
type storesPage struct {
	frame
	Running    string
	Count      int
	Stores     []storeView
	Prev, Next string // ways to the other stores; empty when there are none
	Loops      []loopView
}

// stores shows what is, at a desk; the fans of the time ahead are then asked for
// by the number of the first.
func (s *site) stores(w http.ResponseWriter, r *http.Request) {
	if s.desk != nil && r.URL.Query().Get("from") == "" {
		s.shelves(w, r)
		return
	}
	s.withOutlook(w, r, func(o *engine.Outlook, p Progress) {
		v := s.view(o)
		from, to := slice(r.URL.Query().Get("from"), len(v.stores))
		page := storesPage{frame: s.frame(v, "stores"), Running: s.running(o, p), Count: len(v.stores)}
		for i := from; i < to; i++ {
			page.Stores = append(page.Stores, v.storeView(i))
		}
		if from == 0 {
			page.Loops = v.loopViews(false)
		} else {
			page.Prev = "/stores?from=" + strconv.Itoa(max(1, from+1-storesAPage))
		}
		if to < len(v.stores) {
			page.Next = "/stores?from=" + strconv.Itoa(to+1)
		}
		s.render(w, http.StatusOK, "stores", page)
	})
}

// slice reads the number of the first store to show, counted from one; anything
// else means the first.
func slice(text string, all int) (from, to int) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > all {
		n = 1
	}
	return n - 1, min(all, n-1+storesAPage)
}

// storeView is one store: its words, its drawing and its figures.
type storeView struct {
	label
	Now  string
	Why  string // the way to the trace of its need; empty for none
	Said string
	Fan  template.HTML
	Unit string
	Rows []monthRow
}

// monthRow is a store at the start of a month.
type monthRow struct{ When, Low, Middle, High, Short string }

// foremost picks the stores whose need is likeliest to fall short, one or more,
// and gives their places in the fixed order.
func (v *view) foremost(most int) []int {
	places := make([]int, len(v.stores))
	for i := range places {
		places[i] = i
	}
	risk := func(i int) float64 {
		if n := v.need(v.stores[i].Need); n != nil && n.Known {
			return n.ShareShort
		}
		return -1
	}
	sort.SliceStable(places, func(a, b int) bool { return risk(places[a]) > risk(places[b]) })
	places = places[:min(most, len(places))]
	sort.Ints(places)
	return places
}

func (v *view) storeViews(places []int) []storeView {
	views := make([]storeView, len(places))
	for i, at := range places {
		views[i] = v.storeView(at)
	}
	return views
}

func (v *view) storeView(at int) storeView {
	st := &v.stores[at]
	why := ""
	if n := v.need(st.Need); n != nil {
		why = v.whyWay(n)
	}
	return storeView{
		Why:   why,
		label: v.label(st.Group, v.words.store(st.ID, st.Name)),
		Now:   v.nowIn(st),
		Said:  v.words.lowest(st, v.o.Today),
		Fan:   v.stave(st, ids("s", at)).fan(),
		Unit:  v.opt.measure(st.Unit).unit,
		Rows:  v.monthRows(st),
	}
}

// nowIn says what a store holds today, of what, and where enough ends.
func (v *view) nowIn(st *engine.StoreOutlook) string {
	said := v.words.say("store.now", v.opt.amount(st.Now, st.Unit))
	if st.Size > 0 {
		said = v.words.say("store.of", figure(st.Now*v.opt.measure(st.Unit).per), v.opt.amount(st.Size, st.Unit))
	}
	if st.Line > 0 {
		said += "; " + v.words.say("store.line", v.opt.amount(st.Line, st.Unit))
	}
	return said
}

func (v *view) stave(st *engine.StoreOutlook, id string) stave {
	full := ""
	if st.Size > st.Line {
		full = v.words.say("store.full", v.opt.amount(st.Size, st.Unit))
	}
	return stave{
		id: id, title: v.words.say("fan.title", v.words.store(st.ID, st.Name), count(v.ruler.weeks)), desc: v.fanDesc(st), full: full,
		weeks: v.ruler.weeks, line: st.Line, size: st.Size, bands: st.Weeks, chance: v.chance(st.Need),
		trail: v.trail(st),
	}
}

// chance is the weekly chance of a need; nil when it is not known.
func (v *view) chance(id string) []float64 {
	if n := v.need(id); n != nil && n.Known {
		return n.Short
	}
	return nil
}

// fanDesc says in words what the fan shows.
func (v *view) fanDesc(st *engine.StoreOutlook) string {
	if len(st.Weeks) == 0 {
		return st.Said
	}
	end := st.Weeks[len(st.Weeks)-1]
	said := v.words.say("fan.desc", v.opt.amount(st.Now, st.Unit), v.opt.amount(end.P10, st.Unit),
		v.opt.amount(end.P90, st.Unit), v.weekIn(len(st.Weeks)-1))
	if n := v.need(st.Need); n != nil {
		said += " " + v.words.say("fan.need", v.words.need(n), v.worst(n))
	}
	return said
}

// monthRows are the figures of a fan at today and at the first week of each month.
func (v *view) monthRows(st *engine.StoreOutlook) []monthRow {
	chance := v.chance(st.Need)
	per := v.opt.measure(st.Unit).per
	var rows []monthRow
	for i, b := range st.Weeks {
		d := v.ruler.week(i)
		if i > 0 && d.Month() == v.ruler.week(i-1).Month() {
			continue
		}
		row := monthRow{v.words.long(d), v.words.figure(b.P10 * per), v.words.figure(b.P50 * per), v.words.figure(b.P90 * per), "–"}
		if i < len(chance) {
			row.Short = inHundred(v.worstInMonth(chance, i))
		}
		rows = append(rows, row)
	}
	return rows
}

// worstInMonth is the greatest weekly chance from a week to the end of its month.
func (v *view) worstInMonth(chance []float64, from int) float64 {
	high, m := 0.0, v.ruler.week(from).Month()
	for i := from; i < len(chance) && v.ruler.week(i).Month() == m; i++ {
		high = max(high, chance[i])
	}
	return high
}
