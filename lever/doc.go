// Package lever tries changes to a stead: one more tank, ten more square metres,
// a hive, an hour a week. Each is a function on a copy of the description; it is
// run over the same possible years with the same luck as the stead as it stands,
// so that what differs is the change alone.
//
// Amounts are SI, as in package stead; hours that a change costs come from the
// table of work or are common practice, as each says. It reads no files and keeps
// nothing.
package lever
