// Package water is rain off a roof, kept in a tank and made fit to use: what a
// surface sheds, what gutters lose and a first-flush diverter takes, how a tank or
// joined ones fill, yield and spill, how large they should be, what one more barrel,
// roof or litre saved is worth, how long a level lasts as uses are cut, how water
// runs through taps and hoses, and the published doses and times that make roof
// water safer to drink.
//
// Areas are m2 in plan, rain and evaporation mm, volumes L, lengths m. One mm on
// one m2 is one L. It leaves out who uses the water and in which order, water
// quality tests, and any advice beyond the printed rules it names.
//
// Main sources: Fewkes (1999) and Jenkins et al. (1978) for the tank; Loucks and
// van Beek, Water Resource Systems Planning and Management, for storage without
// failure; EPA and CDC leaflets for treatment.
package water
