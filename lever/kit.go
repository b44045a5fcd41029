package lever

import (
	"fmt"
	"slices"
	"strings"

	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
)

// A Kit makes the levers of one stead; amounts in names are in its units.
type Kit struct {
	r   *hearth.Reckoning
	st  *stead.Stead
	sys unit.System
	opt engine.Options // of a run from today
}

// For returns the kit of a reckoning, which stays as it is.
func For(r *hearth.Reckoning, sys unit.System) Kit {
	k := Kit{r, r.Stead, sys, r.Options}
	k.opt.Report = nil
	if r.Past != nil {
		k.opt.Past = r.Past.AtToday()
	}
	return k
}

// days ahead that the reckoning looks.
func (k Kit) days() int {
	if k.opt.Days > 0 {
		return k.opt.Days
	}
	return 365
}

// prepare readies the stead with a change.
func (k Kit) prepare(l Lever) (*engine.Model, error) {
	st, err := l.On(k.st)
	if err != nil {
		return nil, err
	}
	opt := k.opt
	if opt.Past != nil {
		opt.Past = opt.Past.AtToday() // its own, for changes are tried side by side
	}
	return engine.Prepare(st, k.r.Tables, opt)
}

// hours a unit of a task in the table of work; 0 when it is not there.
func (k Kit) hours(task string) float64 {
	for _, w := range k.r.Tables.Work {
		if w.Task == task {
			return w.Hours
		}
	}
	return 0
}

// newName is the first numbered name that nothing has yet.
func newName(what string, have []string) string {
	for i := 1; ; i++ {
		if name := fmt.Sprintf("%s %d", what, i); !slices.Contains(have, name) {
			return name
		}
	}
}

func (k Kit) litres(v float64) string { return plain(unit.Format(v, unit.Volume, k.sys)) }
func (k Kit) area(v float64) string   { return plain(unit.Format(v, unit.Area, k.sys)) }
func (k Kit) mass(v float64) string   { return plain(unit.Format(v, unit.Mass, k.sys)) }

// plain has blanks for no-break spaces.
func plain(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }
