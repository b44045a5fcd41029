package main

import (
	"context"
	"crypto/rand"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"net"
	"os"
	"runtime"
	"strings"
	"sync"
	"time"

	"evenstead/hearth"
	"evenstead/sense"
	"evenstead/store"
	"evenstead/unit"
	"evenstead/wire"
)

var senseCommand = command{"sense", "TOPIC PAYLOAD [flags]", "tells what a sensor's message would be read as, before it is wired (docs/sensors.md)", trySense}

// trySense reads one message as serve would, and writes nothing.
func trySense(ctx context.Context, a *args) error {
	var q at
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	words, err := a.parse()
	if err != nil {
		return err
	}
	today, err := q.day()
	if err != nil {
		return err
	}
	if len(words) != 2 {
		return given(errors.New(`sense wants a topic and a payload, such as evenstead sense evenstead/barn/level "812 L"`))
	}
	r, err := sense.Parse(words[0], []byte(words[1]))
	if err != nil {
		return given(err)
	}
	return q.with(ctx, func(h *hearth.Home) error {
		c, err := h.Context(ctx, today, "", unit.Metric)
		if err != nil {
			return err
		}
		var none sense.Panel
		v := none.Take(r, c, today.Time())
		if !v.Used {
			return given(fmt.Errorf("%s %s %s", v.Store, r.Measure, v.Why))
		}
		p := &printer{w: a.out}
		p.line("%s of %s: %s", r.Measure, v.Store, plain(unit.Format(r.Value, r.Kind, unit.Metric)))
		return p.err
	})
}

// sensors are serve's flags for readings.
type sensors struct {
	mqtt, password string
	broker, token  string
	alarm          string
	alarmArgs      repeated
}

// repeated is a flag that may be given again and again.
type repeated []string

func (l *repeated) String() string { return strings.Join(*l, " ") }

func (l *repeated) Set(s string) error {
	*l = append(*l, s)
	return nil
}

func (q *sensors) flagsInto(f *flag.FlagSet) {
	f.StringVar(&q.mqtt, "mqtt", "", "`address` of a broker to take readings from, such as mqtt://user@192.168.1.5:1883")
	f.StringVar(&q.password, "mqtt-password", "", "`file` with the password for that broker")
	f.StringVar(&q.broker, "broker", "", "`address` to be a broker at for sensors, such as 192.168.1.4:1883; needs --sensor-token")
	f.StringVar(&q.token, "sensor-token", "", "`file` with the word sensors show to send readings; made when there is none")
	f.StringVar(&q.alarm, "alarm", "", "`program` to run when a freezer is warm, with a sentence as its last argument")
	f.Var(&q.alarmArgs, "alarm-arg", "`word` given to that program before the sentence; may be given again")
}

// asked reports whether readings are wanted at all.
func (q *sensors) asked() bool { return q.mqtt != "" || q.token != "" }

func (q *sensors) check() error {
	switch {
	case q.broker != "" && q.token == "":
		return errors.New("--broker needs --sensor-token FILE: whoever reaches it could write in the book")
	case q.password != "" && q.mqtt == "":
		return errors.New("--mqtt-password needs --mqtt")
	case q.alarm != "" && !q.asked():
		return errors.New("--alarm needs readings: give --mqtt or --sensor-token")
	case len(q.alarmArgs) > 0 && q.alarm == "":
		return errors.New("--alarm-arg needs --alarm")
	}
	if _, _, err := net.SplitHostPort(q.broker); q.broker != "" && err != nil {
		return fmt.Errorf("--broker %q: write host:port, such as 192.168.1.4:1883", q.broker)
	}
	return nil
}

// open begins to take readings; nil when none are wanted. stop ends it and waits
// until what it knows is kept.
func (q *sensors) open(ctx context.Context, a *args, h *hearth.Home) (hub *wire.Hub, stop func(), err error) {
	if !q.asked() {
		return nil, func() {}, nil
	}
	o := wire.Options{State: h.Store().Path() + ".sensors", Log: logTo(a.out)}
	password, err := secret(q.password, false)
	if err != nil {
		return nil, nil, err
	}
	if o.Token, err = secret(q.token, true); err != nil {
		return nil, nil, err
	}
	if q.alarm != "" {
		if o.Bell, err = wire.NewBell(append([]string{q.alarm}, q.alarmArgs...), time.Now, o.Log); err != nil {
			return nil, nil, given(fmt.Errorf("--alarm: %w", err))
		}
	}
	if hub, err = wire.NewHub(h, time.Now, o); err != nil {
		return nil, nil, err
	}
	ctx, cancel := context.WithCancel(ctx)
	if err := q.listen(ctx, hub, password, o.Log); err != nil {
		cancel()
		return nil, nil, given(err)
	}
	var work sync.WaitGroup
	work.Go(func() { hub.Run(ctx, time.Minute) })
	return hub, func() {
		cancel()
		work.Wait()
		if o.Bell != nil {
			o.Bell.Close()
		}
	}, nil
}

func (q *sensors) listen(ctx context.Context, hub *wire.Hub, password string, log func(string)) error {
	if q.mqtt != "" {
		if err := hub.Listen(ctx, q.mqtt, password); err != nil {
			return fmt.Errorf("--mqtt: %w", err)
		}
	}
	if q.broker == "" {
		return nil
	}
	addr, err := hub.Broker(ctx, q.broker)
	if err == nil {
		log("sensors may speak MQTT to " + addr)
	}
	return err
}

// logTo writes lines with the time before them.
func logTo(w io.Writer) func(string) {
	var mu sync.Mutex
	return func(s string) {
		mu.Lock()
		defer mu.Unlock()
		fmt.Fprintf(w, "%s %s\n", time.Now().Format("2006-01-02 15:04"), plain(s))
	}
}

// secret reads a word from a file that only its owner may read; made makes one of
// 128 random bits when there is no file. No name gives no word.
func secret(name string, made bool) (string, error) {
	if name == "" {
		return "", nil
	}
	info, err := os.Stat(name)
	if errors.Is(err, fs.ErrNotExist) && made {
		word := rand.Text()
		return word, blame(store.WriteNew(name, func(w io.Writer) error {
			_, err := io.WriteString(w, word+"\n")
			return err
		}))
	}
	if err != nil {
		return "", given(err)
	}
	if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		return "", given(fmt.Errorf("%s can be read by others: chmod 600 %s", name, name))
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return "", given(err)
	}
	word := strings.TrimSpace(string(text))
	if len(word) < 8 || len(word) > 200 {
		return "", given(fmt.Errorf("%s holds %d letters: 8 to 200 make a word that is not guessed", name, len(word)))
	}
	return word, nil
}
