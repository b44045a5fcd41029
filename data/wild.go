package data

// loadWild reads forage.csv. Rows whose rule is "exclude from plans" are there
// as warnings: they carry no food and no gathering rate. A row is no
// identification aid; someone who knows the plant must see it.
func loadWild() ([]Wild, error) {
	return readRows("forage.csv", wild)
}

func wild(r record) Wild {
	w := Wild{
		ID: r.must("id"), Name: r.must("name"), Scientific: r.must("scientific"),
		Part: r.must("part"), Food: r.str("food"),
		From: r.month("from"), To: r.month("to"),
		KgHour: r.opt("kg_hour"), Prep: r.opt("prep_h_kg"),
		Lookalikes: r.str("lookalikes"), Hazard: r.str("hazard"),
		Preparation: r.str("preparation"), Rule: r.must("rule"), Law: r.str("law"),
		Source: r.must("source"), Note: noted(r),
	}
	if (w.From == 0) != (w.To == 0) {
		r.fault("to", "needs both months of gathering, or neither")
	}
	if w.Rule == Excluded && w.Food != "" {
		r.fault("food", "must be empty where the rule is %q", Excluded)
	}
	return w
}

// Excluded is the Rule of a wild plant that must never enter a plan, for
// poison, law or a deadly look-alike.
const Excluded = "exclude from plans"
