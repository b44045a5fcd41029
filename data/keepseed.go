package data

// Seed is one row of crops_seed.csv: what it takes to grow one's own seed.
type Seed struct {
	Stock       bool    // is kept as tubers, cloves or cuttings, not as dry seed
	Germination float64 // share that comes up of seed sold, at least; NaN not known
	Life        float64 // years that dry, cool seed keeps; NaN not known
	Plants      float64 // plants to save from, at least; NaN not known
	Isolation   float64 // m to the next of its kind in flower; NaN not known
	Source      string
}

// Salt is how a crop stands salty soil. Source: Maas 1990; FAO 61 annex 1.
type Salt struct {
	Threshold float64 // dS/m of soil extract from which yield falls; 0 not known
	Slope     float64 // % of yield lost per dS/m beyond it
}

// Pair is one row of crops_pairs.csv: two crops grown together or one after the
// other by common practice.
type Pair struct{ First, Second, How, Source string }

// Rest is one row of crops_rotation.csv: how long a family stays off a bed.
type Rest struct {
	Family string
	Years  float64 // years between
	Why    string
	Source string
}

// keyed reads a table into rows by their id.
func keyed[T any](name string, row func(record) T) (map[string]T, error) {
	t, err := open(name)
	if err != nil {
		return nil, err
	}
	rows := make(map[string]T, len(t.rows))
	for _, r := range t.rows {
		id := r.must("id")
		if _, twice := rows[id]; twice {
			r.fault("id", "%q stands twice", id)
		}
		rows[id] = row(r)
	}
	return rows, t.err()
}

func loadSeeds() (map[string]Seed, error) {
	return keyed("crops_seed.csv", func(r record) Seed {
		return Seed{
			Stock:       r.word("kept_as", "seed", "stock") == "stock",
			Germination: r.opt("germination"), Life: r.opt("life_years"),
			Plants: r.opt("plants_min"), Isolation: r.opt("isolation_m"), Source: sourced(r),
		}
	})
}

func loadSalts() (map[string]Salt, error) {
	return keyed("crops_salt.csv", func(r record) Salt {
		r.must("source")
		return Salt{Threshold: r.num("threshold"), Slope: r.num("slope")}
	})
}

// loadPairs reads crops_pairs.csv.
func loadPairs() ([]Pair, error) {
	return readRows("crops_pairs.csv", func(r record) Pair {
		return Pair{r.must("first"), r.must("second"), r.must("how"), r.must("source")}
	})
}

// loadRests reads crops_rotation.csv.
func loadRests() ([]Rest, error) {
	return readRows("crops_rotation.csv", func(r record) Rest {
		return Rest{r.must("family"), r.num("years"), r.must("why"), r.must("source")}
	})
}
