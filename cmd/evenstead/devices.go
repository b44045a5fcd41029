package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/qr"

	"evenstead/device"
	"evenstead/web"
)

var devicesCommand = command{"devices", "[pair ROLE | revoke ID] [flags]", "lists the phones paired with the house, makes a code to pair one (as household, helper or visitor), or revokes one", devices}

func lanAddrFlag(f *flag.FlagSet, addr *string) {
	f.StringVar(addr, "lan-addr", lanPort, "`address` at which serve --lan answers phones")
}

// openHouse opens the folder of keys and devices that goes with a stead's file.
func openHouse(stead string) (*web.House, error) {
	host, err := os.Hostname()
	if err != nil {
		host = "" // phones then use the address
	}
	h, err := web.OpenHouse(device.FolderOf(stead), host, time.Now, device.Addresses)
	if errors.Is(err, device.ErrClock) {
		return nil, given(err)
	}
	return h, err
}

func devices(_ context.Context, a *args) error {
	q, addr := new(at), ""
	q.fileFlag(a.flags)
	lanAddrFlag(a.flags, &addr)
	words, err := a.parse()
	if err != nil {
		return err
	}
	if _, err := os.Stat(q.path); err != nil {
		return given(fmt.Errorf("there is no %s here: name the stead's file with --stead", q.path))
	}
	house, err := openHouse(q.path)
	if err != nil {
		return err
	}
	switch {
	case len(words) == 0, len(words) == 1 && words[0] == "list":
		return listDevices(a.out, house.Register())
	case words[0] == "pair" && len(words) <= 2:
		return pairDevice(a.out, house, append(words, device.Household.String())[1], addr)
	case words[0] == "revoke" && len(words) == 2:
		return revokeDevice(a.out, house.Register(), words[1])
	}
	return given(fmt.Errorf("devices %s: say devices, devices pair ROLE or devices revoke ID", strings.Join(words, " ")))
}

func listDevices(w io.Writer, r *device.Register) error {
	list, err := r.Devices()
	if err != nil {
		return err
	}
	if len(list) == 0 {
		fmt.Fprintln(w, "No phone is paired: evenstead devices pair makes a code for one.")
		return nil
	}
	const form = "%-7s %-9s %-16s  %-15s  %s\n"
	fmt.Fprintf(w, form, "id", "role", "last seen", "at", "name")
	for _, d := range list {
		fmt.Fprintf(w, form, d.ID, d.Role, d.Seen.Local().Format("2006-01-02 15:04"), d.From, d.Name)
	}
	return nil
}

func revokeDevice(w io.Writer, r *device.Register, id string) error {
	d, err := r.Revoke(strings.ToLower(id))
	if errors.Is(err, fs.ErrNotExist) {
		return given(fmt.Errorf("%w: evenstead devices lists them", err))
	}
	if err == nil {
		fmt.Fprintf(w, "%s (%s) is revoked: its next request is a stranger's.\n", d.Name, d.Role)
	}
	return err
}

// pairDevice prints a code that a serve --lan at the same file takes.
func pairDevice(w io.Writer, house *web.House, role, addr string) error {
	_, port, err := net.SplitHostPort(addr)
	if err != nil {
		return given(fmt.Errorf("--lan-addr %q: write host:port or :port, such as %s", addr, lanPort))
	}
	as, err := device.ParseRole(role)
	if err != nil {
		return given(err)
	}
	ways, err := house.WaysAt(port)
	if err != nil {
		return given(err)
	}
	code, until, err := house.Register().Offer(as)
	if err != nil {
		return err
	}
	return showCode(w, ways, as, code, until, house.Fingerprint())
}

// tellPhones says where phones find the pages; the first one is given a code at once.
func tellPhones(w io.Writer, house *web.House, at string) error {
	ways := house.Ways()
	fmt.Fprintf(w, "Phones of the house find it at %s\n", strings.Join(ways, " or "))
	list, err := house.Register().Devices()
	if err != nil {
		return err
	}
	if len(list) > 0 {
		fmt.Fprintf(w, "%s paired. To pair or revoke one: %sdevices, or evenstead devices.\n", counted(len(list), "phone is", "phones are"), at)
		return nil
	}
	code, until, err := house.Register().Offer(device.Household)
	if err != nil {
		return err
	}
	if err := showCode(w, ways, device.Household, code, until, house.Fingerprint()); err != nil {
		return err
	}
	fmt.Fprintf(w, "For another: %sdevices, or evenstead devices pair ROLE.\n", at)
	return nil
}

// showCode prints a code for a camera and for eyes.
func showCode(w io.Writer, ways []string, role device.Role, code string, until time.Time, print string) error {
	way := ways[0] + "pair"
	drawn, err := qrText(way + "?code=" + url.QueryEscape(code))
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "\n%s\nTo pair one phone (%s): scan this, or open %s and type %s\n", drawn, role, way, code)
	fmt.Fprintf(w, "The code works once, until %s. Fingerprint of the house's certificate (SHA-256):\n%s\n\n", until.Local().Format("15:04"), print)
	return nil
}

// qrText draws a QR code in halves of letters, light on dark as terminals are: the
// border is drawn, so that it reads on light ones too.
func qrText(content string) (string, error) {
	code, err := qr.Encode(content, qr.L, qr.Unicode)
	if err != nil {
		return "", fmt.Errorf("draw the code: %w", err)
	}
	const border = 2
	side := code.Bounds().Dx()
	light := func(x, y int) bool {
		x, y = x-border, y-border
		return x < 0 || y < 0 || x >= side || y >= side || !black(code, x, y)
	}
	var b strings.Builder
	for y := 0; y < side+2*border; y += 2 {
		for x := range side + 2*border {
			b.WriteString([]string{" ", "▄", "▀", "█"}[2*bit(light(x, y))+bit(light(x, y+1) && y+1 < side+2*border)])
		}
		b.WriteByte('\n')
	}
	return b.String(), nil
}

func black(code barcode.Barcode, x, y int) bool {
	r, _, _, _ := code.At(x, y).RGBA()
	return r < 0x8000
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}
