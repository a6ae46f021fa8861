package stair

import (
	"encoding/binary"
	"errors"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// price is what a layout costs on a site, each tread and landing priced whole.
func price(l Layout, site Site) (cost float64, bears bool) {
	cost = float64(l.Risers) * site.Riser(l.Riser)
	for k := 1; k < l.Risers; k++ {
		c, ok := [1]float64{}, [1]bool{}
		site.Cells([]unit.Length{l.Steps[k-1].Station, l.Steps[k].Station}, l.Surface(k), c[:], ok[:])
		if !ok[0] {
			return 0, false
		}
		cost += c[0]
	}
	return cost, true
}

// randomLayout is a layout within the limits, or none: some risers, parted into
// flights somewhere, treads at random, what is left of the run in the landings.
func randomLayout(r *rand.Rand, foot, head Point, lim Limits) (Layout, bool) {
	p := problem{climb: float64(head.Level-foot.Level) - lim.Wash*float64(head.Station-foot.Station), bounds: lim.bounds(&Faults{})}
	lo, hi := p.counts()
	n := lo + r.IntN(hi-lo+1)
	run := float64(head.Station - foot.Station)
	riser := p.climb / float64(n)
	flights := 1 + r.IntN(4)
	left := n
	var plan []FixedFlight
	used := 0.0
	for i := range flights {
		m := left - 2*(flights-1-i)
		if i < flights-1 {
			if m <= 2 {
				m = 2
			} else {
				m = 2 + r.IntN(m-1)
			}
		}
		t0, t1 := p.treadRange(riser)
		a, b := int(math.Ceil(t0/p.grid-1e-9)), int(math.Floor(t1/p.grid+1e-9))
		if b < a || m < 2 {
			return Layout{}, false
		}
		t := float64(a+r.IntN(b-a+1)) * p.grid
		if flights == 1 {
			t = run / float64(n-1)
			if t < t0 || t > t1 {
				return Layout{}, false
			}
		}
		if m > p.flightRisers(riser, t, n) {
			return Layout{}, false
		}
		plan = append(plan, FixedFlight{Risers: m, Tread: unit.Length(t)})
		used += float64(m-1) * t
		left -= m
	}
	spare := run - used - float64(flights-1)*p.landingMin
	if spare < 0 {
		return Layout{}, false
	}
	for i := range flights - 1 {
		d := math.Ceil(p.landingMin/p.grid-1e-9) * p.grid
		if i == flights-2 {
			d = run - used
		} else {
			d += math.Floor(spare*r.Float64()/p.grid) * p.grid
		}
		if d < p.landingMin || p.landingMax != 0 && d > p.landingMax {
			return Layout{}, false
		}
		plan[i].Landing = unit.Length(d)
		used += d
	}
	l, err := Lay(foot, head, lim.Wash, plan)
	return l, err == nil
}

// improve moves a layout's treads and landings about while it gets better.
func improve(r *rand.Rand, l Layout, lim Limits, site Site, tries int) float64 {
	b := lim.bounds(&Faults{})
	cost, ok := price(l, site)
	if !ok {
		cost = math.Inf(1)
	}
	t0, t1 := b.treadRange(float64(l.Riser))
	for range tries {
		if len(l.Flights) < 2 {
			break
		}
		plan := make([]FixedFlight, len(l.Flights))
		for i, f := range l.Flights {
			plan[i] = FixedFlight{Risers: f.Risers, Tread: f.Tread}
			if i < len(l.Landings) {
				plan[i].Landing = l.Landings[i].Depth
			}
		}
		i, j := r.IntN(len(plan)), r.IntN(len(plan)-1)
		step := unit.Length(float64(1+r.IntN(6)) * b.grid * float64(1-2*r.IntN(2)))
		switch r.IntN(3) {
		case 0: // a deeper or shallower tread, the landing takes it up
			plan[i].Tread += step
			plan[j].Landing -= unit.Length(plan[i].Risers-1) * step
		case 1: // from one landing to another
			k := r.IntN(len(plan) - 1)
			plan[j].Landing += step
			plan[k].Landing -= step
		case 2: // a riser from one flight to the next
			k := r.IntN(len(plan))
			plan[i].Risers++
			plan[k].Risers--
			plan[j].Landing += plan[k].Tread - plan[i].Tread
		}
		good := true
		for i, f := range plan {
			good = good && f.Risers >= b.minRisers && f.Risers <= b.flightRisers(float64(l.Riser), float64(f.Tread), l.Risers) &&
				float64(f.Tread) >= t0-tol && float64(f.Tread) <= t1+tol
			if i < len(plan)-1 {
				good = good && float64(f.Landing) >= b.landingMin-tol && (b.landingMax == 0 || float64(f.Landing) <= b.landingMax+tol)
			}
		}
		if !good {
			continue
		}
		m, err := Lay(l.Foot, l.Head, l.Wash, plan)
		if err != nil {
			continue
		}
		if c, ok := price(m, site); ok && c < cost {
			l, cost = m, c
		}
	}
	return cost
}

// TestNothingBeatsTheFit: on sites too large for trying everything, no layout
// made at random and improved step by step costs less than the fit.
func TestNothingBeatsTheFit(t *testing.T) {
	tried := 0
	for seed := uint64(0); seed < 24; seed++ {
		foot, head, lim, site := hillside(seed, 6+float64(seed)*0.253)
		switch seed % 4 {
		case 1:
			lim.MaxFlightRisers = 12
		case 2:
			lim.MaxFlightRise, lim.Wash = 2.0, 0.02
		case 3:
			lim.StepRule = &StepRule{Min: 0.60, Max: 0.80}
			site.maxCut, site.maxRaise = 1.0, 0.8
		}
		f, err := Fit(foot, head, lim, site)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		if err := f.Layout.Validate(); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		c, ok := price(f.Layout, site)
		if !ok || math.Abs(c-f.Cost) > 1e-5 {
			t.Errorf("seed %d: the fit's layout costs %v (bears %v), the fit says %v", seed, c, ok, f.Cost)
		}
		r := rand.New(rand.NewPCG(seed, 5))
		for range 400 {
			l, ok := randomLayout(r, foot, head, lim)
			if !ok {
				continue
			}
			tried++
			best := improve(r, l, lim, site, 60)
			if best < f.Cost-1e-5 {
				t.Errorf("seed %d: %s costs %v, the fit %v", seed, describe(l), best, f.Cost)
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d layouts tried", tried)
	}
	t.Logf("%d layouts tried", tried)
}

// scaled is a site with every cost multiplied.
type scaled struct {
	*profile
	by float64
}

func (s scaled) Riser(r unit.Length) float64 { return s.profile.Riser(r) * s.by }
func (s scaled) Cells(at []unit.Length, l Line, cost []float64, bears []bool) {
	s.profile.Cells(at, l, cost, bears)
	for i := range cost {
		cost[i] *= s.by
	}
}

// TestLargeCosts: costs in a currency of small coins give the same layout.
func TestLargeCosts(t *testing.T) {
	foot, head, lim, site := hillside(3, 7.3)
	a, err := Fit(foot, head, lim, site)
	if err != nil {
		t.Fatal(err)
	}
	for _, by := range []float64{1e3, 1e6, 1e9} {
		b, err := Fit(foot, head, lim, scaled{site, by})
		if err != nil {
			t.Fatalf("× %v: %v", by, err)
		}
		if describe(a.Layout) != describe(b.Layout) || math.Abs(b.Cost/by-a.Cost) > 1e-5 {
			t.Errorf("× %v: %s at %v, want %s at %v", by, describe(b.Layout), b.Cost/by, describe(a.Layout), a.Cost)
		}
	}
	if _, err := Fit(foot, head, lim, scaled{site, math.Inf(1)}); err == nil {
		t.Error("infinite costs are taken")
	}
	if _, err := Fit(foot, head, lim, scaled{site, math.NaN()}); err == nil {
		t.Error("costs that are no numbers are taken")
	}
	if _, err := Fit(foot, head, lim, scaled{site, -1}); err == nil {
		t.Error("negative costs are taken")
	}
	if _, err := Fit(foot, head, lim, scaled{site, 1e200}); err == nil {
		t.Error("costs beyond counting are taken")
	}
}

// TestFitIsInvariant: moving the whole site, or its datum, moves the layout and
// changes nothing else.
func TestFitIsInvariant(t *testing.T) {
	foot, head, lim, site := hillside(5, 8)
	a, err := Fit(foot, head, lim, site)
	if err != nil {
		t.Fatal(err)
	}
	moved := *site
	moved.x, moved.y = nil, nil
	for i := range site.x {
		moved.x, moved.y = append(moved.x, site.x[i]+128), append(moved.y, site.y[i]-64)
	}
	b, err := Fit(Point{foot.Station + 128, foot.Level - 64}, Point{head.Station + 128, head.Level - 64}, lim, &moved)
	if err != nil {
		t.Fatal(err)
	}
	if describe(a.Layout) != describe(b.Layout) || math.Abs(a.Cost-b.Cost) > 1e-6 {
		t.Errorf("%s at %v, moved %s at %v", describe(a.Layout), a.Cost, describe(b.Layout), b.Cost)
	}
}

// TestInputsThatCannotBe: whatever the numbers, there are faults or an answer,
// and no panic.
func TestInputsThatCannotBe(t *testing.T) {
	t.Parallel()
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1e-300, 1e300, 1e-9, 0.001, 0.01, 0.15, 0.3, 1, 5, 100, 1e4, 1e7}
	r := rand.New(rand.NewPCG(1, 2))
	pick := func() unit.Length { return unit.Length(odd[r.IntN(len(odd))]) }
	number := func() int { return []int{-1, 0, 1, 2, 3, 18, 5000, math.MaxInt, math.MinInt}[r.IntN(9)] }
	answers, faults := 0, 0
	for range 1500 {
		foot, head := Point{0, 0}, Point{3, 1}
		lim := Limits{RiserMin: 0.1, RiserMax: 0.2, TreadMin: 0.25, TreadMax: 0.5, LandingMin: 0.9}
		for range 1 + r.IntN(3) {
			switch r.IntN(15) {
			case 0:
				foot.Station = pick()
			case 1:
				foot.Level = pick()
			case 2:
				head.Station = pick()
			case 3:
				head.Level = pick()
			case 4:
				lim.RiserMin = pick()
			case 5:
				lim.RiserMax = pick()
			case 6:
				lim.TreadMin = pick()
			case 7:
				lim.TreadMax = pick()
			case 8:
				lim.LandingMin = pick()
			case 9:
				lim.LandingMax = pick()
			case 10:
				lim.MaxFlightRisers, lim.MinFlightRisers = number(), number()
			case 11:
				lim.MaxFlightRise = pick()
			case 12:
				lim.StepRule = &StepRule{pick(), pick()}
			case 13:
				lim.Wash = float64(pick())
			case 14:
				lim.Grid = pick()
			}
		}
		f, err := Fit(foot, head, lim, plain(3, 1))
		if err != nil {
			var list Faults
			if !errors.As(err, &list) || len(list) == 0 {
				t.Errorf("%+v: error %v is no Faults", lim, err)
			}
			for _, e := range list {
				if e.Problem == "" {
					t.Errorf("%+v: a fault without a problem", lim)
				}
			}
			faults++
		} else {
			answers++
			if err := f.Layout.Validate(); err != nil {
				t.Errorf("%+v: %v", lim, err)
			}
		}
		flights := []FixedFlight{{Risers: number(), Tread: pick(), Landing: pick()}, {Risers: 3, Tread: 0.3}}
		if l, err := Lay(foot, head, lim.Wash, flights[r.IntN(2):]); err == nil {
			if err := l.Validate(); err != nil {
				t.Errorf("%+v: %v", flights, err)
			}
			l.Walk(pick())
			l.StakeOut(nil)
			l.SurfaceAt(pick())
			for _, s := range RuleSets() {
				s.Check(l, Facts{Width: pick(), Drop: pick(), FootLanding: pick()})
			}
		}
	}
	if answers < 100 || faults < 500 {
		t.Errorf("%d answers, %d faults: the inputs are too alike", answers, faults)
	}
}

// TestTooMuchWork: a fit beyond the caps says so.
func TestTooMuchWork(t *testing.T) {
	t.Parallel()
	lim := Limits{RiserMin: 0.05, RiserMax: 0.2, TreadMin: 0.1, TreadMax: 2, LandingMin: 0.3, Grid: 0.001}
	_, err := Fit(Point{}, Point{300, 60}, lim, plain(300, 60))
	var f Faults
	if !errors.As(err, &f) || f[0].Field != "grid" || !strings.HasPrefix(f[0].Fix, "plan the path in two parts") {
		t.Errorf("error %v, want a fault at grid that no grid helps", err)
	}
	// What is advised does.
	lim = Limits{RiserMin: 0.175, RiserMax: 0.18, TreadMin: 0.28, TreadMax: 0.3, LandingMin: 0.9, LandingMax: 1.1, Grid: 0.001}
	_, err = Fit(Point{}, Point{300, 140}, lim, plain(300, 140))
	if !errors.As(err, &f) || f[0].Field != "grid" || !strings.HasPrefix(f[0].Fix, "take a coarser grid") {
		t.Errorf("error %v, want a coarser grid", err)
	}
	lim.Grid = maxGrid
	if _, err = Fit(Point{}, Point{300, 140}, lim, plain(300, 140)); err != nil {
		t.Errorf("the coarser grid does not do: %v", err)
	}
	lim = Limits{RiserMin: 0.001, RiserMax: 0.2, TreadMin: 0.1, TreadMax: 2, LandingMin: 0.3}
	_, err = Fit(Point{}, Point{30, 6}, lim, plain(30, 6))
	if !errors.As(err, &f) || f[0].Field != "riser_min" {
		t.Errorf("error %v, want a fault at riser_min", err)
	}
}

// TestConservation: levels add up to the rise and treads to the run.
func TestConservation(t *testing.T) {
	for seed := uint64(0); seed < 20; seed++ {
		foot, head, lim, site := hillside(seed, 5+float64(seed)*0.3137)
		lim.Wash = float64(seed%3) * 0.01
		f, err := Fit(foot, head, lim, site)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		l := f.Layout
		near(t, "n·r + w·run", float64(l.Risers)*float64(l.Riser)+l.Wash*float64(l.Run), float64(l.Rise), 1e-5)
		sum := 0.0
		for _, s := range l.Steps {
			sum += float64(s.Tread)
		}
		near(t, "treads and landings", sum, float64(l.Run), 1e-9)
		if l.Steps[0].Station != foot.Station || l.Steps[l.Risers-1].Station != head.Station || l.Steps[l.Risers-1].Level != head.Level {
			t.Errorf("seed %d: does not begin at the foot and end at the head", seed)
		}
	}
}

// TestConsideredIsTheBest: the best of the riser counts is the fit.
func TestConsideredIsTheBest(t *testing.T) {
	foot, head, lim, site := hillside(2, 9)
	f, err := Fit(foot, head, lim, site)
	if err != nil {
		t.Fatal(err)
	}
	best := math.Inf(1)
	for _, c := range f.Considered {
		if c.OK && c.Cost < best {
			best = c.Cost
		}
		if !c.OK && c.Why == "" && !c.AtLeast {
			t.Errorf("%d risers: no reason", c.Risers)
		}
	}
	if best != f.Cost {
		t.Errorf("the best of the counts costs %v, the fit %v", best, f.Cost)
	}
	g, _ := Fit(foot, head, lim, site)
	if !reflect.DeepEqual(f, g) {
		t.Error("the same question has two answers")
	}
}

// TestSameBits: fits have the same bits on every machine, native and in the
// browser; the sum was made on amd64. Run it with GOAMD64=v3, GOARCH=386 and
// GOOS=js GOARCH=wasm as well.
func TestSameBits(t *testing.T) {
	h := fnv.New64a()
	put := func(v ...float64) {
		for _, x := range v {
			var b [8]byte
			binary.LittleEndian.PutUint64(b[:], math.Float64bits(x))
			h.Write(b[:])
		}
	}
	for i := range 12 {
		run := 4 + float64(float64(i)*0.37)
		site := plain(run, 0.31*run)
		site.x, site.y = nil, nil
		for j := 0; j <= 10; j++ {
			f := float64(j) / 10
			site.x = append(site.x, float64(run*f))
			site.y = append(site.y, float64(0.31*float64(run*f))+float64(0.01*float64((i*7+j*j*5)%23)))
		}
		lim := Limits{RiserMin: 0.12, RiserMax: 0.19, TreadMin: 0.28, TreadMax: 0.7, LandingMin: 0.9, Wash: 0.015}
		if i%3 == 1 {
			lim.MaxFlightRisers = 6
		}
		f, err := Fit(Point{}, Point{unit.Length(run), unit.Length(0.31 * run)}, lim, site)
		if err != nil {
			t.Fatal(err)
		}
		put(f.Cost)
		for _, s := range f.Layout.Steps {
			put(float64(s.Station), float64(s.Level), float64(s.Tread))
		}
		for _, m := range f.Layout.StakeOut(nil) {
			put(float64(m.Base), float64(m.Drop), float64(m.FromHead))
		}
		for _, w := range f.Layout.Walk(0).Flights {
			put(float64(w.Off), float64(w.StepSum))
		}
		for _, c := range f.Considered {
			put(c.Cost)
		}
	}
	const want = 0x7d2cef853ca83bfa
	if got := h.Sum64(); got != want {
		t.Errorf("sum %#x, want %#x", got, uint64(want))
	}
}
