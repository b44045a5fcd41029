package main

import (
	"context"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"testing"
)

// actName has the test binary be evenstead itself, with these words, one a line.
const actName = "EVENSTEAD_TEST_ACT"

func TestMain(m *testing.M) {
	if act := os.Getenv(actName); act != "" {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
		defer stop()
		os.Exit(run(ctx, strings.Split(act, "\n"), strings.NewReader(""), os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// nightly reports whether there is time for the long form of a test (.ci/nightly).
func nightly() bool { return os.Getenv("EVENSTEAD_NIGHTLY") != "" }
