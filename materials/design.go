package materials

import (
	"math"
	"slices"
	"strconv"
	"sync"

	"github.com/martinlindhe/unit"
)

// Pounds and inches exactly. The unit package's own psi and pound-force are
// rounded in the sixth figure.
const (
	poundForce = 0.45359237 * 9.80665                  // N
	psi        = poundForce / (0.0254 * 0.0254)        // Pa
	psf        = poundForce / (0.3048 * 0.3048)        // Pa
	cubicFoot  = unit.Volume(0.3048 * 0.3048 * 0.3048) // m³
	foot       = unit.Length(0.3048)
	pound      = unit.Mass(0.45359237)
)

// Moment is a force times a lever in newton metres.
type Moment float64

// Measure is what an [Amount] is an amount of.
type Measure string

// The measures of amounts.
const (
	OfLength   Measure = "length"
	OfPressure Measure = "pressure"
	OfForce    Measure = "force"
	OfMoment   Measure = "moment"
	OfCount    Measure = "count"
	OfRatio    Measure = "ratio"
	OfVoltage  Measure = "voltage"
	OfPower    Measure = "power"
)

// Amount is a length, a stress, a force, a moment, a count, a ratio, a voltage
// or a power, as Of says. The zero Amount is no amount.
type Amount struct {
	_        [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Of       Measure
	Length   unit.Length
	Pressure unit.Pressure
	Force    unit.Force
	Moment   Moment
	Count    int
	Ratio    float64
	Voltage  unit.Voltage
	Power    unit.Power
}

func lengthOf(l unit.Length) Amount     { return Amount{Of: OfLength, Length: l} }
func pressureOf(p unit.Pressure) Amount { return Amount{Of: OfPressure, Pressure: p} }

// value is the amount in SI.
func (a Amount) value() float64 {
	switch a.Of {
	case OfLength:
		return a.Length.Meters()
	case OfPressure:
		return a.Pressure.Pascals()
	case OfForce:
		return a.Force.Newtons()
	case OfMoment:
		return float64(a.Moment)
	case OfCount:
		return float64(a.Count)
	case OfRatio:
		return a.Ratio
	case OfVoltage:
		return a.Voltage.Volts()
	case OfPower:
		return a.Power.Watts()
	}
	return 0
}

// Check holds one number against its limit.
type Check struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Name is the member and the quantity, as stringer-bending.
	Name string
	// Limit and Actual are of one measure. AtLeast is set where the limit is a
	// least value.
	Limit, Actual Amount
	AtLeast       bool
	OK            bool
	// Open is set where nothing here can decide: OK is then false, and Says
	// what is wanted.
	Open bool
	// Says is the check in words: how the numbers came about, or what is wanted.
	Says string
	// Source is where the limit is from; Remembered says that it was not
	// looked up again.
	Source     string
	Remembered bool
}

// check fills in OK. A billionth over is forgiven.
func (c Check) check() Check {
	limit, actual := c.Limit.value(), c.Actual.value()
	if c.AtLeast {
		c.OK = actual >= limit-float64(math.Abs(limit)*1e-9)
	} else {
		c.OK = within(actual, limit)
	}
	return c
}

func within(actual, limit float64) bool { return actual <= limit+float64(math.Abs(limit)*1e-9) }

// use is how much of the limit is used, more than 1 where it is passed.
func (c Check) use() float64 {
	limit, actual := c.Limit.value(), c.Actual.value()
	if c.AtLeast {
		limit, actual = actual, limit
	}
	if limit <= 0 {
		return math.Inf(1)
	}
	return actual / limit
}

// Wood is a species and grade of lumber with its reference design values: of
// normal duration, dry, before any adjustment factor.
type Wood struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// ID is the key that all widths of a grade share, Name species and grade.
	ID, Name string
	// From and To are the nominal widths in inches that the values are for.
	// Timber is set for members nominal 5 in and up both ways.
	From, To int
	Timber   bool
	// Bending is Fb, Tension Ft, Shear Fv, BearingPerp Fc-perp, Compression Fc,
	// E the modulus of elasticity and EMin that for stability. Compression and
	// Tension may be 0, not given.
	Bending, Tension, Shear, BearingPerp, Compression, E, EMin unit.Pressure
	// SizeFactored: Bending is multiplied by the size factor of [SizeFactor].
	SizeFactored bool
	Source       string
	FromMemory   bool
}

