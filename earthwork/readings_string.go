package earthwork

import (
	"fmt"
	"math"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// standardGravity turns the mass of a line into its weight, m/s².
const standardGravity = 9.80665

// What a string line is taken to be when the readings do not say.
const (
	defaultDropAccuracy = 0.005  // m: a tape read against a line. Common practice.
	defaultTilt         = 0.002  // 2 mm in 1 m. Common practice: no published figure was found.
	defaultLineMass     = 0.0014 // kg/m: twisted nylon mason's line, No. 18. From memory.
	defaultLevelMass    = 0.020  // kg: a pocket line level. Common practice.
	defaultPull         = 50.0   // N: drawn tight by hand and tied off. Common practice.
)

// End is one end of the path.
type End string

// The ends a string can be measured from.
const (
	FromHead End = "head"
	FromFoot End = "foot"
)

// StringReading is one drop from a level string down to the ground.
type StringReading struct {
	// At is the distance along the string from the end named in
	// [StringReadings], 0 to 300 m.
	At unit.Length
	// Drop is the height of the string above the ground there, 0 to 100 m.
	// Where the string was moved down the hill, add the step to every later
	// drop.
	Drop unit.Length
	// Crossfall is as in [Point]: positive up to the right looking uphill,
	// whichever end the readings start from.
	Crossfall float64
}

// StringReadings are drops below a string stretched level along the path.
type StringReadings struct {
	// From is the end that every At is measured from.
	From End
	// Readings are 2 to 10 000 drops, At ascending by at least 1 mm.
	Readings []StringReading
	// Accuracy is the ± of one drop, up to 1 m. 0 is 5 mm, common practice.
	Accuracy unit.Length
	// AtAccuracy is the ± of one At, up to 1 m. 0 is 10 mm, common practice.
	AtAccuracy unit.Length
	// Tilt is how far out of level the string may lie, a ratio up to 0.1. 0 is
	// 0.002 (2 mm in 1 m), common practice for a line level hung at mid-span;
	// no published figure was found. Turn the level end for end on the string:
	// half the difference is the true tilt.
	Tilt float64
	// LineMass is the mass of one metre of the string, up to 1 kg. 0 is 1.4 g,
	// a No. 18 twisted nylon mason's line (from memory).
	LineMass unit.Mass
	// LevelMass is the mass of the line level, up to 10 kg. 0 is 20 g, common
	// practice.
	LevelMass unit.Mass
	// Pull is the force that holds the string tight, 1 N to 10 kN. 0 is 50 N
	// (11 lbf), common practice for a line drawn by hand.
	Pull unit.Force
	// Span is the length of string between two supports, up to 300 m. 0 is the
	// whole distance from the first At to the last.
	Span unit.Length
}

// Survey turns the drops into a ground whose foot, the lower end, is at station
// 0 and level 0. Readings from the head are turned round. When the foot would
// come out above the head the readings are refused: they name the wrong end.
//
// ± on the rise is √(2a² + (g·run)²), a being the accuracy of a drop and g the
// tilt: two drops, and a string that may lie out of level all along. ± on the
// run is √2·t, t being the accuracy of an At.
//
// The check "string sag" compares the sag at mid-span, w·L²/(8T) (weight w per
// length, span L, pull T; from memory), with the accuracy of a drop. The sag
// is not taken off the readings: it grows from nothing at the supports, so it
// makes the ground seem high in the middle and leaves the total rise alone.
func (r StringReadings) Survey() (Survey, error) {
	var faults fault.List
	a := accuracy(&faults, "accuracy", r.Accuracy, defaultDropAccuracy)
	t := accuracy(&faults, "at_accuracy", r.AtAccuracy, defaultAtAccuracy)
	line := r.line(&faults)
	if r.From != FromHead && r.From != FromFoot {
		faults.Add("from", string(r.From), "is no end of the path", `write "head" or "foot", the end that every at is measured from`)
	}
	if !countReadings(&faults, len(r.Readings)) {
		return Survey{}, faults.Err()
	}
	order := stationOrder{last: math.NaN(), what: "distance"}
	for i, q := range r.Readings {
		field := readingField(i)
		if inRange(&faults, field+".at", q.At, 0, maxStringLen, "distance along a string", "give it from the "+endWord(r.From)+", at most 300 m") {
			order.next(&faults, field+".at", q.At)
		}
		if q.Drop < 0 {
			faults.Add(field+".drop", sayLength(q.Drop.Meters()), "puts the ground above the string", "keep the ground below it; or raise the string, which adds as much to every drop")
		} else {
			inRange(&faults, field+".drop", q.Drop, 0, maxDrop, "drop", "measure it from the string down to the ground, at most 100 m; raise the string where it touches")
		}
		checkCrossfall(&faults, field, q.Crossfall)
	}
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}

	first, last := r.Readings[0], r.Readings[len(r.Readings)-1]
	foot, head := first, last
	if r.From == FromHead {
		foot, head = last, first
	}
	if foot.Drop < head.Drop {
		faults.Add("from", string(r.From),
			fmt.Sprintf("would put the foot %s above the head: the drop is %s at the foot and %s at the head", sayLength((head.Drop-foot.Drop).Meters()), sayLength(foot.Drop.Meters()), sayLength(head.Drop.Meters())),
			fmt.Sprintf("take the %s if distances were measured from there; else look for heights that were measured from a datum up and not from the string down", string(otherEnd(r.From))))
		return Survey{}, faults.Err()
	}
	points := make([]Point, len(r.Readings))
	for i, q := range r.Readings {
		p := Point{Level: foot.Drop - q.Drop, Crossfall: q.Crossfall}
		if r.From == FromHead {
			p.Station = foot.At - q.At
			points[len(points)-1-i] = p
		} else {
			p.Station = q.At - foot.At
			points[i] = p
		}
	}
	g := groundOf(&faults, points)
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}
	run := g.totalRun().Meters()
	if line.span == 0 {
		line.span = run
	}
	return Survey{
		Method: "string", Ground: g,
		Rise:   Estimate{g.totalRise(), unit.Length(hypot2(math.Sqrt2*a, line.tilt*run))},
		Run:    Estimate{g.totalRun(), unit.Length(math.Sqrt2 * t)},
		Checks: []Check{line.sagCheck(a), line.tiltCheck(run), g.steepestCheck()},
		Notes:  line.notes(),
	}, nil
}

