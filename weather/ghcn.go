package weather

import (
	"bytes"
	"math"

	"evenstead/day"
)

// isDly tells the fixed-width form of the GHCN-Daily readme, section III.
func isDly(line []byte) bool {
	return len(line) >= 26 && allDigits(line[11:17]) && elementID(line[17:21]) &&
		!bytes.ContainsAny(line[:21], ",; \t")
}

func elementID(f []byte) bool {
	for _, c := range f {
		if (c < 'A' || c > 'Z') && (c < '0' || c > '9') {
			return false
		}
	}
	return len(f) == 4 && !allDigits(f)
}

func isElementRow(f [][]byte) bool {
	if len(f) < 4 || len(f[1]) != 8 || !allDigits(f[1]) || !elementID(f[2]) {
		return false
	}
	_, _, ok := number(f[3], false)
	return ok
}

// kindOf returns the kind of a GHCN element, or -1.
func kindOf(element []byte) int {
	switch string(element) {
	case "PRCP":
		return rain
	case "TMIN":
		return tmin
	case "TMAX":
		return tmax
	case "AWND":
		return wind
	}
	return -1
}

// dlyLine reads one month of one element: value d starts in column 22 + 8(d - 1).
func (s *sheet) dlyLine(line []byte, n int) error {
	if !isDly(line) {
		return faultAt(n, "download it again", "%s is not a line of the fixed-width form", shown(string(line)))
	}
	if err := s.of(n, line[:11]); err != nil {
		return err
	}
	kind := kindOf(line[17:21])
	if kind < 0 {
		return nil
	}
	y, m := atoi(line[11:15]), atoi(line[15:17])
	for d := 1; 21+8*d-3 <= len(line); d++ {
		at := 21 + 8*(d-1)
		text := bytes.TrimSpace(line[at : at+5])
		v, _, ok := number(text, false)
		when, real := calendar(y, m, d)
		switch {
		case d > 31 || !ok || !real && v != -9999 && len(text) > 0:
			return faultAt(n, "download it again", "column %d holds %s where day %d of %d-%02d should be", at+1, shown(string(text)), d, y, m)
		case !real:
			continue
		}
		bad := len(line) > at+6 && line[at+6] != ' '
		if err := s.element(n, when, kind, v, bad); err != nil {
			return err
		}
	}
	return nil
}

func (s *sheet) element(line int, d day.Day, kind int, v float64, bad bool) error {
	slot, _ := s.mark(line, d)
	if v == -9999 || math.IsNaN(v) {
		return nil
	}
	if bad {
		s.flagged++
		return nil
	}
	s.written[kind]++
	return s.set(line, slot, kind, v)
}

// elementLine reads ID,YYYYMMDD,ELEMENT,VALUE,MFLAG,QFLAG,SFLAG,OBS-TIME.
func (s *sheet) elementLine(c columns, o order) func([]byte, int) error {
	fields := make([][]byte, 0, 16)
	need := max(c.station, c.date, c.element, c.value) + 1
	return func(line []byte, n int) error {
		fields = split(line, c.delim, fields)
		if len(fields) < need {
			return faultAt(n, "download it again", "the line has %s; %d are needed", count(len(fields), "field"), need)
		}
		if c.station >= 0 {
			if err := s.of(n, fields[c.station]); err != nil {
				return err
			}
		}
		kind := kindOf(fields[c.element])
		if kind < 0 {
			return nil
		}
		d, ok := date(fields[c.date], o)
		if !ok {
			return badDate(n, fields[c.date], o)
		}
		v, _, ok := number(fields[c.value], false)
		if !ok {
			return badNumber(n, kind, fields[c.value])
		}
		bad := c.qflag >= 0 && c.qflag < len(fields) && len(fields[c.qflag]) > 0
		return s.element(n, d, kind, v, bad)
	}
}