// Where design values and factors are from.
const (
	source4A      = "NDS 2018 Supplement, Table 4A"
	source4B      = "NDS Supplement, Table 4B (SPIB values in force since 2013-06-01)"
	source4D      = "NDS Supplement, Table 4D"
	sourceCM      = "NDS Supplement, Tables 4A and 4B, wet service factors; the limit of 1150 psi below which CM on Fb is 1.0, from memory"
	sourceStress  = "NDS, allowable stress design: M = wL²/8 or PL/4, fb = M/S, fv = 3V/2bd, fc-perp = R/b·lb"
	sourceDefl360 = "IRC Table R301.7, L/360 for floors under live load"
)

// Woods returns the design values known, one entry a grade and width class.
// Southern Pine values hold the size effect already; the others take the size
// factor. The caller may change the slice.
func Woods() []Wood { return slices.Clone(woods()) }

var woods = sync.OnceValue(func() []Wood {
	row := func(id, name string, from, to int, v [5]float64, e, emin float64) Wood {
		return Wood{ID: id, Name: name, From: from, To: to,
			Bending: unit.Pressure(v[0] * psi), Tension: unit.Pressure(v[1] * psi), Shear: unit.Pressure(v[2] * psi),
			BearingPerp: unit.Pressure(v[3] * psi), Compression: unit.Pressure(v[4] * psi),
			E: unit.Pressure(e * psi), EMin: unit.Pressure(emin * psi)}
	}
	var list []Wood
	const sp, spName = "southern-pine-2", "Southern Pine No. 2"
	for _, r := range []struct {
		from, to int
		v        [5]float64
	}{
		{2, 4, [5]float64{1100, 675, 175, 565, 1450}},
		{5, 6, [5]float64{1000, 600, 175, 565, 1400}},
		{8, 8, [5]float64{925, 550, 175, 565, 1350}},
		{10, 10, [5]float64{800, 475, 175, 565, 1300}},
		{12, 12, [5]float64{750, 450, 175, 565, 1250}},
	} {
		w := row(sp, spName, r.from, r.to, r.v, 1.4e6, 510e3)
		w.Source, w.FromMemory = source4B, true
		list = append(list, w)
	}
	timber := row(sp, spName, 5, 16, [5]float64{850, 550, 165, 375, 525}, 1.2e6, 440e3)
	timber.Timber, timber.Source, timber.FromMemory = true, source4D, true
	list = append(list, timber)
	for _, r := range []struct {
		id, name string
		v        [5]float64
		e, emin  float64
	}{
		{"douglas-fir-larch-2", "Douglas Fir-Larch No. 2", [5]float64{900, 575, 180, 625, 1350}, 1.6e6, 580e3},
		{"douglas-fir-larch-ss", "Douglas Fir-Larch Select Structural", [5]float64{1500, 1000, 180, 625, 1700}, 1.9e6, 690e3},
		{"hem-fir-2", "Hem-Fir No. 2", [5]float64{850, 525, 150, 405, 1300}, 1.3e6, 470e3},
		{"spruce-pine-fir-2", "Spruce-Pine-Fir No. 1/No. 2", [5]float64{875, 450, 135, 425, 1150}, 1.4e6, 510e3},
	} {
		w := row(r.id, r.name, 2, 16, r.v, r.e, r.emin)
		w.SizeFactored, w.Source = true, source4A
		list = append(list, w)
	}
	timber = row("douglas-fir-larch-2", "Douglas Fir-Larch No. 2", 5, 16, [5]float64{750, 0, 170, 625, 0}, 1.3e6, 470e3)
	timber.Timber, timber.Source, timber.FromMemory = true, source4D+", posts and timbers", true
	return append(list, timber)
})

// WoodFor returns the design values of a grade for a section. A metric section
// takes those of the next wider class.
func WoodFor(id string, s Section) (Wood, error) {
	class, timber := widthClass(s.Width), s.Thickness >= 4.4*inch
	known := ""
	for _, w := range woods() {
		if w.ID == id && w.Timber == timber && w.From <= class && class <= w.To {
			return w, nil
		}
		if w.ID == id {
			known = w.Name
		}
	}
	if known != "" {
		return Wood{}, Faults{{Got: shorten(s.Name), Problem: "is a size for which no design values of " + known + " are known",
			Fix: "choose another size or grade, or give the design values"}}
	}
	return Wood{}, Faults{{Got: shorten(id), Problem: "is not a wood known by name",
		Fix: "write southern-pine-2, douglas-fir-larch-2, douglas-fir-larch-ss, hem-fir-2 or spruce-pine-fir-2, or give the design values"}}
}

