package materials

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// Wedge is a box step on a bend: its riser timbers lie on radii of the bend
// and its two sides differ. Whether the bend turns right or left makes no
// difference to the timber, and its plan area is width times tread as in a
// straight box.
type Wedge struct {
	// Number is the riser's number. Used in notes only.
	Number int
	// Riser as of [Box].
	Riser unit.Length
	// Tread is the depth along the path's centreline, riser face to riser
	// face; Radius that of the centreline. The radius must be more than half
	// the width.
	Tread, Radius unit.Length
	// Width is that of the path over the timbers' ends.
	Width unit.Length
	// NextBears is set where the next riser timber stands on this box's sides.
	NextBears bool
}

// WedgePlan is how a wedge is set out and cut.
type WedgePlan struct {
	// Turn is the angle between this riser timber and the next.
	Turn unit.Angle
	// InnerTread and OuterTread are the tread's depths along the path's two
	// edges: (1 ∓ W/2R) times that of the centreline.
	InnerTread, OuterTread unit.Length
	// InnerFace and OuterFace are straight from riser face to riser face along
	// the sides' outside faces: 2ρ·sin(Turn/2).
	InnerFace, OuterFace unit.Length
	// InnerSide and OuterSide are the side timbers' lengths by the longer
	// edge, from this riser timber's back to the next one's face, or on under
	// it. 0 for one that has no room.
	InnerSide, OuterSide unit.Length
	// Mitre is how far off square each side's ends are cut: half the turn.
	Mitre unit.Angle
	// MitreWaste is what the mitres of both ends of one side timber take off
	// its shorter edge.
	MitreWaste unit.Length
}

// Plan works out a wedge built to the detail.
//
// The error is a [Faults].
func (w Wedge) Plan(d BoxDetail) (WedgePlan, error) {
	var f Faults
	d.check("detail", &f)
	w.check("", d, &f)
	if len(f) > 0 {
		return WedgePlan{}, f
	}
	return w.plan(d), nil
}

func (w Wedge) check(at string, d BoxDetail, f *Faults) {
	c := &checker{at, f}
	ok := c.length("riser", w.Riser, 10*unit.Millimeter, 2*unit.Meter)
	ok = c.length("width", w.Width, 200*unit.Millimeter, 20*unit.Meter) && ok
	ok = c.length("tread", w.Tread, 10*unit.Millimeter, 100*unit.Meter) && ok
	ok = checkRadius(c, w.Radius) && ok
	if !ok {
		return
	}
	if w.Tread <= d.Breadth() {
		c.wrong("tread", w.Tread, "is not deeper than the timber's "+show(d.Breadth()), "give a deeper tread or a thinner timber")
	}
	if w.Width.Meters() <= 2*d.Breadth().Meters() {
		c.wrong("width", w.Width, "leaves nothing between two side timbers", "give a wider path or a thinner timber")
	}
	w.checkRadius(c)
	if n, _, _ := d.Courses(w.Riser); n == 0 {
		c.wrong("riser", w.Riser, fmt.Sprintf("would take more than %d courses", maxCourses), "give a thicker timber")
	}
}

func checkRadius(c *checker, r unit.Length) bool {
	return c.length("radius", r, 100*unit.Millimeter, 1000*unit.Kilometer)
}

// checkRadius holds the radius against width and tread.
func (w Wedge) checkRadius(c *checker) {
	if half := w.Width.Meters() / 2; w.Radius.Meters() <= half {
		c.wrong("radius", w.Radius, "is not more than half the path's width", "give more than "+show(unit.Length(half)))
	} else if w.Tread.Meters() > w.Radius.Meters()*pi/2 {
		c.wrong("tread", w.Tread, "turns more than a right angle", "give a larger radius or a shorter tread")
	}
}

// wedge is the box on a bend.
func (b Box) wedge(nextBears bool) Wedge {
	return Wedge{Number: b.Number, Riser: b.Riser, Tread: b.Tread, Radius: b.Radius, Width: b.Width, NextBears: nextBears}
}

