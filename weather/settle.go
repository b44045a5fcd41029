package weather

import (
	"fmt"
	"math"
	"strings"

	"evenstead/day"
)

// record settles the units, drops what cannot be and says what was done.
func (s *sheet) record(o Options) (*Record, error) {
	s.trim()
	temp, wet, why, err := s.units(o)
	if err != nil {
		return nil, err
	}
	r := &Record{
		Station: s.station, Name: s.about.name, Lat: s.about.lat, Lon: s.about.lon, Elev: s.about.elev,
		Start: s.first, Rain: s.value[rain], TMin: s.value[tmin], TMax: s.value[tmax],
	}
	if s.written[wind] > 0 {
		r.Wind = s.value[wind]
	}
	s.dropSentinels(temp, wet)
	convert(r, temp, wet)
	r.note("%sRead as %s, %s.", named(o.Name), s.form, count(s.rows, "row"))
	r.note("Rain taken as %s and temperature as %s: %s.", rainUnits[wet], tempUnits[temp], why)
	s.noteRows(r)
	if err := s.dropImpossible(r, o.Units); err != nil {
		return nil, err
	}
	if err := s.dropTwisted(r); err != nil {
		return nil, err
	}
	r.noteGaps()
	return r, nil
}

func named(name string) string {
	if name == "" {
		return ""
	}
	return name + ": "
}

func (r *Record) note(format string, args ...any) {
	r.Notes = append(r.Notes, fmt.Sprintf(format, args...))
}

// dropSentinels takes 99.9 and -99 for missing where the units leave no other reading.
func (s *sheet) dropSentinels(temp, wet Units) {
	nines, nan := 0, math.NaN()
	for _, k := range []int{tmin, tmax} {
		for i, v := range s.value[k] {
			if temp == MetricUnits && v == 99.9 || temp != TenthsUnits && v == -99 {
				s.value[k][i] = nan
				s.sentinels++
				nines++
			}
		}
	}
	for i, v := range s.value[rain] {
		if v == -99 || wet == MetricUnits && v == 99.9 && (nines > 0 || s.nines() >= 3) {
			s.value[rain][i] = nan
			s.sentinels++
		}
	}
}

// nines counts days whose rain is written 99.9; three alike are not rain.
func (s *sheet) nines() int {
	n := 0
	for _, v := range s.value[rain] {
		if v == 99.9 {
			n++
		}
	}
	return n
}

func convert(r *Record, temp, wet Units) {
	for i := range r.Rain {
		r.Rain[i] = wet.rain(r.Rain[i])
		r.TMin[i], r.TMax[i] = temp.temp(r.TMin[i]), temp.temp(r.TMax[i])
	}
	for i, v := range r.Wind {
		r.Wind[i] = temp.wind(v)
		if r.Wind[i] < 0 || r.Wind[i] > 110 {
			r.Wind[i] = math.NaN()
		}
	}
}

func (s *sheet) noteRows(r *Record) {
	var said []string
	add := func(n int, noun, what string) {
		if n > 0 {
			said = append(said, count(n, noun)+what)
		}
	}
	add(s.flagged, "value", " left out that failed the station's own checks")
	add(s.sentinels, "number", " taken for missing, such as 99.9 and -9999")
	add(s.repeated, "row", " given again and alike")
	if s.unordered {
		said = append(said, "rows out of order, sorted")
	}
	if said != nil {
		r.note("%s.", capital(strings.Join(said, "; ")))
	}
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// few is the share of days that may be wrong in one way and be dropped; more
// than that and the file is refused.
const (
	fewImpossible = 0.005
	fewTwisted    = 0.01
)

func (s *sheet) dropImpossible(r *Record, set Units) error {
	n, at := 0, -1
	drop := func(x []float64, i int, lo, hi float64) {
		if x[i] < lo || x[i] > hi {
			if at < 0 {
				at = i
			}
			x[i] = math.NaN()
			n++
		}
	}
	was := [kinds]float64{}
	for i := range r.Rain {
		if at < 0 {
			was = [kinds]float64{r.Rain[i], r.TMin[i], r.TMax[i]}
		}
		drop(r.Rain, i, 0, wettest)
		drop(r.TMin, i, coldest, hottest)
		drop(r.TMax, i, coldest, hottest)
	}
	said := fmt.Sprintf("rain %.4g mm, tmin %.4g °C, tmax %.4g °C", was[rain], was[tmin], was[tmax])
	switch {
	case n == 0:
		return s.checkTotals(r, set)
	case float64(n) > fewImpossible*float64(r.Days()):
		return faultAt(int(s.line[at]), s.otherUnits(set), "%s cannot be (%s; the first is %s)",
			count(n, "value"), s.base+day.Day(at), said)
	}
	r.note("%s that cannot be left out, the first in line %d (%s).", capital(count(n, "value")), s.line[at], said)
	return s.checkTotals(r, set)
}

// otherUnits says which units would suit the values, when some would.
func (s *sheet) otherUnits(set Units) string {
	e := s.seen
	for _, u := range choices {
		if set != Auto && u != set && e.tempFits(u) && e.rainFits(u) {
			return "the values look like " + u.String() + ": set those units"
		}
	}
	return "mend or empty those values, or set the units"
}

// checkTotals refuses rain that would drown any place: more than 13 m a year.
func (s *sheet) checkTotals(r *Record, set Units) error {
	sum, n := 0.0, 0
	for _, v := range r.Rain {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	if n >= 30 && sum/float64(n)*365 > 13000 {
		return faultAt(0, s.otherUnits(set), "rain comes to %.0f m a year", sum/float64(n)*0.365)
	}
	return nil
}

func (s *sheet) dropTwisted(r *Record) error {
	n, at := 0, -1
	var lo, hi float64
	for i := range r.TMin {
		if r.TMin[i] > r.TMax[i] {
			if n++; at < 0 {
				at, lo, hi = i, r.TMin[i], r.TMax[i]
			}
			r.TMin[i], r.TMax[i] = math.NaN(), math.NaN()
		}
	}
	if n == 0 {
		return nil
	}
	said := fmt.Sprintf("%s, tmin %.1f, tmax %.1f °C", s.base+day.Day(at), lo, hi)
	if float64(n) > fewTwisted*float64(r.Days()) {
		return faultAt(int(s.line[at]), "check that the columns are not exchanged", "tmin is above tmax on %s (first %s)", count(n, "day"), said)
	}
	r.note("Temperatures of %s with tmin above tmax left out, the first in line %d (%s).", count(n, "day"), s.line[at], said)
	return nil
}

// noteGaps says what the record covers.
func (r *Record) noteGaps() {
	known, run, longest, end := 0, 0, 0, 0
	for i := range r.Rain {
		if r.known(i) {
			known++
			run = 0
		} else if run++; run > longest {
			longest, end = run, i
		}
	}
	if longest == 0 {
		r.note("%s to %s, %s without a gap.", r.Start, r.End(), count(r.Days(), "day"))
		return
	}
	from := r.Start + day.Day(end-longest+1)
	r.note("%s to %s, %s, %s whole; the longest gap is %s from %s.", r.Start, r.End(),
		count(r.Days(), "day"), thousands(known), count(longest, "day"), from)
}
