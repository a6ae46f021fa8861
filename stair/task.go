package stair

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// Framer is a [Site] on which flights may be framed. Costs are additive as those
// of a Site are, and in the same measure.
type Framer interface {
	Site
	// FramedCells prices cells below the treads of a framed flight, as Cells
	// does: what must be dug so that the stringers clear the ground, say. ok is
	// whether a framed flight may pass there.
	FramedCells(at []unit.Length, l Line, cost []float64, ok []bool)
	// FramedRiser is what each riser of a framed flight costs beside the cells
	// and the flight.
	FramedRiser(r unit.Length) float64
	// Platform is what a framed landing costs beside its cells; ok is false where
	// there are to be none. It may be below 0, as where a flight that begins on one
	// takes no pad, by no more than every framed flight costs as a whole.
	Platform() (cost float64, ok bool)
	// PlatformCells prices cells below a framed landing.
	PlatformCells(at []unit.Length, l Line, cost []float64, ok []bool)
}

// FlightPricer is a [Site] on which a flight costs something as a whole, by its
// shape: footings, supports by span.
type FlightPricer interface {
	// Flight is what a flight costs beside its cells and risers, 0 or more; ok is
	// false when there must be no such flight.
	Flight(s Shape) (cost float64, ok bool)
	// FlightsPriced is whether there are flights of a kind that cost something or
	// must not be; where there are none, Flight is not asked.
	FlightsPriced(k Kind) bool
}

// FlightBounder is a [FlightPricer] that tells beforehand what flights cost at
// least. A fit asks for far fewer of them then, and is no less exact.
type FlightBounder interface {
	// FlightLeast is what a flight of a kind, with treads of at least so much, costs
	// at least: open, and each for every tread, both 0 or more. ok is false when that
	// is not known; Flight is then asked of every flight that there can be.
	FlightLeast(k Kind, tread unit.Length) (open, each float64, ok bool)
}

// Sinker is a [Site] that knows how much of what cells cost can only be more the
// lower the finished surface lies over the same stretch, as digging is. A fit is much
// quicker for it, and no less exact.
type Sinker interface {
	// Sunk puts in place of costs that Cells, or a [Framer]'s FramedCells for Framed,
	// told last the part of them, 0 or more, that is no less under a lower surface; of
	// cells that do not bear, too, as if they did. PlatformCells must cost no less than
	// that part of FramedCells under the same surface or a higher one. It is false
	// where there is nothing to tell.
	Sunk(k Kind, at []unit.Length, cost []float64) bool
}

// Starter is a [Site] on which the path's first riser costs something more.
type Starter interface {
	// Start is what the first riser of a path costs beyond another of the kind and
	// height, 0 or more. A riser that stands already costs nothing.
	Start(k Kind, r unit.Length) float64
}

// Blender is a [Site] that can be one with others that it is weighed against, which
// saves asking each of them.
type Blender interface {
	// Blend gives a site that tells of everything the sum of what the sites do, each
	// as often as its weight says, or nil when it cannot. All of them may stand where
	// all do.
	Blend(sites []Site, weights []float64) Site
}

// Easer is a [Site] with limits of its own, such as how deep may be dug. Where nothing
// fits, the least change of each that would do is looked for, as that of the limits of
// steps is.
type Easer interface {
	Site
	// Eased are the limits that may be changed.
	Eased() []Easing
}

// Easing is a limit of a [Site] that may be changed.
type Easing struct {
	// Says names the change, with a %s for the new limit and one for the old.
	Says string
	From unit.Length
	// To are the limits to try, in metres, each allowing more than the one before it.
	To []float64
	// With is the site with another limit.
	With func(to unit.Length) Site
}

// Shape is what a flight's cost as a whole depends on.
type Shape struct {
	Kind   Kind
	Risers int
	Tread  unit.Length // 0 for a flight of one riser
	Riser  unit.Length
	Run    unit.Length // (Risers−1)·Tread
	Rise   unit.Length // Risers·Riser and the wash of its treads
}

// End is an end of the path: one point when it is fixed, several when it is
// free among them.
type End struct {
	Points []Point `json:"points"`
}

// Task is a fit in full: free ends, several kinds of flight, and the walker.
type Task struct {
	Foot, Head End
	Limits     Limits
	// Site prices the path. Framed flights need it to be a [Framer]; it may be a
	// [FlightPricer] as well.
	Site Site
	// Walking is what a metre of misfit costs, as [Walk.Misfit] measures it; 0 leaves
	// the walker out.
	Walking float64
	// Pace is the walker's on the level; 0 is [OutdoorPace].
	Pace unit.Length
	// EveryCount asks for the least cost of every riser count. Without it counts
	// are given up as soon as they cannot be the best, which is much quicker.
	EveryCount bool
	// Earlier is what is kept from one fit to the next; nil: nothing. It makes no
	// difference to the layout and what it costs. Of riser counts that are given up, it
	// may be other bounds that are told.
	Earlier *Earlier
}

