package materials

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// MaxFlights is the most framed flights one take-off may have, MaxFlightRisers
// the most risers of one.
const (
	MaxFlights      = 100
	MaxFlightRisers = 100
)

// FramedFlight is one flight on stringers: Risers risers with a tread between
// each two, from a bearing at its foot to the edge of a landing at its head.
// The last riser is that edge.
type FramedFlight struct {
	// First is the number of the flight's first riser. Used in notes only.
	First int
	// Risers is their number, 2 to [MaxFlightRisers].
	Risers int
	// Riser is the height of each, 50 mm to 300 mm, and Tread the depth from
	// riser face to riser face, 150 mm to 2 m.
	Riser, Tread unit.Length
	// Width is that over the outer stringers' outside faces, 0.4 m to 6 m.
	Width unit.Length
	// Wash is the forward fall of the treads, a ratio from 0 to 0.1: step by
	// step the stringer then climbs a riser and what a tread falls.
	Wash float64
	// Drop is the most that a tread or the platform stands above the ground
	// within 36 in of its open side. It decides on guards.
	Drop unit.Length
	// Under is how high the stringers' underside stands above the ground where
	// they need a support on the way; 0 is reckoned as if the ground were level
	// from the foot, which on a hillside is too much.
	Under unit.Length
	// Platform is the depth of a framed landing at the flight's head, 0 where
	// the head bears on something that stands already; PlatformHeight how high
	// its surface stands above its footings.
	Platform, PlatformHeight unit.Length
	// OnLanding is set where the foot bears on a framed landing, which needs no
	// pad.
	OnLanding bool
}

func (f FramedFlight) check(at string, faults *Faults) bool {
	c := below(at, faults)
	n := len(*faults)
	c.count("risers", f.Risers, 2, MaxFlightRisers)
	c.length("riser", f.Riser, 50*unit.Millimeter, 300*unit.Millimeter)
	c.length("tread", f.Tread, 150*unit.Millimeter, 2*unit.Meter)
	c.length("width", f.Width, 400*unit.Millimeter, 6*unit.Meter)
	if !(f.Wash >= 0 && f.Wash <= 0.1) {
		c.add("wash", fmt.Sprint(f.Wash), "is not from 0 to 0.1", "give the forward fall of the treads as a ratio")
	}
	c.length("drop", f.Drop, 0, 100*unit.Meter)
	c.length("under", f.Under, 0, 100*unit.Meter)
	c.length("platform", f.Platform, 0, 6*unit.Meter)
	c.length("platform_height", f.PlatformHeight, 0, 30*unit.Meter)
	if f.Platform > 0 && f.Platform < 300*unit.Millimeter {
		c.wrong("platform", f.Platform, "is less than 0.3 m", "give 0 for none, or 0.3 m or more")
	}
	return len(*faults) == n
}

// Going is the horizontal length of the flight, first riser to last.
func (f FramedFlight) Going() unit.Length {
	return unit.Length(float64(f.Risers-1) * f.Tread.Meters())
}

// Rise is the height of the flight, with the fall of its treads.
func (f FramedFlight) Rise() unit.Length {
	return unit.Length(float64(float64(f.Risers)*f.Riser.Meters()) + float64(f.Wash*f.Going().Meters()))
}

// up is what the flight climbs from one nosing to the next.
func (f FramedFlight) up() unit.Length {
	return unit.Length(f.Riser.Meters() + float64(f.Wash*f.Tread.Meters()))
}

// notch is [Notch] where the treads fall to the front.
func (f FramedFlight) notch() unit.Length {
	return unit.Length(f.Riser.Meters() * f.Tread.Meters() / hypotenuse(f.up().Meters(), f.Tread.Meters()))
}

// Notch is how deep a step cuts into a stringer, square to its edge:
// R·T/√(R²+T²).
func Notch(riser, tread unit.Length) unit.Length {
	r, t := riser.Meters(), tread.Meters()
	return unit.Length(r * t / hypotenuse(r, t))
}

// StringLength is the trade's length to order a string by, one tread more than
// the going and the whole rise: √(H² + (going + G)²). It covers both end cuts.
func StringLength(rise, going, tread unit.Length) unit.Length {
	return unit.Length(hypotenuse(rise.Meters(), (going + tread).Meters()))
}

