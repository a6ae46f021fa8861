package stair

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

// largeTask is a task of real size: both kinds of flight on wild ground, some
// with free ends, bends, courses or a walker.
func largeTask(seed uint64) Task {
	foot, head, lim, p := hillside(seed, 5+float64(seed%12)*0.41)
	r := rand.New(rand.NewPCG(seed, 19))
	for i := range p.y {
		p.y[i] += 0.4 * (2*r.Float64() - 1)
	}
	lim.TreadMax = 0.7
	lim.Kinds = []Kind{Box, Framed}
	lim.Framed = &FramedLimits{TreadMax: 0.36, MinFlightRisers: 3, MaxFlightRisers: 14}
	p.maxCut, p.maxRaise = 1.1, 0.5
	t := Task{Limits: lim, Site: &framedProfile{
		profile: p, depth: 0.35, dig: 1, deepest: 0.8, riserOf: 0.01, deck: 0.05, deckCells: 0.02, foot: 0.04, post: 0.05, span: 1.8, reach: 4.2,
	}}
	t.Foot.Points, t.Head.Points = []Point{foot}, []Point{head}
	switch seed % 4 {
	case 1:
		t.Foot.Points = append(t.Foot.Points, Point{foot.Station + 0.2, foot.Level + 0.05})
		t.Head.Points = append(t.Head.Points, Point{head.Station - 0.15, head.Level - 0.05})
	case 2:
		t.Walking = 0.3
	case 3:
		t.Limits.Bends = []Bend{{From: head.Station / 3, To: head.Station / 2, Radius: 2.5, Width: 1.2, MinInner: 0.25, MinWalkline: 0.28, Walkline: 0.4}}
		t.Limits.Courses = &Courses{Height: 0.14, MaxBedding: 0.03}
	}
	return t
}

// keeps is whether a layout keeps to the limits of a task, told from the layout
// alone.
func keeps(t Task, l Layout) bool {
	lim := t.Limits
	for _, f := range l.Flights {
		tmin, tmax, least, most := lim.TreadMin, lim.TreadMax, 2, lim.MaxFlightRisers
		if f.Kind == Framed {
			tmax, least, most = lim.Framed.TreadMax, lim.Framed.MinFlightRisers, lim.Framed.MaxFlightRisers
		}
		if f.Risers < least || most > 0 && f.Risers > most || f.Risers > 1 && (f.Tread < tmin-tol || f.Tread > tmax+tol) {
			return false
		}
		for _, b := range lim.Bends {
			if f.Kind == Framed && float64(f.End) > float64(b.From)+tol && float64(f.Start) < float64(b.To)-tol {
				return false
			}
		}
	}
	for _, g := range l.Landings {
		if g.Depth < lim.LandingMin-tol {
			return false
		}
	}
	wedges, err := l.Wedges(lim.Bends)
	if err != nil {
		return false
	}
	for _, w := range wedges {
		box := l.Steps[w.Riser-1].Kind == Box
		if b := lim.Bends[0]; box && (w.Inner < b.MinInner-tol || w.DepthAt(b.Walkline) < b.MinWalkline-tol) {
			return false
		}
	}
	return true
}

// TestNothingBeatsTheTask: on sites too large for trying everything, no layout
// made at random and improved step by step costs less than the fit.
func TestNothingBeatsTheTask(t *testing.T) {
	t.Parallel()
	tried, sites, mixed, near := 0, 0, 0, 0
	for seed := uint64(0); seed < 32; seed++ {
		task := largeTask(seed)
		f, err := task.Fit()
		if err != nil {
			t.Logf("seed %d: %v", seed, err)
			continue
		}
		sites++
		total := func(l Layout) (float64, bool) {
			c, ok := Price(l, task.Site)
			return c + task.Walking*float64(l.Walk(OutdoorPace).Misfit), ok && keeps(task, l)
		}
		if c, ok := total(f.Layout); !ok || math.Abs(c-f.Cost) > 1e-5 {
			t.Errorf("seed %d: the fit's layout costs %v (%v), the fit says %v: %s", seed, c, ok, f.Cost, describeAll(f.Layout))
		}
		kinds := map[Kind]bool{}
		for _, x := range f.Layout.Flights {
			kinds[x.Kind] = true
		}
		if len(kinds) == 2 {
			mixed++
		}
		r := rand.New(rand.NewPCG(seed, 23))
		// From layouts at random, and from the fit's own neighbours.
		for try := range 60 {
			var l Layout
			if try%2 == 0 {
				l = f.Layout
			} else {
				lim := task.Limits
				lim.Bends, lim.Courses, lim.Framed, lim.Kinds = nil, nil, nil, nil
				foot, head := task.Foot.Points[r.IntN(len(task.Foot.Points))], task.Head.Points[r.IntN(len(task.Head.Points))]
				var ok bool
				if l, ok = randomLayout(r, foot, head, lim); !ok {
					continue
				}
			}
			tried++
			best, okBest := total(l)
			if !okBest {
				best = math.Inf(1)
			}
			for range 150 {
				m, ok := neighbour(r, task, l, try%2 == 0)
				if !ok {
					continue
				}
				c, ok := total(m)
				if !ok {
					continue
				}
				if task.Limits.Courses != nil {
					if _, _, _, made := task.Limits.Courses.Make(m.Riser); !made {
						continue
					}
				}
				near++
				if c < f.Cost-1e-5 {
					t.Fatalf("seed %d: %s costs %v, the fit %s %v", seed, describeAll(m), c, describeAll(f.Layout), f.Cost)
				}
				if c < best {
					l, best = m, c
				}
			}
		}
	}
	t.Logf("%d sites, %d with both kinds, %d starts, %d layouts held against the fit", sites, mixed, tried, near)
	if sites < 20 || mixed < 4 || near < 5000 {
		t.Error("the sites are too alike")
	}
}

