package web

import (
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/book"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
)

// The interface for programs, under /api/v1: JSON in and out, SI inside, no
// language but the verdict's. web/api/openapi.json describes it and a test holds
// the two to each other; docs/api.md tells it by examples.

//go:embed api/openapi.json
var apiDocument []byte

// An apiRoute is one way in of the interface.
type apiRoute struct {
	method, path string // below /api/v1, in the form of http.ServeMux
	do           http.HandlerFunc
}

const apiBase = "/api/v1"

func (s *site) apiTable() []apiRoute {
	return []apiRoute{
		{"GET", "/outlook", s.apiOutlook},
		{"GET", "/entries", s.apiEntries},
		{"POST", "/entries", s.apiAdd},
		{"POST", "/entries/{id}/strike", s.apiStrike},
		{"GET", "/stores", s.apiStores},
		{"GET", "/stead", s.apiStead},
		{"GET", "/weather", s.apiWeather},
		{"GET", "/levers", s.apiLevers},
		{"GET", "/readings", s.apiGetReadings},
		{"POST", "/readings", s.apiPostReadings},
		{"GET", "/openapi.json", s.apiSelf},
	}
}

// apiRoutes puts the interface into a mux. What is not there, or not so, is told
// in JSON too.
func (s *site) apiRoutes(mux *http.ServeMux) {
	inner := http.NewServeMux()
	for _, r := range s.apiTable() {
		inner.HandleFunc(r.method+" "+apiBase+r.path, r.do)
	}
	mux.HandleFunc(apiBase+"/", func(w http.ResponseWriter, r *http.Request) {
		h, pattern := inner.Handler(r)
		if pattern != "" {
			inner.ServeHTTP(w, r)
			return
		}
		plain := silent{}
		h.ServeHTTP(plain, r)
		if allow := http.Header(plain).Get("Allow"); allow != "" {
			w.Header().Set("Allow", allow)
			apiFail(w, http.StatusMethodNotAllowed, fmt.Errorf("%s is not done at %s", r.Method, r.URL.Path))
			return
		}
		apiFail(w, http.StatusNotFound, fmt.Errorf("nothing is kept at %s: %s/openapi.json lists what is", r.URL.Path, apiBase))
	})
}

// An apiError is what went wrong, in one sentence.
type apiError struct {
	Error string    `json:"error"`
	Lines []apiLine `json:"lines,omitempty"` // of a note, those that can't be written as they are
}

// An apiWait tells how far the reckoning under way has come.
type apiWait struct {
	Done  int `json:"done"`
	Total int `json:"total"`
}

func apiFail(w http.ResponseWriter, status int, err error) {
	sendJSON(w, status, apiError{Error: err.Error()})
}

// apiNow is the stead as it stands, or nil after it has said why there is none.
func (s *site) apiNow(w http.ResponseWriter, r *http.Request) *Snapshot {
	snap, err := s.desk.Now(r.Context())
	switch {
	case err == nil:
		return snap
	case errors.Is(err, fs.ErrNotExist):
		apiFail(w, http.StatusNotFound, err)
	default:
		apiFail(w, http.StatusInternalServerError, err)
	}
	return nil
}

// apiLater says that something is under way, and when to ask again.
func apiLater(w http.ResponseWriter, p Progress) {
	w.Header().Set("Retry-After", strconv.Itoa(int(retry.Seconds())))
	sendJSON(w, http.StatusServiceUnavailable, apiWait{p.Done, p.Total})
}

func (s *site) apiSelf(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(apiDocument)))
	// A reader that has gone away is no fault of the document.
	_, _ = w.Write(apiDocument)
}

// apiOutlook sends the newest outlook; Evenstead-Stale tells whether it is of an
// earlier state.
func (s *site) apiOutlook(w http.ResponseWriter, r *http.Request) {
	snap := s.apiNow(w, r)
	switch {
	case snap == nil:
	case snap.Outlook != nil:
		w.Header().Set("Evenstead-Stale", strconv.FormatBool(snap.Stale))
		sendJSON(w, http.StatusOK, snap.Outlook)
	case snap.Progress.Err != nil:
		apiFail(w, http.StatusInternalServerError, snap.Progress.Err)
	default:
		apiLater(w, snap.Progress)
	}
}

