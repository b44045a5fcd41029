package main

import (
	"context"
	"fmt"
	"os"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/hearth"
	"evenstead/stead"
)

var needCommand = command{"need", "[STEAD.toml] [flags]", "tells what each person needs of food, from which source, and what is bought of it", showNeed}

// needing is what need is asked.
type needing struct {
	at       at
	json, us bool
}

func showNeed(ctx context.Context, a *args) error {
	var q needing
	q.at.fileFlag(a.flags)
	q.at.todayFlag(a.flags)
	a.flags.BoolVar(&q.json, "json", false, "print JSON, in SI units")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	sheet, err := q.sheet(ctx, words)
	if err != nil {
		return err
	}
	if q.json {
		return writeJSON(a.out, sheet)
	}
	return writeNeed(a.out, sheet, system(q.us))
}

// sheet reckons from a description when one is named or there is no file of a
// stead here, else from that file and the work in its book.
func (q *needing) sheet(ctx context.Context, words []string) (*needSheet, error) {
	today, err := q.at.day()
	if err != nil {
		return nil, err
	}
	if name, alone := q.at.described(words); alone {
		text, err := readStead(name)
		if err != nil {
			return nil, err
		}
		st, err := stead.Read(name, text)
		if err != nil {
			return nil, given(err)
		}
		if q.at.today == "" && st.Stay.From != 0 {
			today = st.Stay.From
		}
		return needOf(st, nil, today)
	}
	var sheet *needSheet
	err = q.at.with(ctx, func(h *hearth.Home) error {
		v, err := h.On(ctx, today)
		if err != nil {
			return blame(err)
		}
		entries, err := h.Entries(ctx)
		if err != nil {
			return err
		}
		sheet, err = needOf(v.Stead, entries, today)
		return err
	})
	return sheet, err
}

// described tells whether a description by itself is asked about, and its name.
func (q *at) described(words []string) (name string, alone bool) {
	if len(words) == 1 {
		return words[0], true
	}
	_, missing := os.Stat(q.path)
	return "evenstead.toml", missing != nil && q.path == steadFile
}

// A needSheet is what a household needs. Amounts are SI, nutrients in the unit
// named; a nil amount is not known, or not published.
type needSheet struct {
	Stead     string       `json:"stead"`
	Today     day.Day      `json:"today"`
	People    []needPerson `json:"people"`
	Guests    float64      `json:"guest_days_year"`
	Household []needTotal  `json:"household"`
	Bought    []needBought `json:"bought"`
	Scarce    []needScarce `json:"scarce"`
	Notes     []string     `json:"notes"`
	Cautions  []string     `json:"cautions"`
	Defaults  []string     `json:"defaults"`
	tab       *data.Tables // for the text
}

// A needPerson is one member of the household.
type needPerson struct {
	Name     string      `json:"name"`
	Said     string      `json:"said"` // sex, age, height, mass, activity, state
	Away     int         `json:"days_away_year"`
	Energy   needEnergy  `json:"energy"`
	Lines    []needLine  `json:"lines"`
	Worked   []needSpell `json:"work,omitempty"` // logged, by task
	WorkFrom string      `json:"work_from"`
}

// needEnergy is the energy of a day, MJ, by each way to it.
type needEnergy struct {
	EER2023 float64 `json:"nasem_2023_mj"`
	EER2005 float64 `json:"iom_2005_mj"`
	Growth  float64 `json:"growth_mj"`  // held in the first
	Bearing float64 `json:"bearing_mj"` // pregnancy or milk, likewise
	ByWork  float64 `json:"by_work_mj"` // inactive by NASEM 2023, and the work above rest
	Hours   float64 `json:"work_hours_day"`
	METh    float64 `json:"work_met_hours_day"`
	Work    float64 `json:"work_mj"` // of it above rest
}

// A needSpell is work at one effort, a day in the mean.
type needSpell struct {
	Task   string  `json:"task"`
	Hours  float64 `json:"hours_day"`
	MET    float64 `json:"met"`
	Source string  `json:"source"`
}

// A needLine is one nutrient of one person.
type needLine struct {
	Nutrient string   `json:"nutrient"`
	Unit     string   `json:"unit"`
	Target   *float64 `json:"target"`
	Kind     string   `json:"kind"`
	Upper    *float64 `json:"upper"`
	Scope    string   `json:"upper_scope"`
	Binds    bool     `json:"upper_binds"`
	Source   string   `json:"source"`
	name     string
}

// A needTotal is one nutrient of the household.
type needTotal struct {
	Nutrient string   `json:"nutrient"`
	Unit     string   `json:"unit"`
	Day      *float64 `json:"day"`  // all at home, and guests in the mean
	Year     *float64 `json:"year"` // less the days away
	Upper    *float64 `json:"upper_day"`
	Bought   *float64 `json:"bought_day"` // what the terms' foods bring; null where none of them has a figure
	Share    *float64 `json:"bought_share"`
	Blank    []string `json:"bought_blank,omitempty"` // bought foods without a figure
	name     string
}

// A needBought is a food the terms allow.
type needBought struct {
	Food string  `json:"food"`
	Name string  `json:"name"`
	Day  float64 `json:"kg_day"` // for all
	MJ   float64 `json:"mj_day"`
}

// A needScarce is a source of what home-grown food lacks.
type needScarce struct {
	Nutrient string  `json:"nutrient"`
	Food     string  `json:"food"`
	Amount   float64 `json:"amount"`
	Of       string  `json:"of"`
	Source   string  `json:"source"`
	Note     string  `json:"note,omitempty"`
}

// needOf reckons a household's need from its description and what its book
// says of work done.
func needOf(st *stead.Stead, entries []book.Entry, today day.Day) (*needSheet, error) {
	tab, err := data.Load()
	if err != nil {
		return nil, fmt.Errorf("load tables: %w", err)
	}
	if tab, err = st.Tables(tab); err != nil {
		return nil, given(err)
	}
	if len(st.People) == 0 {
		return nil, given(fmt.Errorf("%s describes nobody: write people = 2, or a [[person]] for each", st.Name))
	}
	s := &needSheet{Stead: st.Name, Today: today, tab: tab, Defaults: hearth.Taken(foodTaken(st.Taken))}
	r := needReckoner{st: st, tab: tab, today: today, entries: entries, sheet: s}
	for i := range st.People {
		if err := r.person(i); err != nil {
			return nil, given(err)
		}
	}
	r.household()
	r.say()
	return s, nil
}

// foodTaken keeps the defaults that a food need is reckoned from.
func foodTaken(taken []stead.Default) (out []stead.Default) {
	for _, d := range taken {
		switch d.Key {
		case "person", "people", "sex", "age", "height", "mass", "activity", "state", "hours_week":
			out = append(out, d)
		}
	}
	return out
}
