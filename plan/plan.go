package plan

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/lp"
	"evenstead/stead"
)

// A Plan is what to sow, eat and put up in the 364 days from Today. Areas are m2,
// amounts kg of food as stored; the JSON keys are documented in docs/plan.md.
type Plan struct {
	Stead   string  `json:"stead"`
	Today   day.Day `json:"today"`
	Risk    float64 `json:"risk"`
	Once    *Once   `json:"once"`         // nil: the sowings are decided for the one year planned for
	Beside  int     `json:"beside_years"` // possible years that sowings were decided for at once in a plan that served less well; 0: none
	Wishes  []Wish  `json:"wishes"`
	Sowings []Line  `json:"sowings"`
	Stands  []Line  `json:"standing"` // of today, kept as they are
	Rests   []Rest  `json:"resting"`  // families that may not come back to a bed yet
	// Unwatered are the irrigated beds that the plan leaves to the rain.
	Unwatered []string    `json:"unwatered"`
	Why       string      `json:"why"` // nothing is sown; empty when something is
	Seed      []Seed      `json:"seed"`
	Keep      []Keep      `json:"keep"` // seed to set aside of the harvests
	Periods   []Period    `json:"periods"`
	PutUp     []PutUp     `json:"put_up"`
	Rations   []Ration    `json:"rations"` // of what is scarce and keeps
	Bought    []Amount    `json:"bought"`
	Fetch     *Fetching   `json:"fetch"`  // for the digester; nil: nothing is fetched
	Spread    []Spreading `json:"spread"` // of what toilet, digester and heap give
	Heat      []Heat      `json:"heat"`   // by four weeks; empty: no cooker is described
	Short     []Short     `json:"short"`
	Works     []Fortnight `json:"fortnights"`
	Ground    Ground      `json:"ground"`
	Limits    []Limit     `json:"limits"`
	Measured  *Measured   `json:"measured"` // nil until Measure was called
	Then      *Plan       `json:"then"`     // the year after; nil: not planned

	all    *years         // as looked at, before any wish
	wide   *years         // with every sowing that no wish forbids
	free   *programme     // over them, in the year planned for; nil: not solved yet
	first  *lp.Solution   // least shortfall over them
	years  *years         // with what was laid alone
	prog   *programme     // likewise
	sol    []*lp.Solution // likewise, by stage
	wishes []Wish
	list   []laid
	chosen loops        // how the programme would run them
	loops  loops        // how they are run
	poor   loneYear     // the year planned for, alone; of a plan for several years
	hard   float64      // hardship of the garden as laid, over the years learned from
	st     *stead.Stead // with the plan's plantings
}

// A Line is one planting.
type Line struct {
	Bed    string   `json:"bed"`
	Crop   string   `json:"crop"`
	Name   string   `json:"name"`
	Sow    day.Day  `json:"sow"`
	First  day.Day  `json:"first"` // the fortnight of the first harvest begins; never before the sowing
	Free   day.Day  `json:"free"`  // the ground is free, in the middle year
	Area   float64  `json:"area_m2"`
	Plants float64  `json:"plants"`
	Kg     float64  `json:"kg"`    // in the year planned for
	Raise  *day.Day `json:"raise"` // seed is sown under cover; nil: not raised
}

// Seed is what a crop takes to sow.
type Seed struct {
	Crop   string  `json:"crop"`
	Name   string  `json:"name"`
	By     day.Day `json:"by"` // first needed
	Plants float64 `json:"plants"`
	Grams  float64 `json:"grams"` // of seed or sets; 0: not known
	Area   float64 `json:"area_m2"`
}

// A Period is four weeks of the table.
type Period struct {
	From  day.Day  `json:"from"`
	Need  float64  `json:"need_mj"`
	Eaten float64  `json:"eaten_mj"`
	Stock float64  `json:"stock_mj"` // in store at its end
	Foods []Amount `json:"foods"`    // the most food energy first
}

// An Amount is of one food.
type Amount struct {
	Food string  `json:"food"`
	Form string  `json:"form"`
	Kg   float64 `json:"kg"`
	MJ   float64 `json:"mj"`
}

// PutUp is a food to put up in a period.
type PutUp struct {
	From  day.Day `json:"from"`
	Food  string  `json:"food"`
	How   string  `json:"how"`
	Kg    float64 `json:"kg"` // of fresh food
	Hours float64 `json:"hours"`
}

// Short is a nutrient that the plan can't cover in the year planned for.
type Short struct {
	Nutrient string    `json:"nutrient"`
	Name     string    `json:"name"`
	Days     float64   `json:"days"` // of the household's need, in the year
	Worst    day.Day   `json:"worst"`
	By       []float64 `json:"by_period"` // days
}

// Fortnight is the work and water of two weeks.
type Fortnight struct {
	From  day.Day   `json:"from"`
	Hours float64   `json:"hours"`   // of the beds, picking, watering and putting up
	Free  float64   `json:"free"`    // for them
	Water []float64 `json:"water_l"` // to beds, by group of tanks
}

// Ground is how much of the beds the plan uses.
type Ground struct {
	Beds float64 `json:"beds_m2"`
	Used float64 `json:"used_m2"`    // ever
	Rest float64 `json:"rest_share"` // of ground and time, not planted
}

// ErrWishes is wrapped by the error that names wishes which can't all be had.
var ErrWishes = errors.New("the wishes contradict each other")

