package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Range is working time of one person, for practised people on a good day, for
// what to plan with, and for a slow one.
type Range struct{ Low, Likely, High unit.Duration }

// Plus adds two ranges end to end: the lows, the likelies and the highs.
func (r Range) Plus(o Range) Range {
	return Range{r.Low + o.Low, r.Likely + o.Likely, r.High + o.High}
}

// Work is the amounts of work to be timed. What is 0 is not done. Each amount
// must be finite and 0 or more; see [Work.Validate].
type Work struct {
	// CutBank is dug, in bank measure, at most 1e9 m³, with DigDepth the
	// greatest depth, at most 1000 m.
	CutBank  unit.Volume
	DigDepth unit.Length
	// TrimArea is bottom and sides to be trimmed to line and level, at most 1e9 m².
	TrimArea unit.Area
	// SpoilLoose is shovelled into barrows and wheeled HaulDistance away (one
	// way, at most 100 km), and so is BorrowLoose, the soil that is brought.
	SpoilLoose, BorrowLoose unit.Volume
	HaulDistance            unit.Length
	// FillCompacted is placed and rammed in layers, fill and backfill together.
	FillCompacted unit.Volume
	// GravelCompacted is brought from a heap GravelDistance away, placed and rammed.
	GravelCompacted unit.Volume
	GravelDistance  unit.Length
	// HaulClimb and GravelClimb are added to those: what goes up on the way, as so
	// much more level way, at most 100 km.
	HaulClimb, GravelClimb unit.Length
	// Steep is set where the barrows go up or down a steep slope: they
	// carry 2 ft³ instead of 3.
	Steep bool
	// Boxes is how many box steps are made, at most 10 000. Box is the time
	// for one; left zero it is 1.5, 2.5 and 4 person-hours, a common practice.
	Boxes int
	Box   Range
	// Rates are outputs to use instead of the published ones.
	Rates Rates
	// Other work is added as it is, at most 100 activities.
	Other []Activity
}

// Rates are outputs of one person that were measured, or that are expected; 0 where
// the published figure is to be used. With one, only the spread of workers is left in
// its range: a fifth either way (Gillette and Hill, 1908). Digging to 1.5 m is the
// soil's own: see [Soil.WithDigging].
type Rates struct {
	// DeepDigging is m³ in the bank dug in an hour from below 1.5 m, Trimming m² of
	// bottom and sides, Loading m³ loose shovelled into a barrow, soil or gravel, Filling
	// m³ compacted placed and rammed, Gravel m³ compacted spread and tamped.
	DeepDigging, Trimming, Loading, Filling, Gravel float64
	// Barrow is what a barrow takes, loose, Wheeling its speed, and Trip what is lost a
	// trip with tipping and turning.
	Barrow   unit.Volume
	Wheeling unit.Speed
	Trip     unit.Duration
	// Practised and Slow are what practised people and slow ones do at every kind of
	// work, in parts of the usual output, 1 to 5 and 0.2 to 1, in place of those of the
	// sources.
	Practised, Slow float64
}

const (
	maxHaul  = 100e3 // m
	maxDeep  = 1000  // m
	maxBoxes = 10000
	maxOther = 100
	maxTime  = 1e12 // s
	maxRate  = 1e6  // of an output
	thisWork = "this work"
)

