package web

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"html/template"
	"io"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/weather"
)

// startPage is a question of the guided start.
type startPage struct {
	frame
	At        int
	Count     string        // question 5 of 12
	Rule      template.HTML // how far the questions have come
	Sentence  string
	Question  string
	Help      string
	Said      string // what has gone wrong or been brought
	Faults    []string
	Fields    []startFieldView
	Hidden    []hiddenField
	Told      startTold
	Next      string
	Unsure    string // "" where there is nothing usual to take
	Back      bool
	Stop      bool
	First     bool // offers the other ways in
	Demo      bool
	Weather   bool // offers to bring a file of weather
	MostKinds string
	Units     []choice
}

// startFieldView is a field as the template shows it.
type startFieldView struct {
	Name, Form, Label, Hint, Value, Error string
	Choices                               []choice
	Month                                 bool
}

// hiddenField carries an earlier answer along.
type hiddenField struct{ Name, Value string }

func (s *site) startRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /start", s.start)
	mux.HandleFunc("POST /start", s.postStart)
	mux.HandleFunc("POST /start/weather", s.startWeather)
	mux.HandleFunc("POST /start/demo", s.startDemo)
	mux.HandleFunc("POST /start/file", s.startFile)
}

// begun leads every page to the start while the file holds no description.
func (s *site) begun(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !needsStead(r) {
			next.ServeHTTP(w, r)
			return
		}
		ok, err := s.desk.begun(r.Context())
		switch {
		case err != nil:
			s.sayStopped(w, err)
		case !ok:
			s.seeOther(w, r, "/start")
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// needsStead tells the ways in that have nothing to show without a description.
// The interface for programs answers for itself.
func needsStead(r *http.Request) bool {
	p := r.URL.Path
	for _, own := range []string{"/start", "/static/", "/api/", "/manifest.webmanifest", "/outlook.json", "/pair", "/phone", "/leave", "/house.crt", "/devices", "/devices/", "/sw.js", "/outbox", "/outbox/"} {
		if p == own || strings.HasPrefix(p, own) && strings.HasSuffix(own, "/") || strings.HasPrefix(p, "/start/") {
			return false
		}
	}
	return true
}

// begun is hearth.Begun, asked until it is true.
func (d *Desk) begun(ctx context.Context) (bool, error) {
	today := d.Today()
	d.mu.Lock()
	known := d.since != 0 && d.since <= today
	d.mu.Unlock()
	if known {
		return true, nil
	}
	ok, err := d.home.Begun(ctx, today)
	if ok {
		d.mu.Lock()
		d.since = today
		d.mu.Unlock()
	}
	return ok, err
}

// unbegun answers for a start that is over; false when it has done so.
func (s *site) unbegun(w http.ResponseWriter, r *http.Request) bool {
	ok, err := s.desk.begun(r.Context())
	switch {
	case err != nil:
		s.sayStopped(w, err)
	case ok:
		s.seeOther(w, r, "/")
	}
	return err == nil && !ok
}

func (s *site) start(w http.ResponseWriter, r *http.Request) {
	if !s.unbegun(w, r) {
		return
	}
	a, n := url.Values{}, 1
	draft := s.drafts.find(r.URL.Query().Get("draft"))
	if draft != nil {
		a = answersOf(draft)
		n, _ = strconv.Atoi(r.URL.Query().Get("q"))
		n = min(max(n, 1), len(startQuestions))
	} else if _, us := localeOf(r); us {
		a.Set("units", "us")
	}
	page, err := s.startPage(r.Context(), a, n)
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	page.Faults = draft["fault"]
	for i, f := range page.Fields {
		if page.Fields[i].Error = draft.Get("err." + f.Name); page.Fields[i].Error != "" {
			page.Fields[i].Value = a.Get(f.Name) // as it was typed
		}
	}
	if draft == nil && r.URL.Query().Get("draft") != "" {
		page.Said = s.words.say("start.gone")
	}
	status := http.StatusOK
	s.render(w, status, "start", page)
}

// startPage is a question with all that stands around it.
func (s *site) startPage(ctx context.Context, a url.Values, n int) (*startPage, error) {
	q := &startQuestions[n-1]
	say := s.words.say
	p := &startPage{frame: s.startFrame(a), At: n, Rule: startRule(n, len(startQuestions)), Count: say("start.at", count(n), count(len(startQuestions))),
		Question: say("start." + q.key), Help: s.words.or("start."+q.key+".help", ""),
		Back: n > 1, Stop: n > 2, First: n == 1, Demo: s.opt.Demo != nil, Weather: q.key == "weather", Next: say("start.finish")}
	if n < len(startQuestions) {
		p.Next = say("start.next", say("start."+startQuestions[n].key+".word"))
	}
	p.Unsure = s.words.or("start."+q.key+".unsure", "")
	if us := s.words.or("start."+q.key+".unsure.us", ""); us != "" && a.Get("units") == "us" {
		p.Unsure = us
	}
	t, err := s.teller(ctx, a, n)
	if err != nil {
		return nil, err
	}
	p.Fields = s.startFields(q, a, t.sown)
	p.Sentence = s.sentence(a, n-1, t.sown)
	p.Told = t.tell(q.key)
	p.Hidden = hiddenBut(q, a)
	for _, u := range []string{"auto", "metric", "tenths", "us"} {
		p.Units = append(p.Units, choice{u, say("files.units." + u), false})
	}
	p.MostKinds = say("files.weather.help", count(mostWeather), count(mostUnpacked))
	return p, nil
}

func (s *site) startFrame(a url.Values) frame {
	f := s.bareFrame(s.words.say("start.title"), "")
	f.Screens, f.Stead = nil, a.Get("name")
	f.Defs = gateDefs
	return f
}

// gateDefs holds the drawings that the start shares with other pages.
const gateDefs = `<svg class="defs" width="0" height="0" aria-hidden="true">` + fixedDefs + `</svg>`

// hiddenBut are the answers to other questions, in a steady order.
func hiddenBut(q *question, a url.Values) (list []hiddenField) {
	for name := range a {
		if !slices.ContainsFunc(q.fields, func(f startField) bool { return f.name == name }) {
			list = append(list, hiddenField{name, a.Get(name)})
		}
	}
	slices.SortFunc(list, func(x, y hiddenField) int { return strings.Compare(x.Name, y.Name) })
	return list
}

// teller reads the answers up to a question, that question's usual ones with them.
func (s *site) teller(ctx context.Context, a url.Values, n int) (*teller, error) {
	with := url.Values{}
	for k := range a {
		with.Set(k, a.Get(k))
	}
	for i := range startQuestions[n-1].fields {
		f := &startQuestions[n-1].fields[i]
		if usual := f.usualFor(a); with.Get(f.name) == "" && usual != "" {
			with.Set(f.name, usual)
		}
	}
	t := &teller{site: s, o: s.opt, a: with}
	if t.o.Units = unit.Metric; a.Get("units") == "us" {
		t.o.Units = unit.US
	}
	st, err := stead.Read("start", []byte(s.describe(with, n, s.desk.Today(), nil)))
	if err != nil {
		return t, nil // not enough has been answered, or it is about to be mended
	}
	if n > 6 {
		if t.sown, err = s.desk.home.Sowable(ctx, st, s.desk.Today()); err != nil {
			return nil, err
		}
	}
	t.st = st
	t.p, err = s.desk.home.Preview(ctx, st)
	return t, err
}

// namedAs are the words for the trees and foods asked after.
var namedAs = strings.NewReplacer("tree.", "trees.", "lot.", "store.")

// startFields are a question's fields with what was answered, or the usual.
func (s *site) startFields(q *question, a url.Values, sown []engine.Opening) (list []startFieldView) {
	for i := range q.fields {
		f := &q.fields[i]
		v := startFieldView{Name: f.name, Form: f.form, Value: orElse(a.Get(f.name), f.usualFor(a))}
		switch {
		case f.form == "months":
			v.Value = s.words.listTyped(v.Value)
		case f.kind != "":
			v.Value = s.words.asTyped(v.Value)
		}
		key := "start.ask." + namedAs.Replace(f.name)
		v.Label, v.Hint = s.words.say(key), s.words.or(key+".hint", "")
		if us := s.words.or(key+".hint.us", ""); us != "" && a.Get("units") == "us" {
			v.Hint = us
		}
		for _, k := range f.keys {
			if f.name == "weather" && k == "kept" && a.Get("kept") == "" {
				continue
			}
			v.Choices = append(v.Choices, choice{k, s.words.say("start." + f.name + "." + k), slices.Contains(strings.Split(v.Value, ","), k)})
		}
		if f.name == "crops" {
			v.Choices = s.cropChoices(sown, a)
		}
		list = append(list, v)
	}
	return list
}

// cropChoices are the crops with a window here; what stands on beds now comes first.
func (s *site) cropChoices(sown []engine.Opening, a url.Values) (list []choice) {
	picked := strings.Split(a.Get("crops"), ",")
	for _, stands := range []bool{true, false} {
		for _, c := range sown {
			if c.Stands == stands {
				key := map[bool]string{true: "start.crop.now", false: "start.crop.later"}[stands]
				list = append(list, choice{c.ID, s.words.say(key, upperFirst(s.words.crop(c.ID, c.Name)), s.window(&c)), slices.Contains(picked, c.ID)})
			}
		}
	}
	return list
}

// postStart takes the answer to a question and leads to the next, or back, or ends
// the start.
func (s *site) postStart(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) || !s.unbegun(w, r) {
		return
	}
	n, err := strconv.Atoi(r.PostForm.Get("at"))
	if err != nil || n < 1 || n > len(startQuestions) {
		s.sayRefused(w, http.StatusBadRequest)
		return
	}
	a, q, do := answersOf(r.PostForm), &startQuestions[n-1], r.PostForm.Get("do")
	switch do {
	case "back":
		s.leaveOpen(q, a)
		s.toQuestion(w, r, a, n-1)
		return
	case "stop":
		s.finish(w, r, a, n-1)
		return
	case "unsure":
		unsure(q, a)
	}
	faults := s.faultsIn(q, a)
	for name, said := range faults {
		a.Set("err."+name, said)
	}
	switch {
	case len(faults) > 0 || do == "look":
		s.toQuestion(w, r, a, n)
	case n == len(startQuestions):
		s.finish(w, r, a, n)
	default:
		s.toQuestion(w, r, a, n+1)
	}
}

// leaveOpen takes the answers to a question that is not done with. One that can't be
// read, and would be shown again as another number, is dropped.
func (s *site) leaveOpen(q *question, a url.Values) {
	for name := range s.faultsIn(q, a) {
		if value := a.Get(name); s.words.asTyped(value) != value {
			a.Del(name)
		}
	}
}

func (s *site) toQuestion(w http.ResponseWriter, r *http.Request, a url.Values, n int) {
	s.seeOther(w, r, "/start?q="+strconv.Itoa(max(n, 1))+"&draft="+s.drafts.keep(a))
}

// finish writes the description that the answers make, and ends on Now.
func (s *site) finish(w http.ResponseWriter, r *http.Request, a url.Values, upTo int) {
	for i := range upTo { // answers come from a form, whatever page it was last on
		if faults := s.faultsIn(&startQuestions[i], a); len(faults) > 0 {
			for name, said := range faults {
				a.Set("err."+name, said)
			}
			s.toQuestion(w, r, a, i+1)
			return
		}
	}
	today := s.desk.Today()
	text := s.describe(a, upTo, today, nil)
	if st, err := stead.Read("start", []byte(text)); err == nil && upTo > 6 {
		sown, err := s.desk.home.Sowable(r.Context(), st, today)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		text = s.describe(a, upTo, today, sown)
	}
	if _, faults := s.readText(text); len(faults) > 0 {
		for _, f := range faults {
			a.Add("fault", strings.TrimSpace(f.Line+" "+f.Written+" "+f.Said))
		}
		s.toQuestion(w, r, a, upTo)
		return
	}
	s.settle(w, r, today, text, a)
}

// settle keeps a first description and the units it was asked in.
func (s *site) settle(w http.ResponseWriter, r *http.Request, from day.Day, text string, a url.Values) {
	s.desk.first.Lock()
	defer s.desk.first.Unlock()
	if !s.unbegun(w, r) { // sent twice
		return
	}
	err := s.desk.home.Describe(r.Context(), from, "start", []byte(text))
	if err == nil && a.Get("units") != "" {
		set := usualSettings(unit.Metric)
		if a.Get("units") == "us" {
			set = usualSettings(unit.US)
		}
		err = s.desk.home.KeepSettings(r.Context(), set)
	}
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	s.desk.Changed()
	s.seeOther(w, r, "/")
}

// startWeather keeps a daily file and comes back to the question with what it tells.
func (s *site) startWeather(w http.ResponseWriter, r *http.Request) {
	if !s.unbegun(w, r) {
		return
	}
	fields := url.Values{}
	f, err := s.file(w, r, mostWeather, fields)
	var rec *weather.Record
	if err == nil {
		units := map[string]weather.Units{"metric": weather.MetricUnits, "tenths": weather.TenthsUnits, "us": weather.USUnits}[fields.Get("fileunits")]
		rec, err = weather.Read(f, weather.Options{Name: f.name, Units: units, MaxBytes: mostUnpacked << 20})
	}
	days := 0
	if err == nil {
		days, err = s.desk.home.KeepWeather(r.Context(), rec)
	}
	a := answersOf(fields)
	if err != nil {
		a["fault"] = s.fileFault(f, err, mostWeather)
		s.toQuestion(w, r, a, weatherQuestion)
		return
	}
	s.desk.Changed()
	a.Set("weather", "kept")
	a.Set("kept", s.words.say("start.kept", count(days), s.words.long(rec.Start), s.words.long(rec.End())))
	s.toQuestion(w, r, a, weatherQuestion)
}

// weatherQuestion is the number of the question about weather.
const weatherQuestion = 3

// startDemo keeps the invented stead, its dates moved by whole years so that
// today lies in its stay.
func (s *site) startDemo(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) || !s.unbegun(w, r) {
		return
	}
	if s.opt.Demo == nil {
		s.sayMissing(w, http.StatusNotFound)
		return
	}
	text, from, err := datedFor(s.opt.Demo, s.desk.Today())
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	s.settle(w, r, from, text, url.Values{})
}

