package web

import (
	"errors"
	"html/template"
	"io/fs"
	"net/http"
	"net/url"
	"time"

	"evenstead/device"
)

// devicesPage is where this machine pairs and revokes phones.
type devicesPage struct {
	frame
	Lead, Rest string
	Said       string
	Served     bool // for the house's network
	Ways       []string
	Roles      []choice
	Code       string // a code just made; empty for none
	CodeFor    string
	CodeUntil  string
	CodeWay    string
	QR         template.HTML
	List       []deviceRow
	Trust      trust
}

// deviceRow is a device as the list shows it.
type deviceRow struct{ ID, Name, Role, Paired, Seen, From string }

func (s *site) devices(w http.ResponseWriter, r *http.Request) {
	page := devicesPage{frame: s.bareFrame(s.words.say("devices.title"), "")}
	house := s.opt.House
	if house == nil || house.Ways() == nil {
		page.Lead, page.Rest = s.words.say("devices.off"), s.words.say("devices.off.rest")
		s.render(w, http.StatusOK, "devices", page)
		return
	}
	list, err := house.register.Devices()
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	page.Served, page.Ways, page.Trust = true, house.Ways(), s.trust()
	page.Lead, page.Rest = s.words.say("devices.none"), s.words.say("devices.none.rest")
	if n := len(list); n == 1 {
		page.Lead, page.Rest = s.words.say("devices.one"), s.words.say("devices.rest")
	} else if n > 1 {
		page.Lead, page.Rest = s.words.say("devices.some", count(n)), s.words.say("devices.rest")
	}
	for _, d := range list {
		page.List = append(page.List, deviceRow{d.ID, d.Name, s.words.say("role.name." + d.Role.String()), s.moment(d.Paired), s.moment(d.Seen), d.From})
	}
	for _, role := range device.Roles() {
		key := role.String()
		page.Roles = append(page.Roles, choice{key, s.words.say("role.name."+key) + ": " + s.words.say("role.may."+key), role == device.Household})
	}
	if r.URL.Query().Get("revoked") != "" {
		page.Said = s.words.say("devices.revoked")
	}
	if err := s.showCode(&page, r); err != nil {
		s.sayStopped(w, err)
		return
	}
	s.render(w, http.StatusOK, "devices", page)
}

// moment writes a time of a machine's doing, local: "2026-11-25 18:30".
func (s *site) moment(t time.Time) string {
	t = t.Local()
	return t.Format("2006-01-02") + " " + s.opt.clock(t.Format("15:04"))
}

// showCode puts a code that was just made on the page, for as long as it holds. It
// was kept like what is typed: the file has only its hash.
func (s *site) showCode(page *devicesPage, r *http.Request) error {
	made := s.drafts.find(r.URL.Query().Get("code"))
	if made == nil {
		return nil
	}
	until, err := time.Parse(time.RFC3339, made.Get("until"))
	if err != nil || !s.opt.House.clock().Before(until) {
		return nil
	}
	page.Code, page.CodeUntil = made.Get("code"), s.opt.clock(until.Local().Format("15:04"))
	page.CodeFor = s.words.say("role.name." + made.Get("role"))
	page.CodeWay = page.Ways[0] + "pair"
	page.QR, err = qrCode(page.CodeWay+"?code="+url.QueryEscape(page.Code), s.words.say("devices.qr", page.CodeWay))
	return err
}

// deviceCode makes a code for one device.
func (s *site) deviceCode(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	role, err := device.ParseRole(r.PostForm.Get("role"))
	if s.opt.House == nil || err != nil {
		s.sayRefused(w, http.StatusBadRequest)
		return
	}
	code, until, err := s.opt.House.register.Offer(role)
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	key := s.drafts.keep(url.Values{"code": {code}, "role": {role.String()}, "until": {until.Format(time.RFC3339)}})
	s.seeOther(w, r, "/devices?code="+key+"#code")
}

// deviceRevoke takes a device off the list.
func (s *site) deviceRevoke(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	if s.opt.House == nil {
		s.sayRefused(w, http.StatusBadRequest)
		return
	}
	if _, err := s.opt.House.register.Revoke(r.PathValue("id")); err != nil && !errors.Is(err, fs.ErrNotExist) {
		s.sayStopped(w, err)
		return
	}
	s.seeOther(w, r, "/devices?revoked=1#list")
}