func endWord(e End) string {
	if e == FromHead || e == FromFoot {
		return string(e)
	}
	return "end named in from"
}

func otherEnd(e End) End {
	if e == FromHead {
		return FromFoot
	}
	return FromHead
}

// stretched is a string line in SI units.
type stretched struct {
	weight float64 // N per m
	level  float64 // N, the line level
	pull   float64 // N
	span   float64 // m, 0 for the whole run
	tilt   float64
}

func (r StringReadings) line(faults *fault.List) stretched {
	s := stretched{
		weight: defaultLineMass * standardGravity, level: defaultLevelMass * standardGravity,
		pull: defaultPull, span: r.Span.Meters(), tilt: defaultTilt,
	}
	if v := r.LineMass.Kilograms(); v != 0 {
		s.weight = v * standardGravity
		if !(v > 0 && v <= 1) {
			faults.Add("line_mass", sayNumber(v)+" kg", "is not the mass of a metre of string", "give up to 1 kg, or leave it out for 1.4 g")
		}
	}
	if v := r.LevelMass.Kilograms(); v != 0 {
		s.level = v * standardGravity
		if !(v > 0 && v <= 10) {
			faults.Add("level_mass", sayNumber(v)+" kg", "is not the mass of a line level", "give up to 10 kg, or leave it out for 20 g")
		}
	}
	if v := r.Pull.Newtons(); v != 0 {
		s.pull = v
		if !(v >= 1 && v <= 10e3) {
			faults.Add("pull", sayNumber(v)+" N", "is not the pull of a string", "give 1 N to 10 kN, or leave it out for 50 N")
		}
	}
	if r.Tilt != 0 {
		s.tilt = r.Tilt
		if !(r.Tilt > 0 && r.Tilt <= 0.1) {
			faults.Add("tilt", sayNumber(r.Tilt), "is not the tilt of a level string", "give a ratio up to 0.1, or leave it out for 0.002")
		}
	}
	if r.Span != 0 {
		inRange(faults, "span", r.Span, minGroundStep, maxStringLen, "span", "give the length of string between two supports, at most 300 m, or leave it out")
	}
	return s
}

// midSag is the sag of a flat parabola at mid-span.
func (s stretched) midSag() float64 {
	return float64(s.weight*float64(s.span*s.span)) / float64(8*s.pull)
}

