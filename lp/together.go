package lp

import (
	"sync"
	"sync/atomic"
)

// together does the numbered parts of a piece of work on up to so many
// goroutines. Parts must not read what others write, so that the outcome is the
// same for any number of workers.
func together(workers, parts int, do func(part int)) {
	if workers = min(workers, parts); workers <= 1 {
		for k := range parts {
			do(k)
		}
		return
	}
	var taken atomic.Int64
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for k := int(taken.Add(1)) - 1; k < parts; k = int(taken.Add(1)) - 1 {
				do(k)
			}
		})
	}
	wait.Wait()
}
