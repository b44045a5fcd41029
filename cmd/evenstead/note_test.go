package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"image"
	"image/png"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"evenstead/demo"
	"evenstead/hearth"
)

// madeStead puts the demo stead's file into a folder of its own and goes there.
func madeStead(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	if err := os.WriteFile("quernfold.toml", demo.Quernfold(), 0o600); err != nil {
		t.Fatal(err)
	}
	if status, _, errs := said(t, "describe", "quernfold.toml", "--today", "2026-11-25"); status != ok {
		t.Fatal(errs)
	}
}

// typed runs a command with a person at the keyboard.
func typed(t *testing.T, keys string, c command, words ...string) (string, error) {
	t.Helper()
	var out bytes.Buffer
	a := &args{flags: flag.NewFlagSet(c.name, flag.ContinueOnError), words: words, in: strings.NewReader(keys), asked: true, out: &out, err: &out}
	a.flags.SetOutput(&out)
	a.flags.Usage = func() { usage(c, a.flags, &out) }
	err := c.run(context.Background(), a)
	return out.String(), err
}

func listed(t *testing.T) string {
	t.Helper()
	_, out, errs := said(t, "book")
	return out + errs
}

func TestNoteAsksBeforeItSaves(t *testing.T) {
	for _, c := range []struct{ name, keys, words, saved string }{
		{"yes", "y\n", "rain 14 mm", "rain 14 mm"},
		{"no", "n\n", "rain 14 mm", ""},
		{"the input ends", "", "rain 14 mm", ""},
		{"asked until it is one of both", "perhaps\nY\n", "rain 14 mm", "rain 14 mm"},
		{"a doubt by number", "3\ny\n", "put up 3 kg apples", "put up 3 kg of frozen apple"},
		{"a doubt by Enter", "\ny\n", "put up 3 kg apples", "put up 3 kg of dried apple"},
		{"a number out of range", "9\n0\nthree\n2\ny\n", "put up 3 kg apples", "put up 3 kg of jarred apple"},
		{"two doubts", "2\n5\ny\n", "put up 3 kg of wheat", "put up 3 kg of fresh"},
		{"an amount by number", "3\ny\n", "rain 2", "rain 50.8 mm"},
		{"lines until an empty one", "rain 1 mm\ndipped tote 1 at 100 gal\n\ny\n", "", "dipped 379 L in tote 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			madeStead(t)
			out, err := typed(t, c.keys, noteCommand, append([]string{"--today", "2026-11-25"}, strings.Fields(c.words)...)...)
			if err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			book := listed(t)
			if c.saved == "" && (!strings.Contains(book, "no such entry") || strings.Contains(out, "saved ")) {
				t.Errorf("something was saved:\n%s\n%s", out, book)
			}
			if c.saved != "" && (!strings.Contains(book, c.saved) || !strings.Contains(out, "save? [y/n]")) {
				t.Errorf("want %q:\n%s\n%s", c.saved, out, book)
			}
		})
	}
}

func TestNoteTypedWithFaultsIsRefused(t *testing.T) {
	madeStead(t)
	out, err := typed(t, "y\n", noteCommand, "--today", "2026-11-25", "picked", "3000", "kg", "basil")
	if !errors.As(err, new(errGiven)) || strings.Contains(out, "save?") || !strings.Contains(out, "check the unit") {
		t.Errorf("%v\n%s", err, out)
	}
}

func TestNegativeNumbersAreWords(t *testing.T) {
	madeStead(t)
	status, out, errs := said(t, "note", "--yes", "--today", "2026-11-25", "heat", "in", "chest", "-18", "C")
	if status != ok || !strings.Contains(out, "−18 °C in chest") {
		t.Errorf("status %d:\n%s%s", status, out, errs)
	}
}

func TestCountWithoutWordsTellsHow(t *testing.T) {
	madeStead(t)
	out, err := typed(t, "", countCommand)
	if err != nil || !strings.Contains(out, "usage: evenstead count") {
		t.Errorf("%v\n%s", err, out)
	}
	a := &args{flags: flag.NewFlagSet("count", flag.ContinueOnError), words: []string{"--yes", "--today", "2026-11-25"},
		in: strings.NewReader("potatoes 18 kg\n\n  12 jars of tomatoes\n"), out: io.Discard, err: io.Discard}
	if err := countShelf(context.Background(), a); err != nil {
		t.Fatal(err)
	}
	if book := listed(t); !strings.Contains(book, "counted 18 kg of potato") || !strings.Contains(book, "counted 12 jarred tomato") {
		t.Error(book)
	}
}

func TestNotePhoto(t *testing.T) {
	madeStead(t)
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 4, 4))); err != nil {
		t.Fatal(err)
	}
	for name, file := range map[string][]byte{"shelf.png": b.Bytes(), "shelf.txt": []byte("a shelf"), "big.png": append(b.Bytes(), make([]byte, 5<<20)...)} {
		if err := os.WriteFile(name, file, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile("two.txt", []byte("rain 1 mm\nrain 2 mm yesterday\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for photo, say := range map[string]string{"shelf.txt": "JPEG or PNG", "big.png": "over 4 MB", "none.png": "open the photo"} {
		status, _, errs := said(t, "note", "--yes", "--today", "2026-11-25", "--photo", photo, "rain", "3", "mm")
		if status != badSays || !strings.Contains(errs, say) {
			t.Errorf("%s: status %d, %s", photo, status, errs)
		}
	}
	status, out, errs := said(t, "note", "--yes", "--today", "2026-11-25", "--photo", "shelf.png", "counted", "18", "kg", "potatoes")
	if status != ok || !strings.Contains(out, "with its photo") {
		t.Fatalf("status %d:\n%s%s", status, out, errs)
	}
	h, err := hearth.Open(t.Context(), steadFile, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer h.Close()
	all, err := h.Entries(t.Context())
	if err != nil || len(all) != 1 {
		t.Fatalf("%d entries, %v", len(all), err)
	}
	if list, err := h.Store().Photos(t.Context(), all[0].ID); err != nil || len(list) != 1 || list[0].Media != "image/png" {
		t.Errorf("%+v %v", list, err)
	}
}

func TestPhotoGoesWithOneEntry(t *testing.T) {
	madeStead(t)
	q := &noting{yes: true, picture: []byte("x"), text: "rain 1 mm\nrain 2 mm yesterday", ask: &asker{bufio.NewReader(strings.NewReader("")), io.Discard}}
	q.path, q.today = steadFile, "2026-11-25"
	err := q.at.with(t.Context(), func(h *hearth.Home) error { return q.take(t.Context(), h, &args{out: io.Discard}) })
	if err == nil || !strings.Contains(err.Error(), "goes with one entry, and the note has 2") {
		t.Errorf("got %v", err)
	}
}

func TestExportIsNotLeftHalfWritten(t *testing.T) {
	t.Chdir(t.TempDir())
	err := writeNew("half.jsonl", func(w io.Writer) error {
		if _, err := io.WriteString(w, "half"); err != nil {
			return err
		}
		return errors.New("the disk is full")
	})
	if err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("got %v", err)
	}
	if _, err := os.Stat("half.jsonl"); !os.IsNotExist(err) {
		t.Errorf("half a file was left: %v", err)
	}
}

func TestThousands(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1,000", 22006: "22,006", 1234567: "1,234,567"} {
		if got := thousands(n); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
	if counted(1, "day", "days") != "1 day" || counted(2000, "day", "days") != "2,000 days" {
		t.Error(counted(1, "day", "days"), counted(2000, "day", "days"))
	}
}
