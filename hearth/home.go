// Package hearth joins what a household keeps of its stead, for the command line
// and the pages: the file (package store), the description that holds on a day
// (stead), the weather (weather) and the book (book). It reads a clock and
// random numbers for new entries; what it hands on is plain data.
//
// It leaves out what entries do to the stores (package engine).
package hearth

import (
	"context"
	"fmt"
	"sync"
	"time"

	"evenstead/book"
	"evenstead/data"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/store"
	"evenstead/weather"
)

// A Home is the opened file of a stead. Its methods may be called at the same time.
type Home struct {
	store *store.Store
	tab   *data.Tables
	clock func() time.Time

	mu     sync.Mutex              // guards what follows
	read   map[string]*stead.Stead // descriptions for looking at, by their text
	drawn  *weather.Generator      // the one made last, of these months
	months weather.Normals
	own    own // what descriptions added to the tables the last time
	named  struct {
		text string
		of   book.Context
	} // what notes can speak of by the description looked at last

	trail engine.Trail // of the replays

	reading sync.Mutex  // guards what follows
	book    *book.Whole // as far as it was read
	upTo    store.Mark
}

// Open opens the stead's file, making it when there is none. clock gives the
// moment of new entries. Errors are those of store.Open.
func Open(ctx context.Context, path string, clock func() time.Time) (*Home, error) {
	tab, err := data.Load()
	if err != nil {
		return nil, fmt.Errorf("load tables: %w", err)
	}
	s, err := store.Open(ctx, path, clock)
	if err != nil {
		return nil, err
	}
	return &Home{store: s, tab: tab, clock: clock}, nil
}

// Store is the file itself, for backup, export and import.
func (h *Home) Store() *store.Store { return h.store }

// Close lets go of the file.
func (h *Home) Close() error { return h.store.Close() }
