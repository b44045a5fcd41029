package web

import (
	"fmt"
	"html/template"
	"io"
	"net/http"
	"slices"
	"strings"

	"evenstead/hearth"
	"evenstead/paper"
	"evenstead/unit"
)

// Sizes of paper, by the class that names their page.
const (
	sizeA4     = "a4"
	sizeLetter = "letter"
)

// paperPage lists the sheets there are.
type paperPage struct {
	frame
	Lead, Rest string
	Sheets     []sheetWay
	Others     []sheetWay
}

type sheetWay struct{ Path, Name, What string }

// sheetPage is one sheet on the screen, ready to print.
type sheetPage struct {
	frame
	Sheet sheetView
	Path  string
	Type  bool // it can be typed in
	Data  bool // the history goes with it
}

// sheetView is a sheet with what is drawn for it.
type sheetView struct {
	*paper.Sheet
	Size  string
	Lang  template.HTMLAttr // where the sheet speaks another language than the page
	Rows  []sheetRow
	Loops []loopView // of the open day alone

	First, Then template.HTML // what the sheet says first
}

type sheetRow struct {
	Columns, Break bool
	Parts          []partView
}

type partView struct {
	paper.Part
	ID      string
	YearOf  template.HTML // the months over a year's rows
	Years   []yearLine
	Covers  []coverLine
	Cards   []card
	HasDays bool // rungs tell days of use
	Joined  bool // rungs tell what all joined tanks hold
}

type yearLine struct {
	Name string
	Draw template.HTML
}

type coverLine struct {
	Name, Days string
	Draw       template.HTML
}

// card is a label with its code; none where the address is not known.
type card struct {
	paper.Label
	Code template.HTML
}

// Bounds that keep a sheet's page under 100 KB; a written sheet has all.
const (
	mostRows   = 70 // of beds, and of sowings
	mostLabels = 36 // of lots
)

// facts are what sheets are made from, of the stead as it stands.
func (s *site) facts(snap *Snapshot) (*paper.Facts, error) {
	plan, err := s.work(snap, paper.PlanWeeks)
	if err != nil {
		return nil, err
	}
	ask, err := snap.work.of(snap)
	if err != nil {
		return nil, err
	}
	ask.Units, ask.Outlook = s.opt.Units, snap.Outlook
	f := paper.From(&ask, plan, snap.Entries, s.paper.say)
	f.Tongue = s.paper.tongue()
	f.Cautions, f.Most, f.MostLabels = hearth.Cautions(snap.Stead), mostRows, mostLabels
	return f, nil
}

// tongue is how sheets write days, amounts and names.
func (w words) tongue() paper.Tongue {
	return paper.Tongue{Short: w.short, Long: w.long, Amount: w.marked, Name: func(kind, id, english string) string {
		switch kind {
		case "crop":
			return w.crop(id, english)
		case "food":
			return w.food(id, english)
		}
		return w.name(kind, id, english)
	}}
}

// paperWords are the words that sheets are written with: those of a language that
// has them all, else English, so that no sheet speaks two at once.
func paperWords(lang string, w words) (words, error) {
	if lang == "" || lang == home {
		return w, nil
	}
	own, err := wordsOf(lang)
	if err != nil || own["paper.title"] != "" {
		return w, err
	}
	return wordsOf(home)
}

// withFacts hands a page what sheets are made from, or says why there is nothing.
func (s *site) withFacts(w http.ResponseWriter, r *http.Request, show func(*Snapshot, *paper.Facts)) {
	s.withDesk(w, r, func(snap *Snapshot) {
		if snap.Past == nil {
			s.sayStopped(w, snap.Trouble)
			return
		}
		f, err := s.facts(snap)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		show(snap, f)
	})
}

// paperRoutes are the ways in of what goes on paper and out of the house.
func (s *site) paperRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /paper", s.papers)
	mux.HandleFunc("GET /paper/{sheet}", s.sheet)
	mux.HandleFunc("GET /paper/store/type", s.typeSheet)
	mux.HandleFunc("POST /paper/store/type", s.postSheet)
	mux.HandleFunc("GET /lot/{number}", s.lot)
	mux.HandleFunc("GET /drum/{number}", s.drum)
	mux.HandleFunc("GET /handover", s.handover)
	mux.HandleFunc("GET /openday", s.openDay)
	s.calendarRoutes(mux)
}

// papers is the page that lists the sheets.
func (s *site) papers(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		page := paperPage{frame: s.deskFrame(snap, ""), Lead: s.words.say("paper.page.lead"), Rest: s.words.say("paper.page.rest")}
		page.Title = s.words.say("paper.title")
		for _, id := range paper.Sheets() {
			page.Sheets = append(page.Sheets, sheetWay{"/paper/" + id, s.words.say("paper.sheet." + id), s.words.say("paper.sheet." + id + ".what")})
		}
		for _, x := range []string{"/paper/store/type", "/handover", "/openday", "/calendar"} {
			key := map[string]string{"/paper/store/type": "paper.types", "/handover": "paper.handover.way", "/openday": "paper.openday.way", "/calendar": "paper.calendar.way"}[x]
			page.Others = append(page.Others, sheetWay{x, s.words.say(key), s.words.say(key + ".what")})
		}
		s.render(w, http.StatusOK, "papers", page)
	})
}

// sheet is one sheet.
func (s *site) sheet(w http.ResponseWriter, r *http.Request) {
	id := r.PathValue("sheet")
	if !slices.Contains(paper.Sheets(), id) {
		s.sayMissing(w, http.StatusNotFound)
		return
	}
	s.withFacts(w, r, func(snap *Snapshot, f *paper.Facts) {
		sheet, err := paper.Make(id, f)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		s.showSheet(w, r, snap, sheet, "/paper/"+id)
	})
}

