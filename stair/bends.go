package stair

import (
	"fmt"
	"math"
	"sort"

	"github.com/martinlindhe/unit"
)

// Bend is an arc of the centreline in plan, and what it asks of a box tread that
// lies on it. The two risers of such a tread point at the centre of the arc, so
// that it is a wedge: what is y to the outside of the centreline is T·(R + y)/R
// deep, what is y to the inside T·(R − y)/R. Where a tread lies on the bend with
// a part of its depth only, that part is what turns.
type Bend struct {
	// From and To are the stations of its ends, on the centreline.
	From unit.Length `json:"from"`
	To   unit.Length `json:"to"`
	// Radius is that of the centreline, more than half the width.
	Radius unit.Length `json:"radius"`
	// Right is true when the path turns to the right looking uphill.
	Right bool `json:"right"`
	// Width is the clear width of the path, 0 to 100 m.
	Width unit.Length `json:"width"`
	// Walkline is how far from the inner edge of the clear width a wedge is
	// measured; 0 is midway. MinWalkline is the least depth there and MinInner
	// the least at the inner edge; 0 asks for none.
	Walkline    unit.Length `json:"walkline"`
	MinWalkline unit.Length `json:"min_walkline"`
	MinInner    unit.Length `json:"min_inner"`
}

const maxBends = 1000

// arc is a Bend checked and in metres.
type arc struct {
	from, to   float64
	curvature  float64 // positive to the right
	half, walk float64 // half the width; how far the walkline lies inside the centreline
	minWalk    float64
	minInner   float64
}

func arcs(bends []Bend, faults *Faults) []arc {
	if len(bends) > maxBends {
		faults.Addf("bends", "are %d; at most %d are planned at once", len(bends), maxBends)
		return nil
	}
	var out []arc
	for i, b := range bends {
		field := fmt.Sprintf("bends[%d]", i)
		sound := true
		length := func(name string, v unit.Length, least, most float64) {
			if x := float64(v); !finite(x) || x < least || x > most {
				faults.Add(field+"."+name, fmt.Sprint(x), "is not a usable length", fmt.Sprintf("give %s to %s", text(unit.Length(least)), text(unit.Length(most))))
				sound = false
			}
		}
		length("from", b.From, -maxDatum, maxDatum)
		length("to", b.To, -maxDatum, maxDatum)
		length("radius", b.Radius, 0.01, 10*maxReach)
		length("width", b.Width, 0, maxDepth)
		length("walkline", b.Walkline, 0, maxDepth)
		length("min_walkline", b.MinWalkline, 0, maxDepth)
		length("min_inner", b.MinInner, 0, maxDepth)
		if !sound {
			continue
		}
		if b.To <= b.From+tol {
			faults.Add(field+".to", text(b.To), "is not uphill of where the bend begins, "+text(b.From), "give the ends uphill")
		}
		if b.Radius <= b.Width/2 {
			faults.Add(field+".radius", text(b.Radius), "is not more than half the width of the path, "+text(b.Width), "give the radius of the centreline")
		}
		if n := len(out); n > 0 && float64(b.From) < out[n-1].to-tol {
			faults.Add(field+".from", text(b.From), "lies on the bend below", "give the bends uphill, none on another")
		}
		a := arc{
			from: float64(b.From), to: float64(b.To), curvature: 1 / float64(b.Radius),
			half: float64(b.Width) / 2, minWalk: float64(b.MinWalkline), minInner: float64(b.MinInner),
		}
		if !b.Right {
			a.curvature = -a.curvature
		}
		if x := float64(b.Walkline); x != 0 && x < float64(b.Width) {
			a.walk = a.half - x
		}
		out = append(out, a)
	}
	return out
}

// turn is what the bends make of a tread from a to b: the angle between its two
// risers, positive to the right, and the bends it lies on.
func turn(bends []arc, a, b float64) (angle float64, on []arc) {
	i := sort.Search(len(bends), func(i int) bool { return bends[i].to > a+tol })
	j := i
	for ; j < len(bends) && bends[j].from < b-tol; j++ {
		from, to := math.Max(a, bends[j].from), math.Min(b, bends[j].to)
		angle += float64(bends[j].curvature * (to - from))
	}
	return angle, bends[i:j]
}

// allows is whether a tread of a kind may lie from a to b.
func (b *bounds) allows(kind int, from, to float64) bool {
	if len(b.bends) == 0 {
		return true
	}
	angle, on := turn(b.bends, from, to)
	if len(on) == 0 {
		return true
	}
	if kind == onFrame {
		return false
	}
	angle = math.Abs(angle)
	for _, c := range on {
		inner := to - from - float64(c.half*angle)
		if inner < -tol || c.minInner > 0 && inner < c.minInner-tol ||
			c.minWalk > 0 && to-from-float64(c.walk*angle) < c.minWalk-tol {
			return false
		}
	}
	return true
}

// stretch is positions of the grid, from first to last.
type stretch struct{ first, last int }

// barred is where on the grid a tread of so many cells may not begin.
func (s *solver) barred(kind, cells int) []stretch {
	if len(s.bends) == 0 {
		return nil
	}
	var out []stretch
	x := float64(s.foot.Station)
	for _, c := range s.bends {
		lo := int(math.Floor((c.from-x)/s.grid)) - cells - 1
		hi := int(math.Ceil((c.to-x)/s.grid)) + 1
		if n := len(out); n > 0 && lo <= out[n-1].last {
			lo = out[n-1].last + 1
		}
		for i := max(lo, 0); i <= hi && i+cells <= s.cells; i++ {
			if s.allows(kind, float64(s.at[i]), float64(s.at[i+cells])) {
				continue
			}
			if n := len(out); n > 0 && out[n-1].last == i-1 {
				out[n-1].last = i
			} else {
				out = append(out, stretch{i, i})
			}
		}
	}
	return out
}

// Wedges are the treads of the layout that lie on bends, from the foot up: how
// deep each is at the inner and the outer edge of the clear width, which is the
// least of the bends it lies on. Landings on bends are not among them. The error
// is a [Faults] of the bends.
func (l Layout) Wedges(bends []Bend) ([]Wedge, error) {
	var faults Faults
	all := arcs(bends, &faults)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	var out []Wedge
	for i, s := range l.Steps {
		if s.Landing || i == len(l.Steps)-1 {
			continue
		}
		a, b := float64(s.Station), float64(l.Steps[i+1].Station)
		angle, on := turn(all, a, b)
		if len(on) == 0 {
			continue
		}
		half := on[0].half
		for _, c := range on {
			half = math.Min(half, c.half)
		}
		more := float64(half * math.Abs(angle))
		out = append(out, Wedge{
			Riser: s.Riser, Station: s.Station, Width: unit.Length(2 * half),
			Inner: unit.Length(b - a - more), Outer: unit.Length(b - a + more),
		})
	}
	return out, nil
}
