package store

import (
	"context"
	"database/sql"
	"fmt"
	"io/fs"
	"slices"
	"time"
	"unicode/utf8"
)

// A Setting is a choice of the household under its name.
type Setting struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// SaveSettings keeps choices, all of them or none; those of the same name are replaced.
func (s *Store) SaveSettings(ctx context.Context, some []Setting) error {
	return s.within(ctx, "save the settings", func(tx *sql.Tx, _ time.Time) error {
		for _, c := range some {
			if err := putSetting(ctx, tx, c); err != nil {
				return err
			}
		}
		return nil
	})
}

// Longest texts of a setting, characters; the table holds them to it as well.
const (
	longestName  = 40
	longestValue = 200
)

func putSetting(ctx context.Context, tx *sql.Tx, c Setting) error {
	name, value := utf8.RuneCountInString(c.Name), utf8.RuneCountInString(c.Value)
	sound := utf8.ValidString(c.Name) && utf8.ValidString(c.Value) && !slices.Contains([]byte(c.Name+c.Value), 0)
	if !sound || name == 0 || name > longestName || value > longestValue {
		return fmt.Errorf("%w: a setting needs a name of 1 to %d characters and a value of at most %d, UTF-8 text", fs.ErrInvalid, longestName, longestValue)
	}
	_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO setting (name, value) VALUES (?, ?)", c.Name, c.Value)
	return err
}

// Settings returns every choice kept, in order of name.
func (s *Store) Settings(ctx context.Context) ([]Setting, error) {
	out, err := all(ctx, s.read, "SELECT name, value FROM setting ORDER BY name", func(rows *sql.Rows) (c Setting, err error) {
		err = rows.Scan(&c.Name, &c.Value)
		return c, err
	})
	return out, s.fail("read the settings", err)
}
