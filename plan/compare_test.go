package plan

import (
	"os"
	"strconv"
	"strings"
	"testing"
)

// BenchmarkCompareYears measures plans for so many possible years on the three steads,
// tried over 200 years that they have not seen: the means that docs/plan.md prints.
// EVENSTEAD_PLAN_YEARS says for which, each learned from five seeds: "1 10 10/0.5
// 10+1", the third with half the weight on the poorest, the last with the poor year's
// own plan beside. Where it says nothing the last is made once, of one seed.
func BenchmarkCompareYears(b *testing.B) {
	cases, seeds := strings.Fields(os.Getenv("EVENSTEAD_PLAN_YEARS")), []uint64{1, 11, 12, 13, 14}
	if len(cases) == 0 {
		cases, seeds = []string{"10+1"}, seeds[:1]
	}
	for _, pl := range places(b) {
		for _, text := range cases {
			b.Run(pl.name+" "+text, func(b *testing.B) { compareYears(b, pl, text, seeds) })
		}
	}
}

func compareYears(b *testing.B, pl place, text string, seeds []uint64) {
	other := reckoning(b, pl.text, pl.file, pl.unseen, 300, 2)
	other.Members.Members = other.Members.Members[100:]
	n, part, _ := strings.Cut(text, "/")
	n, _, beside := strings.Cut(n, "+")
	means := map[string]float64{}
	for b.Loop() {
		clear(means)
		for _, seed := range seeds {
			a := ask(reckoning(b, pl.text, pl.file, pl.learn, 60, seed))
			a.Alone = !beside
			a.Years, _ = strconv.Atoi(n)
			a.Poor, _ = strconv.ParseFloat(part, 64)
			p := made(b, a)
			measured(b, p, a, other)
			m := &p.Measured.After
			for name, v := range map[string]float64{"covered": m.Covered, "energy-weeks": m.Lean, "mains-weeks": m.AnyLean, "all-weeks": m.Table, "hours-weeks": m.Hours, "left-over": p.Ground.Rest} {
				means[name] += v / float64(len(seeds))
			}
		}
	}
	for name, v := range means {
		b.ReportMetric(v, name)
	}
}
