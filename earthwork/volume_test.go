package earthwork

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/martinlindhe/unit"
)

func mustGround(t testing.TB, points []Point) Ground {
	t.Helper()
	g, err := NewGround(points)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestPublishedVolumes(t *testing.T) {
	var v volumeVectors
	readVectors(t, "volumes.json", &v)
	if len(v.Profiles) < 9 || len(v.Areas) < 4 {
		t.Fatalf("only %d profiles and %d rows of areas read", len(v.Profiles), len(v.Areas))
	}
	for _, r := range v.Profiles {
		t.Run(r.ID, func(t *testing.T) {
			sec := Section{Width: unit.Length(r.Width), Batter: r.Batter, FillBatter: r.FillBatter}
			points := make([]Point, len(r.Depths))
			areas := make([]unit.Area, len(r.Depths))
			for i, h := range r.Depths {
				// The formation falls 1 in 40 from level 100, and the ground with it.
				x := float64(i) * r.Spacing
				points[i] = Point{unit.Length(x), unit.Length(100 - x/40 + h), r.Crossfall}
				areas[i] = sec.Cut(unit.Length(h), r.Crossfall)
				if r.Areas != nil && !near(areas[i].SquareMeters(), r.Areas[i], 5e-6) {
					t.Errorf("area %d is %v, published %v", i, areas[i], r.Areas[i])
				}
			}
			zeros := r.Zeros
			for i := len(points) - 1; i > 0 && r.Zeros != nil; i-- {
				if a, b := r.Depths[i-1], r.Depths[i]; a*b < 0 {
					run := r.Spacing * a / (a - b)
					if n := len(zeros); n == 0 || !near(run, zeros[n-1], 5e-5) {
						t.Errorf("zero point %v past station %d, published %v", run, i-1, zeros)
					}
					zeros = zeros[:len(zeros)-1]
					zero := Point{points[i-1].Station + unit.Length(run), 0, r.Crossfall}
					zero.Level = 100 - zero.Station/40
					points = slices.Insert(points, i, zero)
				}
			}
			g := mustGround(t, points)
			d, err := g.Dig(sec, Stretch{To: g.Head().Station, Formation: Line{Level: 100, Grade: -1.0 / 40}})
			if err != nil {
				t.Fatal(err)
			}
			check(t, "average end area", d.AverageEndArea.CubicMeters(), r.AverageEndArea, r.Within)
			check(t, "cut", d.Cut.CubicMeters(), r.Cut, r.Within)
			check(t, "fill", d.Fill.CubicMeters(), r.Fill, r.Within)
			if r.PrismoidalRule != nil {
				got, err := PrismoidalRule(unit.Length(r.Spacing), areas)
				if err != nil {
					t.Fatal(err)
				}
				check(t, "prismoidal rule", got.CubicMeters(), r.PrismoidalRule, r.Within)
			}
			// Without a change of crossfall, and all in cut, the prismoidal
			// volume of each bay is the exact one.
			if r.Fill == nil && !near(float64(d.Prismoidal), float64(d.Cut), 1e-11*float64(d.Cut)) {
				t.Errorf("cut %v, prismoidal bay by bay %v", d.Cut, d.Prismoidal)
			}
		})
	}
	for _, r := range v.Areas {
		t.Run(r.ID, func(t *testing.T) {
			areas := make([]unit.Area, len(r.Areas))
			for i, a := range r.Areas {
				areas[i] = unit.Area(a)
			}
			got, err := AverageEndArea(unit.Length(r.Spacing), areas)
			if err != nil {
				t.Fatal(err)
			}
			check(t, "average end area", got.CubicMeters(), r.AverageEndArea, r.Within)
			got, err = PrismoidalRule(unit.Length(r.Spacing), areas)
			if r.PrismoidalRule == nil {
				wantFault(t, "even number of areas", err, "areas")
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			check(t, "prismoidal rule", got.CubicMeters(), r.PrismoidalRule, r.Within)
		})
	}
}

// site is a random hillside with a formation cut into it.
type site struct {
	ground Ground
	sec    Section
	st     Stretch
	kappa  float64 // curvature of the whole stretch, for bruteForce
}

// randomSite draws 3 to 9 ground points along 5 to 30 m, of one constant
// crossfall, none, or one that changes from point to point, and a formation that
// goes in and out of the ground.
func randomSite(t testing.TB, r *rand.Rand) site {
	s := site{sec: randomSection(r)}
	n := 3 + r.IntN(7)
	length, slope := 5+25*r.Float64(), r.Float64()
	crossfall, kind := randomCrossfall(r, s.sec), r.IntN(3)
	points := make([]Point, n)
	for i := range points {
		x := length * (float64(i) + 0.6*r.Float64() - 0.3) / float64(n-1)
		points[i] = Point{unit.Length(x), unit.Length(slope*x + 1.6*r.Float64() - 0.8), 0}
		switch kind {
		case 0:
			points[i].Crossfall = crossfall
		case 1:
			points[i].Crossfall = randomCrossfall(r, s.sec)
		}
	}
	s.ground = mustGround(t, points)
	first, last := float64(s.ground.Foot().Station), float64(s.ground.Head().Station)
	from := first + (last-first)*0.3*r.Float64()
	s.st = Stretch{
		From:      unit.Length(from),
		To:        unit.Length(from + (last-from)*(0.3+0.7*r.Float64())),
		Formation: Line{Station: unit.Length(length * r.Float64()), Level: unit.Length(0.8*r.Float64() - 0.6), Grade: slope + 0.1*r.Float64()},
		BuildUp:   unit.Length(0.05 + 0.4*r.Float64()),
	}
	s.st.Formation.Level += unit.Length(s.st.Formation.Grade) * s.st.Formation.Station
	return s
}

// bruteForce sums thin slices of each bay between ground points, of the areas of
// clipped polygons; a slice is halved until halving changes nothing that matters.
func (s site) bruteForce() (v [3]float64) {
	areas := func(x float64) [3]float64 {
		level, _ := s.ground.LevelAt(unit.Length(x))
		c, _ := s.ground.CrossfallAt(unit.Length(x))
		h := float64(level - s.st.Formation.LevelAt(unit.Length(x)))
		if s.kappa != 0 {
			return clippedInBend(s.sec, h, c, s.st.BuildUp.Meters(), s.kappa)
		}
		return [3]float64{clippedCut(s.sec, h, c), clippedFill(s.sec, h, c), clippedBackfill(s.sec, h, c, s.st.BuildUp.Meters())}
	}
	var slice func(x0, x1 float64, a0, am, a1 [3]float64, left int)
	slice = func(x0, x1 float64, a0, am, a1 [3]float64, left int) {
		q1, q3 := areas(x0+(x1-x0)/4), areas(x0+(x1-x0)*3/4)
		good := true
		var whole [3]float64
		for i := range whole {
			one := (x1 - x0) / 6 * (a0[i] + 4*am[i] + a1[i])
			whole[i] = (x1 - x0) / 12 * (a0[i] + 4*q1[i] + 2*am[i] + 4*q3[i] + a1[i])
			good = good && math.Abs(whole[i]-one) <= 1e-10*(x1-x0)
		}
		if !good && left > 0 {
			mid := (x0 + x1) / 2
			slice(x0, mid, a0, q1, am, left-1)
			slice(mid, x1, am, q3, a1, left-1)
			return
		}
		for i := range v {
			v[i] += whole[i]
		}
	}
	ends := []unit.Length{s.st.From}
	for _, p := range s.ground.Points() {
		if p.Station > s.st.From && p.Station < s.st.To {
			ends = append(ends, p.Station)
		}
	}
	ends = append(ends, s.st.To)
	for k := 1; k < len(ends); k++ {
		const n = 40
		for i := range n {
			x0 := float64(ends[k-1]) + float64(ends[k]-ends[k-1])*float64(i)/n
			x1 := float64(ends[k-1]) + float64(ends[k]-ends[k-1])*float64(i+1)/n
			slice(x0, x1, areas(x0), areas((x0+x1)/2), areas(x1), 22)
		}
	}
	return v
}

func TestVolumesAgreeWithBruteForce(t *testing.T) {
	const within = 1e-6
	cuts, fills, backfills, signs := 0, 0, 0, [3]int{}
	for i, r := range rands(3, 520) {
		s := randomSite(t, r)
		d, err := s.ground.Dig(s.sec, s.st)
		if err != nil {
			t.Fatalf("site %d: %v", i, err)
		}
		brute := s.bruteForce()
		for _, v := range []struct {
			name      string
			got, want float64
			n         *int
		}{
			{"cut", d.Cut.CubicMeters(), brute[0], &cuts},
			{"fill", d.Fill.CubicMeters(), brute[1], &fills},
			{"backfill", d.Backfill.CubicMeters(), brute[2], &backfills},
		} {
			if v.want > 0.01 {
				*v.n++
			}
			// A volume under 10 litres is held to a hundredth of a millilitre.
			if !near(v.got, v.want, within*math.Max(v.want, 0.01)) {
				t.Errorf("site %d: %s %.12g, brute force %.12g (relative %.2g)\n%+v %+v %+v", i, v.name, v.got, v.want, v.got/v.want-1, s.sec, s.st, s.ground.Points())
			}
		}
		switch c := s.ground.Foot().Crossfall; {
		case c < 0:
			signs[0]++
		case c == 0:
			signs[1]++
		default:
			signs[2]++
		}
	}
	for _, n := range []int{cuts, fills, backfills, 4 * signs[0], 4 * signs[1], 4 * signs[2]} {
		if n < 200 {
			t.Errorf("too few sites of a kind: %d cut, %d fill, %d backfill, crossfalls %v", cuts, fills, backfills, signs)
			break
		}
	}
}

// The bound in the doc comment of Dig: against the same bays cut into 400.
func TestQuadratureIsWithinItsBound(t *testing.T) {
	worst := 0.0
	for i, r := range rands(4, 300) {
		s := randomSite(t, r)
		// A crossfall that comes within a hair of never meeting, at one point.
		points := s.ground.Points()
		for j := range points {
			points[j].Crossfall = randomCrossfall(r, s.sec)
		}
		if worstBatter := math.Max(s.sec.Batter, s.sec.FillBatter); worstBatter > 0.6 {
			points[1].Crossfall = (1 - []float64{1e-2, 1e-4, 1e-6}[i%3]) / worstBatter
		}
		g := mustGround(t, points)
		whole, err := g.Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		var sum Dug
		const parts = 400
		for k := range parts {
			part := s.st
			part.From = s.st.From + (s.st.To-s.st.From)*unit.Length(k)/parts
			part.To = s.st.From + (s.st.To-s.st.From)*unit.Length(k+1)/parts
			d, err := g.Dig(s.sec, part)
			if err != nil {
				t.Fatal(err)
			}
			sum = sum.Plus(d)
		}
		for name, v := range map[string][2]unit.Volume{"cut": {whole.Cut, sum.Cut}, "fill": {whole.Fill, sum.Fill}, "backfill": {whole.Backfill, sum.Backfill}} {
			off := math.Abs(float64(v[0]-v[1])) / math.Max(float64(v[1]), 0.01)
			worst = math.Max(worst, off)
			if off > 1e-10 {
				t.Errorf("site %d: %s %v in one, %v in %d parts (relative %.2g)", i, name, v[0], v[1], parts, off)
			}
		}
	}
	t.Logf("worst relative difference %.2g", worst)
}

func TestGaussRules(t *testing.T) {
	for _, rule := range [][2][]float64{{gaussNode[:], gaussWeight[:]}, {shortNode[:], shortWeight[:]}} {
		for power := 0; power < 4*len(rule[0]); power++ {
			var got, want float64
			for i, x := range rule[0] {
				a, b := 1.0, 1.0
				for range power {
					a, b = a*x, b*-x
				}
				got += rule[1][i] * (a + b)
			}
			if power%2 == 0 {
				want = 2 / float64(power+1)
			}
			if !near(got, want, 1e-15) {
				t.Errorf("%d points, power %d: %v, want %v", 2*len(rule[0]), power, got, want)
			}
		}
	}
}

// Cutting a path into stretches moves the same earth, and turning hill and
// formation upside down makes fill of cut.
func TestVolumesAreConserved(t *testing.T) {
	for i, r := range rands(5, 300) {
		s := randomSite(t, r)
		whole, err := s.ground.Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		middle := s.st.From + (s.st.To-s.st.From)*unit.Length(r.Float64())
		lower, upper := s.st, s.st
		lower.To, upper.From = middle, middle
		a, err := s.ground.Dig(s.sec, lower)
		if err != nil {
			t.Fatal(err)
		}
		b, err := s.ground.Dig(s.sec, upper)
		if err != nil {
			t.Fatal(err)
		}
		sum := a.Plus(b)
		if !near(float64(sum.Cut), float64(whole.Cut), 1e-10*(1+float64(whole.Cut))) ||
			!near(float64(sum.Fill), float64(whole.Fill), 1e-10*(1+float64(whole.Fill))) ||
			!near(float64(sum.Backfill), float64(whole.Backfill), 1e-10*(1+float64(whole.Backfill))) {
			t.Fatalf("site %d: %+v and %+v are not %+v", i, a, b, whole)
		}
		if sum.Deepest != whole.Deepest || sum.HighestEdge != whole.HighestEdge || sum.DeepestAt != whole.DeepestAt {
			t.Fatalf("site %d: depths of the parts %+v, of the whole %+v", i, sum, whole)
		}

		over := s.ground.Points()
		for j := range over {
			over[j].Level, over[j].Crossfall = -over[j].Level, -over[j].Crossfall
		}
		sec := s.sec
		sec.Width, sec.Working = sec.Formation(), 0
		st := s.st
		sec.Batter, sec.FillBatter = s.sec.FillBatter, s.sec.Batter
		st.Formation.Level, st.Formation.Grade = -st.Formation.Level, -st.Formation.Grade
		upside, err := mustGround(t, over).Dig(sec, st)
		if err != nil {
			t.Fatal(err)
		}
		if !near(float64(upside.Fill), float64(whole.Cut), 1e-12*(1+float64(whole.Cut))) {
			t.Fatalf("site %d: cut %v, turned over fill %v", i, whole.Cut, upside.Fill)
		}
	}
}

// A stretch k times as big in every way moves k³ as much.
func TestVolumesScale(t *testing.T) {
	for i, r := range rands(6, 200) {
		s := randomSite(t, r)
		a, err := s.ground.Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		const k = 2
		points := s.ground.Points()
		for j := range points {
			points[j].Station *= k
			points[j].Level *= k
		}
		s.sec.Width *= k
		s.sec.Working *= k
		s.st.From *= k
		s.st.To *= k
		s.st.BuildUp *= k
		s.st.Formation.Station *= k
		s.st.Formation.Level *= k
		b, err := mustGround(t, points).Dig(s.sec, s.st)
		if err != nil {
			t.Fatal(err)
		}
		if b.Cut != 8*a.Cut || b.Fill != 8*a.Fill || b.Backfill != 8*a.Backfill || b.Deepest != 2*a.Deepest {
			t.Fatalf("site %d: %+v, twice as big %+v", i, a, b) // exactly: 2 is a power of 2
		}
	}
}

func TestDepths(t *testing.T) {
	g := mustGround(t, []Point{{0, 0, 0}, {2, 1, 0.5}, {4, 0.5, 0}, {6, -1, -0.5}, {8, 0, 0}})
	d, err := g.Dig(Section{Width: 1, Working: 0.5}, Stretch{From: 0, To: 8})
	if err != nil {
		t.Fatal(err)
	}
	want := Dug{
		Deepest: 1, DeepestAt: 2, DeepestEdge: 1.5, DeepestEdgeAt: 2, // half the formation is 1 m
		Highest: 1, HighestAt: 6, HighestEdge: 1.25, HighestEdgeAt: 6, // half the path is 0.5 m
	}
	want.Cut, want.Fill, want.Backfill, want.AverageEndArea, want.Prismoidal = d.Cut, d.Fill, d.Backfill, d.AverageEndArea, d.Prismoidal
	if diff := cmp.Diff(want, d); diff != "" {
		t.Error(diff)
	}
	// Nothing cut: no depth, at the start.
	d, err = g.Dig(Section{Width: 1}, Stretch{From: 1, To: 7, Formation: Line{Level: 9}})
	if err != nil || d.Cut != 0 || d.Deepest != 0 || d.DeepestAt != 1 || d.Highest != 10 {
		t.Errorf("%+v %v", d, err)
	}
	// No length: nothing.
	d, err = g.Dig(Section{Width: 1}, Stretch{From: 2, To: 2})
	if err != nil || d.Cut != 0 || d.Deepest != 1 {
		t.Errorf("%+v %v", d, err)
	}
}

func TestDigFaults(t *testing.T) {
	g := mustGround(t, []Point{{0, 0, 0}, {10, 3, 0.9}})
	sec := Section{Width: 1.2, Batter: 0.5}
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	for _, r := range []struct {
		name   string
		ground Ground
		sec    Section
		st     Stretch
		fields []string
	}{
		{"no ground", Ground{}, sec, Stretch{To: 1}, []string{"ground"}},
		{"no section", g, Section{}, Stretch{To: 1}, []string{"section.width"}},
		{"backwards", g, sec, Stretch{From: 2, To: 1}, []string{"to"}},
		{"off the foot", g, sec, Stretch{From: -1, To: 1}, []string{"from"}},
		{"off both ends", g, sec, Stretch{From: -1, To: 11}, []string{"from", "to"}},
		{"nan", g, sec, Stretch{From: nan, To: nan}, []string{"from", "to"}},
		{"formation", g, sec, Stretch{To: 1, Formation: Line{nan, inf, 99}}, []string{"formation.station", "formation.level", "formation.grade"}},
		{"formation far off", g, sec, Stretch{To: 1, Formation: Line{150e3, 0, 9}}, []string{"formation.level"}},
		{"build-up", g, sec, Stretch{To: 1, BuildUp: -1}, []string{"build_up"}},
		{"build-up nan", g, sec, Stretch{To: 1, BuildUp: nan}, []string{"build_up"}},
		{"everything", g, Section{}, Stretch{From: -5, To: 1, BuildUp: 99, Formation: Line{0, 0, -99}}, []string{"section.width", "from", "formation.grade", "build_up"}},
		{"never meets", g, Section{Width: 1, Batter: 1.2}, Stretch{To: 10, Formation: Line{Level: -1, Grade: 0.3}}, []string{"ground"}},
		{"fill never meets", g, Section{Width: 1, FillBatter: 1.2}, Stretch{To: 10, Formation: Line{Level: 1, Grade: 0.3}}, []string{"ground"}},
	} {
		_, err := r.ground.Dig(r.sec, r.st)
		wantFault(t, r.name, err, r.fields...)
	}
	// Steep across, but the side that would not meet the ground is not cut, or not reached.
	for _, st := range []Stretch{{To: 10, Formation: Line{Level: 5}}, {To: 5, Formation: Line{Level: -1}}} {
		if d, err := g.Dig(Section{Width: 1, Batter: 1.2}, st); err != nil || math.IsInf(float64(d.Cut), 0) {
			t.Errorf("%+v: %+v %v", st, d, err)
		}
	}
}

// Nothing negative, infinite or not a number comes of any input that is accepted.
func TestDugIsAlwaysSound(t *testing.T) {
	accepted, refused := 0, 0
	wild := []float64{0, 1e-300, 1e-9, 1e-3, 0.1, 1, 9.99, 99, 5e3, 9e4, math.Inf(1), math.NaN(), math.MaxFloat64}
	for i, r := range rands(7, 6000) {
		pick := func(signed bool) float64 {
			v := wild[r.IntN(len(wild))] * (0.5 + 0.5*r.Float64())
			if i%3 == 0 {
				v = 2 * r.Float64()
			}
			if signed && r.IntN(2) == 0 {
				return -v
			}
			return v
		}
		var points []Point
		x := pick(true)
		for range 2 + r.IntN(4) {
			points = append(points, Point{unit.Length(x), unit.Length(pick(true)), math.Mod(pick(true), 2)})
			x += math.Abs(pick(false))
		}
		g, err := NewGround(points)
		if err != nil {
			continue
		}
		sec := Section{unit.Length(pick(false)), unit.Length(pick(false)), pick(false), pick(false)}
		st := Stretch{g.Foot().Station, g.Head().Station, Line{unit.Length(pick(true)), unit.Length(pick(true)), pick(true)}, unit.Length(pick(false))}
		d, err := g.Dig(sec, st)
		if err != nil {
			refused++
			continue
		}
		accepted++
		for _, v := range []float64{float64(d.Cut), float64(d.Fill), float64(d.Backfill), float64(d.Deepest), float64(d.DeepestEdge), float64(d.Highest), float64(d.HighestEdge), float64(d.AverageEndArea), float64(d.Prismoidal)} {
			if !(v >= 0) || math.IsInf(v, 0) {
				t.Fatalf("case %d: %+v\n%+v %+v %+v", i, d, points, sec, st)
			}
		}
	}
	if accepted < 200 || refused < 200 {
		t.Errorf("%d accepted, %d refused", accepted, refused)
	}
}

func TestRuleFaults(t *testing.T) {
	good := []unit.Area{1, 2, 3}
	for name, f := range map[string]func(unit.Length, []unit.Area) (unit.Volume, error){"average": AverageEndArea, "prismoidal": PrismoidalRule} {
		_, err := f(0, good)
		wantFault(t, name, err, "spacing")
		_, err = f(unit.Length(math.NaN()), []unit.Area{-1, 2, unit.Area(math.Inf(1))})
		wantFault(t, name, err, "spacing", "areas[0]", "areas[2]")
		_, err = f(1, nil)
		wantFault(t, name, err, "areas")
	}
}

func BenchmarkDig(b *testing.B) {
	for _, kind := range []struct {
		name string
		c    float64
		vary float64
	}{{"level", 0, 0}, {"crossfall", 0.2, 0}, {"changing", 0.2, 0.1}} {
		b.Run(kind.name, func(b *testing.B) {
			var points []Point
			for i := range 13 {
				points = append(points, Point{unit.Length(i), unit.Length(0.35 * float64(i)), kind.c + kind.vary*float64(i%2)})
			}
			g := mustGround(b, points)
			sec := Section{Width: 1.2, Working: 0.3, Batter: 0.5, FillBatter: 1}
			st := Stretch{From: 0.2, To: 11.7, Formation: Line{Level: -0.3, Grade: 0.37}, BuildUp: 0.25}
			b.ReportAllocs()
			for b.Loop() {
				if d, err := g.Dig(sec, st); err != nil || d.Cut <= 0 {
					b.Fatal(d, err)
				}
			}
		})
	}
}

// Sections by the closed form, and the same by clipping polygons.
func BenchmarkSections(b *testing.B) {
	sec := Section{Width: 1.2, Working: 0.3, Batter: 0.5, FillBatter: 1}
	for _, route := range []struct {
		name string
		area func(h, c float64) float64
	}{
		{"exact", func(h, c float64) float64 { return float64(sec.Cut(unit.Length(h), c) + sec.Fill(unit.Length(h), c)) }},
		{"reference", func(h, c float64) float64 { return clippedCut(sec, h, c) + clippedFill(sec, h, c) }},
	} {
		b.Run(route.name, func(b *testing.B) {
			sum, i := 0.0, 0
			for b.Loop() {
				sum += route.area(0.3-0.01*float64(i%50), 0.2)
				i++
			}
			if !(sum > 0) {
				b.Fatal(sum)
			}
			b.ReportMetric(float64(i)/b.Elapsed().Seconds(), "sections/s")
		})
	}
}

// One volume over more and more readings, and over few by clipped polygons in thin
// slices.
func BenchmarkVolumes(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10000} {
		var points []Point
		for i := range n {
			points = append(points, Point{unit.Length(i), unit.Length(0.35*float64(i) + 0.2*float64(i%3)), 0.2 + 0.1*float64(i%2)})
		}
		s := site{ground: mustGround(b, points), sec: Section{Width: 1.2, Working: 0.3, Batter: 0.5, FillBatter: 1},
			st: Stretch{From: 0, To: unit.Length(n - 1), Formation: Line{Level: -0.1, Grade: 0.35}, BuildUp: 0.25}}
		name := strconv.Itoa(n) + "-readings"
		b.Run(name, func(b *testing.B) {
			k := 0
			for b.Loop() {
				if d, err := s.ground.Dig(s.sec, s.st); err != nil || d.Cut <= 0 {
					b.Fatal(d, err)
				}
				k++
			}
			b.ReportMetric(float64(k)*float64(n-1)/b.Elapsed().Seconds(), "bays/s")
		})
		if n > 10 {
			continue
		}
		b.Run(name+"/reference", func(b *testing.B) {
			for b.Loop() {
				if v := s.bruteForce(); !(v[0] > 0) {
					b.Fatal(v)
				}
			}
		})
	}
}

// A path of more and more steps on one hill of 20 readings, each step a stretch of its own,
// and the one of fewest by clipped polygons in thin slices.
func BenchmarkSteps(b *testing.B) {
	const long = 38.0
	var points []Point
	for i := range 20 {
		points = append(points, Point{unit.Length(2 * i), unit.Length(0.7*float64(i) + 0.2*float64(i%3)), 0.1 + 0.1*float64(i%2)})
	}
	for _, n := range []int{10, 100, 1000} {
		s := site{ground: mustGround(b, points), sec: Section{Width: 1.2, Working: 0.3, Batter: 0.5, FillBatter: 1}}
		steps := make([]site, n)
		for i := range steps {
			x := long * float64(i) / float64(n)
			s.st = Stretch{From: unit.Length(x), To: unit.Length(x + long/float64(n)), BuildUp: 0.15, Formation: Line{Station: unit.Length(x), Level: unit.Length(0.35*x - 0.15), Grade: 0.02}}
			steps[i] = s
		}
		name := strconv.Itoa(n) + "-steps"
		b.Run(name, func(b *testing.B) {
			k := 0
			for b.Loop() {
				var sum Dug
				for _, s := range steps {
					d, err := s.ground.Dig(s.sec, s.st)
					if err != nil {
						b.Fatal(err)
					}
					sum = sum.Plus(d)
				}
				if !(sum.Cut > 0) {
					b.Fatal(sum)
				}
				k += n
			}
			b.ReportMetric(float64(k)/b.Elapsed().Seconds(), "steps/s")
		})
		if n > 10 {
			continue
		}
		b.Run(name+"/reference", func(b *testing.B) {
			for b.Loop() {
				sum := 0.0
				for _, s := range steps {
					sum += s.bruteForce()[0]
				}
				if !(sum > 0) {
					b.Fatal(sum)
				}
			}
		})
	}
}

// The same bits on every machine: a compiler may fuse x·y + z into one rounding
// on some and not on others, which float64(x*y) + z forbids. Run this with
// GOARCH=wasm, with GOARCH=arm64 and with GOAMD64=v3 too. A change that means to
// change results changes the sum as well.
func TestSameBitsEverywhere(t *testing.T) {
	const want = 0xc3696d1ca930a02e
	sum := uint64(14695981039346656037)
	note := func(values ...float64) {
		for _, v := range values {
			for b := math.Float64bits(v); ; b >>= 8 {
				sum = (sum ^ b&0xff) * 1099511628211
				if b < 256 {
					break
				}
			}
		}
	}
	// Inputs are eighths, sums and products of which are exact, so that the
	// test itself cannot differ.
	eighth := func(r *rand.Rand, most int) float64 { return float64(r.IntN(8*most)) / 8 }
	for _, r := range rands(8, 400) {
		var points []Point
		for i := range 5 {
			points = append(points, Point{unit.Length(3 * i), unit.Length(float64(i) + eighth(r, 2)), eighth(r, 1)/4 - 0.125})
		}
		g := mustGround(t, points)
		sec := Section{unit.Length(0.375 + eighth(r, 2)), unit.Length(eighth(r, 1)), eighth(r, 2) / 3, eighth(r, 2) / 3}
		line := Line{1, unit.Length(eighth(r, 2)), 0.3}
		d, err := g.Dig(sec, Stretch{0.7, 11.9, line, 0.3})
		if err != nil {
			t.Fatal(err)
		}
		note(float64(d.Cut), float64(d.Fill), float64(d.Backfill), float64(d.Deepest), float64(d.DeepestEdge), float64(d.HighestEdge), float64(d.Prismoidal), float64(d.AverageEndArea))
		cut := make([]unit.Volume, 30)
		if err := g.CutCells(sec, grid(0, 12, 30), line, cut, nil, nil); err != nil {
			t.Fatal(err)
		}
		for _, v := range cut {
			note(float64(v))
		}
		soil := soils[r.IntN(len(soils))]
		b := soil.Balance(d.Cut, d.Fill, d.Backfill)
		h := soil.Hours(Work{CutBank: d.Cut, DigDepth: d.Deepest + 1, TrimArea: 7, SpoilLoose: b.SpoilLoose, BorrowLoose: b.BorrowLoose, HaulDistance: 17, FillCompacted: d.Fill, GravelCompacted: d.Backfill, GravelDistance: 11, Boxes: 7})
		dia, high := soil.Cone(b.SpoilLoose + 1)
		broad, tall := soil.Ridge(b.SpoilLoose+1, 3)
		note(float64(b.SpoilLoose), float64(b.BorrowBank), float64(b.SpoilMass), float64(h.Total.Low), float64(h.Total.Likely), float64(h.Total.High), float64(dia), float64(high), float64(broad), float64(tall))
	}
	if sum != want {
		t.Errorf("bits %#x, want %#x", sum, uint64(want))
	}
}
