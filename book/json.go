package book

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"time"

	"github.com/google/uuid"

	"evenstead/day"
	"evenstead/unit"
)

// wire is the written form; its fields stand in the order of the keys.
type wire struct {
	ID       uuid.UUID         `json:"id"`
	Day      day.Day           `json:"day"`
	Time     string            `json:"time,omitempty"`
	Who      string            `json:"who,omitempty"`
	Kind     Kind              `json:"kind"`
	What     string            `json:"what,omitempty"`
	Where    string            `json:"where,omitempty"`
	Form     string            `json:"form,omitempty"`
	Amount   *float64          `json:"amount,omitempty"`
	Measure  unit.Kind         `json:"measure,omitempty"`
	Extra    map[string]string `json:"extra,omitempty"`
	Note     string            `json:"note,omitempty"`
	Strikes  *uuid.UUID        `json:"strikes,omitempty"`
	Received *time.Time        `json:"received,omitempty"`
}

// Line writes the entry as one line of JSON without its newline: keys in fixed
// order, those that are empty left out, the keys of extra sorted. An entry read
// from a line writes that line again, byte for byte.
func (e Entry) Line() ([]byte, error) {
	w := wire{e.ID, e.Day, e.Time, e.Who, e.Kind, e.Body.What, e.Body.Where, e.Body.Form,
		nil, e.Body.Measure, e.Body.Extra, e.Note, nil, nil}
	if e.Body.Measure != "" {
		w.Amount = &e.Body.Amount
	}
	if e.Strikes != uuid.Nil {
		w.Strikes = &e.Strikes
	}
	if !e.Received.IsZero() {
		at := e.Received.UTC()
		w.Received = &at
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(w); err != nil {
		return nil, fmt.Errorf("write entry %s: %w", e.ID, err)
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// ParseLine reads one entry and checks that it is well formed (Entry.Valid).
func ParseLine(line []byte) (Entry, error) {
	e, err := decode(line)
	if err != nil {
		return Entry{}, err
	}
	return e, e.Valid()
}

func decode(line []byte) (Entry, error) {
	var w wire
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&w); err != nil {
		return Entry{}, fmt.Errorf("not an entry: %w", err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return Entry{}, fmt.Errorf("not an entry: the line goes on after its end")
	}
	if (w.Amount == nil) != (w.Measure == "") {
		return Entry{}, fmt.Errorf("entry %s: amount and measure stand together or not at all", w.ID)
	}
	return w.entry(), nil
}

func (w wire) entry() Entry {
	e := Entry{ID: w.ID, Day: w.Day, Time: w.Time, Who: w.Who, Kind: w.Kind, Note: w.Note,
		Body: Body{What: w.What, Where: w.Where, Form: w.Form, Measure: w.Measure, Extra: w.Extra}}
	if w.Amount != nil {
		e.Body.Amount = *w.Amount
	}
	if w.Strikes != nil {
		e.Strikes = *w.Strikes
	}
	if w.Received != nil {
		e.Received = w.Received.UTC()
	}
	return e
}

// MarshalJSON writes the form of Line.
func (e Entry) MarshalJSON() ([]byte, error) { return e.Line() }

// UnmarshalJSON reads the form of Line without checking the entry.
func (e *Entry) UnmarshalJSON(b []byte) error {
	got, err := decode(b)
	if err == nil {
		*e = got
	}
	return err
}
