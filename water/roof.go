package water

// A Roof sheds rain to one store.
type Roof struct {
	Area   float64 // m2 in plan
	Coef   float64 // run-off coefficient of its material, 0..1
	Gutter float64 // share of what it sheds that is lost at gutters and filter, 0..1
	Flush  float64 // L its first-flush diverter turns away
	Drains int     // dry days in a row that empty the diverter; 0: it drains every night
}

// A Diverter is what a roof's first-flush diverter holds. The zero Diverter is empty.
type Diverter struct {
	held float64 // L
	dry  int     // days without rain just gone
}

// A Shed is one day of a roof, L. Caught + Flushed + Lost is Catch.
type Shed struct{ Caught, Flushed, Lost float64 }

// Day parts one day's run-off of a roof: the gutters lose their share first, the
// diverter takes what room it has, the rest reaches the store. A part-filled
// diverter takes the rest of its fill on the next wet day, until enough dry days
// have emptied it. Missing rain counts as a dry day.
func (r Roof) Day(rainMM float64, d *Diverter) Shed {
	wet := rainMM > 0
	if wet {
		d.dry = 0
	} else {
		d.dry++
	}
	if r.Drains == 0 || d.dry >= r.Drains {
		d.held = 0
	}
	lost := Catch(rainMM, r.Area, r.Coef*r.Gutter)
	caught, flushed := CatchAfterFlush(rainMM, r.Area, r.Coef*(1-r.Gutter), r.Flush-d.held)
	d.held += flushed
	return Shed{caught, flushed, lost}
}

// Inflow returns what a roof brings to its store [L a day] from daily rain [mm],
// its diverter empty before the first day.
func (r Roof) Inflow(rainMM []float64) []float64 {
	out := make([]float64, len(rainMM))
	r.addTo(out, rainMM)
	return out
}

// addTo adds the roof's daily catch to an inflow of the same length.
func (r Roof) addTo(inflow, rainMM []float64) {
	var d Diverter
	for t, p := range rainMM {
		inflow[t] += r.Day(p, &d).Caught
	}
}
