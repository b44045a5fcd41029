// Package demo holds two descriptions to start from: Quernfold, an invented
// stead described in full, and the four lines that are enough for a first
// outlook. Both are texts for stead.Read. Place and people are made up.
package demo

import (
	_ "embed"
	"slices"
)

var (
	//go:embed quernfold.toml
	quernfold []byte
	//go:embed four-lines.toml
	fourLines []byte
)

// Quernfold returns the whole demo stead as TOML. The copy is the caller's.
func Quernfold() []byte { return slices.Clone(quernfold) }

// FourLines returns a stead of four lines as TOML. The copy is the caller's.
func FourLines() []byte { return slices.Clone(fourLines) }
