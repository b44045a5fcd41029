package lever

import (
	"cmp"
	"slices"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
)

// Usual sizes of the changes tried.
const (
	moreRoof    = 10.0 // m2
	moreGround  = 10.0 // m2
	lessLitres  = 2.0  // a person-day
	moreHens    = 2
	moreFreezer = 100.0 // L
	moreShelf   = 100.0 // L
	moreScraps  = 0.5   // kg a day
	moreCover   = 0.25  // of what is gathered
	moreWood    = 100.0 // kg a year
	moreHours   = 2.0   // a week
	daysAway    = 14
	drier       = 0.8
)

// All lists the changes that make sense at a stead: no tank without tanks, no
// wood where nothing burns it. base is the outlook of the stead as it stands,
// which says when going away, and buying what, may help; nil leaves that to
// today and to oil.
func (k Kit) All(base *engine.Outlook) []Lever {
	var list []Lever
	add := func(l Lever, err error) {
		if err == nil {
			list = append(list, l)
		}
	}
	k.allWater(add)
	if len(k.st.Beds)+len(k.st.Trees) > 0 {
		add(k.Bed(moreGround))
		add(k.Mulch())
		add(k.Later(later))
	}
	add(k.Hive())
	add(k.Hens(moreHens))
	if len(k.st.Freezers) > 0 {
		add(k.Freezer(moreFreezer))
	}
	if len(k.st.Shelves) > 0 {
		add(k.Shelf(tightest(k.st), moreShelf))
	}
	add(k.Scraps(moreScraps))
	add(k.Cover(moreCover))
	add(k.Wood(moreWood))
	add(k.Hours(moreHours))
	add(k.Away(k.leave(base), daysAway))
	k.allBought(base, add)
	add(k.Drier(drier))
	return list
}

func (k Kit) allWater(add func(Lever, error)) {
	if len(k.st.Tanks) == 0 {
		return
	}
	for _, g := range k.st.Groups() {
		add(k.Tank(g.Name))
	}
	for _, r := range k.st.Roofs {
		add(k.Roof(r.Name, moreRoof))
	}
	for _, u := range loosest(k.st.Uses) {
		add(k.Litres(u.Name, min(lessLitres, spare(&u))))
	}
	add(k.Drip())
}

// mostUses is how many uses of water are offered to be saved on.
const mostUses = 3

// loosest are the uses with most to spare, a litre a day at least.
func loosest(uses []stead.Use) []stead.Use {
	list := slices.Clone(uses)
	slices.SortStableFunc(list, func(a, b stead.Use) int { return cmp.Compare(spare(&b), spare(&a)) })
	list = list[:min(mostUses, len(list))]
	return slices.DeleteFunc(list, func(u stead.Use) bool { return spare(&u) < 1 })
}

// allBought offers oil, and what brings most of the food need that falls short first, bought
// or for a share of the staple.
func (k Kit) allBought(base *engine.Outlook, add func(Lever, error)) {
	oil, err := k.Buy("sunflower_oil", 0.92*12/365/2) // a litre a month for two, 0.92 kg
	add(oil, err)
	if base == nil {
		return
	}
	if n := firstFood(base); n != nil {
		if l, err := k.BuyFor(n.ID); err == nil && l.ID != oil.ID {
			add(l, nil)
		}
		add(k.TradeFor(traded, n.ID))
	}
}

// leave is the day to go away from: two weeks before the first shortfall, so that
// what is spared is there when it is wanted, else tomorrow.
func (k Kit) leave(base *engine.Outlook) day.Day {
	tomorrow := k.r.Options.Today + 1
	if base == nil {
		return tomorrow
	}
	if list := base.Shortfalls(); len(list) > 0 {
		return max(tomorrow, *list[0].FirstShort-daysAway)
	}
	return tomorrow
}

// tightest is the name of the shelf with least room, jars and crocks left out
// where there is another.
func tightest(st *stead.Stead) string {
	best := -1
	for i, s := range st.Shelves {
		vessel := s.Kind == "jars" || s.Kind == "crocks"
		if !vessel && (best < 0 || s.Holds < st.Shelves[best].Holds) {
			best = i
		}
	}
	return st.Shelves[max(0, best)].Name
}
