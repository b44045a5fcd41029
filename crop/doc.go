// Package crop is a crop's day: thermal time, water drawn from the root zone,
// stress, yield, frost and heat, nitrogen, the share that is picked, the weeks in
// which it may be sown and why in others not, rotation, seed to keep, and lists
// for tonight's frost and a dry spell.
//
// Temperatures are °C, water mm, depths m, shares 0..1. It leaves out pests,
// weeds, snow, light but for the length of days, and the choice of what to grow.
//
// Main source: Allen, Pereira, Raes and Smith (1998), Crop evapotranspiration,
// FAO Irrigation and Drainage Paper 56 ("FAO-56" below). Where the season's
// timing rests on common practice the function says so.
package crop
