package stair

import (
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
	maxPriced  = 120_000_000   // cells priced by the site
	maxTable   = 6_000_000     // cells tabled at once, for one number of risers
	maxUpdates = 4_000_000_000 // steps of the dynamic programme
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
	} else if _, ok := site.(Framer); b.framed && !ok {
		faults.Add("site", "", "prices no framed flights", "give a Framer, or leave framed out of the kinds")
	}
	if len(faults) > 0 {
		return Fitted{}, faults.Err()
	}
	p := problem{foot: foot, head: head, bounds: b, run: run, rise: rise, climb: climb, site: site, full: fullUpdates, heavy: heavyWork}
	return p.answer()
}

// problem is one fit's question, checked, in metres.
type problem struct {
	bounds
	pairs            [][2]Point // of ends; nil: foot and head
	foot, head       Point      // of the pair at hand
	run, rise, climb float64
	site             Site
	walking, pace    float64
	full             int64    // work up to which every count is searched; below 0 none is in full
	heavy            int      // work from which better bounds are worked out
	spent            int64    // work done, in steps of the dynamic programme
	cap              int64    // work it may take; 0: as much as any
	row              *Earlier // from one fit to the next; nil: nothing
	earlier          *earlier // the part of it for the fit at hand
	within           float64  // what the best is known to cost at most; 0: nothing known
}

// take makes a pair of ends the one at hand.
func (p *problem) take(ends [2]Point) {
	p.foot, p.head = ends[0], ends[1]
	p.run = float64(p.head.Station - p.foot.Station)
	p.rise = float64(p.head.Level - p.foot.Level)
	p.climb = p.rise - float64(p.wash*p.run)
}

// rising is how many of n risers share the climb.
func (p *problem) rising(n int) int {
	if p.stands {
		return n - 1
	}
	return n
}

// riserOf is the height of each of n risers.
func (p *problem) riserOf(n int) float64 { return p.climb / float64(p.rising(n)) }

// counts is the range of riser counts whose height is within the limits of some
// kind of flight; it is empty when lo > hi.
func (p *problem) counts() (lo, hi int) {
	first := true
	for kind := range kindNames {
		if !p.has(kind) {
			continue
		}
		b := p.of(kind)
		l := int(math.Ceil(p.climb / (b.riserMax + tol)))
		if l < 1 {
			l = 1
		}
		x := math.Floor(p.climb / (b.riserMin - tol))
		if x > maxRisers+1 {
			x = maxRisers + 1
		}
		h := int(x)
		if l <= h && (first || lo > hi) {
			lo, hi, first = l, h, false
		} else if l <= h {
			lo, hi = min(lo, l), max(hi, h)
		} else if first {
			lo, hi, first = l, h, false
		}
	}
	if p.stands {
		lo, hi = lo+1, hi+1
	}
	return lo, hi
}

// has is whether there may be flights of a kind at all.
func (p *problem) has(kind int) bool {
	if kind == onFrame {
		return p.framed
	}
	return p.boxes
}

// made is whether a riser of height r can be one of a kind of flight.
func (p *problem) made(kind int, r float64) bool {
	b := p.of(kind)
	if !p.has(kind) || r > b.riserMax+tol || r < b.riserMin-tol {
		return false
	}
	if kind == onBox && p.courses != nil {
		_, _, _, ok := p.courses.Make(unit.Length(r))
		return ok
	}
	return true
}

// answer is the fit, or what is in its way.
func (p *problem) answer() (Fitted, error) {
	f, err := p.best()
	if err != nil {
		return Fitted{}, err
	}
	if f.Layout.Risers == 0 {
		return Fitted{}, p.infeasible(f.Considered)
	}
	return f, nil
}

// best is the fit with what is wished for or, where nothing fits so, without it.
func (p *problem) best() (Fitted, error) {
	bare := p.bounds
	if p.wish() {
		f, err := p.going(0)
		p.bounds = bare
		if err != nil || f.Layout.Risers > 0 {
			return f, err
		}
	}
	return p.going(1)
}

// going is the fit with what is kept from one to the next.
func (p *problem) going(which int) (Fitted, error) {
	if p.row != nil {
		p.earlier = &p.row.of[which]
	}
	f, err := p.fit()
	p.earlier = nil
	return f, err
}

// wish makes flights of as many risers as are wished for the least; it is false
// where that is no more than without, or more than flights may have.
func (p *problem) wish() bool {
	box, frame := &p.flightBounds, &p.frame
	if p.wished <= box.minRisers && p.wished <= frame.minRisers || box.lacks(p.wished) || frame.lacks(p.wished) {
		return false
	}
	box.minRisers, frame.minRisers = max(box.minRisers, p.wished), max(frame.minRisers, p.wished)
	return true
}

// lacks is whether flights may not have n risers.
func (b *flightBounds) lacks(n int) bool { return b.maxRisers != 0 && b.maxRisers < n }

// fit answers the problem. A layout without risers means there is none.
func (p *problem) fit() (Fitted, error) {
	for quantum := 1e-9; ; quantum *= 1000 {
		s, err := newSolver(p, quantum)
		if err != nil {
			return Fitted{}, err
		}
		f, err := s.solve()
		scratches.Put(s.scratch)
		if s.strict != nil && (err != nil || f.Layout.Risers == 0) {
			p.earlier = nil // why is told without
			return p.fit()
		}
		if err == errScale && quantum < 1e6 {
			continue
		}
		if all, ok := err.(Faults); ok && p.cap == 0 && all[0].Field == "grid" {
			all[0].Fix = p.advice()
		}
		return f, err
	}
}

// advice is what would do where a fit is beyond the caps: a coarser grid where that
// is tried, and does with half the work that a fit may take.
func (p *problem) advice() string {
	q := *p
	q.grid, q.full, q.cap, q.within = float64(maxGrid), -1, maxUpdates/2, 0
	if p.grid < q.grid-tol {
		if f, err := q.fit(); err == nil && f.Layout.Risers > 0 {
			return "take a coarser grid: of " + text(maxGrid) + " it can be done"
		}
	}
	return "plan the path in two parts, or narrow the riser and tread limits"
}
