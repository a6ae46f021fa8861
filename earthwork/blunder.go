package earthwork

import (
	"math"

	"github.com/martinlindhe/unit"
)

// Blunder is a point of a ground that lies far off the line of those beside it:
// more than three times as far as any other would without it.
type Blunder struct {
	// Index is which of the points.
	Index int
	// Off is how far it lies off that line; Others how far any other does without
	// it, at least.
	Off, Others unit.Length
	// Meant is the first of the levels asked for that would put it where the others
	// are, or -1.
	Meant int
}

// Where a point is looked at: steeper than any soil stands on both sides of a peak
// or a hollow, and as an end, which has one side only. Ours, from no source: set so that
// made-up hills with banks and walls are not cried wolf at (TestFindBlunder, and with
// readings as they are written TestOrdinaryHillsHaveNoSlips of the root).
const (
	blunderTimes    = 3.0  // off the line, by what the others are
	blunderEndTimes = 5.0  // an end, whose line is only drawn out
	blunderSteep    = 1.0  // both sides of a point that no slip explains
	blunderSlope    = 0.8  // one side of a point that a slip explains, and an end that falls
	blunderDip      = 0.35 // the other side: terraces fall less towards the wall behind them
	blunderEnd      = 1.5  // an end that rises, and that a slip explains
	blunderBend     = 0.3  // by so much an end's leg may be steeper or flatter than the next
	blunderLeast    = 0.1  // m: others lie off their lines by that much anyway
	blunderTall     = 0.5  // m: lower ones are stones and tussocks
	blunderWall     = 4.0  // m: an end that rises no higher may be a wall
	blunderLong     = 8.0  // times as long as any other leg
	blunderReach    = 10   // m: shorter legs are ordinary beside short ones
	blunderSheer    = 2.0  // times as steep as any other leg
)

// FindBlunder looks for one wrong level among three points or more, stations
// ascending from foot to head. Each is held against the straight line through the two
// beside it, an end against that through the next two, no steeper than soil stands; the others against theirs,
// without it. It is a blunder when it lies three times as far off as the worst of them
// (an end five times), is a peak or a hollow, as steps in a bank are not, and either one
// of the levels that meant gives for it fits the others, or it stands steeper than soil
// does on both sides. An end is one only where a level that was meant explains it, and
// it falls, or rises higher than walls do; of a ground that falls all told, where it
// falls no more steeply than terraces do. Of three points none is one that no level
// explains. Of several the one is given that is furthest off by that measure; a second
// one may hide it. What is no more than the ground's own steps is not seen. The measure
// is our own: no published figure was found.
func FindBlunder(points []Point, meant func(i int) []unit.Length) (Blunder, bool) {
	n := len(points)
	var best Blunder
	worst := 0.0
	if n < 3 {
		return best, false
	}
	for i := 1; i < n; i++ {
		if points[i].Station <= points[i-1].Station {
			return best, false
		}
	}
	falls := blunderSlope
	if points[n-1].Level <= points[0].Level {
		falls = blunderDip
	}
	for i, p := range points {
		off := offLine(points, i, float64(p.Level))
		others, spread := without(points, i, blunderLeast)
		times, slack := off/spread, 0.0
		below, above := gradeTo(points, i, i-1), gradeTo(points, i, i+1)
		end := i == 0 || i == n-1
		if end { // its leg may be steeper or flatter than the one before
			times *= blunderTimes / blunderEndTimes
			slack = blunderBend * math.Abs(float64(p.Station-others[max(i-1, 0)].Station))
		}
		if n == 3 { // there is nothing to tell how far off others are
			slack = blunderBend * math.Min(float64(points[1].Station-points[0].Station), float64(points[2].Station-points[1].Station))
		}
		if times < blunderTimes || times <= worst || off < blunderTall && (end || n == 3) {
			continue
		}
		x := Blunder{Index: i, Off: unit.Length(off), Others: unit.Length(spread), Meant: -1}
		for k, level := range meant(i) {
			if x.Meant < 0 && level != p.Level && offLine(points, i, float64(level)) <= spread+slack {
				x.Meant = k
			}
		}
		// Up from the foot and up to the head is how hills go, and up on one side and
		// down on the other is a step.
		up := below - above
		low, high := math.Min(math.Abs(below), math.Abs(above)), math.Max(math.Abs(below), math.Abs(above))
		stands := below*above > 0 && (x.Meant >= 0 && high >= blunderSlope && low >= blunderDip || low >= blunderSteep && off >= blunderTall)
		if end {
			stands = up >= blunderEnd && off >= blunderWall || up <= -falls
		}
		if stands && (x.Meant >= 0 || !end && n > 3) {
			best, worst = x, times
		}
	}
	return best, worst > 0
}

