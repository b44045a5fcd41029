package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"evenstead/demo"
)

// TestDocs runs every command that README.md and docs/ show, a page in a folder
// of its own and in the page's order, and wants each to be done. Lines run as
// they stand but for what would make them slow or wait for a person: fewer
// possible years, any free port, a yes beforehand, served pages stopped at once.
func TestDocs(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	pages, err := filepath.Glob(filepath.Join(root, "docs", "*.md"))
	if err != nil || len(pages) < 10 {
		t.Fatalf("%d pages: %v", len(pages), err)
	}
	ran := 0
	for _, page := range append(pages, filepath.Join(root, "README.md")) {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(filepath.Base(page), func(t *testing.T) {
			w := &docWalk{page: filepath.Base(page), said: map[string]string{}}
			if err := w.lay(root, t.TempDir()); err != nil {
				t.Fatal(err)
			}
			t.Chdir(w.dir)
			w.walk(t, string(text))
			ran += w.ran
		})
	}
	if ran < 40 {
		t.Errorf("only %d commands found", ran)
	}
}

// A docWalk goes through the commands of one page.
type docWalk struct {
	page, dir string
	said      map[string]string // what each command said last
	ran       int
}

// lay makes the folder that a reader of the page would stand in: the tree's own
// folders and, but for the first pages, which make them, a description and a
// stead's file with a few weeks of a book.
func (w *docWalk) lay(root, dir string) error {
	w.dir = dir
	for _, name := range []string{"demo", "docs", "weather"} {
		if err := os.Symlink(filepath.Join(root, name), filepath.Join(dir, name)); err != nil {
			return err
		}
	}
	if w.page == "README.md" {
		return nil
	}
	station, err := os.ReadFile(filepath.Join(root, "weather", "testdata", "gainesville-1960-2020.csv.gz"))
	if err != nil {
		return err
	}
	for name, text := range map[string][]byte{"my.toml": []byte(docsStead), "people.toml": []byte(docsStead), "place.toml": demo.Quernfold(),
		"station.csv.gz": station} {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o600); err != nil {
			return err
		}
	}
	q := &serving{at: at{path: filepath.Join(dir, steadFile)}}
	return q.live(context.Background())
}

// docsStead is the reader's own description where a page says my.toml: small, so
// that its plans are quick.
const docsStead = `
people = 1
roof = [{ area = "40 m2", tank = "2000 L" }]
bed = [{ name = "B1", area = "40 m2" }, { name = "B4", area = "20 m2" }]

[place]
latitude = 29.7

[[place.normals]]
rain = [85, 80, 110, 70, 65, 180, 155, 165, 125, 65, 55, 65]
wet_days = [8, 7, 8, 6, 7, 14, 16, 16, 11, 7, 6, 7]
tmin = [6, 7, 10, 13, 17, 21, 22, 22, 21, 16, 11, 7]
tmax = [19, 21, 24, 27, 31, 32, 33, 33, 31, 28, 23, 20]

[[digester]]
liquid = "800 L"
bag = "600 L"
feed = "4 kg/day"
`

var indentedBlock = regexp.MustCompile(`(?m)^(?:    .*\n|\n)+`)

// walk does the indented lines of a page: a description is kept as my.toml, a
// command is run, other lines are left.
func (w *docWalk) walk(t *testing.T, text string) {
	for _, block := range indentedBlock.FindAllString(text, -1) {
		if w.page == "README.md" && strings.Contains(block, "place.latitude") {
			if err := os.WriteFile("my.toml", []byte(block), 0o600); err != nil {
				t.Fatal(err)
			}
			continue
		}
		for line := range strings.Lines(block) {
			w.line(t, strings.TrimSpace(line))
		}
	}
}

func (w *docWalk) line(t *testing.T, line string) {
	line, _, _ = strings.Cut(line, "   ")
	line, _, _ = strings.Cut(line, " #")
	words := (&scenario{taken: map[string]string{"ID": w.anID()}}).words(strings.ReplaceAll(line, " ID", " $ID"))
	switch {
	case len(words) == 3 && words[0] == "cp":
		b, err := os.ReadFile(words[1])
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		if err := os.WriteFile(words[2], b, 0o600); err != nil {
			t.Fatal(err)
		}
	case len(words) == 2 && words[0] == "rm":
		if err := os.Remove(words[1]); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
	case len(words) > 1 && (words[0] == "evenstead" || words[0] == "./evenstead"):
		w.run(t, line, words[1:])
	case strings.HasPrefix(line, "go run ./cmd/evenstead "):
		w.run(t, line, append(words[3:], "--once"))
	}
}

// anID is the short id of some entry that the book listed, for a line with ID.
func (w *docWalk) anID() string { return idShown.FindString(w.said["book"]) }

func (w *docWalk) run(t *testing.T, line string, words []string) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	words, file, _ := cutAt(words, ">")
	words, in := w.quick(t, words)
	out := &servedWriter{stop: stop}
	status := run(ctx, words, bytes.NewReader(in), out, out)
	w.said[words[0]] = out.String()
	if len(file) == 1 {
		if err := os.WriteFile(file[0], out.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	w.ran++
	if status != ok {
		t.Errorf("%s\nstatus %d:\n%s", line, status, out.String())
	}
}

// cutAt parts words at one of them.
func cutAt(words []string, at string) (before, after []string, found bool) {
	if i := slices.Index(words, at); i >= 0 {
		return words[:i], words[i+1:], true
	}
	return words, nil, false
}

// quick adds what makes a line quick and free of questions, and reads its input.
func (w *docWalk) quick(t *testing.T, words []string) (line []string, in []byte) {
	words, file, piped := cutAt(words, "<")
	if piped {
		b, err := os.ReadFile(strings.Join(file, " "))
		if err != nil {
			t.Fatal(err)
		}
		in = b
	}
	var flags bytes.Buffer
	run(context.Background(), []string{"help", words[0]}, nil, &flags, &flags)
	words = append([]string(nil), words...)
	add := func(name, value string) {
		if strings.Contains(flags.String(), "  -"+name+" ") || strings.Contains(flags.String(), "  -"+name+"\n") {
			words = append(words, strings.Fields("--"+name+" "+value)...)
		}
	}
	add("members", "20")
	add("yes", "")
	if !slices.Contains(words, "--sow-once") {
		add("sow-once", "2")
	}
	if words[0] == "skill" {
		add("every", "12")
	}
	if words[0] == "serve" {
		add("addr", "127.0.0.1:0")
		add("lan-addr", "127.0.0.1:0")
	}
	for _, v := range words {
		if v == "--serve" {
			add("serve", "127.0.0.1:0")
			break
		}
	}
	return words, in
}

// A servedWriter stops the command once it says that its pages are served.
type servedWriter struct {
	bytes.Buffer
	stop context.CancelFunc
}

func (w *servedWriter) Write(b []byte) (int, error) {
	n, err := w.Buffer.Write(b)
	if strings.Contains(string(b), "served at") {
		w.stop()
	}
	return n, err
}
