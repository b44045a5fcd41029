package web

import (
	"context"
	"errors"
	"html/template"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/book"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/unit"
)

// Bounds of a note that is read back on one page.
const (
	mostNote  = 16 << 10 // bytes
	mostLines = 40
)

// readLine is a line of a note as it was understood.
type readLine struct {
	Number         string
	Text, Sentence string
	Does           template.HTML // what it moves; empty for nothing or not known
	Doubts         []doubtView
	Cautions       []string
	Faults         []string
	Gate           bool
	Reason         string
}

// doubtView is a question about a line, with its choices.
type doubtView struct {
	Name, Question string
	Choices        []choice
}

// notePage is the reading back of a note.
type notePage struct {
	frame
	Lead, Rest string
	Key        string
	Lines      []readLine
	Write      string // what the button says; empty when nothing can be written
	Asks       bool   // something is to be answered or mended
	Blind      string // why what the lines do is not told; empty when it is
	Error      string // why nothing was written
}

// postNote keeps a note and leads to its reading back.
func (s *site) postNote(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	form := url.Values{"text": {typedText(r.PostForm.Get("text"))}, "who": {typedLine(r.PostForm.Get("who"))}}
	s.keepNote(w, r, form, s.home())
}

// keepNote keeps a note and leads to its reading back, or back to where it was
// typed with what is wrong.
func (s *site) keepNote(w http.ResponseWriter, r *http.Request, form url.Values, from string) {
	if fault := s.noteFault(form.Get("text")); fault != "" {
		if len(form.Get("text")) > mostForm/2 {
			form.Set("text", "")
		}
		form.Set("error", fault)
		s.seeOther(w, r, from+"?draft="+s.drafts.keep(form)+"#note")
		return
	}
	s.seeOther(w, r, "/note/"+s.drafts.keep(form))
}

// noteFault says why a note can't be read back; empty when it can.
func (s *site) noteFault(text string) string {
	lines := 0
	for line := range strings.SplitSeq(text, "\n") {
		if strings.TrimSpace(line) != "" {
			lines++
		}
	}
	switch {
	case lines == 0:
		return s.words.say("note.empty")
	case lines > mostLines:
		return s.words.say("note.many", count(lines), count(mostLines))
	case len(text) > mostNote:
		return s.words.say("note.large")
	}
	return ""
}

// readNote shows how a note was understood.
func (s *site) readNote(w http.ResponseWriter, r *http.Request) {
	key := r.PathValue("key")
	form := s.drafts.find(key)
	if form == nil {
		s.seeOther(w, r, s.home()+"?gone=1")
		return
	}
	s.withDesk(w, r, func(snap *Snapshot) {
		back, err := s.understand(r.Context(), snap, form)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		page := notePage{frame: s.deskFrame(snap, "now"), Key: key, Lines: back.lines(s, form), Blind: back.blind, Error: upperFirst(form.Get("error"))}
		page.Title = s.words.say("back.title")
		sound := back.sound()
		page.Lead, page.Rest = s.understood(len(sound), len(back.readings)), s.words.say("back.rest")
		if n, err := strconv.Atoi(r.URL.Query().Get("wrote")); err == nil && n > 0 {
			page.Rest = s.words.say("back.rest.wrote", count(n))
		}
		page.Write = s.writeWords(len(sound))
		for _, l := range page.Lines {
			page.Asks = page.Asks || len(l.Doubts) > 0 || len(l.Faults) > 0
		}
		s.render(w, http.StatusOK, "note", page)
	})
}

func (s *site) understood(sound, all int) string {
	switch {
	case sound == 0:
		return s.words.say("back.lead.none")
	case all == 1:
		return s.words.say("back.lead.one")
	case sound == all:
		return s.words.say("back.lead.all", count(all))
	}
	return s.words.say("back.lead.some", count(sound), count(all))
}

func (s *site) writeWords(sound int) string {
	switch sound {
	case 0:
		return ""
	case 1:
		return s.words.say("back.write.one")
	}
	return s.words.say("back.write", count(sound))
}

// writeNote takes the answers to a reading back: it reads again, or writes the
// lines that are sound and leads back to those that are not.
func (s *site) writeNote(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	s.withDesk(w, r, func(snap *Snapshot) {
		key, write := r.PathValue("key"), r.PostForm.Get("do") == "write"
		form := s.drafts.find(key)
		if write {
			form = s.drafts.take(key)
		}
		switch {
		case form == nil:
			s.seeOther(w, r, s.home()+"?gone=1")
		case write:
			s.writeSound(w, r, snap, answered(form, r.PostForm))
		default:
			s.seeOther(w, r, "/note/"+s.drafts.keep(answered(form, r.PostForm)))
		}
	})
}

// writeSound writes the lines of a note that are sound. What fails leads back to
// the note, so that nothing typed is lost.
func (s *site) writeSound(w http.ResponseWriter, r *http.Request, snap *Snapshot, form url.Values) {
	form.Del("error")
	back, err := s.understand(r.Context(), snap, form)
	if err == nil && len(back.sound()) > 0 {
		_, err = s.desk.home.Add(r.Context(), back.sound())
	}
	if err != nil {
		form.Set("error", err.Error())
		s.seeOther(w, r, "/note/"+s.drafts.keep(form))
		return
	}
	s.desk.Changed()
	s.written(w, r, back, form)
}

// written leads on from a note whose sound lines are written.
func (s *site) written(w http.ResponseWriter, r *http.Request, back *readBack, form url.Values) {
	wrote := strconv.Itoa(len(back.sound()))
	if left := back.left(); left != "" {
		rest := url.Values{"text": {left}, "who": {form.Get("who")}}
		s.seeOther(w, r, "/note/"+s.drafts.keep(rest)+"?wrote="+wrote)
		return
	}
	s.seeOther(w, r, s.home()+"?wrote="+wrote+"&who="+url.QueryEscape(form.Get("who")))
}

