package crop

import "math"

// mean gathers values by day of the year.
type mean struct {
	sum [yearDays]float64
	n   [yearDays]int
}

func (m *mean) add(doy int, v float64) {
	if !math.IsNaN(v) {
		m.sum[doy] += v
		m.n[doy]++
	}
}

// smooth writes the mean of each day's three weeks; false when one has no value.
func (m *mean) smooth(out *[yearDays]float64) bool {
	for d := range out {
		var s, n float64
		for k := -smooth; k <= smooth; k++ {
			i := (d + k + yearDays) % yearDays
			s += m.sum[i]
			n += float64(m.n[i])
		}
		if n == 0 {
			return false
		}
		out[d] = s / n
	}
	return true
}

// nights are the daily minima [°C] of one frost year.
type nights [yearDays]float32

// frostReader splits a series of minima into frost years.
type frostReader struct {
	years  []FrostYear
	nights []nights
	now    FrostYear
	low    nights
	seen   int
	last   int // frost day added last, -1 before the first
	begun  bool
}

func (r *frostReader) add(frostDay int, tmin float64) {
	if !r.begun || frostDay < r.last {
		r.close()
		r.open()
	}
	if math.IsNaN(tmin) {
		return
	}
	if frostDay != r.last || r.seen == 0 { // 28 and 29 February are one day
		r.seen++
	}
	r.last = frostDay
	r.low[frostDay] = min(r.low[frostDay], float32(tmin))
	r.note(int16(frostDay), tmin)
}

func (r *frostReader) note(frostDay int16, tmin float64) {
	from, ok := frostIndex(math.Max(tmin, FrostLow))
	if !ok || tmin > FrostLow+FrostSteps-1 {
		return
	}
	for i := from; i < FrostSteps; i++ {
		r.now.First[i] = min(r.now.First[i], frostDay)
		r.now.Last[i] = max(r.now.Last[i], frostDay)
	}
}

func (r *frostReader) open() {
	r.begun, r.seen, r.last = true, 0, -1
	for i := range r.now.First {
		r.now.First[i], r.now.Last[i] = yearDays, -1
	}
	for i := range r.low {
		r.low[i] = float32(math.Inf(1)) // not observed: taken as no frost
	}
}

// close keeps the year when it is whole enough.
func (r *frostReader) close() {
	if r.begun && r.seen >= yearDays-mostGaps {
		r.years = append(r.years, r.now)
		r.nights = append(r.nights, r.low)
	}
}
