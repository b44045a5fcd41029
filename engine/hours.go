package engine

// Hours are a weekly purse: what the residents can give that week, less what is
// owed to the landowner. Work draws on it in the order of the day, so what comes
// late (putting up, gathering) is what gives way when hours are short.

// openWeek fills the purse at the start of each week.
func (r *runner) openWeek(plan *dayPlan) {
	if plan.wd != 0 && r.day != 0 {
		return
	}
	r.s.bank = 0
	for d := r.day; d < min(r.day+7-plan.wd, r.m.days); d++ {
		r.s.bank += r.handsOn(d)
	}
}

// handsOn is the hours the household can give on a day, illness taken off.
func (r *runner) handsOn(day int) float64 {
	h := r.m.cal[day].hours
	for _, ill := range r.luck.ill {
		if day >= ill.from && day < ill.to {
			h -= r.m.hoursPerPerson
		}
	}
	return max(0, h)
}

// hands spends the hours that can't wait: beasts, digester, toilet, trips,
// exchange work; then the garden's, as far as they go.
func (r *runner) hands(plan *dayPlan) {
	m := r.m
	must := plan.owed + m.haulHours + hoursKitchen*plan.heads
	for i := range m.flocks {
		must += m.flocks[i].hoursDay
	}
	for i := range m.hives {
		must += m.hives[i].hoursWeek / 7
	}
	if m.dig != nil {
		must += m.dig.hoursDay + m.dig.haulHours
	}
	if m.toilet != nil {
		must += hoursToilet
	}
	r.spend(must)
	done := r.spend(r.m.gardenDay[plan.month])
	r.s.tended += (done - r.s.tended) / 60
}

// Hours of chores that the tables give for a household (work.csv).
const (
	hoursKitchen = 0.5           // a person-day: cooking and washing up
	hoursToilet  = 0.08          // a day: pails, cover, drums
	hoursCan     = 3.0 / 60 / 20 // a litre carried 20 L at a time (demo and practice sheet: 3 minutes a can)
	hoursHose    = 0.02 / 60     // a litre by drip or hose: turning and looking
)

// spend draws hours from the week's purse and returns the share that could be had.
func (r *runner) spend(hours float64) float64 {
	if hours <= 0 {
		return 1
	}
	got := hours
	if !r.without.has(NoHourLimit) {
		got = lesser(hours, r.s.bank)
	}
	r.s.bank = greater(0, r.s.bank-got)
	r.need(r.m.after(needHours), hours, got)
	return got / hours
}
