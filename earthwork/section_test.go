package earthwork

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

type volumeVectors struct {
	About    string
	Sections []struct {
		ID, Source    string
		Width, Batter float64
		FillBatter    float64 `json:"fill_batter"`
		Crossfall, H  float64
		Cut, Fill     *float64
		Stakes        []float64
		Within        float64
	}
	Profiles []struct {
		ID, Source         string
		Width, Batter      float64
		FillBatter         float64 `json:"fill_batter"`
		Crossfall, Spacing float64
		Depths, Areas      []float64
		Zeros              []float64 // from each station to the next zero point
		AverageEndArea     *float64  `json:"average_end_area"`
		PrismoidalRule     *float64  `json:"prismoidal_rule"`
		Cut, Fill          *float64
		Within             float64
	}
	Areas []struct {
		ID, Source     string
		Spacing        float64
		Areas          []float64
		AverageEndArea *float64 `json:"average_end_area"`
		PrismoidalRule *float64 `json:"prismoidal_rule"`
		Within         float64
	}
}

func TestPublishedSections(t *testing.T) {
	var v volumeVectors
	readVectors(t, "volumes.json", &v)
	if len(v.Sections) < 10 {
		t.Fatalf("only %d sections read", len(v.Sections))
	}
	for _, r := range v.Sections {
		t.Run(r.ID, func(t *testing.T) {
			sec := Section{Width: unit.Length(r.Width), Batter: r.Batter, FillBatter: r.FillBatter}
			if err := sec.Validate(); err != nil {
				t.Fatal(err)
			}
			check(t, "cut", sec.Cut(unit.Length(r.H), r.Crossfall).SquareMeters(), r.Cut, r.Within)
			check(t, "fill", sec.Fill(unit.Length(r.H), r.Crossfall).SquareMeters(), r.Fill, r.Within)
			if r.Stakes != nil {
				left, right, ok := sec.Stakes(unit.Length(r.H), r.Crossfall)
				if !ok || !near(left.Meters(), r.Stakes[0], 5e-5) || !near(right.Meters(), r.Stakes[1], 5e-5) {
					t.Errorf("stakes %v %v %v, published %v", left, right, ok, r.Stakes)
				}
			}
		})
	}
}

// A level section is (b + s·h)·h, and the two-level formula of the handbook holds.
func TestSectionFormulas(t *testing.T) {
	for i, r := range rands(1, 500) {
		b, s, h := 0.5+5*r.Float64(), 2*r.Float64(), 3*r.Float64()
		sec := Section{Width: unit.Length(b), Batter: s}
		if got, want := sec.Cut(unit.Length(h), 0).SquareMeters(), (b+s*h)*h; !near(got, want, 1e-12*want) {
			t.Fatalf("%d: level section %v, formula %v", i, got, want)
		}
		if s < 0.01 {
			continue
		}
		// Ground 1:n, steeper than neither the batter nor what keeps it all in cut.
		n := math.Max(s*1.05, b/(2*h)) + 10*r.Float64()
		want := n*n*s/(n*n-s*s)*(h+b/(2*s))*(h+b/(2*s)) - b*b/(4*s)
		for _, c := range []float64{1 / n, -1 / n} {
			if got := sec.Cut(unit.Length(h), c).SquareMeters(); !near(got, want, 1e-9*(1+want)) {
				t.Fatalf("%d: two-level section %v, formula %v (b %v s %v h %v n %v)", i, got, want, b, s, h, n)
			}
		}
	}
}

func rands(seed uint64, n int) []*rand.Rand {
	out := make([]*rand.Rand, n)
	for i := range out {
		out[i] = rand.New(rand.NewPCG(seed, uint64(i)))
	}
	return out
}

// vertex and polygon are the other way to a section, used only in tests: clip a
// wide rectangle by every side in turn and take the shoelace area.
type vertex struct{ y, z float64 }

// clip keeps the part of p where a·y + b·z <= k.
func clip(p []vertex, a, b, k float64) []vertex {
	var out []vertex
	for i, v := range p {
		w := p[(i+1)%len(p)]
		dv, dw := k-a*v.y-b*v.z, k-a*w.y-b*w.z
		if dv >= 0 {
			out = append(out, v)
		}
		if (dv > 0 && dw < 0) || (dv < 0 && dw > 0) {
			t := dv / (dv - dw)
			out = append(out, vertex{v.y + t*(w.y-v.y), v.z + t*(w.z-v.z)})
		}
	}
	return out
}

