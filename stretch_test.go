//go:build !js || whole

package slopewright

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/martinlindhe/unit"
)

// laid is a plan with what was fitted to it as its own layout.
func laid(p Plan, s Sketch) Plan {
	p.Steps.Fixed = nil
	for i, f := range s.Layout.Flights {
		x := Fixed{Kind: f.Kind, Risers: f.Risers}
		if f.Risers > 1 {
			tread := Metres(f.Tread.Meters())
			x.Tread = &tread
		}
		if i < len(s.Layout.Landings) {
			l := s.Layout.Landings[i]
			depth := Metres((l.End - l.Start).Meters())
			x.Landing, x.Platform = &depth, l.Kind == "framed"
		}
		p.Steps.Fixed = append(p.Steps.Fixed, x)
	}
	return p
}

// TestStretched: a fitted layout that is laid again on the ground that it was fitted to
// is the same; with the head elsewhere it reaches there, by as much more in each tread
// and landing, where without being stretched it would not do.
func TestStretched(t *testing.T) {
	ask := func(p Plan, stretch bool) (s Sketch, fault string) {
		t.Helper()
		request, err := json.Marshal(Request{Format: RequestFormat, Op: "sketch", Plan: &p, Stretch: stretch})
		if err != nil {
			t.Fatal(err)
		}
		answer := Call(request)
		if err := json.Unmarshal(answer, &s); err != nil {
			t.Fatal(err)
		}
		if s.Format != SketchFormat {
			fault = string(answer)
		}
		return s, fault
	}
	for _, name := range []string{"gentle", "bench", "steepening", "terrace", "orchard", "first"} {
		t.Run(name, func(t *testing.T) {
			p, _, _ := readDemo(t, "testdata/plans/"+name+".json")
			fitted, fault := ask(p, false)
			if fault != "" {
				t.Fatal(fault)
			}
			p = laid(p, fitted)
			if p.Path.Foot.Slack != nil || p.Path.Head.Slack != nil {
				foot, head := Metres(fitted.Ground.Datum.Station.Meters()), Metres((fitted.Ground.Datum.Station + fitted.Layout.Run).Meters())
				p.Steps.FixedFoot, p.Steps.FixedHead = &foot, &head
			}
			again, fault := ask(p, true)
			if fault != "" {
				t.Fatal(fault)
			}
			again.Layout.Fitted = true
			if d := cmp.Diff(fitted.Layout, again.Layout, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })); d != "" {
				t.Errorf("laid again it is another layout (-fitted +laid):\n%s", d)
			}
			if a, b := fitted.Dig.CutBank, again.Dig.CutBank; math.Abs(float64(a-b)) > 1e-9 {
				t.Errorf("laid again it digs %v m³, fitted %v", b, a)
			}

			by := 0.2 * unit.Meter // nearer
			at := Metres((fitted.Ground.Datum.Station + fitted.Layout.Run - by).Meters())
			p.Path.Head.At, p.Path.Head.Slack, p.Steps.FixedHead = &at, nil, nil
			if _, fault := ask(p, false); !strings.Contains(fault, "steps.fixed") {
				t.Errorf("what does not reach the head passes: %.200s", fault)
			}
			nearer, fault := ask(p, true)
			if fault != "" {
				t.Fatal(fault)
			}
			l, m := fitted.Layout, nearer.Layout
			if math.Abs(float64(m.Run-(l.Run-by))) > 1e-9 || m.Risers != l.Risers {
				t.Errorf("%d risers over %v m of %d over %v", m.Risers, m.Run, l.Risers, l.Run)
			}
			for i, f := range m.Flights {
				if want := l.Flights[i].Tread * m.Run / l.Run; math.Abs(float64(f.Tread-want)) > 1e-9 {
					t.Errorf("flight %d: treads of %v m, not %v", i, f.Tread, want)
				}
			}
		})
	}
}

// Flights of one's own that miss ends which may move are told how these would have to
// lie, and lie well there; where they may not move so far, that they do not.
func TestOwnLayoutWithFreeEnds(t *testing.T) {
	missing = func(text string) { t.Errorf("no Spanish for %q", text) }
	defer func() { missing = nil }()
	const doc = `{"format": "slopewright.plan/1", "units": "imperial", "ground": {"method": "levels", "readings": [
		{"at": "-2 ft", "level": "-1 ft"}, {"at": "4 ft", "level": "1 ft"}, {"at": "10 ft", "level": "4 ft"}, {"at": "14 ft", "level": "4 ft 6 in"}]},
		"path": {"width": "4 ft", "foot": {"at": "1 ft", "slack": "SLACK"}, "head": {"at": "13 ft", "slack": "SLACK"}},
		"steps": {"fixed": [{"risers": 4, "tread": "14 in", "landing": "4 ft"}, {"risers": 4, "tread": "14 in"}]}}`
	for slack, want := range map[string]string{
		"7 in": "fills the run of 12 ft 0 in (3.658 m), or put the ends where the flights reach: steps.fixed_foot 1 ft 5 in and steps.fixed_head 12 ft 5 in",
		"5 in": "fills the run of 12 ft 0 in (3.658 m); slack counts once steps.fixed_foot and steps.fixed_head say where the ends lie, and is too little",
		"0 in": "fills the run of 12 ft 0 in (3.658 m)",
	} {
		_, faults := answer(t, []byte(strings.ReplaceAll(doc, "SLACK", slack)))
		if len(faults) != 1 || !strings.HasSuffix(faults[0].Fix, want) {
			t.Errorf("%s: %v", slack, faults)
		}
		Language("es").Faults(faults)
	}
	put := strings.Replace(strings.ReplaceAll(doc, "SLACK", "7 in"), `"fixed":`, `"fixed_foot": "1 ft 5 in", "fixed_head": "12 ft 5 in", "fixed":`, 1)
	if _, faults := answer(t, []byte(put)); len(faults) > 0 {
		t.Error(faults)
	}
}
