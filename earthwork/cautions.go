package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Severity says how much a caution matters.
type Severity string

// Severities: work must not go on so; something has to be done about it, or
// somebody asked; something to know.
const (
	Stop Severity = "stop"
	Warn Severity = "warn"
	Note Severity = "note"
)

// Quantity says what the figures of a caution are, and so their unit.
type Quantity string

// Quantities of cautions: metres; rise per run, or run per rise where
// the caution is of a batter; kg; m³; m³/s; m/s; and plain ratios.
const (
	OfLength Quantity = "length"
	OfSlope  Quantity = "slope"
	OfBatter Quantity = "batter"
	OfMass   Quantity = "mass"
	OfVolume Quantity = "volume"
	OfFlow   Quantity = "flow"
	OfSpeed  Quantity = "speed"
	OfIndex  Quantity = "index"
)

// Caution is a limit that is passed. Rules of a country bind whom they bind (those of
// 29 CFR 1926 employers); to others they are guidance.
type Caution struct {
	_        [0]func() // not comparable, which spares code: see DEVELOPERS.md
	ID       string
	Severity Severity
	// Limit and Actual are in the SI unit of the Quantity, and never negative.
	Quantity      Quantity
	Limit, Actual float64
	// Says is what it means and what would do, without figures.
	Says string
	// Source and FromMemory are as for a [Figure].
	Source     string
	FromMemory bool
}

type cautions []Caution

func (c *cautions) add(x Caution) {
	if x.Actual < 0 {
		x.Actual = 0
	}
	*c = append(*c, x)
}

// A saying is what a caution always says of one limit: static data, which takes no code
// to make.
type saying struct {
	id           string
	quantity     Quantity
	says, source string
	fromMemory   bool
}

func (c *cautions) put(s *saying, severity Severity, limit, actual float64) {
	c.add(Caution{ID: s.id, Severity: severity, Quantity: s.quantity, Limit: limit, Actual: actual, Says: s.says, Source: s.source, FromMemory: s.fromMemory})
}

