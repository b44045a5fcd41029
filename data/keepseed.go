package data

// Seed is one row of crops_seed.csv: what it takes to grow one's own seed.
type Seed struct {
	Stock       bool    // is kept as tubers, cloves or cuttings, not as dry seed
	Germination float64 // share that comes up of seed sold, at least; NaN not known
	Life        float64 // years that dry, cool seed keeps; NaN not known
	Plants      float64 // plants to save from, at least; NaN not known
	Isolation   float64 // m to the next of its kind in flower; NaN not known
	Source      string

	OfHarvest float64 // kg of what is carried home that make a kg of seed or sets; 0: it is sown from nothing that is eaten
	HarvestOf string  // source of OfHarvest and of the seed rate; empty where it is 0
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

// keptOf is one row of crops_kept.csv: a crop whose seed is the food itself.
type keptOf struct {
	ofHarvest float64
	source    string
}

// loadKept reads crops_kept.csv. Its rows are the crops that are sown or set from
// what is eaten: grains, pulses, seeds and tubers. Of other crops the seed is part
// of no food (tomato, squash), ripens on plants left standing (carrot, kale, snap
// bean), or the planting stock is not eaten (stems of cassava, tops of taro).
func loadKept() (map[string]keptOf, error) {
	return keyed("crops_kept.csv", func(r record) keptOf {
		return keptOf{r.num("of_harvest"), sourced(r)}
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
