package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// CutCells works out the cut of each of many short cells of a path under one
// straight formation, as a fit of steps asks for over and over. Cell i goes from
// at[i] to at[i+1]; the stations must ascend and lie on the ground. Of cell i,
//
//   - cut[i] is the volume dug, bank measure, by the same exact integration as
//     [Ground.Dig], ground points inside a cell included;
//   - deepest[i] is the greatest depth of the formation below the ground,
//     anywhere across the width dug (Dug.DeepestEdge);
//   - highest[i] is the greatest height of the formation above the ground,
//     anywhere across the width of the path (Dug.HighestEdge).
//
// In a bend the cut is weighted as Dig weights it; where the dig would reach the
// centre of the bend, which [Ground.BendsClear] tells, it is counted as if the path
// were straight there.
//
// None is negative. Each of the three slices must be as long as there are cells,
// or nil when it is not wanted. CutCells allocates nothing unless it fails.
//
// The error is a [Faults] as of [Ground.Dig], with the fields at, formation, cut,
// deepest and highest; the slices then hold nothing of use.
func (g Ground) CutCells(sec Section, at []unit.Length, formation Line, cut []unit.Volume, deepest, highest []unit.Length) error {
	if err := g.checkCells(sec, at, formation, cut, deepest, highest); err != nil {
		return err
	}
	sh := sec.shape(0)
	cells := len(at) - 1
	seg, last := g.bayOf(float64(at[0])), len(g.points)-2
	bend := 0
	for i := 0; i < cells; {
		x0 := float64(at[i])
		for seg < last && float64(g.points[seg+1].Station) <= x0 {
			seg++
		}
		run := g.run(seg, seg == last, formation)
		if len(g.bends) > 0 {
			kappa, edge := g.curve(x0, &bend)
			sh.kappa = kappa
			if edge < run.x1 {
				run.x1 = edge
			}
		}
		next := i
		switch {
		case sh.steep(run):
		case run.c0 == 0 && run.cs == 0:
			// Level across, a section lies evenly about the centreline: a bend
			// changes nothing.
			next = levelCells(&sh, run, i, at, cut, deepest, highest)
		case sh.kappa != 0:
			next = slopingCells(&sh, run, i, at, nil, deepest, highest)
			if cut != nil {
				bendCells(&sh, run, at[i:next+1], cut[i:next])
			}
		default:
			next = slopingCells(&sh, run, i, at, cut, deepest, highest)
		}
		if next == i && g.levelPieces(&sh, run, seg, i, at, formation, cut, deepest, highest) {
			next = i + 1
		}
		if next == i { // a cell that needs looking at
			if err := g.anyCell(&sh, seg, i, at, formation, cut, deepest, highest); err != nil {
				return err
			}
			next = i + 1
		}
		i = next
	}
	return nil
}

