package earthwork

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/martinlindhe/unit"
)

func mustBend(t testing.TB, g Ground, bends ...Bend) Ground {
	t.Helper()
	g, err := g.WithBends(bends)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// The rings of solid geometry: a level trench all round a circle is the
// difference of two cones cut off, whichever way the path turns.
func TestRings(t *testing.T) {
	cone := func(top, bottom, height float64) float64 {
		return math.Pi * height / 3 * (top*top + top*bottom + bottom*bottom)
	}
	for i, r := range rands(21, 60) {
		h, s, half, path := 0.2+r.Float64(), 2*r.Float64(), 0.5+r.Float64(), 0.4
		build := h * r.Float64()
		radius := half + s*h + 0.01 + 4*r.Float64()
		round := unit.Length(2 * math.Pi * radius)
		for _, right := range []bool{true, false} {
			g := mustBend(t, mustGround(t, []Point{{0, 0, 0}, {round, 0, 0}}), Bend{0, round, unit.Length(radius), right})
			sec := Section{Width: unit.Length(2 * path), Working: unit.Length(half - path), Batter: s, FillBatter: s}
			d, err := g.Dig(sec, Stretch{To: round, Formation: Line{Level: unit.Length(-h)}, BuildUp: unit.Length(build)})
			if err != nil {
				t.Fatal(err)
			}
			cut := cone(radius+half+s*h, radius+half, h) - cone(radius-half-s*h, radius-half, h)
			box := 4 * math.Pi * radius * path * build
			back := cone(radius+half+s*build, radius+half, build) - cone(radius-half-s*build, radius-half, build) - box
			if !near(float64(d.Cut), cut, 1e-12*cut) || !near(float64(d.Backfill), back, 1e-12*(back+box)) {
				t.Errorf("%d: cut %v, ring %v; backfill %v, ring %v", i, d.Cut, cut, d.Backfill, back)
			}
			d, err = g.Dig(sec, Stretch{To: round, Formation: Line{Level: unit.Length(h)}})
			if err != nil {
				t.Fatal(err)
			}
			if fill := cone(radius+path, radius+path+s*h, h) - cone(radius-path, radius-path-s*h, h); !near(float64(d.Fill), fill, 1e-12*fill) {
				t.Errorf("%d: fill %v, ring %v", i, d.Fill, fill)
			}
		}
	}
}

// A part of a ring on ground that falls across is a body of revolution: its volume
// by cylindrical shells, angle × ∫ ρ·depth(ρ) dρ, which Simpson's rule has exactly
// for the straight pieces of the depth.
func TestRingsOnASideHill(t *testing.T) {
	mixed := 0
	for i, r := range rands(22, 400) {
		sec := randomSection(r)
		c := randomCrossfall(r, sec)
		h := 1.6*r.Float64() - 0.6
		right := i%2 == 0
		side := 1.0 // uphill of the centre at ρ = R − y when the path turns right
		if !right {
			side = -1
		}
		half, b := sec.Formation().Meters()/2, sec.Batter
		depth := func(y float64) float64 {
			floor := 0.0
			if y > half {
				floor = (y - half) / b
			} else if y < -half {
				floor = (-half - y) / b
			}
			return math.Max(h+c*y-floor, 0)
		}
		nodes := []float64{-half, half}
		if edge := h + c*half; edge > 0 && b > 0 {
			nodes = append(nodes, half+b*edge/(1-b*c))
		}
		if edge := h - c*half; edge > 0 && b > 0 {
			nodes = append([]float64{-half - b*edge/(1+b*c)}, nodes...)
		}
		if zero := -h / c; c != 0 && math.Abs(zero) < half {
			mixed++
			if nodes[0] < -half {
				nodes = []float64{nodes[0], -half, zero}
			} else if len(nodes) == 3 || c > 0 {
				nodes = append([]float64{zero, half}, nodes[2:]...)
			} else {
				nodes = []float64{-half, zero}
			}
		}
		radius := math.Max(half, math.Max(-nodes[0], nodes[len(nodes)-1])) + 0.05 + 3*r.Float64()
		angle := 0.1 + 6*r.Float64()
		want := 0.0
		for k := 1; k < len(nodes); k++ {
			y0, y1 := nodes[k-1], nodes[k]
			shell := func(y, lean float64) float64 { return (radius - side*y) * depth(y+lean) }
			tiny := (y1 - y0) * 1e-12 // batters of 0 have a step at the edge
			want += angle * (y1 - y0) / 6 * (shell(y0, tiny) + 4*shell((y0+y1)/2, 0) + shell(y1, -tiny))
		}
		length := unit.Length(angle * radius)
		g := mustBend(t, mustGround(t, []Point{{0, unit.Length(h), c}, {length, unit.Length(h), c}}), Bend{0, length, unit.Length(radius), right})
		d, err := g.Dig(Section{Width: sec.Width, Working: sec.Working, Batter: b}, Stretch{To: length})
		if err != nil {
			t.Fatalf("%d: %v", i, err)
		}
		if !near(float64(d.Cut), want, 1e-9*math.Max(want, 0.01)) {
			t.Errorf("%d: cut %v, by shells %v; h %v c %v %+v radius %v right %v", i, d.Cut, want, h, c, sec, radius, right)
		}
	}
	if mixed < 40 {
		t.Errorf("only %d part in cut", mixed)
	}
}

// moment is the first moment of a polygon about y = 0, triangle by triangle.
func moment(p []vertex) float64 {
	var sum float64
	for i := 2; i < len(p); i++ {
		a, b, c := p[0], p[i-1], p[i]
		sum += ((b.y-a.y)*(c.z-a.z) - (c.y-a.y)*(b.z-a.z)) / 2 * (a.y + b.y + c.y) / 3
	}
	return sum
}

// clippedInBend are the cut, fill and backfill of clipped polygons, each weighted
// by its own centroid.
func clippedInBend(sec Section, h, c, depth, kappa float64) [3]float64 {
	half := sec.Width.Meters() / 2
	cut := clippedWedge(h, c, sec.Formation().Meters(), sec.Batter)
	fill := clippedWedge(-h, -c, sec.Width.Meters(), sec.FillBatter)
	dug := clip(cut, 0, 1, depth)
	l, r := clip(dug, 1, 0, -half), clip(dug, -1, 0, -half)
	return [3]float64{
		shoelace(cut) - kappa*moment(cut),
		shoelace(fill) - kappa*moment(fill),
		shoelace(l) + shoelace(r) - kappa*(moment(l)+moment(r)),
	}
}

// bendSite gives a random site bends along its stretch, some as tight as they may be.
func bendSite(t testing.TB, r *rand.Rand, s site) (site, int) {
	from, to := float64(s.st.From), float64(s.st.To)
	var bends []Bend
	at := from - (from-float64(s.ground.Foot().Station))*r.Float64()
	for at < to && len(bends) < 3 {
		end := math.Min(at+(0.2+2*r.Float64())*(to-from)/3, float64(s.ground.Head().Station))
		if end-at < 0.01 {
			break
		}
		bends = append(bends, Bend{From: unit.Length(at), To: unit.Length(end), Radius: unit.Length((end - at) / 6.2), Right: r.IntN(2) == 0})
		at = end
		if r.IntN(2) == 0 {
			at += 0.2 * (to - from) * r.Float64()
		}
	}
	tight := 0
	for {
		g := mustBend(t, s.ground, bends...)
		_, err := g.Dig(s.sec, s.st)
		if err == nil {
			s.ground = g
			return s, tight
		}
		for _, f := range err.(Faults) {
			i := int(f.Field[len("bends[")] - '0')
			if f.Field[len("bends[0]"):] != ".radius" {
				t.Fatal(err)
			}
			bends[i].Radius *= 1.1
			tight++
		}
	}
}

// pieces are the parts of the site between the ends of its bends, each with its
// curvature.
func (s site) pieces() (out []site) {
	at := []unit.Length{s.st.From}
	for _, b := range s.ground.Bends() {
		for _, x := range []unit.Length{b.From, b.To} {
			if x > at[len(at)-1] && x < s.st.To {
				at = append(at, x)
			}
		}
	}
	at = append(at, s.st.To)
	for i := 1; i < len(at); i++ {
		p := s
		p.st.From, p.st.To = at[i-1], at[i]
		p.kappa = 0
		for _, b := range s.ground.Bends() {
			if mid := (at[i-1] + at[i]) / 2; mid > b.From && mid < b.To {
				p.kappa = 1 / b.Radius.Meters()
				if !b.Right {
					p.kappa = -p.kappa
				}
			}
		}
		out = append(out, p)
	}
	return out
}

func TestBendsAgreeWithBruteForce(t *testing.T) {
	const within = 1e-6
	kinds := map[string]int{}
	matters := 0
	for i, r := range rands(23, 560) {
		s, tight := bendSite(t, r, randomSite(t, r))
		d, err := s.ground.Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		var brute [3]float64
		for _, p := range s.pieces() {
			v := p.bruteForce()
			for k := range brute {
				brute[k] += v[k]
			}
		}
		straight := s.ground
		straight.bends = nil
		plain, err := straight.Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		for k, v := range []struct {
			name       string
			got, plain unit.Volume
		}{{"cut", d.Cut, plain.Cut}, {"fill", d.Fill, plain.Fill}, {"backfill", d.Backfill, plain.Backfill}} {
			if brute[k] > 0.01 {
				kinds[v.name]++
				if math.Abs(float64(v.plain)/brute[k]-1) > 1e-3 {
					matters++
				}
			}
			if !near(float64(v.got), brute[k], within*math.Max(brute[k], 0.01)) {
				t.Errorf("site %d: %s %.12g, brute force %.12g\n%+v %+v %+v %+v", i, v.name, v.got, brute[k], s.sec, s.st, s.ground.Points(), s.ground.Bends())
			}
		}
		if tight > 0 {
			kinds["tight"]++
		}
		for _, b := range s.ground.Bends() {
			if b.Right {
				kinds["right"]++
			} else {
				kinds["left"]++
			}
		}
		switch c := s.ground.Foot().Crossfall; {
		case c < 0:
			kinds["falls to the right"]++
		case c > 0:
			kinds["rises to the right"]++
		default:
			kinds["level"]++
		}
		if s.sec.Batter == 0 {
			kinds["plumb"]++
		} else if s.sec.Batter > 1 {
			kinds["flat"]++
		}
	}
	if matters < 500 {
		t.Errorf("bends mattered to only %d volumes", matters)
	}
	for _, k := range []string{"cut", "fill", "backfill", "tight", "right", "left", "falls to the right", "rises to the right", "level", "plumb", "flat"} {
		if kinds[k] < 40 {
			t.Errorf("only %d sites %s: %v", kinds[k], k, kinds)
		}
	}
}

// The bound in the doc comment of Dig holds in bends: against the same site in 200
// parts, crossfalls that hardly meet the side of the cut among them.
func TestBendQuadratureIsWithinItsBound(t *testing.T) {
	worst := 0.0
	for i, r := range rands(24, 200) {
		s := randomSite(t, r)
		if worstBatter := math.Max(s.sec.Batter, s.sec.FillBatter); worstBatter > 0.6 && i%2 == 0 {
			points := s.ground.Points()
			for j := range points {
				points[j].Crossfall = randomCrossfall(r, s.sec)
			}
			points[1].Crossfall = (1 - []float64{1e-1, 1e-2, 1e-3}[i%3]) / worstBatter
			s.ground = mustGround(t, points)
		}
		s, _ = bendSite(t, r, s)
		whole, err := s.ground.Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		var sum Dug
		const parts = 200
		for k := range parts {
			part := s.st
			part.From = s.st.From + (s.st.To-s.st.From)*unit.Length(k)/parts
			part.To = s.st.From + (s.st.To-s.st.From)*unit.Length(k+1)/parts
			d, err := s.ground.Dig(s.sec, part)
			if err != nil {
				t.Fatal(err)
			}
			sum = sum.Plus(d)
		}
		for _, v := range [][2]unit.Volume{{whole.Cut, sum.Cut}, {whole.Fill, sum.Fill}, {whole.Backfill, sum.Backfill}} {
			off := math.Abs(float64(v[0]-v[1])) / math.Max(float64(v[1]), 0.01)
			worst = math.Max(worst, off)
			if off > 1e-10 {
				t.Errorf("site %d: %v in one, %v in parts (relative %.2g)", i, v[0], v[1], off)
			}
		}
		if !near(float64(whole.DeepestEdge), float64(sum.DeepestEdge), 1e-12) {
			t.Errorf("site %d: deepest edge %v, of the parts %v", i, whole.DeepestEdge, sum.DeepestEdge)
		}
		// The other hand of the hill and of the bends.
		points, bends := s.ground.Points(), s.ground.Bends()
		for j := range points {
			points[j].Crossfall = -points[j].Crossfall
		}
		for j := range bends {
			bends[j].Right = !bends[j].Right
		}
		other, err := mustBend(t, mustGround(t, points), bends...).Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		if !near(float64(other.Cut), float64(whole.Cut), 1e-12*(1+float64(whole.Cut))) || !near(float64(other.Backfill), float64(whole.Backfill), 1e-12*(1+float64(whole.Backfill))) {
			t.Errorf("site %d: %+v, the other hand %+v", i, whole, other)
		}
	}
	t.Logf("worst relative difference %.2g", worst)
}

// Cells in bends are the stretches they stand for; where Dig refuses one for want of
// room, BendsClear says so.
func TestCutCellsInBends(t *testing.T) {
	blocked, clears := 0, 0
	for i, r := range rands(25, 200) {
		s, _ := bendSite(t, r, randomSite(t, r))
		s.st.Formation.Level -= unit.Length(0.8 * r.Float64()) // deeper than the bends were made for
		from, to := s.ground.Foot().Station, s.ground.Head().Station
		n := 1 + r.IntN(80)
		at := grid(from, to, n)
		cut, deepest, highest := make([]unit.Volume, n), make([]unit.Length, n), make([]unit.Length, n)
		if err := s.ground.CutCells(s.sec, at, s.st.Formation, cut, deepest, highest); err != nil {
			t.Fatalf("site %d: %v", i, err)
		}
		clear := make([]bool, n)
		if err := s.ground.BendsClear(s.sec, at, s.st.Formation, clear); err != nil {
			t.Fatal(err)
		}
		for k := range cut {
			sec := s.sec
			sec.FillBatter = 0 // cells are of cut
			want, err := s.ground.Dig(sec, Stretch{From: at[k], To: at[k+1], Formation: s.st.Formation})
			if (err == nil) != clear[k] {
				t.Fatalf("site %d cell %d: clear %v, dug: %v", i, k, clear[k], err)
			}
			if !clear[k] {
				blocked++
				if !(cut[k] >= 0 && cut[k] < 1e6) {
					t.Fatalf("site %d cell %d: cut %v", i, k, cut[k])
				}
				continue
			}
			clears++
			if !near(float64(cut[k]), float64(want.Cut), 1e-12+1e-10*float64(want.Cut)) {
				t.Fatalf("site %d cell %d: cut %v, of the stretch %v", i, k, cut[k], want.Cut)
			}
			if !near(float64(deepest[k]), float64(want.DeepestEdge), 1e-12) || !near(float64(highest[k]), float64(want.HighestEdge), 1e-12) {
				t.Fatalf("site %d cell %d: %v deep %v high, of the stretch %+v", i, k, deepest[k], highest[k], want)
			}
		}
	}
	if blocked < 200 || clears < 2000 {
		t.Errorf("%d cells without room, %d with", blocked, clears)
	}
}

func TestWithBendsFaults(t *testing.T) {
	g := mustGround(t, []Point{{0, 0, 0}, {10, 3, 0.2}})
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	for _, r := range []struct {
		name   string
		ground Ground
		bends  []Bend
		fields []string
	}{
		{"no ground", Ground{}, []Bend{{0, 1, 5, true}}, []string{"ground"}},
		{"too many", g, make([]Bend, maxBends+1), []string{"bends"}},
		{"not numbers", g, []Bend{{nan, inf, nan, true}}, []string{"bends[0].from", "bends[0].to", "bends[0].radius"}},
		{"off the ground", g, []Bend{{-1, 11, 5, true}}, []string{"bends[0].from", "bends[0].to"}},
		{"backwards", g, []Bend{{3, 2, 5, true}}, []string{"bends[0].to"}},
		{"no length", g, []Bend{{3, 3, 5, true}}, []string{"bends[0].to"}},
		{"no radius", g, []Bend{{2, 3, 0, true}, {4, 5, -1, false}, {6, 7, 1e6, false}}, []string{"bends[0].radius", "bends[1].radius", "bends[2].radius"}},
		{"round and round", g, []Bend{{0, 7, 1, true}}, []string{"bends[0].radius"}},
		{"overlap", g, []Bend{{0, 3, 5, true}, {2.5, 5, 5, true}}, []string{"bends[1].from"}},
		{"out of order", g, []Bend{{5, 6, 5, true}, {2, 3, 5, true}, {1, 2, 0, true}}, []string{"bends[1].from", "bends[2].from", "bends[2].radius"}},
	} {
		_, err := r.ground.WithBends(r.bends)
		wantFault(t, r.name, err, r.fields...)
	}
	// Touching bends, and a whole circle.
	if _, err := g.WithBends([]Bend{{0, 3, 5, true}, {3, 10, 7 / (2 * math.Pi), false}}); err != nil {
		t.Error(err)
	}
}

func TestBendsWithoutRoom(t *testing.T) {
	g := mustGround(t, []Point{{0, 1, 0}, {10, 1, 0}})
	sec := Section{Width: 1, Working: 0.25, Batter: 0.5}
	deep := Stretch{To: 10} // reaches 0.75 + 0.5·1 = 1.25 m
	for _, r := range []struct {
		name   string
		bends  []Bend
		st     Stretch
		fields []string
	}{
		{"two without room", []Bend{{0, 1, 1.2, true}, {1, 2, 1.3, true}, {3, 4, 1, false}}, deep, []string{"bends[0].radius", "bends[2].radius"}},
		{"at the limit", []Bend{{0, 1, 1.25, true}}, deep, []string{"bends[0].radius"}},
		{"half the formation", []Bend{{0, 1, 0.75, true}}, Stretch{To: 10, Formation: Line{Level: 1.5}}, []string{"bends[0].radius"}},
		{"clear", []Bend{{0, 1, 1.251, true}}, deep, nil},
		{"outside the stretch", []Bend{{0, 1, 1.2, true}}, Stretch{From: 1, To: 10}, nil},
	} {
		_, err := mustBend(t, g, r.bends...).Dig(sec, r.st)
		if r.fields == nil {
			if err != nil {
				t.Errorf("%s: %v", r.name, err)
			}
			continue
		}
		wantFault(t, r.name, err, r.fields...)
	}
	clear := make([]bool, 3)
	wantFault(t, "length", g.BendsClear(sec, grid(0, 10, 2), Line{}, clear), "clear")
	wantFault(t, "section", g.BendsClear(Section{}, grid(0, 10, 3), Line{}, clear), "section.width")
}

func TestBendsGoWithTheGround(t *testing.T) {
	g := mustGround(t, []Point{{0, 0, 0}, {10, 3, 0.2}})
	bends := []Bend{{1, 2, 4, true}, {2, 5, 8, false}, {7, 9, 3, true}}
	b := mustBend(t, g, bends...)
	near := cmp.Comparer(func(a, b unit.Length) bool { return math.Abs(float64(a-b)) < 1e-12 })
	if diff := cmp.Diff(bends, b.Bends(), near); diff != "" {
		t.Error(diff)
	}
	if len(g.Bends()) != 0 {
		t.Error("the ground without bends got some")
	}
	for x, want := range map[unit.Length]float64{0: 0, 1: 0.25, 1.999: 0.25, 2: -0.125, 5: 0, 6: 0, 8: 1.0 / 3, 9: 0, 99: 0} {
		if got := b.CurvatureAt(x); !(math.Abs(got-want) < 1e-15) {
			t.Errorf("curvature %v at %v, want %v", got, x, want)
		}
	}
	if got := bends[1].Turn(); math.Abs(float64(got)-0.375) > 1e-15 {
		t.Errorf("turns %v", got)
	}
	shifted := b.Shift(1, 0.5)
	for i := range bends {
		bends[i].From--
		bends[i].To--
	}
	if diff := cmp.Diff(bends, shifted.Bends(), near); diff != "" {
		t.Error(diff)
	}
	if back := mustBend(t, b); len(back.Bends()) != 0 {
		t.Error("bends were not replaced")
	}
}

func TestCentroids(t *testing.T) {
	for i, r := range rands(26, 2000) {
		sec := randomSection(r)
		c, h, depth := randomCrossfall(r, sec), 2*r.Float64()-1, r.Float64()
		cut, fill, back := sec.Centroids(unit.Length(h), c, unit.Length(depth))
		one, two := clippedInBend(sec, h, c, depth, 0), clippedInBend(sec, h, c, depth, 1)
		for k, got := range []unit.Length{cut, fill, back} {
			if m := float64(got) * one[k]; !near(m, one[k]-two[k], 1e-9) {
				t.Fatalf("%d: moment %d is %v, of the polygon %v", i, k, m, one[k]-two[k])
			}
		}
	}
	if a, b, c := (Section{Width: 1, Batter: 2}).Centroids(1, 0.7, 0.1); a != 0 || b != 0 || math.IsNaN(float64(c)) {
		t.Errorf("a side that never meets the ground: %v %v %v", a, b, c)
	}
}

func TestSameBitsInBends(t *testing.T) {
	const want = 0x656106c6a1f276e1
	sum := uint64(14695981039346656037)
	for _, r := range rands(27, 300) {
		eighth := func(most int) float64 { return float64(r.IntN(8*most)) / 8 }
		var points []Point
		for i := range 5 {
			points = append(points, Point{unit.Length(3 * i), unit.Length(float64(i) + eighth(2)), eighth(1)/4 - 0.125})
		}
		g := mustBend(t, mustGround(t, points), Bend{1, 5.3, 16, r.IntN(2) == 0}, Bend{6, 11, 24, r.IntN(2) == 0})
		sec := Section{unit.Length(0.375 + eighth(2)), unit.Length(eighth(1)), eighth(2) / 3, eighth(2) / 3}
		line := Line{1, unit.Length(eighth(2)), 0.3}
		d, err := g.Dig(sec, Stretch{0.7, 11.9, line, 0.3})
		if err != nil {
			t.Fatal(err)
		}
		cut := make([]unit.Volume, 30)
		if err := g.CutCells(sec, grid(0, 12, 30), line, cut, nil, nil); err != nil {
			t.Fatal(err)
		}
		for _, v := range append(cut, d.Cut, d.Fill, d.Backfill, d.Prismoidal) {
			sum = (sum ^ math.Float64bits(float64(v))) * 1099511628211
		}
	}
	if sum != want {
		t.Errorf("bits %#x, want %#x", sum, uint64(want))
	}
}

func BenchmarkBends(b *testing.B) {
	g, sec, at, f := benchSite(b, 0.2, 0.1)
	g = mustBend(b, g, Bend{1, 5, 4, true}, Bend{6, 11, 6, false})
	cut := make([]unit.Volume, len(at)-1)
	b.ReportAllocs()
	for b.Loop() {
		if err := g.CutCells(sec, at, f, cut, nil, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// Whatever the bends, what is accepted gives volumes that are sound.
func TestBendsAreSound(t *testing.T) {
	odd := []float64{0, -1, 1e-9, 1e-3, 0.7, 5, 1e5, 1e300, math.NaN(), math.Inf(1)}
	made, dug := 0, 0
	for i, r := range rands(28, 3000) {
		f := func(of float64) unit.Length {
			if r.IntN(6) == 0 {
				return unit.Length(odd[r.IntN(len(odd))])
			}
			return unit.Length(of * r.Float64())
		}
		s := randomSite(t, r)
		first, last := float64(s.ground.Foot().Station), float64(s.ground.Head().Station)
		var bends []Bend
		for at := first; len(bends) < 3; {
			b := Bend{From: unit.Length(at) + f((last-first)/6), Radius: f(6), Right: r.IntN(2) == 0}
			b.To = b.From + f((last-first)/6)
			bends = append(bends, b)
			at = float64(b.To)
		}
		g, err := s.ground.WithBends(bends)
		if err != nil {
			continue
		}
		made++
		n := 20
		cut, deepest := make([]unit.Volume, n), make([]unit.Length, n)
		if err := g.CutCells(s.sec, grid(unit.Length(first), unit.Length(last), n), s.st.Formation, cut, deepest, nil); err != nil {
			t.Fatalf("%d: %v", i, err)
		}
		d, err := g.Dig(s.sec, s.st)
		if err == nil {
			dug++
		}
		parts, err := g.DigParts(s.sec, s.st, []Layer{{ID: "base", Thickness: 0.1}}, 0.1)
		if err == nil {
			for _, p := range parts {
				cut = append(cut, p.Bank)
			}
			strip, err := g.StripTopsoil(s.sec, s.st, 0.1)
			if err != nil {
				t.Fatal(err)
			}
			cut = append(cut, strip.Bank, strip.InCut, strip.Beside, unit.Volume(strip.Area))
		}
		for _, v := range append(cut, d.Cut, d.Fill, d.Backfill, d.AverageEndArea, d.Prismoidal) {
			if !(v >= 0 && v < 1e6) {
				t.Fatalf("%d: %v of %+v\n%+v %+v %+v", i, v, d, s.sec, s.st, bends)
			}
		}
	}
	if made < 300 || dug < 100 || dug == made {
		t.Errorf("%d accepted, %d dug", made, dug)
	}
}
