package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"evenstead/demo"
	"evenstead/engine"
)

// said runs a command line and returns its output and errors.
func said(t *testing.T, words ...string) (status int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(context.Background(), words, strings.NewReader(""), &o, &e)
	return status, o.String(), e.String()
}

func TestSameSeedSameBytes(t *testing.T) {
	words := []string{"demo", "--once", "--members", "40", "--seed", "7"}
	status, first, errs := said(t, words...)
	if status != ok {
		t.Fatalf("status %d: %s", status, errs)
	}
	_, again, _ := said(t, words...)
	if first != again {
		t.Errorf("two runs with one seed differ:\n%s\n%s", first, again)
	}
	words[len(words)-1] = "8"
	if _, other, _ := said(t, words...); other == first {
		t.Error("another seed gave the same outlook")
	}
}

func TestWorkersDoNotMatter(t *testing.T) {
	outlook := func(workers int) string {
		q := request{name: "demo", text: demo.Quernfold(), days: 120, members: 24, seed: 3, workers: workers}
		o, err := lookAhead(context.Background(), &args{err: io.Discard}, &q)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := writeJSON(&b, o); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	if outlook(1) != outlook(4) {
		t.Error("one worker and four give different outlooks")
	}
}

// demoFile is the demo stead in a folder of its own.
func demoFile(t *testing.T) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "quernfold.toml")
	if err := os.WriteFile(name, demo.Quernfold(), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestJSON(t *testing.T) {
	status, out, errs := said(t, "ahead", demoFile(t), "--json", "--members", "20", "--days", "140")
	if status != ok {
		t.Fatalf("status %d: %s", status, errs)
	}
	var o engine.Outlook
	dec := json.NewDecoder(strings.NewReader(out))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&o); err != nil {
		t.Fatal(err)
	}
	if o.Stead != "Quernfold" || o.Members != 20 || o.Days != 140 || o.Verdict.Lead == "" {
		t.Errorf("got %s, %d members, %d days, lead %q", o.Stead, o.Members, o.Days, o.Verdict.Lead)
	}
	for _, n := range o.Needs {
		if n.Known && (len(n.Short) != 20 || len(n.Covered) != 21) {
			t.Errorf("%s: %d weeks short and %d covered, want 20 and 21", n.ID, len(n.Short), len(n.Covered))
		}
		if n.ShareShort < 0 || n.ShareShort > 1 || n.Sure > n.Middle || n.Middle > n.Long {
			t.Errorf("%s: share %g, cover %d, %d, %d", n.ID, n.ShareShort, n.Sure, n.Middle, n.Long)
		}
	}
	for _, s := range o.Stores {
		if len(s.Weeks) != 21 {
			t.Errorf("%s: %d weeks, want 21", s.ID, len(s.Weeks))
		}
	}
	if len(o.Needs) == 0 || len(o.Stores) == 0 || len(o.Crops) == 0 || len(o.Loops) != 6 {
		t.Errorf("%d needs, %d stores, %d crops, %d loops", len(o.Needs), len(o.Stores), len(o.Crops), len(o.Loops))
	}
}

// TestJSONDocs holds docs/json.md to the keys that are printed.
func TestJSONDocs(t *testing.T) {
	text, err := os.ReadFile("../../docs/json.md")
	if err != nil {
		t.Fatal(err)
	}
	var look func(v reflect.Type)
	look = func(v reflect.Type) {
		switch v.Kind() {
		case reflect.Slice, reflect.Pointer, reflect.Array:
			look(v.Elem())
		case reflect.Struct:
			for i := range v.NumField() {
				f := v.Field(i)
				key := f.Tag.Get("json")
				if key == "" {
					continue
				}
				if !bytes.Contains(text, []byte("`"+key+"`")) && !bytes.Contains(text, []byte("[]."+key+"`")) {
					t.Errorf("docs/json.md does not tell %s of %s", key, v.Name())
				}
				look(f.Type)
			}
		}
	}
	look(reflect.TypeFor[engine.Outlook]())
}

func TestHelp(t *testing.T) {
	status, out, _ := said(t)
	if status != ok {
		t.Errorf("status %d", status)
	}
	for _, c := range commands() {
		if !strings.Contains(out, "\n  "+c.name+" ") {
			t.Errorf("help does not name %s", c.name)
		}
		status, out, _ := said(t, "help", c.name)
		if status != ok || !strings.Contains(out, "usage: evenstead "+c.name) {
			t.Errorf("help %s: status %d, %q", c.name, status, out)
		}
	}
	if status, _, errs := said(t, "help", "sundial"); status != badSays || !strings.Contains(errs, "not a command") {
		t.Errorf("help sundial: status %d, %q", status, errs)
	}
}

func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var out, errs bytes.Buffer
	status := run(ctx, []string{"demo", "--once", "--members", "20"}, strings.NewReader(""), &out, &errs)
	if status != failed || !strings.Contains(errs.String(), "stopped") {
		t.Errorf("status %d, %q", status, errs.String())
	}
}

// TestBrokenPipe shows that an output that can't be written is told.
func TestBrokenPipe(t *testing.T) {
	var errs bytes.Buffer
	status := run(context.Background(), []string{"demo", "--once", "--members", "5", "--days", "14"}, strings.NewReader(""), brokenPipe{}, &errs)
	if status != failed || !strings.Contains(errs.String(), errBroken.Error()) {
		t.Errorf("status %d, %q", status, errs.String())
	}
}

var errBroken = errors.New("the pipe is broken")

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errBroken }

func TestLoops(t *testing.T) {
	status, out, errs := said(t, "loops", "--members", "6", "--days", "60")
	if status != ok {
		t.Fatalf("status %d: %s", status, errs)
	}
	rows := strings.Split(strings.TrimSpace(out), "\n")
	if want := len(engine.WithoutNames()) + 3; len(rows) != want {
		t.Fatalf("%d rows, want %d", len(rows), want)
	}
	cells := strings.Count(rows[0], "|")
	for _, row := range rows {
		if strings.Count(row, "|") != cells {
			t.Errorf("row %q has not the cells of the heading", row)
		}
	}
}

func TestWrap(t *testing.T) {
	var b bytes.Buffer
	p := &printer{w: &b}
	p.wrap("- ", strings.Repeat("barley ", 40))
	for i, row := range strings.Split(strings.TrimRight(b.String(), "\n"), "\n") {
		if len(row) > textWidth {
			t.Errorf("row of %d: %q", len(row), row)
		}
		if want := map[bool]string{true: "- ", false: "  "}[i == 0]; !strings.HasPrefix(row, want) {
			t.Errorf("row %d begins %q", i, row[:2])
		}
	}
	if n := strings.Count(b.String(), "barley"); n != 40 {
		t.Errorf("%d words of 40", n)
	}
}

func TestStrip(t *testing.T) {
	if got := strip([]float64{0, 0.05, 0.2, 0.5, 1, 0.049}); got != " .:## " {
		t.Errorf("got %q", got)
	}
}
