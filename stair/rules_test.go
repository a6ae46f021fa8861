package stair

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// sample is a layout and facts for which a rule holds, and in which its
// quantity has one value.
func sample(t *testing.T, r Rule, v float64) (Layout, Facts) {
	t.Helper()
	riser, tread, risers, more, landing, wash := 0.15, 0.30, 3, 0, 1.2, 0.0
	f := Facts{AttachedTo: Building}
	if w := r.When; w != nil {
		switch {
		case w.TreadUnder != 0:
			tread = float64(w.TreadUnder) - 0.001
		case w.TreadFrom != 0:
			tread = float64(w.TreadFrom)
		}
		f.Width, f.OpenRisers = w.WidthFrom, w.Faces == Open
		if w.DropOver != 0 {
			f.Drop = w.DropOver + 0.001
		}
	}
	wedge := func(riser int, onWalkline float64) Wedge { // 1.2 m wide, a fifth deeper for each metre outwards
		at := 0.6
		if r.Walkline != nil {
			at = float64(r.Walkline.Offset)
		}
		return Wedge{Riser: riser, Inner: unit.Length(onWalkline - at/5), Outer: unit.Length(onWalkline + (1.2-at)/5), Width: 1.2}
	}
	switch r.Quantity {
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
	case FlightRisers, HandrailAt, GuardRisers:
		risers = int(math.Round(v))
	case EqualFlights:
		more = int(math.Round(v))
	case PathRisers:
		risers = int(math.Round(v)) / 2
		more = int(math.Round(v)) % 2
	case LandingDepth:
		landing = v
	case LandingAsWide:
		landing, f.Width = v, 1.5
	case LandingBreadth:
		f.LandingBreadth, f.Width = unit.Length(v), 1.5
	case EndLanding:
		f.FootLanding, f.HeadLanding = unit.Length(v), 9
	case EndSlope:
		f.EndSlope = &v
	case TreadWash, LandingWash, Drainage:
		wash = v
	case Outslope:
		v = -v // to the other side
		f.Outslope = &v
	case PathWidth:
		f.Width = unit.Length(v)
	case PathHeadroom:
		f.Headroom = unit.Length(v)
	case RailWidth:
		f.RailWidth, f.Handrails = unit.Length(v), r.Sides
	case GuardAt:
		f.Drop = unit.Length(v)
	case NosingDepth:
		f.Nosing = unit.Length(v)
	case OpenRiserCount:
		if f.OpenRisers = v > 0; f.OpenRisers {
			risers = int(math.Round(v))
		}
	case RiserGap:
		f.OpenRisers, f.RiserGap = true, unit.Length(v)
	case RiserSpread, RiserAdjacent:
		f.BuiltRisers = []unit.Length{0, unit.Length(riser + v)}
	case TreadSpread, TreadAdjacent:
		f.BuiltTreads = []unit.Length{0, unit.Length(tread - v)}
	case WedgeWalkline, WedgeStraight:
		f.Wedges = []Wedge{wedge(2, v)}
	case WedgeNarrow:
		f.Wedges = []Wedge{{Riser: 2, Inner: unit.Length(v + 0.2), Outer: unit.Length(v), Width: 1.2}}
	case WedgeSpread:
		f.Wedges = []Wedge{wedge(1, 0.3+v), wedge(2, 0.3)}
	case PathSlope:
		riser = v * (float64(2*(risers-1))*tread + landing) / float64(2*risers)
	default:
		t.Fatalf("no sample of %s", r.Quantity)
	}
	run := float64(2*(risers-1)+more)*tread + landing
	rise := float64(2*risers+more)*riser + wash*run
	l, err := Lay(Point{}, Point{unit.Length(run), unit.Length(rise)}, wash, []FixedFlight{
		{Risers: risers, Tread: unit.Length(tread), Landing: unit.Length(landing)},
		{Risers: risers + more, Tread: unit.Length(tread)},
	})
	if err != nil {
		t.Fatalf("%s %v: %v", r.ID, v, err)
	}
	return l, f
}