// Validate reports everything wrong with the amounts, as a [Faults] with the
// fields cut_bank, dig_depth, trim_area, spoil_loose, borrow_loose,
// haul_distance, fill_compacted, gravel_compacted, gravel_distance, haul_climb,
// gravel_climb, boxes, box, other and rates.
func (w Work) Validate() error {
	var faults fault.List
	for _, f := range []struct {
		field       string
		value, most float64
		unit        string
	}{
		{"cut_bank", w.CutBank.CubicMeters(), maxEarth, "m³"},
		{"dig_depth", w.DigDepth.Meters(), maxDeep, "m"},
		{"trim_area", w.TrimArea.SquareMeters(), maxEarth, "m²"},
		{"spoil_loose", w.SpoilLoose.CubicMeters(), maxEarth, "m³"},
		{"borrow_loose", w.BorrowLoose.CubicMeters(), maxEarth, "m³"},
		{"haul_distance", w.HaulDistance.Meters(), maxHaul, "m"},
		{"fill_compacted", w.FillCompacted.CubicMeters(), maxEarth, "m³"},
		{"gravel_compacted", w.GravelCompacted.CubicMeters(), maxEarth, "m³"},
		{"gravel_distance", w.GravelDistance.Meters(), maxHaul, "m"},
		{"haul_climb", w.HaulClimb.Meters(), maxHaul, "m"},
		{"gravel_climb", w.GravelClimb.Meters(), maxHaul, "m"},
		{"boxes", float64(w.Boxes), maxBoxes, "boxes"},
	} {
		if !(f.value >= 0 && f.value <= f.most) {
			faults.Add(f.field, sayNumber(f.value)+" "+f.unit, "is not an amount of work", fmt.Sprintf("give 0 to %g %s", f.most, f.unit))
		}
	}
	for _, r := range []float64{w.Rates.DeepDigging, w.Rates.Trimming, w.Rates.Loading, w.Rates.Filling, w.Rates.Gravel, w.Rates.Barrow.CubicMeters(), w.Rates.Wheeling.MetersPerSecond(), w.Rates.Trip.Minutes()} {
		if r != 0 && !(r >= 1e-3 && r <= maxRate) {
			faults.Add("rates", sayNumber(r), "is not an output", "give 0.001 to 1e6, or 0 for the published one")
		}
	}
	if p, s := w.Rates.Practised, w.Rates.Slow; p != 0 && !(p >= 1 && p <= 5) || s != 0 && !(s >= 0.2 && s <= 1) {
		faults.Add("rates", sayNumber(p)+", "+sayNumber(s), "are not what practised and slow people do", "give 1 to 5 and 0.2 to 1, or 0 for the published ones")
	}
	if !w.Box.sound() {
		faults.Add("box", w.Box.say(), "is not a range of time", "give hours in ascending order, 0 or more")
	}
	if len(w.Other) > maxOther {
		faults.Add("other", fmt.Sprint(len(w.Other)), "activities are too many", fmt.Sprintf("give at most %d", maxOther))
		return faults
	}
	for i, a := range w.Other {
		if !a.Time.sound() {
			faults.Add(fmt.Sprintf("other[%d].time", i), a.Time.say(), "is not a range of time", "give hours in ascending order, 0 or more")
		}
	}
	return faults.Err()
}

func (r Range) sound() bool {
	return r.Low >= 0 && r.Low <= r.Likely && r.Likely <= r.High && r.High <= maxTime
}

func (r Range) say() string {
	return fmt.Sprintf("%g, %g, %g h", r.Low.Hours(), r.Likely.Hours(), r.High.Hours())
}

// clean makes a range that is not sound sound: what is no time is 0, and each
// figure at least the one before it.
func (r Range) clean() Range {
	low := amount(r.Low.Seconds(), maxTime)
	likely := amount(r.Likely.Seconds(), maxTime)
	if likely < low {
		likely = low
	}
	high := amount(r.High.Seconds(), maxTime)
	if high < likely {
		high = likely
	}
	return Range{unit.Duration(low), unit.Duration(likely), unit.Duration(high)}
}

// Activity is the time for one kind of work, in person-hours.
type Activity struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// ID is dig, trim, spoil, borrow, fill, gravel-haul, gravel-place or boxes, or
	// the caller's own.
	ID, Name string
	Time     Range
	// Source and FromMemory are as for a [Figure].
	Source     string
	FromMemory bool
}

// Hours is the time of the whole work. Low takes every activity at its best and
// High every one at its worst, so that both are rarer than either alone.
type Hours struct {
	// Activities are those that are done, in the order of the work.
	Activities []Activity
	Total      Range
	// Notes say where the figures reach beyond what was published.
	Notes []string
}

// Outputs of hand work, all for one person.
const (
	bandDepth = 1.5 // m: the published outputs are to this depth, to twice and to three times it

	levelBarrow = "barrow on the level"
	steepBarrow = "barrow on a slope"
	barrowSpeed = 200 * 0.3048 // m/min, full and empty
	barrowLost  = 0.75         // min a trip: dumping, turning

	active, lazy = 1.2, 0.8 // parts of the usual output

	// Loading is in m³ loose per hour, placing in hours per m³ compacted.
	cubicYard   = 0.764554857984
	soilLoading = 1.5 * cubicYard
	soilBest    = 2 * cubicYard
	soilWorst   = 1.2 * cubicYard

	gravelLoading = 1.3 * cubicYard
	gravelBest    = 2 * cubicYard
	gravelWorst   = 1.2 * cubicYard
	gravelSwell   = 3700.0 / 2950 // loose over compacted
	gravelLoose   = 2950 * poundPerCubicYard

	rammedFill = 0.25 * 8
	placed     = 8/13.5 + 8/9.0
)

