// Package wire brings what sensors say into the book: it listens to a broker of
// MQTT, or is one, takes readings that come by HTTP, and runs the command that a
// household names for an alarm. What a reading is worth is judged by package
// sense; what the book holds is written through package hearth.
package wire
