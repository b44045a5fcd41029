package store

import (
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"evenstead/book"
	"evenstead/day"
)

// form is the number of the export form, written in its first line.
const form = 1

// longest is the most bytes one line of an export may have.
const longest = 64 << 20

// record is one line of an export: exactly one of its parts is set.
type record struct {
	Evenstead int             `json:"evenstead,omitempty"`
	Stead     *steadLine      `json:"stead,omitempty"`
	Weather   *weatherLine    `json:"weather,omitempty"`
	Plan      *Plan           `json:"plan,omitempty"`
	Setting   *Setting        `json:"setting,omitempty"`
	Entry     json.RawMessage `json:"entry,omitempty"`
	Photo     *photoLine      `json:"photo,omitempty"`
}

type steadLine struct {
	From  day.Day   `json:"from"`
	Saved time.Time `json:"saved"`
	Text  string    `json:"text"`
}

type weatherLine struct {
	Day  day.Day  `json:"day"`
	Rain *float64 `json:"rain,omitempty"`
	TMin *float64 `json:"tmin,omitempty"`
	TMax *float64 `json:"tmax,omitempty"`
}

// Export writes everything as JSON Lines (see book/format.md): the versions of
// the stead, the weather, the plans, the settings, then the entries and the photos in order of
// arrival. An import of it into a new store exports the same bytes.
func (s *Store) Export(ctx context.Context, w io.Writer) error {
	const op = "export"
	out := bufio.NewWriter(w)
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	if err := errors.Join(enc.Encode(record{Evenstead: form}), s.exportSets(ctx, enc)); err != nil {
		return s.fail(op, err)
	}
	for e, err := range entries(ctx, s.read, "ORDER BY seq") {
		if err != nil {
			return s.fail(op, err)
		}
		line, err := e.Line()
		if err != nil {
			return s.fail(op, err)
		}
		fmt.Fprintf(out, "{\"entry\":%s}\n", line)
	}
	return s.fail(op, errors.Join(s.exportPhotos(ctx, enc), out.Flush()))
}

func (s *Store) exportPhotos(ctx context.Context, enc *json.Encoder) error {
	for p, err := range photos(ctx, s.read) {
		if err == nil {
			err = enc.Encode(record{Photo: &photoLine{p.Entry, p.Media, hex.EncodeToString(p.Sum[:]), p.Bytes}})
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (s *Store) exportSets(ctx context.Context, enc *json.Encoder) error {
	steads, err := s.Steads(ctx)
	weather, err2 := s.Weather(ctx, math.MinInt32, math.MaxInt32)
	plans, err3 := s.Plans(ctx)
	settings, err4 := s.Settings(ctx)
	if err := errors.Join(err, err2, err3, err4); err != nil {
		return err
	}
	for _, v := range steads {
		err = errors.Join(err, enc.Encode(record{Stead: &steadLine{v.From, v.Saved, v.Text}}))
	}
	for _, d := range weather {
		err = errors.Join(err, enc.Encode(record{Weather: &weatherLine{d.Day, pointer(d.Rain), pointer(d.TMin), pointer(d.TMax)}}))
	}
	for _, p := range plans {
		err = errors.Join(err, enc.Encode(record{Plan: &p}))
	}
	for _, c := range settings {
		err = errors.Join(err, enc.Encode(record{Setting: &c}))
	}
	return err
}

func pointer(v float64) *float64 {
	if math.IsNaN(v) {
		return nil
	}
	return &v
}

func value(p *float64) float64 {
	if p == nil {
		return math.NaN()
	}
	return *p
}

// Import takes in an export, all of it or nothing. What is there already stays:
// the same entries and stead versions are not doubled, weather, plans and
// settings of the same day or name are replaced. Errors name the line.
func (s *Store) Import(ctx context.Context, r io.Reader) error {
	return s.within(ctx, "import", func(tx *sql.Tx, now time.Time) error {
		in := bufio.NewScanner(r)
		in.Buffer(make([]byte, 1<<16), longest)
		n := 0
		for in.Scan() {
			n++
			if len(bytes.TrimSpace(in.Bytes())) == 0 {
				continue
			}
			if err := take(ctx, tx, now, in.Bytes(), n == 1); err != nil {
				return fmt.Errorf("line %d: %w", n, err)
			}
		}
		if err := in.Err(); err != nil {
			return fmt.Errorf("line %d: %w", n+1, err)
		}
		return headed(n)
	})
}

func headed(lines int) error {
	if lines == 0 {
		return errors.New(`nothing to import: an export begins with {"evenstead":1}`)
	}
	return nil
}

func take(ctx context.Context, tx *sql.Tx, now time.Time, line []byte, head bool) error {
	var r record
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&r); err != nil {
		return fmt.Errorf("not a line of an export: %w", err)
	}
	switch {
	case head && r.Evenstead > form:
		return fmt.Errorf("%w: export form %d, this evenstead knows %d", ErrNewer, r.Evenstead, form)
	case head != (r.Evenstead == form):
		return errors.New(`an export begins with {"evenstead":1}, once`)
	case head:
		return nil
	case r.Stead != nil:
		return takeStead(ctx, tx, Version{r.Stead.From, r.Stead.Saved, r.Stead.Text})
	case r.Weather != nil:
		return putWeather(ctx, tx, Weather{r.Weather.Day, value(r.Weather.Rain), value(r.Weather.TMin), value(r.Weather.TMax)})
	case r.Plan != nil:
		return putPlan(ctx, tx, *r.Plan)
	case r.Setting != nil:
		return putSetting(ctx, tx, *r.Setting)
	case r.Entry != nil:
		e, err := book.ParseLine(r.Entry)
		if err != nil {
			return err
		}
		return addAll(ctx, tx, []book.Entry{e}, now)
	case r.Photo != nil:
		p, err := r.Photo.photo()
		if err != nil {
			return err
		}
		return putPhoto(ctx, tx, p)
	}
	return errors.New("the line holds no stead, weather, plan, setting, entry or photo")
}

func takeStead(ctx context.Context, tx *sql.Tx, v Version) error {
	var there int
	err := tx.QueryRowContext(ctx, "SELECT count(*) FROM stead WHERE from_day = ? AND saved = ? AND text = ?",
		int(v.From), v.Saved.UnixNano(), v.Text).Scan(&there)
	if err != nil || there > 0 {
		return err
	}
	return putStead(ctx, tx, v)
}

// ExportCSV writes the entries of one kind as CSV with a head line, in order of arrival.
func (s *Store) ExportCSV(ctx context.Context, w io.Writer, k book.Kind) error {
	var some []book.Entry
	for e, err := range entries(ctx, s.read, "ORDER BY seq") {
		if err != nil {
			return s.fail("export "+string(k), err)
		}
		if e.Kind == k {
			some = append(some, e)
		}
	}
	return s.fail("export "+string(k), book.WriteCSV(w, some))
}

// ImportCSV adds the entries of a CSV that ExportCSV wrote.
func (s *Store) ImportCSV(ctx context.Context, r io.Reader) error {
	some, err := book.ReadCSV(r)
	if err != nil {
		return s.fail("import", err)
	}
	return s.Add(ctx, some)
}
