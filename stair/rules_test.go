package stair

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// sample is a layout and facts in which one quantity has one value; ok is false
// where that can't be.
func sample(t *testing.T, q Quantity, v float64) (Layout, Facts) {
	t.Helper()
	riser, tread, risers, landing, wash := 0.15, 0.30, 3, 1.2, 0.0
	var f Facts
	switch q {
	case RiserHeight:
		riser = v
	case TreadDepth, NosingAt:
		tread = v
	case StepSum:
		tread = v - 2*riser
	case FlightPitch:
		riser = tread * math.Tan(v)
	case FlightRise:
		riser = v / float64(risers)
	case FlightRisers, HandrailAt:
		risers = int(math.Round(v))
	case LandingDepth:
		landing = v
	case LandingAsWide:
		landing, f.Width = v, 1.5
	case EndLanding:
		f.FootLanding, f.HeadLanding = unit.Length(v), 9
	case TreadWash:
		wash = v
	case PathWidth:
		f.Width = unit.Length(v)
	case GuardAt:
		f.Drop = unit.Length(v)
	case PathSlope:
		riser = v * (float64(2*(risers-1))*tread + landing) / float64(2*risers)
	}
	run := float64(2*(risers-1))*tread + landing
	rise := float64(2*risers)*riser + wash*run
	l, err := Lay(Point{}, Point{unit.Length(run), unit.Length(rise)}, wash, []FixedFlight{
		{Risers: risers, Tread: unit.Length(tread), Landing: unit.Length(landing)},
		{Risers: risers, Tread: unit.Length(tread)},
	})
	if err != nil {
		t.Fatalf("%s %v: %v", q, v, err)
	}
	return l, f
}

// TestEveryRuleOnBothSides puts the quantity of every rule on its limit, a hair
// inside and a hair outside.
func TestEveryRuleOnBothSides(t *testing.T) {
	checked := 0
	for _, s := range RuleSets() {
		for _, r := range s.Rules {
			found := func(v float64) bool {
				l, f := sample(t, r.Quantity, v)
				return slices.ContainsFunc(s.Check(l, f), func(g Finding) bool { return g.Rule == r.ID && g.Actual.Of != "" })
			}
			try := func(limit, hair float64, up bool) { // up: what is above is found
				if !up {
					hair = -hair
				}
				on := r.Op == From
				if got := found(limit); got != on {
					t.Errorf("%s %s: at the limit %v found %v, want %v", s.ID, r.ID, limit, got, on)
				}
				if in := limit - hair; in >= 0 && found(in) {
					t.Errorf("%s %s: %v found, inside the limit %v", s.ID, r.ID, in, limit)
				}
				if out := limit + hair; out >= 0 && !found(out) {
					t.Errorf("%s %s: %v not found, outside the limit %v", s.ID, r.ID, out, limit)
				}
				checked++
			}
			hair := 1e-6
			lo, hi := r.Min, r.Max
			if r.Quantity == LandingAsWide {
				lo, hi = length(asWide(r, 1.5)), Amount{}
			}
			if lo.Of == OfCount || hi.Of == OfCount {
				hair = 1
			}
			if lo.Of != "" && (lo.Of != OfCount || lo.Count > 1) {
				try(lo.SI(), hair, r.Op == From || r.Op == Over)
			}
			if hi.Of != "" {
				try(hi.SI(), hair, true)
			}
		}
	}
	if checked < 50 {
		t.Errorf("only %d limits checked", checked)
	}
}

