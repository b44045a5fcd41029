package stead

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/unit"

	"github.com/pelletier/go-toml/v2/unstable"
)

var (
	dayType  = reflect.TypeFor[day.Day]()
	whenType = reflect.TypeFor[day.When]()
)

func isDate(t reflect.Type) bool { return t == dayType || t == whenType }

// setNode sets a field from a written value, which must be of a fitting kind.
func setNode(v reflect.Value, n *node, f reflect.StructField) error {
	ok, want := false, ""
	switch {
	case isDate(v.Type()):
		ok, want = n.kind == unstable.LocalDate || n.kind == unstable.String, "a date, such as 2026-11-01"
	case v.Kind() == reflect.String:
		ok, want = n.kind == unstable.String, "text in quotes"
	case v.Kind() == reflect.Bool:
		ok, want = n.kind == unstable.Bool, "true or false, without quotes"
	case v.Kind() == reflect.Int:
		ok, want = n.kind == unstable.Integer, "a whole number, without quotes"
	default:
		ok = n.kind == unstable.Integer || n.kind == unstable.Float || n.kind == unstable.String
		want = "an amount, such as " + sampleOf(f)
	}
	if !ok {
		return fmt.Errorf("must be %s", want)
	}
	if v.Kind() == reflect.Float64 && n.kind != unstable.String {
		return setNumber(v, n.text, f)
	}
	if v.Kind() == reflect.Float64 && wrongSide(n.text, f.Tag.Get("toml")) {
		return errors.New("a latitude is north or south, a longitude east or west; check the letter")
	}
	return setText(v, n.text, f)
}

// setText sets a field from text: what stands in quotes, or in a def tag.
func setText(v reflect.Value, text string, f reflect.StructField) error {
	switch {
	case v.Type() == dayType:
		d, err := day.Parse(text)
		v.Set(reflect.ValueOf(d))
		return err
	case v.Type() == whenType:
		w, err := day.ParseWhen(text)
		v.Set(reflect.ValueOf(w))
		return err
	case v.Kind() == reflect.String:
		v.SetString(text)
		return oneOf(text, f.Tag.Get("oneof"))
	case v.Kind() == reflect.Bool:
		v.SetBool(text == "true")
		return nil
	case v.Kind() == reflect.Int:
		n, err := strconv.ParseInt(strings.ReplaceAll(text, "_", ""), 0, 32)
		if err != nil {
			return errors.New("must be a whole number, without quotes")
		}
		v.SetInt(n)
		return inRange(float64(n), f)
	}
	x, err := unit.Parse(text, kindOf(f))
	if err != nil {
		return unitFault(err)
	}
	v.SetFloat(x)
	return inRange(x, f)
}

// setNumber sets an amount from a TOML number, which is SI.
func setNumber(v reflect.Value, text string, f reflect.StructField) error {
	text = strings.ReplaceAll(text, "_", "")
	x, err := strconv.ParseFloat(text, 64)
	if n, hex := strconv.ParseInt(text, 0, 64); err != nil && hex == nil {
		x, err = float64(n), nil
	}
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return fmt.Errorf("must be a plain number, such as %s", sampleOf(f))
	}
	v.SetFloat(x)
	return inRange(x, f)
}

func kindOf(f reflect.StructField) unit.Kind {
	if k := f.Tag.Get("unit"); k != "" {
		return unit.Kind(k)
	}
	return unit.Number
}

// unitFault drops the text from a unit error: the problem names it already.
func unitFault(err error) error {
	var e *unit.Error
	if errors.As(err, &e) {
		return fmt.Errorf("%s; %s", e.Problem, e.Mend)
	}
	return err
}

// wrongSide reports an E or W on a latitude, an N or S on a longitude.
func wrongSide(text, key string) bool {
	letters := map[string]string{"latitude": "EWew", "longitude": "NSns"}[key]
	return letters != "" && strings.ContainsAny(text, letters) && !strings.Contains(text, "deg")
}

func oneOf(text, among string) error {
	words := strings.Fields(among)
	if among == "" || contains(words, text) {
		return nil
	}
	if near := unit.Nearest(text, words); near != "" {
		return fmt.Errorf("not one of %s; meant %q?", strings.Join(words, ", "), near)
	}
	return fmt.Errorf("must be one of %s", strings.Join(words, ", "))
}

// inRange holds a number to the min and max tags of its field.
func inRange(x float64, f reflect.StructField) error {
	show := func(v float64) string {
		return strings.ReplaceAll(unit.Format(v, kindOf(f), unit.Metric), "\u00a0", " ")
	}
	if low, err := strconv.ParseFloat(f.Tag.Get("min"), 64); err == nil && x < low {
		return fmt.Errorf("too small; write %s or more", show(low))
	}
	if high, err := strconv.ParseFloat(f.Tag.Get("max"), 64); err == nil && x > high {
		return fmt.Errorf("too large; write %s or less", show(high))
	}
	return nil
}

var samples = map[unit.Kind]string{
	unit.Angle: "40.1", unit.Length: `"2 km"`, unit.Area: `"12 m2"`, unit.Volume: `"1000 L"`,
	unit.Mass: `"10 kg"`, unit.Temperature: "8.5", unit.Depth: `"40 mm"`, unit.Energy: `"250 Wh"`,
	unit.Power: `"40 W"`, unit.Time: `"1 h"`, unit.Flow: `"3 L/day"`, unit.MassRate: `"2 kg/week"`,
	unit.ArealMass: `"2 kg/m2"`, unit.Speed: `"12 km/h"`, unit.Share: `"85 %"`, unit.Number: "2",
}

// sampleOf is a value a key could have.
func sampleOf(f reflect.StructField) string {
	if words := f.Tag.Get("oneof"); words != "" {
		quoted := []string{}
		for _, w := range strings.Fields(words) {
			quoted = append(quoted, strconv.Quote(w))
		}
		return strings.Join(quoted, " or ")
	}
	switch key := f.Tag.Get("toml"); {
	case key == "age":
		return "35"
	case f.Type == whenType:
		return `"5 Nov"`
	case f.Type == dayType:
		return "2026-11-01"
	case f.Type.Kind() == reflect.Float64 || f.Type.Kind() == reflect.Slice && f.Type.Elem().Kind() == reflect.Float64:
		return samples[kindOf(f)]
	}
	return `"..."`
}

func sample(f reflect.StructField) string {
	s := sampleOf(f)
	if f.Type.Kind() == reflect.Slice {
		s = "[" + s + ", ...] with twelve values, January first"
	}
	return f.Tag.Get("toml") + " = " + s
}
