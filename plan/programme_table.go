package plan

import (
	"fmt"

	"evenstead/engine"
)

// trace is nothing for what a kg of food brings less than a ten-thousandth of a
// day's need of.
func trace(v float64) float64 {
	if v < 1e-4 {
		return 0
	}
	return v
}

// addTable adds eating, buying, and putting up.
func (s *season) addTable() {
	y, f := s.y, s.y.frame
	for k := range f.Foods {
		food := &f.Foods[k]
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if s.rows.balance[k][p] < 0 {
				continue
			}
			var c column
			c.add(s.rows.balance[k][p], -1)
			for n := range f.Nutrients {
				if s.rows.need[n][p] >= 0 {
					c.add(s.rows.need[n][p], trace(food.Nutrient[n]/y.unitOf(n)))
				}
			}
			c.add(s.rows.class[food.Class][p], food.Edible)
			s.cooks(&c, p, food.Heat)
			row[p] = s.column(fmt.Sprintf("eat %d %d", k, p), 0, moreOfOne*food.Cap*y.mouths(p), c)
		}
		s.eat = append(s.eat, row)
		for i, way := range y.ways(k) {
			for p := range periods {
				if y.fresh(k, p) && s.rows.balance[k][p] >= 0 && s.rows.balance[way.To][p] >= 0 {
					s.addPutting(k, i, p, way)
				}
			}
		}
	}
	for _, b := range f.Bought {
		row := make([]int, periods)
		for p := range row {
			most := b.Rate * 2 * engine.Fortnight
			if b.PerPerson {
				most = b.Rate * y.mouths(p)
			}
			var c column
			c.add(s.rows.balance[b.Food][p], 1)
			row[p] = s.column(fmt.Sprintf("buy %d %d", b.Food, p), 0, most, c, 0, 1)
		}
		s.buy = append(s.buy, row)
	}
}

func (s *season) addPutting(k, i, p int, way engine.FrameWay) {
	var c column
	c.add(s.rows.balance[k][p], -1)
	c.add(s.rows.balance[way.To][p], way.Out)
	s.cooks(&c, p, way.Heat)
	c.add(s.rows.hours[2*p], way.Hours/2)
	c.add(s.rows.hours[2*p+1], way.Hours/2)
	col := s.column(fmt.Sprintf("put up %d %d %d", k, i, p), 0, inf, c, 0, 0, way.Hours)
	s.put = append(s.put, putting{k, i, p, col})
}

// addStock adds what stands in the larder at the end of each period.
func (s *season) addStock() {
	y, f := s.y, s.y.frame
	for k := range f.Foods {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if !y.keeps(k, p) || s.rows.balance[k][p] < 0 {
				continue
			}
			var c column
			c.add(s.rows.balance[k][p], -1)
			switch {
			case p+1 < periods:
				c.add(s.rows.balance[k][p+1], y.kept(k, p))
			case y.sizing: // the year comes round again
				c.add(s.rows.balance[k][0], y.kept(k, p))
			}
			c.add(s.rows.place[f.Foods[k].Place][p], f.Foods[k].Litres)
			if p == periods-1 {
				c.add(s.rows.carry, f.Foods[k].Nutrient[0])
			}
			row[p] = s.column(fmt.Sprintf("stock %d %d", k, p), 0, inf, c)
		}
		s.stock = append(s.stock, row)
	}
}
