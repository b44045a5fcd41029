// Package demo holds two descriptions to start from: Quernfold, an invented
// stead described in full, and the four lines that are enough for a first
// outlook. Both are texts for stead.Read. Place and people are made up, and so
// are the first weeks of Quernfold's book.
package demo

import (
	_ "embed"
	"slices"
	"time"

	"evenstead/day"
)

var (
	//go:embed quernfold.toml
	quernfold []byte
	//go:embed four-lines.toml
	fourLines []byte
	//go:embed weeks.txt
	weeks string
)

// Quernfold returns the whole demo stead as TOML. The copy is the caller's.
func Quernfold() []byte { return slices.Clone(quernfold) }

// FourLines returns a stead of four lines as TOML. The copy is the caller's.
func FourLines() []byte { return slices.Clone(fourLines) }

// Weeks returns the notes of Quernfold's household from the day its stay began
// through WeeksEnd, a line each, for book.Read on that day.
func Weeks() string { return weeks }

// WeeksEnd is the day of the last of the notes.
func WeeksEnd() day.Day { return day.Of(2026, time.November, 25) }
