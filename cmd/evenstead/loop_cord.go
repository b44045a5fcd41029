package main

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"strings"

	"evenstead/fuel"
	"evenstead/larder"
	"evenstead/unit"
)

// cordPrices are what a household typed of the prices where it is, in its own coin;
// below 0: not typed.
type cordPrices struct {
	panel, battery, batteryYears, cord, kWh float64
}

// flags are the names of the prices as they are typed, and what each means.
func (c *cordPrices) flags() []struct {
	name, says string
	at         *float64
} {
	return []struct {
		name, says string
		at         *float64
	}{
		{"panel-price", "`price` of panels, frame and charger that carry the stead's current, in any coin", &c.panel},
		{"battery-price", "`price` of the battery with it", &c.battery},
		{"battery-years", "`years` a battery lasts", &c.batteryYears},
		{"cord-price", "`price` of a cord to the stead", &c.cord},
		{"kwh-price", "`price` of a kWh through it", &c.kWh},
	}
}

func (c *cordPrices) flagsInto(f *flag.FlagSet) {
	for _, x := range c.flags() {
		f.Float64Var(x.at, x.name, -1, x.says+"; with the other four: tells which costs less over the stay")
		f.Lookup(x.name).DefValue = ""
	}
}

// asked tells whether any price was typed; the error names those that lack or can't be.
func (c *cordPrices) asked() (bool, error) {
	var lack []string
	typed := false
	for _, x := range c.flags() {
		switch v := *x.at; {
		case v == -1:
			lack = append(lack, "--"+x.name)
		case !(v >= 0) || math.IsInf(v, 1) || x.name == "battery-years" && v == 0:
			return true, given(fmt.Errorf("--%s %g: give an amount of nought or more, and more than nought years", x.name, v))
		default:
			typed = true
		}
	}
	if typed && len(lack) > 0 {
		return true, given(fmt.Errorf("a cord against the sun wants five prices: %s lack", strings.Join(lack, ", ")))
	}
	return typed, nil
}

// stayYears is how long the stay yet lasts.
func (s *loopSheet) stayYears() (float64, error) {
	to := s.stead().Stay.To
	switch {
	case to == 0:
		return 0, given(errors.New("a cord against the sun is reckoned over the stay: write to = YYYY-MM-DD under [stay]"))
	case to <= s.today():
		return 0, given(fmt.Errorf("the stay ended on %s: there is nothing to reckon over", to))
	}
	return float64(to-s.today()) / 365.25, nil
}

// current is what the described freezers and lamps draw a day, kWh, the mean of the year.
func (s *loopSheet) current() (freezers, lamps float64) {
	clim := s.r.Options.Climate
	for _, f := range s.stead().Freezers {
		for d := range clim.TMin {
			room, err := larder.StoreTemp(larder.Freezer, (clim.TMin[d]+clim.TMax[d])/2, larder.Wave{}, 0)
			if err == nil {
				freezers += larder.FreezerDaily(f.Daily, room) / 3.6 / float64(len(clim.TMin))
			}
		}
	}
	for _, l := range s.stead().Lights {
		lamps += l.Load * l.Hours / 1000
	}
	return freezers, lamps
}

// cordOrSun sums a panel with its batteries and a cord with its current over what is
// left of the stay, at the prices typed.
func (s *loopSheet) cordOrSun(p *printer) error {
	if s.prices == nil {
		return nil
	}
	typed, err := s.prices.asked()
	if err != nil || !typed {
		return err
	}
	years, err := s.stayYears()
	if err != nil {
		return err
	}
	freezers, lamps := s.current()
	if freezers+lamps == 0 {
		return given(errors.New("nothing described draws current: add [[freezer]] or [[light]]"))
	}
	c := s.prices
	sun := fuel.SunCost(c.panel, c.battery, c.batteryYears, years)
	cord := fuel.CordCost(c.cord, c.kWh, freezers+lamps, years)
	p.head(fmt.Sprintf("A cord or the sun, at the prices typed, over the %.1f years to the end of the stay on %s", years, plain(s.stead().Stay.To.Long())))
	batteries := 1.0
	if n := math.Ceil(years/c.batteryYears - 1e-9); n > 1 {
		batteries = n
	}
	lines := []string{
		fmt.Sprintf("drawn a day: %s by freezers in the room's warmth of the year, %s by lamps", s.say(3.6*freezers, unit.Energy), s.say(3.6*lamps, unit.Energy)),
		fmt.Sprintf("sun: %s and %s of %s, %s", amountOf(c.panel), counted(int(batteries), "battery", "batteries"), amountOf(c.battery), amountOf(sun)),
		fmt.Sprintf("cord: %s and %.0f kWh at %s, %s", amountOf(c.cord), 365.25*years*(freezers+lamps), amountOf(c.kWh), amountOf(cord)),
	}
	switch {
	case math.Abs(sun-cord) < 0.005*max(sun, cord):
		lines = append(lines, "they come to the same")
	case sun < cord:
		lines = append(lines, fmt.Sprintf("the sun comes to %s less", amountOf(cord-sun)))
	default:
		lines = append(lines, fmt.Sprintf("the cord comes to %s less", amountOf(sun-cord)))
	}
	for _, l := range lines {
		p.wrap("- ", l)
	}
	p.wrap("", "A sum of prices typed, no advice: what is worth something at the end, care, risk and interest are not in it. A cord across land wants the right cable, a residual-current device and the leave of its owner: ask a licensed electrician.")
	return p.err
}

// amountOf is a sum of money without a coin.
func amountOf(v float64) string {
	if v == math.Trunc(v) {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.2f", v)
}
