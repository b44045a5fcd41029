package web

import (
	"errors"
	"net/http"
	"strings"

	"evenstead/device"
)

// least is the least role that may use a way in. What is not listed here is the
// household's: a new page is nobody else's until it is put into this table.
var least = map[string]device.Role{
	"GET /static/{file}":        device.Nobody,
	"GET /manifest.webmanifest": device.Nobody,
	"GET /pair":                 device.Nobody,
	"POST /pair":                device.Nobody,
	"GET /house.crt":            device.Nobody,

	"POST /api/v1/readings": device.Nobody, // sensors show a word of their own

	"GET /calendar/{word}": device.Nobody, // the word is asked for

	"GET /phone":   device.Visitor,
	"GET /openday": device.Visitor,
	"POST /leave":  device.Visitor,

	"GET /sw.js":              device.Helper,
	"GET /outbox":             device.Helper,
	"GET /outbox/here":        device.Helper,
	"POST /outbox":            device.Helper,
	"POST /outbox/photo/{id}": device.Helper,
	"GET /boots":              device.Helper,
	"POST /boots":             device.Helper,

	"GET /week":        device.Helper,
	"POST /week/done":  device.Helper,
	"POST /week/undo":  device.Helper,
	"POST /note":       device.Helper,
	"GET /note/{key}":  device.Helper,
	"POST /note/{key}": device.Helper,

	"GET /devices":              device.Host,
	"POST /devices/code":        device.Host,
	"POST /devices/{id}/revoke": device.Host,
}

// roleOf is the least role that may use a registered way in.
func roleOf(pattern string) device.Role {
	if r, ok := least[pattern]; ok {
		return r
	}
	return device.Household
}

// homes are where a role's day begins.
var homes = map[device.Role]string{device.Nobody: "/pair", device.Visitor: "/openday", device.Helper: "/boots", device.Household: "/", device.Host: "/"}

// home is where the pages lead back to.
func (s *site) home() string { return homes[s.role] }

// allowed keeps from each role what is not its own. Who asks for the first page is
// led to his own.
func (s *site) allowed(mux *http.ServeMux, next http.Handler) http.Handler {
	if s.role == device.Host {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		_, pattern := mux.Handler(r)
		if s.role >= roleOf(pattern) {
			next.ServeHTTP(w, r)
			return
		}
		reads := r.Method == http.MethodGet || r.Method == http.MethodHead
		switch {
		case strings.HasPrefix(r.URL.Path, apiBase+"/"):
			apiFail(w, s.refusal(), errNotYours)
		case reads && (r.URL.Path == "/" || s.role == device.Nobody):
			s.seeOther(w, r, s.home())
		default:
			s.sayNotYours(w)
		}
	})
}

// errNotYours answers programs.
var errNotYours = errors.New("the device that asks was not paired for this")

// refusal is 401 for a stranger, who may be paired, and 403 for others.
func (s *site) refusal() int {
	if s.role == device.Nobody {
		return http.StatusUnauthorized
	}
	return http.StatusForbidden
}

// sayNotYours answers a way in that the device's role does not have.
func (s *site) sayNotYours(w http.ResponseWriter) {
	f := s.bareFrame(s.words.say("role.title"), "")
	s.render(w, s.refusal(), "lost", saying{f, s.words.say("role.lead"), s.words.say("role.rest." + s.role.String()), false})
}
