package data

// EatenPart is one row of eaten_parts.csv: how the eaten part of a crop stands to
// the soil, which decides what may be spread there.
type EatenPart struct {
	Crop   string
	Part   string // not_eaten, tree, high, low, raw or root
	Source string
	Note   string
}

// loadEatenParts reads eaten_parts.csv. A leaf or head that is ever eaten uncooked
// counts as raw.
func loadEatenParts() ([]EatenPart, error) {
	return readRows("eaten_parts.csv", func(r record) EatenPart {
		return EatenPart{Crop: r.must("crop"), Part: r.must("part"), Source: sourced(r), Note: noted(r)}
	})
}

// EatenPart returns how the eaten part of a crop stands to the soil; ok is false
// for a crop the table lacks.
func (t *Tables) EatenPart(crop string) (*EatenPart, bool) {
	return find(t.EatenParts, func(p *EatenPart) bool { return p.Crop == crop })
}
