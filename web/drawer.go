package web

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"evenstead/sums"
	"evenstead/unit"
)

// drawerPage lists the sums by group.
type drawerPage struct {
	frame
	Lead, Rest string
	Groups     []sumGroup
}

type sumGroup struct {
	ID, Title string
	Sums      []sums.Sum
}

// sumPage is one sum: what it takes, and what it came to once asked.
type sumPage struct {
	frame
	Sum     sums.Sum
	Fields  []sumField
	Asked   bool
	Fault   string // of the whole; faults of fields stand at them
	Own     bool   // those of fields are in the page's language
	Answer  *sums.Answer
	Example []sumField
	Filled  string // the example's values, as a link
}

type sumField struct {
	Key, Label, Hint, Value, Err string
	Required                     bool
	Choices                      []choice
}

// longestSum is the most bytes of a sum's values that are read.
const longestSum = 8 << 10

func (s *site) drawer(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		page := drawerPage{frame: s.deskFrame(snap, ""), Lead: s.words.say("sums.lead"), Rest: s.words.say("sums.rest")}
		page.Title = s.words.say("sums.title")
		all := sums.All()
		for i, name := range sums.Groups() {
			g := sumGroup{ID: "g" + string(rune('a'+i)), Title: upperFirst(name)}
			for _, x := range all {
				if x.Group == name {
					g.Sums = append(g.Sums, x)
				}
			}
			page.Groups = append(page.Groups, g)
		}
		s.render(w, http.StatusOK, "drawer", page)
	})
}

func (s *site) sum(w http.ResponseWriter, r *http.Request) {
	sum, err := sums.Named(r.PathValue("name"))
	if err != nil {
		http.Error(w, err.Error(), http.StatusNotFound)
		return
	}
	if len(r.URL.RawQuery) > longestSum {
		http.Error(w, s.words.say("sums.long"), http.StatusRequestURITooLong)
		return
	}
	s.withDesk(w, r, func(snap *Snapshot) {
		page := sumPage{frame: s.deskFrame(snap, ""), Sum: sum, Asked: r.URL.RawQuery != ""}
		page.Title = sum.Title
		values := map[string]string{}
		for _, in := range sum.Inputs {
			if v := strings.TrimSpace(r.URL.Query().Get(in.Key)); v != "" {
				values[in.Key] = v
			}
		}
		faults := page.reckon(s.words, values, snap.Units)
		page.fill(s, values, faults, snap.Units)
		s.render(w, http.StatusOK, "sum", page)
	})
}

// reckon runs the sum when it was asked, and returns the faults by key.
func (p *sumPage) reckon(w words, values map[string]string, sys unit.System) map[string]string {
	faults := map[string]string{}
	if !p.Asked {
		return faults
	}
	plain := map[string]string{}
	for _, in := range p.Sum.Inputs {
		if v, ok := values[in.Key]; ok {
			var err error
			if plain[in.Key], err = w.sumValue(&in, v); err != nil {
				faults[in.Key], p.Own = err.Error()+".", true
			}
		}
	}
	if len(faults) > 0 {
		return faults
	}
	a, err := p.Sum.Run(plain, sys)
	var list sums.Problems
	switch {
	case err == nil:
		p.Answer = &a
	case errors.As(err, &list):
		for _, one := range list {
			faults[one.Key] = one.Mend
		}
		p.Fault = faults[""]
	default:
		p.Fault = err.Error()
	}
	return faults
}

// sumValue is a typed value of a sum as the sum reads it.
func (w words) sumValue(in *sums.Input, text string) (string, error) {
	switch in.Form {
	case sums.Amount:
		return w.plain(text, in.Kind)
	case sums.List:
		return w.plainList(text)
	}
	return text, nil
}

// sumTyped is the other way: a value of a sum as it is typed into the page.
func (w words) sumTyped(in *sums.Input, text string) string {
	switch in.Form {
	case sums.Amount:
		return w.asTyped(text)
	case sums.List:
		return w.listTyped(text)
	}
	return text
}

func (p *sumPage) fill(s *site, values, faults map[string]string, sys unit.System) {
	for _, in := range p.Sum.Inputs {
		f := sumField{Key: in.Key, Label: upperFirst(in.Label), Value: values[in.Key], Err: faults[in.Key], Required: in.Required()}
		if in.Form == sums.Amount || in.Form == sums.List {
			f.Hint = s.words.say("sums.range", unit.Format(in.Least, in.Kind, sys), unit.Format(in.Most, in.Kind, sys))
		}
		switch {
		case in.Default != "":
			f.Hint = strings.TrimSpace(f.Hint + " " + s.words.say("sums.taken", s.words.sumTyped(&in, in.Default)))
		case in.Optional:
			f.Hint = strings.TrimSpace(f.Hint + " " + s.words.say("sums.optional"))
		}
		for _, c := range in.Choices {
			f.Choices = append(f.Choices, choice{c, strings.ReplaceAll(c, "_", " "), c == values[in.Key] || values[in.Key] == "" && c == in.Default})
		}
		p.Fields = append(p.Fields, f)
	}
	q := url.Values{}
	for _, g := range p.Sum.Example.Given {
		i := slices.IndexFunc(p.Sum.Inputs, func(in sums.Input) bool { return in.Key == g.Key })
		q.Set(g.Key, s.words.sumTyped(&p.Sum.Inputs[i], g.Value))
	}
	p.Filled = "/sums/" + p.Sum.Name + "?" + q.Encode()
}
