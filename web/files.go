package web

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"path"
	"strconv"
	"strings"
	"unicode"

	"evenstead/book"
	"evenstead/weather"
)

// Bounds of files, in MB.
const (
	mostImport   = 64
	mostWeather  = 24
	mostUnpacked = 128
)

// filesPage is where files are brought in.
type filesPage struct {
	frame
	Lead, Rest             string
	ImportHelp             string
	WeatherHelp            string
	ImportErr, WeatherErr  []string
	Units                  []choice
	MostImport, MostUpload string
}

func (s *site) bringFiles(w http.ResponseWriter, r *http.Request) {
	f := s.bareFrame(s.words.say("files.title"), "book")
	if snap, err := s.desk.Now(r.Context()); err == nil {
		f = s.deskFrame(snap, "book")
		f.Title = s.words.say("files.title")
	}
	page := filesPage{frame: f, Lead: s.words.say("files.lead"), Rest: s.words.say("files.rest"),
		ImportHelp:  s.words.say("files.import.help", count(mostImport)),
		WeatherHelp: s.words.say("files.weather.help", count(mostWeather), count(mostUnpacked))}
	draft := s.drafts.find(r.URL.Query().Get("draft"))
	page.ImportErr, page.WeatherErr = draft["import"], draft["weather"]
	for _, u := range []string{"auto", "metric", "tenths", "us"} {
		page.Units = append(page.Units, choice{u, s.words.say("files.units." + u), draft.Get("units") == u})
	}
	s.render(w, http.StatusOK, "files", page)
}

// An upload is a file sent by a form: its bytes as they come, and the name its
// sender gave it, which is only ever shown.
type upload struct {
	io.Reader
	name string
}

// errNoFile says that the form held no file.
var errNoFile = errors.New("no file")

// file reads a form up to its file, which comes last; the fields before it are
// put into fields. Nothing is kept on disk.
func (s *site) file(w http.ResponseWriter, r *http.Request, mb int64, fields url.Values) (*upload, error) {
	r.Body = http.MaxBytesReader(w, r.Body, mb<<20+64<<10)
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, err
	}
	for {
		p, err := parts.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			return nil, errNoFile
		case err != nil:
			return nil, err
		case p.FormName() == "file" && p.FileName() != "":
			return &upload{p, shownName(p)}, nil
		}
		value, err := io.ReadAll(io.LimitReader(p, 1<<10))
		if err != nil {
			return nil, err
		}
		fields.Set(p.FormName(), string(value))
	}
}

// shownName is the last part of a file's name, fit to be shown.
func shownName(p *multipart.Part) string {
	name := path.Base(strings.ReplaceAll(strings.ToValidUTF8(p.FileName(), "?"), `\`, "/"))
	name = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, name)
	const most = 80
	if runes := []rune(name); len(runes) > most {
		name = string(runes[:most])
	}
	return name
}

// importBook takes in an export or a table of entries, all of it or nothing.
func (s *site) importBook(w http.ResponseWriter, r *http.Request) {
	before, err := s.desk.home.All(r.Context())
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	f, err := s.file(w, r, mostImport, url.Values{})
	if err == nil {
		err = s.takeIn(r, f)
	}
	if err != nil {
		s.backToFiles(w, r, "import", s.fileFault(f, err, mostImport), nil)
		return
	}
	s.desk.Changed()
	after, err := s.desk.home.All(r.Context())
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	s.seeOther(w, r, "/book?imported="+strconv.Itoa(len(after)-len(before)))
}

// takeIn tells an export, which begins with {, from a table.
func (s *site) takeIn(r *http.Request, f *upload) error {
	in := bufio.NewReader(f)
	head, _ := in.Peek(256)
	if head = bytes.TrimSpace(head); len(head) == 0 || head[0] == '{' {
		return s.desk.home.Store().Import(r.Context(), in)
	}
	return s.desk.home.Store().ImportCSV(r.Context(), in)
}

// fileFault says, in lines, why a file was not taken.
func (s *site) fileFault(f *upload, err error, mb int) []string {
	if large := (*http.MaxBytesError)(nil); errors.As(err, &large) {
		return []string{s.words.say("files.large", count(mb))}
	}
	switch {
	case errors.Is(err, errNoFile):
		return []string{s.words.say("files.none")}
	case f == nil:
		return []string{s.words.say("files.broken")}
	}
	lines := strings.Split(s.words.say("files.name", f.name, err.Error()), "\n")
	return lines[:min(len(lines), mostFaults)]
}

// mostFaults is how many faults of a file or a text are shown.
const mostFaults = 60

func (s *site) backToFiles(w http.ResponseWriter, r *http.Request, form string, faults []string, fields url.Values) {
	draft := url.Values{form: faults, "units": fields["units"]}
	s.seeOther(w, r, "/book/files?draft="+s.drafts.keep(draft)+"#"+form)
}

// keepWeather keeps a daily weather file.
func (s *site) keepWeather(w http.ResponseWriter, r *http.Request) {
	fields := url.Values{}
	f, err := s.file(w, r, mostWeather, fields)
	var rec *weather.Record
	if err == nil {
		units := map[string]weather.Units{"metric": weather.MetricUnits, "tenths": weather.TenthsUnits, "us": weather.USUnits}[fields.Get("units")]
		rec, err = weather.Read(f, weather.Options{Name: f.name, Units: units, MaxBytes: mostUnpacked << 20})
	}
	days := 0
	if err == nil {
		days, err = s.desk.home.KeepWeather(r.Context(), rec)
	}
	if err != nil {
		s.backToFiles(w, r, "weather", s.fileFault(f, err, mostWeather), fields)
		return
	}
	s.desk.Changed()
	s.seeOther(w, r, "/book?weather="+strconv.Itoa(days))
}

// export sends everything as JSON Lines.
func (s *site) export(w http.ResponseWriter, r *http.Request) {
	attach(w, "application/jsonl; charset=utf-8", "evenstead-"+s.desk.Today().String()+".jsonl")
	s.sent(w, s.desk.home.Store().Export(r.Context(), w))
}

// exportCSV sends the entries as a table, struck ones and strikes with them.
func (s *site) exportCSV(w http.ResponseWriter, r *http.Request) {
	all, err := s.desk.home.All(r.Context())
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	attach(w, "text/csv; charset=utf-8", "evenstead-"+s.desk.Today().String()+".csv")
	s.sent(w, book.WriteCSV(w, all))
}

func attach(w http.ResponseWriter, media, name string) {
	w.Header().Set("Content-Type", media)
	w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
}

// sent cuts the answer off when it failed halfway, so that nobody takes half a
// book for a whole one.
func (s *site) sent(_ http.ResponseWriter, err error) {
	if err != nil {
		panic(http.ErrAbortHandler)
	}
}
