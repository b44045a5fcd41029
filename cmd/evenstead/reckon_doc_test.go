package main

import (
	"encoding/json"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenstead/engine"
	"evenstead/reckon"
)

// reckoned is what the test reads of the JSON.
type reckoned struct {
	Entries  int            `json:"entries"`
	DaysTold int            `json:"days_told"`
	Food     []engine.Use   `json:"food"`
	Shares   []reckon.Share `json:"shares"`
	Noted    engine.Noted   `json:"noted"`
	Hours    engine.HoursSpent
	Balances []engine.Balance `json:"balances"`
}

// fenced returns the text of the first block of a kind.
func fenced(t *testing.T, doc, kind string) string {
	t.Helper()
	_, rest, ok := strings.Cut(doc, "```"+kind+"\n")
	text, _, closed := strings.Cut(rest, "```")
	if !ok || !closed {
		t.Fatalf("docs/reckoning.md has no block of %s", kind)
	}
	return text
}

// TestReckoningByHand holds docs/reckoning.md to what the command tells.
func TestReckoningByHand(t *testing.T) {
	raw, err := os.ReadFile("../../docs/reckoning.md")
	if err != nil {
		t.Fatal(err)
	}
	doc := string(raw)
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{"ten.toml": fenced(t, doc, "toml"), "ten.txt": fenced(t, doc, "text")} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	told(t, "describe", "ten.toml", "--today", "2027-03-01")
	told(t, "note", fenced(t, doc, "text"), "--today", "2027-03-04", "--yes")
	var r reckoned
	if err := json.Unmarshal([]byte(told(t, "reckon", "--today", "2027-03-04", "--json")), &r); err != nil {
		t.Fatal(err)
	}
	results := r.results()
	holdByHand(t, doc, results)
}

func (r *reckoned) results() map[string]float64 {
	use := map[string]*engine.Use{}
	for i := range r.Food {
		use[r.Food[i].ID] = &r.Food[i]
	}
	at := map[string]*reckon.Share{}
	for i := range r.Shares {
		at[r.Shares[i].ID] = &r.Shares[i]
	}
	energy := func(o engine.Origin) float64 { return use["energy_mj"].By[o].All() }
	money, rubbish := 0.0, 0.0
	for _, s := range r.Noted.Spent {
		money += s.Amount
	}
	for _, w := range r.Noted.Rubbish {
		rubbish += w.Amount
	}
	carbon, breath := 0.0, 0.0
	for _, b := range r.Balances {
		for _, f := range b.Flows {
			switch {
			case b.Material == "carbon" && f.From == "larder" && f.To == "house":
				carbon += f.All()
			case b.Material == "carbon" && f.From == "house" && f.To == "air":
				breath += f.All()
			}
		}
	}
	return map[string]float64{
		"fat eaten, g": use["fat_g"].Used.All(), "carbon eaten, kg": carbon, "carbon breathed out, kg": breath,
		"mass eaten, kg": use["mass"].Used.All(), "energy eaten, MJ": use["energy_mj"].Used.All(), "protein eaten, g": use["protein_g"].Used.All(),
		"energy, own, MJ": energy(engine.Grown), "energy, foraged, MJ": energy(engine.Foraged),
		"energy, exchanged, MJ": energy(engine.Exchanged), "energy, bought, MJ": energy(engine.Bought),
		"energy carried": *at["energy_mj"].Carried, "energy carried, low": *at["energy_mj"].Low, "energy carried, high": *at["energy_mj"].High,
		"protein carried": *at["protein_g"].Carried, "mass carried": *at["mass"].Carried, "mass carried, high": *at["mass"].High,
		"energy whose eating is written": *at["energy_mj"].Written, "energy needed, MJ": use["energy_mj"].Need, "energy, of life": *at["energy_mj"].Life,
		"entries": float64(r.Entries), "days with entries": float64(r.DaysTold),
		"hours written for the landowner": r.Hours.Written["the landowner"] + r.Hours.Written["landowner"],
		"money named":                     money, "rubbish, kg": rubbish, "foods bought outside the terms": float64(len(r.Noted.Outside)),
	}
}

// holdByHand holds the results that a document works by hand, the last column of
// its tables, to what the program gives, within the printed precision.
func holdByHand(t *testing.T, doc string, results map[string]float64) {
	t.Helper()
	rows := regexp.MustCompile(`(?m)^\| ([^|]+) \| [^|]*\| ([0-9.,]+) \|$`).FindAllStringSubmatch(doc, -1)
	if len(rows) != len(results) {
		t.Fatalf("%d results in the document, %d known", len(rows), len(results))
	}
	for _, row := range rows {
		got, known := results[row[1]]
		want, err := strconv.ParseFloat(row[2], 64)
		if !known || err != nil {
			t.Errorf("%q is not known (%v)", row[1], err)
			continue
		}
		_, decimals, _ := strings.Cut(row[2], ".")
		if tol := 0.51 * math.Pow10(-len(decimals)); !(math.Abs(got-want) <= tol) {
			t.Errorf("%s: %g, by hand %s", row[1], got, row[2])
		}
	}
}
