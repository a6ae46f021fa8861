package slopewright

import (
	"math"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

func itemOf(t *testing.T, r Result, id string) TakeoffItem {
	t.Helper()
	for _, i := range r.Takeoff {
		if i.Item == id {
			return i
		}
	}
	t.Errorf("the take-off has no %s", id)
	return TakeoffItem{}
}

func hasItem(r Result, id string) bool {
	for _, i := range r.Takeoff {
		if i.Item == id {
			return true
		}
	}
	return false
}

// A plan of its own layout, so that the counts can be made by hand: 4 box risers
// on 3 treads of 800 mm and one landing of 2 m, 1.2 m wide, of 100x200 timbers.
const handPlan = `{"format": "slopewright.plan/1", "units": "metric",
  "ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "1.6 m", "level": "0.36 m"}, {"at": "3.6 m", "level": "0.5 m"}, {"at": "4.4 m", "level": "0.72 m"}]},
  "path": {"width": "1.2 m"},
  "steps": {"rules": "own", "wash": 0, "max_cut": "3 m", "max_raise": "1 m", "fixed": [{"risers": 3, "tread": "0.8 m", "landing": "2 m"}, {"risers": 2, "tread": "0.8 m"}]},
  "stock": [{"section": "100x200", "length": "3 m", "price": "30.00"}]BUILD}`

func handMade(t *testing.T, build string) Result {
	t.Helper()
	if build != "" {
		build = `, "build": ` + build
	}
	return handMadeFrom(t, strings.Replace(handPlan, "BUILD", build, 1))
}

// The bottom step's footing: counted, dug below its trench, and time reckoned.
func TestFootingOfTheBottomStep(t *testing.T) {
	plain := handMade(t, `{}`)
	for _, x := range []struct {
		build      string
		item       string
		count      int
		hole, base float64 // m³ dug beside the trench, m³ of base gravel less
	}{
		// 2 piers 200 mm across: 1.2 m less 0.15 m at both ends is one space of at most 1.2 m.
		{`{"footing": {"kind": "piers", "depth": "700 mm"}}`, "pier-bracket", 2, 2 * math.Pi / 4 * 0.2 * 0.2 * 0.6, 2 * math.Pi / 4 * 0.2 * 0.2 * 0.1},
		{`{"footing": {"kind": "concrete", "width": "300 mm", "depth": "250 mm"}}`, "anchor-bolt", 2, 1.2 * 0.3 * 0.15, 1.2 * 0.3 * 0.1},
		{`{"footing": {"kind": "buried", "courses": 2}}`, "foot-timber", 2, 1.2 * 0.2 * 0.2, 0},
	} {
		r := handMade(t, x.build)
		if i := itemOf(t, r, x.item); i.Count != x.count {
			t.Errorf("%s: %d %s, want %d", x.build, i.Count, x.item, x.count)
		}
		dug := (r.Dig.CutBank - plain.Dig.CutBank).CubicMeters()
		if math.Abs(dug-x.hole) > 1e-9 || math.Abs(r.Dig.FootingBank.CubicMeters()-x.hole) > 1e-9 || math.Abs((r.Dig.Steps[0].CutBank-plain.Dig.Steps[0].CutBank).CubicMeters()-x.hole) > 1e-9 {
			t.Errorf("%s: %v m³ more are dug, of it footing %v, want %v", x.build, dug, r.Dig.FootingBank, x.hole)
		}
		less := (*itemOf(t, plain, "base-gravel").Volume - *itemOf(t, r, "base-gravel").Volume).CubicMeters()
		if less < x.base-1e-9 {
			t.Errorf("%s: %v m³ less base gravel, want %v or more", x.build, less, x.base)
		}
		timed := false
		for _, a := range r.Hours.Work {
			timed = timed || a.Name == "footing of the bottom step"
		}
		if !timed {
			t.Errorf("%s: no time for the footing", x.build)
		}
		if len(r.Notes) == 0 || r.Notes[0].Where == "" {
			t.Errorf("%s: no note of the footing: %+v", x.build, r.Notes)
		}
	}
}

// Faces, landing timbers, wastes and gravels, counted by hand on the plan above.
func TestBoxDetail(t *testing.T) {
	plain := handMade(t, `{}`)
	r := handMade(t, `{"face": "1x6", "landing_back": true, "landing_every": "600 mm", "joint": "rebate", "joint_depth": "30 mm",
	  "base_gravel": "ballast", "waste": {"gravel": "20 %", "screws": 0}, "no_pins": true, "no_fabric": true, "coats": 1, "bag": "20kg"}`)
	risers := r.Layout.Risers
	if risers != 5 {
		t.Fatalf("%d risers", risers)
	}
	courses := itemOf(t, plain, "riser-timber").Count / risers
	// A face board is 139.7 mm wide, a riser 144 mm of 2 courses of 100 mm, of
	// which the riser's height shows: two boards, the second ripped.
	if i := itemOf(t, r, "face-board"); i.Count != 2*risers {
		t.Errorf("%d face boards on %d risers", i.Count, risers)
	}
	if i := itemOf(t, r, "landing-timber"); i.Count != courses {
		t.Errorf("%d timbers across the landing's back, want %d", i.Count, courses)
	}
	// 2 m in spaces of at most 600 mm are 4: three cross pieces.
	if i := itemOf(t, r, "cross-piece"); i.Count != 3 {
		t.Errorf("%d cross pieces, want 3", i.Count)
	}
	for _, id := range []string{"pin", "fabric"} {
		if hasItem(r, id) {
			t.Errorf("there is %s", id)
		}
	}
	ballast, _ := materials.AggregateByID("ballast")
	base := itemOf(t, r, "base-gravel")
	if want := float64(*base.Volume) * 1.2 * ballast.Factor(); math.Abs(float64(*base.Order)-want) > 1e-9 {
		t.Errorf("order %v m³ of base, want %v", *base.Order, want)
	}
	// Both ends of a side go 30 mm into the riser timber's back; only one is there.
	side := func(r Result) unit.Length { return *itemOf(t, r, "side-timber").Length }
	if more, want := side(r)-side(plain), unit.Length(float64(itemOf(t, plain, "side-timber").Count)*0.03); math.Abs(float64(more-want)) > 1e-9 {
		t.Errorf("rebates add %v m to the sides, want %v", more, want)
	}
}

// Side timbers hold the bank where it stands high enough beside the box, as the
// ground and the finished treads say; what is too high for them is a finding.
func TestBanksHeld(t *testing.T) {
	const build = `{"bank_to": "600 mm", "bank_from": "50 mm"}`
	const crossfall = 0.3
	plan := strings.ReplaceAll(strings.Replace(handPlan, "BUILD", `, "build": `+build, 1), `"level": "0.`, `"crossfall": 0.3, "level": "0.`)
	plan = strings.Replace(plan, `{"at": 0, "level": 0}`, `{"at": 0, "level": 0, "crossfall": 0.3}`, 1)
	p, err := ReadPlan([]byte(plan))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	ground := func(x float64) float64 {
		pts := r.Ground.Points
		for i := 1; i < len(pts); i++ {
			if a, b := pts[i-1], pts[i]; x <= float64(b.Station)+1e-12 {
				return float64(a.Level) + (x-float64(a.Station))/float64(b.Station-a.Station)*float64(b.Level-a.Level)
			}
		}
		return float64(pts[len(pts)-1].Level)
	}
	want, stops := 0, 0
	for i, s := range r.Layout.Steps {
		if i == len(r.Layout.Steps)-1 {
			break // behind the head the ground was not measured
		}
		from, to := float64(s.Station), float64(r.Layout.Steps[i+1].Station)
		for _, side := range []float64{-0.6, 0.6} {
			high := -1.0
			for k := 0; k <= 2000; k++ {
				x := from + (to-from)*float64(k)/2000
				high = math.Max(high, ground(x)+crossfall*side-float64(s.Level))
			}
			switch {
			case high > 0.6:
				stops++
			case high >= 0.05:
				want += int(math.Ceil(high/0.1 - 1e-6))
			}
		}
	}
	head := r.Layout.Steps[len(r.Layout.Steps)-1]
	if high := ground(float64(head.Station)) + crossfall*0.6 - float64(head.Level); high >= 0.05 {
		want += int(math.Ceil(high/0.1 - 1e-6))
	}
	if got := itemOf(t, r, "bank-timber").Count; got != want || want == 0 {
		t.Errorf("%d bank timbers, want %d", got, want)
	}
	if stops != 0 {
		t.Fatalf("%d banks over 600 mm: the example should have none", stops)
	}
	low := handMadeFrom(t, strings.Replace(plan, `"600 mm"`, `"60 mm"`, 1))
	found := false
	for _, f := range low.Findings {
		found = found || f.Rule == "bank-held" && f.Severity == "stop"
	}
	if !found {
		t.Error("a bank higher than its timbers hold is no finding")
	}
}

func handMadeFrom(t *testing.T, plan string) Result {
	t.Helper()
	p, err := ReadPlan([]byte(plan))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
