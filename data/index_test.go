package data

import (
	"fmt"
	"slices"
	"testing"
)

// TestIndexFindsWhatASearchFinds asks for every food in every form and for every loss,
// of the tables as loaded and of a copy that must be searched.
func TestIndexFindsWhatASearchFinds(t *testing.T) {
	tab, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	plain := *tab
	plain.Keeping, plain.Retentions = slices.Clone(tab.Keeping), slices.Clone(tab.Retentions)
	found := 0
	for _, form := range []string{"fresh", "dry", "dried", "jarred", "frozen", "fermented", "", "none"} {
		for i := range tab.Foods {
			got, want := tab.KeepingOf(&tab.Foods[i], form), plain.KeepingOf(&tab.Foods[i], form)
			if fmt.Sprint(got) != fmt.Sprint(want) { // gaps are NaN
				t.Errorf("%s, %s: %v, want %v", tab.Foods[i].ID, form, got, want)
			}
			found += len(got)
		}
	}
	for _, r := range append(plain.Retentions, Retention{Group: "no", Method: "such"}) {
		got, ok := tab.Retention(r.Group + "/" + r.Method)
		want, there := plain.Retention(r.Group + "/" + r.Method)
		if ok != there || fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%s/%s: %v, want %v", r.Group, r.Method, got, want)
		}
	}
	if found == 0 {
		t.Error("nothing keeps")
	}
}
