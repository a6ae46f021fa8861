package stair

import (
	"fmt"
	"math"
	"sort"

	"github.com/martinlindhe/unit"
)

// Kind is how a flight is built.
type Kind string

// Box is a flight of box steps: each tread is earth or gravel held in a timber
// frame, bedded in a cut, and bears on the ground.
const Box Kind = "box"

// Framed is a flight on stringers above the ground, from a bearing at its foot
// to an edge at its head. It also stands for a landing framed as a platform.
const Framed Kind = "framed"

// kinds in the order in which ties prefer them.
var kindNames = [2]Kind{Box, Framed}

// kindIndex is the place of a kind in kindNames; "" is Box. −1 is no kind.
func kindIndex(k Kind) int {
	switch k {
	case "", Box:
		return onBox
	case Framed:
		return onFrame
	}
	return -1
}

// Point is a place on the path's centreline: Station is the horizontal
// distance along it, uphill positive, Level the height above the datum.
type Point struct {
	Station unit.Length `json:"station"`
	Level   unit.Length `json:"level"`
}

// Flight is an unbroken series of risers with one tread depth between them.
// Risers risers have Risers−1 treads; a flight of one riser has none and its
// Tread is 0.
type Flight struct {
	Kind   Kind        `json:"kind"`
	First  int         `json:"first"`  // number of its first riser, counted from 1 at the foot
	Risers int         `json:"risers"` // how many risers it has, at least 1
	Tread  unit.Length `json:"tread"`  // depth of each of its treads, riser face to riser face
	Start  unit.Length `json:"start"`  // station of its first riser
	End    unit.Length `json:"end"`    // station of its last riser
}

// Landing is the level-ish place between two flights. It carries the same
// wash as the treads.
type Landing struct {
	Kind  Kind        `json:"kind"`  // Box: it bears on the ground; Framed: a platform between two framed flights
	After int         `json:"after"` // the riser it lies behind: the last one of the flight below
	Start unit.Length `json:"start"`
	End   unit.Length `json:"end"`
	Depth unit.Length `json:"depth"` // End − Start
	Level unit.Length `json:"level"` // finished level at Start, its front edge
}

// Step is one riser and what lies behind it.
type Step struct {
	Riser   int         `json:"riser"`             // counted from 1 at the foot
	Kind    Kind        `json:"kind"`              // of its flight
	Station unit.Length `json:"station"`           // of the riser's face
	Level   unit.Length `json:"level"`             // of its nosing, the finished surface at the top of the riser
	Tread   unit.Length `json:"tread"`             // depth behind this riser up to the next; 0 for the last, which lands on the head
	Landing bool        `json:"landing,omitempty"` // whether what lies behind it is a landing
}

// Layout is a stepped path worked out: all its risers are equal, each flight
// has one tread depth, and landings part the flights.
//
// Riser k of n stands at station x(k); x(1) is the foot and x(n) the head. The
// finished surface behind riser k is
//
//	L(x) = foot level + k·Riser + Wash·(x − foot station)
//
// and so Riser = (Rise − Wash·Run)/Risers. Make one with [Lay] or [Fit]; one
// put together by hand can be checked with [Layout.Validate].
//
// With FirstStands riser 1 is there already and the foot is the top of it: then
// L(x) = foot level + (k−1)·Riser + Wash·(x − foot station), and Riser = (Rise −
// Wash·Run)/(Risers−1) is the height of the others. How high the first one is,
// the layout does not say.
type Layout struct {
	Foot   Point       `json:"foot"`
	Head   Point       `json:"head"`
	Risers int         `json:"risers"`
	Riser  unit.Length `json:"riser"` // height of each riser
	Run    unit.Length `json:"run"`   // horizontal distance from foot to head
	Rise   unit.Length `json:"rise"`  // height of the head above the foot
	Wash   float64     `json:"wash"`  // forward fall of treads and landings, a ratio
	// FirstStands is whether the first riser was there before.
	FirstStands bool      `json:"first_stands,omitempty"`
	Flights     []Flight  `json:"flights"`
	Landings    []Landing `json:"landings"`
	Steps       []Step    `json:"steps"`
}

// Line is a straight finished surface along the path: the line through
// (Station, Level) rising Grade per unit of station.
type Line struct {
	Station unit.Length
	Level   unit.Length
	Grade   float64
}

// At is the level of the line at a station.
func (l Line) At(station unit.Length) unit.Length {
	return l.Level + unit.Length(l.Grade*float64(station-l.Station))
}

// Surface is the finished surface behind riser k, counted from 1. Riser 0 is
// the ground in front of the first riser, at the foot's level with the same
// wash. Counts outside the layout are not refused: the formula holds for them
// as well.
//
// Where the first riser stands already it is taken to be as high as the others
// when riser is 0.
func (l Layout) Surface(riser int) Line {
	if l.FirstStands {
		riser--
	}
	return surface(l.Foot, l.Riser, l.Wash, riser)
}

