package slopewright

import (
	"strconv"
	"strings"

	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

// madeFaults gives faults of what is made of a layout, its boxes or its framed flights,
// the fields that the document has for them: those of the plan's own layout, or of what
// the fit is told. Part is where the document has what they are made of.
func (m *maker) madeFaults(err error, part string, boxes []materials.Box) error {
	all, ok := faultsOf(err)
	if !ok {
		return err
	}
	var out Faults
	for _, f := range all {
		list, rest, _ := strings.Cut(f.Field, "[")
		number, of, _ := strings.Cut(rest, "].")
		n, no := strconv.Atoi(number)
		if no != nil {
			f.Field = part + "." + strings.TrimPrefix(f.Field, "detail.")
		} else {
			framed := list == "flights"
			f.Field = m.fieldOf(of, m.flightOf(n, framed, boxes), framed, !framed && boxes[n].Landing)
		}
		// All boxes of a flight are alike.
		if k := len(out) - 1; k < 0 || out[k].Field != f.Field || out[k].Problem != f.Problem {
			out = append(out, f)
		}
	}
	return out
}

// flightOf is which of the layout's flights the nth framed one is, or the one with the
// riser of the nth box.
func (m *maker) flightOf(n int, framed bool, boxes []materials.Box) int {
	for i, f := range m.layout.Flights {
		switch {
		case framed && f.Kind == stair.Framed:
			if n--; n < 0 {
				return i
			}
		case !framed && boxes[n].Number-m.below() < f.First+f.Risers:
			return i
		}
	}
	return 0
}

// fieldOf is the field that decides a measure of a flight, or of the landing above it.
func (m *maker) fieldOf(of string, flight int, framed, landing bool) string {
	own := ""
	if len(m.plan.Steps.Fixed) > 0 {
		own = "steps.fixed[" + strconv.Itoa(flight) + "]"
	}
	switch of {
	case "width":
		return "path.width"
	case "radius":
		return "path.bends"
	case "wash":
		return "steps.wash"
	case "bank_left", "bank_right":
		return "build.bank_to"
	case "platform":
		landing = true
	case "riser", "risers":
		switch {
		case own != "":
			return own + ".risers"
		case of == "risers":
			return "steps.landing.every"
		}
		return "steps.riser"
	case "tread":
	default: // how high it stands
		return textOr(own, "steps")
	}
	switch {
	case own != "" && landing:
		return own + ".landing"
	case own != "":
		return own + ".tread"
	case landing:
		return "steps.landing"
	case framed:
		return "build.framed.tread"
	}
	return "steps.tread"
}
