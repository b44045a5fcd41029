package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"time"
)

//go:embed schema/*.sql
var schema embed.FS

// steps are the migrations in order; step i makes form i+1.
var steps = []string{"0001_book.sql", "0002_weather.sql", "0003_plan.sql", "0004_photo.sql", "0005_setting.sql"}

// migrate brings the file to the newest form, each step in its own transaction.
func (s *Store) migrate(ctx context.Context) error {
	for {
		at, err := version(ctx, s.write)
		if err != nil || at == len(steps) {
			return err
		}
		if err := s.within(ctx, "bring the store forward", step); err != nil {
			return err
		}
	}
}

// version reads the form of a file, ErrNewer when it is not known here.
func version(ctx context.Context, db *sql.DB) (at int, err error) {
	if err := db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&at); err != nil {
		return 0, err
	}
	if at > len(steps) {
		return at, fmt.Errorf("%w (form %d, this evenstead knows up to %d)", ErrNewer, at, len(steps))
	}
	return at, nil
}

// step runs the next migration. It reads the form again, inside the
// transaction: another process may have come first.
func step(tx *sql.Tx, _ time.Time) error {
	var at int
	if err := tx.QueryRow("PRAGMA user_version").Scan(&at); err != nil || at >= len(steps) {
		return err
	}
	text, err := schema.ReadFile("schema/" + steps[at])
	if err != nil {
		return err
	}
	_, err = tx.Exec(fmt.Sprintf("%s\nPRAGMA user_version = %d; PRAGMA application_id = %d;", text, at+1, application))
	return err
}
