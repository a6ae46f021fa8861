package stair

import "github.com/slopewright/slopewright/internal/fault"

// Fault is one thing wrong with the input: which field, what was found there,
// what is wrong with it and what would do.
type Fault = fault.Fault

// Faults is every fault found in one input, in the order of the input. Every
// error this package returns is a Faults; take it apart with [errors.As].
type Faults = fault.List
