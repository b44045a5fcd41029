package lever

import (
	"errors"
	"fmt"
	"slices"

	"evenstead/stead"
)

// Hours to set things up (common practice): a tank on its stand and joined up;
// roof, gutter and pipe, a square metre; drip line, a bed.
const (
	hoursTank = 6.0
	hoursRoof = 0.8
	hoursDrip = 1.0
)

// Tank adds one more tank to a group, empty, of the size the group has most of.
// What beds must leave stays as it was.
func (k Kit) Tank(group string) (Lever, error) {
	groups := k.st.Groups()
	g := slices.IndexFunc(groups, func(g stead.Group) bool { return g.Name == group })
	if g < 0 {
		return Lever{}, fmt.Errorf("there are no tanks %q", group)
	}
	usual := usualTank(k.st.Tanks, groups[g].Tanks)
	more := k.st.Tanks[usual]
	more.Group, more.Level, more.Reserve = groups[g].Name, 0, 0
	size := k.litres(more.Holds)
	return Lever{ID: "tank:" + group, Part: "tank", Name: fmt.Sprintf("one more tank of %s at %s", size, group),
		Cost: Cost{Once: hoursTank, Needs: "a tank of " + size},
		Apply: func(st *stead.Stead) error {
			if !slices.ContainsFunc(st.Tanks, func(t stead.Tank) bool { return t.Group == more.Group || t.Name == more.Group }) {
				return fmt.Errorf("there are no tanks %q", group)
			}
			for i := range st.Tanks { // a tank that stood alone becomes a group of its name
				if t := &st.Tanks[i]; t.Group == "" && t.Name == more.Group {
					t.Group = st.Tanks[i].Name
				}
			}
			add := more
			add.Name = newName("tank", tankNames(st)) // beside another lever's, too
			add.Overflow = overflowOf(st, more.Group)
			st.Tanks = append(st.Tanks, add)
			return nil
		}}, nil
}

// usualTank is the first tank of the size that a group has most of.
func usualTank(tanks []stead.Tank, at []int) int {
	best, most := at[0], 0
	for _, i := range at {
		n := 0
		for _, j := range at {
			if tanks[j].Holds == tanks[i].Holds {
				n++
			}
		}
		if n > most {
			best, most = i, n
		}
	}
	return best
}

func overflowOf(st *stead.Stead, group string) string {
	for _, g := range st.Groups() {
		if g.Name == group {
			return g.Overflow
		}
	}
	return "away"
}

func tankNames(st *stead.Stead) []string {
	var names []string
	for _, t := range st.Tanks {
		names = append(names, t.Name, t.Group)
	}
	return names
}

// Roof adds ground plan to a roof, m2; its first flush grows with it.
func (k Kit) Roof(name string, m2 float64) (Lever, error) {
	if _, err := roofNamed(k.st, name); err != nil {
		return Lever{}, err
	}
	return Lever{ID: "roof:" + name, Part: "roof", Name: fmt.Sprintf("%s more of %s", k.area(m2), name),
		Cost: Cost{Once: hoursRoof * m2, Needs: "roofing, gutter and pipe"},
		Care: "Work on a roof or ladder wants a second person.",
		Apply: func(st *stead.Stead) error {
			r, err := roofNamed(st, name)
			if err != nil {
				return err
			}
			r.FirstFlush *= (r.Area + m2) / r.Area
			r.Area += m2
			return nil
		}}, nil
}

func roofNamed(st *stead.Stead, name string) (*stead.Roof, error) {
	i := slices.IndexFunc(st.Roofs, func(r stead.Roof) bool { return r.Name == name })
	if i < 0 {
		return nil, fmt.Errorf("there is no roof %q", name)
	}
	return &st.Roofs[i], nil
}

// Litres takes litres a person-day off a use, down to what it needs in an
// emergency, or off a use of the whole household.
func (k Kit) Litres(use string, litres float64) (Lever, error) {
	u, err := useNamed(k.st, use)
	if err != nil {
		return Lever{}, err
	}
	if most := spare(u); litres > most {
		litres = most
	}
	if !(litres > 0) {
		return Lever{}, fmt.Errorf("%s: nothing can be saved of it", use)
	}
	name := fmt.Sprintf("%s less a person-day for %s", k.litres(litres), use)
	if u.PerPerson == 0 {
		name = fmt.Sprintf("%s less a day for %s", k.litres(litres), use)
	}
	return Lever{ID: "use:" + use, Part: "use", Name: name, Apply: func(st *stead.Stead) error {
		u, err := useNamed(st, use)
		if err != nil {
			return err
		}
		if u.PerPerson > 0 {
			u.PerPerson = max(u.Least, u.PerPerson-litres)
		} else {
			u.PerDay -= litres
		}
		return nil
	}}, nil
}

// spare is what a use can give up: all but its least, or half where none is
// written. What is drunk or cooked with is not touched.
func spare(u *stead.Use) float64 {
	switch {
	case u.Kind == "drinking" || u.Kind == "cooking" || u.Class == "treated":
		return 0
	case u.PerPerson > 0 && u.Least > 0:
		return u.PerPerson - u.Least
	case u.PerPerson > 0:
		return u.PerPerson / 2
	}
	return u.PerDay / 2
}

func useNamed(st *stead.Stead, name string) (*stead.Use, error) {
	i := slices.IndexFunc(st.Uses, func(u stead.Use) bool { return u.Name == name })
	if i < 0 {
		return nil, fmt.Errorf("there is no use %q", name)
	}
	return &st.Uses[i], nil
}

// Drip leads water by drip line to the beds that are watered by can.
func (k Kit) Drip() (Lever, error) {
	n := countBeds(k.st, byCan)
	if n == 0 || len(k.st.Tanks) == 0 {
		return Lever{}, errors.New("no bed is watered by can")
	}
	return Lever{ID: "drip", Part: "bed", Name: "drip line in place of the can", Cost: Cost{Once: hoursDrip * float64(n), Needs: "drip line"},
		Apply: func(st *stead.Stead) error {
			for i := range st.Beds {
				if byCan(&st.Beds[i]) {
					st.Beds[i].How = "drip"
				}
			}
			return nil
		}}, nil
}

func byCan(b *stead.Bed) bool { return b.Irrigated && b.How == "can" }

func countBeds(st *stead.Stead, is func(*stead.Bed) bool) int {
	n := 0
	for i := range st.Beds {
		if is(&st.Beds[i]) {
			n++
		}
	}
	return n
}

// Savable are the uses of water that something can be saved of, as written.
func Savable(st *stead.Stead) []string {
	var names []string
	for i := range st.Uses {
		if spare(&st.Uses[i]) > 0 {
			names = append(names, st.Uses[i].Name)
		}
	}
	return names
}
