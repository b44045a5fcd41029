package main

import (
	"fmt"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"evenstead/day"
	"evenstead/fuel"
	"evenstead/larder"
	"evenstead/unit"
)

// highSun is the height at which the sun drives a box cooker (common practice).
const highSun = 30

// monthRow is a month's mean over the possible years.
type monthRow struct {
	days, good float64
	sun        float64 // MJ/m2/d
}

// sunMonths counts the days of each month on which a sun box cooks.
func (s *loopSheet) sunMonths() (out [12]monthRow) {
	ens := s.r.Members
	years := [12]map[int]bool{}
	for i := range ens.Members {
		for t, sun := range ens.Members[i].Sun {
			d := ens.Start + day.Day(t)
			if d < s.today() {
				continue
			}
			m := int(d.Month()) - 1
			if years[m] == nil {
				years[m] = map[int]bool{}
			}
			years[m][i] = true
			out[m].days++
			out[m].sun += sun
			out[m].good += float64(fuel.SunDays([]float64{sun}))
		}
	}
	for m := range out {
		if r := &out[m]; r.days > 0 {
			r.sun /= r.days
			r.good /= r.days
			r.days = float64(time.Date(2023, time.Month(m+2), 0, 0, 0, 0, 0, time.UTC).Day())
			r.good *= r.days
		}
	}
	return out
}

