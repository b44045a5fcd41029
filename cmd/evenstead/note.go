package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"evenstead/book"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/store"
)

var noteCommand = command{"note", "[TEXT...] [flags]", "reads a quick note such as picked 3 lb kale, north bed, and saves it in the book", note}

var countCommand = command{"count", "[TEXT...] [flags]", "records what is found on a shelf, such as count potatoes 18 kg", countShelf}

// noting is what note and count are asked.
type noting struct {
	at
	who, reason, photo string
	yes, dry, us       bool
	picture            []byte // of --photo
	text               string // one entry a line
	ask                *asker
	told               map[int]engine.Told // what each line does
	blind              error               // why that can't be reckoned
}

func note(ctx context.Context, a *args) error { return takeNote(ctx, a, "") }

// countShelf is note with "counted" before each line.
func countShelf(ctx context.Context, a *args) error { return takeNote(ctx, a, "counted ") }

func takeNote(ctx context.Context, a *args, before string) error {
	q := &noting{ask: &asker{bufio.NewReader(a.in), a.out}}
	q.flagsInto(a)
	words, err := a.parse()
	if err != nil {
		return err
	}
	if before != "" && len(words) == 0 && a.asked {
		a.flags.Usage()
		return nil
	}
	if q.picture, err = readPhoto(q.photo); err != nil {
		return err
	}
	return q.with(ctx, func(h *hearth.Home) error {
		if q.text, err = q.lines(a, words, before); err != nil {
			return err
		}
		return q.take(ctx, h, a)
	})
}

func (q *noting) flagsInto(a *args) {
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.who, "who", "", "`name` of the one who did it, where the note names nobody")
	a.flags.StringVar(&q.reason, "reason", "", "`words` to keep where a rule of safety stands against the note")
	a.flags.StringVar(&q.photo, "photo", "", "JPEG or PNG `file` of at most 4 MB to keep with the one entry noted")
	a.flags.BoolVar(&q.yes, "yes", false, "save without asking when every line is understood")
	a.flags.BoolVar(&q.dry, "dry", false, "show what is understood and save nothing")
	a.flags.BoolVar(&q.us, "us", false, "show US units")
}

// mostNote is the most bytes of a note that are read: a year's worth by hand.
const mostNote = 1 << 20

// lines are the words given as one note, or what stands at the input.
func (q *noting) lines(a *args, words []string, before string) (string, error) {
	if len(words) > 0 {
		return before + strings.Join(words, " "), nil
	}
	if a.asked {
		fmt.Fprintln(a.out, "One thing a line, such as picked 3 lb kale, north bed. An empty line ends.")
		return q.ask.lines()
	}
	text, err := io.ReadAll(io.LimitReader(a.in, mostNote+1))
	switch {
	case err != nil:
		return "", fmt.Errorf("read the note: %w", err)
	case len(text) > mostNote:
		return "", given(errors.New("the note is larger than 1 MB: import it with evenstead import, or part it"))
	}
	return prefixed(string(text), before), nil
}

// prefixed puts words before every line that holds something.
func prefixed(text, before string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if strings.TrimSpace(l) != "" {
			lines[i] = before + strings.TrimSpace(l)
		}
	}
	return strings.Join(lines, "\n")
}

func readPhoto(name string) ([]byte, error) {
	if name == "" {
		return nil, nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, given(fmt.Errorf("open the photo: %w", err))
	}
	defer f.Close()
	file, err := io.ReadAll(io.LimitReader(f, store.MostPhoto+1))
	if err == nil {
		err = store.CheckPhoto(file)
	}
	if err != nil {
		return nil, given(fmt.Errorf("--photo %s: %w", name, err))
	}
	return file, nil
}

// take reads the note, shows it and saves it.
func (q *noting) take(ctx context.Context, h *hearth.Home, a *args) error {
	c, err := q.context(ctx, h)
	if err != nil {
		return err
	}
	read := book.Read(q.text, c)
	for i, r := range read {
		read[i] = r.Because(q.reason, c)
	}
	if err := q.would(ctx, h, read, c); err != nil {
		return err
	}
	switch {
	case len(read) == 0:
		return given(errors.New("nothing is noted: write evenstead note picked 3 lb kale, or give lines at the input"))
	case len(read) > 1 && q.picture != nil:
		return given(fmt.Errorf("--photo goes with one entry, and the note has %d: note that one by itself", len(read)))
	}
	if a.asked && !q.dry && !q.yes {
		return q.converse(ctx, h, a, read, c)
	}
	if q.yes && !q.dry && faults(read) == 0 {
		return q.save(ctx, h, a, read)
	}
	if err := q.show(a.out, read); err != nil {
		return err
	}
	switch {
	case faults(read) > 0:
		return refused(read)
	case q.dry:
		return nil
	}
	return errors.New("nothing is saved: look it over, and add --yes to save it")
}

