package lp

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// file wraps columns, right sides, ranges and bounds into a whole file.
func file(sections string) string {
	return "NAME t\nROWS\n N cost\n L l\n G g\n E e\n N idle\nCOLUMNS\n x cost 1 l 1\n x g 1 e 1\n y l 2\n" + sections + "ENDATA\n"
}

func TestReadMPSRowSides(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		name, text string
		row        int
		lo, up     float64
	}{
		{"L without right side", "", 0, -inf, 0},
		{"G", "RHS\n RHS g 3\n", 1, 3, inf},
		{"E", "RHS\n RHS e -3\n", 2, -3, -3},
		{"second N", "", 3, -inf, inf},
		{"set name left out", "RHS\n g 3 l 4\n", 1, 3, inf},
		{"L range", "RHS\n R l 6\nRANGES\n R l 4\n", 0, 2, 6},
		{"L range, negative", "RHS\n R l 6\nRANGES\n R l -4\n", 0, 2, 6},
		{"G range", "RHS\n R g -4\nRANGES\n R g 5\n", 1, -4, 1},
		{"E range up", "RHS\n R e 2\nRANGES\n R e 3\n", 2, 2, 5},
		{"E range down", "RHS\n R e 1\nRANGES\n R e -2\n", 2, -1, 1},
		{"E range zero", "RHS\n R e 1\nRANGES\n R e 0\n", 2, 1, 1},
		{"no side by name", "RHS\n R g -inf\n", 1, -inf, inf},
		{"no side by size", "RHS\n R g -1e30\n", 1, -inf, inf},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := ReadMPS(strings.NewReader(file(c.text)))
			if err != nil {
				t.Fatal(err)
			}
			if p.RowLo[c.row] != c.lo || p.RowUp[c.row] != c.up {
				t.Errorf("row %s runs from %g to %g, want %g to %g", p.RowName(c.row), p.RowLo[c.row], p.RowUp[c.row], c.lo, c.up)
			}
		})
	}
}

func TestReadMPSBounds(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		name, text string
		lo, up     float64
	}{
		{"none", "", 0, inf},
		{"LO", " LO B x -2\n", -2, inf},
		{"UP", " UP B x 3\n", 0, 3},
		{"UP zero", " UP B x 0\n", 0, 0},
		{"UP negative alone", " UP B x -3\n", -inf, -3},
		{"UP negative after LO", " LO B x -5\n UP B x -3\n", -5, -3},
		{"FX", " FX B x 1.5\n", 1.5, 1.5},
		{"FR", " FR B x\n", -inf, inf},
		{"MI", " MI B x\n", -inf, inf},
		{"MI, UP", " MI B x\n UP B x 2\n", -inf, 2},
		{"PL after UP", " UP B x 2\n PL B x\n", 0, inf},
		{"BV", " BV B x\n", 0, 1},
		{"set name left out", " UP x 3\n", 0, 3},
		{"set name left out, no value", " FR x\n", -inf, inf},
		{"value where none is asked", " MI B x 0\n", -inf, inf},
		{"LO of minus infinity", " LO B x -1e30\n", -inf, inf},
		{"set named as a column", " MI y x\n", -inf, inf},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := ReadMPS(strings.NewReader(file("BOUNDS\n" + c.text)))
			if err != nil {
				t.Fatal(err)
			}
			if p.ColLo[0] != c.lo || p.ColUp[0] != c.up {
				t.Errorf("x runs from %g to %g, want %g to %g", p.ColLo[0], p.ColUp[0], c.lo, c.up)
			}
		})
	}
}

func TestReadMPSOffset(t *testing.T) {
	for rhs, want := range map[string]float64{"-7.5": 7.5, "4": -4, "0": 0} {
		p, err := ReadMPS(strings.NewReader(file("RHS\n R cost " + rhs + "\n")))
		if err != nil {
			t.Fatal(err)
		}
		if p.Offset != want {
			t.Errorf("right side %s of the cost gives offset %g, want %g", rhs, p.Offset, want)
		}
	}
}

