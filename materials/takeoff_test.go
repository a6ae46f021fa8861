package materials

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

func sections(t testing.TB, names ...string) []Section {
	t.Helper()
	var list []Section
	for _, n := range names {
		s, err := SectionByName(n)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, s)
	}
	return list
}

func itemOf(t *testing.T, off Takeoff, id string) Item {
	t.Helper()
	for _, it := range off.Items {
		if it.ID == id {
			return it
		}
	}
	t.Fatalf("no %s in the take-off", id)
	return Item{}
}

// Two steps of 6x6 (5.5 × 5.5 in), drawn and counted by hand. All inches.
//
//	path 48 wide; riser 1 is 6, tread 1 is 52 deep; riser 2 is 11.5, last, its
//	sides run 24 into the bank. Layers: 1 topping, 3 fill, 4 base.
//
//	      side view                           ____________ riser 2, two courses
//	                              [5.5][ 24  ]  11 + 0.5 bedding
//	    ________________________ [5.5][ 24  ]
//	    [5.5][ 46.5 side    |5.5 ]  riser 2 stands on the sides of box 1
//	0 ..↑ riser 1, one course 5.5 + 0.5 bedding
//	    |<------- 52 ----------->|
//
// Box 1: one course. Riser timber 48. Sides: from the riser's back (5.5) to the
// next face (52) is 46.5, and 5.5 under riser 2: 52. Deeper than 48, so one
// cross piece of 48 − 11 = 37.
// Box 2: two courses: risers 2 × 48, sides 4 × 24, no cross piece.
//
// Timber: risers 3 × 48; sides 2 × 52 and 4 × 24; cross piece 37.
// Pins: riser 48: (48 − 24)/48 rounds up to 1, so 2; side 52: 28/48, 2; side 24:
// nothing between the ends, 2. Box 1: 2 + 2×2 = 6, box 2: 6. Length: box 1
// 5.5 + 18 = 23.5, so 24; box 2 11 + 18 = 29.
// Joints: box 1 2 corners + 2 ends of the cross piece + 2 bearings = 6; box 2
// 2 courses × 2 = 4. Screws 10 × 2 = 20.
func TestTakeOffByHand(t *testing.T) {
	d := DefaultBoxDetail()
	off, err := TakeOff([]Box{
		{Number: 1, Riser: in(6), Tread: in(52), Width: in(48)},
		{Number: 2, Riser: in(11.5), Tread: 0, Width: in(48)},
	}, d)
	if err != nil {
		t.Fatal(err)
	}
	want := []Piece{
		{"6x6", in(48), 3, ItemRiserTimber},
		{"6x6", in(52), 2, ItemSideTimber},
		{"6x6", in(24), 4, ItemSideTimber},
		{"6x6", in(37), 1, ItemCrossPiece},
		{"no4-bar", in(29), 6, ItemPin},
		{"no4-bar", in(24), 6, ItemPin},
	}
	if len(off.Pieces) != len(want) {
		t.Fatalf("pieces %+v", off.Pieces)
	}
	for i, w := range want {
		g := off.Pieces[i]
		if g.Section != w.Section || g.Use != w.Use || g.Count != w.Count || !near(g.Length.Meters(), w.Length.Meters(), 1e-12) {
			t.Errorf("piece %d is %+v, want %+v", i, g, w)
		}
	}
	if n := itemOf(t, off, ItemScrew); n.Need.Count != 20 || n.Order.Count != 21 {
		t.Errorf("screws %+v, want 20, and 21 with 5 %%", n)
	}
	if n := itemOf(t, off, ItemPin); n.Need.Count != 12 || n.Order.Count != 13 {
		t.Errorf("pins %+v, want 12, and 13 with 5 %%", n)
	}
	for i, w := range []struct{ bedding, buried float64 }{{0.5, 0}, {0.5, 0}} {
		if b := off.Boxes[i]; !near(b.Bedding.Meters(), w.bedding*0.0254, 1e-12) || !near(b.Buried.Meters(), w.buried*0.0254, 1e-12) {
			t.Errorf("box %d: bedding %v, buried %v", i+1, b.Bedding, b.Buried)
		}
	}
	// Layers, in cubic inches. Box 1 is 48 × 52 = 2496 in²; its frame is
	// 48 × 5.5 + 2 × 5.5 × 46.5 = 264 + 511.5 = 775.5, its cross piece
	// 37 × 5.5 = 203.5, all 5.5 deep from the surface.
	//   topping, 0 to 1: 2496 − 979 = 1517
	//   fill, 1 to 4: 3 × 1517 = 4551
	//   base, 4 to 8: 4 × 2496 − 1.5 × 979 = 9984 − 1468.5 = 8515.5
	// Box 2 is 48 × 29.5 = 1416 in², frame 264 + 2 × 5.5 × 24 = 528, 11 deep:
	//   topping 1416 − 528 = 888, fill 3 × 888 = 2664, base 4 × 888 = 3552;
	// the sides of box 1 under it begin 11.5 below, deeper than the layers.
	for id, w := range map[string]float64{ItemTopping: 1517 + 888, ItemFill: 4551 + 2664, ItemBase: 8515.5 + 3552} {
		got := itemOf(t, off, id).Need.Volume.CubicMeters() / (0.0254 * 0.0254 * 0.0254)
		if !near(got, w, 1e-6) {
			t.Errorf("%s: %.3f in³, want %.3f", id, got, w)
		}
	}
	// Fabric: 48 × (52 + 12) + 48 × (29.5 + 12) = 5064 in².
	if got := itemOf(t, off, ItemFabric).Need.Area.SquareMeters() / (0.0254 * 0.0254); !near(got, 5064, 1e-6) {
		t.Errorf("fabric %.3f in², want 5064", got)
	}
	// The riser timber weighs 48 × 30.25 in³ at 41.4 lb/ft³: 34.8 lb; the side
	// of 52 in is the heaviest, 37.69 lb.
	if got := off.Boxes[0].HeaviestPiece.Kilograms() / 0.45359237; !near(got, 52*30.25/1728*41.4, 1e-9) {
		t.Errorf("heaviest piece %.3f lb", got)
	}

	// Sawn from 8-ft 6x6 with 1/8 in kerf: 3 × 48, 2 × 52, 4 × 24, 37. Two of 48
	// and a kerf are 96 1/8, so of the six longest only 37 shares a board with
	// another: at least five boards. 48+24, 48+24, 48+37, 52+24, 52+24 are five.
	stock := []Stock{{Section: "6x6", Length: in(96), Price: money("32.50")}}
	plan, err := Cut(off.Pieces, stock, CutOptions{Kerf: in(0.125)})
	if err != nil {
		t.Fatal(err)
	}
	if plan.Groups[0].Boards != 5 || !plan.Proven || !plan.Cost.Equal(money("162.50")) || len(plan.Unstocked) != 2 {
		t.Errorf("%d boards for %v, proven %v, unstocked %v", plan.Groups[0].Boards, plan.Cost, plan.Proven, plan.Unstocked)
	}
	// Every board is cut and has an offcut, so each keeps one factory end:
	// 10 pieces have 20 ends, less 5 is 15, at 30.25 in², two coats at 75 ft² a
	// gallon: 15 × 30.25 / 144 × 2 / 75 = 0.08403 gal.
	p := itemOf(t, off.Treat(plan), ItemPreservative)
	if got := p.Need.Volume.CubicMeters() / 0.003785411784; p.Need.Count != 15 || !near(got, 15*30.25/144*2/75, 1e-9) {
		t.Errorf("%d ends, %.5f gal", p.Need.Count, got)
	}
}

