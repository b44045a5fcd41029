// Evenstead tells a small household, from its own description and real weather,
// whether food, nutrients, water, fuel, fertility, room and hours will last, and
// what runs short first. See README.md for a tour, or run
//
//	evenstead help
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
