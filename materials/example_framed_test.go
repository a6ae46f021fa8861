package materials_test

import (
	"fmt"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

// What is marked on a cut stringer.
func ExampleFramedFlight_Stringer() {
	flight := materials.FramedFlight{First: 1, Risers: 4, Riser: 7 * unit.Inch, Tread: 11 * unit.Inch, Width: 36 * unit.Inch}
	s, err := flight.Stringer(materials.DefaultFramedDetail())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("board %.2f in, throat %.2f in, pitch %.1f°\n", s.Length.Inches(), s.Throat.Inches(), s.Pitch.Degrees())
	for _, m := range s.Marks {
		fmt.Printf("riser %d: up %.4g, cut at %.4g, over %.4g, along %.2f\n", m.Riser, m.Rise.Inches(), m.Cut.Inches(), m.Run.Inches(), m.Along.Inches())
	}
	// Output:
	// board 38.31 in, throat 5.34 in, pitch 32.5°
	// riser 1: up 7, cut at 5.5, over 0, along 0.00
	// riser 2: up 14, cut at 12.5, over 11, along 13.04
	// riser 3: up 21, cut at 19.5, over 22, along 26.08
	// riser 4: up 28, cut at 0, over 33, along 39.12
}

// A flight's timbers, and what stands against its limits.
func ExampleFramedTakeOff() {
	detail := materials.DefaultFramedDetail()
	flight := materials.FramedFlight{First: 1, Risers: 6, Riser: 7 * unit.Inch, Tread: 11 * unit.Inch, Width: 42 * unit.Inch}
	off, err := materials.FramedTakeOff([]materials.FramedFlight{flight}, detail)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range off.Pieces {
		fmt.Printf("%d × %s %s, %.2f in\n", p.Count, p.Section, p.Use, p.Length.Inches())
	}
	checks, err := flight.Checks(detail)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range checks {
		if c.Open {
			fmt.Println("open:", c.Name)
		} else if !c.OK {
			fmt.Println("beyond:", c.Name)
		}
	}
	// Output:
	// 4 × 2x12 stringer, 65.39 in
	// 10 × 2x6 tread-board, 42.00 in
	// 6 × 1x8 riser-board, 42.00 in
	// 1 × 2x2 handrail, 65.19 in
	// 2 × 2x2 handrail, 4.00 in
	// open: handrail-load
}

// A run of lights: what the last lamp gets, and the thinnest cable that will do.
func ExampleLights() {
	lights := materials.DefaultLights(materials.SpreadLights(20*unit.Foot, 100*unit.Foot, 20*unit.Foot), 5*unit.Watt)
	volts, err := lights.Voltages()
	if err != nil {
		fmt.Println(err)
		return
	}
	last := volts[len(volts)-1]
	fmt.Printf("%d lamps, the last gets %.2f V\n", len(volts), last.Voltage.Volts())
	cable, ok, _ := lights.ThinnestCable()
	fmt.Println(cable.Gauge, "gauge will do:", ok)
	// Output:
	// 5 lamps, the last gets 11.51 V
	// 16 gauge will do: true
}
