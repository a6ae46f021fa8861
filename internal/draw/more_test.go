package draw

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// terrainOf gives a section's ground a crossfall and a dig.
func terrainOf(s Section, crossfall float64) Terrain {
	t := Terrain{Ground: s.Ground, Width: 1.2, Formation: 1.5, Batter: 0.5, FillBatter: 1.5}
	for range s.Ground {
		t.Crossfall = append(t.Crossfall, crossfall)
	}
	return t
}

func planOf(s Section, crossfall float64) Plan {
	return Plan{Title: "Plan", Terrain: terrainOf(s, crossfall), Steps: s.Steps, Formation: s.Formation, Breadth: 0.1, Return: 0.6, SetBack: 0.6, Stations: s.Readings}
}

// Coordinates read the same, however they are written.
func TestPx(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 5))
	check := func(v float64) {
		if got, want := px(v), pxExactly(v); got != want {
			t.Fatalf("%v is written %s, want %s", v, got, want)
		}
	}
	for range 200000 {
		check((r.Float64() - 0.3) * 2000)
		check(float64(r.IntN(400000)-100000) / 200) // often half way
		check(math.Nextafter(float64(r.IntN(400000)-100000)/200, float64(r.IntN(2))*1e9))
	}
	for _, v := range []float64{0, math.Copysign(0, -1), -0.004, -0.006, 0.994, 0.996, 99.999, 1e6, -1e6, 1e9, 123456.785, math.Inf(1), math.NaN()} {
		check(v)
	}
}

func TestCourse(t *testing.T) {
	is := func(got Spot, x, y float64) {
		t.Helper()
		if !near(got.X, x, 1e-9) || !near(got.Y, y, 1e-9) {
			t.Errorf("got %v, want %v, %v", got, x, y)
		}
	}
	var straight Course
	is(straight.At(3, 0.6), 3, 0.6)
	// A quarter turn to the right on a radius of 2 m, after 1 m; then 1 m more.
	quarter := math.Pi
	c := Course{Bends: []Bend{{1, 1 + quarter, 0.5}}}
	is(c.At(1+quarter, 0), 3, 2)
	is(c.At(2+quarter, 0), 3, 3)
	is(c.At(2+quarter, 0.5), 2.5, 3)
	is(c.At(1+quarter/2, -1), 1+3*math.Sqrt2/2, 2-3*math.Sqrt2/2)
	// To the left, and the middle of the circle stays where it is.
	l := Course{Bends: []Bend{{1, 4, -0.5}}}
	for s := 1.0; s <= 4; s += 0.25 {
		is(l.At(s, -2), 1, -2)
	}
	// A bend of no curvature is straight.
	is(Course{Bends: []Bend{{1, 4, 0}}}.At(5, 1), 5, 1)
}

// A daylight point lies on the ground and on the side of the cut.
func TestDaylight(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 9))
	for range 5000 {
		tr := Terrain{
			Ground: []XY{{0, 0}, {10, 5 * rng.Float64()}}, Width: 1.2, Formation: 1.2 + 0.4*rng.Float64(),
			Batter: 0.1 + rng.Float64(), FillBatter: 1 + rng.Float64(),
		}
		cross := (rng.Float64() - 0.5) * 0.8
		tr.Crossfall = []float64{cross, cross}
		x, side := 10*rng.Float64(), float64(2*rng.IntN(2)-1)
		f := tr.levelAt(x, 0) + rng.Float64() - 0.5
		d := tr.daylight(x, f, side)
		if d.Offset*side < 0 {
			t.Fatalf("the %v side comes out at %v", side, d.Offset)
		}
		up := tr.levelAt(x, d.Offset) - f
		switch {
		case d.Cut:
			if want := tr.Batter * up; !near(math.Abs(d.Offset)-tr.Formation/2, want, 1e-9) {
				t.Fatalf("%+v: top of cut at %v, %v above formation", tr, d.Offset, up)
			}
		case math.Abs(d.Offset) > tr.Width/2:
			if want := -tr.FillBatter * up; !near(math.Abs(d.Offset)-tr.Width/2, want, 1e-9) {
				t.Fatalf("%+v: toe at %v, %v above formation", tr, d.Offset, up)
			}
		}
	}
}

