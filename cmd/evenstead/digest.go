package main

import (
	"context"
	"errors"
	"fmt"

	"evenstead/book"
	"evenstead/hearth"
)

// digestAsk is the flag --digest: by itself it asks for the digest, with digits
// it asks whether the book has it.
type digestAsk struct {
	on  bool
	sum string
}

// String is the digits asked about.
func (d *digestAsk) String() string { return d.sum }

// IsBoolFlag lets the flag stand without a value.
func (d *digestAsk) IsBoolFlag() bool { return true }

// Set takes "true" for the bare flag, else the digits.
func (d *digestAsk) Set(s string) error {
	d.on = s != "false"
	if s != "true" && s != "false" {
		d.sum = s
	}
	return nil
}

// words takes the digits from after the flag, as in --digest 3f0a.
func (d *digestAsk) words(words []string) error {
	if d.on && d.sum == "" && len(words) == 1 {
		d.sum, words = words[0], nil
	}
	if len(words) > 0 {
		return given(fmt.Errorf("verify takes no words; for another file: evenstead verify --stead %s", words[0]))
	}
	return nil
}

// tell prints the digest, or whether the book has the one asked about.
func (d *digestAsk) tell(ctx context.Context, h *hearth.Home, p *printer) error {
	all, err := h.Store().Arrived(ctx)
	if err != nil {
		return err
	}
	if d.sum == "" {
		now, err := book.Digest(all)
		if err != nil {
			return err
		}
		p.line("digest %s", now.Sum)
		p.line("of %s", chained(now))
		return p.err
	}
	then, found, err := book.Since(all, d.sum)
	switch {
	case err != nil:
		return given(err)
	case !found:
		return errors.New("the digest is not this book's: an entry was changed, left out, added in between or put in another order, or the digest is another book's")
	}
	p.line("The digest holds: %s stand as they were, byte for byte and in their order.", chained(then))
	if more := len(all) - then.Entries; more > 0 {
		p.line("%s since.", counted(more, "entry has come", "entries have come"))
	}
	return p.err
}

// chained words what a proof is of.
func chained(p book.Proof) string {
	if p.Entries == 0 {
		return "0 entries"
	}
	return counted(p.Entries, "entry", "entries") + ", the last day " + plain(p.Last.Long())
}
