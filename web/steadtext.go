package web

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"strings"

	"evenstead/day"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
)

// mostText is the most bytes of a description.
const mostText = 1 << 20

// steadPage is the editor of the description.
type steadPage struct {
	frame
	Lead, Rest string
	Text       string
	Rows       int
	From       string
	FromErr    string
	First      string // the first day a description holds
	Faults     []textFault
	Sound      bool // checked, and nothing is wrong
	Parts      string
	Taken      []string
	Cautions   []string
	History    []string
	Added      bool // a part has just been put into the text
	AddErr     string
	Add        url.Values // what was typed to be added
	Sexes      []choice
	Activities []choice
}

// textFault is a fault with the line it stands in.
type textFault struct {
	Line, Written, Said string
}

// steadText shows the description, or a draft of it with its faults.
func (s *site) steadText(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		all, err := s.desk.home.Steads(r.Context())
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		page := steadPage{frame: s.deskFrame(snap, "book"), Text: snap.Text, From: snap.Today.String(), First: s.words.long(all[0].From), Add: url.Values{}}
		page.Title, page.Lead = s.words.say("stead.title"), s.words.say("stead.lead.as")
		page.Rest = s.words.say("stead.rest.as", s.words.long(snap.From))
		for i := range all {
			page.History = append(page.History, s.words.say("stead.history.row", s.words.long(all[len(all)-1-i].From)))
		}
		if draft := s.drafts.find(r.URL.Query().Get("draft")); draft != nil {
			s.checked(&page, draft)
		}
		page.Rows = min(40, max(12, strings.Count(page.Text, "\n")+2))
		page.Sexes = s.options(page.Add.Get("person.sex"), "female", "male")
		page.Activities = s.options(cmp.Or(page.Add.Get("person.activity"), "active"), "inactive", "low_active", "active", "very_active")
		s.render(w, http.StatusOK, "stead", page)
	})
}

func (s *site) options(chosen string, keys ...string) (list []choice) {
	for _, k := range keys {
		list = append(list, choice{k, strings.ReplaceAll(k, "_", " "), k == chosen})
	}
	return list
}

// checked puts a draft and all its faults on the page.
func (s *site) checked(page *steadPage, draft url.Values) {
	page.Text, page.From, page.FromErr = draft.Get("text"), draft.Get("from"), draft.Get("fromerr")
	page.AddErr, page.Added = draft.Get("adderr"), draft.Get("added") != ""
	if draft.Get("part") != "" {
		page.Add = draft
	}
	st, faults := s.readText(page.Text)
	switch {
	case len(faults) == 1:
		page.Lead, page.Rest = s.words.say("stead.lead.badone"), s.words.say("stead.rest.bad")
	case len(faults) > 1:
		page.Lead, page.Rest = s.words.say("stead.lead.bad", count(len(faults))), s.words.say("stead.rest.bad")
	default:
		page.Lead, page.Rest, page.Sound = s.words.say("stead.lead.sound"), s.words.say("stead.rest.sound"), true
		page.Parts = partsOf(st)
		page.Taken, page.Cautions = hearth.Taken(st.Taken), hearth.Cautions(st)
	}
	page.Faults = faults[:min(len(faults), mostFaults)]
}

// readText reads a description and lists its faults with the lines they stand in.
func (s *site) readText(text string) (*stead.Stead, []textFault) {
	st, err := stead.Read("text", []byte(text))
	var errs stead.Errors
	switch {
	case err == nil:
		return st, nil
	case !errors.As(err, &errs):
		return nil, []textFault{{Said: err.Error()}}
	}
	lines := strings.Split(text, "\n")
	var faults []textFault
	for _, p := range errs {
		f := textFault{}
		if p.Line > 0 && p.Line <= len(lines) {
			f.Line, f.Written = s.words.say("stead.line", count(p.Line)), shorten(strings.TrimSpace(lines[p.Line-1]), 120)
			p.Line = 0
		}
		f.Said = upperFirst(p.String())
		faults = append(faults, f)
	}
	return nil, faults
}