func (s *site) apiLevers(w http.ResponseWriter, r *http.Request) {
	if s.apiNow(w, r) == nil {
		return
	}
	rank, p, err := s.desk.Levers(r.Context())
	switch {
	case err != nil:
		apiFail(w, http.StatusInternalServerError, err)
	case rank != nil:
		sendJSON(w, http.StatusOK, rank)
	case p.Err != nil:
		apiFail(w, http.StatusInternalServerError, p.Err)
	default:
		apiLater(w, p)
	}
}

// An apiStead is the description that holds today.
type apiStead struct {
	Name string  `json:"name"`
	From day.Day `json:"from"` // the day it holds from
	Text string  `json:"text"` // TOML as it was written

	Cautions []string `json:"cautions"` // that it calls for, with their sources
}

func (s *site) apiStead(w http.ResponseWriter, r *http.Request) {
	if snap := s.apiNow(w, r); snap != nil {
		sendJSON(w, http.StatusOK, apiStead{snap.Stead.Name, snap.From, snap.Text, hearth.Cautions(snap.Stead)})
	}
}

// apiDays are the days of a request: from and to, both included; absent, all.
func apiDays(q url.Values) (from, to day.Day, err error) {
	from, to = math.MinInt32, math.MaxInt32
	for _, end := range []struct {
		name string
		d    *day.Day
	}{{"from", &from}, {"to", &to}} {
		if text := q.Get(end.name); text != "" {
			if *end.d, err = day.Parse(text); err != nil {
				return 0, 0, fmt.Errorf("%s: %w", end.name, err)
			}
		}
	}
	return from, to, nil
}

// An apiWeather is the weather kept.
type apiWeather struct {
	Days []apiWeatherDay `json:"days"`
}

// An apiWeatherDay has null where nothing was measured.
type apiWeatherDay struct {
	Day  day.Day  `json:"day"`
	Rain *float64 `json:"rain_mm"`
	TMin *float64 `json:"tmin_c"`
	TMax *float64 `json:"tmax_c"`
}

func (s *site) apiWeather(w http.ResponseWriter, r *http.Request) {
	from, to, err := apiDays(r.URL.Query())
	if err != nil {
		apiFail(w, http.StatusBadRequest, err)
		return
	}
	rec, err := s.desk.Home().Record(r.Context())
	if err != nil {
		apiFail(w, http.StatusInternalServerError, err)
		return
	}
	out := apiWeather{Days: []apiWeatherDay{}}
	for i := 0; rec != nil && i < rec.Days(); i++ {
		d := apiWeatherDay{rec.Start + day.Day(i), known(rec.Rain[i]), known(rec.TMin[i]), known(rec.TMax[i])}
		if d.Day >= from && d.Day <= to && (d.Rain != nil || d.TMin != nil || d.TMax != nil) {
			out.Days = append(out.Days, d)
		}
	}
	sendJSON(w, http.StatusOK, out)
}

// known is a figure, nil where there is none.
func known(v float64) *float64 {
	if math.IsNaN(v) {
		return nil
	}
	return &v
}

// An apiEntries is a part of the book.
type apiEntries struct {
	Entries []book.Entry `json:"entries"`
}

// apiEntries sends the entries that stand, of some days or kinds; struck=true
// sends struck ones and strikes too.
func (s *site) apiEntries(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	from, to, err := apiDays(q)
	kinds := q["kind"]
	for _, k := range kinds {
		if _, ok := book.RuleOf(book.Kind(k)); !ok {
			err = errors.Join(err, fmt.Errorf("kind %q is not known", k))
		}
	}
	if err != nil {
		apiFail(w, http.StatusBadRequest, err)
		return
	}
	snap := s.apiNow(w, r)
	if snap == nil {
		return
	}
	list := snap.Entries
	if q.Get("struck") == "true" {
		list = snap.All
	}
	out := apiEntries{Entries: []book.Entry{}}
	for _, e := range list {
		if e.Day >= from && e.Day <= to && (len(kinds) == 0 || slices.Contains(kinds, string(e.Kind))) {
			out.Entries = append(out.Entries, e)
		}
	}
	sendJSON(w, http.StatusOK, out)
}

// apiRead reads a body of JSON; false after it has said what is wrong with it.
func apiRead(w http.ResponseWriter, r *http.Request, into any) bool {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		apiFail(w, http.StatusUnsupportedMediaType, errors.New("send Content-Type: application/json"))
		return false
	}
	dec := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostForm))
	dec.DisallowUnknownFields()
	err := dec.Decode(into)
	if err == nil {
		if _, more := dec.Token(); more != io.EOF {
			err = errors.New("the body goes on after its end")
		}
	}
	if err == nil {
		return true
	}
	status := http.StatusBadRequest
	if large := (*http.MaxBytesError)(nil); errors.As(err, &large) {
		status = http.StatusRequestEntityTooLarge
	}
	apiFail(w, status, fmt.Errorf("not JSON as it is described: %s", strings.TrimPrefix(err.Error(), "json: ")))
	return false
}

