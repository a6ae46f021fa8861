package slopewright

import (
	"sort"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/stair"
)

// leeway is where the ground might lie higher or lower than it does, and how far.
type leeway struct{ from, to, higher, lower unit.Length }

// of is how much more than the limits a cell may be deep and high; 0 without leeway.
func (e *leeway) of(from, to unit.Length) (deeper, higher unit.Length) {
	if e.from < e.to && from < e.to && to > e.from {
		return e.lower + tolerance, e.higher + tolerance // rounding must not take away what it gives
	}
	return 0, 0
}

// Lenient implements [stair.Resembler].
func (s *site) Lenient(from, to, higher, lower unit.Length) stair.Site {
	e := s.m.site(s.w)
	e.rates, e.leeway = s.rates, leeway{from, to, higher, lower}
	return e
}

// Differs implements [stair.Resembler]. That the plans are the same but for their
// ground is for whoever keeps what was found earlier to see to.
func (s *site) Differs(earlier stair.Site) (d stair.Difference, ok bool) {
	e, ok := earlier.(*site)
	if !ok || s.w != e.w || s.w.hours != 0 || len(s.m.bends) > 0 {
		return d, false
	}
	d.From, d.To, ok = movedBetween(s.ground.Points(), e.ground.Points())
	if !ok || d.From == d.To {
		return d, ok
	}
	var at []unit.Length
	for _, g := range []earthwork.Ground{s.ground, e.ground} {
		for _, p := range g.Points() {
			if p.Station >= d.From && p.Station <= d.To {
				at = append(at, p.Station)
			}
		}
	}
	sort.Slice(at, func(i, j int) bool { return at[i] < at[j] })
	for i := 1; i < len(at); i++ {
		if at[i] == at[i-1] {
			continue
		}
		less, ok := s.lower(e, at[i-1], at[i], &d)
		if !ok {
			return d, false
		}
		d.Less += float64(s.w.digging * less)
	}
	return d, true
}

// movedBetween is between which stations two grounds may differ; ok is false when that may be
// up to their ends.
func movedBetween(a, b []earthwork.Point) (from, to unit.Length, ok bool) {
	i := 0
	for i < len(a) && i < len(b) && a[i] == b[i] {
		i++
	}
	if i == len(a) && i == len(b) {
		return 0, 0, true
	}
	j := 0
	for j < len(a)-i && j < len(b)-i && a[len(a)-1-j] == b[len(b)-1-j] {
		j++
	}
	if i == 0 || j == 0 {
		return 0, 0, false
	}
	return a[i-1].Station, a[len(a)-j].Station, true
}

// lower is by how much less at most is dug between two stations, between which
// both grounds are straight, than on an earlier ground. Where the ground lies lower,
// less is dug, and the deeper the dig the more less, as its sides lean back: at most
// what a dig of the greatest depth has become less by.
func (s *site) lower(e *site, a, b unit.Length, d *stair.Difference) (less float64, ok bool) {
	var level, fall [2]unit.Length // at each end: of this ground, and by how much it has fallen
	for i, x := range [2]unit.Length{a, b} {
		now, ok1 := s.ground.LevelAt(x)
		was, ok2 := e.ground.LevelAt(x)
		c1, _ := s.ground.CrossfallAt(x)
		c2, _ := e.ground.CrossfallAt(x)
		if level[i], fall[i] = now, was-now; !ok1 || !ok2 || c1 != c2 {
			return 0, false
		}
		d.Lower, d.Higher = max(d.Lower, fall[i]), max(d.Higher, -fall[i])
	}
	if fall[0] <= 0 && fall[1] <= 0 {
		return 0, true
	}
	if fall[0] < 0 || fall[1] < 0 { // they cross
		x := a + unit.Length((b-a)*(fall[0]/(fall[0]-fall[1])))
		if fall[0] < 0 {
			a = x
		} else {
			b = x
		}
		if b-a < tolerance {
			return float64(tolerance), true
		}
	}
	formation := earthwork.Line{Station: a, Level: min(level[0], level[1]) - s.m.maxCut}
	at := [2]unit.Length{a, b}
	for _, sec := range [2]earthwork.Section{s.m.section, s.m.under} {
		var now, was [1]unit.Volume
		if s.ground.CutCells(sec, at[:], formation, now[:], nil, nil) != nil || e.ground.CutCells(sec, at[:], formation, was[:], nil, nil) != nil {
			return 0, false
		}
		less = max(less, was[0].CubicMeters()-now[0].CubicMeters())
	}
	return less, true
}
