package web

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"evenstead/device"
)

// houseRoutes are the ways in by which phones are paired, and what they need for it.
func (s *site) houseRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /pair", s.pair)
	mux.HandleFunc("POST /pair", s.postPair)
	mux.HandleFunc("GET /house.crt", s.houseCert)
	mux.HandleFunc("GET /phone", s.phone)
	mux.HandleFunc("POST /leave", s.leave)
	mux.HandleFunc("GET /devices", s.devices)
	mux.HandleFunc("POST /devices/code", s.deviceCode)
	mux.HandleFunc("POST /devices/{id}/revoke", s.deviceRevoke)
}

// pairPage is where a phone gives its code.
type pairPage struct {
	frame
	Lead, Rest        string
	Code, Name, Error string
}

// mostCode is the most bytes of a code that an address or a form may hold.
const mostCode = 40

// pair asks for the code. Reading the page uses nothing up: browsers look ahead.
func (s *site) pair(w http.ResponseWriter, r *http.Request) {
	if s.opt.House == nil {
		s.sayMissing(w, http.StatusNotFound)
		return
	}
	if s.role != device.Nobody {
		s.seeOther(w, r, "/phone")
		return
	}
	q := r.URL.Query()
	page := pairPage{frame: s.bareFrame(s.words.say("pair.title"), ""), Lead: s.words.say("pair.lead"), Rest: s.words.say("pair.rest")}
	if page.Code, page.Name = typedLine(q.Get("code")), typedLine(q.Get("name")); len(page.Code) > mostCode || len(page.Name) > mostFind {
		page.Code, page.Name = "", ""
	}
	wait, err := strconv.Atoi(q.Get("wait"))
	switch {
	case err == nil && wait > 0 && wait <= 3600:
		page.Error = s.words.say("pair.wait", count((wait+59)/60))
	case q.Get("wrong") != "":
		page.Error = s.words.say("pair.wrong")
	}
	s.render(w, http.StatusOK, "pair", page)
}

// postPair takes a code and gives the phone its token.
func (s *site) postPair(w http.ResponseWriter, r *http.Request) {
	if s.opt.House == nil {
		s.sayMissing(w, http.StatusNotFound)
		return
	}
	if !s.form(w, r) {
		return
	}
	if s.role != device.Nobody {
		s.seeOther(w, r, "/phone")
		return
	}
	house, from := s.opt.House, addressOf(r)
	key, name := device.Key(from), typedLine(r.PostForm.Get("name"))
	back := url.Values{"name": {shorten(name, mostFind)}}
	if wait := house.tries.Wait(key, house.clock()); wait > 0 {
		back.Set("wait", strconv.Itoa(int((wait+time.Second-1)/time.Second)))
		s.seeOther(w, r, "/pair?"+back.Encode())
		return
	}
	token, d, err := house.register.Pair(r.PostForm.Get("code"), name, from.String())
	switch {
	case errors.Is(err, device.ErrCode):
		house.tries.Wrong(key, house.clock())
		back.Set("wrong", "1")
		s.seeOther(w, r, "/pair?"+back.Encode())
	case err != nil:
		s.sayStopped(w, err)
	default:
		house.tries.Right(key)
		http.SetCookie(w, tokenCookie(token, d.Role))
		s.seeOther(w, r, "/phone?paired=1")
	}
}

// houseCert sends the certificate of the house's authority, for phones to install.
func (s *site) houseCert(w http.ResponseWriter, _ *http.Request) {
	if s.opt.House == nil {
		s.sayMissing(w, http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", "application/x-x509-ca-cert")
	w.Header().Set("Content-Disposition", `attachment; filename="evenstead-house.crt"`)
	// A reader that has gone away is no fault of the certificate.
	_, _ = w.Write(s.opt.House.keeper.Authority().DER())
}

// trust is what a phone needs to believe the house.
type trust struct {
	Name, Until string
	Print       []string // the fingerprint, in four lines
}

func (s *site) trust() trust {
	a := s.opt.House.keeper.Authority()
	t := trust{Name: a.Name(), Until: a.Until().Local().Format("2006-01-02")}
	for rest := a.Fingerprint(); rest != ""; {
		n := min(len(rest), 8*3)
		t.Print, rest = append(t.Print, rest[:n]), rest[n:]
	}
	return t
}

// phonePage is what a phone is told of itself.
type phonePage struct {
	frame
	Lead, Rest string
	Name, May  string
	Begin      string // where the role's day begins; empty for none
	BeginWord  string
	Trust      trust
}

func (s *site) phone(w http.ResponseWriter, r *http.Request) {
	d, ok := deviceOf(r)
	if !ok || s.opt.House == nil {
		s.seeOther(w, r, "/devices")
		return
	}
	page := phonePage{frame: s.bareFrame(s.words.say("phone.title"), ""), Name: d.Name, May: s.words.say("role.may." + d.Role.String()), Trust: s.trust()}
	page.Lead, page.Rest = s.words.say("phone.lead", d.Name), upperFirst(page.May)
	if r.URL.Query().Get("paired") != "" {
		page.Lead = s.words.say("phone.lead.paired", d.Name)
	}
	if begin := s.home(); begin != "/phone" {
		page.Begin, page.BeginWord = begin, s.words.say("phone.begin."+d.Role.String())
	}
	s.render(w, http.StatusOK, "phone", page)
}

// leave takes the device that asks off the list.
func (s *site) leave(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	d, ok := deviceOf(r)
	if !ok || s.opt.House == nil {
		s.seeOther(w, r, "/")
		return
	}
	if _, err := s.opt.House.register.Revoke(d.ID); err != nil {
		s.sayStopped(w, err)
		return
	}
	c := tokenCookie("", d.Role) // #nosec G124 -- with all of them
	c.MaxAge = -1
	http.SetCookie(w, c)
	w.Header().Set("Clear-Site-Data", `"cache", "storage"`) // what was kept for days without signal
	s.seeOther(w, r, "/pair")
}
