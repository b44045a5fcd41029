package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// sources parses every Go file of the tree; kept says which.
func sources(t *testing.T, kept func(path string) bool) map[string]*ast.File {
	t.Helper()
	files := map[string]*ast.File{}
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && len(d.Name()) > 2):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go") || !kept(path):
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		files[strings.TrimPrefix(filepath.ToSlash(path), "../../")] = f
		return err
	})
	if err != nil || len(files) < 100 {
		t.Fatalf("%d files: %v", len(files), err)
	}
	return files
}

// TestSecurityTable holds docs/security.md to the tests: each line of the table
// names one that there is, in the order of the standard.
func TestSecurityTable(t *testing.T) {
	text, err := os.ReadFile("../../docs/security.md")
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]bool{}
	for _, f := range sources(t, func(path string) bool { return strings.HasSuffix(path, "_test.go") }) {
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv == nil {
				there[fn.Name.Name] = true
			}
		}
	}
	rows := regexp.MustCompile(`(?m)^\| (\d+\.\d+\.\d+) \| ([^|]+) \| ([^|]+) \| (\w+) \|$`).FindAllStringSubmatch(string(text), -1)
	if len(rows) < 45 {
		t.Fatalf("only %d items", len(rows))
	}
	if lines := regexp.MustCompile(`(?m)^\| \d`).FindAllString(string(text), -1); len(lines) != len(rows) {
		t.Errorf("%d of %d lines of the table can't be read", len(lines)-len(rows), len(lines))
	}
	last := []int{0, 0, 0}
	for _, r := range rows {
		item := numbers(r[1])
		if slices.Compare(item, last) <= 0 {
			t.Errorf("%s is out of order", r[1])
		}
		last = item
	}
	for _, name := range regexp.MustCompile(`\b(?:Test|Fuzz)[A-Z]\w+`).FindAllString(string(text), -1) {
		if !there[name] {
			t.Errorf("there is no %s", name)
		}
	}
}

func numbers(item string) (out []int) {
	for part := range strings.SplitSeq(item, ".") {
		n, err := strconv.Atoi(part)
		if err != nil {
			return nil
		}
		out = append(out, n)
	}
	return out
}

// banned are packages that no program of ours may need, and the files that may.
var banned = map[string][]string{
	"encoding/xml": nil, "encoding/gob": nil, "text/template": nil, "plugin": nil, "net/http/pprof": nil, "net/http/cgi": nil, "net/rpc": nil,
	"crypto/md5": nil, "crypto/sha1": {"device/authority.go"}, // the name of a key, as RFC 5280 section 4.2.1.2 writes it
	"crypto/des": nil, "crypto/rc4": nil, "crypto/cipher": nil, "crypto/aes": nil,
	"unsafe":  nil,
	"os/exec": {"wire/bell.go", "cmd/release/main.go", "outside/tool.go"}, // the last is for tests alone, and no package may import it
}

// TestOnlySafePackages reads the imports of everything but the tests: nothing that
// parses XML or foreign objects, runs text, or uses weak or home-made encryption; a
// file that makes secrets takes its chance from crypto/rand.
func TestOnlySafePackages(t *testing.T) {
	for path, f := range sources(t, func(path string) bool { return !strings.HasSuffix(path, "_test.go") }) {
		for _, spec := range f.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			if may, is := banned[name]; is && !slices.Contains(may, path) {
				t.Errorf("%s imports %s", path, name)
			}
			secret := strings.HasPrefix(path, "device/") || strings.HasPrefix(path, "wire/") || strings.HasPrefix(path, "cmd/evenstead/sensors")
			if secret && strings.HasPrefix(name, "math/rand") {
				t.Errorf("%s imports %s", path, name)
			}
		}
	}
}

// TestQueriesAreConstants: what is sent to the database as SQL is written in the
// program, joined of literals and constants alone. The clauses that entries and
// all take are their callers' literals.
func TestQueriesAreConstants(t *testing.T) {
	asked := 0
	for path, f := range sources(t, func(path string) bool { return !strings.HasSuffix(path, "_test.go") }) {
		if !strings.HasPrefix(path, "store/") {
			for _, spec := range f.Imports {
				if spec.Path.Value == `"database/sql"` {
					t.Errorf("%s speaks to the database: store alone does", path)
				}
			}
			continue
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if q := queryOf(call); q != nil {
				if asked++; !constant(q) {
					t.Errorf("%s: a query that is not written out", path)
				}
			}
			return true
		})
	}
	if asked < 30 {
		t.Errorf("only %d queries were found", asked)
	}
}

// queryOf is the argument of a call that is SQL; nil when the call sends none.
func queryOf(call *ast.CallExpr) ast.Expr {
	name := ""
	switch f := call.Fun.(type) {
	case *ast.SelectorExpr:
		name = f.Sel.Name
		if x, ok := f.X.(*ast.Ident); ok && x.Name == "put" { // a statement that is prepared already
			return nil
		}
	case *ast.Ident:
		name = f.Name
	}
	at := map[string]int{"ExecContext": 1, "QueryContext": 1, "QueryRowContext": 1, "PrepareContext": 1, "QueryRow": 0, "entries": 2, "all": 2}
	i, is := at[name]
	if !is || i >= len(call.Args) {
		return nil
	}
	return call.Args[i]
}

// constant reports whether an expression is joined of literals and names that
// stand for such: the clause and query handed on by entries and all, and by count.
func constant(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Kind == token.STRING
	case *ast.BinaryExpr:
		return e.Op == token.ADD && constant(e.X) && constant(e.Y)
	case *ast.Ident:
		return e.Name == "clause" || e.Name == "query"
	}
	return false
}
