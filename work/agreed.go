package work

// Agreed is what two sides settled on: hours a week for so many weeks.
type Agreed struct{ Weekly, Weeks float64 }

// Hours returns the hours agreed in all.
func (a Agreed) Hours() float64 { return a.Weekly * a.Weeks }

// Left returns the hours still owed after those done; negative when more was done
// than agreed. (Arithmetic.)
func (a Agreed) Left(done ...float64) float64 {
	left := a.Hours()
	for _, h := range done {
		left -= h
	}
	return left
}

// Watts returns the rider's power on the flat way home [W].
func (h Haul) Watts() float64 { return h.home().Watts() }
