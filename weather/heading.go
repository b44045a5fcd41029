package weather

import (
	"bytes"
	"strings"
	"unicode"
)

// columns tells where each field of a table stands; -1 is nowhere.
type columns struct {
	date, station, name, lat, lon, elev int
	element, value, qflag               int // the by-element form
	kind                                [kinds]int
	flags                               [kinds]int // "M,Q,S" beside a value
	width                               int
	delim                               byte
}

func noColumns() columns {
	c := columns{date: -1, station: -1, name: -1, lat: -1, lon: -1, elev: -1, element: -1, value: -1, qflag: -1}
	for k := range kinds {
		c.kind[k], c.flags[k] = -1, -1
	}
	return c
}

// aliases are the names a column goes by, in lower case without blanks and marks.
var aliases = map[string]string{
	"date": "date", "day": "date", "yyyymmdd": "date", "datetime": "date", "time": "date",
	"station": "station", "id": "station", "stationid": "station", "location": "station",
	"name": "name", "stationname": "name",
	"latitude": "lat", "lat": "lat", "longitude": "lon", "lon": "lon", "elevation": "elev", "elev": "elev",
	"element": "element", "value": "value", "datavalue": "value", "qflag": "qflag",
	"rain": "rain", "rainfall": "rain", "precip": "rain", "precipitation": "rain", "prcp": "rain", "prec": "rain",
	"tmin": "tmin", "tempmin": "tmin", "mintemp": "tmin", "temperaturemin": "tmin", "mintemperature": "tmin",
	"minimumtemperature": "tmin", "tn": "tmin",
	"tmax": "tmax", "tempmax": "tmax", "maxtemp": "tmax", "temperaturemax": "tmax", "maxtemperature": "tmax",
	"maximumtemperature": "tmax", "tx": "tmax",
	"wind": "wind", "windspeed": "wind", "awnd": "wind",
}

var unitWords = map[string]string{
	"c": "c", "degc": "c", "celsius": "c", "f": "f", "degf": "f", "fahrenheit": "f",
	"mm": "mm", "in": "in", "inch": "in", "inches": "in", "tenths": "tenths", "of": "",
}

// columnName parts a heading such as "Tmax (°C)" or "rain_mm" into what it is and its unit.
func columnName(f []byte) (name, unit string) {
	words := strings.FieldsFunc(strings.ToLower(string(f)), func(r rune) bool {
		return r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	for len(words) > 1 {
		u, ok := unitWords[words[len(words)-1]]
		if !ok {
			break
		}
		if u == "tenths" || unit == "" {
			unit = u
		}
		words = words[:len(words)-1]
	}
	return strings.Join(words, ""), unit
}

// headingOf finds the columns and the units that they name.
func (s *sheet) headingOf(line []byte, at int) (columns, error) {
	c := noColumns()
	c.delim = delimiter(line)
	fields := split(line, c.delim, nil)
	c.width = len(fields)
	for i, f := range fields {
		name, unit := columnName(f)
		if err := c.place(s, strings.TrimSuffix(name, "attributes"), unit, i, at, strings.HasSuffix(name, "attributes")); err != nil {
			return c, err
		}
	}
	if c.element >= 0 && c.value >= 0 && c.date >= 0 {
		return c, nil
	}
	return c, c.complete(line, at)
}

func (c *columns) place(s *sheet, name, unit string, i, at int, flags bool) error {
	var to *int
	switch what := aliases[name]; what {
	case "date":
		to = &c.date
	case "station":
		to = &c.station
	case "name":
		to = &c.name
	case "lat":
		to = &c.lat
	case "lon":
		to = &c.lon
	case "elev":
		to = &c.elev
	case "element":
		to = &c.element
	case "value":
		to = &c.value
	case "qflag":
		to = &c.qflag
	case "":
		return nil
	default:
		for k, n := range kindNames {
			switch {
			case n == what && flags:
				to = &c.flags[k]
			case n == what:
				to, s.heading[k] = &c.kind[k], unit
			}
		}
	}
	if *to >= 0 {
		return faultAt(at, "leave one of them", "two columns give the %s", aliases[name])
	}
	*to = i
	return nil
}

func (c *columns) complete(line []byte, at int) error {
	if c.width < 4 {
		return faultAt(at, "save it with commas, semicolons or tabs between the fields and a heading such as date,rain,tmin,tmax",
			"no table is to be seen: the first line is %s%s", shown(string(line)), otherDelimiter(line))
	}
	var lacking []string
	if c.date < 0 {
		lacking = append(lacking, "date")
	}
	for _, k := range []int{rain, tmin, tmax} {
		if c.kind[k] < 0 {
			lacking = append(lacking, kindNames[k])
		}
	}
	if lacking != nil {
		return faultAt(at, "name the columns date, rain (or prcp), tmin and tmax, or take a station that gives them",
			"the heading has no column for %s", strings.Join(lacking, ", "))
	}
	return nil
}

func otherDelimiter(line []byte) string {
	for _, d := range []string{"|", ":", "  ", " "} {
		if bytes.Count(line, []byte(d)) >= 3 {
			return ", parted by " + shown(d)
		}
	}
	return ""
}
