package earthwork

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// maxEarth bounds the volumes this package reckons with, m³.
const maxEarth = 1e9

// amount is v when it can be an amount of something: more than 0 and at most most.
// Anything else, NaN included, counts as nothing, or as most when there is more.
func amount(v, most float64) float64 {
	switch {
	case !(v > 0):
		return 0
	case v > most:
		return most
	}
	return v
}

// Balance is what becomes of the earth. In bank measure
//
//	CutBank + BorrowBank = ReusedBank + SpoilBank
//
// holds to the last bit, and one of borrow and spoil is 0.
type Balance struct {
	// CutBank is dug, BorrowBank must be brought, ReusedBank goes into fill
	// and backfill, SpoilBank is left over.
	CutBank, ReusedBank, SpoilBank, BorrowBank unit.Volume
	// SpoilLoose is the spoil as it is loaded, and BorrowLoose the borrow.
	SpoilLoose, BorrowLoose unit.Volume
	// SpoilMass is the mass of the spoil.
	SpoilMass unit.Mass
}

// Balance works out what becomes of a cut when fill and backfill, in compacted
// measure, are made of the same soil as far as it goes. Volumes must be finite
// and 0 or more, as those of a [Dug] are; one that is not counts as nothing, and
// more than 1e9 m³ as that.
func (s Soil) Balance(cutBank, fillCompacted, backfillCompacted unit.Volume) Balance {
	cut := unit.Volume(amount(cutBank.CubicMeters(), maxEarth))
	need := s.BankOfCompacted(unit.Volume(amount(fillCompacted.CubicMeters(), maxEarth) + amount(backfillCompacted.CubicMeters(), maxEarth)))
	b := Balance{CutBank: cut}
	// Of the two differences the second is exact in floating point, and makes
	// the sums agree to the last bit.
	if need <= cut {
		b.SpoilBank = cut - need
		b.ReusedBank = cut - b.SpoilBank
	} else {
		b.BorrowBank = need - cut
		b.ReusedBank = cut + b.BorrowBank
	}
	b.SpoilLoose, b.BorrowLoose = s.Loose(b.SpoilBank), s.Loose(b.BorrowBank)
	b.SpoilMass = s.Mass(b.SpoilBank)
	return b
}

