package stair

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/martinlindhe/unit"
)

// tried is one layout tried by the exhaustive search.
type tried struct {
	cost    int64
	flights []planned
	n       int
}

// key orders layouts of equal cost as Fit says it does.
func (a tried) less(b tried) bool {
	if a.cost != b.cost {
		return a.cost < b.cost
	}
	if len(a.flights) != len(b.flights) {
		return len(a.flights) < len(b.flights)
	}
	if a.n != b.n {
		return a.n < b.n
	}
	for i := len(a.flights) - 1; i >= 0; i-- {
		x, y := a.flights[i], b.flights[i]
		if math.Abs(x.landing-y.landing) > 1e-7 {
			return x.landing < y.landing
		}
		if math.Abs(x.tread-y.tread) > 1e-7 {
			return x.tread < y.tread
		}
		if x.risers != y.risers {
			return x.risers < y.risers
		}
	}
	return false
}

// everything tries every layout there is, in the plainest way, and gives the
// best of all, the best of each riser count, and how many there were.
func everything(foot, head Point, lim Limits, site Site) (best *tried, per map[int]*tried, count int) {
	per = map[int]*tried{}
	run, climb := float64(head.Station-foot.Station), float64(head.Level-foot.Level)
	climb -= lim.Wash * run
	grid := float64(lim.Grid)
	cells := int(math.Floor(run/grid + 1e-9))
	rest := run - float64(cells)*grid
	if rest < 1e-9 {
		rest = 0
	}
	minRisers := lim.MinFlightRisers
	if minRisers == 0 {
		minRisers = 2
	}
	quanta := func(c float64) int64 { return int64(math.Floor(c/1e-9 + 0.5)) }
	station := func(i int) unit.Length { return foot.Station + unit.Length(float64(i)*grid) }
	back := func(i int) unit.Length { return head.Station - unit.Length(float64(i)*grid) }
	const eps = 1e-9
	for n := 1; n <= 200; n++ {
		r := climb / float64(n)
		if r > float64(lim.RiserMax)+eps || r < float64(lim.RiserMin)-eps {
			continue
		}
		line := func(k int) Line { return Line{foot.Station, foot.Level + unit.Length(float64(k)*r), lim.Wash} }
		one := func(k int, a, b unit.Length) (int64, bool) {
			c, ok := [1]float64{}, [1]bool{}
			site.Cells([]unit.Length{a, b}, line(k), c[:], ok[:])
			return quanta(c[0]), ok[0]
		}
		memo := map[[2]int]int64{} // −1: does not bear
		cellsCost := func(k, i, j int) (int64, bool) {
			sum := int64(0)
			for ; i < j; i++ {
				v, ok := memo[[2]int{k, i}]
				if !ok {
					c, bears := one(k, station(i), station(i+1))
					if v = c; !bears {
						v = -1
					}
					memo[[2]int{k, i}] = v
				}
				if v < 0 {
					return 0, false
				}
				sum += v
			}
			return sum, true
		}
		treadOK := func(t float64) bool {
			if t < float64(lim.TreadMin)-eps || t > float64(lim.TreadMax)+eps {
				return false
			}
			if lim.PitchMax != 0 && math.Atan(r/t+lim.Wash) > float64(lim.PitchMax)+eps {
				return false
			}
			if lim.StepRule != nil {
				s := 2*r + t
				if lim.StepRule.Min != 0 && s < float64(lim.StepRule.Min)-eps || lim.StepRule.Max != 0 && s > float64(lim.StepRule.Max)+eps {
					return false
				}
			}
			return true
		}
		flightOK := func(m int, t float64) bool {
			if m < minRisers || lim.MaxFlightRisers != 0 && m > lim.MaxFlightRisers {
				return false
			}
			up := float64(m)*r + lim.Wash*float64(m-1)*t
			return lim.MaxFlightRise == 0 || up <= float64(lim.MaxFlightRise)+eps
		}
		landingOK := func(d float64) bool {
			return lim.LandingMin > 0 && d >= float64(lim.LandingMin)-eps && (lim.LandingMax == 0 || d <= float64(lim.LandingMax)+eps)
		}
		keep := func(t tried) {
			count++
			t.flights = append([]planned(nil), t.flights...)
			if per[n] == nil || t.less(*per[n]) {
				per[n] = &t
			}
			if best == nil || t.less(*best) {
				best = &t
			}
		}
		base := quanta(float64(n) * site.Riser(unit.Length(r)))
		// One flight.
		if n >= 2 {
			t := run / float64(n-1)
			if treadOK(t) && flightOK(n, t) {
				sum, ok := base, true
				for k := 1; k < n && ok; k++ {
					b := foot.Station + unit.Length(float64(k)*t)
					if k == n-1 {
						b = head.Station
					}
					var c int64
					c, ok = one(k, foot.Station+unit.Length(float64(k-1)*t), b)
					sum += c
				}
				if ok {
					keep(tried{cost: sum, n: n, flights: []planned{{risers: n, tread: t}}})
				}
			}
		}
		// Several: below is what there is so far, its last flight ending with
		// riser k at cell i.
		var more func(k, i int, sum int64, below []planned)
		more = func(k, i int, sum int64, below []planned) {
			// The landing behind riser k and the flight above it, which may be
			// the last.
			for m := minRisers; k+m <= n; m++ {
				most := cells
				if m == 1 {
					most = 0
				}
				for t := 0; t <= most; t++ {
					if (m == 1) != (t == 0) || (m > 1 && !treadOK(float64(t)*grid)) || !flightOK(m, float64(t)*grid) {
						continue
					}
					tread := float64(t) * grid
					if k+m == n { // the last, measured from the head
						j := cells - (m-1)*t
						depth := float64(j-i)*grid + rest
						if j < i || !landingOK(depth) {
							continue
						}
						c, ok := cellsCost(k, i, j)
						total := sum + c
						if ok && rest > 0 {
							c, ok = one(k, station(j), back((m-1)*t))
							total += c
						}
						for q := 1; q < m && ok; q++ {
							c, ok = one(n-q, back(q*t), back((q-1)*t))
							total += c
						}
						if ok {
							f := append(append([]planned(nil), below...), planned{risers: m, tread: tread})
							f[len(f)-2].landing = depth
							keep(tried{cost: total, n: n, flights: f})
						}
						continue
					}
					for d := 1; i+d+(m-1)*t <= cells; d++ {
						if !landingOK(float64(d) * grid) {
							continue
						}
						c, ok := cellsCost(k, i, i+d)
						total := sum + c
						for q := 1; q < m && ok; q++ {
							c, ok = cellsCost(k+q, i+d+(q-1)*t, i+d+q*t)
							total += c
						}
						if ok {
							f := append(append([]planned(nil), below...), planned{risers: m, tread: tread})
							f[len(f)-2].landing = float64(d) * grid
							more(k+m, i+d+(m-1)*t, total, f)
						}
					}
				}
			}
		}
		for m := minRisers; m < n; m++ {
			for t := 0; t <= cells; t++ {
				tread := float64(t) * grid
				if (m == 1) != (t == 0) || (m > 1 && !treadOK(tread)) || !flightOK(m, tread) || (m-1)*t > cells {
					continue
				}
				sum, ok := base, true
				for q := 1; q < m && ok; q++ {
					var c int64
					c, ok = cellsCost(q, (q-1)*t, q*t)
					sum += c
				}
				if ok {
					more(m, (m-1)*t, sum, []planned{{risers: m, tread: tread}})
				}
			}
		}
	}
	return best, per, count
}

