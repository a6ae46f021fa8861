package stair

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/martinlindhe/unit"
)

// moving is a site of which a point of the ground is moved.
type moving struct {
	*framedProfile
	from, to, higher, lower float64
}

// with gives the site with something changed.
func (m moving) with(change func(m *moving)) moving {
	f := *m.framedProfile
	p := *f.profile
	p.x, p.y, p.dug = append([]float64(nil), p.x...), append([]float64(nil), p.y...), nil
	f.profile, m.framedProfile = &p, &f
	change(&m)
	return m
}

// leniently takes in what cells that reach into the stretch bear with leeway.
func (m moving) leniently(at []unit.Length, bears []bool, ask func(f *framedProfile, cost []float64, bears []bool)) {
	if m.higher == 0 && m.lower == 0 {
		return
	}
	f := *m.framedProfile
	p := *f.profile
	f.profile = &p
	p.dug = nil
	p.maxCut += m.lower
	p.maxRaise += m.higher
	f.deepest += m.lower
	more := make([]bool, len(bears))
	ask(&f, make([]float64, len(bears)), more)
	for i := range bears {
		if float64(at[i]) < m.to && float64(at[i+1]) > m.from {
			bears[i] = more[i]
		}
	}
}

func (m moving) Cells(at []unit.Length, l Line, cost []float64, bears []bool) {
	m.framedProfile.Cells(at, l, cost, bears)
	m.leniently(at, bears, func(f *framedProfile, cost []float64, bears []bool) { f.Cells(at, l, cost, bears) })
}

func (m moving) FramedCells(at []unit.Length, l Line, cost []float64, bears []bool) {
	m.framedProfile.FramedCells(at, l, cost, bears)
	m.leniently(at, bears, func(f *framedProfile, cost []float64, bears []bool) { f.FramedCells(at, l, cost, bears) })
}

func (m moving) PlatformCells(at []unit.Length, l Line, cost []float64, bears []bool) {
	m.framedProfile.PlatformCells(at, l, cost, bears)
	m.leniently(at, bears, func(f *framedProfile, cost []float64, bears []bool) { f.PlatformCells(at, l, cost, bears) })
}

func (m moving) Lenient(from, to, higher, lower unit.Length) Site {
	return m.with(func(m *moving) {
		m.from, m.to, m.higher, m.lower = float64(from), float64(to), float64(higher), float64(lower)
	})
}

func (m moving) Differs(earlier Site) (d Difference, ok bool) {
	e, ok := earlier.(moving)
	if !ok || !reflect.DeepEqual(e.x, m.x) {
		return d, false
	}
	first := true
	for i, y := range m.y {
		by := y - e.y[i]
		if by == 0 {
			continue
		}
		if i == 0 || i == len(m.y)-1 {
			return d, false
		}
		if d.To = unit.Length(m.x[i+1]); first {
			d.From, first = unit.Length(m.x[i-1]), false
		}
		area := math.Abs(by) * (m.x[i+1] - m.x[i-1]) / 2
		if by > 0 {
			d.Higher = max(d.Higher, unit.Length(by))
			d.Less += m.fill * area
		} else {
			d.Lower = max(d.Lower, unit.Length(-by))
			d.Less += max(m.cut, m.dig) * area
		}
	}
	return d, true
}

