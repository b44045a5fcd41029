package book

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"

	"evenstead/day"
	"evenstead/unit"
)

// columns are the head line of the CSV form; amounts are in the SI unit named
// by the column unit.
var columns = []string{"id", "day", "time", "who", "kind", "what", "where", "form", "amount", "unit", "measure", "extra", "note", "strikes", "received"}

// WriteCSV writes entries under a head line. ReadCSV gives them back, and
// writing those again gives the same bytes.
func WriteCSV(w io.Writer, entries []Entry) error {
	out := csv.NewWriter(w)
	if err := out.Write(columns); err != nil {
		return err
	}
	for _, e := range entries {
		row, err := e.row()
		if err == nil {
			err = out.Write(row)
		}
		if err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func (e Entry) row() ([]string, error) {
	b := e.Body
	amount, extra, strikes, received := "", "", "", ""
	if b.Measure != "" {
		amount = strconv.FormatFloat(b.Amount, 'g', -1, 64)
	}
	if len(b.Extra) > 0 {
		text, err := json.Marshal(b.Extra)
		if err != nil {
			return nil, err
		}
		extra = string(text)
	}
	if e.Strikes != uuid.Nil {
		strikes = e.Strikes.String()
	}
	if !e.Received.IsZero() {
		received = e.Received.UTC().Format(time.RFC3339Nano)
	}
	return []string{e.ID.String(), e.Day.String(), e.Time, e.Who, string(e.Kind), b.What, b.Where, b.Form,
		amount, symbol(b.Measure), string(b.Measure), extra, e.Note, strikes, received}, nil
}

// ReadCSV reads entries that WriteCSV wrote, columns in the same order. Errors name the line.
func ReadCSV(r io.Reader) ([]Entry, error) {
	in := csv.NewReader(r)
	head, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("no head line: %w", err)
	}
	if !slices.Equal(head, columns) {
		return nil, fmt.Errorf("line 1: the columns are %q, they must be %q", head, columns)
	}
	var out []Entry
	for {
		row, err := in.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		e, err := fromRow(row)
		if err != nil {
			line, _ := in.FieldPos(0)
			return nil, fmt.Errorf("line %d: %w", line, err)
		}
		out = append(out, e)
	}
}

func fromRow(f []string) (e Entry, err error) {
	var errs [6]error
	e.ID, errs[0] = uuid.Parse(f[0])
	e.Day, errs[1] = day.Parse(f[1])
	e.Time, e.Who, e.Kind, e.Note = f[2], f[3], Kind(f[4]), f[12]
	e.Body = Body{What: f[5], Where: f[6], Form: f[7], Measure: unit.Kind(f[10])}
	if f[8] != "" {
		e.Body.Amount, errs[2] = strconv.ParseFloat(f[8], 64)
	}
	if f[11] != "" {
		errs[3] = json.Unmarshal([]byte(f[11]), &e.Body.Extra)
	}
	if f[13] != "" {
		e.Strikes, errs[4] = uuid.Parse(f[13])
	}
	if f[14] != "" {
		e.Received, errs[5] = time.Parse(time.RFC3339Nano, f[14])
		e.Received = e.Received.UTC()
	}
	if err := errors.Join(errs[:]...); err != nil {
		return e, err
	}
	if (f[8] == "") != (e.Body.Measure == "") || f[9] != symbol(e.Body.Measure) {
		return e, fmt.Errorf("amount %q %s does not go with the measure %q, which is in %q", f[8], f[9], f[10], symbol(e.Body.Measure))
	}
	return e, e.Valid()
}

// symbol is the SI unit of a measure, "" for none and for one that is not known.
func symbol(k unit.Kind) string {
	if !slices.Contains(unit.Kinds(), k) {
		return ""
	}
	return unit.Symbol(k)
}
