package lever

import (
	"errors"
	"fmt"
	"strings"

	"evenstead/engine"
	"evenstead/stead"
)

// mulched is the depth of straw or leaves that a bed is taken as covered by, m.
const mulched = 0.05

// Mulch lays 5 cm on every bed that has less.
func (k Kit) Mulch() (Lever, error) {
	area := 0.0
	for _, b := range k.st.Beds {
		if b.Mulch < mulched {
			area += b.Area
		}
	}
	if area == 0 {
		return Lever{}, errors.New("every bed has its mulch")
	}
	return Lever{ID: "mulch", Part: "bed", Name: "mulch on every bed",
		Cost: Cost{Once: area * k.hours("mulch"), Needs: fmt.Sprintf("%s of straw or leaves", k.litres(area*mulched*1000))},
		Apply: func(st *stead.Stead) error {
			for i := range st.Beds {
				st.Beds[i].Mulch = max(st.Beds[i].Mulch, mulched)
			}
			return nil
		}}, nil
}

// Bed makes a new bed under the staple that gives most food energy a square
// metre of those with a sowing window here (engine.Staples), watered as most
// beds are. A staple that the engine refuses to sow gives way to the next.
func (k Kit) Bed(m2 float64) (Lever, error) {
	list, err := engine.Staples(k.st, k.r.Tables, k.r.Members, k.r.Options.Today, k.days())
	if err != nil {
		return Lever{}, err
	}
	for _, s := range list {
		l := k.bedOf(m2, s)
		if _, err := k.prepare(l); err == nil {
			return l, nil
		}
	}
	return Lever{}, errors.New("no staple can be sown and harvested here in the time ahead")
}

func (k Kit) bedOf(m2 float64, s engine.Staple) Lever {
	var names []string
	for _, b := range k.st.Beds {
		names = append(names, b.Name)
	}
	for _, t := range k.st.Trees {
		names = append(names, t.Name)
	}
	name := newName("new bed", names)
	bed := stead.Bed{Name: name, Area: m2, How: "can"}
	if n := len(k.st.Beds); n > 0 {
		usual := k.st.Beds[0]
		watered := countBeds(k.st, func(b *stead.Bed) bool { return b.Irrigated })
		for _, b := range k.st.Beds {
			if b.Irrigated == (2*watered >= n) {
				usual = b
			}
		}
		bed.Irrigated, bed.From, bed.How, bed.Mulch = usual.Irrigated, usual.From, usual.How, usual.Mulch
	}
	crop, _, _ := strings.Cut(strings.ToLower(s.Crop.Name), ",")
	return Lever{ID: "bed", Part: "bed", Name: fmt.Sprintf("%s more ground under %s, begun %s", k.area(m2), crop, plain(s.Sow.String())),
		Cost: Cost{Once: m2 * k.hours("fork_bed"), Week: m2 * k.hours("garden") / 52, Needs: "seed or sets"},
		Apply: func(st *stead.Stead) error {
			st.Beds = append(st.Beds, bed)
			st.Plantings = append(st.Plantings, stead.Planting{Bed: bed.Name, Crop: s.Crop.ID, Area: m2, Sow: s.Sow})
			return nil
		}}
}
