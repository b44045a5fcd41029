package stead

import "evenstead/day"

// A Stead is the whole description of a place and its people. Amounts are SI:
// litres, square metres, metres, kilograms, millimetres, degrees Celsius,
// megajoules, watts, hours; shares run from 0 to 1.
//
// The tags are the file form: `toml` is the key, `unit` the kind of amount
// (package unit), `def` the value taken when the key is absent (no tag means it
// must be given, a "-" means absent is fine and stays zero), `absent` the rule
// by which an absent value is worked out from others, `min` and `max` the range
// allowed, `oneof` the words allowed.
type Stead struct {
	Name  string `toml:"name" def:"unnamed stead"`
	Place Place  `toml:"place"`
	Stay  Stay   `toml:"stay"`
	Terms Terms  `toml:"terms"`

	People    []Person    `toml:"person"`
	Guests    []Guests    `toml:"guests"`
	Roofs     []Roof      `toml:"roof"`
	Tanks     []Tank      `toml:"tank"`
	Supplies  []Supply    `toml:"supply"`
	Uses      []Use       `toml:"use"`
	Treatment []Treatment `toml:"treatment"`
	Beds      []Bed       `toml:"bed"`
	Trees     []Tree      `toml:"tree"`
	Plantings []Planting  `toml:"planting"`
	Forage    []Forage    `toml:"forage"`
	Hives     []Hive      `toml:"hive"`
	Flocks    []Flock     `toml:"flock"`
	Shelves   []Shelf     `toml:"shelf"`
	Freezers  []Freezer   `toml:"freezer"`
	Lots      []Lot       `toml:"lot"`
	Foods     []OwnFood   `toml:"food"`
	Rations   []Ration    `toml:"ration"`
	Pieces    []Piece     `toml:"piece"`
	Digesters []Digester  `toml:"digester"`
	Composts  []Compost   `toml:"compost"`
	Toilets   []Toilet    `toml:"toilet"`
	Drums     []Drum      `toml:"drum"`
	Cookers   []Cooker    `toml:"cooker"`
	Fuels     []Fuel      `toml:"fuel"`
	Lights    []Light     `toml:"light"`
	Hauls     []Haul      `toml:"haul"`
	Exchange  []Exchange  `toml:"exchange"`
	Rules     []Rule      `toml:"rule"`

	// Taken lists the defaults that were taken, one sentence each.
	Taken []Default `toml:"-"`
}

// A Default is one value the description left out and the tool filled in.
type Default struct {
	Part  string // "bed \"north\"", "place"
	Key   string
	Value string // as it would be written in the text
	Why   string // where the value comes from
}

// Place is where the stead lies and the ground it lies on.
type Place struct {
	Latitude  float64   `toml:"latitude" unit:"angle" min:"-90" max:"90"`
	Longitude float64   `toml:"longitude" unit:"angle" def:"0" min:"-180" max:"180"`
	Elevation float64   `toml:"elevation" unit:"length" def:"0" min:"-430" max:"5500"` // m
	Coastal   bool      `toml:"coastal" def:"false"`                                   // Hargreaves radiation coefficient 0.19, else 0.16
	Soil      string    `toml:"soil" def:"loam"`                                       // a texture of FAO-56 table 19
	SoilDepth float64   `toml:"soil_depth" unit:"length" def:"0.9 m" min:"0.1" max:"5"`
	SoilPH    float64   `toml:"soil_ph" unit:"number" def:"6.5" min:"3" max:"10"`
	Organic   float64   `toml:"organic_matter" unit:"share" def:"3 %" min:"0" max:"0.3"`
	Slope     float64   `toml:"slope" unit:"share" def:"0 %" min:"0" max:"1"`
	Plot      float64   `toml:"plot" unit:"area" def:"-" min:"1" max:"10000000"` // m2 of the whole plot; 0: not said
	FireBan   []string  `toml:"fire_ban" def:"-"`                                // pairs "15 Jun", "30 Sep": no open fire
	Normals   []Normals `toml:"normals" def:"-"`                                 // at most one
}

