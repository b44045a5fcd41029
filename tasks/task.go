package tasks

import (
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/weather"
)

// A Rank is how dear it is to let a task slip, the dearest first.
type Rank int

// The ranks. When hours are short, what ranks last is dropped first.
const (
	Must   Rank = iota // people, beasts and safety
	Spoils             // is lost for good within days
	Season             // its season passes
	Loop               // a loop stands still, and can be taken up again
	Look               // a look or a count: the outlook grows vaguer
	Later              // can wait for a quiet week
)

var rankNames = [...]string{"must", "spoils", "season", "loop", "look", "later"}

// String is the rank in a word.
func (r Rank) String() string { return rankNames[r] }

// MarshalText writes the word.
func (r Rank) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// A Task is one piece of work.
type Task struct {
	ID      string  `json:"id"` // the same as long as it is the same work
	Kind    string  `json:"kind"`
	Title   string  `json:"title"`
	Amount  string  `json:"amount"`  // how much, in the units asked for; may be empty
	Value   float64 `json:"value"`   // of that, SI; 0 where there is none
	Unit    string  `json:"unit"`    // of Value: L, kg, g, m2, h; may be empty
	Why     string  `json:"why"`     // the reason, with its figures
	Slip    string  `json:"slip"`    // what it costs to let it slip
	Caution string  `json:"caution"` // a rule of safety; may be empty
	Source  string  `json:"source"`  // of the caution, or of the figure
	Minutes float64 `json:"minutes"` // in all
	From    day.Day `json:"from"`    // first day it can be done
	By      day.Day `json:"by"`      // last day without a cost
	Since   day.Day `json:"since"`   // what the note records counts for this task from this day on
	Daily   bool    `json:"daily"`   // done every day of the week; Minutes are those of the week
	Rank    Rank    `json:"rank"`
	Alarm   bool    `json:"alarm"` // worth a reminder in a calendar
	Note    string  `json:"note"`  // quick notes that record it, one a line; amounts are to be put right, Blank filled in
	Parts   bool    `json:"-"`     // a part of it is worth doing
	Cut     float64 `json:"cut"`   // minutes that do not fit, taken off Minutes; 0: none
	Drop    bool    `json:"drop"`  // does not fit the hours there are
}

// Blank stands in a note for what only a look can tell: a level, a weight.
const Blank = "_"

// A Week is seven days of work.
type Week struct {
	From  day.Day `json:"from"`
	To    day.Day `json:"to"` // last day
	Hands float64 `json:"hands"`
	Asked float64 `json:"asked"` // h of every task
	Kept  float64 `json:"kept"`  // h of those that are not dropped
	Tasks []Task  `json:"tasks"` // daily rounds first, then by the day they are due
	Said  string  `json:"said"`  // whether it fits, and what to drop first
}

// A Plan is the work of some weeks.
type Plan struct {
	Stead string  `json:"stead"`
	Today day.Day `json:"today"`
	Weeks []Week  `json:"weeks"`
	Watch []Watch `json:"watch"` // needs that run short soon, by the outlook; empty without one
	// Unknown says what stands in the way of a better week, one sentence each.
	Unknown []string `json:"unknown"`
}

// A Watch is a need that an outlook sees run short soon.
type Watch struct {
	Need  string   `json:"need"`
	Tag   string   `json:"tag"` // "short" or "watch"
	First *day.Day `json:"first"`
}

// An Ask is what a Plan is made from.
type Ask struct {
	Today    day.Day
	Weeks    int // 1 to 26
	Stead    *stead.Stead
	Tables   *data.Tables
	Standing *engine.Standing // of Past.Year
	Year     []engine.Growth  // of Past.Year
	Chores   *engine.Chores   // for at least 7 days a week asked
	Usual    weather.Climate
	Outlook  *engine.Outlook // nil: no need is watched
	Units    unit.System
}
