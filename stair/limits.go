package stair

import (
	"fmt"

	"github.com/martinlindhe/unit"
)

// StepRule bounds the sum of two risers and a tread, the walker's pace on
// steps.
type StepRule struct {
	Min unit.Length `json:"min"` // 0 = no lower bound
	Max unit.Length `json:"max"` // 0 = no upper bound
}

// Limits is what a fitted layout must keep to. Bounds are inclusive, compared
// within 1e-9 m, so that 7 3/4 in passes a limit of 7 3/4 in. A rule set gives
// its own with [RuleSet.Limits]; change any of them before the fit. No length
// may be more than 100 m.
type Limits struct {
	RiserMin unit.Length `json:"riser_min"` // above 0
	RiserMax unit.Length `json:"riser_max"` // at least RiserMin
	TreadMin unit.Length `json:"tread_min"` // at least Grid
	TreadMax unit.Length `json:"tread_max"` // at least TreadMin

	// LandingMin and LandingMax bound the depth of a landing. A LandingMin of 0
	// allows no landings: one straight flight. A LandingMax of 0 is no limit.
	LandingMin unit.Length `json:"landing_min"`
	LandingMax unit.Length `json:"landing_max"`

	// MaxFlightRisers is the most risers in a flight; 0 is no limit.
	MaxFlightRisers int `json:"max_flight_risers"`
	// MinFlightRisers is the fewest; 0 is 2, because a single step between two
	// landings is easily overlooked. Write 1 to allow it.
	MinFlightRisers int `json:"min_flight_risers"`
	// MaxFlightRise is the most a flight may climb, wash of its treads
	// included; 0 is no limit.
	MaxFlightRise unit.Length `json:"max_flight_rise"`
	// StepRule bounds 2 × riser + tread of every flight; nil does not.
	StepRule *StepRule `json:"step_rule"`

	// Wash is the forward fall of treads and landings, a ratio from 0 to 0.2.
	Wash float64 `json:"wash"`
	// Grid is what treads and landings are multiples of, from 1 mm to 1/2 in;
	// 0 is 10 mm. Two things are exempt: the tread of a path that is one single
	// flight, which is run/(risers−1), and the landing nearest the head, which
	// takes the part of the run that is no multiple of the grid.
	Grid unit.Length `json:"grid"`
}

const (
	defaultGrid = 10 * unit.Millimeter
	minGrid     = unit.Millimeter
	maxGrid     = unit.Inch / 2
)

// maxDepth is the most metres any one limit may be.
const maxDepth = 100

// bounds is Limits checked and in metres.
type bounds struct {
	riserMin, riserMax     float64
	treadMin, treadMax     float64
	landingMin, landingMax float64 // landingMin 0: none; landingMax 0: any
	minRisers, maxRisers   int     // of a flight; maxRisers 0: any
	maxRise                float64
	stepMin, stepMax       float64
	wash, grid             float64
}

func (l Limits) bounds(faults *Faults) bounds {
	b := bounds{
		riserMin: float64(l.RiserMin), riserMax: float64(l.RiserMax),
		treadMin: float64(l.TreadMin), treadMax: float64(l.TreadMax),
		landingMin: float64(l.LandingMin), landingMax: float64(l.LandingMax),
		minRisers: l.MinFlightRisers, maxRisers: l.MaxFlightRisers,
		maxRise: float64(l.MaxFlightRise), wash: l.Wash, grid: float64(l.Grid),
	}
	if b.minRisers == 0 {
		b.minRisers = 2
	}
	if b.grid == 0 {
		b.grid = float64(defaultGrid)
	}
	if l.StepRule != nil {
		b.stepMin, b.stepMax = float64(l.StepRule.Min), float64(l.StepRule.Max)
	}
	n := len(*faults)
	depth := func(field string, x, least float64, what string) {
		if !finite(x) || x < least-tol || x > maxDepth {
			faults.Add(field, fmt.Sprint(x), "is not "+what, fmt.Sprintf("give a length from %s to 100 m", text(unit.Length(least))))
		}
	}
	if !finite(b.grid) || b.grid < float64(minGrid)-tol || b.grid > float64(maxGrid)+tol {
		faults.Add("grid", fmt.Sprint(b.grid), "is not a usable grid", "give 1 mm to 1/2 in (12.7 mm), or 0 for 10 mm")
		b.grid = float64(defaultGrid)
	}
	depth("riser_min", b.riserMin, 0.001, "the height of a riser")
	depth("riser_max", b.riserMax, 0.001, "the height of a riser")
	depth("tread_min", b.treadMin, b.grid, "the depth of a tread on this grid")
	depth("tread_max", b.treadMax, b.grid, "the depth of a tread on this grid")
	if b.landingMin != 0 {
		depth("landing_min", b.landingMin, b.grid, "the depth of a landing on this grid")
	}
	if b.landingMax != 0 {
		depth("landing_max", b.landingMax, b.grid, "the depth of a landing on this grid")
	}
	if b.maxRise != 0 {
		depth("max_flight_rise", b.maxRise, 0.001, "the rise of a flight")
	}
	if l.StepRule != nil {
		for _, e := range []struct {
			field string
			x     float64
		}{{"step_rule.min", b.stepMin}, {"step_rule.max", b.stepMax}} {
			if e.x != 0 {
				depth(e.field, e.x, 0.001, "two risers and a tread")
			}
		}
	}
	if b.minRisers < 1 || b.minRisers > maxRisers {
		faults.Add("min_flight_risers", fmt.Sprint(l.MinFlightRisers), "is not a number of risers", fmt.Sprintf("give 1 to %d, or 0 for 2", maxRisers))
	}
	if b.maxRisers > maxRisers {
		b.maxRisers = 0 // no path has more
	}
	if b.maxRisers < 0 {
		faults.Add("max_flight_risers", fmt.Sprint(l.MaxFlightRisers), "is not a number of risers", "give 1 or more, or 0 for no limit")
	}
	if len(*faults) > n {
		return b
	}
	order := func(least, most string, a, b float64, limit bool) {
		if limit && b < a-tol {
			faults.Add(most, text(unit.Length(b)), "is less than "+least+", "+text(unit.Length(a)), "give the larger of the two as "+most)
		}
	}
	order("riser_min", "riser_max", b.riserMin, b.riserMax, true)
	order("tread_min", "tread_max", b.treadMin, b.treadMax, true)
	order("landing_min", "landing_max", b.landingMin, b.landingMax, b.landingMax != 0)
	order("step_rule.min", "step_rule.max", b.stepMin, b.stepMax, b.stepMax != 0)
	if b.maxRisers != 0 && b.maxRisers < b.minRisers {
		faults.Add("max_flight_risers", fmt.Sprint(b.maxRisers), fmt.Sprintf("is less than min_flight_risers, %d", b.minRisers), "give the larger of the two as max_flight_risers")
	}
	return b
}
