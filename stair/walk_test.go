package stair

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/martinlindhe/unit"
)

// TestMisfit works the measure out by hand: P = 600 mm, R = 150 mm. Treads of
// 320 mm are 20 mm over 600 − 300, those of 880 mm 20 mm short of 1200 − 300;
// a landing of 1550 mm is 30 mm over 2 × 600 + 320, one of 2.6 m is too deep to
// count, one of 2.5 m is not: 2500 − (3 × 600 + 880) is 180 short.
func TestMisfit(t *testing.T) {
	lay := func(fs ...FixedFlight) Layout {
		n, run := 0, 0.0
		for _, f := range fs {
			n += f.Risers
			run += float64(f.Risers-1)*float64(f.Tread) + float64(f.Landing)
		}
		l, err := Lay(Point{}, Point{unit.Length(run), unit.Length(float64(n) * 0.15)}, 0, fs)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	l := lay(
		FixedFlight{Risers: 3, Tread: 0.32, Landing: 1.55},
		FixedFlight{Risers: 4, Tread: 0.88, Landing: 2.6},
		FixedFlight{Risers: 2, Tread: 0.88, Landing: 2.5},
		FixedFlight{Risers: 1, Landing: 1.3}, // no tread below: 100 over 2 × 600
		FixedFlight{Risers: 2, Tread: 0.3},
	)
	w := l.Walk(0.6)
	for i, want := range []float64{2 * 0.02, 3 * 0.02, 0.02, 0} {
		near(t, "misfit of a flight", float64(w.Flights[i].Misfit), want, 1e-12)
	}
	for i, want := range []WalkLanding{
		{After: 3, Paces: 2, Ideal: 1.52, Off: 0.03},
		{After: 7, Paces: 3, Ideal: 2.68, Off: -0.08, Long: true},
		{After: 9, Paces: 3, Ideal: 2.68, Off: -0.18},
		{After: 10, Paces: 2, Ideal: 1.2, Off: 0.1, SameFoot: true},
	} {
		g := w.Landings[i]
		near(t, "ideal", float64(g.Ideal), float64(want.Ideal), 1e-12)
		near(t, "off", float64(g.Off), float64(want.Off), 1e-9)
		if g.After != want.After || g.Paces != want.Paces || g.Long != want.Long || g.SameFoot != want.SameFoot {
			t.Errorf("landing %+v, want %+v", g, want)
		}
	}
	near(t, "misfit", float64(w.Misfit), 0.04+0.06+0.02+0.03+0.18+0.1, 1e-9)
	if w.SameFoot || w.Flights[0].SameFoot || !w.Flights[1].SameFoot {
		t.Errorf("feet: %+v", w)
	}
	// Two paces to each tread and 2 + 2 across the landing: one foot leads all
	// the way.
	if w := lay(FixedFlight{Risers: 3, Tread: 0.9, Landing: 2.1}, FixedFlight{Risers: 3, Tread: 0.9}).Walk(0.6); !w.SameFoot || w.Misfit > 1e-9 {
		t.Errorf("%+v", w)
	}
}

// TestStepTargets: 6 x 14 in is the outdoor target, 7 x 10 1/2 in within the
// indoor one; 7.75 x 10 in is 1/2 in over it.
func TestStepTargets(t *testing.T) {
	for _, c := range []struct{ r, tread, outdoor, indoor float64 }{
		{6, 14, 0, 1}, {7, 10.5, -1.5, 0}, {7, 10, -2, 0}, {7.75, 10, -0.5, 0.5}, {5, 13, -3, -1},
	} {
		sum := unit.Length(2*c.r+c.tread) * unit.Inch
		got := map[string]float64{}
		for _, s := range StepTargets() {
			got[s.ID] = float64(s.Off(sum) / unit.Inch)
		}
		near(t, "outdoor", got["outdoor"], c.outdoor, 1e-9)
		near(t, "indoor", got["indoor"], c.indoor, 1e-9)
		l, err := Lay(Point{}, Point{unit.Length(c.tread) * unit.Inch, unit.Length(2*c.r) * unit.Inch}, 0, []FixedFlight{{Risers: 2, Tread: unit.Length(c.tread) * unit.Inch}})
		if err != nil {
			t.Fatal(err)
		}
		w := l.Walk(OutdoorPace)
		near(t, "off", float64(w.Flights[0].Off/unit.Inch), c.outdoor, 1e-9)
		near(t, "off the indoor target", float64(w.Flights[0].OffIndoor/unit.Inch), c.indoor, 1e-9)
		near(t, "misfit", float64(w.Misfit/unit.Inch), math.Abs(c.outdoor), 1e-9)
	}
}

// TestWalkOfOddLayouts: a layout put together by hand may lack anything.
func TestWalkOfOddLayouts(t *testing.T) {
	for _, l := range []Layout{
		{}, {Landings: []Landing{{After: 3, Depth: 1}}}, {Flights: []Flight{{First: 1, Risers: 3}}, Landings: make([]Landing, 4)},
	} {
		if _, err := json.Marshal(l.Walk(unit.Length(math.NaN())).Landings); err != nil {
			t.Error(err)
		}
	}
}
