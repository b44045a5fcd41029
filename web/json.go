package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"net/http"
	"strconv"
)

// outlookJSON sends the outlook as docs/json.md describes it, indented by two
// spaces. Before the first is reckoned it answers 503 with the progress.
func (s *site) outlookJSON(w http.ResponseWriter, r *http.Request) {
	o, p := s.src(r.Context())
	switch {
	case o != nil:
		sendJSON(w, http.StatusOK, o)
	case errors.Is(p.Err, fs.ErrNotExist): // nothing is described yet
		sendJSON(w, http.StatusNotFound, map[string]string{"error": p.Err.Error()})
	case p.Err != nil:
		sendJSON(w, http.StatusInternalServerError, map[string]string{"error": p.Err.Error()})
	default:
		w.Header().Set("Retry-After", strconv.Itoa(int(retry.Seconds())))
		sendJSON(w, http.StatusServiceUnavailable, map[string]int{"done": p.Done, "total": p.Total})
	}
}

func sendJSON(w http.ResponseWriter, status int, v any) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		http.Error(w, "the outlook could not be written: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(b.Len()))
	w.WriteHeader(status)
	// A reader that has gone away is no fault of the page.
	_, _ = w.Write(b.Bytes())
}
