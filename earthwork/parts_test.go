package earthwork

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/martinlindhe/unit"
)

// slab keeps the part of a polygon between two heights.
func slab(p []vertex, low, high float64) []vertex {
	return clip(clip(p, 0, -1, -low), 0, 1, high)
}

// sum integrates by the midpoints of many slices between the ends, ground points and
// bends.
func (s site) sum(f func(h, c float64) float64, slices int) float64 {
	ends := []unit.Length{s.st.From}
	for _, p := range s.ground.Points() {
		if p.Station > s.st.From && p.Station < s.st.To {
			ends = append(ends, p.Station)
		}
	}
	ends = append(ends, s.st.To)
	total := 0.0
	for k := 1; k < len(ends); k++ {
		step := (ends[k] - ends[k-1]) / unit.Length(slices)
		for i := range slices {
			x := ends[k-1] + step*(unit.Length(i)+0.5)
			level, _ := s.ground.LevelAt(x)
			c, _ := s.ground.CrossfallAt(x)
			total += float64(step) * f(float64(level-s.st.Formation.LevelAt(x)), c)
		}
	}
	return total
}

func TestPartsAgreeWithClippedPolygons(t *testing.T) {
	some := map[string]int{}
	for i, r := range rands(41, 60) {
		s := randomSite(t, r)
		layers := []Layer{{"base", "base", unit.Length(0.05 + 0.1*r.Float64())}, {"fill", "fill", unit.Length(0.05 + 0.2*r.Float64())}, {"topping", "topping", 0.05}}
		skin := unit.Length(0)
		if i%3 > 0 {
			skin = unit.Length(0.05 + 0.2*r.Float64())
		}
		parts, err := s.ground.DigParts(s.sec, s.st, layers, skin)
		if err != nil {
			t.Fatal(err)
		}
		d, err := s.ground.Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		if !near(float64(parts.Sum()), float64(d.Cut), 1e-10*(0.01+float64(d.Cut))) {
			t.Errorf("site %d: parts add up to %v, cut %v", i, parts.Sum(), d.Cut)
		}
		half, path := s.sec.Formation().Meters()/2, s.sec.Width.Meters()/2
		// The polygons: what is dug once the skin is off, within the path, within the formation.
		sub := func(h, c float64) []vertex {
			return clippedWedge(h-float64(skin), c, 2*half, s.sec.Batter)
		}
		onPath := func(h, c float64) []vertex { return clip(clip(sub(h, c), 1, 0, path), -1, 0, path) }
		want := map[string]func(h, c float64) float64{
			"topsoil": func(h, c float64) float64 { return clippedCut(s.sec, h, c) - shoelace(sub(h, c)) },
			"working": func(h, c float64) float64 {
				return shoelace(clip(clip(sub(h, c), 1, 0, half), -1, 0, half)) - shoelace(onPath(h, c))
			},
			"sides": func(h, c float64) float64 {
				p := sub(h, c)
				return shoelace(clip(p, 1, 0, -half)) + shoelace(clip(p, -1, 0, -half))
			},
		}
		z := 0.0
		for _, l := range layers {
			low, high := z, z+float64(l.Thickness)
			want[l.ID] = func(h, c float64) float64 { return shoelace(slab(onPath(h, c), low, high)) }
			z = high
		}
		want["over"] = func(h, c float64) float64 { return shoelace(slab(onPath(h, c), z, 1e6)) }
		for id, f := range want {
			v := s.sum(f, 800)
			got := parts.Of(id)
			if !near(float64(got), v, 2e-4*math.Max(v, 0.05)) || got < 0 {
				t.Errorf("site %d: %s %v, by polygons %v", i, id, got, v)
			}
			if v > 0.01 {
				some[id]++
			}
		}
		if skin == 0 && parts.OfSoil("topsoil") != 0 || parts.OfSoil("topsoil") != parts.Of("topsoil") {
			t.Errorf("site %d: topsoil %v of %+v", i, parts.OfSoil("topsoil"), parts)
		}
	}
	for _, id := range []string{"topsoil", "base", "fill", "topping", "over", "working", "sides"} {
		if some[id] < 20 {
			t.Errorf("only %d sites with %s: %v", some[id], id, some)
		}
	}
}

