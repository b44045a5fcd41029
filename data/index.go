package data

// index finds rows that are asked for often. It is of the tables as they were loaded:
// a table with other rows is searched.
type index struct {
	keeping []Keeping
	kept    map[keptAs][]Keeping

	retentions []Retention
	retained   map[string]*Retention // by "group/method"
}

// keptAs is a food, or a class of foods, in a form.
type keptAs struct{ food, form string }

func indexOf(t *Tables) *index {
	x := &index{keeping: t.Keeping, kept: map[keptAs][]Keeping{}, retentions: t.Retentions, retained: map[string]*Retention{}}
	for _, k := range t.Keeping {
		at := keptAs{k.Food, k.Form}
		x.kept[at] = append(x.kept[at], k)
	}
	for i := range t.Retentions {
		r := &t.Retentions[i]
		if name := r.Group + "/" + r.Method; x.retained[name] == nil {
			x.retained[name] = r
		}
	}
	return x
}

// rows tells whether a table is the one that an index is of.
func rows[T any](table, indexed []T) bool {
	return len(table) == len(indexed) && len(table) > 0 && &table[0] == &indexed[0]
}
