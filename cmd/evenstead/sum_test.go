package main

import (
	"encoding/json"
	"strings"
	"testing"

	"evenstead/sums"
)

// shellWords splits a line as a shell does, single quotes only.
func shellWords(line string) []string {
	var words []string
	var word strings.Builder
	quoted := false
	for _, r := range line + " " {
		switch {
		case r == '\'':
			quoted = !quoted
		case r == ' ' && !quoted:
			if word.Len() > 0 {
				words = append(words, word.String())
				word.Reset()
			}
		default:
			word.WriteRune(r)
		}
	}
	return words
}

// TestExampleLinesRun pastes the example of every sum.
func TestExampleLinesRun(t *testing.T) {
	for _, s := range sums.All() {
		line := exampleLine(s)
		status, help, errs := said(t, "sum", s.Name)
		if status != ok || !strings.Contains(help, "  "+line+"\n") {
			t.Fatalf("%s: status %d, no example line in:\n%s%s", s.Name, status, help, errs)
		}
		for _, in := range s.Inputs {
			if !strings.Contains(help, "\n  "+in.Key+" ") {
				t.Errorf("%s: the help does not tell of %s", s.Name, in.Key)
			}
		}
		status, out, errs := said(t, shellWords(line)[1:]...)
		if status != ok || !strings.Contains(out, "\nHow it was reckoned\n") || !strings.Contains(out, "\nSource\n") {
			t.Errorf("%s\nstatus %d\n%s%s", line, status, out, errs)
		}
		for _, bad := range []string{"NaN", "%!", "Inf", "\u00a0"} {
			if strings.Contains(out+help, bad) {
				t.Errorf("%s prints %q:\n%s%s", s.Name, bad, help, out)
			}
		}
	}
}

// TestSumJSON reads back the list, one sum and one answer.
func TestSumJSON(t *testing.T) {
	read := func(into any, words ...string) {
		t.Helper()
		status, out, errs := said(t, append(words, "--json")...)
		if status != ok {
			t.Fatalf("%v: status %d: %s", words, status, errs)
		}
		if err := json.Unmarshal([]byte(out), into); err != nil {
			t.Fatalf("%v: %v", words, err)
		}
	}
	var all []sums.Sum
	read(&all, "sum")
	if len(all) != len(sums.All()) || all[0].Name != "catch" || all[0].Inputs[0].Key != "area" {
		t.Errorf("%d sums, the first %+v", len(all), all[0])
	}
	var one sums.Sum
	read(&one, "sum", "catch")
	if one.Source == "" || len(one.Example.Given) == 0 {
		t.Errorf("%+v", one)
	}
	var answer struct {
		Lines []struct {
			Label, Kind, SI, Text string
			Amount                float64
		}
		Steps []string
	}
	for _, flag := range []string{"--us", "--us=false"} {
		read(&answer, "sum", "catch", "area=60", "m2", "rain=10 mm", flag)
		if l := answer.Lines[0]; l.Label != "caught" || l.Amount < 509.99 || l.Amount > 510.01 || l.SI != "L" || len(answer.Steps) == 0 {
			t.Errorf("%s: %+v", flag, answer)
		}
	}
	if answer.Lines[0].Text != "510 L" {
		t.Errorf("metric says %q", answer.Lines[0].Text)
	}
}
