package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// TestScenario runs every text of testdata. CONTRIBUTING.md tells their form.
func TestScenario(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scenarios: %v", err)
	}
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(t *testing.T) {
			t.Chdir(t.TempDir())
			s := scenario{root: root, lines: strings.Split(string(text), "\n")}
			if err := s.play(); err != nil {
				t.Errorf("%s:%d: %v", name, s.at, err)
			}
		})
	}
}

// A scenario is a text with what is given, run and expected.
type scenario struct {
	root   string // of the repository
	lines  []string
	at     int // the line being done, from 1
	tries  int // runs and expectations so far
	status int
	said   string // output and errors of the last run
}

// play does the lines in order up to the first that does not hold.
func (s *scenario) play() error {
	for s.at < len(s.lines) {
		line := s.lines[s.at]
		s.at++
		if s.at == 1 { // the sentence that says what is proved
			if len(strings.Fields(line)) < 4 {
				return fmt.Errorf("the first line should say what the scenario proves")
			}
			continue
		}
		if err := s.do(strings.TrimRight(line, " ")); err != nil {
			return err
		}
	}
	if s.tries < 2 {
		return fmt.Errorf("a scenario runs something and expects something")
	}
	return nil
}

func (s *scenario) do(line string) error {
	word, rest, _ := strings.Cut(line, " ")
	switch word {
	case "", "#":
		return nil
	case "given":
		return s.given(rest)
	case "run":
		s.tries++
		return s.run(rest)
	case "expect":
		s.tries++
		return s.expect(rest)
	}
	return fmt.Errorf("%q is none of given, run, expect", word)
}

// given writes a file: the indented lines below, or a copy of one of the repository's.
func (s *scenario) given(what string) error {
	name, path, copied := strings.Cut(what, " from ")
	if copied {
		text, err := os.ReadFile(filepath.Join(s.root, path))
		if err != nil {
			return err
		}
		return os.WriteFile(name, text, 0o600)
	}
	var b strings.Builder
	for s.at < len(s.lines) && (s.lines[s.at] == "" || strings.HasPrefix(s.lines[s.at], "    ")) {
		b.WriteString(strings.TrimPrefix(s.lines[s.at], "    ") + "\n")
		s.at++
	}
	return os.WriteFile(name, []byte(strings.TrimRight(b.String(), "\n")+"\n"), 0o600)
}

func (s *scenario) run(words string) error {
	var out, errs bytes.Buffer
	s.status = run(context.Background(), strings.Fields(words), &out, &errs)
	s.said = out.String() + errs.String()
	return nil
}

func (s *scenario) expect(what string) error {
	if text, is := strings.CutPrefix(what, "status "); is {
		want, err := strconv.Atoi(text)
		if err != nil {
			return err
		}
		if s.status != want {
			return fmt.Errorf("status %d, expected %d:\n%s", s.status, want, s.said)
		}
		return nil
	}
	if text, is := strings.CutPrefix(what, "line containing "); is {
		if !s.has(text) {
			return fmt.Errorf("no line contains %q in:\n%s", text, s.said)
		}
		return nil
	}
	if text, is := strings.CutPrefix(what, "no "); is {
		if s.has(text) {
			return fmt.Errorf("a line contains %q in:\n%s", text, s.said)
		}
		return nil
	}
	return fmt.Errorf("%q can't be expected: status N, line containing TEXT, no TEXT", what)
}

func (s *scenario) has(text string) bool {
	for line := range strings.Lines(s.said) {
		if strings.Contains(line, text) {
			return true
		}
	}
	return false
}

// TestScenarioFails shows that the runner sees what does not hold.
func TestScenarioFails(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"status", "It proves nothing at all.\nrun help\nexpect status 2", "status 0, expected 2"},
		{"line", "It proves nothing at all.\nrun help\nexpect line containing sundial", "no line contains"},
		{"no", "It proves nothing at all.\nrun help\nexpect no evenstead", "a line contains"},
		{"sentence", "Short.\nrun help\nexpect status 0", "first line"},
		{"word", "It proves nothing at all.\nhope status 0", "none of given"},
		{"expectation", "It proves nothing at all.\nexpect rain", "can't be expected"},
		{"nothing", "It proves nothing at all.", "runs something"},
		{"file", "It proves nothing at all.\ngiven a from nowhere/b", "nowhere"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			s := scenario{root: ".", lines: strings.Split(c.text, "\n")}
			if err := s.play(); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}
