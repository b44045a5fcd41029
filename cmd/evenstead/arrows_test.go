package main

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestArrowsPointOneWay reads the imports of every package: from the shells to
// the engine, to the sciences, to day, unit and data.
func TestArrowsPointOneWay(t *testing.T) {
	low := []string{"day", "unit", "data"}
	all := append([]string{"stead", "engine", "weather", "water", "crop", "diet", "larder", "fertility", "fuel", "work", "reckon", "book", "lp"}, low...)
	may := map[string][]string{
		"day": nil, "device": nil, "lp": nil, "outside": nil, "unit": nil, "reckon": {"day", "data", "book", "stead", "engine"},
		"data": {"unit"}, "book": {"day", "unit", "data", "stead"}, "store": {"book", "day"},
		"sense": {"day", "unit", "book"}, "wire": {"day", "unit", "book", "store", "hearth", "sense"},
		"stead":  {"day", "unit", "data"},
		"skill":  {"day", "data", "stead", "weather", "engine"},
		"sums":   {"day", "unit", "data", "weather", "water", "crop", "diet", "larder", "fertility", "fuel", "work"},
		"engine": {"day", "unit", "data", "stead", "book", "weather", "water", "crop", "diet", "larder", "fertility", "fuel", "work"},
		"hearth": {"day", "unit", "data", "stead", "weather", "book", "store", "engine", "reckon", "larder"},
		"tasks":  {"day", "unit", "data", "stead", "engine", "crop", "weather"},
		"paper":  {"day", "unit", "data", "stead", "book", "engine", "tasks", "weather", "crop", "larder", "work"},
		"plan":   {"day", "unit", "data", "stead", "weather", "crop", "water", "engine", "lp", "hearth"},
		"lever":  {"day", "unit", "data", "stead", "engine", "weather", "hearth"},
		"web":    {"device", "lever", "plan", "sums", "tasks", "paper", "reckon", "skill", "day", "unit", "data", "engine", "book", "stead", "weather", "hearth", "sense"}, "cmd/evenstead": append(all, "device", "sense", "wire", "web", "store", "demo", "sums", "hearth", "skill", "lever", "tasks", "paper", "plan"),
	}
	for _, science := range []string{"weather", "water", "crop", "diet", "larder", "fertility", "fuel", "work"} {
		may[science] = low
	}
	for pkg, allowed := range may {
		files, err := filepath.Glob(filepath.Join("../..", pkg, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("package %s: no files (%v)", pkg, err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			for _, path := range importsOf(t, file) {
				if name, ours := strings.CutPrefix(path, "evenstead/"); ours && !slices.Contains(allowed, name) {
					t.Errorf("%s imports %s: it may import %v of ours", file, name, allowed)
				}
			}
		}
	}
}

func importsOf(t *testing.T, file string) []string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	var paths []string
	for _, spec := range f.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}
