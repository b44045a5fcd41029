package engine

import (
	"github.com/google/uuid"

	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/weather"
)

// Options choose what is run.
type Options struct {
	Today    day.Day // the day the outlook begins; 0: the day the stead was described
	Days     int     // horizon from Today; 0: 365; with the days since the description at most 1,464
	Seed     uint64
	Without  Without
	Workers  int                   // 0: all cores; the result is the same for any number
	Climate  weather.Climate       // what a usual year is like here: standing crops, store temperatures
	Report   func(done, total int) // called now and then from one goroutine; may be nil
	Past     *Past                 // what a replay of the book found; nil: the stead is as described
	Hardship *Hardship             // a hardship laid over every member; nil: none
	force    func(*state)          // sets what is asked about, on the morning of today
}

// A Model is a stead prepared for running: flat arrays and calendars, not
// changed by a run, so that any number of members may share it.
type Model struct {
	name           string
	start, today   day.Day
	skip, days     int // days before today, and all days run
	weeks          int // whole weeks of the horizon
	seed           uint64
	without        Without
	trial          *Hardship // nil: none
	south          bool
	meanTemp       float64 // °C, of a usual year
	nutrients      []data.Nutrient
	nutrientNeeds  int                  // how many needs are nutrients
	assumed        map[uuid.UUID]string // what a piece was taken to weigh, by the entry that counts it
	cal            []dayPlan
	targets        []float64 // nutrient targets, weeks of the whole run by nutrients, a week
	groups         []group
	roofs          []roof
	uses           []use
	treat          treatment
	outside        float64 // L a day from a well or the mains, when the tanks run out
	outsideAt      node    // where it comes from
	plots          []plot
	soils          []soil      // by plot
	rinsed         []int       // plots that urine and its dilution water go to
	ground         float64     // m2 of all plots
	landShare      float64     // of tree fruit, to the landowner
	urineArea      float64     // m2 of the plots that urine goes to
	urineMost      float64     // L/m2 of neat urine a season
	waits          []waits     // by planting
	bare           waits       // of ground on which nothing is to come
	gardenDay      [12]float64 // h of tending a day, by month
	plantings      []planting
	sowings        []int // plantings by the day they are sown
	paces          []pacing
	fed, visited   []set // plantings that may be fed or picked, by day
	places         []place
	kinds          []kind
	lives          [12][]float64 // days to a quarter lost, by month and kind
	ages           [12][]float64 // share of that between two looks
	blank          []bool        // kinds by nutrients: no figure on record
	composition    []float64     // nutrients per kg as stored, kinds by nutrients
	flocks         []flock
	hives          []hive
	patches        []patch
	bought         []bought
	dig            *digesterPlan
	toilet         *toiletPlan
	compost        *compostPlan
	cookers        []cooker
	light          *stead.Light
	woodYear       float64 // kg a year
	bottleYear     float64
	woodMJ         float64 // MJ per kg as stacked
	bottleMJ       float64
	gasMJ          float64 // MJ per L of biogas
	freezerDay     float64 // MJ of current a day at 25 °C
	outages        float64 // a year
	longShare      float64
	haulHours      float64 // h a day for trips not tied to a loop
	mouthful       float64 // MJ of food the household eats in a usual day
	people         int
	hoursPerPerson float64
	catchBy, useBy []float64 // what the place taught, by group: factors on rain caught and water drawn
	placeBy        []float64 // by planting: a factor on its yield
	drawn          []int     // plantings in the order in which luck is drawn; nil: as they stand
	first          *state    // as the first day begins
	deeds          []deed    // what the book says, by day
	deedAt         []int32
	woodTold       spells // days on which the book alone speaks of it
	bottleTold     spells
	classCap       [classes]float64
	classWith      [classes]float64 // share of the plate that a class goes with; 0: eaten by itself
	daylight       []float64        // h, by day of the run
	spreads        [12]bool         // months compost is spread
	freezer        int              // place; -1: none
	gauges         []gauge
	uptake         [uptakeSteps + 2]float64 // share of a season's nutrients by its share
	tolerances     []float64
	daily          []int // needs felt within a day
	notes          []string
}

// dayPlan is what the calendar fixes for a day of the run.
type dayPlan struct {
	month   int // 0 January
	week    int // of the whole run
	wd      int // day of the week; today is 0
	mouths  float64
	heads   float64 // residents present
	hours   float64 // of all residents present
	owed    float64 // exchange work
	energy  float64 // MJ of food needed
	fireBan bool
}

// group is tanks that share a level.
type group struct {
	name               string
	holds, dead        float64 // L
	reserve, openWater float64 // L, m2
	spillGroup         int     // -1: none
	spillPlot          int     // -1: none; then it runs away
	leak               float64 // L a day
	perHead, perDay    float64 // L that all its uses ask for in full
}

type roof struct {
	area, coefficient, flush float64
	group                    int
}

