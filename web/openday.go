package web

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"

	"evenstead/engine"
	"evenstead/paper"
)

// openDay is the page for visitors: nothing in it is the household's own.
func (s *site) openDay(w http.ResponseWriter, r *http.Request) {
	s.withFacts(w, r, func(snap *Snapshot, f *paper.Facts) {
		sheet := paper.OpenDay(f)
		view, err := s.sheetView(sheet, s.paperSize(r.URL.Query().Get("size")), "")
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		page := sheetPage{frame: frame{Title: sheet.Title, Stead: s.words.say("brand")}, Sheet: view, Path: "/openday"}
		page.Sheet.Loops, page.Defs = s.openLoops(snap.Outlook)
		s.render(w, http.StatusOK, "openday", page)
	})
}

// openLoops are the loops as Ahead and Stores draw them, and what they are drawn
// with; none before the first outlook.
func (s *site) openLoops(o *engine.Outlook) ([]loopView, template.HTML) {
	if o == nil {
		return nil, ""
	}
	v := s.view(o)
	var drawn []loopView
	for _, ahead := range []bool{true, false} {
		for _, l := range v.loopViews(ahead) {
			if l.Belt != "" {
				drawn = append(drawn, l)
			}
		}
	}
	return drawn, defs(v.ruler, v.cover, s.words)
}

// OpenDayMark is in every file of an open day, so that a later one knows its own.
const OpenDayMark = "evenstead open day"

// openFile is a page of the open day's folder.
type openFile struct {
	Mark, Title string
	Sheet       sheetView
	Defs        template.HTML
	Loops       bool // the page of the loops, not of the place
}

// OpenDay makes the files of a folder that any host can show: pages and a style
// sheet, joined by relative ways, without script. The second page, of the loops,
// is there when the facts have an outlook.
func (p *Paper) OpenDay(f *paper.Facts) (map[string][]byte, error) {
	sheet := paper.OpenDay(f)
	view, err := p.site.sheetView(sheet, sizeA4, "")
	if err != nil {
		return nil, err
	}
	loops, drawn := p.site.openLoops(f.Outlook)
	style, err := p.openStyle()
	if err != nil {
		return nil, err
	}
	out := map[string][]byte{"style.css": style}
	pages := map[string]openFile{"index.html": {OpenDayMark, sheet.Title, view, "", false}}
	if len(loops) > 0 {
		only := *sheet
		only.Parts = nil
		only.Title, only.Lead, only.Rest = p.site.words.say("paper.openday.loops"), p.site.words.say("paper.openday.loops.lead"), ""
		pages["loops.html"] = openFile{OpenDayMark, only.Title, sheetView{Sheet: &only, Size: sizeA4, Loops: loops}, drawn, true}
	}
	for name, page := range pages {
		var b bytes.Buffer
		if err := p.site.pages["openday"].ExecuteTemplate(&b, "openfile", struct {
			openFile
			Both bool
		}{page, len(loops) > 0}); err != nil {
			return nil, fmt.Errorf("open day, %s: %w", name, err)
		}
		out[name] = b.Bytes()
	}
	return out, nil
}

// openStyle is the style of the pages, in one file.
func (p *Paper) openStyle() ([]byte, error) {
	out := []byte("/* " + OpenDayMark + " */\n")
	for _, name := range []string{sheet, "paper.css"} {
		b, err := files.ReadFile("static/" + name)
		if err != nil {
			return nil, fmt.Errorf("open day: %w", err)
		}
		out = append(out, b...)
	}
	return out, nil
}
