package web

import (
	"fmt"
	"math/rand/v2"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/unit"
)

// seed gives the bytes of a number for ids that differ.
type seed int

// Read fills b; it never fails.
func (s seed) Read(b []byte) (int, error) {
	clear(b)
	copy(b, fmt.Sprint(int(s)))
	return len(b), nil
}

// fill writes so many entries, spread over the stay, a tenth of them struck.
func fill(t testing.TB, d *Desk, n int) {
	t.Helper()
	kinds := []book.Entry{
		{Kind: book.Rain, Who: "Rook", Body: book.Body{Amount: 1, Measure: unit.Depth}},
		{Kind: book.Worked, Who: "Sorrel", Body: book.Body{Amount: 0.5, Measure: unit.Time, What: "weed"}, Note: "the long row"},
		{Kind: book.Noted, Note: "the gate sticks when it has rained, and the hens know it"},
	}
	days := int(deskToday - deskBegun)
	entries := make([]book.Entry, n)
	for i := range entries {
		id, err := book.NewID(deskNoon.Add(time.Duration(i-n)*time.Millisecond), seed(i))
		deskMust(t, err)
		e := kinds[i%len(kinds)]
		e.ID, e.Day = id, deskBegun+day.Day(i*days/n)
		if i%10 == 9 {
			e = book.Entry{ID: id, Day: e.Day, Kind: book.Struck, Strikes: entries[i-1].ID, Note: "twice"}
		}
		entries[i] = e
	}
	deskMust(t, d.Home().Store().Add(t.Context(), entries))
	d.Changed()
}

// noteLater writes one more entry, so many seconds after noon.
func noteLater(t testing.TB, d *Desk, seconds int, e book.Entry) {
	t.Helper()
	id, err := book.NewID(deskNoon.Add(time.Duration(seconds)*time.Second), seed(seconds))
	deskMust(t, err)
	e.ID = id
	deskMust(t, d.Home().Store().Add(t.Context(), []book.Entry{e}))
	d.Changed()
}

// deskPaths are the screens of the desk that this file holds to their bounds.
var deskPaths = []string{"/", "/book", "/book?page=900", "/book?find=gate+november", "/book?find=nowhere&kind=note", "/book/files", "/book/stead", "/stores", "/ground", "/boots",
	"/paper/week", "/paper/beds", "/paper/labels", "/paper/store/type", "/handover", "/openday", "/calendar.ics", "/week", "/reckoning", "/why?need=beds"}

// TestDeskPagesAreSmallAndQuick holds the screens to 100 KB and 60 ms with
// 100,000 entries, the first one after a note as well.
func TestDeskPagesAreSmallAndQuick(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	fill(t, d, 100_000)
	settled(t, d)
	h := deskSite(t, d)
	for _, path := range deskPaths {
		w := answersIn(t, h, path, 60*time.Millisecond*slack, nil)
		if w.Code != 200 || w.Body.Len() > mostBytes {
			t.Errorf("%s: status %d, %d bytes, the most is %d", path, w.Code, w.Body.Len(), mostBytes)
		}
	}
	notes := 0
	for _, path := range []string{"/book", "/", "/stores"} {
		answersIn(t, h, path, 60*time.Millisecond*slack, func() {
			notes++
			noteLater(t, d, notes, book.Entry{Day: deskToday, Kind: book.Rain, Body: book.Body{Amount: 1, Measure: unit.Depth}})
		})
	}
	note := url.Values{"text": {strings.Repeat("worked 2 h weeding (the long row by the west fence, to the end)\n", mostLines)}}
	back := look(t, h, post(t, h, "/note", note).Header().Get("Location"))
	if n := len(back.find("li.readline")); n != mostLines {
		t.Errorf("%d lines are read back", n)
	}
}

// TestReadBackIsSmall holds the longest note, all of it in doubt or wrong, to 100 KB.
func TestReadBackIsSmall(t *testing.T) {
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	for _, line := range []string{"rain 3", "blorp the thing with the long row by the west fence, to the very end of it", "picked 3000 kg basil"} {
		w := post(t, h, "/note", url.Values{"text": {strings.Repeat(line+"\n", mostLines)}})
		if page := get(t, h, "GET", w.Header().Get("Location")); page.Code != 200 || page.Body.Len() > mostBytes {
			t.Errorf("%q: status %d, %d bytes", line, page.Code, page.Body.Len())
		}
	}
}