// depthFactor is how much longer digging takes for the deeper part of a cut.
// The outputs for a trench to 1.5, 3 and 4.5 m are as 0.66 : 0.45 : 0.33; the
// cut is taken to be as wide at every depth, so that the parts
// of the volume are those of the depth.
func depthFactor(depth float64) float64 {
	if depth <= bandDepth {
		return 1
	}
	second := depth - bandDepth
	third := 0.0
	if second > bandDepth {
		third = second - bandDepth
		second = bandDepth
	}
	return (bandDepth + float64(second*(0.66/0.45)) + float64(third*(0.66/0.33))) / depth
}

// Hours works out the time that an amount of hand work takes in this soil.
//
// Digging: Digging, Fast and Slow of the soil; slower below 1.5 m, as 0.45 and
// 0.33 to 0.66 (Guild of Project Controls, labour outputs). Trimming: 20, 11.1
// and 5.6 m² an hour in sand, for a skin under 25 mm, of 25 to 50, and of 75 to
// 125 mm, other soils in proportion (same; its column is headed m³, which no
// hand could trim, and is read as m²). Barrowing: loading at 1.2 to 2 yd³ loose
// an hour, wheeling at 200 ft/min both ways, 3/4 min lost a trip, 3 ft³ or 300 lb
// a barrow, 2 ft³ or 200 lb where it is steep (Gillette and Hill, 1908;
// Spalding, 1908), a fifth either way for the worker. Fill: 0.25 labourer-day
// of 8 h a m³, rammed in layers of 20 cm, carried up to 50 m (Indian labour
// constants). Gravel: loose 3700/2950 of compacted (WSDOT Design Manual,
// exhibit 620-1); spread at 12 to 15 and tamped at 9 m³ a day (ILO/ASIST
// Technical Brief 2, from memory). Boxes: common practice.
//
// Amounts that [Work.Validate] would refuse count as nothing, or as the most it
// allows. The soil must pass [Soil.Validate].
func (s Soil) Hours(w Work) Hours {
	var h Hours
	add := func(id, name string, low, likely, high float64, source string, fromMemory bool) {
		if p := w.Rates.Practised; p >= 1 && p <= 5 {
			low = likely / p
		}
		if p := w.Rates.Slow; p >= 0.2 && p <= 1 {
			high = likely / p
		}
		t := Range{unit.Duration(3600 * low), unit.Duration(3600 * likely), unit.Duration(3600 * high)}.clean()
		if t.High > 0 {
			h.Activities = append(h.Activities, Activity{ID: id, Name: name, Time: t, Source: source, FromMemory: fromMemory})
			h.Total = h.Total.Plus(t)
		}
	}

	if cut := amount(w.CutBank.CubicMeters(), maxEarth); cut > 0 && s.Digging.Value > 0 {
		depth := amount(w.DigDepth.Meters(), maxDeep)
		likely := cut / s.Digging.Value * depthFactor(depth)
		source := s.Digging.Source
		if r := amount(w.Rates.DeepDigging, maxRate); r > 0 && depth > bandDepth {
			likely = (float64(cut/s.Digging.Value*bandDepth) + float64(cut/r*(depth-bandDepth))) / depth
			source += "; below 1.5 m: this work"
		} else if depth > bandDepth {
			source += "; below 1.5 m slower, as 0.45 and 0.33 to 0.66, " + outputs
		}
		if depth > 3*bandDepth {
			h.Notes = append(h.Notes, "No output of hand digging below 4.5 m was found: the deepest one known is used.")
		}
		add("dig", "digging", likely/amount(s.Fast.Value, 5), likely, likely/s.Slow.Value, source, s.Digging.FromMemory)
	}
	if area := amount(w.TrimArea.SquareMeters(), maxEarth); area > 0 {
		r := trimming(s.Family())
		source := outputs + ", trimming faces and bottoms of 0 to 25, 25 to 50 and 75 to 125 mm, its m³ read as m²"
		if own := amount(w.Rates.Trimming, maxRate); own > 0 {
			r, source = [3]float64{own * active, own, own * lazy}, thisWork
		}
		add("trim", "trimming to line and level", area/r[0], area/r[1], area/r[2], source, false)
	}

	loose := s.LooseDensity()
	soilSource := "loading: " + roads08 + ", 1.5 to 2 yd³/h loose, " + gillette + ", 1.2; wheeling: " + gillette + ", 200 ft/min, the 3/4 min a trip from memory"
	haul := func(id, name string, v unit.Volume, d, climb unit.Length, density, best, usual, worst float64, source string) {
		volume := amount(v.CubicMeters(), 2*maxEarth)
		if own := amount(w.Rates.Loading, maxRate); own > 0 {
			best, usual, worst = own*active, own, own*lazy
		}
		if (w.Rates != Rates{}) {
			source += "; where given, " + thisWork
		}
		wheel := float64(volume * w.barrowHours(amount(d.Meters(), maxHaul)+amount(climb.Meters(), maxHaul), density))
		add(id, name, volume/best+wheel/active, volume/usual+wheel, volume/worst+wheel/lazy, source, true)
		if volume > 0 && d > 100*unit.Foot {
			h.Notes = append(h.Notes, fmt.Sprintf("%s: beyond 100 ft (30 m) a cart is quicker than a barrow (Vose, Handbook of Railroad Construction, 1857, art. 119).", name))
		}
	}
	haul("spoil", "loading and barrowing spoil", w.SpoilLoose, w.HaulDistance, w.HaulClimb, loose, soilBest, soilLoading, soilWorst, soilSource)
	haul("borrow", "loading and barrowing soil brought", w.BorrowLoose, w.HaulDistance, w.HaulClimb, loose, soilBest, soilLoading, soilWorst, soilSource)

	fill := amount(w.FillCompacted.CubicMeters(), maxEarth)
	fillSource := "Indian labour constants (IS 7272 type): return, fill and ram in layers to 20 cm, carried to 50 m, 0.25 labourer-day of 8 h per m³; " + gillette + " for the spread"
	if own := amount(w.Rates.Filling, maxRate); own > 0 {
		fill, fillSource = fill/own, thisWork
	} else {
		fill *= rammedFill
	}
	add("fill", "filling and ramming in layers", fill/active, fill, fill/lazy, fillSource, false)

	gravel := amount(w.GravelCompacted.CubicMeters(), maxEarth)
	haul("gravel-haul", "loading and barrowing gravel", unit.Volume(gravel*gravelSwell), w.GravelDistance, w.GravelClimb, gravelLoose, gravelBest, gravelLoading, gravelWorst,
		gillette+": broken stone to barrows, 12 to 14 yd³ in 10 h from a heap, 20 from a floor; wheeling 200 ft/min, the 3/4 min a trip from memory; WSDOT Design Manual, exhibit 620-1: loose 3700/2950 of compacted")
	if own := amount(w.Rates.Gravel, maxRate); own > 0 {
		add("gravel-place", "spreading and tamping gravel", gravel/own/active, gravel/own, gravel/own/lazy, thisWork, false)
	} else {
		add("gravel-place", "spreading and tamping gravel", gravel*placed/active, gravel*placed, gravel*rammedFill,
			"ILO/ASIST Technical Brief 2, Productivity Norms, 1998: spreading 12 to 15, hand compaction 9 m³ a day; high: Indian labour constants, 0.25 labourer-day per m³", true)
	}

	if w.Boxes > 0 {
		n := amount(float64(w.Boxes), maxBoxes)
		box, source := w.Box.clean(), thisWork
		if box == (Range{}) {
			box = Range{1.5 * unit.Hour, 2.5 * unit.Hour, 4 * unit.Hour}
			source = "common practice: cut, drill, set level and pin a box of two courses"
		}
		add("boxes", "building boxes", n*box.Low.Hours(), n*box.Likely.Hours(), n*box.High.Hours(), source, false)
	}
	for i, a := range w.Other {
		if i == maxOther {
			break
		}
		add(a.ID, a.Name, a.Time.clean().Low.Hours(), a.Time.clean().Likely.Hours(), a.Time.clean().High.Hours(), a.Source, a.FromMemory)
	}
	return h
}

