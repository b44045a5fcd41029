package sense

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"evenstead/unit"
)

// A Measure is what a sensor tells of a store.
type Measure string

// The measures, each the last level of a topic.
const (
	Level       Measure = "level"       // of a tank: L, a share, or the depth of water in m
	Temperature Measure = "temperature" // °C, of a freezer, heap, drum, digester, crock or shelf
	Rain        Measure = "rain"        // the gauge's count, mm, which only rises
	Weight      Measure = "weight"      // of hives, kg
)

// Measures lists them.
func Measures() []Measure { return []Measure{Level, Temperature, Rain, Weight} }

// kinds are the amounts a measure comes in; a number without a unit is of the first.
var kinds = map[Measure][]unit.Kind{
	Level: {unit.Volume, unit.Share, unit.Length}, Temperature: {unit.Temperature}, Rain: {unit.Depth}, Weight: {unit.Mass},
}

// Root is the first level of every topic of ours.
const Root = "evenstead"

// Longest texts of a reading, in bytes.
const (
	longestTopic   = 256
	longestPayload = 1024
	longestNumber  = 64 // with its unit
)

// ParseTopic parts "evenstead/<store>/<measure>". A store of two words is
// written with a blank, "-" or "_" between them, as the book reads names.
func ParseTopic(topic string) (store string, m Measure, err error) {
	part := strings.Split(topic, "/")
	if len(topic) > longestTopic || len(part) != 3 || part[0] != Root {
		return "", "", fmt.Errorf("topic %.80q is not ours: write %s/STORE/MEASURE, such as %s/barn/level", topic, Root, Root)
	}
	if m, err = ParseMeasure(part[2]); err != nil {
		return "", "", fmt.Errorf("topic %.80q: %w", topic, err)
	}
	store, err = parseStore(part[1])
	if err != nil {
		return "", "", fmt.Errorf("topic %.80q: %w", topic, err)
	}
	return store, m, nil
}

// ParseMeasure reads the word of a measure.
func ParseMeasure(word string) (Measure, error) {
	if m := Measure(word); slices.Contains(Measures(), m) {
		return m, nil
	}
	return "", fmt.Errorf("%.40q is not a measure: write level, temperature, rain or weight", word)
}

func parseStore(s string) (string, error) {
	bad := func(r rune) bool { return r < ' ' || r == 0x7f || r == '+' || r == '#' || r == utf8.RuneError }
	if strings.TrimSpace(s) == "" || strings.ContainsFunc(s, bad) {
		return "", fmt.Errorf("%.40q is no name of a store", s)
	}
	return strings.TrimSpace(s), nil
}
