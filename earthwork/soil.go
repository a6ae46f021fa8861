package earthwork

import (
	"fmt"
	"math"
	"strings"

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
	_        [0]func() // not comparable, which spares code: see DEVELOPERS.md
	ID, Name string
	// DigClass is how hard it is to loosen: 1 light, shovelled as it lies; 2 medium,
	// easily picked; 3 heavy, hard to pick; 4 very hard to pick; 5 rock. No other figure
	// follows from it. From 0, not known, to 5.
	DigClass Figure
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
	activeOnes  = gillette + ": an active worker does 20 to 25 % more"
	lazyOnes    = gillette + ": a very lazy worker does 20 % less"
	efforts     = "Page, Estimator's Piping Man-Hour Manual, section five: soils by the effort of digging, "
	// Handbooks have one figure for the volume of either, and two for the weight.
	dryOrWetSand = swells + ": sand, dry or wet"
	dryOrWetClay = swells + ": clay, dry or wet"
	wetWeights   = "Weights of building materials, classic table, author unknown: "
	// Both kinds of trench figure are for soft soil; their ratio is what
	// practised diggers paid by output do more than the constants of a full day.
	trench  = outputs + ": trench to 1.5 m, loose soil, 0.66 m³/h, over " + labour
	sloped  = osha + ": type "
	shallow = "common practice: sides under 5 ft (1.52 m), open for days; 29 CFR 1926.652(a)(1) asks no more there unless cave-in threatens"
)

