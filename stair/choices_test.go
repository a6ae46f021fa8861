package stair

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// measuresOf are three measures of a small task: its own, earth and timber at
// other prices, and the walker.
func measuresOf(task Task) []Measured {
	own := task.Site.(*framedProfile)
	q := *own.profile
	other := *own
	other.profile = &q
	q.cut, q.fill, q.riser = own.cut*0.3, own.fill*2, own.riser*5
	other.riserOf, other.foot, other.dig, other.boxFlight = own.riserOf*3, own.foot*0.2, own.dig*2, own.boxFlight*2
	return []Measured{{"own", own, 0}, {"other", &other, 0}, {"walking", nil, 1}}
}

// TestChoicesEqualExhaustiveSearch: the bests and the weighted bests among the
// choices are those that trying everything finds, and none beats another.
func TestChoicesEqualExhaustiveSearch(t *testing.T) {
	sites, several, most := 0, 0, 0
	for seed := uint64(0); seed < 500 && sites < 120; seed++ {
		task := smallTask(rand.New(rand.NewPCG(seed, 9)))
		if task.Pace == 0 {
			task.Pace = 0.1
		}
		measures := measuresOf(task)
		got, err := Choices(task, measures)
		if err != nil {
			continue
		}
		sites++
		again, _ := Choices(task, measures)
		if !reflect.DeepEqual(got, again) {
			t.Errorf("seed %d: two answers", seed)
		}
		if len(got) > 1 {
			several++
		}
		most = max(most, len(got))
		if len(got) > maxChoices {
			t.Errorf("seed %d: %d choices", seed, len(got))
		}
		one := task
		one.Walking = 0
		for i, m := range measures {
			one.Site, one.Walking = m.Site, m.Walking
			if m.Site == nil {
				w := &weighted{}
				w.add(task.Site, 0)
				one.Site = w
			}
			want, _, _ := tryAll(one)
			least := math.Inf(1)
			for _, c := range got {
				least = math.Min(least, c.Values[i])
				// As good is what is within 1e-7; costs are sums of rounded ones.
				d, is := math.Abs(c.Values[i]-float64(want.cost)*1e-9), slices.Contains(c.BestFor, m.Name)
				if is && d > 1.3e-7 || !is && d < 0.7e-7 {
					t.Errorf("seed %d: %v is best for %v; the least of %s is %v", seed, c.Values, c.BestFor, m.Name, float64(want.cost)*1e-9)
				}
			}
			if math.Abs(least-float64(want.cost)*1e-9) > 1.3e-7 {
				t.Errorf("seed %d: the least of %s is %v, want %v", seed, m.Name, least, float64(want.cost)*1e-9)
			}
		}
		for i, a := range got {
			for j, b := range got {
				worse, better := false, false
				for k := range measures {
					worse = worse || a.Values[k] > b.Values[k]+0.7e-7
					better = better || a.Values[k] < b.Values[k]-1.3e-7
				}
				if i != j && better && !worse {
					t.Errorf("seed %d: %v beats %v", seed, a.Values, b.Values)
				}
			}
			if err := a.Layout.Validate(); err != nil {
				t.Errorf("seed %d: %v", seed, err)
			}
		}
	}
	t.Logf("%d sites, %d with several choices, up to %d", sites, several, most)
	if sites < 100 || several < 50 || most < 4 {
		t.Error("the sites are too alike")
	}
}

// TestThinning: of many choices the bests are kept, and seven in all.
func TestThinning(t *testing.T) {
	c := chooser{measures: []Measured{{Name: "a"}, {Name: "b"}}, scale: make([]float64, 2)}
	for i := range 12 { // a convex curve
		x := float64(i)
		c.found = append(c.found, Choice{Values: []float64{x, (11 - x) * (11 - x)}})
	}
	c.found = append(c.found, Choice{Values: []float64{5, 200}}) // beaten
	c.ranges()
	got := c.choices()
	if len(got) != maxChoices {
		t.Fatalf("%d choices, want %d", len(got), maxChoices)
	}
	if got[0].Values[0] != 0 || !slices.Equal(got[0].BestFor, []string{"a"}) || got[6].Values[1] != 0 || !slices.Equal(got[6].BestFor, []string{"b"}) {
		t.Errorf("the bests are not kept: %v", got)
	}
	for _, x := range got {
		if x.Values[1] == 200 {
			t.Error("a beaten one is kept")
		}
	}
}

func TestChoicesFaults(t *testing.T) {
	task := Task{Foot: End{[]Point{{}}}, Head: End{[]Point{{4, 2}}}, Limits: Limits{RiserMin: 0.15, RiserMax: 0.2, TreadMin: 0.25, TreadMax: 0.5, LandingMin: 0.9}}
	site := plain(4, 2)
	for _, m := range [][]Measured{nil, {{}}, {{"w", nil, 1}}, {{"w", site, -1}}, {{"w", site, math.NaN()}}, make([]Measured, 8)} {
		_, err := Choices(task, m)
		var f Faults
		if !errors.As(err, &f) {
			t.Errorf("%v: %v", m, err)
		}
	}
	task.Limits.Kinds = []Kind{Framed}
	if _, err := Choices(task, []Measured{{"x", site, 0}}); err == nil {
		t.Error("framed flights on a site that prices none")
	}
}

// TestInfeasibleNewLimits: the limits of kinds, courses and bends are named, and
// what would do.
func TestInfeasibleNewLimits(t *testing.T) {
	mm := unit.Millimeter
	basic := Limits{RiserMin: 150 * mm, RiserMax: 200 * mm, TreadMin: 250 * mm, TreadMax: 400 * mm, LandingMin: 900 * mm}
	site := func() *framedProfile {
		return &framedProfile{profile: plain(5, 3), deepest: math.Inf(1), deck: 0, span: 1, reach: 100}
	}
	for _, c := range []struct {
		name string
		task func(*Limits, *framedProfile)
		says []string
	}{
		{"a gully", func(_ *Limits, s *framedProfile) { s.holes = []hole{{2, 2.6, -9, 9}} }, []string{"what comes nearest is", "a framed flight (makes"}},
		{"framed only, and too long", func(l *Limits, s *framedProfile) {
			l.Kinds, l.Framed = []Kind{Framed}, &FramedLimits{MaxFlightRisers: 8}
			l.LandingMin = 0
		}, []string{"a flight has at most 8 of them and there are no landings", "a flight of box steps", "framed flights of up to 15 risers instead of 8"}},
		{"courses", func(l *Limits, _ *framedProfile) {
			l.Courses = &Courses{Height: 140 * mm, MaxBedding: 5 * mm, MaxBuried: 10 * mm}
		}, []string{"courses: no layout fits", "2 courses of 140 mm", "would be buried by 80 mm", "at most 10 mm", "bedding of up to", "a framed flight"}},
		{"a tight bend", func(l *Limits, _ *framedProfile) {
			l.LandingMax = 1000 * mm
			l.Bends = []Bend{{From: 0, To: 5, Radius: 2, Width: 1.5, MinInner: 0.26}}
		}, []string{"wedge treads on the bend at 0 mm", "shallower by"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			lim, s := basic, site()
			c.task(&lim, s)
			_, err := Task{Foot: End{[]Point{{}}}, Head: End{[]Point{{5, 3}}}, Limits: lim, Site: s}.Fit()
			if err == nil {
				t.Fatal("fits")
			}
			for _, x := range c.says {
				if !strings.Contains(err.Error(), x) {
					t.Errorf("does not say %q:\n%v", x, err)
				}
			}
		})
	}
}