var (
	sayBankEngineer  = saying{id: "bank-engineer", quantity: OfLength, says: "A cut this deep has to be designed by an engineer.", source: osha}
	sayBankWayOut    = saying{id: "bank-way-out", quantity: OfLength, says: "Keep a stair, ladder or ramp within 25 ft (7.62 m) of anybody in the cut.", source: "29 CFR 1926.651(c)(2)"}
	saySpoilSetBack  = saying{id: "spoil-set-back", quantity: OfLength, says: "The heap lies too near the edge of the cut: move it back, or hold it.", source: "29 CFR 1926.651(j)(2)"}
	sayWallPermit    = saying{id: "wall-permit", quantity: OfLength, says: "A wall this high commonly needs a permit.", source: "IRC R105.2(3), IBC 105.2(4), 2009: not over 4 ft from the bottom of the footing, without a surcharge"}
	saySurcharge     = saying{id: "wall-permit", quantity: OfLength, says: "A wall that holds more than level soil commonly needs a permit whatever its height.", source: "IRC R105.2(3), IBC 105.2(4), 2009: not over 4 ft from the bottom of the footing, without a surcharge"}
	sayTowns         = saying{id: "wall-permit", quantity: OfLength, says: "Some towns ask for a permit at this height: ask the building office.", source: "local limits: 2 ft in Prince George's County, Maryland; 3 ft in Orinda, California, and Norton, Ohio; 1.2 m in Sechelt, British Columbia"}
	sayWallEngineer  = saying{id: "wall-engineer", quantity: OfLength, says: "A wall that holds up this much has to be designed against sliding and overturning, with a factor of 1.5.", source: "IRC R404.4, 2015 on: over 48 in of unbalanced fill", fromMemory: true}
	sayWallLoaded    = saying{id: "wall-engineer", quantity: OfLength, says: "A wall that holds up this much with a load on it has to be designed against sliding and overturning, with a factor of 1.5.", source: "IRC R404.4, 2015 on: over 24 in with another lateral load", fromMemory: true}
	sayWallOlder     = saying{id: "wall-engineer", quantity: OfLength, says: "Older codes have a wall of this height designed against sliding and overturning, with a factor of 1.5.", source: "IRC 2006 R404.5, 2009 R404.4: over 24 in of unbalanced fill"}
	sayWallGuard     = saying{id: "wall-guard", quantity: OfLength, says: "People walk beside the top of a drop this high: put a guard there.", source: "Connecticut amendment to the IRC: a drop over 4 ft with a walking surface within 2 ft"}
	sayGroundSteep   = saying{id: "ground-steep", quantity: OfSlope, says: "Ground this steep may be moving already: look for cracks, leaning trees and wet places, and ask a geotechnical engineer before cutting into it.", source: "IBC Appendix J, J106.1: slopes that stay, at most 2 horizontal to 1 vertical"}
	sayFillSlope     = saying{id: "fill-slope", quantity: OfBatter, says: "A fill slope that stays this steep wants a report by an engineer, or a wall.", source: "IBC Appendix J, J107.6"}
	sayFillBenched   = saying{id: "fill-benched", quantity: OfLength, says: "Cut benches into sloping ground before a fill this deep is put on it.", source: "IBC Appendix J, J107.3: ground steeper than 1 in 5, fill over 5 ft", fromMemory: true}
	sayGradingPermit = saying{id: "grading-permit", quantity: OfLength, says: "A cut of this depth may need a grading permit.", source: "UBC 1997, Appendix 33, 3306.2", fromMemory: true}
	sayGradingVolume = saying{id: "grading-volume", quantity: OfVolume, says: "Moving this much earth may need a grading permit.", source: "UBC 1997, Appendix 33, 3306.2: fill, 50 yd³ a lot", fromMemory: true}
	saySwaleSmall    = saying{id: "water-too-much", quantity: OfFlow, says: "The swale is too small for the water: make it broader, deeper or steeper, or send part of the water another way.", source: sourceManning, fromMemory: true}
	sayPipeSmall     = saying{id: "water-too-much", quantity: OfFlow, says: "The pipe is too small for the water: take a larger one, lay it steeper, or send part of the water another way.", source: sourceManning, fromMemory: true}
	sayDrainFlat     = saying{id: "drain-flat", quantity: OfSlope, says: "The drain falls so little that it will silt up.", source: "UFC 3-270-04, 12.6: subsurface drains fall at least 0.15 ft in 100 ft"}
	sayBankHeight    = saying{id: "bank-height", quantity: OfLength, says: "Nobody may work beside a face this high unless it is sloped back or shored; have it looked at every day and after rain.", source: "29 CFR 1926.652(a)(1)"}
	sayBankSlope     = saying{id: "bank-slope", quantity: OfBatter, says: "The side is steeper than soil of this type stands: slope it back, or shore it.", source: osha}
	sayBankUnknown   = saying{id: "bank-slope", quantity: OfBatter, says: "The side is steeper than soil of this type stands: slope it back, or shore it.", source: "29 CFR 1926.652(b)(1): soil that nobody classified"}
	sayBankMoving    = saying{id: "bank-slope", quantity: OfBatter, says: "The side cracks or seeps and is steeper than such soil stands: slope it back, shore it, or keep out.", source: "29 CFR 1926.652(a)(1): under 5 ft excused only where nothing shows a cave-in; " + osha}
	sayCutSlope      = saying{id: "cut-slope", quantity: OfBatter, says: "A cut slope that stays this steep wants a geotechnical report, or a wall.", source: "IBC Appendix J, J106.1"}
	sayCutLow        = saying{id: "cut-slope", quantity: OfBatter, says: "A cut slope that stays this steep is allowed where it is low, holds no building, is protected from washing out and has no groundwater, if the building official agrees.", source: "IBC Appendix J, J106.1, exception: 1 1/2 horizontal to 1 vertical up to 8 ft"}
)

// hair keeps a limit that is just met from failing by rounding.
const hair = 1e-9

// Limits of banks, walls and slopes, in m.
const (
	footM       = 0.3048
	inchM       = 0.0254
	protectAt   = 5 * footM  // 29 CFR 1926.652(a)(1)
	shortTermTo = 12 * footM // Subpart P, App. B: type A at 1/2 : 1 for a day
	engineerAt  = 20 * footM // Subpart P, App. B
	egressAt    = 4 * footM  // 29 CFR 1926.651(c)(2)
	spoilBack   = 2 * footM  // 29 CFR 1926.651(j)(2)
	permitAt    = 4 * footM  // IRC R105.2(3)
	oldDesignAt = 24 * inchM // IRC 2006 R404.5, 2009 R404.4
	designAt    = 48 * inchM // IRC R404.4, 2015 on
	cutSlope    = 2.0        // IBC J106.1
	cutSlopeLow = 1.5        // IBC J106.1, its exception
	cutLow      = 8 * footM
	fillSlope   = 2.0 // IBC J107.6
)

