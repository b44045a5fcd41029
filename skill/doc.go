// Package skill tells how far a forecast may be trusted: it runs hindcasts over a
// weather record, each from a stead replayed to its first day and from members
// that never saw the years about it, and sets what was said against what the real
// weather then did.
//
// It leaves out how forecasts are made (packages engine and weather) and any mending
// of bands by their own errors. Sources: Gneiting and Raftery (2007), J. Am. Stat.
// Assoc. 102, 359-378, for the continuous ranked probability score; Brier (1950),
// Monthly Weather Review 78, 1-3, for chances.
package skill
