package stead

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
)

const ruled = `place.latitude = 40
people = 2
roof = [{ area = "60 m2", tank = "1000 L" }]
bed = [{ area = "20 m2" }]
[[toilet]]
cure = 1.5
`

func rule(kind, value string) string {
	text := "[[rule]]\nkind = \"" + kind + "\"\ntext = \"as the county words it\"\nsource = \"county code 7\"\n"
	if value != "" {
		text += "value = " + value + "\n"
	}
	return text
}

func TestRuleLengthensTheRest(t *testing.T) {
	for _, c := range []struct {
		rules string
		cure  float64
	}{
		{"", 1.5}, {rule("drum_cure", "1"), 1.5}, {rule("drum_cure", "1.5"), 1.5}, {rule("drum_cure", "2"), 2},
		{rule("drum_cure", "3") + rule("drum_cure", "2"), 3}, {rule("urine_wait", "90"), 1.5}, {rule("no_drum", ""), 1.5},
	} {
		s, err := Read("my.toml", []byte(ruled+c.rules))
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Toilets[0].Cure; got != c.cure {
			t.Errorf("%s: cure %g, want %g", c.rules, got, c.cure)
		}
		var again bytes.Buffer
		if err := s.Write(&again); err != nil {
			t.Fatal(err)
		}
		back, err := Read("again.toml", again.Bytes())
		if err != nil || !reflect.DeepEqual(back.Rules, s.Rules) || back.Toilets[0].Cure != c.cure {
			t.Errorf("written and read again: %v, %v, want %v", err, back, s.Rules)
		}
	}
}

func TestRuleFaults(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{rule("moon", "1"), "must be one of drum_cure, urine_wait"},
		{rule("urine_wait", ""), "write what the rule asks"},
		{rule("urine_wait", "-1"), "too small"},
		{rule("no_urine", "3"), "forbids, and has no value"},
		{rule("drum_cure", "6"), "no_drum"},
		{"[[rule]]\nkind = \"urine_wait\"\nvalue = 3\ntext = \"x\"\n", "source"},
		{strings.Replace(rule("urine_wait", "3"), "county code 7", " ", 1), "whose it is"},
	} {
		_, err := Read("my.toml", []byte(ruled+c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s\ngave %v, want %q", c.text, err, c.want)
		}
	}
	if _, err := Read("my.toml", []byte(ruled+rule("greywater_hold", "0"))); err != nil {
		t.Errorf("a value of nought that is written: %v", err)
	}
}
