package lp

import (
	"compress/gzip"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// instance reads a check instance from testdata.
func instance(t testing.TB, file string) *Problem {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var r io.Reader = f
	if strings.HasSuffix(file, ".gz") {
		if r, err = gzip.NewReader(f); err != nil {
			t.Fatal(err)
		}
	}
	p, err := ReadMPS(r)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return p
}

// table reads a CSV file from testdata, each row by column name.
func table(t testing.TB, file string) []map[string]string {
	t.Helper()
	return rowsOf(t, filepath.Join("testdata", file))
}

// rowsOf reads a CSV file with a head; lines from # are left out.
func rowsOf(t testing.TB, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range all[1:] {
		row := map[string]string{}
		for k, v := range line {
			row[all[0][k]] = v
		}
		rows = append(rows, row)
	}
	return rows
}
