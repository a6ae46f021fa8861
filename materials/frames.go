package materials

import "github.com/martinlindhe/unit"

// Frames answers what an optimiser asks of many flights of one detail, which is
// checked once.
type Frames struct{ d FramedDetail }

// NewFrames takes a detail. The error is a [Faults].
func NewFrames(d FramedDetail) (Frames, error) { return Frames{d}, d.Check() }

// fits is whether a flight can be built to the detail.
func (x Frames) fits(f FramedFlight) bool {
	var faults Faults
	if f.check("", &faults) {
		f.checkBoard("", x.d, &faults)
	}
	return len(faults) == 0
}

// Founding is what a flight stands on: supports as [FramedFlight.Supports] counts
// them and the pad of [FramedFlight.Pad]. It is false of a flight that cannot be
// built to the detail.
func (x Frames) Founding(f FramedFlight) (supports int, pad Pad, ok bool) {
	if !x.fits(f) {
		return 0, Pad{}, false
	}
	supports, bay := f.supports(x.d)
	return supports, f.padUnder(x.d, bay), true
}

// Goods is the take-off of one flight that [FramedTakeOff] gives, without its
// notes. It is false of a flight that cannot be built to the detail.
func (x Frames) Goods(f FramedFlight) (Takeoff, bool) {
	if !x.fits(f) {
		return Takeoff{}, false
	}
	b := framedBuilder{d: x.d, bare: true, need: map[string]*Quantity{}}
	b.flight(f, false)
	return b.takeoff(), true
}

// Span is the most that a stringer may span between supports, on the level.
func (x Frames) Span() unit.Length { return x.d.spanLimit() }

// DeepestPlatform is how deep a platform so wide may be, to 10 mm and at most, for
// its joists, beams and footings to be within what the wood and the soil may take,
// with the longest bay of a flight on it; 0 when none is.
func (x Frames) DeepestPlatform(width, most unit.Length) unit.Length {
	f := FramedFlight{Width: width}
	holds := func(depth unit.Length) bool {
		f.Platform = depth
		ok := true
		soil := func(_ string, p unit.Pressure, _ string) { ok = ok && p <= x.d.SoilBearing }
		for _, c := range f.frameChecks(x.d, 0, x.d.spanLimit(), soil) {
			ok = ok && (c.OK || c.Open)
		}
		return ok
	}
	const step = 10 * unit.Millimeter
	lo, hi := 0, int(most/step)
	for lo < hi { // deeper is more load and a longer span
		if mid := (lo + hi + 1) / 2; holds(unit.Length(mid) * step) {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return unit.Length(lo) * step
}

// Pad is the pad of a flight so wide. Its load and pressure are not told.
func (x Frames) Pad(width unit.Length) Pad {
	p := FramedFlight{Width: width}.padUnder(x.d, 0)
	p.Load, p.Pressure = 0, 0
	return p
}
