// Package web shows an outlook as pages: server-made HTML with drawings in SVG
// that work without script, on a phone, in the dark and in print. It leaves out
// all reckoning; what it says comes from engine.Outlook. The form of the
// drawings is described above each: scale, ribbon, strip, fan, belts.
package web

import (
	"context"
	"fmt"
	"html/template"
	"net/http"
	"time"

	"evenstead/day"
	"evenstead/device"
	"evenstead/engine"
	"evenstead/unit"
)

// A Source gives the newest outlook, or nil while the first is being reckoned.
// It is called once a request and must be safe to call from several at once.
type Source func(ctx context.Context) (*engine.Outlook, Progress)

// Progress tells how far the reckoning now running has come.
type Progress struct {
	Done, Total int   // members reckoned and wanted; Total 0: none is running
	Err         error // why the last reckoning stopped; nil when it did not
}

// Options are the choices of the one who serves the pages. The zero value is
// metric, English and without a year rule.
type Options struct {
	Units unit.System // of the pages; the JSON stays SI
	Lang  string      // a file of words/, without its ending; "" is "en"
	Stead string      // name shown in the head; "" takes the outlook's

	Clock12 bool         // times of day as 6:30 pm, not 18:30
	Week    time.Weekday // the day a week begins on
	Demo    []byte       // a description that may be looked at first; nil: none is offered
	Zone    string       // IANA name of the stead's time zone, for its calendar; "": not known
	House   *House       // the way for phones; nil: this machine alone is served

	Gauges Gauges // the sensors; nil: none are listened to

	// Rain gives what the year rule shows; nil, or a nil result, leaves the rule out.
	Rain func(today day.Day) *Rain

	role  device.Role // of whom the pages are for
	words words       // of Lang, once they are read
}

// Rain is what fell and what usually falls, week by week.
type Rain struct {
	Past  []float64 // mm in each of the weeks before today, oldest first; NaN: not known
	Usual []float64 // mm of a usual year in each week from today
	Frost []int     // weeks from today in which frost is usual
}

// site is what every page is made with.
type site struct {
	src    Source
	desk   *Desk // nil where one outlook is shown by itself
	drafts *drafts
	spent  spent
	opt    Options
	words  words
	assets assets
	paper  words // of sheets: the page's own, or English where it has none of them
	pages  map[string]*template.Template
	role   device.Role // of whom the pages are for
	mux    *http.ServeMux
}

// New returns the handler of all pages. It fails when a template, a static file
// or the file of words is wrong, so that no visitor meets it.
func New(src Source, opt Options) (http.Handler, error) {
	if src == nil {
		return nil, fmt.Errorf("web: no source of outlooks")
	}
	opt.role = device.Host
	return build(src, nil, newDrafts(), opt)
}

// NewAt returns the handler of all pages over a household's own stead: what New
// gives, and the pages that write. Units, clock, week and language are those the
// household has chosen.
func NewAt(d *Desk, opt Options) (http.Handler, error) {
	if opt.Rain == nil {
		opt.Rain = d.rain
	}
	opt.role = device.Host
	return newWanted(d, newDrafts(), opt)
}

func build(src Source, d *Desk, kept *drafts, opt Options) (http.Handler, error) {
	w, err := readWords(opt.Lang)
	if err != nil {
		return nil, fmt.Errorf("web: %w", err)
	}
	opt.words = w
	a, err := readAssets()
	if err != nil {
		return nil, fmt.Errorf("web: %w", err)
	}
	s := &site{src: src, desk: d, drafts: kept, opt: opt, words: w, assets: a, role: opt.role}
	if s.paper, err = paperWords(opt.Lang, w); err != nil {
		return nil, fmt.Errorf("web: %w", err)
	}
	if s.pages, err = s.parse(); err != nil {
		return nil, fmt.Errorf("web: %w", err)
	}
	return s.routes(), nil
}
