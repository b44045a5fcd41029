package web

import (
	"net/http"

	"evenstead/engine"
)

// groundHead names the columns of ground.csv.
var groundHead = []string{"plot", "area_m2", "tree", "stand", "stand_m2", "state", "sown", "first_picking", "last_picking", "picked_share", "told_kg", "usual_kg",
	"water_mm", "holds_mm", "thirst_l", "dry_on", "n_g_m2", "n_asked_g_m2", "p_g_m2", "k_g_m2"}

// groundCSV is every plot with what stands and is planned on it, in SI units.
func (s *site) groundCSV(w http.ResponseWriter, r *http.Request) {
	s.withStanding(w, r, func(st *standing) {
		rows := [][]string{append([]string(nil), groundHead...)}
		for i := range st.now.Plots {
			rows = append(rows, st.plotLines(&st.now.Plots[i])...)
		}
		s.csv(w, "ground.csv", rows)
	})
}

// plotLines are a plot's stands, one line each; one line for bare ground.
func (s *standing) plotLines(p *engine.PlotNow) [][]string {
	tree := ""
	if p.Tree {
		tree = "yes"
	}
	head := []string{p.Name, si(p.Area), tree}
	tail := []string{si(p.Water), si(p.Holds), some(p.Thirst), iso(p.DryOn), si(p.Mineral.N), si(p.Asks.N), si(p.Mineral.P), si(p.Mineral.K)}
	line := func(stand ...string) []string {
		return append(append(append([]string(nil), head...), stand...), tail...)
	}
	var rows [][]string
	for _, g := range s.growths {
		if g.Plot != p.Name || g.Done {
			continue
		}
		state, picked, told := "planned", "", ""
		if !g.Planned {
			state = "ahead"
		}
		for _, st := range p.Stands {
			if st.Crop == g.Crop && st.Sown == g.Sown {
				state, picked, told = "stands", si(st.Picked), si(st.Told)
			}
		}
		rows = append(rows, line(g.Name, si(g.Area), state, iso(g.Sown), iso(g.First), iso(g.Last), picked, told, si(g.Likely)))
	}
	if len(rows) == 0 {
		rows = append(rows, line("", "", "bare", "", "", "", "", "", ""))
	}
	return rows
}
