package stair

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

// plainly is the fit of one riser count in the plainest form that larger sites
// allow: every flight and every landing from every place is tried, forwards,
// with no bounds. It gives the least cost in quanta and the flights of it, or
// −1.
func plainly(n int, foot, head Point, lim Limits, site Site) (cost int64, flights int) {
	const quantum, eps = 1e-9, 1e-9
	run := float64(head.Station - foot.Station)
	r := (float64(head.Level-foot.Level) - lim.Wash*run) / float64(n)
	g := float64(lim.Grid)
	cells := int(math.Floor(run/g + eps))
	rest := run - float64(cells)*g
	if rest < eps {
		rest = 0
	}
	line := func(k int) Line { return Line{foot.Station, foot.Level + unit.Length(float64(k)*r), lim.Wash} }
	one := func(k int, a, b unit.Length) (int64, bool) {
		c, ok := [1]float64{}, [1]bool{}
		site.Cells([]unit.Length{a, b}, line(k), c[:], ok[:])
		return int64(math.Floor(c[0]/quantum + 0.5)), ok[0]
	}
	at := make([]unit.Length, cells+1)
	for i := range at {
		at[i] = foot.Station + unit.Length(float64(i)*g)
	}
	if rest == 0 {
		at[cells] = head.Station
	}
	back := func(i int) unit.Length { return head.Station - unit.Length(float64(i)*g) }
	sum := make([][]int64, n)
	bad := make([][]int, n) // cells that do not bear before i
	for k := 1; k < n; k++ {
		c, ok := make([]float64, cells), make([]bool, cells)
		site.Cells(at, line(k), c, ok)
		sum[k], bad[k] = make([]int64, cells+1), make([]int, cells+1)
		for i := range c {
			sum[k][i+1], bad[k][i+1] = sum[k][i], bad[k][i]
			if ok[i] {
				sum[k][i+1] += int64(math.Floor(c[i]/quantum + 0.5))
			} else {
				bad[k][i+1]++
			}
		}
	}
	type best struct {
		cost    int64
		flights int
	}
	nothing := best{-1, 0}
	better := func(a *best, b best) {
		if a.cost < 0 || b.cost < a.cost || b.cost == a.cost && b.flights < a.flights {
			*a = b
		}
	}
	table := func() [][]best {
		t := make([][]best, n+1)
		for k := range t {
			t[k] = make([]best, cells+1)
			for i := range t[k] {
				t[k][i] = nothing
			}
		}
		return t
	}
	start, end := table(), table()
	minRisers := max(lim.MinFlightRisers, 1)
	if lim.MinFlightRisers == 0 {
		minRisers = 2
	}
	var treads []int
	for t := 1; t <= cells; t++ {
		d := float64(t) * g
		s := 2*r + d
		if d >= float64(lim.TreadMin)-eps && d <= float64(lim.TreadMax)+eps &&
			(lim.StepRule == nil || s >= float64(lim.StepRule.Min)-eps && s <= float64(lim.StepRule.Max)+eps) {
			treads = append(treads, t)
		}
	}
	allowed := func(m int, t float64) bool {
		return (lim.MaxFlightRisers == 0 || m <= lim.MaxFlightRisers) && m >= minRisers &&
			(lim.MaxFlightRise == 0 || float64(m)*r+lim.Wash*float64(m-1)*t <= float64(lim.MaxFlightRise)+eps)
	}
	landing := func(d float64) bool {
		return d >= float64(lim.LandingMin)-eps && (lim.LandingMax == 0 || d <= float64(lim.LandingMax)+eps)
	}
	final := nothing
	base := int64(math.Floor(float64(n)*site.Riser(unit.Length(r))/quantum + 0.5))
	start[1][0] = best{base, 1}
	for k := 1; k < n; k++ {
		for i := 0; i <= cells; i++ {
			s := start[k][i]
			if s.cost < 0 {
				continue
			}
			if allowed(1, 0) {
				better(&end[k][i], s)
			}
			for _, t := range treads {
				c := s.cost
				for m := 2; k+m-1 < n; m++ {
					a, b := i+(m-2)*t, i+(m-1)*t
					if b > cells || bad[k+m-2][b] != bad[k+m-2][a] {
						break
					}
					c += sum[k+m-2][b] - sum[k+m-2][a]
					if allowed(m, float64(t)*g) {
						better(&end[k+m-1][b], best{c, s.flights})
					}
				}
			}
		}
		for i := 0; i <= cells; i++ {
			e := end[k][i]
			if e.cost < 0 {
				continue
			}
			for j := i + 1; j <= cells && bad[k][j] == bad[k][i]; j++ {
				if landing(float64(j-i) * g) {
					better(&start[k+1][j], best{e.cost + sum[k][j] - sum[k][i], e.flights + 1})
				}
			}
		}
		// The uppermost flight, of n−k risers.
		m := n - k
		for ti := -1; ti < len(treads); ti++ {
			t := 0
			if ti >= 0 {
				t = treads[ti]
			}
			if (m == 1) != (ti < 0) || !allowed(m, float64(t)*g) || (m-1)*t > cells {
				continue
			}
			c, ok := int64(0), true
			for q := 1; q < m && ok; q++ {
				var x int64
				x, ok = one(n-q, back(q*t), back((q-1)*t))
				c += x
			}
			j := cells - (m-1)*t
			if ok && rest > 0 {
				var x int64
				x, ok = one(k, at[j], back((m-1)*t))
				c += x
			}
			if !ok {
				continue
			}
			for i := 0; i <= j; i++ {
				if e := end[k][i]; e.cost >= 0 && bad[k][j] == bad[k][i] && landing(float64(j-i)*g+rest) {
					better(&final, best{e.cost + sum[k][j] - sum[k][i] + c, e.flights + 1})
				}
			}
		}
	}
	// One flight.
	if t := run / float64(n-1); n >= 2 && t >= float64(lim.TreadMin)-eps && t <= float64(lim.TreadMax)+eps && allowed(n, t) &&
		(lim.StepRule == nil || 2*r+t >= float64(lim.StepRule.Min)-eps && 2*r+t <= float64(lim.StepRule.Max)+eps) {
		c, ok := base, true
		for k := 1; k < n && ok; k++ {
			b := foot.Station + unit.Length(float64(k)*t)
			if k == n-1 {
				b = head.Station
			}
			var x int64
			x, ok = one(k, foot.Station+unit.Length(float64(k-1)*t), b)
			c += x
		}
		if ok {
			better(&final, best{c, 1})
		}
	}
	return final.cost, final.flights
}

