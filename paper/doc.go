// Package paper lays out what hangs where the work is: the week on the wall, the
// beds, the stores with boxes to strike, the rungs of a tank, labels, what keeps
// how long, sheets for a helper and for a storm, the statement of exchange, the
// hand-over and the open day.
//
// It is pure: Facts go in (description, standing, week, book), a Sheet comes out,
// which a shell draws for A4 or Letter. Amounts are SI in the Facts and words in
// the units asked for in a Sheet; all phrases come from Facts.Say, by keys that
// begin with "paper.". It leaves out fonts, rulers and codes.
package paper