// Bank is the side of a cut somebody works beside.
type Bank struct {
	// Depth is the height of the face, 0 to 1000 m; Batter how far it leans back,
	// horizontal per vertical, 0 to 10.
	Depth  unit.Length
	Batter float64
	// Soil gives its type of soil by Soil.SafetyType, and the usual batter of low
	// sides. A SafetyType of none of the four counts as not classified: type C.
	Soil Soil
	// Fissured is set where it cracks, Disturbed where it was dug before or is
	// shaken by traffic, Seeping where water comes out of it.
	Fissured, Disturbed, Seeping bool
	// ShortTerm is set when it is open a day at most.
	ShortTerm bool
}

// SafetyType is the type of soil after what was seen: "stable rock", "A", "B" or "C".
// Cracks or earlier digging make type A and stable rock B; water makes all but
// stable rock C.
//
// Source: 29 CFR 1926 Subpart P, App. A.
func (b Bank) SafetyType() string {
	kind := b.Soil.SafetyType
	switch kind {
	case "stable rock", "A":
		if b.Fissured || b.Disturbed {
			kind = "B"
		}
	case "B":
	default:
		return "C"
	}
	if b.Seeping && kind != "stable rock" {
		kind = "C"
	}
	return kind
}

// SafeBatter is how far a bank of this type and depth has to lean back when it is
// not held, horizontal per vertical: at 5 ft (1.52 m) or more, or whatever its depth
// where it shows signs of moving.
//
// Source: 29 CFR 1926 Subpart P, App. B table B-1.
func (b Bank) SafeBatter() float64 {
	switch b.SafetyType() {
	case "stable rock":
		return 0
	case "A":
		if b.ShortTerm && b.Depth.Meters() <= shortTermTo+hair {
			return 0.5
		}
		return 0.75
	case "B":
		return 1
	}
	return 1.5
}

// CheckBank holds a bank against the limits of unsupported height and slope. The error
// is a [Faults] with the fields depth and batter.
func CheckBank(b Bank) ([]Caution, error) {
	var faults fault.List
	d := b.Depth.Meters()
	if !(d >= 0 && d <= maxDeep) {
		faults.Add("depth", sayLength(d), "is not the depth of a cut", "give 0 to 1000 m")
	}
	checkBatter(&faults, b.Batter)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	var out cautions
	kind, safe := b.SafetyType(), b.SafeBatter()
	deep := d >= protectAt-hair
	moving := b.Fissured || b.Seeping
	steep := b.Batter < safe-hair
	if d > engineerAt+hair {
		out.put(&sayBankEngineer, Stop, engineerAt, d)
	}
	if deep && kind != "stable rock" {
		severity := Warn
		if steep {
			severity = Stop
		}
		out.put(&sayBankHeight, severity, protectAt, d)
	}
	if steep && (deep || moving && d > 0) {
		switch kind := b.Soil.SafetyType; {
		case kind != "A" && kind != "B" && kind != "C" && kind != "stable rock":
			out.put(&sayBankUnknown, Stop, safe, b.Batter)
		case !deep:
			out.put(&sayBankMoving, Warn, safe, b.Batter)
		default:
			out.put(&sayBankSlope, Stop, safe, b.Batter)
		}
	}
	if shallow := b.Soil.ShallowBatter.Value; !deep && !moving && d > 0 && shallow <= maxBatter && b.Batter < shallow-hair {
		out.add(Caution{ID: "bank-shallow", Severity: Note, Quantity: OfBatter, Limit: shallow, Actual: b.Batter,
			Says: "A low side as steep as this may crumble if it stays open for days: lean it back or fill behind the boxes soon.", Source: b.Soil.ShallowBatter.Source, FromMemory: b.Soil.ShallowBatter.FromMemory})
	}
	if d >= egressAt-hair {
		out.put(&sayBankWayOut, Warn, egressAt, d)
	}
	return out, nil
}

// Pile is a heap of loose soil at its angle of repose on level ground.
type Pile struct {
	// Length is that of a ridge, 0 for a cone; Breadth is across it, or the
	// diameter of the cone.
	Length, Breadth, Height unit.Length
	// Footprint is the plan area.
	Footprint unit.Area
}

