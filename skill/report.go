package skill

// A Report is how hindcasts fared.
type Report struct {
	Starts  int     `json:"starts"`  // hindcasts run
	Years   int     `json:"years"`   // that they began in
	Members int     `json:"members"` // of each
	Stores  []Store `json:"stores"`
	Once    []Once  `json:"once"` // told once at each start, for the whole look ahead
	Needs   []Need  `json:"needs"`
	Said    string  `json:"said"` // one line
}

// A Store is how well levels of one store were told.
type Store struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Unit  string `json:"unit"`
	Leads []Lead `json:"leads"`
}

// A Once is how well a date or a share was told at each start.
type Once struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Unit string `json:"unit"` // days from the start, or a share of the need
	Lead
}

// Bands are the middle shares whose coverage is counted.
var Bands = [...]float64{0.50, 0.80, 0.95}

// A Lead is how well levels were told so many weeks ahead.
type Lead struct {
	Weeks int                 `json:"weeks"`
	N     int                 `json:"n"`
	In    [len(Bands)]float64 `json:"in"`    // share of found values within the middle 50, 80 and 95 in 100
	CRPS  float64             `json:"crps"`  // mean, in the store's unit
	Usual float64             `json:"usual"` // CRPS of what other years had on the date
	Gain  float64             `json:"gain"`  // 1 - CRPS/Usual; 0: no better than the usual of the date
}

// A Need is how well chances of falling short were told.
type Need struct {
	ID    string   `json:"id"`
	Name  string   `json:"name"`
	Leads []Chance `json:"leads"`
}

// A Chance is what was stated and what happened so many weeks ahead.
type Chance struct {
	Weeks int     `json:"weeks"`
	N     int     `json:"n"`
	Bins  []Bin   `json:"bins"` // by what was stated
	Brier float64 `json:"brier"`
	Usual float64 `json:"usual"` // Brier score of how often other years fell short on the date
}

// A Bin holds the hindcasts that stated a chance within a range.
type Bin struct {
	From   float64 `json:"from"`
	To     float64 `json:"to"`
	N      int     `json:"n"`
	Stated float64 `json:"stated"` // mean
	Came   float64 `json:"came"`   // share in which it came so
}

// binEdges part chances; the first and last are the near certain.
var binEdges = [...]float64{0, 0.05, 0.2, 0.5, 0.8, 0.95, 1.0001}

// binned sorts stated chances and outcomes into bins, empty ones left out.
func binned(stated []float64, came []bool) []Bin {
	var out []Bin
	for i := 0; i+1 < len(binEdges); i++ {
		b := Bin{From: binEdges[i], To: min(1, binEdges[i+1])}
		for j, p := range stated {
			if p >= binEdges[i] && p < binEdges[i+1] {
				b.N++
				b.Stated += p
				if came[j] {
					b.Came++
				}
			}
		}
		if b.N > 0 {
			b.Stated /= float64(b.N)
			b.Came /= float64(b.N)
			out = append(out, b)
		}
	}
	return out
}
