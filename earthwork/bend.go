package earthwork

import (
	"fmt"
	"math"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

const (
	maxBends  = 1000
	maxRadius = maxGroundReach
)

// Bend is an arc of the centreline in plan. Outside its bends a path is straight.
type Bend struct {
	// From and To are the stations of its ends, at least 1 mm apart, along the
	// centreline.
	From, To unit.Length
	// Radius is that of the centreline, over 0 and at most 100 km. The arc may
	// turn through at most a full circle.
	Radius unit.Length
	// Right is true when the path turns to the right looking uphill.
	Right bool
}

// Curvature is 1/Radius per metre, positive to the right: what is y to the right
// of the centreline travels (1 − curvature·y)·ds while the centreline travels ds.
func (b Bend) Curvature() float64 {
	if b.Right {
		return 1 / b.Radius.Meters()
	}
	return -1 / b.Radius.Meters()
}

// Turn is the angle the path turns through in the bend.
func (b Bend) Turn() unit.Angle {
	return unit.Angle((b.To - b.From).Meters() / b.Radius.Meters())
}

// WithBends is the same ground under a path that bends in plan. The bends, at
// most 1000, are given uphill and may touch but not overlap; stations are those
// of the ground, along the centreline, and crossfalls are square to it. Bends that
// the ground had are replaced.
//
// Whether a section has room on the inside of a bend depends on how deep it is
// dug; [Ground.Dig] and [Ground.BendsClear] see to that.
//
// The error is a [Faults] with the fields ground, bends, bends[i].from,
// bends[i].to and bends[i].radius.
func (g Ground) WithBends(bends []Bend) (Ground, error) {
	var faults fault.List
	if len(g.points) < 2 {
		faults.Add("ground", "", "has no points", "make it with NewGround or from readings")
		return Ground{}, faults
	}
	if len(bends) > maxBends {
		faults.Add("bends", strconv.Itoa(len(bends)), "bends are too many", fmt.Sprintf("give at most %d", maxBends))
		return Ground{}, faults
	}
	first, last := g.Foot().Station.Meters(), g.Head().Station.Meters()
	previous := math.NaN()
	for i, b := range bends {
		field := fmt.Sprintf("bends[%d]", i)
		sound := true
		end := func(name string, x float64) {
			if !(x >= first-groundSlack && x <= last+groundSlack) {
				sound = false
				faults.Add(field+name, sayLength(x), "is not on the ground that was measured",
					fmt.Sprintf("give a station between %s and %s", sayLength(first), sayLength(last)))
			}
		}
		from, to := b.From.Meters(), b.To.Meters()
		end(".from", from)
		end(".to", to)
		if sound && !(to-from >= minGroundStep-1e-9) {
			sound = false
			faults.Add(field+".to", sayLength(to), fmt.Sprintf("does not lie beyond the start of the bend, %s", sayLength(from)), "give the ends uphill, at least 1 mm apart")
		}
		if sound {
			if from < previous-1e-9 {
				faults.Add(field+".from", sayLength(from), fmt.Sprintf("lies before the end of the bend before it, %s", sayLength(previous)), "give bends uphill that do not overlap")
			}
			previous = to
		}
		switch r := b.Radius.Meters(); {
		case !(r > 0 && r <= maxRadius):
			faults.Add(field+".radius", sayLength(r), "is not a radius", "give more than 0 and at most 100 km")
		case sound && (to-from)/r > 2*math.Pi+1e-9:
			faults.Add(field+".radius", sayLength(r), "turns the path through more than a full circle", fmt.Sprintf("give at least %s, or a shorter bend", sayLength((to-from)/(2*math.Pi))))
		}
	}
	if err := faults.Err(); err != nil {
		return Ground{}, err
	}
	g.bends = make([]arc, len(bends))
	for i, b := range bends {
		g.bends[i] = arc{b.From.Meters(), b.To.Meters(), b.Curvature()}
	}
	for i := 1; i < len(g.bends); i++ {
		// Bends that touch but for rounding.
		if g.bends[i].from < g.bends[i-1].to {
			g.bends[i].from = g.bends[i-1].to
		}
	}
	return g, nil
}

// Bends returns the bends of the path over this ground, uphill.
func (g Ground) Bends() []Bend {
	var out []Bend
	for _, a := range g.bends {
		out = append(out, Bend{From: unit.Length(a.from), To: unit.Length(a.to), Radius: unit.Length(1 / math.Abs(a.kappa)), Right: a.kappa > 0})
	}
	return out
}

// CurvatureAt is the curvature of the path at a station, that of [Bend.Curvature],
// and 0 outside bends. Where a bend ends, that of what follows uphill.
func (g Ground) CurvatureAt(station unit.Length) float64 {
	i := 0
	kappa, _ := g.curve(station.Meters(), &i)
	return kappa
}

// arc is a bend in plain metres; it is curved from, and not including, to.
type arc struct{ from, to, kappa float64 }

// curve is the curvature just beyond x and the station where it next changes.
// next is where to look first, and only ever moves uphill.
func (g Ground) curve(x float64, next *int) (kappa, edge float64) {
	for ; *next < len(g.bends); *next++ {
		switch a := &g.bends[*next]; {
		case a.to <= x:
		case a.from <= x:
			return a.kappa, a.to
		default:
			return 0, a.from
		}
	}
	return 0, math.Inf(1)
}

// inner is how far the section reaches towards the side of a bend's centre: at
// least half the formation, and out to where its cut meets the ground, or where its
// fill does when all is wanted. +Inf where they never meet.
func (s *shape) inner(h, c, kappa float64, all bool) float64 {
	if kappa < 0 {
		c = -c
	}
	far := s.half
	out := func(edge, half, batter, c float64) {
		if edge <= 0 || batter == 0 {
			return
		}
		run := 1 - float64(batter*c)
		if run <= 0 {
			far = math.Inf(1)
			return
		}
		if y := half + float64(batter*edge)/run; y > far {
			far = y
		}
	}
	out(h+float64(c*s.half), s.half, s.batter, c)
	if all {
		out(-h-float64(c*s.path), s.path, s.fillBatter, -c)
	}
	return far
}

// fits tells whether the section stays on its side of a bend's centre at both
// ends of a bay, and so throughout: between breaks the reach is a quotient of two
// linear functions of the station, which is greatest at an end.
func (s *shape) fits(a, b cross, kappa float64, all bool) bool {
	k := math.Abs(kappa)
	return float64(k*s.inner(a.h, a.c, kappa, all)) < 1 && float64(k*s.inner(b.h, b.c, kappa, all)) < 1
}

// checkBends reports the bends of a stretch whose radius leaves the dig no room.
func (g Ground) checkBends(faults *fault.List, sh *shape, st Stretch) {
	for i, a := range g.bends {
		from, to := st.From.Meters(), st.To.Meters()
		if a.from > from {
			from = a.from
		}
		if a.to < to {
			to = a.to
		}
		if !(to > from) {
			continue
		}
		worst, where := 0.0, from
		note := func(s cross) {
			if r := sh.inner(s.h, s.c, a.kappa, true); r > worst {
				worst, where = r, s.x
			}
		}
		note(g.station(from, st.Formation))
		for _, p := range g.points {
			if x := p.Station.Meters(); x > from && x < to {
				note(g.station(x, st.Formation))
			}
		}
		note(g.station(to, st.Formation))
		// A side that never meets the ground has a fault of its own.
		if float64(worst*math.Abs(a.kappa)) >= 1 && !math.IsInf(worst, 1) {
			faults.Add(fmt.Sprintf("bends[%d].radius", i), sayLength(1/math.Abs(a.kappa)),
				fmt.Sprintf("is not more than the dig reaches towards the centre of the bend, %s at %s", sayLength(worst), sayLength(where)),
				"give a wider bend, a narrower path or working space, a steeper batter, or dig less deep there")
		}
	}
}

// BendsClear tells of each of many short cells, as for [Ground.CutCells], whether
// the dig has room on the inside of the bends it lies in: clear[i] is false where
// half the formation, or the side of the cut, would reach the centre of a bend.
// CutCells counts the earth of such a part of a cell as if the path were straight
// there, and [Ground.Dig] refuses it.
//
// The error is that of CutCells, with the field clear when that is not as
// long as there are cells.
func (g Ground) BendsClear(sec Section, at []unit.Length, formation Line, clear []bool) error {
	if err := g.checkCells(sec, at, formation, nil, nil, nil); err != nil {
		return err
	}
	if len(clear) != len(at)-1 {
		return Faults{{Field: "clear", Got: strconv.Itoa(len(clear)), Problem: "is not the number of cells", Fix: fmt.Sprintf("make it %d long", len(at)-1)}}
	}
	for i := range clear {
		clear[i] = true
	}
	if len(g.bends) == 0 {
		return nil
	}
	sh := sec.shape(0)
	bend, k := 0, 0
	for i := range clear {
		end := at[i+1].Meters()
		a := g.station(at[i].Meters(), formation)
		for a.x < end && clear[i] {
			for k < len(g.points) && g.points[k].Station.Meters() <= a.x {
				k++
			}
			x := end
			if k < len(g.points) && g.points[k].Station.Meters() < x {
				x = g.points[k].Station.Meters()
			}
			kappa, edge := g.curve(a.x, &bend)
			if edge < x {
				x = edge
			}
			b := g.station(x, formation)
			clear[i] = kappa == 0 || sh.fits(a, b, kappa, false)
			a = b
		}
	}
	return nil
}

// bendCells does the cuts of cells that lie within a bend, on a run with a
// crossfall.
func bendCells(sh *shape, r run, at []unit.Length, cut []unit.Volume) {
	bent := *sh
	a := r.at(at[0].Meters())
	for i := range cut {
		b := r.at(at[i+1].Meters())
		cut[i] = unit.Volume(float64((b.x - a.x) * bent.bendMean(a, b, sh.kappa)))
		a = b
	}
}

// bendMean is the mean cut of a bay, bent when there is room for the bend.
func (s *shape) bendMean(a, b cross, kappa float64) float64 {
	s.kappa = kappa
	if kappa != 0 && !s.fits(a, b, kappa, false) {
		s.kappa = 0
	}
	return s.mean(a.h, a.c, b.h, b.c, false).cut
}

func (r run) at(x float64) cross {
	return cross{x: x, h: r.h0 + float64(r.hs*(x-r.x0)), c: r.c0 + float64(r.cs*(x-r.x0))}
}

// Centroids is how far to the right of the centreline the centroids of the cut,
// the fill and the backfill of a section lie, 0 where there is none: along a bend
// of radius R to the right a section moves area × (1 − offset/R) × the length of
// the centreline (Pappus). h, crossfall and depth are those of [Section.Cut] and
// [Section.Backfill]. A side that never meets the ground gives 0.
func (s Section) Centroids(h unit.Length, crossfall float64, depth unit.Length) (cut, fill, backfill unit.Length) {
	sh := s.shape(depth.Meters())
	of := func(area, moment float64) unit.Length {
		if !(area > 0 && area <= math.MaxFloat64) {
			return 0
		}
		return unit.Length(moment / area)
	}
	z, c := h.Meters(), crossfall
	return of(sh.cut(z, c), wedgeMoment(z, c, sh.half, sh.batter)),
		of(sh.fill(z, c), wedgeMoment(-z, -c, sh.path, sh.fillBatter)),
		of(sh.backfill(z, c), sh.backfillMoment(z, c))
}

// weighted are the areas as a bend makes them count, A·(1 − κ·ȳ), or the breadth of
// the dig in plan when that is asked for.
func (s *shape) weighted(h, c float64, all bool) total {
	if s.plan {
		return total{cut: s.breadth(h, c)}
	}
	t := total{cut: inBend(s.cut(h, c), wedgeMoment(h, c, s.half, s.batter), s.kappa)}
	if all {
		t.fill = inBend(s.fill(h, c), wedgeMoment(-h, -c, s.path, s.fillBatter), s.kappa)
		t.backfill = inBend(s.backfill(h, c), s.backfillMoment(h, c), s.kappa)
	}
	return t
}

func inBend(area, moment, kappa float64) float64 {
	if v := area - float64(kappa*moment); v > 0 {
		return v
	}
	return 0 // nothing, or its rounding
}

// wedgeMoment is the first moment about the centreline of the area of wedge: each
// of its parts times the offset of its centroid.
func wedgeMoment(h, c, half, batter float64) float64 {
	rise := float64(c * half)
	right, left := h+rise, h-rise
	var moment float64
	switch {
	case right >= 0 && left >= 0:
		moment = float64(c*half) * float64(half*half) * (2.0 / 3)
	case right > 0:
		base := 2 * float64(half*(right/(right-left)))
		moment = float64(0.5*base) * right * (half - base/3)
	case left > 0:
		base := 2 * float64(half*(left/(left-right)))
		moment = float64(0.5*base) * left * (base/3 - half)
	default:
		return 0
	}
	if batter == 0 {
		return moment
	}
	if right > 0 {
		moment += sideMoment(right, 1-float64(batter*c), half, batter)
	}
	if left > 0 {
		moment -= sideMoment(left, 1+float64(batter*c), half, batter)
	}
	return moment
}

// sideMoment is that of the triangle at an edge, which is depth high and
// batter·depth/run wide.
func sideMoment(depth, run, half, batter float64) float64 {
	if run <= 0 {
		return math.Inf(1)
	}
	wide := float64(batter*depth) / run
	return float64(float64(0.5*depth)*wide) * (half + wide/3)
}

func (s *shape) backfillMoment(h, c float64) float64 {
	if s.build <= 0 || s.reach <= s.path {
		return 0
	}
	right, rm := s.beside(h, c)
	left, lm := s.beside(h, -c)
	return float64(s.path*(right-left)) + (rm - lm)
}

// breadth is how broad the dig is at the ground, and along a bend the plan area
// per length of centreline.
func (s *shape) breadth(h, c float64) float64 {
	right, okr := s.stake(h, c)
	left, okl := s.stake(h, -c)
	if !okr || !okl || !(right+left > 0) {
		return 0
	}
	b := right + left
	if s.kappa != 0 {
		b -= float64(float64(0.5*s.kappa) * float64(b*(right-left)))
	}
	if !(b > 0) {
		return 0
	}
	return b
}
