package fertility

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/data"
)

// A Local is a rule of the household's own place, as its code, landlord or
// agreement words it.
type Local struct {
	Kind         string  // of LocalKinds
	Value        float64 // in the unit of the kind; a ban has none
	Text, Source string
}

// A LocalKind is what a household's own rule may speak of.
type LocalKind struct {
	Name  string
	Unit  string // "": a ban, without a value
	Least bool   // the value is a least, so the larger is the stricter
	rows  []string
}

// localKinds lists the rows of the table that each kind may sharpen. Rows of one
// place only, such as the distance from a well, hold where a local rule says so.
var localKinds = []LocalKind{
	{"drum_cure", "year", true, []string{"drum_years_warm", "drum_years_cool"}},
	{"urine_wait", "day", true, []string{"urine_withhold", "urine_raw"}},
	{"urine_dilution", "part", true, []string{"urine_dilution_min"}},
	{"urine_most", "L/m2", false, []string{"urine_max"}},
	{"urine_store", "month", true, []string{"urine_store_others", "urine_store_plants"}},
	{"greywater_hold", "hour", false, []string{"greywater_hours"}},
	{"greywater_most", "L/day", false, []string{"greywater_most"}},
	{"greywater_well", "m", true, []string{"greywater_well"}},
	{"manure_wait", "day", true, []string{"manure_touch", "manure_clear"}},
	{"digestate_wait", "day", true, []string{"digestate_wait"}},
	{"ash_most", "kg/m2", false, []string{"ash_rate"}},
	{"no_drum", "", false, nil}, {"no_urine", "", false, nil}, {"no_greywater", "", false, nil},
	{"no_manure", "", false, nil}, {"no_digestate", "", false, nil}, {"no_ash", "", false, nil},
}

// LocalKinds returns what a household's own rules may speak of.
func LocalKinds() []LocalKind { return slices.Clone(localKinds) }

// A Limit is one figure of a rule as it holds on the place.
type Limit struct {
	ID, Rule string
	Value    float64
	Unit     string
	Source   string
	Local    bool // the household's own, as the stricter
}

// A Rulebook is the table of gates with a household's own rules laid over it: of
// two figures the stricter holds. It is not changed after Rules.
type Rulebook struct {
	limits map[string]Limit
	own    map[string]Limit // the household's, by kind, whether they sharpen a row or not
	bans   map[string]Limit
}

// places are rows that hold for one place alone, until a local rule names them.
var places = []string{"greywater_well", "greywater_depth", "greywater_az", "greywater_nm"}

// Rules lays a household's own rules over the table. The error names a rule of a
// kind that is not known or of a value that cannot be, and rows the table lacks.
func Rules(table []data.Gate, own []Local) (Rulebook, error) {
	b := Rulebook{limits: map[string]Limit{}, own: map[string]Limit{}, bans: map[string]Limit{}}
	for _, g := range table {
		if !slices.Contains(places, g.ID) {
			b.limits[g.ID] = Limit{ID: g.ID, Rule: g.Rule, Value: g.Value, Unit: g.Unit, Source: g.Source}
		}
	}
	for _, id := range needed {
		if _, ok := b.limits[id]; !ok {
			return Rulebook{}, fmt.Errorf("gates: the table has no row %q", id)
		}
	}
	for _, l := range own {
		if err := b.sharpen(l); err != nil {
			return Rulebook{}, err
		}
	}
	return b, nil
}

// needed are the rows that Gate cannot do without.
var needed = []string{"drum_years_warm", "drum_years_cool", "drum_mean_temp", "digestate_cure", "digestate_wait", "urine_withhold", "urine_raw",
	"urine_dilution_min", "urine_max", "urine_store_others", "urine_store_plants", "greywater_hours", "manure_touch", "manure_clear",
	"hen_litter_compost", "ash_ph", "ash_rate", "pile_55", "windrow_55", "drum_heat"}

func (b Rulebook) sharpen(l Local) error {
	i := slices.IndexFunc(localKinds, func(k LocalKind) bool { return k.Name == l.Kind })
	if i < 0 {
		return fmt.Errorf("rule of kind %q is not known: write one of %s", l.Kind, kindNames())
	}
	k := localKinds[i]
	mine := Limit{ID: l.Kind, Rule: l.Text, Value: l.Value, Unit: k.Unit, Source: l.Source, Local: true}
	if k.Unit == "" {
		b.bans[l.Kind] = mine
		return nil
	}
	if !(l.Value >= 0) || math.IsInf(l.Value, 1) {
		return fmt.Errorf("rule %s: %g is not an amount: write a number of %s from nought up", l.Kind, l.Value, k.Unit)
	}
	if was, ok := b.own[l.Kind]; !ok || k.stricter(l.Value, was.Value) {
		b.own[l.Kind] = mine
	}
	for _, id := range k.rows {
		mine.ID = id
		was, ok := b.limits[id]
		if !ok || k.stricter(mine.Value, was.Value) {
			b.limits[id] = mine
		}
	}
	return nil
}

func (k LocalKind) stricter(value, than float64) bool {
	return k.Least && value > than || !k.Least && value < than
}

func kindNames() string {
	var out []string
	for _, k := range localKinds {
		out = append(out, k.Name)
	}
	return strings.Join(out, ", ")
}

// Limit returns the figure of a row as it holds on the place; ok is false where
// none does.
func (b Rulebook) Limit(id string) (l Limit, ok bool) {
	l, ok = b.limits[id]
	return l, ok
}

// DrumYears returns the rest a closed drum needs where the yearly mean is meanTemp
// [°C, NaN: not known].
func (b Rulebook) DrumYears(meanTemp float64) Limit {
	if meanTemp >= b.limits["drum_mean_temp"].Value && !math.IsInf(meanTemp, 1) {
		return b.limits["drum_years_warm"]
	}
	return b.limits["drum_years_cool"]
}

// KindOf reads the word of the table of eaten parts; another word is Unknown.
func KindOf(part string) Kind {
	words := [...]string{NotEaten: "not_eaten", Tree: "tree", High: "high", Low: "low", Raw: "raw", Root: "root"}
	if i := slices.Index(words[:], part); i > 0 {
		return Kind(i)
	}
	return Unknown
}