// rising is how many risers the climb is shared by.
func (l Layout) rising() int {
	if l.FirstStands {
		return l.Risers - 1
	}
	return l.Risers
}

func surface(foot Point, riser unit.Length, wash float64, k int) Line {
	return Line{
		Station: foot.Station,
		Level:   foot.Level + unit.Length(float64(k)*float64(riser)),
		Grade:   wash,
	}
}

// RiserAt is the number of the last riser at or below a station: what is
// underfoot there is the surface behind it. It is 0 below the foot.
func (l Layout) RiserAt(station unit.Length) int {
	return sort.Search(len(l.Steps), func(i int) bool { return l.Steps[i].Station > station })
}

// SurfaceAt is the finished level at a station between foot and head; at a
// riser, the level at its top. ok is false outside the path.
func (l Layout) SurfaceAt(station unit.Length) (level unit.Length, ok bool) {
	if !(station >= l.Foot.Station && station <= l.Head.Station) || len(l.Steps) == 0 {
		return 0, false
	}
	return l.Surface(l.RiserAt(station)).At(station), true
}

// tol is how close two lengths must be to count as equal: far below anything a
// tape can show, far above what adding up a path's treads can lose.
const tol = 1e-9

// Caps that keep time and memory bounded whatever is asked for.
const (
	maxRisers = 2000   // risers of one path
	maxReach  = 10_000 // metres of run or rise
	maxDatum  = 1e6    // metres of station or level
	maxSum    = 0.001  // metres by which a layout's parts may miss the run
)

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// ends checks foot, head and wash, and gives run, rise and what the risers
// must climb: the rise less what the wash climbs.
func ends(foot, head Point, wash float64, faults *Faults) (run, rise, climb float64) {
	n := len(*faults)
	for _, e := range []struct {
		field string
		v     unit.Length
	}{
		{"foot.station", foot.Station}, {"foot.level", foot.Level},
		{"head.station", head.Station}, {"head.level", head.Level},
	} {
		if !finite(float64(e.v)) || math.Abs(float64(e.v)) > maxDatum {
			faults.Add(e.field, fmt.Sprint(float64(e.v)), "is not a usable length", "give metres within ±1,000,000")
		}
	}
	if !finite(wash) || wash < 0 || wash > 0.2 {
		faults.Add("wash", fmt.Sprint(wash), "is not a forward fall for a tread", "give a ratio from 0 to 0.2; 0.02 is 2 in 100")
	}
	if len(*faults) > n {
		return 0, 0, 0
	}
	run = float64(head.Station - foot.Station)
	rise = float64(head.Level - foot.Level)
	if run <= tol {
		faults.Add("head.station", text(head.Station), "is not beyond the foot's station "+text(foot.Station),
			"give the head a station further along the path than the foot")
	} else if run > maxReach {
		faults.Add("head.station", text(head.Station), "is too far from the foot", "plan at most 10 km of path at once")
	}
	if rise <= tol {
		faults.Add("head.level", text(head.Level), "is not above the foot's level "+text(foot.Level),
			"let the path run uphill, with the foot at its lower end")
	} else if rise > maxReach {
		faults.Add("head.level", text(head.Level), "is too high above the foot", "plan at most 10 km of rise at once")
	}
	if len(*faults) > n {
		return 0, 0, 0
	}
	climb = rise - float64(wash*run)
	if climb <= tol {
		faults.Add("wash", fmt.Sprintf("%.4g %%", 100*wash), fmt.Sprintf("climbs %s over the run, all of the rise of %s, and leaves nothing for risers",
			text(unit.Length(wash*run)), text(unit.Length(rise))),
			fmt.Sprintf("this path needs no steps at that slope; or use a wash below %.2g %%", 100*rise/run))
	}
	return run, rise, climb
}

