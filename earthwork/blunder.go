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
// made-up hills with banks and walls are not cried wolf at (TestFindBlunder).
const (
	blunderTimes    = 3.0 // off the line, by what the others are
	blunderEndTimes = 5.0 // an end, whose line is only drawn out
	blunderSteep    = 1.0 // both sides of a point that no slip explains
	blunderSlope    = 0.8 // one side of a point that a slip explains, and an end that falls
	blunderEnd      = 1.5 // an end that rises, and that a slip explains
	blunderBend     = 0.3 // by so much an end's leg may be steeper or flatter than the next
	blunderLeast    = 0.1 // m: others lie off their lines by that much anyway
	blunderTall     = 0.5 // m: lower ones are stones and tussocks
)

// FindBlunder looks for one wrong level among four points or more, stations
// ascending. Each is held against the straight line through the two beside it, an
// end against that through the next two; the others against theirs, without it.
// It is a blunder when it lies three times as far off as the worst of them (an end
// five times), is a peak or a hollow, as steps in a bank are not, and either one of
// the levels that meant gives for it fits the others, or it stands steeper than soil
// does on both sides. Of several the one is given that is furthest off by that
// measure; a second one may hide it. What is no more than the ground's own steps is
// not seen. The measure is our own: no published figure was found.
func FindBlunder(points []Point, meant func(i int) []unit.Length) (Blunder, bool) {
	n := len(points)
	var best Blunder
	worst := 0.0
	for i := range n {
		if n < 4 || i > 0 && points[i].Station <= points[i-1].Station {
			return best, false
		}
	}
	for i, p := range points {
		off := offLine(points, i, float64(p.Level))
		others := append(append([]Point(nil), points[:i]...), points[i+1:]...)
		spread := blunderLeast
		for j := 1; j < n-2; j++ {
			spread = math.Max(spread, offLine(others, j, float64(others[j].Level)))
		}
		times, slack := off/spread, 0.0
		below, above := gradeTo(points, i, i-1), gradeTo(points, i, i+1)
		end := i == 0 || i == n-1
		if end { // its leg may be steeper or flatter than the one before
			times *= blunderTimes / blunderEndTimes
			slack = blunderBend * math.Abs(float64(p.Station-others[max(i-1, 0)].Station))
		}
		if times < blunderTimes || times <= worst {
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
		stands := below*above > 0 && (x.Meant >= 0 && high >= blunderSlope || low >= blunderSteep && off >= blunderTall)
		if end {
			stands = x.Meant >= 0 && (up >= blunderEnd || up <= -blunderSlope)
		}
		if stands {
			best, worst = x, times
		}
	}
	return best, worst > 0
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
