//go:build race

package web

// slack is how much longer pages may take under the race detector.
const slack = 20
