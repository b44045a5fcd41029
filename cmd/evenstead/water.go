package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenstead/data"
	"evenstead/day"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/water"
)

var waterCommand = command{"water", "[STEAD.toml] [flags]", "tells how much store is enough, and what a barrel, more roof or a litre saved is worth", showWater}

func showWater(_ context.Context, a *args) error {
	q := request{name: "evenstead.toml", members: madeYears, days: 365}
	a.flags.StringVar(&q.weather, "weather", "", "daily weather `file`, as for ahead; without one, years are made from the description's normals")
	a.flags.StringVar(&q.units, "units", "auto", "units of the weather file: auto, metric, tenths or us")
	a.flags.StringVar(&q.years, "years", "", "`years` of the record to use, such as 1984-2019")
	a.flags.StringVar(&q.today, "today", "", "`date` the emergency ladder begins (default: the description's stay.from, else today)")
	a.flags.Uint64Var(&q.seed, "seed", 1, "seed of chance, for years made from normals")
	asJSON := a.flags.Bool("json", false, "print JSON, in SI units")
	us := a.flags.Bool("us", false, "print US units")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	if len(words) == 1 {
		q.name = words[0]
	}
	if q.text, err = readStead(q.name); err != nil {
		return err
	}
	sheet, err := q.sizing(time.Now)
	if err != nil {
		return err
	}
	if *asJSON {
		return writeJSON(a.out, sheet)
	}
	return writeWater(a.out, sheet, system(*us))
}

// A waterSheet is how much store is enough, in SI units.
type waterSheet struct {
	Stead    string       `json:"stead"`
	Today    day.Day      `json:"today"`
	People   int          `json:"people"`
	Years    int          `json:"years"` // of weather run
	Groups   []waterGroup `json:"groups"`
	Weather  []string     `json:"weather"`
	Defaults []string     `json:"defaults"`
	Left     []string     `json:"left_out"`
	Cautions []string     `json:"cautions"`
}

// A waterGroup is one tank group's sizing. A nil amount is one that nothing reaches.
type waterGroup struct {
	Name     string   `json:"name"`
	Tanks    int      `json:"tanks"`
	Holds    float64  `json:"holds_l"`
	Dead     float64  `json:"dead_l"`
	Level    float64  `json:"level_l"`
	Mean     float64  `json:"inflow_mean_l_year"`   // off roofs and what overflows into it
	Dry      float64  `json:"inflow_dry_l_year"`    // 1 year of 10 brings less
	Piped    float64  `json:"overflow_in_l_year"`   // of the mean, from other groups
	Asked    float64  `json:"asked_l_day"`          // by all uses
	Rt       float64  `json:"days_met"`             // share, yield after spillage
	Rv       float64  `json:"water_met"`            // likewise
	RtBefore float64  `json:"days_met_same_day"`    // yield before spillage
	RvBefore float64  `json:"water_met_same_day"`   // likewise
	Spilt    float64  `json:"spilt_l_year"`         // over the brim
	Longest  int      `json:"longest_short_days"`   // run of days not met in full
	Return   *float64 `json:"longest_return_years"` // of a run as long
	OnceTen  *int     `json:"short_days_once_in_10_years"`
	FromFull *float64 `json:"days_from_full"` // no rain
	NoFail   *float64 `json:"never_failed_l"` // at the brim

	ByMonth []float64     `json:"short_days_by_month"` // a year, January first
	Roofs   []waterRoof   `json:"roofs"`
	Volumes []float64     `json:"volumes_l"`
	Demands []float64     `json:"demands_l_day"`
	Met     [][]float64   `json:"met"` // share of days, by demand then volume
	Needed  []waterNeeded `json:"needed"`
	Worth   []waterWorth  `json:"worth"`
	Ladder  []waterRung   `json:"ladder"`
	Beds    *waterBeds    `json:"beds"` // null where none draws on the group
}

// A waterBeds is how the group serves when the beds are watered from it as well,
// after the house.
type waterBeds struct {
	Asked  float64      `json:"asked_l_year"` // by the beds, in the mean year
	Peak   float64      `json:"peak_l_day"`   // mean of the month that asks most
	Month  int          `json:"peak_month"`   // 1 January
	Rt     float64      `json:"days_met"`     // share of days on which house and beds have all they ask
	Rv     float64      `json:"water_met"`    // share of the water asked by both
	Given  float64      `json:"given_l_year"` // to both
	NoFail *float64     `json:"never_failed_l"`
	Worth  []waterWorth `json:"worth"`
}

