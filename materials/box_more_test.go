package materials

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

const cubicInch = 0.0254 * 0.0254 * 0.0254

// Two steps of 6x6 with all that a box may have, drawn and counted by hand. All
// inches.
//
//	path 48 wide; riser 1 is 5.5, its tread a landing of 52; riser 2 is 11,
//	last, sides 24 into the bank. Ends are let 2 into rebates. Face boards 2x8
//	(1.5 × 7.25) in a rebate of 0.5. On the landing a timber across the back,
//	others 20 apart at most, and 10 of bank on the left. Under riser 1 one
//	buried timber.
//
// Sides: 46.5 to the next face, 5.5 under riser 2 and 2 in the rebate: 54, two;
// riser 2: 24 + 2 = 26, four. Between the sides 37 and 2 at both ends: 41; the
// landing's depth of 52 by 20 is two cross pieces, and one across the back.
// Bank: 10 by 5.5 is two courses of 52, each with spikes at 0, 24, 48 and 52.
// Pins: riser 1 two through the buried timber, 5.5 + 5.5 + 18 = 29; sides of 54
// two each, 24 long; box 2 risers two and sides of 26 (2 between) two each, 29.
// Joints: box 1 two corners, six ends of cross pieces and back, two bearings,
// box 2 four corners: 14, two screws each.
// Face boards: riser 1 one, riser 2 two; three rows of two screws each.
func TestTakeOffMoreByHand(t *testing.T) {
	d := DefaultBoxDetail()
	d.Joint, d.JointDepth = JointRebate, in(2)
	d.Face, _ = SectionByName("2x8")
	d.FaceRebate = in(0.5)
	d.LandingBack, d.LandingEvery = true, in(20)
	d.Footing = DefaultFooting(FootingBuried)
	off, err := TakeOff([]Box{
		{Number: 1, Riser: in(5.5), Tread: in(52), Width: in(48), Landing: true, BankLeft: in(10)},
		{Number: 2, Riser: in(11), Width: in(48), BankRight: in(30)},
	}, d)
	if err != nil {
		t.Fatal(err)
	}
	want := []Piece{
		{"6x6", in(48), 3, ItemRiserTimber},
		{"6x6", in(54), 2, ItemSideTimber}, {"6x6", in(26), 4, ItemSideTimber},
		{"6x6", in(41), 2, ItemCrossPiece},
		{"6x6", in(41), 1, ItemLandingTimber},
		{"6x6", in(48), 1, ItemFootTimber},
		{"6x6", in(52), 2, ItemBankTimber},
		{"2x8", in(48), 3, ItemFaceBoard},
		{"no4-bar", in(29), 8, ItemPin}, {"no4-bar", in(24), 4, ItemPin},
	}
	if len(off.Pieces) != len(want) {
		t.Fatalf("pieces %+v", off.Pieces)
	}
	for i, w := range want {
		if g := off.Pieces[i]; g.Section != w.Section || g.Use != w.Use || g.Count != w.Count || !near(g.Length.Meters(), w.Length.Meters(), 1e-12) {
			t.Errorf("piece %d is %+v, want %+v", i, g, w)
		}
	}
	for id, n := range map[string]int{ItemScrew: 28, ItemPin: 12, ItemSpike: 8, ItemDeckScrew: 18, ItemFaceBoard: 3, ItemFootTimber: 1, ItemBankTimber: 2} {
		if it := itemOf(t, off, id); it.Need.Count != n {
			t.Errorf("%s: %d, want %d", id, it.Need.Count, n)
		}
	}
	// Layers of box 1: plan 2496 in², frame 775.5 and the back 203.5, both 5.5
	// deep, cross pieces 407 as deep, the buried timber 264 from 5.5 to 11.
	//   topping 2496 − 1386 = 1110, fill 3330,
	//   base 4 × 2496 − 1.5 × 1386 − 2.5 × 264 = 7245
	for i, c := range []struct{ got, want float64 }{
		{off.Boxes[0].Topping.CubicMeters(), 1110}, {off.Boxes[0].Fill.CubicMeters(), 3330}, {off.Boxes[0].Base.CubicMeters(), 7245},
	} {
		if got := c.got / cubicInch; !near(got, c.want, 1e-6) {
			t.Errorf("layer %d: %.3f in³, want %.3f", i, got, c.want)
		}
	}
	// Laid bare: a rebate at an end 5.5² + 2 × 5.5 = 41.25, between 5.5² + 4 × 5.5
	// = 52.25; face rebates 48 × 6 and 48 × 11.5.
	//   box 1: 2 × 41.25 + 6 × 52.25 + 288 = 684; box 2: 4 × 41.25 + 552 = 717
	for i, w := range []float64{684, 717} {
		if got := off.Boxes[i].Notched.SquareMeters() / (0.0254 * 0.0254); !near(got, w, 1e-6) {
			t.Errorf("box %d: %.3f in² laid bare, want %.3f", i+1, got, w)
		}
	}
	// Nothing cut on site: the wood laid bare alone is treated, 1401 in².
	if p := itemOf(t, off.Treat(CutPlan{}), ItemPreservative); !near(p.Need.Area.SquareMeters()/(0.0254*0.0254), 1401, 1e-6) || !strings.Contains(p.Note, "joints") {
		t.Errorf("%+v", p)
	}
	// Ends of face boards are treated too: one board of four ends, two cut.
	plan := CutPlan{Boards: []Board{{Section: "2x8", Count: 1, Pieces: make([]BoardPiece, 2), Offcut: in(5)}}}
	if p := itemOf(t, off.Treat(plan), ItemPreservative); p.Need.Count != 3 || !near(p.Need.Area.SquareMeters()/(0.0254*0.0254), 1401+3*1.5*7.25, 1e-6) {
		t.Errorf("%+v", p)
	}
	said := ""
	for _, n := range off.Notes {
		said += n.Says + "\n"
	}
	for _, w := range []string{"buried across the foot", "have an engineer design", "0.254 m of bank on the left held by 2 timbers on the side timber,", "stand 0.0254 m before the timber"} {
		if !strings.Contains(said, w) {
			t.Errorf("%q is not said:\n%s", w, said)
		}
	}
	if off.Boxes[1].BankTimbers != 0 || off.Boxes[1].Footing.Kind != FootingNone {
		t.Errorf("box 2: %+v", off.Boxes[1])
	}
}

