package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"evenstead/demo"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/unit"
	"evenstead/web"
)

var aheadCommand = command{"ahead", "[STEAD.toml] [flags]", "tells how long each need is covered and what runs short first", ahead}

// forecast is what ahead is asked.
type forecast struct {
	request
	at             at
	json, us, asks bool
	addr           string
}

func ahead(ctx context.Context, a *args) error {
	var q forecast
	q.flagsInto(a.flags)
	q.at.fileFlag(a.flags)
	a.flags.BoolVar(&q.handbook, "handbook", false, "leave out what the place has taught by harvests and dips")
	a.flags.BoolVar(&q.asks, "ask", false, "tell which count or dip would sharpen the outlook most")
	a.flags.BoolVar(&q.json, "json", false, "print JSON (keys: docs/json.md)")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	a.flags.StringVar(&q.addr, "serve", "", "also serve the page at this `address`, such as 127.0.0.1:8040")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	show := progress(a.err)
	q.report = show.report
	o, err := q.outlook(ctx, words)
	show.clear()
	if err != nil {
		return err
	}
	return q.tell(ctx, a, o)
}

func (q *forecast) tell(ctx context.Context, a *args, o *engine.Outlook) (err error) {
	if q.json {
		err = writeJSON(a.out, o)
	} else {
		err = writeText(a.out, o, system(q.us))
	}
	if err != nil || q.addr == "" {
		return err
	}
	return serve(ctx, a, q.addr, o, system(q.us))
}

// outlook reckons from a description when one is named or there is no file of a
// stead here, else from that file: its descriptions, weather and book.
func (q *forecast) outlook(ctx context.Context, words []string) (*engine.Outlook, error) {
	_, missing := os.Stat(q.at.path)
	if len(words) == 1 || missing != nil && q.at.path == steadFile {
		return q.described(ctx, words)
	}
	var o *engine.Outlook
	err := q.at.with(ctx, func(h *hearth.Home) error {
		ask, err := q.request.ask(time.Now)
		if err != nil {
			return err
		}
		r, err := h.Reckon(ctx, ask)
		if err != nil {
			return blame(err)
		}
		if o, err = r.Outlook(ctx); err != nil {
			return blame(err)
		}
		if q.asks {
			o.Found.Ask, err = r.Questions(ctx)
		}
		return err
	})
	return o, err
}

// described is the outlook of a description by itself.
func (q *forecast) described(ctx context.Context, words []string) (o *engine.Outlook, err error) {
	if q.asks {
		return nil, given(errors.New("--ask looks at a book: keep the stead in a file first, with evenstead describe STEAD.toml"))
	}
	q.name = "evenstead.toml"
	if len(words) == 1 {
		q.name = words[0]
	}
	if q.text, err = readStead(q.name); err != nil {
		return nil, err
	}
	r, err := q.prepare(time.Now)
	if err != nil {
		return nil, err
	}
	o, err = r.Outlook(ctx)
	return o, blame(err)
}

var demoCommand = command{"demo", "[flags]", "runs the invented stead, prints its outlook and serves its page", runDemo}

func runDemo(ctx context.Context, a *args) error {
	var q request
	q.flagsInto(a.flags)
	once := a.flags.Bool("once", false, "print and exit")
	us := a.flags.Bool("us", false, "print US units")
	addr := a.flags.String("addr", "127.0.0.1:8040", "`address` to serve the page at")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 0 {
		return given(fmt.Errorf("demo takes no file; for your own stead: evenstead ahead %s", words[0]))
	}
	q.name, q.text = "quernfold.toml", demo.Quernfold()
	o, err := lookAhead(ctx, a, &q)
	if err != nil {
		return err
	}
	if err := writeText(a.out, o, system(*us)); err != nil || *once {
		return err
	}
	if q.weather+q.years+q.today+q.without != "" || onlyHere(*addr) != nil {
		return serve(ctx, a, *addr, o, system(*us))
	}
	return serveDemo(ctx, a, &serving{addr: *addr, us: *us, members: q.members})
}

// lookAhead prepares and runs a request, with its progress on a terminal.
func lookAhead(ctx context.Context, a *args, q *request) (*engine.Outlook, error) {
	show := progress(a.err)
	q.report = show.report
	r, err := q.prepare(time.Now)
	if err != nil {
		return nil, err
	}
	defer show.clear()
	return r.Outlook(ctx)
}

// serve shows an outlook on a page until interrupted.
func serve(ctx context.Context, a *args, addr string, o *engine.Outlook, sys unit.System) error {
	page, err := web.New(func(context.Context) (*engine.Outlook, web.Progress) { return o, web.Progress{} }, web.Options{Units: sys})
	if err != nil {
		return err
	}
	at, end, err := web.Serve(ctx, addr, page)
	if err != nil {
		return err
	}
	fmt.Fprintf(a.out, "\nThe page is served at %s (stop with Ctrl-C).\n", at)
	if err := <-end; err != nil && !errors.Is(err, context.Canceled) {
		return err
	}
	return nil
}

func system(us bool) unit.System {
	if us {
		return unit.US
	}
	return unit.Metric
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// meter shows how far a long run has come, on a terminal only.
type meter struct {
	w    io.Writer
	last time.Time
	on   bool
	what string // such as "reckoned %d of %d years"
}

func progress(w io.Writer) *meter {
	f, isFile := w.(*os.File)
	if !isFile {
		return &meter{}
	}
	info, err := f.Stat()
	return &meter{w: w, on: err == nil && info.Mode()&os.ModeCharDevice != 0, last: time.Now(), what: "reckoned %d of %d years"}
}

func (p *meter) report(done, total int) {
	if !p.on || time.Since(p.last) < 200*time.Millisecond {
		return
	}
	p.last = time.Now()
	fmt.Fprintf(p.w, "\r"+p.what, done, total)
}

func (p *meter) clear() {
	if p.on {
		fmt.Fprint(p.w, "\r\033[K")
	}
}
