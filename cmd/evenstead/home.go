package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"

	"evenstead/day"
	"evenstead/hearth"
	"evenstead/store"
)

// steadFile is the file a stead is kept in unless --stead names another.
const steadFile = "evenstead.stead"

// at is what every command that works on a stead's file is asked.
type at struct {
	path  string
	today string
}

func (q *at) fileFlag(f *flag.FlagSet) {
	f.StringVar(&q.path, "stead", steadFile, "the `file` the stead is kept in")
}

func (q *at) todayFlag(f *flag.FlagSet) {
	f.StringVar(&q.today, "today", "", "`date` that counts as today, such as 2026-11-25 (default: the real one)")
}

// day is today, as asked or by the clock.
func (q *at) day() (day.Day, error) { return dayNamed("today", q.today, day.Today(time.Now())) }

// dayNamed reads a flag's date; absent when nothing was given.
func dayNamed(name, text string, absent day.Day) (day.Day, error) {
	if text == "" {
		return absent, nil
	}
	d, err := day.Parse(text)
	if err != nil {
		return 0, given(fmt.Errorf("--%s: %w", name, err))
	}
	return d, nil
}

// open opens the stead's file, which must be there.
func (q *at) open(ctx context.Context) (*hearth.Home, error) {
	if _, err := os.Stat(q.path); errors.Is(err, fs.ErrNotExist) {
		return nil, given(fmt.Errorf("there is no %s here: make it with evenstead describe STEAD.toml, or name another with --stead", q.path))
	}
	return q.make(ctx)
}

// make opens the stead's file, and makes it when there is none.
func (q *at) make(ctx context.Context) (*hearth.Home, error) {
	h, err := hearth.Open(ctx, q.path, time.Now)
	return h, blame(err)
}

// with runs f on the stead's file, which must be there, and closes it.
func (q *at) with(ctx context.Context, f func(h *hearth.Home) error) error {
	h, err := q.open(ctx)
	if err != nil {
		return err
	}
	return errors.Join(f(h), h.Close())
}

// withNew is with for a file that may have to be made. One that was made here
// is taken away again when f fails.
func (q *at) withNew(ctx context.Context, f func(h *hearth.Home) error) error {
	_, err := os.Stat(q.path)
	fresh := errors.Is(err, fs.ErrNotExist)
	h, err := q.make(ctx)
	if err != nil {
		return err
	}
	err = f(h)
	if closed := h.Close(); closed != nil {
		err = errors.Join(err, closed)
	}
	if err != nil && fresh {
		err = errors.Join(err, os.Remove(q.path))
	}
	return err
}

// blame marks an error as one of what was given, unless the machine or the
// stead's file is at fault.
func blame(err error) error {
	if err == nil {
		return nil
	}
	for _, trouble := range []error{store.ErrFull, store.ErrLocked, store.ErrCorrupt, store.ErrDisk, fs.ErrPermission, context.Canceled, context.DeadlineExceeded} {
		if errors.Is(err, trouble) {
			return err
		}
	}
	return given(err)
}

// terminal reports whether a person types at in.
func terminal(in io.Reader) bool {
	f, isFile := in.(*os.File)
	if !isFile {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// counted is a number with its word: "1 entry", "3 entries".
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%s %s", thousands(n), many)
}

// thousands writes a whole number with commas.
func thousands(n int) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%s,%03d", thousands(n/1000), n%1000)
}