func (s stretched) sagCheck(accuracy float64) Check {
	sag := s.midSag()
	c := Check{
		Name: "string sag", Value: unit.Length(sag), Limit: unit.Length(accuracy), OK: sag <= accuracy,
		Source: "sag at mid-span w·L²/(8T), from memory",
	}
	c.Says = fmt.Sprintf("A span of %s sags %s in the middle under a pull of %s, against ±%s for a drop.",
		sayLength(s.span), sayLength(sag), sayForce(s.pull), sayLength(accuracy))
	if !c.OK {
		pull := float64(s.weight*float64(s.span*s.span)) / float64(8*accuracy)
		span := math.Sqrt(float64(8*s.pull*accuracy) / s.weight)
		c.Says += fmt.Sprintf(" The ground in the middle seems that much higher than it is. Pull with %s, or prop the string every %s.",
			sayForce(math.Ceil(pull)), sayLength(math.Floor(span*10)/10))
	}
	return c
}

// sayForce writes newtons, and pounds of force beside them: a pound is 0.45359237 kg
// (NIST Special Publication 811, 2008 edition, appendix B).
func sayForce(n float64) string {
	return sayDigits(n, 0) + " N (" + sayDigits(n/(0.45359237*standardGravity), 0) + " lb)"
}

// tiltCheck informs: what the string out of level is worth over the run.
func (s stretched) tiltCheck(run float64) Check {
	return Check{
		Name: "string out of level", Value: unit.Length(s.tilt * run), OK: true,
		Says:   fmt.Sprintf("A string %s %% out of level is %s out over the run. Turn the level end for end on the string and take the mean.", sayDigits(s.tilt*100, 2), sayLength(s.tilt*run)),
		Source: "turning the level: Nichols & Day, Moving the Earth, p 2.40; tilt: common practice",
	}
}

func (s stretched) notes() []string {
	// A level hung x off mid-span reads level where the string has a slope:
	// end to end that is x·(w·L + W)/T.
	off := float64(0.1*(float64(s.weight*s.span)+s.level)) / s.pull
	hang := float64(s.level*s.span) / float64(4*s.pull)
	return []string{
		fmt.Sprintf("Hang the line level at mid-span: 100 mm (4 in) off it tilts the string by %s from end to end.", sayLength(off)),
		fmt.Sprintf("Take the level off before measuring drops: left hanging, it pulls the middle down by another %s.", sayLength(hang)),
	}
}

// MidSag is the sag at mid-span of a tape or string, by the flat parabola
// w·L²/(8T) (from memory; true to 0.1 % while the sag is under a fiftieth of
// the span). Mass is that of one metre, above 0; span is up to 10 km and pull
// above 0. The error has the fields mass, span and pull.
func MidSag(mass unit.Mass, span unit.Length, pull unit.Force) (unit.Length, error) {
	s, err := span1(mass, span, pull)
	if err != nil {
		return 0, err
	}
	return unit.Length(s.midSag()), nil
}

// SagShortening is how much less the straight distance is than what a tape
// hanging between two supports reads: for n equal spans
//
//	n · w²·L³/(24T²)
//
// always to be taken off (tape correction for sag, survey texts). Mass is that
// of one metre, span the length between two supports, spans from 1 to 10 000.
// On a slope multiply by the square of its cosine. The error has the fields
// mass, span, pull and spans.
func SagShortening(mass unit.Mass, span unit.Length, pull unit.Force, spans int) (unit.Length, error) {
	s, err := span1(mass, span, pull)
	var faults fault.List
	faults.Put("", err)
	if spans < 1 || spans > maxReadings {
		faults.Add("spans", strconv.Itoa(spans), "is not a number of spans", fmt.Sprintf("give a count from 1 to %d", maxReadings))
	}
	if err := faults.Err(); err != nil {
		return 0, err
	}
	ratio := float64(s.weight*s.span) / s.pull
	return unit.Length(float64(spans) * float64(float64(ratio*ratio)*s.span) / 24), nil
}

func span1(mass unit.Mass, span unit.Length, pull unit.Force) (stretched, error) {
	var faults fault.List
	m, t := mass.Kilograms(), pull.Newtons()
	if !(m > 0 && m <= 100) {
		faults.Add("mass", sayNumber(m)+" kg", "is not the mass of a metre of tape", "give more than 0 and at most 100 kg")
	}
	inRange(&faults, "span", span, 0, maxTotal, "span", "give the length between two supports, at most 10 km")
	if !(t >= 1e-3 && t <= 1e6) {
		faults.Add("pull", sayNumber(t)+" N", "is not a pull", "give 0.001 N to 1 MN")
	}
	return stretched{weight: m * standardGravity, span: span.Meters(), pull: t}, faults.Err()
}
