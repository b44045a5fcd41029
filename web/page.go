package web

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"time"

	"evenstead/device"
	"evenstead/engine"
)

// frame is what every page has around its content.
type frame struct {
	Title   string
	Screens []navItem
	Stead   string
	Almanac string        // today and the reach of the outlook; empty before the first
	Year    template.HTML // the year rule; empty without rain
	Defs    template.HTML
	Again   int  // s after which what the page waits for may be there; 0: it waits for nothing
	Boots   bool // leads to the page for muddy hands
	Waits   bool // says how many forms wait to be sent
}

// navItem is one word of the screens' bar.
type navItem struct {
	Name, Path string
	Current    bool
}

// waitsHeader tells the script of a waiting page, which asks for the head alone, that
// it still waits.
const waitsHeader = "Evenstead-Waits"

func (f frame) again() int { return f.Again }

// HasPast tells whether a past stands left of today on every ruler of the page.
func (f frame) HasPast() bool { return f.Year != "" }

// bareFrame is the frame of a page without an outlook.
func (s *site) bareFrame(title, current string) frame {
	f := frame{Title: title, Stead: s.opt.Stead, Boots: s.waits(), Waits: s.waits()}
	if s.role == device.Helper {
		f.Screens = []navItem{{s.words.say("week.title"), "/week", current == "now"}, {s.words.say("boots.title"), "/boots", false}}
		return f
	}
	for _, sc := range screens {
		way := sc.path
		if s.desk != nil {
			way = sc.atDesk
		}
		if way != "" && s.role >= roleOf("GET "+way) {
			f.Screens = append(f.Screens, navItem{s.words.say("screen." + sc.key), way, sc.key == current})
		}
	}
	return f
}

// frame is the frame of a screen that shows an outlook.
func (s *site) frame(v *view, current string) frame {
	f := s.bareFrame(s.words.say("screen."+current), current)
	if f.Stead == "" {
		f.Stead = v.o.Stead
	}
	f.Almanac = s.words.say("almanac", s.words.weekday(v.o.Today), count(v.o.Days))
	f.Defs = defs(v.ruler, v.cover, s.words)
	if s.opt.Rain == nil {
		return f
	}
	if rain := s.opt.Rain(v.o.Today); rain != nil {
		f.Year = yearRule(v.ruler, rain, s.words.say("year.title"), s.words.say("year.desc", strconv.Itoa(min(len(rain.Past), v.ruler.past()))))
	}
	return f
}

// parse reads the templates: the frame and the parts with each page.
func (s *site) parse() (map[string]*template.Template, error) {
	funcs := template.FuncMap{"t": s.words.say, "asset": s.assets.url, "english": s.words.foreign, "told": s.words.told, "count": s.words.count, "held": held.Replace, "upper": upperFirst, "with2": taskOf}
	pages := map[string]*template.Template{}
	names, err := fs.Glob(files, "templates/*.html")
	if err != nil {
		return nil, err
	}
	for _, file := range names {
		name := strings.TrimSuffix(path.Base(file), ".html")
		if name == "frame" || strings.HasPrefix(name, "parts") {
			continue
		}
		t, err := template.New("frame.html").Funcs(funcs).Option("missingkey=error").
			ParseFS(files, "templates/frame.html", "templates/parts*.html", "templates/"+name+".html")
		if err != nil {
			return nil, fmt.Errorf("page %s: %w", name, err)
		}
		pages[name] = t
	}
	return pages, nil
}

// render makes a page whole before the first byte is sent.
func (s *site) render(w http.ResponseWriter, status int, name string, data any) {
	var b bytes.Buffer
	if err := s.pages[name].Execute(&b, data); err != nil {
		http.Error(w, "the page could not be made: "+err.Error(), http.StatusInternalServerError)
		return
	}
	h := w.Header()
	if p, ok := data.(interface{ again() int }); ok && p.again() > 0 {
		h.Set(waitsHeader, "true")
	}
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Content-Length", strconv.Itoa(b.Len()))
	w.WriteHeader(status)
	// A reader that has gone away is no fault of the page.
	_, _ = w.Write(b.Bytes())
}

// withOutlook hands the newest outlook to show, or says how far the first has come.
func (s *site) withOutlook(w http.ResponseWriter, r *http.Request, show func(*engine.Outlook, Progress)) {
	o, p := s.src(r.Context())
	switch {
	case o != nil:
		show(o, p)
	case p.Err != nil:
		s.sayStopped(w, p.Err)
	default:
		s.sayWait(w, p)
	}
}

// running says that a new reckoning is on its way, or why the last one stopped.
func (s *site) running(o *engine.Outlook, p Progress) string {
	switch {
	case p.Err != nil:
		return s.words.say("running.stopped", s.words.long(o.Today), p.Err.Error())
	case p.Total > 0 && p.Done < p.Total:
		return s.words.say("running.on", s.words.long(o.Today), tenths(p))
	}
	return ""
}

// tenths writes progress: "4/10".
func tenths(p Progress) string {
	return strconv.Itoa(10*max(p.Done, 0)/max(p.Total, 1)) + "/10"
}

// retry is how long a visitor waits before looking again.
const retry = 10 * time.Second
