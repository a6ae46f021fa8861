package earthwork

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/martinlindhe/unit"
)

// must is the cautions of a check that accepts its input.
func must(c []Caution, err error) []Caution {
	if err != nil {
		return []Caution{{ID: err.Error()}}
	}
	return c
}

func wantCautions(t *testing.T, name string, got []Caution, want ...string) {
	t.Helper()
	var ids []string
	for _, c := range got {
		ids = append(ids, c.ID)
		if c.Source == "" || c.Says == "" || c.Quantity == "" || !(c.Limit >= 0 && c.Limit <= 1e9) || !(c.Actual >= 0 && c.Actual <= 1e9) || c.Severity != Stop && c.Severity != Warn && c.Severity != Note {
			t.Errorf("%s: %+v", name, c)
		}
	}
	if diff := cmp.Diff(want, ids); diff != "" {
		t.Errorf("%s: %s", name, diff)
	}
}

func soil(t *testing.T, id string) Soil {
	t.Helper()
	s, ok := SoilByID(id)
	if !ok {
		t.Fatal(id)
	}
	return s
}

// Both sides of each limit; in feet, as the rules are.
func TestBankLimits(t *testing.T) {
	const ft = unit.Foot
	clay, sand, rock, hard := soil(t, "clay"), soil(t, "sand"), soil(t, "rock"), soil(t, "hardpan")
	for _, r := range []struct {
		name string
		bank Bank
		want []string
	}{
		{"low", Bank{Depth: 3.99 * ft, Batter: 0.25, Soil: clay}, nil},
		{"nothing", Bank{Soil: clay}, nil},
		{"way out", Bank{Depth: 4 * ft, Batter: 0.25, Soil: clay}, []string{"bank-way-out"}},
		{"low and plumb", Bank{Depth: 3 * ft, Batter: 0.249, Soil: clay}, []string{"bank-shallow"}},
		{"low and seeping", Bank{Depth: 3 * ft, Batter: 1.49, Soil: clay, Seeping: true}, []string{"bank-slope"}},
		{"low and seeping, flat", Bank{Depth: 3 * ft, Batter: 1.5, Soil: clay, Seeping: true}, nil},
		{"just under", Bank{Depth: 4.999 * ft, Batter: 0.25, Soil: clay}, []string{"bank-way-out"}},
		{"at 5 ft", Bank{Depth: 5 * ft, Batter: 0.99, Soil: clay}, []string{"bank-height", "bank-slope", "bank-way-out"}},
		{"sloped", Bank{Depth: 5 * ft, Batter: 1, Soil: clay}, []string{"bank-height", "bank-way-out"}},
		{"sand", Bank{Depth: 5 * ft, Batter: 1.49, Soil: sand}, []string{"bank-height", "bank-slope", "bank-way-out"}},
		{"sand sloped", Bank{Depth: 5 * ft, Batter: 1.5, Soil: sand}, []string{"bank-height", "bank-way-out"}},
		{"rock", Bank{Depth: 12 * ft, Soil: rock}, []string{"bank-way-out"}},
		{"cracked rock", Bank{Depth: 12 * ft, Soil: rock, Fissured: true}, []string{"bank-height", "bank-slope", "bank-way-out"}},
		{"hardpan", Bank{Depth: 12 * ft, Batter: 0.74, Soil: hard}, []string{"bank-height", "bank-slope", "bank-way-out"}},
		{"hardpan sloped", Bank{Depth: 12 * ft, Batter: 0.75, Soil: hard}, []string{"bank-height", "bank-way-out"}},
		{"hardpan for a day", Bank{Depth: 12 * ft, Batter: 0.5, Soil: hard, ShortTerm: true}, []string{"bank-height", "bank-way-out"}},
		{"deeper for a day", Bank{Depth: 12.01 * ft, Batter: 0.5, Soil: hard, ShortTerm: true}, []string{"bank-height", "bank-slope", "bank-way-out"}},
		{"dug before", Bank{Depth: 6 * ft, Batter: 0.75, Soil: hard, Disturbed: true}, []string{"bank-height", "bank-slope", "bank-way-out"}},
		{"20 ft", Bank{Depth: 20 * ft, Batter: 1, Soil: clay}, []string{"bank-height", "bank-way-out"}},
		{"over 20 ft", Bank{Depth: 20.01 * ft, Batter: 1, Soil: clay}, []string{"bank-engineer", "bank-height", "bank-way-out"}},
		{"no type", Bank{Depth: 6 * ft, Batter: 1.4}, []string{"bank-height", "bank-slope", "bank-way-out"}},
	} {
		wantCautions(t, r.name, must(CheckBank(r.bank)), r.want...)
	}
	c := must(CheckBank(Bank{Depth: 6 * ft, Batter: 0.5, Soil: clay}))
	if c[0].Severity != Stop || c[0].Limit != 5*0.3048 || !near(c[0].Actual, 6*0.3048, 1e-12) || c[1].Limit != 1 || c[1].Actual != 0.5 {
		t.Errorf("%+v", c)
	}
	if c := must(CheckBank(Bank{Depth: 6 * ft, Batter: 1, Soil: clay})); c[0].Severity != Warn {
		t.Errorf("%+v", c)
	}
	_, err := CheckBank(Bank{Depth: unit.Length(math.NaN()), Batter: -1})
	wantFault(t, "bank", err, "depth", "batter")
}

func TestPiles(t *testing.T) {
	loam := soil(t, "loam")
	cone := loam.Pile(2, 0)
	d, h := loam.Cone(2)
	if cone.Breadth != d || cone.Height != h || !near(float64(cone.Footprint), math.Pi/4*float64(d*d), 1e-12) || cone.Length != 0 {
		t.Errorf("%+v", cone)
	}
	// Height × footprint / 3 of a cone, / 2 of a ridge, is what lies in it.
	if !near(float64(cone.Height)*float64(cone.Footprint)/3, 2, 1e-12) {
		t.Errorf("%+v", cone)
	}
	if ridge := loam.Pile(2, 4); !near(float64(ridge.Height)*float64(ridge.Footprint)/2, 2, 1e-12) || ridge.Length != 4 {
		t.Errorf("%+v", ridge)
	}
	nan := math.NaN()
	for _, p := range []Pile{loam.Pile(0, 1), loam.Pile(unit.Volume(nan), 0), loam.Pile(-1, 3), (Soil{}).Pile(1, 1)} {
		if p != (Pile{}) {
			t.Errorf("%+v", p)
		}
	}
	back := 2 * 0.3048 * unit.Meter
	wantCautions(t, "far", must(CheckPile(cone, d/2+back)))
	near := must(CheckPile(cone, d/2+back-0.001))
	wantCautions(t, "near", near, "spoil-set-back")
	wantCautions(t, "over the edge", must(CheckPile(cone, 0)), "spoil-set-back")
	wantCautions(t, "no pile", must(CheckPile(Pile{}, 0)))
	_, err := CheckPile(cone, -1)
	wantFault(t, "pile", err, "from_edge")
}

func TestRetainedLimits(t *testing.T) {
	const ft = unit.Foot
	for _, r := range []struct {
		name string
		r    Retained
		want []string
	}{
		{"nothing", Retained{Surcharge: true, WalkAbove: true}, nil},
		{"2 ft", Retained{Height: 2 * ft}, nil},
		{"over 2 ft", Retained{Height: 2.01 * ft}, []string{"wall-permit", "wall-engineer"}},
		{"4 ft", Retained{Height: 4 * ft, WalkAbove: true}, []string{"wall-permit", "wall-engineer"}},
		{"over 4 ft", Retained{Height: 4.01 * ft, WalkAbove: true}, []string{"wall-permit", "wall-engineer", "wall-guard"}},
		{"deep footing", Retained{Height: 1.9 * ft, FromFooting: 4.01 * ft}, []string{"wall-permit"}},
		{"loaded", Retained{Height: 1 * ft, Surcharge: true}, []string{"wall-permit"}},
		{"loaded, over 2 ft", Retained{Height: 2.01 * ft, Surcharge: true}, []string{"wall-permit", "wall-engineer"}},
	} {
		wantCautions(t, r.name, must(CheckRetained(r.r)), r.want...)
	}
	if c := must(CheckRetained(Retained{Height: 4.01 * ft})); c[0].Severity != Warn || c[1].Severity != Warn || !c[1].FromMemory {
		t.Errorf("%+v", c)
	}
	if c := must(CheckRetained(Retained{Height: 4 * ft})); c[0].Severity != Note || c[1].Severity != Note || c[1].FromMemory {
		t.Errorf("%+v", c)
	}
	_, err := CheckRetained(Retained{Height: -1, FromFooting: unit.Length(math.Inf(1))})
	wantFault(t, "retained", err, "height", "from_footing")
}