// hypotenuse is math.Hypot without its care for huge numbers, and with the
// same bits on every machine.
func hypotenuse(a, b float64) float64 {
	return math.Sqrt(float64(a*a) + float64(b*b))
}

// StringerMark is where one step is marked on a stringer. All are measured
// from the first, so that rounding does not add up.
type StringerMark struct {
	// Riser counts from 1 in the flight.
	Riser int
	// Rise is the finished height of the step above the bearing, Cut the
	// height of the level cut under its tread board. The last one's is the
	// landing: nothing is cut there and Cut is 0.
	Rise, Cut unit.Length
	// Run is the horizontal distance from the first riser's cut, Along the
	// distance along the board's upper edge from the first step's corner.
	Run, Along unit.Length
}

// Stringer is the layout of one stringer: what is marked, cut and ordered.
type Stringer struct {
	// Depth is that of the board, VerticalDepth the same measured plumb.
	Depth, VerticalDepth unit.Length
	// Step is the length along the edge for one step, √(R²+T²).
	Step unit.Length
	// Notch and Throat: how deep a step cuts in, and what is left of a cut
	// stringer, square to its edge. A solid one keeps its depth.
	Notch, Throat unit.Length
	// Length is that of the board between square ends that the stringer is
	// just cut from; StringLength the trade's rule, which is more.
	Length, StringLength unit.Length
	// Going is the stringer's horizontal length, Bay that between supports.
	Going, Bay unit.Length
	// FirstRiser is the height of the first riser cut: the riser less the
	// tread board (the drop). Drop is that board's thickness; a solid stringer
	// has no drop.
	FirstRiser, Drop unit.Length
	// Seat is the length of the level cut at the foot, HeadBearing the height
	// of the plumb cut at the head.
	Seat, HeadBearing unit.Length
	// Pitch is the angle from the horizontal. PlumbCut and LevelCut are set off
	// from a square cut across the board: the pitch, and a right angle less it.
	Pitch, PlumbCut, LevelCut unit.Angle
	Marks                     []StringerMark
	Notes                     []string
}

// Stringer lays out a stringer of the flight.
//
// A cut stringer's upper edge runs through the corners of its steps, a solid
// one's [FramedDetail.Above] above the nosings. The foot is cut level on its
// bearing and, from the bearing to the first tread, plumb; the head plumb
// against the header, up to the last tread of a cut stringer and to the
// landing's surface of a solid one.
//
// The error is a [Faults].
func (f FramedFlight) Stringer(d FramedDetail) (Stringer, error) {
	var faults Faults
	f.check("", &faults)
	d.check("detail", &faults)
	if len(faults) == 0 {
		f.checkBoard("", d, &faults)
	}
	if len(faults) > 0 {
		return Stringer{}, faults
	}
	return f.stringer(d), nil
}

// checkBoard holds flight and board together.
func (f FramedFlight) checkBoard(at string, d FramedDetail, faults *Faults) {
	c := below(at, faults)
	r, t := f.up().Meters(), f.Tread.Meters()
	if f.Riser <= d.Tread.Thickness {
		c.wrong("riser", f.Riser, "is not more than the tread board's "+show(d.Tread.Thickness), "give a higher riser or a thinner tread board")
	}
	if n := f.notch(); !d.Solid && n >= d.Stringer.Width {
		c.wrong("riser", f.Riser, fmt.Sprintf("and the tread cut %s into a board of %s", show(n), show(d.Stringer.Width)), "give a deeper board or solid stringers")
	}
	// The tread board's lower back corner must lie on a solid stringer.
	if d.Solid {
		need := d.Above.Meters() + f.notch().Meters() + float64(d.Tread.Thickness.Meters()*t)/hypotenuse(r, t)
		if need > d.Stringer.Width.Meters()+1e-9 {
			c.wrong("tread", f.Tread, fmt.Sprintf("and the riser take a board %s deep, the stringer has %s", show(unit.Length(need)), show(d.Stringer.Width)),
				"give a deeper board, or less above the nosings")
		}
	}
	if f.Width <= unit.Length(3*d.Stringer.Thickness.Meters()) {
		c.wrong("width", f.Width, "leaves nothing between two stringers", "give a wider flight")
	}
}