// A riser that courses overshoot is buried, and the sides below stop at it.
func TestTakeOffBuried(t *testing.T) {
	d := DefaultBoxDetail()
	d.MaxBedding = 0
	off, err := TakeOff([]Box{
		{Number: 1, Riser: in(5.5), Tread: in(30), Width: in(40)},
		{Number: 2, Riser: in(7), Tread: in(30), Width: in(40)},
		{Number: 3, Riser: in(5.5), Width: in(40)},
	}, d)
	if err != nil {
		t.Fatal(err)
	}
	b := off.Boxes
	if b[1].Courses != 2 || !near(b[1].Buried.Meters(), in(4).Meters(), 1e-12) || b[1].Bedding != 0 {
		t.Errorf("%+v", b[1])
	}
	// 30 − 5.5 where the next is buried, and 5.5 more where it is not.
	if !near(b[0].SideTimber.Meters(), in(24.5).Meters(), 1e-12) || !near(b[1].SideTimber.Meters(), in(30).Meters(), 1e-12) {
		t.Errorf("sides %v, %v", b[0].SideTimber, b[1].SideTimber)
	}
	if len(off.Notes) == 0 {
		t.Error("no note says that riser 2 is buried")
	}
}

func TestCourses(t *testing.T) {
	d := DefaultBoxDetail() // 5.5 in, bedding up to 1 in
	for _, c := range []struct {
		riser           float64
		courses         int
		bedding, buried float64
	}{
		{5.5, 1, 0, 0}, {6.5, 1, 1, 0}, {6.501, 2, 0, 4.499}, {4, 1, 0, 1.5}, {11, 2, 0, 0}, {12, 2, 1, 0}, {12.01, 3, 0, 4.49},
	} {
		n, bedding, buried := d.Courses(in(c.riser))
		if n != c.courses || !near(bedding.Meters(), c.bedding*0.0254, 1e-9) || !near(buried.Meters(), c.buried*0.0254, 1e-9) {
			t.Errorf("riser %v: %d courses, %v bedding, %v buried, want %+v", c.riser, n, bedding, buried, c)
		}
	}
	d.OnEdge = true
	d.Timber = sections(t, "100x200")[0]
	if n, _, _ := d.Courses(mm(200)); n != 1 || d.Breadth() != mm(100) {
		t.Errorf("a sleeper on edge: %d courses, breadth %v", n, d.Breadth())
	}
}

