package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
)

// entriesAPage keeps the screen under 100 KB however full the book is.
const entriesAPage = 50

// bookPage is the screen "Book".
type bookPage struct {
	frame
	Lead, Rest string
	Said       string // what a form has just done
	Note       noteForm
	Find       string
	Kinds      []choice
	Days       []bookDay
	Shown      string
	Prev, Next string // ways to later and earlier entries; empty for none
	Filtered   bool
}

// bookDay is a day with the entries shown of it.
type bookDay struct {
	Week    string // said above the first day of a week; else empty
	Name    string
	Entries []entryRow
}

// entryRow is an entry in a list.
type entryRow struct {
	ID, Short string
	Time      string
	Sentence  string
	Who       string
	Mark      string // found, done or struck
	Why       string // of a struck one: the reason, and what stands in its place
	Kind      string
}

// bookRoutes are the ways in of the book, its entries, files and the stead's text.
func (s *site) bookRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /book", s.book)
	mux.HandleFunc("GET /book/{id}", s.entry)
	mux.HandleFunc("POST /book/{id}/strike", s.strikeEntry)
	mux.HandleFunc("POST /book/{id}/replace", s.replaceEntry)
	mux.HandleFunc("POST /book/{id}/back", s.unstrikeEntry)
	mux.HandleFunc("GET /book/export.jsonl", s.export)
	mux.HandleFunc("GET /book/export.csv", s.exportCSV)
	mux.HandleFunc("GET /book/files", s.bringFiles)
	mux.HandleFunc("POST /book/import", s.importBook)
	mux.HandleFunc("POST /book/weather", s.keepWeather)
	mux.HandleFunc("GET /book/stead", s.steadText)
	mux.HandleFunc("POST /book/stead", s.postStead)
	mux.HandleFunc("POST /book/stead/add", s.addPart)
}

// bookAsk is what the screen is asked to show.
type bookAsk struct {
	find string
	kind book.Kind
	page int // from 0
}

func readBookAsk(q url.Values) bookAsk {
	a := bookAsk{find: q.Get("find"), kind: book.Kind(q.Get("kind"))}
	if _, ok := book.RuleOf(a.kind); !ok {
		a.kind = ""
	}
	if len(a.find) > mostFind {
		a.find = ""
	}
	if n, err := strconv.Atoi(q.Get("page")); err == nil && n > 1 && n < 1<<20 {
		a.page = n - 1
	}
	return a
}

// mostFind is the most bytes of words looked for.
const mostFind = 200

// way is the address that shows the same on another page.
func (a bookAsk) way(page int) string {
	q := url.Values{}
	for key, value := range map[string]string{"find": a.find, "kind": string(a.kind)} {
		if value != "" {
			q.Set(key, value)
		}
	}
	if page > 0 {
		q.Set("page", strconv.Itoa(page+1))
	}
	if len(q) == 0 {
		return "/book"
	}
	return "/book?" + q.Encode()
}

func (s *site) book(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		ask := readBookAsk(r.URL.Query())
		found, total := snap.find(ask)
		page := bookPage{frame: s.deskFrame(snap, "book"), Find: ask.find, Kinds: s.kindChoices(ask.kind), Filtered: ask.find != "" || ask.kind != ""}
		page.Lead, page.Rest = s.bookVerdict(snap)
		page.Said = s.bookSaid(snap, r.URL.Query())
		page.Note = noteForm{People: s.household(snap, r.URL.Query().Get("who"))}
		page.Days = s.bookDays(snap, found)
		page.Shown = s.shownOf(ask, len(found), total)
		if ask.page > 0 {
			page.Prev = ask.way(ask.page - 1)
		}
		if (ask.page+1)*entriesAPage < total {
			page.Next = ask.way(ask.page + 1)
		}
		s.render(w, http.StatusOK, "book", page)
	})
}

// shownOf says which of how many entries a page shows.
func (s *site) shownOf(ask bookAsk, shown, total int) string {
	switch {
	case total == 0:
		return s.words.say("book.found.none")
	case total <= entriesAPage:
		return s.words.say("book.found.all", count(total))
	}
	from := ask.page * entriesAPage
	return s.words.say("book.found.some", count(from+1), count(from+shown), count(total))
}

// find picks the entries of a page, newest first, and counts all that fit.
// Strikes are told with what they strike, so they are no rows of their own.
func (s *Snapshot) find(ask bookAsk) (page []*book.Entry, total int) {
	words := strings.Fields(strings.ToLower(ask.find))
	from := ask.page * entriesAPage
	for _, i := range s.newest() {
		e := &s.All[i]
		if e.Kind == book.Struck || ask.kind != "" && e.Kind != ask.kind || !holdsAll(e, words) {
			continue
		}
		if total >= from && len(page) < entriesAPage {
			page = append(page, e)
		}
		total++
	}
	return page, total
}

// holdsAll tells whether an entry speaks of every word, by its parts and its day.
func holdsAll(e *book.Entry, words []string) bool {
	for _, w := range words {
		if !holdsWord(e, w) {
			return false
		}
	}
	return true
}

