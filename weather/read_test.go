package weather

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"evenstead/day"
)

func parse(t *testing.T, text string, o Options) *Record {
	t.Helper()
	r, err := Read(strings.NewReader(text), o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// aYear writes a year of plausible days with one line a day, after a heading.
func aYear(heading string, line func(d day.Day, rain, lo, hi float64) string) string {
	var b strings.Builder
	b.WriteString(heading + "\n")
	start := day.Of(2011, 1, 1)
	for k := range 365 {
		season := -math.Cos(2 * math.Pi * float64(k) / 365)
		rain := 0.0
		if k%3 == 0 {
			rain = float64(1 + k%17)
		}
		b.WriteString(line(start+day.Day(k), rain, 7+8*season+float64(k%5), 17+10*season+float64(k%7)) + "\n")
	}
	return b.String()
}

func metricLine(d day.Day, rain, lo, hi float64) string {
	return fmt.Sprintf("%s,%.1f,%.1f,%.1f", d, rain, lo, hi)
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %g, want %g ± %g", what, got, want, tol)
	}
}

func TestReadForms(t *testing.T) {
	slash := func(d day.Day) string { y, m, n := d.Date(); return fmt.Sprintf("%d/%d/%d", m, n, y) }
	compact := func(d day.Day) string { return strings.ReplaceAll(d.String(), "-", "") }
	tenths := func(v float64) int { return int(math.Round(v * 10)) }
	fahrenheit := func(c float64) float64 { return c*1.8 + 32 }
	forms := map[string]string{
		"plain": aYear("date,rain,tmin,tmax", metricLine),
		"byte order mark and CRLF": "\xef\xbb\xbf" + strings.ReplaceAll(
			aYear("date,rain,tmin,tmax", metricLine), "\n", "\r\n"),
		"comment first": "# our own gauge\n" + aYear("date,rain,tmin,tmax", metricLine),
		"columns turned": aYear("tmax,precip,date,other,tmin", func(d day.Day, p, lo, hi float64) string {
			return fmt.Sprintf("%.1f,%.1f,%s,x,%.1f", hi, p, d, lo)
		}),
		"semicolons and decimal commas": aYear("Date;Precipitation;Temp_Min;Temp_Max", func(d day.Day, p, lo, hi float64) string {
			return strings.ReplaceAll(fmt.Sprintf("%s;%.1f;%.1f;%.1f", d, p, lo, hi), ".", ",")
		}),
		"tabs": strings.ReplaceAll(aYear("date,rain,tmin,tmax", metricLine), ",", "\t"),
		"quoted, with attributes, tenths": aYear(`"STATION","DATE","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"`,
			func(d day.Day, p, lo, hi float64) string {
				return fmt.Sprintf(`"XX1","%s","Low Farm, Nowhere","%5d",",,7","%5d",",,7","%5d",",,7"`, d, tenths(p), tenths(hi), tenths(lo))
			}),
		"US, month first": aYear("STATION,NAME,DATE,PRCP,TMAX,TMIN", func(d day.Day, p, lo, hi float64) string {
			return fmt.Sprintf(`XX1,"Low Farm, Nowhere",%s,%.2f,%.2f,%.2f`, slash(d), p/25.4, fahrenheit(hi), fahrenheit(lo))
		}),
		"day first": aYear("date,rain,tmin,tmax", func(d day.Day, p, lo, hi float64) string {
			y, m, n := d.Date()
			return fmt.Sprintf("%d.%d.%d,%.1f,%.1f,%.1f", n, m, y, p, lo, hi)
		}),
		"units in the heading, mixed": aYear("date,rain (mm),Tmin (°F),Tmax (°F)", func(d day.Day, p, lo, hi float64) string {
			return fmt.Sprintf("%s,%.1f,%.2f,%.2f", d, p, fahrenheit(lo), fahrenheit(hi))
		}),
		"time of day": aYear("date,rain,tmin,tmax", func(d day.Day, p, lo, hi float64) string {
			return fmt.Sprintf("%sT00:00,%.1f,%.1f,%.1f", d, p, lo, hi)
		}),
		"by element, no heading": strings.TrimPrefix(aYear("", func(d day.Day, p, lo, hi float64) string {
			c := compact(d)
			return fmt.Sprintf("XX1,%s,TMAX,%d,,,7,\nXX1,%s,TMIN,%d,,,7,\nXX1,%s,PRCP,%d,,,7,\nXX1,%s,SNOW,0,,,7,",
				c, tenths(hi), c, tenths(lo), c, tenths(p), c)
		}), "\n"),
		"by element, heading": aYear("ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME", func(d day.Day, p, lo, hi float64) string {
			c := compact(d)
			return fmt.Sprintf("XX1,%s,TMAX,%d,,,7,\nXX1,%s,TMIN,%d,,,7,\nXX1,%s,PRCP,%d,,,7,", c, tenths(hi), c, tenths(lo), c, tenths(p))
		}),
		"fixed width": asDly(t, parse(t, aYear("date,rain,tmin,tmax", metricLine), Options{})),
	}
	want := parse(t, forms["plain"], Options{})
	for name, text := range forms {
		t.Run(name, func(t *testing.T) {
			r := parse(t, text, Options{})
			if r.Start != want.Start || r.Days() != 365 {
				t.Fatalf("%s, %d days", r.Start, r.Days())
			}
			for i := range r.Rain {
				near(t, "rain", r.Rain[i], want.Rain[i], 0.13) // a hundredth of an inch
				near(t, "tmin", r.TMin[i], want.TMin[i], 0.051)
				near(t, "tmax", r.TMax[i], want.TMax[i], 0.051)
			}
			if t.Failed() {
				t.Log(r.Notes)
			}
		})
	}
}

// asDly writes a record in the fixed-width form.
func asDly(t *testing.T, r *Record) string {
	t.Helper()
	var b strings.Builder
	for y := r.Start.Year(); y <= r.End().Year(); y++ {
		for m := 1; m <= 12; m++ {
			for k, element := range []string{"PRCP", "TMIN", "TMAX"} {
				fmt.Fprintf(&b, "XX000000001%04d%02d%s", y, m, element)
				for d := 1; d <= 31; d++ {
					v := -9999
					if when, ok := calendar(y, m, d); ok && r.At(when) >= 0 {
						v = int(math.Round(10 * [][]float64{r.Rain, r.TMin, r.TMax}[k][r.At(when)]))
					}
					fmt.Fprintf(&b, "%5d  7", v)
				}
				b.WriteByte('\n')
			}
		}
	}
	return b.String()
}

// TestReadTwins reads the same station from two downloads in different units.
// °F are whole, so a reading may differ by half of 1 °F; a tenth of °C and a
// hundredth of an inch come on top.
func TestReadTwins(t *testing.T) {
	a, b := gainesville(t), station(t, "gainesville-1960-2020.csv.gz")
	days, values := 0, 0
	for i := range b.Rain {
		k := a.At(b.Start + day.Day(i))
		if k < 0 {
			continue
		}
		days++
		for _, c := range []struct{ x, y, tol float64 }{
			{a.Rain[k], b.Rain[i], 0.13}, {a.TMin[k], b.TMin[i], 0.33}, {a.TMax[k], b.TMax[i], 0.33}, {a.Wind[k], b.Wind[i], 0.06},
		} {
			if math.IsNaN(c.x + c.y) {
				continue
			}
			if values++; math.Abs(c.x-c.y) > c.tol {
				t.Fatalf("%s: %g and %g", b.Start+day.Day(i), c.x, c.y)
			}
		}
	}
	if days < 21000 || values < 3*16800 {
		t.Errorf("%d days, %d values compared", days, values)
	}
	near(t, "whole days", float64(count0(a)), 18973, 0)
	if !strings.Contains(strings.Join(a.Notes, " "), "tenths of mm") || !strings.Contains(strings.Join(b.Notes, " "), "inches") {
		t.Errorf("units not stated: %q, %q", a.Notes, b.Notes)
	}
}

func count0(r *Record) (n int) {
	for i := range r.Rain {
		if r.known(i) {
			n++
		}
	}
	return n
}

func TestReadSeattle(t *testing.T) {
	r := seattle(t)
	if r.Days() != 1461 || r.Start != day.Of(2012, 1, 1) || r.End() != day.Of(2015, 12, 31) || !r.Whole(r.Start, 1461) {
		t.Fatalf("%s, %d days", r.Start, r.Days())
	}
	near(t, "greatest rain", r.Rain[r.At(day.Of(2015, 3, 15))], 55.9, 0)
	near(t, "wind of the first day", r.Wind[0], 4.7, 0)
	if !strings.HasPrefix(r.Notes[0], "seattle-weather.csv: Read as daily CSV, commas") {
		t.Error(r.Notes[0])
	}
}

// TestReadFaults holds one row for each way a file can be wrong.
func TestReadFaults(t *testing.T) {
	good := aYear("date,rain,tmin,tmax", metricLine)
	rows := strings.Split(strings.TrimSpace(good), "\n")
	with := func(at int, row string) string {
		changed := append([]string(nil), rows...)
		changed[at] = row
		return strings.Join(changed, "\n")
	}
	tenthsYear := aYear("date,rain,tmin,tmax", func(d day.Day, p, lo, hi float64) string {
		return fmt.Sprintf("%s,%.0f,%.0f,%.0f", d, 10*p, 10*lo, 10*hi)
	})
	swapped := aYear("date,rain,tmax,tmin", metricLine)
	inchesAndC := aYear("date,rain,tmin,tmax", func(d day.Day, p, lo, hi float64) string {
		return fmt.Sprintf("%s,%.2f,%.1f,%.1f", d, p/25.4, lo, hi)
	})
	mixedTenths := strings.Join(append(append([]string(nil), rows[:300]...), strings.Split(strings.TrimSpace(tenthsYear), "\n")[300:]...), "\n")
	for _, c := range []struct {
		name, text string
		o          Options
		line       int
		what, mend string
	}{
		{"empty", "", Options{}, 0, "the file is empty", "download"},
		{"blank", " \n\n", Options{}, 0, "the file is empty", "download"},
		{"heading only", "date,rain,tmin,tmax\n", Options{}, 0, "holds no days", "heading"},
		{"bars", strings.ReplaceAll(good, ",", "|"), Options{}, 1, `parted by "|"`, "commas, semicolons or tabs"},
		{"spaces", strings.ReplaceAll(good, ",", " "), Options{}, 1, `parted by " "`, "commas, semicolons or tabs"},
		{"delimiter changes", with(3, strings.ReplaceAll(rows[3], ",", ";")), Options{}, 4, "the line has 1 field where the heading has 4", "parted in the same way"},
		{"decimal comma among commas", with(3, "2011-01-03,1,5,2,0,9,1"), Options{}, 4, "7 fields where the heading has 4", "decimal comma needs semicolons"},
		{"no tmin", "date,rain,low,tmax\n2011-01-01,1,2,3\n", Options{}, 1, "no column for tmin", "name the columns"},
		{"two columns of rain", "date,rain,prcp,tmin,tmax\n2011-01-13,1,1,2,3\n", Options{}, 1, "two columns give the rain", "leave one"},
		{"not a number", with(9, "2011-01-09,1,wet,9"), Options{}, 10, `"wet" is not a number for tmin`, "leave it empty"},
		{"not a date", with(9, "2011-02-30,1,2,9"), Options{}, 10, `"2011-02-30" is not a date`, "2012-01-31"},
		{"ambiguous dates", "date,rain,tmin,tmax\n1/2/2011,1,2,9\n2/2/2011,1,2,9\n", Options{}, 0, "order of day and month", "write dates as"},
		{"dates both ways", "date,rain,tmin,tmax\n1/20/2011,1,2,9\n21/1/2011,1,2,9\n", Options{}, 0, "partly month/day", "write them as"},
		{"tmin above tmax", swapped, Options{}, 2, "tmin is above tmax on 365 days", "columns are not exchanged"},
		{"tenths read as whole", tenthsYear, Options{Units: MetricUnits}, 0, "cannot be", "the values look like tenths of mm and °C"},
		{"one tmax of 311 in three", "date,rain,tmin,tmax\n2011-07-13,0,18.2,30.1\n2011-07-14,2,17.0,311\n2011-07-15,0,18.1,30.0\n",
			Options{Units: MetricUnits}, 3, "the first is rain 2 mm, tmin 17 °C, tmax 311 °C", "mend or empty"},
		{"tenths from some day on", mixedTenths, Options{Units: MetricUnits}, 0, "cannot be", "mend"},
		{"°C set to °F", good, Options{Units: USUnits}, 0, "rain comes to", "the values look like mm and °C"},
		{"inches beside °C", inchesAndC, Options{}, 0, "units do not agree", "rain_in"},
		{"undecidable", "date,rain,tmin,tmax\n2011-01-13,0,33,49\n2011-01-14,0,31,47\n", Options{}, 0, "units cannot be told", "set the units"},
		{"heading at odds", strings.Replace(good, "tmin,tmax", "tmin_c,tmax_f", 1), Options{}, 1, "different units", "one unit"},
		{"two stations", "station,date,rain,tmin,tmax\nLow Farm,2011-01-13,0,3,9\nHigh Farm,2011-01-13,0,3,9\n", Options{}, 3,
			`two stations: "Low Farm" (line 2) and "High Farm"`, "one of them"},
		{"two stations by element", "AA1,20110101,TMAX,90,,,7,\nBB2,20110101,TMAX,90,,,7,\n", Options{}, 2, `"AA1" (line 1) and "BB2"`, "one of them"},
		{"a day twice", with(9, "2011-01-08,9,-5,9"), Options{}, 10, "2011-01-08 has two values of rain", "one row a day"},
		{"units set on the fixed form", "XX0000000012011" + "01TMAX  100  7", Options{Units: USUnits}, 0, "always in tenths", "leave the units unset"},
		{"fixed form broken", "XX000000001201101TMAX  100  7\nXX0000000012011", Options{}, 2, "not a line of the fixed-width form", "again"},
		{"fixed form, day too many", "XX000000001201102TMAX" + strings.Repeat("  100  7", 30), Options{}, 1, "day 29 of 2011-02", "again"},
		{"spreadsheet", "PK\x03\x04 and so on", Options{}, 0, "zip archive", "CSV"},
		{"binary", "\x00\x01\x02 and so on", Options{}, 0, "not text", "CSV"},
		{"UTF-16", "\xff\xfed\x00a\x00", Options{}, 0, "UTF-16", "UTF-8"},
		{"endless line", strings.Repeat("x", maxLine+2), Options{}, 1, "longer than 65,536 bytes", "daily weather file"},
		{"too long", good, Options{MaxBytes: 1000}, 0, "the text is longer", "fewer years"},
		{"truncated gzip", string(zipped(t, good)[:900]), Options{}, 0, "cut short or damaged", "again"},
		{"gzip head only", "\x1f\x8b\x08", Options{}, 0, "cut short or damaged", "again"},
		{"gzip bomb", string(zipped(t, good+strings.Repeat("\n", 20<<20))), Options{MaxBytes: 1 << 20}, 0, "longer than 1 MB", "one station"},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.o.Name = "the file"
			r, err := Read(strings.NewReader(c.text), c.o)
			var f *Fault
			if !errors.As(err, &f) {
				t.Fatalf("no fault: %v, %v", r, err)
			}
			if !strings.Contains(f.What, c.what) || !strings.Contains(f.Mend, c.mend) {
				t.Errorf("%v", err)
			}
			if c.line > 0 && f.Line != c.line {
				t.Errorf("line %d, want %d: %v", f.Line, c.line, err)
			}
			if !strings.HasPrefix(err.Error(), "the file") {
				t.Error(err)
			}
		})
	}
}

