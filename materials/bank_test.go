package materials

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// A bank tied back, drawn and counted by hand. All inches.
//
//	one box of 6x6 (5.5 × 5.5), path 48 wide, riser 5.5, tread 40; the bank on
//	the left stands 26 above the tread, over 24; on the right 10.
//
// Left: 26 by 5.5 is five courses. The second and the fourth hold one deadman
// each, since 40 is less than 96: 48 into the bank and 5.5 in the course, 53.5,
// with a cross piece of 24. Beside one 40 − 5.5 = 34.5 is left, two parts of
// 17.25. Three whole timbers of 40 with spikes at 0, 24 and 40: nine; four parts
// with spikes at their ends: eight; two a deadman: four; 21. Right: two courses
// of 40: six spikes. The bars through deadman and cross piece: 11 + 18 is 29.
func TestDeadmenByHand(t *testing.T) {
	d := DefaultBoxDetail()
	d.BankTo = in(48)
	box := []Box{{Number: 1, Riser: in(5.5), Tread: in(40), Width: in(48), BankLeft: in(26), BankRight: in(10)}}
	off, err := TakeOff(box, d)
	if err != nil {
		t.Fatal(err)
	}
	want := []Piece{
		{"6x6", in(48), 1, ItemRiserTimber},
		{"6x6", in(34.5), 2, ItemSideTimber},
		{"6x6", in(40), 5, ItemBankTimber}, {"6x6", in(17.25), 4, ItemBankTimber},
		{"6x6", in(53.5), 2, ItemDeadman},
		{"6x6", in(24), 2, ItemDeadmanCross},
		{"no4-bar", in(29), 2, ItemPin}, {"no4-bar", in(24), 6, ItemPin},
	}
	wantPieces(t, off, want)
	if n := itemOf(t, off, ItemSpike); n.Need.Count != 27 || !strings.Contains(n.Note, "4 to 5 in more") {
		t.Errorf("%+v", n)
	}
	// Timber: 48 + 2 × 34.5 + 5 × 40 + 4 × 17.25 + 2 × 77.5 of 5.5 × 5.5.
	if v := off.Boxes[0].Timber.CubicMeters() / cubicInch; !near(v, (48+69+200+69+155)*30.25, 1e-6) {
		t.Errorf("timber %v in³", v)
	}
	if !strings.Contains(said(off), "the bank on the left is tied back: 1 in every second course from the second, reaching 1.2192 m into the bank") {
		t.Error(said(off))
	}

	// Bars in place of spikes: left six timbers with the side, three tiers of
	// three (1–3, 3–5, 4–6), at two ends of two parts: 4 × 3; right three timbers,
	// one tier, at two ends. Only the deadmen have spikes.
	d.BankBars, d.Spike = true, in(10)
	off, err = TakeOff(box, d)
	if err != nil {
		t.Fatal(err)
	}
	wantPieces(t, off, append(want[:6:6], Piece{"no4-bar", in(29), 2, ItemPin}, Piece{"no4-bar", in(24), 6, ItemPin}, Piece{"no4-bar", in(16.5), 14, ItemPin}))
	if n := itemOf(t, off, ItemSpike); n.Need.Count != 4 || !strings.Contains(n.Note, "0.254 m long") {
		t.Errorf("%+v", n)
	}

	// A long box has more of them; a short one no stubs beside it; a bank higher
	// than 48 longer ones.
	for _, c := range []struct {
		tread, bank         float64
		deadmen, inCourse   int
		cuts                int
		deadman, cut, whole float64
	}{
		{100, 26, 4, 2, 6, 53.5, (100 - 11) / 3.0, 100},
		{18, 26, 2, 1, 2, 53.5, 12.5, 18},
		{40, 24, 0, 0, 0, 0, 0, 40},
		{40, 48, 4, 1, 8, 53.5, 17.25, 40},
	} {
		d.BankBars = false
		off, err := TakeOff([]Box{{Number: 1, Riser: in(5.5), Tread: in(c.tread), Width: in(48), BankLeft: in(c.bank)}}, d)
		if err != nil {
			t.Fatal(err)
		}
		b := off.Boxes[0].Banks[0]
		if b.Deadmen != c.deadmen || b.InCourse != c.inCourse || b.Cuts != c.cuts || !near(b.Deadman.Inches(), c.deadman, 1e-9) ||
			!near(b.Cut.Inches(), c.cut, 1e-9) || !near(b.Timber.Inches(), c.whole, 1e-9) {
			t.Errorf("%+v: %+v", c, b)
		}
	}
	d.NoDeadmen = true
	if off, err := TakeOff(box, d); err != nil || off.Boxes[0].Banks[0].Deadmen != 0 || off.Boxes[0].Banks[0].Timbers != 5 {
		t.Errorf("%+v %v", off.Boxes[0].Banks, err)
	}
	d = DefaultBoxDetail()
	d.Pin, d.BankBars = Section{}, true
	_, err = TakeOff(box, d)
	wantFault(t, err, "detail.bank_bars")
	for field, with := range map[string]func(*BoxDetail){
		"detail.spike":          func(d *BoxDetail) { d.Spike = -1 },
		"detail.deadman_from":   func(d *BoxDetail) { d.DeadmanFrom = in(60) },
		"detail.deadman_length": func(d *BoxDetail) { d.DeadmanLength = unit.Length(math.NaN()) },
		"detail.deadman_every":  func(d *BoxDetail) { d.DeadmanEvery = mm(1) },
		"detail.deadman_cross":  func(d *BoxDetail) { d.DeadmanCross = 10 * unit.Meter },
	} {
		d := DefaultBoxDetail()
		with(&d)
		_, err := TakeOff(box, d)
		wantFault(t, err, field)
	}
}

