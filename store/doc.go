// Package store keeps one stead in one SQLite file: the description of the
// place in all its versions, the book with its photos, the weather and the
// accepted plans. What Add, AddPhoto, SaveStead, SaveWeather or SavePlan has
// returned from without error is on disk and survives a kill or a power cut.
//
// It leaves out what entries mean (packages book and engine). It is the one
// package that imports the database driver; callers see the errors of error.go.
// A file may be open in several processes at once. Its form is numbered; older
// files are brought forward on opening, newer ones are refused.
package store
