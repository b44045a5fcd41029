package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"slices"

	"evenstead/device"
)

// scriptName is the script of the pages: the outbox and what the pages do with it.
const scriptName = "offline.js"

// script joins parts of what is sent, in web/script. Lines that are a comment, and
// the blanks that set lines in, stay at home.
func script(parts ...string) ([]byte, error) {
	var all []byte
	for _, p := range parts {
		b, err := files.ReadFile("script/" + p + ".js")
		if err != nil {
			return nil, err
		}
		for line := range bytes.Lines(b) {
			if line = bytes.TrimLeft(line, " "); !bytes.HasPrefix(line, []byte("//")) && len(bytes.TrimSpace(line)) > 0 {
				all = append(all, line...)
			}
		}
	}
	return all, nil
}

// keptPages are the pages that open without signal, each where there is one and the
// role may read it. Beds and lots that they lead to are kept too.
var keptPages = []string{"/outbox", "/boots", "/", "/week", "/stores", "/ground", "/openday", "/phone"}

// kept is what the worker must know.
type kept struct {
	Version string   `json:"version"`
	Files   []string `json:"files"`
	Warm    []string `json:"warm"`
	Lang    string   `json:"lang"`
	Stale   string   `json:"stale"`
	Missing string   `json:"missing"`
}

// worker sends the service worker, which keeps pages for days without signal. It
// stands at the root, for a worker reaches no further than its own folder.
func (s *site) worker(w http.ResponseWriter, _ *http.Request) {
	k := kept{Lang: s.words.say("lang"), Stale: s.words.say("offline.stale"), Missing: s.words.say("offline.missing")}
	for _, name := range []string{sheet, scriptName, "mark.svg"} {
		k.Files = append(k.Files, s.assets.hashed[name])
	}
	slices.Sort(k.Files)
	for _, way := range keptPages {
		if pattern := s.patternOf(way); pattern != "" && s.role >= roleOf(pattern) {
			k.Warm = append(k.Warm, way)
		}
	}
	code, err := script("outbox", "worker")
	if err == nil {
		k.Version, err = versionOf(k, code)
	}
	head, err2 := json.Marshal(k)
	if err != nil || err2 != nil {
		http.Error(w, "the worker could not be made", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	// A reader that has gone away is no fault of the worker.
	_, _ = w.Write(bytes.Join([][]byte{[]byte("const KEPT = "), head, []byte(";\n"), code}, nil))
}

// versionOf names all that the worker is made of.
func versionOf(k kept, code []byte) (string, error) {
	b, err := json.Marshal(k)
	sum := sha256.Sum256(append(b, code...))
	return hex.EncodeToString(sum[:6]), err
}

// patternOf is the registered way in of a path that is read; "" for none.
func (s *site) patternOf(path string) string {
	r, err := http.NewRequest(http.MethodGet, path, nil)
	if err != nil {
		return ""
	}
	_, pattern := s.mux.Handler(r)
	return pattern
}

// waits tells whether the pages have an outbox: where someone may write.
func (s *site) waits() bool { return s.desk != nil && s.role >= device.Helper }