// widthClass is the nominal width in inches of a dressed width, green sizes and
// metric ones included.
func widthClass(w unit.Length) int {
	for _, c := range []struct {
		up      float64
		nominal int
	}{{1.6, 2}, {2.6, 3}, {3.6, 4}, {4.7, 5}, {5.7, 6}, {7.6, 8}, {9.6, 10}, {11.6, 12}, {13.6, 14}} {
		if w.Meters() <= c.up*0.0254 {
			return c.nominal
		}
	}
	return 16
}

// Factor is one adjustment factor as it was used.
type Factor struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Name is the symbol of the NDS, On the value it multiplies.
	Name, On   string
	Value      float64
	Source     string
	Remembered bool
}

// Service says how a member is used. The zero Service is dry, of normal
// duration, one member on its own.
type Service struct {
	// Wet: moisture over 19 % for long, as outdoors.
	Wet bool
	// Duration is CD, 0.9 to 2; 0 is 1.0, stair and floor live load.
	Duration float64
	// Repetitive: three or more members at 24 in or less that share the load.
	Repetitive bool
	// Incised: the treated wood has incisions (Douglas Fir-Larch, Hem-Fir).
	Incised bool
}

// SizeFactor is CF on bending of Table 4A for a dressed depth and thickness,
// grades Select Structural to No. 3.
func SizeFactor(depth, thickness unit.Length) float64 {
	thick := thickness >= 3.4*inch
	switch widthClass(depth) {
	case 2, 3, 4:
		return 1.5
	case 5:
		return 1.4
	case 6:
		return 1.3
	case 8:
		if thick {
			return 1.3
		}
		return 1.2
	case 10:
		if thick {
			return 1.2
		}
		return 1.1
	case 12:
		if thick {
			return 1.1
		}
		return 1.0
	}
	if thick {
		return 1.0
	}
	return 0.9
}

// FlatUse is Cfu for a member 2 to 3 in thick whose wide face carries.
func FlatUse(width unit.Length) float64 {
	switch c := widthClass(width); {
	case c <= 3:
		return 1.0
	case c <= 5:
		return 1.1
	case c <= 8:
		return 1.15
	}
	return 1.2
}

// Beam is a rectangular member on two supports under a load straight down. Its
// span is measured on the level: for a sloping stringer it is the horizontal
// one, and loads are by horizontal area.
type Beam struct {
	// Name begins the checks' names.
	Name string
	Wood Wood
	// Breadth is level, Depth upright; where Depth is the smaller the member
	// lies flat. Graded is the width of the board it was cut from, where that
	// is more: design values and size factor go by it.
	Breadth, Depth, Graded unit.Length
	Span                   unit.Length
	// Slope is rise over run; it lengthens the member and so its deflection.
	Slope float64
	// Live and Dead loads by area, over a breadth of Tributary; Point is a live
	// load at mid-span.
	Live, Dead unit.Pressure
	// Snow is held, by [Beam.Checks] alone, in combinations of its own.
	Snow      unit.Pressure
	Tributary unit.Length
	Point     unit.Force
	// Bearing is the length of each bearing along the member.
	Bearing unit.Length
	// Unbraced is the length between places where the top edge is held from
	// going sideways; 0 is held all along.
	Unbraced unit.Length
	Service  Service
	// LiveDeflection is the span over the most deflection under live load; 0 is 360.
	LiveDeflection float64
	// Words writes lengths in what checks say; without it they are in metres.
	Words func(unit.Length) string

	under string // what bears on it beside its dead load; live load where empty
}

// Strength is the stresses in a beam and what they may be.
type Strength struct {
	Moment Moment
	// Shear is the force at a support; it is also the reaction there.
	Shear unit.Force
	// Actual stresses and the adjusted design values.
	Bending, MayBend   unit.Pressure
	Shearing, MayShear unit.Pressure
	Bearing, MayBear   unit.Pressure
	// Deflection under all the load, LiveDeflection under live load alone.
	Deflection, LiveDeflection, MayDeflect unit.Length
	E                                      unit.Pressure
	// Stability is CL.
	Stability float64
	Factors   []Factor
	deflects  float64
}

