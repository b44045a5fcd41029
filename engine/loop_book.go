package engine

import (
	"slices"

	"evenstead/book"
)

// Entries are the entries of the book that stand and that the replay had, in order.
func (p *Past) Entries() []book.Entry { return slices.Clone(p.entries) }
