package web

import (
	"encoding/csv"
	"math"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/unit"
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

// withStanding hands a page the stead as it stands, or says why it can't be told.
func (s *site) withStanding(w http.ResponseWriter, r *http.Request, show func(*standing)) {
	s.withDesk(w, r, func(snap *Snapshot) {
		if snap.Past == nil {
			s.sayStopped(w, snap.Trouble)
			return
		}
		st, err := s.standingOf(snap)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		show(st)
	})
}

// standingOf is the stead as it stands by a snapshot that has a past.
func (s *site) standingOf(snap *Snapshot) (st *standing, err error) {
	st = &standing{site: s, snap: snap, ruler: ruler{snap.Today, usualWeeks}, cover: coverRule{365}}
	if snap.Outlook != nil { // the frame's ruler
		v := s.view(snap.Outlook)
		st.ruler.weeks, st.cover = v.ruler.weeks, v.cover
	}
	st.now, st.growths, err = snap.year.of(snap)
	return st, err
}

// yearOnce keeps the standing of a state, reckoned when it is first asked for.
// What it gives is shared and must not be changed.
type yearOnce struct {
	once    sync.Once
	now     *engine.Standing
	growths []engine.Growth
	err     error
}

func (y *yearOnce) of(s *Snapshot) (*engine.Standing, []engine.Growth, error) {
	y.once.Do(func() { y.now, y.growths, y.err = s.Past.Year(s.Tables, *s.Usual) })
	return y.now, y.growths, y.err
}

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
		return s.words.long(d)
	}
	return s.words.short(d)
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
