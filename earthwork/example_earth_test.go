package earthwork_test

import (
	"fmt"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
)

// A box step with a tread of a metre on a bank of 1 in 3 that also falls across: what is
// dug, filled and put back for one tread.
func ExampleGround_Dig() {
	ground, err := earthwork.NewGround([]earthwork.Point{
		{Station: 0, Level: 0, Crossfall: 0.10},
		{Station: 3, Level: 1.00, Crossfall: 0.15},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	section := earthwork.Section{Width: 1.2, Working: 0.15, Batter: 0.25, FillBatter: 1.5}
	dug, err := ground.Dig(section, earthwork.Stretch{
		From: 1, To: 2,
		Formation: earthwork.Line{Station: 1, Level: 0.40, Grade: 0.02}, // the wash of the tread
		BuildUp:   0.20,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("cut %.3f m³, fill %.3f m³, back beside the box %.3f m³\n",
		dug.Cut.CubicMeters(), dug.Fill.CubicMeters(), dug.Backfill.CubicMeters())
	fmt.Printf("deepest %.0f mm at %.1f m, %.0f mm at its edge\n",
		dug.Deepest.Millimeters(), dug.DeepestAt.Meters(), dug.DeepestEdge.Millimeters())
	// Output:
	// cut 0.158 m³, fill 0.014 m³, back beside the box 0.032 m³
	// deepest 247 mm at 2.0 m, 347 mm at its edge
}

// A batter that never meets the ground is refused, and the fault says what would do.
func ExampleGround_Dig_steep() {
	ground, _ := earthwork.NewGround([]earthwork.Point{
		{Station: 0, Level: 0, Crossfall: 0.7},
		{Station: 3, Level: 1, Crossfall: 0.7},
	})
	_, err := ground.Dig(earthwork.Section{Width: 1.2, Batter: 1.5}, earthwork.Stretch{To: 3})
	fmt.Println(err)
	// Output:
	// ground: "crossfall 0.7 at 0 mm (0 in)" is so steep across that the side of the cut never meets it: batter × crossfall is 1 or more; take a steeper batter (a smaller number) where the soil stands, hold that side with a wall, or move the path
}

// The two-level section of the handbooks: 8 m wide, 1:1 sides, ground 1 in 10 across.
func ExampleSection_Cut() {
	section := earthwork.Section{Width: 8, Batter: 1}
	left, right, _ := section.Stakes(2, 0.1)
	fmt.Printf("%.3f m², pegs %.3f m left and %.3f m right\n", section.Cut(2, 0.1).SquareMeters(), left.Meters(), right.Meters())
	// Output:
	// 20.364 m², pegs 5.455 m left and 6.667 m right
}

// What becomes of the soil of a dig, and how often a barrow and a pickup go.
func ExampleSoil_Balance() {
	loam, _ := earthwork.SoilByID("loam")
	b := loam.Balance(4*unit.CubicMeter, 0.5*unit.CubicMeter, 0.4*unit.CubicMeter)
	fmt.Printf("%.2f m³ dug, %.2f put back, %.2f left over: %.2f loose, %.0f kg\n",
		b.CutBank.CubicMeters(), b.ReusedBank.CubicMeters(), b.SpoilBank.CubicMeters(), b.SpoilLoose.CubicMeters(), b.SpoilMass.Kilograms())
	for _, c := range earthwork.Carriers() {
		l, err := b.Loads(c)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%d × %s, full by %s\n", l.Count, c.Name, l.Binds)
	}
	depth, _ := earthwork.SpreadDepth(b.SpoilLoose, 40*unit.SquareMeter)
	fmt.Printf("spread over 40 m²: %.0f mm\n", depth.Millimeters())
	// Output:
	// 4.00 m³ dug, 1.00 put back, 3.00 left over: 3.75 loose, 4806 kg
	// 45 × barrow on the level, full by volume
	// 67 × barrow on a slope, full by volume
	// 8 × pickup, full by payload
	// 1 × dump truck, full by volume
	// spread over 40 m²: 94 mm
}

// Time for a small flight, and the weekends of two people.
func ExampleSoil_Hours() {
	clay, _ := earthwork.SoilByID("clay")
	h := clay.Hours(earthwork.Work{
		CutBank: 3, DigDepth: 0.6, SpoilLoose: 2.5, HaulDistance: 15, Steep: true,
		FillCompacted: 0.6, GravelCompacted: 1.2, GravelDistance: 25, Boxes: 8,
	})
	for _, a := range h.Activities {
		fmt.Printf("%-30s %5.1f %5.1f %5.1f h\n", a.Name, a.Time.Low.Hours(), a.Time.Likely.Hours(), a.Time.High.Hours())
	}
	s, err := h.Days(earthwork.Crew{People: 2, HoursPerDay: 6, DaysPerWeek: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	w, _ := s.Weekends()
	fmt.Printf("%d to %d days; %d weekends, %d at the worst\n", s.Days.Low, s.Days.High, w.Likely, w.High)
	// Output:
	// digging                          6.5  17.2  21.5 h
	// loading and barrowing spoil      2.4   3.1   3.9 h
	// filling and ramming in layers    1.0   1.2   1.5 h
	// loading and barrowing gravel     1.6   2.3   2.6 h
	// spreading and tamping gravel     1.5   1.8   2.4 h
	// building boxes                  12.0  20.0  32.0 h
	// 3 to 6 days; 2 weekends, 3 at the worst
}

// The cells of a fit: many thin slices of a path under one formation.
func ExampleGround_CutCells() {
	ground, _ := earthwork.NewGround([]earthwork.Point{{Station: 0, Level: 0}, {Station: 1, Level: 0.4}, {Station: 2, Level: 0.3}})
	at := []unit.Length{0, 0.5, 1, 1.5, 2}
	cut := make([]unit.Volume, 4)
	deepest, highest := make([]unit.Length, 4), make([]unit.Length, 4)
	err := ground.CutCells(earthwork.Section{Width: 1, Batter: 0.5}, at, earthwork.Line{Level: 0.1}, cut, deepest, highest)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range cut {
		fmt.Printf("%.4f m³, %.3f m deep, %.3f m high\n", cut[i].CubicMeters(), deepest[i].Meters(), highest[i].Meters())
	}
	// Output:
	// 0.0129 m³, 0.100 m deep, 0.100 m high
	// 0.1108 m³, 0.300 m deep, 0.000 m high
	// 0.1565 m³, 0.300 m deep, 0.000 m high
	// 0.1252 m³, 0.250 m deep, 0.000 m high
}
