package engine

import (
	"fmt"
	"strings"
)

// Without is a set of loops or limits taken away, to see what each one does.
type Without uint32

// The loops and limits that can be taken away.
const (
	NoFirstFlush Without = 1 << iota
	NoGreywater
	NoIrrigation
	NoFrost
	NoDryStress
	NoHunger // nutrients never limit growth
	NoPests
	NoForage
	NoBees
	NoFlock
	NoPuttingUp
	NoSpoilage
	NoDigester
	NoSun
	NoWood
	NoBottle
	NoUrine
	NoCompost
	NoToilet
	NoOutages
	NoHourLimit
	NoHauling
	NoBought
	NoTankLimit // tanks never run dry
	NoFoodLimit // energy never runs out
	NoRoomLimit // shelves and freezer never fill
	NoFuelLimit
)

var withoutNames = []struct{ id, name string }{
	{"first-flush", "no first flush thrown away"},
	{"greywater", "washing water not returned"},
	{"irrigation", "beds not watered"},
	{"frost", "no frost"},
	{"dry", "no drought stress"},
	{"hunger", "nutrients never limit growth"},
	{"pests", "no pest or failed crop"},
	{"forage", "nothing gathered wild"},
	{"bees", "no hives"},
	{"hens", "no flock"},
	{"putting-up", "nothing put up"},
	{"spoilage", "nothing spoils"},
	{"digester", "no digester"},
	{"sun", "no sun cooking"},
	{"wood", "no wood"},
	{"bottle", "no bottled gas"},
	{"urine", "urine not returned"},
	{"compost", "compost not returned"},
	{"toilet", "drums not returned"},
	{"outages", "no power cuts"},
	{"hours", "hours without limit"},
	{"hauling", "no hauling"},
	{"bought", "nothing bought"},
	{"tank-limit", "tanks never run dry"},
	{"food-limit", "food never runs out"},
	{"room-limit", "stores never full"},
	{"fuel-limit", "fuel never runs out"},
}

// ParseWithout reads loop names separated by commas, such as "greywater,hens".
func ParseWithout(text string) (Without, error) {
	var set Without
	for _, word := range strings.Split(text, ",") {
		word = strings.TrimSpace(word)
		if word == "" {
			continue
		}
		bit, ok := withoutBit(word)
		if !ok {
			return 0, fmt.Errorf("%q is not a loop that can be taken away: one of %s", word, strings.Join(WithoutNames(), ", "))
		}
		set |= bit
	}
	return set, nil
}

func withoutBit(id string) (Without, bool) {
	for i, w := range withoutNames {
		if w.id == id {
			return 1 << i, true
		}
	}
	return 0, false
}

// WithoutNames lists the names ParseWithout knows.
func WithoutNames() []string {
	ids := make([]string, len(withoutNames))
	for i, w := range withoutNames {
		ids[i] = w.id
	}
	return ids
}

// Say is the set in words.
func (w Without) Say() string {
	var said []string
	for i, n := range withoutNames {
		if w&(1<<i) != 0 {
			said = append(said, n.name)
		}
	}
	return strings.Join(said, ", ")
}

func (w Without) has(bit Without) bool { return w&bit != 0 }
