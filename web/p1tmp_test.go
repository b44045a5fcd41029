package web

import (
	"fmt"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/unit"
)

func manyEntries(t testing.TB, d *Desk, n int) {
	entries := make([]book.Entry, n)
	days := int(deskToday - deskBegun)
	for i := range entries {
		id, err := book.NewID(deskNoon.Add(time.Duration(i)*time.Millisecond), zeros(i))
		deskMust(t, err)
		entries[i] = book.Entry{ID: id, Day: deskBegun + day.Day(i*days/n), Kind: book.Rain, Who: "Rook", Body: book.Body{Amount: float64(i % 9), Measure: unit.Depth}}
	}
	deskMust(t, d.home.Store().Add(t.Context(), entries))
}

type zeros int

func (z zeros) Read(b []byte) (int, error) { clear(b); copy(b, fmt.Sprint(int(z))); return len(b), nil }

func TestTmp(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	manyEntries(t, d, 100000)
	for range 3 {
		at := time.Now()
		_, err := d.Now(t.Context())
		deskMust(t, err)
		fmt.Println("now", time.Since(at))
		at = time.Now()
		_, err = d.Now(t.Context())
		deskMust(t, err)
		fmt.Println("again", time.Since(at))
		d.Changed()
		d.mu.Lock()
		d.mu.Unlock()
	}
}
