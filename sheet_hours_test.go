//go:build !js || whole

package slopewright

import (
	"math"
	"testing"
)

// The whole may have been added up in another order, to the other side of a twentieth.
func TestInTenthsOfAnotherOrder(t *testing.T) {
	for _, whole := range []Hours{0.25, 0.25 - 1e-12, 0.25 + 1e-12} {
		h := HoursResult{Likely: whole, Work: []Activity{{Likely: 0.15}, {Likely: 0.1}}}.InTenths()
		if sum := h.Work[0].Likely + h.Work[1].Likely; math.Abs(float64(sum-h.Likely)) > 1e-12 {
			t.Errorf("%v in tenths is %v, its lines %v", whole, h.Likely, sum)
		}
	}
}

// Hours in tenths add up to the whole in tenths, and no work takes less than none.
func TestInTenths(t *testing.T) {
	for _, lines := range [][]Hours{
		{},
		{0.04},
		{0.44, 0.44, 0.44, 52.34},
		{0.05, 0.05, 0.05, 0.05, 0.05, 0.05, 0.05, 0.05, 0.05},
		{0.04, 0.04, 0.04, 0.04, 0.04, 0.04, 0.04, 0.04, 0.04},
		{12, 0.25, 7.75, 3.35},
	} {
		h := HoursResult{}
		for _, x := range lines {
			h.Work = append(h.Work, Activity{Low: x / 2, Likely: x, High: 2 * x})
			h.Low, h.Likely, h.High = h.Low+x/2, h.Likely+x, h.High+2*x
		}
		got := h.InTenths()
		var low, likely, high float64
		for i, a := range got.Work {
			if h.Work[i].Likely != lines[i] {
				t.Fatalf("%v: the hours themselves are changed", lines)
			}
			if a.Low < 0 || a.Likely < 0 || a.High < 0 {
				t.Errorf("%v: %+v takes less than no time", lines, a)
			}
			low, likely, high = low+float64(a.Low), likely+float64(a.Likely), high+float64(a.High)
		}
		for _, c := range [][3]float64{{low, float64(got.Low), float64(h.Low)}, {likely, float64(got.Likely), float64(h.Likely)}, {high, float64(got.High), float64(h.High)}} {
			if math.Abs(c[0]-c[1]) > 1e-9 || math.Abs(c[1]-c[2]) > 0.05+1e-9 {
				t.Errorf("%v: lines add up to %v of %v, exactly %v", lines, c[0], c[1], c[2])
			}
		}
	}
}
