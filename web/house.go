package web

import (
	"context"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"evenstead/device"
)

// A House is the way to the pages from the phones on a house's own network: its
// authority and its list of devices, and what strangers have tried.
type House struct {
	register *device.Register
	keeper   *device.Keeper
	clock    func() time.Time
	port     atomic.Int32 // 0: not served yet

	tries  device.Tries
	guests device.Pace // requests of those who are not paired, by address
	paired device.Pace // requests by device
}

// OpenHouse opens the folder that goes with a stead's file, and makes it and the
// house's authority when they are not there. host is this machine's name.
func OpenHouse(dir, host string, clock func() time.Time, ips func() []netip.Addr) (*House, error) {
	k, err := device.OpenKeeper(dir, host, clock, ips)
	if err != nil {
		return nil, err
	}
	r, err := device.OpenRegister(dir, clock)
	if err != nil {
		return nil, err
	}
	h := &House{register: r, keeper: k, clock: clock}
	h.guests.Burst, h.guests.Second = 60, 4
	h.paired.Burst, h.paired.Second = 400, 40
	_, err = k.Certificate(nil) // so that what is wrong is told now, not to the first phone
	return h, err
}

// Register is the list of devices.
func (h *House) Register() *device.Register { return h.register }

// Ways are the addresses at which phones reach the pages, the likeliest first;
// none before it is served.
func (h *House) Ways() (list []string) {
	port := int(h.port.Load())
	if port == 0 {
		return nil
	}
	// A certificate made a moment ago knows the machine's addresses.
	if _, err := h.keeper.Certificate(nil); err != nil {
		return nil
	}
	return waysTo(h.keeper, port)
}

// WaysAt are the addresses at which a server of this machine at a port is reached.
func (h *House) WaysAt(port string) ([]string, error) {
	n, err := strconv.ParseUint(port, 10, 16)
	if err != nil || n == 0 {
		return nil, errors.New("port " + strconv.Quote(port) + ": give 1 to 65535")
	}
	return waysTo(h.keeper, int(n)), nil
}

// Fingerprint is that of the authority's certificate, to be compared on phones.
func (h *House) Fingerprint() string { return h.keeper.Authority().Fingerprint() }

// waysTo lists addresses before names, which not every network carries.
func waysTo(k *device.Keeper, port int) (list []string) {
	names, ips := k.Names()
	way := func(host string) { list = append(list, "https://"+net.JoinHostPort(host, strconv.Itoa(port))+"/") }
	for _, four := range []bool{true, false} {
		for _, ip := range ips {
			if ip.Is4() == four && !ip.IsLoopback() && !ip.IsLinkLocalUnicast() {
				way(ip.String())
			}
		}
	}
	for _, n := range names {
		if strings.HasSuffix(n, ".local") {
			way(n)
		}
	}
	if len(list) == 0 {
		way("127.0.0.1")
	}
	return list
}

// Limits of connections from a house's network.
const (
	mostConns       = 512
	mostConnsOfOne  = 64
	houseHeaderTime = 5 * time.Second
)

// ServeHouse answers phones at addr, over TLS, until ctx ends; it returns like
// Serve. An addr without a host means every network the machine is in, of which
// only private ones are answered.
func ServeHouse(ctx context.Context, addr string, house *House, h http.Handler) (<-chan error, error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, errors.New("address " + strconv.Quote(addr) + ": write host:port or :port, such as :8043")
	}
	l, err := new(net.ListenConfig).Listen(ctx, "tcp", net.JoinHostPort(host, port))
	if err != nil {
		return nil, err
	}
	house.port.Store(int32(l.Addr().(*net.TCPAddr).Port))
	srv := &http.Server{
		Handler:           h,
		TLSConfig:         house.keeper.TLS(),
		ReadHeaderTimeout: houseHeaderTime, // of the handshake too
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          log.New(quietLog{log.Writer()}, "", log.LstdFlags),
	}
	return run(ctx, srv, func() error { return srv.ServeTLS(&houseListener{Listener: l}, "", "") }), nil
}

// quietLog drops what phones that do not know the house's authority yet say of it.
type quietLog struct{ io.Writer }

// Write never tells less than it was given.
func (q quietLog) Write(b []byte) (int, error) {
	if strings.Contains(string(b), "TLS handshake error") {
		return len(b), nil
	}
	return q.Writer.Write(b)
}

// A houseListener takes connections within private networks, so many in all and
// so many of one address; others are closed at once.
type houseListener struct {
	net.Listener
	mu  sync.Mutex
	by  map[string]int
	all int
}

// Accept returns the next connection that is let in.
func (l *houseListener) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		key, ok := within(c)
		if ok && l.enter(key) {
			return &houseConn{Conn: c, leave: func() { l.left(key) }}, nil
		}
		_ = c.Close()
	}
}

// within reports whether both ends of a connection are private addresses.
func within(c net.Conn) (key string, ok bool) {
	from, err1 := netip.ParseAddrPort(c.RemoteAddr().String())
	to, err2 := netip.ParseAddrPort(c.LocalAddr().String())
	return device.Key(from.Addr()), err1 == nil && err2 == nil && device.Private(from.Addr()) && device.Private(to.Addr())
}

func (l *houseListener) enter(key string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.all >= mostConns || l.by[key] >= mostConnsOfOne {
		return false
	}
	if l.by == nil {
		l.by = map[string]int{}
	}
	l.all++
	l.by[key]++
	return true
}

func (l *houseListener) left(key string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all--
	if l.by[key]--; l.by[key] == 0 {
		delete(l.by, key)
	}
}

// houseConn is counted until it is closed.
type houseConn struct {
	net.Conn
	once  sync.Once
	leave func()
}

// Close closes the connection and makes room for another.
func (c *houseConn) Close() error {
	c.once.Do(c.leave)
	return c.Conn.Close()
}
