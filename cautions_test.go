package slopewright

import (
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
)

// caution is what is said under one rule, "" where it is not.
func caution(m *maker, rule string) (says, source string) {
	for _, f := range m.cautions() {
		if f.Rule == rule {
			return f.Says, f.Source
		}
	}
	return "", ""
}

// One, two, three people or none for a timber, by package earthwork's check of a lift: two
// thirds and a half of what each could lift alone (HSE L23).
func TestCautionOfLifting(t *testing.T) {
	each := earthwork.LiftConstant
	for _, c := range []struct {
		length unit.Length
		want   string
	}{
		{0.5 * unit.Meter, ""}, {1.2 * unit.Meter, "a lift for two people"}, {1.4 * unit.Meter, "a lift for three people"}, {3 * unit.Meter, "too much for three people"},
	} {
		m := maker{cutplan: materials.CutPlan{Boards: []materials.Board{{Section: "100x200", Stock: c.length, Count: 1}}}}
		kg := m.heaviest()
		if people, ok := earthwork.People(kg, each); c.want != "" && ok != (c.length < 3) || c.want == "" && people != 1 {
			t.Fatalf("%v long weighs %v, for %d people", c.length, kg, people)
		}
		says, _ := caution(&m, "lifting")
		if (says == "") != (c.want == "") || !strings.Contains(says, c.want) {
			t.Errorf("%v long, %v: %q, want %q", c.length, kg, says, c.want)
		}
	}
}

// Each limit from both sides: what the checks of package earthwork find in this plan.
func TestCautionOfTheCut(t *testing.T) {
	loam, _ := earthwork.SoilByID("loam")
	const hair = unit.Micrometer
	for _, c := range []struct {
		edge   unit.Length
		batter float64
		rule   string
		want   bool
		severe string
	}{
		{0, 0.25, "cut-bank", false, ""},
		{hair, 0.25, "cut-bank", true, "caution"},
		{4*unit.Foot - hair, 0.25, "bank-way-out", false, ""},
		{4 * unit.Foot, 0.25, "bank-way-out", true, "caution"},
		{5*unit.Foot - hair, 0.25, "bank-height", false, ""},
		{5 * unit.Foot, 0.25, "bank-height", true, "stop"},
		{5 * unit.Foot, 1, "bank-height", true, "caution"},
		{5 * unit.Foot, 1 - 1e-6, "bank-slope", true, "stop"},
		{5 * unit.Foot, 1, "bank-slope", false, ""},
		{2*unit.Foot - hair, 0.25, "cut-slope", false, ""},
		{2 * unit.Foot, 0.25, "cut-slope", true, "caution"},
		{4 * unit.Foot, 0.25, "wall-permit", true, "caution"},
		{1 * unit.Foot, 0.25, "wall-permit", false, ""},
	} {
		m := maker{total: earthwork.Dug{DeepestEdge: c.edge}, batter: earthwork.Figure{Source: "measured here"}, soil: loam, section: earthwork.Section{Batter: c.batter}}
		var found Finding
		for _, f := range m.cautions() {
			if f.Rule == c.rule {
				found = f
			}
		}
		if (found.Rule != "") != c.want || found.Severity != c.severe {
			t.Errorf("%v deep at %v: %s is %+v", c.edge, c.batter, c.rule, found)
		}
		if c.want && c.rule != "cut-bank" && (found.Limit == "" || found.Actual == "" || !strings.Contains(found.Says, found.Actual)) {
			t.Errorf("%s does not say its figures: %+v", c.rule, found)
		}
	}
}

// What the ground shows makes a bank of loam that stands at 1/4 to 1 one to be cut
// back, however low it is.
func TestCautionOfWhatIsSeen(t *testing.T) {
	for _, seen := range []string{"", "cracks", "dug-before", "water"} {
		r := changed(t, "bench", func(p *Plan) {
			if seen != "" {
				p.Soil.Seen = []string{seen}
			}
		})
		if f := finding(r, "bank-slope"); (f.Rule != "") != (seen == "cracks" || seen == "water") {
			t.Errorf("with %q seen: %+v", seen, f)
		}
	}
}

// A heap beside the path keeps 2 ft from the edge of the cut.
func TestCautionOfTheHeap(t *testing.T) {
	for _, c := range []struct {
		off  float64
		want bool
	}{{1000, true}, {6000, false}} {
		r := changed(t, "bench", func(p *Plan) {
			p.Soil.Places = []EarthPlace{{Name: "lawn", At: mm(5000), Off: mm(c.off)}}
		})
		if f := finding(r, "spoil-set-back"); (f.Rule != "") != c.want {
			t.Errorf("%v mm from the path: %+v", c.off, f)
		}
	}
}

// A lift is one person's up to 51 lb (NIOSH 94-110), two people's up to two
// thirds of their sum, three people's up to half of it (HSE L23).
func TestCautionOfTheLift(t *testing.T) {
	section, err := materials.SectionByName("6x6")
	if err != nil {
		t.Fatal(err)
	}
	perMetre := materials.WetTimber.Of(section.Volume(unit.Meter)).Kilograms()
	const pound = 0.45359237
	for _, c := range []struct {
		pounds float64
		says   string
	}{
		{50.9, ""}, {51.1, "for two people"}, {67.9, "for two people"}, {68.1, "for three people"}, {76.4, "for three people"}, {76.6, "too much"}, {184, "too much"},
	} {
		m := maker{cutplan: materials.CutPlan{Boards: []materials.Board{{
			Section: "6x6", Stock: unit.Length(c.pounds * pound / perMetre), Price: decimal.Zero, Count: 1,
		}}}}
		says, _ := caution(&m, "lifting")
		if c.says == "" && says != "" || !strings.Contains(says, c.says) {
			t.Errorf("%v lb: %q", c.pounds, says)
		}
	}
}
