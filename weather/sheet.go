package weather

import (
	"math"

	"evenstead/day"
)

// The values of a day that are kept, in this order wherever they are indexed.
const (
	rain = iota
	tmin
	tmax
	wind
	kinds
)

var kindNames = [kinds]string{"rain", "tmin", "tmax", "wind"}

// A sheet gathers a file's values as they are written, one slot a day, before the
// units are settled. It grows with the span of dates, never with the file.
type sheet struct {
	base  day.Day
	value [kinds][]float64
	line  []int32 // where the day stands; 0 when it has no row

	first, last day.Day
	rows        int
	written     [kinds]int // values that are numbers
	pointed     [kinds]int // of those, written with a decimal point
	sentinels   int        // numbers that stand for missing
	flagged     int        // values that failed the station's own checks
	repeated    int        // rows given twice alike
	unordered   bool
	heading     [kinds]string // units that the heading names

	form    string // what the file was found to be
	fixed   bool   // the form itself sets the units to tenths
	station string
	about   about
	seen    evidence // of the values as written
}

// about is what a file says of its station.
type about struct {
	name           string
	lat, lon, elev float64
	line           int
}

func newSheet() *sheet {
	nan := math.NaN()
	return &sheet{about: about{lat: nan, lon: nan, elev: nan}}
}

// mark notes that a day has a row, and tells its slot and whether it had one before.
func (s *sheet) mark(line int, d day.Day) (slot int, seen bool) {
	if s.rows == 0 {
		s.first, s.last = d, d
	}
	s.rows++
	s.unordered = s.unordered || d < s.last
	s.first, s.last = min(s.first, d), max(s.last, d)
	slot = int(d - s.base)
	if slot < 0 || slot >= len(s.line) {
		s.grow()
		slot = int(d - s.base)
	}
	seen = s.line[slot] != 0
	if !seen {
		s.line[slot] = int32(line)
	}
	return slot, seen
}

// grow moves the values to slices that hold the first to the last day with room to spare.
func (s *sheet) grow() {
	spare := day.Day(len(s.line)/2 + 400)
	base := s.first
	if len(s.line) > 0 && s.first < s.base {
		base -= spare
	} else if len(s.line) > 0 {
		base = s.base
	}
	size := int(s.last+spare-base) + 1
	shift := int(s.base - base)
	for k := range s.value {
		wider := missing(size)
		if len(s.line) > 0 {
			copy(wider[shift:], s.value[k])
		}
		s.value[k] = wider
	}
	line := make([]int32, size)
	if len(s.line) > 0 {
		copy(line[shift:], s.line)
	}
	s.line, s.base = line, base
}

func missing(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = math.NaN()
	}
	return x
}

// set keeps a value; a day may not have two that differ.
func (s *sheet) set(line, slot, kind int, v float64) error {
	old := s.value[kind][slot]
	if !math.IsNaN(old) && !math.IsNaN(v) && old != v {
		return faultAt(line, "keep one row a day (an hourly file is not read)",
			"%s has two values of %s: %g here and %g in line %d",
			s.base+day.Day(slot), kindNames[kind], v, old, s.line[slot])
	}
	if !math.IsNaN(v) {
		s.value[kind][slot] = v
	}
	return nil
}

// trim cuts the spare slots off, so that slot 0 is the first day.
func (s *sheet) trim() {
	from, to := int(s.first-s.base), int(s.last-s.base)+1
	for k := range s.value {
		s.value[k] = s.value[k][from:to:to]
	}
	s.line, s.base = s.line[from:to], s.first
}

// of keeps the file to one station.
func (s *sheet) of(line int, station []byte) error {
	if s.station == "" {
		s.station, s.about.line = string(station), line
	}
	if len(station) > 0 && string(station) != s.station {
		return faultAt(line, "keep the rows of one of them",
			"the file holds two stations: %s (line %d) and %s", shown(s.station), s.about.line, shown(string(station)))
	}
	return nil
}

// lost are the numbers that no file means as a measurement, in any units.
func lost(v float64) bool {
	switch v {
	case -9999, -999.9, -999, -99.9, -99.99, 99.99, 999.9, 999.99, 9999, 99999:
		return true
	}
	return false
}
