package hearth

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"

	"evenstead/store"
)

// calendarSetting keeps the sum of the word that opens the calendar, not the word:
// who reads the file, or an export of it, can't subscribe with it.
const calendarSetting = "calendar"

// NewCalendarWord makes the secret word of the address at which a calendar program
// reads the week's work, and closes the one before. It is told this once.
func (h *Home) NewCalendarWord(ctx context.Context) (string, error) {
	word := rand.Text()
	return word, h.keepCalendar(ctx, calendarSum(word))
}

// CloseCalendar makes the word of before worthless.
func (h *Home) CloseCalendar(ctx context.Context) error { return h.keepCalendar(ctx, "") }

func (h *Home) keepCalendar(ctx context.Context, sum string) error {
	return h.store.SaveSettings(ctx, []store.Setting{{Name: calendarSetting, Value: sum}})
}

// CalendarOpen tells whether a word is out.
func (h *Home) CalendarOpen(ctx context.Context) (bool, error) {
	sum, err := h.calendar(ctx)
	return sum != "", err
}

// CalendarWord tells whether a word is the one that opens the calendar.
func (h *Home) CalendarWord(ctx context.Context, word string) (bool, error) {
	sum, err := h.calendar(ctx)
	return sum != "" && subtle.ConstantTimeCompare([]byte(sum), []byte(calendarSum(word))) == 1, err
}

func (h *Home) calendar(ctx context.Context) (sum string, err error) {
	kept, err := h.store.Settings(ctx)
	for _, c := range kept {
		if c.Name == calendarSetting {
			sum = c.Value
		}
	}
	return sum, err
}

func calendarSum(word string) string {
	sum := sha256.Sum256([]byte(word))
	return hex.EncodeToString(sum[:])
}
