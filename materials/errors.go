package materials

import "github.com/slopewright/slopewright/internal/fault"

// Fault is one thing wrong with the input: the field, what was found there,
// what is wrong with it and what would do instead.
type Fault = fault.Fault

// Faults is every fault found in one input, in the order of the input. Every
// error this package returns is a Faults.
type Faults = fault.List
