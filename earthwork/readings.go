package earthwork

import (
	"fmt"
	"math"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Bounds of readings: beyond them a reading is taken for a slip of the pen or
// of the unit (millimetres written as metres), and is a fault.
const (
	maxReadings    = maxGroundPoints
	maxStringLen   = 300.0 // m, at along a string
	maxDrop        = 100.0 // m, carried down from string to string
	maxTotal       = 10e3  // m, rise or run of the two-number answer
	maxAccuracy    = 1.0   // m, the ± of one reading
	steepestLikely = 1.5   // rise per run: steeper ground is likelier a slip
)

// The ± of one distance taped along the path when the readings do not say:
// a tape held level by hand, plumbed down at the reading. Common practice.
const defaultAtAccuracy = 0.010 // m

// Estimate is a value and how far either way it may be out. The ± carries the
// same odds as the accuracy of the readings it is reckoned from.
type Estimate struct{ Value, PlusMinus unit.Length }

// Check is one test that the readings were put to.
type Check struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Name is what was tested: "string sag", "book arithmetic", ...
	Name string
	// Says is the outcome in a sentence, with what would do when not OK.
	Says string
	// Value is what was found and Limit the most that passes. Limit is 0 for a
	// check that only informs.
	Value, Limit unit.Length
	// OK is false when the check fails. The ground is still usable: what must
	// not be used is refused with an error instead.
	OK bool
	// Source is where the formula or the limit comes from.
	Source string
}

// Survey is what a set of readings comes to.
type Survey struct {
	// Method is "total", "string", "rod", "slope" or "levels".
	Method string
	// Ground is the surface, stations ascending. Each method documents its
	// datum.
	Ground Ground
	// Rise is the level of the ground's head above its foot, Run the
	// horizontal distance between them.
	Rise, Run Estimate
	// Checks are the tests of the readings, in a fixed order.
	Checks []Check
	// Book is the reduced level book, line for line; rod readings only.
	Book []BookLine
	// Notes are what the user should know about the readings, in sentences.
	Notes []string
}

// LevelReading is a point of the ground whose level is known already, from a
// drawing or another survey.
type LevelReading struct {
	// At is the station, within 100 km of 0 either way.
	At unit.Length
	// Level is the height above the user's datum, within 10 km either way.
	Level unit.Length
	// Crossfall is as in [Point].
	Crossfall float64
}

// LevelReadings is a ground given as stations and levels.
type LevelReadings struct {
	// Readings are 2 to 10 000 points, stations ascending by at least 1 mm.
	Readings []LevelReading
	// Accuracy is the ± of one level, up to 1 m. 0 is 5 mm, common practice
	// for levels written on a drawing to the centimetre.
	Accuracy unit.Length
	// AtAccuracy is the ± of one station, up to 1 m. 0 is 10 mm, common
	// practice for a tape held level and plumbed down.
	AtAccuracy unit.Length
}

// Survey takes stations and levels as given, datum and all. A ground that is
// lower at its last station than at its first gets a failed check and not an
// error, since a survey may run on over the crest.
//
// ± on the rise is √2·a and on the run √2·t, a being the accuracy of a level
// and t that of a station: each is a difference of two readings.
func (r LevelReadings) Survey() (Survey, error) {
	var faults fault.List
	a := accuracy(&faults, "accuracy", r.Accuracy, 0.005)
	t := accuracy(&faults, "at_accuracy", r.AtAccuracy, defaultAtAccuracy)
	if !countReadings(&faults, len(r.Readings)) {
		return Survey{}, faults.Err()
	}
	points := make([]Point, len(r.Readings))
	order := stationOrder{last: math.NaN(), what: "station"}
	for i, q := range r.Readings {
		field := readingField(i)
		if inRange(&faults, field+".at", q.At, -maxGroundReach, maxGroundReach, "station", "give a distance within 100 km of 0") {
			order.next(&faults, field+".at", q.At)
		}
		inRange(&faults, field+".level", q.Level, -maxGroundLevel, maxGroundLevel, "level", "give a height within 10 km of 0")
		checkCrossfall(&faults, field, q.Crossfall)
		points[i] = Point{Station: q.At, Level: q.Level, Crossfall: q.Crossfall}
	}
	g := groundOf(&faults, points)
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}
	s := Survey{
		Method: "levels", Ground: g,
		Rise:   Estimate{g.totalRise(), unit.Length(math.Sqrt2 * a)},
		Run:    Estimate{g.totalRun(), unit.Length(math.Sqrt2 * t)},
		Checks: []Check{g.directionCheck(), g.steepestCheck()},
		Notes:  []string{"The levels are taken as given, on the datum they were given on; nothing in them can be checked against itself."},
	}
	return s, nil
}

// totalRise is the level of the head above the foot.
func (g Ground) totalRise() unit.Length { return g.Head().Level - g.Foot().Level }

// totalRun is the horizontal distance from foot to head.
func (g Ground) totalRun() unit.Length { return g.Head().Station - g.Foot().Station }

