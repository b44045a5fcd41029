package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/larder"
	"evenstead/unit"
)

// A larderFreeze is a freezer's guard.
type larderFreeze struct {
	Name    string  `json:"name"`
	Fill    float64 `json:"fill"`
	RoomC   float64 `json:"room_c"`
	Hold    float64 `json:"hold_hours"` // by which to act after the current stops
	Daily   float64 `json:"daily_mj"`   // expected in a room as warm as now
	Year    float64 `json:"year_mj"`    // with the room through the year
	Limit   float64 `json:"us_limit_mj_day"`
	Outages float64 `json:"outages_year"`
	Seen    string  `json:"last_seen"`
}

// A larderOutage is what a power cut leaves.
type larderOutage struct {
	Hours float64      `json:"hours"`
	Left  []larderTime `json:"left"` // by freezer
	List  []larderThaw `json:"list"`
}

type larderTime struct {
	Name  string  `json:"name"`
	Hours float64 `json:"hours_left"` // below 0: past
}

// A larderThaw is what to do with a group of food.
type larderThaw struct {
	Group  string   `json:"group"`
	Foods  []string `json:"foods"` // of those in the freezer
	Cold   string   `json:"ice_left_or_under_4c"`
	Warm   string   `json:"above_4c"`
	Hours  *float64 `json:"above_4c_hours"`
	Source string   `json:"source"`
}

func (p *pantry) freezers() {
	for _, at := range p.now.Places {
		if at.Kind != larder.Freezer || !(at.Holds > 0) {
			continue
		}
		f := larderFreeze{Name: at.Name, Fill: min(1, at.Used/at.Holds), RoomC: at.Temp, Hold: at.Hold, Limit: larder.ChestLabel(at.Holds)}
		for _, d := range p.r.Stead.Freezers {
			if d.Name == at.Name {
				f.Daily, f.Outages = larder.FreezerDaily(d.Daily, at.Temp), d.Outages
				f.Year = p.freezerYear(d.Daily)
			}
		}
		for _, l := range p.now.Lots {
			if l.Place == at.Name && l.Day != 0 {
				f.Seen = fmt.Sprintf("%s, %s", l.How, plain(l.Day.Long()))
			}
		}
		p.b.Freezers = append(p.b.Freezers, f)
	}
}

// freezerYear is the current of a year at the room's temperature of each day of
// the usual year, MJ.
func (p *pantry) freezerYear(daily float64) float64 {
	clim, sum := p.r.Options.Climate, 0.0
	for d := range clim.TMin {
		room, err := larder.StoreTemp(larder.Room, (clim.TMin[d]+clim.TMax[d])/2, larder.Wave{}, 0)
		if err != nil {
			return math.NaN()
		}
		sum += larder.FreezerDaily(daily, room)
	}
	return sum * 365 / float64(len(clim.TMin))
}

// outage tells how long each freezer still holds and what to do with its food.
func (p *pantry) outage() error {
	hours, err := unit.Parse(p.q.outage, unit.Time)
	if err != nil {
		return given(fmt.Errorf("--outage: %w", err))
	}
	if hours < 0 {
		return given(errors.New("--outage: hours since the current stopped, 0 or more"))
	}
	if len(p.b.Freezers) == 0 {
		return given(errors.New("--outage: no freezer is described; write a [[freezer]]"))
	}
	o := &larderOutage{Hours: hours}
	for _, f := range p.b.Freezers {
		o.Left = append(o.Left, larderTime{f.Name, f.Hold - hours})
	}
	list, err := larder.ThawList()
	if err != nil {
		return err
	}
	for _, row := range list {
		foods := p.frozen(row.Group)
		o.List = append(o.List, larderThaw{row.Examples, foods, row.Cold, row.Warm, known(row.Hours), row.Source})
	}
	slices.SortStableFunc(o.List, func(a, b larderThaw) int { return min(1, len(b.Foods)) - min(1, len(a.Foods)) })
	p.b.Outage = o
	return nil
}

// frozen names the frozen lots of a group.
func (p *pantry) frozen(group string) (names []string) {
	for _, l := range p.b.Lots {
		f, ok := p.r.Tables.Food(l.Food)
		if ok && l.Form == larder.Frozen && larder.ThawGroup(f.Category) == group {
			names = append(names, strings.ReplaceAll(l.Name, "_", " "))
		}
	}
	return names
}