// Pile is the heap that loose soil makes: a [Soil.Cone], or a [Soil.Ridge] when
// the length is over 0. A volume that is not finite and more than 0 makes none, and
// more than 4e9 m³ counts as that; the length is at most 100 km.
func (s Soil) Pile(loose unit.Volume, length unit.Length) Pile {
	v := unit.Volume(amount(loose.CubicMeters(), 4*maxEarth))
	long := amount(length.Meters(), maxHaul)
	if v == 0 || s.Validate() != nil {
		return Pile{}
	}
	if long < 1e-3 {
		d, h := s.Cone(v)
		return Pile{Breadth: d, Height: h, Footprint: unit.Area(math.Pi / 4 * float64(d*d))}
	}
	b, h := s.Ridge(v, unit.Length(long))
	return Pile{Length: unit.Length(long), Breadth: b, Height: h, Footprint: unit.Area(long * b.Meters())}
}

// CheckPile holds the toe of a heap against the distance it must keep from the edge of
// a cut, fromEdge being that of its middle, 0 to 100 km. The error is a [Faults] with the
// field from_edge.
func CheckPile(p Pile, fromEdge unit.Length) ([]Caution, error) {
	x := fromEdge.Meters()
	if !(x >= 0 && x <= maxHaul) {
		return nil, Faults{{Field: "from_edge", Got: sayLength(x), Problem: "is not a distance from the edge", Fix: "give 0 to 100 km"}}
	}
	var out cautions
	if toe := x - amount(p.Breadth.Meters(), 2*maxHaul)/2; p.Height > 0 && toe < spoilBack-hair {
		out.put(&saySpoilSetBack, Warn, spoilBack, toe)
	}
	return out, nil
}

// Retained is a bank that is held by boxes or a wall for good.
type Retained struct {
	// Height is how much higher the ground is behind than in front, 0 to 1000 m.
	Height unit.Length
	// FromFooting is the height from the bottom of the footing to the top; 0 counts as
	// Height.
	FromFooting unit.Length
	// Surcharge is set where more than level soil weighs on it: a slope above, a
	// building, a drive.
	Surcharge bool
	// WalkAbove is set where people walk within 2 ft (0.61 m) of its top.
	WalkAbove bool
}

