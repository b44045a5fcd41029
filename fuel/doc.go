// Package fuel is the heat and light of a place: gas from a digester, wood and bottled
// gas, cooking by the sun, the sun's place and strength on any plane, and a small panel
// with its battery.
//
// It leaves out the freezer's current, what cooking does to food, and the weather itself.
// Main sources: Buswell and Mueller 1952 and Boyle 1977 on gas from a formula; Chen and
// Hashimoto 1978 on digesters; Allen et al. 1998 (FAO-56) on daily radiation; Meeus 1998
// on the sun's place; Liu and Jordan, and Duffie and Beckman on tilted planes; ASAE S580
// on sun cookers. Figures recalled and not read again are marked "from memory"; habits
// without one source are marked "common practice".
package fuel

// Cautions returns what must be said wherever gas is made or burnt.
func Cautions() []string {
	return []string{
		"Digester gas burns, can explode at 5 to 15 parts of methane in 100 of air, smothers and holds poisonous hydrogen sulphide. Follow local fire, gas and building codes and let a licensed person check the piping.",
		"Digester and bag stand outdoors, never in or under a dwelling; no flame, spark or switch near them. Nobody enters a tank.",
		"Fit a water-seal relief, a flame arrestor before the stove, a trap for water at the lowest point and a valve at each end. Never let the store draw air in.",
		"Vent the first bagfuls outdoors. Hydrogen sulphide dulls the sense of smell above about 200 ppm: a smell that stops is not safety. Keep alarms for carbon monoxide and methane in the kitchen.",
		"Open windows when anything burns; charcoal and bottled gas kill in closed rooms. Keep fire bans.",
	}
}
