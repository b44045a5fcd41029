package web

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/sums"
	"evenstead/unit"
)

// tonguesOf are the phrases of every language of the pages.
func tonguesOf(t *testing.T) (all []words) {
	t.Helper()
	for _, l := range languages {
		w, err := readWords(l.Key)
		must(t, err)
		all = append(all, w)
	}
	return all
}

// TestShownReadsBack: what a page shows, as an amount, a figure or a count, is the
// same value when it is typed into a field of that page.
func TestShownReadsBack(t *testing.T) {
	all := tonguesOf(t)
	kinds := []unit.Kind{unit.Mass, unit.Volume, unit.Area, unit.Length, unit.Depth, unit.Energy, unit.Power, unit.Time, unit.Flow}
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(all).Draw(t, "language")
		v := math.Pow(10, rapid.Float64Range(-3, 7).Draw(t, "magnitude"))
		same := func(shown, english string, k unit.Kind) {
			want, err := unit.Parse(strings.ReplaceAll(english, nbsp, " "), k)
			got, err2 := w.parse(shown, k, "")
			if typed, err3 := w.parse(typedLine(shown), k, ""); err != nil || err2 != nil || err3 != nil || got != want || typed != want {
				t.Fatalf("%q is shown %q and read %v or %v, %v, %v, %v", english, shown, got, typed, err, err2, err3)
			}
		}
		same(w.figure(v), figure(v), unit.Number)
		same(w.count(int(v)), count(int(v)), unit.Number)
		k := rapid.SampledFrom(kinds).Draw(t, "kind")
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			english := unit.Format(v, k, sys)
			same(w.marked(english), english, k)
		}
	})
}

// TestTypedInEachLanguage holds what a field makes of a number by the language of
// its page; NaN is refused.
func TestTypedInEachLanguage(t *testing.T) {
	no := math.NaN()
	for _, c := range []struct {
		text   string
		en, es float64
	}{
		{"2,5", no, 2.5}, {"2.5", 2.5, 2.5}, {"1,200", 1200, no}, {"1.200", 1.2, no}, {"1,200.5", 1200.5, 1200.5}, {"1.200,5", no, 1200.5},
		{"12 345", no, 12345}, {"0,125", no, 0.125}, {"1234,567", no, 1234.567}, {"1200", 1200, 1200}, {"1/2", 0.5, 0.5}, {"1 1/2", 1.5, 1.5}, {"1,20", no, 1.2},
	} {
		for i, w := range tonguesOf(t) {
			want := []float64{c.en, c.es}[i]
			got, err := w.parse(c.text+" L", unit.Volume, "")
			if math.IsNaN(want) != (err != nil) || err == nil && math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: %q L is %g, %v; want %g", w["lang"], c.text, got, err, want)
			}
		}
	}
	es := tonguesOf(t)[1]
	if _, err := es.parse("1,200", unit.Volume, "L"); err == nil || err.Error() != `"1,200" puede leerse de dos maneras: escribir 1200 o 1,2` {
		t.Errorf("in Spanish 1,200 is told %v", err)
	}
	if v, err := es.parse("29,123 N", unit.Angle, ""); err != nil || v != 29.123 {
		t.Errorf("a latitude of 29,123 is %g, %v", v, err)
	}
}

// spanishDesk is a stead whose household has chosen Spanish.
func spanishDesk(t *testing.T) (*Desk, http.Handler) {
	t.Helper()
	d := deskOf(t, demo.Quernfold())
	must(t, d.Home().KeepSettings(t.Context(), hearth.Settings{Language: "es"}))
	d.Changed()
	return d, deskSite(t, d)
}

// TestFormsReadTheDecimalComma: the forms that write take 2,5 for two and a half on a
// Spanish page, and refuse what could be two amounts with nothing written.
func TestFormsReadTheDecimalComma(t *testing.T) {
	d, h := spanishDesk(t)
	amounts := func() (list []float64) {
		s, err := d.Now(t.Context())
		must(t, err)
		for i := range s.Entries {
			list = append(list, s.Entries[i].Body.Amount)
		}
		return list
	}
	s, err := d.Now(t.Context())
	must(t, err)
	bed := s.Stead.Beds[0].Name
	for _, c := range []struct {
		way  string
		form url.Values
	}{
		{"/stores/dip", url.Values{"what": {s.Stead.Groups()[0].Name}, "amount": {"AMOUNT L"}}},
		{"/boots", url.Values{"do": {"watered"}, "thing.watered": {"|||" + bed}, "amount.watered": {"AMOUNT"}}},
	} {
		before := len(amounts())
		for _, typed := range []string{"1,200", "1.200"} {
			post(t, h, c.way, withAmount(c.form, typed))
			if got := amounts(); len(got) != before {
				t.Errorf("%s: %s is written: %g", c.way, typed, got)
			}
		}
		post(t, h, c.way, withAmount(c.form, "12,5"))
		if got := amounts(); len(got) != before+1 || !slices.Contains(got, 12.5) {
			t.Errorf("%s: 12,5 is written as %g", c.way, got)
		}
	}
	note := post(t, h, "/note", url.Values{"text": {"watered " + bed + " 7,5 L"}}).Header().Get("Location")
	if w := post(t, h, note, url.Values{"do": {"write"}}); !strings.Contains(w.Header().Get("Location"), "wrote=1") {
		t.Errorf("the note leads to %s", look(t, h, w.Header().Get("Location")).find("main")[0].text)
	}
	if got := amounts(); !slices.Contains(got, 7.5) {
		t.Errorf("a note's 7,5 L is written as %g", got)
	}
	page := look(t, h, "/boots?do=rain&amount.rain=2%2C5&add=rain:0.5")
	if got := page.find("#a-rain")[0].attrs["value"]; got != "3" {
		t.Errorf("2,5 and a half are %q", got)
	}
	page = look(t, h, "/boots?do=rain&amount.rain=1%2C200&add=rain:0.5")
	if got := page.find("#a-rain")[0].attrs["value"]; got != "1,200" {
		t.Errorf("what can't be added to is now %q", got)
	}
}

