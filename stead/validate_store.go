package stead

import "fmt"

func (c *checker) stores() {
	for i, h := range c.s.Shelves {
		if n := len(h.Temps); n != 0 && n != 1 && n != 12 {
			c.bad(at("shelf", i, h.Name), "temps", "has %d values; write twelve, January first, or one for the whole year", n)
		}
	}
	named := c.s.names()
	places := append(named["shelf"], named["freezer"]...)
	eaten := append(append(c.foods(), c.crops()...), c.wild()...)
	for i, l := range c.s.Lots {
		w := at("lot", i, "")
		c.refers(w, "food", l.Food, "food", eaten)
		c.optional(w, "at", l.At, "shelf or freezer", places)
		if l.Form == "frozen" && len(c.s.Freezers) == 0 {
			c.bad(w, "form", "frozen, and no freezer is described; write a [[freezer]]")
		}
		if from := c.s.Stay.From; from != 0 && l.Born > from {
			c.bad(w, "born", "after the stay begins; lots are what is in store on %s", from)
		}
	}
}

func (c *checker) loops() {
	c.single("digester", len(c.s.Digesters), "the liquid, bag and feed of all")
	c.single("toilet", len(c.s.Toilets), "the drums, cover and cans of all")
	c.single("light", len(c.s.Lights), "the panels, batteries and lamps of all")
	c.digesters()
	for i, k := range c.s.Composts {
		c.each(at("compost", i, k.Name), "to", k.To, "bed or tree", c.s.plots())
	}
	for i := range c.s.Toilets {
		c.toilet(at("toilet", i, c.s.Toilets[i].Name), &c.s.Toilets[i])
	}
	c.drums()
	c.rules()
	for i, e := range c.s.Exchange {
		if n := len(e.Year); n != 0 && n != 12 {
			c.bad(at("exchange", i, ""), "by_month", "has %d values; write twelve factors, January first", n)
		}
	}
}

func (c *checker) digesters() {
	for i, d := range c.s.Digesters {
		w := at("digester", i, d.Name)
		c.each(w, "to", d.To, "bed or tree", c.s.plots())
		c.optional(w, "from", d.From, "tank", c.s.tankNames())
		c.optional(w, "haul", d.Haul, "haul", c.s.names()["haul"])
		if d.Fetched > d.Feed {
			c.bad(w, "fetched", "more than the whole feed, %.3g kg a day; feed counts own and fetched together", d.Feed)
		}
	}
}

// single refuses a second part of a kind that the reckoning has only one of.
func (c *checker) single(part string, n int, all string) {
	if n > 1 {
		c.bad(at(part, 1, ""), "", "a second one is not reckoned with; describe one [[%s]] with %s together", part, all)
	}
}

func (c *checker) each(w where, key string, list []string, what string, among []string) {
	for _, name := range list {
		c.refers(w, key, name, what, among)
	}
}

func (c *checker) toilet(w where, t *Toilet) {
	c.each(w, "urine_to", t.UrineTo, "bed or tree", c.s.plots())
	named := c.s.names()
	for _, name := range t.DrumTo {
		if contains(named["bed"], name) {
			c.bad(w, "drum_to", "%q is a bed; toilet compost goes to trees only", name)
			continue
		}
		c.refers(w, "drum_to", name, "tree", named["tree"])
	}
	for _, m := range t.CoverMonths {
		if m < 1 || m > 12 {
			c.bad(w, "cover_months", "%d is not a month; write numbers from 1 for January to 12", m)
		}
	}
}

func (c *checker) drums() {
	have := 0
	for _, t := range c.s.Toilets {
		have += t.Drums
	}
	if len(c.s.Drums) > have {
		c.bad(at("drum", have, ""), "", "one more than the toilet's %s; raise drums in [[toilet]], or list fewer", count(have, "drum"))
	}
	for i, d := range c.s.Drums {
		if from := c.s.Stay.From; from != 0 && d.Closed > from {
			c.bad(at("drum", i, ""), "closed", "after the stay begins; drums are as they stand on %s", from)
		}
	}
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