// Normals are twelve monthly means, January first, for places without a daily record.
type Normals struct {
	Rain        []float64 `toml:"rain" unit:"depth"`       // mm a month
	WetDays     []float64 `toml:"wet_days" unit:"number"`  // days with rain, a month
	TMin        []float64 `toml:"tmin" unit:"temperature"` // °C, mean daily minimum
	TMax        []float64 `toml:"tmax" unit:"temperature"`
	TMinSD      float64   `toml:"tmin_sd" unit:"number" def:"3" min:"0.1" max:"15"` // °C about the month's mean
	TMaxSD      float64   `toml:"tmax_sd" unit:"number" def:"3.5" min:"0.1" max:"15"`
	Persistence float64   `toml:"persistence" unit:"share" def:"0.25" min:"0" max:"0.95"` // P(wet|wet) - P(wet|dry)
	RainCV      float64   `toml:"rain_cv" unit:"share" def:"0.2" min:"0" max:"1"`         // of yearly totals
}

// Stay is how long the household is on the place.
type Stay struct {
	From   day.Day `toml:"from" def:"-"` // the day the stores below were as described; 0: today
	To     day.Day `toml:"to" def:"-"`
	LeftTo string  `toml:"left_to" def:"-"`
}

// Terms are what the household counts as living from the place.
type Terms struct {
	Bought   []Bought `toml:"bought" def:"-"`                                    // outside things allowed, told apart
	Storage  float64  `toml:"risk" unit:"share" def:"20 %" min:"0.01" max:"0.5"` // the poor year planned for
	Water    bool     `toml:"outside_water" def:"-"`                             // a well or the mains may be drawn on
	KeepSeed bool     `toml:"keep_seed" def:"true"`                              // of crops sown from what is eaten (grain, pulses, potatoes, garlic) seed for the same ground comes off the harvest; false: it is bought
	OwnHeat  bool     `toml:"own_heat_first" def:"-"`                            // sun, own gas and wood cook before bottle and cord, whatever order they are written in
}

// Bought is a food or feed allowed from outside, as a steady rate.
type Bought struct {
	Food      string  `toml:"food"`                         // key of the foods table
	Rate      float64 `toml:"rate" unit:"massrate" min:"0"` // kg a day
	PerPerson bool    `toml:"per_person" def:"true"`
}

// Person is one member of the household.
type Person struct {
	Name     string  `toml:"name" def:"-"`
	Sex      string  `toml:"sex" oneof:"female male"`
	Age      float64 `toml:"age" unit:"number" min:"0" max:"120"` // years
	Height   float64 `toml:"height" unit:"length" def:"1.70 m" min:"0.4" max:"2.5"`
	Mass     float64 `toml:"mass" unit:"mass" def:"65 kg" min:"2" max:"350"`
	Activity string  `toml:"activity" def:"active" oneof:"inactive low_active active very_active"`
	State    string  `toml:"state" def:"none" oneof:"none pregnant lactating"`
	Hours    float64 `toml:"hours_week" unit:"number" def:"30" min:"0" max:"112"`
	Away     []Away  `toml:"away" def:"-"`
}

// Away is a spell of days off the place, from one date through another.
type Away struct {
	From day.When `toml:"from"`
	To   day.When `toml:"to"`
}

// Guests eat at the place now and then.
type Guests struct {
	PersonDays float64 `toml:"person_days_year" unit:"number" min:"0" max:"5000"`
}

// Roof sheds rain to a tank group.
type Roof struct {
	Name        string  `toml:"name" def:"-"`
	Area        float64 `toml:"area" unit:"area" min:"0.1" max:"10000"`              // plan area, m2
	Surface     string  `toml:"surface" def:"metal"`                                 // id of the roofs table
	Coefficient float64 `toml:"coefficient" unit:"share" def:"-" min:"0.05" max:"1"` // 0: from the surface
	FirstFlush  float64 `toml:"first_flush" unit:"volume" def:"-" min:"0"`           // L a wet day; 0: 0.5 L/m2
	Gutter      float64 `toml:"gutter_loss" unit:"share" def:"-" min:"0" max:"0.9"`  // share that leaves the gutter before the pipe
	To          string  `toml:"to" def:"-"`                                          // tank or group; "": the first
}

