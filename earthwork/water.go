package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Flow is a volume of water in a time, in m³/s.
type Flow float64

// Units of flow.
const (
	CubicMeterPerSecond Flow = 1
	LiterPerSecond           = CubicMeterPerSecond * 1e-3
	CubicFootPerSecond       = CubicMeterPerSecond * 0.028316846592
)

// CubicMetersPerSecond is the flow in m³/s.
func (q Flow) CubicMetersPerSecond() float64 { return float64(q) }

// LitersPerSecond is the flow in l/s.
func (q Flow) LitersPerSecond() float64 { return float64(q / LiterPerSecond) }

// CubicFeetPerSecond is the flow in ft³/s.
func (q Flow) CubicFeetPerSecond() float64 { return float64(q / CubicFootPerSecond) }

const (
	maxCatchment = 1e9        // m²
	maxIntensity = 1.0 / 3600 // m/s: a metre an hour
	maxFlow      = 1e6        // m³/s
)

// Surface is ground that rain runs off.
type Surface struct {
	// Coefficient is the part of the rain that runs off at once, 0 to 1: see
	// [RunoffCoefficients].
	Coefficient float64
	// Area is its plan area, 0 to 1e9 m².
	Area unit.Area
}

// Runoff is what runs off when it rains at an intensity, 0 to 1 m an hour, for long
// enough that all the ground contributes: Q = i·ΣC·A, the rational method. The
// intensity is that of the storm one wants to be safe against at the place, lasting as
// long as water takes to come down from the furthest point: a figure of the weather
// service.
//
// The books write it in ft³/s for inches an hour and acres, and then drop a factor of
// 1.008, or as CiA/360 in m³/s for mm an hour and hectares.
//
// The error is a [Faults] with the fields intensity, surfaces, of which there may be
// 1000, surfaces[i].coefficient and surfaces[i].area.
//
// Source: Schwab et al., Soil and Water Conservation Engineering, 4th ed.
func Runoff(intensity unit.Speed, surfaces ...Surface) (Flow, error) {
	var faults fault.List
	i := intensity.MetersPerSecond()
	if !(i >= 0 && i <= maxIntensity) {
		faults.Add("intensity", sayNumber(i*3600e3)+" mm/h", "is not an intensity of rain", "give 0 to 1000 mm an hour")
	}
	if len(surfaces) > 1000 {
		faults.Add("surfaces", fmt.Sprint(len(surfaces)), "are too many surfaces", "give at most 1000")
		return 0, faults
	}
	sum := 0.0
	for k, s := range surfaces {
		if !(s.Coefficient >= 0 && s.Coefficient <= 1) {
			faults.Add(fmt.Sprintf("surfaces[%d].coefficient", k), sayNumber(s.Coefficient), "is not a runoff coefficient", "give 0 to 1")
		}
		if a := s.Area.SquareMeters(); !(a >= 0 && a <= maxCatchment) {
			faults.Add(fmt.Sprintf("surfaces[%d].area", k), sayNumber(a)+" m²", "is not a catchment", "give 0 to 1e9 m²")
		}
		sum += float64(s.Coefficient * s.Area.SquareMeters())
	}
	if err := faults.Err(); err != nil {
		return 0, err
	}
	return Flow(i * sum), nil
}

// RunoffCoefficient is a row of the tables of runoff coefficients.
type RunoffCoefficient struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Cover is lawn, woodland, pasture, cultivated, unimproved, paving or roof.
	// Ground is sandy or heavy for lawns, sandy-loam, silt-loam or tight-clay for
	// woodland, pasture and cultivated land, and empty for the others.
	Cover, Ground string
	// From and To are the slopes it is for, rise per run; To is 0 where the table has no end.
	From, To float64
	// Low and High are the range of the coefficient; equal where there is one figure.
	Low, High float64
	Source    string
}

const (
	lawns  = "ASCE, in University of Illinois TSM 352, Runoff coefficients; Schwab et al., Soil and Water Conservation Engineering, 4th ed."
	schwab = "Schwab et al., Soil and Water Conservation Engineering, 4th ed."
)