func TestReadMPSFaults(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"empty":            {"", "no ENDATA"},
		"no cost":          {"ROWS\n L a\nENDATA\n", "no N row"},
		"unknown section":  {"ROWZ\n", "line 1: unknown section"},
		"data too early":   {" x\n", "line 1: data outside"},
		"row kind":         {"ROWS\n Q a\n", "line 2: a row is a kind"},
		"row twice":        {"ROWS\n L a\n L a\n", "line 3: row a named twice"},
		"unknown row":      {file(" y nowhere 1\n"), `no row "nowhere"`},
		"not a number":     {file(" y g one\n"), `"one" is not a number`},
		"NaN":              {file(" y g nan\n"), "not a number"},
		"infinite entry":   {file(" y g 1e30\n"), "coefficient +Inf"},
		"entry twice":      {file(" y l 1\n"), "row l: the same row twice"},
		"column twice":     {file(" z l 1\n x idle 1\n"), "column x comes in two places"},
		"half a pair":      {file(" y l\n"), "pairs of row and value"},
		"marker":           {file(" M 'MARKER' 'INTORG'\n"), "integer markers"},
		"maximise":         {"OBJSENSE\n MAX\n", "only MIN"},
		"second set":       {file("RHS\n A l 1\n B g 1\n"), `second set "B"`},
		"right side twice": {file("RHS\n A l 1 l 1\n"), "second right side"},
		"range twice":      {file("RANGES\n A l 1 l 1\n"), "second range"},
		"range on cost":    {file("RANGES\n A cost 1\n"), "range on an N row"},
		"bound kind":       {file("BOUNDS\n LI B x 1\n"), `bound kind "LI"`},
		"bound column":     {file("BOUNDS\n UP B q 1\n"), `no column "q"`},
		"bound fields":     {file("BOUNDS\n UP x\n"), "want kind, set, column"},
		"crossed bounds":   {file("BOUNDS\n LO B x 5\n UP B x 3\n"), "column x runs from 5 to 3"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ReadMPS(strings.NewReader(c.text))
			if !errors.Is(err, ErrMPS) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %q, want one with %q", err, c.want)
			}
		})
	}
}

func roundTrip(p *Problem) (*Problem, error) {
	var b bytes.Buffer
	if err := WriteMPS(&b, p); err != nil {
		return nil, err
	}
	return ReadMPS(&b)
}

func TestWriteMPSRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t, 6, 6)
		p.Name, p.Offset = "drawn", float64(rapid.IntRange(-3, 3).Draw(t, "offset"))
		q, err := roundTrip(p)
		if err != nil {
			t.Fatal(err)
		}
		for i := range p.RowNames {
			p.RowNames[i] = p.RowName(i)
		}
		for j := range p.ColNames {
			p.ColNames[j] = p.ColName(j)
		}
		if p.Row == nil {
			q.Row, q.Value = nil, nil
		}
		if !reflect.DeepEqual(p, q) {
			t.Fatalf("wrote\n%+v\nread\n%+v", p, q)
		}
	})
}

func TestWriteMPSFaults(t *testing.T) {
	for name, names := range map[string][]string{"blank": {"a b", "c"}, "twice": {"a", "a"}, "marker": {"'MARKER'", "b"}} {
		p := &Problem{Start: []int{0, 0, 0}, Cost: []float64{0, 0}, ColLo: []float64{0, 0}, ColUp: []float64{1, 1}, ColNames: names}
		if err := WriteMPS(&bytes.Buffer{}, p); !errors.Is(err, ErrProblem) {
			t.Errorf("%s: error %v, want ErrProblem", name, err)
		}
	}
}

func FuzzReadMPS(f *testing.F) {
	files, err := filepath.Glob("testdata/*.mps")
	if err != nil || len(files) == 0 {
		f.Fatal("no files to start from", err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		if len(text) < 4000 {
			f.Add(string(text))
		}
	}
	f.Add(file("RHS\n R cost -4 l 3\nRANGES\n R l 2\nBOUNDS\n BV B x\n MI y\n"))
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ReadMPS(strings.NewReader(text))
		if err != nil {
			return
		}
		if err := p.Check(); err != nil {
			t.Fatalf("read a malformed problem: %v", err)
		}
		q, err := roundTrip(p)
		if err != nil {
			return // a range lost to rounding, or a name that cannot stand
		}
		if len(q.RowLo) != len(p.RowLo) || !reflect.DeepEqual(q.Cost, p.Cost) || !reflect.DeepEqual(q.Start, p.Start) {
			t.Fatalf("a problem of %d rows and %d columns came back with %d and %d", len(p.RowLo), len(p.Cost), len(q.RowLo), len(q.Cost))
		}
	})
}