func (w Wedge) plan(d BoxDetail) WedgePlan {
	r, half, breadth := w.Radius.Meters(), w.Width.Meters()/2, d.Breadth().Meters()
	turn := w.Tread.Meters() / r
	sin, cos := sinCos(turn / 2)
	tan := sin / cos
	p := WedgePlan{
		Turn: unit.Angle(turn), Mitre: unit.Angle(turn / 2),
		InnerTread: unit.Length(w.Tread.Meters() * (1 - half/r)), OuterTread: unit.Length(w.Tread.Meters() * (1 + half/r)),
		InnerFace: unit.Length(2 * (r - half) * sin), OuterFace: unit.Length(2 * (r + half) * sin),
		MitreWaste: unit.Length(2 * breadth * tan),
	}
	// From the riser timber's back, or the joint in it, and on under the next one.
	ends := (d.EndIn().Meters() - breadth) / cos
	if w.NextBears {
		ends += d.overlap().Meters() / cos
	}
	// The inner timber's longer edge is the one towards the path's middle.
	side := func(edge float64) unit.Length {
		if edge+ends <= 0 {
			return 0
		}
		return unit.Length(edge + ends)
	}
	p.OuterSide = side(p.OuterFace.Meters())
	p.InnerSide = side(p.InnerFace.Meters() + p.MitreWaste.Meters())
	return p
}

// WedgePieces lists the timbers of wedges built to the detail: riser timbers
// and, for each course, one side on the inside and one on the outside, each by
// its longer edge so that a board cut to it holds the mitred piece. Cross
// pieces are as in a straight box as deep as the centreline.
//
// The error is a [Faults].
func WedgePieces(wedges []Wedge, d BoxDetail) ([]Piece, []Note, error) {
	var f Faults
	d.check("detail", &f)
	if len(wedges) > MaxBoxes {
		f.Add("wedges", fmt.Sprint(len(wedges)), fmt.Sprintf("is more than %d boxes", MaxBoxes), "split the path")
		return nil, nil, f
	}
	if len(f) == 0 {
		for i, w := range wedges {
			w.check(fmt.Sprintf("wedges[%d].", i), d, &f)
		}
	}
	if len(f) > 0 {
		return nil, nil, f
	}
	var pieces []Piece
	var notes []Note
	for _, w := range wedges {
		p := w.plan(d)
		courses, _, _ := d.Courses(w.Riser)
		add := func(use string, l unit.Length, n int) {
			if l <= 0 || n == 0 {
				return
			}
			if parts, each := d.splice(l); parts > 1 {
				notes = append(notes, Note{Box: w.Number, Item: use, Says: d.noteSplice(use, l, parts)})
				l, n = each, n*parts
			}
			pieces = append(pieces, Piece{Section: d.Timber.Name, Length: l, Count: n, Use: use})
		}
		add(ItemRiserTimber, w.Width, courses)
		add(ItemSideTimber, p.OuterSide, courses)
		add(ItemSideTimber, p.InnerSide, courses)
		if every := d.CrossEvery.Meters(); every > 0 && w.Tread.Meters() > every {
			n := int(math.Ceil((w.Tread.Meters()-1e-6)/every)) - 1
			add(ItemCrossPiece, unit.Length(w.Width.Meters()-2*(d.Breadth()-d.EndIn()).Meters()), n)
		}
		notes = append(notes, p.notes(w.Number)...)
	}
	return addPieces(nil, pieces), notes, nil
}

// notes are how a wedge is set out.
func (p WedgePlan) notes(number int) []Note {
	var out []Note
	if p.InnerSide == 0 {
		out = append(out, Note{Box: number, Item: ItemSideTimber, Says: "the inside of the bend leaves no room for a side timber: the riser timbers meet there"})
	}
	return append(out, Note{Box: number, Item: ItemSideTimber, Says: fmt.Sprintf("on the bend: the riser timbers are %.2f° apart, side timbers are mitred %.2f° off square",
		p.Turn.Radians()*180/pi, p.Mitre.Radians()*180/pi)})
}

// sidesArea is the plan area of one course of both sides between this riser
// timber's back and the next one's face: each a trapezoid, its longer edge less
// half of what both mitres take off.
func (p WedgePlan) sidesArea(d BoxDetail) float64 {
	w := d.Breadth().Meters()
	_, cos := sinCos(p.Mitre.Radians())
	sum := 0.0
	for _, edge := range []unit.Length{p.OuterFace, p.InnerFace + p.MitreWaste} {
		if l := edge.Meters() - w/cos - p.MitreWaste.Meters()/2; l > 0 {
			sum += float64(l * w)
		}
	}
	return sum
}

// sinCos is the sine and cosine of 0 to π/4 by their series, with the same bits
// on every machine, which the library's are not where multiplications fuse.
func sinCos(x float64) (sin, cos float64) {
	x2 := float64(x * x)
	sin, cos = 1, 1
	for k := 21; k >= 3; k -= 2 {
		sin = 1 - float64(x2*sin)/float64(k*(k-1))
		cos = 1 - float64(x2*cos)/float64((k-1)*(k-2))
	}
	return float64(x * sin), cos
}
