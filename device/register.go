package device

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"
)

// A Device has been paired.
type Device struct {
	ID     string    `json:"id"`   // short, for lists and for revoking
	Name   string    `json:"name"` // as its owner calls it
	Role   Role      `json:"role"`
	Token  sum       `json:"token"`
	Paired time.Time `json:"paired"`
	Seen   time.Time `json:"seen"` // to the hour
	From   string    `json:"from"` // address it was last seen at
}

// over reports whether a device has been away for too long. A clock that was put
// back ends nothing.
func (d *Device) over(now time.Time) bool {
	since := d.Seen
	if d.Role == Visitor {
		since = d.Paired
	}
	return now.Sub(since) > d.Role.Idle()
}

// An offer is a code that waits to be used.
type offer struct {
	Code  sum       `json:"code"`
	Role  Role      `json:"role"`
	Until time.Time `json:"until"`
}

// open reports whether a code may still be used; a clock put back far closes it.
func (o *offer) open(now time.Time) bool {
	return now.Before(o.Until) && o.Until.Sub(now) <= CodeLife
}

// kept is the file: what is known of devices and codes.
type kept struct {
	Form    int      `json:"form"`
	Devices []Device `json:"devices"`
	Offers  []offer  `json:"offers"`
	Wrong   int      `json:"wrong"` // tries since a code was last made
}

// form of the file that is written here.
const form = 1

// What pairing and asking may answer.
var (
	ErrCode    = errors.New("the code is wrong, used or too old")
	ErrUnknown = errors.New("the device is not paired, or no longer")
)

// mostDevices bounds the list.
const mostDevices = 500

// A Register is the list of paired devices, kept in a file that other processes
// may write too. Its methods may be called at the same time.
type Register struct {
	path  string
	clock func() time.Time

	mu   sync.Mutex
	info fs.FileInfo // of the file as it was read
	now  kept
}

// OpenRegister opens the list in a folder; one that is not there is empty.
func OpenRegister(dir string, clock func() time.Time) (*Register, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("make the folder of the devices: %w", err)
	}
	r := &Register{path: filepath.Join(dir, registerFile), clock: clock}
	r.mu.Lock()
	defer r.mu.Unlock()
	return r, r.read()
}

// read brings the list up to the file, when it has changed. r.mu is held.
func (r *Register) read() error {
	info, err := os.Stat(r.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		r.info, r.now = nil, kept{}
		return nil
	case err != nil:
		return fmt.Errorf("the list of devices: %w", err)
	case r.info != nil && os.SameFile(info, r.info) && info.ModTime().Equal(r.info.ModTime()) && info.Size() == r.info.Size():
		return nil
	}
	b, err := os.ReadFile(r.path)
	if err != nil {
		return fmt.Errorf("the list of devices: %w", err)
	}
	next, err := parse(b)
	if err != nil {
		return fmt.Errorf("the list of devices in %s is damaged: %w; delete it and pair every device anew", r.path, err)
	}
	r.info, r.now = info, next
	return nil
}

// parse reads the file's text.
func parse(b []byte) (k kept, err error) {
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&k); err != nil {
		return kept{}, err
	}
	if k.Form != form {
		return kept{}, fmt.Errorf("it is of form %d, this evenstead knows %d", k.Form, form)
	}
	return k, nil
}

// change does something to the list as it stands in the file, and keeps it.
func (r *Register) change(do func(k *kept, now time.Time) error) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	free, err := lock(r.path + ".lock")
	if err != nil {
		return err
	}
	defer free()
	r.info = nil
	if err := r.read(); err != nil {
		return err
	}
	next, now := r.now.clone(), r.clock()
	result := do(&next, now)
	next.drop(now)
	next.Form = form
	b, err := json.MarshalIndent(next, "", "\t")
	if err != nil {
		return errors.Join(result, err)
	}
	if err := replace(r.path, append(b, '\n')); err != nil {
		return errors.Join(result, fmt.Errorf("keep the list of devices: %w", err))
	}
	r.info, r.now = nil, next
	return result
}

func (k kept) clone() kept {
	k.Devices, k.Offers = slices.Clone(k.Devices), slices.Clone(k.Offers)
	return k
}

// drop takes out what is over.
func (k *kept) drop(now time.Time) {
	k.Devices = slices.DeleteFunc(k.Devices, func(d Device) bool { return d.over(now) })
	k.Offers = slices.DeleteFunc(k.Offers, func(o offer) bool { return !o.open(now) })
}

// Offer makes a code with which one device can be paired, once, within CodeLife.
func (r *Register) Offer(role Role) (code string, until time.Time, err error) {
	if !slices.Contains(Roles(), role) {
		return "", until, fmt.Errorf("no device can be paired as %s", role)
	}
	if code, err = newCode(); err != nil {
		return "", until, err
	}
	err = r.change(func(k *kept, now time.Time) error {
		until = now.Add(CodeLife)
		k.Wrong = 0
		k.Offers = append(k.Offers, offer{sumOf(tidyCode(code)), role, until})
		if over := len(k.Offers) - mostCodes; over > 0 {
			k.Offers = k.Offers[over:]
		}
		return nil
	})
	return code, until, err
}