// smallSite is a random site small enough to try everything on.
func smallSite(r *rand.Rand) (foot, head Point, lim Limits, site *profile) {
	grid := []float64{0.01, 0.0127, 0.005, 0.008}[r.IntN(4)]
	cells := 8 + r.IntN(18)
	run := float64(cells) * grid
	if r.IntN(2) == 0 {
		run += grid * (0.05 + 0.9*r.Float64())
	}
	n := 3 + r.IntN(6) // about so many risers
	rise := float64(n) * (0.004 + 0.004*r.Float64())
	foot = Point{unit.Length(float64(r.IntN(3)) * 1.25), unit.Length(float64(r.IntN(3)) * -0.75)}
	head = Point{foot.Station + unit.Length(run), foot.Level + unit.Length(rise)}
	lim = Limits{
		RiserMin: unit.Length(rise / (float64(n) + 0.6)), RiserMax: unit.Length(rise / (float64(n) - 1.4)),
		TreadMin: unit.Length(grid * float64(1+r.IntN(3))), Grid: unit.Length(grid),
		LandingMin: unit.Length(grid * (1.5 + 3*r.Float64())),
	}
	lim.TreadMax = lim.TreadMin + unit.Length(grid*float64(1+r.IntN(5)))
	if r.IntN(3) == 0 {
		lim.LandingMax = lim.LandingMin + unit.Length(grid*4*r.Float64())
	}
	if r.IntN(3) == 0 {
		lim.Wash = 0.02
	}
	switch r.IntN(4) {
	case 0:
		lim.MaxFlightRisers = 2 + r.IntN(3)
	case 1:
		lim.MaxFlightRise = unit.Length(rise * (0.4 + 0.3*r.Float64()))
	}
	switch r.IntN(4) {
	case 0:
		lim.MinFlightRisers = 1
	case 1:
		if lim.MaxFlightRisers == 0 || lim.MaxFlightRisers >= 3 {
			lim.MinFlightRisers = 3
		}
	}
	if r.IntN(4) == 0 {
		lim.StepRule = &StepRule{Min: 2*lim.RiserMin + lim.TreadMin, Max: 2*lim.RiserMax + lim.TreadMax - unit.Length(grid)}
	}
	if r.IntN(4) == 0 {
		// About as steep as the steepest steps within the other limits, or less.
		lim.PitchMax = unit.Angle(math.Atan(float64(lim.RiserMax)/float64(lim.TreadMin)) * (0.7 + 0.35*r.Float64()))
	}
	site = randomProfile(r, run, rise, rise*0.15)
	site.riser = []float64{0, 0, 1e-6, 1e-5}[r.IntN(4)]
	for i := range site.x {
		site.x[i] += float64(foot.Station)
		site.y[i] += float64(foot.Level)
	}
	switch r.IntN(4) {
	case 0:
		site.maxCut, site.maxRaise = rise*0.45, rise*0.45
	case 1:
		for range 1 + r.IntN(4) {
			x, y := float64(foot.Station)+run*r.Float64(), float64(foot.Level)+rise*r.Float64()*1.1
			site.holes = append(site.holes, hole{x, x + run*0.2*r.Float64(), y, y + rise*0.4*r.Float64()})
		}
	case 2:
		// Coarse costs, so that layouts tie.
		site.cut, site.fill = 0, 0
		if r.IntN(2) == 0 {
			site.riser = 0
		}
	}
	return foot, head, lim, site
}