func (f FramedFlight) stringer(d FramedDetail) Stringer {
	s := f.outline(d)
	f.mark(&s, d)
	return s
}

// outline is the stringer without its marks and notes.
func (f FramedFlight) outline(d FramedDetail) Stringer {
	r, up, t := f.Riser.Meters(), f.up().Meters(), f.Tread.Meters()
	h := hypotenuse(up, t)
	depth, board := d.Stringer.Width.Meters(), d.Tread.Thickness.Meters()
	s := Stringer{
		Depth: d.Stringer.Width, VerticalDepth: unit.Length(depth * h / t),
		Step: unit.Length(h), Notch: f.notch(),
		Going:        f.Going(),
		StringLength: StringLength(f.Rise(), f.Going(), f.Tread),
		Pitch:        unit.Angle(math.Atan(up / t)),
	}
	s.PlumbCut, s.LevelCut = s.Pitch, unit.Angle(math.Pi/2)-s.Pitch
	s.Bay = s.Going
	steps := float64(f.Risers - 1)
	// under is how far the lower edge lies plumb below the nosing line, which
	// runs through each tread's front edge at its surface.
	under := s.VerticalDepth.Meters()
	if d.Solid {
		above := d.Above.Meters() * h / t
		under -= above
		s.Throat = s.Depth
		s.FirstRiser = f.Riser
		s.Length = unit.Length(float64(steps*h) + float64(r*up)/h)
		s.HeadBearing = unit.Length(under)
		s.Seat = unit.Length((under - r) * t / up)
	} else {
		under += board
		s.Throat = s.Depth - s.Notch
		s.Drop = d.Tread.Thickness
		s.FirstRiser = f.Riser - s.Drop
		s.Length = unit.Length(float64(steps*h) - float64(board*up)/h)
		s.HeadBearing = unit.Length(under - r - board)
		s.Seat = unit.Length((under - r) * t / up)
	}
	if s.Seat < 0 {
		s.Seat = 0
	}
	if going := s.Going; s.Seat > going {
		s.Seat = going
	}
	return s
}

func (f FramedFlight) mark(s *Stringer, d FramedDetail) {
	r, h, t := f.Riser.Meters(), s.Step.Meters(), f.Tread.Meters()
	for k := 1; k <= f.Risers; k++ {
		m := StringerMark{Riser: k,
			Rise:  unit.Length(float64(float64(k)*r) + float64(float64(k-1)*float64(f.Wash*t))),
			Run:   unit.Length(float64(k-1) * t),
			Along: unit.Length(float64(k-1) * h),
		}
		if k < f.Risers {
			m.Cut = m.Rise - d.Tread.Thickness
		}
		s.Marks = append(s.Marks, m)
	}
	s.Notes = []string{"sight along each board and set its crown, the convex edge, upward"}
	if d.Solid {
		s.Notes = append(s.Notes, "mark treads on the inside faces, left and right as mirror images")
	} else {
		s.Notes = append(s.Notes,
			fmt.Sprintf("the first riser cut is %s, less by the tread board's %s, so that the finished risers are equal", d.show(s.FirstRiser), d.show(s.Drop)),
			"stop the saw at the corner and finish by hand: an overcut takes from the throat",
			"notches like these are outside the rules for notched beams (NDS 4.4.3): strength is that of a board as deep as the throat")
	}
}

// FramedClearance is the depth below a tread's surface that must be clear of
// ground. At the front of a tread the stringer's underside is deepest: the
// tread board and the stringer's plumb depth d·√(R²+T²)/T below the surface of
// a cut stringer's tread, or that depth less what stands above the nosings of
// a solid one; and the gap on top.
func FramedClearance(d FramedDetail, riser, tread unit.Length) unit.Length {
	r, t := riser.Meters(), tread.Meters()
	h := hypotenuse(r, t)
	var deep float64
	if d.Solid {
		deep = (d.Stringer.Width - d.Above).Meters() * h / t
		if board := d.Tread.Thickness.Meters(); deep < board {
			deep = board
		}
	} else {
		deep = d.Tread.Thickness.Meters() + float64(d.Stringer.Width.Meters()*h/t)
	}
	return unit.Length(deep) + d.Gap
}