// datedFor moves the whole dates of a description by as many years as bring a day
// into its stay, and returns the day it then begins on.
func datedFor(text []byte, today day.Day) (string, day.Day, error) {
	st, err := stead.Read("demo", text)
	if err != nil {
		return "", 0, err
	}
	years := today.Year() - st.Stay.From.Year()
	if y, m, d := st.Stay.From.Date(); day.Of(y+years, m, d) > today {
		years--
	}
	if years >= 0 && st.Stay.To > today {
		years = 0
	}
	if years == 0 {
		return string(text), st.Stay.From, nil
	}
	moved := wholeDate.ReplaceAllFunc(text, func(b []byte) []byte {
		y, _ := strconv.Atoi(string(b[:4]))
		return append([]byte(strconv.Itoa(y+years)), b[4:]...)
	})
	y, m, d := st.Stay.From.Date()
	return string(moved), day.Of(y+years, m, d), nil
}

// startFile takes in a description or an export.
func (s *site) startFile(w http.ResponseWriter, r *http.Request) {
	if !s.unbegun(w, r) {
		return
	}
	f, err := s.file(w, r, mostImport, url.Values{})
	if err != nil {
		s.refuseFile(w, r, s.fileFault(f, err, mostImport))
		return
	}
	in := bufio.NewReader(f)
	if head, _ := in.Peek(256); bytes.HasPrefix(bytes.TrimSpace(head), []byte("{")) {
		s.startExport(w, r, f, in)
		return
	}
	text, err := io.ReadAll(io.LimitReader(in, mostText+1))
	switch large := (*http.MaxBytesError)(nil); {
	case errors.As(err, &large) || len(text) > mostText:
		s.refuseFile(w, r, []string{s.words.say("start.file.large", count(mostText>>20))})
	case err != nil:
		s.refuseFile(w, r, s.fileFault(f, err, mostImport))
	default:
		s.startDescribed(w, r, string(text))
	}
}

