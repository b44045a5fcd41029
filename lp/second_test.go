package lp

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// drawnSeeds is how many programmes of each kind are compared.
const drawnSeeds = 12

// seconds is the longest that a drawn programme may take.
const longest = 5 * time.Second

// TestWriteSecond writes what the second solver is asked for, where EVENSTEAD_LP_DIR
// names a folder into it.
func TestWriteSecond(t *testing.T) {
	dir := os.Getenv("EVENSTEAD_LP_DIR")
	if dir == "" {
		dir = t.TempDir()
	}
	write := func(name string, p *Problem) {
		f, err := os.Create(filepath.Join(dir, name+".mps"))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := WriteMPS(f, p); err != nil {
			t.Fatal(err)
		}
	}
	for _, row := range table(t, "index.csv") {
		write(row["name"], instance(t, row["file"]))
	}
	for _, k := range kinds {
		for seed := range uint64(drawnSeeds) {
			p := drawn(k.name, seed)
			write(p.Name, p)
		}
	}
}

// secondRows are what the second solver answered: those kept, or of the file
// that EVENSTEAD_SECOND names.
func secondRows(t *testing.T) []map[string]string {
	t.Helper()
	file := os.Getenv("EVENSTEAD_SECOND")
	if file == "" {
		file = filepath.Join("testdata", "second.csv")
	}
	return rowsOf(t, file)
}

// TestAgreesWithSecondSolver: status and optimum are those of a second solver, on
// the check instances and on drawn programmes, degenerate ones among them; each is
// answered soon.
func TestAgreesWithSecondSolver(t *testing.T) {
	seen := map[string]int{}
	for _, row := range secondRows(t) {
		name := row["name"]
		var p *Problem
		if i := strings.LastIndex(name, "-"); i > 0 {
			seed, err := strconv.ParseUint(name[i+1:], 10, 64)
			if err != nil {
				t.Fatal(err)
			}
			if p = drawn(name[:i], seed); p == nil {
				t.Fatalf("%s: no such kind", name)
			}
			seen[name[:i]]++
		} else {
			for _, have := range table(t, "index.csv") {
				if have["name"] == name {
					p = instance(t, have["file"])
				}
			}
			seen["instance"]++
		}
		if p == nil {
			t.Fatalf("%s is not known", name)
		}
		began := time.Now()
		s, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if took := time.Since(began); took > longest {
			t.Errorf("%s took %v", name, took)
		}
		if s.Status.String() != row["status"] {
			t.Errorf("%s is %v, the second solver says %s", name, s.Status, row["status"])
			continue
		}
		if want := row["objective"]; s.Status == Optimal {
			v := number64(t, want)
			if math.Abs(s.Objective-v) > 1e-7*max(1, math.Abs(v)) {
				t.Errorf("%s: objective %.12g, the second solver %.12g", name, s.Objective, v)
			}
		}
	}
	for _, k := range kinds {
		if seen[k.name] != drawnSeeds {
			t.Errorf("%d programmes of kind %s were compared", seen[k.name], k.name)
		}
	}
	if seen["instance"] < 7 {
		t.Errorf("%d check instances were compared", seen["instance"])
	}
}

// TestStopsInTime: the context ends a solve within an iteration.
func TestStopsInTime(t *testing.T) {
	ctx := &ending{Context: context.Background(), asks: 9}
	if _, err := Solve(ctx, instance(t, "year12_plan.mps.gz"), Options{}); !errors.Is(err, context.DeadlineExceeded) || ctx.asks < 0 {
		t.Errorf("a solve past its time ends with %v and asks %d times more", err, -ctx.asks)
	}
}
