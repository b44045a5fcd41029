package web

import (
	"net/http"
	"strconv"
)

// saying is a page that is one verdict and little else.
type saying struct {
	frame
	Lead, Rest string
	Retry      bool // offers to look again
}

// sayWait tells how far the first reckoning has come, and offers to look again.
func (s *site) sayWait(w http.ResponseWriter, p Progress) {
	f := s.bareFrame(s.words.say("wait.title"), "")
	f.Again = int(retry.Seconds())
	lead := s.words.say("wait.begun")
	if p.Total > 0 {
		lead = s.words.say("wait.lead", tenths(p))
	}
	w.Header().Set("Retry-After", strconv.Itoa(f.Again))
	s.render(w, http.StatusServiceUnavailable, "wait", saying{f, lead, s.words.say("wait.rest"), true})
}

// sayStopped tells why there is no outlook.
func (s *site) sayStopped(w http.ResponseWriter, err error) {
	f := s.bareFrame(s.words.say("stopped.title"), "")
	s.render(w, http.StatusInternalServerError, "lost", saying{f, s.words.say("stopped.lead"), err.Error(), true})
}

// sayMissing answers a way in that does not exist, or not with this method.
func (s *site) sayMissing(w http.ResponseWriter, status int) {
	key := "missing"
	if status == http.StatusMethodNotAllowed {
		key = "method"
	}
	f := s.bareFrame(s.words.say(key+".title"), "")
	s.render(w, status, "lost", saying{f, s.words.say(key + ".lead"), s.words.say(key + ".rest"), false})
}

// missing lets the mux decide between "not here" and "not so", and says it in
// the look of the other pages.
func (s *site) missing(mux *http.ServeMux) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h, pattern := mux.Handler(r)
		if pattern != "" {
			mux.ServeHTTP(w, r)
			return
		}
		plain := silent{}
		h.ServeHTTP(plain, r)
		if allow := http.Header(plain).Get("Allow"); allow != "" {
			w.Header().Set("Allow", allow)
			s.sayMissing(w, http.StatusMethodNotAllowed)
			return
		}
		s.sayMissing(w, http.StatusNotFound)
	})
}

// silent takes the headers of the mux's own answer and drops the rest.
type silent http.Header

// Header returns the headers set so far.
func (s silent) Header() http.Header { return http.Header(s) }

// Write drops the body.
func (silent) Write(b []byte) (int, error) { return len(b), nil }

// WriteHeader drops the status.
func (silent) WriteHeader(int) {}