// CheckRetained says when a retained height wants a permit, an engineer or a
// guard. Local limits differ: the building office decides. The error is a [Faults]
// with the fields height and from_footing.
func CheckRetained(r Retained) ([]Caution, error) {
	var faults fault.List
	h, f := r.Height.Meters(), r.FromFooting.Meters()
	if !(h >= 0 && h <= maxDeep) {
		faults.Add("height", sayLength(h), "is not the height of a bank", "give 0 to 1000 m")
	}
	if !(f >= 0 && f <= maxDeep) {
		faults.Add("from_footing", sayLength(f), "is not the height of a wall", "give 0 to 1000 m")
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	if f < h {
		f = h
	}
	var out cautions
	switch {
	case f > permitAt+hair:
		out.put(&sayWallPermit, Warn, permitAt, f)
	case r.Surcharge && f > 0:
		out.put(&saySurcharge, Warn, 0, f)
	case f > oldDesignAt+hair:
		out.put(&sayTowns, Note, oldDesignAt, f)
	}
	switch {
	case h > designAt+hair:
		out.put(&sayWallEngineer, Warn, designAt, h)
	case r.Surcharge && h > oldDesignAt+hair:
		out.put(&sayWallLoaded, Warn, oldDesignAt, h)
	case h > oldDesignAt+hair:
		out.put(&sayWallOlder, Note, oldDesignAt, h)
	}
	if r.WalkAbove && h > permitAt+hair {
		out.put(&sayWallGuard, Warn, permitAt, h)
	}
	return out, nil
}

// Slopes are the slopes that are there and that will stay.
type Slopes struct {
	// Ground is the steepest slope of the ground, rise per run, 0 to 10.
	Ground float64
	// CutDepth is the height of the cut faces that stay open, CutBatter how far they lean
	// back, and likewise of the fill: heights 0 to 1000 m, batters 0 to 10. Faces that are
	// held by boxes or a wall are not of these.
	CutDepth, FillDepth   unit.Length
	CutBatter, FillBatter float64
	// Groundwater is set where water comes out of the cut, Building where one stands
	// above it.
	Groundwater, Building bool
	// CutToLine is from the top of the cut to the boundary, FillToLine from the toe of
	// the fill, 0 to 100 km; 0 when that is not known.
	CutToLine, FillToLine unit.Length
	// Moved is what is dug and filled together, 0 to 1e9 m³.
	Moved unit.Volume
}

// CutSetBack is how far the top of a permanent cut keeps from the boundary: a fifth of
// its height, 2 to 10 ft. FillSetBack is that of the toe of a fill: half its height, 2 to
// 20 ft.
//
// Source: IBC Appendix J, J108, from memory.
func CutSetBack(height unit.Length) unit.Length { return setBack(height, 5, 10*footM) }

// FillSetBack: see [CutSetBack].
func FillSetBack(height unit.Length) unit.Length { return setBack(height, 2, 20*footM) }

func setBack(height unit.Length, part, most float64) unit.Length {
	d := amount(height.Meters(), maxDeep) / part
	switch {
	case d < 2*footM:
		d = 2 * footM
	case d > most:
		d = most
	}
	return unit.Length(d)
}

// CheckSlopes holds the ground and the slopes that stay against those of the building
// code's appendix on grading. The error is a [Faults] with the fields ground,
// cut_depth, fill_depth, cut_batter, fill_batter, moved, cut_to_line and fill_to_line.
func CheckSlopes(s Slopes) ([]Caution, error) {
	var faults fault.List
	if !(s.Ground >= 0 && s.Ground <= 10) {
		faults.Add("ground", sayNumber(s.Ground), "is not a slope of ground", "give rise per run, 0 to 10")
	}
	for _, l := range []struct {
		name string
		v    unit.Length
		most float64
	}{{"cut_depth", s.CutDepth, maxDeep}, {"fill_depth", s.FillDepth, maxDeep}, {"cut_to_line", s.CutToLine, maxHaul}, {"fill_to_line", s.FillToLine, maxHaul}} {
		if v := l.v.Meters(); !(v >= 0 && v <= l.most) {
			faults.Add(l.name, sayLength(v), "is out of range", fmt.Sprintf("give 0 to %g m", l.most))
		}
	}
	for _, b := range []struct {
		name string
		v    float64
	}{{"cut_batter", s.CutBatter}, {"fill_batter", s.FillBatter}} {
		if !(b.v >= 0 && b.v <= maxBatter) {
			faults.Add(b.name, sayNumber(b.v), "is not a batter", "give horizontal per vertical, 0 to 10")
		}
	}
	checkVolume(&faults, "moved", s.Moved)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	var out cautions
	if s.Ground > 1/cutSlope+hair {
		out.put(&sayGroundSteep, Warn, 1/cutSlope, s.Ground)
	}
	cut, fill := s.CutDepth.Meters(), s.FillDepth.Meters()
	if cut > 0 && s.CutBatter < cutSlope-hair {
		if s.CutBatter >= cutSlopeLow-hair && cut <= cutLow+hair && !s.Groundwater && !s.Building {
			out.put(&sayCutLow, Note, cutSlope, s.CutBatter)
		} else {
			out.put(&sayCutSlope, Warn, cutSlope, s.CutBatter)
		}
	}
	if fill > 0 && s.FillBatter < fillSlope-hair {
		out.put(&sayFillSlope, Warn, fillSlope, s.FillBatter)
	}
	if s.Ground > 0.2+hair && fill > 5*footM+hair {
		out.put(&sayFillBenched, Warn, 5*footM, fill)
	}
	// The old exemption: a low cut, or a low slope not too steep.
	if cut >= 2*footM-hair && !(cut <= 5*footM+hair && s.CutBatter >= 1.5-hair) {
		out.put(&sayGradingPermit, Note, 2*footM, cut)
	}
	if most := 50 * cubicYard; s.Moved.CubicMeters() > most+hair {
		out.put(&sayGradingVolume, Note, most, s.Moved.CubicMeters())
	}
	near := func(id, says string, height, line, need unit.Length) {
		if height > 0 && line > 0 && line < need-hair {
			out.add(Caution{ID: id, Severity: Warn, Quantity: OfLength, Limit: need.Meters(), Actual: line.Meters(),
				Says: says, Source: "IBC Appendix J, J108; UBC Appendix 33", FromMemory: true})
		}
	}
	near("cut-set-back", "The top of the cut comes too near the boundary.", s.CutDepth, s.CutToLine, CutSetBack(s.CutDepth))
	near("fill-set-back", "The toe of the fill comes too near the boundary.", s.FillDepth, s.FillToLine, FillSetBack(s.FillDepth))
	return out, nil
}
