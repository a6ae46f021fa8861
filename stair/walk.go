package stair

import (
	"math"

	"github.com/martinlindhe/unit"
)

// LevelPace is the length of a pace on the level that [Layout.Walk] takes when
// it is given none: 650 mm. Source: François Blondel, Cours d'architecture,
// 1675–83, 24 French inches, from memory; the 26 in of a landscape design
// textbook (2R + T = 26 in, Figures 11-6 to 11-9) is 660 mm.
const LevelPace = 650 * unit.Millimeter

// Walk says how a layout walks. It reports and forbids nothing.
type Walk struct {
	Pace     unit.Length   `json:"pace"` // the level pace it is judged by
	Flights  []WalkFlight  `json:"flights"`
	Landings []WalkLanding `json:"landings"`
}

// WalkFlight is the walk on one flight. A walker takes n paces on each tread
// (the riser included) when 2R + T = n·P, with P the pace on the level; for n =
// 1 that is the carpenter's step rule. Formula: derived from the step rule, one
// pace gained per P of tread.
type WalkFlight struct {
	First   int         `json:"first"`    // number of its first riser
	StepSum unit.Length `json:"step_sum"` // 2R + T
	Paces   int         `json:"paces"`    // n: the whole number of paces nearest to StepSum, at least 1
	Ideal   unit.Length `json:"ideal"`    // the tread on which n paces fit exactly, n·P − 2R
	Off     unit.Length `json:"off"`      // tread − Ideal: positive, the walker must stretch
	// SameFoot is whether the same foot leads up every riser, as it does when
	// the paces on a tread are even in number.
	SameFoot bool        `json:"same_foot"`
	Pitch    unit.Angle  `json:"pitch"` // of the line through its nosings: atan(R/T + wash)
	Tread    unit.Length `json:"tread"`
}

// WalkLanding is the walk across one landing. The rhythm carries through when
// its depth is n·P + T, n paces and one tread of the flight below. Source: a
// Polish landscape text, "Garden stairs" parts 2 and 3 (L = n·p + s), which
// holds it needless on landings deeper than 2.5 m.
type WalkLanding struct {
	After int         `json:"after"` // the riser it lies behind
	Paces int         `json:"paces"` // n, at least 0
	Ideal unit.Length `json:"ideal"` // n·P + T
	Off   unit.Length `json:"off"`   // depth − Ideal
	Long  bool        `json:"long"`  // deeper than 2.5 m: the walker finds the rhythm anew anyway
}

// Walk works out how the layout walks for a pace on the level of the given
// length; 0 or anything that is no length above 100 mm is [LevelPace].
func (l Layout) Walk(pace unit.Length) Walk {
	p := float64(pace)
	if !finite(p) || p < 0.1 {
		p = float64(LevelPace)
	}
	w := Walk{Pace: unit.Length(p)}
	r := float64(l.Riser)
	for _, f := range l.Flights {
		if f.Risers < 2 {
			continue // no tread to walk on
		}
		t := float64(f.Tread)
		sum := float64(2*r) + t
		n := math.Max(1, math.Round(sum/p))
		ideal := float64(n*p) - float64(2*r)
		w.Flights = append(w.Flights, WalkFlight{
			First: f.First, StepSum: unit.Length(sum), Paces: int(n),
			Ideal: unit.Length(ideal), Off: unit.Length(t - ideal),
			SameFoot: int(n)%2 == 0,
			Pitch:    unit.Angle(math.Atan(r/t + l.Wash)),
			Tread:    f.Tread,
		})
	}
	for i, g := range l.Landings {
		t := float64(l.Flights[i].Tread)
		n := math.Max(0, math.Round((float64(g.Depth)-t)/p))
		ideal := float64(n*p) + t
		w.Landings = append(w.Landings, WalkLanding{
			After: g.After, Paces: int(n), Ideal: unit.Length(ideal),
			Off: g.Depth - unit.Length(ideal), Long: float64(g.Depth) > 2.5,
		})
	}
	return w
}
