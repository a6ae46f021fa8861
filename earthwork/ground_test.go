package earthwork

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/martinlindhe/unit"
)

// wantFaults checks that err is a Faults with exactly the given fields, in
// order, each with a problem and, where a fix is asked for, a fix.
func wantFaults(t *testing.T, err error, fields ...string) Faults {
	t.Helper()
	var faults Faults
	if !errors.As(err, &faults) {
		t.Fatalf("error %v is no Faults; want faults on %q", err, fields)
	}
	got := make([]string, len(faults))
	for i, f := range faults {
		got[i] = f.Field
		if f.Problem == "" {
			t.Errorf("%s: no problem said", f.Field)
		}
	}
	if d := cmp.Diff(fields, got); d != "" {
		t.Fatalf("faulted fields (-want +got):\n%s\n%v", d, err)
	}
	return faults
}

func wantNear(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, within)
	}
}

// sameGround compares grounds to 1e-9.
func sameGround(t *testing.T, got, want Ground) {
	t.Helper()
	if len(got.points) != len(want.points) {
		t.Fatalf("%d points, want %d", len(got.points), len(want.points))
	}
	for i, p := range got.points {
		w := want.points[i]
		wantNear(t, fmt.Sprintf("station %d", i), p.Station.Meters(), w.Station.Meters(), 1e-9)
		wantNear(t, fmt.Sprintf("level %d", i), p.Level.Meters(), w.Level.Meters(), 1e-9)
		wantNear(t, fmt.Sprintf("crossfall %d", i), p.Crossfall, w.Crossfall, 1e-9)
	}
}

// randomGround rises from 0, 0 in 1 to 30 steps of up to 2 m, with dips.
func randomGround(rnd *rand.Rand) Ground {
	n := 2 + rnd.IntN(30)
	points := make([]Point, n)
	x, y := 0.0, 0.0
	for i := range points {
		points[i] = Point{Station: unit.Length(x), Level: unit.Length(y), Crossfall: rnd.Float64() - 0.5}
		x += 0.2 + rnd.Float64()*2
		y += rnd.Float64()*1.4 - 0.4
	}
	if last := &points[n-1]; last.Level < 0 {
		last.Level = unit.Length(rnd.Float64())
	}
	g, err := NewGround(points)
	if err != nil {
		panic(err)
	}
	return g
}

func TestNewGroundFaults(t *testing.T) {
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	for _, tc := range []struct {
		name   string
		points []Point
		fields []string
	}{
		{"none", nil, []string{"points"}},
		{"one", []Point{{}}, []string{"points"}},
		{"too many", make([]Point, maxGroundPoints+1), []string{"points"}},
		{"same station", []Point{{}, {}}, []string{"points[1].station"}},
		{"descending", []Point{{Station: 1}, {Station: 0}}, []string{"points[1].station"}},
		{"too close", []Point{{}, {Station: 0.0009}}, []string{"points[1].station"}},
		{"all at once", []Point{{Station: nan, Level: inf, Crossfall: 3}, {Station: 1e9, Level: -2e4, Crossfall: math.NaN()}},
			[]string{"points[0].station", "points[0].level", "points[0].crossfall", "points[1].station", "points[1].level", "points[1].crossfall"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			g, err := NewGround(tc.points)
			wantFaults(t, err, tc.fields...)
			if len(g.points) != 0 {
				t.Error("a ground came with the faults")
			}
		})
	}
	if _, err := NewGround([]Point{{}, {Station: 0.001}}); err != nil {
		t.Errorf("1 mm apart: %v", err)
	}
}

func TestGroundLevels(t *testing.T) {
	given := []Point{{Station: -1, Level: 2, Crossfall: 0.2}, {Station: 1, Level: 3, Crossfall: -0.2}, {Station: 5, Level: 3.5}}
	g, err := NewGround(given)
	if err != nil {
		t.Fatal(err)
	}
	given[0].Level = 99
	g.Points()[1].Level = 99
	for _, tc := range []struct {
		at, level unit.Length
		crossfall float64
		ok        bool
	}{
		{-1, 2, 0.2, true}, {0, 2.5, 0, true}, {1, 3, -0.2, true}, {2, 3.125, -0.15, true}, {5, 3.5, 0, true},
		{5.0000005, 3.5, 0, true}, {-1.0000005, 2, 0.2, true},
		{5.00001, 0, 0, false}, {-1.00001, 0, 0, false},
		{unit.Length(math.NaN()), 0, 0, false}, {unit.Length(math.Inf(1)), 0, 0, false},
	} {
		level, ok := g.LevelAt(tc.at)
		crossfall, okc := g.CrossfallAt(tc.at)
		if ok != tc.ok || okc != tc.ok {
			t.Errorf("at %v: ok = %v, %v, want %v", tc.at, ok, okc, tc.ok)
		}
		wantNear(t, fmt.Sprintf("level at %v", tc.at), level.Meters(), tc.level.Meters(), 1e-12)
		wantNear(t, fmt.Sprintf("crossfall at %v", tc.at), crossfall, tc.crossfall, 1e-12)
	}
	if g.Foot().Level != 2 || g.Head().Station != 5 {
		t.Errorf("ends %v, %v", g.Foot(), g.Head())
	}

	var zero Ground
	if _, ok := zero.LevelAt(0); ok || len(zero.Points()) != 0 || zero.Foot() != (Point{}) || zero.Head() != (Point{}) {
		t.Error("the zero Ground has ground")
	}
}

func TestGroundGivesBackItsPoints(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		g := randomGround(rnd)
		for _, p := range g.Points() {
			level, ok := g.LevelAt(p.Station)
			crossfall, _ := g.CrossfallAt(p.Station)
			if !ok || level != p.Level || crossfall != p.Crossfall {
				t.Fatalf("at %v: %v %v, want %v", p.Station, level, crossfall, p)
			}
		}
	}
}

func TestGroundShift(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		g := randomGround(rnd)
		dx, dy := unit.Length(rnd.Float64()*20-10), unit.Length(rnd.Float64()*20-10)
		s := g.Shift(dx, dy)
		at := unit.Length(rnd.Float64()) * g.Head().Station
		want, _ := g.LevelAt(at)
		got, ok := s.LevelAt(at - dx)
		if !ok {
			t.Fatal("no level after the shift")
		}
		wantNear(t, "shifted level", (got + dy).Meters(), want.Meters(), 1e-9)
		sameGround(t, s.Shift(-dx, -dy), g)
	}
	g := randomGround(rnd)
	for _, bad := range []unit.Length{unit.Length(math.NaN()), unit.Length(math.Inf(-1)), 1e300} {
		if len(g.Shift(bad, 0).points) != 0 || len(g.Shift(0, bad).points) != 0 {
			t.Errorf("shift by %v gave a ground", bad)
		}
	}
}

func TestSayLength(t *testing.T) {
	for v, want := range map[float64]string{
		0.1: "100 mm (3.94 in)", -0.0016: "-1.6 mm (-0.06 in)", 1.5: "1.500 m (4.92 ft)", 0: "0 mm (0 in)",
	} {
		if got := sayLength(v); got != want {
			t.Errorf("sayLength(%v) = %q, want %q", v, got, want)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), 1e300} {
		if got := sayLength(v); !strings.HasSuffix(got, " m") {
			t.Errorf("sayLength(%v) = %q", v, got)
		}
	}
}
