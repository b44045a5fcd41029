package reckon

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

type printed struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	for _, c := range append(seen(t), indexed(t)...) {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.10g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

func must(t testing.TB, f func() (float64, error)) float64 {
	t.Helper()
	v, err := f()
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// seen holds what was read in print.
func seen(t *testing.T) []printed {
	const (
		oysters = "Dame and Patten 1981 oyster reef, printed in the enaR vignette"
		spring  = "Tilly 1968 Cone Spring"
		memory  = "Ulanowicz 1986 Cone Spring (from memory)"
		richey  = "Richey et al. 1978"
		diag    = "Cone Spring, diagonal of N, computed"
		shells  = "enaR vignette, oyster reef, diagonal of N"
	)
	o, oAt := load(t, "oyster-reef.csv")
	c, cAt := load(t, "cone-spring.csv")
	f, _ := load(t, "lake-findley.csv")
	m, _ := load(t, "mirror-lake.csv")
	s, _ := load(t, "silver-springs.csv")
	n, _ := load(t, "neuse-river-nitrogen.csv")
	r, _ := load(t, "tropical-rain-forest-nitrogen.csv")
	cycle := func(w Network, at map[string]int, name string) float64 {
		inv, _, err := w.integral()
		if err != nil {
			t.Fatal(err)
		}
		i, ok := at[name]
		if !ok {
			t.Fatalf("no compartment %q", name)
		}
		return inv.At(i, i)
	}
	const ipcc, gas = "IPCC 2006 vol. 2 table 2.2", 44.0095 / 12.0107
	return append([]printed{
		{ipcc, "wood, t CO2 a TJ", woodC * gas * 1000, 112, 0.5},
		{ipcc, "bottled gas, t CO2 a TJ", bottleC * gas * 1000, 63.1, 0.1},
		{"FAO 2003, g CO2 a g of starch by its formula", "starch", starchC * gas, 6 * 44.0095 / 162.141, 0.001},
	}, []printed{
		{oysters, "in", sum(o.In), 41.47, 0.005},
		{oysters, "throughflow", o.TST(), 83.5833, 0.00005},
		{oysters, "throughput", o.TSTp(), 125.0533, 0.00005},
		{oysters, "path length", must(t, o.APL), 2.015512, 0.0000005},
		{oysters, "cycling index", must(t, o.FinnCycling), 0.1101686, 0.00000005},
		{oysters, "cycled", must(t, o.Cycled), 9.208256, 0.0000005},
		{oysters, "indirect to direct", must(t, o.IndirectDirect), 1.582925, 0.0000005},
		{oysters, "ascendency", must(t, o.Ascendency), 166.3473, 0.00005},
		{oysters, "capacity", must(t, o.Capacity), 377.4452, 0.00005},
		{oysters, "ascendency over capacity", must(t, o.Ascendency) / must(t, o.Capacity), 0.4407191, 0.00000005},
		{shells, "filter feeders", cycle(o, oAt, "filter feeders"), 1, 0.0000005},
		{shells, "microbiota", cycle(o, oAt, "microbiota"), 1.101863, 0.0000005},
		{shells, "meiofauna", cycle(o, oAt, "meiofauna"), 1.297103, 0.0000005},
		{shells, "deposit feeders", cycle(o, oAt, "deposit feeders"), 1.124069, 0.0000005},
		{shells, "predators", cycle(o, oAt, "predators"), 1.005106, 0.0000005},
		{shells, "deposited detritus", cycle(o, oAt, "deposited detritus"), 1.388504, 0.0000005},
		{spring, "cycling index", must(t, c.FinnCycling), 0.0919, 0.00005},
		{spring, "indirect to direct", must(t, c.IndirectDirect), 1.023016, 0.0000005},
		{spring, "throughflow", c.TST(), 30626, 0.5},
		{spring, "ratio over throughput, the trap", must(t, c.Cycled) / c.TSTp(), 0.0663, 0.00005},
		{memory, "throughput", c.TSTp(), 42445, 0.5},
		{memory, "ascendency", must(t, c.Ascendency), 56725, 0.5},
		{memory, "ascendency over capacity", must(t, c.Ascendency) / must(t, c.Capacity), 0.418, 0.0005},
		{diag, "plants", cycle(c, cAt, "plants"), 1, 0.0000005},
		{diag, "bacteria", cycle(c, cAt, "bacteria"), 1.169351, 0.0000005},
		{diag, "detritus feeders", cycle(c, cAt, "detritus feeders"), 1.038567, 0.0000005},
		{diag, "carnivores", cycle(c, cAt, "carnivores"), 1.017549, 0.0000005},
		{diag, "detritus", cycle(c, cAt, "detritus"), 1.206704, 0.0000005},
		{richey, "Findley indirect to direct", must(t, f.IndirectDirect), 1.723221, 0.0000005},
		{richey, "Mirror indirect to direct", must(t, m.IndirectDirect), 1.861121, 0.0000005},
		{richey + " (from memory)", "Findley cycling index", must(t, f.FinnCycling), 0.30, 0.005},
		{richey + " (from memory)", "Mirror cycling index", must(t, m.FinnCycling), 0.32, 0.005},
		{"Odum 1957 Silver Springs (from memory)", "cycling index", must(t, s.FinnCycling), 0, 0},
		{"Christian and Thomas 2003 (from memory)", "cycling index", must(t, n.FinnCycling), 0.89, 0.005},
		{"Edmisten 1970 (from memory)", "cycling index", must(t, r.FinnCycling), 0.48, 0.005},
	}...)
}

// indexed compares every network with every measure of the index, to its last digit.
func indexed(t *testing.T) []printed {
	var cs []printed
	for _, r := range rows(t, "index.csv") {
		w, at := load(t, r["file"])
		if got := strconv.Itoa(len(at)); got != r["compartments"] {
			t.Errorf("%s: %s compartments, want %s", r["file"], got, r["compartments"])
		}
		cycled := must(t, w.Cycled)
		a, c := must(t, w.Ascendency), must(t, w.Capacity)
		for _, m := range []struct {
			column string
			got    float64
		}{
			{"boundary_in", sum(w.In)},
			{"tst_throughflow", w.TST()},
			{"tst_throughput", w.TSTp()},
			{"apl", must(t, w.APL)},
			{"tst_cycled", cycled},
			{"fci", must(t, w.FinnCycling)},
			{"fci_over_throughput", cycled / w.TSTp()},
			{"indirect_to_direct_realized", must(t, w.IndirectDirect)},
			{"ascendency_bits", a},
			{"capacity_bits", c},
			{"ascendency_over_capacity", a / c},
			{"max_imbalance", w.Imbalance()},
		} {
			want, tol := lastDigit(t, r[m.column])
			cs = append(cs, printed{r["primary_reference"] + ", computed", m.column, m.got, want, tol})
		}
	}
	return cs
}

// lastDigit returns a printed number and half a unit of its last digit.
func lastDigit(t *testing.T, s string) (v, tol float64) {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, decimals, _ := strings.Cut(s, ".")
	return v, 0.5*math.Pow10(-len(decimals)) + 1e-9*math.Abs(v)
}
