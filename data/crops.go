package data

import (
	"fmt"
	"math"
	"time"
)

// loadCrops reads crops.csv. Its columns carry the names of Crop's fields; a
// blank harvest month or bearing age means an annual, a blank t_upper, gdd or
// heat_limit is NaN.
//
// Climate limits are FAO EcoCrop's; composition is USDA SR26 per kg carried
// home, or field removal where that is larger; Kc, depth of roots (middle of the
// printed range) and depletion are FAO-56 tables 12 and 22, shares of the season
// table 11, for the row the note names. The note ends with the columns that rest
// on memory or common practice.
//
// How each is begun, kept as seed and stands salt is joined from crops_sowing.csv,
// crops_seed.csv, crops_kept.csv and crops_salt.csv; how each stage answers to want of water from
// crops_ky.csv.
func loadCrops() ([]Crop, error) {
	sowings, err := loadSowings()
	if err != nil {
		return nil, err
	}
	seeds, err := loadSeeds()
	if err != nil {
		return nil, err
	}
	salts, err := loadSalts()
	if err != nil {
		return nil, err
	}
	stages, err := loadStageKy()
	if err != nil {
		return nil, err
	}
	kept, err := loadKept()
	if err != nil {
		return nil, err
	}
	return readRows("crops.csv", func(r record) Crop {
		c := crop(r)
		c.KyStage = stages[c.ID]
		c.Sowing, c.Seed, c.Salt = sowings[c.ID], seeds[c.ID], salts[c.ID]
		c.Seed.OfHarvest, c.Seed.HarvestOf = kept[c.ID].ofHarvest, kept[c.ID].source
		if annual := c.HarvestFrom == 0; annual != (c.Start != "") {
			r.fault("id", "%s: an annual has a row in crops_sowing.csv, a perennial none", c.ID)
		}
		return c
	})
}

// loadStageKy reads crops_ky.csv (FAO Irrigation and Drainage Paper 33). A stage
// that is not printed is 0: without flowering the yield forms from the start, and
// a ripening that is not printed does not suffer.
func loadStageKy() (map[string][4]float64, error) {
	return keyed("crops_ky.csv", func(r record) [4]float64 {
		r.must("source")
		return [4]float64{r.num("vegetative"), r.or("flowering", 0), r.num("forming"), r.or("ripening", 0)}
	})
}

func crop(r record) Crop {
	c := Crop{
		ID: r.must("id"), Name: r.must("name"), Scientific: r.must("scientific"), Family: r.must("family"),
		Form: r.must("form"), Food: r.str("food"),
		PlantsM2: r.num("plants_m2"), SeedGM2: r.or("seed_g_m2", 0),
		EdibleFraction: r.num("edible_fraction"), N: r.num("n"), P: r.num("p"), K: r.num("k"),
		Fixed: r.num("fixed"), HarvestN: r.num("harvest_n"), Residue: r.num("residue"),
		PickMinKg: r.num("pick_min_kg"), Keeps: r.must("keeps"),
		YieldLo: r.num("yield_lo"), YieldTyp: r.num("yield_typ"), YieldHi: r.num("yield_hi"),
		YieldBasis: r.must("yield_basis"), Source: r.must("source"), Note: noted(r),
	}
	climate(r, &c)
	season(r, &c)
	thirst(r, &c)
	return c
}

// climate reads the temperatures a crop lives within, °C.
func climate(r record, c *Crop) {
	c.TBase, c.TUpper = r.num("t_base"), r.opt("t_upper")
	c.TOptLo, c.TOptHi = r.num("t_opt_lo"), r.num("t_opt_hi")
	c.TAbsLo, c.TAbsHi = r.num("t_abs_lo"), r.num("t_abs_hi")
	c.KillGrowing, c.KillHardened = r.num("kill_growing"), r.num("kill_hardened")
	c.Tender = int(r.num("tender"))
	c.SoilSow, c.HeatLimit = r.num("soil_sow"), r.opt("heat_limit")
}

// season reads the times of a crop: days for annuals, months and years for
// perennials.
func season(r record, c *Crop) {
	c.DaysFirst, c.DaysFirstHi = r.or("days_first", 0), r.or("days_first_hi", 0)
	c.DaysFromSowing = r.word("days_from", "", "sowing", "setting") == "sowing"
	c.HarvestSpan, c.GDD = r.num("harvest_span"), r.opt("gdd")
	c.HarvestFrom, c.HarvestTo = r.month("harvest_from"), r.month("harvest_to")
	c.BearFrom, c.BearFull = r.or("bear_from", 0), r.or("bear_full", 0)
}

// thirst reads what the crop's water reckoning needs.
func thirst(r record, c *Crop) {
	c.Ky = r.num("ky")
	c.KcIni, c.KcMid, c.KcEnd = r.num("kc_ini"), r.num("kc_mid"), r.num("kc_end")
	c.ShareIni, c.ShareDev, c.ShareMid = r.num("share_ini"), r.num("share_dev"), r.num("share_mid")
	c.Roots, c.Depletion = r.num("roots"), r.num("depletion")
}

// readRows reads a table row by row and joins the faults of its cells.
func readRows[T any](name string, row func(record) T) ([]T, error) {
	t, err := open(name)
	if err != nil {
		return nil, err
	}
	return rowsOf(t, row)
}

func rowsOf[T any](t *table, row func(record) T) ([]T, error) {
	out := make([]T, 0, len(t.rows))
	for _, r := range t.rows {
		out = append(out, row(r))
	}
	if err := t.err(); err != nil {
		return nil, err
	}
	return out, nil
}

// noted is the note of a row and, after it, the columns that rest on memory or
// common practice.
func noted(r record) string {
	note, memory := r.str("note"), r.str("from_memory")
	switch {
	case memory == "":
		return note
	case note == "":
		return "from memory or common practice: " + memory
	}
	return fmt.Sprintf("%s. From memory or common practice: %s", note, memory)
}

// sourced is the source of a row, with what of it rests on memory or common
// practice.
func sourced(r record) string {
	source, memory := r.must("source"), r.str("from_memory")
	if memory == "" || memory == source {
		return source
	}
	return source + " (from memory or common practice: " + memory + ")"
}

// month returns the month of a cell, or 0 when it is empty.
func (r record) month(col string) time.Month {
	v := r.or(col, 0)
	if v < 0 || v > 12 || v != math.Trunc(v) {
		r.fault(col, "%v is not a month from 1 to 12", v)
		return 0
	}
	return time.Month(v)
}

// word returns the cell, which must be one of the words given.
func (r record) word(col string, words ...string) string {
	s := r.str(col)
	for _, w := range words {
		if s == w {
			return s
		}
	}
	r.fault(col, "%q is none of %q", s, words)
	return ""
}
