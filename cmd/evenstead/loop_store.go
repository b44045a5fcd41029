package main

import (
	"fmt"
	"math"
	"strings"

	"evenstead/engine"
	"evenstead/fertility"
	"evenstead/fuel"
	"evenstead/unit"
)

// toilet tells cover, drums in turn and cans.
func (s *loopSheet) toilet(p *printer) error {
	t := s.now.Toilet
	p.head("Toilet: cover, drums and cans")
	if t == nil {
		p.line("  No toilet is described: add [[toilet]].")
		return nil
	}
	d := s.stead().Toilets[0]
	cover := fertility.CoverLeft(t.Cover, d.CoverUse, float64(s.now.People))
	line := fmt.Sprintf("cover: %s, %s with all at home", s.say(t.Cover, unit.Volume), daysSaid(cover))
	if cover < 14 {
		line += "; WITHOUT COVER THE TOILET STOPS"
	}
	lines := []string{line, s.drumsInTurn(t)}
	if t.Apart {
		lines = append(lines, fmt.Sprintf("urine: %s in cans that hold %s, full in %s; %.0f g of nitrogen", s.say(t.Urine, unit.Volume), s.say(t.Cans, unit.Volume), daysSaid(t.UrineDays), 1000*t.UrineN))
	}
	for _, l := range lines {
		p.wrap("- ", l)
	}
	return nil
}

// drumsInTurn is how many drums let each full one rest while another fills.
func (s *loopSheet) drumsInTurn(t *engine.ToiletNow) string {
	years := float64(t.CureDays) / 365
	n, err := fertility.DrumsNeeded(1, 365/t.FillDays, 1, years) // fills a year of one drum's worth
	if err != nil {
		return err.Error()
	}
	have, resting := s.stead().Toilets[0].Drums, 0
	for _, d := range t.Drums {
		if d.Closed != 0 {
			resting++
		}
	}
	line := fmt.Sprintf("drums: one of %s fills in %s and rests %.3g years: %d are needed in turn, %d are there, %d rest", s.say(t.Holds, unit.Volume), daysSaid(t.FillDays), years, n, have, resting)
	if n > have {
		line += fmt.Sprintf("; %d MORE ARE NEEDED", n-have)
	}
	return line
}

// daysSaid writes days in words.
func daysSaid(d float64) string {
	switch {
	case math.IsInf(d, 1) || d > 3650:
		return "more than ten years"
	case d < 10:
		return fmt.Sprintf("%.1f days", d)
	}
	return counted(int(math.Round(d)), "day", "days")
}

// digester tells its load, what to feed today and what sourness looks like.
func (s *loopSheet) digester(p *printer) error {
	d := s.now.Digester
	p.head("Digester: load, gas and the feed of today")
	if d == nil {
		p.line("  No digester is described: add [[digester]].")
		return nil
	}
	f, _, err := s.past.FeedToday(s.now, s.tables())
	if err != nil {
		return err
	}
	for _, l := range append(s.load(d, &f), s.ration(d, &f)...) {
		p.wrap("- ", l)
	}
	p.section("It is turning sour when there is", fuel.SourSigns())
	for _, pH := range []float64{6.0, 6.5, 6.7} {
		_, why := fuel.PHCheck(pH)
		p.wrap("- ", fmt.Sprintf("pH %.1f: %s", pH, why))
	}
	p.section("Gas", fuel.Cautions())
	return nil
}

func (s *loopSheet) load(d *engine.DigesterNow, f *engine.FeedToday) []string {
	vs := f.Load
	suits := "within the limit"
	if ok, why := fuel.LoadCheck(vs, d.Slurry); !ok {
		suits = strings.ToUpper(why[:1]) + why[1:]
	}
	least, _ := fuel.RetentionDays(d.Slurry)
	stays := fuel.Retention(d.Liquid, d.Feed+d.Water)
	line := fmt.Sprintf("slurry %s at %s stays %s; %.0f or more are wanted at that warmth", s.say(d.Liquid, unit.Volume), s.say(d.Slurry, unit.Temperature), daysSaid(stays), least)
	if stays < least {
		line += ": TOO SHORT, feed or water less"
	}
	return []string{
		fmt.Sprintf("load of the described feed, %s a day: %.2f kg of volatile solids a m3, limit %.2f. %s", s.say(d.Feed, unit.Mass), vs, f.Limit, suits),
		line,
	}
}

func (s *loopSheet) ration(d *engine.DigesterNow, f *engine.FeedToday) []string {
	if !d.Ripe {
		return []string{fmt.Sprintf("not ripe before %s: feed little, let the first bagfuls go outdoors until the gas holds a flame", d.RipeOn.Long())}
	}
	lines := []string{
		fmt.Sprintf("gas: %s in a bag of %s, %.0f minutes of a burner at %.0f L/h; the slurry gives %s by tomorrow", s.say(d.Gas, unit.Volume), s.say(d.Bag, unit.Volume), f.Minutes, f.Flow, s.say(d.GasDay, unit.Volume)),
		fmt.Sprintf("tomorrow's cooking, %s for %d hot meals a head (%.0f L a meal, after GTZ and Estoppey 2010): feed %s today, at most %s", s.say(f.Wanted, unit.Volume), engine.MealsADay, fuel.GasPerMeal, s.say(f.Kg, unit.Mass), s.say(f.Most, unit.Mass)),
	}
	if f.Short > 1 {
		lines = append(lines, fmt.Sprintf("%s of it will still be wanting tomorrow: a day's feed gives its gas over weeks; cook the rest another way", s.say(f.Short, unit.Volume)))
	}
	return append(lines, fmt.Sprintf("kept up, each kg a day gives %s of gas a day at this warmth", s.say(f.Steady, unit.Volume)))
}