func TestStripTopsoil(t *testing.T) {
	for i, r := range rands(42, 60) {
		s := randomSite(t, r)
		depth := unit.Length(0.05 + 0.3*r.Float64())
		got, err := s.ground.StripTopsoil(s.sec, s.st, depth)
		if err != nil {
			t.Fatal(err)
		}
		// The breadth at the ground: between the points of the cut furthest out.
		area := s.sum(func(h, c float64) float64 {
			p := clippedWedge(h, c, s.sec.Formation().Meters(), s.sec.Batter)
			if shoelace(p) < 1e-12 {
				return 0
			}
			low, high := math.Inf(1), math.Inf(-1)
			for _, v := range p {
				low, high = math.Min(low, v.y), math.Max(high, v.y)
			}
			return high - low
		}, 800)
		if !near(got.Area.SquareMeters(), area, 3e-3*(0.1+area)) {
			t.Errorf("site %d: area %v, by polygons %v", i, got.Area, area)
		}
		parts, err := s.ground.DigParts(s.sec, s.st, nil, depth)
		if err != nil {
			t.Fatal(err)
		}
		if !near(float64(got.InCut), float64(parts.Of("topsoil")), 1e-12) || !near(float64(got.InCut+got.Beside), float64(got.Bank), 1e-12*(1+float64(got.Bank))) ||
			got.InCut < 0 || got.Beside < 0 || !near(float64(got.Bank), float64(got.Area)*float64(depth), 1e-12*(1+float64(got.Bank))) {
			t.Errorf("site %d: %+v, part of the cut %v", i, got, parts.Of("topsoil"))
		}
	}
	// Plan area of a whole ring: an annulus, whatever way it bends; all of the skin is
	// in the cut but for what is under the sides.
	const radius, h, s, half, skin = 3.0, 0.8, 0.5, 0.6, 0.2
	round := unit.Length(2 * math.Pi * radius)
	g := mustBend(t, mustGround(t, []Point{{0, 0, 0}, {round, 0, 0}}), Bend{0, round, radius, true})
	got, err := g.StripTopsoil(Section{Width: 2 * half, Batter: s}, Stretch{To: round, Formation: Line{Level: -h}}, skin)
	if err != nil {
		t.Fatal(err)
	}
	out := half + s*h
	area := math.Pi * ((radius+out)*(radius+out) - (radius-out)*(radius-out))
	if !near(got.Area.SquareMeters(), area, 1e-9) || !near(float64(got.Beside), 2*math.Pi*radius*s*skin*skin, 1e-9) {
		t.Errorf("%+v, ring %v", got, area)
	}
	// On a side hill the breadth lies off the centreline: by radii again.
	const c = 0.3
	g = mustBend(t, mustGround(t, []Point{{0, 0, c}, {round, 0, c}}), Bend{0, round, radius, true})
	if got, err = g.StripTopsoil(Section{Width: 2 * half, Batter: s}, Stretch{To: round, Formation: Line{Level: -h}}, skin); err != nil {
		t.Fatal(err)
	}
	right, left := half+s*(h+c*half)/(1-s*c), half+s*(h-c*half)/(1+s*c)
	if area := math.Pi * ((radius+left)*(radius+left) - (radius-right)*(radius-right)); !near(got.Area.SquareMeters(), area, 1e-9) {
		t.Errorf("area %v, ring %v", got.Area, area)
	}
}