// What each joint does to the length of a side, 46.5 between the faces and 5.5
// of bearing, and of a cross piece, 37 between the sides.
func TestJointLengths(t *testing.T) {
	boxes := []Box{{Number: 1, Riser: in(5.5), Tread: in(52), Width: in(48)}, {Number: 2, Riser: in(5.5), Width: in(48)}}
	for _, c := range []struct {
		joint       Joint
		depth       float64
		side, cross float64
		notched     float64 // in² of box 1: two corners and two ends
	}{
		{JointButt, 0, 52, 37, 0},
		{JointHalfLap, 0, 57.5, 48, 4 * (2*5.5*5.5 + 5.5*5.5)},
		{JointRebate, 0, 52 + 5.5/3, 37 + 2*5.5/3, 2*(30.25+5.5*5.5/3) + 2*(30.25+2*5.5*5.5/3)},
		{JointRebate, 2.75, 54.75, 42.5, 2*(30.25+2.75*5.5) + 2*(30.25+2*2.75*5.5)},
	} {
		d := DefaultBoxDetail()
		d.Joint, d.JointDepth = c.joint, in(c.depth)
		off, err := TakeOff(boxes, d)
		if err != nil {
			t.Fatal(err)
		}
		p := off.Boxes[0]
		if !near(p.SideTimber.Inches(), c.side, 1e-9) || !near(p.CrossPiece.Inches(), c.cross, 1e-9) || p.Crosses != 1 || !near(p.Notched.SquareMeters()/(0.0254*0.0254), c.notched, 1e-6) {
			t.Errorf("%q: side %v, cross piece %v, laid bare %v in²", c.joint, p.SideTimber.Inches(), p.CrossPiece.Inches(), p.Notched.SquareMeters()/(0.0254*0.0254))
		}
		// The gravel is the same whatever the joint: the wood fills the same room.
		if v := p.Base.CubicMeters() / cubicInch; !near(v, 8515.5, 1e-6) {
			t.Errorf("%q: base %v in³", c.joint, v)
		}
	}
	// A riser of 240 from timbers of 144: with laps of 12 two of (240 + 12)/2.
	d := DefaultBoxDetail()
	d.LongestTimber, d.SpliceLap = in(144), in(12)
	off, err := TakeOff([]Box{{Number: 1, Riser: in(5.5), Width: in(240)}}, d)
	if err != nil || off.Pieces[0].Count != 2 || !near(off.Pieces[0].Length.Inches(), 126, 1e-9) {
		t.Errorf("%+v %v", off.Pieces, err)
	}
	if got := off.Boxes[0].Notched.SquareMeters() / (0.0254 * 0.0254); !near(got, 2*12*5.5+5.5*5.5, 1e-6) || !strings.Contains(off.Notes[0].Says, "half-lapped by 0.3048 m") {
		t.Errorf("%v in² laid bare, %v", got, off.Notes)
	}
	// Just short enough for one.
	if n, each := d.splice(in(144)); n != 1 || each != in(144) {
		t.Errorf("%d of %v", n, each)
	}
	// 276 is the most that two with a lap make; 277 takes three.
	for l, want := range map[float64]int{276: 2, 277: 3, 408: 3, 409: 4} {
		if n, each := d.splice(in(l)); n != want || each > d.LongestTimber+unit.Micrometer || !near(float64(n)*each.Inches()-float64(n-1)*12, l, 1e-9) {
			t.Errorf("%v: %d of %v", l, n, each.Inches())
		}
	}
}

