package stead

import (
	"fmt"
	"reflect"
	"strings"

	"evenstead/unit"

	"github.com/pelletier/go-toml/v2/unstable"
)

// maxText is the largest description read: 1 MB.
const maxText = 1 << 20

// Read turns a TOML text into a Stead with every default filled in and listed
// in Taken. name says where the text came from; it heads the error. All faults
// are found at once: the error wraps an Errors.
func Read(name string, text []byte) (*Stead, error) {
	s, errs := read(text)
	if err := errs.asError(); err != nil {
		return nil, fmt.Errorf("%s:\n%w", name, err)
	}
	return s, nil
}

func read(text []byte) (*Stead, Errors) {
	if len(text) > maxText {
		return nil, Errors{{Mend: fmt.Sprintf("the text is %.1f MB; a description holds at most 1 MB, so leave records to the book", float64(len(text))/maxText)}}
	}
	root, g := grow(text)
	if len(root.entries) == 0 && !g.broken {
		return nil, Errors{{Mend: "nothing is described; four lines are enough: place.latitude, people, roof and bed"}}
	}
	r := &reader{errs: g.errs, broken: g.broken, spots: spots{}}
	r.shorthand(root)
	s := new(Stead)
	r.structure(reflect.ValueOf(s).Elem(), root, "", "")
	r.complete(s)
	if !r.broken {
		c := &checker{s: s, spots: r.spots, told: map[string]bool{}}
		for _, p := range r.errs {
			c.told[p.Part+": "+p.Key] = true
		}
		c.all()
		r.errs = append(r.errs, c.errs...)
	}
	s.Taken = r.taken
	return s, r.errs
}

// A spot is where a part or a key stands in the text; its path is
// "tank/3/overflow".
type spot struct {
	line int
	raw  string
}

type spots map[string]spot

type reader struct {
	errs   Errors
	taken  []Default
	broken bool
	spots  spots
}

func (r *reader) bad(line int, part, key, value, format string, args ...any) {
	r.errs = append(r.errs, Problem{line, part, key, value, fmt.Sprintf(format, args...)})
}

// structure fills a struct from a table. part names it in messages, path in spots.
func (r *reader) structure(v reflect.Value, t *table, part, path string) {
	r.spots[path] = spot{line: t.line}
	var known []string
	for i := range v.NumField() {
		f := v.Type().Field(i)
		key := f.Tag.Get("toml")
		if key == "-" {
			continue
		}
		known = append(known, key)
		if n := t.get(key); n != nil {
			r.spots[join(path, key)] = spot{n.line, n.raw}
			r.value(v.Field(i), n, f, part, join(path, key))
		} else {
			r.absent(v.Field(i), t, f, part, join(path, key))
		}
	}
	r.unknown(t, known, part)
}

func join(path, key string) string { return strings.TrimPrefix(path+"/"+key, "/") }

func (r *reader) unknown(t *table, known []string, part string) {
	for _, e := range t.entries {
		if contains(known, e.key) {
			continue
		}
		near := unit.Nearest(e.key, known)
		what := "no such key in " + part
		p := Problem{Line: e.line, Part: part, Key: e.key, Value: e.value.raw}
		if part == "" {
			what = "no such part"
			p = Problem{Line: e.line, Part: e.key}
		}
		p.Mend = what + "; the names are " + strings.Join(known, ", ")
		if near != "" {
			p.Mend = what + "; meant " + near + "?"
		}
		r.errs = append(r.errs, p)
	}
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
}

// absent takes the default of a key that is not written.
func (r *reader) absent(v reflect.Value, t *table, f reflect.StructField, part, path string) {
	key := f.Tag.Get("toml")
	def, has := f.Tag.Lookup("def")
	switch {
	case f.Type.Kind() == reflect.Struct && !isDate(f.Type):
		r.structure(v, &table{}, key, path)
	case isParts(f.Type) || def == "-":
	case !has:
		if !r.broken {
			r.bad(t.line, part, key, "", "missing; write %s", sample(f))
		}
	default:
		if err := setText(v, def, f); err != nil {
			r.bad(0, part, key, def, "%v", err)
		}
		r.take(part, key, def)
	}
}

func (r *reader) take(part, key, value string) {
	r.taken = append(r.taken, Default{part, key, value, reason(part, key)})
}

// value fills a field from the value written for it.
func (r *reader) value(v reflect.Value, n *node, f reflect.StructField, part, path string) {
	key := f.Tag.Get("toml")
	switch {
	case f.Type.Kind() == reflect.Struct && !isDate(f.Type):
		if n.table == nil {
			r.bad(n.line, part, key, n.raw, "must be a table; write [%s] on a line of its own and the keys under it", key)
			return
		}
		r.structure(v, n.table, key, path)
	case isParts(f.Type):
		r.parts(v, n, key, part, path)
	case f.Type.Kind() == reflect.Slice:
		r.list(v, n, f, part)
	default:
		r.scalar(v, n, f, part)
	}
}

// isParts reports whether a field is a list of parts, such as tanks.
func isParts(t reflect.Type) bool {
	return t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct
}

// parts fills a list of parts; a single table counts as a list of one.
func (r *reader) parts(v reflect.Value, n *node, key, part, path string) {
	list := n.list
	if n.table != nil {
		list = []*node{n}
	}
	for i, item := range list {
		if item.table == nil {
			r.bad(item.line, part, key, item.raw, "must be a table; write [[%s]] on a line of its own and the keys under it", key)
			continue
		}
		one := reflect.New(v.Type().Elem()).Elem()
		r.structure(one, item.table, called(part, key, i, item.table), fmt.Sprintf("%s/%d", path, i))
		v.Set(reflect.Append(v, one))
	}
	if n.table == nil && n.kind != unstable.Array {
		r.bad(n.line, part, key, n.raw, "must be a table; write [[%s]] on a line of its own and the keys under it", key)
	}
}

// called is a part's name in messages: by its name, else by its number.
func called(part, key string, i int, t *table) string {
	name := fmt.Sprintf("%s %d", key, i+1)
	if n := t.get("name"); n != nil && n.kind == unstable.String && n.text != "" && n.text != name {
		name = fmt.Sprintf("%s %q", key, n.text)
	}
	return strings.TrimPrefix(part+", "+name, ", ")
}

// list fills a list of plain values; a single value counts as a list of one.
func (r *reader) list(v reflect.Value, n *node, f reflect.StructField, part string) {
	items := n.list
	if n.kind != unstable.Array {
		items = []*node{n}
	}
	for _, item := range items {
		one := reflect.New(v.Type().Elem()).Elem()
		r.scalar(one, item, f, part)
		v.Set(reflect.Append(v, one))
	}
}

func (r *reader) scalar(v reflect.Value, n *node, f reflect.StructField, part string) {
	if err := setNode(v, n, f); err != nil {
		r.bad(n.line, part, f.Tag.Get("toml"), n.raw, "%v", err)
	}
}
