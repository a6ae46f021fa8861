package slopewright

import (
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/stair"
)

// Eased implements [stair.Easer]: digging deeper and making up more ground, by half at
// most (made ground up to what is usual at least), to a plain figure of the tape.
func (s *site) Eased() []stair.Easing {
	with := func(change func(m *maker, to unit.Length)) func(unit.Length) stair.Site {
		return func(to unit.Length) stair.Site {
			m := *s.m
			change(&m, to)
			m.readSection() // a deep cut is sloped otherwise
			eased := m.site(s.w)
			eased.rates = s.rates
			return eased
		}
	}
	raise := 1.5 * s.m.maxRaise
	if raise < defaultMaxRaise {
		raise = defaultMaxRaise
	}
	return []stair.Easing{
		{
			Says: "digging up to %s deep instead of %s", From: s.m.maxCut,
			To:   plainer(s.m.maxCut, 1.5*s.m.maxCut, s.m.either(unit.Inch, 10*unit.Millimeter)),
			With: with(func(m *maker, to unit.Length) { m.maxCut = to }),
		},
		{
			Says: "ground made up by up to %s instead of %s", From: s.m.maxRaise,
			To:   plainer(s.m.maxRaise, raise, s.m.either(unit.Inch/2, 10*unit.Millimeter)),
			With: with(func(m *maker, to unit.Length) { m.maxRaise = to }),
		},
	}
}

// plainer are the whole steps of the tape above a length, up to another.
func plainer(above, most, step unit.Length) (out []float64) {
	for n := math.Floor(float64(above/step)+1e-6) + 1; float64(n*float64(step)) <= float64(most)+1e-9; n++ {
		out = append(out, float64(n*float64(step)))
	}
	return out
}
