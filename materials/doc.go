// Package materials turns box steps into what has to be bought: a take-off
// ([TakeOff]), a cut plan at proven least cost ([Cut]) and a bill ([MakeBill]).
//
// It stands alone: sizes in, lists out. Sections of timber and bar, aggregates
// and their densities are data with sources ([Sections], [Aggregates]).
package materials
