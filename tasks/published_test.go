package tasks

import (
	"math"
	"strings"
	"testing"

	"evenstead/day"
)

type printed struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	for _, c := range published(t) {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.10g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

// published holds the limits and examples that a calendar must keep.
func published(t *testing.T) []printed {
	const rfc = "RFC 5545 (Desruisseaux 2009)"
	longest, lines := 0, strings.Split(strings.TrimSuffix(fold("X:"+strings.Repeat("y", 500)), "\r\n"), "\r\n")
	for _, l := range lines {
		longest = max(longest, len(l))
	}
	// The event of 3.6.1 begins 28 June 2007 and its DTEND, not in it, is 9 July.
	from, to := date(day.Of(2007, 6, 28)), date(day.Of(2007, 7, 8)+1)
	said, err := text(escape("Project XYZ Final Review\nConference Room - 3B\nCome Prepared."))
	if err != nil {
		t.Fatal(err)
	}
	north, _ := stormSeason(29)
	south, _ := stormSeason(-17)
	return []printed{
		{"US National Hurricane Center", "first month of the season", float64(north), 6, 0},
		{"Australian Bureau of Meteorology", "first month of the season", float64(south), 11, 0},
		{"CDC, Creating an Emergency Water Supply", "L a person for three days, a gallon a day", setBy * setByDays, 3 * 3.785, 0.001},
		{rfc, "3.1, most octets of a line", float64(longest), 75, 0},
		{rfc, "3.1, the blank that goes on a line", float64(lines[1][0]), 32, 0},
		{rfc, "3.3.4, DATE of 28 June 2007", number(from), 20070628, 0},
		{rfc, "3.6.1, DTEND after the last day, 8 July 2007", number(to), 20070709, 0},
		{rfc, "3.3.11, line breaks written as \\n", float64(strings.Count(escape("Project XYZ Final Review\nConference Room - 3B\nCome Prepared."), `\n`)), 2, 0},
		{rfc, "3.3.11, lines read back", float64(strings.Count(said, "\n")), 2, 0},
	}
}

func number(s string) (v float64) {
	for _, r := range s {
		v = 10*v + float64(r-'0')
	}
	return v
}
