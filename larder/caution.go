package larder

// Caution is a thing to know before eating what was put up.
type Caution struct{ Text, Source string }

// Advice is the sentence that every page on putting up carries.
const Advice = "Tested recipes of your own extension service or food authority come before anything shown here. " +
	"When in doubt, throw it out untasted, where neither child nor animal finds it."

// Cautions returns what to know about a form of put-up food (jarred, frozen,
// dried, fermented); other forms have none.
func Cautions(form string) []Caution {
	switch form {
	case Jarred:
		return []Caution{
			{"Food above pH 4.6 is canned under pressure only: botulism spores live through boiling, and the toxin forms without air at 4 to 49 °C.", "US FDA; Michigan State University Extension"},
			{"A jar that bulges, leaks, spurts or smells wrong is not opened further and never tasted.", "common practice"},
			{"Before eating home-canned low-acid food, boil it 10 minutes, and a minute more for each 305 m of altitude.", "US extension advice; altitude step from memory"},
			{"Tomatoes and figs get their measured acid in every jar.", "USDA; figs from memory"},
			{"Never keep garlic or herbs in oil at room temperature.", "US extension advice"},
			{"Keep jars below 35 °C, best at 10 to 21 °C, and use them within a year.", "Michigan State University Extension; a year from memory"},
		}
	case Frozen:
		return []Caution{
			{"Lid shut, a full freezer holds about 48 hours and a half-full one 24. Refreeze what still has ice or is at 4 °C or less; throw out what was above 4 °C for two hours.", "USDA"},
			{"Frozen food stays safe; the printed months are for taste.", "US National Center for Home Food Preservation"},
		}
	case Dried:
		return []Caution{
			{"Vegetables and meat are not dried in the sun. Fruit is, at 30 °C or more and dry air.", "University of Georgia"},
			{"Meat is brought to 71 to 74 °C before it is dried.", "USDA advice for jerky, from memory"},
			{"After sun drying, freeze fruit 48 hours at -18 °C or heat it 30 minutes at 71 °C against insects.", "University of Georgia, from memory"},
			{"Damp on the inside of the jar means dry it again; mould means throw it out.", "common practice"},
		}
	case Fermented:
		return []Caution{
			{"Weigh the salt; never use less than the recipe. Keep the food under its brine.", "North Dakota State University"},
			{"Throw out what is pink, slimy, furry or smells foul.", "common practice"},
			{"People with weak immune systems ask a clinician before raw ferments.", "Niagara Region Public Health, on fermented tea"},
			{"Do not distil: it is unlawful in most places and gathers what harms.", "common practice"},
		}
	}
	return nil
}
