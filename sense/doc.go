// Package sense understands what sensors about the place say: topics and
// payloads, which figures can be believed, and the few entries of the book that
// a day of readings comes to. It judges a reading by its range, by how fast it
// moved and by how long it has stood still, and tells of every one it does not
// use. It also keeps the alarm of a freezer that grows warm.
//
// It leaves out radio, network and files (package wire), and what an entry does
// to a store (package engine). It has no clock: the moment comes with a reading.
package sense
