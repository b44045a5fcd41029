// Package stead is the description of a place and its people: the types, their
// defaults, the TOML text they are read from and written to, the faults a
// description can have, and the cautions its parts call for. Faults are told
// all at once, each with line, part, key, value and mend; every default taken
// is listed with its reason.
//
// It leaves out what happens on the place: package engine runs the days. The
// frost that kills a planting is judged there too, by the weather. The text is
// TOML 1.0 (toml.io); default water uses are those of Sphere 2011.
package stead
