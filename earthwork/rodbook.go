package earthwork

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

const (
	maxRodReading      = 10.0         // m: no rod is longer
	defaultRodAccuracy = 0.003        // m: a builder's level and a rod read to the half centimetre. Common practice.
	defaultPerSetup    = 0.005        // m: M in M·√n for construction; see SetupClosing
	bookedSlack        = 0.001 + 1e-9 // m: levels are booked to the millimetre
	arithmeticSlack    = 1e-6         // m: rounding of the sums
)

// RodReading is one line of a level book: one place the rod stood. A cell that
// was left blank is nil.
type RodReading struct {
	// At is the station of a ground point on the path, within 100 km of 0. Nil
	// for a turning point or bench mark off the path.
	At *unit.Length
	// Back, Mid and Fore are rod readings from -10 to 10 m: the backsight, the
	// intermediate sight and the foresight. The first line of a book has a back
	// alone and the last a fore alone. A line with both a fore and a back is a
	// turning point: the fore was read from the old set-up and the back from
	// the new one. Every other line has a mid or, the last, a fore. A reading
	// is negative when the rod was held upside down, its foot against a point
	// above the line of sight.
	Back, Mid, Fore *unit.Length
	// Bench is the known level of the point, within 10 km of 0.
	Bench *unit.Length
	// Level is the reduced level the user booked for the line, before any
	// correction. It is compared with what the readings give.
	Level *unit.Length
	// Crossfall is that of the ground, as in [Point]; for lines with At.
	Crossfall float64
}

// RodReadings is a level book, in the order it was booked.
type RodReadings struct {
	// Readings are 2 to 10 000 lines.
	Readings []RodReading
	// Accuracy is the ± of one rod reading, up to 1 m. 0 is 3 mm, common
	// practice for a builder's level.
	Accuracy unit.Length
	// AtAccuracy is the ± of one At, up to 1 m. 0 is 10 mm, common practice.
	AtAccuracy unit.Length
	// PerSetup is the misclose allowed for one set-up, up to 1 m; n set-ups may
	// miss by PerSetup·√n. 0 is 5 mm, see [SetupClosing].
	PerSetup unit.Length
	// Feet has the sums of the book told in decimal feet, as a rod in feet is read,
	// and not in metres.
	Feet bool
	// Distance is the length of the line of levels, up to 1000 km, for the
	// checks by [Closings]. 0 leaves them out: the stations do not tell it.
	Distance unit.Length
}

// BookLine is one line of the reduced book.
type BookLine struct {
	// Line is the index of the reading.
	Line int
	// At, Back, Mid, Fore and Bench are the reading's own.
	At, Back, Mid, Fore, Bench *unit.Length
	// Setup is the number, from 1, of the set-up the point was read from; at a
	// turning point the one of the fore. The first line has 1.
	Setup int
	// Collimation is the level of the line of sight after this line: of the
	// new set-up where the line has a back.
	Collimation unit.Length
	// Rise or Fall is the step up or down from the line before; the other is 0.
	Rise, Fall unit.Length
	// Level is the reduced level as read, and Corrected the one with the
	// misclose shared out.
	Level, Corrected unit.Length
}

// BookSums are the sums that check the arithmetic of a level book.
type BookSums struct {
	// Back and Fore are the sums of backsights and foresights, Rise and Fall
	// those of rises and falls, First and Last the reduced levels of the first
	// and last line.
	Back, Fore, Rise, Fall, First, Last unit.Length
}

// SumBook adds up a reduced book. No lines give zeros.
func SumBook(lines []BookLine) BookSums {
	var s BookSums
	for _, l := range lines {
		if l.Back != nil {
			s.Back += *l.Back
		}
		if l.Fore != nil {
			s.Fore += *l.Fore
		}
		s.Rise += l.Rise
		s.Fall += l.Fall
	}
	if n := len(lines); n > 0 {
		s.First, s.Last = lines[0].Level, lines[n-1].Level
	}
	return s
}

// Apart is the widest disagreement between the three figures that must be one:
// ΣBS − ΣFS = Σrise − Σfall = last level − first.
func (s BookSums) Apart() unit.Length {
	a, b, c := s.differences()
	low, high := a, a
	for _, v := range []float64{b, c} {
		if v < low {
			low = v
		}
		if v > high {
			high = v
		}
	}
	return unit.Length(high - low)
}

