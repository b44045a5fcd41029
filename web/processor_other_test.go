//go:build !unix

package web

import (
	"testing"
	"time"
)

// processorTime is the time of the clock, where the processor's can't be had.
func processorTime(*testing.T) time.Duration { return time.Since(time.Time{}) }