// TestFitEqualsPlainProgramme compares the fit, with all its bounds, with the
// plain form on sites of real size: the least cost of every riser count, and its
// flights.
func TestFitEqualsPlainProgramme(t *testing.T) {
	counts, multi := 0, 0
	for seed := uint64(0); seed < 28; seed++ {
		r := rand.New(rand.NewPCG(seed, 13))
		foot, head, lim, site := hillside(seed, 3.2+2.5*r.Float64())
		lim.Grid = 0.0127
		lim.RiserMin, lim.RiserMax = 0.12, 0.18
		if seed%2 == 0 { // wilder ground, so that landings are wanted
			for i := range site.y {
				site.y[i] += 0.25 * (2*r.Float64() - 1)
			}
		}
		switch seed % 7 {
		case 1:
			lim.MaxFlightRisers = 4
		case 2:
			lim.MaxFlightRise, lim.Wash = 0.7, 0.02
		case 3:
			lim.MinFlightRisers, lim.LandingMax = 3, 1.3
		case 4:
			lim.MinFlightRisers, lim.LandingMin = 1, 0.6
		case 5:
			lim.StepRule = &StepRule{Min: 0.62, Max: 0.95}
		case 6:
			for range 4 {
				x, y := float64(head.Station)*r.Float64(), float64(head.Level)*r.Float64()
				site.holes = append(site.holes, hole{x, x + 0.3*r.Float64(), y, y + 0.4*r.Float64()})
			}
		}
		f, err := Fit(foot, head, lim, site)
		if err != nil {
			t.Logf("seed %d: %v", seed, err)
			continue
		}
		if g := fitEarly(t, foot, head, lim, site); g.Cost != f.Cost || describe(g.Layout) != describe(f.Layout) {
			t.Errorf("seed %d: giving counts up finds %s at %v, otherwise %s at %v", seed, describe(g.Layout), g.Cost, describe(f.Layout), f.Cost)
		}
		for _, c := range f.Considered {
			cost, flights := plainly(c.Risers, foot, head, lim, site)
			counts++
			if flights > 1 {
				multi++
			}
			if c.OK != (cost >= 0) || c.OK && (math.Abs(c.Cost-float64(cost)*1e-9) > 1e-12 || c.Flights != flights) {
				t.Errorf("seed %d, %d risers: %v at %v in %d flights, want %v in %d", seed, c.Risers, c.OK, c.Cost, c.Flights, float64(cost)*1e-9, flights)
			}
		}
	}
	t.Logf("%d riser counts compared, %d of several flights", counts, multi)
	if counts < 80 || multi < 50 {
		t.Errorf("the sites are too alike: %d counts, %d of several flights", counts, multi)
	}
}
