package slopewright

import "github.com/slopewright/slopewright/materials"

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
	for _, g := range m.cutplan.Groups {
		if s, err := m.dressed.ByName(g.Section); err == nil && !s.Round && !own[g.Section] && materials.InInches(g.Section) {
			names = append(names, g.Section+" ("+m.words.length(s.Thickness)+" by "+m.words.length(s.Width)+")")
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Sold and named in inches: " + list(names) + ". The spans and strengths by which framed flights are checked are those of such timber. " +
		"Where it is sold in millimetres, name the yard's own sections for the framed flights, none smaller either way, and the flights are checked with those."
}