// Piers: 48 less 6 at both ends is 36, one space of 48 at most: two, each
// π/4 × 8² × 24 in³, together 1.396 ft³: three bags of 0.6. The strip is 48 ×
// 12 × 8 in³, 2.667 ft³: five bags.
func TestFootings(t *testing.T) {
	box := []Box{{Number: 1, Riser: in(5.5), Tread: in(52), Width: in(48)}, {Number: 2, Riser: in(5.5), Width: in(48)}}
	for _, c := range []struct {
		kind             FootingKind
		item             string
		anchors, bags    int
		volume           float64 // in³
		base             float64 // in³ of box 1
		length, w, depth float64
	}{
		// The pier displaces the base from 5.5 to 8 behind the riser's face: as a
		// strip, 6.75 of its 8 are.
		{FootingPiers, ItemPierBracket, 2, 3, 2 * math.Pi / 4 * 64 * 24, 8515.5 - 2*math.Pi/4*8*6.75*2.5, 8, 8, 24},
		{FootingConcrete, ItemAnchorBolt, 2, 5, 4608, 8515.5 - 48*8.75*2.5, 48, 12, 8},
	} {
		d := DefaultBoxDetail()
		d.Footing = DefaultFooting(c.kind)
		off, err := TakeOff(box, d)
		if err != nil {
			t.Fatal(err)
		}
		f := off.Boxes[0].Footing
		if f.Anchors != c.anchors || itemOf(t, off, c.item).Need.Count != c.anchors || itemOf(t, off, ItemConcreteBag).Need.Count != c.bags || !near(f.Concrete.CubicMeters()/cubicInch, c.volume, 1e-6) {
			t.Errorf("%s: %+v, %d bags", c.kind, f, itemOf(t, off, ItemConcreteBag).Need.Count)
		}
		if !near(f.Length.Inches(), c.length, 1e-9) || !near(f.Width.Inches(), c.w, 1e-9) || !near(f.Depth.Inches(), c.depth, 1e-9) {
			t.Errorf("%s: %+v", c.kind, f)
		}
		if v := off.Boxes[0].Base.CubicMeters() / cubicInch; !near(v, c.base, 1e-6) {
			t.Errorf("%s: base %v in³, want %v", c.kind, v, c.base)
		}
		// 6 joints in box 1 and 2 in box 2, two screws each, and the brackets'.
		want := 16
		if c.kind == FootingPiers {
			want += 8
		}
		if n := itemOf(t, off, ItemScrew).Need.Count; n != want {
			t.Errorf("%s: %d screws, want %d", c.kind, n, want)
		}
		d.Footing.Bag = Bag{}
		if off, err = TakeOff(box, d); err != nil || !near(itemOf(t, off, ItemConcrete).Need.Volume.CubicMeters()/cubicInch, c.volume, 1e-6) {
			t.Errorf("%s by volume: %v", c.kind, err)
		}
	}
}

