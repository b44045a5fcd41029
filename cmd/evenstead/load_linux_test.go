package main

import (
	"bufio"
	"crypto/rand"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/demo"
)

// A served is evenstead serve as a process of its own.
type served struct {
	t   *testing.T
	cmd *exec.Cmd
	at  string        // its address
	up  time.Duration // from its start until its first page was whole
}

// program is EVENSTEAD_PROGRAM, a released program, or the test binary.
func program(t *testing.T) string {
	t.Helper()
	if name := os.Getenv("EVENSTEAD_PROGRAM"); name != "" {
		return name
	}
	name, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return name
}

// startServe serves the invented stead with its first weeks, with env on top.
func startServe(t *testing.T, members int, env ...string) *served {
	t.Helper()
	q := &serving{at: at{path: filepath.Join(t.TempDir(), steadFile)}}
	if err := q.live(t.Context()); err != nil {
		t.Fatal(err)
	}
	return startAt(t, q.path, members, env...)
}

func startAt(t *testing.T, path string, members int, env ...string) *served {
	t.Helper()
	words := []string{"serve", "--stead", path, "--addr", "127.0.0.1:0", "--today", demo.WeeksEnd().String()}
	words = append(words, "--members", strconv.Itoa(members))
	s := &served{t: t, cmd: exec.Command(program(t), words...)}
	s.cmd.Env = append(os.Environ(), append(env, actName+"="+strings.Join(words, "\n"))...)
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.stop() })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("it says %q: %v", line, err)
	}
	s.at = strings.TrimSuffix(regexp.MustCompile(`http://[0-9.:]+/`).FindString(line), "/")
	s.page("/")
	s.up = time.Since(began)
	return s
}

func (s *served) stop() {
	_ = s.cmd.Process.Signal(syscall.SIGTERM) // gone already is as good
	_ = s.cmd.Wait()
}

func (s *served) page(path string) string {
	s.t.Helper()
	res, err := http.Get(s.at + path)
	if err != nil {
		s.t.Fatal(err)
	}
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode >= 500 && res.StatusCode != http.StatusServiceUnavailable {
		s.t.Fatalf("%s: %d, %v", path, res.StatusCode, err)
	}
	return string(text)
}

// reckoned waits until the outlook of the present state is there.
func (s *served) reckoned() {
	s.t.Helper()
	for end := time.Now().Add(2 * time.Minute); ; time.Sleep(50 * time.Millisecond) {
		res, err := http.Get(s.at + "/api/v1/outlook")
		if err != nil {
			s.t.Fatal(err)
		}
		res.Body.Close()
		if res.StatusCode == http.StatusOK && res.Header.Get("Evenstead-Stale") == "false" {
			return
		}
		if time.Now().After(end) {
			s.t.Fatal("no outlook in two minutes")
		}
	}
}

// memory reads a line of /proc/PID/status in MB: VmRSS now, VmHWM the most so far.
func (s *served) memory(line string) float64 {
	s.t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		s.t.Fatal(err)
	}
	found := regexp.MustCompile(line + `:\s+(\d+) kB`).FindSubmatch(text)
	if found == nil {
		s.t.Fatalf("no %s", line)
	}
	kb, err := strconv.ParseFloat(string(found[1]), 64)
	if err != nil {
		s.t.Fatal(err)
	}
	return kb / 1024
}

// A load is requests at a steady pace, whether or not earlier ones are answered.
type load struct {
	mu     sync.Mutex
	took   []time.Duration
	faults []string
}

// looked are the pages a household looks at, and what programs ask.
var looked = []string{"/", "/stores", "/ground", "/book", "/ahead", "/week", "/", "/stores?from=1", "/api/v1/stores", "/outlook.json", "/", "/api/v1/entries", "/settings", "/sums", "/"}

// press sends so many requests a second for a time; one in fifty writes an entry,
// so that the outlook is reckoned again and again all the while.
func (s *served) press(rate int, lasts time.Duration) *load {
	l := &load{}
	var sent sync.WaitGroup
	client := &http.Client{Timeout: 20 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 100}}
	began := time.Now()
	for i := range int(lasts.Seconds() * float64(rate)) {
		due := began.Add(time.Duration(i) * time.Second / time.Duration(rate))
		time.Sleep(time.Until(due))
		sent.Go(func() {
			err := s.one(client, i)
			l.mu.Lock()
			defer l.mu.Unlock()
			if l.took = append(l.took, time.Since(due)); err != nil {
				l.faults = append(l.faults, err.Error())
			}
		})
	}
	sent.Wait()
	slices.Sort(l.took)
	return l
}

