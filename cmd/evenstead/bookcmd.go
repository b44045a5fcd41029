package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/hearth"
	"evenstead/unit"
)

var bookCommand = command{"book", "[flags]", "lists what the book holds, oldest first", listBook}

// pages is what book is asked to list.
type pages struct {
	at
	from, to          string
	kind, find        string
	struck, us, asCSV bool
	first, last       day.Day
}

func listBook(ctx context.Context, a *args) error {
	q := new(pages)
	q.fileFlag(a.flags)
	a.flags.StringVar(&q.from, "from", "", "first `date` listed")
	a.flags.StringVar(&q.to, "to", "", "last `date` listed")
	a.flags.StringVar(&q.kind, "kind", "", "only entries of this `kind`, such as picked")
	a.flags.StringVar(&q.find, "find", "", "only entries that hold these `words`")
	a.flags.BoolVar(&q.struck, "struck", false, "struck entries too, and what struck them")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	a.flags.BoolVar(&q.asCSV, "csv", false, "print CSV (columns: book/format.md)")
	words, err := a.parse()
	if err == nil {
		err = q.check(words)
	}
	if err != nil {
		return err
	}
	return q.with(ctx, func(h *hearth.Home) error { return q.list(ctx, h, a) })
}

func (q *pages) check(words []string) (err error) {
	if len(words) > 0 {
		return given(fmt.Errorf("book takes no words; to look for some: evenstead book --find %q", strings.Join(words, " ")))
	}
	if _, ok := book.RuleOf(book.Kind(q.kind)); !ok && q.kind != "" {
		return given(fmt.Errorf("--kind %q: one of %s", q.kind, kindNames()))
	}
	if q.first, err = dayNamed("from", q.from, math.MinInt32); err != nil {
		return err
	}
	q.last, err = dayNamed("to", q.to, math.MaxInt32)
	return err
}

func kindNames() string {
	var w []string
	for _, k := range book.Kinds() {
		w = append(w, string(k))
	}
	return strings.Join(w, ", ")
}

func (q *pages) list(ctx context.Context, h *hearth.Home, a *args) error {
	all, err := h.All(ctx)
	if err != nil {
		return err
	}
	stands, err := standing(all)
	if err != nil {
		return err
	}
	var some []book.Entry
	for _, e := range all {
		if q.wanted(e, stands[e.ID]) {
			some = append(some, e)
		}
	}
	if q.asCSV {
		return book.WriteCSV(a.out, some)
	}
	return q.print(&printer{w: a.out}, some, stands)
}

// standing tells which entries count.
func standing(all []book.Entry) (map[uuid.UUID]bool, error) {
	live, err := book.Live(all)
	if err != nil {
		return nil, err
	}
	stands := make(map[uuid.UUID]bool, len(live))
	for _, e := range live {
		stands[e.ID] = true
	}
	return stands, nil
}

func (q *pages) wanted(e book.Entry, stands bool) bool {
	text := plain(e.Sentence(q.system()))
	return (stands || q.struck) && e.Day >= q.first && e.Day <= q.last &&
		(q.kind == "" || q.kind == string(e.Kind)) && strings.Contains(strings.ToLower(text), strings.ToLower(q.find))
}

func (q *pages) system() unit.System { return system(q.us) }

// print writes entries under their days.
func (q *pages) print(p *printer, some []book.Entry, stands map[uuid.UUID]bool) error {
	if len(some) == 0 {
		p.line("The book holds no such entry.")
	}
	for i, e := range some {
		if i == 0 || some[i-1].Day != e.Day {
			p.line("%s, %s", plain(e.Day.Long()), e.Day.Time().Weekday())
		}
		p.wrap("  "+hearth.Short(e.ID)+"  ", q.said(e, stands[e.ID]))
	}
	return p.err
}

// said is an entry in a list.
func (q *pages) said(e book.Entry, stands bool) string {
	if e.Kind == book.Struck {
		return strings.TrimSuffix("strikes "+hearth.Short(e.Strikes)+": "+e.Note, ": ")
	}
	s := plain(e.Undated(q.system()))
	if e.Strikes != uuid.Nil {
		s += " (in place of " + hearth.Short(e.Strikes) + ")"
	}
	if !stands {
		s = "struck: " + s
	}
	return s
}

var strikeCommand = command{"strike", "ID [flags]", "takes an entry out of what counts, or puts a mended one in its place; both stay known", strike}

// striking is what strike is asked.
type striking struct {
	noting
	why, instead string
}

func strike(ctx context.Context, a *args) error {
	q := new(striking)
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.why, "why", "", "the `reason`, to be kept")
	a.flags.StringVar(&q.instead, "with", "", "the `note` that stands in its place")
	a.flags.StringVar(&q.who, "who", "", "`name` of the one who did it, where the new note names nobody")
	a.flags.BoolVar(&q.us, "us", false, "show US units")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) != 1 {
		return given(errors.New("strike wants one entry's id, as evenstead book shows it"))
	}
	return q.strike(ctx, a, words[0])
}

// strike strikes the entry that id names.
func (q *striking) strike(ctx context.Context, a *args, id string) error {
	return q.with(ctx, func(h *hearth.Home) error {
		old, err := h.Find(ctx, id)
		if err != nil {
			return given(err)
		}
		if q.instead != "" {
			return q.replace(ctx, h, a, old)
		}
		if _, err := h.Strike(ctx, old.ID, q.why); err != nil {
			return blame(err)
		}
		p := &printer{w: a.out}
		p.line("struck %s  %s", hearth.Short(old.ID), plain(old.Sentence(system(q.us))))
		return p.err
	})
}

func (q *striking) replace(ctx context.Context, h *hearth.Home, a *args, old book.Entry) error {
	c, err := q.context(ctx, h)
	if err != nil {
		return err
	}
	read := book.Read(q.instead, c)
	if len(read) != 1 {
		return given(fmt.Errorf("--with takes one line, found %d", len(read)))
	}
	read[0].Entry.Strikes = old.ID
	if err := q.would(ctx, h, read, c); err != nil {
		return err
	}
	if read[0].Err != nil {
		return errors.Join(q.show(a.out, read), refused(read))
	}
	if q.why != "" {
		read[0].Entry.Note = strings.TrimPrefix(read[0].Entry.Note+"; "+q.why, "; ")
	}
	e, err := h.Replace(ctx, old.ID, read[0])
	if err != nil {
		return blame(err)
	}
	p := &printer{w: a.out}
	p.line("struck %s  %s", hearth.Short(old.ID), plain(old.Sentence(system(q.us))))
	p.line("saved  %s  %s", hearth.Short(e.ID), plain(e.Sentence(system(q.us))))
	for _, d := range read[0].Doubts {
		p.doubt(d)
	}
	p.cautions(read[0])
	return p.err
}