// Tank holds water. Tanks of one group are joined and share a level.
type Tank struct {
	Name     string  `toml:"name" def:"-"`
	Group    string  `toml:"group" def:"-"` // "": its own name
	Holds    float64 `toml:"holds" unit:"volume" min:"1" max:"10000000"`
	Dead     float64 `toml:"dead" unit:"volume" def:"0 L" min:"0"`                   // below the tap
	Level    float64 `toml:"level" unit:"volume" def:"-" absent:"half full" min:"0"` // L on stay.from; absent: half full
	Open     float64 `toml:"open" unit:"area" def:"0 m2" min:"0"`                    // m2 of open water; 0: lidded
	Overflow string  `toml:"overflow" def:"away"`                                    // a tank group, bed, tree or "away"
	Reserve  float64 `toml:"reserve" unit:"volume" def:"0 L" min:"0"`                // beds may not draw below this
	Leak     float64 `toml:"leak" unit:"flow" def:"-" min:"0"`                       // L a day while there is water
	Shape    string  `toml:"shape" def:"-" oneof:"upright lying box"`                // for dips by depth; "": upright
	Height   float64 `toml:"height" unit:"length" def:"-" min:"0.05" max:"20"`       // m of water when full: the diameter of a lying drum
}

// Use draws water each day, in the order written: earlier uses come first.
type Use struct {
	Name      string  `toml:"name" def:"-"`
	Kind      string  `toml:"kind" def:"washing" oneof:"drinking cooking washing animals soil"`
	PerPerson float64 `toml:"per_person" unit:"flow" def:"-" min:"0"` // L a person-day
	PerDay    float64 `toml:"per_day" unit:"flow" def:"-" min:"0"`    // L a day in all
	Least     float64 `toml:"least" unit:"flow" def:"-" min:"0"`      // L a person-day in an emergency; 0: none
	Class     string  `toml:"class" def:"clean" oneof:"treated clean any"`
	From      string  `toml:"from" def:"-"`                                  // tank or group; "": the first
	Returned  float64 `toml:"returned" unit:"share" def:"0" min:"0" max:"1"` // share that comes back as greywater
	To        string  `toml:"to" def:"-"`                                    // bed, tree or "away" for the greywater
}

// Supply is a household's own well, or the mains. It is drawn on when the tanks
// run out, if the terms allow.
type Supply struct {
	Name string  `toml:"name" def:"-"`
	Kind string  `toml:"kind" def:"well" oneof:"well mains"`
	Most float64 `toml:"most" unit:"flow" min:"0.1"` // L a day
}

// Treatment makes water fit to drink.
type Treatment struct {
	Kind   string  `toml:"kind" oneof:"filter boil chlorine sun"`
	Litres float64 `toml:"litres" unit:"volume" def:"-" min:"0"`            // rated, a cartridge
	Left   float64 `toml:"left" unit:"volume" def:"-" absent:"all" min:"0"` // L left on stay.from; absent: all
	Spare  int     `toml:"spare" def:"0" min:"0" max:"1000"`                // cartridges
}

// Bed is a piece of tended ground. Count beds alike share one description.
type Bed struct {
	Name      string  `toml:"name" def:"-"`
	Area      float64 `toml:"area" unit:"area" min:"0.1" max:"100000"` // m2, planted ground
	Irrigated bool    `toml:"irrigated" def:"true"`
	From      string  `toml:"from" def:"-"` // tank group it is watered from
	How       string  `toml:"how" def:"can" oneof:"can drip hose"`
	Mulch     float64 `toml:"mulch" unit:"length" def:"0 cm" min:"0" max:"0.5"`
}

