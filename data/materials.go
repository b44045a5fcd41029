package data

// loadCompostMaterials reads compost_materials.csv: N of dry mass and C:N as
// Gotaas 1956 and Rynk 1992 print them, middles of ranges.
func loadCompostMaterials() ([]CompostMaterial, error) {
	return readRows("compost_materials.csv", func(r record) CompostMaterial {
		return CompostMaterial{
			ID: r.must("id"), Name: r.must("name"), N: r.num("n"), CN: r.num("cn"),
			Moisture: r.opt("moisture"), Bulk: r.opt("bulk_kg_m3"), Source: sourced(r),
		}
	})
}

// loadDigesterFeeds reads digester_feeds.csv. B0 of feeds that are printed as
// biogas is that gas times its share of methane; k is at 35 °C and falls about
// 1.06-fold per degree below (from memory).
func loadDigesterFeeds() ([]DigesterFeed, error) {
	return readRows("digester_feeds.csv", func(r record) DigesterFeed {
		return DigesterFeed{
			ID: r.must("id"), Name: r.must("name"), TS: r.num("ts"), VS: r.num("vs"),
			B0: r.num("b0_m3_kg"), K35: r.num("k35"), CN: r.num("cn"),
			Source: r.must("source"), Note: noted(r),
		}
	})
}

// loadFuels reads fuels.csv: lower heat values, and the usual efficiency of the
// household stove that burns the fuel.
func loadFuels() ([]FuelRow, error) {
	return readRows("fuels.csv", func(r record) FuelRow {
		return FuelRow{
			ID: r.must("id"), Name: r.must("name"), MJ: r.num("mj"), Unit: r.must("unit"),
			Efficiency: r.num("efficiency"), Source: r.must("source"),
		}
	})
}

// loadWork reads work.csv. The months garden_jan to garden_dec are northern.
func loadWork() ([]Work, error) {
	return readRows("work.csv", func(r record) Work {
		return Work{Task: r.must("task"), Hours: r.num("hours"), Unit: r.must("unit"), Source: sourced(r)}
	})
}
