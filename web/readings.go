package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"evenstead/sense"
	"evenstead/unit"
)

// Gauges takes what sensors say and tells how they stand. It must be safe to call
// from several at once.
type Gauges interface {
	Allowed(token string) bool
	Take(ctx context.Context, r sense.Reading) sense.Verdict
	Standing() []sense.Standing
}

// mostReadings is the most that one request may bring.
const mostReadings = 100

// An apiReadings is what sensors say.
type apiReadings struct {
	Readings []apiReading `json:"readings"`
}

// An apiReading is one thing a sensor says.
type apiReading struct {
	Store   string   `json:"store"`   // as the description names it
	Measure string   `json:"measure"` // level, temperature, rain or weight
	Value   *float64 `json:"value"`
	Unit    string   `json:"unit"` // absent: L, °C, mm or kg
	At      string   `json:"at"`   // RFC 3339; absent: now
}

// An apiTaken says what became of each reading, in order.
type apiTaken struct {
	Readings []apiVerdict `json:"readings"`
}

// An apiVerdict is whether a reading is used.
type apiVerdict struct {
	Store string `json:"store"`
	Used  bool   `json:"used"`
	Why   string `json:"why"` // it is not; empty when it is
}

// An apiSensors is how the sensors stand.
type apiSensors struct {
	Sensors []apiSensor `json:"sensors"`
}

// An apiSensor is one sensor.
type apiSensor struct {
	Store   string   `json:"store"`
	Measure string   `json:"measure"`
	Value   *float64 `json:"value"` // the last believed; null before the first
	Unit    string   `json:"unit"`  // of it; empty for a share of 1
	At      string   `json:"at"`    // of it, RFC 3339
	Trouble string   `json:"trouble"`
	Why     string   `json:"why"`   // of the trouble
	Alarm   string   `json:"alarm"` // a freezer's
}

var errNoSensors = errors.New("no sensors are listened to: begin with evenstead serve --sensor-token FILE")

// apiPostReadings takes readings from senders that show the token.
func (s *site) apiPostReadings(w http.ResponseWriter, r *http.Request) {
	if s.opt.Gauges == nil {
		apiFail(w, http.StatusNotFound, errNoSensors)
		return
	}
	token, bearer := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	if !bearer || !s.opt.Gauges.Allowed(token) {
		w.Header().Set("WWW-Authenticate", "Bearer")
		apiFail(w, http.StatusUnauthorized, errors.New("send Authorization: Bearer and the sensors' token"))
		return
	}
	var in apiReadings
	if !apiRead(w, r, &in) {
		return
	}
	if n := len(in.Readings); n == 0 || n > mostReadings {
		apiFail(w, http.StatusUnprocessableEntity, fmt.Errorf("%d readings: send 1 to %d", n, mostReadings))
		return
	}
	out := apiTaken{Readings: []apiVerdict{}}
	for _, one := range in.Readings {
		read, err := one.reading()
		if err != nil {
			out.Readings = append(out.Readings, apiVerdict{one.Store, false, err.Error()})
			continue
		}
		// What was sent is taken in, though who sent it has gone away.
		v := s.opt.Gauges.Take(context.WithoutCancel(r.Context()), read)
		out.Readings = append(out.Readings, apiVerdict{v.Store, v.Used, v.Why})
	}
	sendJSON(w, http.StatusOK, out)
}

func (a apiReading) reading() (sense.Reading, error) {
	if a.Value == nil {
		return sense.Reading{}, errors.New(`the reading has no "value"`)
	}
	var at time.Time
	if a.At != "" {
		var err error
		if at, err = time.Parse(time.RFC3339, a.At); err != nil {
			return sense.Reading{}, fmt.Errorf("at %.40q: write 2026-11-25T07:30:00Z, or leave it out", a.At)
		}
	}
	return sense.New(a.Store, sense.Measure(a.Measure), *a.Value, a.Unit, at)
}

func (s *site) apiGetReadings(w http.ResponseWriter, _ *http.Request) {
	if s.opt.Gauges == nil {
		apiFail(w, http.StatusNotFound, errNoSensors)
		return
	}
	out := apiSensors{Sensors: []apiSensor{}}
	for _, g := range s.opt.Gauges.Standing() {
		one := apiSensor{Store: g.Store, Measure: string(g.Measure), Unit: unit.Symbol(g.Kind), Trouble: string(g.Trouble), Why: g.Why, Alarm: g.Alarm}
		if !g.At.IsZero() {
			one.Value, one.At = &g.Value, g.At.Format(time.RFC3339)
		}
		out.Sensors = append(out.Sensors, one)
	}
	sendJSON(w, http.StatusOK, out)
}

// alarms are what sensors ring for; troubles are sensors that can't be believed.
func (n *present) alarms() (out []string) {
	for _, g := range n.gauges() {
		if g.Alarm != "" {
			out = append(out, g.Alarm)
		}
	}
	return out
}

func (n *present) troubles() (out []sinceLine) {
	for _, g := range n.gauges() {
		if g.Trouble == sense.Sound {
			continue
		}
		line := sinceLine{Lead: n.words.say("since.sensor", g.Store, n.words.say("measure."+string(g.Measure))), Quote: g.Why + "."}
		if !g.At.IsZero() {
			line.Why = escaped(n.words.say("since.believed", n.words.marked(unit.Format(g.Value, g.Kind, n.snap.Units)), g.At.Format("2006-01-02 15:04")))
		}
		out = append(out, line)
	}
	return out
}

func (n *present) gauges() []sense.Standing {
	if n.opt.Gauges == nil {
		return nil
	}
	return n.opt.Gauges.Standing()
}
