package web

import (
	"crypto/rand"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/tasks"
)

// weekPage is the work of one week, to be ticked off by a tap.
type weekPage struct {
	frame
	Lead, Rest string
	Second     string
	Wrote      string // what a tap has just done; empty when none has
	Undo       []string
	Mishap     string // why the tap did nothing
	At         int    // weeks from today
	Once       string // tells this page from another, so that what is sent twice is written once
	People     []choice
	Who        string
	Daily      []taskView
	Days       []taskDay
	Drop       []dropView
	Watch      []string
	Weeks      []weekRow
	Unknown    []string
}

// taskDay is what is due by one day.
type taskDay struct {
	When  string
	Tasks []taskView
}

// taskView is a task with the way to write it down.
type taskView struct {
	ID, Title, Time, Amount string
	Tag                     string // when it does not fit the hours
	Why, Slip               string
	Caution, Source         string
	Done                    string // when it was noted; empty when it was not
	Notes                   []noteLine
	Way                     string // to the note box, to change the note first
	Verb                    string // on the button; empty when nothing can be written yet

	Mend  string     // what the form wants; empty when it was not sent
	Draft string     // of lines that were not written
	Lines []readLine // of those
}

// noteLine is a line that a tap writes: whole, with a blank for what only a look can
// tell, or one of several to choose from.
type noteLine struct {
	N      int
	Text   string
	Blank  bool
	Must   bool // the blank is the only one
	Choose bool
	Chosen bool
	Value  string // typed into the blank before
}

// taskOf hands a task to its part of the page, with the page.
func taskOf(t taskView, page weekPage) (out struct {
	Task taskView
	Page weekPage
}) {
	out.Task, out.Page = t, page
	return out
}

// dropView is what to leave when hours are short, the cheapest first.
type dropView struct{ Title, Time, Slip string }

// weekRow is a week of those to come.
type weekRow struct {
	Name, Way         string
	Tasks             int
	Asked, Hands, Fit string
	Current           bool
}

// weeksShown is how many weeks the page looks ahead.
const weeksShown = 13

func (s *site) week(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	at, err := strconv.Atoi(q.Get("at"))
	if err != nil {
		at = 0
	}
	if at = max(0, at); at >= tasks.MostWeeks {
		s.sayMissing(w, http.StatusNotFound)
		return
	}
	s.withWork(w, r, max(at+1, weeksShown), func(snap *Snapshot, plan *tasks.Plan) {
		k := &weekView{site: s, snap: snap, plan: plan, week: &plan.Weeks[at], at: at, draft: s.drafts.find(q.Get("draft")), draftKey: q.Get("draft")}
		page := weekPage{frame: s.deskFrame(snap, "now"), At: at, Once: rand.Text(), Unknown: plan.Unknown}
		page.Title = s.words.say("week.title")
		page.Lead, page.Rest = k.verdict()
		page.Second = s.words.say("week.second", k.words.long(k.week.From), k.words.long(k.week.To))
		page.People, page.Who = s.household(snap, q.Get("who")), q.Get("who")
		page.Wrote, page.Undo, page.Mishap = k.told(q)
		page.Daily, page.Days = k.tasks()
		page.Drop, page.Watch, page.Weeks = k.drops(), k.watch(), k.weeks()
		s.render(w, http.StatusOK, "week", page)
	})
}

// weekView is what the page is made from.
type weekView struct {
	*site
	snap     *Snapshot
	plan     *tasks.Plan
	week     *tasks.Week
	at       int
	draft    url.Values
	draftKey string
}