// The worked area is the cut's footprint where all is cut, the path and the shoulders
// where all is filled: closed forms on level ground and on a side hill in cut.
func TestWorkedArea(t *testing.T) {
	sec := Section{Width: 1.2, Working: 0.2, Batter: 0.5, FillBatter: 1.5}
	for _, c := range []struct{ h, crossfall, want float64 }{
		{0.4, 0, 10 * (1.6 + 2*0.5*0.4)},
		{-0.4, 0, 10 * (1.2 + 2*1.5*0.4)},
		// To each side half + batter·(h ± c·half)/(1 ∓ batter·c).
		{0.6, 0.2, 10 * (1.6 + 0.5*(0.6+0.2*0.8)/(1-0.5*0.2) + 0.5*(0.6-0.2*0.8)/(1+0.5*0.2))},
		// Part cut, part fill: zero at the centre, both sides up to their toes.
		{0, 0.2, 10 * (0.8 + 0.5*0.16/(1-0.1) + 0.6 + 1.5*0.12/(1-0.3))},
	} {
		g, err := NewGround([]Point{{0, unit.Length(c.h), c.crossfall}, {10, unit.Length(c.h), c.crossfall}})
		if err != nil {
			t.Fatal(err)
		}
		a, err := g.WorkedArea(sec, Stretch{From: 0, To: 10})
		if err != nil || !near(float64(a), c.want, 1e-9) {
			t.Errorf("%+v: %v %v, want %v", c, a, err, c.want)
		}
	}
	if _, err := (Ground{}).WorkedArea(sec, Stretch{}); err == nil {
		t.Error("no ground has an area")
	}
}

func TestPartsFaults(t *testing.T) {
	g := mustGround(t, []Point{{0, 1, 0}, {10, 1, 0}})
	nan := unit.Length(math.NaN())
	_, err := g.DigParts(Section{}, Stretch{To: 11}, []Layer{{Thickness: 0.1}, {Thickness: nan}, {Thickness: 0}, {Thickness: 11}}, 3)
	wantFault(t, "parts", err, "layers[1].thickness", "layers[2].thickness", "layers[3].thickness", "topsoil", "section.width", "to")
	_, err = g.DigParts(Section{Width: 1}, Stretch{To: 1}, make([]Layer, 21), -1)
	wantFault(t, "layers", err, "layers", "topsoil")
	_, err = g.StripTopsoil(Section{}, Stretch{To: 1}, nan)
	wantFault(t, "strip", err, "topsoil", "section.width")
	_, err = Ground{}.DigParts(Section{Width: 1}, Stretch{}, nil, 0)
	wantFault(t, "no ground", err, "ground")
}

// Taking the skin off leaves a hole in places; no fill has to reach the ground there.
func TestPartsOfThinCuts(t *testing.T) {
	g := mustGround(t, []Point{{0, 1, 0.9}, {10, 1, 0.9}})
	sec, st := Section{Width: 1, FillBatter: 1.2}, Stretch{To: 10, Formation: Line{Level: 0.5}}
	parts, err := g.DigParts(sec, st, nil, 0.2)
	if err != nil || !near(float64(parts.Sum()), 5, 1e-9) || !near(float64(parts.Of("topsoil")), 1.875, 1e-9) {
		t.Errorf("%+v %v", parts, err)
	}
	if _, err := g.StripTopsoil(sec, st, 0.2); err != nil {
		t.Error(err)
	}
}

func TestParallelLength(t *testing.T) {
	g := mustBend(t, mustGround(t, []Point{{0, 0, 0}, {20, 1, 0}}), Bend{2, 8, 4, true}, Bend{10, 12, 5, false})
	for _, r := range []struct{ from, to, offset, want unit.Length }{
		{0, 20, 0, 20},
		{0, 20, 1, 20 - 6.0/4 + 2.0/5},
		{0, 20, -1, 20 + 6.0/4 - 2.0/5},
		{5, 11, 2, 6 - 3*2.0/4 + 2.0/5},
		{3, 3, 1, 0},
	} {
		got, err := g.ParallelLength(r.from, r.to, r.offset)
		if err != nil || !near(float64(got), float64(r.want), 1e-12) {
			t.Errorf("%+v: %v %v", r, got, err)
		}
	}
	_, err := g.ParallelLength(0, 20, 4)
	wantFault(t, "centre", err, "offset")
	_, err = g.ParallelLength(-1, 21, unit.Length(math.NaN()))
	wantFault(t, "range", err, "from", "to", "offset")
}

