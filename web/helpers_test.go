package web

import (
	"encoding/xml"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"evenstead/engine"
)

type outlook = engine.Outlook

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func newSite(t *testing.T, opt Options) http.Handler {
	t.Helper()
	h, err := New(fixtureSource(fixture()), opt)
	must(t, err)
	return h
}

// get asks a handler and returns its answer.
func get(t *testing.T, h http.Handler, method, path string) *httptest.ResponseRecorder {
	t.Helper()
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest(method, path, nil))
	return w
}

// answersIn asks for a page until an answer comes in the time it may take, twenty times
// at most, each after what comes before it. Where other work keeps the cores from the
// test, the processor time of all that the desk did meanwhile is taken: on a machine with
// nothing else to do no answer takes longer.
func answersIn(t *testing.T, h http.Handler, path string, most time.Duration, before func()) *httptest.ResponseRecorder {
	t.Helper()
	var w *httptest.ResponseRecorder
	best := time.Hour
	for range 20 {
		if before != nil {
			before()
		}
		begun, had := time.Now(), processorTime(t)
		w = get(t, h, "GET", path)
		if best = min(best, time.Since(begun), processorTime(t)-had); best <= most {
			t.Logf("%s: %d bytes in %s", path, w.Body.Len(), best)
			return w
		}
	}
	t.Errorf("%s takes %s, the most is %s", path, best, most)
	return w
}

// element is a node of a page: its tag, attributes, words and children.
type element struct {
	tag   string
	attrs map[string]string
	text  string
	kids  []*element
}

// parsePage reads a page as XML, which also proves that every tag is closed.
func parsePage(t *testing.T, page string) *element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(page))
	root := &element{}
	stack := []*element{root}
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return root
		}
		must(t, err)
		top := stack[len(stack)-1]
		switch tok := tok.(type) {
		case xml.StartElement:
			e := &element{tag: tok.Name.Local, attrs: map[string]string{}}
			for _, a := range tok.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			top.kids = append(top.kids, e)
			stack = append(stack, e)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			top.text += string(tok)
		}
	}
}

// find lists the elements that match "tag", ".class", "tag.class" or "#id".
func (e *element) find(selector string) []*element {
	var list []*element
	for _, k := range e.kids {
		if k.is(selector) {
			list = append(list, k)
		}
		list = append(list, k.find(selector)...)
	}
	return list
}

func (e *element) is(selector string) bool {
	if id, ok := strings.CutPrefix(selector, "#"); ok {
		return e.attrs["id"] == id
	}
	tag, class, _ := strings.Cut(selector, ".")
	if tag != "" && tag != e.tag {
		return false
	}
	return class == "" || strings.Contains(" "+e.attrs["class"]+" ", " "+class+" ")
}

// words is all text within an element.
func (e *element) words() string {
	s := e.text
	for _, k := range e.kids {
		s += k.words()
	}
	return s
}

type consoleKey struct{}

// consoleLines keeps what a tab's console said.
type consoleLines struct {
	mu    sync.Mutex
	lines []string
}

func (c *consoleLines) add(s string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.lines = append(c.lines, s)
}

func (c *consoleLines) all() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return append([]string(nil), c.lines...)
}
