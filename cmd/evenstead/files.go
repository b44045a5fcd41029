package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"

	"evenstead/book"
	"evenstead/hearth"
	"evenstead/store"
)

var (
	exportCommand  = command{"export", "[FILE] [flags]", "writes all that the stead's file holds as text that lasts (book/format.md)", export}
	importCommand  = command{"import", "FILE [flags]", "takes in an export, or a CSV of entries, all of it or nothing", takeIn}
	backupCommand  = command{"backup", "FILE [flags]", "copies the stead's file while it is in use, and checks the copy", backup}
	restoreCommand = command{"restore", "BACKUP [flags]", "makes the stead's file from a backup; never over one that is there", restore}
	verifyCommand  = command{"verify", "[flags]", "reads the stead's file through and tells whether it is sound", verify}
)

func export(ctx context.Context, a *args) error {
	var q at
	q.fileFlag(a.flags)
	dir := a.flags.String("csv", "", "write CSV instead, one file a kind, into this `folder`")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 || len(words) == 1 && *dir != "" {
		return given(errors.New("export wants one file, or --csv FOLDER, or nothing to print"))
	}
	return q.with(ctx, func(h *hearth.Home) error {
		switch {
		case *dir != "":
			return exportKinds(ctx, h, a, *dir)
		case len(words) == 1:
			return exportTo(ctx, h, a, words[0])
		}
		return h.Store().Export(ctx, a.out)
	})
}

func exportTo(ctx context.Context, h *hearth.Home, a *args, name string) error {
	if err := writeNew(name, func(w io.Writer) error { return h.Store().Export(ctx, w) }); err != nil {
		return err
	}
	p := &printer{w: a.out}
	p.line("exported to %s", name)
	return p.err
}

// writeNew writes a file that is not there yet, whole or not at all.
func writeNew(name string, write func(io.Writer) error) error {
	err := store.WriteNew(name, write)
	if errors.Is(err, fs.ErrExist) {
		return given(fmt.Errorf("%s is there already and is not written over: choose another name", name))
	}
	return blame(err)
}

// exportKinds writes a CSV for each kind the book holds.
func exportKinds(ctx context.Context, h *hearth.Home, a *args, dir string) error {
	kinds, err := kindsHeld(ctx, h)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return given(err)
	}
	for _, k := range kinds {
		if _, err := os.Lstat(csvName(dir, k)); err == nil {
			return given(fmt.Errorf("%s is there already and is not written over: choose another folder", csvName(dir, k)))
		}
	}
	for _, k := range kinds {
		if err := writeNew(csvName(dir, k), func(w io.Writer) error { return h.Store().ExportCSV(ctx, w, k) }); err != nil {
			return err
		}
	}
	p := &printer{w: a.out}
	p.line("exported %s into %s", counted(len(kinds), "kind", "kinds"), dir)
	return p.err
}

// csvName is the file of a kind: "fuel-in.csv".
func csvName(dir string, k book.Kind) string {
	return filepath.Join(dir, strings.ReplaceAll(string(k), " ", "-")+".csv")
}

func kindsHeld(ctx context.Context, h *hearth.Home) (out []book.Kind, err error) {
	all, err := h.All(ctx)
	if err != nil {
		return nil, err
	}
	has := map[book.Kind]bool{}
	for _, e := range all {
		has[e.Kind] = true
	}
	for _, k := range book.Kinds() {
		if has[k] {
			out = append(out, k)
		}
	}
	return out, nil
}

