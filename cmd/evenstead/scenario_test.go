package main

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestScenario runs every text of testdata. CONTRIBUTING.md tells their form.
// Runs of one scenario share a folder; words may stand in "quotes", a line may
// end in < FILE for the input. Besides what stands there:
//
//	take NAME from line containing TEXT   keeps the entry's id as $NAME
//	delete FILE
//	keep as FILE                          writes what the last run said
//	lock FILE                             holds a stead's file as another program would
//	expect same bytes in FILE FILE
//	expect no file FILE
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
			s := scenario{root: root, lines: strings.Split(string(text), "\n"), taken: map[string]string{}}
			defer s.letGo()
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
	said   string            // output and errors of the last run
	taken  map[string]string // ids by name
	holds  []*sql.DB         // files held locked
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
	case "take":
		return s.take(rest)
	case "keep":
		return os.WriteFile(strings.TrimSpace(strings.TrimPrefix(rest, "as ")), []byte(s.said), 0o600)
	case "delete":
		return os.Remove(rest)
	case "lock":
		return s.lock(rest)
	case "expect":
		s.tries++
		return s.expect(rest)
	}
	return fmt.Errorf("%q is none of given, run, take, keep, delete, lock, expect", word)
}

var idShown = regexp.MustCompile(`\b[0-9a-f]{6}\b`)

// take keeps the id that stands in a line of what was said, as $NAME.
func (s *scenario) take(what string) error {
	name, text, ok := strings.Cut(what, " from line containing ")
	if !ok {
		return fmt.Errorf("write take NAME from line containing TEXT")
	}
	for line := range strings.Lines(s.said) {
		if id := idShown.FindString(line); id != "" && strings.Contains(line, text) {
			s.taken[name] = id
			return nil
		}
	}
	return fmt.Errorf("no line with an id contains %q in:\n%s", text, s.said)
}

// lock holds a stead's file as another program would, up to the end.
func (s *scenario) lock(name string) error {
	db, err := sql.Open("sqlite", name)
	if err != nil {
		return err
	}
	s.holds = append(s.holds, db)
	db.SetMaxOpenConns(1)
	_, err = db.Exec("BEGIN IMMEDIATE")
	return err
}

func (s *scenario) letGo() {
	for _, db := range s.holds {
		db.Close()
	}
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

// run does a command line: words, "several words", $NAME, and < FILE at its end.
func (s *scenario) run(line string) error {
	line, file, piped := strings.Cut(line, " < ")
	var in []byte
	if piped {
		var err error
		if in, err = os.ReadFile(file); err != nil {
			return err
		}
	}
	var out, errs bytes.Buffer
	s.status = run(context.Background(), s.words(line), bytes.NewReader(in), &out, &errs)
	s.said = out.String() + errs.String()
	return nil
}

var wordOrQuoted = regexp.MustCompile(`"[^"]*"|\S+`)

func (s *scenario) words(line string) (out []string) {
	for _, w := range wordOrQuoted.FindAllString(line, -1) {
		if name, is := strings.CutPrefix(w, "$"); is && s.taken[name] != "" {
			w = s.taken[name]
		}
		out = append(out, strings.Trim(w, `"`))
	}
	return out
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
	if names, is := strings.CutPrefix(what, "same bytes in "); is {
		return sameBytes(strings.Fields(names))
	}
	if name, is := strings.CutPrefix(what, "no file "); is {
		if _, err := os.Stat(name); !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s is there (%v)", name, err)
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
	return fmt.Errorf("%q can't be expected: status N, line containing TEXT, same bytes in FILE FILE, no file FILE, no TEXT", what)
}

func sameBytes(names []string) error {
	if len(names) != 2 {
		return fmt.Errorf("write same bytes in FILE FILE")
	}
	a, err := os.ReadFile(names[0])
	b, err2 := os.ReadFile(names[1])
	if err := errors.Join(err, err2); err != nil {
		return err
	}
	if !bytes.Equal(a, b) {
		return fmt.Errorf("%s has %d bytes, %s %d, and they differ", names[0], len(a), names[1], len(b))
	}
	return nil
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
		{"id", "It proves nothing at all.\nrun help\ntake A from line containing demo", "no line with an id"},
		{"bytes", "It proves nothing at all.\ngiven a\n    1\ngiven b\n    2\nexpect same bytes in a b", "differ"},
		{"input", "It proves nothing at all.\nrun note < nowhere", "nowhere"},
		{"no file", "It proves nothing at all.\ngiven a\n    1\nexpect no file a", "a is there"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			s := scenario{root: ".", lines: strings.Split(c.text, "\n"), taken: map[string]string{}}
			if err := s.play(); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}
