package slopewright

import (
	"math"
	"slices"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
)

// Limits that the cautions are held against. US occupational rules bind
// employers; for a householder they are good guidance.
const (
	protectAt = 5 * unit.Foot // 29 CFR 1926.652(a)(1): protective system at 5 ft or more
	setBack   = 2 * unit.Foot // 29 CFR 1926.651(j)(2): spoil at least 2 ft from the edge

	// Low banks and fills are left to the gardener's eye.
	lowBank = 2 * unit.Foot // UBC 1997, Appendix 33, 3306.2, from memory: a cut under 2 ft wants no grading permit
	lowFill = 1 * unit.Foot // the same, of fill
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
	if edge > 0 {
		add("cut-bank", cited(m.batter.Source, m.batter.FromMemory),
			"Slope the sides of the cut back at "+number(m.section.Batter, 2)+" horizontal to 1 vertical or flatter, look at them after rain, and keep out from under a bank that cracks or bulges. Deepest side: "+w.length(edge)+".")
	}
	out = append(out, m.bankCautions(edge)...)
	if m.balance.SpoilLoose > 0 {
		add("spoil", "29 CFR 1926.651(j)(2)",
			"Keep spoil and stacked timber at least "+w.distance(setBack)+" back from the edge of the cut, and never at the top of a bank that people work under.")
	}
	out = append(out, m.pileCautions(edge)...)
	out = append(out, m.waterCautions()...)
	if lift := m.sayTheLift(); lift != "" {
		add("lifting", "NIOSH 94-110, load constant 51 lb (23 kg); HSE L23 for teams", lift)
	}
	add("treated-timber", "National Pesticide Information Center; USDA Wood Handbook FPL-GTR-190, ch. 15",
		"Cut treated timber outdoors with dust mask, goggles and gloves; brush preservative on every cut end; never burn or mulch offcuts or dust.")
	add("unfinished-steps", "common practice",
		"Build from the bottom up, backfill each box before standing on the next, and close the path to others until the last one is filled.")
	return out
}

// sayTheLift holds the heaviest timber against a lift where everything is at its best, close
// to the body at the height of the hands: one person's, else that of as many as it takes.
func (m *maker) sayTheLift() string {
	heaviest := m.heaviest()
	people := 1
	for ; people <= 3; people++ {
		found, err := earthwork.CheckLift(earthwork.Lift{Vertical: 30 * unit.Inch}, heaviest, people)
		if err != nil || len(found) == 0 {
			break
		}
	}
	if people == 1 {
		return ""
	}
	return "The heaviest timber weighs about " + m.words.mass(heaviest) + " wet from treatment: " + liftWords[people-2] + ". On a slope the lower person bears most of it."
}

// liftWords are for two people, three, and more.
var liftWords = [...]string{
	"a lift for two people",
	"a lift for three people, or a barrow or sack truck",
	"too much for three people: cut it where it is unloaded, and move it on a barrow or sack truck",
}

// bankCautions are those of the sides of the cut, edge being the height of the
// deepest, and of the slopes that are there and will stay.
func (m *maker) bankCautions(edge unit.Length) []Finding {
	seen := func(what string) bool { return slices.Contains(m.plan.Soil.Seen, what) }
	found, err := earthwork.CheckBank(earthwork.Bank{
		Depth: edge, Batter: m.section.Batter, Soil: m.soil,
		Fissured: seen("cracks"), Disturbed: seen("dug-before"), Seeping: seen("water"),
	})
	out := m.checked("", found, err)
	// What stands above the finished treads when the boxes are backfilled.
	open := edge - m.buildUp
	s := earthwork.Slopes{
		Ground: math.Min(m.steepest(), 10), CutBatter: m.section.Batter, FillBatter: fillBatter,
		Groundwater: seen("water"), Moved: m.total.Cut + m.total.Fill,
	}
	if m.total.HighestEdge >= lowFill {
		s.FillDepth = m.total.HighestEdge
	}
	if open >= lowBank {
		before := "If the bank beside the path is held instead of sloped: "
		if m.plan.Build.BankTo != nil {
			before = "The bank that the boxes hold: "
		} else {
			s.CutDepth = open
		}
		found, err = earthwork.CheckRetained(earthwork.Retained{Height: open, FromFooting: edge, Surcharge: m.total.DeepestEdge > m.total.Deepest})
		out = append(out, m.checked(before, found, err)...)
	}
	found, err = earthwork.CheckSlopes(s)
	return append(out, m.checked("", found, err)...)
}

