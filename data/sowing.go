package data

import "math"

// Sowing is one row of crops_sowing.csv: how an annual crop is begun and carried.
// Perennials have none (Start "").
type Sowing struct {
	Start        string  // sown, set (as a plant), either, piece (clove, tuber, slip); "" perennial
	Raise        float64 // days from seed under cover to setting out; 0 not raised
	Emerge       Emerge  // days to come up by warmth of the soil; of a stand-in where the row says so
	Succession   float64 // days from one sowing to the next for a steady supply; 0 once
	BoltHours    float64 // h of daylight at which it runs to seed; NaN not known to
	Winters      bool    // is sown in autumn where it stands the winter
	ColdDays     float64 // days at 10 °C or less that it must have before harvest; 0 none
	Green        float64 // days to the green stage of a crop listed dry; NaN none
	GreenHi      float64
	GermMin      float64 // °C of soil under which seed does not come up; NaN not known
	Month        Months
	SowingSource string
}

// Months are the mean temperatures [°C] of the months in which a crop grows well,
// and the least and most at which it is worth growing. All zero: not printed.
type Months struct{ Least, OptLo, OptHi, Most float64 }

// Emerge holds the days from sowing to coming up at 0, 5 .. 30 °C of soil; NaN is
// never, or not tested.
type Emerge [7]float64

// emergeStep is the step of Emerge, °C.
const emergeStep = 5

// Days returns the days to come up in soil of a temperature [°C], the rates joined
// by straight lines; +Inf where it does not. Past 30 °C it stays as at 30. ok is
// false when nothing is known of the crop.
func (e *Emerge) Days(soil float64) (days float64, ok bool) {
	rate := func(i int) float64 {
		if v := e[i]; v > 0 {
			return 1 / v
		}
		return 0
	}
	known := false
	for i := range e {
		known = known || e[i] > 0
	}
	x := min(max(soil/emergeStep, 0), float64(len(e)-1))
	i := min(int(x), len(e)-2)
	hi := i + 1
	if e.last() < hi { // not tested warmer: as at the warmest that was
		hi = max(e.last(), 0)
	}
	lo := min(i, hi)
	r := rate(lo) + (x-float64(i))*(rate(hi)-rate(lo))
	if r <= 0 {
		return math.Inf(1), known
	}
	return 1 / r, known
}

func (e *Emerge) last() int {
	for i := len(e) - 1; i >= 0; i-- {
		if e[i] > 0 {
			return i
		}
	}
	return -1
}

var emergeCols = [7]string{"d0", "d5", "d10", "d15", "d20", "d25", "d30"}

// loadEmergence reads crops_emergence.csv (Harrington).
func loadEmergence() (map[string]Emerge, error) {
	return keyed("crops_emergence.csv", func(r record) Emerge {
		var e Emerge
		for i, col := range emergeCols {
			e[i] = r.opt(col)
		}
		r.must("source")
		return e
	})
}

// loadMonths reads crops_months.csv (Maynard and Hochmuth 1997).
func loadMonths() (map[string]Months, error) {
	return keyed("crops_months.csv", func(r record) Months {
		r.must("source")
		return Months{r.num("least"), r.num("opt_lo"), r.num("opt_hi"), r.num("most")}
	})
}

// loadSowings reads crops_sowing.csv and joins what stands in the tables beside it.
func loadSowings() (map[string]Sowing, error) {
	emergence, err := loadEmergence()
	if err != nil {
		return nil, err
	}
	months, err := loadMonths()
	if err != nil {
		return nil, err
	}
	return keyed("crops_sowing.csv", func(r record) Sowing {
		s := sowing(r, emergence)
		s.Month = months[r.str("id")]
		return s
	})
}

func sowing(r record, emergence map[string]Emerge) Sowing {
	s := Sowing{
		Start: r.word("start", "sown", "set", "either", "piece"), Raise: r.or("raise_days", 0),
		Succession: r.or("succession", 0), BoltHours: r.opt("bolt_hours"),
		Winters:  r.word("winter", "", "yes") == "yes",
		ColdDays: r.or("cold_days", 0), Green: r.opt("green_days"), GreenHi: r.opt("green_days_hi"), GermMin: r.opt("germ_min"), SowingSource: sourced(r),
	}
	as := r.str("emerges_as")
	e, ok := emergence[as]
	if as != "" && !ok {
		r.fault("emerges_as", "%q is not in crops_emergence.csv", as)
	}
	s.Emerge = e
	return s
}