func (s BookSums) differences() (sights, steps, levels float64) {
	return (s.Back - s.Fore).Meters(), (s.Rise - s.Fall).Meters(), (s.Last - s.First).Meters()
}

// Closing is the most a line of levels may miss its closing bench mark by.
type Closing struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Name is the class of work.
	Name string
	// Limit is the misclose allowed.
	Limit unit.Length
	// Source is where the limit comes from.
	Source string
	// FromMemory is true for a limit that was not read again at its source.
	FromMemory bool
}

// Closings are the limits by distance, C·√K with K in kilometres, loosest first:
// rough 100 mm, ordinary 25 mm and 24 mm (texts differ), third order US 0.05 ft·√miles,
// accurate 12 mm and precise 6 mm. Distance is 0 to 1000 km; any other gives
// none.
func Closings(distance unit.Length) []Closing {
	if !(distance >= 0 && distance.Kilometers() <= maxDistance) {
		return nil
	}
	km, miles := math.Sqrt(distance.Kilometers()), math.Sqrt(distance.Miles())
	const indian = "C·√K, surveying texts of India"
	return []Closing{
		{Name: "rough levelling", Limit: unit.Length(0.100 * km), Source: indian},
		{Name: "ordinary levelling", Limit: unit.Length(0.025 * km), Source: indian},
		{Name: "ordinary levelling, 24 mm", Limit: unit.Length(0.024 * km), Source: "Punmia, Surveying I, from memory", FromMemory: true},
		{Name: "third order", Limit: unit.Length(0.05 * miles * unit.Foot.Meters()), Source: "0.05 ft·√miles, practice in the USA"},
		{Name: "accurate levelling", Limit: unit.Length(0.012 * km), Source: indian},
		{Name: "precise levelling", Limit: unit.Length(0.006 * km), Source: indian},
	}
}

const maxDistance = 1000 // km

// SetupClosing is the limit by set-ups, m·√n: m is 5 mm for construction work
// (Uren & Price, Surveying for Engineers, from memory). Fewer than one set-up
// counts as one.
func SetupClosing(perSetup unit.Length, setups int) unit.Length {
	if setups < 1 {
		setups = 1
	}
	return unit.Length(perSetup.Meters() * math.Sqrt(float64(setups)))
}

// Survey reduces the book by rise and fall and makes the ground of its lines
// that have a station, in any order of booking.
//
// Datum: the first bench of the book; without one the first level the user
// booked; without either, the ground point of least station is at level 0.
// Stations are as given.
//
// Every later bench closes the levels. A misclose of more than PerSetup·√n, n
// being the set-ups from the known point before, is an error that states both. A
// smaller one is shared out equally over those set-ups (NAVEDTRA 14071, Level
// computations); beyond the first and last known points nothing is shared out.
//
// A level the user booked that does not follow from the readings is an error on
// its line, with the sums that show it.
//
// ± on the rise is a·√(2k): k is the number of set-ups on the way from the foot
// to the head, with two readings each, a the accuracy of one. What closing the
// book gains is not counted. ± on the run is √2·t, t being the accuracy of an
// At.
func (r RodReadings) Survey() (Survey, error) {
	var faults fault.List
	a := accuracy(&faults, "accuracy", r.Accuracy, defaultRodAccuracy)
	t := accuracy(&faults, "at_accuracy", r.AtAccuracy, defaultAtAccuracy)
	perSetup := unit.Length(accuracy(&faults, "per_setup", r.PerSetup, defaultPerSetup))
	inRange(&faults, "distance", r.Distance, 0, maxDistance*1000, "distance", "give the length of the line of levels, at most 1000 km, or leave it out")
	if !countReadings(&faults, len(r.Readings)) {
		return Survey{}, faults.Err()
	}
	for i := range r.Readings {
		r.checkCells(&faults, i)
		r.checkPlace(&faults, i)
	}
	onPath := r.onPath(&faults)
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}

	book := r.reduce()
	r.setDatum(book, onPath)
	r.checkBooked(&faults, book)
	checks := []Check{r.arithmeticCheck(book)}
	checks = append(checks, r.close(&faults, book, perSetup)...)
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}

	points := make([]Point, len(onPath))
	for i, line := range onPath {
		points[i] = Point{Station: *book[line].At, Level: book[line].Corrected, Crossfall: r.Readings[line].Crossfall}
	}
	g := groundOf(&faults, points)
	if err := faults.Err(); err != nil {
		return Survey{}, err
	}
	foot, head := onPath[0], onPath[len(onPath)-1]
	readings := float64(2 * setupsBetween(book[foot], book[head]))
	return Survey{
		Method: "rod", Ground: g,
		Rise:   Estimate{g.totalRise(), unit.Length(a * math.Sqrt(readings))},
		Run:    Estimate{g.totalRun(), unit.Length(math.Sqrt2 * t)},
		Checks: append(checks, r.orderCheck(), g.directionCheck(), g.steepestCheck()),
		Book:   book,
		Notes:  r.notes(book),
	}, nil
}