// Validate checks that a layout is consistent in itself: that its risers and
// the wash add up to its rise within 0.01 mm, its treads and landings to its
// run, and that flights, landings and steps agree with each other. Layouts made
// by [Lay] and [Fit] pass; it is for those that come from elsewhere.
func (l Layout) Validate() error {
	var faults Faults
	run, rise, _ := ends(l.Foot, l.Head, l.Wash, &faults)
	if len(faults) > 0 {
		return faults.Err()
	}
	const near = 1e-5 // 0.01 mm
	off := func(a, b float64) bool { return !(math.Abs(a-b) <= near) }
	if off(float64(l.Run), run) {
		faults.Add("run", text(l.Run), "is not the distance from foot to head", "write "+text(unit.Length(run)))
	}
	if off(float64(l.Rise), rise) {
		faults.Add("rise", text(l.Rise), "is not the height of the head above the foot", "write "+text(unit.Length(rise)))
	}
	if l.Risers < 1 || l.Risers > maxRisers {
		faults.Add("risers", fmt.Sprint(l.Risers), "is not a number of risers", fmt.Sprintf("give 1 to %d", maxRisers))
		return faults.Err()
	}
	if l.FirstStands && l.Risers < 2 {
		faults.Add("risers", fmt.Sprint(l.Risers), "leaves no riser above the one that stands", "give at least 2")
		return faults.Err()
	}
	if sum := float64(float64(l.rising())*float64(l.Riser)) + float64(l.Wash*run); off(sum, rise) {
		faults.Add("riser", text(l.Riser), fmt.Sprintf("and the wash add up to %s, not to the rise of %s", text(unit.Length(sum)), text(unit.Length(rise))),
			fmt.Sprintf("make each riser (rise − wash × run) ÷ %d", l.rising()))
	}
	if len(l.Steps) != l.Risers {
		faults.Addf("steps", "has %d steps for %d risers", len(l.Steps), l.Risers)
		return faults.Err()
	}
	if len(l.Flights) == 0 || len(l.Landings) != len(l.Flights)-1 {
		faults.Addf("landings", "has %d landings for %d flights; there is one landing between two flights", len(l.Landings), len(l.Flights))
		return faults.Err()
	}
	next, at := 1, float64(l.Foot.Station)
	for i, f := range l.Flights {
		field := fmt.Sprintf("flights[%d]", i)
		if f.Kind != Box && f.Kind != Framed {
			faults.Add(field+".kind", string(f.Kind), "is not a kind of flight", `write "box" or "framed"`)
		}
		if f.First != next || f.Risers < 1 || f.Risers > l.Risers-next+1 {
			faults.Addf(field, "does not take up the risers where the flight below leaves them, at riser %d of %d", next, l.Risers)
			return faults.Err()
		}
		end := at + float64(float64(f.Risers-1)*float64(f.Tread))
		if off(float64(f.Start), at) || off(float64(f.End), end) || f.Tread < 0 || (f.Risers > 1 && f.Tread <= tol) {
			faults.Addf(field, "does not begin at %s and end %d treads of its depth further up", text(unit.Length(at)), f.Risers-1)
			return faults.Err()
		}
		for k := 0; k < f.Risers; k++ {
			s := l.Steps[next-1+k]
			x := at + float64(float64(k)*float64(f.Tread))
			if s.Riser != next+k || s.Kind != f.Kind || off(float64(s.Station), x) ||
				off(float64(s.Level), float64(l.Surface(next+k).At(unit.Length(x)))) {
				faults.Addf(fmt.Sprintf("steps[%d]", next-1+k), "is not riser %d of this flight at station %s", k+1, text(unit.Length(x)))
				return faults.Err()
			}
			last, want := k == f.Risers-1, float64(f.Tread)
			if last && i < len(l.Landings) {
				want = float64(l.Landings[i].Depth)
			} else if last {
				want = 0
			}
			if off(float64(s.Tread), want) || s.Landing != (last && i < len(l.Landings)) {
				faults.Addf(fmt.Sprintf("steps[%d].tread", next-1+k), "is not %s, what lies behind that riser", text(unit.Length(want)))
				return faults.Err()
			}
		}
		next += f.Risers
		at = end
		if i < len(l.Landings) {
			g := l.Landings[i]
			if g.After != next-1 || g.Depth <= tol || off(float64(g.Start), at) || off(float64(g.End), at+float64(g.Depth)) ||
				off(float64(g.Level), float64(l.Surface(next-1).At(unit.Length(at)))) {
				faults.Addf(fmt.Sprintf("landings[%d]", i), "does not lie between its two flights, behind riser %d", next-1)
				return faults.Err()
			}
			switch {
			case g.Kind != Box && g.Kind != Framed:
				faults.Add(fmt.Sprintf("landings[%d].kind", i), string(g.Kind), "is not a kind of landing", `write "box" or "framed"`)
			case g.Kind == Framed && (f.Kind != Framed || l.Flights[i+1].Kind != Framed):
				faults.Add(fmt.Sprintf("landings[%d].kind", i), string(g.Kind), "does not lie between two framed flights", `write "box": it bears on the ground`)
			}
			at += float64(g.Depth)
		}
	}
	if next != l.Risers+1 {
		faults.Addf("flights", "hold %d risers, not %d", next-1, l.Risers)
	}
	if off(at, float64(l.Head.Station)) {
		faults.Addf("flights", "end at station %s, not at the head's %s", text(unit.Length(at)), text(l.Head.Station))
	}
	return faults.Err()
}
