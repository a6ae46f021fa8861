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

// Each limit from both sides.
func TestCautionOfTheCut(t *testing.T) {
	const hair = unit.Micrometer
	for _, c := range []struct {
		edge         unit.Length
		says, source string
	}{
		{0, "", ""},
		{hair, "Slope the sides", "measured here"},
		{4*unit.Foot - hair, "Slope the sides", "measured here"},
		{4 * unit.Foot, "permit and an engineer", "IRC R105.2(3)"},
		{5*unit.Foot - hair, "permit and an engineer", "IRC R105.2(3)"},
		{5 * unit.Foot, "sloped back or shored", "29 CFR 1926.652(a)(1)"},
	} {
		m := maker{total: earthwork.Dug{DeepestEdge: c.edge}, batter: earthwork.Figure{Source: "measured here"}}
		says, source := caution(&m, "cut-bank")
		if c.says == "" && says != "" || !strings.Contains(says, c.says) || !strings.Contains(source, c.source) {
			t.Errorf("%v deep: %q [%s]", c.edge, says, source)
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
