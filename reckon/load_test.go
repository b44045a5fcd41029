package reckon

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"
)

// outside holds the names that stand for it.
const outside = "IN EXPORT RESP"

func rows(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, rec := range all[1:] {
		m := map[string]string{}
		for i, h := range all[0] {
			m[h] = rec[i]
		}
		out = append(out, m)
	}
	return out
}

// load reads a network and the place of each named compartment in it.
func load(t testing.TB, name string) (Network, map[string]int) {
	t.Helper()
	at := map[string]int{}
	list := rows(t, name)
	for _, r := range list {
		for _, s := range []string{r["from"], r["to"]} {
			if _, ok := at[s]; !ok && !strings.Contains(outside, s) {
				at[s] = len(at)
			}
		}
	}
	w := blank(len(at))
	for _, r := range list {
		f, err := strconv.ParseFloat(r["flow"], 64)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case r["from"] == "IN":
			w.In[at[r["to"]]] += f
		case r["to"] == "EXPORT":
			w.Out[at[r["from"]]] += f
		case r["to"] == "RESP":
			w.Lost[at[r["from"]]] += f
		default:
			w.F[at[r["from"]]][at[r["to"]]] += f
		}
	}
	return w, at
}

func blank(n int) Network {
	w := Network{F: make([][]float64, n), In: make([]float64, n), Out: make([]float64, n), Lost: make([]float64, n)}
	for i := range w.F {
		w.F[i] = make([]float64, n)
	}
	return w
}