func TestHoles(t *testing.T) {
	nan := unit.Length(math.NaN())
	for _, r := range []struct {
		name string
		got  unit.Volume
		want float64
	}{
		{"trench", Trench{Depth: 0.2, Breadth: 0.3, Length: 2}.Volume(), 0.12},
		{"swale", Trench{Depth: 0.3, Length: 10, Batter: 2}.Volume(), 1.8},
		{"trench with sides", Trench{Depth: 0.5, Breadth: 0.3, Length: 4, Batter: 0.5}.Volume(), 0.5 * 0.55 * 4},
		{"no trench", Trench{Depth: nan, Breadth: -1, Length: unit.Length(math.Inf(1)), Batter: math.NaN()}.Volume(), 0},
		{"pit", Pit{Length: 1, Breadth: 0.5, Depth: 0.6}.Volume(), 0.3},
		// A pyramid: from a point up to 2 m square, 1 m deep.
		{"pyramid", Pit{Depth: 1, Batter: 1}.Volume(), 4.0 / 3},
		{"post hole", PostHole{Breadth: 0.3, Depth: 0.8}.Volume(), math.Pi * 0.15 * 0.15 * 0.8},
		{"square hole", PostHole{Breadth: 0.3, Depth: 0.8, Square: true}.Volume(), 0.072},
		{"huge", Pit{Length: 1e99, Breadth: 1e99, Depth: 1e99, Batter: 1e99}.Volume(), 1000.0 / 6 * (1e6 + 4*11e3*11e3 + 21e3*21e3)},
	} {
		if !near(float64(r.got), r.want, 1e-12*(1+r.want)) {
			t.Errorf("%s: %v, want %v", r.name, r.got, r.want)
		}
	}
	if got := (PostHole{Breadth: 1, Depth: 1, Square: true}).Part("holes", "post holes", 6); got.Bank != 6 || got.ID != "holes" {
		t.Errorf("%+v", got)
	}
	if got := (Trench{Depth: 1, Breadth: 1, Length: 1}).Part("t", "t", -3); got.Bank != 0 {
		t.Errorf("%+v", got)
	}
	wantFault(t, "trench", Trench{nan, -1, 2000, -1}.Validate(), "depth", "breadth", "length", "batter")
	wantFault(t, "pit", Pit{nan, -1, 2000, math.NaN()}.Validate(), "length", "breadth", "depth", "batter")
	wantFault(t, "hole", PostHole{nan, -1, false}.Validate(), "breadth", "depth")
	if err := (Trench{}).Validate(); err != nil {
		t.Error(err)
	}
}

func TestPartsAddUp(t *testing.T) {
	a := Parts{{"base", "base", "", 1}, {"topsoil", "topsoil", "topsoil", 2}}
	b := Parts{{"trench", "trench", "", 4}, {"base", "base", "", 8}, {"base", "base", "clay", 16}}
	sum := a.Plus(b)
	want := Parts{{"base", "base", "", 9}, {"topsoil", "topsoil", "topsoil", 2}, {"trench", "trench", "", 4}, {"base", "base", "clay", 16}}
	if diff := cmp.Diff(want, sum); diff != "" {
		t.Error(diff)
	}
	if sum.Sum() != 31 || sum.Of("base") != 25 || sum.OfSoil("") != 13 || a.Sum() != 3 || b.Sum() != 28 {
		t.Errorf("%v %v %v", sum.Sum(), sum.Of("base"), sum.OfSoil(""))
	}
	if (Parts)(nil).Sum() != 0 || len((Parts)(nil).Plus(nil)) != 0 {
		t.Error("nothing is something")
	}
}
