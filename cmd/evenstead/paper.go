package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/paper"
	"evenstead/tasks"
	"evenstead/web"
)

var (
	paperCommand    = command{"paper", "SHEET [flags]", "writes a sheet to hang up or hand out, as one page to print; without a sheet it lists them", runPaper}
	handoverCommand = command{"handover", "FOLDER [flags]", "writes the document for the one the place is left to, and the whole history as data, into a folder", runHandover}
	openDayCommand  = command{"openday", "FOLDER [flags]", "writes pages for visitors, with the place's own numbers and nothing private, into a folder that any host can show", runOpenDay}
)

// printing is what the commands of paper are asked.
type printing struct {
	at
	size, address string
	members       int
	us            bool
}

// ask reads the flags of all three; usual is how many possible years cover is told from.
func (q *printing) ask(a *args, usual int) ([]string, error) {
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.size, "size", "", "paper: a4 or letter (default: a4, or letter with --us)")
	a.flags.IntVar(&q.members, "members", usual, "possible years to run for what is told of the year ahead; 0: it is left out")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	words, err := a.parse()
	switch {
	case err != nil:
		return nil, err
	case q.size != "" && q.size != "a4" && q.size != "letter":
		return nil, given(fmt.Errorf("--size %s: give a4 or letter", q.size))
	case q.members < 0 || q.members > 20000:
		return nil, given(fmt.Errorf("--members %d: give 0 to 20,000", q.members))
	}
	return words, nil
}

func (q *printing) options() web.PaperOptions {
	return web.PaperOptions{Letter: q.size == "letter" || q.size == "" && q.us, Address: q.address, Units: system(q.us)}
}

// facts are those of the stead's file on its day, with the outlook where members are run.
func (q *printing) facts(ctx context.Context, h *hearth.Home, say func(string, ...any) string) (*paper.Facts, error) {
	today, err := q.day()
	if err != nil {
		return nil, err
	}
	r, err := h.Reckon(ctx, hearth.Ask{Today: today, Members: max(usualYears, q.members)})
	if err != nil {
		return nil, blame(err)
	}
	var o *engine.Outlook
	if q.members > 0 {
		if o, err = r.Outlook(ctx); err != nil {
			return nil, blame(err)
		}
	}
	ask, err := tasks.Of(r.Past, r.Tables, r.Options.Climate, paper.PlanWeeks)
	if err != nil {
		return nil, given(err)
	}
	ask.Outlook, ask.Units = o, system(q.us)
	plan, err := tasks.Make(ask)
	if err != nil {
		return nil, err
	}
	entries, err := h.Entries(ctx)
	if err != nil {
		return nil, blame(err)
	}
	f := paper.From(&ask, plan, upTo(entries, today), say)
	f.Cautions = hearth.Cautions(r.Past.Stead)
	return f, nil
}

func runPaper(ctx context.Context, a *args) error {
	q := new(printing)
	a.flags.StringVar(&q.address, "address", "", "`address` at which phones in the house reach the pages, such as http://192.168.1.20:8040; labels carry it as a code")
	words, err := q.ask(a, 100)
	if err != nil {
		return err
	}
	p, err := web.NewPaper(q.options())
	if err != nil {
		return err
	}
	switch len(words) {
	case 0:
		return listSheets(a.out, p)
	case 1:
	default:
		return given(fmt.Errorf("one sheet at a time, not %d", len(words)))
	}
	return q.with(ctx, func(h *hearth.Home) error {
		f, err := q.facts(ctx, h, p.Say)
		if err != nil {
			return err
		}
		s, err := paper.Make(words[0], f)
		if err != nil {
			return given(err)
		}
		return p.Write(a.out, s)
	})
}

func listSheets(w io.Writer, p *web.Paper) error {
	out := &printer{w: w}
	for _, id := range paper.Sheets() {
		out.wrap(fmt.Sprintf("  %-10s ", id), p.Say("paper.sheet."+id+".what"))
	}
	return out.err
}

// folder is the one word that a command wants.
func folder(name string, words []string) (string, error) {
	if len(words) != 1 || strings.TrimSpace(words[0]) == "" {
		return "", given(fmt.Errorf("%s wants one folder, such as: evenstead %s ./%s", name, name, name))
	}
	return words[0], nil
}

// intoFolder readies paper and facts for a command that writes a folder.
func intoFolder(ctx context.Context, a *args, name string, members int, write func(h *hearth.Home, p *web.Paper, f *paper.Facts, dir string) error) error {
	q := new(printing)
	words, err := q.ask(a, members)
	if err != nil {
		return err
	}
	dir, err := folder(name, words)
	if err != nil {
		return err
	}
	p, err := web.NewPaper(q.options())
	if err != nil {
		return err
	}
	return q.with(ctx, func(h *hearth.Home) error {
		f, err := q.facts(ctx, h, p.Say)
		if err != nil {
			return err
		}
		return write(h, p, f, dir)
	})
}

func runHandover(ctx context.Context, a *args) error {
	return intoFolder(ctx, a, "handover", 0, func(h *hearth.Home, p *web.Paper, f *paper.Facts, dir string) error {
		if err := os.MkdirAll(dir, 0o700); err != nil { // it tells of people
			return given(err)
		}
		page, data := filepath.Join(dir, "handover.html"), filepath.Join(dir, "history.jsonl")
		if err := writeNew(page, func(w io.Writer) error { return p.Write(w, paper.Handover(f)) }); err != nil {
			return err
		}
		if err := writeNew(data, func(w io.Writer) error { return h.Store().Export(ctx, w) }); err != nil {
			return err
		}
		out := &printer{w: a.out}
		out.wrap("", fmt.Sprintf("The document is %s, to print; the whole history is %s. The history holds what people wrote about themselves: look through it before it is handed on.", page, data))
		return out.err
	})
}

func runOpenDay(ctx context.Context, a *args) error {
	return intoFolder(ctx, a, "openday", 100, func(h *hearth.Home, p *web.Paper, f *paper.Facts, dir string) error {
		files, err := p.OpenDay(f)
		if err != nil {
			return err
		}
		if err := writeFolder(dir, files); err != nil {
			return err
		}
		out := &printer{w: a.out}
		out.wrap("", fmt.Sprintf("%s is ready to be shown; open %s. It holds no name, note, weight, health, money or place.", dir, filepath.Join(dir, "index.html")))
		return out.err
	})
}

// writeFolder writes files of pages, over older ones of ours alone.
func writeFolder(dir string, files map[string][]byte) error {
	if err := os.MkdirAll(dir, 0o755); err != nil { // #nosec G301 -- for visitors to read
		return given(err)
	}
	for name := range files {
		old, err := os.ReadFile(filepath.Join(dir, name))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return given(err)
		case !bytes.Contains(old, []byte(web.OpenDayMark)):
			return given(fmt.Errorf("%s is there already and was not made by openday: choose another folder", filepath.Join(dir, name)))
		}
	}
	for name, b := range files {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil { // #nosec G306 -- for visitors to read
			return fmt.Errorf("write the open day: %w", err)
		}
	}
	return nil
}
