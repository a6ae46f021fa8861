package slopewright

import (
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
)

// Limits that the cautions are held against. US occupational rules bind
// employers; for a householder they are good guidance.
const (
	protectAt = 5 * unit.Foot // 29 CFR 1926.652(a)(1): protective system at 5 ft or more
	permitAt  = 4 * unit.Foot // IRC R105.2(3), 2009 text: walls over 4 ft from the bottom of the footing need a permit
	setBack   = 2 * unit.Foot // 29 CFR 1926.651(j)(2): spoil at least 2 ft from the edge

	steepGround = 0.5 // IBC Appendix J, J106.1: permanent cut slopes at most 2 horizontal to 1 vertical
)

// cautions are the dangers of this plan, each with what it is drawn from. They
// are computed from the plan where they depend on it.
func (m *maker) cautions() []Finding {
	w := m.words
	var out []Finding
	add := func(rule, source, says string) {
		out = append(out, Finding{Severity: "caution", Rule: rule, Source: source, Says: says})
	}
	add("buried-services", "29 CFR 1926.651(b); in the US the 811 one-call service, 2 to 3 working days ahead",
		"Before any digging have buried pipes and cables located and marked, and dig by hand beside the marks.")
	add("local-codes", "common practice",
		"Local codes and licensed practice decide. Ask the building office whether steps, a retained bank or moving this much earth needs a permit; a flight joined to a building, porch or deck is bound by the building code.")

	edge := m.total.DeepestEdge
	if m.deepest.Depth > edge {
		edge = m.deepest.Depth
	}
	switch {
	case edge >= protectAt:
		add("cut-bank", "29 CFR 1926.652(a)(1)",
			"The cut is "+w.length(edge)+" deep at its deepest side. At 5 ft or more nobody may stand in it unless its sides are sloped back or shored; have it designed.")
	case edge >= permitAt:
		add("cut-bank", "IRC R105.2(3), 2009 edition; local limits are often 3 ft or 2 ft",
			"The cut is "+w.length(edge)+" deep at its deepest side. A bank held up at 4 ft or more commonly needs a permit and an engineer.")
	case edge > 0:
		add("cut-bank", cited(m.batter.Source, m.batter.FromMemory),
			"Slope the sides of the cut back at "+number(m.section.Batter, 2)+" horizontal to 1 vertical or flatter, look at them after rain, and keep out from under a bank that cracks or bulges. Deepest side: "+w.length(edge)+".")
	}
	if m.balance.SpoilLoose > 0 {
		add("spoil", "29 CFR 1926.651(j)(2)",
			"Keep spoil and stacked timber at least "+w.distance(setBack)+" back from the edge of the cut, and never at the top of a bank that people work under.")
	}
	if g := m.steepest(); g > steepGround {
		add("steep-ground", "IBC Appendix J, J106.1",
			"The ground is as steep as "+number(100*g, 0)+" % in one place. Ground steeper than 2 horizontal to 1 vertical may be moving already: look for cracks, tilted trees and wet places, and ask a geotechnical engineer before cutting into it.")
	}
	if heaviest := m.heaviest(); heaviest > earthwork.LiftConstant {
		lift := "too much for three people: cut it where it is unloaded, and move it on a barrow or sack truck"
		switch {
		case heaviest <= earthwork.TeamLimit(2, earthwork.LiftConstant):
			lift = "a lift for two people"
		case heaviest <= earthwork.TeamLimit(3, earthwork.LiftConstant):
			lift = "a lift for three people, or a barrow or sack truck"
		}
		add("lifting", "NIOSH 94-110, load constant 51 lb (23 kg); HSE L23 for teams",
			"The heaviest timber weighs about "+w.mass(heaviest)+" wet from treatment: "+lift+". On a slope the lower person bears most of it.")
	}
	add("treated-timber", "National Pesticide Information Center; USDA Wood Handbook FPL-GTR-190, ch. 15",
		"Cut treated timber outdoors with dust mask, goggles and gloves; brush preservative on every cut end; never burn or mulch offcuts or dust.")
	add("unfinished-steps", "common practice",
		"Build from the bottom up, backfill each box before standing on the next, and close the path to others until the last one is filled.")
	return out
}

// steepest is the steepest grade of the ground under the path.
func (m *maker) steepest() float64 {
	steepest := 0.0
	points := m.ground.Points()
	for i := 1; i < len(points); i++ {
		if points[i].Station <= 0 || points[i-1].Station >= m.layout.Run {
			continue
		}
		g := math.Abs(float64(points[i].Level-points[i-1].Level)) / float64(points[i].Station-points[i-1].Station)
		if g > steepest {
			steepest = g
		}
	}
	return steepest
}

// heaviest is the wet mass of the heaviest single timber, boards as bought
// included: they too are carried.
func (m *maker) heaviest() unit.Mass {
	var most unit.Mass
	for _, b := range m.cutplan.Boards {
		if kg, _ := wetMass(b.Section, b.Stock); kg > most {
			most = kg
		}
	}
	return most
}

// wetMass is what a timber weighs fresh from treatment; ok is false for bars and for
// what is in no table.
func wetMass(section string, length unit.Length) (kg unit.Mass, ok bool) {
	s, err := materials.FramedSectionByName(section)
	if err != nil || s.Round {
		return 0, false
	}
	return materials.WetTimber.Of(s.Volume(length)), true
}