func (s *served) one(client *http.Client, i int) error {
	var res *http.Response
	var err error
	path := looked[i%len(looked)]
	if i%50 == 25 {
		path = "/api/v1/entries"
		id, idErr := book.NewID(time.Now(), rand.Reader)
		if idErr != nil {
			return idErr
		}
		body := fmt.Sprintf(`{"entries": [{"id": %q, "day": %q, "kind": "rain", "amount": 0.1, "measure": "depth"}]}`, id, demo.WeeksEnd())
		res, err = client.Post(s.at+path, "application/json", strings.NewReader(body))
	} else {
		res, err = client.Get(s.at + path)
	}
	if err != nil {
		return err
	}
	defer res.Body.Close()
	if _, err := io.Copy(io.Discard, res.Body); err != nil {
		return err
	}
	if res.StatusCode >= 400 && res.StatusCode != http.StatusServiceUnavailable {
		return fmt.Errorf("%s: %s", path, res.Status)
	}
	return nil
}

func (l *load) within(share float64) time.Duration { return l.took[int(share*float64(len(l.took)-1))] }

// TestLoad: fifty requests a second, one of them a writing, while outlooks are
// reckoned behind the pages. The long form (.ci/nightly) lasts a minute and holds to the
// figures that are asked; the short one only sees what is plainly broken, since other work
// may run on the same cores.
func TestLoad(t *testing.T) {
	lasts, slowest, most, members := 3*time.Second, 2*time.Second, 300.0, 200
	if nightly() {
		lasts, slowest, most, members = time.Minute, 100*time.Millisecond, 150, 1000
	}
	s := startServe(t, members, "GOMEMLIMIT=100MiB")
	l := s.press(50, lasts)
	for try := 0; !nightly() && try < 2 && l.within(0.99) > slowest; try++ { // it may have been the other work
		had := l.faults
		l = s.press(50, lasts)
		l.faults = append(had, l.faults...)
	}
	for _, f := range l.faults[:min(5, len(l.faults))] {
		t.Error(f)
	}
	hwm := s.memory("VmHWM")
	t.Logf("%d requests: half within %v, 99 in 100 within %v, the slowest %v; at most %.0f MB", len(l.took), l.within(0.5), l.within(0.99), l.within(1), hwm)
	if got := l.within(0.99); got > slowest {
		t.Errorf("99 in 100 within %v, want %v", got, slowest)
	}
	if hwm > most {
		t.Errorf("%.0f MB, want at most %.0f", hwm, most)
	}
}

// TestSmallBoard: with a memory limit and as many possible years as suit a board of 64 MB, what serve takes when
// nothing happens and after a forecast, and how soon the first page is there.
func TestSmallBoard(t *testing.T) {
	soon, most, members := 5*time.Second, 160.0, 100
	if nightly() {
		soon, most, members = 300*time.Millisecond, 64, 300
	}
	empty := startAt(t, filepath.Join(t.TempDir(), "new.stead"), members, "GOMEMLIMIT=40MiB")
	idle := empty.memory("VmRSS")
	s := startServe(t, members, "GOMEMLIMIT=40MiB")
	s.reckoned()
	after, top := s.memory("VmRSS"), s.memory("VmHWM")
	t.Logf("first page of a new stead after %v, of the invented one after %v; %.0f MB idle, %.0f MB after a forecast of %d years, at most %.0f MB", empty.up, s.up, idle, after, members, top)
	if up := max(empty.up, s.up); up > soon {
		t.Errorf("the first page after %v, want %v", up, soon)
	}
	if top > most {
		t.Errorf("%.0f MB, want at most %.0f", top, most)
	}
}

// TestSlowAndLarge: a visitor who sends his head or his body drop by drop, or one
// without end, is let go, and others are answered meanwhile.
func TestSlowAndLarge(t *testing.T) {
	s := startAt(t, filepath.Join(t.TempDir(), "new.stead"), 100)
	host := strings.TrimPrefix(s.at, "http://")
	heads := map[string]string{
		"head":           "GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: ",
		"body":           "POST /note HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 1000\r\n\r\ntext=",
		"head of 100 KB": "GET / HTTP/1.1\r\nHost: localhost\r\nX-Large: " + strings.Repeat("x", 100<<10),
	}
	var waits sync.WaitGroup
	for name, head := range heads {
		for range 50 {
			waits.Go(func() { dribble(t, host, name, head) })
		}
	}
	late := 0
	for range 100 {
		began := time.Now()
		s.page("/start")
		if took := time.Since(began); took <= time.Second {
			late = 0
		} else if late++; late == 3 { // one alone may be other work on the same cores
			t.Errorf("three pages in a row take over a second meanwhile, the last %v", took)
		}
		time.Sleep(100 * time.Millisecond)
	}
	waits.Wait()
}

// dribble sends a head and then a byte a second until it is cut off.
func dribble(t *testing.T, host, name, head string) {
	var d net.Dialer
	c, err := d.DialContext(t.Context(), "tcp", host)
	if err != nil {
		t.Error(err)
		return
	}
	defer c.Close()
	began := time.Now()
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_, _ = io.Copy(io.Discard, c) // until it is closed, however
	}()
	if _, err := io.WriteString(c, head); err != nil {
		return
	}
	for {
		select {
		case <-ended:
			return
		case <-time.After(time.Second):
			if _, err := io.WriteString(c, "x"); err != nil {
				return
			}
			if time.Since(began) > 15*time.Second {
				t.Errorf("a slow %s is waited for over 15 seconds", name)
				return
			}
		}
	}
}
