package hearth

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/unit"
)

// Book is the book as it is: what was read before is kept, and only what arrived
// since is read.
func (h *Home) Book(ctx context.Context) (*book.Whole, error) {
	h.reading.Lock()
	defer h.reading.Unlock()
	more, now, anew, err := h.store.After(ctx, h.upTo)
	if err != nil {
		return nil, err
	}
	if h.book == nil || anew {
		h.book = book.NewWhole(more)
	} else {
		h.book = h.book.With(more)
	}
	h.upTo = now
	return h.book, nil
}

// All returns every entry of the book, struck ones with them, in order of day
// and arrival. The list is shared and must not be changed.
func (h *Home) All(ctx context.Context) ([]book.Entry, error) {
	b, err := h.Book(ctx)
	if err != nil {
		return nil, err
	}
	return b.All(), nil
}

// Entries returns the entries that stand (book.Live), a list that is shared and must
// not be changed.
func (h *Home) Entries(ctx context.Context) ([]book.Entry, error) {
	b, err := h.Book(ctx)
	if err != nil {
		return nil, err
	}
	return b.Live()
}

// Context is what a note of a day is read against: the names of the description
// that holds then, and the day the stay began, which is the first day described
// where the description does not say. who may be ""; else it must name one of
// the household. The one of a household of one need not be named.
func (h *Home) Context(ctx context.Context, today day.Day, who string, sys unit.System) (book.Context, error) {
	all, err := h.glance(ctx)
	if err != nil {
		return book.Context{}, err
	}
	held, err := h.holding(all, today)
	if err != nil {
		return book.Context{}, err
	}
	tab, err := held.Stead.Tables(h.tab)
	if err != nil {
		return book.Context{}, err
	}
	c := h.names(held, tab)
	c.Today, c.From, c.System = today, held.Stead.Stay.From, sys
	c.Guards = Guarded(held.Stead, tab, sys)
	if c.From == 0 {
		c.From = all[0].From
	}
	switch {
	case who != "":
		c.Who, err = c.Named(who, book.Person)
	case len(held.Stead.People) == 1:
		c.Who = held.Stead.People[0].Name
	}
	return c, err
}

// names are what notes about a described stead can speak of.
func (h *Home) names(held Described, tab *data.Tables) book.Context {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.named.text != held.Text || h.named.of.Names == nil {
		h.named.text, h.named.of = held.Text, book.Of(held.Stead, tab)
	}
	return h.named.of.Apart()
}

// Add gives the readings of a note their ids and writes them to the book, all or
// none; they come back as written. A reading that may not be saved (Err) refuses all.
func (h *Home) Add(ctx context.Context, readings []book.Reading) ([]book.Entry, error) {
	var out []book.Entry
	for _, r := range readings {
		if r.Err != nil {
			return nil, fmt.Errorf("line %d cannot be saved, so none is: %w", r.Line, r.Err)
		}
		out = append(out, r.Entry)
	}
	if err := h.name(out); err != nil {
		return nil, err
	}
	return out, h.store.Add(ctx, out)
}

// name gives new ids that rise in the order of the entries.
func (h *Home) name(entries []book.Entry) error {
	now := h.clock()
	ids := make([]uuid.UUID, len(entries))
	for i := range ids {
		id, err := book.NewID(now, rand.Reader)
		if err != nil {
			return err
		}
		ids[i] = id
	}
	slices.SortFunc(ids, func(a, b uuid.UUID) int { return bytes.Compare(a[:], b[:]) })
	for i := range entries {
		entries[i].ID = ids[i]
	}
	return nil
}

// Strike takes an entry out of the book: it stays known, and no longer counts.
// The strike stands on the day of the entry, with the reason. To strike a
// strike brings the entry back.
func (h *Home) Strike(ctx context.Context, id uuid.UUID, reason string) (book.Entry, error) {
	old, err := h.standing(ctx, id)
	if err != nil {
		return book.Entry{}, err
	}
	return h.addOne(ctx, book.Entry{Day: old.Day, Kind: book.Struck, Strikes: id, Note: reason})
}

// Replace strikes an entry and puts a reading in its place.
func (h *Home) Replace(ctx context.Context, id uuid.UUID, r book.Reading) (book.Entry, error) {
	if r.Err != nil {
		return book.Entry{}, r.Err
	}
	if _, err := h.standing(ctx, id); err != nil {
		return book.Entry{}, err
	}
	r.Entry.Strikes = id
	return h.addOne(ctx, r.Entry)
}

func (h *Home) addOne(ctx context.Context, e book.Entry) (book.Entry, error) {
	one := []book.Entry{e}
	if err := h.name(one); err != nil {
		return e, err
	}
	return one[0], h.store.Add(ctx, one)
}

// ErrStruck says that an entry to be struck no longer stands.
var ErrStruck = errors.New("is struck already")

// standing returns an entry that counts, or a strike.
func (h *Home) standing(ctx context.Context, id uuid.UUID) (book.Entry, error) {
	b, err := h.Book(ctx)
	if err != nil {
		return book.Entry{}, err
	}
	e, err := find(b.All(), id.String())
	if err != nil {
		return e, err
	}
	if _, err := b.Live(); err != nil {
		return e, err
	}
	if e.Kind != book.Struck && !b.Stands(&e) {
		return e, fmt.Errorf("entry %s of %s %w: nothing is left to do", Short(id), e.Day, ErrStruck)
	}
	return e, nil
}

// Digits of an id: the least that may name an entry, those that lists show, and
// those that tell apart what the shown ones do not.
const (
	shortest = 4
	shown    = 6
	apart    = 12
)

// Short is the ending of an id that lists show: its last six digits.
func Short(id uuid.UUID) string { return ending(id, shown) }

func ending(id uuid.UUID, n int) string {
	s := digits(id.String())
	return s[len(s)-n:]
}

// Find returns the entry of an id, written whole or by its ending of at least
// four digits, struck ones and strikes among them. fs.ErrNotExist when there is
// none; another error when several end so.
func (h *Home) Find(ctx context.Context, short string) (book.Entry, error) {
	end := digits(short)
	if len(end) < shortest || strings.Trim(end, "0123456789abcdef") != "" || len(end) > 32 {
		return book.Entry{}, fmt.Errorf("%q is no entry's id: give the six digits that evenstead book shows, or at least the last four", short)
	}
	all, err := h.All(ctx)
	if err != nil {
		return book.Entry{}, err
	}
	return find(all, end)
}

func digits(id string) string {
	return strings.ReplaceAll(strings.ToLower(strings.TrimSpace(id)), "-", "")
}

func find(all []book.Entry, id string) (book.Entry, error) {
	var found []book.Entry
	end := []byte(digits(id))
	var whole [2 * len(uuid.Nil)]byte
	for i := range all {
		hex.Encode(whole[:], all[i].ID[:])
		if bytes.HasSuffix(whole[:], end) {
			found = append(found, all[i])
		}
	}
	switch len(found) {
	case 0:
		return book.Entry{}, fmt.Errorf("no entry's id ends in %s: %w; evenstead book lists them", id, fs.ErrNotExist)
	case 1:
		return found[0], nil
	}
	var which []string
	for _, e := range found[:min(4, len(found))] {
		which = append(which, fmt.Sprintf("%s (%s, %s)", ending(e.ID, apart), e.Kind, e.Day))
	}
	return book.Entry{}, fmt.Errorf("%d entries end in %s: give more digits, such as %s", len(found), id, strings.Join(which, " or "))
}
