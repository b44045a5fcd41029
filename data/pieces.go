package data

import (
	"slices"
	"strings"
)

// Piece is one row of pieces.csv, what one of a food weighs, or what a household
// says that one of its own does.
type Piece struct {
	Food   string
	Words  []string // what one is called: "head"; none: whatever it is called
	Bare   bool     // a number without such a word means it: "6 onions"
	Kg     float64  // of one
	Edible bool     // Kg is of what is eaten of it, and not of the whole
	Source string   // "USDA SR27 NDB 11282", of what size
}

// loadPieces reads pieces.csv. Weights of the USDA are of the edible part, without
// refuse, but for the rows that say whole.
func loadPieces() ([]Piece, error) {
	return readRows("pieces.csv", func(r record) Piece {
		return Piece{Food: r.must("food"), Words: strings.Split(r.must("piece"), ";"), Bare: r.word("bare", "yes", "no") == "yes",
			Kg: r.num("g") / r.num("count") / 1000, Edible: r.word("weighed", "edible", "whole") == "edible", Source: cite(r)}
	})
}

// Piece returns what one of a food weighs. The word is what one is called, such as
// "head"; "" where only a number was given. ok is false where the table has none of
// the kind.
func (t *Tables) Piece(food, word string) (*Piece, bool) {
	return find(t.Pieces, func(p *Piece) bool {
		return p.Food == food && (word == "" && p.Bare || word != "" && (len(p.Words) == 0 || slices.Contains(p.Words, word)))
	})
}

// Weighing returns tables in which pieces weigh what the household says before they
// weigh what the tables do; the receiver stays as it is.
func (t *Tables) Weighing(own ...Piece) *Tables {
	if len(own) == 0 {
		return t
	}
	c := *t
	c.Pieces = slices.Concat(own, t.Pieces)
	return &c
}

// PieceWords are all the words that one of a food is called by.
func (t *Tables) PieceWords() (words []string) {
	for i := range t.Pieces {
		words = append(words, t.Pieces[i].Words...)
	}
	slices.Sort(words)
	return slices.Compact(words)
}