// The plan is read back as geometry: at one scale, everything where it is.
func TestPlanGeometry(t *testing.T) {
	for _, scale := range []float64{0, 50} {
		s := bank()
		p := planOf(s, 0.2)
		all := read(t, p.SVG(1000, Look{Scale: scale}))
		risers := subpaths(t, of(all, "path", "sw-riser")[0].attr["d"])
		if len(risers) != len(s.Steps) {
			t.Fatalf("%d risers drawn, want %d", len(risers), len(s.Steps))
		}
		k := (risers[0][1].y - risers[0][0].y) / p.Terrain.Width
		if scale > 0 && !near(k*mmPerPx, 1000/scale, 0.01) {
			t.Errorf("1 m is %v mm at 1:%v", k*mmPerPx, scale)
		}
		if scale > 0 && !strings.HasSuffix(all[0].attr["width"], "mm") {
			t.Errorf("width is %s", all[0].attr["width"])
		}
		x0, y0 := risers[0][0].x, (risers[0][0].y+risers[0][1].y)/2
		for i, r := range risers {
			if !near(r[0].x, x0+k*s.Steps[i].Station, 0.02) || !near(r[1].y-r[0].y, k*1.2, 0.02) {
				t.Errorf("riser %d at %v", i+1, r)
			}
		}
		n := 0
		for _, class := range []string{"sw-top-of-cut", "sw-toe"} {
			for _, e := range of(all, "path", class) {
				for _, run := range subpaths(t, e.attr["d"]) {
					for _, v := range run {
						x, y := (v.x-x0)/k, (v.y-y0)/k
						ok := false
						for _, f := range s.Formation {
							if x > f.From.Station-0.01 && x < f.To.Station+0.01 {
								d := p.Terrain.daylight(math.Max(f.From.Station, math.Min(f.To.Station, x)), f.at(x), math.Copysign(1, y))
								ok = ok || near(d.Offset, y, 0.02)
							}
						}
						if !ok {
							t.Fatalf("%s at station %v, offset %v is not where the side comes out", class, x, y)
						}
						n++
					}
				}
			}
		}
		if n < 100 {
			t.Errorf("only %d points of daylight", n)
		}
	}
}

// Text of every drawing, straight and bent, wide and narrow, lies on no other.
func TestDrawingsText(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 4))
	for i := range 150 {
		s := random(rng)
		cross := (rng.Float64() - 0.5) * 0.6
		p := planOf(s, cross)
		p.LengthText, p.Title = s.LengthText, s.Title
		v := View{Title: s.Title, Terrain: p.Terrain, Steps: s.Steps, Formation: s.Formation}
		if rng.IntN(2) == 0 {
			p.Course = Course{Bends: []Bend{{1, 2 + rng.Float64(), 0.6 * (rng.Float64() - 0.5)}}}
			v.Course = p.Course
		}
		for _, w := range []float64{320, 320 + 1200*rng.Float64()} {
			for _, svg := range []string{p.SVG(w, Look{}), v.SVG(w, Look{}), detailOf(rng).SVG(w, Look{}), detailOf(rng).AcrossSVG(w, Look{}), stripsOf(rng).SVG(w, Look{})} {
				checkText(t, svg)
				checkPlain(t, svg, "sw")
				if t.Failed() {
					t.Fatalf("drawing %d at %v px\n%s", i, w, svg)
				}
			}
		}
	}
}