// answered is a note's form with what was chosen and mended in it.
func answered(form, answers url.Values) url.Values {
	out := maps.Clone(form)
	lines := strings.Split(form.Get("text"), "\n")
	for name := range answers {
		part, rest, _ := strings.Cut(name, ".")
		n, err := strconv.Atoi(rest)
		switch value := answers.Get(name); {
		case part == "choice" || part == "reason":
			out[name] = []string{typedLine(value)}
		case part == "line" && err == nil && n >= 1 && n <= len(lines):
			lines[n-1] = typedLine(value)
		}
	}
	out.Set("text", strings.Join(lines, "\n"))
	return out
}

// readBack is a note as it was understood against the stead.
type readBack struct {
	readings []book.Reading
	told     map[int]engine.Told
	blind    string
}

// understand reads a note's form: its lines, the answers to their doubts, the
// reasons against gates, and what each line would do to the stores.
func (s *site) understand(ctx context.Context, snap *Snapshot, form url.Values) (*readBack, error) {
	c := s.notesOf(snap, form.Get("who"))
	back := &readBack{readings: book.Read(form.Get("text"), c)}
	for i, r := range back.readings {
		back.readings[i] = settle(r, form, c)
	}
	return back, s.foresee(ctx, snap, back)
}

// settle puts the answers of a form into a reading.
func settle(r book.Reading, form url.Values, c book.Context) book.Reading {
	line := strconv.Itoa(r.Line)
	for _, d := range r.Doubts {
		if choice := form.Get("choice." + line + "." + d.Field); slices.Contains(d.Choices, choice) {
			r = r.Choose(d.Field, choice, c)
		}
	}
	return r.Because(form.Get("reason."+line), c)
}

// foresee asks the reckoning what the lines would do; what it refuses can't be
// written.
func (s *site) foresee(ctx context.Context, snap *Snapshot, back *readBack) (err error) {
	switch {
	case snap.Past == nil:
		back.blind = snap.Trouble.Error()
		return nil
	case len(back.sound()) == 0:
		return nil
	}
	if back.told, err = s.desk.home.Would(ctx, snap.Today, back.readings); err != nil {
		return err
	}
	hearth.Refuse(back.readings, back.told)
	return nil
}

// sound are the readings that can be written as they are.
func (b *readBack) sound() (list []book.Reading) {
	for _, r := range b.readings {
		if r.Err == nil {
			list = append(list, r)
		}
	}
	return list
}

// left is the text of the lines that can't be written yet.
func (b *readBack) left() string {
	var lines []string
	for _, r := range b.readings {
		if r.Err != nil {
			lines = append(lines, r.Text)
		}
	}
	return strings.Join(lines, "\n")
}

// lines are the readings ready to be shown.
func (b *readBack) lines(s *site, form url.Values) []readLine {
	list := make([]readLine, len(b.readings))
	for i := range b.readings {
		r := &b.readings[i]
		l := readLine{Number: strconv.Itoa(r.Line), Text: r.Text, Sentence: upperFirst(r.Sentence) + ".", Cautions: r.Cautions}
		if r.Err != nil {
			l.Faults = strings.Split(r.Err.Error(), "\n")
			l.Gate = errors.Is(r.Err, book.ErrGate)
			l.Reason = form.Get("reason." + l.Number)
		} else if t, ok := b.told[r.Line]; ok {
			l.Does = s.moves(&t)
		}
		for _, d := range r.Doubts {
			l.Doubts = append(l.Doubts, doubtOf(d, l.Number))
		}
		list[i] = l
	}
	return list
}

// doubtOf is a doubt with its likeliest choice, which is what was understood,
// chosen.
func doubtOf(d book.Doubt, line string) doubtView {
	v := doubtView{Name: "choice." + line + "." + d.Field, Question: upperFirst(d.Question)}
	for i, c := range d.Choices {
		v.Choices = append(v.Choices, choice{c, strings.ReplaceAll(c, "_", " "), i == 0})
	}
	return v
}

// mostFlows is how many flows of an entry are told.
const mostFlows = 4

// moves says what an entry moves: what people weigh by. Nutrients and the energy
// of food go along unsaid.
func (s *site) moves(t *engine.Told) template.HTML {
	var said []string
	for _, f := range t.Flows {
		if line := s.flow(f); line != "" && len(said) < mostFlows {
			said = append(said, line)
		}
	}
	does := escaped(upperFirst(strings.Join(said, "; ")))
	switch {
	case t.Remark != "" && len(said) > 0:
		does += "; " + s.words.quote(t.Remark)
	case t.Remark != "":
		does = s.words.quote(upperFirst(t.Remark))
	case len(said) == 0:
		return ""
	}
	return does + "."
}

// flow writes one flow: "1.45 kg from plants to larder".
func (s *site) flow(f engine.Flow) string {
	kind, ok := map[string]unit.Kind{"water": unit.Volume, "mass": unit.Mass, "hours": unit.Time, "energy": unit.Energy}[f.Material]
	if !ok || f.Material == "energy" && f.From != "fuel" && f.To != "fuel" {
		return ""
	}
	amount := s.words.marked(unit.Format(f.Amount, kind, s.opt.Units))
	if f.Material == "water" || f.Material == "energy" {
		amount += nbsp + s.words.say("group."+map[string]string{"water": "water", "energy": "heat"}[f.Material])
	}
	return s.words.say("back.does", amount, s.words.name("node", f.From, f.From), s.words.name("node", f.To, f.To))
}
