package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"evenstead/day"
)

// A Version is one text of the stead.
type Version struct {
	From  day.Day   // first day it holds
	Saved time.Time // UTC
	Text  string    // TOML as it was written
}

// SaveStead keeps the description that holds from a day on; earlier texts stay.
func (s *Store) SaveStead(ctx context.Context, from day.Day, text string) error {
	return s.within(ctx, "save the stead", func(tx *sql.Tx, now time.Time) error {
		return putStead(ctx, tx, Version{from, now, text})
	})
}

func putStead(ctx context.Context, tx *sql.Tx, v Version) error {
	if !utf8.ValidString(v.Text) || strings.ContainsRune(v.Text, 0) {
		return fmt.Errorf("%w: the description is not UTF-8 text", fs.ErrInvalid)
	}
	_, err := tx.ExecContext(ctx, "INSERT INTO stead (from_day, saved, text) VALUES (?, ?, ?)", int(v.From), v.Saved.UnixNano(), v.Text)
	return err
}

// Stead returns the text that holds on a day: of those that began by then the
// latest to begin, and of these the last saved. fs.ErrNotExist when none had begun.
func (s *Store) Stead(ctx context.Context, at day.Day) (string, error) {
	var text string
	err := s.read.QueryRowContext(ctx, "SELECT text FROM stead WHERE from_day <= ? ORDER BY from_day DESC, seq DESC LIMIT 1", int(at)).Scan(&text)
	if errors.Is(err, sql.ErrNoRows) {
		err = fmt.Errorf("no description holds on %s yet: %w", at, fs.ErrNotExist)
	}
	return text, s.fail("read the stead", err)
}

// Steads returns every version in order of saving.
func (s *Store) Steads(ctx context.Context) ([]Version, error) {
	out, err := all(ctx, s.read, "SELECT from_day, saved, text FROM stead ORDER BY seq", func(rows *sql.Rows) (v Version, err error) {
		var saved int64
		err = rows.Scan(&v.From, &saved, &v.Text)
		v.Saved = time.Unix(0, saved).UTC()
		return v, err
	})
	return out, s.fail("read the stead", err)
}

// all collects the rows of a query.
func all[T any](ctx context.Context, db *sql.DB, query string, scan func(*sql.Rows) (T, error), args ...any) ([]T, error) {
	rows, err := db.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, rows.Err()
}

// Weather is one day as measured; NaN is not measured.
type Weather struct {
	Day  day.Day
	Rain float64 // mm
	TMin float64 // °C
	TMax float64 // °C
}

// SaveWeather keeps days of weather; a day that is there already is replaced.
func (s *Store) SaveWeather(ctx context.Context, days []Weather) error {
	return s.within(ctx, "save weather", func(tx *sql.Tx, _ time.Time) error {
		for _, w := range days {
			if err := putWeather(ctx, tx, w); err != nil {
				return err
			}
		}
		return nil
	})
}

func putWeather(ctx context.Context, tx *sql.Tx, w Weather) error {
	_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO weather (day, rain, tmin, tmax) VALUES (?, ?, ?, ?)",
		int(w.Day), known(w.Rain), known(w.TMin), known(w.TMax))
	return err
}

func known(v float64) sql.NullFloat64 {
	return sql.NullFloat64{Float64: v, Valid: !math.IsNaN(v) && !math.IsInf(v, 0)}
}

// Weather returns the days kept from one day through another, in order.
func (s *Store) Weather(ctx context.Context, from, to day.Day) ([]Weather, error) {
	out, err := all(ctx, s.read, "SELECT day, rain, tmin, tmax FROM weather WHERE day BETWEEN ? AND ? ORDER BY day", scanWeather, int(from), int(to))
	return out, s.fail("read weather", err)
}

func scanWeather(rows *sql.Rows) (w Weather, err error) {
	var rain, tmin, tmax sql.NullFloat64
	err = rows.Scan(&w.Day, &rain, &tmin, &tmax)
	w.Rain, w.TMin, w.TMax = orNaN(rain), orNaN(tmin), orNaN(tmax)
	return w, err
}

func orNaN(v sql.NullFloat64) float64 {
	if !v.Valid {
		return math.NaN()
	}
	return v.Float64
}

// A Plan is one the household accepted.
type Plan struct {
	Name     string          `json:"name"`
	Accepted time.Time       `json:"accepted"` // UTC
	Body     json.RawMessage `json:"body"`
}

// SavePlan keeps an accepted plan, JSON, under a name; the plan of that name is replaced.
func (s *Store) SavePlan(ctx context.Context, name string, body []byte) error {
	return s.within(ctx, "save the plan", func(tx *sql.Tx, now time.Time) error {
		return putPlan(ctx, tx, Plan{name, now, body})
	})
}

func putPlan(ctx context.Context, tx *sql.Tx, p Plan) error {
	var b bytes.Buffer
	if err := json.Compact(&b, p.Body); err != nil {
		return fmt.Errorf("plan %q is not JSON: %w", p.Name, err)
	}
	if p.Name == "" || !utf8.ValidString(p.Name) || !utf8.Valid(b.Bytes()) {
		return fmt.Errorf("%w: a plan needs a name, and UTF-8 text", fs.ErrInvalid)
	}
	_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO plan (name, accepted, body) VALUES (?, ?, ?)", p.Name, p.Accepted.UnixNano(), b.String())
	return err
}

// Plan returns the plan of a name, fs.ErrNotExist when there is none.
func (s *Store) Plan(ctx context.Context, name string) (Plan, error) {
	plans, err := all(ctx, s.read, "SELECT name, accepted, body FROM plan WHERE name = ?", scanPlan, name)
	if err == nil && len(plans) == 0 {
		err = fmt.Errorf("plan %q: %w", name, fs.ErrNotExist)
	}
	if err != nil {
		return Plan{}, s.fail("read the plan", err)
	}
	return plans[0], nil
}

// Plans returns every accepted plan in order of name.
func (s *Store) Plans(ctx context.Context) ([]Plan, error) {
	out, err := all(ctx, s.read, "SELECT name, accepted, body FROM plan ORDER BY name", scanPlan)
	return out, s.fail("read the plans", err)
}

func scanPlan(rows *sql.Rows) (p Plan, err error) {
	var at int64
	var body string
	err = rows.Scan(&p.Name, &at, &body)
	p.Accepted, p.Body = time.Unix(0, at).UTC(), json.RawMessage(body)
	return p, err
}
