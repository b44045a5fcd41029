package data

import "time"

// Crop is one row of crops.csv: what a plant needs and gives. Amounts are SI.
// Yields are what is carried home in the state YieldBasis names, for one cycle
// of an annual or one bearing year of a perennial.
type Crop struct {
	ID, Name, Scientific, Family string
	Form                         string     // annual, biennial, perennial, tree, vine, shrub, cover
	Food                         string     // key of foods.csv; "" if not eaten
	PlantsM2                     float64    // plants per m2
	SeedGM2                      float64    // g of seed or sets per m2; 0 unknown
	TBase, TUpper                float64    // °C, thermal time; TUpper NaN when none
	TOptLo, TOptHi               float64    // °C, good growth
	TAbsLo, TAbsHi               float64    // °C, growth ends
	KillGrowing                  float64    // °C that kills the plant in active growth
	KillHardened                 float64    // °C that kills it hardened or dormant
	Tender                       int        // 0 very hardy, 1 hardy, 2 semi-hardy, 3 tender, 4 very tender
	SoilSow                      float64    // °C of soil for sowing
	HeatLimit                    float64    // °C mean daily maximum that spoils flowering or heading; NaN when none
	DaysFirst, DaysFirstHi       float64    // days from sowing or setting to first harvest, low and high
	DaysFromSowing               bool       // DaysFirst counted from sowing (else from setting out)
	HarvestSpan                  float64    // days over which it is picked
	GDD                          float64    // °C d from sowing or setting to first harvest (end for once-over crops); NaN unknown
	HarvestFrom, HarvestTo       time.Month // perennials: northern months of harvest; 0 for annuals
	BearFrom, BearFull           float64    // years from planting to first and full bearing; 0 for annuals
	YieldLo, YieldTyp, YieldHi   float64    // kg/m2
	YieldBasis                   string
	EdibleFraction               float64    // edible share of what is carried home (garden form)
	N, P, K                      float64    // g per kg of what is carried home
	Fixed                        float64    // share of crop N from the air
	HarvestN                     float64    // share of the plant's N that is in what is carried home
	Residue                      float64    // kg of fresh residue per kg carried home
	Ky                           float64    // seasonal yield response to water (1 where none is printed)
	KyStage                      [4]float64 // likewise of the vegetative, flowering, yield-forming and ripening stage; all zero: not printed; flowering zero: the yield forms at once
	KcIni, KcMid, KcEnd          float64
	ShareIni, ShareDev, ShareMid float64 // shares of the season in initial, development and mid stages (FAO-56 table 11)
	Roots                        float64 // m, depth at mid-season
	Depletion                    float64 // p, FAO-56 table 22
	PickMinKg                    float64 // minutes to pick a kg
	Keeps                        string  // how the fresh harvest is kept: "dry" (grain, pulse, nut), "cellar", "fresh"
	Sowing                               // how it is begun
	Seed                         Seed    // what its own seed takes; zero where nothing is known
	Salt                         Salt
	Source, Note                 string
}

// Food is one row of foods.csv. Nutrients are per kg of edible portion in the
// units of Nutrients; a blank in the table is NaN, never zero.
type Food struct {
	ID, Name, Category string
	NDB                string
	Refuse             float64   // share, trade form
	Water              float64   // kg/kg
	Nutrient           []float64 // indexed as Nutrients
	Source, Note       string
	Like               string  // id of the food it stands in for; "" for one of the table
	Most               float64 // kg of it edible that a person eats a day at most; 0: what its category says
}

// Nutrient is one of the nutrients that need and foods are counted in.
type Nutrient struct {
	ID, Name, Unit string // "vit_c_mg", "vitamin C", "mg"
}

// Requirement is one row of requirements.csv.
type Requirement struct {
	LifeStage, Sex string // sex: female, male, both
	AgeMin, AgeMax float64
	State          string // none, pregnant, lactating
	Nutrient       string // Nutrient.ID, or an energy share such as "fat_energy_pct"
	Unit           string
	Target         float64 // per day; NaN none
	Kind           string  // RDA, AI, AMDR low
	Upper          float64 // NaN none
	UpperScope     string
	Source         string
}

// Keeping is one row of keeping.csv: how long a food lasts in a form at a temperature.
type Keeping struct {
	Food, Form     string  // form: fresh, dry, dried, jarred, frozen, fermented
	TempLo, TempHi float64 // °C
	RHLo, RHHi     float64 // share; NaN unknown
	DaysLo, DaysHi float64
	Source, Note   string
}