// On random paths with random extras: layers and timber fill the box exactly,
// every bank within the limit is held and every other is said, every riser has
// its face, and no piece is longer than the longest timber.
func TestTakeOffMoreProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 7))
	timbers := sections(t, "6x6", "4x6", "100x200")
	for n := 0; n < 300; n++ {
		d := DefaultBoxDetail()
		d.Timber = timbers[r.IntN(len(timbers))]
		d.Base = mm(float64(200 + r.IntN(400)))
		d.LongestTimber = mm(float64(1500 + r.IntN(3000)))
		d.Joint = []Joint{JointButt, JointHalfLap, JointRebate}[r.IntN(3)]
		d.SpliceLap = mm(float64(r.IntN(300)))
		d.LandingBack = r.IntN(2) == 0
		d.LandingEvery = mm(float64(r.IntN(2) * (400 + r.IntN(600))))
		d.Footing = DefaultFooting([]FootingKind{FootingNone, FootingBuried}[r.IntN(2)])
		d.Footing.Courses = r.IntN(3)
		if r.IntN(2) == 0 {
			d.Face = sections(t, "2x8")[0]
		}
		boxes := randomBoxes(r, d)
		for i := range boxes {
			boxes[i].Landing = r.IntN(3) == 0 && boxes[i].Tread > 0
			boxes[i].BankLeft = mm(float64(r.IntN(800)))
		}
		off, err := TakeOff(boxes, d)
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		w, h := d.Breadth().Meters(), d.Course().Meters()
		engineers := 0
		for _, s := range off.Notes {
			if strings.Contains(s.Says, "engineer") {
				engineers++
			}
		}
		for i, b := range boxes {
			p := off.Boxes[i]
			inside := b.Tread.Meters() - w
			if b.Tread == 0 {
				inside = d.HeadReturn.Meters()
			}
			stack := float64(p.Courses) * h
			if stack <= d.BuildUp().Meters() && (i == 0 || p.Buried > 0 || b.Riser.Meters() >= d.BuildUp().Meters()) {
				box := b.Width.Meters() * (inside + w) * d.BuildUp().Meters()
				between := (b.Width.Meters() - 2*w) * w
				wood := (b.Width.Meters()*w+2*w*inside)*stack + float64(p.Crosses)*between*h
				if p.LandingTimbers > 0 {
					wood += between * stack
				}
				below := math.Min(d.BuildUp().Meters()-stack, p.Footing.Depth.Meters())
				wood += b.Width.Meters() * w * below
				all := p.Topping.CubicMeters() + p.Fill.CubicMeters() + p.Base.CubicMeters() + wood
				if !near(all, box, 1e-9) {
					t.Errorf("case %d box %d: layers and timber %v m³, box %v m³", n, i+1, all, box)
				}
			}
			if p.LandingTimbers > 0 && !(b.Landing && d.LandingBack) {
				t.Errorf("case %d box %d: %+v", n, i+1, p)
			}
			switch {
			case b.BankLeft > 24*unit.Inch:
				engineers--
				if p.BankTimbers != 0 {
					t.Errorf("case %d box %d: %d timbers hold %v", n, i+1, p.BankTimbers, b.BankLeft)
				}
			case b.BankLeft > 0 && (float64(p.BankTimbers)*h < b.BankLeft.Meters()-1e-6 || float64(p.BankTimbers-1)*h >= b.BankLeft.Meters()):
				t.Errorf("case %d box %d: %d courses hold %v", n, i+1, p.BankTimbers, b.BankLeft)
			}
			// All of the riser but the bedding under its lowest timber is faced.
			if high := (b.Riser - p.Bedding).Meters(); d.Face.Name != "" && (float64(p.FaceBoards)*d.Face.Width.Meters() < high-1e-6 || float64(p.FaceBoards-1)*d.Face.Width.Meters() >= high) {
				t.Errorf("case %d box %d: %d boards face %v", n, i+1, p.FaceBoards, b.Riser)
			}
			if f := p.Footing; (i == 0) != (f.Kind != FootingNone) && d.Footing.Kind != FootingNone {
				t.Errorf("case %d box %d: footing %+v", n, i+1, f)
			}
		}
		if engineers != 0 {
			t.Errorf("case %d: %d notes of an engineer too many", n, engineers)
		}
		for _, p := range off.Pieces {
			if p.Use != ItemPin && p.Length > d.LongestTimber+unit.Micrometer {
				t.Errorf("case %d: %+v is longer than %v", n, p, d.LongestTimber)
			}
		}
		for _, it := range off.Items {
			if it.Section == "" || it.ID == ItemPin {
				continue
			}
			sum := 0.0
			for _, p := range off.Pieces {
				if p.Use == it.ID {
					sum += float64(p.Count) * p.Length.Meters()
				}
			}
			if !near(sum, it.Need.Length.Meters(), 1e-9) || sum == 0 {
				t.Errorf("case %d: %s is %v m, its pieces %v m", n, it.ID, it.Need.Length.Meters(), sum)
			}
		}
	}
}

