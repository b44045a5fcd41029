package water

// Cautions to be shown beside figures of this package. Each names its source.
const (
	CautionRoof = "Roof water is not safe to drink as caught: birds, dust, soot, roofing, gutters and old paint " +
		"add germs and metals, most after dry days. Filter and disinfect it at least. Local rules may forbid or " +
		"limit it. Sources: CDC, Rainwater Collection; Mendez et al. (2011), Water Research 45: 2049-2059."
	CautionRoofing = "Lead flashing, lead paint, treated shakes and bare copper do not belong above drinking water; " +
		"new galvanised sheet sheds zinc. Source: from memory."
	CautionBoil = "Boiling, chlorine and sun kill germs; none of them takes out metals, salts or most chemicals. " +
		"Sources: EPA; CDC."
	CautionChlorine = "Use plain unscented bleach, stir, wait 30 minutes; without a slight smell of chlorine dose once more and " +
		"wait 15 minutes. It does little to Cryptosporidium. Sources: CDC; EPA."
	CautionSun = "Sun works only through clear bottles of at most 2 L and clear water, never in steady rain. " +
		"Sources: solar water disinfection leaflets; 30 NTU from memory."
	CautionFilter = "Only a filter of absolute 1 µm, reverse osmosis, or one certified for cyst reduction holds " +
		"Cryptosporidium and Giardia; carbon and softeners do not. Source: CDC filter guide. Most stop no viruses (from memory)."
	CautionFlood    = "A flooded cistern counts as contaminated: empty, clean and disinfect it before use. Source: CDC (2012)."
	CautionMosquito = "Screen every opening with mesh of 1.6 mm or finer, and empty uncovered water at least weekly. " +
		"Source: county mosquito districts."
	CautionLight = "Keep light out of a tank and its pipes against algae: opaque walls, a tight lid, pale totes wrapped dark. " +
		"Source: common practice."
	CautionFlush = "Turn the first half millimetre of a rain away, empty the diverter after each dry spell and clean gutters and screens " +
		"before the wet season. Sources: common Texas guidance; common practice."
	CautionOverflow = "Make the overflow at least as wide as the inlet and lead it away from foundations. Source: common practice."
)

// Cautions returns all cautions in the order in which water meets them, from
// the roof to the cup. The slice is the caller's own.
func Cautions() []string {
	return []string{CautionRoof, CautionRoofing, CautionFlush, CautionMosquito, CautionLight, CautionOverflow, CautionFlood,
		CautionFilter, CautionBoil, CautionChlorine, CautionSun}
}