// A waterRoof is a roof that sheds to a group.
type waterRoof struct {
	Name    string  `json:"name"`
	Area    float64 `json:"area_m2"`
	Surface string  `json:"surface"`
	Coef    float64 `json:"coefficient"`
	Flush   float64 `json:"first_flush_l"`
}

// A waterNeeded is the volume at the brim that a demand needs.
type waterNeeded struct {
	Demand float64    `json:"demand_l_day"`
	For    []*float64 `json:"volume_l"` // for each of neededShares
	NoFail *float64   `json:"never_failed_l"`
}

// A waterWorth is what a change is good for, a year.
type waterWorth struct {
	Change string  `json:"change"`
	Amount float64 `json:"amount"` // L, m2 or L a day
	kind   changeKind
	Days   float64 `json:"days_fewer_short"`
	Litres float64 `json:"litres_fewer_wanting"`
}

// A waterRung is one step of the emergency ladder.
type waterRung struct {
	Cut  string   `json:"cut"` // "" where nothing is cut
	To   float64  `json:"to_l_day"`
	Asks float64  `json:"asks_l_day"`
	Dry  *float64 `json:"days_no_rain"`
	Poor float64  `json:"days_dry_tenth"` // the driest tenth of the record's years from this date; 365 is a year or more
}

const madeYears = 100 // years made where there is no record

// sizing reads the description and the weather and sizes every tank group.
func (q *request) sizing(clock func() time.Time) (*waterSheet, error) {
	st, err := stead.Read(q.name, q.text)
	if err != nil {
		return nil, given(err)
	}
	if len(st.Tanks) == 0 {
		return nil, given(fmt.Errorf(`%s describes no tank: write tank = "1000 L" in a roof, or a [[tank]]`, q.name))
	}
	tab, err := data.Load()
	if err != nil {
		return nil, fmt.Errorf("load tables: %w", err)
	}
	a, err := q.ask(clock)
	if err != nil {
		return nil, err
	}
	if q.today == "" && st.Stay.From != 0 {
		a.Today = st.Stay.From
	}
	past, err := q.past(st)
	if err != nil {
		return nil, given(err)
	}
	s := &sizer{st: st, tab: tab, past: past, today: a.Today, groups: st.Groups()}
	if s.thirst, err = q.thirst(st, a); err != nil {
		return nil, given(err)
	}
	return s.sheet(), nil
}

// A sizer sizes a stead's tank groups one after another.
type sizer struct {
	st     *stead.Stead
	tab    *data.Tables
	past   *past
	today  day.Day
	groups []stead.Group
	piped  [][]float64    // L a day that overflows into each group; nil: none
	thirst [][365]float64 // L a day that beds would draw, by group and day of the year
	done   []*waterGroup
}

func (s *sizer) sheet() *waterSheet {
	n := len(s.groups)
	s.piped, s.done = make([][]float64, n), make([]*waterGroup, n)
	out := &waterSheet{Stead: s.st.Name, Today: s.today, People: len(s.st.People), Years: len(s.past.first), Weather: s.past.notes,
		Defaults: hearth.Taken(waterDefaults(s.st)), Left: s.left(), Cautions: waterCautions(s.st)}
	for i := range s.groups {
		s.size(i)
	}
	for _, g := range s.done {
		out.Groups = append(out.Groups, *g)
	}
	return out
}

// size sizes a group, after those that spill into it: a description has no rings.
func (s *sizer) size(i int) {
	if s.done[i] != nil {
		return
	}
	for j, g := range s.groups {
		if j != i && g.Overflow != "away" && s.groupOf(g.Overflow) == i {
			s.size(j)
		}
	}
	c := s.caseOf(i)
	course := c.Run()
	s.done[i] = s.group(i, &c, &course)
	if to := s.groupOf(s.groups[i].Overflow); to >= 0 {
		if s.piped[to] == nil {
			s.piped[to] = make([]float64, len(s.past.rain))
		}
		for t, v := range course.Spilt {
			s.piped[to][t] += v
		}
	}
}

// groupOf is the group that a tank or group name means, -1 for none.
func (s *sizer) groupOf(name string) int {
	if i := slices.IndexFunc(s.groups, func(g stead.Group) bool { return g.Name == name }); i >= 0 {
		return i
	}
	return slices.IndexFunc(s.groups, func(g stead.Group) bool {
		return slices.ContainsFunc(g.Tanks, func(t int) bool { return s.st.Tanks[t].Name == name })
	})
}

