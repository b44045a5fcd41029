package web

import (
	"encoding/csv"
	"math"
	"net/http"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/unit"
	"evenstead/weather"
)

// standing is the stead as it stands, made ready for the pages that show it.
type standing struct {
	*site
	snap    *Snapshot
	now     *engine.Standing
	growths []engine.Growth
	ruler   ruler
	cover   coverRule
}

// yearWeeks is how far ahead the pages look that need no outlook.
const yearWeeks = 52

// withStanding hands a page the stead as it stands, or says why it can't be told.
func (s *site) withStanding(w http.ResponseWriter, r *http.Request, show func(*standing)) {
	s.withDesk(w, r, func(snap *Snapshot) {
		if snap.Past == nil {
			s.sayStopped(w, snap.Trouble)
			return
		}
		st := &standing{site: s, snap: snap, ruler: ruler{snap.Today, yearWeeks}, cover: coverRule{365}}
		var err error
		if st.now, st.growths, err = snap.Past.Year(snap.Tables, *snap.Usual); err != nil {
			s.sayStopped(w, err)
			return
		}
		show(st)
	})
}

// stillFrame is the frame of a page that shows what is, with the year over it.
func (s *standing) stillFrame(current string) frame {
	f := s.bareFrame(s.words.say("screen."+current), current)
	if f.Stead == "" {
		f.Stead = s.snap.Stead.Name
	}
	f.Almanac = s.words.say("still.almanac", s.words.weekday(s.snap.Today), count(int(s.snap.Today-s.stayed())+1))
	f.Defs = defs(s.ruler, s.cover, s.words)
	past := strconv.Itoa(s.ruler.past())
	f.Year = yearRule(s.ruler, s.rain(), s.words.say("year.title"), s.words.say("year.desc", past))
	return f
}

// stayed is the first day of the stay.
func (s *standing) stayed() day.Day { return s.snap.Past.Known.Start }

// rain is what fell by record and book, and what a usual year brings.
func (s *standing) rain() *Rain {
	r := &Rain{Past: make([]float64, s.ruler.past()), Usual: make([]float64, s.ruler.weeks)}
	known := s.snap.Past.Known
	for i, mm := range known.Rain {
		back := int(s.snap.Today - known.Start - day.Day(i))
		if week := len(r.Past) - 1 - (back-1)/7; back > 0 && week >= 0 && mm > 0 {
			r.Past[week] += mm
		}
	}
	for i := range 7 * s.ruler.weeks {
		r.Usual[i/7] += s.snap.Usual.Rain[weather.Slot(s.snap.Today+day.Day(i))]
	}
	from, to, ok := s.frosts()
	for week := range r.Usual {
		if d := s.ruler.week(week) + 3; ok && turn365(weather.Slot(d)-from) <= turn365(to-from) {
			r.Frost = append(r.Frost, week)
		}
	}
	return r
}

// frosts are the places in the year of the usual first and last frost; ok is
// false where most years have none.
func (s *standing) frosts() (first, last int, ok bool) {
	u := s.snap.Usual
	if !(u.FirstAutumn.Share() >= 0.5) || !(u.LastSpring.Share() >= 0.5) {
		return 0, 0, false
	}
	return int(math.Round(u.FirstAutumn.Mean())) - 1, int(math.Round(u.LastSpring.Mean())) - 1, true
}

// turn365 brings days onto the year, 0 to 364.
func turn365(d int) int { return ((d % 365) + 365) % 365 }

// say is the phrase of a key.
func (s *standing) say(key string, args ...any) string { return s.words.say(key, args...) }

// amount writes an SI quantity in the page's units.
func (s *standing) amount(v float64, unit string) string { return s.opt.amount(v, unit) }

// of writes how much of what: "9,000 of 26,000 L".
func (s *standing) of(v, size float64, unit string) string {
	return s.say("still.of", figure(v*s.opt.measure(unit).per), s.amount(size, unit))
}

// warmth writes a temperature.
func (s *standing) warmth(c float64) string {
	if s.opt.Units == unit.US {
		return count(int(math.Round(c*9/5+32))) + nbsp + "°F"
	}
	return count(int(math.Round(c))) + nbsp + "°C"
}

// date writes a day, with the year when it is not within twelve months of today.
func (s *standing) date(d day.Day) string {
	switch away := d - s.snap.Today; {
	case d == 0:
		return ""
	case away == 0:
		return s.say("still.today")
	case away > 330 || away < -330:
		return d.Long()
	}
	return d.Short()
}

// found says when and how a store was last seen.
func (s *standing) found(g engine.Sight) string {
	return s.say("found."+g.How, s.date(g.Day))
}

// drift says what the last count or dip found against the reckoning; empty when
// there was none, or the two agreed.
func (s *standing) drift(g engine.Sight) string {
	if g.Drift == nil {
		return ""
	}
	more := g.Drift.Found - g.Drift.Reckoned
	switch {
	case math.Abs(more) < 0.005*max(g.Drift.Found, g.Drift.Reckoned):
		return s.say("drift.none")
	case more < 0:
		return s.say("drift.less", s.amount(-more, g.Drift.Unit)) + s.since(g.Drift.Days)
	}
	return s.say("drift.more", s.amount(more, g.Drift.Unit)) + s.since(g.Drift.Days)
}

// since is how long a drift had to grow; empty within a day.
func (s *standing) since(days int) string {
	if days == 0 {
		return ""
	}
	return s.say("drift.since", s.words.days(days, false))
}

// likely says what a drift may come from.
func likely(g engine.Sight) string {
	if g.Drift == nil {
		return ""
	}
	return g.Drift.Likely
}

// list joins names as a sentence does: "kale, chard and leeks".
func (w words) list(names []string) string {
	switch n := len(names); n {
	case 0:
		return ""
	case 1:
		return names[0]
	default:
		return w.say("list.and", strings.Join(names[:n-1], ", "), names[n-1])
	}
}

// sheet sends a table as CSV; the first row is the head.
func (s *site) csv(w http.ResponseWriter, name string, rows [][]string) {
	h := w.Header()
	h.Set("Content-Type", "text/csv; charset=utf-8")
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	out := csv.NewWriter(w)
	for _, row := range rows {
		for i, cell := range row {
			row[i] = plainCell(cell)
		}
		// A reader that has gone away is no fault of the table.
		_ = out.Write(row)
	}
	out.Flush()
}

// plainCell keeps a name from being taken for a formula by a spreadsheet.
func plainCell(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	return "'" + cell
}

// si writes a figure for a table that is read by machines: at most so many
// digits as were meant, empty when it is not known.
func si(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}

// iso writes a day for machines; empty for none.
func iso(d day.Day) string {
	if d == 0 {
		return ""
	}
	return d.String()
}
