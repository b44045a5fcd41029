package main

import (
	"bytes"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write docs/checks.md")

// TestChecks holds docs/checks.md to the published cases of the tests.
func TestChecks(t *testing.T) {
	checks, err := readChecks(os.DirFS("../.."))
	if err != nil {
		t.Fatal(err)
	}
	const name = "../../docs/checks.md"
	page := checks.page()
	if *update {
		if err := os.WriteFile(name, page, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(have, page) {
		t.Error("docs/checks.md is stale: go test ./cmd/evenstead -run Checks -update")
	}
}

// checks are names of cases by package and source.
type checks map[string]map[string][]string

// readChecks collects the cases of every test file that has a TestPublished.
func readChecks(tree fs.FS) (checks, error) {
	packages := map[string][]*ast.File{}
	err := fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata"):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, "_test.go"):
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.SkipObjectResolution)
		if err != nil {
			return fmt.Errorf("parse %s: %w", name, err)
		}
		packages[path.Dir(name)] = append(packages[path.Dir(name)], file)
		return nil
	})
	found := checks{}
	for dir, files := range packages {
		if by := casesOf(files); len(by) > 0 {
			found[filepath.ToSlash(dir)] = by
		}
	}
	return found, err
}

// casesOf collects a package's cases by source, each in the order written.
func casesOf(files []*ast.File) map[string][]string {
	tables := map[string]*ast.StructType{}
	texts := map[string]ast.Expr{}
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.TypeSpec:
				if s, is := n.Type.(*ast.StructType); is {
					tables[n.Name.Name] = s
				}
			case *ast.ValueSpec:
				for i, v := range n.Values {
					texts[n.Names[min(i, len(n.Names)-1)].Name] = v
				}
			}
			return true
		})
	}
	by := map[string][]string{}
	for _, f := range files {
		if !slices.ContainsFunc(f.Decls, isPublished) {
			continue
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if list, is := n.(*ast.CompositeLit); is {
				collect(list, tables, texts, by)
			}
			return true
		})
	}
	return by
}

func isPublished(d ast.Decl) bool {
	f, is := d.(*ast.FuncDecl)
	return is && strings.HasPrefix(f.Name.Name, "TestPublished")
}

// collect takes the rows of a table whose struct has a source and a name.
func collect(list *ast.CompositeLit, tables map[string]*ast.StructType, texts map[string]ast.Expr, by map[string][]string) {
	array, is := list.Type.(*ast.ArrayType)
	if !is {
		return
	}
	row, is := array.Elt.(*ast.StructType)
	if named, isName := array.Elt.(*ast.Ident); isName {
		row, is = tables[named.Name], tables[named.Name] != nil
	}
	if !is {
		return
	}
	source, name := place(row, "source"), place(row, "name")
	if source < 0 || name < 0 {
		return
	}
	for _, e := range list.Elts {
		if c, is := e.(*ast.CompositeLit); is {
			s, okS := text(cell(c, "source", source), texts, 0)
			n, okN := text(cell(c, "name", name), texts, 0)
			if okS && okN {
				by[s] = append(by[s], n)
			}
		}
	}
}

// place is a field's place in a struct; -1 when there is none.
func place(s *ast.StructType, field string) int {
	at := 0
	for _, f := range s.Fields.List {
		for _, n := range f.Names {
			if n.Name == field {
				return at
			}
			at++
		}
	}
	return -1
}

// cell is a row's value for a field, written with its key or in its place.
func cell(row *ast.CompositeLit, field string, at int) ast.Expr {
	for i, e := range row.Elts {
		kv, keyed := e.(*ast.KeyValueExpr)
		if !keyed && i == at {
			return e
		}
		if keyed {
			if k, is := kv.Key.(*ast.Ident); is && k.Name == field {
				return kv.Value
			}
		}
	}
	return nil
}

// text is the string an expression stands for: literals, names of constants, and
// sums of them.
func text(e ast.Expr, texts map[string]ast.Expr, deep int) (string, bool) {
	if deep > 8 {
		return "", false
	}
	switch e := e.(type) {
	case *ast.BasicLit:
		s, err := strconv.Unquote(e.Value)
		return s, err == nil && e.Kind == token.STRING
	case *ast.ParenExpr:
		return text(e.X, texts, deep+1)
	case *ast.Ident:
		v, known := texts[e.Name]
		if !known {
			return "", false
		}
		return text(v, texts, deep+1)
	case *ast.BinaryExpr:
		a, okA := text(e.X, texts, deep+1)
		b, okB := text(e.Y, texts, deep+1)
		return a + b, okA && okB && e.Op == token.ADD
	}
	return "", false
}

// page is docs/checks.md.
func (c checks) page() []byte {
	var b bytes.Buffer
	cases, sources := 0, map[string]bool{}
	for _, by := range c {
		for s, names := range by {
			sources[s] = true
			cases += len(names)
		}
	}
	fmt.Fprintf(&b, "# Checks against published figures\n\nMade from the tests by `go test ./cmd/evenstead -run Checks -update`. Each case compares what the code\n"+
		"gives with a printed value, within the printed precision. Rows that a test makes in a loop are not counted.\n\n"+
		"**%d cases from %d sources.**\n\n| package | cases | sources |\n|---|---:|---:|\n", cases, len(sources))
	for _, dir := range slices.Sorted(maps.Keys(c)) {
		n := 0
		for _, names := range c[dir] {
			n += len(names)
		}
		fmt.Fprintf(&b, "| %s | %d | %d |\n", dir, n, len(c[dir]))
	}
	for _, dir := range slices.Sorted(maps.Keys(c)) {
		fmt.Fprintf(&b, "\n## %s\n\n| source | cases | what |\n|---|---:|---|\n", dir)
		for _, s := range slices.Sorted(maps.Keys(c[dir])) {
			fmt.Fprintf(&b, "| %s | %d | %s |\n", barless(s), len(c[dir][s]), barless(strings.Join(c[dir][s], "; ")))
		}
	}
	return b.Bytes()
}

// barless keeps a text from ending a cell of a Markdown table.
func barless(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

// TestReadChecks shows what the reader of checks takes and what it leaves.
func TestReadChecks(t *testing.T) {
	files := func(src string) []*ast.File {
		f, err := parser.ParseFile(token.NewFileSet(), "a_test.go", src, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		return []*ast.File{f}
	}
	const table = `package a
const allen = "Allen 1998"
type row struct { source, name string; got float64 }
func TestPublishedRows(t *testing.T) {
	const eq = allen + ", eq. "
	for _, c := range []row{
		{allen, "pressure", 1},
		{eq + "8", ("gamma"), 2},
		{source: allen, got: 3, name: "slope"},
		{fmt.Sprint(1), "made", 4},
		{allen, fmt.Sprint(2), 5},
	} { _ = c }
	_ = []struct{ name string }{{"no source"}}
	_ = []int{1}
}`
	got := casesOf(files(table))
	want := map[string][]string{"Allen 1998": {"pressure", "slope"}, "Allen 1998, eq. 8": {"gamma"}}
	if !maps.EqualFunc(got, want, slices.Equal) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := casesOf(files(strings.Replace(table, "TestPublished", "TestOther", 1))); len(got) != 0 {
		t.Errorf("a file without TestPublished gave %v", got)
	}
}