// fed is the group that a roof or use belongs to: the first where none is named.
func (s *sizer) fed(name string) int { return max(0, s.groupOf(name)) }

func (s *sizer) caseOf(i int) water.Case {
	g := s.groups[i]
	c := water.Case{Rain: s.past.rain, ET0: s.past.et0, Piped: s.piped[i], Rule: water.YAS,
		Store: water.Store{Size: g.Holds, Dead: g.Dead, Open: g.Open, Leak: g.Leak}}
	for _, r := range s.st.Roofs {
		if s.fed(r.To) == i {
			c.Roofs = append(c.Roofs, s.roof(r))
		}
	}
	asks := 0.0
	for _, u := range s.cuts(i) {
		asks += u.Full
	}
	c.Demand = []float64{asks}
	return c
}

// roof is a described roof; its diverter is empty again after a day without rain.
func (s *sizer) roof(r stead.Roof) water.Roof {
	out := water.Roof{Area: r.Area, Coef: r.Coefficient, Gutter: r.Gutter, Flush: r.FirstFlush, Drains: 1}
	if row, ok := s.tab.Roof(r.Surface); out.Coef == 0 && ok {
		out.Coef = row.Coefficient
	}
	if out.Flush == 0 {
		out.Flush = water.FlushDepth * r.Area
	}
	return out
}

// cuts are a group's uses in the order in which they are cut when water is short:
// a digester first, then from the last written use to the first. Drinking, cooking
// and animals are never cut below what is written as their least; other uses with
// no least stop altogether.
func (s *sizer) cuts(i int) []water.Cut {
	var out []water.Cut
	for _, d := range s.st.Digesters {
		if s.fed(d.From) == i {
			wet := d.Water
			if wet == 0 {
				wet = 2 * d.Feed
			}
			out = append(out, water.Cut{Name: d.Name, Full: wet})
		}
	}
	heads := float64(len(s.st.People))
	for _, u := range slices.Backward(s.st.Uses) {
		if s.fed(u.From) != i {
			continue
		}
		c := water.Cut{Name: u.Name, Full: u.PerPerson*heads + u.PerDay, Least: u.Least * heads}
		if u.Least == 0 && slices.Contains([]string{"drinking", "cooking", "animals"}, u.Kind) {
			c.Least = c.Full
		}
		c.Least = min(c.Least, c.Full)
		out = append(out, c)
	}
	return out
}

// left says what the sizing leaves out.
func (s *sizer) left() []string {
	out := []string{"Everybody is taken to be at home every day; days away and guests are left out.",
		"Water carried by can from one group to another is left out, as is water hauled in.",
		"Worth is counted at the group's own uses; what then spills less to another group is not."}
	if slices.ContainsFunc(s.st.Beds, func(b stead.Bed) bool { return b.Irrigated }) {
		out = append(out, "The beds are told apart, by what they ask in the mean year of the engine's own reckoning; a dry year asks more. evenstead ahead reckons it day by day.")
	}
	return out
}

// waterDefaults are the defaults taken that the sizing rests on.
func waterDefaults(st *stead.Stead) []stead.Default {
	var out []stead.Default
	for _, d := range st.Taken {
		if about(d.Part, "roof", "tank", "use") && slices.Contains([]string{"surface", "level", "dead", "per_person"}, d.Key) {
			out = append(out, d)
		}
	}
	return out
}

// about reports whether a part is one of some kinds, such as `roof "barn"` of roof.
func about(part string, kinds ...string) bool {
	kind, _, _ := strings.Cut(part, " ")
	return slices.Contains(kinds, kind)
}

// waterCautions are the description's cautions about water, then those that hold
// for any tank.
func waterCautions(st *stead.Stead) []string {
	out := hearth.Cautions(&stead.Stead{Roofs: st.Roofs, Tanks: st.Tanks, Uses: st.Uses, Treatment: st.Treatment, Plantings: st.Plantings})
	if !openTank(st) { // else said above
		out = append(out, water.CautionMosquito)
	}
	return append(out, water.CautionLight, water.CautionFlush, water.CautionOverflow)
}

func openTank(st *stead.Stead) bool {
	return slices.ContainsFunc(st.Tanks, func(t stead.Tank) bool { return t.Open > 0 })
}
