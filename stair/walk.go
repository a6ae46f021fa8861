package stair

import (
	"math"

	"github.com/martinlindhe/unit"
)

// LevelPace is the length of a pace on the level that [Layout.Walk] takes when
// it is given none: 650 mm. Source: François Blondel, Cours d'architecture,
// 1675–83, 24 French inches, from memory.
const LevelPace = 650 * unit.Millimeter

// OutdoorPace is the pace for steps out of doors, where 2R + T = 26 in (660.4
// mm) is the target. Source: landscape design textbook (believed Booth and Hiss,
// Residential Landscape Architecture), Figures 11-6 to 11-9.
const OutdoorPace = 26 * unit.Inch

// StepTarget is what two risers and a tread should come to.
type StepTarget struct {
	ID     string      `json:"id"` // "outdoor" or "indoor"
	Min    unit.Length `json:"min"`
	Max    unit.Length `json:"max"`
	Source string      `json:"source"`
}

// StepTargets are the step rule for steps out of doors and for stairs indoors.
// They are advice: a walker takes longer paces outdoors.
func StepTargets() []StepTarget {
	return []StepTarget{
		{"outdoor", OutdoorPace, OutdoorPace, "2R + T = 26 in: landscape design textbook (believed Booth and Hiss, Residential Landscape Architecture), Figures 11-6 to 11-9"},
		{"indoor", 24 * unit.Inch, 25 * unit.Inch, "24 in: Cyclopedia of Architecture, Carpentry and Building (1907–12), Laying out stairs; 25 in: US Army Engineer School subcourse EN5156, Stairway calculations"},
	}
}

// Off is by how much a sum of two risers and a tread misses the target:
// positive, the walker must stretch; 0 within it.
func (t StepTarget) Off(sum unit.Length) unit.Length {
	switch {
	case float64(sum) > float64(t.Max)+tol:
		return sum - t.Max
	case float64(sum) < float64(t.Min)-tol:
		return sum - t.Min
	}
	return 0
}

// longLanding is the depth above which a landing leaves the walker room to find
// the rhythm anew.
const longLanding = 2.5

// Walk says how a layout walks. It reports and forbids nothing.
type Walk struct {
	Pace     unit.Length   `json:"pace"` // the level pace it is judged by
	Flights  []WalkFlight  `json:"flights"`
	Landings []WalkLanding `json:"landings"`
	// Misfit is how far in all the path is from whole paces: the sum of |Off|
	// over all treads, and over all landings that are not Long.
	Misfit unit.Length `json:"misfit"`
	// SameFoot is whether one foot leads up every riser of the path.
	SameFoot bool `json:"same_foot"`
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
	// OffIndoor is how far StepSum is from the indoor target of [StepTargets],
	// which only says something of treads of one pace.
	OffIndoor unit.Length `json:"off_indoor"`
	// SameFoot is whether the same foot leads up every riser, as it does when
	// the paces on a tread are even in number. Textbooks of stepped ramps want
	// them odd, from memory, so that the feet take turns.
	SameFoot bool        `json:"same_foot"`
	Pitch    unit.Angle  `json:"pitch"` // of the line through its nosings: atan(R/T + wash)
	Tread    unit.Length `json:"tread"`
	Misfit   unit.Length `json:"misfit"` // |Off| of all its treads
}

// WalkLanding is the walk across one landing. The rhythm carries through when
// its depth is n·P + T, n paces and one tread of the flight below (0 when that
// has none). Source: a Polish landscape text, "Garden stairs" parts 2 and 3 (L =
// n·p + s), which holds it needless on landings deeper than 2.5 m.
type WalkLanding struct {
	After int         `json:"after"` // the riser it lies behind
	Paces int         `json:"paces"` // n, at least 0, beside those of the tread
	Ideal unit.Length `json:"ideal"` // n·P + T
	Off   unit.Length `json:"off"`   // depth − Ideal
	Long  bool        `json:"long"`  // deeper than 2.5 m: the walker finds the rhythm anew anyway
	// SameFoot is whether the foot that led up the riser below leads up the one
	// behind the landing too: when n and the paces of the tread are together
	// even in number.
	SameFoot bool `json:"same_foot"`
}

// Walk works out how the layout walks for a pace on the level of the given
// length; 0 or anything that is no length above 100 mm is [LevelPace].
func (l Layout) Walk(pace unit.Length) Walk {
	p := float64(pace)
	if !finite(p) || p < 0.1 {
		p = float64(LevelPace)
	}
	w := Walk{Pace: unit.Length(p), SameFoot: true}
	indoor := StepTargets()[1]
	r := float64(l.Riser)
	type below struct {
		tread float64
		paces int
	}
	last := map[int]below{} // by the flight's last riser
	for _, f := range l.Flights {
		if f.Risers < 2 {
			continue // no tread to walk on
		}
		t := float64(f.Tread)
		sum := float64(2*r) + t
		n := math.Max(1, math.Round(sum/p))
		ideal := float64(n*p) - float64(2*r)
		g := WalkFlight{
			First: f.First, StepSum: unit.Length(sum), Paces: int(n),
			Ideal: unit.Length(ideal), Off: unit.Length(t - ideal),
			OffIndoor: indoor.Off(unit.Length(sum)),
			SameFoot:  int(n)%2 == 0,
			Pitch:     unit.Angle(math.Atan(r/t + l.Wash)),
			Tread:     f.Tread,
			Misfit:    unit.Length(float64(f.Risers-1) * math.Abs(t-ideal)),
		}
		w.Flights = append(w.Flights, g)
		w.Misfit += g.Misfit
		w.SameFoot = w.SameFoot && g.SameFoot
		last[f.First+f.Risers-1] = below{t, int(n)}
	}
	for _, g := range l.Landings {
		b := last[g.After] // 0 behind a single riser
		n := math.Max(0, math.Round((float64(g.Depth)-b.tread)/p))
		ideal := float64(n*p) + b.tread
		d := WalkLanding{
			After: g.After, Paces: int(n), Ideal: unit.Length(ideal),
			Off: g.Depth - unit.Length(ideal), Long: float64(g.Depth) > longLanding+tol,
			SameFoot: (int(n)+b.paces)%2 == 0,
		}
		w.Landings = append(w.Landings, d)
		w.SameFoot = w.SameFoot && d.SameFoot
		if !d.Long {
			w.Misfit += unit.Length(math.Abs(float64(d.Off)))
		}
	}
	return w
}
