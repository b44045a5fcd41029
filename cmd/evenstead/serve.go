package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"evenstead/book"
	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/web"
)

var serveCommand = command{"serve", "[flags]", "serves the household's pages to a browser on this machine, with --lan to paired phones of the house too", servePages}

// serving is what serve is asked.
type serving struct {
	at
	addr    string
	lan     bool
	lanAddr string
	us      bool
	members int
	sensors sensors
}

// lanPort is where phones look for the pages unless they are told otherwise.
const lanPort = ":8043"

func servePages(ctx context.Context, a *args) error {
	q := new(serving)
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.addr, "addr", "127.0.0.1:8040", "`address` to serve at, of this machine alone")
	a.flags.BoolVar(&q.lan, "lan", false, "serve paired phones on the house's network too, over HTTPS")
	lanAddrFlag(a.flags, &q.lanAddr)
	a.flags.BoolVar(&q.us, "us", false, "show US units until the settings say otherwise")
	a.flags.IntVar(&q.members, "members", 1000, "possible years to run for an outlook")
	q.sensors.flagsInto(a.flags)
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 0 {
		return given(fmt.Errorf("serve takes no words; for another file: evenstead serve --stead %s", words[0]))
	}
	if err := q.check(); err != nil {
		return given(err)
	}
	return q.serve(ctx, a)
}

func (q *serving) check() error {
	if q.members < 1 || q.members > 20000 {
		return fmt.Errorf("--members %d: give 1 to 20,000", q.members)
	}
	if _, _, err := net.SplitHostPort(q.lanAddr); q.lan && err != nil {
		return fmt.Errorf("--lan-addr %q: write host:port or :port, such as %s", q.lanAddr, lanPort)
	}
	return errors.Join(onlyHere(q.addr), q.sensors.check())
}

// onlyHere refuses an address that others could reach: the pages ask nobody who
// they are, so whoever reaches them may read the stead and write in its book.
func onlyHere(addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return fmt.Errorf("--addr %q: write host:port, such as 127.0.0.1:8040", addr)
	}
	if ip := net.ParseIP(host); host == "" || host == "localhost" || ip != nil && ip.IsLoopback() {
		return nil
	}
	return fmt.Errorf("--addr %s: others could reach that, and the pages do not ask who reads or writes; give an address of this machine alone, such as 127.0.0.1:8040; for the phones of the house there is --lan", addr)
}

// roomy lets more run at once than there are processors, unless the environment says
// how much: a page then shares a processor with the forecast behind it, and does not
// wait until that gives way. undo sets it back.
func roomy() (undo func()) {
	if os.Getenv("GOMAXPROCS") != "" {
		return func() {}
	}
	was := runtime.GOMAXPROCS(runtime.NumCPU() + 2)
	return func() { runtime.GOMAXPROCS(was) }
}

// serve opens the file, which is made when there is none, and serves it until
// interrupted. A file with nothing in it leads to the guided start.
func (q *serving) serve(ctx context.Context, a *args) error {
	defer roomy()()
	today, err := dayNamed("today", q.today, 0)
	if err != nil {
		return err
	}
	h, err := q.make(ctx)
	if err != nil {
		return err
	}
	d := web.NewDesk(h, time.Now, web.DeskOptions{Today: today, Units: system(q.us), Members: q.members})
	err = q.answer(ctx, a, h, d)
	d.Close()
	return errors.Join(err, h.Close())
}

func (q *serving) answer(ctx context.Context, a *args, h *hearth.Home, d *web.Desk) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	opt := web.Options{Demo: demo.Quernfold(), Zone: zoneName()}
	hub, still, err := q.sensors.open(ctx, a, h)
	if err != nil {
		return err
	}
	defer still()
	if hub != nil {
		opt.Gauges = hub
	}
	var phones <-chan error // never ready without --lan
	if q.lan {
		if opt.House, err = openHouse(h.Store().Path()); err != nil {
			return err
		}
		door, err := web.NewDoor(d, opt.House, opt)
		if err != nil {
			return err
		}
		if phones, err = web.ServeHouse(ctx, q.lanAddr, opt.House, door); err != nil {
			return fmt.Errorf("serve the house's phones at %s: %w", q.lanAddr, err)
		}
	}
	pages, err := web.NewAt(d, opt)
	if err != nil {
		return err
	}
	at, end, err := web.Serve(ctx, q.addr, pages)
	if err != nil {
		return err
	}
	fmt.Fprintf(a.out, "%s is served at %s (stop with Ctrl-C).\n", h.Store().Path(), at)
	if q.lan {
		if err := tellPhones(a.out, opt.House, at); err != nil {
			return err
		}
	}
	return firstEnd(end, phones, stop)
}

// firstEnd waits until one of two servers ends, ends the other, and returns why.
func firstEnd(pages, phones <-chan error, stop func()) error {
	var err error
	select {
	case err = <-pages:
		if stop(); phones != nil {
			err = errors.Join(err, <-phones)
		}
	case err = <-phones:
		stop()
		err = errors.Join(err, <-pages)
	}
	if err != nil && !errors.Is(err, context.Canceled) {
		return err
	}
	return nil
}

// serveDemo serves the invented stead with the first weeks of its book, in a file
// that is gone when it stops.
func serveDemo(ctx context.Context, a *args, q *serving) error {
	dir, err := os.MkdirTemp("", "evenstead-demo-")
	if err != nil {
		return fmt.Errorf("make a folder for the demo: %w", err)
	}
	q.path, q.today = filepath.Join(dir, "quernfold.stead"), demo.WeeksEnd().String()
	fmt.Fprintf(a.out, "\nThe pages show the stead after its first weeks, on %s. What is written in them is gone when they stop.\n", plain(demo.WeeksEnd().Long()))
	err = q.live(ctx)
	if err == nil {
		err = q.serve(ctx, a)
	}
	return errors.Join(err, os.RemoveAll(dir))
}

// live puts the invented stead and its notes into the file.
func (q *serving) live(ctx context.Context) error {
	return q.withNew(ctx, func(h *hearth.Home) error {
		st, err := stead.Read("quernfold.toml", demo.Quernfold())
		if err != nil {
			return err
		}
		if err := h.Describe(ctx, st.Stay.From, "quernfold.toml", demo.Quernfold()); err != nil {
			return err
		}
		c, err := h.Context(ctx, demo.WeeksEnd(), "", unit.Metric)
		if err != nil {
			return err
		}
		_, err = h.Add(ctx, book.Read(demo.Weeks(), c))
		return err
	})
}

// zoneName is the IANA name of this machine's time zone; "" where it has none that
// can be read.
func zoneName() string {
	if tz := strings.TrimPrefix(os.Getenv("TZ"), ":"); strings.Contains(tz, "/") && !filepath.IsAbs(tz) {
		return tz
	}
	link, err := os.Readlink("/etc/localtime")
	if err != nil {
		return ""
	}
	_, name, _ := strings.Cut(link, "zoneinfo/")
	return name
}
