package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/url"
	"strings"
	"time"

	"evenstead/tasks"
)

// calendarPage is where a calendar's address is made and closed.
type calendarPage struct {
	frame
	Lead, Rest string
	Here       string // the address for programs on this machine
	Made       string // the secret one, told once; empty when none was made just now
	Open       bool   // a secret one is out
	Said       string
}

// Weeks of work in a calendar, and how often a program should look again.
const (
	calendarWeeks = 8
	calendarPace  = 6 * time.Hour
)

// calendarRoutes are the ways in of the calendar. The one with a word in it is
// open to whoever has the word: calendar programs carry no cookie.
func (s *site) calendarRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /calendar", s.calendar)
	mux.HandleFunc("POST /calendar", s.postCalendar)
	mux.HandleFunc("GET /calendar.ics", s.calendarHere)
	mux.HandleFunc("GET /calendar/{word}", s.calendarAway)
}

func (s *site) calendar(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		open, err := s.desk.home.CalendarOpen(r.Context())
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		q := r.URL.Query()
		page := calendarPage{frame: s.deskFrame(snap, ""), Lead: s.words.say("calendar.lead"), Rest: s.words.say("calendar.rest"), Here: addressed(r) + "/calendar.ics", Open: open}
		page.Title, page.Year = s.words.say("calendar.title"), ""
		if d := s.drafts.take(q.Get("made")); d != nil {
			page.Made = addressed(r) + "/calendar/" + d.Get("word") + ".ics"
		}
		if q.Get("closed") != "" {
			page.Said = s.words.say("calendar.closed")
		}
		w.Header().Set("Cache-Control", "no-store") // the word is told once
		s.render(w, http.StatusOK, "calendar", page)
	})
}

// postCalendar makes a new word, or closes the one that is out.
func (s *site) postCalendar(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	if r.PostForm.Get("do") == "close" {
		if err := s.desk.home.CloseCalendar(r.Context()); err != nil {
			s.sayStopped(w, err)
			return
		}
		s.seeOther(w, r, "/calendar?closed=1")
		return
	}
	word, err := s.desk.home.NewCalendarWord(r.Context())
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	s.seeOther(w, r, "/calendar?made="+s.drafts.keep(url.Values{"word": {word}}))
}

func (s *site) calendarHere(w http.ResponseWriter, r *http.Request) { s.feed(w, r) }

// calendarAway answers who has the word; to others there is nothing here.
func (s *site) calendarAway(w http.ResponseWriter, r *http.Request) {
	ok, err := s.desk.home.CalendarWord(r.Context(), strings.TrimSuffix(r.PathValue("word"), ".ics"))
	switch {
	case err != nil:
		s.sayStopped(w, err)
	case !ok:
		s.sayMissing(w, http.StatusNotFound)
	default:
		s.feed(w, r)
	}
}

// feed is the calendar. Its bytes are the same as long as the state, the day and
// the words are, so a program that asks again with what it had is told "not
// modified".
func (s *site) feed(w http.ResponseWriter, r *http.Request) {
	s.withWork(w, r, calendarWeeks, func(snap *Snapshot, plan *tasks.Plan) {
		var b bytes.Buffer
		f := tasks.Feed{Name: snap.Stead.Name, Zone: s.opt.Zone, Refresh: calendarPace}
		if err := tasks.WriteFeed(&b, plan, snap.made, f); err != nil {
			s.sayStopped(w, err)
			return
		}
		sum := sha256.Sum256(b.Bytes())
		h := w.Header()
		h.Set("Content-Type", "text/calendar; charset=utf-8")
		h.Set("Content-Disposition", `inline; filename="evenstead.ics"`)
		h.Set("Cache-Control", "private, no-cache")
		h.Set("ETag", `"`+hex.EncodeToString(sum[:12])+`"`)
		http.ServeContent(w, r, "evenstead.ics", snap.made, bytes.NewReader(b.Bytes()))
	})
}
