package diet

// Figures that a diet without animal food needs beside the tables.
const (
	// PlantIron multiplies the iron allowance of a plant diet: 10 % is taken up
	// against 18 % of a mixed one. Source: Institute of Medicine 2001, p. 574.
	PlantIron = 1.8
	// PlantZinc multiplies the zinc allowance of a diet high in phytate, at most.
	// Source: Institute of Medicine 2001, as reported.
	PlantZinc = 1.5
)

// Advice is the sentence that every page on diet carries.
const Advice = "These are reckonings from tables for healthy people, not medical advice. " +
	"Take any lasting gap, and any pregnancy, infant, illness or loss of weight, to a clinician."

// Caution is a thing to know about one nutrient in a home-grown diet.
type Caution struct {
	Nutrient string // Nutrient.ID, or "infant"
	Text     string
	Source   string
}

// Cautions returns what a home-grown and gathered diet tends to lack or hide.
func Cautions() []Caution {
	return []Caution{
		{"vit_b12_ug", "Plants hold no vitamin B12 unless it is added. Eggs, milk, fish and meat do. " +
			"Without them a source must be chosen with a clinician; the body's store hides a lack for years.",
			"Academy of Nutrition and Dietetics position and US NIH, as reported; USDA SR27"},
		{"vit_d_ug", "Green plants, roots, grain and nuts hold no vitamin D. Fish, eggs, some mushrooms and sun on skin " +
			"give it; the target assumes little sun. Ask a clinician before taking it in drops or pills.",
			"Institute of Medicine 2011; USDA SR27"},
		{"iodine_ug", "Iodine in plants follows the soil and is not in these tables. Iodised salt, sea fish, milk and eggs " +
			"are steady sources. Dried seaweed can hold far more than the upper limit.",
			"Linus Pauling Institute table, as reported"},
		{"sodium_mg", "A diet of garden food alone holds too little sodium: 1 g of salt gives 388 mg. " +
			"Salt from outside is part of nearly every such diet.",
			"National Academies 2019; computed from USDA SR27"},
		{"iron_mg", "Iron from plants is taken up less well: a plant diet needs 1.8 times the target. " +
			"Food with vitamin C at the same meal helps.",
			"Institute of Medicine 2001, p. 574; second sentence common practice"},
		{"zinc_mg", "Phytate in whole grain and beans holds back zinc: a plant diet may need up to half more. " +
			"Soaking, sprouting and leavening free some of it.",
			"Institute of Medicine 2001, as reported; second sentence common practice"},
		{"calcium_mg", "Spinach, chard, beet and amaranth leaves and purslane hold calcium that is hardly taken up. " +
			"Kale, collards, pak choi and nettle are the plant sources to rely on.",
			"US NICHD 2006, as reported"},
		{"fat_g", "Roots and grain alone give 1 to 2 % and at most some 15 % of energy as fat, below the floor of 20 %. " +
			"Nuts, seeds, eggs or oil must close it.",
			"Institute of Medicine 2002/2005; computed from USDA SR27"},
		{"choline_mg", "Choline has no figure for many garden foods; a low share may be the table's gap, not the diet's.",
			"USDA SR27"},
		{"manganese_mg", "Whole grain and beans can pass the upper limit of manganese. The limit rests on supplements and " +
			"drinking water: shown, not forbidden.",
			"Institute of Medicine 2001"},
		{"selenium_ug", "Selenium in plants follows the soil; a table value may be far off for one place.",
			"common practice"},
		{"infant", "No honey before the first birthday, raw or heated: it can carry the spores of infant botulism. " +
			"What an infant eats is for a clinician.",
			"US and Canadian public health advice, as reported"},
	}
}

// CautionOn returns the caution about a nutrient; ok is false when there is none.
func CautionOn(nutrient string) (c Caution, ok bool) {
	for _, c := range Cautions() {
		if c.Nutrient == nutrient {
			return c, true
		}
	}
	return Caution{}, false
}