// neighbour is a layout a little different from another, on the same grid.
func neighbour(r *rand.Rand, task Task, l Layout, free bool) (Layout, bool) {
	plan := make([]FixedFlight, len(l.Flights))
	for i, f := range l.Flights {
		plan[i] = FixedFlight{Kind: f.Kind, Risers: f.Risers, Tread: f.Tread}
		if i < len(l.Landings) {
			plan[i].Landing, plan[i].Platform = l.Landings[i].Depth, l.Landings[i].Kind == Framed
		}
	}
	if len(plan) < 2 {
		return l, false
	}
	step := unit.Length(float64(1+r.IntN(6)) * 0.01 * float64(1-2*r.IntN(2)))
	for range 1 + r.IntN(2) {
		i, j, k := r.IntN(len(plan)), r.IntN(len(plan)-1), r.IntN(len(plan)-1)
		switch r.IntN(5) {
		case 0:
			plan[i].Tread += step
			plan[j].Landing -= unit.Length(plan[i].Risers-1) * step
		case 1:
			plan[j].Landing += step
			plan[k].Landing -= step
		case 2:
			plan[j].Risers++
			plan[j+1].Risers--
			plan[j].Landing += plan[j+1].Tread - plan[j].Tread
		case 3: // the other kind
			plan[i].Kind = []Kind{Box, Framed}[r.IntN(2)]
		case 4:
			plan[j].Platform = !plan[j].Platform
		}
	}
	for i := range plan {
		if i == len(plan)-1 || plan[i].Kind != Framed || plan[i+1].Kind != Framed {
			plan[i].Platform = false
		}
	}
	m, err := Lay(l.Foot, l.Head, l.Wash, plan)
	return m, err == nil
}

// TestTaskFaults: what is no task is refused, whatever the numbers.
func TestTaskFaults(t *testing.T) {
	good := largeTask(0)
	for i, change := range []func(*Task){
		func(t *Task) { t.Foot.Points = nil },
		func(t *Task) { t.Head.Points = nil },
		func(t *Task) { t.Site = nil },
		func(t *Task) { t.Site = plain(5, 2) },
		func(t *Task) { t.Walking = math.NaN() },
		func(t *Task) { t.Walking = -1 },
		func(t *Task) { t.Limits.Kinds = []Kind{"rope"} },
		func(t *Task) { t.Limits.Framed = &FramedLimits{TreadMin: 2, TreadMax: 1} },
		func(t *Task) { t.Limits.Framed = &FramedLimits{RiserMin: unit.Length(math.NaN())} },
		func(t *Task) { t.Limits.Courses = &Courses{} },
		func(t *Task) { t.Limits.Bends = []Bend{{}} },
		func(t *Task) { t.Limits.Bends = []Bend{{From: 1, To: 2, Radius: 0.5, Width: 1.2}} },
		func(t *Task) { t.Head.Points = []Point{{-1, 1}, {1, -1}} },
		func(t *Task) { t.Foot.Points = make([]Point, 20000) },
	} {
		task := good
		change(&task)
		_, err := task.Fit()
		var f Faults
		if !errors.As(err, &f) || len(f) == 0 || f[0].Field == "" {
			t.Errorf("change %d: %v", i, err)
		}
	}
}