// Make plans: it learns what sowings bring, chooses, lays the choice on the beds
// and settles the table for what then stands. Of a plan for several years and one for
// the poor year it takes the one that leaves less hardship in the years learned from. It fails with ErrWishes when the
// wishes can't all be had; need that can't be met is no error but is in Short.
func Make(ctx context.Context, a *Ask) (*Plan, error) {
	if len(a.Stead.Beds) == 0 {
		return nil, errors.New("there is no bed to plan for: describe one, such as [[bed]] with an area")
	}
	y, err := a.look(ctx)
	if err != nil {
		return nil, fmt.Errorf("plan: %w", err)
	}
	a.tell(weighing)
	some, err := a.candidates(ctx, y)
	if err != nil {
		return nil, err
	}
	a.tell(laying)
	for _, p := range some {
		laid := p.lay(a.Stead)
		p.chosen = loops{p.prog.fetch(p.x()), p.spreads(a.Stead, laid)}
		p.loops = p.chosen.asItIs(a.Stead)
		p.years, p.list = p.years.only(laid)
		p.readSowings(a, p.list)
		p.readUnwatered(p.list)
		if err := p.realise(ctx, a, p.list); err != nil {
			return nil, fmt.Errorf("plan: %w", err)
		}
	}
	p := slices.MinFunc(some, func(a, b *Plan) int { return cmp.Compare(a.hard, b.hard) })
	if err := p.settle(ctx, p.list); err != nil {
		return nil, fmt.Errorf("plan on the beds: %w", err)
	}
	p.list = p.needed(p.list)
	p.read(a, p.list)
	return p, nil
}

// candidates are the plans to choose among: sown once for several years, where that
// is asked, and for the poor year alone.
func (a *Ask) candidates(ctx context.Context, y *years) ([]*Plan, error) {
	plan := func() *Plan {
		return &Plan{Stead: a.Stead.Name, Today: a.Options.Today, Risk: y.risk, Wishes: a.Wishes, wishes: a.Wishes, all: y, years: y.without(a.Wishes)}
	}
	first := plan()
	if a.Years <= 1 {
		return []*Plan{first}, first.choose(ctx, y, a.Wishes)
	}
	err := first.chooseOver(ctx, y, a)
	if err != nil || first.Once == nil || a.Alone {
		return []*Plan{first}, err
	}
	poor := plan()
	poor.Beside = first.Once.Years
	poor.wide, poor.years, poor.poor = first.wide, first.wide, first.poor
	poor.prog, poor.sol = first.poor.g, []*lp.Solution{first.poor.s}
	return []*Plan{first, poor}, nil
}

// choose solves the stages in order, few crops last.
func (p *Plan) choose(ctx context.Context, all *years, wishes []Wish) error {
	p.prog = p.years.programme(wishes, nil)
	sol, err := p.prog.solve(ctx, p.prog.sow)
	if err != nil {
		return fmt.Errorf("plan: %w", err)
	}
	if last := sol[len(sol)-1]; last.Status == lp.Infeasible {
		return clash(ctx, all, wishes)
	}
	p.sol, p.wide, p.first = sol, p.years, sol[0]
	p.free = p.prog
	return nil
}

// settle solves the table again with no more of each sowing than was laid.
func (p *Plan) settle(ctx context.Context, list []laid) error {
	p.prog = p.years.programme(without(p.wishes, AtLeast), list)
	sol, err := p.prog.solve(ctx, nil)
	if err != nil {
		return err
	}
	if sol[len(sol)-1].Status != lp.Optimal {
		return errors.New("the beds as laid can't be reckoned")
	}
	p.sol = sol
	return nil
}

func without(wishes []Wish, kind string) []Wish {
	return slices.DeleteFunc(slices.Clone(wishes), func(w Wish) bool { return w.Kind == kind })
}

// solve runs the stages: least shortfall, least bought, least work. A stage whose
// face can't be told apart ends the order there: the last answer stands.
func (g *programme) solve(ctx context.Context, few []int) ([]*lp.Solution, error) {
	stages := slices.Clone(g.stages)
	if g.y.workFirst {
		stages[1], stages[2] = stages[2], stages[1]
	}
	later := slices.DeleteFunc(stages[1:], func(cost []float64) bool { return !slices.ContainsFunc(cost, func(c float64) bool { return c != 0 }) })
	stages = stages[:1+len(later)]
	sol, err := lp.Stages(ctx, g.p, stages, lp.Options{Few: few})
	if len(sol) > 0 && (errors.Is(err, lp.ErrFace) || errors.Is(err, lp.ErrUncertified)) {
		return sol, nil
	}
	return sol, err
}

// x is the last answer.
func (p *Plan) x() []float64 { return p.sol[len(p.sol)-1].X }

// clash finds a smallest set of wishes that can't all be had: it leaves out one
// after the other, for good when the rest still clash.
func clash(ctx context.Context, y *years, wishes []Wish) error {
	left := slices.Clone(wishes)
	for i := 0; i < len(left); {
		fewer := slices.Delete(slices.Clone(left), i, i+1)
		g := y.without(fewer).programme(fewer, nil)
		s, err := lp.Solve(ctx, g.p, lp.Options{})
		if err != nil {
			return fmt.Errorf("plan: %w", err)
		}
		if s.Status == lp.Infeasible {
			left = fewer
			continue
		}
		i++
	}
	said := ""
	for i, w := range left {
		if i > 0 {
			said += "; "
		}
		said += w.String()
		if bar, none := y.barred[w.What]; none && w.Kind == AtLeast {
			said += " (it has no sowing time here: " + bar.String() + ")"
		}
	}
	if len(left) == 1 {
		return fmt.Errorf("%w: there is no room, time or water for this alone: %s", ErrWishes, said)
	}
	return fmt.Errorf("%w: give up or lessen one of these: %s", ErrWishes, said)
}

// fortnight is the first day of one.
func (y *years) fortnight(s int) day.Day { return y.frame.Today + day.Day(s*engine.Fortnight) }
