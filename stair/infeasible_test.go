package stair

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// plain is ground straight from (0,0) to the head, bearing everywhere.
func plain(run, rise float64) *profile {
	return &profile{x: []float64{0, run}, y: []float64{0, rise}, cut: 1, fill: 1, maxCut: math.Inf(1), maxRaise: math.Inf(1)}
}

func TestInfeasibleSaysWhatWouldDo(t *testing.T) {
	mm := unit.Millimeter
	basic := Limits{RiserMin: 150 * mm, RiserMax: 200 * mm, TreadMin: 250 * mm, TreadMax: 400 * mm}
	for _, c := range []struct {
		name      string
		run, rise float64
		limits    func(*Limits)
		site      func(*profile)
		field     string
		says      []string
	}{
		{"no riser count", 1.6, 1.0, func(l *Limits) { l.RiserMin, l.RiserMax = 170*mm, 190*mm }, nil, "riser_max",
			[]string{"5 would be 200 mm", "6 166.7 mm", "risers up to 200 mm", "risers down to 166.7 mm"}},
		{"run too short", 2.0, 3.0, nil, nil, "tread_min",
			[]string{"no layout fits: the run of 2.000 m (6 ft 6 3/4 in) is too short for a rise of 3.000 m (9 ft 10 1/8 in); any one", "of 15 to 20 risers, 15 risers of 200 mm (7 7/8 in): they take 3.500 m", "1.500 m (4 ft 11 1/16 in) more run", "treads down to 142.9 mm"}},
		{"run too long without a landing", 9.0, 3.0, nil, nil, "tread_max",
			[]string{"cover 7.600 m", "treads up to 473.7 mm", "a landing, of 914.4 mm"}},
		{"too many risers for a flight", 5.0, 3.0, func(l *Limits) { l.MaxFlightRisers = 12 }, nil, "landing_min",
			[]string{"a flight has at most 12", "flights of up to 15 risers instead of 12"}},
		{"step rule", 5.0, 3.0, func(l *Limits) { l.StepRule = &StepRule{Min: 850 * mm, Max: 900 * mm} }, nil, "step_rule",
			[]string{"the step rule leaves no tread", "two risers and a tread down to 755 mm (2 ft 5 3/4 in) instead of 850 mm"}},
		{"too steep", 5.0, 3.0, func(l *Limits) { l.RiserMin, l.PitchMax = 180*mm, 20*unit.Degree }, nil, "pitch_max",
			[]string{"the pitch of 20° at most wants treads deeper than", "a pitch up to"}},
		{"a hole across the path", 5.0, 3.0, nil, func(p *profile) { p.holes = []hole{{2, 2.1, -9, 9}} }, "site",
			[]string{"no layout fits: whatever their number, the ground somewhere lies too high or too low for the steps; ", "for 100 mm (3 15/16 in) of the path, between stations 2.000 m"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			lim, site := basic, plain(c.run, c.rise)
			if c.limits != nil {
				c.limits(&lim)
			}
			if c.site != nil {
				c.site(site)
			}
			_, err := Fit(Point{}, Point{unit.Length(c.run), unit.Length(c.rise)}, lim, site)
			var f Faults
			if !errors.As(err, &f) || len(f) == 0 {
				t.Fatalf("error %v, want faults", err)
			}
			if f[0].Field != c.field {
				t.Errorf("field %q, want %q", f[0].Field, c.field)
			}
			for _, s := range c.says {
				if !strings.Contains(err.Error(), s) {
					t.Errorf("does not say %q:\n%v", s, err)
				}
			}
			if t.Failed() || testing.Verbose() {
				t.Logf("%v", err)
			}
		})
	}
}

// TestSuggestionsHold: a suggested limit makes a layout possible and one step
// less of it does not.
func TestSuggestionsHold(t *testing.T) {
	mm := unit.Millimeter
	lim := Limits{RiserMin: 150 * mm, RiserMax: 160 * mm, TreadMin: 250 * mm, TreadMax: 300 * mm, LandingMin: 900 * mm, LandingMax: 1000 * mm}
	foot, head := Point{}, Point{8.0, 1.6}
	site := plain(8.0, 1.6)
	fits := func(l Limits) bool { _, err := Fit(foot, head, l, site); return err == nil }
	if fits(lim) {
		t.Fatal("fits already")
	}
	p := problem{foot: foot, head: head, run: 8, rise: 1.6, climb: 1.6, site: site, full: fullUpdates}
	p.bounds = lim.bounds(&Faults{})
	try := trial{problem: &p}
	lo, hi := p.counts()
	got := try.changes(lo, hi)
	if len(got) < 3 {
		t.Errorf("suggestions %v, want at least 3", got)
	}
	for i := range got[1:] {
		if got[i].size > got[i+1].size {
			t.Errorf("suggestions not in order of size: %v", got)
		}
	}
	values := ladder(p.landingMax, 8, p.grid)
	v, _, ok := try.least(values, func(b *bounds, v float64) { b.landingMax = v })
	if !ok {
		t.Fatal("no deeper landing would do")
	}
	lim.LandingMax = unit.Length(v)
	if !fits(lim) {
		t.Errorf("landings up to %v do not do", v)
	}
	lim.LandingMax = unit.Length(v - p.grid)
	if fits(lim) {
		t.Errorf("landings up to %v would do already", lim.LandingMax)
	}
}
