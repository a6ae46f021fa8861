package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Coupling is how well hands hold a load.
type Coupling string

// Couplings: handles or a good grip under it; a grip that will do; none, or a sagging
// load.
const (
	Good Coupling = "good"
	Fair Coupling = "fair"
	Poor Coupling = "poor"
)

// LiftConstant is what the lifting equation lets one person lift where everything
// is at its best: 51 lb.
const LiftConstant = 51 * pound

// Lift is one two-handed lift, as the revised NIOSH lifting equation takes it. The
// equation is not for carrying, pushing, shovelling or barrows, nor for lifting with one hand, kneeling, in a
// narrow place, on slippery ground, or of what shifts (Applications Manual, 1.2, from
// memory): on a hillside a lower figure is wise.
type Lift struct {
	// Horizontal is from between the ankles to the hands, Vertical from the floor to
	// the hands, Travel how far the hands go up or down, all 0 to 10 m.
	Horizontal, Vertical, Travel unit.Length
	// Twist is how far the body turns, 0 to half a circle.
	Twist unit.Angle
	// PerMinute is how often, 0 to 100 times a minute; Hours how long at a stretch,
	// over 0 to 8, 0 counting as 1.
	PerMinute, Hours float64
	// Coupling is empty for fair.
	Coupling Coupling
}

// Validate reports what is wrong with the lift, as a [Faults] with the fields
// horizontal, vertical, travel, twist, per_minute, hours and coupling.
func (l Lift) Validate() error {
	var faults fault.List
	for _, s := range []sized{{"horizontal", l.Horizontal}, {"vertical", l.Vertical}, {"travel", l.Travel}} {
		if v := s.Meters(); !(v >= 0 && v <= 10) {
			faults.Add(s.name, sayLength(v), "is not a distance of a lift", "give 0 to 10 m")
		}
	}
	if a := float64(l.Twist); !(a >= 0 && a <= math.Pi+hair) {
		faults.Add("twist", sayNumber(a*180/math.Pi)+"°", "is not how far a body turns", "give 0 to 180°")
	}
	if !(l.PerMinute >= 0 && l.PerMinute <= 100) {
		faults.Add("per_minute", sayNumber(l.PerMinute), "is not how often one lifts", "give 0 to 100 a minute")
	}
	if !(l.Hours >= 0 && l.Hours <= 8) {
		faults.Add("hours", sayNumber(l.Hours), "is not how long one lifts", "give 0 to 8 hours")
	}
	switch l.Coupling {
	case "", Good, Fair, Poor:
	default:
		faults.Add("coupling", string(l.Coupling), "is not a grip", "give good, fair or poor")
	}
	return faults.Err()
}

// Limit is the recommended weight limit, LC·HM·VM·DM·AM·FM·CM, with
//
//	HM = 10/H       H from 10 to 25 in; nothing beyond
//	VM = 1 − 0.0075·|V − 30|   V to 70 in; nothing beyond
//	DM = 0.82 + 1.8/D   D from 10 to 70 in; nothing beyond
//	AM = 1 − 0.0032·A   A to 135°; nothing beyond
//
// in inches, and FM and CM from the tables 5 and 7, FM straight between its rows and
// nothing above 6 lifts a minute, which is as far as the table here goes. 0 means it
// should not be lifted so at all. The error is that of Validate.
//
// Source: Applications Manual for the Revised NIOSH Lifting Equation, 94-110; the
// bounds of H, AM, CM and FM from memory.
func (l Lift) Limit() (unit.Mass, error) {
	if err := l.Validate(); err != nil {
		return 0, err
	}
	h, v, d := l.Horizontal.Inches(), l.Vertical.Inches(), l.Travel.Inches()
	a := float64(l.Twist) * (180 / math.Pi)
	if h > 25+hair || v > 70+hair || d > 70+hair || a > 135+hair {
		return 0, nil
	}
	m := LiftConstant.Kilograms()
	if h > 10 {
		m *= 10 / h
	}
	m *= 1 - float64(0.0075*math.Abs(v-30))
	if d > 10 {
		m *= 0.82 + 1.8/d
	}
	m *= 1 - float64(0.0032*a)
	m *= l.often() * l.grip(v)
	return unit.Mass(m), nil
}

