package slopewright

import (
	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

// structural is what is thinner than any board of two inches is dressed to, and thicker
// than boards of one: EN 336 has no sizes that take the place of these.
const structural = 35 * unit.Millimeter

// machined is the next of the machined target sizes of structural softwood, BS EN 336 as
// given in Building Construction Handbook, 8th ed., from a size up; 0 above them all.
func machined(size unit.Length) unit.Length {
	for _, x := range [...]unit.Length{47, 60, 72, 97, 120, 145, 170, 195, 220, 245, 295} {
		if x*unit.Millimeter >= size {
			return x * unit.Millimeter
		}
	}
	return 0
}

// inchesNote tells of what a plan in millimetres buys by the inch: the usual sections of
// framed flights are those that the guide's spans and the design values at hand are of.
func (m *maker) inchesNote() string {
	if m.inInches() || m.words.imperial || len(m.flights) == 0 {
		return ""
	}
	own := map[string]bool{}
	for i := range m.plan.Stock {
		own[m.plan.Stock[i].Section] = true
	}
	var names []string
	some := false
	for _, g := range m.cutplan.Groups {
		if s, err := m.dressed.ByName(g.Section); err == nil && !s.Round && !own[g.Section] && materials.InInches(g.Section) {
			thick, wide := machined(s.Thickness), machined(s.Width)
			if s.Thickness < structural || wide == 0 {
				names = append(names, g.Section+" ("+m.words.length(s.Thickness)+" by "+m.words.length(s.Width)+")")
				continue
			}
			some = true
			names = append(names, g.Section+" ("+m.words.length(s.Thickness)+" by "+m.words.length(s.Width)+"; next "+m.words.length(thick)+" by "+m.words.length(wide)+")")
		}
	}
	if len(names) == 0 {
		return ""
	}
	next := ""
	if some {
		next = "Next is the next larger of the machined sizes of BS EN 336, as the Building Construction Handbook, 8th ed., gives them. "
	}
	return "Sold and named in inches: " + list(names) + ". " + next + "The spans and strengths by which framed flights are checked are those of such timber. " +
		"Where it is sold in millimetres, name the yard's own sections for the framed flights, none smaller either way, and the flights are checked with those."
}
