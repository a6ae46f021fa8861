package stair

import (
	"fmt"
	"math"

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
	// PlatformMax is the greatest depth of a framed landing, where that is less; 0 is
	// LandingMax.
	PlatformMax unit.Length `json:"platform_max"`

	// MaxFlightRisers is the most risers in a flight; 0 is no limit.
	MaxFlightRisers int `json:"max_flight_risers"`
	// MinFlightRisers is the fewest; 0 is 2, because a single step between two
	// landings is easily overlooked. Write 1 to allow it.
	MinFlightRisers int `json:"min_flight_risers"`
	// WishedFlightRisers is the fewest that is wished for: the fit keeps to it, too,
	// where there is such a layout, and goes on without it where there is none. 0 is
	// no wish; nor is one for more than MaxFlightRisers.
	WishedFlightRisers int `json:"wished_flight_risers,omitempty"`
	// MaxFlightRise is the most a flight may climb, wash of its treads
	// included; 0 is no limit.
	MaxFlightRise unit.Length `json:"max_flight_rise"`
	// StepRule bounds 2 × riser + tread of every flight; nil does not.
	StepRule *StepRule `json:"step_rule"`

	// PitchMax is the steepest line through a flight's nosings, from horizontal:
	// from 5° to less than 90°; 0 is no limit.
	PitchMax unit.Angle `json:"pitch_max,omitempty"`

	// Wash is the forward fall of treads and landings, a ratio from 0 to 0.2.
	Wash float64 `json:"wash"`
	// Grid is what treads and landings are multiples of, from 1 mm to 1/2 in;
	// 0 is 10 mm. Two things are exempt: the tread of a path that is one single
	// flight, which is run/(risers−1), and the landing nearest the head, which
	// takes the part of the run that is no multiple of the grid.
	Grid unit.Length `json:"grid"`

	// Kinds is which kinds of flight there may be; empty is Box only. Flights of
	// different kinds are parted by a landing.
	Kinds []Kind `json:"kinds,omitempty"`
	// Framed bounds framed flights apart from box flights; nil, and each of its
	// fields that is 0, takes the limit above.
	Framed *FramedLimits `json:"framed,omitempty"`
	// Courses is the timber box risers are made of; nil leaves their height
	// free.
	Courses *Courses `json:"courses,omitempty"`
	// Bends are the arcs of the centreline, uphill. A box tread on one must keep
	// to what it asks of wedges; framed flights stay off them; landings may lie
	// on them.
	Bends []Bend `json:"bends,omitempty"`
	// FirstStands says that the first riser was built before: the foot is the top
	// of it, and what is left to climb is shared by the others. Its flight may
	// have steps below that are not planned here: MinFlightRisers does not bind
	// it; MaxFlightRisers and MaxFlightRise count its risers from that one on.
	FirstStands bool `json:"first_stands,omitempty"`
}

// FramedLimits is what framed flights must keep to; 0 is as for box flights.
type FramedLimits struct {
	RiserMin        unit.Length `json:"riser_min"`
	RiserMax        unit.Length `json:"riser_max"`
	TreadMin        unit.Length `json:"tread_min"`
	TreadMax        unit.Length `json:"tread_max"`
	MaxFlightRisers int         `json:"max_flight_risers"`
	MinFlightRisers int         `json:"min_flight_risers"`
	MaxFlightRise   unit.Length `json:"max_flight_rise"`
	StepRule        *StepRule   `json:"step_rule"` // nil: as for box flights; an empty one: none
}

const (
	defaultGrid = 10 * unit.Millimeter
	minGrid     = unit.Millimeter
	maxGrid     = unit.Inch / 2
)

// maxDepth is the most metres any one limit may be.
const maxDepth = 100

// flightBounds is what the flights of one kind must keep to, in metres.
type flightBounds struct {
	riserMin, riserMax   float64
	treadMin, treadMax   float64
	minRisers, maxRisers int // of a flight; maxRisers 0: any
	maxRise              float64
	stepMin, stepMax     float64
	steepest             float64 // rise over run of the nosing line; 0: any
	wash                 float64
}

