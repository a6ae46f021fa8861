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

// Pad is the pad of a flight so wide. Its load and pressure are not told.
func (x Frames) Pad(width unit.Length) Pad {
	p := FramedFlight{Width: width}.padUnder(x.d, 0)
	p.Load, p.Pressure = 0, 0
	return p
}
