package web

import (
	"net/http"
	"strconv"

	"evenstead/engine"
)

// shelvesCSV is every store with what it holds, in SI units.
func (s *site) shelvesCSV(w http.ResponseWriter, r *http.Request) {
	s.withStanding(w, r, func(st *standing) { s.csv(w, "stores.csv", st.storeRows()) })
}

// storeHead names the columns of stores.csv.
var storeHead = []string{"kind", "name", "form", "place", "amount", "unit", "of", "energy_mj", "last_found", "how", "drift", "quarter_gone_by", "half_gone_by", "opens_on", "note"}

// storeRow is a line of stores.csv.
type storeRow struct {
	kind, name, form, place, unit string
	amount, of, mj                float64
	sight                         engine.Sight
	quarter, half, opens, note    string
}

func (s *standing) storeRows() [][]string {
	rows := [][]string{append([]string(nil), storeHead...)}
	for _, r := range s.storeList() {
		drift := ""
		if r.sight.Drift != nil {
			drift = si(r.sight.Drift.Found - r.sight.Drift.Reckoned)
		}
		rows = append(rows, []string{r.kind, r.name, r.form, r.place, si(r.amount), r.unit, some(r.of), some(r.mj),
			iso(r.sight.Day), r.sight.How, drift, r.quarter, r.half, r.opens, r.note})
	}
	return rows
}

// some is a figure, empty when it is nothing.
func some(v float64) string {
	if v == 0 {
		return ""
	}
	return si(v)
}

func (s *standing) storeList() []storeRow {
	var rows []storeRow
	n := s.now
	for _, g := range n.Tanks {
		rows = append(rows, storeRow{kind: "tanks", name: g.Name, unit: "L", amount: g.Level, of: g.Holds, sight: g.Sight})
		for _, t := range g.Tanks {
			rows = append(rows, storeRow{kind: "tank", name: t.Name, place: g.Name, unit: "L", amount: t.Level, of: t.Holds})
		}
	}
	for _, l := range n.Lots {
		rows = append(rows, storeRow{kind: "food", name: l.Name, form: l.Form, place: l.Place, unit: "kg", amount: l.Kg, mj: l.MJ,
			sight: l.Sight, quarter: iso(l.Quarter), half: iso(l.Half)})
	}
	for _, p := range n.Places {
		rows = append(rows, storeRow{kind: "room", name: p.Name, form: p.Kind, unit: "L", amount: p.Used, of: p.Holds})
	}
	for _, f := range n.Fuels {
		rows = append(rows, storeRow{kind: "fuel", name: f.Name, unit: "kg", amount: f.Kg, mj: f.MJ, sight: f.Sight})
	}
	if d := n.Digester; d != nil {
		rows = append(rows, storeRow{kind: "gas", name: "gas", unit: "L", amount: d.Gas, of: d.Bag, mj: d.GasMJ, note: si(d.GasDay) + " L a day"})
	}
	rows = append(rows, storeRow{kind: "compost", name: "ripe", unit: "kg", amount: n.Compost.Ripe}, storeRow{kind: "compost", name: "fresh", unit: "kg", amount: n.Compost.Fresh})
	return append(rows, s.toiletList()...)
}

func (s *standing) toiletList() []storeRow {
	t := s.now.Toilet
	if t == nil {
		return nil
	}
	rows := []storeRow{{kind: "cover material", name: "cover", unit: "L", amount: t.Cover}}
	if t.Apart {
		rows = append(rows, storeRow{kind: "urine", name: "urine", unit: "L", amount: t.Urine, of: t.Cans, note: si(1000*t.UrineN) + " g nitrogen"})
	}
	for _, d := range t.Drums {
		note := "empty"
		switch {
		case d.Closed != 0:
			note = "closed " + d.Closed.String()
		case d.Filling:
			note = "filling, full about " + d.Full.String()
		}
		rows = append(rows, storeRow{kind: "drum", name: strconv.Itoa(d.Number), unit: "L", amount: d.Litres, of: t.Holds, opens: iso(d.Opens), note: note})
	}
	return rows
}
