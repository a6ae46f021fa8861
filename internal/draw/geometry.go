package draw

import (
	"math"
	"sort"
	"strconv"
)

// XY is a point of the section, in metres: the station along the path and the
// level above the datum.
type XY struct{ Station, Level float64 }

// Piece is a straight stretch of formation from one end to the other, uphill.
type Piece struct{ From, To XY }

func (p Piece) at(x float64) float64 {
	return between(p.From, p.To, x)
}

// between is the level at station x on the line from a to b, exact at both ends.
func between(a, b XY, x float64) float64 {
	switch {
	case x <= a.Station:
		return a.Level
	case x >= b.Station:
		return b.Level
	}
	// The station may be a product: it is not to be taken from unrounded.
	return a.Level + float64((b.Level-a.Level)*((float64(x)-a.Station)/(b.Station-a.Station)))
}

// levelAt is the level of a polyline at station x; beyond its ends, that of
// the end.
func levelAt(line []XY, x float64) float64 {
	i := sort.Search(len(line), func(i int) bool { return line[i].Station >= x })
	switch i {
	case 0:
		return line[0].Level
	case len(line):
		return line[len(line)-1].Level
	}
	return between(line[i-1], line[i], x)
}

// areas cuts the space between a line and the pieces of formation below or
// above it into polygons: cut where the line is the higher one, fill where the
// formation is. Nothing is drawn where either is missing.
func areas(line []XY, pieces []Piece) (cut, fill [][]XY) {
	if len(line) < 2 {
		return nil, nil
	}
	for _, p := range pieces {
		x0, x1 := p.From.Station, p.To.Station
		if first := line[0].Station; x0 < first {
			x0 = first
		}
		if last := line[len(line)-1].Station; x1 > last {
			x1 = last
		}
		if x0 >= x1 {
			continue
		}
		// The stations at which the line bends, with both ends.
		xs := []float64{x0}
		for i := sort.Search(len(line), func(i int) bool { return line[i].Station > x0 }); i < len(line) && line[i].Station < x1; i++ {
			xs = append(xs, line[i].Station)
		}
		xs = append(xs, x1)

		var run []XY // the line's side of the polygon being made
		side := 0
		close := func() {
			if side != 0 && len(run) > 1 {
				a, b := run[0].Station, run[len(run)-1].Station
				poly := append(run, XY{b, p.at(b)}, XY{a, p.at(a)})
				if side > 0 {
					cut = append(cut, poly)
				} else {
					fill = append(fill, poly)
				}
			}
			run, side = nil, 0
		}
		add := func(s int, a, b XY) {
			if s != side {
				close()
				side, run = s, []XY{a}
			}
			run = append(run, b)
		}
		for i := 1; i < len(xs); i++ {
			a, b := XY{xs[i-1], levelAt(line, xs[i-1])}, XY{xs[i], levelAt(line, xs[i])}
			ha, hb := a.Level-p.at(a.Station), b.Level-p.at(b.Station)
			switch {
			case ha == 0 && hb == 0:
				close()
			case ha >= 0 && hb >= 0:
				add(1, a, b)
			case ha <= 0 && hb <= 0:
				add(-1, a, b)
			default:
				x := a.Station + float64((b.Station-a.Station)*(ha/(ha-hb)))
				m := XY{x, p.at(x)}
				s := 1
				if ha < 0 {
					s = -1
				}
				add(s, a, m)
				add(-s, m, b)
			}
		}
		close()
	}
	return cut, fill
}

// Below gives the parts of a piece that lie below a line: where something must
// be dug to reach it.
func (p Piece) Below(line []XY) []Piece {
	cut, _ := areas(line, []Piece{p})
	var out []Piece
	for _, poly := range cut {
		// A polygon ends with the piece's side, from back to front.
		n := len(poly)
		out = append(out, Piece{From: poly[n-1], To: poly[n-2]})
	}
	return out
}

// area is the area of a polygon, counter-clockwise positive, about its first
// point to keep digits.
func area(p []XY) float64 {
	sum := 0.0
	for i := 1; i+1 < len(p); i++ {
		ax, ay := p[i].Station-p[0].Station, p[i].Level-p[0].Level
		bx, by := p[i+1].Station-p[0].Station, p[i+1].Level-p[0].Level
		sum += float64(ax*by) - float64(ay*bx)
	}
	return sum / 2
}

const footMetres = 0.3048

// interval gives the smallest round length, in the drawing's unit, that is at
// least least px at k px per metre: 1, 2 or 5 times a power of ten. Round
// inches make no round feet, so a foot is not cut finer than a half.
func interval(k, least float64, feet bool) float64 {
	if feet {
		k *= footMetres
		if 0.5*k >= least {
			return 0.5
		}
	}
	step := 0.001
	if feet {
		step = 1
	}
	for i := 0; i < 36; i++ {
		if step*k >= least {
			return step
		}
		if i%3 == 1 {
			step *= 2.5
		} else {
			step *= 2
		}
	}
	return step
}

// plainNumber writes a round number without trailing zeros.
func plainNumber(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64)
}