func shoelace(p []vertex) float64 {
	var sum float64
	for i, v := range p {
		w := p[(i+1)%len(p)]
		sum += v.y*w.z - w.y*v.z
	}
	return math.Abs(sum) / 2
}

// clippedWedge is the cut between a floor b wide, sides at batter s and ground h + c·y.
func clippedWedge(h, c, b, s float64) []vertex {
	reach := b/2 + 1
	for _, side := range []float64{1, -1} {
		if edge := h + side*c*b/2; edge > 0 {
			reach = math.Max(reach, b/2+s*edge/(1-side*s*c)+1)
		}
	}
	top := math.Abs(h) + math.Abs(c)*reach + 1
	p := []vertex{{-reach, 0}, {reach, 0}, {reach, top}, {-reach, top}}
	p = clip(p, 1, -s, b/2)
	p = clip(p, -1, -s, b/2)
	return clip(p, -c, 1, h)
}

func clippedCut(sec Section, h, c float64) float64 {
	return shoelace(clippedWedge(h, c, sec.Formation().Meters(), sec.Batter))
}

func clippedFill(sec Section, h, c float64) float64 {
	return shoelace(clippedWedge(-h, -c, sec.Width.Meters(), sec.FillBatter))
}

func clippedBackfill(sec Section, h, c, depth float64) float64 {
	dug := clip(clippedWedge(h, c, sec.Formation().Meters(), sec.Batter), 0, 1, depth)
	half := sec.Width.Meters() / 2
	return shoelace(clip(dug, -1, 0, -half)) + shoelace(clip(dug, 1, 0, -half))
}

func TestSectionsAgreeWithClippedPolygons(t *testing.T) {
	mixed := 0
	for i, r := range rands(2, 4000) {
		sec := randomSection(r)
		h := 4*r.Float64() - 2
		c := randomCrossfall(r, sec)
		depth := r.Float64()
		if i%9 == 0 {
			depth = 0
		}
		if math.Abs(h) < math.Abs(c)*sec.Formation().Meters()/2 {
			mixed++
		}
		for _, v := range []struct {
			name      string
			got, want float64
		}{
			{"cut", sec.Cut(unit.Length(h), c).SquareMeters(), clippedCut(sec, h, c)},
			{"fill", sec.Fill(unit.Length(h), c).SquareMeters(), clippedFill(sec, h, c)},
			{"backfill", sec.Backfill(unit.Length(h), c, unit.Length(depth)).SquareMeters(), clippedBackfill(sec, h, c, depth)},
		} {
			if !near(v.got, v.want, 1e-10*(1+v.want)) {
				t.Fatalf("%d: %s %v, by polygon %v\n%+v h %v c %v depth %v", i, v.name, v.got, v.want, sec, h, c, depth)
			}
		}
		// The other hand: turning the section round changes nothing.
		if a, b := sec.Cut(unit.Length(h), c), sec.Cut(unit.Length(h), -c); !near(float64(a), float64(b), 1e-14*float64(a)) {
			t.Fatalf("%d: cut %v one way round, %v the other", i, a, b)
		}
		// What is dug beside the box cannot be more than what is dug.
		if cut, back := sec.Cut(unit.Length(h), c), sec.Backfill(unit.Length(h), c, unit.Length(depth)); float64(back) > float64(cut)+1e-12 {
			t.Fatalf("%d: backfill %v of a cut of %v", i, back, cut)
		}
	}
	if mixed < 200 {
		t.Errorf("only %d sections part in cut and part in fill", mixed)
	}
}

// randomSection draws a section a hillside path might have, batters 0 to 2.
func randomSection(r *rand.Rand) Section {
	sec := Section{
		Width:      unit.Length(0.4 + 2.6*r.Float64()),
		Working:    unit.Length(0.6 * r.Float64()),
		Batter:     2 * r.Float64(),
		FillBatter: 2 * r.Float64(),
	}
	switch r.IntN(5) {
	case 0:
		sec.Batter = 0
	case 1:
		sec.FillBatter = 0
	case 2:
		sec.Working = 0
	}
	return sec
}

