package earthwork

import (
	"fmt"

	"github.com/martinlindhe/unit"
)

// RefillCells works out what goes back beside and under boxes on each of many
// short cells of a path, as a fit of steps asks for over and over: refill[i] is
// Dug.Fill + Dug.Backfill of [Ground.Dig] for the cell from at[i] to at[i+1], with
// the boxes buildUp high over the formation. The stations must ascend and lie on
// the ground, and wanted and refill must be as long as there are cells: of those
// not wanted nothing is told.
//
// The error is a [Faults] as of [Ground.Dig], with the fields at, formation,
// build_up, wanted and refill.
func (g Ground) RefillCells(sec Section, at []unit.Length, formation Line, buildUp unit.Length, wanted []bool, refill []unit.Volume) error {
	if err := g.checkCells(sec, at, formation, nil, nil, nil); err != nil {
		return err
	}
	for _, x := range []struct {
		field string
		long  int
	}{{"wanted", len(wanted)}, {"refill", len(refill)}} {
		if x.long != len(at)-1 {
			return Faults{{Field: x.field, Got: fmt.Sprint(x.long), Problem: "is not the number of cells", Fix: fmt.Sprintf("make it %d long", len(at)-1)}}
		}
	}
	sh := sec.shape(buildUp.Meters())
	last, known := len(g.points)-2, -1
	seg := g.bayOf(float64(at[0]))
	var r run
	for i := range refill {
		if !wanted[i] {
			continue
		}
		x, end := float64(at[i]), float64(at[i+1])
		for seg < last && float64(g.points[seg+1].Station) <= x {
			seg++
		}
		level, sum := buildUp >= 0 && buildUp <= maxBuildUp, 0.0
		for k := seg; level && x < end; k++ {
			// A section that lies evenly about the centreline is in a bend what it
			// is on a straight.
			if g.points[k].Crossfall != 0 || g.points[k+1].Crossfall != 0 {
				level = false
				break
			}
			if k != known {
				r, known = g.run(k, k == last, formation), k
			}
			to := end
			if k < last {
				to = min(end, r.x1)
			}
			h0, h1 := r.h0+float64(r.hs*(x-r.x0)), r.h0+float64(r.hs*(to-r.x0))
			sum += float64((to - x) * (overFloor(-h0, -h1, sh.path, sh.fillBatter/3) + sh.levelBackfill(h0, h1)))
			x = to
		}
		if level {
			refill[i] = unit.Volume(sum)
			continue
		}
		d, err := g.Dig(sec, Stretch{From: at[i], To: at[i+1], Formation: formation, BuildUp: buildUp})
		if err != nil {
			return err
		}
		refill[i] = d.Fill + d.Backfill
	}
	return nil
}

// overFloor is the average along a bay of what lies above a level floor, where
// its height goes linearly from h0 to h1: 2·half·h + 3·third·h², nothing below.
func overFloor(h0, h1, half, third float64) float64 {
	share := 1.0
	switch {
	case h0 <= 0 && h1 <= 0:
		return 0
	case h0 < 0:
		share, h0 = h1/(h1-h0), 0
	case h1 < 0:
		share, h1 = h0/(h0-h1), 0
	}
	return share * (float64(half*(h0+h1)) + float64(third*(float64(h0*h0)+float64(h0*h1)+float64(h1*h1))))
}

// levelBackfill is the average backfill along a bay of level sections.
func (s *shape) levelBackfill(h0, h1 float64) float64 {
	gap, third := s.half-s.path, s.batter/3
	if s.build <= 0 || s.reach <= s.path {
		return 0
	}
	low, high := h0, h1
	if low > high {
		low, high = high, low
	}
	if high <= s.build {
		return overFloor(low, high, gap, third)
	}
	full := float64(2*gap*s.build) + float64(s.batter*s.build*s.build)
	if low >= s.build {
		return full
	}
	buried := (high - s.build) / (high - low)
	return float64(buried*full) + float64((1-buried)*overFloor(low, s.build, gap, third))
}
