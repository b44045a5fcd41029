package web

import "net/http"

// routes is every way in. GET also answers HEAD.
func (s *site) routes() http.Handler {
	mux := http.NewServeMux()
	s.mux = mux
	mux.HandleFunc("GET /stores", s.stores)
	mux.HandleFunc("GET /outlook.json", s.outlookJSON)
	mux.HandleFunc("GET /static/{file}", s.static)
	mux.HandleFunc("GET /manifest.webmanifest", s.manifest)
	if s.desk == nil {
		mux.HandleFunc("GET /{$}", s.ahead)
	} else {
		s.deskRoutes(mux)
	}
	pages := s.missing(mux)
	if s.desk != nil {
		pages = s.begun(pages)
	}
	pages = s.allowed(mux, pages)
	cross := http.NewCrossOriginProtection()
	return secure(cross.Handler(pages), policy(s.desk != nil))
}

// deskRoutes are the ways in that need a household's own stead.
func (s *site) deskRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /{$}", s.now)
	mux.HandleFunc("POST /note", s.postNote)
	mux.HandleFunc("GET /note/{key}", s.readNote)
	mux.HandleFunc("POST /note/{key}", s.writeNote)
	s.startRoutes(mux)
	s.bookRoutes(mux)
	mux.HandleFunc("GET /week", s.week)
	mux.HandleFunc("POST /week/done", s.weekDone)
	mux.HandleFunc("POST /week/undo", s.weekUndo)
	mux.HandleFunc("GET /reckoning", s.reckoning)
	mux.HandleFunc("GET /why", s.why)
	mux.HandleFunc("GET /sums", s.drawer)
	mux.HandleFunc("GET /sums/{name}", s.sum)
	mux.HandleFunc("GET /settings", s.settings)
	mux.HandleFunc("POST /settings", s.postSettings)
	mux.HandleFunc("GET /ahead", s.aheadAtDesk)
	mux.HandleFunc("GET /ahead/figures", s.aheadFigures)
	mux.HandleFunc("GET /ahead.csv", s.aheadCSV)
	s.apiRoutes(mux)
	mux.HandleFunc("POST /api/v1/readings", s.apiPostReadings) // by itself, since sensors are no paired devices
	mux.HandleFunc("GET /stores.csv", s.shelvesCSV)
	mux.HandleFunc("GET /ground", s.ground)
	mux.HandleFunc("GET /ground.csv", s.groundCSV)
	mux.HandleFunc("GET /ground/plan", s.groundPlan)
	mux.HandleFunc("POST /ground/plan", s.acceptPlan)
	mux.HandleFunc("GET /ground/plan.csv", s.planCSV)
	mux.HandleFunc("POST /stores/dip", s.dip)
	mux.HandleFunc("POST /stores/count", s.count)
	mux.HandleFunc("GET /boots", s.boots)
	mux.HandleFunc("POST /boots", s.postBoots)
	s.outRoutes(mux)
	s.houseRoutes(mux)
	s.paperRoutes(mux)
}

// A screen is one word of the screens' bar.
type screen struct {
	key    string
	path   string // where one outlook is shown by itself
	atDesk string // over a household's own stead
}

// screens are the five, in the order of the bar; only those with a path are shown.
var screens = []screen{
	{"now", "", "/"},
	{"ahead", "/", "/ahead"},
	{"stores", "/stores", "/stores"},
	{"ground", "", "/ground"},
	{"book", "", "/book"},
}