func zipped(t *testing.T, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := io.WriteString(z, text); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestReadMends holds what is dropped or sorted with a note, not refused.
func TestReadMends(t *testing.T) {
	rows := strings.Split(strings.TrimSpace(aYear("date,rain,tmin,tmax", metricLine)), "\n")
	set := func(rows []string, at int, row string) []string {
		out := append([]string(nil), rows...)
		out[at] = row
		return out
	}
	eleventh := day.Of(2011, 1, 11)
	for _, c := range []struct {
		name string
		rows []string
		o    Options
		note string
		want [3]float64 // of 2011-01-11
	}{
		{"99.9", set(rows, 11, "2011-01-11,99.9,99.9,99.9"), Options{}, "3 numbers taken for missing", nan3},
		{"rain of 99.9 once is rain", set(rows, 11, "2011-01-11,99.9,1.5,9.5"), Options{}, "without a gap", [3]float64{99.9, 1.5, 9.5}},
		{"-9999", set(rows, 11, "2011-01-11,-9999,-9999,-9999"), Options{}, "3 numbers taken for missing", nan3},
		{"-99", set(rows, 11, "2011-01-11,-99,-99,-99"), Options{}, "3 numbers taken for missing", nan3},
		{"words for missing", set(rows, 11, "2011-01-11,NA,,M"), Options{}, "364 whole", nan3},
		{"trace", set(rows, 11, "2011-01-11,T,1.5,9.5"), Options{}, "without a gap", [3]float64{0, 1.5, 9.5}},
		{"one day twisted", set(rows, 11, "2011-01-11,2,9.5,1.5"), Options{}, "1 day with tmin above tmax left out, the first in line 12 (2011-01-11, tmin 9.5, tmax 1.5 °C)",
			[3]float64{2, math.NaN(), math.NaN()}},
		{"one value impossible", set(rows, 11, "2011-01-11,2,1.5,311"), Options{}, "1 value that cannot be left out, the first in line 12 (rain 2 mm, tmin 1.5 °C, tmax 311 °C)",
			[3]float64{2, 1.5, math.NaN()}},
		{"a row missing", append(append([]string(nil), rows[:11]...), rows[12:]...), Options{}, "the longest gap is 1 day from 2011-01-11", nan3},
		{"a row twice", append(append([]string(nil), rows...), rows[7]), Options{}, "1 row given again and alike", valuesOf(rows[11])},
		{"out of order", append(append([]string{rows[0]}, rows[200:]...), rows[1:200]...), Options{}, "out of order, sorted", valuesOf(rows[11])},
		{"units set", rows, Options{Units: MetricUnits}, "as set", valuesOf(rows[11])},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := parse(t, strings.Join(c.rows, "\n"), c.o)
			i := r.At(eleventh)
			for k, got := range []float64{r.Rain[i], r.TMin[i], r.TMax[i]} {
				if got != c.want[k] && !(math.IsNaN(got) && math.IsNaN(c.want[k])) {
					t.Errorf("%s: %g, want %g", kindNames[k], got, c.want[k])
				}
			}
			if !strings.Contains(strings.Join(r.Notes, "\n"), c.note) {
				t.Errorf("no note %q in %q", c.note, r.Notes)
			}
		})
	}
}