// Check reports what is wrong with the beam.
func (b Beam) Check() error {
	var f Faults
	b.check("", &f)
	return f.Err()
}

func (b Beam) check(at string, f *Faults) {
	c := &checker{at, f}
	c.length("breadth", b.Breadth, 3*unit.Millimeter, 2*unit.Meter)
	c.length("depth", b.Depth, 3*unit.Millimeter, 2*unit.Meter)
	c.length("graded", b.Graded, 0, 2*unit.Meter)
	c.length("span", b.Span, 10*unit.Millimeter, 100*unit.Meter)
	c.length("tributary", b.Tributary, 0, 100*unit.Meter)
	c.length("bearing", b.Bearing, unit.Millimeter, 10*unit.Meter)
	c.length("unbraced", b.Unbraced, 0, 100*unit.Meter)
	c.number("slope", b.Slope, 0, 10)
	c.number("live", b.Live.Pascals(), 0, 1e6)
	c.number("dead", b.Dead.Pascals(), 0, 1e6)
	c.number("snow", b.Snow.Pascals(), 0, 1e6)
	c.number("point", b.Point.Newtons(), 0, 1e7)
	c.number("live_deflection", b.LiveDeflection, 0, 10000)
	if b.Service.Duration != 0 {
		c.number("duration", b.Service.Duration, 0.9, 2)
	}
	b.Wood.check(c.at+"wood", f)
}

func (w Wood) check(at string, f *Faults) {
	c := below(at, f)
	for _, v := range []struct {
		name string
		p    unit.Pressure
	}{{"bending", w.Bending}, {"shear", w.Shear}, {"bearing_perp", w.BearingPerp}, {"e", w.E}, {"e_min", w.EMin}} {
		c.number(v.name, v.p.Pascals(), 1e3, 1e12)
	}
}

// Strength works the beam out: the stresses of simple-span statics against the
// design values times the factors of the NDS. Deflection is the vertical one
// of the sloping member, 5wL⁴/384E'I or PL³/48E'I on the level span times
// √(1+slope²).
//
// The error is a [Faults].
func (b Beam) Strength() (Strength, error) {
	if err := b.Check(); err != nil {
		return Strength{}, err
	}
	return b.strength(), nil
}

func (b Beam) strength() Strength { return b.work(true) }

