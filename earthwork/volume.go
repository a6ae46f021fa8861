package earthwork

import (
	"fmt"
	"math"
	"sort"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Bounds of a formation line, wider than those of any ground.
const (
	maxFormationLevel = 2 * maxGroundLevel
	maxGrade          = 10.0
)

// Line is a straight line along the path, the level of a formation: through
// the point Station, Level, rising Grade (rise per run, uphill positive).
type Line struct {
	Station, Level unit.Length
	Grade          float64
}

// LevelAt is the level of the line at a station.
func (l Line) LevelAt(station unit.Length) unit.Length {
	return unit.Length(l.at(station.Meters()))
}

func (l Line) at(x float64) float64 {
	return l.Level.Meters() + float64(l.Grade*(x-l.Station.Meters()))
}

// Stretch is a length of path with one formation, the part under one tread or
// landing.
type Stretch struct {
	// From and To are the stations of its ends, From at or below To, both on
	// the ground.
	From, To unit.Length
	// Formation is the surface dug to. Its levels between From and To must lie
	// within 20 km of the datum, its Grade from -10 to 10.
	Formation Line
	// BuildUp is the height of what is built on the formation, 0 to 10 m: the
	// soil dug out beside it goes back to that height. 0 means no backfill.
	BuildUp unit.Length
}

// Dug is the earth moved in a stretch. Cut is in bank measure, Fill and
// Backfill are the spaces to be filled, in compacted measure. Nothing in it is
// negative.
type Dug struct {
	// Cut is dug out, Fill is placed under the formation, Backfill beside the
	// boxes.
	Cut, Fill, Backfill unit.Volume
	// Deepest is the greatest depth of the formation below the ground at the
	// centreline, DeepestAt its station; DeepestEdge is the greatest at either
	// edge of the formation, which with a crossfall is the face of the cut
	// somebody stands beside. 0 where nothing is cut.
	Deepest, DeepestAt, DeepestEdge, DeepestEdgeAt unit.Length
	// Highest is the greatest height of the formation above the ground at the
	// centreline, HighestAt its station; HighestEdge is the greatest at either
	// edge of the path. 0 where nothing is filled.
	Highest, HighestAt, HighestEdge, HighestEdgeAt unit.Length
	// AverageEndArea and Prismoidal are the cut as two rules of the trade give
	// it, bay by bay between the ground points, to be held against Cut:
	// L(A1 + A2)/2 and L(A1 + 4Am + A2)/6, Am being the area of the section
	// half-way. They differ from Cut where a bay is part cut and part fill,
	// and the first also where the depth changes along a bay.
	AverageEndArea, Prismoidal unit.Volume
}

// Plus adds two stretches: volumes are summed, and of each depth and height the
// greater is kept, that of d when they are equal.
func (d Dug) Plus(e Dug) Dug {
	d.Cut += e.Cut
	d.Fill += e.Fill
	d.Backfill += e.Backfill
	d.AverageEndArea += e.AverageEndArea
	d.Prismoidal += e.Prismoidal
	keep := func(v, at *unit.Length, w, wat unit.Length) {
		if w > *v {
			*v, *at = w, wat
		}
	}
	keep(&d.Deepest, &d.DeepestAt, e.Deepest, e.DeepestAt)
	keep(&d.DeepestEdge, &d.DeepestEdgeAt, e.DeepestEdge, e.DeepestEdgeAt)
	keep(&d.Highest, &d.HighestAt, e.Highest, e.HighestAt)
	keep(&d.HighestEdge, &d.HighestEdgeAt, e.HighestEdge, e.HighestEdgeAt)
	return d
}

// Dig works out the earth moved in a stretch.
//
// Between two ground points depth and crossfall are linear in the station, so
// that the stations where the ground line passes through a corner of the
// section are found exactly: between them the areas are smooth. Where the
// crossfall is constant they are quadratic there and Simpson's rule is exact.
// Where it changes they are quotients whose denominators (1 ± batter·c, and c
// where the ground crosses the floor of the section) are linear; each piece
// is halved until no denominator more than doubles along it, and 8-point
// Gauss-Legendre quadrature, whose error falls as (3 + √8)^-17 there, is
// within 1e-10 of the volume of the piece.
//
// In a bend of curvature κ, positive to the right, each section counts
// A·(1 − κ·ȳ), ȳ being the offset of its centroid (Pappus): the area less κ times
// its first moment. The ends of bends are breaks like the ground points. The
// moments are cubic where the areas are quadratic, so that Simpson's rule stays
// exact, and their denominators are the same, squared, which costs Gauss-Legendre
// less than one figure: the bound stays. Average end areas and the prismoidal
// volume are then those of the areas so weighted.
//
// The error is a [Faults]: those of the section under section, and from, to,
// formation.station, formation.level, formation.grade, build_up; or ground,
// when the ground has no points, or is so steep across that a side at the
// batter would never meet it; or bends[i].radius for every bend whose centre the
// dig would reach.
func (g Ground) Dig(sec Section, st Stretch) (Dug, error) {
	var faults fault.List
	faults.Put("section", sec.Validate())
	g.checkRange(&faults, st.From, st.To)
	checkLine(&faults, "formation", st.Formation, st.From, st.To)
	if b := st.BuildUp.Meters(); !(b >= 0 && b <= maxBuildUp) {
		faults.Add("build_up", sayLength(b), "is not a height", "give 0 to 10 m")
	}
	if err := faults.Err(); err != nil {
		return Dug{}, err
	}
	sh := sec.shape(st.BuildUp.Meters())
	d := Dug{DeepestAt: st.From, DeepestEdgeAt: st.From, HighestAt: st.From, HighestEdgeAt: st.From}
	var sum, end, prism total
	if g.checkBends(&faults, &sh, st); len(faults) > 0 {
		return Dug{}, faults
	}
	a := g.station(st.From.Meters(), st.Formation)
	d.measure(&sh, a)
	bend := 0
	first := sort.Search(len(g.points), func(k int) bool { return g.points[k].Station > st.From })
	for k := first; a.x < st.To.Meters(); k++ {
		x := st.To.Meters()
		if k < len(g.points) && g.points[k].Station.Meters() < x {
			x = g.points[k].Station.Meters()
		}
		if len(g.bends) > 0 {
			kappa, edge := g.curve(a.x, &bend)
			sh.kappa = kappa
			if edge < x {
				x = edge
				k--
			}
		}
		b := g.station(x, st.Formation)
		if fault, bad := sh.neverMeets(a, b); bad {
			return Dug{}, Faults{fault}
		}
		length := b.x - a.x
		m := sh.mean(a.h, a.c, b.h, b.c, true)
		sum.add(length, m)
		ends := sh.areas(a.h, a.c, false).cut + sh.areas(b.h, b.c, false).cut
		end.cut += float64(length * (ends / 2))
		prism.cut += float64(length * ((ends + float64(4*sh.areas((a.h+b.h)/2, (a.c+b.c)/2, false).cut)) / 6))
		d.measure(&sh, b)
		a = b
	}
	d.Cut, d.Fill, d.Backfill = unit.Volume(sum.cut), unit.Volume(sum.fill), unit.Volume(sum.backfill)
	d.AverageEndArea, d.Prismoidal = unit.Volume(end.cut), unit.Volume(prism.cut)
	return d, nil
}

// checkRange reports what is wrong with a range of stations on the ground.
func (g Ground) checkRange(faults *fault.List, from, to unit.Length) {
	if len(g.points) < 2 {
		faults.Add("ground", "", "has no points", "make it with NewGround or from readings")
		return
	}
	first, last := g.Foot().Station.Meters(), g.Head().Station.Meters()
	off := func(field string, x float64) bool {
		if x >= first-groundSlack && x <= last+groundSlack {
			return false
		}
		faults.Add(field, sayLength(x), "is beyond the ground that was measured",
			fmt.Sprintf("stay between %s and %s, or measure further", sayLength(first), sayLength(last)))
		return true
	}
	bad := off("from", from.Meters())
	if off("to", to.Meters()) || bad {
		return
	}
	if to < from {
		faults.Add("to", sayLength(to.Meters()), fmt.Sprintf("lies before the start, %s", sayLength(from.Meters())), "give the ends uphill")
	}
}

// checkLine reports what is wrong with a formation between two stations.
func checkLine(faults *fault.List, field string, l Line, from, to unit.Length) {
	n := len(*faults)
	if !within(l.Station.Meters(), 2*maxGroundReach) {
		faults.Add(fault.Join(field, "station"), sayLength(l.Station.Meters()), "is not a station", "give a distance of at most 200 km")
	}
	if !within(l.Level.Meters(), maxFormationLevel) {
		faults.Add(fault.Join(field, "level"), sayLength(l.Level.Meters()), "is not a level", "give a height of at most 20 km")
	}
	if !within(l.Grade, maxGrade) {
		faults.Add(fault.Join(field, "grade"), sayNumber(l.Grade), "is not a grade", "give rise per run from -10 to 10")
	}
	if len(*faults) > n {
		return
	}
	for _, x := range [2]unit.Length{from, to} {
		// Stations off the ground have a fault of their own.
		if level := l.at(x.Meters()); within(x.Meters(), maxGroundReach+1) && !within(level, maxFormationLevel) {
			faults.Add(fault.Join(field, "level"), sayLength(level), fmt.Sprintf("is the level at %s", sayLength(x.Meters())), "give a formation within 20 km of the datum")
			return
		}
	}
}

// cross is the ground against the formation at a station: depth and crossfall.
type cross struct{ x, h, c float64 }

// station is the cross at x, which must be on the ground.
func (g Ground) station(x float64, formation Line) cross {
	i, f, _ := g.locate(x)
	p, q := &g.points[i], &g.points[i+1]
	return cross{
		x: x,
		h: blend(p.Level.Meters(), q.Level.Meters(), f) - formation.at(x),
		c: blend(p.Crossfall, q.Crossfall, f),
	}
}

// measure keeps the depths and heights at a station when they are the greatest
// so far. They are linear between stations, so the greatest is at one of them.
func (d *Dug) measure(sh *shape, s cross) {
	at := unit.Length(s.x)
	keep := func(v, where *unit.Length, size float64) {
		if unit.Length(size) > *v {
			*v, *where = unit.Length(size), at
		}
	}
	c := math.Abs(s.c)
	keep(&d.Deepest, &d.DeepestAt, s.h)
	keep(&d.DeepestEdge, &d.DeepestEdgeAt, s.h+float64(c*sh.half))
	keep(&d.Highest, &d.HighestAt, -s.h)
	keep(&d.HighestEdge, &d.HighestEdgeAt, float64(c*sh.path)-s.h)
}

const (
	cutNeverMeets    = "is so steep across that the side of the cut never meets it: batter × crossfall is 1 or more"
	cutNeverMeetsFix = "take a steeper batter (a smaller number) where the soil stands, hold that side with a wall, or move the path"
)

// neverMeets tells whether a side at the batter runs out for ever somewhere
// between two stations. Depth and crossfall are linear in between, so that
// the worst is at an end; and an edge in cut at neither end is in cut nowhere.
func (s *shape) neverMeets(a, b cross) (Fault, bool) {
	if f, bad := runsOut(a, b, s.half, s.batter); bad {
		f.Problem, f.Fix = cutNeverMeets, cutNeverMeetsFix
		return f, true
	}
	if f, bad := runsOut(cross{a.x, -a.h, -a.c}, cross{b.x, -b.h, -b.c}, s.path, s.fillBatter); bad {
		f.Problem = "is so steep across that the side of the fill never meets it: fill batter × crossfall is 1 or more"
		f.Fix = "take a steeper fill batter (a smaller number), hold the fill with the boxes or a wall, or move the path"
		return f, true
	}
	return Fault{}, false
}

func runsOut(a, b cross, half, batter float64) (Fault, bool) {
	for _, side := range [2]float64{1, -1} {
		if a.h+float64(side*float64(a.c*half)) <= 0 && b.h+float64(side*float64(b.c*half)) <= 0 {
			continue
		}
		for _, s := range [2]cross{a, b} {
			if float64(batter*side)*s.c >= 1 {
				return Fault{
					Field: "ground",
					Got:   fmt.Sprintf("crossfall %s at %s", sayNumber(math.Abs(s.c)), sayLength(s.x)),
				}, true
			}
		}
	}
	return Fault{}, false
}

// total is a sum of cut, fill and backfill: areas, or volumes.
type total struct{ cut, fill, backfill float64 }

func (t *total) add(weight float64, a total) {
	t.cut += float64(weight * a.cut)
	t.fill += float64(weight * a.fill)
	t.backfill += float64(weight * a.backfill)
}

// areas are those of the section at a depth and crossfall; only the cut unless
// all are wanted.
func (s *shape) areas(h, c float64, all bool) total {
	if s.kappa != 0 || s.plan {
		return s.weighted(h, c, all)
	}
	if !all {
		return total{cut: s.cut(h, c)}
	}
	return total{cut: s.cut(h, c), fill: s.fill(h, c), backfill: s.backfill(h, c)}
}

// Nodes and weights of the 8- and 4-point Gauss-Legendre rules on [-1, 1]:
// Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4. A test
// holds them to integrate every power up to the 15th and the 7th.
var (
	gaussNode   = [4]float64{0.1834346424956498049, 0.5255324099163289858, 0.7966664774136267396, 0.9602898564975362317}
	gaussWeight = [4]float64{0.3626837833783619830, 0.3137066458778872873, 0.2223810344533744705, 0.1012285362903762591}
	shortNode   = [2]float64{0.3399810435848562648, 0.8611363115940525752}
	shortWeight = [2]float64{0.6521451548625461426, 0.3478548451374538574}
)

// halvings bounds how often a piece is halved. A pole where the ground gets
// level across just where it also leaves the floor of the section is
// cancelled by the area, which shrinks with it: after 26 halvings what is left
// of it is below rounding. The pole of a side that hardly meets the ground is
// no nearer than 2^-53.
const halvings = 56

// mean is the average area along a bay in which depth and crossfall go
// linearly from h0, c0 to h1, c1.
func (s *shape) mean(h0, c0, h1, c1 float64, all bool) total {
	var breaks [10]float64
	n := 1 // breaks[0] is 0
	corner := func(y, z float64) {
		a, b := h0+float64(c0*y)-z, h1+float64(c1*y)-z
		if !((a < 0 && b > 0) || (a > 0 && b < 0)) {
			return
		}
		t := a / (a - b)
		if !(t > 0 && t < 1) {
			return
		}
		i := n
		for ; i > 0 && breaks[i-1] > t; i-- {
			breaks[i] = breaks[i-1]
		}
		breaks[i] = t
		n++
	}
	corner(s.half, 0)
	corner(-s.half, 0)
	if all {
		if s.path != s.half {
			corner(s.path, 0)
			corner(-s.path, 0)
		}
		if s.build > 0 {
			corner(s.path, s.build)
			corner(-s.path, s.build)
			corner(s.reach, s.build)
			corner(-s.reach, s.build)
		}
	}
	breaks[n] = 1
	b := bay{shape: s, h0: h0, c0: c0, h1: h1, c1: c1, all: all}
	var sum total
	for i := 0; i < n; i++ {
		from, to := breaks[i], breaks[i+1]
		switch {
		case !(to > from):
		case c0 == c1 && !s.plan: // the breadth may jump at a break
			sum.add((to-from)/6, b.at(from))
			sum.add((to-from)*(4.0/6), b.at((from+to)/2))
			sum.add((to-from)/6, b.at(to))
		default:
			b.level = b.crossesFloor((from + to) / 2)
			b.integrate(&sum, from, to, halvings)
		}
	}
	return sum
}

// bay is a length along which depth and crossfall are linear.
type bay struct {
	*shape
	h0, c0, h1, c1 float64
	all            bool
	level          bool // in this piece the ground crosses a level edge of the section
}

func (b *bay) at(t float64) total {
	return b.areas(blend(b.h0, b.h1, t), blend(b.c0, b.c1, t), b.all)
}

// crossesFloor tells whether at t the ground line crosses the formation, or the
// top of the backfill, within the section.
func (b *bay) crossesFloor(t float64) bool {
	h, c := blend(b.h0, b.h1, t), math.Abs(blend(b.c0, b.c1, t))
	if math.Abs(h) < float64(c*b.half) {
		return true
	}
	return b.all && b.build > 0 && math.Abs(h-b.build) < float64(c*b.reach)
}

// integrate adds the integral from one break to the next.
func (b *bay) integrate(sum *total, from, to float64, left int) {
	change := b.change(from, to, left)
	if change > 2 && left > 0 {
		if mid := (from + to) / 2; mid > from && mid < to {
			b.integrate(sum, from, mid, left-1)
			b.integrate(sum, mid, to, left-1)
			return
		}
	}
	node, weight := gaussNode[:], gaussWeight[:]
	if change < 1.05 {
		// A short cell, to which 4 points are as good: their error falls as 80^-9.
		node, weight = shortNode[:], shortWeight[:]
	}
	half, mid := (to-from)/2, (from+to)/2
	for i, x := range node {
		d := float64(half * x)
		w := float64(half * weight[i])
		sum.add(w, b.at(mid-d))
		sum.add(w, b.at(mid+d))
	}
}

// change is the greatest ratio, one end to the other, of the denominators of the
// areas; more than 2 also where one changes sign.
func (b *bay) change(from, to float64, left int) float64 {
	p, q := blend(b.c0, b.c1, from), blend(b.c0, b.c1, to)
	most := 1.0
	if b.level && left > halvings-26 {
		most = ratio(p, q, most)
	}
	if b.batter > 0 {
		sp, sq := float64(b.batter*p), float64(b.batter*q)
		most = ratio(1-sp, 1-sq, ratio(1+sp, 1+sq, most))
	}
	if b.all && b.fillBatter > 0 {
		sp, sq := float64(b.fillBatter*p), float64(b.fillBatter*q)
		most = ratio(1-sp, 1-sq, ratio(1+sp, 1+sq, most))
	}
	return most
}

// ratio is the greater of p/q, q/p and least; more than 2 if they differ in sign.
func ratio(p, q, least float64) float64 {
	if p < 0 || q < 0 {
		p, q = -p, -q
	}
	if q > p {
		p, q = q, p
	}
	if q <= 0 {
		return 3
	}
	if p > float64(least*q) {
		return p / q
	}
	return least
}

// AverageEndArea is the volume between sections a spacing apart by average end
// areas: i/2·(A1 + An + 2 the rest). Areas must be 0 or more and at least 2;
// the error is a [Faults] with the fields spacing and areas.
//
// Source: N. N. Basak, Surveying and Levelling, ch. 8, trapezoidal formula.
func AverageEndArea(spacing unit.Length, areas []unit.Area) (unit.Volume, error) {
	if err := checkAreas(spacing, areas); err != nil {
		return 0, err
	}
	var sum float64
	for i := 1; i < len(areas); i++ {
		sum += (areas[i-1].SquareMeters() + areas[i].SquareMeters()) / 2
	}
	return unit.Volume(spacing.Meters() * sum), nil
}

// PrismoidalRule is the volume between sections a spacing apart, taken three by
// three as two ends and a middle: i/3·(A1 + An + 4 the even + 2 the odd). It
// takes an odd number of areas, at least 3, each 0 or more; the error is a
// [Faults] with the fields spacing and areas.
//
// Source: N. N. Basak, Surveying and Levelling, ch. 8, prismoidal formula.
func PrismoidalRule(spacing unit.Length, areas []unit.Area) (unit.Volume, error) {
	if err := checkAreas(spacing, areas); err != nil {
		return 0, err
	}
	if len(areas)%2 == 0 {
		return 0, Faults{{Field: "areas", Got: fmt.Sprint(len(areas)), Problem: "sections cannot be taken three by three", Fix: "give an odd number of them, or use average end areas"}}
	}
	var sum float64
	for i := 2; i < len(areas); i += 2 {
		sum += areas[i-2].SquareMeters() + float64(4*areas[i-1].SquareMeters()) + areas[i].SquareMeters()
	}
	return unit.Volume(spacing.Meters() / 3 * sum), nil
}

func checkAreas(spacing unit.Length, areas []unit.Area) error {
	var faults fault.List
	if x := spacing.Meters(); !(x > 0 && x <= maxGroundReach) {
		faults.Add("spacing", sayLength(x), "is not a spacing", "give a distance over 0 and at most 100 km")
	}
	if len(areas) < 2 || len(areas) > maxGroundPoints {
		faults.Add("areas", fmt.Sprint(len(areas)), "is not a number of sections", "give 2 to 10 000")
		return faults
	}
	for i, a := range areas {
		if v := a.SquareMeters(); !(v >= 0 && v <= 1e12) {
			faults.Add(fmt.Sprintf("areas[%d]", i), sayNumber(v)+" m²", "is not an area", "give 0 to 1e12 m²")
		}
	}
	return faults.Err()
}
