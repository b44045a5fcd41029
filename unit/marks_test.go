package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

var (
	point        = Marks{}
	decimalComma = Marks{Point: ',', Group: '\u202f'}
)

func TestPlain(t *testing.T) {
	for _, c := range []struct {
		marks      Marks
		text, want string
	}{
		{decimalComma, "2,5 kg", "2.5 kg"},
		{decimalComma, "2.5 kg", "2.5 kg"},
		{decimalComma, "0,125 L", "0.125 L"},
		{decimalComma, "1234,567", "1234.567"},
		{decimalComma, "12\u202f345,6 L", "12345.6 L"},
		{decimalComma, "12\u00a0345 L", "12345 L"},
		{decimalComma, "1.234,5", "1234.5"},
		{decimalComma, "1,234.5", "1234.5"},
		{decimalComma, "1.200.000", "1200000"},
		{decimalComma, "1,200,000", "1200000"},
		{decimalComma, "12,5 30,1; 4,25", "12.5 30.1; 4.25"},
		{decimalComma, "1,2, 3,4", "1.2, 3.4"},
		{decimalComma, "1,2,3", "1,2,3"},
		{decimalComma, "24.12.2026", "24.12.2026"},
		{decimalComma, "2026-11-05,3", "2026-11-05,3"},
		{decimalComma, "B4,5 and 7:30", "B4,5 and 7:30"},
		{decimalComma, "-3,5 C", "-3.5 C"},
		{decimalComma, "1 1/2 cups, 3 eggs", "1 1/2 cups, 3 eggs"},
		{decimalComma, "40,1 N, 13,5", "40.1 N, 13.5"},
		{point, "1,200 L", "1200 L"},
		{point, "1,200.5 L", "1200.5 L"},
		{point, "1.200 L", "1.200 L"},
		{point, "2,5 kg", "2,5 kg"},
		{point, "0,125 kg", "0,125 kg"},
		{point, "1234,567 kg", "1234,567 kg"},
		{point, "1.234,5", "1.234,5"},
		{point, "12\u202f345 L", "12\u202f345 L"},
	} {
		if got, err := c.marks.Plain(c.text); err != nil || got != c.want {
			t.Errorf("%q under %q is %q, %v; want %q", c.text, c.marks.Point, got, err, c.want)
		}
	}
}

func TestPlainRefusesWhatMeansTwoAmounts(t *testing.T) {
	for text, want := range map[string][2]string{"1,200 L": {"1200", "1,2"}, "1.200": {"1200", "1,2"}, "12,345 kg": {"12345", "12,3450"}, "100,000": {"100000", "100"}, "2 kg, 1,125 L": {"1125", "1,1250"}} {
		two := (*Twofold)(nil)
		if got, err := decimalComma.Plain(text); !errors.As(err, &two) || two.Whole != want[0] || two.Decimal != want[1] {
			t.Errorf("%q is read as %q, %v", text, got, err)
			continue
		}
		for _, way := range []string{two.Whole, two.Decimal} {
			if _, err := decimalComma.Plain(way); err != nil {
				t.Errorf("%q offers %q, which is refused: %v", text, way, err)
			}
		}
	}
}

func TestPlainAmount(t *testing.T) {
	for text, want := range map[string]string{"12 345 L": "12345 L", "1 200": "1200", "1 200,5 kg": "1200.5 kg", "1 1/2 L": "1 1/2 L", "6 ft 200 in": "6 ft 200 in", "1 234 567": "1234567", "12 34": "12 34"} {
		if got, err := decimalComma.PlainAmount(text); err != nil || got != want {
			t.Errorf("%q is %q, %v; want %q", text, got, err, want)
		}
	}
	if got, _ := point.PlainAmount("1 200 L"); got != "1 200 L" {
		t.Errorf("a blank parts thousands in %q", got)
	}
}

// TestWriteReadsBack: an amount written for a field, whole or broken, is the same
// amount when the field is read.
func TestWriteReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		marks := rapid.SampledFrom([]Marks{point, decimalComma, {Point: ',', Group: '.'}}).Draw(t, "marks")
		v := rapid.OneOf(rapid.Float64Range(-1e7, 1e7), rapid.Map(rapid.IntRange(-1e7, 1e7), func(n int) float64 { return float64(n) / 1000 })).Draw(t, "v")
		text := strings.ReplaceAll(comma(v, rapid.IntRange(1, 9).Draw(t, "digits")), "−", "-") + " kg"
		want, err := Parse(text, Mass)
		if err != nil {
			t.Fatal(err)
		}
		typed := marks.Write(text)
		plain, err := marks.PlainAmount(typed)
		if err != nil {
			t.Fatalf("%q is written %q: %v", text, typed, err)
		}
		if got, err := Parse(plain, Mass); err != nil || got != want {
			t.Fatalf("%q is written %q and read %v, %v", text, typed, got, err)
		}
	})
}

// FuzzPlain: any text stays sound, a number is never made another, and what was
// read once is read the same again.
func FuzzPlain(f *testing.F) {
	for _, s := range []string{"2,5 kg", "1,200", "1.200,5", "12\u202f345,6", "1,2,3", "B4,5", "1 200 L", "2026-11-05", ",5", "5,", "1,,2", "½,5", "9\xff,5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, m := range []Marks{point, decimalComma, {Point: ',', Group: '.'}} {
			plain, err := m.PlainAmount(text)
			if err != nil {
				continue
			}
			if utf8.ValidString(text) && !utf8.ValidString(plain) {
				t.Fatalf("%q is broken: %q", text, plain)
			}
			if digitsOf(plain) != digitsOf(text) {
				t.Fatalf("%q has other digits: %q", text, plain)
			}
			v, err := Parse(plain, Number)
			if err != nil {
				continue
			}
			again, err := m.PlainAmount(m.Write(plain))
			w, err2 := Parse(again, Number)
			if err != nil || err2 != nil || math.Abs(v-w) > 0 {
				t.Fatalf("%q is %g, and %q once written: %v, %v", text, v, again, err, err2)
			}
		}
	})
}

func digitsOf(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, s)
}