// Tree is a stand of one woody or vine crop.
type Tree struct {
	Name  string  `toml:"name" def:"-"`
	Crop  string  `toml:"crop"`
	Count float64 `toml:"count" unit:"number" def:"1" min:"0.1" max:"10000"`
	Area  float64 `toml:"area" unit:"area" def:"-" min:"0.1"` // m2 of crown in all; 0: count over the table's plants a m2
	Age   float64 `toml:"age" unit:"number" def:"12" min:"0" max:"500"`
}

// Planting is a crop on a bed.
type Planting struct {
	Bed   string   `toml:"bed"`
	Crop  string   `toml:"crop"`
	Area  float64  `toml:"area" unit:"area" def:"-" min:"0.01"`    // m2; 0: the whole bed
	Sow   day.When `toml:"sow" def:"-"`                            // sown or set out; recurs each year when it has no year
	Yield float64  `toml:"yield" unit:"arealmass" def:"-" min:"0"` // kg/m2 expected; 0: the table's typical
}

// Forage is a wild food within reach.
type Forage struct {
	Food     string   `toml:"food"` // id of the forage table
	Distance float64  `toml:"distance" unit:"length" def:"1 km" min:"0" max:"200000"`
	Climb    float64  `toml:"climb" unit:"length" def:"0 m" min:"0" max:"4000"`
	From     day.When `toml:"from" def:"-"` // season; unset: from the table
	To       day.When `toml:"to" def:"-"`
	Most     float64  `toml:"most" unit:"mass" min:"0"` // kg a year
}

// Hive is a number of bee colonies alike.
type Hive struct {
	Kind  string  `toml:"kind" def:"honey_bee_mild"` // id of the livestock table
	Count float64 `toml:"count" unit:"number" def:"1" min:"1" max:"1000"`
	Age   float64 `toml:"age" unit:"number" def:"2" min:"0" max:"50"` // seasons behind it
	Leave float64 `toml:"leave" unit:"mass" def:"18 kg" min:"0"`      // kg of honey left in each
}

// Flock is a number of birds alike.
type Flock struct {
	Kind  string  `toml:"kind" def:"hen_layer"`
	Count float64 `toml:"count" unit:"number" min:"1" max:"10000"`
	Eggs  float64 `toml:"eggs_year" unit:"number" def:"-" min:"0" max:"366"` // a bird; 0: from the table
	Run   string  `toml:"run" def:"-"`                                       // tree or bed their droppings fall on; "": litter to compost
	Feed  float64 `toml:"feed" unit:"massrate" def:"-" min:"0"`              // kg a day of bought feed for all; 0: the table's need
}

// Shelf is a place that keeps food.
type Shelf struct {
	Name  string    `toml:"name" def:"-"`
	Kind  string    `toml:"kind" def:"room" oneof:"cellar dry room jars crocks"`
	Holds float64   `toml:"holds" unit:"volume" min:"0"`                   // L; for jars and crocks their whole volume
	Temps []float64 `toml:"temps" unit:"temperature" def:"-"`              // 12 monthly means, or one; empty: from the weather by kind
	RH    float64   `toml:"humidity" unit:"share" def:"-" min:"0" max:"1"` // 0: not said, and then not reckoned with
}

// Freezer keeps food by current.
type Freezer struct {
	Name    string  `toml:"name" def:"-"`
	Holds   float64 `toml:"holds" unit:"volume" min:"1"`
	Daily   float64 `toml:"daily" unit:"energy" def:"0.6 kWh" min:"0"` // MJ a day at 25 °C room
	Outages float64 `toml:"outages_year" unit:"number" def:"3" min:"0" max:"365"`
	LongCut float64 `toml:"long_share" unit:"share" def:"0.33" min:"0" max:"1"` // share of cuts over 10 h
}

