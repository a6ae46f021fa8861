package earthwork

import (
	"fmt"
	"math"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// TotalReadings is the two-number answer: how far up, and how far along.
type TotalReadings struct {
	// Rise is the height of the head above the foot, 0 to 10 km.
	Rise unit.Length
	// Run is the horizontal distance between them, 1 mm to 10 km. It is not
	// the distance taped along the ground.
	Run unit.Length
	// Accuracy is the ± of each of the two, up to 1 m. 0 is 25 mm, common
	// practice for a tape and a level held by hand.
	Accuracy unit.Length
}

// Survey makes a straight ground of two points, the foot at station 0 and level
// 0. The notes say what two numbers cannot tell. ± on the rise and on the run
// is the accuracy of the readings, each being one reading.
func (r TotalReadings) Survey() (Survey, error) {
	var faults fault.List
	a := accuracy(&faults, "accuracy", r.Accuracy, 0.025)
	inRange(&faults, "rise", r.Rise, 0, maxTotal, "rise", "give the height of the head above the foot, measured from the lower end, at most 10 km")
	if inRange(&faults, "run", r.Run, 0, maxTotal, "run", "give the horizontal distance from foot to head, at most 10 km") && r.Run.Meters() < minGroundStep {
		faults.Add("run", sayLength(r.Run.Meters()), "is no distance", "give the horizontal distance from foot to head, at least 1 mm")
	}
	g := groundOf(&faults, []Point{{}, {Station: r.Run, Level: r.Rise}})
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}
	// A hump of height b at mid-run is a triangle above the straight line.
	hump := float64(r.Run.Meters()*0.1) / 2
	s := Survey{
		Method: "total", Ground: g,
		Rise:   Estimate{r.Rise, unit.Length(a)},
		Run:    Estimate{r.Run, unit.Length(a)},
		Checks: []Check{g.steepestCheck()},
		Notes: []string{
			"Two numbers fix the two ends of the path and nothing between them: the ground is taken as one straight slope without crossfall. A hump, a hollow or a bench in the bank cannot be seen, so digging, backfill and spoil are not known, only what they would be on such a slope.",
			fmt.Sprintf("For scale: a hump that stands 100 mm (4 in) above the straight line halfway up is %s m³ more to dig for every metre of width, or %s cu ft for every foot. Read the ground with a string or a rod at every change of slope before ordering anything.", sayDigits(hump, 2), sayDigits(hump/(0.3048*0.3048), 1)),
		},
	}
	return s, nil
}

// HandLevelRise is the rise found with a hand level going uphill: sights of one
// eye height each, less what the rod reads at the last one,
//
//	rise = eye·sights − last
//
// (Nichols & Day, Moving the Earth, p 2.39-2.40). Eye is the height of the
// user's eye, up to 3 m; last is 0 to 10 m. The error has the fields eye, sights
// and last.
func HandLevelRise(eye unit.Length, sights int, last unit.Length) (unit.Length, error) {
	var faults fault.List
	if inRange(&faults, "eye", eye, 0, 3, "eye height", "give the height of the eye above the ground, 1.6 m say") && eye == 0 {
		faults.Add("eye", "0", "is no eye height", "give the height of the eye above the ground, 1.6 m say")
	}
	if sights < 1 || sights > maxReadings {
		faults.Add("sights", strconv.Itoa(sights), "is not a number of sights", fmt.Sprintf("give a count from 1 to %d", maxReadings))
	}
	inRange(&faults, "last", last, 0, maxRodReading, "rod reading", "give what the rod read at the last sight, 0 to 10 m")
	if err := faults.Err(); err != nil {
		return 0, err
	}
	return unit.Length(float64(eye.Meters()*float64(sights)) - last.Meters()), nil
}

// PaceLength is the length of a walker's pace: a known distance over the mean
// of the counts of paces it took. Distance is up to 10 km, counts are 1 to
// 10 000 numbers from 1 to a million. The error has the fields distance and
// counts[i].
func PaceLength(distance unit.Length, counts ...float64) (unit.Length, error) {
	var faults fault.List
	if inRange(&faults, "distance", distance, 0, maxTotal, "distance", "give the known distance, at most 10 km") && distance == 0 {
		faults.Add("distance", "0", "is no distance", "give the known distance")
	}
	if n := len(counts); n < 1 || n > maxReadings {
		howMany(&faults, "counts", n, "counts of paces", 1, maxReadings)
		return 0, faults.Err()
	}
	sum := 0.0
	for i, c := range counts {
		if !(c >= 1 && c <= 1e6) {
			faults.Add("counts["+strconv.Itoa(i)+"]", sayNumber(c), "is not a count of paces", "give a number from 1 to a million")
		}
		sum += c
	}
	if err := faults.Err(); err != nil {
		return 0, err
	}
	return unit.Length(float64(distance.Meters()*float64(len(counts))) / sum), nil
}

// PacedDistance is the distance walked in a number of paces of a known length.
// It follows the ground, so it is longer than the run on a slope; see
// [SlopeCorrection]. Pace is up to 3 m, paces 0 to a million.
func PacedDistance(pace unit.Length, paces float64) (unit.Length, error) {
	var faults fault.List
	inRange(&faults, "pace", pace, 0, 3, "pace", "give the length of one pace, 0.75 m say")
	if !(paces >= 0 && paces <= 1e6) {
		faults.Add("paces", sayNumber(paces), "is not a number of paces", "give a number from 0 to a million")
	}
	if err := faults.Err(); err != nil {
		return 0, err
	}
	return unit.Length(pace.Meters() * paces), nil
}

// hypot2 is the root of the sum of two squares, without the platform's fused
// steps.
func hypot2(a, b float64) float64 { return math.Sqrt(float64(a*a) + float64(b*b)) }