// pileCautions hold the heaps against the distance they keep from the cut.
func (m *maker) pileCautions(edge unit.Length) []Finding {
	var out []Finding
	for _, h := range m.haulResult().Places {
		if h.Breadth == 0 {
			continue
		}
		_, p := m.place(h.Name)
		from := p.Offset
		if p.Station > 0 && p.Station < m.layout.Run {
			// Beside the path: from the middle of the cut to its edge.
			if from -= m.section.Formation()/2 + unit.Length(m.section.Batter*float64(edge)); from < 0 {
				from = 0
			}
		}
		found, err := earthwork.CheckPile(earthwork.Pile{Breadth: h.Breadth, Height: h.Height}, from)
		out = append(out, m.checked("", found, err)...)
	}
	return out
}

// waterCautions are those of rain: on the work, and from the hill.
func (m *maker) waterCautions() []Finding {
	add := func(rule, source, says string) Finding {
		return Finding{Severity: "caution", Rule: rule, Source: source, Says: says}
	}
	rams := "wet " + itemName(m.soil.Family()) + " does not ram, "
	switch m.soil.Family() {
	case "sand", "gravel", "weathered-rock", "rock":
		rams = "" // they do
	}
	wet := "Do not dig, ram or barrow in rain: " + rams + "barrows slip on a slope, and banks that stood dry come down. Lead water round the cut, pump out what stands in it, and look at the banks before going back in."
	if m.soil.ID == "wet-clay" {
		wet += " It is wet already: spread it to dry before it goes back, or bring other earth."
	}
	out := []Finding{add("wet-weather", "29 CFR 1926.651(h), (k): water in excavations, inspections daily and after rain; (h) from memory", wet)}
	if m.water == nil {
		return append(out, add("water", "common practice",
			"Water from the hill above will find the cut: lead it off above the head before you dig. With the ground that drains to the path and its rain in the plan, a swale or drain is sized."))
	}
	out = append(out, add("water", m.water.Source, strings.Join(m.water.Says, " ")))
	out = append(out, m.checked("", m.waterChecks, nil)...)
	return append(out, add("water-outlet", "common practice; the law on water from a hill differs by place",
		"Let the water go where it spreads out over grass or stone: not onto the path, its cut or fill, the heap or the top of a bank, not at a building or a septic field, and not to a neighbour or a road where it did not run before."))
}

// steepest is the steepest grade of the ground under the path, its side slope taken
// with it.
func (m *maker) steepest() float64 {
	steepest := 0.0
	points := m.ground.Points()
	for i := 1; i < len(points); i++ {
		if points[i].Station <= 0 || points[i-1].Station >= m.layout.Run {
			continue
		}
		g := float64(points[i].Level-points[i-1].Level) / float64(points[i].Station-points[i-1].Station)
		for _, p := range points[i-1 : i+1] {
			if s := math.Sqrt(float64(g*g) + float64(p.Crossfall*p.Crossfall)); s > steepest {
				steepest = s
			}
		}
	}
	return steepest
}

// heaviest is the wet mass of the heaviest single timber, boards as bought
// included: they too are carried.
func (m *maker) heaviest() unit.Mass {
	var most unit.Mass
	for _, b := range m.cutplan.Boards {
		if kg, _ := m.wetMass(b.Section, b.Stock); kg > most {
			most = kg
		}
	}
	return most
}

// wetMass is what a timber weighs fresh from treatment; ok is false for bars and for
// what is in no table.
func (m *maker) wetMass(section string, length unit.Length) (kg unit.Mass, ok bool) {
	s, err := m.dressed.ByName(section)
	if err != nil || s.Round {
		return 0, false
	}
	return materials.WetTimber.Of(s.Volume(length)), true
}