// verdict says whether the work fits the hours, and what to do when it does not.
func (k *weekView) verdict() (lead, rest string) {
	w := k.week
	asked, hands := count(rounded(w.Asked)), count(rounded(w.Hands))
	dropped := 0
	for i := range w.Tasks {
		if w.Tasks[i].Drop || w.Tasks[i].Cut > 0 {
			dropped++
		}
	}
	switch {
	case w.Kept > w.Hands+0.5:
		return k.words.say("week.over", asked, hands), k.words.say("week.over.rest", count(rounded(w.Kept)))
	case dropped > 0:
		return k.words.say("week.tight", asked, hands), k.words.say("week.tight.rest", count(dropped))
	}
	return k.words.say("week.fits", asked, hands), k.words.say("week.fits.rest", count(rounded(w.Hands-w.Asked)))
}

func rounded(v float64) int { return int(math.Round(v)) }

// told says what the form before did: what it wrote, with the entries that an undo
// would strike, or why it wrote nothing.
func (k *weekView) told(q url.Values) (wrote string, undo []string, mishap string) {
	switch {
	case q.Get("gone") != "":
		return "", nil, k.words.say("week.gone")
	case q.Get("undone") != "":
		return k.words.say("week.undone"), nil, ""
	}
	var said []string
	for id := range strings.SplitSeq(q.Get("wrote"), ",") {
		if e := k.snap.entry(id); e != nil {
			said, undo = append(said, e.Undated(k.snap.Units)), append(undo, id)
		}
	}
	if len(said) == 0 {
		return "", nil, ""
	}
	return k.words.say("week.wrote", upperFirst(strings.Join(said, "; "))), undo, ""
}

// tasks are the daily rounds, then the rest by the day they are due.
func (k *weekView) tasks() (daily []taskView, days []taskDay) {
	for i := range k.week.Tasks {
		t := &k.week.Tasks[i]
		if t.Daily {
			daily = append(daily, k.task(t))
			continue
		}
		when := k.whenBy(t.By)
		if n := len(days); n == 0 || days[n-1].When != when {
			days = append(days, taskDay{When: when})
		}
		days[len(days)-1].Tasks = append(days[len(days)-1].Tasks, k.task(t))
	}
	return daily, days
}

func (k *weekView) whenBy(d day.Day) string {
	if d <= k.snap.Today {
		return k.words.say("week.today", k.words.weekday(d))
	}
	return k.words.say("act.by", k.words.weekday(d))
}

func (k *weekView) task(t *tasks.Task) taskView {
	v := taskView{ID: t.ID, Title: t.Title, Time: k.minutes(t), Amount: sentenced(t.Amount), Why: sentenced(t.Why), Slip: sentenced(t.Slip), Caution: sentenced(t.Caution), Source: t.Source}
	switch {
	case t.Drop:
		v.Tag = k.words.say("week.drop")
	case t.Cut > 0:
		v.Tag = k.words.say("week.cut", k.words.hours((t.Cut+t.Minutes)/60))
	}
	if k.at > 0 || t.From > k.snap.Today {
		return v
	}
	v.Verb, v.Way = k.words.say("week.done"), "/?note="+url.QueryEscape(strings.ReplaceAll(k.words.asTyped(t.Note), tasks.Blank, ""))+"#note"
	if had, of, on := k.snap.noted(t); had > 0 {
		v.Done, v.Verb = k.words.say("week.noted", k.words.short(on)), k.words.say("week.again")
		if had < of {
			v.Done = k.words.say("week.noted.some", count(had), count(of), k.words.short(on))
		}
	}
	k.open(&v, t)
	return v
}

// open fills the form of a task: its lines, or those of them that were not written.
func (k *weekView) open(v *taskView, t *tasks.Task) {
	mine := k.draft != nil && k.draft.Get("task") == t.ID
	if !mine || k.draft.Get("text") == "" { // nothing was chosen, or a blank was left
		var typed url.Values
		if mine {
			typed, v.Mend = k.draft, k.words.say("week.mend")
		}
		v.Notes = linesOf(t, typed)
		for i := range v.Notes {
			v.Notes[i].Text = k.words.asTyped(v.Notes[i].Text)
		}
		return
	}
	v.Draft = k.draftKey
	v.Lines = k.readAgain()
	v.Verb = k.words.say("week.write")
}