// work is strength, with the factors named or not: an optimiser asks for many.
func (b Beam) work(named bool) Strength {
	var s Strength
	breadth, depth, span := b.Breadth.Meters(), b.Depth.Meters(), b.Span.Meters()
	live := float64(b.Live.Pascals() * b.Tributary.Meters())
	line := live + float64(b.Dead.Pascals()*b.Tributary.Meters())
	point := b.Point.Newtons()

	moment := float64(line*span*span/8) + float64(point*span/4)
	s.Moment = Moment(moment)
	// A point load near a support shears with its whole force; at mid-span
	// with half, which is what is reported.
	shear := float64(line*span/2) + point/2
	s.Shear = unit.Force(shear)
	s.Bending = unit.Pressure(moment * 6 / (breadth * depth * depth))
	s.Shearing = unit.Pressure(1.5 * shear / (breadth * depth))
	s.Bearing = unit.Pressure(shear / (breadth * b.Bearing.Meters()))

	// Factors.
	w, sv := b.Wood, b.Service
	flat := b.Depth < b.Breadth
	wide := b.Depth
	if flat {
		wide = b.Breadth
	}
	if b.Graded > wide {
		wide = b.Graded
	}
	thin := b.Breadth
	if flat {
		thin = b.Depth
	}
	factor := func(name, on string, v float64, source string, memory bool) float64 {
		if named && v != 1 {
			s.Factors = append(s.Factors, Factor{Name: name, On: on, Value: v, Source: source, Remembered: memory})
		}
		return v
	}
	bend, sh, bear, e, emin := w.Bending.Pascals(), w.Shear.Pascals(), w.BearingPerp.Pascals(), w.E.Pascals(), w.EMin.Pascals()
	if w.SizeFactored && !w.Timber {
		bend *= factor("CF", "Fb", SizeFactor(wide, thin), source4A, false)
	}
	if sv.Wet {
		if w.Timber {
			bear *= factor("CM", "Fc-perp", 0.67, source4D, true)
		} else {
			if bend > 1150*psi*(1+1e-12) {
				bend *= factor("CM", "Fb", 0.85, sourceCM, true)
			}
			sh *= factor("CM", "Fv", 0.97, sourceCM, false)
			bear *= factor("CM", "Fc-perp", 0.67, sourceCM, false)
			e *= factor("CM", "E", 0.9, sourceCM, false)
			emin *= 0.9
		}
	}
	if flat && !w.Timber {
		bend *= factor("Cfu", "Fb", FlatUse(wide), source4A, false)
	}
	if sv.Incised {
		const src = "NDS 4.3.8"
		bend *= factor("Ci", "Fb", 0.8, src, true)
		sh *= factor("Ci", "Fv", 0.8, src, true)
		e *= factor("Ci", "E", 0.95, src, true)
		emin *= 0.95
	}
	if sv.Repetitive && !w.Timber {
		bend *= factor("Cr", "Fb", 1.15, "NDS 4.3.9; conditions from memory", false)
	}
	if d := sv.Duration; d != 0 {
		bend *= factor("CD", "Fb", d, "NDS Table 2.3.2", true)
		sh *= factor("CD", "Fv", d, "NDS Table 2.3.2", true)
	}
	s.Stability = 1
	if lu := b.Unbraced.Meters(); lu > 0 && depth > breadth {
		s.Stability = stability(lu, breadth, depth, emin, bend, point > 0 && line == 0)
		bend *= factor("CL", "Fb", s.Stability, "NDS 3.3.3", true)
	}
	s.MayBend, s.MayShear, s.MayBear, s.E = unit.Pressure(bend), unit.Pressure(sh), unit.Pressure(bear), unit.Pressure(e)

	inertia := breadth * depth * depth * depth / 12
	long := math.Sqrt(1 + float64(b.Slope*b.Slope))
	bentBy := func(line, point float64) unit.Length {
		d := float64(5*line*span*span*span*span/(384*e*inertia)) + float64(point*span*span*span/(48*e*inertia))
		return unit.Length(d * long)
	}
	s.Deflection = bentBy(line, point)
	s.LiveDeflection = bentBy(live, point)
	s.deflects = b.LiveDeflection
	if s.deflects == 0 {
		s.deflects = 360
	}
	s.MayDeflect = unit.Length(span / s.deflects)
	return s
}

// stability is CL of the NDS, 3.3.3. Slenderness over 50 is not allowed: then
// it is 0.
func stability(lu, b, d, emin, bend float64, point bool) float64 {
	var le float64
	switch slender := lu/d >= 7; {
	case point && slender:
		le = float64(1.37*lu) + float64(3*d)
	case point:
		le = 1.80 * lu
	case slender:
		le = float64(1.63*lu) + float64(3*d)
	default:
		le = 2.06 * lu
	}
	rb2 := le * d / (b * b)
	if rb2 > 2500 {
		return 0
	}
	r := 1.20 * emin / rb2 / bend
	a := (1 + r) / 1.9
	return a - math.Sqrt(float64(a*a)-r/0.95)
}

// How snow is combined with the other loads: dead and snow, and dead and three
// quarters of live load and snow together; it lies for two months, for which
// wood may take more.
const (
	snowDuration = 1.15
	snowShare    = 0.75
	sourceSnow   = "snow by ASCE 7-16 2.4.1; NDS Table 2.3.2"
)

// Checks holds the beam against its design values: without snow, and where there
// is any with it, of which each check is the worst (ASCE 7-16, 2.4.1, allowable
// stress; load duration of snow 1.15, NDS Table 2.3.2: both from memory).
//
// The error is a [Faults].
func (b Beam) Checks() ([]Check, error) {
	if err := b.Check(); err != nil {
		return nil, err
	}
	return b.checks(), nil
}