// runoff is static data, which takes no code to make. It does not change.
var runoff = [...]RunoffCoefficient{
	{Cover: "lawn", Ground: "sandy", From: 0, To: 0.02, Low: 0.05, High: 0.1, Source: lawns},
	{Cover: "lawn", Ground: "sandy", From: 0.02, To: 0.07, Low: 0.1, High: 0.15, Source: lawns},
	{Cover: "lawn", Ground: "sandy", From: 0.07, To: 0, Low: 0.15, High: 0.2, Source: lawns},
	{Cover: "lawn", Ground: "heavy", From: 0, To: 0.02, Low: 0.13, High: 0.17, Source: lawns},
	{Cover: "lawn", Ground: "heavy", From: 0.02, To: 0.07, Low: 0.18, High: 0.22, Source: lawns},
	{Cover: "lawn", Ground: "heavy", From: 0.07, To: 0, Low: 0.25, High: 0.35, Source: lawns},
	{Cover: "woodland", Ground: "sandy-loam", From: 0, To: 0.05, Low: 0.1, High: 0.1, Source: schwab},
	{Cover: "woodland", Ground: "sandy-loam", From: 0.05, To: 0.1, Low: 0.25, High: 0.25, Source: schwab},
	{Cover: "woodland", Ground: "sandy-loam", From: 0.1, To: 0.3, Low: 0.3, High: 0.3, Source: schwab},
	{Cover: "woodland", Ground: "silt-loam", From: 0, To: 0.05, Low: 0.3, High: 0.3, Source: schwab},
	{Cover: "woodland", Ground: "silt-loam", From: 0.05, To: 0.1, Low: 0.35, High: 0.35, Source: schwab},
	{Cover: "woodland", Ground: "silt-loam", From: 0.1, To: 0.3, Low: 0.5, High: 0.5, Source: schwab},
	{Cover: "woodland", Ground: "tight-clay", From: 0, To: 0.05, Low: 0.4, High: 0.4, Source: schwab},
	{Cover: "woodland", Ground: "tight-clay", From: 0.05, To: 0.1, Low: 0.5, High: 0.5, Source: schwab},
	{Cover: "woodland", Ground: "tight-clay", From: 0.1, To: 0.3, Low: 0.6, High: 0.6, Source: schwab},
	{Cover: "pasture", Ground: "sandy-loam", From: 0, To: 0.05, Low: 0.1, High: 0.1, Source: schwab},
	{Cover: "pasture", Ground: "sandy-loam", From: 0.05, To: 0.1, Low: 0.16, High: 0.16, Source: schwab},
	{Cover: "pasture", Ground: "sandy-loam", From: 0.1, To: 0.3, Low: 0.22, High: 0.22, Source: schwab},
	{Cover: "pasture", Ground: "silt-loam", From: 0, To: 0.05, Low: 0.3, High: 0.3, Source: schwab},
	{Cover: "pasture", Ground: "silt-loam", From: 0.05, To: 0.1, Low: 0.36, High: 0.36, Source: schwab},
	{Cover: "pasture", Ground: "silt-loam", From: 0.1, To: 0.3, Low: 0.42, High: 0.42, Source: schwab},
	{Cover: "pasture", Ground: "tight-clay", From: 0, To: 0.05, Low: 0.4, High: 0.4, Source: schwab},
	{Cover: "pasture", Ground: "tight-clay", From: 0.05, To: 0.1, Low: 0.55, High: 0.55, Source: schwab},
	{Cover: "pasture", Ground: "tight-clay", From: 0.1, To: 0.3, Low: 0.6, High: 0.6, Source: schwab},
	{Cover: "cultivated", Ground: "sandy-loam", From: 0, To: 0.05, Low: 0.3, High: 0.3, Source: schwab},
	{Cover: "cultivated", Ground: "sandy-loam", From: 0.05, To: 0.1, Low: 0.4, High: 0.4, Source: schwab},
	{Cover: "cultivated", Ground: "sandy-loam", From: 0.1, To: 0.3, Low: 0.52, High: 0.52, Source: schwab},
	{Cover: "cultivated", Ground: "silt-loam", From: 0, To: 0.05, Low: 0.5, High: 0.5, Source: schwab},
	{Cover: "cultivated", Ground: "silt-loam", From: 0.05, To: 0.1, Low: 0.6, High: 0.6, Source: schwab},
	{Cover: "cultivated", Ground: "silt-loam", From: 0.1, To: 0.3, Low: 0.72, High: 0.72, Source: schwab},
	{Cover: "cultivated", Ground: "tight-clay", From: 0, To: 0.05, Low: 0.6, High: 0.6, Source: schwab},
	{Cover: "cultivated", Ground: "tight-clay", From: 0.05, To: 0.1, Low: 0.7, High: 0.7, Source: schwab},
	{Cover: "cultivated", Ground: "tight-clay", From: 0.1, To: 0.3, Low: 0.82, High: 0.82, Source: schwab},
	{Cover: "unimproved", Ground: "", From: 0, To: 0, Low: 0.1, High: 0.3, Source: schwab},
	{Cover: "paving", Ground: "", From: 0, To: 0, Low: 0.75, High: 0.85, Source: schwab + ": drives and walks"},
	{Cover: "roof", Ground: "", From: 0, To: 0, Low: 0.75, High: 0.95, Source: schwab},
}