// TestEveryRuleOnBothSides puts the quantity of every rule on its limit, a hair
// inside and a hair outside, and looks for the finding with its limit, the
// actual figure and a place.
func TestEveryRuleOnBothSides(t *testing.T) {
	checked := map[string]int{}
	for _, s := range RuleSets() {
		for _, r := range s.Rules {
			if r.Quantity == Scope {
				continue
			}
			found := func(v, limit float64) bool {
				l, f := sample(t, r, v)
				for _, g := range s.Check(l, f) {
					if g.Rule != r.ID || g.Actual.Of == "" {
						continue
					}
					if math.Abs(g.Actual.SI()-v) > 1e-9 || math.Abs(g.Limit.SI()-limit) > 1e-9 || g.Where == "" || g.Says == "" || g.Severity != r.Severity {
						t.Errorf("%s %s at %v: %+v", s.ID, r.ID, v, g)
					}
					return true
				}
				return false
			}
			try := func(limit, hair float64, up bool) { // up: what is above is found
				if !up {
					hair = -hair
				}
				on := r.Op == From || r.Op == MoreThan || r.Op == LessThan
				if got := found(limit, limit); got != on {
					t.Errorf("%s %s: at the limit %v found %v, want %v", s.ID, r.ID, limit, got, on)
				}
				if in := limit - hair; in >= 0 && found(in, limit) {
					t.Errorf("%s %s: %v found, inside the limit %v", s.ID, r.ID, in, limit)
				}
				if out := limit + hair; out >= 0 && !found(out, limit) {
					t.Errorf("%s %s: %v not found, outside the limit %v", s.ID, r.ID, out, limit)
				}
				checked[r.ID]++
			}
			hair := 1e-6
			lo, hi := r.Min, r.Max
			switch r.Quantity {
			case LandingAsWide:
				lo, hi = length(asWide(r, 1.5)), Amount{}
			case LandingBreadth:
				lo = length(1.5)
			case WedgeStraight:
				lo = length(0.3)
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
			if checked[r.ID] == 0 && lo.Count != 1 {
				t.Errorf("%s %s is not checked", s.ID, r.ID)
			}
		}
	}
	if len(checked) < 200 {
		t.Errorf("only %d rules checked", len(checked))
	}
}

// TestRuleSetsAreComplete: every figure says where it is from, no ID is used
// twice, and nothing claims to be legal.
func TestRuleSetsAreComplete(t *testing.T) {
	sets := map[string]bool{}
	ids := map[string]bool{}
	for _, s := range RuleSets() {
		if sets[s.ID] || s.ID == "" || s.Name == "" || s.Applies == "" || s.Kind == "" {
			t.Errorf("rule set %q: twice, or without a name or what it applies to", s.ID)
		}
		sets[s.ID] = true
		if got := len(s.Of(Scope)); got != map[SetKind]int{Code: 1}[s.Kind] {
			t.Errorf("%s, %s: says %d times what it binds", s.ID, s.Kind, got)
		}
		for _, r := range s.Rules {
			if ids[r.ID] || r.ID == "" {
				t.Errorf("%s: rule %q is there twice", s.ID, r.ID)
			}
			ids[r.ID] = true
			if r.Clause == "" || r.Source == "" || r.Edition == "" && r.Source != "common practice" {
				t.Errorf("%s %s: no clause, edition or source", s.ID, r.ID)
			}
			if (r.Quantity == Scope) != (r.Op == Binds || r.Op == BindsAll) || r.Quantity == Scope && (r.Severity != Note || r.Text == "") {
				t.Errorf("%s %s: a scope of %s, %s", s.ID, r.ID, r.Op, r.Severity)
			}
			if r.Severity != Stop && r.Severity != Warn && r.Severity != Note {
				t.Errorf("%s %s: severity %q", s.ID, r.ID, r.Severity)
			}
			if (r.Op == AtMost || r.Op == Within || r.Op == LessThan) != (r.Max.Of != "") && r.Quantity != LandingAsWide {
				t.Errorf("%s %s: %s and maximum %v", s.ID, r.ID, r.Op, r.Max)
			}
			if r.Quantity == HandrailAt && r.Sides == 0 {
				t.Errorf("%s %s: a handrail on no side", s.ID, r.ID)
			}
		}
		l, _ := sample(t, Rule{Quantity: RiserHeight}, 0.3)
		for _, f := range s.Check(l, Facts{}) {
			if strings.Contains(strings.ToLower(f.Says), "legal") || f.Says == "" || f.Source == "" {
				t.Errorf("%s %s says %q", s.ID, f.Rule, f.Says)
			}
		}
	}
	for _, id := range []string{"trail-timber", "countryside", "garden", "irc-2021", "irc-2024", "ibc-2015", "ada-504",
		"adk-private", "adk-utility", "adk-general", "adm-dwelling", "adm-other", "ncc-private", "ncc-public", "ca-private", "ca-public",
		"nz-accessible", "nz-main", "nz-secondary", "nz-minor", "trail-us", "own"} {
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
		l, _ := sample(t, Rule{Quantity: FlightRisers}, risers)
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
	t.Parallel()
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