// checkCells faults a line whose cells make no line of a level book.
func (r RodReadings) checkCells(faults *fault.List, i int) {
	q, field := r.Readings[i], readingField(i)
	for _, c := range []struct {
		name string
		v    *unit.Length
	}{{"back", q.Back}, {"mid", q.Mid}, {"fore", q.Fore}} {
		if c.v != nil {
			inRange(faults, field+"."+c.name, *c.v, -maxRodReading, maxRodReading, "rod reading", "give what the rod reads, at most 10 m; below 0 for a rod held upside down")
		}
	}
	first, last := i == 0, i == len(r.Readings)-1
	back, mid, fore := q.Back != nil, q.Mid != nil, q.Fore != nil
	switch {
	case !back && !mid && !fore:
		faults.Add(field, "", "has no rod reading", "write a back, mid or fore, or take the line out")
	case first && (!back || mid || fore):
		faults.Add(field, "", "is the first line and begins the first set-up", "write a back there and nothing else: the rod on the bench mark or first point")
	case first:
	case mid && (back || fore):
		faults.Add(field, "", "has a mid beside another reading", "one place of the rod is either a mid, or a fore and a back when the level is moved")
	case last && back:
		faults.Add(field+".back", sayLength(q.Back.Meters()), "begins a set-up from which nothing is read", "leave it out, or write the lines that follow")
	case last && !fore:
		faults.Add(field, "", "is the last line and has no fore", "write the last reading as a fore: the arithmetic check needs it")
	case back && !fore:
		faults.Add(field+".back", sayLength(q.Back.Meters()), "begins a set-up without a fore on the same line", "write the fore from the old set-up beside it: a turning point has both")
	case fore && !back && !last:
		faults.Add(field+".fore", sayLength(q.Fore.Meters()), "ends a set-up without a back on the same line", "write the back from the new set-up beside it, or book the reading as a mid")
	}
}

// checkPlace faults the parts of a line that are not rod readings.
func (r RodReadings) checkPlace(faults *fault.List, i int) {
	q, field := r.Readings[i], readingField(i)
	if q.At != nil {
		inRange(faults, field+".at", *q.At, -maxGroundReach, maxGroundReach, "station", "give a distance within 100 km of 0")
	}
	if q.Bench != nil {
		inRange(faults, field+".bench", *q.Bench, -maxGroundLevel, maxGroundLevel, "level", "give the known level of the point, within 10 km of 0")
	}
	if q.Level != nil {
		inRange(faults, field+".level", *q.Level, -maxGroundLevel, maxGroundLevel, "level", "give the level you reduced for the line, within 10 km of 0")
	}
	checkCrossfall(faults, field, q.Crossfall)
}

// onPath gives the lines with a station, stations ascending.
func (r RodReadings) onPath(faults *fault.List) []int {
	var lines []int
	for i, q := range r.Readings {
		if q.At != nil && within(q.At.Meters(), maxGroundReach) {
			lines = append(lines, i)
		}
	}
	sort.SliceStable(lines, func(i, k int) bool { return *r.Readings[lines[i]].At < *r.Readings[lines[k]].At })
	for k := 1; k < len(lines); k++ {
		i, before := lines[k], lines[k-1]
		at, was := r.Readings[i].At.Meters(), r.Readings[before].At.Meters()
		if at-was < minGroundStep-1e-9 {
			faults.Add(readingField(i)+".at", sayLength(at), "is within 1 mm of the station of "+readingField(before), "leave at blank on the line that only checks the point")
		}
	}
	if len(lines) < 2 {
		faults.Add("readings", strconv.Itoa(len(lines)), "lines with a station do not make a ground", "write at on at least 2 lines, the foot and the head")
	}
	return lines
}

