package slopewright

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"
)

// The ± of riser and digging against a simulation: the same hill measured two
// thousand times, each reading out at random by its accuracy.
func TestCertaintyAgainstSimulation(t *testing.T) {
	for _, name := range append(demos, "first", "halfway") {
		t.Run(name, func(t *testing.T) {
			p, err := ReadPlan(demo(t, name))
			if err != nil {
				t.Fatal(err)
			}
			var m maker
			if err := m.read(p); err != nil {
				t.Fatal(err)
			}
			if err := m.lay(); err != nil {
				t.Fatal(err)
			}
			if err := m.dig(); err != nil {
				t.Fatal(err)
			}
			c := m.certainty()
			base, ok := m.outcomeOf(m.survey)
			if c == nil || !ok {
				t.Fatal("no certainty")
			}
			if d := math.Abs(base.cut - m.total.Cut.CubicMeters()); d > 1e-9 {
				t.Fatalf("without errors the digging differs by %v m³", d)
			}

			rng := rand.New(rand.NewPCG(3, 5))
			var riser, cut []float64
			for range 2000 {
				e := make([]float64, m.readings.Errors())
				for i := range e {
					// ± is nineteen in twenty: 1.96 standard deviations.
					e[i] = rng.NormFloat64() / 1.959964
				}
				s, err := m.readings.With(e).Survey()
				if err != nil {
					continue
				}
				x, ok := m.outcomeOf(s)
				if !ok {
					continue
				}
				riser = append(riser, math.Abs(x.riser-base.riser))
				cut = append(cut, math.Abs(x.cut-base.cut))
			}
			if len(cut) < 1900 {
				t.Fatalf("only %d of 2000 simulated surveys had a plan", len(cut))
			}
			// Cut bends where ground and formation meet, so its ± is good to
			// first order only.
			within(t, "riser", percentile(riser, 0.95), c.Riser.Meters(), 0.08)
			within(t, "cut", percentile(cut, 0.95), c.CutBank.CubicMeters(), 0.25)
		})
	}
}

func percentile(x []float64, p float64) float64 {
	sort.Float64s(x)
	return x[int(p*float64(len(x)))]
}

func within(t *testing.T, what string, simulated, told, part float64) {
	t.Helper()
	t.Logf("%s: told ±%.5f, simulated ±%.5f", what, told, simulated)
	if math.Abs(told-simulated) > part*simulated {
		t.Errorf("%s: told ±%.5f, simulated ±%.5f", what, told, simulated)
	}
}