// TestFitEqualsExhaustiveSearch compares the fit with trying everything: cost,
// flights, treads, risers and landings, and the best cost of each riser count.
func TestFitEqualsExhaustiveSearch(t *testing.T) {
	t.Parallel()
	fits, none, multi, layouts, given := 0, 0, 0, 0, 0
	for seed := uint64(0); seed < 1200; seed++ {
		r := rand.New(rand.NewPCG(seed, 7))
		foot, head, lim, site := smallSite(r)
		want, per, count := everything(foot, head, lim, site)
		layouts += count
		got, err := Fit(foot, head, lim, site)
		if want == nil {
			if err == nil {
				t.Errorf("seed %d: fit found %+v, there is nothing", seed, got.Layout.Flights)
			}
			none++
			continue
		}
		if err != nil {
			t.Errorf("seed %d: %v; want %+v", seed, err, *want)
			continue
		}
		fits++
		if len(want.flights) > 1 {
			multi++
		}
		if d := got.Cost - float64(want.cost)*1e-9; math.Abs(d) > 1e-12 {
			t.Errorf("seed %d: cost %v, want %v", seed, got.Cost, float64(want.cost)*1e-9)
		}
		if g, w := describe(got.Layout), describePlan(*want); g != w {
			t.Errorf("seed %d (%d layouts):\n got %s\nwant %s", seed, count, g, w)
		}
		if err := got.Layout.Validate(); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		early := fitEarly(t, foot, head, lim, site)
		if early.Cost != got.Cost || !reflect.DeepEqual(early.Layout, got.Layout) {
			t.Errorf("seed %d: giving counts up finds %s at %v, otherwise %s at %v", seed, describe(early.Layout), early.Cost, describe(got.Layout), got.Cost)
		}
		for _, c := range append(got.Considered, early.Considered...) {
			if c.AtLeast {
				given++
			}
			w := per[c.Risers]
			switch {
			case c.AtLeast:
				if w != nil && float64(w.cost)*1e-9 < c.Cost-1e-12 {
					t.Errorf("seed %d: %d risers: said to cost at least %v, cost %v", seed, c.Risers, c.Cost, float64(w.cost)*1e-9)
				}
			case c.OK != (w != nil):
				t.Errorf("seed %d: %d risers: ok %v (%s), want %v", seed, c.Risers, c.OK, c.Why, w)
			case c.OK && (math.Abs(c.Cost-float64(w.cost)*1e-9) > 1e-12 || c.Flights != len(w.flights)):
				t.Errorf("seed %d: %d risers: cost %v in %d flights, want %v in %d", seed, c.Risers, c.Cost, c.Flights, float64(w.cost)*1e-9, len(w.flights))
			case !c.OK && c.Why == "":
				t.Errorf("seed %d: %d risers: no reason", seed, c.Risers)
			}
		}
	}
	t.Logf("%d fits (%d of several flights), %d sites with none, %d layouts tried, %d riser counts given up", fits, multi, none, layouts, given)
	if fits < 200 || multi < 100 || none < 20 || given < 50 {
		t.Errorf("the sites are too alike: %d fits (%d of several flights), %d with none", fits, multi, none)
	}
}

