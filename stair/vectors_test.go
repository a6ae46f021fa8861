package stair

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/martinlindhe/unit"
)

func load(t *testing.T, name string, into any) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "testdata", "stair", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}

// TestPublishedLayouts lays out published stairs: all but one work in the same
// way, a total rise and run into equal risers and treads.
func TestPublishedLayouts(t *testing.T) {
	var rows []struct {
		ID, Source, Unit string
		Rise, Run        float64
		Risers           int
		Riser, Tread     float64
		RiserWithin      float64 `json:"riser_within"`
		StepSum          float64 `json:"step_sum"`
		Pitch            float64
		ThirdRiser       float64 `json:"third_riser"`
		FailsIRC         bool    `json:"fails_irc_tread"`
	}
	load(t, "layouts.json", &rows)
	if len(rows) < 9 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, r := range rows {
		t.Run(r.ID, func(t *testing.T) {
			u := map[string]float64{"in": 0.0254, "mm": 0.001}[r.Unit]
			tread := unit.Length(r.Tread * u)
			l, err := Lay(Point{}, Point{unit.Length(r.Run * u), unit.Length(r.Rise * u)}, 0, []FixedFlight{{Risers: r.Risers, Tread: tread}})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "riser", float64(l.Riser)/u, r.Riser, math.Max(r.RiserWithin, 1e-9))
			near(t, "tread", float64(l.Flights[0].Tread)/u, r.Tread, 1e-9)
			w := l.Walk(0).Flights[0]
			if r.StepSum != 0 {
				near(t, "2R+T", float64(w.StepSum)/u, r.StepSum, 0.0006)
			}
			if r.Pitch != 0 {
				near(t, "pitch", float64(w.Pitch)*180/math.Pi, r.Pitch, 0.0006)
			}
			if r.ThirdRiser != 0 {
				near(t, "top of the third riser", float64(l.Steps[2].Level)/u, r.ThirdRiser, 1e-9)
			}
			s, _ := RuleSetByID("irc-2021")
			if got := broken(s, l, "IRC-TREAD-MIN"); got != r.FailsIRC && r.Unit == "in" {
				t.Errorf("breaks the IRC tread: %v, want %v", got, r.FailsIRC)
			}
		})
	}
}

func broken(s RuleSet, l Layout, rule string) bool {
	return slices.ContainsFunc(s.Check(l, Facts{}), func(f Finding) bool { return f.Rule == rule })
}

// TestStepSumPairs: 2R + T = 26 in makes R 6 of T 14 and R 5.5 of T 15.
// Source: landscape design textbook, Figures 11-6 to 11-9 (S10).
func TestStepSumPairs(t *testing.T) {
	for _, c := range []struct{ r, t float64 }{{6, 14}, {5.5, 15}} {
		l, err := Lay(Point{}, Point{unit.Length(c.t * 0.0254), unit.Length(2 * c.r * 0.0254)}, 0, []FixedFlight{{Risers: 2, Tread: unit.Length(c.t * 0.0254)}})
		if err != nil {
			t.Fatal(err)
		}
		w := l.Walk(26 * unit.Inch).Flights[0]
		near(t, "2R+T", float64(w.StepSum)/0.0254, 26, 1e-9)
		near(t, "off the pace", float64(w.Off), 0, 1e-12)
	}
}

// TestRiserCountsOfCodes: 151 in under the IRC takes 20 risers (19 are 7.947 in
// each); 144 in under the IBC takes 21 to 36 (S11, S12, worked out).
func TestRiserCountsOfCodes(t *testing.T) {
	for _, c := range []struct {
		set    string
		rise   float64
		lo, hi int
	}{{"irc-2021", 151, 20, 38}, {"ibc-2015", 144, 21, 36}} {
		s, _ := RuleSetByID(c.set)
		b := s.Limits().bounds(&Faults{})
		p := problem{climb: c.rise * 0.0254, bounds: b}
		if lo, hi := p.counts(); lo != c.lo || hi != c.hi {
			t.Errorf("%s, %v in: %d to %d risers, want %d to %d", c.set, c.rise, lo, hi, c.lo, c.hi)
		}
	}
}

