package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Figure is one published number about a soil, with where it comes from.
type Figure struct {
	Value float64
	// Source is the publication; or "common practice: …" for a figure of the
	// trade that no publication was found for.
	Source string
	// FromMemory is true when the figure is recalled from the source, not read
	// there again: hold it against the source before you quote it.
	FromMemory bool
}

// Soil is a class of soil and what its volume, weight and digging are reckoned
// with. Every figure may be set to one measured on the site; hold the result to
// [Soil.Validate]. For a soil that does not pass, what the methods give means
// nothing.
//
// Three states of the same soil: bank, as it lies in the ground; loose, as it
// is dug and carried; compacted, as it is rammed in a fill.
type Soil struct {
	ID, Name string
	// Swell is loose over bank volume, less 1. From 0 to 1.5.
	Swell Figure
	// Shrink is 1 less compacted over bank volume: the convention of Nunnally,
	// Construction Methods and Management, in which 0.25 leaves 0.75 of the
	// bank volume. (The FHWA calls 1/1.25 the shrink factor of 25 %; that is
	// another measure.) Below 0 for rock, which fills more than it filled. From
	// -0.5 to 0.5.
	Shrink Figure
	// BankDensity is in kg/m³, from 500 to 3500.
	BankDensity Figure
	// Digging is what one person loosens and throws out in an hour, in m³ in
	// the bank, over a full working day with its rests, from no deeper than 1.5 m.
	// From 0.005 to 5.
	Digging Figure
	// Fast and Slow are what practised people and slow ones do, in parts
	// of Digging: Fast from 1 to 5, Slow from 0.2 to 1.
	Fast, Slow Figure
	// Batter is how far back a side deeper than 5 ft (1.52 m) is cut when it is
	// not held, horizontal per vertical, 0 to 10; SafetyType says by which type
	// of soil: "stable rock", "A", "B" or "C".
	Batter     Figure
	SafetyType string
	// ShallowBatter is the same for a side less deep than that, of a cut that
	// stays open for some days. Soil that shows any sign of
	// moving takes Batter at any depth.
	ShallowBatter Figure
	// Repose is the slope at which it lies when tipped loose, in degrees from
	// the level, 5 to 60.
	Repose Figure
}

// Pounds per cubic foot and per cubic yard, in kg/m³.
const (
	poundPerCubicFoot = 0.45359237 / (0.3048 * 0.3048 * 0.3048)
	poundPerCubicYard = poundPerCubicFoot / 27
)

// Sources of the soil figures.
const (
	osha      = "29 CFR 1926 Subpart P, App. B table B-1 (slopes), App. A (types)"
	labour    = "Indian labour constants (IS 7272 type), soft soil by hand to 1.5 m: 0.50 labourer-day of 8 h per m³"
	outputs   = "Guild of Project Controls, labour outputs, excavation by hand"
	digging52 = "Encyclopedia of Architecture, 1852, Digging: soft, needing hacking and very strong ground take 1 : 2 : 3"
	swells    = "Swell factors for various soils, handbook list, author unknown"
	weights   = "Estimating handbook: undisturbed soil 100 lb/ft³, rock 150 lb/ft³"
	hud       = "HUD Residential Structural Design Guide, density by soil type"
	roads08   = "Spalding, Text-book on Roads and Pavements, 1908"
	fm5434    = "US Army FM 5-434, Earthmoving Operations, 15 June 2000, table 1-1"
	gillette  = "Gillette and Hill, Concrete Construction, 1908"
	// The weights were read in the problem; that the table has them is recalled.
	clayWeights = "worked problem: clay 3000 lb/yd³ bank, 2310 loose, 3750 compacted; so, from memory, Nunnally, Construction Methods and Management, table 2-5"
	reposes     = "Angles of repose, general list, author unknown"
	shallow     = "common practice: sides under 5 ft (1.52 m), open for days; 29 CFR 1926.652(a)(1) asks no more there unless cave-in threatens"
)

func figure(v float64, source string) Figure { return Figure{Value: v, Source: source} }
func recalled(v float64, source string) Figure {
	return Figure{Value: v, Source: source, FromMemory: true}
}