// trimming is m² an hour for a skin of 0 to 25, 25 to 50 and 75 to 125 mm.
func trimming(soil string) [3]float64 {
	switch soil {
	case "gravel":
		return [3]float64{16.7, 8.3, 4.4}
	case "clay", "sandy-clay":
		return [3]float64{20, 9.1, 4.6}
	case "hardpan", "weathered-rock", "rock":
		return [3]float64{14.3, 7.7, 3.7}
	}
	return [3]float64{20, 11.1, 5.6}
}

// barrowHours is the time to wheel 1 m³ loose a distance and come back, without
// loading. Density is in kg/m³ loose.
func (w *Work) barrowHours(distance, density float64) float64 {
	name := levelBarrow
	if w.Steep {
		name = steepBarrow
	}
	load := 0.0
	for _, c := range Carriers() {
		if c.Name != name {
			continue
		}
		load = c.Volume.CubicMeters()
		if heavy := c.Payload.Kilograms() / density; heavy < load {
			load = heavy
		}
	}
	if own := amount(w.Rates.Barrow.CubicMeters(), 10); own > 0 {
		load = own
	}
	speed := barrowSpeed
	if own := amount(60*w.Rates.Wheeling.MetersPerSecond(), maxRate); own > 0 {
		speed = own
	}
	lost := barrowLost
	if own := amount(w.Rates.Trip.Minutes(), maxRate); own > 0 {
		lost = own
	}
	return (2*distance/speed + lost) / 60 / load
}

