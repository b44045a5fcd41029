package main

import (
	"context"
	"io"
	"net/http"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// lines hands on what a command prints while it runs.
type lines chan string

// Write never fails.
func (l lines) Write(b []byte) (int, error) {
	l <- string(b)
	return len(b), nil
}

// TestServeBringsPagesUntilItIsStopped serves a file that is not there yet.
func TestServeBringsPagesUntilItIsStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	out, end := make(lines, 8), make(chan int, 1)
	file := filepath.Join(t.TempDir(), "new.stead")
	go func() {
		end <- run(ctx, []string{"serve", "--stead", file, "--addr", "127.0.0.1:0", "--today", "2026-11-25"}, strings.NewReader(""), out, io.Discard)
	}()
	var at string
	select {
	case said := <-out:
		at = regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(said)
	case <-time.After(time.Minute):
		t.Fatal("nothing is said")
	}
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	for path, want := range map[string]int{"": http.StatusSeeOther, "book": http.StatusSeeOther, "start": http.StatusOK} {
		res, err := client.Get(at + path)
		if err != nil {
			t.Fatal(err)
		}
		if err := res.Body.Close(); err != nil || res.StatusCode != want {
			t.Errorf("%s%s: status %d, want %d, %v", at, path, res.StatusCode, want, err)
		}
	}
	stop()
	select {
	case status := <-end:
		if status != ok {
			t.Errorf("status %d", status)
		}
	case <-time.After(time.Minute):
		t.Fatal("it does not stop")
	}
}
