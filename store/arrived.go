package store

import (
	"context"

	"evenstead/book"
)

// Arrived returns every entry, struck ones with them, in the order in which they
// first came into the book; an export and its import keep that order.
func (s *Store) Arrived(ctx context.Context) ([]book.Entry, error) {
	var out []book.Entry
	for e, err := range entries(ctx, s.read, "ORDER BY seq") {
		if err != nil {
			return nil, s.fail("read entries", err)
		}
		out = append(out, e)
	}
	return out, nil
}
