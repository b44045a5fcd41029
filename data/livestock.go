package data

// loadLivestock reads livestock.csv. Feed N is protein / 6.25: 25.6 g per kg of
// a layer feed of 16 % protein. N, P, K of droppings are a year's, from memory
// (ASAE D384.2) or feed less product.
func loadLivestock() ([]Livestock, error) {
	return readRows("livestock.csv", livestock)
}

func livestock(r record) Livestock {
	return Livestock{
		ID: r.must("id"), Species: r.must("species"), Product: r.must("product"), Food: r.must("food"),
		YieldLo: r.num("yield_lo"), Yield: r.num("yield_typ"), YieldHi: r.num("yield_hi"),
		YieldUnit: r.must("yield_unit"), UnitKg: r.num("unit_kg"),
		FeedKg: r.num("feed_kg"), FeedN: r.num("feed_n"), FeedP: r.num("feed_p"), FeedK: r.num("feed_k"),
		Water: r.num("water_l_day"), Litter: r.num("litter_kg"),
		N: r.num("n_kg"), P: r.num("p_kg"), K: r.num("k_kg"),
		HoursWeek: r.num("hours_week"), Cautions: r.must("cautions"), Source: sourced(r),
	}
}
