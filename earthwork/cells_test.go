package earthwork

import (
	"math"
	"testing"

	"github.com/martinlindhe/unit"
)

// grid is n+1 even stations over a range.
func grid(from, to unit.Length, n int) []unit.Length {
	at := make([]unit.Length, n+1)
	for i := range at {
		at[i] = from + (to-from)*unit.Length(i)/unit.Length(n)
	}
	at[n] = to
	return at
}

// Every cell is the stretch it stands for.
func TestCutCellsAreStretches(t *testing.T) {
	straddling, part := 0, 0
	for i, r := range rands(11, 300) {
		s := randomSite(t, r)
		from, to := s.ground.Foot().Station, s.ground.Head().Station
		n := 1 + r.IntN(60)
		at := grid(from, to, n)
		cut, deepest, highest := make([]unit.Volume, n), make([]unit.Length, n), make([]unit.Length, n)
		if err := s.ground.CutCells(s.sec, at, s.st.Formation, cut, deepest, highest); err != nil {
			t.Fatalf("site %d: %v", i, err)
		}
		var sum unit.Volume
		for k := range cut {
			want, err := s.ground.Dig(s.sec, Stretch{From: at[k], To: at[k+1], Formation: s.st.Formation})
			if err != nil {
				t.Fatal(err)
			}
			if !near(float64(cut[k]), float64(want.Cut), 1e-12+1e-10*float64(want.Cut)) {
				t.Fatalf("site %d cell %d: cut %v, of the stretch %v", i, k, cut[k], want.Cut)
			}
			if !near(float64(deepest[k]), float64(want.DeepestEdge), 1e-12) || !near(float64(highest[k]), float64(want.HighestEdge), 1e-12) {
				t.Fatalf("site %d cell %d: %v deep %v high, of the stretch %+v", i, k, deepest[k], highest[k], want)
			}
			if cut[k] > 0 && highest[k] > 0 {
				part++
			}
			for _, p := range s.ground.points {
				if p.Station > at[k] && p.Station < at[k+1] {
					straddling++
				}
			}
			sum += cut[k]
		}
		whole, err := s.ground.Dig(s.sec, Stretch{From: from, To: to, Formation: s.st.Formation})
		if err != nil {
			t.Fatal(err)
		}
		if !near(float64(sum), float64(whole.Cut), 1e-9*(0.01+float64(whole.Cut))) {
			t.Fatalf("site %d: cells cut %v, the path %v", i, sum, whole.Cut)
		}
	}
	if straddling < 300 || part < 300 {
		t.Errorf("only %d cells with a ground point inside, %d part in cut", straddling, part)
	}
}

// The closed forms of level and even crossfalls against the general integral,
// on one straight ground.
func TestCutCellsClosedForms(t *testing.T) {
	for i, r := range rands(12, 200) {
		sec := randomSection(r)
		c := randomCrossfall(r, sec)
		g := mustGround(t, []Point{{0, 0, c}, {10, 4, c}})
		f := Line{Level: unit.Length(r.Float64() - 0.8), Grade: 0.4 + 0.3*(r.Float64()-0.5)}
		at := grid(0, 10, 40)
		cut := make([]unit.Volume, 40)
		if err := g.CutCells(sec, at, f, cut, nil, nil); err != nil {
			t.Fatal(err)
		}
		for k := range cut {
			h0, h1 := 0.4*float64(at[k])-f.at(float64(at[k])), 0.4*float64(at[k+1])-f.at(float64(at[k+1]))
			const n = 2000
			var want float64
			for j := range n {
				h := h0 + (h1-h0)*(float64(j)+0.5)/n
				want += 0.25 / n * plainCut(sec, h, c)
			}
			if !near(float64(cut[k]), want, 1e-6*math.Max(want, 0.01)) {
				t.Fatalf("%d cell %d: %v, thin slices %v", i, k, cut[k], want)
			}
		}
	}
}

// plainCut adds the section up from its parts in another way: the
// depth over the formation, and over each side from its edge to where they meet.
func plainCut(sec Section, h, c float64) float64 {
	b := sec.Formation().Meters()
	lo, hi := -b/2, b/2
	area := 0.0
	if c != 0 {
		if zero := -h / c; c > 0 {
			lo = math.Min(math.Max(lo, zero), hi)
		} else {
			hi = math.Max(math.Min(hi, zero), lo)
		}
		area = (hi - lo) * (h + c*(lo+hi)/2)
	} else if h > 0 {
		area = b * h
	}
	for _, side := range []float64{1, -1} {
		if edge := h + side*c*b/2; edge > 0 {
			area += 0.5 * edge * sec.Batter * edge / (1 - side*sec.Batter*c)
		}
	}
	return area
}

