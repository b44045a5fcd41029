package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenstead/data"
)

// TestSafetyDoc holds the table at the end of docs/safety.md to the hazards that
// the commands stop at; -update writes it anew.
func TestSafetyDoc(t *testing.T) {
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join("..", "..", "docs", "safety.md")
	page, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const head = "| food | when | the harm | what guards | source |\n|---|---|---|---|---|\n"
	top, _, _ := strings.Cut(string(page), head)
	want := top + head + hazardRows(tab.Hazards)
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if string(page) != want {
		t.Error("docs/safety.md no longer tells data/hazards.csv; go test ./cmd/evenstead -run SafetyDoc -update writes it anew")
	}
	if len(tab.Hazards) < 20 {
		t.Errorf("only %d hazards", len(tab.Hazards))
	}
}

func hazardRows(list []data.Hazard) string {
	var b strings.Builder
	for _, h := range list {
		rule := h.Rule
		if h.Stop {
			rule = "*Stops.* " + rule
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", h.Name, h.When, h.Hazard, rule, h.Source)
	}
	return b.String()
}
