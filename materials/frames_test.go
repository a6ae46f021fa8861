package materials

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/martinlindhe/unit"
)

// What an optimiser is told of a flight is what the full take-off says of it.
func TestFramesSayWhatTheTakeOffSays(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	built, refused, supported := 0, 0, 0
	for range 3000 {
		d := DefaultFramedDetail()
		d.Solid = rng.IntN(3) == 0
		d.Ledger = rng.IntN(3) == 0
		d.GuardSides, d.HandrailSides = rng.IntN(3), rng.IntN(3)
		if rng.IntN(3) == 0 {
			d.LongestTimber = unit.Length(1+4*rng.Float64()) * unit.Meter
		}
		x, err := NewFrames(d)
		if err != nil {
			t.Fatal(err)
		}
		f := FramedFlight{First: 1, Risers: 1 + rng.IntN(20), Riser: unit.Length(0.03+0.2*rng.Float64()) * unit.Meter,
			Tread: unit.Length(0.15+0.4*rng.Float64()) * unit.Meter, Width: unit.Length(0.6+2*rng.Float64()) * unit.Meter,
			Wash: 0.03 * rng.Float64(), Drop: unit.Length(2*rng.Float64()) * unit.Meter, Under: unit.Length(rng.Float64()) * unit.Meter}
		supports, pad, ok := x.Founding(f)
		goods, can := x.Goods(f)
		want, err := FramedTakeOff([]FramedFlight{f}, d)
		if ok != (err == nil) || can != ok {
			t.Fatalf("%+v: founding %v, goods %v, take-off %v", f, ok, can, err)
		}
		if !ok {
			refused++
			continue
		}
		built++
		want.Notes = nil
		if diff := cmp.Diff(want, goods, cmp.AllowUnexported(Takeoff{}), cmp.Comparer(func(a, b BoxDetail) bool { return true })); diff != "" {
			t.Fatalf("%+v: %s", f, diff)
		}
		n, bay, err := f.Supports(d)
		if err != nil || n != supports {
			t.Fatalf("%+v: %d supports, founded on %d, %v", f, n, supports, err)
		}
		if n > 0 {
			supported++
		}
		if p, err := f.Pad(d); err != nil || p != pad {
			t.Fatalf("%+v: pad %+v, founded on %+v, %v", f, p, pad, err)
		}
		beam := f.stringerBeam(d, bay)
		holds := true
		for _, c := range beam.checks() {
			holds = holds && c.OK
		}
		if holds != beam.holds() {
			t.Fatalf("%+v: the checks say %v of the stringer", f, holds)
		}
	}
	if built < 500 || refused < 100 || supported < 100 {
		t.Errorf("%d built, %d refused, %d with supports: the cases are too much alike", built, refused, supported)
	}
}
