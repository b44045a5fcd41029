package plan

import (
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// TestCompareYears measures plans for so many possible years on the three steads,
// each learned from five seeds and tried over 200 years of another: the means that
// docs/plan.md prints. EVENSTEAD_PLAN_YEARS says for which: "1 10 10/0.5 10+1", the
// third with half the weight on the poorest, the last with the poor year's own plan
// beside.
func TestCompareYears(t *testing.T) {
	cases := strings.Fields(os.Getenv("EVENSTEAD_PLAN_YEARS"))
	if len(cases) == 0 {
		t.Skip("EVENSTEAD_PLAN_YEARS names no numbers of years to compare")
	}
	seeds := []uint64{1, 11, 12, 13, 14}
	for _, pl := range places(t) {
		other := reckoning(t, pl.text, pl.file, pl.unseen, 300, 2)
		other.Members.Members = other.Members.Members[100:]
		for _, text := range cases {
			n, part, _ := strings.Cut(text, "/")
			n, _, beside := strings.Cut(n, "+")
			var sum [6]float64
			for _, seed := range seeds {
				a := ask(reckoning(t, pl.text, pl.file, pl.learn, 60, seed))
				a.Years, _ = strconv.Atoi(n)
				a.Alone = !beside
				a.Poor, _ = strconv.ParseFloat(part, 64)
				began := time.Now()
				p := made(t, a)
				took := time.Since(began).Seconds()
				measured(t, p, a, other)
				m := &p.Measured.After
				t.Logf("%s, %s years, seed %d: covered %.3f, weeks short of energy %.2f, mains %.2f, all %.2f, hours %.2f, left over %.2f, %.1f s",
					pl.name, text, seed, m.Covered, m.Lean, m.AnyLean, m.Table, m.Hours, p.Ground.Rest, took)
				for i, v := range [...]float64{m.Covered, m.Lean, m.AnyLean, m.Table, m.Hours, p.Ground.Rest} {
					sum[i] += v / float64(len(seeds))
				}
			}
			t.Logf("%s, %s years, mean: covered %.3f, weeks short of energy %.2f, mains %.2f, all %.2f, hours %.2f, left over %.2f",
				pl.name, text, sum[0], sum[1], sum[2], sum[3], sum[4], sum[5])
		}
	}
}
