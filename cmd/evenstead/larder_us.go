package main

import (
	"regexp"
	"strconv"
	"strings"

	"evenstead/unit"
)

// celsius finds a temperature, or a span of two, in a sentence of the tables.
var celsius = regexp.MustCompile(`([-−]?\d+(?:\.\d+)?)(?: (to|or) ([-−]?\d+(?:\.\d+)?))? °C`)

// fahrenheit writes the temperatures of a sentence in °F.
func fahrenheit(s string) string {
	return celsius.ReplaceAllStringFunc(s, func(found string) string {
		m := celsius.FindStringSubmatch(found)
		if m[3] == "" {
			return warmth(m[1])
		}
		return strings.TrimSuffix(warmth(m[1]), " °F") + " " + m[2] + " " + warmth(m[3])
	})
}

func warmth(c string) string {
	v, err := strconv.ParseFloat(strings.ReplaceAll(c, "−", "-"), 64)
	if err != nil {
		return c + " °C"
	}
	return plain(unit.Format(v, unit.Temperature, unit.US))
}

// inUS writes every sentence of the larder for US readers; amounts are printed
// in US units where they stand.
func (b *larderBook) inUS() {
	all := func(lists ...[]string) {
		for _, list := range lists {
			for i := range list {
				list[i] = fahrenheit(list[i])
			}
		}
	}
	all(b.Guards)
	for i := range b.Gluts {
		g := &b.Gluts[i]
		all(g.Guards)
		for j := range g.Ways {
			w := &g.Ways[j]
			all(w.Do, w.Care)
			w.Stop = fahrenheit(w.Stop)
		}
	}
	for i := range b.Batches {
		b.Batches[i].inUS()
	}
}

func (b *larderBatch) inUS() {
	for i := range b.Stages {
		b.Stages[i].Do = fahrenheit(b.Stages[i].Do)
	}
	for i := range b.Care {
		b.Care[i] = fahrenheit(b.Care[i])
	}
}
