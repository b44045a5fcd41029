package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenstead/engine"
	"evenstead/stead"
)

const carriers = len(engine.Carriers)

// nutrients are those that are brought to the ground.
var nutrients = [3]string{"nitrogen", "phosphorus", "potassium"}

// brings is what a round gives to beds by a carrier, by the nitrogen in it, as a
// share of what the described one does.
func (y *years) brings(o *round, carrier int) float64 {
	if y.supply[carrier][0] <= 0 {
		return 0
	}
	return o.year.ToBeds[carrier][0] / y.supply[carrier][0]
}

// addSpread adds the share of what each carrier brings that goes to each kind of
// ground.
func (g *programme) addSpread() {
	g.spread = make([][]int, carriers)
	for c := range g.spread {
		for i := range g.y.grounds {
			col := -1
			if g.y.supply[c][0] > 0 {
				var of column
				of.add(g.ground.supply[c], 1)
				for k, row := range g.ground.npk[i] {
					of.add(row, -g.y.supply[c][k])
				}
				col = g.column(fmt.Sprintf("spread %s %d", engine.Carriers[c], i), 0, inf, of)
			}
			g.spread[c] = append(g.spread[c], col)
		}
	}
}

// feeding are the rows of what is brought to the ground.
func (r *groundRows) feeding() (rows []int) {
	for i := range r.npk {
		rows = append(rows, r.npk[i][:]...)
	}
	return rows
}

// giveMore lets more of a nutrient be brought, to whatever ground, kg.
func (g *programme) giveMore(k int, kg float64) {
	row := g.p.AddRow("more "+nutrients[k], -inf, kg)
	for i := range g.ground.npk {
		var c column
		c.add(row, 1)
		c.add(g.ground.npk[i][k], -1)
		g.column(fmt.Sprintf("more %s %d", nutrients[k], i), 0, inf, c)
	}
}

// A Spreading is where a carrier of nutrients should go, and what it brings to beds
// in a year as the whole stead then runs.
type Spreading struct {
	What  string     `json:"what"`  // urine, digestate or compost
	To    []string   `json:"to"`    // beds, and the trees that had of it before
	Other bool       `json:"other"` // it went elsewhere before
	Kg    [3]float64 `json:"npk_kg"`
}

// leastGiven is the share of what a carrier brings from which a kind of ground
// counts as chosen for it.
const leastGiven = 0.02

// spreads chooses the beds for each carrier: those on the ground that the programme
// chose whose sowings are to be brought what they lack. A carrier that no bed asks
// for goes where it went.
func (p *Plan) spreads(st *stead.Stead, list []laid) []Spreading {
	lacks := p.lacks(list)
	var out []Spreading
	for c, cols := range p.prog.spread {
		if p.years.supply[c][0] <= 0 {
			continue
		}
		var beds []int
		for i, col := range cols {
			if p.x()[col] >= leastGiven {
				beds = append(beds, p.years.grounds[i].beds...)
			}
		}
		was := targets(st, c)
		to := was
		if beds = hungriest(beds, st, lacks); len(beds) > 0 {
			to = treesOf(st, was)
			for _, b := range beds {
				to = append(to, st.Beds[b].Name)
			}
		}
		out = append(out, Spreading{What: engine.Carriers[c], To: to, Other: !slices.Equal(to, was)})
	}
	return out
}

// mostLack is the share of what beds lack that those which are given to have.
const mostLack = 0.9

// hungriest are the fewest beds of some that together have most of what they lack.
func hungriest(beds []int, st *stead.Stead, lacks map[int]float64) []int {
	all := 0.0
	for _, b := range beds {
		all += lacks[b]
	}
	slices.SortStableFunc(beds, func(a, b int) int { return cmp.Compare(lacks[b]/st.Beds[b].Area, lacks[a]/st.Beds[a].Area) })
	n := 0
	for had := 0.0; n < len(beds) && had < mostLack*all; n++ {
		had += lacks[beds[n]]
	}
	slices.Sort(beds[:n])
	return beds[:n]
}

// lacks is the nitrogen that the sowings laid on each bed are to be brought, kg.
func (p *Plan) lacks(list []laid) map[int]float64 {
	out := map[int]float64{}
	for _, l := range list {
		fed, all, gap := 0.0, 0.0, 0.0
		for _, j := range l.of {
			area := max(0, p.x()[p.prog.sow[j]])
			all += area
			if w := &p.years.sowings[j]; w.fed {
				fed, gap = fed+area, w.gap[0]
			}
		}
		if all > 0 {
			out[l.bed] += l.area * fed / all * gap
		}
	}
	return out
}

// targets are the plots that a carrier goes to as described; all beds where
// nothing is said.
func targets(st *stead.Stead, carrier int) []string {
	var to []string
	switch engine.Carriers[carrier] {
	case "urine":
		if len(st.Toilets) > 0 {
			to = st.Toilets[0].UrineTo
		}
	case "digestate":
		if len(st.Digesters) > 0 {
			to = st.Digesters[0].To
		}
	case "compost":
		for i := range st.Composts {
			if len(st.Composts[i].To) == 0 {
				to = nil
				break
			}
			to = append(to[:len(to):len(to)], st.Composts[i].To...)
		}
	}
	if len(to) > 0 {
		return to
	}
	for i := range st.Beds {
		to = append(to, st.Beds[i].Name)
	}
	return to
}

func treesOf(st *stead.Stead, plots []string) (out []string) {
	for _, name := range plots {
		if bedAt(st, name) < 0 {
			out = append(out, name)
		}
	}
	return out
}

func bedAt(st *stead.Stead, name string) int {
	return slices.IndexFunc(st.Beds, func(b stead.Bed) bool { return b.Name == name })
}

// spreading is the stead with its carriers sent where the list says.
func spreading(st *stead.Stead, list []Spreading) *stead.Stead {
	out := *st
	out.Toilets, out.Digesters, out.Composts = slices.Clone(st.Toilets), slices.Clone(st.Digesters), slices.Clone(st.Composts)
	for _, s := range list {
		switch {
		case !s.Other:
		case s.What == "urine" && len(out.Toilets) > 0:
			out.Toilets[0].UrineTo = s.To
		case s.What == "digestate" && len(out.Digesters) > 0:
			out.Digesters[0].To = s.To
		case s.What == "compost":
			for i := range out.Composts {
				out.Composts[i].To = s.To
			}
		}
	}
	return &out
}

// Places are where a carrier goes, neighbours in number as one: "B1 to B9".
func (s *Spreading) Places() []string {
	var out []string
	for i := 0; i < len(s.To); {
		from, n := s.To[i], 1
		word, at := numbered(from)
		for ; at >= 0 && i+n < len(s.To); n++ {
			if w, k := numbered(s.To[i+n]); w != word || k != at+n {
				break
			}
		}
		if n >= leastRun {
			out = append(out, from+" – "+s.To[i+n-1])
		} else {
			out = append(out, s.To[i:i+n]...)
		}
		i += n
	}
	return out
}

// leastRun is how many neighbours are told as one.
const leastRun = 3

// numbered parts a name into its word and its number; -1: it has none.
func numbered(name string) (word string, n int) {
	word = strings.TrimRight(name, "0123456789")
	n, err := strconv.Atoi(name[len(word):])
	if err != nil {
		return name, -1
	}
	return word, n
}