func randomBoxes(r *rand.Rand, d BoxDetail) []Box {
	n := 1 + r.IntN(12)
	boxes := make([]Box, n)
	riser, width := mm(float64(100+r.IntN(150))), mm(float64(900+r.IntN(3000)))
	tread := mm(float64(300 + r.IntN(1200)))
	for i := range boxes {
		boxes[i] = Box{Number: i + 1, Riser: riser, Tread: tread, Width: width}
	}
	boxes[n-1].Tread = 0
	return boxes
}

// On random paths: pieces cover every riser and side, gravel and timber fill
// the box exactly, and masses are volumes times densities.
func TestTakeOffProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	timbers := sections(t, "6x6", "4x6", "100x200", "125x250")
	for n := 0; n < 300; n++ {
		d := DefaultBoxDetail()
		d.Timber = timbers[r.IntN(len(timbers))]
		d.OnEdge = r.IntN(2) == 0
		d.LongestTimber = mm(float64(1000 + r.IntN(4000)))
		d.Base = mm(float64(r.IntN(400)))
		boxes := randomBoxes(r, d)
		off, err := TakeOff(boxes, d)
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		length := map[string]float64{}
		for _, p := range off.Pieces {
			length[p.Use] += float64(p.Count) * p.Length.Meters()
			if p.Use != ItemPin && p.Length > d.LongestTimber+unit.Nanometer {
				t.Errorf("case %d: %+v is longer than %v", n, p, d.LongestTimber)
			}
		}
		risers, sides := 0.0, 0.0
		w, h := d.Breadth().Meters(), d.Course().Meters()
		for i, b := range boxes {
			p := off.Boxes[i]
			made := float64(p.Courses)*h + p.Bedding.Meters() - p.Buried.Meters()
			if !near(made, b.Riser.Meters(), 1e-9) || p.Bedding > d.MaxBedding+unit.Nanometer || (p.Bedding > 0 && p.Buried > 0) {
				t.Errorf("case %d: %d courses make %v of a riser of %v", n, p.Courses, made, b.Riser)
			}
			risers += float64(p.Courses) * b.Width.Meters()
			inside := b.Tread.Meters() - w // at least this much of each side
			if b.Tread == 0 {
				inside = d.HeadReturn.Meters()
			}
			sides += 2 * float64(p.Courses) * inside
			// Geometry: layers and the timber within their depth fill the box.
			if stack := float64(p.Courses) * h; stack <= d.BuildUp().Meters() && (i == 0 || p.Buried > 0 || b.Riser.Meters() >= d.BuildUp().Meters()) {
				box := b.Width.Meters() * (inside + w) * d.BuildUp().Meters()
				wood := (b.Width.Meters()*w+2*w*inside)*stack + float64(p.Crosses)*p.CrossPiece.Meters()*w*h
				all := p.Topping.CubicMeters() + p.Fill.CubicMeters() + p.Base.CubicMeters() + wood
				if !near(all, box, 1e-9) {
					t.Errorf("case %d box %d: layers and timber %v m³, box %v m³", n, i+1, all, box)
				}
			}
		}
		if !near(length[ItemRiserTimber], risers, 1e-6) || length[ItemSideTimber] < sides-1e-6 {
			t.Errorf("case %d: risers %v of %v, sides %v of %v", n, length[ItemRiserTimber], risers, length[ItemSideTimber], sides)
		}
		for _, it := range off.Items {
			var density float64
			switch it.ID {
			case ItemRiserTimber, ItemSideTimber, ItemCrossPiece:
				density = float64(d.TimberDensity)
				if v := d.Timber.Area().SquareMeters() * it.Need.Length.Meters(); !near(v, it.Need.Volume.CubicMeters(), 1e-9) {
					t.Errorf("case %d: %s volume %v, want %v", n, it.ID, it.Need.Volume, v)
				}
			case ItemPin:
				density = float64(SteelDensity)
			case ItemBase:
				density = float64(d.BaseGravel.Compacted)
				if it.Order.Volume.CubicMeters() < it.Need.Volume.CubicMeters()*d.BaseGravel.Factor()*(1+d.Waste.Gravel)-1e-12 {
					t.Errorf("case %d: %+v orders too little", n, it)
				}
			default:
				continue
			}
			if !near(it.Need.Mass.Kilograms(), density*it.Need.Volume.CubicMeters(), 1e-6) {
				t.Errorf("case %d: %s mass %v of %v at %v", n, it.ID, it.Need.Mass, it.Need.Volume, density)
			}
		}
	}
}

