package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Bounds of one leg of a slope tape, and what it is taken to be good for.
const (
	minLeg               = 0.010 // m
	maxLeg               = 1000  // m
	maxLegAngle          = 80 * math.Pi / 180
	maxLegGrade          = 5.0
	defaultLegAccuracy   = 0.010               // m. Common practice.
	defaultAngleAccuracy = 0.5 * math.Pi / 180 // half a degree: a hand clinometer. Common practice.
)

// SlopeReading is one leg taped along the ground from the end of the leg before.
type SlopeReading struct {
	// Length is the taped length, 10 mm to 1 km.
	Length unit.Length
	// Angle is the leg's slope above the horizontal, negative going down, from
	// -80 to 80 degrees. Leave it 0 when Grade is given.
	Angle unit.Angle
	// Grade is the leg's slope as rise over run, from -5 to 5; nil when Angle
	// speaks.
	Grade *float64
	// Crossfall is that of the ground at the end of the leg, as in [Point].
	Crossfall float64
}

// SlopeReadings are legs taped along the ground with a clinometer.
type SlopeReadings struct {
	// Readings are 1 to 9999 legs, each beginning where the one before ended.
	Readings []SlopeReading
	// Crossfall is that of the ground where the first leg begins.
	Crossfall float64
	// Accuracy is the ± of one taped length, up to 1 m. 0 is 10 mm, common
	// practice.
	Accuracy unit.Length
	// AngleAccuracy is the ± of one angle, up to 10 degrees. 0 is half a
	// degree, common practice for a hand clinometer.
	AngleAccuracy unit.Angle
}

// Survey adds up the legs: run s·cos θ and rise s·sin θ each. The lower end is
// at station 0 and level 0; legs that go downhill all told are turned round, and
// a note says so.
//
// ± by adding independent errors in squares, a for a length and δ for an angle:
//
//	rise: √Σ((a·sin θ)² + (δ·s·cos θ)²)
//	run:  √Σ((a·cos θ)² + (δ·s·sin θ)²)
//
// The check "slope length" tells by how much the taped distance exceeds the
// run: the mistake of using one for the other.
func (r SlopeReadings) Survey() (Survey, error) {
	var faults fault.List
	a := accuracy(&faults, "accuracy", r.Accuracy, defaultLegAccuracy)
	delta := defaultAngleAccuracy
	if v := r.AngleAccuracy.Radians(); v != 0 {
		delta = v
		if !(v > 0 && v <= 10*math.Pi/180) {
			faults.Add("angle_accuracy", sayAngle(v), "is not the accuracy of an angle", "give the ± of one reading, at most 10 degrees, or leave it out")
		}
	}
	checkCrossfall(&faults, "", r.Crossfall)
	if n := len(r.Readings); n < 1 || n > maxGroundPoints-1 {
		howMany(&faults, "readings", n, "legs", 1, maxGroundPoints-1)
		return Survey{}, faults.Err()
	}

	points := make([]Point, 1, len(r.Readings)+1)
	points[0].Crossfall = r.Crossfall
	var x, y, taped, riseVar, runVar float64
	for i, q := range r.Readings {
		sin, cos := q.slope(&faults, readingField(i))
		s := q.Length.Meters()
		x += float64(s * cos)
		y += float64(s * sin)
		taped += s
		points = append(points, Point{Station: unit.Length(x), Level: unit.Length(y), Crossfall: q.Crossfall})

		byTape, byAngle := a*sin, float64(delta*s)*cos
		riseVar += float64(byTape*byTape) + float64(byAngle*byAngle)
		byTape, byAngle = a*cos, float64(delta*s)*sin
		runVar += float64(byTape*byTape) + float64(byAngle*byAngle)
	}
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}
	var notes []string
	if y < 0 {
		points = turnedRound(points)
		notes = append(notes, "The legs go downhill all told, so they were turned round: the foot is where the last leg ends.")
	}
	g := groundOf(&faults, points)
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}
	return Survey{
		Method: "slope", Ground: g,
		Rise:   Estimate{g.totalRise(), unit.Length(math.Sqrt(riseVar))},
		Run:    Estimate{g.totalRun(), unit.Length(math.Sqrt(runVar))},
		Checks: []Check{slopeLengthCheck(taped, x), g.steepestCheck()},
		Notes:  append(notes, "Between the ends of a leg the ground is taken as straight: end a leg at every change of slope."),
	}, nil
}