func said(off Takeoff) string {
	all := ""
	for _, n := range off.Notes {
		all += n.Says + "\n"
	}
	return all
}

// A box on a bend is built as the wedge that it is: each side, and each bank's
// timbers, to their own length, and layers and wood fill its plan area, which is
// width times tread, exactly.
func TestBoxOnABend(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 25))
	for n := 0; n < 300; n++ {
		d := DefaultBoxDetail()
		d.Timber = sections(t, "6x6", "4x6", "100x200")[r.IntN(3)]
		d.LongestTimber = mm(float64(1500 + r.IntN(3000)))
		d.BankTo = in(48)
		d.Base = mm(float64(200 + r.IntN(300)))
		width := 900 + r.Float64()*900
		radius := width/2 + 200 + r.Float64()*3000
		b := Box{Number: 2, Riser: mm(100 + r.Float64()*100), Tread: mm(350 + r.Float64()*math.Min(1500, radius)), Width: mm(width), Radius: mm(radius), Right: r.IntN(2) == 0,
			BankLeft: mm(r.Float64() * 1100), BankRight: mm(r.Float64() * 1100)}
		boxes := []Box{b, b}
		boxes[1].Tread = 0 // the head: straight, whatever it is told
		off, err := TakeOff(boxes, d)
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		p := off.Boxes[0]
		_, _, buried := d.Courses(b.Riser)
		plan, err := b.wedge(buried == 0).Plan(d)
		if err != nil {
			t.Fatal(err)
		}
		if p.SideTimber != plan.OuterSide || p.Sides != p.Courses || p.InnerSide != plan.InnerSide || (p.InnerSides == p.Courses) != (plan.InnerSide > 0) {
			t.Errorf("case %d: %+v, wedge %+v", n, p, plan)
		}
		want := map[bool]float64{b.Right: plan.InnerFace.Meters() + plan.MitreWaste.Meters(), !b.Right: plan.OuterFace.Meters()}
		if want[b.Right] >= want[!b.Right] && plan.Mitre.Degrees() < 20 {
			t.Errorf("case %d: the inside is longer: %v", n, want)
		}
		h := d.Course().Meters()
		for _, x := range p.Banks {
			if !near(x.Timber.Meters(), want[x.Right], 1e-12) {
				t.Errorf("case %d: bank timbers of %v, the edge is %v", n, x.Timber, want[x.Right])
			}
			// Every course is covered from end to end.
			whole := float64(x.Courses) * x.Timber.Meters()
			got := float64(x.Timbers)*x.Timber.Meters() + float64(x.Cuts)*x.Cut.Meters() + float64(x.Deadmen)*d.Breadth().Meters()
			if math.Abs(whole-got) > 1e-9 || float64(x.Courses)*h < x.Height.Meters()-1e-6 {
				t.Errorf("case %d: courses of %v m, timbers of %v m: %+v", n, whole, got, x)
			}
			if tied := x.Height > 24*unit.Inch && x.Timber >= 2*d.Breadth(); (x.Deadmen > 0) != tied || tied && x.Deadmen != x.Courses/2*x.InCourse {
				t.Errorf("case %d: %+v", n, x)
			}
		}
		// The sum of all pieces is the wood that the part says.
		sum := 0.0
		for _, x := range p.Pieces {
			if x.Section == d.Timber.Name {
				sum += float64(x.Count) * x.Length.Meters()
			}
			if x.Use != ItemPin && x.Length > d.LongestTimber+unit.Micrometer {
				t.Errorf("case %d: %+v is longer than %v", n, x, d.LongestTimber)
			}
		}
		if v := d.Timber.Volume(unit.Length(sum)); !near(v.CubicMeters(), p.Timber.CubicMeters(), 1e-9) {
			t.Errorf("case %d: pieces of %v m³, timber of %v", n, v.CubicMeters(), p.Timber.CubicMeters())
		}
		// Layers fill what the timbers leave of width × tread.
		stack := float64(p.Courses) * h
		if deep := d.BuildUp().Meters(); stack <= deep && plan.InnerSide > 0 && p.Buried == 0 && b.Riser.Meters() >= deep {
			w := d.Breadth().Meters()
			wood := stack*(b.Width.Meters()*w+plan.sidesArea(d)) + float64(p.Crosses)*(b.Width.Meters()-2*w)*w*h
			all := (p.Topping + p.Fill + p.Base).CubicMeters() + wood
			if !near(all, b.Width.Meters()*b.Tread.Meters()*deep, 1e-9) {
				t.Errorf("case %d: layers and timber %v m³, box %v", n, all, b.Width.Meters()*b.Tread.Meters()*deep)
			}
		}
		if off.Boxes[1].InnerSides != 0 {
			t.Errorf("case %d: the head is bent", n)
		}
	}
	for field, b := range map[string]Box{
		"boxes[0].radius": {Riser: mm(150), Tread: mm(600), Width: mm(1200), Radius: mm(500)},
		"boxes[0].tread":  {Riser: mm(150), Tread: mm(1600), Width: mm(1200), Radius: mm(1000)},
	} {
		_, err := TakeOff([]Box{b}, DefaultBoxDetail())
		wantFault(t, err, field)
	}
	_, err := TakeOff([]Box{{Riser: mm(150), Tread: mm(600), Width: mm(1200), Radius: unit.Length(math.NaN())}}, DefaultBoxDetail())
	wantFault(t, err, "boxes[0].radius")
}