// RunoffCoefficients are the published coefficients. The list is the caller's own.
func RunoffCoefficients() []RunoffCoefficient { return append([]RunoffCoefficient(nil), runoff[:]...) }

// RunoffCoefficientOf finds the row for a cover, a ground and a slope of 0 or more.
// Steeper than the table goes it gives the steepest row, and beyond is true: take a
// higher figure. ok is false when there is no such cover or ground.
func RunoffCoefficientOf(cover, ground string, slope float64) (c RunoffCoefficient, beyond, ok bool) {
	for i := range runoff {
		if r := &runoff[i]; r.Cover == cover && r.Ground == ground && slope >= r.From {
			c, ok = *r, true
		}
	}
	return c, ok && c.To > 0 && slope > c.To, ok
}

// Roughness is a row of Manning's roughnesses.
type Roughness struct {
	ID, Name  string
	Low, High float64
	Source    string
	// FromMemory is as for a [Figure].
	FromMemory bool
}

// Roughnesses are Manning's n of channels and pipes; handbooks vary widely. The list
// is the caller's own.
func Roughnesses() []Roughness {
	const chow = "Chow, Open-Channel Hydraulics, table of n"
	return []Roughness{
		{"earth", "earth, clean", 0.022, 0.022, chow, true},
		{"earth-gravelly", "earth with gravel", 0.025, 0.025, chow, true},
		{"earth-weedy", "earth with some weeds", 0.030, 0.030, chow, true},
		{"earth-stony", "earth with stones", 0.035, 0.035, chow, true},
		{"grass-short", "short grass", 0.027, 0.030, chow, true},
		{"grass-dense", "dense grass", 0.035, 0.050, chow, true},
		{"swale-shallow", "grass swale, water no deeper than the grass", 0.20, 0.24, "manuals of water-quality swales", true},
		{"pipe-smooth", "smooth plastic pipe", 0.009, 0.011, chow, true},
		{"pipe-corrugated", "corrugated pipe", 0.020, 0.025, chow, true},
	}
}

// Channel is a swale or ditch of trapezoid section running at a depth.
type Channel struct {
	// Bottom is the breadth of its bottom, 0 for a V, to 100 m; Depth that of the
	// water, over 0 to 100 m.
	Bottom, Depth unit.Length
	// Side is how far the sides lean out, horizontal per vertical, 0 to 10. Bottom and
	// Side must not both be 0.
	Side float64
	// Grade is its fall per length, over 0 to 1; Roughness is Manning's n, 0.005 to
	// 1: see [Roughnesses].
	Grade, Roughness float64
}

// Validate reports what is wrong with the channel, as a [Faults] with the fields
// bottom, depth, side, grade and roughness.
func (c Channel) Validate() error {
	var faults fault.List
	b, y := c.Bottom.Meters(), c.Depth.Meters()
	switch {
	case !(b >= 0 && b <= 100):
		faults.Add("bottom", sayLength(b), "is not the bottom of a channel", "give 0 to 100 m")
	case b == 0 && c.Side == 0:
		faults.Add("bottom", sayLength(b), "leaves no channel between plumb sides", "give a breadth, or sides that lean out")
	}
	if !(y >= 1e-6 && y <= 100) {
		faults.Add("depth", sayLength(y), "is not a depth of water", "give more than 0 and at most 100 m")
	}
	if !(c.Side >= 0 && c.Side <= maxBatter) {
		faults.Add("side", sayNumber(c.Side), "is not the slope of a side", "give horizontal per vertical, 0 to 10")
	}
	checkFlowing(&faults, c.Grade, c.Roughness)
	return faults.Err()
}