// maxEnds is the most pairs of foot and head tried in one fit.
const maxEnds = 10_000

// usablePace is a pace in metres.
func usablePace(pace unit.Length) float64 {
	p := float64(pace)
	if !finite(p) || p < 0.1 {
		p = float64(OutdoorPace)
	}
	return p
}

// treadMisfit is by how much two risers and a tread miss a whole number of
// paces, one at least.
func treadMisfit(r, t, pace float64) float64 {
	sum := float64(2*r) + t
	n := math.Floor(sum/pace + 0.5)
	if n < 1 {
		n = 1
	}
	return math.Abs(sum - float64(n*pace))
}

// landingMisfit is by how much a landing misses a whole number of paces, or
// none, and a tread of the flight below, unless it is so deep that the walker
// finds the rhythm anew.
func landingMisfit(depth, t, pace float64) float64 {
	if depth > longLanding+tol {
		return 0
	}
	n := math.Floor((depth-t)/pace + 0.5)
	if n < 0 {
		n = 0
	}
	return math.Abs(depth - t - float64(n*pace))
}

// Fit finds the layout of least cost between any foot and any head of the task
// that keeps to the limits, as [Fit] does between two points: every pair of
// ends, every number of risers, every parting into flights and their kinds, every
// tread depth and landing on the grid.
//
// A landing bears on the ground, priced and allowed by the site's Cells, or,
// between two framed flights, may be a platform. A framed flight may begin at
// the foot and may arrive at the head. The grid is measured from the foot of each
// pair.
//
// What a layout costs is the sum of its cells, its risers, its flights as wholes,
// its platforms, and Walking times its misfit.
//
// Ties. Least cost first; then fewest flights; fewest risers; the foot and then
// the head that comes first in the task; then, comparing from the head down: box
// before framed in the uppermost flight, the shallower treads, the fewer risers;
// a landing on the ground before a platform, the shorter landing; the next
// flight, and so on.
//
// At most 2000 risers, 10 km of run, 10,000 pairs of ends; time and memory are
// capped, and a fault says so when a task would go beyond.
func (t Task) Fit() (Fitted, error) {
	p, err := t.problem()
	if err != nil {
		return Fitted{}, err
	}
	return p.answer()
}

func (t Task) problem() (*problem, error) {
	var faults Faults
	p := &problem{bounds: t.Limits.bounds(&faults), site: t.Site, full: -1, heavy: heavyWork, pace: usablePace(t.Pace), walking: t.Walking, row: t.Earlier}
	if t.EveryCount {
		p.full = fullUpdates
	}
	check := func(name string, e End) {
		if len(e.Points) == 0 {
			faults.Add(name+".points", "", "are missing", "give one for a fixed end, several for a free one")
		}
	}
	check("foot", t.Foot)
	check("head", t.Head)
	if len(t.Foot.Points)*len(t.Head.Points) > maxEnds {
		faults.Addf("foot.points", "and head.points make %d pairs of ends; at most %d are tried at once", len(t.Foot.Points)*len(t.Head.Points), maxEnds)
	} else {
		var first Faults
		for _, a := range t.Foot.Points {
			for _, b := range t.Head.Points {
				var f Faults
				if ends(a, b, t.Limits.Wash, &f); len(f) == 0 {
					p.pairs = append(p.pairs, [2]Point{a, b})
				} else if first == nil {
					first = f
				}
			}
		}
		// A pair that cannot be is no choice; when none can, the first says why.
		if len(p.pairs) == 0 {
			faults = append(faults, first...)
		}
	}
	if t.Site == nil {
		faults.Add("site", "", "is missing", "give what prices the path's cells")
	} else if _, ok := t.Site.(Framer); p.framed && !ok {
		faults.Add("site", "", "prices no framed flights", "give a Framer, or leave framed out of the kinds")
	}
	if !finite(t.Walking) || t.Walking < 0 {
		faults.Add("walking", fmt.Sprint(t.Walking), "is not a cost", "give what a metre of misfit costs, or 0")
	}
	if len(faults) > 0 {
		return nil, faults.Err()
	}
	p.take(p.pairs[0])
	return p, nil
}