// reduce works the book out by rise and fall, the first line at level 0.
func (r RodReadings) reduce() []BookLine {
	book := make([]BookLine, len(r.Readings))
	var level, sight, collimation unit.Length
	setup := 1
	for i, q := range r.Readings {
		l := BookLine{Line: i, At: clone(q.At), Back: clone(q.Back), Mid: clone(q.Mid), Fore: clone(q.Fore), Bench: clone(q.Bench), Setup: setup}
		if i > 0 {
			seen := q.Mid
			if seen == nil {
				seen = q.Fore
			}
			if step := sight - *seen; step >= 0 {
				l.Rise = step
			} else {
				l.Fall = -step
			}
			level = level + l.Rise - l.Fall
			sight = *seen
		}
		if q.Back != nil {
			sight = *q.Back
			collimation = level + sight
			if i > 0 {
				setup++
			}
		}
		l.Level, l.Corrected, l.Collimation = level, level, collimation
		book[i] = l
	}
	return book
}

func clone(v *unit.Length) *unit.Length {
	if v == nil {
		return nil
	}
	w := *v
	return &w
}

// setDatum moves the book to its datum.
func (r RodReadings) setDatum(book []BookLine, onPath []int) {
	known := func(q RodReading) *unit.Length { return q.Bench }
	i := slices.IndexFunc(r.Readings, func(q RodReading) bool { return q.Bench != nil })
	if i < 0 {
		known = func(q RodReading) *unit.Length { return q.Level }
		i = slices.IndexFunc(r.Readings, func(q RodReading) bool { return q.Level != nil })
	}
	var move unit.Length
	if i >= 0 {
		move = *known(r.Readings[i]) - book[i].Level
	} else {
		move = -book[onPath[0]].Level
	}
	for k := range book {
		book[k].Level += move
		book[k].Corrected += move
		book[k].Collimation += move
	}
}

// checkBooked compares the levels the user booked with the readings. A slip
// carries on into every later line, so that a line is compared with the one
// before it and only the line of the slip is named.
func (r RodReadings) checkBooked(faults *fault.List, book []BookLine) {
	var carried float64 // what the booked levels are out by so far
	var first, last *unit.Length
	before := len(*faults)
	benched, booked := false, false
	for i, q := range r.Readings {
		benched = benched || q.Bench != nil
		if q.Level == nil {
			continue
		}
		if !benched && !booked {
			// Booked from a level taken for the start, the bench coming later.
			carried = (*q.Level - book[i].Level).Meters()
		}
		booked = true
		if i == 0 {
			first = q.Level
		}
		if i == len(r.Readings)-1 {
			last = q.Level
		}
		out := (*q.Level - book[i].Level).Meters()
		if math.Abs(out-carried) <= bookedSlack {
			continue
		}
		right := book[i].Level.Meters() + carried
		if i == 0 {
			faults.Add("readings[0].level", sayLength(q.Level.Meters()), "is not the level of its bench, "+sayLength(right), "book the bench's level, or look at the bench again")
			carried = out
			continue
		}
		faults.Add(readingField(i)+".level", sayLength(q.Level.Meters()),
			fmt.Sprintf("does not follow from the readings: they give %s there, %s from the line before", sayLength(right), sayStep(book[i])),
			"book "+sayLength(right)+", or look at the readings of this line again")
		carried = out
	}
	if first == nil {
		first = r.Readings[0].Bench
	}
	if len(*faults) == before || first == nil || last == nil {
		return
	}
	// The sums: the arithmetic check as the user would have written it.
	sums, say := SumBook(book), r.saySum
	sights, steps, _ := sums.differences()
	faults.Addf("readings", "do not check: ΣBS %s − ΣFS %s = %s and Σrise %s − Σfall %s = %s, but last level − first as booked = %s",
		say(sums.Back.Meters()), say(sums.Fore.Meters()), say(sights),
		say(sums.Rise.Meters()), say(sums.Fall.Meters()), say(steps), say((*last - *first).Meters()))
}