// Soils lists the classes of soil, from the easiest to dig to the hardest. The
// list is the caller's own.
func Soils() []Soil {
	slow := figure(0.8, gillette+": a very lazy worker does 20 % less")
	// Both kinds of trench figure are for soft soil; their ratio is what
	// practised diggers paid by output do more than the constants of a full day.
	fast := figure(0.66/0.25, outputs+": trench to 1.5 m, loose soil, 0.66 m³/h, over "+labour)
	soft := figure(0.25, labour)
	as := func(rate, of float64, kind string) Figure {
		return figure(0.25*rate/of, fmt.Sprintf("%s; × %.2f/%.2f, %s to loose soil, of %s", labour, rate, of, kind, outputs))
	}
	typeC := figure(1.5, osha+": type C, 1 1/2 : 1")
	typeB := figure(1, osha+": type B, 1 : 1")
	return []Soil{
		{
			ID: "topsoil", Name: "topsoil",
			Swell:         figure(0.25, "The Building News, 29 March 1872, p. 249: topsoil to a loose heap, 1 1/4"),
			Shrink:        figure(0.12, roads08+": light surface soil a little more than the 10 to 12 % of ordinary soil"),
			BankDensity:   figure(83*poundPerCubicFoot, "The Building News, 29 March 1872, p. 249: about 1 long ton per yd³"),
			Digging:       soft,
			Fast:          fast,
			Slow:          slow,
			Batter:        typeC,
			SafetyType:    "C",
			ShallowBatter: figure(0.5, shallow),
			Repose:        figure(28, "The Building News, 29 March 1872, p. 249: loose heap of topsoil"),
		},
		{
			ID: "loam", Name: "loam, ordinary earth",
			Swell:         figure(0.25, swells+": earth or loam, dry or wet"),
			Shrink:        figure(0.10, roads08+": ordinary soil, 10 to 12 %; "+fm5434+", from memory, has 10 %"),
			BankDensity:   figure(100*poundPerCubicFoot, weights),
			Digging:       as(0.57, 0.66, "trench in firm soil"),
			Fast:          fast,
			Slow:          slow,
			Batter:        typeB,
			SafetyType:    "B",
			ShallowBatter: figure(0.25, shallow),
			Repose:        recalled(32, "Nunnally, Construction Methods and Management, table 2-6: common earth, dry"),
		},
		{
			ID: "sand", Name: "sand",
			Swell:         figure(0.11, fm5434+" as in Navy EA/EO text, table 10-1: 100 bank, 111 loose, 95 compacted"),
			Shrink:        figure(0.05, fm5434+" as in Navy EA/EO text, table 10-1: 100 bank, 111 loose, 95 compacted"),
			BankDensity:   figure(115*poundPerCubicFoot, hud+": SW, SP 115 lb/ft³"),
			Digging:       soft,
			Fast:          fast,
			Slow:          slow,
			Batter:        typeC,
			SafetyType:    "C",
			ShallowBatter: figure(1, shallow),
			Repose:        figure(34, reposes+": dry sand"),
		},
		{
			ID: "gravel", Name: "gravel, sand and gravel",
			Swell:         figure(0.12, swells+": gravel, dry or wet"),
			Shrink:        figure(0.085, roads08+": gravel or sand, 8 to 9 %"),
			BankDensity:   figure(115*poundPerCubicFoot, hud+": GW, GP 115 lb/ft³"),
			Digging:       as(0.34, 0.50, "pit in gravel"),
			Fast:          figure(0.34/0.17, outputs+": pit to 1.5 m, gravel, 0.34 m³/h, over the figure for digging"),
			Slow:          slow,
			Batter:        typeC,
			SafetyType:    "C",
			ShallowBatter: figure(0.75, shallow),
			Repose:        figure(30, reposes+": loose dry gravel 30 to 45°"),
		},
		{
			ID: "sandy-clay", Name: "sandy clay, clay with gravel",
			Swell:         figure(0.30, "UK classes of bulking: firm clay and silt, 20 to 40 %, author unknown"),
			Shrink:        figure(0.10, "Vose, Handbook of Railroad Construction, 1857, art. 114: clayey earth"),
			BankDensity:   figure(100*poundPerCubicFoot, hud+": SC 100 lb/ft³"),
			Digging:       as(0.57, 0.66, "trench in firm soil"),
			Fast:          fast,
			Slow:          slow,
			Batter:        typeB,
			SafetyType:    "B",
			ShallowBatter: figure(0.25, shallow),
			Repose:        figure(30, reposes+": dry lump clay 25 to 40°, natural gravel with sand 25 to 30°"),
		},
		{
			// The one clay for which all three weights come from one place; other
			// books have it swell by 0.40 and shrink by 0.10.
			ID: "clay", Name: "clay",
			Swell:         figure(3000.0/2310-1, clayWeights),
			Shrink:        figure(0.20, clayWeights),
			BankDensity:   figure(3000*poundPerCubicYard, clayWeights),
			Digging:       as(0.46, 0.66, "trench in clay"),
			Fast:          fast,
			Slow:          slow,
			Batter:        typeB,
			SafetyType:    "B",
			ShallowBatter: figure(0.25, shallow),
			Repose:        figure(25, reposes+": dry lump clay 25 to 40°; wet dug clay lies at 15°"),
		},
		{
			ID: "hardpan", Name: "hardpan, cemented ground",
			Swell:         figure(0.50, swells+": hardpan"),
			Shrink:        figure(0.10, "common practice: broken up, it is rammed like ordinary soil"),
			BankDensity:   figure(2000, "common practice: between soil and rock"),
			Digging:       figure(0.25/2, digging52+"; hacked, half of "+labour),
			Fast:          figure(0.28/0.125, outputs+": pit to 1.5 m, boulder clay, 0.28 m³/h, over the figure for digging"),
			Slow:          slow,
			Batter:        figure(0.75, osha+": type A, 3/4 : 1, cemented soils; not where it is fissured, or was dug before"),
			SafetyType:    "A",
			ShallowBatter: figure(0, shallow),
			Repose:        figure(35, "common practice: broken lumps, as gravel"),
		},
		{
			ID: "weathered-rock", Name: "weathered rock, rock with earth",
			Swell:         recalled(0.33, "equipment handbooks' load factors: decomposed rock, half rock and half earth, 0.75"),
			Shrink:        figure(0, "common practice: neither the shrinkage of earth nor the gain of rock"),
			BankDensity:   figure(125*poundPerCubicFoot, weights+"; half of each"),
			Digging:       figure(0.25/3, digging52+"; very strong ground, a third of "+labour),
			Fast:          figure(1.2, gillette+": an active worker does 20 to 25 % more"),
			Slow:          slow,
			Batter:        figure(1, osha+": type B, 1 : 1, dry unstable rock"),
			SafetyType:    "B",
			ShallowBatter: figure(0.25, shallow),
			Repose:        figure(35, "common practice: broken stone with earth, as gravel"),
		},
		{
			ID: "rock", Name: "rock",
			Swell:         figure(0.65, swells+": rock, well broken"),
			Shrink:        recalled(-0.30, fm5434+": rock, 1.00 bank, 1.30 compacted; Nunnally, table 2-5, the same"),
			BankDensity:   figure(150*poundPerCubicFoot, weights),
			Digging:       figure(1.0/16, "Nepal rural-road norms: ordinary rock by hand, 2.00 person-days of 8 h per m³"),
			Fast:          figure(1.2, gillette+": an active worker does 20 to 25 % more"),
			Slow:          slow,
			Batter:        figure(0, osha+": stable rock, plumb"),
			SafetyType:    "stable rock",
			ShallowBatter: figure(0, shallow),
			Repose:        figure(37, "common practice: broken stone"),
		},
	}
}

