package web

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"

	"evenstead/day"
	"evenstead/hearth"
	"evenstead/unit"
)

// wants are the household's choices as the file had them.
type wants struct {
	key mark
	set hearth.Settings
	ok  bool
}

// Settings are how the household wants its pages, read again only when the file
// was written to.
func (d *Desk) Settings(ctx context.Context) (hearth.Settings, error) {
	key := d.mark()
	d.mu.Lock()
	had := d.wants
	d.mu.Unlock()
	if had.ok && had.key == key {
		return had.set, nil
	}
	set, err := d.home.Settings(ctx, usualSettings(d.opt.Units))
	if err != nil {
		return set, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.wants = wants{key, set, true}
	return set, nil
}

// usualSettings are those of a household that has chosen its units and nothing
// else: where US units are read, clocks mostly have twelve hours and weeks begin
// on Sunday.
func usualSettings(u unit.System) hearth.Settings {
	if u == unit.US {
		return hearth.Settings{Units: u, Clock12: true, Week: time.Sunday}
	}
	return hearth.Settings{Units: u, Week: time.Monday}
}

// wanted answers with pages made the way the household wants them, in the language
// it has chosen or else the browser's; they are made again when it changes its mind.
type wanted struct {
	desk   *Desk
	opt    Options
	drafts *drafts

	mu    sync.Mutex
	pages map[hearth.Settings]http.Handler
}

// mostWanted is how many ways of making the pages are kept ready.
const mostWanted = 8

func newWanted(d *Desk, kept *drafts, opt Options) (*wanted, error) {
	w := &wanted{desk: d, opt: opt, drafts: kept, pages: map[hearth.Settings]http.Handler{}}
	_, err := w.made(d.ctx, languages[0].Key)
	return w, err
}

// made are the pages by the choices that hold now; lang is for where no language
// of ours was chosen.
func (w *wanted) made(ctx context.Context, lang string) (http.Handler, error) {
	set, err := w.desk.Settings(ctx)
	if err != nil {
		return nil, err
	}
	if set.Language == "" || !hasWords(set.Language) {
		set.Language = lang
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	if pages := w.pages[set]; pages != nil {
		return pages, nil
	}
	opt := w.opt
	opt.Units, opt.Clock12, opt.Week, opt.Lang = set.Units, set.Clock12, set.Week, set.Language
	pages, err := build(w.desk.source, w.desk, w.drafts, opt)
	if err != nil {
		return nil, err
	}
	if len(w.pages) >= mostWanted {
		clear(w.pages)
	}
	w.pages[set] = pages
	return pages, nil
}

// ServeHTTP answers a request.
func (w *wanted) ServeHTTP(out http.ResponseWriter, r *http.Request) {
	lang, _ := localeOf(r)
	pages, err := w.made(r.Context(), lang)
	if err != nil {
		http.Error(out, "the settings could not be read: "+err.Error(), http.StatusInternalServerError)
		return
	}
	pages.ServeHTTP(out, r)
}

// languages are the files of words/ by their names, in their own tongue.
var languages = []choice{{Key: "en", Name: "English"}, {Key: "es", Name: "Español"}}

func hasWords(lang string) bool {
	for _, l := range languages {
		if lang == l.Key {
			return true
		}
	}
	return lang == ""
}

// clock writes a time of day, given as 18:30, the way the household reads it.
func (o Options) clock(text string) string {
	t, err := time.Parse("15:04", text)
	if !o.Clock12 || err != nil {
		return text
	}
	return strings.ReplaceAll(t.Format("3:04 pm"), " ", nbsp)
}

// weekOf is the first day of the week that a day lies in.
func (o Options) weekOf(d day.Day) day.Day {
	return d - day.Day((d.Time().Weekday()-o.Week+7)%7)
}

// settingsPage is where the household says how it wants its pages.
type settingsPage struct {
	frame
	Lead, Rest                    string
	Said                          string // what the form has just done
	Units, Clocks, Weeks, Tongues []choice
	Risk, RiskErr, TermsErr       string
	Water, HasTerms               bool
	Path                          string
}

func (s *site) settings(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		set, err := s.desk.Settings(r.Context())
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		page := settingsPage{frame: s.deskFrame(snap, ""), Lead: s.words.say("settings.lead"), Rest: s.words.say("settings.rest"), Path: s.desk.home.Store().Path()}
		page.Title = s.words.say("settings.title")
		form := url.Values{"units": {unitsKey(set.Units)}, "clock": {clockKey(set.Clock12)}, "week": {strconv.Itoa(int(set.Week))}, "language": {set.Language},
			"risk": {figure(snap.Stead.Terms.Storage * 100)}}
		if snap.Stead.Terms.Water {
			form.Set("water", "yes")
		}
		if draft := s.drafts.find(r.URL.Query().Get("draft")); draft != nil {
			form = draft
			page.Lead, page.Rest = s.words.say("settings.lead.bad"), s.words.say("settings.rest.bad")
		}
		if r.URL.Query().Get("kept") != "" {
			page.Said = s.words.say("settings.kept")
		}
		s.fillSettings(&page, form)
		s.render(w, http.StatusOK, "settings", page)
	})
}

