package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"text/tabwriter"

	"evenstead/sums"
	"evenstead/unit"
)

var sumCommand = command{"sum", "[NAME [key=value ...]] [flags]", "reckons one small thing by itself: a roof's catch, a sowing window, a brine", doSum}

// doSum lists the sums, tells what one takes, or reckons it.
func doSum(_ context.Context, a *args) error {
	asJSON := a.flags.Bool("json", false, "print JSON, in SI units")
	us := a.flags.Bool("us", false, "print US units")
	words, err := a.parse()
	if err != nil {
		return err
	}
	p := &printer{w: a.out}
	if len(words) == 0 {
		all := sums.All()
		return p.sum(*asJSON, all, func() { p.drawer(all) })
	}
	sum, err := sums.Named(words[0])
	if err != nil {
		return given(err)
	}
	if len(words) == 1 {
		return p.sum(*asJSON, sum, func() { p.sumHelp(sum, system(*us)) })
	}
	values, err := sums.ReadPairs(words[1:])
	if err != nil {
		return sumFault(sum, err)
	}
	answer, err := sum.Run(values, system(*us))
	if err != nil {
		return sumFault(sum, err)
	}
	return p.sum(*asJSON, answer, func() { p.sumAnswer(answer) })
}

// sumFault lists what was wrong with what was given, one to a line.
func sumFault(sum sums.Sum, err error) error {
	if faults := (sums.Problems)(nil); errors.As(err, &faults) {
		return given(fmt.Errorf("sum %s can't be reckoned:\n  %s\nevenstead sum %s tells what it takes",
			sum.Name, strings.ReplaceAll(faults.Error(), "\n", "\n  "), sum.Name))
	}
	return given(err)
}

// sum prints v as JSON, or by the text that is written for people.
func (p *printer) sum(asJSON bool, v any, text func()) error {
	if !asJSON {
		text()
		return p.err
	}
	enc := json.NewEncoder(p.w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

// drawer lists the sums by group.
func (p *printer) drawer(all []sums.Sum) {
	p.line("Small reckoners, each usable alone. evenstead sum NAME tells what one takes.")
	for _, group := range sums.Groups() {
		p.line("")
		p.line("%s", strings.ToUpper(group[:1])+group[1:])
		for _, s := range all {
			if s.Group == group {
				p.line("  %-14s %s", s.Name, s.Title)
			}
		}
	}
}

// sumHelp tells what a sum takes and shows its worked example.
func (p *printer) sumHelp(s sums.Sum, sys unit.System) {
	p.line("%s (%s)", s.Title, s.Name)
	p.line("")
	p.wrap("", s.About)
	p.line("")
	p.line("It takes")
	p.sumInputs(s, sys)
	p.line("")
	p.line("Worked example, to paste")
	p.line("  %s", exampleLine(s))
	p.line("which prints in its source")
	for _, line := range s.Example.Printed {
		p.line("  %s: %s", line.Label, plain(line.Text))
	}
	p.wrap("  ", "("+s.Example.Source+")")
	p.section("Source", []string{s.Source})
	p.section("Cautions", s.Cautions)
}

// sumInputs tells what a sum takes; a long list of choices is told once.
func (p *printer) sumInputs(s sums.Sum, sys unit.System) {
	wide := 0
	for _, in := range s.Inputs {
		wide = max(wide, len(in.Key))
	}
	told := map[string]string{}
	for _, in := range s.Inputs {
		choices := strings.Join(in.Choices, "; ")
		if before, again := told[choices]; again && len(choices) > textWidth {
			in.Choices = []string{"as " + before}
		} else {
			told[choices] = in.Key
		}
		p.wrap(fmt.Sprintf("  %-*s  ", wide, in.Key), inputSays(in, sys))
	}
}

// inputSays describes an input: what it is, in which range or choices, and
// whether it has to be given.
func inputSays(in sums.Input, sys unit.System) string {
	said := in.Label
	switch in.Form {
	case sums.Amount, sums.List:
		said += fmt.Sprintf(" (%s to %s)", unit.Format(in.Least, in.Kind, sys), unit.Format(in.Most, in.Kind, sys))
	case sums.Choice:
		said += ": " + strings.Join(in.Choices, "; ")
	}
	switch {
	case in.Default != "":
		return said + ". Taken as " + in.Default + "."
	case in.Optional:
		return said + ". May be left out."
	}
	return said + "."
}

// exampleLine is a sum's example as a command line that a shell reads.
func exampleLine(s sums.Sum) string {
	words := []string{"evenstead sum", s.Name}
	for _, p := range s.Example.Given {
		value := p.Value
		if strings.ContainsAny(value, " ;°%") {
			value = "'" + value + "'"
		}
		words = append(words, p.Key+"="+value)
	}
	return strings.Join(words, " ")
}

// sumAnswer prints what a sum came to.
func (p *printer) sumAnswer(a sums.Answer) {
	p.line("%s", a.Title)
	p.line("")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	var long []sums.Line
	for _, line := range a.Lines {
		if len(line.Text) > textWidth/2 {
			long = append(long, line)
			continue
		}
		fmt.Fprintf(tw, "  %s\t%s\n", line.Label, line.Text)
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	for _, line := range long {
		p.wrap("  ", line.Label+": "+line.Text)
	}
	p.section("How it was reckoned", a.Steps)
	p.section("Source", []string{a.Source})
	p.section("Cautions", a.Cautions)
}