// SoilByID gives the class of soil with this id: topsoil, loam, sand, gravel,
// sandy-clay, clay, hardpan, weathered-rock or rock.
func SoilByID(id string) (Soil, bool) {
	for _, s := range Soils() {
		if s.ID == id {
			return s, true
		}
	}
	return Soil{}, false
}

// Validate reports every figure out of its range, as a [Faults] with the fields
// swell, shrink, density, digging, fast, slow, batter, shallow_batter and repose.
func (s Soil) Validate() error {
	var faults fault.List
	for _, f := range []struct {
		field     string
		value     float64
		low, high float64
		what      string
	}{
		{"swell", s.Swell.Value, 0, 1.5, "loose over bank volume, less 1"},
		{"shrink", s.Shrink.Value, -0.5, 0.5, "1 less compacted over bank volume"},
		{"density", s.BankDensity.Value, 500, 3500, "kg/m³ in the bank"},
		{"digging", s.Digging.Value, 0.005, 5, "m³ in the bank per person-hour"},
		{"fast", s.Fast.Value, 1, 5, "parts of the usual digging"},
		{"slow", s.Slow.Value, 0.2, 1, "parts of the usual digging"},
		{"batter", s.Batter.Value, 0, maxBatter, "horizontal per vertical"},
		{"shallow_batter", s.ShallowBatter.Value, 0, maxBatter, "horizontal per vertical"},
		{"repose", s.Repose.Value, 5, 60, "degrees from the level"},
	} {
		if !(f.value >= f.low && f.value <= f.high) {
			faults.Add(f.field, sayNumber(f.value), "is out of range", fmt.Sprintf("give %s, from %v to %v", f.what, f.low, f.high))
		}
	}
	return faults.Err()
}