func TestBoxMoreFaults(t *testing.T) {
	box := []Box{{Number: 1, Riser: in(6), Tread: in(40), Width: in(48)}}
	nan := unit.Length(math.NaN())
	for field, with := range map[string]func(*BoxDetail){
		"detail.joint":            func(d *BoxDetail) { d.Joint = "dovetail" },
		"detail.joint_depth":      func(d *BoxDetail) { d.Joint, d.JointDepth = JointRebate, in(3) },
		"detail.splice_lap":       func(d *BoxDetail) { d.SpliceLap = in(100) },
		"detail.face.thickness":   func(d *BoxDetail) { d.Face = Section{Name: "2x8"} },
		"detail.face_rebate":      func(d *BoxDetail) { d.Face = d.Timber; d.FaceRebate = nan },
		"detail.face_screw_every": func(d *BoxDetail) { d.Face = d.Timber; d.FaceScrewEvery = mm(1) },
		"detail.landing_every":    func(d *BoxDetail) { d.LandingEvery = mm(1) },
		"detail.bank_to":          func(d *BoxDetail) { d.BankTo = in(49) },
		"detail.spike_every":      func(d *BoxDetail) { d.SpikeEvery = -1 },
		"detail.footing.kind":     func(d *BoxDetail) { d.Footing.Kind = "raft" },
		"detail.footing.courses":  func(d *BoxDetail) { d.Footing = Footing{Kind: FootingBuried, Courses: -1} },
		"detail.footing.width":    func(d *BoxDetail) { d.Footing = Footing{Kind: FootingPiers} },
		"detail.footing.spacing":  func(d *BoxDetail) { d.Footing = DefaultFooting(FootingConcrete); d.Footing.Spacing = 0 },
		"detail.waste.concrete":   func(d *BoxDetail) { d.Waste.Concrete = -1 },
	} {
		d := DefaultBoxDetail()
		with(&d)
		_, err := TakeOff(box, d)
		wantFault(t, err, field)
	}
	d := DefaultBoxDetail()
	d.Footing, d.Pin = DefaultFooting(FootingBuried), Section{}
	_, err := TakeOff(box, d)
	wantFault(t, err, "detail.footing.kind")
	box[0].BankRight = nan
	_, err = TakeOff(box, DefaultBoxDetail())
	wantFault(t, err, "boxes[0].bank_right")
}