// randomCrossfall draws one of either sign, or none, that both batters meet.
func randomCrossfall(r *rand.Rand, sec Section) float64 {
	if r.IntN(6) == 0 {
		return 0
	}
	limit := math.Min(1, 0.97/math.Max(math.Max(sec.Batter, sec.FillBatter), 0.01))
	return limit * (2*r.Float64() - 1)
}

func TestSteepGroundNeverMeetsTheBatter(t *testing.T) {
	sec := Section{Width: 1, Batter: 1.5, FillBatter: 1.5}
	for _, c := range []float64{2.0 / 3, -2.0 / 3, 1, -1} {
		if sec.Daylights(c) {
			t.Errorf("crossfall %v: daylights", c)
		}
		if got := float64(sec.Cut(1, c)); !math.IsInf(got, 1) {
			t.Errorf("crossfall %v: cut %v, want +Inf", c, got)
		}
		if got := float64(sec.Fill(-1, c)); !math.IsInf(got, 1) {
			t.Errorf("crossfall %v: fill %v, want +Inf", c, got)
		}
		if _, _, ok := sec.Stakes(1, c); ok {
			t.Errorf("crossfall %v: stakes", c)
		}
		// All in fill there is no side to cut.
		if got := float64(sec.Cut(-5, c)); got != 0 {
			t.Errorf("crossfall %v: cut %v of ground far below", c, got)
		}
	}
	if !sec.Daylights(0.66) || sec.Cut(1, 0.66) <= 0 {
		t.Error("0.66 against 1.5 should meet")
	}
}

func TestStakesOfSideHill(t *testing.T) {
	// b = 10, s = 1, 1:5, h = 0.5: level with formation 2.5 m left of the centreline; the right side
	// meets the ground at 5 + 1.5/(1 - 0.2).
	left, right, ok := Section{Width: 10, Batter: 1}.Stakes(0.5, 0.2)
	if !ok || !near(float64(left), 2.5, 1e-12) || !near(float64(right), 6.875, 1e-12) {
		t.Errorf("stakes %v %v %v", left, right, ok)
	}
	// h = -0.5: only from 2.5 m right of the centreline on.
	left, right, ok = Section{Width: 10, Batter: 1}.Stakes(-0.5, 0.2)
	if !ok || !near(float64(left), -2.5, 1e-12) || !near(float64(right), 5.625, 1e-12) {
		t.Errorf("stakes %v %v %v", left, right, ok)
	}
	if _, _, ok = (Section{Width: 10, Batter: 1}).Stakes(-2, 0.2); ok {
		t.Error("stakes where nothing is cut")
	}
}

func TestSectionFaults(t *testing.T) {
	bad := []float64{-1, math.NaN(), math.Inf(1), math.Inf(-1), 1e9}
	for _, v := range bad {
		for field, sec := range map[string]Section{
			"width":       {Width: unit.Length(v)},
			"working":     {Width: 1, Working: unit.Length(v)},
			"batter":      {Width: 1, Batter: v},
			"fill_batter": {Width: 1, FillBatter: v},
		} {
			wantFault(t, fmt.Sprintf("%s %v", field, v), sec.Validate(), field)
		}
	}
	wantFault(t, "zero section", Section{}.Validate(), "width")
	all := Section{Width: -1, Working: -1, Batter: -1, FillBatter: -1}.Validate()
	wantFault(t, "everything wrong", all, "width", "working", "batter", "fill_batter")
}

// wantFault fails unless err is exactly faults of these fields, each with what would do.
func wantFault(t *testing.T, what string, err error, fields ...string) {
	t.Helper()
	var faults Faults
	if !errors.As(err, &faults) {
		t.Errorf("%s: error %v, want faults of %v", what, err, fields)
		return
	}
	if len(faults) != len(fields) {
		t.Errorf("%s: faults\n%v\nwant those of %v", what, faults, fields)
		return
	}
	for i, f := range faults {
		if f.Field != fields[i] || f.Problem == "" || f.Fix == "" {
			t.Errorf("%s: fault %q, want one of %s with problem and fix", what, f.Error(), fields[i])
		}
	}
}
