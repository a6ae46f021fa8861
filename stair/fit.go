package stair

import "github.com/martinlindhe/unit"

// Site is what the fit asks of the ground: what a stretch of finished surface
// would cost there and whether the path may stand on it. The caller decides
// what cost measures: volume dug, hours, money.
//
// Costs must be additive: what a cell costs is what its two halves cost
// together, as an integral along the path is. Then the fit is exact.
//
// Answers must depend on the arguments alone, and neither slice may be kept or
// the stations changed.
type Site interface {
	// Cells prices the cells of the path at one finished level: the finished
	// surface is the line l. For i from 0 to len(at)−2 it sets cost[i] to what
	// the cell from at[i] to at[i+1] costs (0 or more, finite) and bears[i] to
	// whether the path may stand on all of it. Stations ascend. A cell that
	// does not bear has no cost: cost[i] is not read.
	Cells(at []unit.Length, l Line, cost []float64, bears []bool)
	// Riser is what each riser costs beside the cells, at riser height r.
	Riser(r unit.Length) float64
}

// PerCount is what the fit found for one number of risers.
type PerCount struct {
	Risers  int         `json:"risers"`
	Riser   unit.Length `json:"riser"`   // the height each would have
	OK      bool        `json:"ok"`      // whether there is a layout
	Proven  bool        `json:"proven"`  // true: Cost is the least for this count; false: it is a bound, and no layout of this count costs less
	Cost    float64     `json:"cost"`    // when OK or when a bound
	Flights int         `json:"flights"` // in the best one, when OK
	Why     string      `json:"why,omitempty"`
}

// Fitted is the best layout, and what was considered on the way to it.
type Fitted struct {
	Layout     Layout     `json:"layout"`
	Cost       float64    `json:"cost"` // in the site's measure, to 1e-9 of it
	Considered []PerCount `json:"considered"`
}
