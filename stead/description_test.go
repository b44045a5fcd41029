package stead

import (
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"evenstead/day"
)

var update = flag.Bool("update", false, "write docs/description.md anew")

const descriptionTop = `# The description, key by key

A stead is described in TOML 1.0. Parts that a place has several of are written ` + "`[[roof]]`" + ` as often as there are roofs; what a place
has one of, ` + "`[place]`" + `. Four short forms are read too: ` + "`people = 2`, `roof = [{ ... }]`, `bed = [{ ... }]`, `place.latitude = 29.7`" + `.
Amounts carry their units, metric or US, in quotes. ` + "`evenstead check FILE`" + ` tells what was understood and every default taken;
[quernfold.toml](../demo/quernfold.toml) uses every part but rations and pieces. This page is made from the types that the text is read into.

The third column is what is taken where the key is not written; what "may be left out" leads to then is told in the last column, after 0 or
an empty "". Dates are ` + "`2027-03-01`" + `; a day of every year is ` + "`15 Mar`" + `.
`

// TestDescription holds docs/description.md to the types of the file form.
func TestDescription(t *testing.T) {
	notes, err := fieldNotes()
	if err != nil {
		t.Fatal(err)
	}
	page := []byte(descriptionTop + describeParts(reflect.TypeFor[Stead](), notes))
	path := filepath.Join("..", "docs", "description.md")
	if *update {
		if err := os.WriteFile(path, page, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(kept) != string(page) {
		t.Error("docs/description.md no longer tells the file form; go test ./stead -run Description -update writes it anew")
	}
	for _, key := range []string{"`latitude`", "`[[tank]]`", "`overflow`", "`per_100g`"} {
		if !strings.Contains(string(kept), key) {
			t.Errorf("%s is not told", key)
		}
	}
}

// fieldNotes are the comments of the types ("Tank") and their fields ("Tank.Open").
func fieldNotes() (map[string]string, error) {
	set, notes := token.NewFileSet(), map[string]string{}
	for _, name := range []string{"types.go", "group.go", "rules.go", "ownfood.go"} {
		f, err := parser.ParseFile(set, name, nil, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			d, is := n.(*ast.GenDecl)
			if !is || d.Tok != token.TYPE {
				return true
			}
			for _, spec := range d.Specs {
				ts := spec.(*ast.TypeSpec)
				notes[ts.Name.Name] = oneLine(d.Doc.Text())
				if st, is := ts.Type.(*ast.StructType); is {
					noteFields(notes, ts.Name.Name, st)
				}
			}
			return false
		})
	}
	return notes, nil
}

func noteFields(notes map[string]string, of string, st *ast.StructType) {
	for _, f := range st.Fields.List {
		text := f.Comment.Text() + " " + f.Doc.Text()
		for _, n := range f.Names {
			notes[of+"."+n.Name] = oneLine(text)
		}
	}
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// describeParts writes a section for each part of the stead, and one for the
// tables inside a part below it.
func describeParts(stead reflect.Type, notes map[string]string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n## top of the file\n\n%s", describeKeys(stead, notes))
	for f := range structs(stead) {
		head := fmt.Sprintf("`[%s]`", f.key)
		if f.many {
			head = fmt.Sprintf("`[[%s]]`", f.key)
		}
		section(&b, "##", head, f.of, notes)
		for in := range structs(f.of) {
			head := fmt.Sprintf("`%s` of `%s`", in.key, f.key)
			section(&b, "###", head, in.of, notes)
		}
	}
	return b.String()
}

func section(b *strings.Builder, level, head string, of reflect.Type, notes map[string]string) {
	note := notes[of.Name()]
	fmt.Fprintf(b, "\n%s %s\n\n%s\n\n%s", level, head, note, describeKeys(of, notes))
}

// A part is a field that holds tables of its own.
type part struct {
	key  string
	many bool
	of   reflect.Type
}

func structs(t reflect.Type) func(func(part) bool) {
	return func(yield func(part) bool) {
		for i := range t.NumField() {
			f := t.Field(i)
			of, many := f.Type, f.Type.Kind() == reflect.Slice
			if many {
				of = of.Elem()
			}
			if key := f.Tag.Get("toml"); key != "-" && isTable(of) && !yield(part{key, many, of}) {
				return
			}
		}
	}
}

func isTable(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && t != reflect.TypeFor[day.When]() && t != reflect.TypeFor[day.Day]()
}

func describeKeys(t reflect.Type, notes map[string]string) string {
	var rows []string
	for i := range t.NumField() {
		f := t.Field(i)
		of := f.Type
		if of.Kind() == reflect.Slice {
			of = of.Elem()
		}
		if key := f.Tag.Get("toml"); key != "-" && !isTable(of) {
			rows = append(rows, fmt.Sprintf("| `%s` | %s | %s | %s |\n", key, writtenAs(f), defaultOf(f), strings.ReplaceAll(notes[t.Name()+"."+f.Name], "|", `\|`)))
		}
	}
	if rows == nil {
		return ""
	}
	return "| key | what is written | when it is not | more |\n|---|---|---|---|\n" + strings.Join(rows, "")
}

// writtenAs says what a key takes: its unit or type, choices and range.
func writtenAs(f reflect.StructField) string {
	if list := f.Tag.Get("oneof"); list != "" {
		return strings.Join(strings.Fields(list), ", ")
	}
	kind, lists := f.Tag.Get("unit"), ""
	of := f.Type
	if of.Kind() == reflect.Slice {
		of, lists = of.Elem(), "list of "
	}
	switch {
	case of == reflect.TypeFor[day.Day]():
		kind = "date"
	case of == reflect.TypeFor[day.When]():
		kind = "date or day of the year"
	case of.Kind() == reflect.Bool:
		kind = "true or false"
	case of.Kind() == reflect.String:
		kind = "text"
	case kind == "":
		kind = "number"
	}
	return lists + kindWord(kind) + rangeOf(f)
}

func kindWord(kind string) string {
	if w := map[string]string{"massrate": "mass a time", "arealmass": "mass an area", "flow": "volume a time", "depth": "depth (rain)"}[kind]; w != "" {
		return w
	}
	return kind
}

// siOf are the units that ranges of a kind are in.
var siOf = map[string]string{"length": " m", "area": " m2", "volume": " L", "mass": " kg", "flow": " L/day", "massrate": " kg/day",
	"arealmass": " kg/m2", "temperature": " °C", "energy": " MJ", "power": " W", "speed": " m/s", "angle": "°", "depth": " mm"}

func rangeOf(f reflect.StructField) string {
	low, high, unit := f.Tag.Get("min"), f.Tag.Get("max"), siOf[f.Tag.Get("unit")]
	switch {
	case low != "" && high != "":
		return fmt.Sprintf(", %s to %s%s", low, high, unit)
	case low != "" && low != "0":
		return fmt.Sprintf(", at least %s%s", low, unit)
	}
	return ""
}

func defaultOf(f reflect.StructField) string {
	def, has := f.Tag.Lookup("def")
	switch absent := f.Tag.Get("absent"); {
	case absent != "":
		return absent
	case !has:
		return "must be given"
	case def == "-" && f.Type.Kind() == reflect.Bool:
		return "false"
	case def == "-" && f.Tag.Get("toml") == "name":
		return "numbered"
	case def == "-":
		return "may be left out"
	}
	return def
}
