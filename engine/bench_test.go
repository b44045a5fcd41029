package engine

import (
	"fmt"
	"slices"
	"testing"

	"evenstead/stead"
)

func BenchmarkMemberYear(b *testing.B) {
	r := readyDemo(b, 1, 365)
	run := newRunner(r.model(b))
	for b.Loop() {
		run.begin(0, r.ens.Members[0])
		for d := range run.m.days {
			run.pass(d)
		}
	}
}

func BenchmarkThousandMembers(b *testing.B) {
	r := readyDemo(b, 1000, 365)
	m := r.model(b)
	b.ResetTimer()
	for b.Loop() {
		if _, err := m.Run(b.Context(), r.ens, r.opt); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkScale shows that the cost grows with members, beds and lots, and no
// faster: the demo with more of each (docs/performance.md).
func BenchmarkScale(b *testing.B) {
	for _, members := range []int{125, 250, 500} {
		b.Run(fmt.Sprintf("members=%d", members), func(b *testing.B) { scale(b, readyDemo(b, members, 365)) })
	}
	for _, times := range []int{1, 2, 4} {
		r := readyDemo(b, 125, 365)
		b.Run(fmt.Sprintf("beds=%d", times*len(r.st.Beds)), func(b *testing.B) {
			moreBeds(r.st, times)
			scale(b, r)
		})
	}
	for _, lots := range []int{0, 13, 26} {
		r := readyDemo(b, 125, 365)
		r.st.Lots = r.st.Lots[:lots]
		b.Run(fmt.Sprintf("lots=%d", lots), func(b *testing.B) { scale(b, r) })
	}
}

func scale(b *testing.B, r ready) {
	m := r.model(b)
	for b.Loop() {
		if _, err := m.Run(b.Context(), r.ens, r.opt); err != nil {
			b.Fatal(err)
		}
	}
}

// moreBeds lays out every bed and its plantings so many times.
func moreBeds(st *stead.Stead, times int) {
	beds, plantings := slices.Clone(st.Beds), slices.Clone(st.Plantings)
	for i := range times - 1 {
		for _, bed := range beds {
			bed.Name = fmt.Sprintf("%s again %d", bed.Name, i)
			st.Beds = append(st.Beds, bed)
		}
		for _, p := range plantings {
			p.Bed = fmt.Sprintf("%s again %d", p.Bed, i)
			st.Plantings = append(st.Plantings, p)
		}
	}
}
