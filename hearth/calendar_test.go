package hearth

import (
	"bytes"
	"testing"
)

// TestCalendarWord: one word opens, a new one closes the old, a closed calendar
// opens to nothing, and the file does not tell the word.
func TestCalendarWord(t *testing.T) {
	h := empty(t)
	opens := func(word string, want bool) {
		t.Helper()
		if got, err := h.CalendarWord(t.Context(), word); err != nil || got != want {
			t.Errorf("%q opens: %v, %v; want %v", word, got, err, want)
		}
	}
	opens("", false)
	first, err := h.NewCalendarWord(t.Context())
	if err != nil || len(first) < 26 {
		t.Fatalf("%q, %v", first, err)
	}
	opens(first, true)
	opens(first[1:], false)
	second, err := h.NewCalendarWord(t.Context())
	if err != nil || second == first {
		t.Fatalf("%q after %q, %v", second, first, err)
	}
	opens(first, false)
	opens(second, true)
	var out bytes.Buffer
	if err := h.Store().Export(t.Context(), &out); err != nil || bytes.Contains(out.Bytes(), []byte(second)) {
		t.Errorf("%v; the export tells the word: %v", err, bytes.Contains(out.Bytes(), []byte(second)))
	}
	if err := h.CloseCalendar(t.Context()); err != nil {
		t.Fatal(err)
	}
	opens(second, false)
	opens("", false)
	if open, err := h.CalendarOpen(t.Context()); err != nil || open {
		t.Errorf("closed: %v, %v", open, err)
	}
}