// bounds is Limits checked and in metres. What is embedded is for box flights.
type bounds struct {
	flightBounds
	frame                  flightBounds
	boxes, framed          bool    // which kinds there may be
	landingMin, landingMax float64 // landingMin 0: none; landingMax 0: any
	platformMax            float64 // of framed landings; 0: landingMax
	grid                   float64
	courses                *Courses
	bends                  []arc
	stands                 bool // the first riser does
	wished                 int  // fewest risers of a flight, where that can be had
}

// of is the bounds of a kind of flight.
func (b *bounds) of(kind int) *flightBounds {
	if kind == onFrame {
		return &b.frame
	}
	return &b.flightBounds
}

func (l Limits) flights() flightBounds {
	b := flightBounds{
		riserMin: float64(l.RiserMin), riserMax: float64(l.RiserMax),
		treadMin: float64(l.TreadMin), treadMax: float64(l.TreadMax),
		minRisers: l.MinFlightRisers, maxRisers: l.MaxFlightRisers,
		maxRise: float64(l.MaxFlightRise), wash: l.Wash,
	}
	if b.minRisers == 0 {
		b.minRisers = 2
	}
	if l.PitchMax != 0 {
		b.steepest = math.Tan(float64(l.PitchMax))
	}
	if l.StepRule != nil {
		b.stepMin, b.stepMax = float64(l.StepRule.Min), float64(l.StepRule.Max)
	}
	return b
}

// overlay is the limits with those for framed flights in place of the ones for
// box flights.
func (f FramedLimits) overlay(l Limits) Limits {
	put := func(to *unit.Length, v unit.Length) {
		if v != 0 {
			*to = v
		}
	}
	put(&l.RiserMin, f.RiserMin)
	put(&l.RiserMax, f.RiserMax)
	put(&l.TreadMin, f.TreadMin)
	put(&l.TreadMax, f.TreadMax)
	put(&l.MaxFlightRise, f.MaxFlightRise)
	if f.MaxFlightRisers != 0 {
		l.MaxFlightRisers = f.MaxFlightRisers
	}
	if f.MinFlightRisers != 0 {
		l.MinFlightRisers = f.MinFlightRisers
	}
	if f.StepRule != nil {
		l.StepRule = f.StepRule
	}
	return l
}

func (l Limits) bounds(faults *Faults) bounds {
	b := bounds{
		flightBounds: l.flights(),
		landingMin:   float64(l.LandingMin), landingMax: float64(l.LandingMax), platformMax: float64(l.PlatformMax),
		grid: float64(l.Grid), boxes: len(l.Kinds) == 0, stands: l.FirstStands, wished: l.WishedFlightRisers,
	}
	if b.grid == 0 {
		b.grid = float64(defaultGrid)
	}
	n := len(*faults)
	if !finite(b.grid) || b.grid < float64(minGrid)-tol || b.grid > float64(maxGrid)+tol {
		faults.Add("grid", fmt.Sprint(b.grid), "is not a usable grid", "give 1 mm to 1/2 in (12.7 mm), or 0 for 10 mm")
		b.grid = float64(defaultGrid)
	}
	b.flightBounds.check("", l.StepRule != nil, b.grid, faults)
	if deg := l.PitchMax.Degrees(); deg != 0 && !(deg >= 5 && deg < 89.9) {
		faults.Add("pitch_max", fmt.Sprintf("%g°", deg), "is not the pitch of steps", "give 5 to 89 degrees, or 0 for no limit")
	}
	if b.landingMin != 0 {
		checkDepth("landing_min", b.landingMin, b.grid, "the depth of a landing on this grid", faults)
	}
	if b.platformMax != 0 && !(b.platformMax > 0 && b.platformMax <= 1e4) {
		faults.Add("platform_max", text(unit.Length(b.platformMax)), "is not a depth", "give more than 0, or 0 for that of any landing")
	}
	if b.landingMax != 0 {
		checkDepth("landing_max", b.landingMax, b.grid, "the depth of a landing on this grid", faults)
	}
	for i, k := range l.Kinds {
		switch kindIndex(k) {
		case onBox:
			b.boxes = true
		case onFrame:
			b.framed = true
		default:
			faults.Add(fmt.Sprintf("kinds[%d]", i), string(k), "is not a kind of flight", `write "box" or "framed"`)
		}
	}
	if l.Courses != nil {
		l.Courses.check(faults)
		c := *l.Courses
		b.courses = &c
	}
	b.bends = arcs(l.Bends, faults)
	if len(*faults) == n {
		b.flightBounds.order("", faults)
		orderDepths("landing_min", "landing_max", b.landingMin, b.landingMax, b.landingMax != 0, faults)
	}
	over := l
	if l.Framed != nil {
		over = l.Framed.overlay(l)
	}
	b.frame = over.flights()
	if b.framed && len(*faults) == n {
		b.frame.check("framed.", over.StepRule != nil, b.grid, faults)
		if len(*faults) == n {
			b.frame.order("framed.", faults)
		}
	}
	return b
}

