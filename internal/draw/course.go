package draw

import (
	"math"
	"sort"
)

// Bend is an arc of the centreline in plan, between two stations.
type Bend struct {
	From, To float64
	// Curvature is 1/radius of the centreline, positive to the right looking
	// uphill.
	Curvature float64
}

// Course is the centreline of a path in plan: straight but for its bends. The
// zero value is straight throughout.
type Course struct{ Bends []Bend }

// Spot is a place in plan, in metres: X in the direction the path starts off
// in, Y to the right of it.
type Spot struct{ X, Y float64 }

// At gives the place of a station at an offset from the centreline, positive
// to the right looking uphill. Bends ascend and do not overlap.
func (c Course) At(station, offset float64) Spot {
	x, y, turn, at := 0.0, 0.0, 0.0, 0.0
	straight := func(l float64) {
		x += float64(l * math.Cos(turn))
		y += float64(l * math.Sin(turn))
	}
	for _, b := range c.Bends {
		if station <= b.From {
			break
		}
		straight(b.From - at)
		to := math.Min(station, b.To)
		l := to - b.From
		if math.Abs(b.Curvature*l) < 1e-9 {
			straight(l)
		} else {
			end := turn + float64(b.Curvature*l)
			x += (math.Sin(end) - math.Sin(turn)) / b.Curvature
			y += (math.Cos(turn) - math.Cos(end)) / b.Curvature
			turn = end
		}
		at = to
	}
	straight(station - at)
	return Spot{x - float64(offset*math.Sin(turn)), y + float64(offset*math.Cos(turn))}
}

// beyond says that an offset lies past the centre of the bend at a station,
// where two places of the path would be one.
func (c Course) beyond(station, offset float64) bool {
	for _, b := range c.Bends {
		if station > b.From && station < b.To {
			return b.Curvature*offset > 0.98
		}
	}
	return false
}

// stations gives from, to and what is needed between them to draw the course
// smoothly: the ends of bends and every few degrees within one.
func (c Course) stations(from, to float64) []float64 {
	const turn = 3 * math.Pi / 180
	out := []float64{from}
	add := func(x float64) {
		if x > out[len(out)-1] && x < to {
			out = append(out, x)
		}
	}
	for _, b := range c.Bends {
		n := int(math.Min(math.Ceil(math.Abs(b.Curvature*(b.To-b.From))/turn), 500))
		for i := 0; i <= n; i++ {
			add(b.From + (b.To-b.From)*float64(i)/math.Max(float64(n), 1))
		}
	}
	if to > from {
		out = append(out, to)
	}
	return out
}

// Terrain is the ground of a section with its crossfalls, and how the sides of
// the work meet it.
type Terrain struct {
	// Ground is the surface on the centreline, stations ascending.
	Ground []XY
	// Crossfall is the rise of the ground per unit to the right at each point
	// of Ground; nil is level across.
	Crossfall []float64
	// Width is that of the path and of made ground below it, Formation that of
	// the cut.
	Width, Formation float64
	// Batter is the slope of the sides of the cut, FillBatter that of made
	// ground, horizontal per vertical.
	Batter, FillBatter float64
}

// crossfallAt interpolates between the points of the ground.
func (t Terrain) crossfallAt(x float64) float64 {
	if len(t.Crossfall) != len(t.Ground) || len(t.Ground) == 0 {
		return 0
	}
	line := make([]XY, 0, 2)
	i := sort.Search(len(t.Ground), func(i int) bool { return t.Ground[i].Station >= x })
	switch i {
	case 0:
		return t.Crossfall[0]
	case len(t.Ground):
		return t.Crossfall[len(t.Crossfall)-1]
	}
	line = append(line, XY{t.Ground[i-1].Station, t.Crossfall[i-1]}, XY{t.Ground[i].Station, t.Crossfall[i]})
	return between(line[0], line[1], x)
}

// levelAt is the ground's level at a station and an offset to the right.
func (t Terrain) levelAt(x, offset float64) float64 {
	return levelAt(t.Ground, x) + float64(t.crossfallAt(x)*offset)
}

// Daylight is where one side of the work comes out on the ground.
type Daylight struct {
	// Offset from the centreline, positive to the right.
	Offset float64
	// Cut says that it is the top of a cut, otherwise the toe of made ground.
	Cut bool
}

// daylight gives the place at a station for a formation at a level; side is 1
// to the right and -1 to the left. A side that never meets the ground (crossfall
// as steep as the batter) is left at the formation's edge.
//
// The side of a cut rises from the formation's edge b/2 at 1/s: f + (y - b/2)/s
// meets the ground g + c·y at y = (s·(g - f) + b/2)/(1 - s·c); the side of made
// ground falls in the same way.
func (t Terrain) daylight(x, formation, side float64) Daylight {
	g, c := levelAt(t.Ground, x), t.crossfallAt(x)*side
	edge := t.Formation / 2
	if g+float64(c*edge) > formation {
		d := Daylight{Offset: side * edge, Cut: true}
		if q := 1 - float64(t.Batter*c); q > 1e-6 {
			if y := (float64(t.Batter*(g-formation)) + edge) / q; y > edge {
				d.Offset = side * y
			}
		}
		return d
	}
	edge = t.Width / 2
	d := Daylight{Offset: side * edge}
	if g+float64(c*edge) < formation {
		if q := 1 + float64(t.FillBatter*c); q > 1e-6 {
			if y := (float64(t.FillBatter*(formation-g)) + edge) / q; y > edge {
				d.Offset = side * y
			}
		}
	}
	return d
}
