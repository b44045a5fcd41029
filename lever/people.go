package lever

import (
	"errors"
	"fmt"

	"evenstead/day"
	"evenstead/stead"
)

// Hours adds hours a week, shared among those who have any to give.
func (k Kit) Hours(week float64) (Lever, error) {
	if len(workers(k.st)) == 0 {
		return Lever{}, errors.New("nobody has hours to give")
	}
	return Lever{ID: "hours", Part: "person", Name: fmt.Sprintf("%.3g more hours of work a week", week), Cost: Cost{Week: week},
		Apply: func(st *stead.Stead) error {
			for _, i := range workers(st) {
				st.People[i].Hours = min(112, st.People[i].Hours+week/float64(len(workers(st))))
			}
			return nil
		}}, nil
}

// workers are the people who give hours.
func workers(st *stead.Stead) []int {
	var list []int
	for i, p := range st.People {
		if p.Hours > 0 {
			list = append(list, i)
		}
	}
	return list
}

// Away takes one of the household off the place for so many days from a day on:
// they eat, wash and work elsewhere. A household of one stays.
func (k Kit) Away(from day.Day, days int) (Lever, error) {
	n := len(k.st.People)
	if n < 2 {
		return Lever{}, errors.New("the one who lives here cannot be spared")
	}
	if days < 1 || days > 365 {
		return Lever{}, fmt.Errorf("%d days away: give 1 to 365", days)
	}
	who := n - 1
	spell := stead.Away{From: when(from), To: when(from + day.Day(days-1))}
	return Lever{ID: "away", Part: "person", Name: fmt.Sprintf("%s away for %d days from %s", k.st.People[who].Name, days, plain(from.Short())),
		Apply: func(st *stead.Stead) error {
			if who >= len(st.People) {
				return fmt.Errorf("there are %d people", len(st.People))
			}
			st.People[who].Away = append(st.People[who].Away, spell)
			return nil
		}}, nil
}

func when(d day.Day) day.When {
	y, m, dom := d.Date()
	return day.When{Year: y, Month: m, Dom: dom}
}
