package main

import (
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/stair"
)

// slope is ground that is straight from foot to head. It is a [stair.Site] that
// prices the path by what is dug: the volume in the bank between the ground and
// the bed of the gravel, which lies depth below the finished surface, over the
// width of the path with upright sides. Trenches under timbers are left out.
type slope struct {
	grade            float64 // rise over run; the foot is at station 0 and level 0
	width, depth     unit.Length
	maxCut, maxRaise unit.Length // how far the bed may lie below the ground, and above it
}

// ground is its level at a station.
func (s slope) ground(x unit.Length) unit.Length { return unit.Length(s.grade * float64(x)) }

// Cells implements [stair.Site].
func (s slope) Cells(at []unit.Length, l stair.Line, cost []float64, bears []bool) {
	const near = 1e-9 // so that a limit met exactly is kept
	over := func(x unit.Length) float64 { return s.ground(x).Meters() - (l.At(x) - s.depth).Meters() }
	a := over(at[0])
	for i := range cost {
		b, long := over(at[i+1]), (at[i+1] - at[i]).Meters()
		cost[i] = above(a, b) * long * s.width.Meters()
		bears[i] = max(a, b) <= s.maxCut.Meters()+near && min(a, b) >= -s.maxRaise.Meters()-near
		a = b
	}
}

// above is the mean of what of a straight line from a to b is above nought.
func above(a, b float64) float64 {
	switch {
	case a >= 0 && b >= 0:
		return (a + b) / 2
	case a <= 0 && b <= 0:
		return 0
	}
	most := max(a, b) // a triangle over the part of the stretch that is above
	return most * most / (2 * math.Abs(a-b))
}

// Riser implements [stair.Site].
func (s slope) Riser(unit.Length) float64 { return 0 }

// Sunk implements [stair.Sinker], which makes the fit quicker: all of the digging is
// more under a lower surface.
func (s slope) Sunk(stair.Kind, []unit.Length, []float64) bool { return true }

// drop is the greatest height of a nosing over the ground.
func (s slope) drop(l stair.Layout) unit.Length {
	var most unit.Length
	for _, step := range l.Steps {
		most = max(most, step.Level-s.ground(step.Station))
	}
	return most
}