func sayStep(l BookLine) string {
	if l.Fall > 0 {
		return "a fall of " + sayLength(l.Fall.Meters())
	}
	return "a rise of " + sayLength(l.Rise.Meters())
}

// saySum writes a length to the millimetre or the hundredth of a foot, in one measure
// whatever its size, so that sums line up.
func (r RodReadings) saySum(m float64) string {
	if r.Feet {
		return strconv.FormatFloat(positive(m/0.3048, 0.005), 'f', 2, 64) + " ft"
	}
	return sayDigits(m, 3) + " m"
}

// positive is 0 for what would be written as -0.
func positive(x, half float64) float64 {
	if math.Abs(x) < half {
		return 0
	}
	return x
}

func (r RodReadings) arithmeticCheck(book []BookLine) Check {
	s, say := SumBook(book), r.saySum
	apart := s.Apart()
	sights, steps, levels := s.differences()
	return Check{
		Name: "book arithmetic", Value: apart, Limit: arithmeticSlack, OK: apart <= arithmeticSlack,
		Says: fmt.Sprintf("ΣBS %s − ΣFS %s = %s; Σrise %s − Σfall %s = %s; last level − first = %s.",
			say(s.Back.Meters()), say(s.Fore.Meters()), say(sights),
			say(s.Rise.Meters()), say(s.Fall.Meters()), say(steps), say(levels)),
		Source: "rise and fall: ΣBS − ΣFS = Σrise − Σfall = last − first, survey texts",
	}
}

// knot is a known point: by how much the levels of the set-up it was read from
// must be corrected.
type knot struct {
	setup int
	add   float64
}

// close checks the book on every bench after the datum and shares the miscloses
// out.
func (r RodReadings) close(faults *fault.List, book []BookLine, perSetup unit.Length) []Check {
	var knots []knot
	var checks []Check
	for i, l := range book {
		if l.Bench == nil {
			continue
		}
		setup := l.Setup
		if i == 0 {
			setup = 0 // known before the first set-up
		}
		if len(knots) == 0 {
			knots = append(knots, knot{setup, 0})
			continue
		}
		from := knots[len(knots)-1]
		n := setup - from.setup
		if n < 1 {
			n = 1
		}
		// Only this section's own misclose: what earlier benches showed is
		// known by now.
		missed := (l.Level - *l.Bench).Meters() + from.add
		limit := SetupClosing(perSetup, n)
		c := Check{
			Name: "misclose", Value: unit.Length(math.Abs(missed)), Limit: limit,
			OK:     math.Abs(missed) <= limit.Meters()+1e-12,
			Source: "m·√n, m = 5 mm for construction: Uren & Price, Surveying for Engineers, from memory; shared out equally per set-up: NAVEDTRA 14071, Level computations",
		}
		way := "high"
		if missed < 0 {
			way = "low"
		}
		comes := fmt.Sprintf("the book comes to %s there, %s too %s", sayLength((*l.Bench).Meters()+missed), sayLength(math.Abs(missed)), way)
		allowed := fmt.Sprintf("the limit is %s, %s for one set-up times √%d", sayLength(limit.Meters()), sayLength(perSetup.Meters()), n)
		c.Says = fmt.Sprintf("The bench of %s is known as %s: %s; %s.", readingLine(i), sayLength(l.Bench.Meters()), comes, allowed)
		if !c.OK {
			faults.Add(readingField(i)+".bench", sayLength(l.Bench.Meters()),
				"is missed by more than levelling allows: "+comes+"; "+allowed,
				"look for a rod misread or misbooked and level these set-ups again, or look at the known level")
		}
		checks = append(checks, c)
		if setup > from.setup {
			knots = append(knots, knot{setup, from.add - missed})
		}
	}
	if len(checks) > 0 && r.Distance > 0 {
		checks = append(checks, r.classCheck(checks))
	}
	for i := range book {
		setup := book[i].Setup
		if i == 0 {
			setup = 0
		}
		book[i].Corrected += unit.Length(correction(knots, setup))
	}
	return checks
}

