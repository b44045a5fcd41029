// Package tasks says what two hands do this week and in the next: what to sow,
// water, pick, put up, feed, empty, close and look at, each with its amount, its
// time, the day it is due, what it costs to let it slip, its caution and the
// quick note that records it. It fits the work to the hours there are and says
// what to drop first. It writes the same as an iCalendar (RFC 5545).
//
// It is pure: a description, a standing (engine.Past.Year) and the chores
// (engine.Past.Chores) go in, a Plan comes out. Amounts are SI inside and are
// words in the unit system asked for in the texts of a Task. Times not found in
// data/work.csv are common practice.
package tasks
