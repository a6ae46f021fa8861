//go:build !js || whole

package slopewright

import (
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/sheet"
)

// left is, for a path that is half built, what is still to do, and how the
// steps that stand lie against the plan as it was before any of them did.
func (s *sheetMaker) left() {
	d, r, w := s.d, s.r, s.w
	b := r.Layout.Built
	if b == nil {
		return
	}
	d.Part("What stands, and what is left", false, false)
	pieces := 0
	for _, x := range r.CutPlan.Boards {
		pieces += x.Count * len(x.Pieces)
	}
	facts := [][2]string{
		{"Steps left", strconv.Itoa(r.Layout.Risers) + " of " + strconv.Itoa(r.Layout.Risers+b.Risers)},
		{"Pieces left to cut", strconv.Itoa(pieces)},
		{"Earth left to dig, in the bank", w.volume(r.Dig.CutBank)},
		{"Days left", count(r.Hours.Days.Likely, "day", "days") + " of " + count(r.Hours.People, "person", "people")},
	}
	d.Facts(facts)
	d.Paragraph("Built risers and those to come differ by " + w.length(b.Spread) + " at most.")
	var items []sheet.Item
	for _, f := range r.Findings {
		if strings.HasSuffix(f.Rule, "-UNI") {
			items = append(items, sheet.Item{Lead: "Tolerance:", Says: f.Says, Source: f.Source})
		}
	}
	if len(items) > 0 {
		d.List("dots", items)
	}
	s.standing(*b)
}

// standing sets the steps that stand beside those of the plan without them.
func (s *sheetMaker) standing(b BuiltResult) {
	d, r, w := s.d, s.r, s.w
	columns := []sheet.Column{{Head: "Riser", Set: "n"}, {Head: "Height", Set: "n"}, {Head: "Against those to come", Set: "n"}, {Head: "Tread behind", Set: "n"}}
	var planned map[int]StepResult
	if s.o.Plan != nil && len(s.o.Plan.Built) == b.Risers {
		p := *s.o.Plan
		p.Built = nil
		if before, err := Make(p); err == nil && before.Ground.Datum == r.Ground.Datum {
			planned = map[int]StepResult{}
			for _, x := range before.Layout.Steps {
				planned[x.Riser] = x
			}
		}
	}
	if planned != nil {
		columns = append(columns, sheet.Column{Head: "Top, built", Set: "n"}, sheet.Column{Head: "Top, planned", Set: "n"}, sheet.Column{Head: "Too high (+)", Set: "n"},
			sheet.Column{Head: "Face, built", Set: "n"}, sheet.Column{Head: "Face, planned", Set: "n"})
	}
	off := func(l unit.Length) string {
		if w.round(l) > 0 {
			return "+" + w.length(l)
		}
		return w.length(l)
	}
	var rows [][]string
	for i, h := range b.Heights {
		tread := ""
		if i < len(b.Treads) {
			tread = w.length(b.Treads[i])
		}
		row := []string{strconv.Itoa(i + 1), w.length(h), off(h - r.Layout.Riser), tread}
		if planned != nil {
			at := s.o.Plan.Built[i].At.Length - r.Ground.Datum.Station
			level := s.o.Plan.Built[i].Level.Length - r.Ground.Datum.Level
			x, ok := planned[i+1]
			if ok {
				row = append(row, w.length(level), w.length(x.Level), off(level-x.Level), w.length(at), w.length(x.Station))
			} else {
				row = append(row, w.length(level), "", "", w.length(at), "")
			}
		}
		rows = append(rows, row)
	}
	d.Table("keep", columns, rows)
	d.Small("Heights are without the fall of the tread in front. Tops and faces are from the foot; planned is the plan as it is without the steps that stand. Levels of the steps to come are written into the stake-out table as they are built.")
}