// correction goes evenly from one known point to the next.
func correction(knots []knot, setup int) float64 {
	if len(knots) == 0 {
		return 0
	}
	for k := 1; k < len(knots); k++ {
		a, b := knots[k-1], knots[k]
		if setup <= a.setup {
			return a.add
		}
		if setup < b.setup {
			return a.add + float64((b.add-a.add)*float64(setup-a.setup))/float64(b.setup-a.setup)
		}
	}
	return knots[len(knots)-1].add
}

// classCheck names the finest class of levelling the worst misclose comes up to
// over the distance levelled.
func (r RodReadings) classCheck(closes []Check) Check {
	var worst unit.Length
	for _, c := range closes {
		if c.Value > worst {
			worst = c.Value
		}
	}
	classes := Closings(r.Distance)
	best := -1
	for i, c := range classes {
		if worst <= c.Limit {
			best = i
		}
	}
	c := Check{Name: "class of levelling", Value: worst, OK: best >= 0}
	if best < 0 {
		c.Limit, c.Source = classes[0].Limit, classes[0].Source
		c.Says = fmt.Sprintf("A misclose of %s over %s is more than rough levelling allows, %s.", sayLength(worst.Meters()), sayLength(r.Distance.Meters()), sayLength(c.Limit.Meters()))
		return c
	}
	c.Limit, c.Source = classes[best].Limit, classes[best].Source
	c.Says = fmt.Sprintf("A misclose of %s over %s comes up to %s, %s.", sayLength(worst.Meters()), sayLength(r.Distance.Meters()), classes[best].Name, sayLength(c.Limit.Meters()))
	return c
}

// setupsBetween is the number of set-ups on the way from one line to another,
// at least 1. A turning point is seen from two set-ups.
func setupsBetween(a, b BookLine) int {
	if a.Line > b.Line {
		a, b = b, a
	}
	from := a.Setup
	if a.Fore != nil && a.Back != nil {
		from++
	}
	if n := b.Setup - from + 1; n > 1 {
		return n
	}
	return 1
}

// orderCheck tells when stations were not booked all up or all down the path:
// right for points filled in later, but it is also what a mistyped station
// looks like.
func (r RodReadings) orderCheck() Check {
	c := Check{Name: "stations in order", OK: true, Says: "The stations were booked in order along the path.", Source: "common practice"}
	up, down := true, true
	turn, previous := -1, -1
	for i, q := range r.Readings {
		if q.At == nil {
			continue
		}
		if previous >= 0 {
			if *q.At < *r.Readings[previous].At {
				up = false
			} else {
				down = false
			}
			if !up && !down && turn < 0 {
				turn = i
			}
		}
		previous = i
	}
	if turn >= 0 {
		c.OK = false
		c.Says = fmt.Sprintf("The stations turn back at %s, station %s. That is right if the point was filled in later; else look at its station again.",
			readingLine(turn), sayStation(r.Readings[turn].At.Meters()))
	}
	return c
}

func (r RodReadings) notes(book []BookLine) []string {
	var notes []string
	benches := 0
	var upside []string
	for i, q := range r.Readings {
		if q.Bench != nil {
			benches++
		}
		for _, v := range []*unit.Length{q.Back, q.Mid, q.Fore} {
			if v != nil && *v < 0 {
				upside = append(upside, strconv.Itoa(i+1))
				break
			}
		}
	}
	if benches < 2 {
		notes = append(notes, "The book does not close on a known level. Its arithmetic checks, but a misread rod would not show: level back to the point you began at and give it as a bench.")
	}
	if len(upside) > 0 {
		lines, more := "lines ", ""
		if len(upside) == 1 {
			lines = "line "
		}
		if len(upside) > 5 {
			more = fmt.Sprintf(" and %d more", len(upside)-5)
			upside = upside[:5]
		}
		notes = append(notes, "Read with the rod upside down, the point above the line of sight: "+lines+strings.Join(upside, ", ")+more+".")
	}
	if setups := book[len(book)-1].Setup; setups > 1 {
		notes = append(notes, fmt.Sprintf("%d set-ups. Keep back and fore sights about equally long at each: an instrument out of adjustment then does no harm.", setups))
	}
	return notes
}