// Lot is food in store on stay.from.
type Lot struct {
	Food string  `toml:"food"` // key of the foods table, or a crop or wild food id
	Form string  `toml:"form" def:"fresh" oneof:"fresh dry dried jarred frozen fermented"`
	Mass float64 `toml:"mass" unit:"mass" min:"0"` // kg as stored (in shell or husk where so kept)
	At   string  `toml:"at" def:"-"`               // shelf or freezer; "": the first of a fitting kind
	Born day.Day `toml:"born" def:"-"`             // 0: 30 days before stay.from
}

// OwnFood is a food that no table has, with the one of the foods table that it
// stands in for where nothing else is written.
type OwnFood struct {
	Name    string   `toml:"name"`
	Like    string   `toml:"like"`             // id of the foods table
	Per100g []string `toml:"per_100g" def:"-"` // what is known of 100 g eaten: "energy 230 kcal", "iron 2 mg"
}

// Ration is the most that the household eats of a food in a day, so that it lasts;
// plan finds rations. Hunger goes beyond it.
type Ration struct {
	Food string  `toml:"food"`                                      // key of the foods table, or an own food
	Most float64 `toml:"most" unit:"massrate" min:"0.0001" max:"2"` // kg a day for each person, without shell and peel
}

// Piece is what one of a food weighs here, whole, so that what is counted can be
// reckoned. It goes before the table of pieces.
type Piece struct {
	Food   string  `toml:"food"`                                     // key of the foods table, or an own food
	Weighs float64 `toml:"weighs" unit:"mass" min:"0.0001" max:"50"` // kg of one, as it is picked or stored
	Called string  `toml:"called" def:"-"`                           // what one is called, such as head; not given: whatever it is called
}

// Digester makes gas from scraps.
type Digester struct {
	Name    string   `toml:"name" def:"-"`
	Liquid  float64  `toml:"liquid" unit:"volume" min:"50" max:"100000"` // L
	Bag     float64  `toml:"bag" unit:"volume" min:"0"`                  // L of gas
	Feed    float64  `toml:"feed" unit:"massrate" min:"0"`               // kg a day, own and fetched
	Fetched float64  `toml:"fetched" unit:"massrate" def:"0 kg/day" min:"0"`
	Water   float64  `toml:"water" unit:"flow" def:"-" min:"0"` // L a day; 0: twice the feed
	From    string   `toml:"from" def:"-"`                      // tank group of that water
	Started day.Day  `toml:"started" def:"-"`                   // 0: ripe on stay.from
	Haul    string   `toml:"haul" def:"-"`                      // the trip that fetches the scraps
	To      []string `toml:"to" def:"-"`                        // beds and trees the effluent goes to; empty: all beds
}

// Compost is a bin or heap for garden waste, litter and scraps.
type Compost struct {
	Name  string   `toml:"name" def:"-"`
	Holds float64  `toml:"holds" unit:"volume" def:"1000 L" min:"10"`
	To    []string `toml:"to" def:"-"`                                   // beds and trees; empty: all beds
	Worms float64  `toml:"worms" unit:"mass" def:"-" min:"0" max:"1000"` // kg of compost worms in it; 0: none
}

// Toilet is where excreta go and how they are kept.
type Toilet struct {
	Name        string   `toml:"name" def:"-"`
	Apart       bool     `toml:"urine_apart" def:"true"`
	Drum        float64  `toml:"drum" unit:"volume" def:"208 L" min:"10"`
	Drums       int      `toml:"drums" def:"4" min:"1" max:"200"`
	Cover       float64  `toml:"cover" unit:"volume" def:"100 L" min:"0"`          // L of cover material on stay.from
	CoverUse    float64  `toml:"cover_use" unit:"flow" def:"0.5 L/day" min:"0"`    // L a person-day
	CoverMade   float64  `toml:"cover_made" unit:"volume" def:"-" min:"0"`         // L a year gathered; 0: as used
	CoverMonths []int    `toml:"cover_months" def:"-"`                             // months it is made in; empty: every month
	Cure        float64  `toml:"cure" unit:"number" def:"-" min:"1" max:"5"`       // years shut; 0: by the rule
	Cans        float64  `toml:"urine_cans" unit:"volume" def:"40 L" min:"0"`      // L of neat urine that can be kept
	Dilution    float64  `toml:"dilution" unit:"number" def:"10" min:"1" max:"30"` // parts water to one of urine
	UrineTo     []string `toml:"urine_to" def:"-"`                                 // empty: all beds
	DrumTo      []string `toml:"drum_to" def:"-"`                                  // trees only; empty: all trees
}

