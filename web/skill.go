package web

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"evenstead/hearth"
	"evenstead/skill"
)

// skilled finds in the background how often outlooks of this stead would have been
// right in its record, once for a description and a length of record, and keeps
// it in the stead's file. It goes on while the book is written to.
type skilled struct {
	mu      sync.Mutex
	of      string // what is being found, or was found last
	running bool
	count   Progress
	kept    *hearth.Skill // of of; nil: none
}

// How a hindcast is made for a page: one start a year, on one core.
const (
	skillEvery   = 12 // months
	skillMembers = 60
)

// Skill is what a hindcast found, nil while there is none; Progress tells how far
// the one under way has come, with a Total of 0 when the record is too short.
func (d *Desk) Skill(ctx context.Context) (*hearth.Skill, Progress, error) {
	b, err := d.present(ctx)
	if err != nil || b.snap.Past == nil {
		return nil, Progress{}, err
	}
	d.mu.Lock()
	settled := d.shown.state == b.state
	d.mu.Unlock()
	k := &d.skilled
	k.mu.Lock()
	defer k.mu.Unlock()
	of := hearth.SkillOf(b.snap.Text, b.days)
	if k.of != of {
		k.of, k.kept, k.count = of, nil, Progress{}
		if s, ok, err := d.home.Skill(ctx); err != nil {
			return nil, Progress{}, err
		} else if ok {
			k.kept = &s
		}
	}
	fresh := k.kept != nil && k.kept.Of == of
	if !fresh && !k.running && k.count.Err == nil && b.days >= 365*hearth.SkillYears && settled && d.ctx.Err() == nil {
		k.running, k.count = true, Progress{Total: 1}
		d.work.Go(func() { d.findSkill(b, of) })
	}
	return k.kept, k.count, nil
}

// findSkill runs the hindcasts and keeps what they found.
func (d *Desk) findSkill(b *base, of string) {
	k := &d.skilled
	s, err := d.hindcast(b, func(done, total int) {
		k.mu.Lock()
		defer k.mu.Unlock()
		k.count = Progress{Done: done, Total: total}
	})
	if err == nil {
		s.Of = of
		err = d.home.KeepSkill(d.ctx, *s)
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	k.running, k.count = false, Progress{}
	switch {
	case errors.Is(err, context.Canceled):
	case err != nil:
		k.count.Err = err
	case k.of == of:
		k.kept = s
	}
}

func (d *Desk) hindcast(b *base, report func(done, total int)) (*hearth.Skill, error) {
	rec, err := d.home.Record(d.ctx)
	if err != nil || rec == nil {
		return nil, errors.Join(err, fmt.Errorf("no weather is kept"))
	}
	rec.Fill()
	held, err := d.home.On(d.ctx, b.snap.Today) // a stead of its own: a hindcast sows its garden
	if err != nil {
		return nil, err
	}
	r, err := skill.Hindcast(d.ctx, skill.Ask{Stead: held.Stead, Tables: b.snap.Tables, Record: rec, Every: skillEvery, Members: skillMembers, Seed: d.opt.Seed, Workers: 1, Report: report})
	if err != nil {
		return nil, err
	}
	weeks, share := r.Sure()
	return &hearth.Skill{Weeks: weeks, Held: share, Starts: r.Starts, Years: r.Years, Last: rec.End()}, nil
}

// skillLine says on Ahead how often outlooks like it were right.
func (s *site) skillLine(ctx context.Context) string {
	kept, p, err := s.desk.Skill(ctx)
	switch {
	case err != nil:
		return ""
	case kept != nil:
		return s.words.say("skill.line", count(kept.Weeks), inHundred(kept.Held), count(kept.Starts), count(kept.Years), s.words.long(kept.Last))
	case p.Err != nil:
		return s.words.say("skill.stopped", p.Err.Error())
	case p.Total > 0:
		return s.words.say("skill.waits", tenths(p))
	}
	return s.words.say("skill.none")
}
