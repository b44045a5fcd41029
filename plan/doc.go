// Package plan reckons what to sow, eat and put up so that a household's need is
// met in a poor year with its ground, water, room, fertility and hours.
//
// What each sowing brings and asks is read off the engine (engine.Probe), the
// choice is a linear programme (package lp) whose stages are the household's
// wishes in strict order, and what comes out is laid on the real beds and run
// through the engine again. docs/plan.md says what each row is.
package plan
