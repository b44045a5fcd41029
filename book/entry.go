package book

import (
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/google/uuid"

	"evenstead/day"
	"evenstead/unit"
)

// An Entry is one line of the book.
type Entry struct {
	ID       uuid.UUID // version 7, made where the note was written
	Day      day.Day   // the local day it happened
	Time     string    // local time, "07:30"; "" when not said
	Who      string    // who did it, as the stead names them
	Kind     Kind
	Body     Body
	Note     string
	Strikes  uuid.UUID // the entry this one takes out; zero: none
	Received time.Time // when the store first saw it; zero: not yet
}

// A Body is the thing, the place and the amount of an entry.
type Body struct {
	What    string            // food, crop, fuel, person: by the rule of the kind
	Where   string            // bed, tank, shelf: by the rule of the kind
	Form    string            // fresh, dry, dried, jarred, frozen, fermented or ""
	Amount  float64           // in the SI unit of Measure
	Measure unit.Kind         // "": no amount
	Extra   map[string]string // the other end ("to", "from", "for") and reasons given
}

// Forms lists the forms food is kept in.
func Forms() []string { return []string{"fresh", "dry", "dried", "jarred", "frozen", "fermented"} }

// ErrConflict says that two different entries carry the same id.
var ErrConflict = errors.New("same id with another body")

// NewID makes a version 7 id (RFC 9562, section 5.7) of the millisecond of now
// and ten random bytes.
func NewID(now time.Time, random io.Reader) (uuid.UUID, error) {
	var id uuid.UUID
	if _, err := io.ReadFull(random, id[6:]); err != nil {
		return uuid.Nil, fmt.Errorf("make an entry id: %w", err)
	}
	ms := now.UnixMilli()
	for i := range 6 {
		id[i] = byte(ms >> (40 - 8*i))
	}
	id[6] = id[6]&0x0f | 0x70
	id[8] = id[8]&0x3f | 0x80
	return id, nil
}

// MadeAt is the moment that an id says it was made, by the clock of where it was.
func MadeAt(id uuid.UUID) time.Time {
	ms := int64(0)
	for _, b := range id[:6] {
		ms = ms<<8 | int64(b)
	}
	return time.UnixMilli(ms)
}

// Same reports whether two entries say the same, whenever they were received.
func Same(a, b Entry) bool {
	a.Received, b.Received = time.Time{}, time.Time{}
	x, err := a.Line()
	y, err2 := b.Line()
	return err == nil && err2 == nil && string(x) == string(y)
}