// soils is static data, which takes no code to make. It does not change. A
// quotient of float64s is rounded as a machine rounds it, figure by figure.
var soils = [...]Soil{
	{
		ID: "topsoil", Name: "topsoil",
		DigClass:      Figure{Value: 1, Source: efforts + "light"},
		Swell:         Figure{Value: 0.25, Source: "The Building News, 29 March 1872, p. 249: topsoil to a loose heap, 1 1/4"},
		Shrink:        Figure{Value: 0.12, Source: roads08 + ": light surface soil a little more than the 10 to 12 % of ordinary soil"},
		BankDensity:   Figure{Value: 83 * poundPerCubicFoot, Source: "The Building News, 29 March 1872, p. 249: about 1 long ton per yd³"},
		Digging:       Figure{Value: 0.25, Source: labour},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1.5, Source: sloped + "C, 1 1/2 : 1"},
		SafetyType:    "C",
		ShallowBatter: Figure{Value: 0.5, Source: shallow},
		Repose:        Figure{Value: 28, Source: "The Building News, 29 March 1872, p. 249: loose heap of topsoil"},
	},
	{
		ID: "loam", Name: "loam, ordinary earth",
		DigClass:      Figure{Value: 2, Source: efforts + "medium, as loam"},
		Swell:         Figure{Value: 0.25, Source: swells + ": earth or loam, dry or wet"},
		Shrink:        Figure{Value: 0.10, Source: roads08 + ": ordinary soil, 10 to 12 %; " + fm5434 + ", from memory, has 10 %"},
		BankDensity:   Figure{Value: 100 * poundPerCubicFoot, Source: weights},
		Digging:       Figure{Value: 0.25 * float64(0.57) / float64(0.66), Source: labour + "; × 0.57/0.66, trench in firm soil to loose soil, of " + outputs},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1, Source: sloped + "B, 1 : 1"},
		SafetyType:    "B",
		ShallowBatter: Figure{Value: 0.25, Source: shallow},
		Repose:        Figure{Value: 32, Source: "Nunnally, Construction Methods and Management, table 2-6: common earth, dry", FromMemory: true},
	},
	{
		ID: "sand", Name: "sand",
		DigClass:      Figure{Value: 1, Source: efforts + "light, as sand"},
		Swell:         Figure{Value: 0.11, Source: fm5434 + " as in Navy EA/EO text, table 10-1: 100 bank, 111 loose, 95 compacted"},
		Shrink:        Figure{Value: 0.05, Source: fm5434 + " as in Navy EA/EO text, table 10-1: 100 bank, 111 loose, 95 compacted"},
		BankDensity:   Figure{Value: 115 * poundPerCubicFoot, Source: hud + ": SW, SP 115 lb/ft³"},
		Digging:       Figure{Value: 0.25, Source: labour},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1.5, Source: sloped + "C, 1 1/2 : 1"},
		SafetyType:    "C",
		ShallowBatter: Figure{Value: 1, Source: shallow},
		Repose:        Figure{Value: 34, Source: reposes + ": dry sand"},
	},
	{
		ID: "dry-sand", Name: "sand, dry",
		DigClass:      Figure{Value: 1, Source: efforts + "light, as sand"},
		Swell:         Figure{Value: 0.12, Source: dryOrWetSand},
		Shrink:        Figure{Value: 0.05, Source: fm5434 + " as in Navy EA/EO text, table 10-1: 100 bank, 111 loose, 95 compacted"},
		BankDensity:   Figure{Value: 97 * 1.12 * poundPerCubicFoot, Source: wetWeights + "sand, dry, loose, 97 lb/ft³; × 1.12, its swell"},
		Digging:       Figure{Value: 0.25, Source: labour},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1.5, Source: sloped + "C, 1 1/2 : 1"},
		SafetyType:    "C",
		ShallowBatter: Figure{Value: 1.5, Source: "common practice: dry sand runs to its slope of rest, 34°, whatever the depth"},
		Repose:        Figure{Value: 34, Source: reposes + ": dry sand"},
	},
	{
		// Wet from the ground or the rain, not under water: that runs, and is no soil
		// to dig by hand.
		ID: "wet-sand", Name: "sand, wet",
		DigClass:      Figure{Value: 1, Source: efforts + "light, as sand"},
		Swell:         Figure{Value: 0.12, Source: dryOrWetSand},
		Shrink:        Figure{Value: 0.05, Source: fm5434 + " as in Navy EA/EO text, table 10-1: 100 bank, 111 loose, 95 compacted"},
		BankDensity:   Figure{Value: 118 * 1.12 * poundPerCubicFoot, Source: wetWeights + "sand, wet, 118 lb/ft³, taken to be loose as the dry one; × 1.12, its swell"},
		Digging:       Figure{Value: 0.25, Source: labour},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1.5, Source: sloped + "C, 1 1/2 : 1"},
		SafetyType:    "C",
		ShallowBatter: Figure{Value: 1, Source: shallow},
		Repose:        Figure{Value: 45, Source: reposes + ": wet sand 45°; full of water, 15 to 30°"},
	},
	{
		ID: "gravel", Name: "gravel, sand and gravel",
		DigClass:      Figure{Value: 3, Source: efforts + "heavy, as compact loam with gravel"},
		Swell:         Figure{Value: 0.12, Source: swells + ": gravel, dry or wet"},
		Shrink:        Figure{Value: 0.085, Source: roads08 + ": gravel or sand, 8 to 9 %"},
		BankDensity:   Figure{Value: 115 * poundPerCubicFoot, Source: hud + ": GW, GP 115 lb/ft³"},
		Digging:       Figure{Value: 0.25 * float64(0.34) / float64(0.50), Source: labour + "; × 0.34/0.50, pit in gravel to loose soil, of " + outputs},
		Fast:          Figure{Value: 0.34 / 0.17, Source: outputs + ": pit to 1.5 m, gravel, 0.34 m³/h, over the figure for digging"},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1.5, Source: sloped + "C, 1 1/2 : 1"},
		SafetyType:    "C",
		ShallowBatter: Figure{Value: 0.75, Source: shallow},
		Repose:        Figure{Value: 30, Source: reposes + ": loose dry gravel 30 to 45°"},
	},
	{
		ID: "sandy-clay", Name: "sandy clay, clay with gravel",
		DigClass:      Figure{Value: 2, Source: efforts + "medium, easily picked"},
		Swell:         Figure{Value: 0.30, Source: "UK classes of bulking: firm clay and silt, 20 to 40 %, author unknown"},
		Shrink:        Figure{Value: 0.10, Source: "Vose, Handbook of Railroad Construction, 1857, art. 114: clayey earth"},
		BankDensity:   Figure{Value: 100 * poundPerCubicFoot, Source: hud + ": SC 100 lb/ft³"},
		Digging:       Figure{Value: 0.25 * float64(0.57) / float64(0.66), Source: labour + "; × 0.57/0.66, trench in firm soil to loose soil, of " + outputs},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1, Source: sloped + "B, 1 : 1"},
		SafetyType:    "B",
		ShallowBatter: Figure{Value: 0.25, Source: shallow},
		Repose:        Figure{Value: 30, Source: reposes + ": dry lump clay 25 to 40°, natural gravel with sand 25 to 30°"},
	},
	{
		// The one clay for which all three weights come from one place; other
		// books have it swell by 0.40 and shrink by 0.10.
		ID: "clay", Name: "clay",
		DigClass:      Figure{Value: 3, Source: efforts + "heavy, as stiff clay"},
		Swell:         Figure{Value: 3000.0/2310 - 1, Source: clayWeights},
		Shrink:        Figure{Value: 0.20, Source: clayWeights},
		BankDensity:   Figure{Value: 3000 * poundPerCubicYard, Source: clayWeights},
		Digging:       Figure{Value: 0.25 * float64(0.46) / float64(0.66), Source: labour + "; × 0.46/0.66, trench in clay to loose soil, of " + outputs},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1, Source: sloped + "B, 1 : 1"},
		SafetyType:    "B",
		ShallowBatter: Figure{Value: 0.25, Source: shallow},
		Repose:        Figure{Value: 25, Source: reposes + ": dry lump clay 25 to 40°; wet dug clay lies at 15°"},
	},
	{
		ID: "dry-clay", Name: "clay, dry and hard",
		DigClass:      Figure{Value: 3, Source: efforts + "heavy, as stiff clay"},
		Swell:         Figure{Value: 0.40, Source: dryOrWetClay},
		Shrink:        Figure{Value: 0.10, Source: fm5434 + ": clay, 1.00 bank, 0.90 compacted", FromMemory: true},
		BankDensity:   Figure{Value: 100 * poundPerCubicFoot, Source: hud + ": CL, CH 100 lb/ft³"},
		Digging:       Figure{Value: 0.25 * float64(0.46) / float64(0.66), Source: labour + "; × 0.46/0.66, trench in clay, dry or wet, to loose soil, of " + outputs},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1, Source: sloped + "B, 1 : 1: it may be fissured"},
		SafetyType:    "B",
		ShallowBatter: Figure{Value: 0.25, Source: shallow},
		Repose:        Figure{Value: 25, Source: reposes + ": dry lump clay 25 to 40°"},
	},
	{
		ID: "wet-clay", Name: "clay, wet and soft",
		DigClass:      Figure{Value: 2, Source: efforts + "medium, easily picked"},
		Swell:         Figure{Value: 0.40, Source: dryOrWetClay},
		Shrink:        Figure{Value: 0.10, Source: fm5434 + ": clay, 1.00 bank, 0.90 compacted", FromMemory: true},
		BankDensity:   Figure{Value: 110 * poundPerCubicFoot, Source: wetWeights + "clay, wet, 110 lb/ft³, taken to be as it lies"},
		Digging:       Figure{Value: 0.25 * float64(0.46) / float64(0.66), Source: labour + "; × 0.46/0.66, trench in clay, dry or wet, to loose soil, of " + outputs},
		Fast:          Figure{Value: 0.66 / 0.25, Source: trench},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1.5, Source: sloped + "C, 1 1/2 : 1: soft, unconfined strength not over 0.5 ton/ft² (48 kPa)"},
		SafetyType:    "C",
		ShallowBatter: Figure{Value: 0.75, Source: shallow},
		Repose:        Figure{Value: 15, Source: reposes + ": wet dug clay"},
	},
	{
		ID: "hardpan", Name: "hardpan, cemented ground",
		DigClass:      Figure{Value: 4, Source: efforts + "hardpan"},
		Swell:         Figure{Value: 0.50, Source: swells + ": hardpan"},
		Shrink:        Figure{Value: 0.10, Source: "common practice: broken up, it is rammed like ordinary soil"},
		BankDensity:   Figure{Value: 2000, Source: "common practice: between soil and rock"},
		Digging:       Figure{Value: 0.25 / 2, Source: digging52 + "; hacked, half of " + labour},
		Fast:          Figure{Value: 0.28 / 0.125, Source: outputs + ": pit to 1.5 m, boulder clay, 0.28 m³/h, over the figure for digging"},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 0.75, Source: osha + ": type A, 3/4 : 1, cemented soils; not where it is fissured, or was dug before"},
		SafetyType:    "A",
		ShallowBatter: Figure{Value: 0, Source: shallow},
		Repose:        Figure{Value: 35, Source: "common practice: broken lumps, as gravel"},
	},
	{
		ID: "weathered-rock", Name: "weathered rock, rock with earth",
		DigClass:      Figure{Value: 4, Source: efforts + "very hard to pick, as shale"},
		Swell:         Figure{Value: 0.33, Source: "equipment handbooks' load factors: decomposed rock, half rock and half earth, 0.75", FromMemory: true},
		Shrink:        Figure{Value: 0, Source: "common practice: neither the shrinkage of earth nor the gain of rock"},
		BankDensity:   Figure{Value: 125 * poundPerCubicFoot, Source: weights + "; half of each"},
		Digging:       Figure{Value: 0.25 / 3, Source: digging52 + "; very strong ground, a third of " + labour},
		Fast:          Figure{Value: 1.2, Source: activeOnes},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 1, Source: osha + ": type B, 1 : 1, dry unstable rock"},
		SafetyType:    "B",
		ShallowBatter: Figure{Value: 0.25, Source: shallow},
		Repose:        Figure{Value: 35, Source: "common practice: broken stone with earth, as gravel"},
	},
	{
		ID: "rock", Name: "rock",
		DigClass:      Figure{Value: 5, Source: efforts + "rock"},
		Swell:         Figure{Value: 0.65, Source: swells + ": rock, well broken"},
		Shrink:        Figure{Value: -0.30, Source: fm5434 + ": rock, 1.00 bank, 1.30 compacted; Nunnally, table 2-5, the same", FromMemory: true},
		BankDensity:   Figure{Value: 150 * poundPerCubicFoot, Source: weights},
		Digging:       Figure{Value: 1.0 / 16, Source: "Nepal rural-road norms: ordinary rock by hand, 2.00 person-days of 8 h per m³"},
		Fast:          Figure{Value: 1.2, Source: activeOnes},
		Slow:          Figure{Value: 0.8, Source: lazyOnes},
		Batter:        Figure{Value: 0, Source: osha + ": stable rock, plumb"},
		SafetyType:    "stable rock",
		ShallowBatter: Figure{Value: 0, Source: shallow},
		Repose:        Figure{Value: 37, Source: "common practice: broken stone"},
	},
}