func detailOf(rng *rand.Rand) Detail {
	d := Detail{
		Title: "Box", Riser: 0.1 + 0.1*rng.Float64(), Tread: 0.25 + rng.Float64(), Wash: 0.02, Courses: 1 + rng.IntN(2), Breadth: 0.1 + 0.1*rng.Float64(),
		Topping: 0.05, Base: 0.1, Pin: 0.6, PinEnd: 0.3, Width: 1.2, Working: 0.15, Batter: 0.5, WashText: "2 %", BatterText: "1 : 2", Feet: rng.IntN(2) == 0,
	}
	d.Course = d.Riser / float64(d.Courses) * (0.9 + 0.3*rng.Float64())
	if gap := d.Riser - d.stack(); gap > 0 {
		d.Bedding = gap
	} else {
		d.Buried = -gap
	}
	if rng.IntN(2) == 0 {
		d.Fill = 0.05
	}
	return d
}

// The detail measures what it says, at the scale it says.
func TestDetailGeometry(t *testing.T) {
	d := Detail{
		Riser: 0.16, Tread: 0.4, Wash: 0.02, Courses: 1, Course: 0.15, Breadth: 0.12, Bedding: 0.01,
		Topping: 0.05, Base: 0.1, Pin: 0.6, PinEnd: 0.3, Width: 1.2, Working: 0.15, Batter: 0.5,
	}
	all := read(t, d.SVG(0, Look{Scale: 10}))
	mm := func(px float64) float64 { return px * mmPerPx * 10 / 1000 } // metres of the work
	tread := subpaths(t, of(all, "path", "sw-tread")[0].attr["d"])[0]
	if got := mm(tread[1].x - tread[0].x); !near(got, d.Tread, 1e-3) {
		t.Errorf("tread measures %v", got)
	}
	riser := subpaths(t, of(all, "path", "sw-riser-height")[0].attr["d"])[0]
	if got := mm(riser[0].y - riser[1].y); !near(got, d.Riser+0.12*d.Wash, 1e-3) {
		t.Errorf("riser measures %v", got)
	}
	timbers := of(all, "rect", "sw-timber")
	if len(timbers) != 2 {
		t.Fatalf("%d timbers, want 2 risers of one course", len(timbers))
	}
	if w, h := mm(timbers[0].num(t, "width")), mm(timbers[0].num(t, "height")); !near(w, d.Breadth, 1e-3) || !near(h, d.Course, 1e-3) {
		t.Errorf("timber measures %v by %v", w, h)
	}
	if got := mm(timbers[0].num(t, "y") - timbers[1].num(t, "y")); !near(got, d.Riser+d.Wash*d.Tread, 1e-3) {
		t.Errorf("risers are %v apart in height", got)
	}
	layer := subpaths(t, of(all, "path", "sw-base")[1].attr["d"])[0]
	if got := mm(layer[2].y - layer[1].y); !near(got, d.Base, 1e-3) {
		t.Errorf("base measures %v", got)
	}
	pin := subpaths(t, of(all, "path", "sw-pin")[0].attr["d"])[0]
	if got := mm(pin[1].y - pin[0].y); !near(got, d.Pin, 1e-3) {
		t.Errorf("pin measures %v", got)
	}
	all = read(t, d.AcrossSVG(0, Look{Scale: 20}))
	for class, want := range map[string]float64{"sw-width": 1.2, "sw-formation-width": 1.5, "sw-pin-end": 0.3} {
		line := subpaths(t, of(all, "path", class)[0].attr["d"])[0]
		if got := mm(line[1].x-line[0].x) * 2; !near(got, want, 2e-3) {
			t.Errorf("%s measures %v, want %v", class, got, want)
		}
	}
	bar := 0.0
	for _, e := range of(all, "rect", "sw-scale") {
		bar += e.num(t, "width")
	}
	said := of(all, "text", "sw-scale-text")
	want := 0.0
	for _, e := range said {
		fmt.Sscanf(e.text, "%g m", &want)
		if strings.HasSuffix(e.text, " m") {
			break
		}
	}
	if got := mm(bar) * 2; want == 0 || !near(got, want, 2e-3) {
		t.Errorf("scale bar of %v m says %v m", got, want)
	}
}

