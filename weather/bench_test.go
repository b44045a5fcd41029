package weather

import (
	"bytes"
	"os"
	"testing"

	"evenstead/day"
)

var (
	inland   = Site{Lat: 40.1, Elev: 180}
	november = day.Of(2026, 11, 1)
)

func BenchmarkFromNormals(b *testing.B) {
	for b.Loop() {
		if _, err := FromNormals(mild, inland, november, 365, 1000, 7); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFromRecord(b *testing.B) {
	r := gainesville(b)
	for b.Loop() {
		if _, err := FromRecord(r, Site{Lat: 29.69, Elev: 38}, november, 365, 1000, 7); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkClimate(b *testing.B) {
	e, err := FromNormals(mild, inland, november, 120, 10, 7)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		e.Climate()
	}
}

func BenchmarkRead(b *testing.B) {
	text, err := os.ReadFile("testdata/seattle-weather.csv")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Read(bytes.NewReader(text), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
