package device

import (
	"net/netip"
	"sync"
	"time"
)

// mostKept bounds what is remembered of strangers.
const mostKept = 4096

// A Pace lets each key do so many things at once and so many a second after; the
// zero value lets nothing through. Its methods may be called at the same time.
type Pace struct {
	Burst  float64
	Second float64 // given back each second

	mu sync.Mutex
	by map[string]*bucket
}

type bucket struct {
	left float64
	at   time.Time
}

// Let reports whether a key may do one thing more now.
func (p *Pace) Let(key string, now time.Time) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.by == nil {
		p.by = map[string]*bucket{}
	}
	b := p.by[key]
	if b == nil {
		if len(p.by) >= mostKept {
			p.sweep(now)
		}
		if len(p.by) >= mostKept {
			return false // a flood from thousands of addresses: strangers wait
		}
		b = &bucket{p.Burst, now}
		p.by[key] = b
	}
	if gap := now.Sub(b.at).Seconds(); gap > 0 {
		b.left = min(p.Burst, b.left+gap*p.Second)
	}
	b.at = now
	if b.left < 1 {
		return false
	}
	b.left--
	return true
}

// sweep forgets the keys that have all their things back.
func (p *Pace) sweep(now time.Time) {
	for key, b := range p.by {
		if b.left+max(0, now.Sub(b.at).Seconds())*p.Second >= p.Burst {
			delete(p.by, key)
		}
	}
}

// Lock-out of an address after wrong codes.
const (
	freeTries  = 5
	firstWait  = time.Minute
	longestOut = time.Hour
)

// Tries counts wrong codes by address: after five each further one doubles the
// wait, from a minute to an hour. Its methods may be called at the same time.
type Tries struct {
	mu sync.Mutex
	by map[string]*tried
}

type tried struct {
	wrong int
	until time.Time
	last  time.Time
}

// Wait is how long an address must wait before it may try; 0: not at all.
func (t *Tries) Wait(key string, now time.Time) time.Duration {
	t.mu.Lock()
	defer t.mu.Unlock()
	if e := t.by[key]; e != nil && now.Before(e.until) {
		return min(e.until.Sub(now), longestOut)
	}
	return 0
}

// Wrong counts a wrong code.
func (t *Tries) Wrong(key string, now time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.by == nil {
		t.by = map[string]*tried{}
	}
	e := t.by[key]
	if e == nil || now.Sub(e.last) > 24*hours {
		if len(t.by) >= mostKept {
			t.sweep(now)
		}
		e = &tried{}
		t.by[key] = e
	}
	e.wrong++
	e.last = now
	if over := e.wrong - freeTries; over >= 0 {
		e.until = now.Add(min(longestOut, firstWait<<min(over, 8)))
	}
}

// sweep forgets half of the addresses: first those that wait for nothing.
func (t *Tries) sweep(now time.Time) {
	for key, e := range t.by {
		if !now.Before(e.until) {
			delete(t.by, key)
		}
	}
	for key := range t.by {
		if len(t.by) < mostKept/2 {
			return
		}
		delete(t.by, key)
	}
}

// Right forgets what an address did wrong.
func (t *Tries) Right(key string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.by, key)
}

// Key names an address in counts: of IPv6 the network, which one visitor has whole.
func Key(ip netip.Addr) string {
	ip = ip.Unmap().WithZone("")
	if ip.Is6() && !ip.IsLoopback() {
		if p, err := ip.Prefix(64); err == nil {
			return p.String()
		}
	}
	return ip.String()
}