// An apiStores is what is in store this morning.
type apiStores struct {
	Today  day.Day    `json:"today"`
	Tanks  []apiTank  `json:"tanks"`
	Lots   []apiLot   `json:"lots"`
	Places []apiPlace `json:"places"`
	Fuels  []apiFuel  `json:"fuels"`

	Cautions []string `json:"cautions"` // that the description calls for, with their sources
}

// An apiSeen is when a store was last seen.
type apiSeen struct {
	Day      day.Day  `json:"day"`
	How      string   `json:"how"`      // dipped, counted or described
	Found    *float64 `json:"found"`    // null where nothing was counted
	Reckoned *float64 `json:"reckoned"` // that morning, likewise
	Likely   string   `json:"likely"`   // where a difference may come from
}

// An apiTank is tanks that share a level, L.
type apiTank struct {
	Name    string  `json:"name"`
	Level   float64 `json:"level_l"`
	Holds   float64 `json:"holds_l"`
	Dead    float64 `json:"dead_l"`
	Reserve float64 `json:"reserve_l"`
	Seen    apiSeen `json:"seen"`
}

// An apiLot is a food in one form in one place.
type apiLot struct {
	Food    string   `json:"food"`
	Form    string   `json:"form"`
	Place   string   `json:"place"`
	Name    string   `json:"name"`
	Kg      float64  `json:"kg"`
	MJ      float64  `json:"mj"`
	Quarter *day.Day `json:"quarter_lost"` // by when a quarter is lost, uneaten; null: not within three years
	Seen    apiSeen  `json:"seen"`
}

// An apiPlace is room for food.
type apiPlace struct {
	Name  string  `json:"name"`
	Kind  string  `json:"kind"`
	Used  float64 `json:"used_l"`
	Holds float64 `json:"holds_l"`
	Kg    float64 `json:"kg"`
}

// An apiFuel is a fuel in store.
type apiFuel struct {
	Name string  `json:"name"`
	Kg   float64 `json:"kg"`
	MJ   float64 `json:"mj"`
	Days float64 `json:"days"` // at the pace of the last four weeks; 0: it did not fall
	Seen apiSeen `json:"seen"`
}

func (s *site) apiStores(w http.ResponseWriter, r *http.Request) {
	snap := s.apiNow(w, r)
	switch {
	case snap == nil:
	case snap.Past == nil:
		apiFail(w, http.StatusInternalServerError, snap.Trouble)
	default:
		out := storesOf(snap.Past.Standing())
		out.Cautions = hearth.Cautions(snap.Stead)
		sendJSON(w, http.StatusOK, out)
	}
}

func storesOf(st *engine.Standing) apiStores {
	out := apiStores{Today: st.Today, Tanks: []apiTank{}, Lots: []apiLot{}, Places: []apiPlace{}, Fuels: []apiFuel{}}
	for _, g := range st.Tanks {
		out.Tanks = append(out.Tanks, apiTank{g.Name, g.Level, g.Holds, g.Dead, g.Reserve, seenOf(g.Sight)})
	}
	for i := range st.Lots {
		l := &st.Lots[i]
		lot := apiLot{Food: l.Food, Form: l.Form, Place: l.Place, Name: l.Name, Kg: l.Kg, MJ: l.MJ, Seen: seenOf(l.Sight)}
		if l.Quarter != 0 {
			lot.Quarter = &l.Quarter
		}
		out.Lots = append(out.Lots, lot)
	}
	for _, p := range st.Places {
		out.Places = append(out.Places, apiPlace{p.Name, p.Kind, p.Used, p.Holds, p.Kg})
	}
	for _, f := range st.Fuels {
		out.Fuels = append(out.Fuels, apiFuel{f.Name, f.Kg, f.MJ, f.Days, seenOf(f.Sight)})
	}
	return out
}

func seenOf(g engine.Sight) apiSeen {
	seen := apiSeen{Day: g.Day, How: g.How}
	if g.Drift != nil {
		seen.Found, seen.Reckoned, seen.Likely = &g.Drift.Found, &g.Drift.Reckoned, g.Drift.Likely
	}
	return seen
}