func TestSlopeLimits(t *testing.T) {
	const ft = unit.Foot
	for _, r := range []struct {
		name string
		s    Slopes
		want []string
	}{
		{"nothing", Slopes{}, nil},
		{"2 to 1", Slopes{Ground: 0.5, CutDepth: 1 * ft, CutBatter: 2, FillDepth: 1 * ft, FillBatter: 2}, nil},
		{"steep ground", Slopes{Ground: 0.501}, []string{"ground-steep"}},
		{"cut", Slopes{CutDepth: 1 * ft, CutBatter: 1.99}, []string{"cut-slope"}},
		{"fill", Slopes{FillDepth: 1 * ft, FillBatter: 1.99}, []string{"fill-slope"}},
		{"benched", Slopes{Ground: 0.201, FillDepth: 5.01 * ft, FillBatter: 2}, []string{"fill-benched"}},
		{"not benched", Slopes{Ground: 0.2, FillDepth: 5.01 * ft, FillBatter: 2}, nil},
		{"grading", Slopes{CutDepth: 2 * ft, CutBatter: 1}, []string{"cut-slope", "grading-permit"}},
		{"low slope", Slopes{CutDepth: 5 * ft, CutBatter: 1.5}, []string{"cut-slope"}},
		{"higher slope", Slopes{CutDepth: 5.01 * ft, CutBatter: 2}, []string{"grading-permit"}},
		{"50 yards", Slopes{Moved: 50 * unit.CubicYard}, nil},
		{"51 yards", Slopes{Moved: 51 * unit.CubicYard}, []string{"grading-volume"}},
		{"set back", Slopes{CutDepth: 1 * ft, CutBatter: 2, CutToLine: 1.99 * ft, FillDepth: 10 * ft, FillBatter: 2, FillToLine: 4.99 * ft}, []string{"cut-set-back", "fill-set-back"}},
		{"far enough", Slopes{CutDepth: 1 * ft, CutBatter: 2, CutToLine: 2 * ft, FillDepth: 10 * ft, FillBatter: 2, FillToLine: 5 * ft}, nil},
	} {
		wantCautions(t, r.name, must(CheckSlopes(r.s)), r.want...)
	}
	if c := must(CheckSlopes(Slopes{CutDepth: 8 * ft, CutBatter: 1.5})); c[0].Severity != Note {
		t.Errorf("%+v", c)
	}
	for _, s := range []Slopes{{CutDepth: 8.01 * ft, CutBatter: 1.5}, {CutDepth: 3 * ft, CutBatter: 1.49}, {CutDepth: 3 * ft, CutBatter: 1.5, Groundwater: true}, {CutDepth: 3 * ft, CutBatter: 1.5, Building: true}} {
		if c := must(CheckSlopes(s)); c[0].Severity != Warn {
			t.Errorf("%+v", c)
		}
	}
	for _, r := range []struct{ height, cut, fill unit.Length }{{0, 2, 2}, {4, 2, 2}, {10, 2, 5}, {30, 6, 15}, {50, 10, 20}, {99, 10, 20}} {
		if c, f := CutSetBack(r.height*ft), FillSetBack(r.height*ft); !near(c.Feet(), float64(r.cut), 1e-9) || !near(f.Feet(), float64(r.fill), 1e-9) {
			t.Errorf("%v: %v %v", r, c.Feet(), f.Feet())
		}
	}
	nan := math.NaN()
	_, err := CheckSlopes(Slopes{nan, -1, -1, nan, 11, false, false, -1, -1, unit.Volume(nan)})
	wantFault(t, "slopes", err, "ground", "cut_depth", "fill_depth", "cut_to_line", "fill_to_line", "cut_batter", "fill_batter", "moved")
}

func TestPublishedLifts(t *testing.T) {
	var v struct {
		About string
		Lifts []struct {
			ID, Source                         string
			Load, Horizontal, Vertical, Travel float64
			Twist                              float64
			PerMinute                          float64 `json:"per_minute"`
			Hours                              float64
			Coupling                           Coupling
			Limit, Index, Within, Exact        float64
		}
		Teams []struct {
			ID, Source          string
			People              int
			Each, Limit, Within float64
		}
	}
	readVectors(t, "lifts.json", &v)
	if len(v.Lifts) < 3 || len(v.Teams) < 3 {
		t.Fatal("too few read")
	}
	for _, r := range v.Lifts {
		l := Lift{unit.Length(r.Horizontal) * unit.Inch, unit.Length(r.Vertical) * unit.Inch, unit.Length(r.Travel) * unit.Inch, unit.Angle(r.Twist) * unit.Degree, r.PerMinute, r.Hours, r.Coupling}
		got, err := l.Limit()
		if err != nil {
			t.Fatal(err)
		}
		lb := float64(got / pound)
		if !near(lb, r.Exact, 0.005) || !near(lb, r.Limit, r.Within*r.Limit) || !near(r.Load/lb, r.Index, r.Within*r.Index+0.05) {
			t.Errorf("%s: %v lb, index %v", r.ID, lb, r.Load/lb)
		}
	}
	for _, r := range v.Teams {
		if got := TeamLimit(r.People, unit.Mass(r.Each)); !near(float64(got), r.Limit, r.Within) {
			t.Errorf("%s: %v", r.ID, got)
		}
	}
}

