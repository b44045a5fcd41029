package hearth

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"evenstead/book"
	"evenstead/unit"
)

// TestStrikesFollowTheRule adds, strikes and replaces at random. What stands is
// what no standing entry strikes, and nothing that stands is refused a strike.
func TestStrikesFollowTheRule(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(rt *rapid.T) {
		sub, err := os.MkdirTemp(dir, "")
		must(t, err)
		h, err := Open(t.Context(), filepath.Join(sub, "a.stead"), func() time.Time { return noon })
		must(t, err)
		defer h.Close()
		other, err := Open(t.Context(), filepath.Join(sub, "a.stead"), func() time.Time { return noon })
		must(t, err)
		defer other.Close()
		m := model{}
		for range rapid.IntRange(1, 12).Draw(rt, "deeds") {
			m.deed(rt, t, rapid.SampledFrom([]*Home{h, other}).Draw(rt, "writer"))
			if rapid.Bool().Draw(rt, "look") {
				m.agrees(rt, t, h)
			}
		}
		m.agrees(rt, t, h)
		m.agrees(rt, t, other)
	})
}

// model holds every entry in order, its strikes with it.
type model []book.Entry

func (m *model) deed(rt *rapid.T, t *testing.T, h *Home) {
	rain := book.Reading{Entry: book.Entry{Day: today, Kind: book.Rain, Body: book.Body{Amount: rapid.Float64Range(0, 50).Draw(rt, "mm"), Measure: unit.Depth}}}
	if len(*m) == 0 || rapid.Bool().Draw(rt, "add") {
		got, err := h.Add(t.Context(), []book.Reading{rain})
		must(t, err)
		*m = append(*m, got...)
		return
	}
	old := rapid.SampledFrom(*m).Draw(rt, "old")
	strike := func() (book.Entry, error) { return h.Strike(t.Context(), old.ID, "") }
	if rapid.Bool().Draw(rt, "replace") {
		strike = func() (book.Entry, error) { return h.Replace(t.Context(), old.ID, rain) }
	}
	e, err := strike()
	if refuse := !m.stands(old.ID) && old.Kind != book.Struck; refuse != errors.Is(err, ErrStruck) || err != nil && !refuse {
		rt.Fatalf("strike of %s: %v, refuse %v", old.ID, err, refuse)
	}
	if err == nil {
		*m = append(*m, e)
	}
}

func (m *model) stands(id uuid.UUID) bool {
	return !slices.ContainsFunc(*m, func(e book.Entry) bool { return e.Strikes == id && m.stands(e.ID) })
}

func (m *model) agrees(rt *rapid.T, t *testing.T, h *Home) {
	live, err := h.Entries(t.Context())
	must(t, err)
	all, err := h.All(t.Context())
	must(t, err)
	kept, err := h.Store().Entries(t.Context(), today-100, today+100)
	must(t, err)
	if !slices.EqualFunc(all, kept, book.Same) {
		rt.Errorf("%d entries, kept are %d", len(all), len(kept))
	}
	n := 0
	for _, e := range *m {
		stands := m.stands(e.ID) && e.Kind != book.Struck
		if stands {
			n++
		}
		if stands != slices.ContainsFunc(live, func(l book.Entry) bool { return l.ID == e.ID }) {
			rt.Errorf("%s %s stands: %v", e.Kind, e.ID, stands)
		}
	}
	if n != len(live) {
		rt.Errorf("%d stand, %d are live", n, len(live))
	}
}
