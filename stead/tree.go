package stead

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// A node is a value of the text with the line it stands on.
type node struct {
	kind  unstable.Kind // String, Bool, Float, Integer, LocalDate, Array, InlineTable
	line  int
	raw   string // as written, shortened
	text  string // a string's content, else the literal
	table *table
	list  []*node
}

// A table is a set of keys in written order.
type table struct {
	line    int
	entries []entry
}

type entry struct {
	key   string
	line  int
	value *node
}

func (t *table) get(key string) *node {
	for _, e := range t.entries {
		if e.key == key {
			return e.value
		}
	}
	return nil
}

func (t *table) put(key string, n *node) {
	t.entries = append(t.entries, entry{key, n.line, n})
}

// A grower builds the tree from the parser's expressions. broken is set when
// part of the text could not be read, so that nothing is called missing.
type grower struct {
	text   []byte
	begins []int // offset of each line
	offset int   // of the text the parser is at
	parser unstable.Parser
	errs   Errors
	broken bool
}

// grow reads TOML into a tree. After a fault it goes on with the next line.
func grow(text []byte) (*table, *grower) {
	g := &grower{text: text, begins: []int{0}}
	for i, b := range text {
		if b == '\n' {
			g.begins = append(g.begins, i+1)
		}
	}
	root := &table{line: 1}
	for at := root; g.offset < len(text); {
		g.parser.Reset(text[g.offset:])
		for g.parser.NextExpression() {
			at = g.expression(root, at, g.parser.Expression())
		}
		if g.parser.Error() == nil {
			break
		}
		g.syntax(g.parser.Error())
	}
	return root, g
}

func (g *grower) expression(root, at *table, n *unstable.Node) *table {
	switch n.Kind {
	case unstable.Table:
		return g.descend(root, keys(n), false)
	case unstable.ArrayTable:
		return g.descend(root, keys(n), true)
	case unstable.KeyValue:
		g.set(at, n)
	}
	return at
}

// A part of a dotted key with its place in the text.
type keyPart struct {
	name   string
	offset uint32
}

func keys(n *unstable.Node) []keyPart {
	var out []keyPart
	for it := n.Key(); it.Next(); {
		out = append(out, keyPart{string(it.Node().Data), it.Node().Raw.Offset})
	}
	return out
}

// descend goes to the table a header names, making what is not there; each
// [[header]] adds one entry to its list.
func (g *grower) descend(at *table, path []keyPart, adds bool) *table {
	for i, k := range path {
		last := i == len(path)-1
		line := g.line(k.offset)
		at = g.step(at, k.name, line, last, last && adds)
	}
	return at
}

func (g *grower) step(at *table, name string, line int, last, adds bool) *table {
	n := at.get(name)
	made := &node{kind: unstable.InlineTable, line: line, table: &table{line: line}}
	switch {
	case n == nil && adds:
		at.put(name, &node{kind: unstable.Array, line: line, list: []*node{made}})
	case n == nil:
		at.put(name, made)
	case adds && n.kind == unstable.Array:
		n.list = append(n.list, made)
	case !last && n.kind == unstable.InlineTable:
		return n.table
	case !last && n.kind == unstable.Array && len(n.list) > 0 && n.list[len(n.list)-1].table != nil:
		return n.list[len(n.list)-1].table
	case last && !adds && n.kind == unstable.InlineTable && n.table.line == 0:
		n.table.line = line // made by a dotted key before
		return n.table
	default:
		g.errs = append(g.errs, Problem{Line: line, Part: name, Mend: fmt.Sprintf(
			"already begun on line %d; write [[%s]] in double brackets at the head of each", n.line, name)})
	}
	return made.table
}

