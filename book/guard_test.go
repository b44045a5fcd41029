package book

import (
	"errors"
	"strings"
	"testing"

	"evenstead/demo"
)

// guarded is a context in which kale is poison and honey wants care.
func guarded(t *testing.T) Context {
	t.Helper()
	c := contextOf(t, string(demo.FourLines()))
	c.Guards = func(e Entry) []Guard {
		switch e.Body.What {
		case "kale":
			return []Guard{{What: "Kale", Why: "poison", Source: "a tale", Stop: e.Kind == Eaten}}
		case "honey":
			return []Guard{{What: "Honey", Why: "none to infants", Source: "a clinic"}}
		}
		return nil
	}
	return c
}

func TestGuardsStopOrCaution(t *testing.T) {
	c := guarded(t)
	r := Read("ate 1 kg kale", c)[0]
	if !errors.Is(r.Err, ErrGate) || !strings.Contains(r.Err.Error(), "Kale: poison (a tale): leave it") {
		t.Errorf("eaten poison: %v", r.Err)
	}
	if len(r.Cautions) != 0 {
		t.Errorf("what is stopped says so once: %q", r.Cautions)
	}
	kept := r.Because("it was dinosaur kale after all", c)
	if kept.Err != nil || kept.Entry.Body.Extra["reason"] == "" || len(kept.Cautions) != 1 {
		t.Errorf("with a reason: %v, %q, %q", kept.Err, kept.Entry.Body.Extra, kept.Cautions)
	}
	r = Read("ate 1 kg honey", c)[0]
	if r.Err != nil || len(r.Cautions) != 1 || r.Cautions[0] != "Honey: none to infants (a clinic)" {
		t.Errorf("honey: %v, %q", r.Err, r.Cautions)
	}
	if r = Read("lost 1 kg kale", c)[0]; r.Err != nil {
		t.Errorf("what is thrown away needs no reason: %v", r.Err)
	}
}

// A plant to be left alone is understood when it is named, and never offered.
func TestShunnedPlants(t *testing.T) {
	c := contextOf(t, string(demo.FourLines()))
	for _, note := range []string{"foraged 2 kg pokeweed", "ate 1 kg pokeweed", "put up 2 kg pokeweed dried"} {
		r := Read(note, c)[0]
		if !errors.Is(r.Err, ErrGate) {
			t.Errorf("%s: %v", note, r.Err)
		}
		if r = r.Because("a botanist's trial, not eaten", c); r.Err != nil {
			t.Errorf("%s with a reason: %v", note, r.Err)
		}
	}
	if r := Read("foraged 2 kg pokewed", c)[0]; r.Entry.Body.What == "pokeweed" || r.Err == nil {
		t.Errorf("a slip of the pen was led to pokeweed: %s, %v", brief(r.Entry), r.Doubts)
	}
}