// linesOf are the lines of a task's note. Of several, those to be written are
// chosen; sowings that the book has not are chosen by nobody but the hand that sowed.
func linesOf(t *tasks.Task, typed url.Values) (out []noteLine) {
	lines := strings.Split(t.Note, "\n")
	for i, line := range lines {
		n := noteLine{N: i, Text: strings.ReplaceAll(line, tasks.Blank, "…"), Blank: strings.Contains(line, tasks.Blank), Value: typed.Get(blankName(i))}
		n.Must = n.Blank && len(lines) == 1
		n.Choose = !n.Blank && len(lines) > 1
		n.Chosen = n.Choose && t.Kind != "late"
		out = append(out, n)
	}
	return out
}

func blankName(line int) string { return "blank." + strconv.Itoa(line) }

func (k *weekView) minutes(t *tasks.Task) string {
	switch {
	case t.Minutes <= 0:
		return ""
	case t.Daily:
		return k.words.say("week.aday", figure(t.Minutes/7))
	case t.Minutes >= 90:
		return k.words.hours(t.Minutes / 60)
	}
	return k.words.say("week.min", count(max(1, rounded(t.Minutes))))
}

// hours writes hours: "2.5 h".
func (w words) hours(h float64) string { return w.figure(h) + nbsp + "h" }

// sentenced ends a text with a full stop and begins it with a capital.
func sentenced(text string) string {
	text = upperFirst(strings.TrimSpace(text))
	if text == "" || strings.ContainsRune(".?!", rune(text[len(text)-1])) {
		return text
	}
	return text + "."
}

// drops are the tasks that do not fit, the cheapest to let slip first.
func (k *weekView) drops() (out []dropView) {
	var list []*tasks.Task
	for i := range k.week.Tasks {
		if t := &k.week.Tasks[i]; t.Drop || t.Cut > 0 {
			list = append(list, t)
		}
	}
	slices.SortStableFunc(list, func(a, b *tasks.Task) int { return int(b.Rank) - int(a.Rank) })
	for _, t := range list {
		d := dropView{t.Title, k.minutes(t), sentenced(t.Slip)}
		if t.Cut > 0 {
			d.Time = k.words.say("week.cut.of", k.words.hours(t.Cut/60), k.words.hours((t.Cut+t.Minutes)/60))
		}
		out = append(out, d)
	}
	return out
}

// watch are the needs that the newest outlook sees run short soon.
func (k *weekView) watch() (out []string) {
	for _, x := range k.plan.Watch {
		key := "week.watch"
		if x.Tag == "short" {
			key = "week.spare"
		}
		when := k.words.say("week.soon")
		if x.First != nil {
			when = k.words.short(*x.First)
		}
		out = append(out, k.words.say(key, k.words.needNamed(k.snap.Outlook, x.Need), when))
	}
	return out
}

// weeks are the weeks to come, each with its hours.
func (k *weekView) weeks() (out []weekRow) {
	for i := range k.plan.Weeks[:min(len(k.plan.Weeks), max(weeksShown, k.at+1))] {
		w := &k.plan.Weeks[i]
		row := weekRow{Name: k.words.short(w.From), Way: "/week?at=" + strconv.Itoa(i), Tasks: len(w.Tasks), Asked: k.words.figure(w.Asked), Hands: k.words.figure(w.Hands), Current: i == k.at, Fit: k.words.say("week.row.fits")}
		dropped := 0
		for j := range w.Tasks {
			if w.Tasks[j].Drop || w.Tasks[j].Cut > 0 {
				dropped++
			}
		}
		switch {
		case w.Kept > w.Hands+0.5:
			row.Fit = k.words.say("week.row.over", k.words.hours(w.Kept-w.Hands))
		case dropped > 0:
			row.Fit = k.words.say("week.row.drop", count(dropped))
		}
		out = append(out, row)
	}
	return out
}