// set puts the value of a key, dotted or not, into a table.
func (g *grower) set(at *table, n *unstable.Node) {
	path := keys(n)
	line := g.line(path[0].offset)
	for _, k := range path[:len(path)-1] {
		at = g.dotted(at, k.name, line)
	}
	key := path[len(path)-1].name
	if old := at.get(key); old != nil {
		g.errs = append(g.errs, Problem{Line: line, Key: key, Mend: fmt.Sprintf("already given on line %d; keep one of the two", old.line)})
		return
	}
	v := g.value(n.Value(), line)
	at.entries = append(at.entries, entry{key, line, v})
}

func (g *grower) dotted(at *table, name string, line int) *table {
	n := at.get(name)
	if n == nil {
		n = &node{kind: unstable.InlineTable, line: line, table: &table{}}
		at.put(name, n)
	}
	if n.table == nil {
		g.errs = append(g.errs, Problem{Line: line, Key: name, Mend: fmt.Sprintf("already a value on line %d; use another key", n.line)})
		return &table{}
	}
	return n.table
}

func (g *grower) value(v *unstable.Node, line int) *node {
	n := &node{kind: v.Kind, line: line, text: string(v.Data)}
	if v.Raw.Length > 0 {
		n.line = g.line(v.Raw.Offset)
		n.raw = shorten(string(g.parser.Raw(v.Raw)))
	}
	switch v.Kind {
	case unstable.Array:
		for it := v.Children(); it.Next(); {
			n.list = append(n.list, g.value(it.Node(), n.line))
		}
		n.raw = fmt.Sprintf("[%s]", shorten(rawList(n.list)))
	case unstable.InlineTable:
		n.raw, n.table = "{...}", &table{line: n.line}
		for it := v.Children(); it.Next(); {
			g.set(n.table, it.Node())
		}
	}
	return n
}

func rawList(list []*node) string {
	raw := make([]string, 0, len(list))
	for _, n := range list {
		raw = append(raw, n.raw)
	}
	return strings.Join(raw, ", ")
}

// shorten keeps a value to one line of at most 60 letters.
func shorten(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 60 {
		return string(r[:57]) + "..."
	}
	return s
}

// line of an offset within the text the parser is at.
func (g *grower) line(offset uint32) int {
	return g.lineAt(g.offset + int(offset))
}

func (g *grower) lineAt(offset int) int {
	return sort.SearchInts(g.begins, offset+1)
}

var bare = regexp.MustCompile(`^\s*([A-Za-z0-9_.-]+)\s*=\s*([^"'\[{#\s][^"'\[{#]*?)\s*(#.*)?$`)

// syntax notes a fault of the text and moves to the line after it.
func (g *grower) syntax(err error) {
	g.broken = true
	at := len(g.text)
	var fault *unstable.ParserError
	if errors.As(err, &fault) {
		at = g.offset + int(g.parser.Range(fault.Highlight).Offset)
	}
	begin := 1 + bytes.LastIndexByte(g.text[:at], '\n')
	end := len(g.text)
	if n := bytes.IndexByte(g.text[at:], '\n'); n >= 0 {
		end = at + n
	}
	p := Problem{Line: g.lineAt(at)}
	p.Mend = fmt.Sprintf("column %d: %s; %s", at-begin+1, err, mendSyntax(string(g.text[begin:end]), err.Error()))
	g.errs = append(g.errs, p)
	g.offset = min(end+1, len(g.text))
}

func mendSyntax(line, fault string) string {
	if m := bare.FindStringSubmatch(line); m != nil {
		return fmt.Sprintf("put the value in quotes: %s = %q", m[1], m[2])
	}
	switch {
	case strings.Count(line, `"`)%2 == 1:
		return "close the quotes"
	case strings.Contains(fault, "'='"):
		return `write key = value, such as holds = "1000 L"`
	case strings.Contains(fault, "'}'") || strings.Contains(fault, "inline table"):
		return "close the brace, and put commas between its keys"
	case strings.Contains(fault, "']'") || strings.Contains(fault, "array"):
		return "close the bracket, and put commas between its values"
	}
	return `write one key = value a line, with text in quotes, such as name = "tote 2"`
}
