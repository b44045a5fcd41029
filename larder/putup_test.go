package larder

import (
	"math"
	"strings"
	"testing"

	"evenstead/data"

	"pgregory.net/rapid"
)

func TestPutUpCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		row := data.PutUp{
			MassOut: rapid.Float64Range(0.02, 2).Draw(t, "out"),
			Salt:    rapid.Float64Range(0, 0.1).Draw(t, "salt"),
			Water:   rapid.Float64Range(0, 5).Draw(t, "water"),
		}
		kg, water := rapid.Float64Range(0, 500).Draw(t, "kg"), rapid.Float64Range(0, 1).Draw(t, "share")
		m, err := PutUp(row, kg, water)
		if err != nil {
			if row.MassOut >= 1-water+row.Salt {
				t.Fatal(err)
			}
			return
		}
		near := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-9*(1+kg) {
				t.Fatalf("%s: %g in, %g out", what, a, b)
			}
		}
		near("mass", m.Food+m.Salt+m.Water, m.Product+m.Off)
		near("water", kg*water+m.Water, m.ProductWater+m.Off)
		if m.Off < -1e-9*(1+kg) || m.Water < 0 || m.ProductWater < 0 {
			t.Fatalf("negative flow in %+v", m)
		}
	})
}

func TestPutUpDried(t *testing.T) {
	row := data.PutUp{Class: "fruit", Method: Dried, MassOut: 0.2, Hours: 0.15, Litres: 2}
	m, err := PutUp(row, 10, 0.86)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "product", m.Product, 2, 1e-12)
	near(t, "driven off", m.Off, 8, 1e-12)
	near(t, "water left", m.ProductWater, 0.6, 1e-12)
	near(t, "hours", m.Hours, 1.5, 1e-12)
	near(t, "store", m.Litres, 4, 1e-12)
}

// TestPutUpBoneDry dries to no water at all, where salt adds less than a last digit.
func TestPutUpBoneDry(t *testing.T) {
	m, err := PutUp(data.PutUp{MassOut: 1, Salt: 8.326672684688674e-17}, 1.5, 0)
	if err != nil || m.ProductWater != 0 {
		t.Errorf("%+v %v", m, err)
	}
}

func TestPutUpInSyrupTakesWater(t *testing.T) {
	m, err := PutUp(data.PutUp{Class: "fruit", Method: Jarred, MassOut: 1.4}, 10, 0.85)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "water taken in", m.Water, 4, 1e-12)
	near(t, "nothing drained", m.Off, 0, 1e-12)
}

func TestPutUpRefuses(t *testing.T) {
	for _, c := range []struct {
		name       string
		out        float64
		kg, water  float64
		wantInText string
	}{
		{"solids do not fit", 0.1, 10, 0.7, "solids"},
		{"share over 1", 1, 10, 1.1, "share"},
		{"negative mass", 1, -1, 0.5, "mass"},
		{"no mass", 1, math.NaN(), 0.5, "mass"},
		{"endless mass", 1, math.Inf(1), 0.5, "mass"},
	} {
		_, err := PutUp(data.PutUp{Class: "root", Method: Dried, MassOut: c.out}, c.kg, c.water)
		if err == nil || !strings.Contains(err.Error(), c.wantInText) {
			t.Errorf("%s: error %v", c.name, err)
		}
	}
}

func TestPutUpTable(t *testing.T) {
	tables, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	if len(tables.PutUp) == 0 {
		t.Fatal("no rows")
	}
	for _, row := range tables.PutUp {
		if row.MassOut < 1 {
			continue // drying rows need the food's own water
		}
		m, err := PutUp(row, 1, 0.85)
		if err != nil {
			t.Errorf("%s %s: %v", row.Class, row.Method, err)
		}
		near(t, row.Class+" "+row.Method+" balance", m.Food+m.Salt+m.Water-m.Product-m.Off, 0, 1e-12)
	}
}

func TestJarCount(t *testing.T) {
	for _, c := range []struct {
		kg, litres float64
		want       int
	}{{0.91, 0.946, 1}, {9.1, 0.946, 10}, {9.2, 0.946, 11}, {0, 1, 0}, {5, 0, 0}, {math.NaN(), 1, 0}} {
		if got := JarCount(c.kg, c.litres); got != c.want {
			t.Errorf("%g kg in %g L: %d jars, want %d", c.kg, c.litres, got, c.want)
		}
	}
}

func TestDryRatioKeepsSolids(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before, after := rapid.Float64Range(0, 0.98).Draw(t, "before"), rapid.Float64Range(0, 0.98).Draw(t, "after")
		if solids := DryRatio(before, after) * (1 - after); math.Abs(solids-(1-before)) > 1e-12 {
			t.Fatalf("solids %g became %g", 1-before, solids)
		}
	})
}
