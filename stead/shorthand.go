package stead

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/pelletier/go-toml/v2/unstable"
)

// shorthand rewrites two short forms before the text is read: `people = 2`,
// and a roof's own tank, `tank = "1000 L"`.
func (r *reader) shorthand(root *table) {
	r.people(root)
	if roofs := root.get("roof"); roofs != nil {
		for _, n := range append(roofs.list, roofs) {
			if n.table != nil {
				r.roofTank(root, n.table)
			}
		}
	}
}

// cut takes a key out of a table.
func (t *table) cut(key string) *node {
	n := t.get(key)
	t.entries = slices.DeleteFunc(t.entries, func(e entry) bool { return e.key == key })
	return n
}

const mostPeople = 50

// people stands for that many adults of middle size, women and men in turn.
func (r *reader) people(root *table) {
	n := root.cut("people")
	if n == nil {
		return
	}
	count, err := strconv.Atoi(n.text)
	switch {
	case n.kind != unstable.Integer || err != nil || count < 1 || count > mostPeople:
		r.bad(n.line, "", "people", n.raw, "must be a whole number from 1 to %d, without quotes", mostPeople)
		count = 1 // so that the household is not called empty besides
	case root.get("person") != nil:
		r.bad(n.line, "", "people", n.raw, "described one by one as well; leave out people, or every person")
		return
	}
	list := &node{kind: unstable.Array, line: n.line}
	for i := range count {
		t := &table{line: n.line}
		part := fmt.Sprintf("person %d", i+1)
		t.put("sex", textNode([]string{"female", "male"}[i%2], n.line))
		t.put("age", textNode("35", n.line))
		r.take(part, "sex", t.get("sex").text)
		r.take(part, "age", "35")
		list.list = append(list.list, &node{kind: unstable.InlineTable, line: n.line, table: t})
	}
	root.put("person", list)
}

func textNode(text string, line int) *node {
	return &node{kind: unstable.String, line: line, raw: strconv.Quote(text), text: text}
}

// roofTank moves the tank written in a roof to the tanks and points the roof at it.
func (r *reader) roofTank(root, roof *table) {
	holds := roof.cut("tank")
	if holds == nil {
		return
	}
	tanks := root.get("tank")
	if tanks == nil {
		tanks = &node{kind: unstable.Array, line: holds.line}
		root.put("tank", tanks)
	}
	if tanks.table != nil { // a single [tank]
		tanks.kind, tanks.list, tanks.table = unstable.Array, []*node{{kind: unstable.InlineTable, line: tanks.line, table: tanks.table}}, nil
	}
	t := &table{line: holds.line}
	t.put("holds", holds)
	tanks.list = append(tanks.list, &node{kind: unstable.InlineTable, line: holds.line, table: t})
	if roof.get("to") == nil {
		name := fmt.Sprintf("tank %d", len(tanks.list))
		t.put("name", textNode(name, holds.line))
		roof.put("to", textNode(name, holds.line))
	}
}