// directionCheck tells whether stations go uphill, which every other part of
// the planning takes for granted.
func (g Ground) directionCheck() Check {
	c := Check{Name: "uphill", OK: true, Value: 0, Source: "common practice"}
	rise := g.totalRise().Meters()
	if rise >= 0 {
		c.Says = "Stations go uphill, from the foot to the head."
		return c
	}
	c.OK, c.Value = false, unit.Length(-rise)
	c.Says = fmt.Sprintf("The ground is %s lower at its last station than at its first. Stations go uphill: if the path does too, measure at from its lower end.", sayLength(-rise))
	return c
}

// steepestCheck looks for a slip of the pen: a stretch steeper than earth
// stands. Value and Limit are the rise in one metre of run.
func (g Ground) steepestCheck() Check {
	at, steepest := 0, 0.0
	for i := 1; i < len(g.points); i++ {
		p, q := g.points[i-1], g.points[i]
		slope := math.Abs((q.Level - p.Level).Meters() / (q.Station - p.Station).Meters())
		if slope > steepest {
			at, steepest = i, slope
		}
	}
	c := Check{
		Name: "steepest stretch", OK: steepest <= steepestLikely,
		Value: unit.Length(steepest), Limit: steepestLikely,
		Source: "limit 150 %: common practice",
	}
	if at == 0 {
		c.Says = "The ground is level from end to end."
		return c
	}
	p, q := g.points[at-1], g.points[at]
	c.Says = fmt.Sprintf("The steepest stretch, from station %s to %s, rises or falls %s %%.",
		sayStation(p.Station.Meters()), sayStation(q.Station.Meters()), sayDigits(100*steepest, 0))
	if !c.OK {
		c.Says += " Bare earth hardly stands so steep: look at these two readings again, unless there is a wall or rock."
	}
	return c
}

// accuracy gives the accuracy to use, in metres: the caller's, or the default
// for 0.
func accuracy(faults *fault.List, field string, given unit.Length, otherwise float64) float64 {
	v := given.Meters()
	if v == 0 {
		return otherwise
	}
	if !(v > 0 && v <= maxAccuracy) {
		faults.Add(field, sayLength(v), "is not an accuracy", "give the ± of one reading, at most 1 m, or leave it out")
		return otherwise
	}
	return v
}

// countReadings refuses fewer than two readings and more than can be looked
// at; it tells whether to go on.
func countReadings(faults *fault.List, n int) bool {
	if n >= 2 && n <= maxReadings {
		return true
	}
	howMany(faults, "readings", n, "readings", 2, maxReadings)
	return false
}

// howMany is the fault of so many of a thing.
func howMany(faults *fault.List, field string, n int, what string, least, most int) {
	problem := "is too many "
	if n < least {
		problem = "is too few "
	}
	faults.Add(field, strconv.Itoa(n), problem+what, "give "+strconv.Itoa(least)+" to "+strconv.Itoa(most))
}

// readingLine is what a reading is called in a sentence.
func readingLine(i int) string { return "line " + strconv.Itoa(i+1) }

func readingField(i int) string { return "readings[" + strconv.Itoa(i) + "]" }

// inRange faults a length that is not a number or lies outside low..high.
func inRange(faults *fault.List, field string, v unit.Length, low, high float64, what, fix string) bool {
	m := v.Meters()
	if m >= low && m <= high {
		return true
	}
	switch {
	case math.IsNaN(m) || math.IsInf(m, 0):
		faults.Add(field, sayLength(m), "is not a "+what, fix)
	case m < 0 && low >= 0:
		faults.Add(field, sayLength(m), "is negative, which no "+what+" is", fix)
	default:
		faults.Add(field, sayLength(m), "is beyond any likely "+what, fix)
	}
	return false
}

func checkCrossfall(faults *fault.List, field string, c float64) {
	if !within(c, maxCrossfall) {
		faults.Add(fault.Join(field, "crossfall"), sayNumber(c), "is not a crossfall", "give rise per unit width from -2 to 2, 0.1 for 10 %")
	}
}

// stationOrder faults distances that do not ascend.
type stationOrder struct {
	last float64 // NaN before the first
	what string
}

func (o *stationOrder) next(faults *fault.List, field string, at unit.Length) {
	v := at.Meters()
	switch step := v - o.last; {
	case step == 0:
		faults.Add(field, sayLength(v), "is the same "+o.what+" as the reading before", "leave one of the two out; give the top of a wall a "+o.what+" 1 mm further on")
	case step < 0:
		faults.Add(field, sayLength(v), fmt.Sprintf("comes after %s and is out of order", sayLength(o.last)), "give the readings in the order they lie along the path")
	case step < minGroundStep-1e-9:
		faults.Add(field, sayLength(v), "is less than 1 mm beyond the reading before", "leave one of the two out")
	}
	o.last = v
}

// groundOf makes the ground when nothing was wrong so far. The points were
// checked under the names the caller knows; what rounding may still have done
// to them is caught here.
func groundOf(faults *fault.List, points []Point) Ground {
	if len(*faults) > 0 {
		return Ground{}
	}
	g, err := NewGround(points)
	faults.Put("", err)
	return g
}
