package wire

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"sync"
	"time"
)

// A Bell runs the command that a household names for an alarm. The command is
// started as it stands, without a shell, with the alarm's sentence as its last
// argument. At most six are run within an hour, one at a time, each for at most
// half a minute. The zero value is not ready: use NewBell.
type Bell struct {
	argv  []string
	clock func() time.Time
	log   func(string)
	queue chan string
	done  sync.WaitGroup
	stop  context.CancelFunc

	mu   sync.Mutex
	rung []time.Time // within the last hour
}

const (
	mostRings = 6
	ringFor   = 30 * time.Second
	mostSaid  = 400 // bytes of a command's output that are logged
)

// NewBell makes a bell of a program and its arguments. Close ends it.
func NewBell(argv []string, clock func() time.Time, log func(string)) (*Bell, error) {
	if len(argv) == 0 || argv[0] == "" {
		return nil, errors.New("the alarm's command has no program")
	}
	if _, err := exec.LookPath(argv[0]); err != nil {
		return nil, fmt.Errorf("the alarm's command: %w", err)
	}
	b := &Bell{argv: argv, clock: clock, log: log, queue: make(chan string, mostRings)}
	ctx, stop := context.WithCancel(context.Background())
	b.stop = stop
	b.done.Go(func() {
		for {
			select {
			case <-ctx.Done():
				return
			case say := <-b.queue:
				b.run(ctx, say)
			}
		}
	})
	return b, nil
}

// Ring has the command run with a sentence; it does not wait for it.
func (b *Bell) Ring(say string) {
	if !b.may() {
		b.log(fmt.Sprintf("the alarm's command was run %d times within the hour and is not run again before that hour is over", mostRings))
		return
	}
	select {
	case b.queue <- say:
	default:
		b.log("the alarm's command is still busy: not run again")
	}
}

// may reports whether the hour has room for another run, and takes it.
func (b *Bell) may() bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	now, recent := b.clock(), b.rung[:0]
	for _, at := range b.rung {
		if now.Sub(at) < time.Hour {
			recent = append(recent, at)
		}
	}
	b.rung = recent
	if len(recent) >= mostRings {
		return false
	}
	b.rung = append(b.rung, now)
	return true
}

func (b *Bell) run(ctx context.Context, say string) {
	ctx, cancel := context.WithTimeout(ctx, ringFor)
	defer cancel()
	args := append(append([]string(nil), b.argv[1:]...), say)
	cmd := exec.CommandContext(ctx, b.argv[0], args...) // #nosec G204 -- the household's own command line names it; no shell reads it
	cmd.WaitDelay = time.Second
	var said bytes.Buffer
	out := &first{&said, mostSaid}
	cmd.Stdout, cmd.Stderr = out, out // one writer, so that what is said on both never mixes in it
	if err := cmd.Run(); err != nil {
		b.log(fmt.Sprintf("the alarm's command failed: %v: %s", err, bytes.TrimSpace(said.Bytes())))
	}
}

// first keeps the first bytes of what is written and drops the rest.
type first struct {
	to   *bytes.Buffer
	most int
}

func (f *first) Write(p []byte) (int, error) {
	if room := f.most - f.to.Len(); room > 0 {
		f.to.Write(p[:min(room, len(p))])
	}
	return len(p), nil
}

// Close stops the bell; a command under way is killed.
func (b *Bell) Close() {
	b.stop()
	b.done.Wait()
}
