package earthwork

import "github.com/slopewright/slopewright/internal/fault"

// Fault is one thing wrong with the input of this package: which field, what
// was found there, what is wrong with it and what would do. Every error this
// package returns is a [Faults], or a single Fault.
type Fault = fault.Fault

// Faults is every fault found in one input, in the order of the input. Field
// paths are those of the input struct in lower snake case, counted from 0:
// readings[3].drop.
type Faults = fault.List
