package crop

import "slices"

// runs turns good days into windows, round the year.
func runs(good *[yearDays]bool) []Window {
	start := slices.Index(good[:], false)
	if start < 0 {
		return []Window{{1, yearDays}}
	}
	var raw []Window
	for k := 1; k <= yearDays; k++ {
		d := (start + k) % yearDays
		switch prev := (d + yearDays - 1) % yearDays; {
		case good[d] && !good[prev]:
			raw = append(raw, Window{d + 1, d + 1})
		case good[d]:
			raw[len(raw)-1].Close = d + 1
		}
	}
	return tidy(raw)
}

// tidy closes short breaks, drops short windows and orders by opening.
func tidy(raw []Window) []Window {
	var out []Window
	for _, w := range raw {
		if n := len(out); n > 0 && gap(out[n-1], w) < bridge {
			out[n-1].Close = w.Close
			continue
		}
		out = append(out, w)
	}
	if n := len(out); n > 1 && gap(out[n-1], out[0]) < bridge {
		out[0].Open = out[n-1].Open
		out = out[:n-1]
	}
	out = slices.DeleteFunc(out, func(w Window) bool { return w.Days() < shortest })
	slices.SortFunc(out, func(a, b Window) int { return a.Open - b.Open })
	return out
}

// gap is the number of days between two windows.
func gap(a, b Window) int { return (b.Open - a.Close - 1 + yearDays) % yearDays }