func TestPublishedPitches(t *testing.T) {
	var v struct {
		Rows []struct{ Riser, Tread, Deg, Min float64 }
	}
	load(t, "pitch.json", &v)
	if len(v.Rows) != 13 {
		t.Fatalf("%d rows", len(v.Rows))
	}
	for _, r := range v.Rows {
		l, err := Lay(Point{}, Point{unit.Length(r.Tread * 0.0254), unit.Length(2 * r.Riser * 0.0254)}, 0, []FixedFlight{{Risers: 2, Tread: unit.Length(r.Tread * 0.0254)}})
		if err != nil {
			t.Fatal(err)
		}
		got := float64(l.Walk(0).Flights[0].Pitch) * 180 / math.Pi
		near(t, "pitch", got*60, r.Deg*60+r.Min, 1)
	}
}

func TestRuleChecks(t *testing.T) {
	var v struct {
		Rows []struct {
			Case         string
			Riser, Tread float64
			Breaks       map[string][]string
		}
	}
	load(t, "rules.json", &v)
	for _, r := range v.Rows {
		l, err := Lay(Point{}, Point{unit.Length(r.Tread * 2e-3), unit.Length(r.Riser * 3e-3)}, 0, []FixedFlight{{Risers: 3, Tread: unit.Length(r.Tread * 1e-3)}})
		if err != nil {
			t.Fatal(err)
		}
		for id, want := range r.Breaks {
			s, ok := RuleSetByID(id)
			if !ok {
				t.Fatalf("no rule set %s", id)
			}
			got := []string{}
			for _, f := range s.Check(l, Facts{}) {
				q := quantityOf(s, f.Rule)
				if f.Actual.Of != "" && (q == RiserHeight || q == TreadDepth || q == StepSum || q == FlightPitch) {
					got = append(got, f.Rule)
				}
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s, %s: breaks %v, want %v", r.Case, id, got, want)
			}
		}
	}
}

func quantityOf(s RuleSet, rule string) Quantity {
	for _, r := range s.Rules {
		if r.ID == rule {
			return r.Quantity
		}
	}
	return ""
}

// TestKnownOptimum fits treads of their own to a profile whose least cost is
// known exactly. Each riser is a flight of its own and the treads are landings;
// the ends, fixed in a fit, are tried at every place.
func TestKnownOptimum(t *testing.T) {
	var v struct {
		Ground [][2]float64
		Rows   []struct {
			Case           int
			A, B, Min, Max float64
			Num, Den       float64
		}
	}
	load(t, "profile.json", &v)
	const u = 0.0254
	for _, r := range v.Rows {
		p := &profile{cut: r.A / (u * u), fill: r.B / (u * u), maxCut: math.Inf(1), maxRaise: math.Inf(1)}
		for _, g := range v.Ground {
			p.x, p.y = append(p.x, g[0]*u), append(p.y, g[1]*u)
		}
		lim := Limits{
			RiserMin: 0.5 * u, RiserMax: 0.5 * u, TreadMin: u, TreadMax: u, Grid: 0.25 * u,
			LandingMin: unit.Length(r.Min * u), LandingMax: unit.Length(r.Max * u), MinFlightRisers: 1, MaxFlightRisers: 1,
		}
		outside := func(a, b, level float64) float64 { // level surface below the foot or above the head
			if b-a < 1e-12 {
				return 0
			}
			cost, ok := [1]float64{}, [1]bool{}
			p.Cells([]unit.Length{unit.Length(a * u), unit.Length(b * u)}, Line{Level: unit.Length(level * u)}, cost[:], ok[:])
			return cost[0]
		}
		best := math.Inf(1)
		for i := 0; i <= 40; i++ {
			for j := i + 1; j <= 40; j++ {
				x1, x6 := 0.25*float64(i), 0.25*float64(j)
				if x6-x1 < 5*r.Min || x6-x1 > 5*r.Max {
					continue
				}
				f, err := Fit(Point{unit.Length(x1 * u), 0}, Point{unit.Length(x6 * u), 3 * u}, lim, p)
				if err != nil {
					t.Fatalf("case %d, %v to %v: %v", r.Case, x1, x6, err)
				}
				if c := f.Cost + outside(0, x1, 0) + outside(x6, 10, 3); c < best {
					best = c
				}
			}
		}
		near(t, "least cost", best, r.Num/r.Den, 1e-7)
	}
}
