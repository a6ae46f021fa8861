package stair

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// Site is what the fit asks of the ground: what a stretch of finished surface
// would cost there and whether the path may stand on it. The caller decides
// what cost measures: volume dug, hours, money.
//
// Costs must be additive: what a cell costs is what its two halves cost
// together, as an integral along the path is. A cell must bear only when all
// its parts do. Then the fit is exact.
//
// Answers must depend on the arguments alone, and neither slice may be kept or
// the stations changed.
type Site interface {
	// Cells prices the cells of the path at one finished level: the finished
	// surface is the line l. For i from 0 to len(at)−2 it sets cost[i] to what
	// the cell from at[i] to at[i+1] costs (0 or more, finite) and bears[i] to
	// whether the path may stand on all of it. Stations ascend; all lie
	// between foot and head. A cell that does not bear has no cost: cost[i] is
	// not read.
	Cells(at []unit.Length, l Line, cost []float64, bears []bool)
	// Riser is what each riser costs beside the cells, at riser height r.
	Riser(r unit.Length) float64
}

// PerCount is what the fit found for one number of risers.
type PerCount struct {
	Risers int         `json:"risers"`
	Riser  unit.Length `json:"riser"` // the height each would have
	// OK is whether there is a layout; Cost is then the least one of this count
	// costs, and Flights the flights of that layout.
	OK      bool    `json:"ok"`
	Cost    float64 `json:"cost"`
	Flights int     `json:"flights"`
	// AtLeast is true when this count was given up, as on long paths most are,
	// because no layout of it costs less than Cost and none is better than the
	// best. OK is then false: it was not found out whether there is one.
	AtLeast bool `json:"at_least,omitempty"`
	// Why says why there is no layout when there is none.
	Why string `json:"why,omitempty"`
}

// Fitted is the best layout, and what was considered on the way to it.
type Fitted struct {
	Layout     Layout     `json:"layout"`
	Cost       float64    `json:"cost"` // in the site's measure
	Considered []PerCount `json:"considered"`
}

// Caps on the work of one fit; beyond them Fit returns a fault that says what
// would do.
const (
	maxPriced  = 40_000_000    // cells priced by the site
	maxTable   = 6_000_000     // cells tabled at once, for one number of risers
	maxUpdates = 1_000_000_000 // steps of the dynamic programme
	maxCells   = 1_000_000     // cells of the grid from foot to head
)

// fullUpdates is the work up to which every riser count is searched to its own
// least cost; from then on only those that may be the best.
const fullUpdates = 100_000_000

// Fit finds the layout of least cost between foot and head among all that keep
// to the limits: every number of risers, every parting into flights, every
// tread depth and landing depth on the grid. It is exact: the answer is the one
// that trying everything would give.
//
// What is searched. n equal risers have the height r = (rise − wash·run)/n; n is
// skipped when r is outside the riser limits. A layout is either one flight,
// with treads of run/(n−1), on or off the grid; or several, with treads and
// landings in whole multiples of the grid from the foot up, except that the
// landing nearest the head also takes up the remainder of the run.
//
// What it costs. Costs are counted in whole multiples of 1e-9 of the site's
// measure (coarser, by factors of 1000, where a site's costs add up to more than
// 100,000), so that sums are exact and equal costs are truly equal. Treads and
// landings below the uppermost flight cost the sum of their grid cells; the
// treads of the uppermost flight, and of a single flight, are priced whole.
//
// Ties. Least cost first; then fewest flights; then fewest risers; then,
// comparing from the head down: the shallower treads in the uppermost flight
// (a flight of one riser counts as treads of 0), the fewer risers in it, the
// shorter landing below it, the shallower treads of the next flight, and so on.
//
// When nothing fits, the error is a [Faults] that says which limits clash, with
// the smallest single changes that would make a layout possible.
//
// Long paths. Once a fit has done much work, riser counts that cannot be the best
// are given up; [PerCount.AtLeast] marks them. The answer is no less exact.
//
// Bounds: at most 2000 risers, 10 km of run; time and memory are capped, and a
// fault says so when a site would go beyond: the work grows with the inverse
// square of the grid.
func Fit(foot, head Point, lim Limits, site Site) (Fitted, error) {
	var faults Faults
	b := lim.bounds(&faults)
	run, rise, climb := ends(foot, head, b.wash, &faults)
	if site == nil {
		faults.Add("site", "", "is missing", "give what prices the path's cells")
	}
	if len(faults) > 0 {
		return Fitted{}, faults.Err()
	}
	p := problem{foot: foot, head: head, bounds: b, run: run, rise: rise, climb: climb, site: site, full: fullUpdates}
	f, err := p.fit()
	if err != nil {
		return Fitted{}, err
	}
	if f.Layout.Risers == 0 {
		return Fitted{}, p.infeasible(f.Considered)
	}
	return f, nil
}

// problem is one fit's question, checked, in metres.
type problem struct {
	bounds
	foot, head       Point
	run, rise, climb float64
	site             Site
	full             int // fullUpdates
	spent            int // work done, in steps of the dynamic programme
}

// counts is the range of riser counts whose height is within the limits; it is
// empty when lo > hi.
func (p *problem) counts() (lo, hi int) {
	lo = int(math.Ceil(p.climb / (p.riserMax + tol)))
	if lo < 1 {
		lo = 1
	}
	x := math.Floor(p.climb / (p.riserMin - tol))
	if x > maxRisers+1 {
		x = maxRisers + 1
	}
	return lo, int(x)
}

// fit answers the problem. A layout without risers means there is none.
func (p *problem) fit() (Fitted, error) {
	lo, hi := p.counts()
	if lo <= hi && hi > maxRisers {
		return Fitted{}, Faults{{Field: "riser_min", Got: text(unit.Length(p.riserMin)),
			Problem: fmt.Sprintf("allows more than %d risers on a rise of %s", maxRisers, text(unit.Length(p.rise))),
			Fix:     "raise it, or plan the path in parts"}}
	}
	for quantum := 1e-9; ; quantum *= 1000 {
		f, err := p.fitAt(quantum, lo, hi)
		if err == errScale && quantum < 1e6 {
			continue
		}
		return f, err
	}
}

func (p *problem) fitAt(quantum float64, lo, hi int) (Fitted, error) {
	s := newSolver(p, quantum, lo, hi)
	for n := lo; n <= hi; n++ {
		s.straight(n)
	}
	for n := lo; n <= hi && s.err == nil; n++ {
		s.parted(n)
	}
	p.spent += s.updates + 10*s.priced
	if s.err != nil {
		return Fitted{}, s.err
	}
	f := Fitted{Considered: s.considered()}
	if s.best.plan != nil {
		f.Cost = s.toCost(s.best.value)
		f.Layout = build(p.foot, p.head, p.wash, p.run, p.rise, p.climb, s.best.plan)
	}
	return f, nil
}
