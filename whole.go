//go:build !js || whole

package slopewright

import (
	"github.com/slopewright/slopewright/internal/draw"
	"github.com/slopewright/slopewright/internal/sheet"
)

// Drawings are the names that [Result.Draw] knows: the long section, the plan,
// a view of the path in the hill, one box step cut along and across the path,
// a framed flight from the side, its stringer to mark out, the boards with the
// pieces cut from them, the mass-haul curve, and a plot of the choices, where
// the result has them.
func Drawings() []string {
	return []string{"section", "plan", "view", "step", "across", "flight", "stringer", "cutplan", "haul", "choices"}
}

// otherDrawing draws everything but the long section.
func (r Result) otherDrawing(d Drawing, look draw.Look) string {
	name, width := d.Name, d.Width
	switch name {
	case "plan":
		if p, ok := r.planDrawing(); ok {
			return p.SVG(width, look)
		}
	case "view":
		if v, ok := r.view(); ok {
			return v.SVG(width, look)
		}
	case "step", "across":
		d, ok := r.detail()
		switch {
		case !ok:
		case name == "step":
			return d.SVG(width, look)
		default:
			d.Title = r.say("One box step, cut across the path, looking uphill")
			return d.AcrossSVG(width, look)
		}
	case "flight", "stringer":
		return r.drawFrame(name, d.Flight, width, look)
	case "haul":
		if c, ok := r.haulCurve(); ok {
			return c.SVG(width, look)
		}
	case "choices":
		if c, ok := r.choicesPlot(); ok {
			return c.SVG(width, look)
		}
	case "cutplan":
		if len(r.CutPlan.Boards) > 0 {
			return r.strips("Cut plan").SVG(width, look)
		}
	}
	return ""
}

// more adds to the result what a request asks for beside the plan and its
// drawings.
func (r *Result) more(q Request, m *maker) error {
	var err error
	if q.Choices {
		if r.Choices, err = Choices(*q.Plan); err != nil {
			return err
		}
	}
	if len(q.Tables) > 0 {
		if r.Tables, err = m.tables(q.Tables, r.said.Told()); err != nil {
			return err
		}
	}
	for _, x := range q.Sheets {
		if r.Sheets == nil {
			r.Sheets = map[string]string{}
		}
		r.Sheets[x.Kind] = string(r.Sheet(SheetOptions{Kind: x.Kind, Paper: x.Paper, Plan: q.Plan}))
	}
	if q.Compare != nil {
		c, err := m.compare(*q.Compare)
		if err != nil {
			return err
		}
		r.Comparison = &c
	}
	return nil
}

// tongue is the language the result's sheets are in.
func (r Result) tongue() sheet.Tongue {
	if r.said == nil {
		return sheet.Tongue{}
	}
	return sheet.Tongue{Tag: r.said.Tag, Say: r.said.Told()}
}
