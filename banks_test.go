package slopewright

import (
	"math"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// The hand-counted plan on a slope that falls to the left.
func crossfallPlan(crossfall, build string) string {
	p := strings.ReplaceAll(strings.Replace(handPlan, "BUILD", `, "build": `+build, 1), `"level": "0.`, `"crossfall": `+crossfall+`, "level": "0.`)
	return strings.Replace(p, `{"at": 0, "level": 0}`, `{"at": 0, "level": 0, "crossfall": `+crossfall+`}`, 1)
}

// The trenches of deadmen are dug beyond what is dug already, and tamped full
// again but for the timber in them: the same earth as summed up strip by strip
// across each trench.
func TestDeadmenAreDugIn(t *testing.T) {
	const build = `{"bank_to": "1.2 m", "deadman_from": "250 mm", "deadman_length": "2 m", "deadman_cross": "700 mm", "working": "100 mm"NONE}`
	plan := crossfallPlan("0.45", build)
	p, err := ReadPlan([]byte(strings.Replace(plan, "NONE", "", 1)))
	if err != nil {
		t.Fatal(err)
	}
	m, err := reckon(p)
	if err != nil {
		t.Fatal(err)
	}
	r := m.result()
	soundEarth(t, r)
	without := handMadeFrom(t, strings.Replace(plan, "NONE", `, "no_deadmen": true`, 1))
	soundEarth(t, without)

	d, want, wood, tied := m.detail, 0.0, 0.0, 0
	for _, box := range m.takeoff.Boxes {
		for _, b := range box.Banks {
			for course := 2; b.Deadmen > 0 && course <= b.Courses; course += 2 {
				tied += b.InCourse
				bottom := float64(course-1) * float64(d.Course())
				const strips = 4000
				long := float64(b.Deadman - d.Breadth())
				for k := range strips {
					x := (float64(k) + 0.5) * long / strips
					top := float64(b.Height) + 0.45*x
					// Dug already: beside the box, and over the sloping side of the cut.
					if x < 0.1 {
						continue
					}
					wide := 0.4 // the timber and 100 mm on both sides
					if x > long-0.4 {
						wide = 0.7
					}
					// Of the strip what lies behind the cut's side.
					open := math.Min(top, math.Max(bottom, (x-0.1)/m.section.Batter-float64(m.buildUp)))
					want += float64(b.InCourse) * wide * (open - bottom) * long / strips
				}
				wood += float64(b.InCourse) * 0.02 * (long + 0.7)
			}
		}
	}
	got := 0.0
	for _, x := range r.Dig.Parts {
		if x.Part == "deadmen" {
			got = x.Bank.CubicMeters()
		}
	}
	if tied == 0 || math.Abs(got-want) > 1e-6*want {
		t.Errorf("%d deadmen: %v m³ are dug, strip by strip %v", tied, got, want)
	}
	if dug := (r.Dig.CutBank - without.Dig.CutBank).CubicMeters(); math.Abs(dug-got) > 1e-9 {
		t.Errorf("%v m³ more are dug than without, of it deadmen %v", dug, got)
	}
	if back := (r.Dig.BackfillCompacted - without.Dig.BackfillCompacted).CubicMeters(); math.Abs(back-(got-wood)) > 1e-9 {
		t.Errorf("%v m³ more are tamped back, want %v", back, got-wood)
	}
	if i := itemOf(t, r, "deadman"); i.Count != tied || itemOf(t, r, "deadman-cross-piece").Count != tied || *i.Length != unit.Length(float64(tied)*2.2) {
		t.Errorf("%+v, want %d", i, tied)
	}
	if hasItem(without, "deadman") {
		t.Error("there are deadmen where none are wanted")
	}
	if r.Hours.Likely <= without.Hours.Likely {
		t.Errorf("%v h with deadmen, %v without", r.Hours.Likely, without.Hours.Likely)
	}
}

// On a bend the timbers on the inside, of the boxes and of the bank, are shorter
// than those on the outside; a landing that turns a little is a wedge as well, one
// that turns far is said to be cut on site.
func TestTimbersOnABend(t *testing.T) {
	at := func(turn, radius string) Result {
		plan := crossfallPlan("0.4", `{"bank_to": "1.2 m"}`)
		return handMadeFrom(t, strings.Replace(plan, `"path": {"width": "1.2 m"}`, `"path": {"width": "1.2 m", "bends": [{"at": "0.9 m", "radius": "`+radius+`", "turn": `+turn+`}]}`, 1))
	}
	lengths := func(r Result, riser int, use string) (all []float64) {
		for _, b := range r.Build.Boxes {
			for _, p := range b.Pieces {
				if b.Riser == riser && p.Use == use {
					all = append(all, p.Length.Meters())
				}
			}
		}
		return all
	}
	// The bank is on the right, where the ground is higher.
	right, left := at("20", "8 m"), at("-20", "8 m")
	inside, outside := lengths(right, 2, "bank-timber"), lengths(left, 2, "bank-timber")
	if len(inside) == 0 || len(outside) == 0 || !(inside[0] < 0.8 && outside[0] > 0.8) {
		t.Errorf("bank timbers of %v m inside, %v m outside, the tread is 0.8 m", inside, outside)
	}
	// The tread of riser 2 lies from 0.8 to 1.6 m, 0.7 m of it on the bend: it
	// turns 0.7/8. Its edges are 0.6 m from the centreline: the chord of the
	// outside is 2·(R + 0.6)·sin(turn/2) with the R that turns it so.
	turn := 0.7 / 8
	r0 := 0.8 / turn
	if want := 2 * (r0 + 0.6) * math.Sin(turn/2); len(outside) > 0 && math.Abs(outside[0]-want) > 1e-9 {
		t.Errorf("%v m outside, want %v", outside[0], want)
	}
	if sides := lengths(right, 2, "side-timber"); len(sides) != 2 || !(sides[1] < sides[0]) {
		t.Errorf("sides of %v m on the bend", sides)
	}
	// The landing lies from 1.6 to 3.6 m, and turns by the rest of the bend.
	if sides := lengths(right, 3, "side-timber"); len(sides) != 2 || !(sides[1] < sides[0]-0.1) {
		t.Errorf("sides of %v m on the landing", sides)
	}
	far := at("80", "1.9 m")
	said := false
	for _, n := range far.Notes {
		said = said || strings.HasPrefix(n.Says, "The landing turns by ")
	}
	if sides := lengths(far, 3, "side-timber"); len(sides) != 1 || !said {
		t.Errorf("sides of %v m on a landing that turns far: %+v", sides, far.Notes)
	}
}

// Stock that nothing is made of is no fault when its section is one that the trade
// has, of the tables or by its size, and such a section can be built with.
func TestSectionsBySize(t *testing.T) {
	const more = `{"section": "1x8", "length": "8 ft", "price": "9.00"}, {"section": "3x8", "length": "12 ft", "price": "31.00"}, {"section": "45x120", "length": "3 m", "price": "12.00"}, {"section": "100x200"`
	plan := strings.Replace(handPlan, `{"section": "100x200"`, more, 1)
	plain, r := handMade(t, `{}`), handMadeFrom(t, strings.Replace(plan, "BUILD", "", 1))
	if !r.Bill.Total.Equal(plain.Bill.Total.Decimal) || len(r.CutPlan.Boards) != len(plain.CutPlan.Boards) {
		t.Errorf("with stock that nothing needs: %v, without %v", r.Bill.Total, plain.Bill.Total)
	}
	r = handMadeFrom(t, strings.Replace(plan, "BUILD", `, "build": {"timber": "3x8", "face": "45x120"}`, 1))
	if r.Build.Box.Timber != "3x8" || math.Abs(r.Build.Box.Course.Inches()-2.5) > 1e-9 || math.Abs(r.Build.Box.Breadth.Inches()-7.25) > 1e-9 {
		t.Errorf("%+v", r.Build.Box)
	}
	sections := map[string]bool{}
	for _, b := range r.CutPlan.Boards {
		sections[b.Section] = true
	}
	if !sections["3x8"] || !sections["45x120"] || r.CutPlan.By != "cost" {
		t.Errorf("boards of %v, by %s", sections, r.CutPlan.By)
	}
}