func (s *site) refuseFile(w http.ResponseWriter, r *http.Request, faults []string) {
	s.seeOther(w, r, "/start?q=1&draft="+s.drafts.keep(url.Values{"fault": faults})+"#file")
}

// startExport takes in all of an export, or nothing.
func (s *site) startExport(w http.ResponseWriter, r *http.Request, f *upload, in io.Reader) {
	if err := s.desk.home.Store().Import(r.Context(), in); err != nil {
		s.refuseFile(w, r, s.fileFault(f, err, mostImport))
		return
	}
	s.desk.Changed()
	if ok, err := s.desk.begun(r.Context()); err == nil && !ok {
		s.refuseFile(w, r, []string{s.words.say("start.file.bare", s.words.long(s.desk.Today()))})
		return
	}
	s.seeOther(w, r, "/")
}

// startDescribed keeps a description from the day it says it is of, or lists all
// its faults.
func (s *site) startDescribed(w http.ResponseWriter, r *http.Request, text string) {
	st, faults := s.readText(text)
	if len(faults) > 0 {
		list := []string{}
		for _, f := range faults[:min(len(faults), mostFaults)] {
			list = append(list, strings.TrimSpace(f.Line+" "+f.Written+" "+f.Said))
		}
		s.refuseFile(w, r, list)
		return
	}
	from := s.desk.Today()
	if st.Stay.From != 0 && st.Stay.From < from {
		from = st.Stay.From
	}
	s.settle(w, r, from, text, url.Values{})
}

// wholeDate is a date with its year, as it is written in TOML.
var wholeDate = regexp.MustCompile(`\b\d{4}-\d\d-\d\d\b`)
