package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Part is one named part of the digging, in bank measure.
type Part struct {
	ID, Name string
	// Soil is the id of a class of soil, see [SoilByID]; empty for the soil of the
	// site.
	Soil string
	Bank unit.Volume
}

// Parts are parts of the digging that add up to the whole.
type Parts []Part

// Sum is the whole.
func (p Parts) Sum() unit.Volume {
	var sum unit.Volume
	for _, q := range p {
		sum += q.Bank
	}
	return sum
}

// Of is the sum of the parts with an id.
func (p Parts) Of(id string) unit.Volume {
	var sum unit.Volume
	for _, q := range p {
		if q.ID == id {
			sum += q.Bank
		}
	}
	return sum
}

// OfSoil is the sum of the parts of a class of soil; empty for the soil of the site.
func (p Parts) OfSoil(soil string) unit.Volume {
	var sum unit.Volume
	for _, q := range p {
		if q.Soil == soil {
			sum += q.Bank
		}
	}
	return sum
}

// Plus adds two diggings: parts with the same id and soil become one, new ones are
// put after the others. Neither list is changed.
func (p Parts) Plus(o Parts) Parts {
	out := append(Parts(nil), p...)
next:
	for _, q := range o {
		for i := range out {
			if out[i].ID == q.ID && out[i].Soil == q.Soil {
				out[i].Bank += q.Bank
				continue next
			}
		}
		out = append(out, q)
	}
	return out
}

// Layer is one layer of what is built on the formation.
type Layer struct {
	ID, Name string
	// Thickness is over 0; that of all the layers together at most 10 m.
	Thickness unit.Length
}

