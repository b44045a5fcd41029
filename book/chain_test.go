package book

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Two lines and the digest of them, worked by another program:
//
//	h=$(printf 'evenstead book 1' | sha256sum | cut -c1-64)
//	h=$( (printf $h | xxd -r -p; printf '%s' "$line1") | sha256sum | cut -c1-64)
//	h=$( (printf $h | xxd -r -p; printf '%s' "$line2") | sha256sum | cut -c1-64)
var (
	chained = []string{
		`{"id":"019ab3f0-5c00-7000-8000-000000000001","day":"2026-11-24","time":"07:30","who":"Sorrel","kind":"picked","what":"kale","where":"north","amount":1.5,"measure":"mass"}`,
		`{"id":"019ab3f0-5c00-7000-8000-000000000002","day":"2026-11-25","kind":"rain","amount":14,"measure":"depth"}`,
	}
	chainEnds = []string{
		"b35adc8cf260b25e06e69f700ecb43a5b84aaf58bcbeb112ba6fdc176294fd22",
		"6409376c0be9dc7cd8f2a88b51c79939072fe631c63db6fc093f61c09fcd8828",
		"dd5b9cb856ed443b7072ecceb590293738d8664853f14c869874f0d2b60ca317",
	}
)

func chainOf(t testing.TB) []Entry {
	t.Helper()
	var out []Entry
	for _, line := range chained {
		e, err := ParseLine([]byte(line))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, e)
	}
	return out
}

func TestDigestIsThatOfAnotherProgram(t *testing.T) {
	all := chainOf(t)
	for n, want := range chainEnds {
		p, err := Digest(all[:n])
		if err != nil || p.Sum != want || p.Entries != n {
			t.Errorf("%d entries: %+v %v, want %s", n, p, err, want)
		}
	}
	if p, _ := Digest(all); p.Last != all[1].Day {
		t.Errorf("last day %s", p.Last)
	}
}

func TestDigestForgetsWhenItWasReceived(t *testing.T) {
	all := chainOf(t)
	before, _ := Digest(all)
	all[0].Received = time.Date(2026, 11, 24, 8, 0, 0, 0, time.UTC)
	if after, _ := Digest(all); after != before {
		t.Error("the moment of arrival changes the digest")
	}
}

func TestSinceFindsAnEarlierDigest(t *testing.T) {
	all := chainOf(t)
	p, ok, err := Since(all, " "+strings.ToUpper(chainEnds[1])+"\n")
	if err != nil || !ok || p.Entries != 1 || p.Last != all[0].Day {
		t.Errorf("%+v %v %v", p, ok, err)
	}
	if _, ok, _ := Since(all[1:], chainEnds[2]); ok {
		t.Error("a book without its first entry has the digest of the whole")
	}
	for _, bad := range []string{"", "abc", chainEnds[1] + "00", strings.Repeat("g", 64)} {
		if _, _, err := Since(all, bad); err == nil {
			t.Errorf("%q passes for a digest", bad)
		}
	}
}

// someEntries draws a book.
func someEntries(t *rapid.T) []Entry {
	out := make([]Entry, rapid.IntRange(1, 6).Draw(t, "entries"))
	for i := range out {
		out[i] = anEntry(t)
	}
	return out
}

// TestAnyByteChangesTheDigest sets one byte of one line to another, in every
// place in turn: either the line is no longer an entry, or the digest differs.
func TestAnyByteChangesTheDigest(t *testing.T) {
	read := 0
	rapid.Check(t, func(t *rapid.T) {
		all := someEntries(t)
		want, err := Digest(all)
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, len(all)-1).Draw(t, "entry")
		all[i].Received = time.Time{}
		line, err := all[i].Line()
		if err != nil {
			t.Fatal(err)
		}
		to := rapid.Byte().Draw(t, "byte")
		for at := range line {
			if line[at] == to {
				continue
			}
			bent := bytes.Clone(line)
			bent[at] = to
			e, err := decode(bent)
			if err != nil {
				continue
			}
			if back, err := e.Line(); err == nil && bytes.Equal(back, line) {
				continue // written otherwise, it says the same: a reader has the old line
			}
			read++
			changed := slices.Clone(all)
			changed[i] = e
			if got, err := Digest(changed); err == nil && got.Sum == want.Sum {
				t.Fatalf("byte %d of %s set to %q leaves the digest", at, line, to)
			}
		}
	})
	if read < 100 {
		t.Errorf("only %d changed lines could be read", read)
	}
}

// TestOrderAndLossChangeTheDigest: entries swapped, left out or said twice.
func TestOrderAndLossChangeTheDigest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := someEntries(t)
		want, err := Digest(all)
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, len(all)-1).Draw(t, "entry")
		if got, _ := Digest(slices.Delete(slices.Clone(all), i, i+1)); got.Sum == want.Sum {
			t.Fatal("an entry left out is not seen")
		}
		if got, _ := Digest(slices.Insert(slices.Clone(all), i, all[i])); got.Sum == want.Sum {
			t.Fatal("an entry said twice is not seen")
		}
		if j := (i + 1) % len(all); !Same(all[i], all[j]) {
			turned := slices.Clone(all)
			turned[i], turned[j] = turned[j], turned[i]
			if got, _ := Digest(turned); got.Sum == want.Sum {
				t.Fatal("two entries swapped are not seen")
			}
		}
	})
}

func BenchmarkDigest(b *testing.B) {
	all := make([]Entry, 100_000)
	for i := range all {
		all[i] = rain(i, float64(i%50))
	}
	for b.Loop() {
		if _, err := Digest(all); err != nil {
			b.Fatal(err)
		}
	}
}
