package stead

import (
	"bytes"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/unit"
)

// Write prints s as TOML that Read turns back into the same stead. Keys at
// their defaults are left out, so that what is written is what was described.
// Errors are those of w.
func (s *Stead) Write(w io.Writer) error {
	var p printer
	p.structure(reflect.ValueOf(s).Elem(), "")
	_, err := w.Write(bytes.TrimPrefix(p.Bytes(), []byte("\n")))
	if err != nil {
		return fmt.Errorf("write stead: %w", err)
	}
	return nil
}

type printer struct{ bytes.Buffer }

// structure prints the plain keys of a struct, then its tables under path.
func (p *printer) structure(v reflect.Value, path string) {
	var later []int
	for i := range v.NumField() {
		f := v.Type().Field(i)
		switch nested := f.Type.Kind() == reflect.Struct && !isDate(f.Type); {
		case f.Tag.Get("toml") == "-":
		case nested, isParts(f.Type) && !isAway(f.Type):
			later = append(later, i)
		case !atDefault(v.Field(i), f):
			fmt.Fprintf(p, "%s = %s\n", f.Tag.Get("toml"), literal(v.Field(i), f))
		}
	}
	for _, i := range later {
		f := v.Type().Field(i)
		p.tables(v.Field(i), strings.TrimPrefix(path+"."+f.Tag.Get("toml"), "."))
	}
}

// isAway tells the one part that is printed inside its owner, on one line.
func isAway(t reflect.Type) bool { return t == reflect.TypeFor[[]Away]() }

func (p *printer) tables(v reflect.Value, path string) {
	if v.Kind() == reflect.Struct {
		var inner printer
		inner.structure(v, path)
		if inner.Len() > 0 {
			fmt.Fprintf(p, "\n[%s]\n%s", path, inner.String())
		}
		return
	}
	for i := range v.Len() {
		fmt.Fprintf(p, "\n[[%s]]\n", path)
		p.structure(v.Index(i), path)
	}
}

// atDefault reports whether leaving the key out gives the same value.
func atDefault(v reflect.Value, f reflect.StructField) bool {
	def, has := f.Tag.Lookup("def")
	switch {
	case f.Tag.Get("absent") != "" || !has:
		return false
	case def == "-" || v.Kind() == reflect.String && v.String() == "":
		return v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0
	}
	taken := reflect.New(v.Type()).Elem()
	return setText(taken, def, f) == nil && taken.Equal(v)
}

// literal is a value as TOML.
func literal(v reflect.Value, f reflect.StructField) string {
	switch x := v.Interface().(type) {
	case day.Day:
		return x.String()
	case day.When:
		if x.Year != 0 {
			return x.String()
		}
		return quote(x.String())
	case string:
		return quote(x)
	case float64:
		return amount(x, kindOf(f))
	case []Away:
		return aways(x)
	}
	if v.Kind() != reflect.Slice {
		return fmt.Sprint(v.Interface())
	}
	items := make([]string, v.Len())
	for i := range items {
		if items[i] = literal(v.Index(i), f); v.Index(i).Kind() == reflect.Float64 {
			items[i] = amount(v.Index(i).Float(), unit.Number)
		}
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// amount is an SI amount, with its unit where there is one.
func amount(x float64, k unit.Kind) string {
	n := strconv.FormatFloat(x, 'f', -1, 64)
	if u := unit.Symbol(k); u != "" {
		return quote(n + " " + u)
	}
	return n
}

func aways(list []Away) string {
	items := make([]string, len(list))
	for i, a := range list {
		items[i] = fmt.Sprintf("{ from = %s, to = %s }", quote(a.From.String()), quote(a.To.String()))
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// quote writes a TOML basic string.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