// WithDigging is the soil with an output measured on the site, m³ in the bank
// per person-hour, and with the spread of workers only: a fifth either way
// (Gillette and Hill, 1908), not that between the constants of the books.
func (s Soil) WithDigging(rate float64, source string) Soil {
	s.Digging = figure(rate, source)
	s.Fast = figure(1.2, gillette+": an active worker does 20 to 25 % more")
	s.Slow = figure(0.8, gillette+": a very lazy worker does 20 % less")
	return s
}

// Loose is the volume a bank volume has when dug.
func (s Soil) Loose(bank unit.Volume) unit.Volume {
	return bank * unit.Volume(1+s.Swell.Value)
}

// BankOfLoose is the bank volume that dug soil was: loose × the load factor,
// 1/(1 + swell).
func (s Soil) BankOfLoose(loose unit.Volume) unit.Volume {
	return loose / unit.Volume(1+s.Swell.Value)
}

// Compacted is the volume a bank volume makes when rammed.
func (s Soil) Compacted(bank unit.Volume) unit.Volume {
	return bank * unit.Volume(1-s.Shrink.Value)
}

// BankOfCompacted is the bank volume that a rammed volume takes.
func (s Soil) BankOfCompacted(compacted unit.Volume) unit.Volume {
	return compacted / unit.Volume(1-s.Shrink.Value)
}

// Mass is that of a bank volume. What is dug of it weighs the same.
func (s Soil) Mass(bank unit.Volume) unit.Mass {
	return unit.Mass(bank.CubicMeters() * s.BankDensity.Value)
}

// ReposeAngle is the slope at which it lies when tipped.
func (s Soil) ReposeAngle() unit.Angle { return unit.Angle(s.Repose.Value) * unit.Degree }

// Cone is the size of a conical heap of loose soil: V = π/24·D³·tan R, R the angle
// of repose.
//
// Source: Nunnally, Construction Methods and Management, ch. 2.
func (s Soil) Cone(loose unit.Volume) (diameter, height unit.Length) {
	slope := tangent(s.Repose.Value)
	d := math.Cbrt(24 * loose.CubicMeters() / (math.Pi * slope))
	return unit.Length(d), unit.Length(d / 2 * slope)
}

// Ridge is the size of a long heap of loose soil, triangular across and length
// long: V = L·B²/4·tan R.
//
// Source: Nunnally, Construction Methods and Management, ch. 2.
func (s Soil) Ridge(loose unit.Volume, length unit.Length) (breadth, height unit.Length) {
	slope := tangent(s.Repose.Value)
	b := math.Sqrt(4 * loose.CubicMeters() / (length.Meters() * slope))
	return unit.Length(b), unit.Length(b / 2 * slope)
}

// tangent is that of an angle between 0 and 90 degrees. It is worked out from
// the series of sine and cosine so that it has the same bits on every machine,
// which math.Tan has not.
func tangent(degrees float64) float64 {
	x := degrees * (math.Pi / 180)
	sine, cosine, term := 0.0, 0.0, 1.0
	for k := 1; k <= 31; k += 2 {
		// term is ±x^(k-1)/(k-1)!
		cosine += term
		term = float64(term * (x / float64(k)))
		sine += term
		term = float64(term * (-x / float64(k+1)))
	}
	return sine / cosine
}
