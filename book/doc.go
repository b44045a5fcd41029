// Package book is the household's append-only record: entries of what was sown,
// picked, put up, eaten, dipped, counted and so on, and a reader of quick notes
// in plain trade words. Entries are never erased; a correction strikes an
// earlier entry and may stand in its place. Amounts are SI, as in package unit.
//
// It leaves out keeping entries on disk (package store) and turning them into
// flows between stores (package engine). It has no clock and reads no files.
//
// The written form, one entry a line, is described in format.md.
package book