func (s *site) handover(w http.ResponseWriter, r *http.Request) {
	s.withFacts(w, r, func(snap *Snapshot, f *paper.Facts) {
		s.showSheet(w, r, snap, paper.Handover(f), "/handover")
	})
}

func (s *site) showSheet(w http.ResponseWriter, r *http.Request, snap *Snapshot, sheet *paper.Sheet, path string) {
	view, err := s.sheetView(sheet, s.paperSize(r.URL.Query().Get("size")), addressed(r))
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	page := sheetPage{frame: s.deskFrame(snap, ""), Sheet: view, Path: path, Type: sheet.ID == "store", Data: sheet.ID == "handover"}
	page.Title, page.Year = sheet.Title, ""
	s.render(w, http.StatusOK, "paper", page)
}

// paperSize is the size asked for, else the usual one where the units are.
func (s *site) paperSize(asked string) string {
	switch {
	case asked == sizeA4 || asked == sizeLetter:
		return asked
	case s.opt.Units == unit.US:
		return sizeLetter
	}
	return sizeA4
}

// addressed is the address that the visitor came by: a phone in the house reaches
// the pages there too.
func addressed(r *http.Request) string {
	if r.TLS != nil {
		return "https://" + r.Host
	}
	return "http://" + r.Host
}

// sheetView draws what a sheet has to show. address begins the ways that codes
// open; without one there are none.
func (s *site) sheetView(sheet *paper.Sheet, size, address string) (sheetView, error) {
	v := sheetView{Sheet: sheet, Size: size, First: escaped(sheet.Lead), Then: escaped(sheet.Rest)}
	if q := sheet.Quote; q != "" {
		v.First = escaped(strings.TrimSuffix(sheet.Lead, q)) + s.words.quote(q)
	}
	if sheet.Told {
		v.Then = s.words.quote(sheet.Rest)
	}
	if s.paper["lang"] != s.words["lang"] {
		v.Lang = s.words.foreign()
	}
	n := 0
	for _, row := range sheet.Rows() {
		out := sheetRow{Columns: row.Columns, Break: row.Break}
		for _, p := range row.Parts {
			part, err := s.partView(p, ids("part", n), address)
			if err != nil {
				return v, err
			}
			out.Parts = append(out.Parts, part)
			n++
		}
		v.Rows = append(v.Rows, out)
	}
	return v, nil
}

func (s *site) partView(p paper.Part, id, address string) (partView, error) {
	v := partView{Part: p, ID: id}
	if p.Year != nil {
		v.YearOf = monthsRuler(p.Year)
		for i := range p.Year.Rows {
			v.Years = append(v.Years, yearLine{p.Year.Rows[i].Name, bedLine(p.Year, &p.Year.Rows[i])})
		}
	}
	for _, c := range p.Cover {
		v.Covers = append(v.Covers, coverLine{c.Name, c.Middle, coverBar(c)})
	}
	if p.Rungs != nil {
		for _, m := range p.Rungs.Marks {
			v.HasDays, v.Joined = v.HasDays || m.Days != "", v.Joined || m.Group != ""
		}
	}
	for _, l := range p.Labels {
		c := card{Label: l}
		if address != "" {
			var err error
			if c.Code, err = qrCode(address+l.Path, s.words.say("paper.label.code", l.Path)); err != nil {
				return v, err
			}
		}
		v.Cards = append(v.Cards, c)
	}
	return v, nil
}

// PaperOptions are the choices of the one who writes a sheet to a file.
type PaperOptions struct {
	Letter  bool   // US Letter instead of A4
	Address string // "http://stead.home:8040", begins the ways of codes; "": no codes
	Lang    string // a file of words/; "" is English
	Units   unit.System
}

// Paper writes sheets as pages that stand alone: one file, with its style in it.
type Paper struct {
	site *site
	opt  PaperOptions
}

// NewPaper readies the words and the templates.
func NewPaper(o PaperOptions) (*Paper, error) {
	w, err := readWords(o.Lang)
	if err != nil {
		return nil, fmt.Errorf("paper: %w", err)
	}
	a, err := readAssets()
	if err != nil {
		return nil, fmt.Errorf("paper: %w", err)
	}
	s := &site{words: w, assets: a, opt: Options{Units: o.Units, words: w}}
	if s.paper, err = paperWords(o.Lang, w); err != nil {
		return nil, fmt.Errorf("paper: %w", err)
	}
	if s.pages, err = s.parse(); err != nil {
		return nil, fmt.Errorf("paper: %w", err)
	}
	return &Paper{s, o}, nil
}

// Say is the phrase of a key, for paper.Facts.
func (p *Paper) Say(key string, args ...any) string { return p.site.paper.say(key, args...) }

// Write writes one sheet.
func (p *Paper) Write(w io.Writer, sheet *paper.Sheet) error {
	size := sizeA4
	if p.opt.Letter {
		size = sizeLetter
	}
	view, err := p.site.sheetView(sheet, size, strings.TrimSuffix(p.opt.Address, "/"))
	if err != nil {
		return err
	}
	style, err := files.ReadFile("static/paper.css")
	if err != nil {
		return fmt.Errorf("paper: %w", err)
	}
	return p.site.pages["paper"].ExecuteTemplate(w, "alone", struct {
		Sheet sheetView
		Style template.CSS // of ours, never of the household's words
	}{view, template.CSS(style)}) // #nosec G203 -- a style sheet of the program
}