func TestTakeOffFaults(t *testing.T) {
	box := []Box{{Number: 1, Riser: in(6), Tread: in(40), Width: in(48)}}
	nan := unit.Length(math.NaN())
	for _, c := range []struct {
		name  string
		field string
		boxes []Box
		with  func(*BoxDetail)
	}{
		{"none", "boxes", nil, nil},
		{"no riser", "boxes[0].riser", []Box{{Tread: in(40), Width: in(48)}}, nil},
		{"not a number", "boxes[0].tread", []Box{{Riser: in(6), Tread: nan, Width: in(48)}}, nil},
		{"endless", "boxes[0].width", []Box{{Riser: in(6), Tread: in(40), Width: unit.Length(math.Inf(1))}}, nil},
		{"narrow", "boxes[0].width", []Box{{Riser: in(6), Tread: in(40), Width: in(11)}}, nil},
		{"tread under the timber", "boxes[0].tread", []Box{{Riser: in(6), Tread: in(5), Width: in(48)}}, nil},
		{"no timber", "detail.timber.name", box, func(d *BoxDetail) { d.Timber = Section{} }},
		{"no gravel", "detail.fill_gravel", box, func(d *BoxDetail) { d.FillGravel = Aggregate{} }},
		{"negative waste", "detail.waste.gravel", box, func(d *BoxDetail) { d.Waste.Gravel = -0.1 }},
		{"no pin spacing", "detail.pin_spacing", box, func(d *BoxDetail) { d.PinSpacing = 0 }},
		{"dense", "detail.timber_density", box, func(d *BoxDetail) { d.TimberDensity = Density(math.NaN()) }},
		{"too many", "boxes", make([]Box, MaxBoxes+1), nil},
	} {
		d := DefaultBoxDetail()
		if c.with != nil {
			c.with(&d)
		}
		_, err := TakeOff(c.boxes, d)
		var faults Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		found := false
		for _, f := range faults {
			found = found || f.Field == c.field
		}
		if !found {
			t.Errorf("%s: %v, want a fault in %s", c.name, err, c.field)
		}
	}
	if _, err := TakeOff(box, BoxDetail{}); err == nil {
		t.Error("the zero detail is accepted")
	}
}

