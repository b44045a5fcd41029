// Package engine is the coupled day of a stead: it carries water, food, heat,
// nutrients and hours through one day after another, over many possible years,
// and says what lasts and what runs short.
//
// A stead is prepared once into flat arrays (Model); a member is one possible
// year of weather and luck; a step allocates nothing. Every amount that moves
// is booked from a node to a node in a ledger, so that what goes in is what
// comes out and what stays. The equations live in the science packages (water,
// crop, diet, larder, fertility, fuel, work); this package only couples them, in
// the order of docs/model.md. It leaves out reading descriptions (stead),
// weather (weather), records (book) and drawing (web).
package engine
