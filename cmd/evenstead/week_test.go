package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"evenstead/demo"
)

// told runs a command and returns what it printed; it must succeed.
func told(t *testing.T, words ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if got := run(context.Background(), words, strings.NewReader(""), &out, &errs); got != ok {
		t.Fatalf("%v: status %d: %s", words, got, errs.String())
	}
	return out.String()
}

// TestWallFitsPaper: in every season and both unit systems no line is wider than
// 80 characters, each task has a box, and the demo's week names its beds.
func TestWallFitsPaper(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("quernfold.toml", demo.Quernfold(), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, date := range []string{"2026-11-25", "2027-03-01", "2027-06-10", "2027-08-20"} {
		for _, more := range [][]string{nil, {"--us"}, {"--weeks", "3"}} {
			wall := told(t, append([]string{"week", "quernfold.toml", "--members", "0", "--today", date}, more...)...)
			for line := range strings.Lines(wall) {
				if line = strings.TrimRight(line, "\n"); utf8.RuneCountInString(line) > wallWidth || strings.Contains(line, "\u00a0") {
					t.Errorf("%s %v: %q", date, more, line)
				}
			}
			if strings.Count(wall, "[ ]") < 30 || !strings.Contains(wall, "EVERY DAY") || !strings.Contains(wall, "why:") {
				t.Errorf("%s %v:\n%s", date, more, wall)
			}
		}
	}
}

// TestDigestTravels: a book exported and imported has the digest of the first, and
// one more entry does not break it.
func TestDigestTravels(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("four.toml", demo.FourLines(), 0o600); err != nil {
		t.Fatal(err)
	}
	note := func(file, text string) { told(t, "note", text, "--stead", file, "--today", "2026-11-20", "--yes") }
	told(t, "describe", "four.toml", "--stead", "a.stead", "--today", "2026-11-01")
	note("a.stead", "rain 14 mm yesterday")
	note("a.stead", "rain 3 mm 5 days ago")
	said := told(t, "verify", "--stead", "a.stead", "--digest")
	sum := regexp.MustCompile(`digest ([0-9a-f]{64})`).FindStringSubmatch(said)
	if sum == nil {
		t.Fatal(said)
	}
	told(t, "export", filepath.Join(".", "whole.txt"), "--stead", "a.stead")
	told(t, "import", "whole.txt", "--stead", "b.stead")
	if said := told(t, "verify", "--stead", "b.stead", "--digest", sum[1]); !strings.Contains(said, "The digest holds: 2 entries") {
		t.Error(said)
	}
	note("b.stead", "rain 1 mm")
	if said := told(t, "verify", "--stead", "b.stead", "--digest="+sum[1]); !strings.Contains(said, "1 entry has come since") {
		t.Error(said)
	}
}
