package earthwork

import (
	"math"
	"testing"

	"github.com/martinlindhe/unit"
)

// See TestSameBitsEverywhere: the same for parts, hauls and water.
func TestSameBitsOfTheRest(t *testing.T) {
	const want = 0xc88045873d05ca69
	sum := uint64(14695981039346656037)
	note := func(values ...float64) {
		for _, v := range values {
			sum = (sum ^ math.Float64bits(v)) * 1099511628211
		}
	}
	for _, r := range rands(61, 200) {
		eighth := func(most int) float64 { return float64(1+r.IntN(8*most)) / 8 }
		var points []Point
		for i := range 4 {
			points = append(points, Point{unit.Length(3 * i), unit.Length(float64(i) + eighth(2)), eighth(1)/4 - 0.125})
		}
		g := mustBend(t, mustGround(t, points), Bend{1, 5.3, 16, r.IntN(2) == 0})
		sec := Section{unit.Length(eighth(2)), unit.Length(eighth(1)), eighth(2) / 3, eighth(2) / 3}
		st := Stretch{0.7, 8.9, Line{1, unit.Length(eighth(2)), 0.3}, 0.3}
		parts, err := g.DigParts(sec, st, []Layer{{"base", "", 0.1}, {"top", "", 0.2}}, 0.13)
		if err != nil {
			t.Fatal(err)
		}
		strip, err := g.StripTopsoil(sec, st, 0.13)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range parts {
			note(float64(p.Bank))
		}
		note(float64(strip.Area), float64(strip.Beside))
		var steps []HaulStep
		for i := range 9 {
			steps = append(steps, HaulStep{i + 1, unit.Length(i) + unit.Length(eighth(1)/2), unit.Length(i) / 7, unit.Volume(eighth(2) / 3), unit.Volume(eighth(2) / 5), unit.Volume(eighth(1) / 7)})
		}
		h, err := HaulPlan(soils[r.IntN(len(soils))], steps, []Place{
			{Name: "a", Station: 2.3, Offset: unit.Length(eighth(5) / 3), Rise: unit.Length(eighth(1)/3 - 0.2), Capacity: unit.Volume(eighth(1))}, {Name: "b", Station: 7, Offset: 3},
			{Name: "c", Station: 5, Offset: 2, Borrow: true, Capacity: unit.Volume(eighth(1))}, {Name: "d", Station: 20, Rise: -3, Borrow: true},
		}, HaulCost{eighth(9) / 3})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range h.Moves {
			note(float64(m.Loose), float64(m.Distance), float64(m.Climb))
		}
		note(h.Cost, float64(h.MeanDistance), float64(h.MeanClimb))
		c := Channel{Bottom: unit.Length(eighth(1) / 3), Depth: 0.1, Side: eighth(3) / 3, Grade: eighth(1) / 7, Roughness: 0.03}
		q, err := c.Flow()
		if err != nil {
			t.Fatal(err)
		}
		depth, err := c.DepthFor(Flow(eighth(1) / 11))
		if err != nil {
			t.Fatal(err)
		}
		lift, err := Lift{Horizontal: unit.Length(eighth(1) / 3), Vertical: unit.Length(eighth(1)), Travel: unit.Length(eighth(1)), PerMinute: eighth(1)}.Limit()
		if err != nil {
			t.Fatal(err)
		}
		note(float64(q), float64(depth), float64(lift), float64(Pit{1, 0.3, unit.Length(eighth(1)), eighth(1) / 3}.Volume()), float64(PostHole{0.3, unit.Length(eighth(1)), false}.Volume()))
	}
	if sum != want {
		t.Errorf("bits %#x, want %#x", sum, uint64(want))
	}
}
