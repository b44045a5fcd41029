package wire

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The test binary is the alarm's command when asked to by this name.
const bellName = "EVENSTEAD_TEST_BELL" // the file it writes its arguments to; "sleep", "fail", "both"

func TestMain(m *testing.M) {
	switch name := os.Getenv(bellName); name {
	case "":
		os.Exit(m.Run())
	case "sleep":
		time.Sleep(time.Minute)
	case "fail":
		os.Stderr.WriteString(strings.Repeat("no such line ", 1000))
		os.Exit(3)
	case "both":
		go func() {
			for {
				os.Stdout.WriteString("one thing ")
			}
		}()
		for range 20_000 {
			os.Stderr.WriteString("another ")
		}
		os.Exit(4)
	default:
		f, err := os.OpenFile(name, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
		if err == nil {
			f.WriteString(strings.Join(os.Args[1:], "|") + "\n")
			f.Close()
		}
	}
}

func bell(t *testing.T, does string, args ...string) (*Bell, *watch) {
	t.Helper()
	t.Setenv(bellName, does)
	self, err := os.Executable()
	must(t, err)
	w := &watch{at: noon}
	b, err := NewBell(append([]string{self}, args...), w.now, w.log)
	must(t, err)
	t.Cleanup(b.Close)
	return b, w
}

// until waits for something that another process does.
func until(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for end := time.Now().Add(time.Minute); !holds(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("not within a minute: %s", what)
		}
	}
}

// lines are those of a file that are written to their ends; none while there is no file.
func lines(name string) []string {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil
	}
	all := strings.Split(string(text), "\n")
	return all[:len(all)-1]
}

// TestTheAlarmsCommandIsRunAsItStands: no shell reads the sentence or the words.
func TestTheAlarmsCommandIsRunAsItStands(t *testing.T) {
	out := filepath.Join(t.TempDir(), "rang")
	b, _ := bell(t, out, "--to", "$HOME", "a b")
	const say = "Freezer $(touch /tmp/x); `id` & it's \"warm\" > out *"
	b.Ring(say)
	until(t, "the command ran", func() bool { return len(lines(out)) == 1 })
	if got := lines(out)[0]; got != "--to|$HOME|a b|"+say {
		t.Errorf("was given %s", got)
	}
}

func TestTheAlarmsCommandIsRateLimited(t *testing.T) {
	out := filepath.Join(t.TempDir(), "rang")
	b, w := bell(t, out)
	for i := range mostRings {
		b.Ring("warm")
		until(t, "a ring", func() bool { return len(lines(out)) == i+1 })
	}
	b.Ring("warm")
	b.Ring("warm")
	w.pass(time.Hour)
	b.Ring("an hour later")
	until(t, "the next hour's ring", func() bool { l := lines(out); return l[len(l)-1] == "an hour later" })
	if n := len(lines(out)); n != mostRings+1 || strings.Count(w.logged(), "is not run again") != 2 {
		t.Errorf("ran %d times, logged %s", n, w.logged())
	}
}

func TestAFailingCommandIsTold(t *testing.T) {
	b, w := bell(t, "fail")
	b.Ring("warm")
	until(t, "the fault is told", func() bool { return strings.Contains(w.logged(), "exit status 3: no such line") })
	if len(w.logged()) > 2*mostSaid {
		t.Errorf("%d bytes logged", len(w.logged()))
	}
}

// TestACommandMaySayThingsOnBoth: what comes on the two at once is kept without a race,
// and no more of it than is told.
func TestACommandMaySayThingsOnBoth(t *testing.T) {
	b, w := bell(t, "both")
	b.Ring("warm")
	until(t, "the fault is told", func() bool { return strings.Contains(w.logged(), "exit status 4: ") })
	if n := len(w.logged()); n > 2*mostSaid {
		t.Errorf("%d bytes logged", n)
	}
}

// TestACommandThatHangsHoldsNothingUp: it is killed when the bell is closed, and
// ringing never waits for it.
func TestACommandThatHangsHoldsNothingUp(t *testing.T) {
	b, _ := bell(t, "sleep")
	began := time.Now()
	for range 10 {
		b.Ring("warm")
	}
	time.Sleep(50 * time.Millisecond)
	b.Close()
	if took := time.Since(began); took > 20*time.Second { // the command sleeps a minute
		t.Errorf("took %s", took)
	}
}

func TestNoCommandNoBell(t *testing.T) {
	for _, argv := range [][]string{nil, {""}, {"/no/such/program"}} {
		if _, err := NewBell(argv, time.Now, func(string) {}); err == nil {
			t.Errorf("a bell of %q", argv)
		}
	}
}

// TestAWarmFreezerRings goes all the way from a reading to the command.
func TestAWarmFreezerRings(t *testing.T) {
	out := filepath.Join(t.TempDir(), "rang")
	b, _ := bell(t, out)
	hub, _, w := house(t, Options{Bell: b})
	for i := range 9 {
		say(t, hub, "chest/temperature", []string{"-18", "-11.9", "-11.5", "-11.1", "-10.5", "-10", "-9.8", "-9.5", "-9"}[i])
		w.pass(10 * time.Minute)
		hub.Tick(t.Context())
	}
	until(t, "the alarm", func() bool { return len(lines(out)) == 1 })
	if got := lines(out)[0]; !strings.HasPrefix(got, "Freezer chest is at") {
		t.Errorf("rang %s", got)
	}
	if s := hub.Standing(); s[0].Alarm == "" || !strings.Contains(w.logged(), "Freezer chest") {
		t.Errorf("%+v, logged %s", s, w.logged())
	}
}
