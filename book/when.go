package book

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"evenstead/day"
)

// line is a quick note while it is taken apart; what is read is cut out of text.
type line struct {
	text string
	one  string // what is counted: "head"; "": not said
	note string // what was counted at how much each; "": nothing was
	Context
}

// cut takes the first match of re out of the text, leaving a comma so that the
// words on either side stay apart, and returns its groups.
func (l *line) cut(re *regexp.Regexp) []string {
	m := re.FindStringSubmatchIndex(l.text)
	if m == nil {
		return nil
	}
	var out []string
	for i := 0; i < len(m); i += 2 {
		group := ""
		if m[i] >= 0 {
			group = l.text[m[i]:m[i+1]]
		}
		out = append(out, group)
	}
	l.text = l.text[:m[0]] + ", " + l.text[m[1]:]
	return out
}

const months = `(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)`

var (
	isoDate   = regexp.MustCompile(`(?i)\b(?:on )?(\d{4}-\d{2}-\d{2})\b`)
	daysAgo   = regexp.MustCompile(`(?i)\b(\d{1,3}|a|one|two|three|four|five|six|seven) (days?|weeks?) ago\b`)
	nearDay   = regexp.MustCompile(`(?i)\b(day before yesterday|(?:yesterday|today|tomorrow)(?: morning| afternoon| evening)?|this (?:morning|afternoon|evening)|tonight|last night)\b`)
	weekday   = regexp.MustCompile(`(?i)\b(?:(on|last) )?(mon(?:day)?|tue(?:s|sday)?|wed(?:nesday)?|thu(?:r|rs|rsday)?|fri(?:day)?|sat(?:urday)?|sunday)\b`)
	dayMonth  = regexp.MustCompile(`(?i)\b(?:on )?(\d{1,2}) (` + months + `)\b`)
	monthDay  = regexp.MustCompile(`(?i)\b(?:on )?(` + months + `) (\d{1,2})\b`)
	clockTime = regexp.MustCompile(`(?i)\b(?:at )?(\d{1,2}):(\d{2})(?: ?([ap])m)?\b`)
	hourTime  = regexp.MustCompile(`(?i)\b(?:at )?(\d{1,2}) ?([ap])m\b`)
)

// when reads the day of the note; today when none is written.
func (l *line) when() (day.Day, error) {
	if m := l.cut(isoDate); m != nil {
		return day.Parse(m[1])
	}
	if m := l.cut(daysAgo); m != nil {
		n := counting(m[1])
		if strings.HasPrefix(strings.ToLower(m[2]), "week") {
			n *= 7
		}
		return l.Today - day.Day(n), nil
	}
	if m := l.cut(nearDay); m != nil {
		return l.Today + offset(strings.ToLower(m[1])), nil
	}
	if m := l.cut(weekday); m != nil {
		return l.weekdayBack(m[2], strings.EqualFold(m[1], "last")), nil
	}
	if m := l.cut(dayMonth); m != nil {
		return l.lastOn(m[1] + " " + m[2])
	}
	if m := l.cut(monthDay); m != nil {
		return l.lastOn(m[2] + " " + m[1])
	}
	return l.Today, nil
}

// offset is how many days a word lies from today.
func offset(w string) day.Day {
	switch {
	case w == "day before yesterday":
		return -2
	case w == "last night", strings.HasPrefix(w, "yesterday"):
		return -1
	case strings.HasPrefix(w, "tomorrow"):
		return 1
	}
	return 0
}

// weekdayBack is the latest such weekday, today among them unless it is the last one.
func (l *line) weekdayBack(name string, last bool) day.Day {
	want := strings.ToLower(name[:3])
	d := l.Today
	if last {
		d--
	}
	for !strings.HasPrefix(strings.ToLower(d.Time().Weekday().String()), want) {
		d--
	}
	return d
}

// lastOn is the latest day of that date that is not in the future.
func (l *line) lastOn(s string) (day.Day, error) {
	if dom, mon, _ := strings.Cut(s, " "); strings.EqualFold(mon, "sept") {
		s = dom + " sep"
	}
	w, err := day.ParseWhen(s)
	if err != nil {
		return 0, err
	}
	for y := l.Today.Year(); y > l.Today.Year()-8; y-- {
		if d := w.In(y); d <= l.Today && d.Month() == w.Month {
			return d, nil
		}
	}
	return 0, fmt.Errorf("no year near has %s", s)
}

// clock reads a time of day as "07:30"; "" when none is written.
func (l *line) clock() (string, error) {
	if m := l.cut(clockTime); m != nil {
		return hourMinute(m[1], m[2], m[3])
	}
	if m := l.cut(hourTime); m != nil {
		return hourMinute(m[1], "00", m[2])
	}
	return "", nil
}

func hourMinute(hour, minute, half string) (string, error) {
	h, _ := strconv.Atoi(hour)
	m, _ := strconv.Atoi(minute)
	switch {
	case half != "" && (h < 1 || h > 12), h > 23, m > 59:
		return "", fmt.Errorf("%s:%s is not a time of day: write 07:30 or 7 pm", hour, minute)
	case strings.EqualFold(half, "p"):
		h = h%12 + 12
	case strings.EqualFold(half, "a"):
		h %= 12
	}
	return time.Date(2000, 1, 1, h, m, 0, 0, time.UTC).Format("15:04"), nil
}

var numerals = []string{"", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// counting is the number a word stands for, 1 for "a", 0 when it is none.
func counting(w string) int {
	w = strings.ToLower(w)
	for i, n := range numerals {
		if i > 0 && n == w {
			return i
		}
	}
	switch w {
	case "a":
		return 1
	case "dozen":
		return 12
	}
	n, _ := strconv.Atoi(w)
	return n
}
