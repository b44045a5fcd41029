package web

import (
	"testing"

	"evenstead/demo"
)

func BenchmarkZZ(b *testing.B) {
	d := deskOf(b, demo.Quernfold())
	fill(b, d, 100)
	_, err := d.present(b.Context())
	deskMust(b, err)
	for b.Loop() {
		write(b, d, "rain 1 mm")
		_, err := d.present(b.Context())
		deskMust(b, err)
	}
}