var nan3 = [3]float64{math.NaN(), math.NaN(), math.NaN()}

func valuesOf(row string) (v [3]float64) {
	for k, f := range strings.Split(row, ",")[1:] {
		v[k], _, _ = number([]byte(f), false)
	}
	return v
}

func TestReadFlags(t *testing.T) {
	month := func(element string, value int, flag2 string) string {
		line := "XX000000001201101" + element
		for d := range 31 {
			f := " "
			if d == 10 {
				f = flag2
			}
			line += fmt.Sprintf("%5d %s7", value, f)
		}
		return line + "\n"
	}
	r := parse(t, month("TMAX", 90, "I")+month("TMIN", 10, " ")+month("PRCP", 25, " ")+month("AWND", 31, " "), Options{})
	i := r.At(day.Of(2011, 1, 11))
	if !math.IsNaN(r.TMax[i]) || r.TMin[i] != 1 || r.Rain[i] != 2.5 || math.Abs(r.Wind[i]-3.1) > 1e-12 || r.TMax[i+1] != 9 {
		t.Errorf("%g %g %g %g", r.TMax[i], r.TMin[i], r.Rain[i], r.Wind[i])
	}
	if !strings.Contains(strings.Join(r.Notes, " "), "1 value left out that failed the station's own checks") {
		t.Error(r.Notes)
	}
	r = parse(t, "AA1,20110111,TMAX,90,,G,7,\nAA1,20110112,TMAX,90,,,7,\nAA1,20110111,TMIN,10,,,7\nAA1,20110111,PRCP,0,T,,7\n", Options{})
	if !math.IsNaN(r.TMax[0]) || r.TMax[1] != 9 || r.TMin[0] != 1 || r.Rain[0] != 0 {
		t.Errorf("by element: %v %v %v", r.TMax, r.TMin, r.Rain)
	}
	head := `"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"` + "\n"
	r = parse(t, head+`"XX1","2011-07-13","52.1","-1.2","47.0","Low Farm","  12",",,7"," 241",",X,7"," 112",",,7"`+"\n"+
		`"XX1","2011-07-14","52.1","-1.2","47.0","Low Farm","  12",",,7"," 241",",,7"," 112",",,7"`+"\n", Options{})
	if r.Lat != 52.1 || r.Lon != -1.2 || r.Elev != 47 || r.Name != "Low Farm" || r.Station != "XX1" || !math.IsNaN(r.TMax[0]) || r.TMax[1] != 24.1 {
		t.Errorf("%+v", r)
	}
}