// TestTaskSameBits: as TestSameBits, for what tasks add.
func TestTaskSameBits(t *testing.T) {
	h := fnv.New64a()
	put := func(v ...float64) {
		for _, x := range v {
			var b [8]byte
			binary.LittleEndian.PutUint64(b[:], math.Float64bits(x))
			h.Write(b[:])
		}
	}
	for i := range 6 {
		run := 4 + float64(float64(i)*0.37)
		site := plain(run, float64(0.31*run))
		site.x, site.y = nil, nil
		for j := 0; j <= 10; j++ {
			f := float64(j) / 10
			site.x = append(site.x, float64(run*f))
			site.y = append(site.y, float64(0.31*float64(run*f))+float64(0.015*float64((i*7+j*j*5)%23)))
		}
		site.maxCut, site.maxRaise = 0.9, 0.5
		task := Task{
			Foot: End{[]Point{{}, {0.1, 0.02}}}, Head: End{[]Point{{unit.Length(run), unit.Length(float64(0.31 * run))}}},
			Limits: Limits{RiserMin: 0.12, RiserMax: 0.19, TreadMin: 0.28, TreadMax: 0.5, LandingMin: 0.9, Wash: 0.01, Kinds: []Kind{Box, Framed},
				Framed: &FramedLimits{TreadMax: 0.36}, Bends: []Bend{{From: 1, To: 1.7, Radius: 2, Width: 1, MinInner: 0.2}}},
			Site: &framedProfile{profile: site, depth: 0.3, dig: 1, deepest: 0.8, riserOf: 0.004, deck: 0.02, deckCells: 0.01, foot: 0.02, post: 0.02, span: 1.8, reach: 4.2},
		}
		if i%2 == 1 {
			task.Walking = 0.1
		}
		f, err := task.Fit()
		if err != nil {
			t.Fatal(err)
		}
		put(f.Cost)
		for _, s := range f.Layout.Steps {
			put(float64(s.Station), float64(s.Level), float64(s.Tread))
		}
		wedges, _ := f.Layout.Wedges(task.Limits.Bends)
		for _, w := range wedges {
			put(float64(w.Inner), float64(w.Outer))
		}
		for _, c := range f.Considered {
			put(c.Cost)
		}
		cost, _ := Price(f.Layout, task.Site)
		put(cost)
	}
	const want = 0x12d85a985957cf3c
	if got := h.Sum64(); got != want {
		t.Errorf("sum %#x, want %#x", got, uint64(want))
	}
}

// BenchmarkTask is the interactive case, 12 m of 20 readings, risers of 100 to
// 200 mm and treads of 250 mm to 1 m: one kind, both, free ends, the walker.
func BenchmarkTask(b *testing.B) {
	interactive := func(change func(*Task, *profile)) Task {
		foot, head, lim, p := hillside(1, 12.004)
		lim.TreadMax = 1
		p.fill, p.maxCut, p.maxRaise = 0, 1.2, 0.1
		t := Task{Foot: End{[]Point{foot}}, Head: End{[]Point{head}}, Limits: lim, Site: p}
		change(&t, p)
		return t
	}
	both := func(t *Task, p *profile) {
		t.Site = &framedProfile{profile: p, depth: 0.35, dig: 1, deepest: 0.8, riserOf: 0.02, deck: 0.2, deckCells: 0.05, foot: 0.2, post: 0.1, span: 2.4, reach: 6}
		t.Limits.Kinds, t.Limits.Framed = []Kind{Box, Framed}, &FramedLimits{TreadMax: 0.36, MinFlightRisers: 3, MaxFlightRisers: 18}
	}
	for _, c := range []struct {
		name   string
		change func(*Task, *profile)
	}{
		{"box", func(*Task, *profile) {}},
		{"box and no limit to the dig", func(_ *Task, p *profile) { p.fill, p.maxCut, p.maxRaise = 2, math.Inf(1), math.Inf(1) }},
		{"both kinds", both},
		{"the walker alone", func(t *Task, p *profile) { p.cut, t.Walking = 0, 1 }},
		{"the walker too", func(t *Task, _ *profile) { t.Walking = 0.1 }},
		{"both kinds and 9 pairs of ends", func(t *Task, p *profile) {
			both(t, p)
			foot, head := t.Foot.Points[0], t.Head.Points[0]
			for i := 1; i < 3; i++ {
				d := unit.Length(float64(i) * 0.1)
				t.Foot.Points = append(t.Foot.Points, Point{foot.Station + d, foot.Level})
				t.Head.Points = append(t.Head.Points, Point{head.Station - d, head.Level})
			}
		}},
	} {
		b.Run(c.name, func(b *testing.B) {
			t := interactive(c.change)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := t.Fit(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("choices", func(b *testing.B) {
		t := interactive(both)
		dear := *t.Site.(*framedProfile)
		p := *dear.profile
		dear.profile = &p
		p.riser, dear.riserOf, dear.foot = 0.05, 0.01, 0.1
		for b.Loop() {
			c, err := Choices(t, []Measured{{"digging", t.Site, 0}, {"cost", &dear, 0}, {"walking", nil, 1}})
			if err != nil {
				b.Fatal(err)
			}
			if b.N == 1 {
				b.Log(fmt.Sprint(len(c), " choices"))
			}
		}
	})
}
