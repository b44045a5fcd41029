package weather

import (
	"bytes"
	"io"
	"math"
	"strings"
)

// parse tells the form of the file from its first line and reads it all.
func (s *sheet) parse(l *lines) error {
	first, err := l.next()
	if err == io.EOF {
		return faultAt(0, "download it again", "the file is empty")
	}
	if err != nil {
		return err
	}
	var packed string
	if l.gz {
		packed = ", gzipped"
	}
	switch {
	case isDly(first):
		s.form, s.fixed = "GHCN-Daily fixed width"+packed, true
		return s.each(l, first, s.dlyLine)
	case isElementRow(split(first, ',', nil)):
		s.form, s.fixed = "GHCN-Daily CSV, one element a line"+packed, true
		c := noColumns()
		c.delim, c.station, c.date, c.element, c.value, c.qflag = ',', 0, 1, 2, 3, 5
		return s.each(l, first, s.elementLine(c, isoOrder))
	}
	c, err := s.headingOf(first, l.n)
	if err != nil {
		return err
	}
	o, err := dateOrder(l.ahead(), c)
	if err != nil {
		return err
	}
	if c.element >= 0 && c.value >= 0 {
		s.form, s.fixed = "GHCN-Daily CSV, one element a line"+packed, true
		return s.each(l, nil, s.elementLine(c, o))
	}
	s.form = "daily CSV, " + delimName(c.delim) + ", dates " + orderNames[o] + packed
	return s.each(l, nil, s.rowLine(c, o))
}

func delimName(d byte) string {
	switch d {
	case ';':
		return "semicolons"
	case '\t':
		return "tabs"
	}
	return "commas"
}

// each hands the lines on, the first one too when it is given.
func (s *sheet) each(l *lines, first []byte, read func(line []byte, n int) error) error {
	line, err := first, error(nil)
	if first == nil {
		line, err = l.next()
	}
	for ; err == nil; line, err = l.next() {
		if err := read(line, l.n); err != nil {
			return err
		}
	}
	if err == io.EOF {
		return nil
	}
	return err
}

// rowLine reads one day.
func (s *sheet) rowLine(c columns, o order) func([]byte, int) error {
	fields := make([][]byte, 0, 64)
	return func(line []byte, n int) error {
		fields = split(line, c.delim, fields)
		if err := c.fits(fields, n); err != nil {
			return err
		}
		if err := s.who(c, fields, n); err != nil {
			return err
		}
		d, ok := date(fields[c.date], o)
		if !ok {
			return badDate(n, fields[c.date], o)
		}
		slot, seen := s.mark(n, d)
		if seen {
			s.repeated++
		}
		for k := range kinds {
			if err := s.cell(c, fields, n, slot, k); err != nil {
				return err
			}
		}
		return nil
	}
}

// fits allows empty fields beyond the heading and left off at the end, nothing else.
func (c *columns) fits(fields [][]byte, n int) error {
	extra := len(fields) > c.width && len(bytes.Join(fields[c.width:], nil)) > 0
	need := max(c.date, c.kind[rain], c.kind[tmin], c.kind[tmax]) + 1
	if extra || len(fields) < need {
		return faultAt(n, "give each line the fields of the heading, parted in the same way (a decimal comma needs semicolons)",
			"the line has %s where the heading has %d", count(len(fields), "field"), c.width)
	}
	return nil
}

// who keeps to one station and notes what the first row says of it.
func (s *sheet) who(c columns, fields [][]byte, n int) error {
	at := func(i int) []byte {
		if i < 0 || i >= len(fields) {
			return nil
		}
		return fields[i]
	}
	id := at(c.station)
	if c.station < 0 {
		id = at(c.name)
	}
	if s.station == "" {
		s.about.name = strings.Clone(string(at(c.name)))
		s.about.lat, _, _ = number(at(c.lat), false)
		s.about.lon, _, _ = number(at(c.lon), false)
		s.about.elev, _, _ = number(at(c.elev), false)
	}
	return s.of(n, id)
}

func (s *sheet) cell(c columns, fields [][]byte, n, slot, k int) error {
	if c.kind[k] < 0 || c.kind[k] >= len(fields) {
		return nil
	}
	f := fields[c.kind[k]]
	if k == rain && len(f) == 1 && (f[0] == 'T' || f[0] == 't') { // a trace
		return s.set(n, slot, k, 0)
	}
	v, point, ok := number(f, c.delim != ',')
	switch {
	case !ok:
		return badNumber(n, k, f)
	case math.IsNaN(v):
		return nil
	case lost(v):
		s.sentinels++
		return nil
	case c.flags[k] >= 0 && c.flags[k] < len(fields) && failed(fields[c.flags[k]]):
		s.flagged++
		return nil
	}
	s.written[k]++
	if point {
		s.pointed[k]++
	}
	return s.set(n, slot, k, v)
}

// failed tells whether an attribute "M,Q,S" has a quality flag.
func failed(attributes []byte) bool {
	_, after, ok := bytes.Cut(attributes, []byte{','})
	q, _, _ := bytes.Cut(after, []byte{','})
	return ok && len(bytes.TrimSpace(q)) > 0
}

func badDate(n int, f []byte, o order) *Fault {
	return faultAt(n, "write it as 2012-01-31", "%s is not a date in the order %s that the file began with", shown(string(f)), orderNames[o])
}

func badNumber(n, kind int, f []byte) *Fault {
	return faultAt(n, "write a number, or leave it empty when it is missing", "%s is not a number for %s", shown(string(f)), kindNames[kind])
}

// dateOrder finds how dates are written from the rows that can be seen ahead.
func dateOrder(head []byte, c columns) (order, error) {
	var overFirst, overSecond bool
	fields := make([][]byte, 0, 64)
	for line := range bytes.Lines(head) {
		fields = split(bytes.TrimRight(line, "\r\n"), c.delim, fields)
		if c.date >= len(fields) {
			continue
		}
		p, iso, ok := dateParts(fields[c.date])
		if ok && iso {
			return isoOrder, nil
		}
		overFirst = overFirst || ok && p[0] > 12
		overSecond = overSecond || ok && p[1] > 12
	}
	switch {
	case overSecond && !overFirst:
		return monthFirst, nil
	case overFirst && !overSecond:
		return dayFirst, nil
	case overFirst:
		return 0, faultAt(0, "write them as 2012-01-31", "dates are partly month/day and partly day/month")
	case len(bytes.TrimSpace(head)) == 0:
		return 0, faultAt(0, "check that it is the daily file and not only its heading", "the file holds no days")
	}
	return 0, faultAt(0, "write dates as 2012-01-31", "the order of day and month cannot be told, or the dates are not dates")
}