func TestLiftMultipliers(t *testing.T) {
	best := Lift{Horizontal: 10 * unit.Inch, Vertical: 30 * unit.Inch, Travel: 10 * unit.Inch, Coupling: Good}
	const in, deg = unit.Inch, unit.Degree
	for _, r := range []struct {
		name   string
		change func(*Lift)
		want   float64
	}{
		{"best", func(*Lift) {}, 1},
		{"nearer and shorter", func(l *Lift) { l.Horizontal, l.Travel = 5*in, 0 }, 1},
		{"far", func(l *Lift) { l.Horizontal = 25 * in }, 0.4},
		{"too far", func(l *Lift) { l.Horizontal = 25.1 * in }, 0},
		{"floor", func(l *Lift) { l.Vertical = 0 }, 0.775},
		{"high", func(l *Lift) { l.Vertical = 70 * in }, 0.7},
		{"too high", func(l *Lift) { l.Vertical = 70.1 * in }, 0},
		{"long", func(l *Lift) { l.Travel = 20 * in }, 0.91},
		{"too long", func(l *Lift) { l.Travel = 70.1 * in }, 0},
		{"twisted", func(l *Lift) { l.Twist = 45 * deg }, 0.856},
		{"most twisted", func(l *Lift) { l.Twist = 135 * deg }, 0.568},
		{"too twisted", func(l *Lift) { l.Twist = 136 * deg }, 0},
		{"often", func(l *Lift) { l.PerMinute = 1 }, 0.94},
		{"between", func(l *Lift) { l.PerMinute = 1.5 }, 0.925},
		{"often for long", func(l *Lift) { l.PerMinute, l.Hours = 6, 8 }, 0.27},
		{"two hours", func(l *Lift) { l.PerMinute, l.Hours = 3, 2 }, 0.79},
		{"too often", func(l *Lift) { l.PerMinute = 6.01 }, 0},
		{"fair", func(l *Lift) { l.Coupling = "" }, 1},
		{"fair, low", func(l *Lift) { l.Coupling, l.Vertical = Fair, 29*in }, 0.95 * 0.9925},
		{"poor", func(l *Lift) { l.Coupling = Poor }, 0.9},
	} {
		l := best
		r.change(&l)
		got, err := l.Limit()
		if err != nil || !near(float64(got/LiftConstant), r.want, 1e-9) {
			t.Errorf("%s: %v %v, want %v", r.name, got/LiftConstant, err, r.want)
		}
	}
	nan := math.NaN()
	_, err := Lift{unit.Length(nan), -1, 11, unit.Angle(4), -1, 9, "glue"}.Limit()
	wantFault(t, "lift", err, "horizontal", "vertical", "travel", "twist", "per_minute", "hours", "coupling")
	wantCautions(t, "one", must(CheckLift(best, 51*pound, 1)))
	wantCautions(t, "a bit more", must(CheckLift(best, 51.1*pound, 1)), "lifting")
	wantCautions(t, "two", must(CheckLift(best, 68*pound, 2)))
	wantCautions(t, "two, more", must(CheckLift(best, 68.1*pound, 2)), "lifting")
	if c := must(CheckLift(best, 153.1*pound, 1)); len(c) != 1 || c[0].Severity != Stop {
		t.Errorf("%+v", c)
	}
	if c := must(CheckLift(Lift{Horizontal: 1}, 1, 1)); len(c) != 1 || c[0].Severity != Stop || c[0].Limit != 0 {
		t.Errorf("%+v", c)
	}
	_, err = CheckLift(best, unit.Mass(nan), 0)
	wantFault(t, "check", err, "load", "people")
	for _, r := range []struct {
		mass   unit.Mass
		people int
		ok     bool
	}{{1, 1, true}, {51 * pound, 1, true}, {52 * pound, 2, true}, {68 * pound, 2, true}, {69 * pound, 3, true}, {76.5 * pound, 3, true}, {77 * pound, 3, false}, {unit.Mass(nan), 3, false}} {
		if n, ok := People(r.mass, LiftConstant); n != r.people || ok != r.ok {
			t.Errorf("%v: %v %v", r.mass, n, ok)
		}
	}
	if TeamLimit(9, LiftConstant) != TeamLimit(3, LiftConstant) && !near(float64(TeamLimit(9, LiftConstant)), float64(TeamLimit(3, LiftConstant)), 1e-12) || TeamLimit(0, 1) != 0 || TeamLimit(-1, 1) != 0 || TeamShare(2) != 2.0/3 {
		t.Error("teams")
	}
}