// without is the points but for one, and how far the worst of them lies off its line then,
// at least.
func without(points []Point, i int, spread float64) ([]Point, float64) {
	others := append(append([]Point(nil), points[:i]...), points[i+1:]...)
	for j := 1; j < len(others)-1; j++ {
		spread = math.Max(spread, offLine(others, j, float64(others[j].Level)))
	}
	return others, spread
}

// FitsBetter is whether a point would lie on the line of those beside it at another level,
// no further off than the worst of the others, and as it is lies three times as far off (an
// end, whose line is only drawn out, five times). It is asked of a reading that is
// suspect by itself, and so asks less than [FindBlunder]; the measure is our own.
// Stations ascend from foot to head.
func FitsBetter(points []Point, i int, level unit.Length) bool {
	n, times := len(points), blunderTimes
	if i == 0 || i == n-1 {
		times = blunderEndTimes
	}
	if n < 4 {
		return false
	}
	_, spread := without(points, i, blunderLeast/2)
	return offLine(points, i, float64(points[i].Level)) >= times*spread && offLine(points, i, float64(level)) <= spread
}

// offLine is how far a point at a level would lie off the line through its
// neighbours.
func offLine(p []Point, i int, level float64) float64 {
	a, b := i-1, i+1
	if i == 0 {
		a, b = 1, 2
	} else if i == len(p)-1 {
		a, b = i-2, i-1
	}
	grade := float64(p[b].Level-p[a].Level) / float64(p[b].Station-p[a].Station)
	if i == 0 || i == len(p)-1 { // a bank or a wall beside an end does not go on
		grade = math.Max(-blunderSteep, math.Min(blunderSteep, grade))
	}
	return math.Abs(level - float64(p[a].Level) - float64(grade*float64(p[i].Station-p[a].Station)))
}

// gradeTo is how steeply the ground rises from a neighbour to a point, 0 where
// there is none.
func gradeTo(p []Point, i, j int) float64 {
	if j < 0 || j >= len(p) {
		return 0
	}
	return float64(p[i].Level-p[j].Level) / math.Abs(float64(p[i].Station-p[j].Station))
}

// LegBlunder is a leg of a slope tape that is far out of what the others are.
type LegBlunder struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Index is which of the legs; Times is how many times as long, where Long, or as
	// steep as any other leg it is.
	Index int
	Long  bool
	Times float64
	// Meant is which of the lengths or slopes asked for it may have been meant to have.
	Meant int
}

// FindLegBlunder looks for one wrong leg among four or more. A leg is long or short and
// steep or not by itself, so that only two are taken for blunders: one at least eight
// times as long as any other, and more than 10 m; and one that rises or falls as steeply
// as no soil stands, at least twice as steeply as any other, and higher than walls are.
// Either only where one of the lengths, or of the slopes in the measure of the leg, that
// is asked for it is among the others: half to twice as long, and no steeper. The measure
// is our own, as of [FindBlunder].
func FindLegBlunder(legs []SlopeReading, lengths func(i int) []unit.Length, slopes func(i int) []float64) (b LegBlunder, ok bool) {
	n := len(legs)
	if n < 4 {
		return b, false
	}
	long, grade, rise := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range legs {
		var none Faults
		sin, cos := legs[i].slope(&none, "")
		long[i], grade[i] = legs[i].Length.Meters(), sin/cos
		rise[i] = math.Abs(float64(long[i] * sin))
	}
	for i := range legs {
		shortest, longest, low, high := math.Inf(1), 0.0, 0.0, 0.0
		for k := range legs {
			if k != i {
				shortest, longest = math.Min(shortest, long[k]), math.Max(longest, long[k])
				low, high = math.Min(low, grade[k]), math.Max(high, grade[k])
			}
		}
		b.Index = i
		if b.Times = long[i] / longest; b.Times >= blunderLong && long[i] >= blunderReach {
			b.Long = true
			for k, l := range lengths(i) {
				if x := l.Meters(); x >= shortest/2 && x <= 2*longest {
					b.Meant = k
					return b, true
				}
			}
		}
		steepest := math.Max(math.Max(high, -low), 0.01)
		if b.Times = math.Abs(grade[i]) / steepest; b.Times >= blunderSheer && math.Abs(grade[i]) >= blunderSteep && rise[i] >= blunderWall {
			b.Long = false
			for k, x := range slopes(i) {
				if legs[i].Grade == nil {
					sin, cos := sinCos(x)
					x = sin / cos
				}
				if x >= low && x <= high {
					b.Meant = k
					return b, true
				}
			}
		}
	}
	return b, false
}
