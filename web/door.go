package web

import (
	"context"
	"errors"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenstead/device"
)

// cookieName is bound to its host by its prefix (RFC 6265bis, section 4.1.3.2):
// only over TLS, for no other name, for all paths.
const cookieName = "__Host-evenstead"

// A door asks who comes from the house's network and hands him the pages of his
// role.
type door struct {
	house *House
	by    map[device.Role]http.Handler
}

// NewDoor returns the handler of all pages for the phones of a house: NewAt's, by
// what each device may do.
func NewDoor(d *Desk, house *House, opt Options) (http.Handler, error) {
	if opt.Rain == nil {
		opt.Rain = d.rain
	}
	opt.House = house
	in := &door{house, map[device.Role]http.Handler{}}
	shared := newDrafts()
	for _, role := range append(device.Roles(), device.Nobody) {
		opt.role = role
		pages, err := newWanted(d, shared, opt)
		if err != nil {
			return nil, err
		}
		in.by[role] = pages
	}
	return secure(in, policy(true)), nil
}

// deviceKey finds the device of a request in its context.
type deviceKey struct{}

// deviceOf is the device that a request comes from; ok is false for this machine
// and for strangers.
func deviceOf(r *http.Request) (d device.Device, ok bool) {
	d, ok = r.Context().Value(deviceKey{}).(device.Device)
	return d, ok
}

// ServeHTTP asks who comes, and answers.
func (in *door) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if !in.named(r.Host) {
		http.Error(w, "this machine is not called that here", http.StatusMisdirectedRequest)
		return
	}
	from := addressOf(r)
	token, d, err := in.who(r, from)
	now := in.house.clock()
	switch {
	case err == nil:
		if !in.house.paired.Let(d.ID, now) {
			tooMany(w, time.Second)
			return
		}
		r = r.WithContext(context.WithValue(r.Context(), deviceKey{}, d))
		if now.Sub(d.Seen) > time.Hour { // as it was before this visit
			http.SetCookie(w, tokenCookie(token, d.Role))
		}
	case !errors.Is(err, device.ErrUnknown):
		http.Error(w, "the list of devices could not be read: "+err.Error(), http.StatusInternalServerError)
		return
	case !in.house.guests.Let(device.Key(from), now):
		tooMany(w, 10*time.Second)
		return
	}
	in.by[d.Role].ServeHTTP(w, r)
}

// who is the device whose token came along; device.ErrUnknown for none.
func (in *door) who(r *http.Request, from netip.Addr) (token string, d device.Device, err error) {
	c, err := r.Cookie(cookieName)
	if err != nil {
		return "", d, device.ErrUnknown
	}
	d, err = in.house.register.Known(c.Value, from.String())
	return c.Value, d, err
}

// named reports whether the server is called by one of its own names: another
// could be pointed here by a page elsewhere.
func (in *door) named(host string) bool {
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	host = strings.ToLower(trimBrackets(host))
	names, ips := in.house.keeper.Names()
	ip, err := netip.ParseAddr(host)
	return err == nil && slices.Contains(ips, ip.Unmap()) || slices.Contains(names, host)
}

func tooMany(w http.ResponseWriter, wait time.Duration) {
	w.Header().Set("Retry-After", strconv.Itoa(int(wait.Seconds())))
	http.Error(w, "too many requests at once; wait a little", http.StatusTooManyRequests)
}

// addressOf is where a request comes from; the zero address when it is not known.
func addressOf(r *http.Request) netip.Addr {
	at, _ := netip.ParseAddrPort(r.RemoteAddr)
	return at.Addr().Unmap()
}

// tokenCookie is what a paired device shows ever after.
func tokenCookie(token string, role device.Role) *http.Cookie {
	return &http.Cookie{Name: cookieName, Value: token, Path: "/", MaxAge: int(role.Idle().Seconds()), Secure: true, HttpOnly: true, SameSite: http.SameSiteLaxMode}
}