// Whatever goes in, what is accepted gives sound figures, and nothing panics.
func TestChecksAreSound(t *testing.T) {
	odd := []float64{0, 1, -1, 1e-9, 0.3, 2, 5, 30, 1e4, 1e12, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)}
	accepted := 0
	for _, r := range rands(52, 3000) {
		f := func() float64 {
			if r.IntN(4) == 0 {
				return odd[r.IntN(len(odd))]
			}
			return 2 * r.Float64()
		}
		l := func() unit.Length { return unit.Length(f()) }
		yes := func() bool { return r.IntN(2) == 0 }
		s := soils[r.IntN(len(soils))]
		var found []Caution
		note := func(c []Caution, err error) {
			var faults Faults
			if err != nil && !errors.As(err, &faults) {
				t.Fatal(err)
			}
			if err == nil {
				accepted++
			}
			found = append(found, c...)
		}
		note(CheckBank(Bank{l(), f(), s, yes(), yes(), yes(), yes()}))
		note(CheckPile(s.Pile(unit.Volume(f()), l()), l()))
		note(CheckRetained(Retained{l(), l(), yes(), yes()}))
		note(CheckSlopes(Slopes{f(), l(), l(), f(), f(), yes(), yes(), l(), l(), unit.Volume(f())}))
		note(CheckChannel(Channel{l(), l(), f(), f() / 5, f() / 5}, Flow(f()), s))
		note(CheckPipe(Pipe{l(), f() / 5, f() / 5}, Flow(f())))
		note(CheckLift(Lift{l(), l(), l(), unit.Angle(f()), f(), f(), Fair}, unit.Mass(f()), r.IntN(5)))
		for _, c := range found {
			if !(c.Limit >= 0 && c.Limit < 1e12) || !(c.Actual >= 0 && c.Actual < 1e12) || c.Source == "" || c.Says == "" {
				t.Fatalf("%+v", c)
			}
		}
		if q, err := Runoff(unit.Speed(f()/1e4), Surface{f(), unit.Area(f())}); err == nil && !(q >= 0 && q < 1e6) {
			t.Fatal(q)
		}
		p := s.Pile(unit.Volume(f()), l())
		for _, v := range []float64{
			float64(p.Breadth), float64(p.Height), float64(p.Footprint), float64(p.Length),
			float64(Trench{l(), l(), l(), f()}.Volume()), float64(Pit{l(), l(), l(), f()}.Volume()), float64(PostHole{l(), l(), yes()}.Volume()),
			float64(CutSetBack(l())), float64(FillSetBack(l())), float64(TeamLimit(r.IntN(9)-2, unit.Mass(f()))),
		} {
			if !(v >= 0 && v < 1e18) {
				t.Fatal(v)
			}
		}
		soundHaul(t, r, f)
	}
	if accepted < 3000 {
		t.Errorf("only %d accepted", accepted)
	}
}

func soundHaul(t *testing.T, r *rand.Rand, f func() float64) {
	c := randomHaul(r, 4, false)
	for i := range c.steps {
		if r.IntN(3) == 0 {
			c.steps[i].CutBank = unit.Volume(f())
		}
	}
	c.places[0].Offset = unit.Length(f())
	h, err := HaulPlan(c.soil, c.steps, c.places, HaulCost{f()})
	if err != nil {
		return
	}
	for _, v := range []float64{float64(h.Loose), float64(h.Spoil), float64(h.Borrow), float64(h.MeanDistance), float64(h.MeanClimb), h.Cost} {
		if !(v >= 0 && v < 1e18) {
			t.Fatalf("%+v", h)
		}
	}
}
