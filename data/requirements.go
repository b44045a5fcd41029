package data

// loadRequirements reads the daily targets and upper limits. Rows in
// "% of energy" are ranges: Target is the low end, Upper the high end.
func loadRequirements() ([]Requirement, error) {
	t, err := open("requirements.csv")
	if err != nil {
		return nil, err
	}
	return readRequirements(t)
}

func readRequirements(t *table) ([]Requirement, error) {
	out := make([]Requirement, 0, len(t.rows))
	for _, r := range t.rows {
		out = append(out, Requirement{
			LifeStage: r.must("life_stage"), Sex: r.must("sex"), State: r.must("state"),
			AgeMin: r.num("age_min"), AgeMax: r.num("age_max"),
			Nutrient: r.must("nutrient"), Unit: r.must("unit"),
			Target: r.opt("target"), Kind: r.must("kind"),
			Upper: r.opt("upper"), UpperScope: r.str("upper_scope"),
			Source: r.must("source"),
		})
	}
	return out, t.err()
}