// bayOf is the stretch between two points that a station lies in; one a rounding
// before the first point belongs to the first stretch.
func (g *Ground) bayOf(x float64) int {
	lo, hi := 0, len(g.points)-2
	for lo < hi {
		if mid := (lo + hi + 1) / 2; float64(g.points[mid].Station) <= x {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return lo
}

// plain is whether there is plainly nothing wrong with cells, which saves looking
// closer.
func (g *Ground) plain(sec *Section, at []unit.Length, l *Line) bool {
	n := len(g.points)
	if n < 2 || len(at) < 2 {
		return false
	}
	first, last := float64(g.points[0].Station), float64(g.points[n-1].Station)
	a, z := float64(at[0]), float64(at[len(at)-1])
	low, high := float64(l.Level)+float64(l.Grade*(a-float64(l.Station))), float64(l.Level)+float64(l.Grade*(z-float64(l.Station)))
	const far, deep = 1000, 1000 // metres, much less than is allowed
	return a >= first && z <= last && first > -far && last < far &&
		l.Station > -far && l.Station < far && l.Grade >= -1 && l.Grade <= 1 &&
		l.Level > -deep && l.Level < deep && low > -deep && low < deep && high > -deep && high < deep &&
		sec.Width > 0 && sec.Width <= maxSectionWidth && sec.Working >= 0 && sec.Working <= maxWorking &&
		sec.Batter >= 0 && sec.Batter <= maxBatter && sec.FillBatter >= 0 && sec.FillBatter <= maxBatter
}

func (g *Ground) checkCells(sec Section, at []unit.Length, formation Line, cut []unit.Volume, deepest, highest []unit.Length) error {
	fits := func(slice int, given bool) bool { return !given || slice == len(at)-1 }
	if g.plain(&sec, at, &formation) && descends(at) == 0 &&
		fits(len(cut), cut != nil) && fits(len(deepest), deepest != nil) && fits(len(highest), highest != nil) {
		return nil
	}
	var faults fault.List
	faults.Put("section", sec.Validate())
	if len(at) < 2 {
		faults.Add("at", fmt.Sprint(len(at)), "stations do not make a cell", "give at least 2")
		return faults
	}
	n := len(faults)
	g.checkRange(&faults, at[0], at[len(at)-1])
	for i := n; i < len(faults); i++ {
		switch faults[i].Field {
		case "from":
			faults[i].Field = "at[0]"
		case "to":
			faults[i].Field = fmt.Sprintf("at[%d]", len(at)-1)
		}
	}
	if i := descends(at); i > 0 {
		faults.Add(fmt.Sprintf("at[%d]", i), sayLength(at[i].Meters()), "does not lie beyond the station before it", "give the stations uphill")
	}
	checkLine(&faults, "formation", formation, at[0], at[len(at)-1])
	size := func(field string, have int, given bool) {
		if !fits(have, given) {
			faults.Add(field, fmt.Sprint(have), "is not the number of cells", fmt.Sprintf("make it %d long, or nil", len(at)-1))
		}
	}
	size("cut", len(cut), cut != nil)
	size("deepest", len(deepest), deepest != nil)
	size("highest", len(highest), highest != nil)
	return faults.Err()
}

// descends gives the first station that is not beyond the one before it, or 0.
//
//go:noinline
func descends(at []unit.Length) int {
	for i := 1; i < len(at); i++ {
		if !(at[i] > at[i-1]) {
			return i
		}
	}
	return 0
}

// run is a stretch of ground between two points against a formation: at x the
// depth is h0 + hs·(x − x0) and the crossfall c0 + cs·(x − x0).
type run struct {
	x0, x1 float64
	h0, hs float64
	c0, cs float64
}

func (g *Ground) run(seg int, last bool, formation Line) run {
	p, q := &g.points[seg], &g.points[seg+1]
	// As in levelCells, metres are taken without a call.
	x0, x1, l0, l1 := float64(p.Station), float64(q.Station), float64(p.Level), float64(q.Level)
	r := run{
		x0: x0, x1: x1,
		h0: l0 - (float64(formation.Level) + float64(formation.Grade*(x0-float64(formation.Station)))),
		hs: (l1-l0)/(x1-x0) - formation.Grade,
		c0: p.Crossfall,
		cs: (q.Crossfall - p.Crossfall) / (x1 - x0),
	}
	if last {
		r.x1 += 2 * groundSlack
	}
	return r
}

// steep tells whether a side of the cut might not meet the ground on the run.
func (s *shape) steep(r run) bool {
	end := r.c0 + float64(r.cs*(r.x1-r.x0))
	return !(float64(s.batter*math.Abs(r.c0)) < 1 && float64(s.batter*math.Abs(end)) < 1)
}

// levelCells does the cells from i on that lie within a run without crossfall, and
// gives the first it left. The area is b·h + s·h², so that the volume of a cell in
// cut is L·(b·(h0 + h1)/2 + s·(h0² + h0·h1 + h1²)/3).
//
// Stations are taken for the metres they are without asking: a call for each cell
// is a third of the work where calls are not inlined.
//
//go:noinline
func levelCells(sh *shape, r run, i int, at []unit.Length, cut []unit.Volume, deepest, highest []unit.Length) int {
	cells := len(at) - 1
	half, third := sh.half, sh.batter/3
	x0 := float64(at[i])
	h0 := r.h0 + float64(r.hs*(x0-r.x0))
	for ; i < cells; i++ {
		x1 := float64(at[i+1])
		if x1 > r.x1 {
			break
		}
		h1 := r.h0 + float64(r.hs*(x1-r.x0))
		if cut != nil {
			a, b, length := h0, h1, x1-x0
			if a < 0 || b < 0 {
				// Only the part of the cell in cut, which ends at no depth.
				switch {
				case a > 0:
					length = float64(length * (a / (a - b)))
					b = 0
				case b > 0:
					length = float64(length * (b / (b - a)))
					a = 0
				default:
					a, b = 0, 0
				}
			}
			squares := float64(a*a) + float64(a*b) + float64(b*b)
			cut[i] = unit.Volume(length * (float64(half*(a+b)) + float64(third*squares)))
		}
		if deepest != nil {
			d := h0
			if h1 > d {
				d = h1
			}
			if d < 0 {
				d = 0
			}
			deepest[i] = unit.Length(d)
		}
		if highest != nil {
			d := h0
			if h1 < d {
				d = h1
			}
			if d > 0 {
				d = 0
			}
			highest[i] = unit.Length(0 - d)
		}
		x0, h0 = x1, h1
	}
	return i
}

// levelPieces does one cell that begins on a run and goes past ground points, when
// none of them has a crossfall, and reports whether it has.
func (g *Ground) levelPieces(sh *shape, r run, seg, i int, at []unit.Length, formation Line, cut []unit.Volume, deepest, highest []unit.Length) bool {
	x, end, last := float64(at[i]), float64(at[i+1]), len(g.points)-1
	for k := seg; ; k++ {
		if g.points[k].Crossfall != 0 {
			return false
		}
		if k == last || k > seg && float64(g.points[k].Station) >= end {
			break
		}
	}
	half, third := sh.half, sh.batter/3
	h := r.h0 + float64(r.hs*(x-r.x0))
	volume, deep, low := 0.0, 0.0, 0.0
	for k := seg; ; {
		to := end
		if k+1 < last && float64(g.points[k+1].Station) < end {
			to = float64(g.points[k+1].Station)
		}
		next := r.h0 + float64(r.hs*(to-r.x0))
		if h > deep {
			deep = h
		}
		if h < low {
			low = h
		}
		if next > deep {
			deep = next
		}
		if next < low {
			low = next
		}
		if h > 0 || next > 0 {
			a, b, length := h, next, to-x
			switch { // only the part in cut, which ends at no depth
			case a < 0:
				length, a = float64(length*(b/(b-a))), 0
			case b < 0:
				length, b = float64(length*(a/(a-b))), 0
			}
			volume += float64(length * (float64(half*(a+b)) + float64(third*(float64(a*a)+float64(a*b)+float64(b*b)))))
		}
		if to >= end {
			break
		}
		k++
		r = g.run(k, k+1 == last, formation)
		x, h = to, r.h0
	}
	if cut != nil {
		cut[i] = unit.Volume(volume)
	}
	if deepest != nil {
		deepest[i] = unit.Length(deep)
	}
	if highest != nil {
		highest[i] = unit.Length(0 - low)
	}
	return true
}

// slopingCells does the cells from i on that lie within a run that has a
// crossfall, and gives the first it left. Cells all in cut under a constant
// crossfall and cells all in fill are closed forms; the others are integrated.
//
//go:noinline
func slopingCells(sh *shape, r run, i int, at []unit.Length, cut []unit.Volume, deepest, highest []unit.Length) int {
	cells := len(at) - 1
	even := r.cs == 0
	right, left := 0.0, 0.0 // of a constant crossfall: a third of ½·s/(1 ∓ s·c)
	if even {
		right = sh.batter / 6 / (1 - float64(sh.batter*r.c0))
		left = sh.batter / 6 / (1 + float64(sh.batter*r.c0))
	}
	x0 := float64(at[i])
	h0, c0 := r.h0+float64(r.hs*(x0-r.x0)), r.c0+float64(r.cs*(x0-r.x0))
	for ; i < cells; i++ {
		x1 := float64(at[i+1])
		if x1 > r.x1 {
			break
		}
		h1, c1 := r.h0+float64(r.hs*(x1-r.x0)), r.c0+float64(r.cs*(x1-r.x0))
		rise0, rise1 := float64(c0*sh.half), float64(c1*sh.half)
		r0, l0, r1, l1 := h0+rise0, h0-rise0, h1+rise1, h1-rise1
		if cut != nil {
			var mean float64
			switch {
			case r0 <= 0 && r1 <= 0 && l0 <= 0 && l1 <= 0:
			case even && r0 >= 0 && r1 >= 0 && l0 >= 0 && l1 >= 0:
				mean = float64(sh.half*(h0+h1)) +
					float64(right*(float64(r0*r0)+float64(r0*r1)+float64(r1*r1))) +
					float64(left*(float64(l0*l0)+float64(l0*l1)+float64(l1*l1)))
			case r0 >= 0 && r1 >= 0 && l0 >= 0 && l1 >= 0 && sh.steady(c0, c1):
				mean = float64(sh.half*(h0+h1)) + sh.sides(r0, r1, c0, c1) + sh.sides(l0, l1, -c0, -c1)
			default:
				mean = sh.mean(h0, c0, h1, c1, false).cut
			}
			cut[i] = unit.Volume((x1 - x0) * mean)
		}
		a0, a1 := c0, c1
		if a0 < 0 {
			a0 = -a0
		}
		if a1 < 0 {
			a1 = -a1
		}
		if deepest != nil {
			d, e := h0+float64(a0*sh.half), h1+float64(a1*sh.half)
			if e > d {
				d = e
			}
			if d < 0 {
				d = 0
			}
			deepest[i] = unit.Length(d)
		}
		if highest != nil {
			d, e := h0-float64(a0*sh.path), h1-float64(a1*sh.path)
			if e < d {
				d = e
			}
			if d > 0 {
				d = 0
			}
			highest[i] = unit.Length(0 - d)
		}
		x0, h0, c0 = x1, h1, c1
	}
	return i
}

// steady tells whether the denominators of the sides change so little that the
// 4-point rule is as good as exact: see bay.integrate.
func (s *shape) steady(c0, c1 float64) bool {
	sp, sq := float64(s.batter*c0), float64(s.batter*c1)
	return ratio(1-sp, 1-sq, ratio(1+sp, 1+sq, 1)) < 1.05
}

// sides is the average of the triangle ½·s·h²/(1 − s·c) at one edge along a cell
// where depth and crossfall both change, by the 4-point rule: see steady.
func (s *shape) sides(h0, h1, c0, c1 float64) float64 {
	if s.batter == 0 {
		return 0
	}
	d0, d1 := 1-float64(s.batter*c0), 1-float64(s.batter*c1)
	mid, half := (h0+h1)/2, (h1-h0)/2
	dmid, dhalf := (d0+d1)/2, (d1-d0)/2
	var sum float64
	for i, x := range shortNode {
		h, d := float64(half*x), float64(dhalf*x)
		lower, upper := mid-h, mid+h
		sum += float64(shortWeight[i] * (float64(lower*lower)/(dmid-d) + float64(upper*upper)/(dmid+d)))
	}
	return float64(s.batter * (sum / 4))
}

// anyCell does one cell, whatever ground points lie in it.
func (g Ground) anyCell(sh *shape, seg, i int, at []unit.Length, formation Line, cut []unit.Volume, deepest, highest []unit.Length) error {
	var volume, deep, high float64
	bend := 0
	end := at[i+1].Meters()
	a := g.station(at[i].Meters(), formation)
	note := func(s cross) {
		c := math.Abs(s.c)
		if d := s.h + float64(c*sh.half); d > deep {
			deep = d
		}
		if d := float64(c*sh.path) - s.h; d > high {
			high = d
		}
	}
	note(a)
	for k := seg + 1; a.x < end; k++ {
		x := end
		if k < len(g.points) && g.points[k].Station.Meters() < x {
			x = g.points[k].Station.Meters()
			if x <= a.x {
				continue // the cell starts on this point, or a rounding before it
			}
		}
		kappa := 0.0
		if len(g.bends) > 0 {
			var edge float64
			if kappa, edge = g.curve(a.x, &bend); edge < x {
				x = edge
				k--
			}
		}
		b := g.station(x, formation)
		if f, bad := runsOut(a, b, sh.half, sh.batter); bad {
			f.Problem, f.Fix = cutNeverMeets, cutNeverMeetsFix
			return Faults{f}
		}
		volume += float64((b.x - a.x) * sh.bendMean(a, b, kappa))
		note(b)
		a = b
	}
	if cut != nil {
		cut[i] = unit.Volume(volume)
	}
	if deepest != nil {
		deepest[i] = unit.Length(deep)
	}
	if highest != nil {
		highest[i] = unit.Length(high)
	}
	return nil
}
