package earthwork

import (
	"fmt"
	"math"
	"sort"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Bounds of a ground. They keep every later sum finite and are far wider than
// a garden, or a mountain.
const (
	maxGroundPoints = 10000
	maxGroundReach  = 100e3 // m: stations may be chainages of a longer road
	maxGroundLevel  = 10e3  // m: levels may be above the sea
	maxCrossfall    = 2.0   // 63 degrees
	minGroundStep   = 1e-3  // m between stations
	groundSlack     = 1e-6  // m beyond an end that still counts as the end
)

// Point is one point of the ground on the path's centreline.
type Point struct {
	// Station is the horizontal distance along the path, uphill positive.
	Station unit.Length
	// Level is the height of the ground above the datum.
	Level unit.Length
	// Crossfall is the side slope of the ground there: rise per unit width,
	// positive up to the right when looking uphill. From -2 to 2.
	Crossfall float64
}

// Ground is the measured surface before the work: straight between its points,
// in level and in crossfall, and straight in plan unless it was given bends by
// [Ground.WithBends]. It is made by [NewGround] or by the Survey method
// of a set of readings, and never changes. The zero Ground has no points and
// no level anywhere.
type Ground struct {
	points []Point
	bends  []arc // of the path over it, in order
}

// NewGround makes a ground of 2 to 10 000 points. Stations must ascend by at
// least 1 mm and lie within 100 km of the datum, levels within 10 km, and
// crossfalls from -2 to 2; all must be finite. The error is a [Faults] whose
// fields are points[i].station, points[i].level and points[i].crossfall.
func NewGround(points []Point) (Ground, error) {
	var faults fault.List
	switch {
	case len(points) < 2:
		faults.Add("points", strconv.Itoa(len(points)), "points do not make a ground", "give at least 2, the foot and the head")
	case len(points) > maxGroundPoints:
		faults.Add("points", strconv.Itoa(len(points)), "points are too many", fmt.Sprintf("give at most %d", maxGroundPoints))
		return Ground{}, faults.Err()
	}
	previous := math.NaN()
	for i, p := range points {
		field := fmt.Sprintf("points[%d]", i)
		station := p.Station.Meters()
		if within(station, maxGroundReach) {
			// Stations that cannot be compared give no second fault.
			if step := station - previous; step < minGroundStep-1e-9 {
				faults.Add(field+".station", sayLength(station),
					fmt.Sprintf("does not lie beyond the station before it, %s", sayLength(previous)),
					"give the points in order, each at least 1 mm further on")
			}
			previous = station
		} else {
			faults.Add(field+".station", sayLength(station), "is not a station", "give a distance of at most 100 km")
		}
		if !within(p.Level.Meters(), maxGroundLevel) {
			faults.Add(field+".level", sayLength(p.Level.Meters()), "is not a level", "give a height of at most 10 km")
		}
		if !within(p.Crossfall, maxCrossfall) {
			faults.Add(field+".crossfall", sayNumber(p.Crossfall), "is not a crossfall", "give rise per unit width from -2 to 2, 0.1 for 10 %")
		}
	}
	if err := faults.Err(); err != nil {
		return Ground{}, err
	}
	return Ground{points: append([]Point(nil), points...)}, nil
}

// Points returns a copy of the points, stations ascending.
func (g Ground) Points() []Point { return append([]Point(nil), g.points...) }

// Foot is the first point, the one of least station. The zero Ground gives the
// zero Point.
func (g Ground) Foot() Point {
	if len(g.points) == 0 {
		return Point{}
	}
	return g.points[0]
}

// Head is the last point, the one of greatest station. The zero Ground gives
// the zero Point.
func (g Ground) Head() Point {
	if len(g.points) == 0 {
		return Point{}
	}
	return g.points[len(g.points)-1]
}

// LevelAt is the level of the ground at a station, straight between the
// measured points. Beyond the first and last point nothing was measured, and ok
// is false: this package does not guess at ground nobody has read. A station
// up to 0.001 mm beyond an end, as rounding makes them, counts as that end.
func (g Ground) LevelAt(station unit.Length) (level unit.Length, ok bool) {
	i, f, ok := g.locate(station.Meters())
	if !ok {
		return 0, false
	}
	a, b := g.points[i].Level.Meters(), g.points[i+1].Level.Meters()
	return unit.Length(blend(a, b, f)), true
}

// CrossfallAt is the crossfall of the ground at a station, straight between
// the measured points; ok is false where [Ground.LevelAt] has no level.
func (g Ground) CrossfallAt(station unit.Length) (crossfall float64, ok bool) {
	i, f, ok := g.locate(station.Meters())
	if !ok {
		return 0, false
	}
	return blend(g.points[i].Crossfall, g.points[i+1].Crossfall, f), true
}

// locate finds the stretch points[i]..points[i+1] that holds station x, and how
// far along it x lies, 0 to 1.
func (g Ground) locate(x float64) (i int, f float64, ok bool) {
	n := len(g.points)
	if n < 2 || math.IsNaN(x) {
		return 0, 0, false
	}
	first, last := g.points[0].Station.Meters(), g.points[n-1].Station.Meters()
	if x < first-groundSlack || x > last+groundSlack {
		return 0, 0, false
	}
	// The first point at or beyond x closes the stretch.
	i = sort.Search(n, func(k int) bool { return g.points[k].Station.Meters() >= x }) - 1
	if i < 0 {
		return 0, 0, true
	}
	if i > n-2 {
		return n - 2, 1, true
	}
	a, b := g.points[i].Station.Meters(), g.points[i+1].Station.Meters()
	return i, (x - a) / (b - a), true
}

// blend is the value a fraction f of the way from a to b, and b itself at 1, so
// that a ground gives back its own points to the last bit.
func blend(a, b, f float64) float64 {
	if f == 1 {
		return b
	}
	return a + float64((b-a)*f)
}

// Shift gives the same ground measured from a new origin: the point that was at
// station and level is at 0, 0. A shift that is not finite, or that would carry
// the ground out of the bounds of [NewGround], gives the zero Ground.
func (g Ground) Shift(station, level unit.Length) Ground {
	moved := g.Points()
	for i := range moved {
		moved[i].Station -= station
		moved[i].Level -= level
	}
	out, err := NewGround(moved)
	if err != nil {
		return Ground{}
	}
	for _, a := range g.bends {
		a.from -= station.Meters()
		a.to -= station.Meters()
		out.bends = append(out.bends, a)
	}
	return out
}

// within tells whether v is a number from -limit to limit; NaN and Inf are not.
func within(v, limit float64) bool { return v >= -limit && v <= limit }

// sayLength writes a length in metres for a message, in both measures, since
// the reader may have only one of the two tapes.
func sayLength(m float64) string {
	size := math.Abs(m)
	switch {
	case !(size <= 1e7):
		return strconv.FormatFloat(m, 'g', 6, 64) + " m"
	case size < 0.9995:
		return fmt.Sprintf("%s mm (%s in)", sayDigits(float64(m*1000), 1), sayDigits(m/0.0254, 2))
	}
	return fmt.Sprintf("%.3f m (%.2f ft)", m, m/0.3048)
}

// sayStation writes a length in the one form that several in a line are compared in.
func sayStation(m float64) string { return fmt.Sprintf("%.3f m (%.2f ft)", m, m/0.3048) }

// sayDigits writes v with at most n decimals and no trailing zeros.
func sayDigits(v float64, n int) string {
	scale := 1.0
	for range n {
		scale *= 10
	}
	r := math.Round(float64(v*scale)) / scale
	if r == 0 {
		r = 0 // not -0
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// sayNumber writes a plain ratio for a message.
func sayNumber(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
