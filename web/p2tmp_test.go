package web

import (
	"fmt"
	"net/http/httptest"
	"os"
	"testing"
	"time"

	"evenstead/day"
	"evenstead/demo"
)

func TestP2Tmp(t *testing.T) {
	if os.Getenv("P2SHOTS") == "" {
		t.Skip()
	}
	d := NewDesk(homeOf(t, demo.Quernfold()), func() time.Time { return deskNoon }, DeskOptions{Members: 200, Today: day.Of(2027, 2, 10)})
	t.Cleanup(d.Close)
	write(t, d, "dipped cistern at 12,000 L on 2026-12-10\ndipped cistern at 15,000 L on 2027-01-05\ndipped cistern at 22,000 L on 2027-01-30\ndipped tote 1 at 700 L on 2026-12-20\ncounted potatoes 11 kg on 2027-01-20\ncounted walnuts 38 kg on 2027-02-01\nrain 14 mm on 2027-02-08")
	h := deskSite(t, d)
	settled(t, d)
	t0 := time.Now()
	w := get(t, h, "GET", "/ahead")
	fmt.Println("first", time.Since(t0), w.Code, w.Body.Len())
	for {
		rank, p, err := d.Levers(t.Context())
		must(t, err)
		if p.Err != nil {
			t.Fatal(p.Err)
		}
		if rank != nil {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	fmt.Println("levers", time.Since(t0))
	q := "/ahead?tank=cabin&litres=3&use=shower&rain=80"
	get(t, h, "GET", q)
	time.Sleep(2 * time.Second)
	t0 = time.Now()
	w = get(t, h, "GET", q)
	fmt.Println("tried", time.Since(t0), w.Code, w.Body.Len())
	ctx := browser(t)
	srv := httptest.NewServer(h)
	defer srv.Close()
	for _, th := range []string{"light", "dark"} {
		for _, width := range []int64{390, 1280} {
			tab := open(t, ctx, srv.URL+q, width, th)
			quiet(t, tab, "")
			noSideways(t, tab)
			drawn(t, tab)
			targets(t, tab)
			shoot(t, tab, fmt.Sprintf("ahead-desk-%d-%s", width, th))
			axe(t, tab)
		}
	}
}