func (s *loopSheet) cooking(p *printer) error {
	p.head(fmt.Sprintf("Cooking by the sun: days a month with %.0f MJ/m2 or more", fuel.LeastSun))
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(tw, "\tdays\tsun MJ/m2/d\tnoon height\thours over %d°\t \n", highSun)
	lat := s.stead().Place.Latitude
	for m, r := range s.sunMonths() {
		if r.days == 0 {
			continue
		}
		at := time.Date(2023, time.Month(m+1), 15, 0, 0, 0, 0, time.UTC).YearDay()
		fmt.Fprintf(tw, "  %s\t%.0f of %.0f\t%.1f\t%.0f°\t%.1f\t \n", fill(time.Month(m+1).String(), 10), r.good, r.days, r.sun, fuel.NoonHeight(lat, at), fuel.HoursAbove(lat, highSun, at))
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	if order := s.model.Cooks(); len(order) > 0 {
		by := "as written"
		if s.stead().Terms.OwnHeat {
			by = "by the terms, own heat first"
		}
		p.wrap("- ", fmt.Sprintf("used in this order, %s: %s", by, strings.Join(order, ", ")))
	}
	for _, f := range s.now.Fuels {
		line := fmt.Sprintf("%s: %s, %s of heat", f.Name, s.say(f.Kg, unit.Mass), s.say(f.MJ, unit.Energy))
		if f.Days > 0 {
			line += fmt.Sprintf("; %s at the pace of the last four weeks", daysSaid(f.Days))
		}
		if eff := s.efficiency(f.Name); eff > 0 {
			daily := heatADay * float64(s.now.People)
			line += fmt.Sprintf("; alone it would cook %s, at %.0f %% in the pot and %.1f MJ a day", daysSaid(fuel.StoreDays(f.Kg, f.MJ/max(f.Kg, 1e-9), eff, daily)), 100*eff, daily)
		}
		p.wrap("- ", line)
	}
	if bans := s.stead().Place.FireBan; len(bans) > 1 {
		p.wrap("- ", "no open fire "+strings.Join(bans, " to ")+" (as described)")
	}
	return nil
}

// heatADay is useful heat for cooking, MJ a person-day: the middle of 1.5 to 3 (from memory).
const heatADay = 2.25

// efficiency is that of the cooker that burns a fuel; 0: none does.
func (s *loopSheet) efficiency(name string) float64 {
	kind := map[string]string{"wood": "wood", "bottled gas": "bottle"}[name]
	for _, c := range s.stead().Cookers {
		if c.Kind != kind {
			continue
		}
		if row, ok := s.tables().Fuel(kind); ok && c.Efficiency == 0 {
			return row.Efficiency
		}
		return c.Efficiency
	}
	return 0
}

// cold tells the freezer's current, and how cool a cellar and a wet pot are.
func (s *loopSheet) cold(p *printer) error {
	p.head(fmt.Sprintf("Cold by month: a banked cellar and a wetted clay pot, %s, and the freezer's current", s.degreeSign()))
	clim := s.r.Options.Climate
	mean := func(d int) float64 { return (clim.TMin[d] + clim.TMax[d]) / 2 }
	low, high, coldest := math.Inf(1), math.Inf(-1), 0
	year := 0.0
	for d := range 365 {
		year += mean(d) / 365
		if mean(d) < low {
			low, coldest = mean(d), d
		}
		high = max(high, mean(d))
	}
	wave := larder.Wave{Mean: year, Amplitude: (high - low) / 2, Coldest: float64(coldest + 1)}
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tair\tcellar\tpot\tat the day's greatest\tpot then\tfreezer, kWh a day\t ")
	for m := range 12 {
		d := time.Date(2023, time.Month(m+1), 15, 0, 0, 0, 0, time.UTC).YearDay() - 1
		cellar, err := larder.StoreTemp(larder.Cellar, mean(d), wave, float64(d+1))
		if err != nil {
			return err
		}
		wet := func(t float64) float64 { return fuel.PotCooler(t, fuel.Humidity(t, clim.TMin[d])) }
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\t \n", fill(time.Month(m+1).String(), 10), s.deg(mean(d)), s.deg(cellar), s.deg(wet(mean(d))), s.deg(clim.TMax[d]), s.deg(wet(clim.TMax[d])), s.freezers(mean(d)))
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	p.wrap("", "Dew is taken at the night's least temperature (FAO-56), the pot at 0.7 of the way to the wet bulb: of use in dry heat for greens, never for meat, milk or cooked food. A thermometer in the place beats both. A cord is felt for warmth, never coiled or buried.")
	return nil
}

func (s *loopSheet) deg(c float64) string { return fmt.Sprintf("%.0f", s.degrees(c)) }

func (s *loopSheet) degreeSign() string {
	if s.sys == unit.US {
		return "°F"
	}
	return "°C"
}

// degrees is a temperature in the units asked for.
func (s *loopSheet) degrees(c float64) float64 {
	if s.sys == unit.US {
		return c*9/5 + 32
	}
	return c
}

// freezers is the current of all freezers on a day of mean air [°C], kWh.
func (s *loopSheet) freezers(air float64) string {
	sum := 0.0
	for _, f := range s.stead().Freezers {
		room, err := larder.StoreTemp(larder.Freezer, air, larder.Wave{}, 0)
		if err != nil {
			return "-"
		}
		sum += larder.FreezerDaily(f.Daily, room) / 3.6
	}
	if sum == 0 {
		return "-"
	}
	return fmt.Sprintf("%.2f", sum)
}

// light tells how often the lamp goes out.
func (s *loopSheet) light(p *printer) error {
	p.head("Light: panel, battery and days without sun")
	if len(s.stead().Lights) == 0 {
		p.line("  No light is described: add [[light]].")
		return s.cordOrSun(p)
	}
	d := s.stead().Lights[0]
	lamp := fuel.Lamp{Panel: d.Panel, Battery: d.Battery, Load: d.Load, Hours: d.Hours}
	lit, worst, dark := 0.0, 0, 0
	for i := range s.r.Members.Members {
		share, longest := lamp.Through(s.r.Members.Members[i].Sun)
		lit += share / float64(len(s.r.Members.Members))
		worst = max(worst, longest)
		if longest > 0 {
			dark++
		}
	}
	p.wrap("- ", fmt.Sprintf("%s lit %.3g h a day: a full battery of %s lasts %s without sun", s.say(d.Load, unit.Power), d.Hours, s.say(d.Battery, unit.Energy), daysSaid(lamp.Dark())))
	p.wrap("- ", fmt.Sprintf("in the possible years ahead %.1f %% of its hours are lit; %d years of %d have a day that is not lit in full, the longest run of such days is %d", 100*lit, dark, len(s.r.Members.Members), worst))
	p.wrap("- ", fmt.Sprintf("--panel-price and its four fellows compare the sun with a cord over the stay at your own prices, evenstead sum %s over any years%s", cordSum, s.stay()))
	return s.cordOrSun(p)
}

// cordSum is the sum that compares a panel with a cord.
const cordSum = "cord-or-sun"

// stay is how long the stay yet lasts, for a sum over it.
func (s *loopSheet) stay() string {
	to := s.stead().Stay.To
	if to <= s.today() {
		return ""
	}
	return fmt.Sprintf("; the stay lasts another %.1f years", float64(to-s.today())/365.25)
}