func (b Beam) checks() []Check {
	if b.Snow > 0 {
		bare, snow, both := b.combined()
		return worst(worst(bare.checks(), snow.checks()), both.checks())
	}
	s := b.strength()
	w := b.Wood.Source
	if w != "" {
		w = "; design values " + w
	}
	memory := b.Wood.FromMemory
	stress := func(name string, limit, actual unit.Pressure, says string) Check {
		return Check{Name: b.Name + "-" + name, Limit: pressureOf(limit), Actual: pressureOf(actual), Says: says,
			Source: sourceStress + w, Remembered: memory}.check()
	}
	span := "span " + inWords(b.Words, b.Span)
	under := "live load"
	if b.under != "" {
		under = b.under
		span += " under " + under
		w += "; " + sourceSnow
		memory = true
	}
	deflection := Check{Name: b.Name + "-deflection", Limit: lengthOf(s.MayDeflect), Actual: lengthOf(s.LiveDeflection),
		Says:   under + ", the span over " + strconv.FormatFloat(s.deflects, 'g', 4, 64),
		Source: sourceDefl360, Remembered: true}
	if s.deflects != 360 {
		deflection.Source = "common practice: span over " + strconv.FormatFloat(s.deflects, 'g', 4, 64)
	}
	return []Check{
		stress("bending", s.MayBend, s.Bending, span),
		stress("shear", s.MayShear, s.Shearing, span),
		stress("bearing", s.MayBear, s.Bearing, inWords(b.Words, b.Bearing)+" of bearing"),
		deflection.check(),
	}
}

// holds is whether all that checks says is within its limit.
func (b Beam) holds() bool {
	if b.Snow > 0 {
		bare, snow, both := b.combined()
		return bare.holds() && snow.holds() && both.holds()
	}
	s := b.work(false)
	return within(s.Bending.Pascals(), s.MayBend.Pascals()) && within(s.Shearing.Pascals(), s.MayShear.Pascals()) &&
		within(s.Bearing.Pascals(), s.MayBear.Pascals()) && within(s.LiveDeflection.Meters(), s.MayDeflect.Meters())
}

// combined is the beam without snow, under snow alone, and under both.
func (b Beam) combined() (bare, snow, both Beam) {
	bare = b
	bare.Snow = 0
	snow = bare
	if snow.Service.Duration < snowDuration {
		snow.Service.Duration = snowDuration
	}
	both = snow
	snow.Live, snow.under = b.Snow, "snow"
	both.Live, both.under = together(b.Live, b.Snow), "three quarters of live load and snow"
	return bare, snow, both
}

// together is what live load and snow at once are reckoned at.
func together(live, snow unit.Pressure) unit.Pressure {
	return unit.Pressure(snowShare * (live + snow).Pascals())
}

// Spans is how far a beam under a load by area may span: by bending, by shear
// at the supports, by bearing and by live deflection, each on its own.
type Spans struct{ Bending, Shear, Bearing, Deflection unit.Length }

// Governing is the least of them.
func (s Spans) Governing() unit.Length {
	least := s.Bending
	for _, l := range []unit.Length{s.Shear, s.Bearing, s.Deflection} {
		if l < least {
			least = l
		}
	}
	return least
}

// Spans works out the spans for the beam's loads by area. Its Span and Point
// are not looked at, and it must have a load. Unbraced is taken as it is.
//
// The error is a [Faults].
func (b Beam) Spans() (Spans, error) {
	b.Span, b.Point = unit.Meter, 0
	var f Faults
	b.check("", &f)
	live := float64(b.Live.Pascals() * b.Tributary.Meters())
	line := live + float64(b.Dead.Pascals()*b.Tributary.Meters())
	if len(f) == 0 && !(line > 0) {
		f.Add("live", showFloat(live), "is no load", "give a live or dead load and the breadth it comes from")
	}
	if len(f) > 0 {
		return Spans{}, f
	}
	s := b.strength()
	breadth, depth := b.Breadth.Meters(), b.Depth.Meters()
	out := Spans{
		Bending: unit.Length(math.Sqrt(8 * s.MayBend.Pascals() * breadth * depth * depth / 6 / line)),
		Shear:   unit.Length(2 * s.MayShear.Pascals() * breadth * depth / 1.5 / line),
		Bearing: unit.Length(2 * s.MayBear.Pascals() * breadth * b.Bearing.Meters() / line),
		// Nothing live bends nothing.
		Deflection: unit.Length(math.Inf(1)),
	}
	if live > 0 {
		inertia := breadth * depth * depth * depth / 12
		long := math.Sqrt(1 + float64(b.Slope*b.Slope))
		out.Deflection = unit.Length(math.Cbrt(384 * s.E.Pascals() * inertia / (5 * live * s.deflects * long)))
	}
	return out, nil
}
