package data

// loadRoofings reads roofs.csv: the share of rain on a surface that runs off,
// with the range printed for it and what to take care of.
func loadRoofings() ([]Roofing, error) {
	return readRows("roofs.csv", func(r record) Roofing {
		return Roofing{
			ID: r.must("id"), Name: r.must("name"), Coefficient: r.num("coefficient"),
			Low: r.num("low"), High: r.num("high"), Caution: r.must("caution"), Source: sourced(r),
		}
	})
}

// loadSoils reads soils.csv (FAO-56 table 19, p. 144, middles of the ranges).
func loadSoils() ([]SoilTexture, error) {
	return readRows("soils.csv", func(r record) SoilTexture {
		return SoilTexture{
			ID: r.must("id"), FieldCapacity: r.num("field_capacity"), Wilting: r.num("wilting"),
			REW: r.num("rew_mm"), TEW: r.num("tew_mm"), Source: r.must("source"),
		}
	})
}

// loadGates reads gates.csv: safety rules as published, with where they hold.
// A rule here is not leave to do it: local codes come first.
func loadGates() ([]Gate, error) {
	return readRows("gates.csv", func(r record) Gate {
		return Gate{
			ID: r.must("id"), Rule: r.must("rule"), Value: r.num("value"), Unit: r.must("unit"),
			Place: r.must("place"), Source: sourced(r),
		}
	})
}