func holdsWord(e *book.Entry, word string) bool {
	b := &e.Body
	for _, text := range [...]string{b.What, b.Where, e.Note, e.Who, string(e.Kind), b.Form} {
		if holdsFold(text, word) {
			return true
		}
	}
	for _, text := range b.Extra {
		if holdsFold(text, word) {
			return true
		}
	}
	return len(word) >= 3 && word[0] < 0x80 && (strings.HasPrefix(e.Day.String(), word) || strings.HasPrefix(strings.ToLower(e.Day.Month().String()), word))
}

// holdsFold tells whether a text holds a word written small, letter case aside;
// "sweet potato" is found in "sweet_potato".
func holdsFold(text, word string) bool {
	for i := 0; i+len(word) <= len(text); i++ {
		if matchAt(text[i:], word) {
			return true
		}
	}
	for _, r := range text {
		if r >= utf8.RuneSelf {
			return strings.Contains(strings.ToLower(text), word)
		}
	}
	return false
}

func matchAt(text, word string) bool {
	for i := range len(word) {
		c := text[i]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		if c != word[i] {
			return false
		}
	}
	return true
}

// bookDays parts entries by their days.
func (s *site) bookDays(snap *Snapshot, found []*book.Entry) (days []bookDay) {
	var last day.Day
	for i, e := range found {
		if i == 0 || e.Day != last {
			days = append(days, bookDay{Name: s.words.weekday(e.Day)})
			if week := s.opt.weekOf(e.Day); i == 0 || week != s.opt.weekOf(last) {
				days[len(days)-1].Week = s.words.say("book.week", s.words.weekday(week))
			}
			last = e.Day
		}
		d := &days[len(days)-1]
		d.Entries = append(d.Entries, s.entryRow(snap, e))
	}
	return days
}

// marksFound are the kinds that tell what was found; others tell what was done.
var marksFound = []book.Kind{book.Rain, book.Dipped, book.Heat, book.Meter, book.Counted, book.Weighed}

func (s *site) entryRow(snap *Snapshot, e *book.Entry) entryRow {
	bare := *e
	bare.Who, bare.Time = "", ""
	row := entryRow{ID: e.ID.String(), Short: hearth.Short(e.ID), Time: s.opt.clock(e.Time), Who: e.Who, Mark: "done", Kind: string(e.Kind)}
	row.Sentence = upperFirst(bare.Undated(snap.Units)) + "."
	switch {
	case !snap.stands(e):
		row.Mark, row.Why = "struck", s.whyStruck(snap, e.ID)
	case slices.Contains(marksFound, e.Kind):
		row.Mark = "found"
	}
	if e.Strikes != uuid.Nil && row.Why == "" {
		row.Why = s.words.say("book.instead", hearth.Short(e.Strikes))
	}
	return row
}

// whyStruck says why an entry does not count.
func (s *site) whyStruck(snap *Snapshot, id uuid.UUID) string {
	by := snap.book.Striker(id)
	switch {
	case by == nil:
		return ""
	case by.Kind != book.Struck:
		return s.words.say("book.replaced", hearth.Short(by.ID))
	case by.Note == "":
		return s.words.say("book.struck.bare")
	}
	return s.words.say("book.struck", by.Note)
}

// bookVerdict is the one sentence of the screen: how whole the book is.
func (s *site) bookVerdict(snap *Snapshot) (lead, rest string) {
	if len(snap.Entries) == 0 {
		return s.words.say("since.empty"), s.words.say("since.empty.rest")
	}
	last := snap.Entries[len(snap.Entries)-1].Day
	lead = s.words.say("book.lead", count(len(snap.Entries)), s.words.short(last))
	if len(snap.Entries) == 1 {
		lead = s.words.say("book.lead.one", s.words.short(last))
	}
	if snap.Past == nil {
		return lead, ""
	}
	if n := len(snap.Past.Refused()); n > 0 {
		return lead, s.words.say("book.refused", count(n))
	}
	return lead, s.oldest(snap)
}

// oldest names the store that was seen longest ago.
func (s *site) oldest(snap *Snapshot) string {
	if len(snap.Past.Seen) == 0 {
		return ""
	}
	old := slices.MinFunc(snap.Past.Seen, func(a, b engine.Seen) int { return int(a.Day - b.Day) })
	if days := int(snap.Today - old.Day); days > 7 {
		return s.words.say("book.oldest", lowerFirst(s.words.storeNamed(snap.Outlook, old.Store)), count(days))
	}
	return ""
}

// bookSaid says what a form before this page did.
func (s *site) bookSaid(snap *Snapshot, q url.Values) string {
	for _, key := range []string{"struck", "back", "replaced"} {
		if id, err := uuid.Parse(q.Get(key)); err == nil {
			return s.words.say("book.said."+key, hearth.Short(id))
		}
	}
	if n, err := strconv.Atoi(q.Get("imported")); err == nil && n >= 0 {
		return s.words.say("book.said.imported", count(n))
	}
	if n, err := strconv.Atoi(q.Get("weather")); err == nil && n > 0 {
		return s.words.say("book.said.weather", count(n))
	}
	if d, err := day.Parse(q.Get("described")); err == nil {
		return s.words.say("book.said.described", s.words.long(d))
	}
	return ""
}

func (s *site) kindChoices(chosen book.Kind) []choice {
	list := []choice{{"", s.words.say("book.kind.all"), chosen == ""}}
	for _, k := range book.Kinds() {
		if k != book.Struck {
			list = append(list, choice{string(k), upperFirst(s.words.name("kind", string(k), string(k))), k == chosen})
		}
	}
	return list
}