// fitEarly is Fit giving up riser counts from the first.
func fitEarly(t *testing.T, foot, head Point, lim Limits, site Site) Fitted {
	t.Helper()
	var faults Faults
	p := problem{foot: foot, head: head, bounds: lim.bounds(&faults), site: site, full: -1}
	p.run, p.rise, p.climb = ends(foot, head, lim.Wash, &faults)
	f, err := p.fit()
	if err != nil || len(faults) > 0 {
		t.Fatal(err, faults)
	}
	return f
}

func describe(l Layout) string {
	s := ""
	for i, f := range l.Flights {
		s += fmt.Sprintf("%d×%.6f ", f.Risers, float64(f.Tread))
		if i < len(l.Landings) {
			s += fmt.Sprintf("[%.6f] ", float64(l.Landings[i].Depth))
		}
	}
	return s
}

func describePlan(t tried) string {
	s := ""
	for i, f := range t.flights {
		s += fmt.Sprintf("%d×%.6f ", f.risers, f.tread)
		if i < len(t.flights)-1 {
			s += fmt.Sprintf("[%.6f] ", f.landing)
		}
	}
	return s
}

// TestFitIsRepeatable: the same question has the same answer, bit for bit.
func TestFitIsRepeatable(t *testing.T) {
	for seed := uint64(0); seed < 20; seed++ {
		foot, head, lim, site := smallSite(rand.New(rand.NewPCG(seed, 7)))
		a, err1 := Fit(foot, head, lim, site)
		b, err2 := Fit(foot, head, lim, site)
		if !reflect.DeepEqual(a, b) || !reflect.DeepEqual(err1, err2) {
			t.Errorf("seed %d: %v, %v and then %v, %v", seed, a, err1, b, err2)
		}
	}
}