// The sources' own figures: dressed sizes (NDS Supplement), bar masses per
// foot (ASTM A615: 0.376, 0.668, 1.043 lb/ft), aggregate factors (WSDOT).
func TestSectionFigures(t *testing.T) {
	for _, c := range []struct {
		name string
		t, w float64 // inches
	}{
		{"2x4", 1.5, 3.5}, {"2x6", 1.5, 5.5}, {"2x8", 1.5, 7.25}, {"2x10", 1.5, 9.25}, {"2x12", 1.5, 11.25},
		{"4x4", 3.5, 3.5}, {"4 x 6", 3.5, 5.5}, {"6×6", 5.5, 5.5}, {"6X8", 5.5, 7.5}, {"8x8", 7.5, 7.5},
		// By size: PS 20, boards and dimension lumber dry, timbers 1/2 in less.
		{"1x4", 0.75, 3.5}, {"1x12", 0.75, 11.25}, {"5/4x4", 1, 3.5}, {"3x8", 2.5, 7.25}, {"2.5 x 6", 2, 5.5}, {"2x14", 1.5, 13.25}, {"4x16", 3.5, 15.25},
		{"5x5", 4.5, 4.5}, {"8x12", 7.5, 11.5}, {"45x120", 45 / 25.4, 120 / 25.4}, {"22 × 145", 22 / 25.4, 145 / 25.4},
		{"100x200", 100 / 25.4, 200 / 25.4}, {"47x145", 47 / 25.4, 145 / 25.4},
	} {
		s := sections(t, c.name)[0]
		if !near(s.Thickness.Inches(), c.t, 1e-9) || !near(s.Width.Inches(), c.w, 1e-9) || s.Source == "" {
			t.Errorf("%s is %v × %v", c.name, s.Thickness.Inches(), s.Width.Inches())
		}
	}
	for name, lb := range map[string]float64{"no3-bar": 0.376, "no4-bar": 0.668, "no5-bar": 1.043} {
		m := SteelDensity.Of(sections(t, name)[0].Volume(unit.Foot)).Kilograms() / 0.45359237
		if !near(m, lb, 0.0015) {
			t.Errorf("%s weighs %.4f lb/ft, want %.3f", name, m, lb)
		}
	}
	for id, f := range map[string]float64{"ballast": 1.26, "crushed-top": 1.30, "crushed-base": 1.25} {
		a, _ := AggregateByID(id)
		if !near(a.Factor(), f, 0.006) {
			t.Errorf("%s: factor %.3f, want %.2f", id, a.Factor(), f)
		}
	}
	// earth.md T34: 1 yd³ of top course in place is 3700 lb, 1.298 yd³ loose.
	a, _ := AggregateByID("crushed-top")
	if lb := a.Compacted.Of(unit.CubicYard).Kilograms() / 0.45359237; !near(lb, 3700, 1e-6) || !near(a.Factor(), 1.298, 0.0005) {
		t.Errorf("%.3f lb, %.4f", lb, a.Factor())
	}
	seen := map[string]bool{}
	for _, s := range Sections() {
		var f Faults
		if s.check("s", &f); len(f) > 0 || seen[s.Name] {
			t.Errorf("%s: %v", s.Name, f)
		}
		seen[s.Name] = true
	}
	for _, name := range []string{"7x6", "6", "x", "6x", "x6", "0x6", "0.5x6", "13x14", "14x89", "6x25", "20x600", "120x45", "NaNx8", "infx8", "1e3x8", "5/0x6", "6x6x6", "-2x4"} {
		if s, err := SectionByName(name); err == nil {
			t.Errorf("%s is known: %+v", name, s)
		}
	}
}

// Cross pieces lie in the lowest course. One box of 60 × 40 in, two courses of
// 5.5: frame 40 × 5.5 + 2 × 5.5 × 54.5 = 819.5 in², one cross piece 29 × 5.5 =
// 159.5 in² from 5.5 to 11 deep. Layers 2, 4 and 6 in, plan 2400 in².
//
//	topping, 0 to 2: 2 × (2400 − 819.5) = 3161
//	fill, 2 to 6: 4 × 1580.5 − 0.5 × 159.5 = 6242.25
//	base, 6 to 12: 6 × 2400 − 5 × 819.5 − 5 × 159.5 = 9505
func TestTakeOffCrossPieceDepth(t *testing.T) {
	d := DefaultBoxDetail()
	d.Topping, d.Fill, d.Base = in(2), in(4), in(6)
	off, err := TakeOff([]Box{{Number: 1, Riser: in(11), Tread: in(60), Width: in(40)}}, d)
	if err != nil {
		t.Fatal(err)
	}
	b := off.Boxes[0]
	for i, c := range []struct{ got, want float64 }{{b.Topping.CubicMeters(), 3161}, {b.Fill.CubicMeters(), 6242.25}, {b.Base.CubicMeters(), 9505}} {
		if got := c.got / (0.0254 * 0.0254 * 0.0254); !near(got, c.want, 1e-6) {
			t.Errorf("layer %d: %.3f in³, want %.3f", i, got, c.want)
		}
	}
}
