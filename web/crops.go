package web

import (
	"strconv"

	"evenstead/engine"
)

// cropRow is one crop's harvest in words.
type cropRow struct {
	Name, Area        string
	Low, Middle, High string // 1 year in 10, the middle year, 9 years in 10
	First, Year       string // middle first picking
	Failed, Cause     string
	Seed              string // of the harvest, set aside; empty: none
}

func (v *view) cropRows() []cropRow {
	rows := make([]cropRow, len(v.o.Crops))
	for i := range v.o.Crops {
		rows[i] = v.cropRow(&v.o.Crops[i])
	}
	return rows
}

func (v *view) cropRow(c *engine.CropOutlook) cropRow {
	per := v.opt.measure("kg").per
	row := cropRow{
		Name: upperFirst(v.words.crop(c.Crop, c.Name)), Area: v.opt.amount(c.Area, "m2"),
		Low: v.words.figure(c.Kg.P10 * per), Middle: v.words.figure(c.Kg.P50 * per), High: v.words.figure(c.Kg.P90 * per),
		First: v.words.say("crop.never"), Failed: v.words.inTen(c.Failed),
	}
	if c.Seed >= engine.LeastSeed {
		row.Seed = v.words.say("crop.seed", v.words.figure(c.Seed*per))
	}
	if c.First != nil {
		row.First, row.Year = v.words.short(*c.First), strconv.Itoa(c.First.Year())
	}
	if c.Failed > 0 {
		row.Cause = v.words.or("cause."+c.Cause, c.Cause)
	}
	return row
}
