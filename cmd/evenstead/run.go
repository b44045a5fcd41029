package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Exit statuses.
const (
	ok      = 0
	failed  = 1 // the work could not be done
	badSays = 2 // what was given can't be used: usage, description, weather, note, file
)

// A command is one word of the command line.
type command struct {
	name, line, help string
	run              func(ctx context.Context, a *args) error
}

// args are what a command works with.
type args struct {
	flags    *flag.FlagSet
	words    []string // as given after the command's name
	in       io.Reader
	asked    bool // a person answers at in
	out, err io.Writer
}

// errGiven marks a fault in what was given, for exit status 2.
type errGiven struct{ error }

func (e errGiven) Unwrap() error { return e.error }

func given(err error) error { return errGiven{err} }

// groups are the commands as help lists them.
func groups() []group {
	return []group{
		{"Start", []command{demoCommand, serveCommand, devicesCommand, describeCommand, checkCommand, weatherCommand}},
		{"Look ahead", []command{aheadCommand, whyCommand, leversCommand, hardshipsCommand, loopsCommand, skillCommand, planCommand}},
		{"The book", []command{noteCommand, countCommand, bookCommand, strikeCommand, weekCommand, senseCommand, reckonCommand, learnCommand}},
		{"The place", []command{waterCommand, groundCommand, needCommand, larderCommand, flowsCommand, gateCommand, exchangeCommand, sumCommand}},
		{"On paper", []command{paperCommand, handoverCommand, openDayCommand}},
		{"Keep it safe", []command{exportCommand, importCommand, backupCommand, restoreCommand, verifyCommand}},
	}
}

// A group is commands of one use.
type group struct {
	title    string
	commands []command
}

func commands() []command {
	var all []command
	for _, g := range groups() {
		all = append(all, g.commands...)
	}
	return all
}

// run does one command and returns the exit status.
func run(ctx context.Context, words []string, in io.Reader, out, errs io.Writer) int {
	if len(words) == 0 || slices.Contains([]string{"help", "-h", "--help", "-help"}, words[0]) {
		return help(words, out, errs)
	}
	c, found := commandNamed(words[0])
	if !found {
		fmt.Fprintf(errs, "evenstead: %q is not a command; the commands are %s\n", words[0], strings.Join(commandNames(), ", "))
		return badSays
	}
	a := &args{flags: flag.NewFlagSet(c.name, flag.ContinueOnError), words: words[1:], in: in, asked: terminal(in), out: out, err: errs}
	a.flags.SetOutput(errs)
	a.flags.Usage = func() { usage(c, a.flags, errs) }
	return status(c.run(ctx, a), errs)
}

// status prints what went wrong and returns the exit status for it.
func status(err error, errs io.Writer) int {
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return ok
	case errors.As(err, new(errUsage)):
		return badSays
	}
	fmt.Fprintf(errs, "evenstead: %v\n", err)
	if errors.As(err, new(errGiven)) {
		return badSays
	}
	return failed
}

// errUsage is a fault that the flag package has already told.
type errUsage struct{ error }

// parse reads the command's flags and returns the words left, flags and words in
// any order. "-3" is a word.
func (a *args) parse() ([]string, error) {
	var words []string
	left := a.words
	for {
		for len(left) > 0 && len(left[0]) > 1 && left[0][0] == '-' && left[0][1] >= '0' && left[0][1] <= '9' {
			words, left = append(words, left[0]), left[1:]
		}
		if err := a.flags.Parse(left); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return nil, err
			}
			return nil, errUsage{err}
		}
		left = a.flags.Args()
		if len(left) == 0 {
			return words, nil
		}
		words = append(words, left[0])
		left = left[1:]
	}
}

func commandNamed(name string) (command, bool) {
	list := commands()
	i := slices.IndexFunc(list, func(c command) bool { return c.name == name })
	if i < 0 {
		return command{}, false
	}
	return list[i], true
}

func commandNames() []string {
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return names
}

func help(words []string, out, errs io.Writer) int {
	if len(words) > 1 {
		c, found := commandNamed(words[1])
		if !found {
			fmt.Fprintf(errs, "evenstead: %q is not a command; the commands are %s\n", words[1], strings.Join(commandNames(), ", "))
			return badSays
		}
		return run(context.Background(), []string{c.name, "--help"}, strings.NewReader(""), out, out)
	}
	fmt.Fprint(out, "Evenstead tells a small household whether its food, water, fuel, fertility, room\nand hours will last, and what runs short first.\n\n")
	p := &printer{w: out}
	for _, g := range groups() {
		p.line("%s", g.title)
		for _, c := range g.commands {
			p.wrap(fmt.Sprintf("  %-10s ", c.name), c.help)
		}
		p.line("")
	}
	p.line("evenstead help COMMAND tells a command's flags; evenstead COMMAND runs it.")
	return ok
}

func usage(c command, flags *flag.FlagSet, w io.Writer) {
	fmt.Fprintf(w, "usage: evenstead %s %s\n%s.\n", c.name, c.line, c.help)
	flags.SetOutput(w)
	flags.PrintDefaults()
}