func TestReadPassesReaderErrors(t *testing.T) {
	broken := errors.New("the line went dead")
	_, err := Read(io.MultiReader(strings.NewReader("date,rain,tmin,tmax\n2011-01-13,0,3,9\n"), failing{broken}), Options{Name: "far.csv"})
	var f *Fault
	if !errors.Is(err, broken) || !errors.As(err, &f) || !strings.Contains(err.Error(), "far.csv: cannot be read: the line went dead") {
		t.Error(err)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

func FuzzRead(f *testing.F) {
	text, err := os.ReadFile("testdata/seattle-weather.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text[:2000], 0)
	f.Add([]byte("STATION,NAME,DATE,PRCP,TMAX,TMIN\nXX1,\"a, b\",1/13/2011,0.5,71,44\n"), 3)
	f.Add([]byte("XX000000001201101TMAX  100  7  110  7"), 2)
	f.Add([]byte("AA1,20110111,TMAX,90,,G,7,\nAA1,20110111,TMIN,10,,,7"), 0)
	f.Add([]byte("date;rain;tmin;tmax\n31.1.2011;1,5;2;9"), 1)
	f.Add([]byte("\x1f\x8b\x08\x00"), 0)
	f.Fuzz(func(t *testing.T, text []byte, units int) {
		r, err := Read(bytes.NewReader(text), Options{Units: Units(units & 3), MaxBytes: 1 << 20})
		if err != nil {
			var fault *Fault
			if !errors.As(err, &fault) || fault.What == "" || fault.Mend == "" {
				t.Fatalf("not a whole fault: %v", err)
			}
			return
		}
		if r.Days() == 0 || len(r.TMin) != r.Days() || len(r.TMax) != r.Days() || len(r.Notes) < 3 {
			t.Fatalf("%d days, notes %q", r.Days(), r.Notes)
		}
		for i := range r.Rain {
			if r.Rain[i] < 0 || r.Rain[i] > wettest || r.TMin[i] > r.TMax[i] || r.TMax[i] > hottest || r.TMin[i] < coldest {
				t.Fatalf("day %d: %g %g %g", i, r.Rain[i], r.TMin[i], r.TMax[i])
			}
		}
		r.Fill()
		FrostDates(r, 0, false)
	})
}