func withAmount(form url.Values, amount string) url.Values {
	out := url.Values{}
	for k, v := range form {
		out.Set(k, strings.Replace(v[0], "AMOUNT", amount, 1))
	}
	return out
}

// TestEntryReadsBackInItsField: the line that a page offers to mend an entry is the
// entry again when it is read.
func TestEntryReadsBackInItsField(t *testing.T) {
	d, h := spanishDesk(t)
	got := write(t, d, "rain 1.125 mm\nwatered B1 1,200 L\npicked 2.55 kg kale, B1")
	for i := range got {
		e := &got[i]
		text := strings.TrimSpace(look(t, h, "/book/"+e.ID.String()).find("#text")[0].text)
		s, err := d.Now(t.Context())
		must(t, err)
		w := tonguesOf(t)[1]
		site := &site{words: w, desk: d}
		back, err := site.understandInstead(newRequest(t), s, e, url.Values{"text": {text}})
		if err != nil || back.readings[0].Err != nil || math.Abs(back.readings[0].Entry.Body.Amount-e.Body.Amount) > 0.005*e.Body.Amount {
			t.Errorf("%q is offered as %q and read %+v, %v", e.Sentence(unit.Metric), text, back, err)
		}
	}
}

func newRequest(t *testing.T) *http.Request {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, "/", nil)
	must(t, err)
	return r
}

// TestSumsInEachLanguage: every sum's example, as its page offers it, is the example
// again when the page reads it.
func TestSumsInEachLanguage(t *testing.T) {
	for _, w := range tonguesOf(t) {
		for _, sum := range sums.All() {
			given, typed := map[string]string{}, map[string]string{}
			for _, g := range sum.Example.Given {
				in := &sum.Inputs[slices.IndexFunc(sum.Inputs, func(in sums.Input) bool { return in.Key == g.Key })]
				text, err := w.sumValue(in, w.sumTyped(in, g.Value))
				if err != nil {
					t.Errorf("%s, %s: %s %q: %v", w["lang"], sum.Name, g.Key, g.Value, err)
				}
				given[g.Key], typed[g.Key] = g.Value, text
			}
			want, err := sum.Run(given, unit.Metric)
			got, err2 := sum.Run(typed, unit.Metric)
			if err := errors.Join(err, err2); err != nil || len(got.Lines) != len(want.Lines) {
				t.Errorf("%s, %s: %v", w["lang"], sum.Name, err)
				continue
			}
			for i := range got.Lines {
				if got.Lines[i].Text != want.Lines[i].Text {
					t.Errorf("%s, %s: %q, want %q", w["lang"], sum.Name, got.Lines[i].Text, want.Lines[i].Text)
				}
			}
		}
	}
}

// TestTapsReadTheDecimalComma: in a browser a tap adds to what was typed as the page
// writes it, and leaves alone what could be two amounts.
func TestTapsReadTheDecimalComma(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	_, h := spanishDesk(t)
	es := httptest.NewServer(h)
	t.Cleanup(es.Close)
	en := httptest.NewServer(deskSite(t, deskOf(t, demo.Quernfold())))
	t.Cleanup(en.Close)
	tabs := map[string]context.Context{}
	for _, url := range []string{es.URL, en.URL} {
		tabs[url] = open(t, ctx, url+"/boots?do=picked", 390, "light")
	}
	for _, c := range []struct{ url, typed, want string }{
		{es.URL, "", "0,5"}, {es.URL, "2,5", "3"}, {es.URL, "2.25", "2,75"}, {es.URL, "1,200", "1,200"}, {es.URL, "1.200", "1.200"}, {es.URL, "two", "two"},
		{en.URL, "", "0.5"}, {en.URL, "1,200", "1200.5"}, {en.URL, "2.25", "2.75"}, {en.URL, "2,5", "2,5"},
	} {
		got := ask[string](t, tabs[c.url], fmt.Sprintf(`(() => {
			const f = document.getElementById("a-picked");
			f.value = %q;
			document.querySelector("button[data-to=a-picked][data-add='0.5']").click();
			return f.value;
		})()`, c.typed))
		if got != c.want {
			t.Errorf("%s: %q and a half is %q, want %q", c.url, c.typed, got, c.want)
		}
	}
}
