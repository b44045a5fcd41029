//go:build !race

package web

// slack is how much longer pages may take on a busy machine.
const slack = 2