// PutUp is one row of putting_up.csv: a way to preserve a food or class of food.
type PutUp struct {
	Class   string  // class of Food (see Eating.Class)
	Method  string  // dried, jarred, frozen, fermented
	MassOut float64 // kg of product per kg of edible food in
	Hours   float64 // h per kg in
	Heat    float64 // MJ in the pot or kettle per kg in
	Litres  float64 // L of store per kg of product
	Water   float64 // L of water used per kg in
	Salt    float64 // kg of salt per kg in
	Rank    int     // 1 is tried first
	Source  string
}

// Eating is one row of eating.csv: how a food category is eaten.
type Eating struct {
	Category string  // Food.Category
	Class    string  // fruit, leaf, root, grain, pulse, nut, squash, fruiting, meat, egg, sweet, fat, salt, other
	Cap      float64 // kg of edible food a person-day that people like to eat at most of one food
	CapAll   float64 // kg a person-day of the whole class at most
	Heat     float64 // MJ in the pot per kg of edible food
	Retain   string  // group of retention.csv, and method, "vegetables_roots/boiled"; "" none
	Tires    bool    // liked less when it comes again and again
	With     float64 // share of the day's food that the class goes with at most; 0: it is eaten by itself
	Source   string
}

// Wild is one row of forage.csv.
type Wild struct {
	ID, Name, Scientific, Part string
	Food                       string     // key of foods.csv; "" when none fits
	From, To                   time.Month // northern months
	KgHour                     float64    // kg gathered an hour; NaN unknown
	Prep                       float64    // h per kg to make it fit to eat; NaN unknown
	Lookalikes, Hazard         string
	Preparation, Rule, Law     string
	Source, Note               string
}

// Livestock is one row of livestock.csv.
type Livestock struct {
	ID, Species, Product        string
	Food                        string  // key of foods.csv of the product
	YieldLo, Yield, YieldHi     float64 // per head or colony and year, in YieldUnit
	YieldUnit                   string
	UnitKg                      float64 // kg of product per unit (0.058 for an egg), 1 for kg
	FeedKg, FeedN, FeedP, FeedK float64 // kg feed a year a head; g per kg feed
	Water                       float64 // L a day a head
	Litter                      float64 // kg of fresh droppings a year a head
	N, P, K                     float64 // kg in droppings a year a head
	HoursWeek                   float64 // for one small flock or one colony
	Cautions, Source            string
}

// CompostMaterial is one row of compost_materials.csv.
type CompostMaterial struct {
	ID, Name string
	N        float64 // share of dry mass
	CN       float64 // mass ratio
	Moisture float64 // share of wet mass; NaN unknown
	Bulk     float64 // kg/m3 wet; NaN unknown
	Source   string
}

// DigesterFeed is one row of digester_feeds.csv.
type DigesterFeed struct {
	ID, Name     string
	TS           float64 // solids, share of fresh mass
	VS           float64 // volatile solids, share of TS
	B0           float64 // m3 CH4 per kg VS, ultimate
	K35          float64 // 1/d at 35 °C, first order
	CN           float64
	Source, Note string
}

// FuelRow is one row of fuels.csv.
type FuelRow struct {
	ID, Name   string  // wood, bottle, biogas, charcoal, kerosene, electric
	MJ         float64 // lower heat value, MJ per Unit
	Unit       string  // kg, m3, kWh
	Efficiency float64 // of the usual household stove
	Source     string
}

// Roofing is one row of roofs.csv: the run-off coefficient of a surface.
type Roofing struct {
	ID, Name    string
	Coefficient float64
	Low, High   float64
	Caution     string
	Source      string
}

// SoilTexture is one row of soils.csv (FAO-56 table 19, middles of the ranges).
type SoilTexture struct {
	ID                     string
	FieldCapacity, Wilting float64 // m3/m3
	REW, TEW               float64 // mm
	Source                 string
}

// Retention is one row of retention.csv: share of each nutrient kept in cooking.
type Retention struct {
	Group, Method string
	Kept          map[string]float64 // Nutrient.ID to share
	Source        string
}

// Work is one row of work.csv: a task's time.
type Work struct {
	Task   string  // "garden", "hens", "digester", "cook", "toilet", "can_watering"...
	Hours  float64 // h per Unit
	Unit   string
	Source string
}

// Gate is one row of gates.csv: a safety rule.
type Gate struct {
	ID, Rule      string
	Value         float64
	Unit          string
	Place, Source string
}