// shorten cuts a text to so many characters.
func shorten(text string, most int) string {
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// partsOf lists what a description holds, in a sentence.
func partsOf(st *stead.Stead) string {
	var said []string
	for _, p := range []struct {
		one, many string
		n         int
	}{{"person", "people", len(st.People)}, {"roof", "roofs", len(st.Roofs)}, {"tank", "tanks", len(st.Tanks)}, {"use of water", "uses of water", len(st.Uses)},
		{"bed", "beds", len(st.Beds)}, {"stand of trees", "stands of trees", len(st.Trees)}, {"planting", "plantings", len(st.Plantings)},
		{"wild food", "wild foods", len(st.Forage)}, {"apiary", "apiaries", len(st.Hives)}, {"flock", "flocks", len(st.Flocks)},
		{"shelf", "shelves", len(st.Shelves)}, {"freezer", "freezers", len(st.Freezers)}, {"lot of food", "lots of food", len(st.Lots)},
		{"digester", "digesters", len(st.Digesters)}, {"compost bin", "compost bins", len(st.Composts)}, {"toilet", "toilets", len(st.Toilets)},
		{"cooker", "cookers", len(st.Cookers)}, {"fuel", "fuels", len(st.Fuels)}} {
		switch p.n {
		case 0:
		case 1:
			said = append(said, "1"+nbsp+p.one)
		default:
			said = append(said, count(p.n)+nbsp+p.many)
		}
	}
	return strings.Join(said, ", ")
}

// postStead checks a description, and saves it when it is sound and that is asked.
func (s *site) postStead(w http.ResponseWriter, r *http.Request) {
	form, ok := s.textForm(w, r)
	if !ok {
		return
	}
	from, err := day.Parse(form.Get("from"))
	if err != nil {
		form.Set("fromerr", upperFirst(err.Error()))
	}
	_, faults := s.readText(form.Get("text"))
	if r.PostForm.Get("do") != "save" || err != nil || len(faults) > 0 {
		s.seeOther(w, r, "/book/stead?draft="+s.drafts.keep(form)+"#checked")
		return
	}
	if err := s.desk.home.Describe(r.Context(), from, "text", []byte(form.Get("text"))); err != nil {
		s.sayStopped(w, err)
		return
	}
	s.desk.Changed()
	s.seeOther(w, r, "/book?described="+from.String())
}

// textForm reads the editor's form. Line ends are those of the text kept.
func (s *site) textForm(w http.ResponseWriter, r *http.Request) (url.Values, bool) {
	r.Body = http.MaxBytesReader(w, r.Body, 4*mostText)
	if err := r.ParseForm(); err != nil {
		s.sayRefused(w, http.StatusRequestEntityTooLarge)
		return nil, false
	}
	text := typedText(r.PostForm.Get("text"))
	if len(text) > mostText {
		s.sayRefused(w, http.StatusRequestEntityTooLarge)
		return nil, false
	}
	return url.Values{"text": {text}, "from": {typedLine(r.PostForm.Get("from"))}}, true
}

// addPart appends a part to the text in the editor and shows it there, unsaved.
func (s *site) addPart(w http.ResponseWriter, r *http.Request) {
	form, ok := s.textForm(w, r)
	if !ok {
		return
	}
	with := url.Values{}
	for key := range r.PostForm {
		if value := r.PostForm.Get(key); len(value) <= mostFind && key != "text" && key != "from" {
			with.Set(key, typedLine(value))
		}
	}
	if keys, err := s.words.partKeys(with); err == nil {
		form.Set("text", withPart(form.Get("text"), with.Get("part"), keys))
		form.Set("added", "1")
	} else {
		maps.Copy(form, with)
		form.Set("adderr", s.words.say("stead.addfault", err.Error()))
	}
	s.seeOther(w, r, "/book/stead?draft="+s.drafts.keep(form)+"#checked")
}

// A partKey is a key of a part that the form asks for.
type partKey struct {
	key  string
	kind unit.Kind // "": text
	must bool
}

// partForms are the parts that the forms can add.
var partForms = map[string][]partKey{
	"tank":   {{"name", "", true}, {"holds", unit.Volume, true}, {"group", "", false}},
	"bed":    {{"name", "", true}, {"area", unit.Area, true}},
	"person": {{"name", "", true}, {"sex", "", true}, {"age", unit.Number, true}, {"height", unit.Length, false}, {"mass", unit.Mass, false}, {"activity", "", false}},
}

// partKeys are the keys of a part as TOML, from a form. Amounts stand as they
// were typed, so that the household finds its own units again.
func (w words) partKeys(with url.Values) (keys []string, err error) {
	asked, ok := partForms[with.Get("part")]
	if !ok {
		return nil, errors.New("choose a tank, a bed or a person")
	}
	for _, k := range asked {
		value := with.Get(with.Get("part") + "." + k.key)
		if k.kind != "" {
			if value, err = w.plain(value, k.kind); err != nil {
				return nil, fmt.Errorf("%s: %w", k.key, err)
			}
		}
		switch _, wrong := unit.Parse(value, cmp.Or(k.kind, unit.Number)); {
		case value == "" && k.must:
			return nil, fmt.Errorf("%s is empty", k.key)
		case value == "":
			continue
		case k.kind != "" && wrong != nil:
			return nil, fmt.Errorf("%s: %w", k.key, wrong)
		}
		if k.kind == unit.Number {
			keys = append(keys, k.key+" = "+value)
			continue
		}
		keys = append(keys, k.key+` = "`+strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value)+`"`)
	}
	return keys, nil
}

// withPart puts a part at the end of a text, or into the list that holds the
// others where they stand on one line.
func withPart(text, part string, keys []string) string {
	list := regexp.MustCompile(`(?m)^(\s*` + part + `\s*=\s*\[.*\}),?\s*\][ \t]*$`)
	if at := list.FindStringSubmatchIndex(text); at != nil {
		return text[:at[3]] + ", { " + strings.Join(keys, ", ") + " }]" + text[at[1]:]
	}
	return strings.TrimRight(text, "\n") + "\n\n[[" + part + "]]\n" + strings.Join(keys, "\n") + "\n"
}