// A use's class decides which need it counts for.
type use struct {
	name            string
	perHead, perDay float64
	least           float64
	group           int
	treated         bool
	drunk           bool // leaves with people, not down a sink
	toSoil          bool // carries urine to the ground
	returned        float64
	greyPlot        int // -1: away
	need            int
}

type treatment struct {
	filterLeft float64 // L, cartridge and spares
	boils      bool    // boiling is what is left when the filter is spent
	free       bool    // chlorine or sun: no fuel
}

// place is somewhere food is kept.
type place struct {
	name    string
	kind    string // cellar, dry, room, jars, crocks, freezer
	holds   float64
	freezer bool
	temps   [12]float64
	rh      float64 // relative humidity, a share; NaN: not known
}

// kind is a food in one form in one place, pooled, with a mean age.
type kind struct {
	mj               float64 // per kg as stored
	edible           float64 // share of what is stored
	perMJ, perEdible float64 // 1 / mj, 1 / edible
	cap              float64 // kg as stored a person-day
	class            int
	likes            float64 // cap, where no ration is set
	tires            bool    // liked less when it comes again and again
	heat             float64 // MJ in the pot per kg as stored
	comes            float64 // kg bought a day
	eats             npk     // per kg as stored, of the edible part
	has              npk     // per kg as stored
	refuse           npk     // of that, in what is not eaten
	place            int
	each             int     // days between looks at its age
	litres           float64 // room per kg
	food, form, name string
	id               string      // the crop, wild food or food that it was first made for
	life             [12]float64 // days to a quarter lost, by month
	putUp            []putUp
	told             spells // days on which only what the book says is put up
}

// putUp turns a fresh kind into a keeping one.
type putUp struct {
	to          int     // kind
	out         float64 // kg made per kg taken
	refuse      float64 // kg of scraps per kg taken
	hours, heat float64 // per kg taken
	litres      float64
}

type flock struct {
	kind            int
	count, eggs, kg float64 // eggs a bird-year, kg each
	feed            float64 // kg a day, all
	feedHas         npk     // per kg
	eggHas          npk     // per kg
	litter          float64 // kg a day, all
	run             int     // plot, or -1: compost
	hoursDay        float64
	told            spells
}

type hive struct {
	kind      int
	count     float64
	perYear   float64  // kg a colony in a usual year
	flows     [12]bool // months of flow
	days      float64  // of flow a year
	hoursWeek float64
	told      spells
}

// patch is a wild food within reach.
type patch struct {
	kind    int
	seasons [][2]int // days of the run, first and last
	most    float64
	hoursKg float64 // gathering and making ready
	tripH   float64 // h a trip there and back
	told    spells
}

type bought struct {
	kind      int
	rate      float64
	perPerson bool
	told      spells
}

type digesterPlan struct {
	liquid, bag   float64 // L
	keeps         float64 // share of its warmth that the slurry has a day later (fuel.SlurryTemp)
	feed, fetched float64 // kg a day
	water         float64 // L a day
	group         int
	ripeAt        int     // day of the run from which it makes gas
	vs            float64 // kg VS per kg feed
	b0, k35       float64
	feedHas       npk
	methane       float64 // share of gas
	to            []int
	hoursDay      float64
	haulHours     float64 // h a day for fetching
	fedTold       spells
	outTold       spells
}

type toiletPlan struct {
	apart       bool
	drum        float64
	drums       int
	coverUse    float64 // L a person-day
	coverMade   float64 // L a year
	coverMonths [12]bool
	coverDays   float64 // days a year it is gathered
	coverKgL    float64
	coverHas    npk // per kg
	cureYears   float64
	cans        float64
	urineTo     []int
	drumTo      []int
	faecesKg    float64 // a person-day
	urineL      float64
	urineShare  npk // share of excreted N, P, K in urine
	dilution    float64
	urineTold   spells
	drumTold    spells
}

type compostPlan struct {
	to    []int
	worms float64 // kg
	told  spells
}

type cooker struct {
	kind       string
	fuel       int // of fuelKinds
	efficiency float64
	aperture   float64
	open       bool
	burner     float64
}

// The needs, in the order they are shown. The nutrients stand between the water
// needs and the rest; energy is the first nutrient.
const (
	needDrinking = iota
	needWashing
	needBeds
	needFirstNutrient
)

// The needs after the nutrients, counted from the last nutrient.
const (
	needCooking = iota
	needLight
	needNitrogen
	needCover
	needDrums
	needFreezer
	needShelf
	needHours
	needsAfter
)

func (m *Model) after(n int) int { return needFirstNutrient + m.nutrientNeeds + n }
func (m *Model) needs() int      { return m.after(needsAfter) }

// Tolerances are the share of a need that may go unmet before it counts as
// short: a day for water, food energy, heat, light and the toilet; a week for
// room and hours; four weeks for a nutrient; the season so far for nitrogen.
const (
	tolerance         = 0.05
	nutrientTolerance = 0.10
	nitrogenTolerance = 0.20
)
