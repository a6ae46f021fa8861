package stair_test

import (
	"fmt"
	"math"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/stair"
)

// A bank with an even slope of 1 in 3: each cell costs what is cut or filled
// under it, per metre of width, and a path may stand within half a metre of the
// ground. An invented site.
type bank struct{}

func (bank) Cells(at []unit.Length, l stair.Line, cost []float64, bears []bool) {
	above := func(x unit.Length) float64 { return x.Meters()/3 - l.At(x).Meters() } // ground above surface
	for i := range cost {
		a, b, width := above(at[i]), above(at[i+1]), (at[i+1] - at[i]).Meters()
		if a*b >= 0 {
			cost[i] = math.Abs(a+b) / 2 * width
		} else { // part cut, part fill: two triangles
			cost[i] = (a*a + b*b) / (2 * math.Abs(a-b)) * width
		}
		bears[i] = math.Abs(a) < 0.5 && math.Abs(b) < 0.5
	}
}

func (bank) Riser(unit.Length) float64 { return 0 }

func ExampleLay() {
	foot := stair.Point{}
	head := stair.Point{Station: 5.2 * unit.Meter, Level: 1.304 * unit.Meter}
	l, err := stair.Lay(foot, head, 0.02, []stair.FixedFlight{
		{Risers: 4, Tread: 400 * unit.Millimeter, Landing: 1.6 * unit.Meter},
		{Risers: 6, Tread: 480 * unit.Millimeter},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d risers of %.1f mm\n", l.Risers, l.Riser.Millimeters())
	for _, m := range l.StakeOut(nil)[:5] {
		fmt.Printf("riser %d: %.3f m from the foot, %.3f m below the head\n", m.Riser, m.FromFoot.Meters(), m.Drop.Meters())
	}
	// Output:
	// 10 risers of 120.0 mm
	// riser 1: 0.000 m from the foot, 1.184 m below the head
	// riser 2: 0.400 m from the foot, 1.056 m below the head
	// riser 3: 0.800 m from the foot, 0.928 m below the head
	// riser 4: 1.200 m from the foot, 0.800 m below the head
	// riser 5: 2.800 m from the foot, 0.648 m below the head
}

func ExampleLay_faults() {
	head := stair.Point{Station: 4.5 * unit.Meter, Level: 1 * unit.Meter}
	_, err := stair.Lay(stair.Point{}, head, 0, []stair.FixedFlight{
		{Risers: 3, Tread: 500 * unit.Millimeter, Landing: 1.5 * unit.Meter},
		{Risers: 4, Tread: 500 * unit.Millimeter},
	})
	fmt.Println(err)
	// Output:
	// flights: end 500 mm (1 ft 7 11/16 in) short of the head; a landing of 2.000 m (6 ft 6 3/4 in) at flights[0].landing fills the run of 4.500 m (14 ft 9 3/16 in)
}

func ExampleFit() {
	rules, _ := stair.RuleSetByID("trail-timber")
	limits := rules.Limits()
	limits.RiserMax = 180 * unit.Millimeter // steeper ground than the specification is for
	head := stair.Point{Station: 6 * unit.Meter, Level: 2 * unit.Meter}
	f, err := stair.Fit(stair.Point{}, head, limits, bank{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, g := range f.Layout.Flights {
		fmt.Printf("%d risers of %.1f mm, treads of %.1f mm\n", g.Risers, f.Layout.Riser.Millimeters(), g.Tread.Millimeters())
	}
	fmt.Printf("%.3f m³ for each metre of width\n", f.Cost)
	// Output:
	// 13 risers of 153.8 mm, treads of 500.0 mm
	// 0.321 m³ for each metre of width
}

// When nothing fits, the fault says what stands in the way and what would do.
func ExampleFit_infeasible() {
	rules, _ := stair.RuleSetByID("trail-timber")
	head := stair.Point{Station: 6 * unit.Meter, Level: 2 * unit.Meter}
	_, err := stair.Fit(stair.Point{}, head, rules.Limits(), bank{})
	for _, part := range strings.Split(err.Error(), "; ") {
		fmt.Println(part)
	}
	// Output:
	// tread_min: no layout fits: the run of 6.000 m (19 ft 8 1/4 in) is too short for a rise of 2.000 m (6 ft 6 3/4 in)
	// any one of these would do, the smallest change first: risers up to 153.8 mm (6 1/16 in) instead of 150 mm (5 7/8 in) (makes 13 risers of 153.8 mm (6 1/16 in))
	// treads down to 461.5 mm (1 ft 6 3/16 in) instead of 500 mm (1 ft 7 11/16 in) (makes 14 risers of 142.9 mm (5 5/8 in))
	// 500 mm (1 ft 7 11/16 in) more run at the same rise, if the ground bears there. Tried: of 14 to 20 risers, 14 risers of 142.9 mm (5 5/8 in): they take 6.500 m (21 ft 3 7/8 in) of run at least, and there are 6.000 m (19 ft 8 1/4 in)
}

func ExampleRuleSet_Check() {
	l, err := stair.Lay(stair.Point{}, stair.Point{Station: 27 * unit.Inch, Level: 24 * unit.Inch}, 0,
		[]stair.FixedFlight{{Risers: 4, Tread: 9 * unit.Inch}})
	if err != nil {
		fmt.Println(err)
		return
	}
	rules, _ := stair.RuleSetByID("irc-2021")
	for _, f := range rules.Check(l, stair.Facts{Width: 36 * unit.Inch}) {
		if f.Severity != stair.Note {
			fmt.Println(f.Severity, f.Clause, f.Says)
		}
	}
	// Output:
	// stop R311.7.5.2 the tread, 228.6 mm (9 in), is less than 254 mm (10 in)
	// warn R311.7.8 the number of risers in the flight is 4: a handrail on one side is asked for from 4 (34 to 38 in above the line of nosings)
}