// rows fits rows of tasks, each on ground of which one point was moved, with and
// without what is kept from one fit to the next. It gives how many there were, in how many there
// was nothing, and what cells either asked for.
func rows(t *testing.T, seeds uint64, task func(r *rand.Rand) Task, moves int, far func(r *rand.Rand, rise float64) float64) (fits, nothing, with, without int) {
	t.Helper()
	for seed := range seeds {
		r := rand.New(rand.NewPCG(seed, 71))
		task := task(r)
		site := moving{framedProfile: task.Site.(*framedProfile)}
		rise := float64(task.Head.Points[0].Level - task.Foot.Points[0].Level)
		point := 1 + r.IntN(len(site.x)-2)
		var earlier Earlier
		for move := range moves {
			if r.IntN(12) == 0 { // another point
				point = 1 + r.IntN(len(site.x)-2)
			}
			if r.IntN(12) == 0 && len(task.Head.Points) > 1 { // what the plan's ends may be
				task.Head.Points = task.Head.Points[:len(task.Head.Points)-1]
			}
			if r.IntN(12) == 0 { // what the plan's limits may be
				task.Limits.LandingMin += task.Limits.Grid
			}
			site = site.with(func(m *moving) {
				m.cells = 0
				if move > 0 {
					m.y[point] += far(r, rise)
				}
			})
			task.Site, task.Earlier = site, nil
			want, wantErr := task.Fit()
			without += site.cells
			lenient := site.with(func(m *moving) { m.cells = 0 })
			task.Site, task.Earlier = lenient, &earlier
			got, err := task.Fit()
			with += lenient.cells
			fits++
			if wantErr != nil {
				nothing++
				if err == nil || err.Error() != wantErr.Error() {
					t.Errorf("seed %d, move %d: %v; without what was kept %v", seed, move, err, wantErr)
				}
				continue
			}
			if err != nil || got.Cost != want.Cost || !reflect.DeepEqual(got.Layout, want.Layout) {
				t.Errorf("seed %d, move %d: %v %v %s; without what was kept %v %s", seed, move, err, got.Cost, describeAll(got.Layout), want.Cost, describeAll(want.Layout))
			}
		}
	}
	return fits, nothing, with, without
}

// TestEarlierChangesNothing fits rows of tasks with and without what is kept from one
// to the next: small ones of all kinds, and hills of a dozen risers.
func TestEarlierChangesNothing(t *testing.T) {
	t.Parallel()
	seeds := uint64(300)
	if testing.Short() {
		seeds = 60
	}
	fits, nothing, _, _ := rows(t, seeds, smallTask, 8, func(r *rand.Rand, rise float64) float64 {
		return rise * 0.1 * (2*r.Float64() - 1) * math.Pow(0.1, float64(r.IntN(3)))
	})
	t.Logf("%d small fits, nothing in %d", fits, nothing)
	if fits-nothing < fits/3 {
		t.Errorf("there is nothing in most")
	}
	fits, nothing, with, without := rows(t, seeds/10, hill, 16, func(r *rand.Rand, _ float64) float64 {
		return []float64{0.002, 0.01, 0.03, 0.1, 0.3}[r.IntN(5)] * (2*r.Float64() - 1)
	})
	t.Logf("%d fits to hills, nothing in %d; cells priced with what is kept %d, without %d", fits, nothing, with, without)
	if nothing*2 > fits || with >= without {
		t.Errorf("what is kept spares nothing")
	}
}

// hill is a task of a dozen risers or so.
func hill(r *rand.Rand) Task {
	run := 4 + 2*r.Float64()
	rise := run * (0.25 + 0.15*r.Float64())
	p := &profile{cut: 1, riser: 0.01, fill: []float64{0, 0.5}[r.IntN(2)], maxCut: 0.2 + 0.3*r.Float64(), maxRaise: 0.1 + 0.2*r.Float64()}
	for i := range 9 {
		f := float64(i) / 8
		p.x = append(p.x, run*f)
		p.y = append(p.y, rise*f+0.1*(2*r.Float64()-1))
	}
	site := &framedProfile{profile: p, depth: 0.1, dig: 1, deepest: 0.4, riserOf: 0.01, deck: 0.2, deckCells: 0.05, foot: 0.1, post: 0.05, span: 1.5, reach: 3}
	t := Task{Site: site, Limits: Limits{
		RiserMin: 0.12, RiserMax: 0.19, TreadMin: 0.26, TreadMax: 0.6, Grid: 0.01, LandingMin: 0.6, LandingMax: 1.5, Kinds: []Kind{Box},
	}}
	if r.IntN(2) == 0 {
		t.Limits.Kinds = []Kind{Box, Framed}
	}
	if r.IntN(3) == 0 {
		t.Walking = 0.2
	}
	at := func(i int, by float64) Point {
		return Point{unit.Length(p.x[i] + by), unit.Length(p.y[i])}
	}
	t.Foot.Points, t.Head.Points = []Point{at(0, 0)}, []Point{at(8, 0)}
	if r.IntN(2) == 0 {
		t.Head.Points = append(t.Head.Points, at(8, -0.01), at(8, -0.02))
	}
	return t
}
