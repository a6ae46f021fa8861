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
	// 1 × skip, full by volume
	// 1 × roll-off bin, full by payload
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

// A path on a side hill that turns into the hill digs less than its length says, as
// the high side of the cut is on the inside of the bend.
func ExampleGround_WithBends() {
	ground, _ := earthwork.NewGround([]earthwork.Point{{Station: 0, Level: 0, Crossfall: 0.3}, {Station: 6, Level: 2, Crossfall: 0.3}})
	section := earthwork.Section{Width: 1.2, Working: 0.15, Batter: 0.5}
	stretch := earthwork.Stretch{To: 6, Formation: earthwork.Line{Level: -0.3, Grade: 1.0 / 3}}
	for _, right := range []bool{true, false} {
		bent, err := ground.WithBends([]earthwork.Bend{{From: 1, To: 5, Radius: 3, Right: right}})
		if err != nil {
			fmt.Println(err)
			return
		}
		dug, err := bent.Dig(section, stretch)
		if err != nil {
			fmt.Println(err)
			return
		}
		left, _ := bent.ParallelLength(0, 6, -0.6)
		fmt.Printf("right %v: cut %.3f m³; left edge %.2f m long\n", right, dug.Cut.CubicMeters(), left.Meters())
	}
	// A bend too tight for the dig is refused.
	tight, _ := ground.WithBends([]earthwork.Bend{{From: 1, To: 2, Radius: 0.9, Right: true}})
	_, err := tight.Dig(section, stretch)
	fmt.Println(err)
	// Output:
	// right true: cut 2.990 m³; left edge 6.80 m long
	// right false: cut 3.397 m³; left edge 5.20 m long
	// bends[0].radius: "900 mm (35.43 in)" is not more than the dig reaches towards the centre of the bend, 1.059 m (3.47 ft) at 1.000 m (3.28 ft); give a wider bend, a narrower path or working space, a steeper batter, or dig less deep there
}

// What is over at two steps fills a third; the rest goes to a heap and a skip.
func ExampleHaulPlan() {
	loam, _ := earthwork.SoilByID("loam")
	steps := []earthwork.HaulStep{
		{Riser: 1, Station: 0.5, Level: 0.2, CutBank: 0.4},
		{Riser: 2, Station: 1.5, Level: 0.4, FillCompacted: 0.3},
		{Riser: 3, Station: 2.5, Level: 0.6, CutBank: 0.9, BackfillCompacted: 0.1},
	}
	places := []earthwork.Place{
		{Name: "terrace", Station: 2.5, Offset: 4, Capacity: 0.5},
		{Name: "skip", Station: 0, Offset: 6, Extra: 20},
	}
	haul, err := earthwork.HaulPlan(loam, steps, places, earthwork.HaulCost{Climb: 5})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range haul.Curve {
		fmt.Printf("step %d: cut %.3f, need %.3f, up to here %.3f m³\n", p.Riser, p.Cut.CubicMeters(), p.Need.CubicMeters(), p.Cumulative.CubicMeters())
	}
	for _, m := range haul.Moves {
		to := m.ToPlace
		if to == "" {
			to = fmt.Sprint("step ", m.ToRiser)
		}
		fmt.Printf("%.3f m³ from step %d to %s, %.1f m, %.1f m up\n", m.Loose.CubicMeters(), m.FromRiser, to, m.Distance.Meters(), m.Climb.Meters())
	}
	fmt.Printf("mean %.2f m\n", haul.MeanDistance.Meters())
	// Output:
	// step 1: cut 0.500, need 0.000, up to here 0.500 m³
	// step 2: cut 0.000, need 0.417, up to here 0.083 m³
	// step 3: cut 1.125, need 0.139, up to here 1.069 m³
	// 0.500 m³ from step 1 to skip, 6.5 m, 0.0 m up
	// 0.069 m³ from step 3 to skip, 8.5 m, 0.0 m up
	// 0.417 m³ from step 3 to step 2, 1.0 m, 0.0 m up
	// 0.500 m³ from step 3 to terrace, 4.0 m, 0.0 m up
	// mean 4.21 m
}