// liftRates and liftFactors are table 5 for 1, 2 and 8 hours, to 6 lifts a minute, where it is the
// same whatever the height.
var (
	liftRates   = [8]float64{0.2, 0.5, 1, 2, 3, 4, 5, 6}
	liftFactors = [3][8]float64{
		{1.00, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75},
		{0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50},
		{0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27},
	}
)

func (l Lift) often() float64 {
	row := &liftFactors[0]
	switch {
	case l.Hours > 2:
		row = &liftFactors[2]
	case l.Hours > 1:
		row = &liftFactors[1]
	}
	if l.PerMinute <= liftRates[0] {
		return row[0]
	}
	for i := 1; i < len(liftRates); i++ {
		if l.PerMinute <= liftRates[i] {
			return blend(row[i-1], row[i], (l.PerMinute-liftRates[i-1])/(liftRates[i]-liftRates[i-1]))
		}
	}
	return 0
}

func (l Lift) grip(v float64) float64 {
	switch l.Coupling {
	case Good:
		return 1
	case Poor:
		return 0.90
	}
	if v < 30 {
		return 0.95
	}
	return 1
}

// TeamShare is the part of what people could lift each alone that they lift together: 1,
// 2/3 for two and 1/2 for three. More than three are no better than three: on steps or
// a slope the lower person may bear most of the weight.
//
// Source: HSE, Manual handling, L23.
func TeamShare(people int) float64 {
	switch {
	case people < 1:
		return 0
	case people == 1:
		return 1
	case people == 2:
		return 2.0 / 3
	case people == 3:
		return 0.5
	}
	return 1.5 / float64(people)
}

// TeamLimit is what a team lifts when each of its people could lift a mass alone: people ×
// each × [TeamShare]. A mass that is not finite and over 0 counts as nothing.
func TeamLimit(people int, each unit.Mass) unit.Mass {
	if people > 100 {
		people = 100
	}
	return unit.Mass(float64(people) * amount(each.Kilograms(), 1e6) * TeamShare(people))
}

// People is how many it takes to lift a mass when one may lift each: 1 to 3, or ok
// false when it takes a machine or a barrow.
func People(mass, each unit.Mass) (people int, ok bool) {
	for people = 1; people <= 3; people++ {
		if float64(mass) <= float64(TeamLimit(people, each))*(1+hair) {
			return people, true
		}
	}
	return 3, false
}

// CheckLift holds a load, over 0 to 1e6 kg, against the limit of a lift by some people,
// 1 to 100: the lifting index is the load over the limit, above 1 a raised risk and
// above 3 a high one. The error is that of [Lift.Validate], with the fields load and
// people.
func CheckLift(l Lift, load unit.Mass, people int) ([]Caution, error) {
	var faults fault.List
	each, err := l.Limit()
	faults.Put("", err)
	kg := load.Kilograms()
	if !(kg > 0 && kg <= 1e6) {
		faults.Add("load", sayNumber(kg)+" kg", "is not a load", "give more than 0 and at most 1e6 kg")
	}
	if people < 1 || people > 100 {
		faults.Add("people", fmt.Sprint(people), "is not a team", "give 1 to 100")
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	limit := TeamLimit(people, each).Kilograms()
	if kg <= float64(limit*(1+hair)) {
		return nil, nil
	}
	c := Caution{ID: "lifting", Severity: Warn, Quantity: OfMass, Limit: limit, Actual: kg,
		Says: "The load is more than should be lifted so: take more people, a barrow or a hoist, or shorter pieces.", Source: "NIOSH 94-110, lifting index over 1"}
	if people > 1 {
		c.Source += "; HSE L23 for teams"
	}
	if kg > float64(3*limit) {
		c.Severity = Stop
		c.Says = "The load is far more than should be lifted so: do not lift it by hand."
		c.Source = "NIOSH 94-110, lifting index over 3"
	}
	return []Caution{c}, nil
}
