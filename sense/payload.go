package sense

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"evenstead/unit"
)

// A Reading is what a sensor said once.
type Reading struct {
	Store   string // as the topic names it
	Measure Measure
	Value   float64 // SI, as package unit has it
	Kind    unit.Kind
	At      time.Time // when it was measured; zero: not said
}

// Parse reads a message: a number ("812"), a number with its unit ("812 L",
// "-18.5 °C", "41 %"), or JSON with value and, where known, unit and at:
//
//	{"value": 812, "unit": "L", "at": "2026-11-25T07:30:00Z"}
//
// Other keys are passed over. A number without a unit is L, °C, mm or kg.
func Parse(topic string, payload []byte) (Reading, error) {
	store, m, err := ParseTopic(topic)
	if err != nil {
		return Reading{}, err
	}
	r, err := parsePayload(m, payload)
	if err != nil {
		return Reading{}, fmt.Errorf("%s: %w", topic, err)
	}
	r.Store = store
	return r, nil
}

// New makes a reading of its parts; unitWord may be "".
func New(store string, m Measure, value float64, unitWord string, at time.Time) (Reading, error) {
	store, err := parseStore(store)
	if err != nil || len(store) > longestTopic {
		return Reading{}, errors.Join(fmt.Errorf("%.40q: give the store's name", store), err)
	}
	if _, err := ParseMeasure(string(m)); err != nil {
		return Reading{}, err
	}
	r, err := amount(m, strings.TrimSpace(strconv.FormatFloat(value, 'f', -1, 64)+" "+unitWord))
	r.Store, r.At = store, at
	return r, err
}

// message is a payload in JSON.
type message struct {
	Value *float64  `json:"value"`
	Unit  string    `json:"unit"`
	At    time.Time `json:"at"`
}

func parsePayload(m Measure, payload []byte) (Reading, error) {
	text := strings.TrimSpace(string(payload))
	switch {
	case len(payload) > longestPayload:
		return Reading{}, fmt.Errorf("%d bytes are no reading: send a number, or small JSON", len(payload))
	case !strings.HasPrefix(text, "{"):
		return amount(m, text)
	}
	var in message
	dec := json.NewDecoder(bytes.NewReader([]byte(text)))
	if err := dec.Decode(&in); err != nil {
		return Reading{}, fmt.Errorf("not a reading in JSON: %s", strings.TrimPrefix(err.Error(), "json: "))
	}
	if dec.More() {
		return Reading{}, errors.New("the reading goes on after its end")
	}
	if in.Value == nil {
		return Reading{}, errors.New(`the reading has no "value"`)
	}
	r, err := amount(m, strings.TrimSpace(strconv.FormatFloat(*in.Value, 'f', -1, 64)+" "+in.Unit))
	r.At = in.At
	return r, err
}

// amount reads a number with or without its unit.
func amount(m Measure, text string) (Reading, error) {
	if len(text) > longestNumber {
		return Reading{}, fmt.Errorf("not a %s: %d bytes are no number with its unit", m, len(text))
	}
	if v, err := strconv.ParseFloat(text, 64); err == nil && strings.Trim(text, "0123456789+-.eE") == "" {
		return sized(Reading{Measure: m, Value: v, Kind: kinds[m][0]})
	}
	var first error
	for _, k := range kinds[m] {
		v, err := unit.Parse(text, k)
		if err == nil {
			return sized(Reading{Measure: m, Value: v, Kind: k})
		}
		if first == nil {
			first = err
		}
	}
	return Reading{}, fmt.Errorf("not a %s: %w", m, first)
}

func sized(r Reading) (Reading, error) {
	if math.IsNaN(r.Value) || math.Abs(r.Value) > 1e9 {
		return Reading{}, fmt.Errorf("not a %s: no sensor reads %v", r.Measure, r.Value)
	}
	return r, nil
}