// The parts of a tread's dig, and a trench for its timber.
func ExampleGround_DigParts() {
	ground, _ := earthwork.NewGround([]earthwork.Point{{Station: 0, Level: 0.2}, {Station: 1, Level: 0.5}})
	parts, err := ground.DigParts(
		earthwork.Section{Width: 1.2, Working: 0.15, Batter: 0.25},
		earthwork.Stretch{To: 1},
		[]earthwork.Layer{{ID: "base", Name: "base gravel", Thickness: 0.1}, {ID: "topping", Name: "topping", Thickness: 0.05}},
		0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	trench := earthwork.Trench{Depth: 0.1, Breadth: 0.25, Length: 1.5}
	parts = append(parts, trench.Part("trench", "trench for the riser timber", 1))
	for _, p := range parts {
		fmt.Printf("%-28s %.3f m³\n", p.Name, p.Bank.CubicMeters())
	}
	fmt.Printf("%-28s %.3f m³\n", "together", parts.Sum().CubicMeters())
	// Output:
	// topsoil                      0.165 m³
	// base gravel                  0.120 m³
	// topping                      0.055 m³
	// above the path               0.125 m³
	// working space beside the path 0.075 m³
	// sides cut back               0.017 m³
	// trench for the riser timber  0.038 m³
	// together                     0.595 m³
}

// A storm of 60 mm an hour on a wooded slope above the path, and the swale for it.
func ExampleRunoff() {
	wood, _, _ := earthwork.RunoffCoefficientOf("woodland", "silt-loam", 0.2)
	q, err := earthwork.Runoff(60e-3/3600, earthwork.Surface{Coefficient: wood.High, Area: 400})
	if err != nil {
		fmt.Println(err)
		return
	}
	swale := earthwork.Channel{Bottom: 0.2, Depth: 0.10, Side: 2, Grade: 0.02, Roughness: 0.035}
	full, _ := swale.Flow()
	depth, _ := swale.DepthFor(q)
	fmt.Printf("%.1f l/s; the swale carries %.1f l/s, and this runs %.0f mm deep\n", q.LitersPerSecond(), full.LitersPerSecond(), depth.Millimeters())
	// Output:
	// 3.3 l/s; the swale carries 25.3 l/s, and this runs 35 mm deep
}

// A bank too steep for its clay.
func ExampleCheckBank() {
	clay, _ := earthwork.SoilByID("clay")
	found, _ := earthwork.CheckBank(earthwork.Bank{Depth: 1.6, Batter: 0.5, Soil: clay})
	for _, c := range found {
		fmt.Printf("%s %s: %.2f, limit %.2f (%s)\n", c.Severity, c.ID, c.Actual, c.Limit, c.Source)
	}
	// Output:
	// stop bank-height: 1.60, limit 1.52 (29 CFR 1926.652(a)(1))
	// stop bank-slope: 0.50, limit 1.00 (29 CFR 1926 Subpart P, App. B table B-1 (slopes), App. A (types))
	// warn bank-way-out: 1.60, limit 1.22 (29 CFR 1926.651(c)(2))
}

// A timber lifted from the ground at arm's length.
func ExampleLift() {
	lift := earthwork.Lift{Horizontal: 16 * unit.Inch, Vertical: 6 * unit.Inch, Travel: 24 * unit.Inch, PerMinute: 0.2, Hours: 2, Coupling: earthwork.Fair}
	limit, err := lift.Limit()
	if err != nil {
		fmt.Println(err)
		return
	}
	people, ok := earthwork.People(30*unit.Kilogram, limit)
	fmt.Printf("one person %.1f kg, two %.1f kg; 30 kg: %d %v\n", limit.Kilograms(), earthwork.TeamLimit(2, limit).Kilograms(), people, ok)
	// Output:
	// one person 9.6 kg, two 12.8 kg; 30 kg: 3 false
}
