package engine

// A gauge reads one store for the fans.
type gauge struct {
	id, name, group, unit string
	size, line            float64
	need                  int
	read                  func(*state) float64
}

// makeGauges lists the stores this stead has.
func (m *Model) makeGauges() {
	for g := range m.groups {
		grp := &m.groups[g]
		m.gauge("tank:"+grp.name, grp.name+" water", Water, "L", grp.holds, grp.dead, m.groupNeed(g),
			func(s *state) float64 { return s.level[g] })
	}
	if m.treat.filterLeft > 0 {
		m.gauge("filter", "filter left", Water, "L", m.treat.filterLeft, 0, needDrinking, func(s *state) float64 { return s.filterLeft })
	}
	if len(m.plots) > 0 {
		m.gauge("root-zone", "water in the beds", Water, "mm", m.bedHolds(), 0, needBeds, m.bedWater)
	}
	if m.mouthful > 0 {
		m.gauge("food", "food in store", Food, "days", 0, 0, needFirstNutrient, m.daysOfFood)
	}
	m.heatGauges()
	m.soilGauges()
	m.roomGauges()
}

func (m *Model) gauge(id, name, group, unit string, size, line float64, need int, read func(*state) float64) {
	m.gauges = append(m.gauges, gauge{id, name, group, unit, size, line, need, read})
}

// groupNeed is the first household need that draws on a group, else the beds.
func (m *Model) groupNeed(g int) int {
	for i := range m.uses {
		if m.uses[i].group == g {
			return m.uses[i].need
		}
	}
	return needBeds
}

func (m *Model) bedHolds() float64 {
	sum, area := 0.0, 0.0
	for _, p := range m.plots {
		sum += (p.t1 + p.t2) * p.area
		area += p.area
	}
	if area == 0 {
		return 0
	}
	return sum / area
}

// bedWater is the mean available water in the ground, mm.
func (m *Model) bedWater(s *state) float64 {
	sum, area := 0.0, 0.0
	for i, p := range m.plots {
		sum += (p.t1 + p.t2 - s.top[i] - s.sub[i]) * p.area
		area += p.area
	}
	if area == 0 {
		return 0
	}
	return sum / area
}

// daysOfFood is the energy in store over what the household eats in a usual day.
func (m *Model) daysOfFood(s *state) float64 {
	sum := 0.0
	for i := range m.kinds {
		sum += s.kg[i] * m.kinds[i].mj
	}
	return sum / m.mouthful
}

func (m *Model) heatGauges() {
	need := m.after(needCooking)
	if m.dig != nil {
		m.gauge("gas", "gas in the bag", Heat, "L", m.dig.bag, 0, need, func(s *state) float64 { return s.gas })
	}
	seen := map[string]bool{}
	for _, c := range m.cookers {
		if seen[c.kind] {
			continue
		}
		seen[c.kind] = true
		switch c.kind {
		case "wood":
			m.gauge("wood", "wood", Heat, "kg", 0, 0, need, func(s *state) float64 { return s.wood })
		case "bottle":
			m.gauge("bottle", "bottled gas", Heat, "kg", 0, 0, need, func(s *state) float64 { return s.bottle })
		}
	}
	if m.light != nil {
		m.gauge("battery", "battery", Heat, "MJ", m.light.Battery, 0, m.after(needLight), func(s *state) float64 { return s.battery })
	}
}

func (m *Model) soilGauges() {
	if len(m.plots) > 0 {
		area := 0.0
		for _, p := range m.plots {
			area += p.area
		}
		m.gauge("nitrogen", "nitrogen free in the ground", Soil, "g/m2", 0, 0, m.after(needNitrogen), func(s *state) float64 {
			sum := 0.0
			for i := range s.mineral {
				sum += s.mineral[i].n
			}
			return sum / area * 1000
		})
	}
	if m.toilet == nil {
		return
	}
	if m.toilet.apart {
		m.gauge("urine", "urine in cans", Soil, "L", m.toilet.cans, 0, m.after(needNitrogen), func(s *state) float64 { return s.urine })
	}
	m.gauge("cover", "cover material", Soil, "L", 0, 0, m.after(needCover), func(s *state) float64 { return s.cover })
	m.gauge("drums", "room in the drums", Soil, "L", m.toilet.drum*float64(m.toilet.drums), 0, m.after(needDrums), m.drumRoom)
}

// drumRoom is what the empty drums and the one in use can still take, L.
func (m *Model) drumRoom(s *state) float64 {
	room := 0.0
	for i := range s.drums {
		if s.drums[i].closed == notClosed {
			room += max(0, m.toilet.drum-s.drums[i].litres)
		}
	}
	return room
}

func (m *Model) roomGauges() {
	for i, p := range m.places {
		need := m.after(needShelf)
		if p.freezer {
			need = m.after(needFreezer)
		}
		if p.holds <= 0 {
			continue
		}
		var here []int // kinds kept there
		for k := range m.kinds {
			if m.kinds[k].place == i {
				here = append(here, k)
			}
		}
		m.gauge("place:"+p.name, p.name+", filled", Room, "L", p.holds, 0, need, func(s *state) float64 {
			sum := 0.0
			for _, k := range here {
				sum += s.kg[k] * m.kinds[k].litres
			}
			return sum
		})
	}
}