func TestCutCellsFaults(t *testing.T) {
	g := mustGround(t, []Point{{0, 0, 0}, {5, 2, 0}, {10, 3, 0.9}})
	sec := Section{Width: 1.2, Batter: 0.5}
	at := grid(0, 10, 10)
	nan := unit.Length(math.NaN())
	shuffled := append([]unit.Length(nil), at...)
	shuffled[4] = shuffled[3]
	notNumber := append([]unit.Length(nil), at...)
	notNumber[4] = nan
	ten := make([]unit.Length, 10)
	for _, r := range []struct {
		name      string
		ground    Ground
		sec       Section
		at        []unit.Length
		formation Line
		cut       []unit.Volume
		deepest   []unit.Length
		fields    []string
	}{
		{"no ground", Ground{}, sec, at, Line{}, nil, nil, []string{"ground"}},
		{"no section", g, Section{}, at, Line{}, nil, nil, []string{"section.width"}},
		{"no cells", g, sec, at[:1], Line{}, nil, nil, []string{"at"}},
		{"off the ground", g, sec, []unit.Length{-1, 2, 11}, Line{}, nil, nil, []string{"at[0]", "at[2]"}},
		{"no headway", g, sec, shuffled, Line{}, nil, nil, []string{"at[4]"}},
		{"not a number", g, sec, notNumber, Line{}, nil, nil, []string{"at[4]"}},
		{"formation", g, sec, at, Line{Level: nan}, nil, nil, []string{"formation.level"}},
		{"lengths", g, sec, at, Line{}, make([]unit.Volume, 9), ten[:3], []string{"cut", "deepest"}},
		{"empty", g, sec, at, Line{}, []unit.Volume{}, nil, []string{"cut"}},
		{"never meets", g, Section{Width: 1, Batter: 1.2}, at, Line{Level: -1}, nil, ten, []string{"ground"}},
	} {
		wantFault(t, r.name, r.ground.CutCells(r.sec, r.at, r.formation, r.cut, r.deepest, nil), r.fields...)
	}
	// Steep ground is no matter where it lies below the formation, or is not reached.
	for _, f := range []Line{{Level: 9}, {Level: 8}} {
		cut := make([]unit.Volume, 10)
		if err := g.CutCells(Section{Width: 1, Batter: 1.2}, at, f, cut, ten, ten); err != nil || cut[9] != 0 {
			t.Errorf("%+v: %v %v", f, cut, err)
		}
	}
	if err := g.CutCells(Section{Width: 1, Batter: 1.2}, at[:9], Line{Level: -1}, nil, ten[:8], nil); err != nil {
		t.Error(err)
	}
}

func TestCutCellsAllocateNothing(t *testing.T) {
	g, sec, at, f := benchSite(t, 0.2, 0.1)
	cut, deepest, highest := make([]unit.Volume, len(at)-1), make([]unit.Length, len(at)-1), make([]unit.Length, len(at)-1)
	if n := testing.AllocsPerRun(10, func() {
		if err := g.CutCells(sec, at, f, cut, deepest, highest); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// benchSite is 12 m of hillside in 12 ground points and 1000 cells, the
// formation in and out of the ground.
func benchSite(t testing.TB, c, vary float64) (Ground, Section, []unit.Length, Line) {
	var points []Point
	for i := range 12 {
		x := 12 * float64(i) / 11
		points = append(points, Point{unit.Length(x), unit.Length(0.4*x + 0.2*float64(i%3)), c + vary*float64(i%2)})
	}
	return mustGround(t, points), Section{Width: 1.2, Working: 0.15, Batter: 0.5}, grid(0, 12, 1000), Line{Level: 0.05, Grade: 0.4}
}

func BenchmarkCutCells(b *testing.B) {
	for _, kind := range []struct {
		name    string
		c, vary float64
		drop    unit.Length
	}{
		{"level", 0, 0, 0}, {"crossfall", 0.2, 0, 0}, {"crossfall-all-cut", 0.2, 0, 0.5}, {"changing", 0.2, 0.1, 0}, {"changing-all-cut", 0.2, 0.1, 0.5},
	} {
		g, sec, at, f := benchSite(b, kind.c, kind.vary)
		f.Level -= kind.drop
		cut, deepest, highest := make([]unit.Volume, len(at)-1), make([]unit.Length, len(at)-1), make([]unit.Length, len(at)-1)
		total := func() (sum unit.Volume) {
			for _, v := range cut {
				sum += v
			}
			return sum
		}
		b.Run(kind.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := g.CutCells(sec, at, f, cut, deepest, highest); err != nil {
					b.Fatal(err)
				}
			}
		})
		exact := total()
		// The reference: 8 slices of each cell by Simpson's rule.
		b.Run(kind.name+"/reference", func(b *testing.B) {
			sh := sec.shape(0)
			for b.Loop() {
				for i := range cut {
					var sum float64
					const n = 8
					thick := float64(at[i+1]-at[i]) / n
					for k := 0; k <= 2*n; k++ {
						s := g.station(float64(at[i])+thick/2*float64(k), f)
						w := []float64{2, 4}[k%2]
						if k == 0 || k == 2*n {
							w = 1
						}
						sum += w * sh.cut(s.h, s.c)
					}
					cut[i] = unit.Volume(thick / 6 * sum)
				}
			}
			if got := total(); !near(float64(got), float64(exact), 1e-6*float64(exact)) {
				b.Fatalf("cells %v, reference %v", exact, got)
			}
		})
	}
}