func checkDepth(field string, x, least float64, what string, faults *Faults) {
	if !finite(x) || x < least-tol || x > maxDepth {
		faults.Add(field, fmt.Sprint(x), "is not "+what, fmt.Sprintf("give a length from %s to 100 m", text(unit.Length(least))))
	}
}

// check finds what is no limit; fields are named below prefix.
func (b *flightBounds) check(prefix string, rule bool, grid float64, faults *Faults) {
	checkDepth(prefix+"riser_min", b.riserMin, 0.001, "the height of a riser", faults)
	checkDepth(prefix+"riser_max", b.riserMax, 0.001, "the height of a riser", faults)
	checkDepth(prefix+"tread_min", b.treadMin, grid, "the depth of a tread on this grid", faults)
	checkDepth(prefix+"tread_max", b.treadMax, grid, "the depth of a tread on this grid", faults)
	if b.maxRise != 0 {
		checkDepth(prefix+"max_flight_rise", b.maxRise, 0.001, "the rise of a flight", faults)
	}
	if rule {
		if b.stepMin != 0 {
			checkDepth(prefix+"step_rule.min", b.stepMin, 0.001, "two risers and a tread", faults)
		}
		if b.stepMax != 0 {
			checkDepth(prefix+"step_rule.max", b.stepMax, 0.001, "two risers and a tread", faults)
		}
	}
	if b.minRisers < 1 || b.minRisers > maxRisers {
		faults.Add(prefix+"min_flight_risers", fmt.Sprint(b.minRisers), "is not a number of risers", fmt.Sprintf("give 1 to %d, or 0 for 2", maxRisers))
	}
	if b.maxRisers > maxRisers {
		b.maxRisers = 0 // no path has more
	}
	if b.maxRisers < 0 {
		faults.Add(prefix+"max_flight_risers", fmt.Sprint(b.maxRisers), "is not a number of risers", "give 1 or more, or 0 for no limit")
	}
}

// order finds limits that exclude each other.
func (b *flightBounds) order(prefix string, faults *Faults) {
	orderDepths(prefix+"riser_min", prefix+"riser_max", b.riserMin, b.riserMax, true, faults)
	orderDepths(prefix+"tread_min", prefix+"tread_max", b.treadMin, b.treadMax, true, faults)
	orderDepths(prefix+"step_rule.min", prefix+"step_rule.max", b.stepMin, b.stepMax, b.stepMax != 0, faults)
	if b.maxRisers != 0 && b.maxRisers < b.minRisers {
		faults.Add(prefix+"max_flight_risers", fmt.Sprint(b.maxRisers), fmt.Sprintf("is less than min_flight_risers, %d", b.minRisers), "give the larger of the two as max_flight_risers")
	}
}

func orderDepths(least, most string, a, b float64, limit bool, faults *Faults) {
	if limit && b < a-tol {
		faults.Add(most, text(unit.Length(b)), "is less than "+least+", "+text(unit.Length(a)), "give the larger of the two as "+most)
	}
}