// Drum is one drum's state on stay.from; those not listed are empty.
type Drum struct {
	Closed day.Day `toml:"closed" def:"-"` // 0: not closed
	Filled float64 `toml:"filled" unit:"share" def:"1" min:"0" max:"1"`
}

// Cooker turns a fuel into heat in the pot. Written order is the order of use.
type Cooker struct {
	Kind       string  `toml:"kind" oneof:"sun biogas wood bottle electric"`
	Efficiency float64 `toml:"efficiency" unit:"share" def:"-" min:"0.02" max:"0.99"` // 0: from the fuels table
	Aperture   float64 `toml:"aperture" unit:"area" def:"0.25 m2" min:"0"`            // sun only
	Open       bool    `toml:"open_fire" def:"false"`                                 // stopped by a fire ban
	Burner     float64 `toml:"burner" unit:"flow" def:"7200 L/day" min:"0"`           // biogas, L of gas a day of burning
}

// Fuel is a stock to burn on stay.from and what comes in a year.
type Fuel struct {
	Kind     string  `toml:"kind" oneof:"wood bottle"`
	Stock    float64 `toml:"stock" unit:"mass" min:"0"`                          // kg
	Moisture float64 `toml:"moisture" unit:"share" def:"20 %" min:"0" max:"0.7"` // wet basis, wood
	PerYear  float64 `toml:"per_year" unit:"mass" def:"0 kg" min:"0"`            // kg gathered or bought a year
}

// Light is a small panel, battery and lamp.
type Light struct {
	Panel   float64 `toml:"panel" unit:"power" min:"0"`    // W
	Battery float64 `toml:"battery" unit:"energy" min:"0"` // MJ usable when full
	Load    float64 `toml:"load" unit:"power" min:"0"`     // W
	Hours   float64 `toml:"hours" unit:"number" def:"4" min:"0" max:"24"`
}

// Haul is a trip made again and again.
type Haul struct {
	Name  string  `toml:"name" def:"-"`
	Km    float64 `toml:"distance" unit:"length" min:"0"` // m one way
	Climb float64 `toml:"climb" unit:"length" def:"0 m" min:"0"`
	Trips float64 `toml:"trips_year" unit:"number" min:"0" max:"3650"`
	Load  float64 `toml:"load" unit:"mass" def:"0 kg" min:"0"`        // kg brought, a trip
	Speed float64 `toml:"speed" unit:"speed" def:"12 km/h" min:"0.1"` // m/s loaded, on the flat
}

// Exchange is work owed for the use of the land.
type Exchange struct {
	With  string    `toml:"with" def:"landowner"`
	Hours float64   `toml:"hours_week" unit:"number" min:"0" max:"80"`
	Year  []float64 `toml:"by_month" unit:"number" def:"-"`       // 12 factors about 1; empty: even
	Share float64   `toml:"share" unit:"mass" def:"0 kg" min:"0"` // kg of fruit a year they take
}

// Rule is a rule of safety of the place as its code, lease or agreement words it.
// Of it and the published one the stricter holds.
type Rule struct {
	Kind   string  `toml:"kind" oneof:"drum_cure urine_wait urine_dilution urine_most urine_store greywater_hold greywater_most greywater_well manure_wait digestate_wait ash_most no_drum no_urine no_greywater no_manure no_digestate no_ash"`
	Value  float64 `toml:"value" unit:"number" def:"-" min:"0" max:"100000"` // years, days, parts, L/m2, months, hours, L a day, m, days, days, kg/m2; none for no_...
	Text   string  `toml:"text"`
	Source string  `toml:"source"`
}