// Soils lists the classes of soil, from the easiest to dig to the hardest. The
// list is the caller's own.
func Soils() []Soil { return append([]Soil(nil), soils[:]...) }

// SoilByID gives the class of soil with this id: topsoil, loam, sand, dry-sand,
// wet-sand, gravel, sandy-clay, clay, dry-clay, wet-clay, hardpan, weathered-rock or
// rock.
func SoilByID(id string) (Soil, bool) {
	for i := range soils {
		if soils[i].ID == id {
			return soils[i], true
		}
	}
	return Soil{}, false
}

// Family is the id of the class that this one is a dry or a wet kind of, as sand is
// of wet-sand; its own id where it is none.
func (s Soil) Family() string {
	if strings.HasPrefix(s.ID, "dry-") || strings.HasPrefix(s.ID, "wet-") {
		return s.ID[len("dry-"):]
	}
	return s.ID
}

// LooseDensity is that of dug soil: the bank's over 1 + swell, kg/m³.
func (s Soil) LooseDensity() float64 { return s.BankDensity.Value / (1 + s.Swell.Value) }

// Validate reports every figure out of its range, as a [Faults] with the fields dig_class,
// swell, shrink, density, digging, fast, slow, batter, shallow_batter and repose.
func (s Soil) Validate() error {
	var faults fault.List
	for _, f := range []struct {
		field     string
		value     float64
		low, high float64
		what      string
	}{
		{"dig_class", s.DigClass.Value, 0, 5, "a class from 1, light, to 5, rock; 0 is not known"},
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
	s.Digging = Figure{Value: rate, Source: source}
	s.Fast = Figure{Value: 1.2, Source: activeOnes}
	s.Slow = Figure{Value: 0.8, Source: lazyOnes}
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
