package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"
)

// Serve answers requests at addr until ctx ends, then lets those under way
// finish for up to five seconds. It returns the address to open, and a channel
// that yields the reason it ended: nil when ctx did. An addr without a host
// (":8040") or without anything ("", a free port) means loopback; reaching the
// pages from elsewhere needs a host written out.
func Serve(ctx context.Context, addr string, h http.Handler) (string, <-chan error, error) {
	host, port, err := splitAddr(addr)
	if err != nil {
		return "", nil, err
	}
	l, err := new(net.ListenConfig).Listen(ctx, "tcp", net.JoinHostPort(host, port))
	if err != nil {
		return "", nil, fmt.Errorf("serve at %s: %w", net.JoinHostPort(host, port), err)
	}
	at := l.Addr().(*net.TCPAddr)
	if at.IP.IsLoopback() {
		h = onlyLocalNames(h)
	}
	srv := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      30 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
	}
	return "http://" + at.String() + "/", run(ctx, srv, func() error { return srv.Serve(l) }), nil
}

func splitAddr(addr string) (host, port string, err error) {
	if addr == "" {
		addr = ":0"
	}
	if host, port, err = net.SplitHostPort(addr); err != nil {
		return "", "", fmt.Errorf("address %q: write host:port, such as 127.0.0.1:8040: %w", addr, err)
	}
	if host == "" {
		host = "127.0.0.1"
	}
	return host, port, nil
}

// run serves until ctx ends or serving fails.
func run(ctx context.Context, srv *http.Server, serve func() error) <-chan error {
	end := make(chan error, 1)
	failed := make(chan error, 1)
	go func() { failed <- serve() }()
	go func() {
		select {
		case err := <-failed:
			end <- fmt.Errorf("serve: %w", err)
		case <-ctx.Done():
			last, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
			defer cancel()
			if err := srv.Shutdown(last); err != nil {
				end <- errors.Join(fmt.Errorf("stop serving: %w", err), srv.Close())
				return
			}
			end <- nil
		}
	}()
	return end
}

// onlyLocalNames refuses requests that reached loopback under a foreign name: a
// page elsewhere could otherwise point its own name here and read the stead.
func onlyLocalNames(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host := r.Host
		if h, _, err := net.SplitHostPort(host); err == nil {
			host = h
		}
		if ip := net.ParseIP(trimBrackets(host)); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
			http.Error(w, "this address answers to localhost only", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func trimBrackets(host string) string {
	if n := len(host); n > 2 && host[0] == '[' && host[n-1] == ']' {
		return host[1 : n-1]
	}
	return host
}
