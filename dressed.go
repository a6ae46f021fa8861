package slopewright

import (
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

// DressedSection is a section that measures what the plan's stock says, and not
// what the tables say.
type DressedSection struct {
	_         [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Section   string      `json:"section"`
	Thickness unit.Length `json:"thickness"`
	Width     unit.Length `json:"width"`
}

// readDressed takes the sizes of sections that the stock gives.
func (m *maker) readDressed(all *Faults) {
	for i := range m.plan.Stock {
		s := &m.plan.Stock[i]
		x, err := m.dressed.ByName(s.Section)
		if err != nil || (s.Thickness == nil && s.Width == nil) {
			continue // a section that is not known is a fault elsewhere
		}
		first := x.Source != "" // that of the tables, else of an entry before
		t, w := lengthOr(s.Thickness, x.Thickness), lengthOr(s.Width, x.Width)
		problem, fix := "", ""
		switch {
		case x.Round:
			problem, fix = "is of a bar", "leave it out: a bar's name says its size"
		case t > w:
			problem, fix = "is thicker than it is wide", "write the smaller side as the thickness"
		case first:
			x.Thickness, x.Width, x.Source, x.FromMemory = t, w, "", false
			m.dressed = append(m.dressed, x)
		case t != x.Thickness || w != x.Width:
			problem, fix = "is not what another entry of the section gives", "write one size for all lengths of a section"
		}
		if problem != "" {
			name := "thickness"
			if s.Thickness == nil {
				name = "width"
			}
			all.Add("stock["+strconv.Itoa(i)+"]."+name, m.words.length(t)+" by "+m.words.length(w), problem, fix)
		}
	}
}

// sized gives sections the sizes of the stock.
func (m *maker) sized(of ...*materials.Section) {
	for _, s := range of {
		m.dressed.Size(s)
	}
}

// dressedResult lists them.
func (m *maker) dressedResult() (out []DressedSection) {
	for i := range m.dressed {
		s := &m.dressed[i]
		out = append(out, DressedSection{Section: s.Name, Thickness: s.Thickness, Width: s.Width})
	}
	return out
}
