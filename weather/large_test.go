package weather

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"evenstead/day"
)

const (
	mostMemory  = 48 << 20
	largePerDay = 60 // elements a day, as a station with many instruments gives
)

// writeLarge streams largeText of one station, by element, and returns the
// most memory in use on the way.
func writeLarge(w io.Writer) (most uint64, err error) {
	var b strings.Builder
	for k := range largePerDay {
		element, value := fmt.Sprintf("WT%02d", k), "1"
		switch k {
		case 0:
			element, value = "TMAX", "211"
		case 1:
			element, value = "TMIN", "101"
		case 2:
			element, value = "PRCP", "25"
		}
		fmt.Fprintf(&b, "XX000000001,20000101,%s,%s,,,7,0700\n", element, value)
	}
	block := []byte(b.String())
	var stats runtime.MemStats
	for written, d := 0, day.Of(1700, 1, 1); written < largeText; d++ {
		y, m, dom := d.Date()
		date := fmt.Appendf(nil, "%04d%02d%02d", y, m, dom)
		for at := 12; at > 11 && at < len(block); {
			copy(block[at:], date)
			at += bytes.IndexByte(block[at:], '\n') + 13
		}
		n, err := w.Write(block)
		if err != nil {
			return most, err
		}
		if written/(8<<20) != (written+n)/(8<<20) {
			runtime.ReadMemStats(&stats)
			most = max(most, stats.HeapAlloc)
		}
		written += n
	}
	return most, nil
}

func TestReadLarge(t *testing.T) {
	var before runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	in, out := io.Pipe()
	most := make(chan uint64, 1)
	go func() {
		m, err := writeLarge(out)
		out.CloseWithError(err)
		most <- m
	}()
	r, err := Read(in, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if used := int64(<-most) - int64(before.HeapAlloc); used > mostMemory {
		t.Errorf("%d MB in use while reading", used>>20)
	}
	if r.Days() < largeText/largePerDay/45 || r.TMax[r.Days()-1] != 21.1 || r.Rain[0] != 2.5 {
		t.Errorf("%d days, %g °C, %g mm", r.Days(), r.TMax[r.Days()-1], r.Rain[0])
	}
}
