//go:build unix

package web

import (
	"syscall"
	"testing"
	"time"
)

// processorTime is the processor time that the tests have taken so far, on all cores.
func processorTime(t *testing.T) time.Duration {
	t.Helper()
	var use syscall.Rusage
	must(t, syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
