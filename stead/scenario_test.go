package stead

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A scenario file in testdata says in its first line what it proves, then
// holds one or more cases:
//
//	given
//	    the lines of a stead
//	expect error    each line below must be a line of the error, in order, and no other
//	expect taken    each line below, "part: key = value", must be among the defaults
//	expect caution  each line below must be part of some caution
//	expect read     the stead reads without fault
type scenario struct {
	file   string
	line   int
	given  string
	expect string
	lines  []string
}

func TestScenarios(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scenarios: %v", err)
	}
	for _, f := range files {
		for _, c := range scenarios(t, f) {
			t.Run(fmt.Sprintf("%s:%d", filepath.Base(f), c.line), func(t *testing.T) { c.run(t) })
		}
	}
}

func scenarios(t *testing.T, file string) (out []*scenario) {
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var given []string
	in := ""
	for i, line := range strings.Split(string(text), "\n") {
		body := strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "#") || body == "" && in != "given":
		case line == "given":
			in, given = "given", nil
		case strings.HasPrefix(line, "expect "):
			in = "expect"
			out = append(out, &scenario{file, i + 1, strings.Join(given, "\n"), strings.TrimPrefix(line, "expect "), nil})
		case in == "given":
			given = append(given, strings.TrimPrefix(line, "    "))
		case in == "expect":
			out[len(out)-1].lines = append(out[len(out)-1].lines, body)
		default:
			t.Fatalf("%s line %d: %q stands outside a case", file, i+1, line)
		}
	}
	return out
}

func (c *scenario) run(t *testing.T) {
	s, errs := read([]byte(c.given))
	err := errs.asError()
	if c.expect != "error" && err != nil {
		t.Fatalf("does not read:\n%v", err)
	}
	switch c.expect {
	case "read":
	case "error":
		if got, want := fmt.Sprint(err), strings.Join(c.lines, "\n"); got != want {
			t.Errorf("got\n%s\nwant\n%s", got, want)
		}
	case "taken":
		var all strings.Builder
		for _, d := range s.Taken {
			fmt.Fprintf(&all, "%s: %s = %s\n", d.Part, d.Key, d.Value)
		}
		c.has(t, all.String())
	case "caution":
		var all strings.Builder
		for _, d := range Cautions(s) {
			fmt.Fprintf(&all, "%s: %s\n", d.Part, d.Text)
		}
		c.has(t, all.String())
	default:
		t.Fatalf("%s line %d: unknown expectation %q", c.file, c.line, c.expect)
	}
}

func (c *scenario) has(t *testing.T, all string) {
	for _, want := range c.lines {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not among\n%s", want, all)
		}
	}
}