// TestRuleSetsAreComplete: every figure says where it is from, no ID is used
// twice, and nothing claims to be legal.
func TestRuleSetsAreComplete(t *testing.T) {
	sets := map[string]bool{}
	ids := map[string]bool{}
	for _, s := range RuleSets() {
		if sets[s.ID] || s.ID == "" || s.Name == "" || s.Applies == "" {
			t.Errorf("rule set %q: twice, or without a name or what it applies to", s.ID)
		}
		sets[s.ID] = true
		for _, r := range s.Rules {
			if ids[r.ID] || r.ID == "" {
				t.Errorf("%s: rule %q is there twice", s.ID, r.ID)
			}
			ids[r.ID] = true
			if r.Clause == "" || r.Source == "" || (r.Edition == "" && r.Source != "common practice") {
				t.Errorf("%s %s: no clause, edition or source", s.ID, r.ID)
			}
			if r.Severity != Stop && r.Severity != Warn && r.Severity != Note {
				t.Errorf("%s %s: severity %q", s.ID, r.ID, r.Severity)
			}
			if (r.Op == AtMost || r.Op == Within) != (r.Max.Of != "") && r.Quantity != LandingAsWide {
				t.Errorf("%s %s: %s and maximum %v", s.ID, r.ID, r.Op, r.Max)
			}
			if r.Quantity == HandrailAt && r.Sides == 0 {
				t.Errorf("%s %s: a handrail on no side", s.ID, r.ID)
			}
		}
		l, _ := sample(t, RiserHeight, 0.3)
		for _, f := range s.Check(l, Facts{}) {
			if strings.Contains(strings.ToLower(f.Says), "legal") || f.Says == "" || f.Source == "" {
				t.Errorf("%s %s says %q", s.ID, f.Rule, f.Says)
			}
		}
	}
	for _, id := range []string{"trail-timber", "countryside", "garden", "irc-2021", "adk-private", "ncc-private", "own"} {
		if _, ok := RuleSetByID(id); !ok {
			t.Errorf("no rule set %s", id)
		}
	}
}

// TestHandrailAndGuard: with three risers the IRC asks for no handrail, with
// four it does; at a drop of 30 in for no guard, at 30.1 in for one; AD K asks
// for one at 25 in, 635 mm.
func TestHandrailAndGuard(t *testing.T) {
	irc, _ := RuleSetByID("irc-2021")
	adk, _ := RuleSetByID("adk-private")
	has := func(s RuleSet, risers float64, f Facts, rule string) bool {
		l, _ := sample(t, FlightRisers, risers)
		return slices.ContainsFunc(s.Check(l, f), func(g Finding) bool { return g.Rule == rule })
	}
	for _, c := range []struct {
		name   string
		s      RuleSet
		risers float64
		f      Facts
		rule   string
		want   bool
	}{
		{"3 risers", irc, 3, Facts{}, "IRC-HR", false},
		{"4 risers", irc, 4, Facts{}, "IRC-HR", true},
		{"4 risers with a handrail", irc, 4, Facts{Handrails: 1}, "IRC-HR", false},
		{"25 in", irc, 3, Facts{Drop: 25 * unit.Inch}, "IRC-GUARD", false},
		{"30 in", irc, 3, Facts{Drop: 30 * unit.Inch}, "IRC-GUARD", false},
		{"30.1 in", irc, 3, Facts{Drop: 30.1 * unit.Inch}, "IRC-GUARD", true},
		{"30.1 in with a guard", irc, 3, Facts{Drop: 30.1 * unit.Inch, Guard: true}, "IRC-GUARD", false},
		{"25 in, AD K", adk, 3, Facts{Drop: 25 * unit.Inch}, "UKK-GUARD", true},
	} {
		if got := has(c.s, c.risers, c.f, c.rule); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestFitsKeepTheirRules: what is fitted within the limits of a rule set has no
// finding that stops it.
func TestFitsKeepTheirRules(t *testing.T) {
	fits := map[string]int{}
	for _, s := range RuleSets() {
		for seed := uint64(0); seed < 12; seed++ {
			r := rand.New(rand.NewPCG(seed, 3))
			run := 3 + 6*r.Float64()
			rise := run * (0.2 + 0.3*r.Float64())
			f := Facts{Width: 1.3, FootLanding: 1.5, HeadLanding: 1.5}
			lim := s.LimitsFor(f)
			fit, err := Fit(Point{}, Point{unit.Length(run), unit.Length(rise)}, lim, randomProfile(r, run, rise, 0.1))
			if err != nil {
				continue
			}
			fits[s.ID]++
			for _, g := range s.Check(fit.Layout, f) {
				if g.Severity == Stop {
					t.Errorf("%s, seed %d: %s: %s", s.ID, seed, g.Rule, g.Says)
				}
			}
		}
		if fits[s.ID] < 3 {
			t.Errorf("%s: only %d fits", s.ID, fits[s.ID])
		}
	}
}