func checkFlowing(faults *fault.List, grade, roughness float64) {
	if !(grade >= 1e-6 && grade <= 1) {
		faults.Add("grade", sayNumber(grade), "is not a fall that water runs down", "give fall per length, more than 0 and at most 1")
	}
	if !(roughness >= 0.005 && roughness <= 1) {
		faults.Add("roughness", sayNumber(roughness), "is not a roughness", "give Manning's n, 0.005 to 1")
	}
}

// Area is that of the water, (b + z·y)·y.
func (c Channel) Area() unit.Area {
	a, _ := c.wet(c.Depth.Meters())
	return unit.Area(a)
}

// Perimeter is the length of bottom and sides that is wet, b + 2y·√(1 + z²).
func (c Channel) Perimeter() unit.Length {
	_, p := c.wet(c.Depth.Meters())
	return unit.Length(p)
}

func (c Channel) wet(y float64) (area, perimeter float64) {
	b := c.Bottom.Meters()
	return float64((b + float64(c.Side*y)) * y), b + float64(2*y*math.Sqrt(1+float64(c.Side*c.Side)))
}

// Flow is what runs in the channel at its depth, by Manning's formula,
//
//	Q = 1/n · A · R^(2/3) · √S
//
// in metres and seconds, R being Area/Perimeter (1.486/n in feet). The error is that
// of Validate.
//
// Source: Manning's formula as in Chow, Open-Channel Hydraulics, from memory.
func (c Channel) Flow() (Flow, error) {
	if err := c.Validate(); err != nil {
		return 0, err
	}
	return Flow(c.flow(c.Depth.Meters())), nil
}

func (c Channel) flow(y float64) float64 {
	a, p := c.wet(y)
	return manning(a, p, c.Grade, c.Roughness)
}

// manning needs an area, a perimeter and a roughness over 0.
func manning(area, perimeter, grade, roughness float64) float64 {
	r := math.Cbrt(area / perimeter)
	return float64(float64(area*float64(r*r))*math.Sqrt(grade)) / roughness
}

// Velocity is the mean speed of the water, Flow/Area. The error is that of Validate.
func (c Channel) Velocity() (unit.Speed, error) {
	q, err := c.Flow()
	if err != nil {
		return 0, err
	}
	return unit.Speed(float64(q) / c.Area().SquareMeters()), nil
}

// DepthFor is how deep a flow runs in the channel, whose own Depth does not matter: the
// depth of uniform flow by Manning's formula, to the last bits. The error is that of Validate,
// and has the field flow unless the flow is over 0 and runs less than 100 m deep.
func (c Channel) DepthFor(q Flow) (unit.Length, error) {
	var faults fault.List
	c.Depth = 1
	faults.Put("", c.Validate())
	if !(q > 0 && q <= maxFlow) {
		faults.Add("flow", sayNumber(float64(q))+" m³/s", "is not a flow", "give more than 0 and at most 1e6 m³/s")
	}
	if err := faults.Err(); err != nil {
		return 0, err
	}
	low, high := 0.0, 100.0
	if c.flow(high) < float64(q) {
		faults.Add("flow", sayNumber(float64(q))+" m³/s", "is more than the channel carries 100 m deep", "give a broader channel or a steeper fall")
		return 0, faults
	}
	for range 100 {
		mid := (low + high) / 2
		if !(mid > low && mid < high) {
			break
		}
		if c.flow(mid) < float64(q) {
			low = mid
		} else {
			high = mid
		}
	}
	return unit.Length(high), nil
}

// Pipe is a round drain running full but not under pressure.
type Pipe struct {
	// Diameter is that inside, 5 mm to 10 m.
	Diameter unit.Length
	// Grade and Roughness are as for a [Channel].
	Grade, Roughness float64
}

// Validate reports what is wrong with the pipe, as a [Faults] with the fields
// diameter, grade and roughness.
func (p Pipe) Validate() error {
	var faults fault.List
	if d := p.Diameter.Meters(); !(d >= 0.005 && d <= 10) {
		faults.Add("diameter", sayLength(d), "is not the diameter of a drain", "give 5 mm to 10 m")
	}
	checkFlowing(&faults, p.Grade, p.Roughness)
	return faults.Err()
}

