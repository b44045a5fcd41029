// Package work is what a household's tasks cost in hours and in food energy:
// effort by activity, trips with a trailer, loads on the back, hand watering,
// the garden through its months, and picking.
//
// Times are h or minutes as named, energy kcal, masses kg, distances m, speed
// m/s. Energy by activity is gross, rest included; energy of moving a load is net
// of rest. It leaves out who does the work and illness.
//
// Main sources: the Compendium of Physical Activities (2011) for effort; New
// Alchemy Institute (1976-77) for garden hours.
package work