// slope checks one leg and gives the sine and cosine of its slope.
func (q SlopeReading) slope(faults *fault.List, field string) (sin, cos float64) {
	if inRange(faults, field+".length", q.Length, 0, maxLeg, "taped length", "give the length of the leg, 10 mm to 1 km") && q.Length.Meters() < minLeg {
		faults.Add(field+".length", sayLength(q.Length.Meters()), "is no leg", "give the length of the leg, at least 10 mm")
	}
	checkCrossfall(faults, field, q.Crossfall)
	angle := q.Angle.Radians()
	if q.Grade == nil {
		if !within(angle, maxLegAngle) {
			faults.Add(field+".angle", sayAngle(angle), "is not the slope of a leg", "give the angle above the horizontal, from -80 to 80 degrees")
			return 0, 1
		}
		return sinCos(angle)
	}
	if angle != 0 {
		faults.Add(field+".grade", sayNumber(*q.Grade), "is given beside the angle "+sayAngle(angle), "give one of the two")
	}
	if !within(*q.Grade, maxLegGrade) {
		faults.Add(field+".grade", sayNumber(*q.Grade), "is not the grade of a leg", "give rise over run from -5 to 5, 0.25 for 25 %")
		return 0, 1
	}
	cos = 1 / hypot2(1, *q.Grade)
	return *q.Grade * cos, cos
}

// turnedRound gives the points seen from the other end, the last one at 0, 0.
func turnedRound(points []Point) []Point {
	n := len(points)
	last := points[n-1]
	out := make([]Point, n)
	for i, p := range points {
		out[n-1-i] = Point{Station: last.Station - p.Station, Level: p.Level - last.Level, Crossfall: p.Crossfall}
	}
	return out
}

func slopeLengthCheck(taped, run float64) Check {
	return Check{
		Name: "slope length", Value: unit.Length(taped - run), OK: true,
		Says: fmt.Sprintf("%s was taped along the ground for %s of run: the taped distance is %s longer, and would be that much wrong as a run.",
			sayStation(taped), sayStation(run), sayStation(taped-run)),
		Source: "run = s·cos θ, rise = s·sin θ, exact",
	}
}

// SlopeCorrection is how much longer a straight taped length s is than its run
// when its ends differ in height by h: s − √(s² − h²), exact on any slope.
// Taped is up to 10 km; height must not exceed it either way. The error has the
// fields taped and height.
func SlopeCorrection(taped, height unit.Length) (unit.Length, error) {
	var faults fault.List
	if inRange(&faults, "taped", taped, 0, maxTotal, "taped length", "give the length along the slope, at most 10 km") {
		inRange(&faults, "height", height, -taped.Meters(), taped.Meters(), "height", "give the height between the ends, less than the taped length")
	} else {
		inRange(&faults, "height", height, -maxTotal, maxTotal, "height", "give the height between the ends")
	}
	if err := faults.Err(); err != nil {
		return 0, err
	}
	s, h := taped.Meters(), height.Meters()
	if s == 0 {
		return 0, nil
	}
	// As h²/(s + √(s² − h²)): no difference of near equals on gentle slopes.
	root := math.Sqrt(float64((s - h) * (s + h)))
	return unit.Length(float64(h*h) / (s + root)), nil
}

func sayAngle(rad float64) string { return sayNumber(rad*180/math.Pi) + " degrees" }

// sinCos is the sine and cosine of an angle from -π/2 to π/2. The standard
// library's may differ in the last bit where the processor fuses
// multiplication and addition; this one rounds every step, so that every
// platform gets the same ground.
func sinCos(x float64) (sin, cos float64) {
	size := math.Abs(x)
	swap := size > math.Pi/4
	if swap {
		size = math.Pi/2 - size
	}
	// Taylor's series; on 0..π/4 the first term left out is below 1e-18.
	z := float64(size * size)
	s, c := 1.0, 1.0
	for k := 9; k >= 1; k-- {
		c = 1 - float64(float64(z*c)/float64((2*k-1)*(2*k)))
		s = 1 - float64(float64(z*s)/float64((2*k)*(2*k+1)))
	}
	s *= size
	if swap {
		s, c = c, s
	}
	if x < 0 {
		s = -s
	}
	return s, c
}