func (s *site) fillSettings(page *settingsPage, form url.Values) {
	pick := func(name string, keys ...string) (list []choice) {
		for _, k := range keys {
			list = append(list, choice{k, s.words.say("settings." + name + "." + k), form.Get(name) == k})
		}
		return list
	}
	page.Units, page.Clocks = pick("units", "metric", "us"), pick("clock", "24", "12")
	for _, d := range []int{1, 0, 6, 2, 3, 4, 5} { // the common ones first
		key := strconv.Itoa(d)
		page.Weeks = append(page.Weeks, choice{key, s.words.say("settings.week." + key), form.Get("week") == key})
	}
	for _, l := range languages {
		page.Tongues = append(page.Tongues, choice{l.Key, l.Name, form.Get("language") == l.Key})
	}
	page.Risk, page.Water = form.Get("risk"), form.Get("water") != ""
	page.RiskErr, page.TermsErr = form.Get("riskerr"), form.Get("termserr")
}

func unitsKey(u unit.System) string {
	if u == unit.US {
		return "us"
	}
	return "metric"
}

func clockKey(twelve bool) string {
	if twelve {
		return "12"
	}
	return "24"
}

// Bounds of the risk that may be planned for, shares of years: those of the
// description.
const (
	leastRisk = 0.01
	mostRisk  = 0.5
)

// postSettings checks the choices and keeps them all, or says what is wrong.
func (s *site) postSettings(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	form := url.Values{}
	for _, name := range []string{"units", "clock", "week", "language", "risk", "water"} {
		if v := typedLine(r.PostForm.Get(name)); len(v) <= mostFind {
			form.Set(name, v)
		}
	}
	set, ok := chosenSettings(form)
	if !ok {
		s.sayRefused(w, http.StatusBadRequest)
		return
	}
	risk, err := s.words.parse(strings.TrimSuffix(form.Get("risk"), "%")+"%", unit.Share, "")
	if err == nil && (risk < leastRisk || risk > mostRisk) || err != nil {
		form.Set("riskerr", s.words.say("settings.risk.wrong"))
		s.seeOther(w, r, "/settings?draft="+s.drafts.keep(form)+"#terms")
		return
	}
	if err := s.desk.home.Terms(r.Context(), s.desk.Today(), risk, form.Get("water") != ""); err != nil {
		form.Set("termserr", upperFirst(err.Error()))
		s.seeOther(w, r, "/settings?draft="+s.drafts.keep(form)+"#terms")
		return
	}
	if err := s.desk.home.KeepSettings(r.Context(), set); err != nil {
		s.sayStopped(w, err)
		return
	}
	s.desk.Changed()
	s.seeOther(w, r, "/settings?kept=1")
}

// chosenSettings reads choices; ok is false for one that no form of ours offers.
func chosenSettings(form url.Values) (set hearth.Settings, ok bool) {
	week, err := strconv.Atoi(form.Get("week"))
	units, clock := form.Get("units"), form.Get("clock")
	if err != nil || week < 0 || week > 6 || units != "us" && units != "metric" || clock != "12" && clock != "24" || !hasWords(form.Get("language")) {
		return set, false
	}
	set = hearth.Settings{Clock12: clock == "12", Week: time.Weekday(week), Language: form.Get("language")}
	if units == "us" {
		set.Units = unit.US
	}
	return set, true
}
