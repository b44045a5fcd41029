package unit

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Marks are how a language writes numbers. The zero value is the writing that
// Parse reads and Format prints: a point before the decimals, commas between
// thousands.
type Marks struct {
	Point rune // before the decimals: ',' in "2,5"; 0: '.'
	Group rune // between thousands; 0: ','
}

// Twofold is the error of a number that two languages read as different amounts,
// such as "1,200" where the comma is the decimal mark.
type Twofold struct {
	Text           string // as written
	Whole, Decimal string // both meanings, each so that it can be read one way only
}

// Error says both meanings and how to write each.
func (e *Twofold) Error() string {
	return fmt.Sprintf("%q can be read two ways: write %s or %s", e.Text, e.Whole, e.Decimal)
}

const blanks = "\u00a0\u2009\u202f" // no-break, thin, and narrow no-break

var (
	marked  = regexp.MustCompile(`[0-9]+(?:[.,` + blanks + `][0-9]+)+`)
	spaced  = regexp.MustCompile(`(?:^|[^0-9.,/])[0-9]{1,3}(?: [0-9]{3})+(?:$|[^0-9/ ]| [^0-9])`)
	tripled = regexp.MustCompile(`^[1-9][0-9]{0,2}$`)
)

// Plain writes the numbers of a text, which stand as m has them, as Parse reads
// them, without marks between thousands: "2,5 kg" gives "2.5 kg". Where the comma
// is the decimal mark, a point is taken for one too, and one mark before exactly
// three digits is refused with *Twofold; a leading nought or a second mark settles
// it. What is no number under m stays as it is, for Parse to judge.
func (m Marks) Plain(text string) (string, error) {
	var err error
	out := replaced(text, func(number string) string {
		plain, fault := m.plain(number)
		if fault != nil && err == nil {
			err = fault
		}
		return plain
	})
	return out, err
}

// PlainAmount is Plain for a text that is one amount and no more: where a blank
// parts thousands, an ordinary one does too, as in "12 345 L".
func (m Marks) PlainAmount(text string) (string, error) {
	if strings.ContainsRune(blanks, m.Group) {
		text = spaced.ReplaceAllStringFunc(strings.TrimSpace(text), func(s string) string {
			return thousandBlank.ReplaceAllString(s, "$1\u202f$2")
		})
	}
	return m.Plain(text)
}

// Both ends of a blank between thousands; three digits follow it by spaced.
var thousandBlank = regexp.MustCompile(`([0-9]) ([0-9])`)

// Write is the other way: numbers as Parse reads them, as m writes them, so that
// Plain gives the same amounts again. Thousands are not parted, and a number that
// could be read two ways gets a nought at its end.
func (m Marks) Write(text string) string {
	if m.point() == '.' {
		return text
	}
	return replaced(text, func(number string) string {
		plain, _ := Marks{}.plain(number)
		whole, part, broken := strings.Cut(plain, ".")
		switch {
		case strings.Contains(plain, ","):
			return strings.ReplaceAll(plain, ",", ", ") // a list, which m would read as one number
		case !broken || strings.ContainsAny(plain, blanks) || strings.Contains(part, "."):
			return plain
		}
		if tripled.MatchString(whole) && len(part) == 3 {
			part += "0"
		}
		return whole + string(m.Point) + part
	})
}

// replaced rewrites every number of a text that holds a mark and is no part of a
// word or a date.
func replaced(text string, with func(string) string) string {
	var out strings.Builder
	end := 0
	for _, at := range marked.FindAllStringIndex(text, -1) {
		before, n := utf8.DecodeLastRuneInString(text[:at[0]])
		if unicode.IsLetter(before) || before == '-' && n < at[0] && text[at[0]-2] >= '0' && text[at[0]-2] <= '9' {
			continue
		}
		out.WriteString(text[end:at[0]])
		out.WriteString(with(text[at[0]:at[1]]))
		end = at[1]
	}
	out.WriteString(text[end:])
	return out.String()
}

func (m Marks) point() rune {
	if m.Point == 0 {
		return '.'
	}
	return m.Point
}

// group is whether a mark may part thousands. Where the comma is the decimal mark,
// the point may, and a comma of the English way beside a point.
func (m Marks) group(mark rune) bool {
	switch {
	case m.point() == '.':
		return mark == ','
	case mark == ',' || mark == '.':
		return true
	}
	return strings.ContainsRune(blanks, m.Group)
}

// plain rewrites one number of digits and marks.
func (m Marks) plain(number string) (string, error) {
	digits := strings.FieldsFunc(number, func(r rune) bool { return !unicode.IsDigit(r) })
	marks := []rune(strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return -1
		}
		return r
	}, number))
	last := marks[len(marks)-1]
	switch {
	case strings.Count(number, string(last)) > 1 || strings.ContainsRune(blanks, last) || m.point() == '.' && last == ',':
		if m.grouped(digits, marks) {
			return strings.Join(digits, ""), nil
		}
		return number, nil
	case len(marks) > 1 && !m.grouped(digits[:len(digits)-1], marks[:len(marks)-1]):
		return number, nil
	case len(marks) == 1 && m.point() != '.' && tripled.MatchString(digits[0]) && len(digits[1]) == 3:
		whole := digits[0] + digits[1]
		return number, &Twofold{Text: number, Whole: whole, Decimal: m.Write(trimZeros(digits[0] + "." + digits[1]))}
	}
	return strings.Join(digits[:len(digits)-1], "") + "." + digits[len(digits)-1], nil
}

// grouped is whether marks part digits into thousands: all the same, three digits
// after each.
func (m Marks) grouped(digits []string, marks []rune) bool {
	for i, mark := range marks {
		if mark != marks[0] || len(digits[i+1]) != 3 {
			return false
		}
	}
	return m.group(marks[0]) && tripled.MatchString(digits[0])
}
