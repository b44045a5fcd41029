package engine

import "evenstead/day"

// An Outlook is what a run of many possible years says, ready to print, draw or
// send. Chances and shares run from 0 to 1. Weeks count from Today; week 0 is
// the seven days that begin today. The JSON keys are documented in docs/json.md.
type Outlook struct {
	Stead   string  `json:"stead"`
	Today   day.Day `json:"today"`
	Days    int     `json:"days"`
	Members int     `json:"members"`
	Seed    uint64  `json:"seed"`

	Verdict Verdict        `json:"verdict"`
	Needs   []NeedOutlook  `json:"needs"`
	Stores  []StoreOutlook `json:"stores"`
	Crops   []CropOutlook  `json:"crops"`
	Loops   []LoopOutlook  `json:"loops"`

	Found *Found `json:"found"` // what the book shows; absent for a description alone

	Weather  []string `json:"weather"`  // how the record was read, one sentence each
	Defaults []string `json:"defaults"` // what was taken for what was not written
	Cautions []string `json:"cautions"` // safety sentences that the description calls for
}

// Found is what a household's own records show.
type Found struct {
	Entries int        `json:"entries"` // that stand
	Drifts  []Drift    `json:"drifts"`  // the last of each store
	Learned []Learned  `json:"learned"`
	Seen    []Seen     `json:"seen"`
	Refused []string   `json:"refused"` // entries that can't be reckoned with, and why
	Ask     []Question `json:"ask"`     // counts that would sharpen the outlook; only when asked for
}

// A Verdict is the outlook in one to three sentences.
type Verdict struct {
	Lead string `json:"lead"` // the one thing first, no full stop lost
	Rest string `json:"rest"` // what else matters, then what holds; may be empty
	Why  string `json:"why"`  // what empties first and the cause found by taking the limit away
}

// Groups of needs, in the order they are always shown.
const (
	Water = "water"
	Food  = "food"
	Heat  = "heat"
	Soil  = "soil"
	Room  = "room"
	Hours = "hours"
)

// NeedOutlook is one need over the horizon.
type NeedOutlook struct {
	ID    string `json:"id"`    // "drinking", "energy", "vit_c_mg"
	Name  string `json:"name"`  // "Drinking", "Food energy", "Vitamin C"
	Group string `json:"group"` // water, food, heat, soil, room, hours
	Known bool   `json:"known"` // false: no figures to reckon with; Why says which
	Note  string `json:"note"`  // what counts as short, or why it is not known

	// Days of cover: the days from today until the need first falls short.
	// Sure is reached in 9 years of 10, Middle in 5, Long in 1. Open tells that
	// the figure is the horizon and the need still holds there.
	Sure   int     `json:"sure_days"`
	Middle int     `json:"middle_days"`
	Long   int     `json:"long_days"`
	Open   [3]bool `json:"open"` // of Sure, Middle, Long

	Covered []float64 `json:"covered"` // share of members not yet short at the start of each week, Weeks+1 values
	Short   []float64 `json:"short"`   // chance of falling short in each week

	ShareShort float64    `json:"share_short"` // members that fall short within the horizon
	FirstShort *day.Day   `json:"first_short"` // middle first day among those members; nil when none
	WorstWeek  int        `json:"worst_week"`  // week with the greatest chance
	Met        [3]float64 `json:"met"`         // share of the whole horizon's need met: 1-in-10 low, middle, 9-in-10
	Cause      string     `json:"cause"`       // what the shortfall is put down to; empty when none
	Main       bool       `json:"main"`        // one of the needs a page shows first
}

// Tag is "short" (half the members within 30 days), "watch" (1 in 10 within 30
// days or half within 120) or "".
func (n *NeedOutlook) Tag() string {
	within := func(days int) float64 {
		w := min(days/7, len(n.Covered)-1)
		if w < 0 {
			return 0
		}
		return 1 - n.Covered[w]
	}
	switch {
	case !n.Known:
		return ""
	case within(30) >= 0.5:
		return "short"
	case within(30) >= 0.1 || within(120) >= 0.5:
		return "watch"
	}
	return ""
}

// StoreOutlook is one stock over the horizon.
type StoreOutlook struct {
	ID    string  `json:"id"`    // "tank:barn"
	Name  string  `json:"name"`  // "Barn tanks"
	Group string  `json:"group"` // as for needs
	Unit  string  `json:"unit"`  // "L", "kg", "MJ", "days' eating"
	Size  float64 `json:"size"`  // 0: no fixed size
	Line  float64 `json:"line"`  // the even line: the level at which enough ends
	Now   float64 `json:"now"`   // today
	Need  string  `json:"need"`  // id of the need whose chance hangs below the line
	Weeks []Band  `json:"weeks"` // Weeks+1 values; the first is today
	Said  string  `json:"said"`  // one sentence
}

// A Band holds quantiles over the members.
type Band struct {
	P10 float64 `json:"p10"`
	P25 float64 `json:"p25"`
	P50 float64 `json:"p50"`
	P75 float64 `json:"p75"`
	P90 float64 `json:"p90"`
}

// CropOutlook is the harvest of one crop over the horizon, kg as carried home.
type CropOutlook struct {
	Crop   string   `json:"crop"`
	Name   string   `json:"name"`
	Area   float64  `json:"area_m2"`
	Kg     Band     `json:"kg"`
	Seed   float64  `json:"seed_kg"` // of that, set aside to sow the same ground again in the middle year; 0: seed is none of what is eaten, or is bought
	First  *day.Day `json:"first"`   // middle first picking; nil when never
	Failed float64  `json:"failed"`  // share of members in which at least one planting died or was lost
	Cause  string   `json:"cause"`   // the greatest cause of loss: frost, heat, dry, hungry, pest
}

// LoopOutlook is the mean yearly flow network of one material.
type LoopOutlook struct {
	Material string     `json:"material"` // water, mass, energy, nitrogen, phosphorus, potassium
	Unit     string     `json:"unit"`
	Nodes    []string   `json:"nodes"`
	Flows    []LoopFlow `json:"flows"` // nonzero only
}

// LoopFlow is a mean flow between two nodes over the horizon.
type LoopFlow struct {
	From   int     `json:"from"`
	To     int     `json:"to"`
	Amount float64 `json:"amount"`
}
