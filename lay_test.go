package slopewright

import (
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/stair"
)

// sitesOf gives the sites of a plan with both kinds of flight by digging, hours,
// cost, and all together.
func sitesOf(t *testing.T, text string) (*maker, []*site) {
	t.Helper()
	p, err := ReadPlan([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	var m maker
	if err := m.read(p); err != nil {
		t.Fatal(err)
	}
	return &m, []*site{m.site(weights{digging: 1}), m.site(weights{hours: 1}), m.site(weights{cost: 1}), m.site(weights{digging: 0.3, cost: 0.02}),
		m.site(weights{digging: 0.3, hours: 0.2, cost: 0.02})}
}

// sitePlans are invented: a slope level across, and a wider path on one that falls
// across, in soil that does not stand steeply.
var sitePlans = []string{
	`{"format":"slopewright.plan/1","units":"metric","path":{"width":"1.2 m"},"steps":{"rules":"own","kinds":["box","framed"]},"ground":{"method":"levels","readings":[
		{"at":"0 m","level":"0 m"},{"at":"2 m","level":"0.9 m"},{"at":"4.4 m","level":"1.2 m"},{"at":"7 m","level":"2.6 m"}]}}`,
	`{"format":"slopewright.plan/1","units":"metric","path":{"width":"1.6 m"},"steps":{"rules":"own","kinds":["box","framed"]},"soil":{"type":"B"},"ground":{"method":"levels","readings":[
		{"at":"0 m","level":"0 m","crossfall":0.1},{"at":"3 m","level":"1.4 m","crossfall":-0.05},{"at":"6 m","level":"1.8 m","crossfall":0.2}]}}`,
}

// TestSiteKeepsItsWord: what a fit leaves out for what a site tells beforehand it
// leaves out rightly.
func TestSiteKeepsItsWord(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	sunk, bounded := 0, 0
	for _, text := range sitePlans {
		m, sites := sitesOf(t, text)
		long := float64(m.head.Station - m.foot.Station)
		line := func() stair.Line {
			return stair.Line{Level: unit.Length(3*r.Float64() - 0.3), Grade: 0.02 * r.Float64()}
		}
		var a, b, c [1]float64
		var ok [1]bool
		for range 4000 {
			x := long * r.Float64()
			at := []unit.Length{unit.Length(x), unit.Length(x + (long-x)*r.Float64())}
			high := line()
			low := high
			low.Level -= unit.Length(0.5 * r.Float64() * r.Float64())
			for i, s := range sites {
				tell := func(k stair.Kind, l stair.Line, c *[1]float64) {
					cells := s.Cells
					if k == stair.Framed {
						cells = s.FramedCells
					}
					cells(at, l, c[:], ok[:])
					told := *c
					if !s.Sunk(k, at, c[:]) {
						t.Fatalf("site %d: %s: nothing is told", i, k)
					}
					if ok[0] && told[0] < c[0]-1e-12 {
						t.Fatalf("site %d: %s at %v, %v: %v, sunk %v", i, k, at, l, told, c)
					}
				}
				sunk++
				for _, k := range []stair.Kind{stair.Box, stair.Framed} {
					tell(k, low, &a)
					tell(k, high, &b)
					if a[0] < b[0]-1e-12 {
						t.Fatalf("site %d: %s at %v, %v: %v, higher up %v", i, k, at, low, a, b)
					}
				}
				if s.PlatformCells(at, low, c[:], ok[:]); c[0] < b[0]-1e-12 {
					t.Fatalf("site %d: a platform at %v, %v: %v, frames higher up %v", i, at, low, c, b)
				}
			}
		}
		for range 4000 {
			x := stair.Shape{Kind: stair.Framed, Risers: 2 + r.IntN(16), Tread: unit.Length(0.22 + 0.2*r.Float64()), Riser: unit.Length(0.1 + 0.1*r.Float64())}
			x.Run = unit.Length(float64(x.Risers-1) * float64(x.Tread))
			x.Rise = unit.Length(float64(x.Risers) * float64(x.Riser))
			for i, s := range sites {
				open, each, known := s.FlightLeast(stair.Framed, x.Tread-unit.Length(0.1*r.Float64()))
				got, fits := s.Flight(x)
				if !known || !fits {
					continue
				}
				bounded++
				if least := open + each*float64(x.Risers-1); got < least-1e-12 || open < 0 || each < 0 {
					t.Fatalf("site %d: a flight of %+v costs %v, said to cost at least %v", i, x, got, least)
				}
			}
		}
	}
	if sunk < 10_000 || bounded < 4_000 {
		t.Errorf("only %d cells and %d flights told beforehand", sunk, bounded)
	}
}

// TestBlendIsTheSum of what it is blended of, of everything a fit asks.
func TestBlendIsTheSum(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	for _, text := range sitePlans {
		m, sites := sitesOf(t, text)
		by := []float64{0.7, 1.3, 0.05}
		parts := []stair.Site{sites[0], sites[1], sites[2]}
		blend := sites[0].Blend(parts, by).(*site)
		check := func(what string, of func(s *site) float64) {
			t.Helper()
			sum := 0.0
			for i := range parts {
				sum += by[i] * of(sites[i])
			}
			if got := of(blend); math.Abs(got-sum) > 1e-9*(1+sum) {
				t.Errorf("%s: blend %v, sum %v", what, got, sum)
			}
		}
		long := float64(m.head.Station - m.foot.Station)
		for range 300 {
			x := long * r.Float64()
			at := []unit.Length{unit.Length(x), unit.Length(x + (long-x)*r.Float64())}
			line := stair.Line{Level: unit.Length(3*r.Float64() - 0.3)}
			cells := func(f func(*site) func([]unit.Length, stair.Line, []float64, []bool)) func(*site) float64 {
				return func(s *site) float64 {
					var c [1]float64
					var ok [1]bool
					f(s)(at, line, c[:], ok[:])
					if !ok[0] {
						return 0
					}
					return c[0]
				}
			}
			check("boxes", cells(func(s *site) func([]unit.Length, stair.Line, []float64, []bool) { return s.Cells }))
			check("frames", cells(func(s *site) func([]unit.Length, stair.Line, []float64, []bool) { return s.FramedCells }))
			check("platforms", cells(func(s *site) func([]unit.Length, stair.Line, []float64, []bool) { return s.PlatformCells }))
			rise := unit.Length(0.1 + 0.1*r.Float64())
			check("riser", func(s *site) float64 { return s.Riser(rise) })
			check("framed riser", func(s *site) float64 { return s.FramedRiser(rise) })
			check("platform", func(s *site) float64 { c, _ := s.Platform(); return c })
			shape := stair.Shape{Kind: stair.Framed, Risers: 2 + r.IntN(12), Tread: 0.28, Riser: rise}
			check("flight", func(s *site) float64 { c, _ := s.Flight(shape); return c })
		}
		_, others := sitesOf(t, text)
		if sites[0].Blend([]stair.Site{sites[0], others[1]}, []float64{1, 1}) != nil {
			t.Error("sites of two plans are blended")
		}
	}
}

// TestFewestRisers: the garden rules warn of flights of two risers, which a fit
// gives only where it is told so or nothing else fits; it says so then.
func TestFewestRisers(t *testing.T) {
	plan := func(landing string) Result {
		return handMadeFrom(t, `{"format":"slopewright.plan/1","units":"metric","path":{"width":"1.2 m"},"steps":{"landing":`+landing+`},
			"ground":{"method":"levels","readings":[{"at":"0 m","level":"0 m"},{"at":"1 m","level":"0.32 m"},{"at":"2.6 m","level":"0.36 m"},
			{"at":"3.6 m","level":"0.68 m"},{"at":"5.2 m","level":"0.72 m"},{"at":"6.4 m","level":"1.2 m"}]}}`)
	}
	fewest := func(r Result) int {
		least := 1000
		for _, f := range r.Layout.Flights {
			least = min(least, f.Risers)
		}
		return least
	}
	two, free, three := plan(`{"fewest":2}`), plan(`{}`), plan(`{"fewest":3}`)
	if fewest(two) != 2 || fewest(free) != 3 || fewest(three) != 3 || free.Layout.Flights[0] != three.Layout.Flights[0] {
		t.Errorf("two risers allowed: flights of %d at least; three asked for: %d; unsaid: %d", fewest(two), fewest(three), fewest(free))
	}
	low := handMadeFrom(t, `{"format":"slopewright.plan/1","units":"metric","path":{"width":"1.25 m"},"ground":{"method":"total","rise":"0.3 m","run":"0.35 m"}}`)
	said := false
	for _, f := range low.Findings {
		said = said || f.Rule == "GROUP-3" && strings.Contains(f.Says, "Nothing fits with as many")
	}
	if low.Layout.Risers != 2 || !said {
		t.Errorf("a path of two risers: %d, not said that nothing else fits", low.Layout.Risers)
	}
}

// TestPlatformsHold: a fit gives no platform deeper than its joists, beams and
// footings carry, where one at all is strong enough.
func TestPlatformsHold(t *testing.T) {
	r := handMadeFrom(t, `{"format":"slopewright.plan/1","units":"metric","path":{"width":"1.2 m"},"steps":{"kinds":["framed"]},
		"ground":{"method":"levels","readings":[{"at":"0 m","level":"0 m"},{"at":"3.9 m","level":"2.3 m"},{"at":"7.6 m","level":"2.5 m"},{"at":"11.3 m","level":"4.4 m"}]}}`)
	platforms := 0
	for _, l := range r.Layout.Landings {
		if l.Kind == "framed" {
			platforms++
		}
	}
	if platforms == 0 {
		t.Error("no platform to look at")
	}
	for _, f := range r.Findings {
		if f.Severity == "stop" {
			t.Errorf("%s: %s", f.Rule, f.Says)
		}
	}
}

// TestFitDigsAsReckoned: what a fit counts as dug is what is dug of the layout, but for
// what lies behind the head, which is the same of all: of boxes, frames, both, and
// flights on platforms.
func TestFitDigsAsReckoned(t *testing.T) {
	var differs []float64
	platforms, mixed := 0, 0
	text, err := os.ReadFile("testdata/plans/terrace.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, prefer := range []string{"digging", "hours", "walking"} {
		for _, kinds := range [][]string{{"box"}, {"framed"}, {"box", "framed"}} {
			p, err := ReadPlan(text)
			if err != nil {
				t.Fatal(err)
			}
			p.Steps.Prefer, p.Steps.Kinds = prefer, kinds
			var m maker
			if err := m.read(p); err != nil {
				t.Fatal(err)
			}
			site := m.site(weights{digging: 1})
			if err := m.lay(); err != nil {
				if len(kinds) == 1 && kinds[0] == "box" {
					continue // too steep a bank for boxes alone
				}
				t.Fatal(prefer, kinds, err)
			}
			for _, l := range m.layout.Landings {
				if l.Kind == stair.Framed {
					platforms++
				}
			}
			boxes := 0
			for _, f := range m.layout.Flights {
				if f.Kind == stair.Box {
					boxes++
				}
			}
			if boxes > 0 && boxes < len(m.layout.Flights) {
				mixed++
			}
			counted, bears := stair.Price(m.layout, site)
			if err := m.dig(); err != nil || !bears {
				t.Fatal(prefer, kinds, err, bears)
			}
			dug := 0.0
			for _, s := range m.steps {
				dug += s.CutBank.CubicMeters()
			}
			differs = append(differs, dug-counted)
			t.Logf("%s, %v: counted %.4f, dug %.4f", prefer, kinds, counted, dug)
		}
	}
	for _, d := range differs {
		if math.Abs(d-differs[0]) > 1e-6 {
			t.Errorf("what is dug and what is counted differ by %v", differs)
			break
		}
	}
	if platforms == 0 || mixed == 0 || len(differs) < 6 {
		t.Errorf("%d platforms, %d mixed, %d layouts", platforms, mixed, len(differs))
	}
}
