package hearth

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"time"

	"evenstead/day"
	"evenstead/stead"
	"evenstead/store"
	"evenstead/unit"
)

// Settings are how a household wants its pages. The zero value is metric, a clock
// of 24 hours, and a week from Sunday.
type Settings struct {
	Units    unit.System
	Clock12  bool         // 6:30 pm, not 18:30
	Week     time.Weekday // the day a week begins on
	Language string       // of the words; "" is English
}

// Settings returns the choices kept, and those of usual where none is: a value
// that this evenstead does not know counts as none.
func (h *Home) Settings(ctx context.Context, usual Settings) (Settings, error) {
	kept, err := h.store.Settings(ctx)
	if err != nil {
		return usual, err
	}
	out := usual
	for _, c := range kept {
		switch c.Name + "=" + c.Value {
		case "units=metric":
			out.Units = unit.Metric
		case "units=us":
			out.Units = unit.US
		case "clock=24":
			out.Clock12 = false
		case "clock=12":
			out.Clock12 = true
		}
		switch d, ok := weekday(c.Value); {
		case c.Name == "week" && ok:
			out.Week = d
		case c.Name == "language":
			out.Language = c.Value
		}
	}
	return out, nil
}

// KeepSettings keeps all choices.
func (h *Home) KeepSettings(ctx context.Context, s Settings) error {
	units, clock := "metric", "24"
	if s.Units == unit.US {
		units = "us"
	}
	if s.Clock12 {
		clock = "12"
	}
	return h.store.SaveSettings(ctx, []store.Setting{{Name: "units", Value: units}, {Name: "clock", Value: clock},
		{Name: "week", Value: strings.ToLower(s.Week.String())}, {Name: "language", Value: s.Language}})
}

func weekday(name string) (time.Weekday, bool) {
	for d := time.Sunday; d <= time.Saturday; d++ {
		if strings.EqualFold(d.String(), name) {
			return d, true
		}
	}
	return 0, false
}

// Terms changes the risk planned for, a share of years, and whether water may come
// from outside, in the description that holds from a day on. The rest of the text
// stays as it was written.
func (h *Home) Terms(ctx context.Context, from day.Day, risk float64, water bool) error {
	held, err := h.On(ctx, from)
	if err != nil {
		return err
	}
	if t := held.Stead.Terms; t.Storage == risk && t.Water == water {
		return nil
	}
	text := withTerm(held.Text, "risk", fmt.Sprintf(`"%.4g %%"`, risk*100))
	text = withTerm(text, "outside_water", fmt.Sprint(water))
	st, err := stead.Read("the description with these terms", []byte(text))
	if err != nil {
		return fmt.Errorf("the terms can't be put into the text as it is written; change [terms] in the stead text: %w", err)
	}
	if gap := st.Terms.Storage - risk; gap > 1e-4 || gap < -1e-4 || st.Terms.Water != water {
		return fmt.Errorf("the terms stand in the text in a way this form can't change; change [terms] in the stead text")
	}
	return h.store.SaveStead(ctx, from, text)
}

var (
	termsHead = regexp.MustCompile(`(?m)^[ \t]*\[[ \t]*terms[ \t]*\][^\n]*$`)
	nextHead  = regexp.MustCompile(`(?m)^[ \t]*\[`)
	dotted    = regexp.MustCompile(`(?m)^[ \t]*terms[ \t]*\.[^\n]*$`)
)

// withTerm sets a key of the terms in a text: in its line where it has one, else
// under the head of the table, else beside other dotted keys, else at the end.
func withTerm(text, key, value string) string {
	line := func(prefix string) *regexp.Regexp {
		return regexp.MustCompile(`(?m)^([ \t]*` + prefix + key + `[ \t]*=[ \t]*)("[^"\n]*"|'[^'\n]*'|[^\s#]+)`)
	}
	if at := termsHead.FindStringIndex(text); at != nil {
		body, rest := text[at[1]:], ""
		if next := nextHead.FindStringIndex(body); next != nil {
			body, rest = body[:next[0]], body[next[0]:]
		}
		if had := line(""); had.MatchString(body) {
			return text[:at[1]] + had.ReplaceAllString(body, "${1}"+value) + rest
		}
		return text[:at[1]] + "\n" + key + " = " + value + body + rest
	}
	if had := line(`terms[ \t]*\.[ \t]*`); had.MatchString(text) {
		return had.ReplaceAllString(text, "${1}"+value)
	}
	if at := dotted.FindStringIndex(text); at != nil {
		return text[:at[1]] + "\nterms." + key + " = " + value + text[at[1]:]
	}
	return strings.TrimRight(text, "\n") + "\n\n[terms]\n" + key + " = " + value + "\n"
}