// Under a riser timber there is gravel as deep as is dug: down to the formation
// behind its face, or to the bottom of its trench.
func TestGravelUnderRisersIsDugFor(t *testing.T) {
	for name, c := range map[string]struct {
		d    Detail
		want float64
	}{
		"no trench": {Detail{Riser: 0.16, Courses: 1, Course: 0.15, Bedding: 0.01, Topping: 0.05, Base: 0.12}, 0.02},
		// 60 mm buried and 100 mm below it are 10 mm deeper than the layers in front.
		"trench": {Detail{Riser: 0.14, Courses: 2, Course: 0.1, Buried: 0.06, Topping: 0.05, Base: 0.1}, 0.1},
	} {
		c.d.Tread, c.d.Breadth, c.d.Wash, c.d.Width = 0.4, 0.12, 0.02, 1.2
		layers := of(read(t, c.d.SVG(0, Look{Scale: 10})), "path", "sw-bedding")
		if len(layers) != 2 {
			t.Fatalf("%s: gravel under %d risers, want 2", name, len(layers))
		}
		for i, l := range layers {
			p := subpaths(t, l.attr["d"])[0]
			if got := (p[2].y - p[1].y) * mmPerPx * 10 / 1000; !near(got, c.want, 1e-3) {
				t.Errorf("%s: %v m of gravel under riser %d, want %v", name, got, i, c.want)
			}
		}
	}
}

func stripsOf(rng *rand.Rand) Strips {
	var s Strips
	for range 1 + rng.IntN(12) {
		b := Strip{Name: "Boards 1 to 8: 8 of 6x6, 12 ft", Length: 2 + 3*rng.Float64(), Kerf: 0.003}
		left := b.Length
		for left > 0.2 {
			l := math.Min(0.1+rng.Float64(), left)
			b.Pieces = append(b.Pieces, StripPiece{"A", "1 ft 1 in", l})
			left -= l + b.Kerf
		}
		b.Left = math.Max(left, 0)
		s.Boards = append(s.Boards, b)
	}
	return s
}

func TestStripsGeometry(t *testing.T) {
	s := Strips{Boards: []Strip{
		{Name: "Board 1", Length: 3, Kerf: 0.003, Left: 0.191, Pieces: []StripPiece{{"A", "1200 mm", 1.2}, {"A", "1200 mm", 1.2}, {"C", "400 mm", 0.4}}},
		{Name: "Board 2", Length: 2.4, Kerf: 0.003, Pieces: []StripPiece{{"B", "2400 mm", 2.4}}},
	}}
	all := read(t, s.SVG(800, Look{}))
	boards, pieces := of(all, "rect", "sw-board"), of(all, "rect", "sw-piece")
	if len(boards) != 2 || len(pieces) != 4 {
		t.Fatalf("%d boards and %d pieces", len(boards), len(pieces))
	}
	k := boards[0].num(t, "width") / 3
	at := boards[0].num(t, "x")
	for i, want := range []float64{0, 1.203, 2.406} {
		if got := (pieces[i].num(t, "x") - at) / k; !near(got, want, 1e-3*3) {
			t.Errorf("piece %d begins at %v, want %v", i, got, want)
		}
	}
	left := of(all, "rect", "sw-left")
	if len(left) != 1 || !near(left[0].num(t, "width")/k, 0.191, 1e-3) || len(of(all, "rect", "sw-kerf")) != 3 {
		t.Errorf("offcuts %v", left)
	}
}

