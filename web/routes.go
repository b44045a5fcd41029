package web

import "net/http"

// routes is every way in. GET also answers HEAD.
func (s *site) routes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.ahead)
	mux.HandleFunc("GET /stores", s.stores)
	mux.HandleFunc("GET /outlook.json", s.outlookJSON)
	mux.HandleFunc("GET /static/{file}", s.static)
	cross := http.NewCrossOriginProtection()
	return secure(cross.Handler(s.missing(mux)))
}

// A screen is one word of the screens' bar.
type screen struct{ key, path string }

// screens are the five, in the order of the bar; only those with a path are shown.
var screens = []screen{
	{"now", ""},
	{"ahead", "/"},
	{"stores", "/stores"},
	{"ground", ""},
	{"book", ""},
}