// Flow is what the pipe carries when it runs full, by Manning's formula with R a
// quarter of the diameter. The error is that of Validate.
func (p Pipe) Flow() (Flow, error) {
	if err := p.Validate(); err != nil {
		return 0, err
	}
	d := p.Diameter.Meters()
	return Flow(manning(float64(math.Pi/4*float64(d*d)), float64(math.Pi*d), p.Grade, p.Roughness)), nil
}

// minDrainGrade is the least fall of a drain laid in filter stone.
const minDrainGrade = 0.15 / 100

// CheckChannel holds a swale or ditch of this size against a flow: whether it
// carries it, and whether the water would wear the bare soil away. The error is
// that of [Channel.DepthFor]; a flow of 0 is in order.
func CheckChannel(c Channel, q Flow, soil Soil) ([]Caution, error) {
	var faults fault.List
	full, err := c.Flow()
	faults.Put("", err)
	checkFlow(&faults, q)
	if err := faults.Err(); err != nil || q == 0 {
		return nil, err
	}
	runs := c
	if runs.Depth, err = c.DepthFor(q); err != nil {
		return nil, err
	}
	var out cautions
	if q > full {
		out.put(&saySwaleSmall, Stop, float64(full), float64(q))
	}
	// A film too thin to be a channel has no speed to speak of.
	if runs.Depth < 1e-6 {
		return out, nil
	}
	speed := float64(q) / runs.Area().SquareMeters()
	id := soil.Family()
	if soil.ID == "wet-clay" {
		id = soil.ID // not the stiff clay of the table
	}
	for i := range scour {
		if v := &scour[i]; v.soil == id && speed > v.limit*footM {
			out.add(Caution{ID: "water-scours", Severity: Warn, Quantity: OfSpeed, Limit: v.limit * footM, Actual: speed,
				Says: "The water runs fast enough to wear away the bare soil: line the swale with stone or turf, or give it less fall.", Source: "Fortier and Scobey, Permissible Canal Velocities, 1926: " + v.row, FromMemory: true})
		}
	}
	return out, nil
}

// CheckPipe holds a drain against a flow: whether it carries it, and whether it has the
// least fall of a drain. The error is that of [Pipe.Validate], with the field flow.
func CheckPipe(p Pipe, q Flow) ([]Caution, error) {
	var faults fault.List
	full, err := p.Flow()
	faults.Put("", err)
	checkFlow(&faults, q)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	var out cautions
	if q > full {
		out.put(&sayPipeSmall, Stop, float64(full), float64(q))
	}
	if p.Grade < minDrainGrade-1e-12 {
		out.put(&sayDrainFlat, Warn, minDrainGrade, p.Grade)
	}
	return out, nil
}

func checkFlow(faults *fault.List, q Flow) {
	if !(q >= 0 && q <= maxFlow) {
		faults.Add("flow", sayNumber(float64(q))+" m³/s", "is not a flow", "give 0 to 1e6 m³/s")
	}
}

const sourceManning = "Manning's formula: Chow, Open-Channel Hydraulics"

// scour is the speed of clear water that bare soil stands, ft/s.
var scour = [...]struct {
	_     [0]func()
	soil  string
	limit float64
	row   string
}{
	{soil: "topsoil", limit: 1.75, row: "sandy loam, clear water, 1.75 ft/s"},
	{soil: "loam", limit: 2.50, row: "ordinary firm loam, clear water, 2.50 ft/s"},
	{soil: "sand", limit: 1.50, row: "fine sand, clear water, 1.50 ft/s"},
	{soil: "gravel", limit: 2.50, row: "fine gravel, clear water, 2.50 ft/s"},
	{soil: "sandy-clay", limit: 2.00, row: "silt loam, clear water, 2.00 ft/s"},
	{soil: "clay", limit: 3.75, row: "stiff clay, clear water, 3.75 ft/s"},
	{soil: "wet-clay", limit: 2.00, row: "silt loam, clear water, 2.00 ft/s; soft clay is not in it"},
	{soil: "hardpan", limit: 6.00, row: "shales and hardpans, clear water, 6.00 ft/s"},
}