// The view is isometric: along, across and up are one scale, as an isometric
// drawing measures them.
func TestViewGeometry(t *testing.T) {
	s := bank()
	v := View{Terrain: terrainOf(s, 0), Steps: s.Steps, Formation: s.Formation}
	all := read(t, v.SVG(900, Look{}))
	faces := of(all, "path", "sw-riser-face")
	if len(faces) != len(s.Steps) {
		t.Fatalf("%d riser faces, want %d", len(faces), len(s.Steps))
	}
	var k float64
	for i, e := range faces {
		p := subpaths(t, e.attr["d"])[0]
		across := math.Hypot(p[1].x-p[0].x, p[1].y-p[0].y)
		step := s.Steps[len(s.Steps)-1-i]
		if i == 0 {
			k = across / 1.2
		}
		if !near(across, 1.2*k, 0.05) || !near((p[1].y-p[0].y)/(p[1].x-p[0].x), math.Tan(math.Pi/6), 1e-2) {
			t.Errorf("riser %d goes from %v to %v", step.Riser, p[0], p[1])
		}
		if i < len(faces)-1 {
			below := s.Steps[len(s.Steps)-2-i]
			if got, want := (p[2].y-p[1].y)/k, step.Level-below.EndLevel; !near(got, want, 1e-3) {
				t.Errorf("riser %d is %v high, want %v", step.Riser, got, want)
			}
		}
	}
	first, last := subpaths(t, faces[len(faces)-1].attr["d"])[0][1], subpaths(t, faces[0].attr["d"])[0][1]
	run := s.Steps[len(s.Steps)-1].Station - s.Steps[0].Station
	if got := (last.x - first.x) / k / cos30; !near(got, run, 0.01) {
		t.Errorf("run measures %v, want %v", got, run)
	}
}

// What cannot be drawn says so, and nothing panics.
func TestDrawingsRefuse(t *testing.T) {
	nan := math.NaN()
	s := bank()
	bad := planOf(s, nan)
	bent := planOf(s, 0)
	bent.Course = Course{Bends: []Bend{{3, 1, 1}}}
	wide := planOf(s, 0)
	wide.Terrain.Width = math.Inf(1)
	for _, svg := range []string{
		Plan{}.SVG(nan, Look{}), bad.SVG(500, Look{}), bent.SVG(500, Look{}), wide.SVG(500, Look{}), View{}.SVG(500, Look{}),
		View{Terrain: bad.Terrain, Steps: s.Steps}.SVG(500, Look{}), Detail{}.SVG(500, Look{}), Detail{}.AcrossSVG(500, Look{}), Detail{Riser: nan, Courses: 1}.SVG(1, Look{}),
		Strips{}.SVG(500, Look{}), Strips{Boards: []Strip{{Length: nan}}}.SVG(500, Look{}),
	} {
		if len(of(read(t, svg), "text", "sw-note")) != 1 || strings.Contains(svg, "NaN") {
			t.Errorf("drawn: %s", svg)
		}
	}
}

// A section to scale measures true in both directions, on paper.
func TestSectionToScale(t *testing.T) {
	for _, scale := range []float64{20, 48, 100} {
		s := bank()
		s.Chain = []Span{{From: 0, To: 3, Text: "6 × 0.50", Ticks: []float64{1, 2}}, {From: 3, To: 6.7, Text: "landing"}}
		svg := s.SVG(500, Look{Scale: scale})
		all := read(t, svg)
		var w, h float64
		if n, _ := fmt.Sscanf(all[0].attr["width"]+" "+all[0].attr["height"], "%fmm %fmm", &w, &h); n != 2 {
			t.Fatalf("size is %s by %s", all[0].attr["width"], all[0].attr["height"])
		}
		var vw, vh float64
		fmt.Sscanf(all[0].attr["viewBox"], "0 0 %f %f", &vw, &vh)
		run := subpaths(t, of(all, "path", "sw-run")[0].attr["d"])[0]
		rise := subpaths(t, of(all, "path", "sw-rise")[0].attr["d"])[0]
		if got := (run[1].x - run[0].x) * w / vw * scale / 1000; !near(got, s.Head.Station, 0.005) {
			t.Errorf("1:%v: the run measures %v m", scale, got)
		}
		if got := (rise[0].y - rise[1].y) * h / vh * scale / 1000; !near(got, s.Head.Level-s.Foot.Level, 0.005) {
			t.Errorf("1:%v: the rise measures %v m", scale, got)
		}
		chain := subpaths(t, of(all, "path", "sw-chain")[0].attr["d"])
		if got := (chain[0][1].x - chain[0][0].x) * mmPerPx * scale / 1000; !near(got, 3, 0.005) {
			t.Errorf("the chain's first measures %v m", got)
		}
	}
}
