package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"evenstead/book"
)

// An asker puts questions to a person and reads the answers.
type asker struct {
	in  *bufio.Reader
	out io.Writer
}

// line reads one answer; ok is false at the end of the input.
func (k *asker) line(prompt string) (answer string, ok bool) {
	fmt.Fprint(k.out, prompt)
	text, err := k.in.ReadString('\n')
	return strings.TrimSpace(text), err == nil || text != ""
}

// lines reads lines up to an empty one or the end.
func (k *asker) lines() (string, error) {
	var b strings.Builder
	for {
		text, err := k.in.ReadString('\n')
		if strings.TrimSpace(text) == "" || b.Len() > mostNote {
			return b.String(), nil
		}
		b.WriteString(strings.TrimSpace(text) + "\n")
		if err != nil {
			if errors.Is(err, io.EOF) {
				err = nil
			}
			return b.String(), err
		}
	}
}

// yes asks until the answer begins with y or n; the end of the input is no.
func (k *asker) yes(question string) bool {
	for {
		answer, ok := k.line(question + " [y/n] ")
		switch {
		case !ok, strings.HasPrefix(strings.ToLower(answer), "n"):
			return false
		case strings.HasPrefix(strings.ToLower(answer), "y"):
			return true
		}
	}
}

// doubts lets the person answer the doubts of a reading by number; an empty
// answer keeps the first choice.
func (k *asker) doubts(r book.Reading, c book.Context) book.Reading {
	for i := 0; r.Err == nil && i < len(r.Doubts); {
		d := r.Doubts[i]
		if len(d.Choices) == 0 {
			i++
			continue
		}
		p := &printer{w: k.out}
		p.line("%s", plain(r.Sentence))
		p.doubt(d)
		choice, ok := k.choice(d)
		if !ok {
			return r
		}
		r = r.Choose(d.Field, choice, c)
	}
	return r
}

// choice reads the number of a choice, asking again until it is one.
func (k *asker) choice(d book.Doubt) (string, bool) {
	for {
		answer, ok := k.line(fmt.Sprintf("  1 to %d, or Enter for 1: ", len(d.Choices)))
		if !ok {
			return "", false
		}
		if answer == "" {
			return d.Choices[0], true
		}
		if n, err := strconv.Atoi(answer); err == nil && n >= 1 && n <= len(d.Choices) {
			return d.Choices[n-1], true
		}
	}
}