// Crew is who does the work.
type Crew struct {
	// People is 1 to 100.
	People int
	// HoursPerDay is the working hours of a day, over 0 to 24; DaysPerWeek over 0
	// to 7, 2 for a crew that works at weekends.
	HoursPerDay, DaysPerWeek float64
}

// Validate reports what is wrong with the crew, as a [Faults] with the fields
// people, hours_per_day and days_per_week.
func (c Crew) Validate() error {
	var faults fault.List
	if c.People < 1 || c.People > 100 {
		faults.Add("people", fmt.Sprint(c.People), "is not a crew", "give 1 to 100 people")
	}
	if !(c.HoursPerDay >= 0.1 && c.HoursPerDay <= 24) {
		faults.Add("hours_per_day", sayNumber(c.HoursPerDay), "is not a working day", "give 0.1 to 24 hours")
	}
	if !(c.DaysPerWeek >= 0.1 && c.DaysPerWeek <= 7) {
		faults.Add("days_per_week", sayNumber(c.DaysPerWeek), "is not a working week", "give 0.1 to 7 days, 2 for weekends")
	}
	return faults.Err()
}

// Span is whole days or weeks for the three figures of a [Range].
type Span struct{ Low, Likely, High int }

// Schedule is how long a crew is busy.
type Schedule struct {
	Crew Crew
	// Days are working days of the whole crew and Weeks the weeks they take,
	// begun ones counted whole.
	Days, Weeks Span
}

// Days spreads the hours over a crew: everybody works all the time, which
// a narrow path may not give room for. The error is that of [Crew.Validate].
func (h Hours) Days(c Crew) (Schedule, error) {
	if err := c.Validate(); err != nil {
		return Schedule{}, err
	}
	s := Schedule{Crew: c}
	spread := func(t unit.Duration, days, weeks *int) {
		*days = wholes(t.Hours() / float64(float64(c.People)*c.HoursPerDay))
		*weeks = wholes(float64(*days) / c.DaysPerWeek)
	}
	total := h.Total.clean()
	spread(total.Low, &s.Days.Low, &s.Weeks.Low)
	spread(total.Likely, &s.Days.Likely, &s.Weeks.Likely)
	spread(total.High, &s.Days.High, &s.Weeks.High)
	return s, nil
}

// wholes rounds up, but not for the rounding of a whole number.
func wholes(v float64) int { return int(math.Ceil(v - float64(1e-9*v))) }

// Weekends gives the weekends the work takes; ok is false for a crew that works
// more than 2 days a week, whose weeks are not weekends.
func (s Schedule) Weekends() (weekends Span, ok bool) {
	if !(s.Crew.DaysPerWeek > 0 && s.Crew.DaysPerWeek <= 2) {
		return Span{}, false
	}
	return s.Weeks, true
}
