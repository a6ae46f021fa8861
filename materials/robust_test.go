package materials

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

// Whatever the numbers, the package answers or refuses: it does not panic, and
// what it answers is finite.
func TestAnyNumbers(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 44))
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e-300, 1e-9, 1e300, math.MaxFloat64, 100, 20, 1}
	wild := 40
	length := func(usual float64) unit.Length {
		if r.IntN(wild) == 0 {
			return unit.Length(odd[r.IntN(len(odd))])
		}
		return unit.Length(usual * (0.5 + r.Float64()))
	}
	number := func(usual float64) float64 { return length(usual).Meters() }
	amount := func() decimal.Decimal {
		if r.IntN(wild) == 0 {
			return decimal.New(r.Int64()-r.Int64(), int32(r.Uint32()))
		}
		return decimal.New(r.Int64N(100_000), -int32(r.IntN(5)))
	}
	answered := 0
	for n := 0; n < 3000; n++ {
		wild = []int{3, 40, 1000}[n%3]
		d := DefaultBoxDetail()
		d.Timber.Thickness, d.Timber.Width = length(0.1), length(0.15)+0.05
		d.MaxBedding, d.Overlap, d.HeadReturn, d.CrossEvery = length(0.03), length(0.1), length(0.6), length(1.2)
		d.LongestTimber, d.PinLength, d.PinGround, d.PinEnd, d.PinSpacing = length(4), length(0.6), length(0.4), length(0.3), length(1)
		d.Topping, d.Fill, d.Base, d.FabricLap = length(0.03), length(0.1), length(0.1), length(0.3)
		d.TimberDensity, d.Coverage = Density(number(600)), unit.Area(number(2))
		d.Waste.Gravel, d.Waste.Pins = number(0.1), number(0.1)
		if r.IntN(2) == 0 {
			d.Joint = []Joint{JointButt, JointHalfLap, JointRebate}[r.IntN(3)]
			d.JointDepth, d.SpliceLap, d.LandingEvery, d.BankTo, d.SpikeEvery = length(0.03), length(0.3), length(0.8), length(0.5), length(0.6)
			d.LandingBack = r.IntN(2) == 0
			d.Face = Section{Name: "board", Thickness: length(0.03), Width: length(0.1) + 0.05}
			d.FaceRebate, d.FaceScrewEvery = length(0.01), length(0.6)
			d.Footing = DefaultFooting([]FootingKind{FootingNone, FootingPiers, FootingBuried, FootingConcrete}[r.IntN(4)])
			if d.Footing.Kind != FootingNone {
				d.Footing.Width, d.Footing.Depth, d.Footing.Spacing, d.Footing.End = length(0.2), length(0.6), length(1.2), length(0.3)
			}
		}
		boxes := make([]Box, 1+r.IntN(6))
		for i := range boxes {
			boxes[i] = Box{Number: i, Riser: length(0.15), Tread: length(0.8), Width: length(1.2), BankLeft: length(0.3), Landing: r.IntN(3) == 0}
		}
		off, err := TakeOff(boxes, d)
		if err != nil {
			continue
		}
		stock := []Stock{
			{Section: "6x6", Length: length(4) + 2.4, Price: amount()},
			{Section: "6x6", Length: length(5) + 2.4, Price: amount(), Available: r.IntN(50) - r.IntN(2)},
			{Section: "no4-bar", Length: length(6) + 1, Unpriced: r.IntN(2) == 0, Price: amount()},
		}
		plan, err := Cut(off.Pieces, stock, CutOptions{Kerf: length(0.003), Trim: length(0.005), Effort: 3000,
			KeepFrom: length(0.3), LongestBoard: length(8) * unit.Length(r.IntN(2)), FactoryEnds: []FactoryEnds{{ItemRiserTimber, r.IntN(2)}}})
		if err != nil {
			continue
		}
		off = off.Treat(plan)
		bill, err := MakeBill(off, plan, PriceList{Currency: "GBP", Tax: amount().Shift(-6), Items: []Price{
			{Item: ItemBase, Price: amount(), Per: PerTonne, Pack: amount()},
			{Item: ItemPreservative, Price: amount(), Per: PerLitre, Pack: amount(), Least: amount()},
		},
			Deliveries: []Delivery{{Price: amount(), Load: amount(), Per: PerTonne, Unpriced: r.IntN(2) == 0}},
			Labour:     []Labour{{Hours: amount(), Rate: amount()}}, Markup: amount().Shift(-5)})
		if err != nil {
			continue
		}
		answered++
		if bill.Total.IsNegative() || plan.Bound.GreaterThan(plan.Cost) {
			t.Errorf("case %d: total %v, cost %v, bound %v", n, bill.Total, plan.Cost, plan.Bound)
		}
		for _, it := range off.Items {
			for _, x := range []float64{it.Need.Length.Meters(), it.Need.Volume.CubicMeters(), it.Order.Volume.CubicMeters(), it.Need.Mass.Kilograms(), it.Order.Area.SquareMeters()} {
				if !finite(x) || x < 0 {
					t.Errorf("case %d: %+v", n, it)
				}
			}
			if it.Order.Count < 0 || (it.Order.Count < it.Need.Count && it.ID != ItemPreservative) {
				t.Errorf("case %d: %+v orders less than it needs", n, it)
			}
		}
	}
	if answered < 300 {
		t.Errorf("only %d were answered", answered)
	}
}