// Waiting counts the codes that may still be used.
func (r *Register) Waiting() (int, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if err := r.read(); err != nil {
		return 0, err
	}
	n, now := 0, r.clock()
	for i := range r.now.Offers {
		if r.now.Offers[i].open(now) {
			n++
		}
	}
	return n, nil
}

// Pair takes a code and returns the token of a new device, which is never told
// again. ErrCode when the code is not one of those that wait; the tenth wrong
// one withdraws them all.
func (r *Register) Pair(code, name, from string) (token string, d Device, err error) {
	if n, err := r.Waiting(); err != nil || n == 0 {
		return "", d, errors.Join(err, ErrCode) // nothing is open: nothing is written either
	}
	if token, err = newToken(); err != nil {
		return "", d, err
	}
	want := sumOf(tidyCode(code))
	err = r.change(func(k *kept, now time.Time) error {
		k.drop(now)
		found := -1
		for i := range k.Offers {
			if k.Offers[i].Code.is(want) {
				found = i
			}
		}
		if found < 0 {
			if k.Wrong++; k.Wrong >= mostWrong {
				k.Offers = nil
			}
			return ErrCode
		}
		if len(k.Devices) >= mostDevices {
			return fmt.Errorf("%d devices are paired already: revoke some", len(k.Devices))
		}
		role := k.Offers[found].Role
		k.Offers = slices.Delete(k.Offers, found, found+1)
		d = Device{ID: k.newID(), Name: tidyName(name), Role: role, Token: sumOf(token), Paired: now, Seen: now, From: from}
		k.Devices = append(k.Devices, d)
		return nil
	})
	if err != nil {
		return "", Device{}, err
	}
	return token, d, nil
}

// newID makes a short name that no other device has.
func (k *kept) newID() string {
	for {
		id := strings.ToLower(rand.Text()[:6])
		if !slices.ContainsFunc(k.Devices, func(d Device) bool { return d.ID == id }) {
			return id
		}
	}
}

// longestName is the most letters of a device's name.
const longestName = 40

// tidyName is a name fit to be shown.
func tidyName(name string) string {
	name = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(name, "?"))
	name = strings.Join(strings.Fields(name), " ")
	if runes := []rune(name); len(runes) > longestName {
		name = string(runes[:longestName])
	}
	if name == "" {
		return "phone"
	}
	return name
}

// seenEvery is how exactly it is kept when a device was last seen.
const seenEvery = time.Hour

// Known returns the device of a token: ErrUnknown when there is none. When it was
// seen is kept to the hour.
func (r *Register) Known(token, from string) (Device, error) {
	r.mu.Lock()
	err := r.read()
	d, at := r.now.by(token)
	now := r.clock()
	r.mu.Unlock()
	switch {
	case err != nil:
		return Device{}, err
	case at < 0 || d.over(now):
		return Device{}, ErrUnknown
	}
	if gap := now.Sub(d.Seen); gap >= seenEvery || gap <= -seenEvery || d.From != from && gap > time.Minute {
		// A full disk keeps nobody out: only the time of the visit is lost.
		_ = r.change(func(k *kept, now time.Time) error {
			if _, at := k.by(token); at >= 0 {
				k.Devices[at].Seen, k.Devices[at].From = now, from
			}
			return nil
		})
	}
	return d, nil
}

// by finds the device of a token, looking at every one; -1 when there is none.
func (k *kept) by(token string) (d Device, at int) {
	at = -1
	want := sumOf(token)
	for i := range k.Devices {
		if k.Devices[i].Token.is(want) {
			d, at = k.Devices[i], i
		}
	}
	return d, at
}

// Devices lists the paired devices in order of pairing.
func (r *Register) Devices() ([]Device, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if err := r.read(); err != nil {
		return nil, err
	}
	k := r.now.clone()
	k.drop(r.clock())
	return k.Devices, nil
}

// Revoke takes a device off the list: its next request is that of a stranger.
// fs.ErrNotExist when no device has the id.
func (r *Register) Revoke(id string) (d Device, err error) {
	err = r.change(func(k *kept, _ time.Time) error {
		at := slices.IndexFunc(k.Devices, func(d Device) bool { return d.ID == id })
		if at < 0 {
			return fmt.Errorf("no device has the id %q: %w", id, fs.ErrNotExist)
		}
		d = k.Devices[at]
		k.Devices = slices.Delete(k.Devices, at, at+1)
		return nil
	})
	return d, err
}

// stale is the age of a lock that a process left behind when it was killed.
const stale = 10 * time.Second

// lock keeps other processes from the list until free is called.
func lock(path string) (free func(), err error) {
	for end := time.Now().Add(stale + 2*time.Second); ; time.Sleep(5 * time.Millisecond) {
		f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		if err == nil {
			return func() { _ = os.Remove(path) }, f.Close()
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, fmt.Errorf("lock the list of devices: %w", err)
		}
		if info, err := os.Stat(path); err == nil && time.Since(info.ModTime()) > stale {
			_ = os.Remove(path)
		}
		if time.Now().After(end) {
			return nil, fmt.Errorf("another evenstead holds the list of devices (%s): wait, or delete that file", path)
		}
	}
}
