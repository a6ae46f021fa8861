package materials

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

// A box on a bend of 10 ft, drawn and reckoned by hand. All inches.
//
//	centreline radius 120, width 48: edges at 96 and 144. Tread 24 on the
//	centreline turns 24/120 = 0.2 rad, 11.459°. 6x6, the next riser bears.
//
// Treads 19.2 inside, 28.8 outside. Straight from face to face 2·96·sin 0.1 =
// 19.1680 and 2·144·sin 0.1 = 28.7520. Mitre 5.730°. The outer timber's longer
// edge is its outside face: from the riser's back 5.5/cos 0.1 in, and 5.5/cos
// 0.1 on under the next riser: 28.7520. The inner one's longer edge lies 5.5
// towards the middle, 2·5.5·tan 0.1 = 1.1037 longer: 20.2717.
func TestWedgeByHand(t *testing.T) {
	d := DefaultBoxDetail()
	w := Wedge{Number: 1, Riser: in(5.5), Tread: in(24), Radius: in(120), Width: in(48), NextBears: true}
	p, err := w.Plan(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"turn", p.Turn.Radians(), 0.2}, {"mitre", p.Mitre.Radians(), 0.1},
		{"inner tread", p.InnerTread.Meters() / 0.0254, 19.2}, {"outer tread", p.OuterTread.Meters() / 0.0254, 28.8},
		{"inner face", p.InnerFace.Meters() / 0.0254, 19.16801}, {"outer face", p.OuterFace.Meters() / 0.0254, 28.75202},
		{"inner side", p.InnerSide.Meters() / 0.0254, 20.27169}, {"outer side", p.OuterSide.Meters() / 0.0254, 28.75202},
		{"mitre waste", p.MitreWaste.Meters() / 0.0254, 1.10368},
	} {
		wants(t, c.name, c.got, c.want, 1e-5)
	}
	w.NextBears = false
	p, _ = w.Plan(d)
	wants(t, "to the face", p.OuterSide.Meters()/0.0254, 28.75202-5.52762, 1e-5)
	pieces, notes, err := WedgePieces([]Wedge{w, {Number: 2, Riser: in(11), Tread: in(24), Radius: in(120), Width: in(48), NextBears: true}}, d)
	if err != nil {
		t.Fatal(err)
	}
	n := map[string]int{}
	for _, p := range pieces {
		n[p.Use] += p.Count
	}
	if n[ItemRiserTimber] != 3 || n[ItemSideTimber] != 6 || len(notes) != 2 {
		t.Errorf("%v, %v", n, notes)
	}
}

// Corners by coordinates: each mitred timber's four corners lie on the two
// riser faces it runs between, and its longer edge is the length given. On a
// very wide bend the wedge is the straight box.
func TestWedgeCorners(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 8))
	d := DefaultBoxDetail()
	b := d.Breadth().Meters()
	for n := 0; n < 500; n++ {
		w := Wedge{Riser: in(5.5), Tread: in(12 + 60*r.Float64()), Radius: in(60 + 200*r.Float64()), Width: in(30 + 60*r.Float64()), NextBears: r.IntN(2) == 0}
		p, err := w.Plan(d)
		if err != nil || p.InnerSide == 0 {
			continue
		}
		turn := w.Tread.Meters() / w.Radius.Meters()
		for _, s := range []struct {
			edge, in float64 // radius of the outside face, and which way the timber lies
			got      unit.Length
		}{{w.Radius.Meters() - w.Width.Meters()/2, 1, p.InnerSide}, {w.Radius.Meters() + w.Width.Meters()/2, -1, p.OuterSide}} {
			ax, ay := s.edge, 0.0
			bx, by := s.edge*math.Cos(turn), s.edge*math.Sin(turn)
			l := math.Hypot(bx-ax, by-ay)
			ux, uy := (bx-ax)/l, (by-ay)/l
			nx, ny := uy, -ux // to the right of the way: outwards
			longest := 0.0
			for _, off := range []float64{0, b} {
				px, py := ax+s.in*off*nx, ay+s.in*off*ny
				// From the line y = b, the riser's back, to the next face, or its
				// back b further on.
				from := (b - py) / uy
				past := 0.0
				if w.NextBears {
					past = b
				}
				// Next face: points (x, y) with −x·sin + y·cos = past.
				to := (past + px*math.Sin(turn) - py*math.Cos(turn)) / (-ux*math.Sin(turn) + uy*math.Cos(turn))
				longest = math.Max(longest, to-from)
			}
			if math.Abs(longest-s.got.Meters()) > 1e-9 {
				t.Fatalf("case %d, edge %v: longer edge %v, given %v", n, s.edge, longest, s.got)
			}
		}
	}
	straight, err := Wedge{Riser: in(5.5), Tread: in(30), Radius: 1000 * unit.Kilometer, Width: in(48), NextBears: true}.Plan(d)
	if err != nil {
		t.Fatal(err)
	}
	box, _ := TakeOff([]Box{{Riser: in(5.5), Tread: in(30), Width: in(48)}, {Riser: in(5.5), Width: in(48)}}, d)
	wants(t, "straight", straight.InnerSide.Meters(), box.Boxes[0].SideTimber.Meters(), 1e-5)
	wants(t, "straight", straight.OuterSide.Meters(), box.Boxes[0].SideTimber.Meters(), 1e-5)
}

func TestSinCos(t *testing.T) {
	for x := 0.0; x <= math.Pi/4; x += 0.001 {
		s, c := sinCos(x)
		if math.Abs(s-math.Sin(x)) > 3e-16 || math.Abs(c-math.Cos(x)) > 3e-16 {
			t.Fatalf("sinCos(%v) = %v, %v", x, s, c)
		}
	}
}

func TestWedgeFaults(t *testing.T) {
	good := Wedge{Riser: in(5.5), Tread: in(24), Radius: in(120), Width: in(48)}
	for _, c := range []struct {
		field string
		with  func(*Wedge)
	}{
		{"radius", func(w *Wedge) { w.Radius = in(24) }},
		{"radius", func(w *Wedge) { w.Radius = unit.Length(math.NaN()) }},
		{"tread", func(w *Wedge) { w.Tread = in(200) }},
		{"tread", func(w *Wedge) { w.Tread = in(5) }},
		{"width", func(w *Wedge) { w.Width = in(11) }},
		{"riser", func(w *Wedge) { w.Riser = -1 }},
	} {
		w := good
		c.with(&w)
		_, err := w.Plan(DefaultBoxDetail())
		wantFault(t, err, c.field)
		_, _, err = WedgePieces([]Wedge{w}, DefaultBoxDetail())
		wantFault(t, err, "wedges[0]."+c.field)
	}
	if _, err := good.Plan(BoxDetail{}); err == nil {
		t.Error("the zero detail is accepted")
	}
	// Tight inside: nothing is left of the inner side.
	tight := Wedge{Riser: in(5.5), Tread: in(12), Radius: in(26), Width: in(48)}
	if p, err := tight.Plan(DefaultBoxDetail()); err != nil || p.InnerSide != 0 {
		t.Errorf("%+v, %v", p, err)
	}
}