func takeIn(ctx context.Context, a *args) error {
	var q at
	q.fileFlag(a.flags)
	name, err := a.one("import wants one file, an export or a CSV of entries")
	if err != nil {
		return err
	}
	f, err := os.Open(name)
	if err != nil {
		return given(err)
	}
	defer f.Close()
	return q.withNew(ctx, func(h *hearth.Home) error {
		before, err := holdings(ctx, h)
		if err != nil {
			return err
		}
		if err := takeFile(ctx, h.Store(), f); err != nil {
			return blame(fmt.Errorf("%s: %w", name, err))
		}
		after, err := holdings(ctx, h)
		if err != nil {
			return err
		}
		p := &printer{w: a.out}
		p.line("imported %s: %s new", name, counted(after.entries-before.entries, "entry is", "entries are"))
		p.line("%s holds %s", q.path, after)
		return p.err
	})
}

// takeFile imports an export, which begins with {, or a CSV.
func takeFile(ctx context.Context, s *store.Store, f io.Reader) error {
	in := bufio.NewReader(f)
	head, _ := in.Peek(256)
	if head = bytes.TrimSpace(head); len(head) == 0 || head[0] == '{' {
		return s.Import(ctx, in)
	}
	return s.ImportCSV(ctx, in)
}

// one parses flags and returns the one word, or says what is wanted.
func (a *args) one(wanted string) (string, error) {
	words, err := a.parse()
	if err != nil {
		return "", err
	}
	if len(words) != 1 {
		return "", given(errors.New(wanted))
	}
	return words[0], nil
}

func backup(ctx context.Context, a *args) error {
	var q at
	q.fileFlag(a.flags)
	name, err := a.one("backup wants the name of the copy, such as evenstead backup 2026-11-25.stead")
	if err != nil {
		return err
	}
	return q.with(ctx, func(h *hearth.Home) error {
		if err := h.Store().Backup(ctx, name); err != nil {
			return blame(err)
		}
		held, err := holdings(ctx, h)
		if err != nil {
			return err
		}
		p := &printer{w: a.out}
		p.line("backed up to %s and read back: %s", name, held)
		return p.err
	})
}

func restore(ctx context.Context, a *args) error {
	var q at
	q.fileFlag(a.flags)
	name, err := a.one("restore wants one backup")
	if err != nil {
		return err
	}
	if err := store.Restore(ctx, name, q.path); err != nil {
		return blame(err)
	}
	return q.with(ctx, func(h *hearth.Home) error {
		held, err := holdings(ctx, h)
		if err != nil {
			return err
		}
		p := &printer{w: a.out}
		p.line("restored %s from %s: %s", q.path, name, held)
		return p.err
	})
}

func verify(ctx context.Context, a *args) error {
	var q at
	var d digestAsk
	q.fileFlag(a.flags)
	a.flags.Var(&d, "digest", "also print the digest of the book; with its `digits`, tell whether the book still has it")
	words, err := a.parse()
	if err == nil {
		err = d.words(words)
	}
	if err != nil {
		return err
	}
	return q.with(ctx, func(h *hearth.Home) error {
		if err := h.Store().Verify(ctx); err != nil {
			return err
		}
		held, err := holdings(ctx, h)
		if err != nil {
			return err
		}
		p := &printer{w: a.out}
		p.line("%s is sound: %s", q.path, held)
		if d.on {
			return d.tell(ctx, h, p)
		}
		return p.err
	})
}

// held counts what a stead's file holds.
type held struct{ entries, stand, steads, weather int }

func holdings(ctx context.Context, h *hearth.Home) (n held, err error) {
	all, err := h.All(ctx)
	if err != nil {
		return n, err
	}
	live, err := book.Live(all)
	if err != nil {
		return n, err
	}
	steads, err := h.Store().Steads(ctx)
	if err != nil {
		return n, err
	}
	days, err := h.Store().Weather(ctx, math.MinInt32, math.MaxInt32)
	return held{len(all), len(live), len(steads), len(days)}, err
}

// String tells the counts.
func (n held) String() string {
	return fmt.Sprintf("%s, of which %s; %s, %s of weather", counted(n.entries, "entry", "entries"), counted(n.stand, "stands", "stand"),
		counted(n.steads, "version of the description", "versions of the description"), counted(n.weather, "day", "days"))
}