func (q *noting) context(ctx context.Context, h *hearth.Home) (book.Context, error) {
	today, err := q.day()
	if err != nil {
		return book.Context{}, err
	}
	c, why, err := h.Knowing(ctx, today, q.who, system(q.us))
	q.blind = why
	return c, blame(err)
}

// would asks the reckoning what the note does; what it refuses can't be saved.
func (q *noting) would(ctx context.Context, h *hearth.Home, read []book.Reading, c book.Context) (err error) {
	if q.blind != nil || len(read) == faults(read) {
		return nil
	}
	if q.told, err = h.Would(ctx, c.Today, read); err != nil {
		return blame(err)
	}
	hearth.Refuse(read, q.told)
	return nil
}

// converse asks about what is in doubt, and whether to save.
func (q *noting) converse(ctx context.Context, h *hearth.Home, a *args, read []book.Reading, c book.Context) error {
	for i := range read {
		read[i] = q.ask.doubts(read[i], c)
	}
	if err := q.show(a.out, read); err != nil {
		return err
	}
	if faults(read) > 0 {
		return refused(read)
	}
	if q.blind != nil {
		(&printer{w: a.out}).wrap("", "What it does is not reckoned: "+q.blind.Error()+".")
	}
	if !q.ask.yes("save?") {
		fmt.Fprintln(a.out, "Nothing is saved.")
		return nil
	}
	return q.save(ctx, h, a, read)
}

func (q *noting) save(ctx context.Context, h *hearth.Home, a *args, read []book.Reading) error {
	saved, err := h.Add(ctx, read)
	if err != nil {
		return blame(err)
	}
	p := &printer{w: a.out}
	for i, e := range saved {
		p.line("saved %s  %s", hearth.Short(e.ID), plain(e.Sentence(system(q.us))))
		for _, d := range read[i].Doubts {
			p.doubt(d)
		}
		p.cautions(read[i])
		q.does(p, read[i])
	}
	if q.picture != nil {
		if _, err := h.Store().AddPhoto(ctx, saved[0].ID, q.picture); err != nil {
			return fmt.Errorf("entry %s is saved, its photo is not: %w", hearth.Short(saved[0].ID), err)
		}
		p.line("      with its photo")
	}
	return p.err
}

// show prints each line as it was understood, with its doubts and faults, and
// what it does.
func (q *noting) show(w io.Writer, read []book.Reading) error {
	p := &printer{w: w}
	for _, r := range read {
		p.reading(r)
		q.does(p, r)
	}
	return p.err
}

func (q *noting) does(p *printer, r book.Reading) {
	if t, ok := q.told[r.Line]; ok && r.Err == nil {
		p.told(&t, system(q.us))
	}
}

func (p *printer) reading(r book.Reading) {
	if r.Err != nil {
		p.line("line %d: %s", r.Line, r.Text)
		for _, s := range strings.Split(r.Err.Error(), "\n") {
			p.wrap("  no: ", s)
		}
		if errors.Is(r.Err, book.ErrGate) {
			p.line("  (--reason \"...\" keeps a reason)")
		}
		return
	}
	p.line("%s", plain(r.Sentence))
	for _, d := range r.Doubts {
		p.doubt(d)
	}
	p.cautions(r)
}

// cautions are what can harm in a reading's food.
func (p *printer) cautions(r book.Reading) {
	for _, c := range r.Cautions {
		p.wrap("  ! ", plain(c)+".")
	}
}

func (p *printer) doubt(d book.Doubt) {
	p.wrap("  ? ", d.Question)
	for i, c := range d.Choices {
		p.line("    %d  %s", i+1, strings.ReplaceAll(c, "_", " "))
	}
}

func faults(read []book.Reading) (n int) {
	for _, r := range read {
		if r.Err != nil {
			n++
		}
	}
	return n
}

// refused says that nothing was saved for the sake of some lines.
func refused(read []book.Reading) error {
	if len(read) == 1 {
		return given(errors.New("nothing is saved: mend the line and note it again"))
	}
	return given(fmt.Errorf("nothing is saved: %d of %d lines can't be; mend them and note all again", faults(read), len(read)))
}
