package lp

import (
	"context"
	"math"
	"strconv"
	"strings"
	"testing"
)

func number64(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestInstances(t *testing.T) {
	for _, row := range table(t, "index.csv") {
		t.Run(row["name"], func(t *testing.T) {
			p := instance(t, row["file"])
			if got := strconv.Itoa(len(p.RowLo)) + " " + strconv.Itoa(len(p.Cost)); got != row["rows"]+" "+row["cols"] {
				t.Fatalf("read rows and columns %s, want %s %s", got, row["rows"], row["cols"])
			}
			s, err := Solve(context.Background(), p, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if s.Status.String() != row["status"] {
				t.Fatalf("status %v, want %s", s.Status, row["status"])
			}
			t.Logf("%d iterations, objective %.12g, residuals %.2g", s.Iterations, s.Objective, s.Residuals)
			if s.Status == Optimal {
				want := number64(t, row["optimum"])
				if math.Abs(s.Objective-want) > 1e-7*max(1, math.Abs(want)) {
					t.Errorf("objective %.12g, want %.12g", s.Objective, want)
				}
			}
		})
	}
}

// stageCosts splits the cost by column name as the note in testdata says.
func stageCosts(p *Problem) [][]float64 {
	out := [][]float64{make([]float64, len(p.Cost)), make([]float64, len(p.Cost)), make([]float64, len(p.Cost))}
	for j, c := range p.Cost {
		k := 2
		switch name, _, _ := strings.Cut(p.ColNames[j], "_"); name {
		case "u", "o":
			k = 0
		case "b", "wbuy", "el":
			k = 1
		}
		out[k][j] = c
	}
	return out
}

func TestStagesAgreeWithSequence(t *testing.T) {
	for _, row := range table(t, "lexicographic.csv") {
		t.Run(row["name"], func(t *testing.T) {
			p := instance(t, row["name"]+".mps.gz")
			costs := stageCosts(p)
			s, err := Stages(context.Background(), p, costs, Options{})
			if err != nil {
				t.Fatal(err)
			}
			for k, key := range []string{"stage1", "stage2", "stage3"} {
				want := number64(t, row[key])
				got := dot(costs[k], s[2].X)
				t.Logf("%s %.10g, %d iterations, unclear %d of %d", key, got, s[k].Iterations, s[k].lean.unclear, s[k].lean.pairs)
				if math.Abs(got-want) > 1e-5*max(1, math.Abs(want)) {
					t.Errorf("%s: %.10g, want %.10g", key, got, want)
				}
			}
		})
	}
}
