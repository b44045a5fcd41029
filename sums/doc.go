// Package sums is a drawer of small reckoners, each usable alone: what a roof
// catches, when to sow, how much salt a brine takes. A sum reads amounts as
// people write them, asks the sciences, and says the answer, how it was
// reckoned, where the rule comes from and what to beware of.
//
// Formulas are those of weather, water, crop, diet, larder, fertility, fuel and
// work; here their results are only added, multiplied and put into words. Amounts
// are SI inside, read and printed by package unit. The package reads no clock,
// file or network: dates are given.
package sums
