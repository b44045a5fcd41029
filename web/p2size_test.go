package web

import (
	"fmt"
	"os"
	"regexp"
	"testing"
	"time"

	"evenstead/day"
	"evenstead/demo"
)

func TestP2Size(t *testing.T) {
	if os.Getenv("P2SIZE") == "" {
		t.Skip()
	}
	d := NewDesk(homeOf(t, demo.Quernfold()), func() time.Time { return deskNoon }, DeskOptions{Members: 200, Today: day.Of(2027, 2, 10)})
	t.Cleanup(d.Close)
	h := deskSite(t, d)
	settled(t, d)
	for {
		rank, _, err := d.Levers(t.Context())
		must(t, err)
		if rank != nil {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	page := get(t, h, "GET", "/ahead?bed=10").Body.String()
	time.Sleep(2 * time.Second)
	page = get(t, h, "GET", "/ahead?bed=10").Body.String()
	os.WriteFile("/tmp/p2/page.html", []byte(page), 0o644)
	fmt.Println(len(page))
	at := regexp.MustCompile(`<section aria-labelledby="([a-z-]+)"`).FindAllStringSubmatchIndex(page, -1)
	last := 0
	name := "head"
	for _, m := range at {
		fmt.Println(name, m[0]-last)
		name, last = page[m[2]:m[3]], m[0]
	}
	fmt.Println(name, len(page)-last)
}