// DigParts takes the cut of [Ground.Dig] apart, by what it makes room for:
//
//   - topsoil: the skin of the ground, Topsoil thick, wherever it lies in the cut,
//     of the soil class topsoil; left out when that is 0. The other parts are what
//     is left when it is gone;
//   - the id of each layer, from the formation up: over the width of the path, where
//     that layer will lie;
//   - over: over the width of the path, above the layers;
//   - working: beside the path over the width of the formation;
//   - sides: beyond the formation, to the sides at the batter.
//
// They add up to the Cut of Dig but for rounding. The layers come from the bottom
// up, at most 20.
//
// The error is that of Dig, with the fields layers, layers[i].thickness and
// topsoil, 0 to 2 m.
func (g Ground) DigParts(sec Section, st Stretch, layers []Layer, topsoil unit.Length) (Parts, error) {
	var faults fault.List
	if len(layers) > 20 {
		faults.Add("layers", fmt.Sprint(len(layers)), "are too many layers", "give at most 20")
		layers = nil
	}
	height := 0.0
	for i, l := range layers {
		t := l.Thickness.Meters()
		if height += t; !(t > 0 && height <= maxBuildUp) {
			faults.Add(fmt.Sprintf("layers[%d].thickness", i), sayLength(t), "is not the thickness of a layer", "give more than 0, at most 10 m with those below it")
			height = 0
		}
	}
	checkTopsoil(&faults, topsoil)
	whole, err := g.Dig(sec, st)
	faults.Put("", err)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	dug := whole.Cut
	var parts Parts
	add := func(id, name, soil string, v unit.Volume) {
		if v < 0 {
			v = 0 // the rounding of nothing
		}
		parts = append(parts, Part{ID: id, Name: name, Soil: soil, Bank: v})
	}
	low := g
	if topsoil > 0 {
		low = g.Lowered(topsoil)
	}
	// What is above a height over the formation, within a width, without sides.
	above := func(width unit.Length, z float64) unit.Volume {
		s := st
		s.BuildUp = 0
		s.Formation.Level += unit.Length(z)
		var d Dug
		if d, err = low.Dig(Section{Width: width}, s); err != nil {
			faults.Put("", err)
		}
		return d.Cut
	}
	if topsoil > 0 {
		sub, err := low.Dig(sec.cutOnly(), st)
		if err != nil {
			return nil, err
		}
		add("topsoil", "topsoil", "topsoil", dug-sub.Cut)
		dug = sub.Cut
	}
	path := above(sec.Width, 0)
	lower := path
	z := 0.0
	for _, l := range layers {
		z += l.Thickness.Meters()
		upper := above(sec.Width, z)
		add(l.ID, l.Name, "", lower-upper)
		lower = upper
	}
	add("over", "above the path", "", lower)
	formation := path
	if sec.Working > 0 {
		formation = above(sec.Formation(), 0)
		add("working", "working space beside the path", "", formation-path)
	}
	if sec.Batter > 0 {
		add("sides", "sides cut back", "", dug-formation)
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	return parts, nil
}

func checkTopsoil(faults *fault.List, depth unit.Length) {
	if d := depth.Meters(); !(d >= 0 && d <= 2) {
		faults.Add("topsoil", sayLength(d), "is not a depth of topsoil", "give 0 to 2 m")
	}
}

// cutOnly is the section for ground that is lowered only to see what is cut: a fill
// that this makes, and that nobody will place, needs no sides that meet it.
func (s Section) cutOnly() Section {
	s.FillBatter = 0
	return s
}

// Lowered is the ground with its skin off, as it lies when topsoil has been stripped
// to a depth.
func (g Ground) Lowered(by unit.Length) Ground {
	g.points = g.Points()
	for i := range g.points {
		g.points[i].Level -= by
	}
	return g
}

// Strip is topsoil stripped off where the ground is cut.
type Strip struct {
	// Depth is the thickness stripped and Area the plan area of it: the breadth
	// of the cut at the ground, along the path.
	Depth unit.Length
	Area  unit.Area
	// Bank is what is stripped, Area × Depth.
	Bank unit.Volume
	// InCut is the part of it that would be dug anyway, the topsoil of
	// [Ground.DigParts]; Beside is the rest, from below the thin edges of the cut.
	InCut, Beside unit.Volume
}

// StripTopsoil is the topsoil that comes off a stretch first and is kept apart.
// The breadth is integrated as [Ground.Dig] integrates areas, and in bends is as long
// as its middle. With it, all the digging is Cut + Beside.
//
// The error is that of Dig, with the field topsoil, 0 to 2 m.
func (g Ground) StripTopsoil(sec Section, st Stretch, depth unit.Length) (Strip, error) {
	var faults fault.List
	checkTopsoil(&faults, depth)
	whole, err := g.Dig(sec, st)
	faults.Put("", err)
	if err := faults.Err(); err != nil {
		return Strip{}, err
	}
	below, err := g.Lowered(depth).Dig(sec.cutOnly(), st)
	if err != nil {
		return Strip{}, err
	}
	s := Strip{Depth: depth, Area: g.footprint(sec, st, 1), InCut: whole.Cut - below.Cut}
	s.Bank = unit.Volume(s.Area.SquareMeters() * depth.Meters())
	if s.InCut < 0 {
		s.InCut = 0
	}
	if s.Beside = s.Bank - s.InCut; s.Beside < 0 {
		s.Beside, s.InCut = 0, s.Bank
	}
	return s, nil
}

// WorkedArea is the plan area of what is cut and filled in a stretch, which is what
// topsoil is stripped off: the breadth of the cut at the ground and that of the fill,
// along the path, in bends along the middle. The error is that of [Ground.Dig].
func (g Ground) WorkedArea(sec Section, st Stretch) (unit.Area, error) {
	if _, err := g.Dig(sec, st); err != nil {
		return 0, err
	}
	fill := Section{Width: sec.Width, Batter: sec.FillBatter}
	return g.footprint(sec, st, 1) + g.footprint(fill, st, -1), nil
}

// footprint is the plan area of the cut of a stretch that Dig accepts; with side -1
// that of its fill, the same upside down.
func (g Ground) footprint(sec Section, st Stretch, side float64) unit.Area {
	sh := sec.shape(0)
	sh.plan = true
	sum, bend, k := 0.0, 0, 0
	a := g.station(st.From.Meters(), st.Formation)
	for a.x < st.To.Meters() {
		for k < len(g.points) && g.points[k].Station.Meters() <= a.x {
			k++
		}
		x := st.To.Meters()
		if k < len(g.points) && g.points[k].Station.Meters() < x {
			x = g.points[k].Station.Meters()
		}
		kappa, edge := g.curve(a.x, &bend)
		sh.kappa = kappa
		if edge < x {
			x = edge
		}
		b := g.station(x, st.Formation)
		sum += float64((b.x - a.x) * sh.mean(side*a.h, side*a.c, side*b.h, side*b.c, false).cut)
		a = b
	}
	return unit.Area(sum)
}

// ParallelLength is the length in plan of what runs beside the path from one station
// to another, at an offset to the right of the centreline (negative to the left), as a drain
// or a side timber does: in a bend to the right of radius R it is 1 − offset/R of
// the centreline's.
//
// The error is a [Faults] with the fields ground, from, to and offset, which
// must be at most 100 m and stay on its side of the centre of each bend.
func (g Ground) ParallelLength(from, to, offset unit.Length) (unit.Length, error) {
	var faults fault.List
	g.checkRange(&faults, from, to)
	y := offset.Meters()
	if !within(y, maxSectionWidth) {
		faults.Add("offset", sayLength(y), "is not an offset", "give -100 to 100 m")
	}
	if err := faults.Err(); err != nil {
		return 0, err
	}
	length := to.Meters() - from.Meters()
	for _, a := range g.bends {
		lo, hi := from.Meters(), to.Meters()
		if a.from > lo {
			lo = a.from
		}
		if a.to < hi {
			hi = a.to
		}
		if !(hi > lo) {
			continue
		}
		if float64(a.kappa*y) >= 1 {
			faults.Add("offset", sayLength(y), fmt.Sprintf("is beyond the centre of the bend that starts at %s", sayLength(a.from)), fmt.Sprintf("give less than its radius, %s", sayLength(1/math.Abs(a.kappa))))
			continue
		}
		length -= float64(float64(a.kappa*y) * (hi - lo))
	}
	return unit.Length(length), faults.Err()
}

// Trench is a long hole of one section: for a timber deeper than the bench, for a
// drain, or as a swale. Its depth is below the surface it is dug from, the
// formation or the ground. The methods of the holes take what is not finite and more
// than 0 as nothing, and more than 1000 m, or a million holes, as that.
type Trench struct {
	// Breadth is that of the bottom, 0 for a V.
	Depth, Breadth, Length unit.Length
	// Batter is that of both sides, horizontal per vertical, 0 to 10. The ends are plumb.
	Batter float64
}

// Section is (Breadth + Batter × Depth) × Depth, the level section of
// N. N. Basak, Surveying and Levelling, ch. 8.
func (t Trench) Section() unit.Area {
	d := size(t.Depth)
	return unit.Area(float64((size(t.Breadth) + float64(amount(t.Batter, maxBatter)*d)) * d))
}

// Volume is that of the section along the length.
func (t Trench) Volume() unit.Volume {
	return unit.Volume(t.Section().SquareMeters() * size(t.Length))
}

// Part is the trench as a part of the digging, count of them.
func (t Trench) Part(id, name string, count int) Part { return holes(id, name, count, t.Volume()) }

// Validate reports what is wrong with the trench, as a [Faults] with the fields
// depth, breadth, length and batter.
func (t Trench) Validate() error {
	var faults fault.List
	checkSizes(&faults, sized{"depth", t.Depth}, sized{"breadth", t.Breadth}, sized{"length", t.Length})
	checkBatter(&faults, t.Batter)
	return faults.Err()
}

// Pit is the hole for a footing.
type Pit struct {
	// Length and Breadth are those of its bottom, working space included.
	Length, Breadth, Depth unit.Length
	// Batter is that of all four sides, 0 to 10.
	Batter float64
}

// Volume is that of the prismoid, Depth/6·(bottom + 4 middle + top), which is exact
// for it: N. N. Basak, Surveying and Levelling, ch. 8.
func (p Pit) Volume() unit.Volume {
	l, b, d := size(p.Length), size(p.Breadth), size(p.Depth)
	lean := float64(amount(p.Batter, maxBatter) * d)
	area := func(out float64) float64 { return float64((l + out) * (b + out)) }
	return unit.Volume(d / 6 * (area(0) + float64(4*area(lean)) + area(2*lean)))
}

// Part is the pit as a part of the digging, count of them.
func (p Pit) Part(id, name string, count int) Part { return holes(id, name, count, p.Volume()) }

// Validate reports what is wrong with the pit, as a [Faults] with the fields
// length, breadth, depth and batter.
func (p Pit) Validate() error {
	var faults fault.List
	checkSizes(&faults, sized{"length", p.Length}, sized{"breadth", p.Breadth}, sized{"depth", p.Depth})
	checkBatter(&faults, p.Batter)
	return faults.Err()
}

// PostHole is a plumb hole for a post.
type PostHole struct {
	// Breadth is its diameter, or its side when it is Square.
	Breadth, Depth unit.Length
	Square         bool
}

// Volume is that of the cylinder or the prism.
func (p PostHole) Volume() unit.Volume {
	b := size(p.Breadth)
	v := float64(float64(b*b) * size(p.Depth))
	if !p.Square {
		v *= math.Pi / 4
	}
	return unit.Volume(v)
}

// Part is the hole as a part of the digging, count of them.
func (p PostHole) Part(id, name string, count int) Part { return holes(id, name, count, p.Volume()) }

// Validate reports what is wrong with the hole, as a [Faults] with the fields
// breadth and depth.
func (p PostHole) Validate() error {
	var faults fault.List
	checkSizes(&faults, sized{"breadth", p.Breadth}, sized{"depth", p.Depth})
	return faults.Err()
}

func size(l unit.Length) float64 { return amount(l.Meters(), 1000) }

func holes(id, name string, count int, each unit.Volume) Part {
	return Part{ID: id, Name: name, Bank: unit.Volume(amount(float64(count), 1e6) * each.CubicMeters())}
}

// sized is a length by its name.
type sized struct {
	name string
	unit.Length
}

func checkSizes(faults *fault.List, sizes ...sized) {
	for _, s := range sizes {
		if l := s.Meters(); !(l >= 0 && l <= 1000) {
			faults.Add(s.name, sayLength(l), "is not a size of a hole", "give 0 to 1000 m")
		}
	}
}

func checkBatter(faults *fault.List, batter float64) {
	if !(batter >= 0 && batter <= maxBatter) {
		faults.Add("batter", sayNumber(batter), "is not a batter", "give horizontal per vertical from 0, plumb, to 10")
	}
}
