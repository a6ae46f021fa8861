package earthwork

import (
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Bounds of a section. Together with those of a ground they keep every area
// and volume finite.
const (
	maxSectionWidth = 100.0 // m
	maxWorking      = 10.0  // m
	maxBatter       = 10.0  // horizontal per vertical
	maxBuildUp      = 10.0  // m
)

// Section is the cross-section of the dig: a level formation as wide as the
// path and the working space on both its sides, with sides cut back at a
// batter until they meet the ground; and, where the ground lies below the
// formation, a fill as wide as the path with sides of its own.
//
// The ground across the path is a straight line, h + c·y: h is the ground less
// the formation at the centreline, c the crossfall, y the offset from the
// centreline, positive to the right looking uphill.
type Section struct {
	// Width is the width of the path, over 0 and at most 100 m.
	Width unit.Length
	// Working is the space dug beside the path on each side, to work in, 0 to
	// 10 m. The formation is Width + 2 Working wide.
	Working unit.Length
	// Batter is how far the sides of the cut lean back, horizontal per
	// vertical, 0 (plumb) to 10.
	Batter float64
	// FillBatter is how far the sides of a fill run out, horizontal per
	// vertical, 0 (held by the boxes) to 10.
	FillBatter float64
}

// Validate reports everything that is wrong with the section, as a [Faults]
// with the fields width, working, batter and fill_batter.
func (s Section) Validate() error {
	var faults fault.List
	if w := s.Width.Meters(); !(w > 0 && w <= maxSectionWidth) {
		faults.Add("width", sayLength(w), "is not a width of path", "give a width over 0 and at most 100 m")
	}
	if w := s.Working.Meters(); !(w >= 0 && w <= maxWorking) {
		faults.Add("working", sayLength(w), "is not a working space", "give 0 to 10 m for each side")
	}
	if !(s.Batter >= 0 && s.Batter <= maxBatter) {
		faults.Add("batter", sayNumber(s.Batter), "is not a batter", "give horizontal per vertical from 0, plumb, to 10")
	}
	if !(s.FillBatter >= 0 && s.FillBatter <= maxBatter) {
		faults.Add("fill_batter", sayNumber(s.FillBatter), "is not a batter", "give horizontal per vertical from 0, held by the boxes, to 10")
	}
	return faults.Err()
}

// Formation is the width dug: Width + 2 Working.
func (s Section) Formation() unit.Length { return s.Width + 2*s.Working }

// Daylights tells whether a side cut back at the batter meets a ground of this
// crossfall that rises away from it: Batter·|crossfall| < 1. Where it does not,
// the cut has no top edge and no area.
func (s Section) Daylights(crossfall float64) bool {
	return float64(s.Batter*math.Abs(crossfall)) < 1
}

// Cut is the area dug where the ground lies h above the formation at the
// centreline. Both h and the crossfall may have either sign: a section part in
// cut and part in fill has both a Cut and a Fill. Where the rising side is in
// cut and never meets the ground (see [Section.Daylights]) the area is +Inf;
// [Ground.Dig] and [Ground.CutCells] refuse such ground.
//
// With b the formation width, s the batter and hr, hl = h ± c·b/2 the depths at
// its edges, it is the part of the depth over the formation that is positive,
// and for each edge in cut a triangle ½·s·hr²/(1 − s·c) or ½·s·hl²/(1 + s·c).
// For level ground that is (b + s·h)·h; for a section all in cut it is the two-level
// section, and for part cut the side-hill section, of N. N. Basak, Surveying
// and Levelling, ch. 8.
func (s Section) Cut(h unit.Length, crossfall float64) unit.Area {
	sh := s.shape(0)
	return unit.Area(sh.cut(h.Meters(), crossfall))
}

// Fill is the area between the formation and ground below it, over the width
// of the path, with sides at FillBatter: the Cut of the section turned upside
// down, and +Inf in the same case.
func (s Section) Fill(h unit.Length, crossfall float64) unit.Area {
	sh := s.shape(0)
	return unit.Area(sh.fill(h.Meters(), crossfall))
}

// Backfill is the area that is dug beside a box of the path's width standing
// on the formation, depth high, and is filled again when the box stands: from
// the formation up to the top of the box, or to the ground where that is lower.
func (s Section) Backfill(h unit.Length, crossfall float64, depth unit.Length) unit.Area {
	sh := s.shape(depth.Meters())
	return unit.Area(sh.backfill(h.Meters(), crossfall))
}

// Stakes gives how far left and right of the centreline the cut meets the
// ground, the offsets at which its edges are pegged. An offset is negative when
// that edge lies across the centreline, on the other side. ok is false
// where nothing is cut or a side in cut never meets the ground.
//
// Source: the half widths of N. N. Basak, Surveying and Levelling, ch. 8.
func (s Section) Stakes(h unit.Length, crossfall float64) (left, right unit.Length, ok bool) {
	sh := s.shape(0)
	l, okl := sh.stake(h.Meters(), -crossfall)
	r, okr := sh.stake(h.Meters(), crossfall)
	return unit.Length(l), unit.Length(r), okl && okr
}

// shape is a section in plain metres, as the integrals want it.
type shape struct {
	half       float64 // half the formation width
	path       float64 // half the width of the path
	batter     float64
	fillBatter float64
	build      float64 // height of the box over the formation
	reach      float64 // half the width of the cut at the top of the box
	kappa      float64 // curvature of the path, positive to the right
	plan       bool    // the breadth at the ground is wanted, not areas
}

func (s Section) shape(build float64) shape {
	path := s.Width.Meters() / 2
	half := path + s.Working.Meters()
	return shape{
		half: half, path: path,
		batter: s.Batter, fillBatter: s.FillBatter,
		build: build,
		reach: half + float64(s.Batter*build),
	}
}

func (s *shape) cut(h, c float64) float64  { return wedge(h, c, s.half, s.batter) }
func (s *shape) fill(h, c float64) float64 { return wedge(-h, -c, s.path, s.fillBatter) }

// wedge is the area above a level floor, 2·half wide, below the line h + c·y and
// between sides that lean outward at the batter.
func wedge(h, c, half, batter float64) float64 {
	rise := float64(c * half)
	right, left := h+rise, h-rise
	var area float64
	switch {
	case right >= 0 && left >= 0:
		area = 2 * float64(half*h)
	case right > 0:
		// The triangle where the line is above the floor. Its foot is found
		// from the two edges, not from c, which may be next to nothing.
		area = float64(half*right) * (right / (right - left))
	case left > 0:
		area = float64(half*left) * (left / (left - right))
	default:
		return 0
	}
	if batter == 0 {
		return area
	}
	if right > 0 {
		area += float64(float64(0.5*batter) * spread(right, 1-float64(batter*c)))
	}
	if left > 0 {
		area += float64(float64(0.5*batter) * spread(left, 1+float64(batter*c)))
	}
	return area
}

// spread is depth²/run, and +Inf when the side never meets the ground.
func spread(depth, run float64) float64 {
	if run <= 0 {
		return math.Inf(1)
	}
	return float64(depth*depth) / run
}

// stake is the offset of the edge of the cut on the side to which c rises.
func (s *shape) stake(h, c float64) (float64, bool) {
	rise := float64(c * s.half)
	edge, other := h+rise, h-rise
	if edge < 0 {
		if other <= 0 {
			return 0, false
		}
		return s.half * ((edge + other) / (other - edge)), true // where h + c·y is 0
	}
	if edge == 0 && other <= 0 {
		return 0, false
	}
	run := 1 - float64(s.batter*c)
	if run <= 0 {
		return 0, false
	}
	return s.half + float64(s.batter*edge)/run, true
}

func (s *shape) backfill(h, c float64) float64 {
	if s.build <= 0 || s.reach <= s.path {
		return 0
	}
	right, _ := s.beside(h, c)
	left, _ := s.beside(h, -c)
	return right + left
}

// beside is the backfill on the side to which c rises, and its first moment about
// the side of the box: the quadrilateral between the box and the side of the cut,
// less what lies above the ground.
// The cut is convex, so that one straight cut of a convex quadrilateral is
// all there is to do. Offsets are taken from the side of the box, which keeps
// the shoelace sum exact for a narrow gap beside a wide path.
func (s *shape) beside(h, c float64) (area, moment float64) {
	gap, top := s.half-s.path, s.reach-s.path
	y := [4]float64{0, gap, top, 0}
	z := [4]float64{0, 0, s.build, s.build}
	h += float64(c * s.path)
	var above [4]float64 // how far the ground is above each corner
	buried, bare := true, true
	for i := range y {
		above[i] = h + float64(c*y[i]) - z[i]
		buried = buried && above[i] >= 0
		bare = bare && above[i] <= 0
	}
	switch {
	case bare:
		return 0, 0
	case buried:
		return 0.5 * float64((gap+top)*s.build), float64(float64(gap*gap)+float64(gap*top)+float64(top*top)) * s.build / 6
	}
	var twice, six, y0, z0, py, pz float64
	n := 0
	visit := func(vy, vz float64) {
		if n == 0 {
			y0, z0 = vy, vz
		} else {
			w := float64(py*vz) - float64(vy*pz)
			twice += w
			six += float64(w * (py + vy))
		}
		py, pz = vy, vz
		n++
	}
	for i := range y {
		j := (i + 1) & 3
		if above[i] >= 0 {
			visit(y[i], z[i])
		}
		if (above[i] > 0 && above[j] < 0) || (above[i] < 0 && above[j] > 0) {
			t := above[i] / (above[i] - above[j])
			visit(y[i]+float64(t*(y[j]-y[i])), z[i]+float64(t*(z[j]-z[i])))
		}
	}
	w := float64(py*z0) - float64(y0*pz)
	twice += w
	six += float64(w * (py + y0))
	if twice < 0 {
		return 0, 0 // the rounding of an empty sliver
	}
	return 0.5 * twice, six / 6
}
