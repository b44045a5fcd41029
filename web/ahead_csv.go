package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/lever"
)

// aheadTables are the tables of Ahead, by the name that the address asks for
// them with. Amounts are SI; a chance or share runs from 0 to 1.
var aheadTables = []aheadTable{
	{"needs", needsTable}, {"weeks", weeksTable}, {"stores", storesTable}, {"past", pastTable}, {"found", foundTable},
	{"crops", cropsTable}, {"loops", loopsTable}, {"levers", leversTable}, {"learned", learnedTable}, {"looks", looksTable},
}

// An aheadTable has its columns in the first row.
type aheadTable struct {
	name string
	rows func(*view, *lever.Ranking) [][]string
}

// aheadCSV sends one table of Ahead (?table=needs), or all of them one under the
// other, each line with the name of its table in front.
func (s *site) aheadCSV(w http.ResponseWriter, r *http.Request) {
	s.withAhead(w, r, func(snap *Snapshot, v *view) {
		rank, _, err := s.desk.Levers(r.Context())
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		name := r.URL.Query().Get("table")
		if name == "" {
			s.csv(w, "ahead.csv", allTables(v, rank))
			return
		}
		i := slices.IndexFunc(aheadTables, func(t aheadTable) bool { return t.name == name })
		if i < 0 {
			s.sayMissing(w, http.StatusNotFound)
			return
		}
		s.csv(w, "ahead-"+name+".csv", aheadTables[i].rows(v, rank))
	})
}

// allTables are every table in the long form: table, row, column, value.
func allTables(v *view, rank *lever.Ranking) [][]string {
	out := [][]string{{"table", "row", "column", "value"}}
	for _, t := range aheadTables {
		rows := t.rows(v, rank)
		for i, row := range rows[1:] {
			for k, cell := range row {
				out = append(out, []string{t.name, strconv.Itoa(i + 1), rows[0][k], cell})
			}
		}
	}
	return out
}

func first(d *day.Day) string {
	if d == nil {
		return ""
	}
	return d.String()
}

func needsTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"id", "need", "group", "known", "sure_days", "middle_days", "long_days", "share_short", "first_short", "worst_week", "met_low", "met_middle", "met_high", "cause"}}
	for i := range v.needs {
		n := &v.needs[i]
		rows = append(rows, []string{n.ID, n.Name, n.Group, strconv.FormatBool(n.Known), strconv.Itoa(n.Sure), strconv.Itoa(n.Middle), strconv.Itoa(n.Long),
			si(n.ShareShort), first(n.FirstShort), iso(v.ruler.week(n.WorstWeek)), si(n.Met[0]), si(n.Met[1]), si(n.Met[2]), n.Cause})
	}
	return rows
}

func weeksTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"need", "week", "chance_short", "still_covered"}}
	for i := range v.needs {
		n := &v.needs[i]
		for k, p := range n.Short {
			rows = append(rows, []string{n.ID, iso(v.ruler.week(k)), si(p), si(n.Covered[k])})
		}
	}
	return rows
}

func storesTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"store", "name", "unit", "week", "p10", "p25", "p50", "p75", "p90"}}
	for i := range v.stores {
		st := &v.stores[i]
		for k, b := range st.Weeks {
			rows = append(rows, []string{st.ID, st.Name, st.Unit, iso(v.ruler.week(k)), si(b.P10), si(b.P25), si(b.P50), si(b.P75), si(b.P90)})
		}
	}
	return rows
}

func pastTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"store", "day", "level"}}
	if v.past == nil {
		return rows
	}
	for _, t := range v.past.Tracks {
		for i, d := range t.Days {
			rows = append(rows, []string{t.ID, iso(d), si(t.Levels[i])})
		}
	}
	return rows
}

func foundTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"day", "store", "unit", "found", "reckoned", "days_since", "likely"}}
	if v.past == nil {
		return rows
	}
	for _, d := range v.past.Drifts {
		rows = append(rows, []string{iso(d.Day), d.Store, d.Unit, si(d.Found), si(d.Reckoned), strconv.Itoa(d.Days), d.Likely})
	}
	return rows
}

func cropsTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"crop", "name", "area_m2", "kg_p10", "kg_p50", "kg_p90", "first", "share_failed", "cause", "seed_kg"}}
	for _, c := range v.o.Crops {
		rows = append(rows, []string{c.Crop, c.Name, si(c.Area), si(c.Kg.P10), si(c.Kg.P50), si(c.Kg.P90), first(c.First), si(c.Failed), c.Cause, si(c.Seed)})
	}
	return rows
}

func loopsTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"material", "from", "to", "amount", "unit"}}
	for _, l := range v.o.Loops {
		for _, f := range l.Flows {
			rows = append(rows, []string{l.Material, l.Nodes[f.From], l.Nodes[f.To], si(f.Amount), l.Unit})
		}
	}
	return rows
}

func leversTable(_ *view, rank *lever.Ranking) [][]string {
	rows := [][]string{{"lever", "name", "relief", "hours_once", "hours_week", "needs", "need", "weeks_before", "weeks_after", "days_before", "days_after", "met_before", "met_after"}}
	if rank == nil {
		return rows
	}
	for _, t := range rank.Trials {
		line := []string{t.ID, t.Name, si(t.Relief), si(t.Cost.Once), si(t.Cost.Week), t.Cost.Needs}
		for _, c := range t.Changes {
			rows = append(rows, append(slices.Clone(line), c.ID, si(c.Before.Weeks), si(c.After.Weeks), strconv.Itoa(c.Before.Days), strconv.Itoa(c.After.Days), si(c.Before.Met), si(c.After.Met)))
		}
		if len(t.Changes) == 0 {
			rows = append(rows, append(line, "", "", "", "", "", "", ""))
		}
	}
	return rows
}

func learnedTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"factor", "before_low", "before", "before_high", "now_low", "now", "now_high", "evidence", "weight"}}
	f := v.o.Found
	if f == nil {
		f = new(engine.Found)
	}
	for _, l := range f.Learned {
		rows = append(rows, []string{l.What, si(l.Prior[0]), si(l.Prior[1]), si(l.Prior[2]), si(l.Result[0]), si(l.Result[1]), si(l.Result[2]), strconv.Itoa(l.Evidence), l.Weight})
	}
	return rows
}

func looksTable(v *view, _ *lever.Ranking) [][]string {
	rows := [][]string{{"store", "unit", "now", "low", "high", "need", "days_at_low", "days_at_high", "said"}}
	f := v.o.Found
	if f == nil {
		f = new(engine.Found)
	}
	for _, q := range f.Ask {
		rows = append(rows, []string{q.Store, q.Unit, si(q.Now), si(q.Low), si(q.High), q.Need, strconv.Itoa(q.LowDays), strconv.Itoa(q.HighDays), strings.TrimSpace(q.Said)})
	}
	return rows
}