func BenchmarkDeskPages(b *testing.B) {
	d := deskOf(b, demo.Quernfold())
	fill(b, d, 100_000)
	h := deskSite(b, d)
	for _, path := range deskPaths {
		b.Run(path, func(b *testing.B) {
			for b.Loop() {
				h.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest("GET", path, nil))
			}
		})
	}
}

// BenchmarkDeskAfterAWrite is the first look after a note: the book is read and
// replayed anew.
func BenchmarkDeskAfterAWrite(b *testing.B) {
	for _, n := range []int{1000, 10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			d := deskOf(b, demo.Quernfold())
			fill(b, d, n)
			for b.Loop() {
				d.Changed()
				_, err := d.present(b.Context())
				deskMust(b, err)
			}
		})
	}
}

// busyLines are what a household writes in a busy week, of most kinds.
var busyLines = strings.Split(strings.TrimSpace(`
picked 3.2 lb kale, F1
foraged 2 kg acorns
took 12 eggs
put up 2 quarts apples
ate 1 kg potatoes
gave 2 kg potatoes to the neighbour
lost 0.5 kg apples
received 3 kg walnuts from the neighbour
bought 1 kg salt
rain 14 mm
dipped barn at 9000 L
watered F1 with 40 L
moved 200 L from barn to cabin
treated 20 L
fed digester 4 kg scraps
fed compost 3 kg leaves
spread 10 L urine, plums
spread 5 kg compost on F1
cooked 1.5 kg wood
fuel in 20 kg wood
hauled 10 kg scraps
closed drum 2
worked 3 h for the landowner
Rook ill
counted potatoes 18 kg
counted wood 380 kg
weighed Sorrel 60 kg
note: frost in the hollow
sowed kale on F1
`), "\n")

// aged is a desk over ten busy years of the invented stead: so many entries of most
// kinds, a twentieth of them struck.
func aged(t testing.TB, n int) *Desk {
	t.Helper()
	const days = 3652
	d := NewDesk(homeOf(t, demo.Quernfold()), func() time.Time { return deskNoon }, DeskOptions{Members: 6, Today: deskBegun + days})
	t.Cleanup(d.Close)
	c, err := d.Home().Context(t.Context(), d.Today(), "Sorrel", unit.Metric)
	deskMust(t, err)
	said := book.Read(strings.Join(busyLines, "\n"), c)
	rng := rand.New(rand.NewPCG(1, 2))
	entries := make([]book.Entry, n)
	for i := range entries {
		e := said[rng.IntN(len(said))].Entry
		e.Day = deskBegun + day.Day(rng.IntN(days))
		if i%20 == 19 {
			e = book.Entry{Day: entries[i-1].Day, Kind: book.Struck, Strikes: entries[i-1].ID, Note: "twice"}
		}
		e.ID, err = book.NewID(deskNoon.Add(time.Duration(i-n)*time.Millisecond), seed(i))
		deskMust(t, err)
		entries[i] = e
	}
	deskMust(t, d.Home().Store().Add(t.Context(), entries))
	return d
}

// BenchmarkAgedAfterAWrite is the first look after an entry of today, or of a day
// long gone, in a book of ten years.
func BenchmarkAgedAfterAWrite(b *testing.B) {
	for _, n := range []int{1000, 10_000, 100_000} {
		d, notes := aged(b, n), 0
		_, err := d.present(b.Context())
		deskMust(b, err)
		for _, back := range []int{0, 3000} {
			b.Run(fmt.Sprintf("%d/%d days ago", n, back), func(b *testing.B) {
				c, err := d.Home().Context(b.Context(), d.Today(), "Sorrel", unit.Metric)
				deskMust(b, err)
				for b.Loop() {
					notes++
					e := book.Read(busyLines[notes%len(busyLines)], c)[0].Entry
					e.Day -= day.Day(back)
					noteLater(b, d, notes, e)
					_, err = d.present(b.Context())
					deskMust(b, err)
				}
			})
		}
	}
}