// Carrier is what carries loose soil.
type Carrier struct {
	_    [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Name string
	// Volume is what it holds loose, over 0 and at most 1000 m³.
	Volume unit.Volume
	// Payload is what it may weigh, at most 1e6 kg; 0 when weight is no matter.
	Payload unit.Mass
	// Source is where the figures come from, FromMemory as for a [Figure].
	Source     string
	FromMemory bool
}

// Validate reports what is wrong with a carrier, as a [Faults] with the fields
// volume and payload.
func (c Carrier) Validate() error {
	var faults fault.List
	if v := c.Volume.CubicMeters(); !(v >= 1e-6 && v <= 1000) {
		faults.Add("volume", sayNumber(v)+" m³", "is not what a carrier holds", "give more than 0 and at most 1000 m³")
	}
	if m := c.Payload.Kilograms(); m != 0 && !(m >= 1e-3 && m <= 1e6) {
		faults.Add("payload", sayNumber(m)+" kg", "is not a payload", "give more than 0 and at most 1000 t, or 0 where weight is no matter")
	}
	return faults.Err()
}

const pound = 0.45359237 * unit.Kilogram

// Carriers lists barrows, a pickup, a dump truck, a skip and a roll-off bin. The list
// is the caller's own.
func Carriers() []Carrier {
	return []Carrier{
		{Name: "barrow on the level", Volume: 3 * unit.CubicFoot, Payload: 300 * pound,
			Source: gillette + ": 3 ft³ or 300 lb on a level plank; the barrow is rated for more"},
		{Name: "barrow on a slope", Volume: 2 * unit.CubicFoot, Payload: 200 * pound,
			Source: gillette + ": 2 ft³ or 200 lb up a steep rise"},
		{Name: "pickup", Volume: 1.5 * unit.CubicYard, Payload: 1500 * pound,
			Source: "bed of 6 × 4.5 × 1.5 ft, level; half-ton class, 1500 to 2000 lb, from memory: see the plate on the truck", FromMemory: true},
		{Name: "dump truck", Volume: 10 * unit.CubicYard, Payload: 14 * 2000 * pound,
			Source: "tandem dump truck, 10 to 14 yd³ and about 14 short tons; author unknown: ask the haulier"},
		{Name: "skip", Volume: 6 * unit.CubicYard, Payload: 6000 * unit.Kilogram,
			Source: "builder's skip of 6 yd³, the largest usually let for earth, about 6 t, from memory: ask who lets it", FromMemory: true},
		{Name: "roll-off bin", Volume: 10 * unit.CubicYard, Payload: 10 * 2000 * pound,
			Source: "roll-off bin of 10 yd³ for earth, about 10 short tons, from memory: ask who lets it", FromMemory: true},
	}
}

// Binds says what fills a carrier first.
type Binds string

// What fills a carrier first.
const (
	ByVolume  Binds = "volume"
	ByPayload Binds = "payload"
)

// Loads is how often a carrier goes.
type Loads struct {
	Carrier Carrier
	// Count is the number of loads, the last one often not full.
	Count int
	// Binds says what fills the carrier first; empty when there is nothing to carry.
	Binds Binds
	// Volume and Mass are those of a full load, loose soil.
	Volume unit.Volume
	Mass   unit.Mass
}

// Loads is the number of loads of the spoil in a carrier, whichever of its
// volume and its payload is the less. The error is that of [Carrier.Validate].
func (b Balance) Loads(c Carrier) (Loads, error) {
	return loads(b.SpoilLoose, b.SpoilMass, c)
}

func loads(loose unit.Volume, mass unit.Mass, c Carrier) (Loads, error) {
	if err := c.Validate(); err != nil {
		return Loads{}, err
	}
	l := Loads{Carrier: c}
	v, m := amount(loose.CubicMeters(), 4*maxEarth), amount(mass.Kilograms(), 1e13)
	if v == 0 {
		return l, nil
	}
	density := m / v
	n := v / c.Volume.CubicMeters()
	l.Binds, l.Volume = ByVolume, c.Volume
	if p := c.Payload.Kilograms(); p > 0 && m/p > n {
		n = m / p
		l.Binds, l.Volume = ByPayload, unit.Volume(p/density)
	}
	l.Mass = unit.Mass(l.Volume.CubicMeters() * density)
	// A load of a billionth more is the rounding of a full one.
	l.Count = int(math.Ceil(n - float64(1e-9*n)))
	return l, nil
}

// SpreadDepth is how deep loose soil lies when it is spread evenly over an area.
// The error is a [Faults] with the field area unless that is over 0 and at most
// 1e9 m².
func SpreadDepth(loose unit.Volume, area unit.Area) (unit.Length, error) {
	a := area.SquareMeters()
	if !(a >= 1e-6 && a <= 1e9) {
		return 0, Faults{{Field: "area", Got: sayNumber(a) + " m²", Problem: "is not an area to spread soil on", Fix: "give more than 0 and at most 1e9 m²"}}
	}
	return unit.Length(amount(loose.CubicMeters(), 4*maxEarth) / a), nil
}

// SpreadArea is how much ground loose soil covers when it is spread to a depth.
// The error is a [Faults] with the field depth unless that is 1 mm to 100 m.
func SpreadArea(loose unit.Volume, depth unit.Length) (unit.Area, error) {
	d := depth.Meters()
	if !(d >= 1e-3 && d <= 100) {
		return 0, Faults{{Field: "depth", Got: sayLength(d), Problem: "is not a depth to spread soil to", Fix: fmt.Sprintf("give 1 mm to %d m", 100)}}
	}
	return unit.Area(amount(loose.CubicMeters(), 4*maxEarth) / d), nil
}
